// Package reasons writes what an assessment says in the trainer's English: the sentence of every code
// that package progression uses, and the names of rules, verdicts, states, kinds, plans and units. Each
// is written here once. Nothing here decides anything, and nothing reads a sentence back.
//
// The sentences are templates, one for each code, that name their arguments; the small functions that
// they may use are in functions. Figures are rounded by package wording alone.
package reasons

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"sync"
	"text/template"

	"nextrung/internal/progression"
	"nextrung/internal/record"
)

// Text is the sentence of a fact; "" for the fact that says nothing.
func Text(f record.Fact) string {
	if f.Code == "" || f.Text != "" {
		return f.Text
	}
	var b strings.Builder
	t := sentences().Lookup(string(f.Code))
	if _, ok := Sentence(f.Code); !ok || t.Execute(&b, map[string]any(f.Args)) != nil {
		return string(f.Code) // of a book that was written by another version
	}
	return b.String()
}

// Texts are the sentences of several facts.
func Texts(all record.Facts) []string {
	out := []string{}
	for _, f := range all {
		out = append(out, Text(f))
	}
	return out
}

// Paragraph puts sentences one after the other.
func Paragraph(all record.Facts) string { return strings.Join(Texts(all), " ") }

// Why joins the clauses of what is lacking; clause stands in books of an earlier version, without facts.
func Why(all record.Facts, clause string) string {
	return cmp.Or(strings.Join(Texts(all), "; "), clause)
}

// Robustness says how sure a verdict is; "" where it was not tried.
func Robustness(r *record.Robustness) string {
	if r == nil {
		return ""
	}
	times := func(share float64) int { return int(math.Round(share * float64(r.Draws))) }
	s := fmt.Sprintf("Same verdict in %d of %d repeats; ", times(r.SameVerdict), r.Draws)
	if r.Close() {
		s = fmt.Sprintf("A close call: %s in %d of %d repeats, %s in %d; ", Verdict(r.Verdict), times(r.SameVerdict), r.Draws, Verdict(r.Other), times(r.OtherShare))
	}
	switch r.DependsOn {
	case progression.OnNothing:
		s += "no single input decides it"
	case progression.OnSeveral:
		s += "it depends on several inputs together"
	default:
		s += "it depends most on " + Text(record.Fact{Code: r.DependsOn})
	}
	if r.ByEffort {
		s += " (only sessions and answers were varied, since this client trains by effort)"
	}
	return s + "."
}

// catalogue holds the sentences by topic.
var catalogue = []map[record.Code]string{summaries, gates, contradictions, signsAndTiredness, training, efforts, heart, needed, sensors, files, measured, tests}

var (
	once   sync.Once
	parsed *template.Template
)

// sentences is the whole catalogue, read once.
func sentences() *template.Template {
	once.Do(func() {
		parsed = template.New("").Option("missingkey=error").Funcs(functions())
		for _, part := range catalogue {
			for code, text := range part {
				template.Must(parsed.New(string(code)).Parse(text))
			}
		}
	})
	return parsed
}

// Sentence is the template of a code; false for a code without one, as in a book of another version.
func Sentence(code record.Code) (string, bool) {
	for _, part := range catalogue {
		if text, ok := part[code]; ok {
			return text, true
		}
	}
	return "", false
}
