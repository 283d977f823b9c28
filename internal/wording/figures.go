// Package wording writes figures, counts, lists and dates as people read them.
package wording

import (
	"fmt"
	"math"
	"strings"
)

// Number writes a value as people do, with at most one decimal.
func Number(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", math.Round(v*10)/10+0), ".0")
}

// Several writes a count with its noun: "1 session", "3 sessions".
func Several(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// Word writes a small count as a word.
func Word(n int) string {
	if names := []string{"no", "one", "two", "three", "four", "five", "six"}; n < len(names) {
		return names[n]
	}
	return Number(float64(n))
}

// Joined makes one list of words: "a, b and c".
func Joined(all []string) string {
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return strings.Join(all, "")
}

// Plural writes a count with the verb that belongs to it.
func Plural(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// Ordinal writes a place in an order.
func Ordinal(n int) string {
	if ending, ok := map[int]string{1: "st", 2: "nd", 3: "rd"}[n]; ok {
		return Number(float64(n)) + ending
	}
	return Number(float64(n)) + "th"
}

// Quoted is a name as a shell takes it.
func Quoted(name string) string {
	if strings.ContainsAny(name, " '\"") {
		return fmt.Sprintf("%q", name)
	}
	return name
}

func Signed(v float64) string {
	if v >= 0 {
		return "+" + Number(v)
	}
	return Number(v)
}

// Ago writes how long ago something was.
func Ago(days int) string {
	switch days {
	case 0:
		return "today"
	case 1:
		return "yesterday"
	}
	return Several(days, "day") + " ago"
}

// Capital begins a text with a capital letter.
func Capital(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
