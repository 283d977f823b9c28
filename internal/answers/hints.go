package answers

import (
	"nextrung/internal/signs"
	"regexp"
	"slices"
	"strings"
)

// hint is a pair of words that together may speak of a sign. It is a reason to ask, never a finding.
type hint struct {
	sign signs.Sign
	a, b []string // beginnings of words; without b one of a is enough
}

// hints are ways in which people speak of bad sleep and fever (common practice, no source). Those of
// grave signs are progression's.
var hints = []hint{
	{signs.PoorSleep, []string{"sleep", "slept", "night"}, []string{"bad", "poor", "hardly", "barely", "couldn", "terribl", "awful", "little"}},
	{signs.Fever, []string{"fever", "temp"}, nil},
}

// noFever is a body temperature below that of a fever.
var noFever = regexp.MustCompile(`\btemp(?:erature)?\b(?:\s|[:=]|\b(?:of|was|at|about|around|is)\b)*3[5-7](?:[.,][0-9])?\b`)

// mentioned lists the signs that a stretch seems to speak of.
func (p *parser) mentioned(from, to int) []signs.Sign {
	text := strings.ToLower(p.text[from:to])
	out := mentioned(text)
	if injured(p.text) {
		out = slices.DeleteFunc(out, func(s signs.Sign) bool { return s == signs.SwollenAnkles })
	}
	text = noFever.ReplaceAllString(text, "")
	words := strings.FieldsFunc(text, func(r rune) bool { return !('a' <= r && r <= 'z') })
	begins := func(with []string) bool {
		return slices.ContainsFunc(words, func(w string) bool {
			return slices.ContainsFunc(with, func(b string) bool { return strings.HasPrefix(w, b) })
		})
	}
	for _, h := range hints {
		if begins(h.a) && (h.b == nil || begins(h.b)) {
			out = append(out, h.sign)
		}
	}
	return unique(out)
}

// mentioned lists the grave signs that a text speaks of without denying them.
func mentioned(text string) []signs.Sign {
	var out []signs.Sign
	for _, m := range signs.Read(text) {
		if m.Sign.Grave() && m.Said != signs.Denied {
			out = append(out, m.Sign)
		}
	}
	return out
}

// injured says that a text speaks of a fall, a twist or a knock.
func injured(text string) bool {
	return slices.ContainsFunc(signs.Read(text), func(m signs.Mention) bool { return m.Topic == signs.Injury && m.Said != signs.Denied })
}
