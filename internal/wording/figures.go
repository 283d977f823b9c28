// Package wording writes figures, counts, lists and dates as people read them.
package wording

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Number writes a value as people do, with at most one decimal; this is where figures are rounded.
func Number(v float64) string {
	text := strings.TrimSuffix(fmt.Sprintf("%.1f", math.Round(math.Abs(v)*10)/10), ".0")
	if v < 0 && text != "0" {
		return "−" + text
	}
	return text
}

// Count writes a count with its noun: "1 session", "3 sessions".
func Count(n int, noun string) string { return Plural(n, noun, noun+"s") }

// Some writes a count with its noun, and "no" for 0: "no sessions", "1 session".
func Some(n int, noun string) string {
	if n == 0 {
		return "no " + noun + "s"
	}
	return Count(n, noun)
}

// Times writes how often: "once", "twice", "3 times".
func Times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return Count(n, "time")
}

// Part writes how many of how many: "none of the 4 weeks", "2 of 4 weeks", "all 4 weeks"; "both weeks" of two, and
// "1 week" or "no week" of one.
func Part(n, of int, noun string) string {
	switch {
	case of == 0, n == 0 && of == 1:
		return "no " + noun
	case n == 0:
		return "none of the " + Count(of, noun)
	case n != of:
		return fmt.Sprintf("%d of %s", n, Count(of, noun))
	case of == 1:
		return "1 " + noun
	case of == 2:
		return "both " + noun + "s"
	}
	return "all " + Count(of, noun)
}

// PartOfLast writes how many of the last few: "none of the last 3 sessions", "2 of the last 3 sessions",
// "all of the last 3 sessions".
func PartOfLast(n, of int, noun string) string {
	if of < 2 {
		return Part(n, of, noun)
	}
	which := map[int]string{0: "none", of: Verb(of-1, "both", "all")}[n]
	if which == "" {
		which = fmt.Sprint(n)
	}
	return fmt.Sprintf("%s of the last %s", which, Count(of, noun))
}

// Word writes a small count as a word.
func Word(n int) string {
	if names := []string{"no", "one", "two", "three", "four", "five", "six"}; n < len(names) {
		return names[n]
	}
	return Number(float64(n))
}

// List makes one list of words: "a, b and c".
func List(all []string) string {
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return strings.Join(all, "")
}

// Plural writes a count with the words that belong to it: "1 week is", "2 weeks are".
func Plural(n int, one, more string) string {
	return fmt.Sprintf("%d %s", n, Verb(n, one, more))
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

// Above writes a difference in beats a minute: "3 bpm above", "2 bpm below", "level with".
func Above(bpm float64) string {
	switch n := Number(math.Abs(bpm)); {
	case n == "0":
		return "level with"
	case bpm < 0:
		return n + " bpm below"
	default:
		return n + " bpm above"
	}
}

// Band writes the whole beats a minute from one edge of a zone to the next, as sessions and suggestions
// name them: "113–137"; "none" where a limit leaves nothing of it. An edge that is a whole beat ends one zone and
// begins the next.
func Band(low, high float64) string {
	empty := high <= low
	if low, high = Beats(low, high); empty || high < low {
		return "none"
	}
	return fmt.Sprintf("%.0f–%.0f", low, high)
}

// Beats are the whole beats a minute of Band. An edge that is whole but for the error of its arithmetic is whole.
func Beats(low, high float64) (first, last float64) {
	const exact = 1e-6
	return math.Ceil(low - exact), math.Floor(high + exact)
}

// Ago writes how long ago something was.
func Ago(days int) string {
	switch days {
	case 0:
		return "today"
	case 1:
		return "yesterday"
	}
	return Count(days, "day") + " ago"
}

// Capital writes the first letter large.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Verb is the form of a verb that belongs to a count.
func Verb(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

// Clock writes seconds as minutes and seconds, from an hour on with hours: "3:05", "1:02:03".
func Clock(s int) string {
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// Sentence makes a clause a sentence: a capital first letter and a full stop, unless it has its own end.
func Sentence(s string) string {
	s = Capital(strings.TrimSpace(s))
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?:") || strings.HasSuffix(s, ".”") {
		return s
	}
	return s + "."
}
