package signs_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"nextrung/internal/signs"
)

// The wordings are imagined ones, as clients might type them (common practice, no source). Those of
// held.txt were written before the vocabulary and led to no change of it, but by the same hand and
// shortly before, so they flatter. Those of untried.txt came after it and say what to expect.

// wordings reads a file of texts by the sign or topic that they speak of.
func wordings(t *testing.T, file string) (order []string, by map[string][]string) {
	t.Helper()
	data, err := os.ReadFile("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	by = map[string][]string{}
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSuffix(line, "\n")
		if name, ok := strings.CutPrefix(line, "= "); ok {
			order = append(order, name)
		} else if line != "" {
			by[order[len(order)-1]] = append(by[order[len(order)-1]], line)
		}
	}
	return order, by
}

// what names the signs and topics that a text is not said to be without.
func what(text string) []string {
	var out []string
	for _, m := range signs.Read(text) {
		if m.Said != signs.Denied {
			out = append(out, string(m.Sign)+string(m.Topic))
		}
	}
	return out
}

// graver says that a sign is asked about as urgently as another.
func graver(a, b string) bool {
	x, y := signs.Sign(a).Tier(), signs.Sign(b).Tier()
	return x == signs.Emergency && (y == signs.Emergency || y == signs.Doctor) || x == signs.Doctor && y == signs.Doctor
}

func TestHowPeopleWriteSigns(t *testing.T) {
	for _, file := range []string{"said.txt", "held.txt"} {
		order, by := wordings(t, file)
		all, hits, others := 0, 0, 0
		for _, want := range order {
			hit, other := 0, 0
			for _, text := range by[want] {
				got := what(text)
				switch {
				case slices.Contains(got, want):
					hit++
				case slices.ContainsFunc(got, func(g string) bool { return graver(g, want) }):
					other++
					t.Logf("%s: %q is heard as %v, not as %s", file, text, got, want)
				case signs.Sign(want).Grave():
					t.Errorf("%s: %q: %s is missed (%v)", file, text, want, got)
				default:
					t.Logf("%s: %q: %s is missed (%v)", file, text, want, got)
				}
			}
			n := len(by[want])
			t.Logf("%s %-26s %2d wordings, %2d heard, %d heard as another sign as grave, %d missed", file, want, n, hit, other, n-hit-other)
			all, hits, others = all+n, hits+hit, others+other
			if least := 10; signs.Sign(want).Grave() && n < least {
				t.Errorf("%s: %s has %d wordings, want %d", file, want, n, least)
			}
		}
		t.Logf("%s: %d wordings, %d heard, %d as another sign as grave, %d missed", file, all, hits, others, all-hits-others)
		if missed := all - hits - others; missed*50 > all {
			t.Errorf("%s: %d of %d missed, at most 2 %%", file, missed, all)
		}
	}
}

// TestUntriedWordings counts what is heard of wordings that were written after the vocabulary and never
// led to a change of it: what may be expected of words nobody has thought of.
func TestUntriedWordings(t *testing.T) {
	order, by := wordings(t, "untried.txt")
	all, heard := 0, 0
	for _, want := range order {
		for _, text := range by[want] {
			all++
			if got := what(text); slices.ContainsFunc(got, func(g string) bool { return g == want || graver(g, want) }) {
				heard++
			} else {
				t.Logf("%q: %s is missed (%v)", text, want, got)
			}
		}
	}
	t.Logf("untried: %d of %d heard", heard, all)
	if heard*100 < 60*all {
		t.Errorf("%d of %d heard, at least 60 %% were when they were written", heard, all)
	}
}

func TestHarmlessTexts(t *testing.T) {
	for _, file := range []string{"harmless.txt"} {
		data, err := os.ReadFile("testdata/" + file)
		if err != nil {
			t.Fatal(err)
		}
		by, all, alarms := map[string]int{}, 0, 0
		for text := range strings.FieldsFuncSeq(string(data), func(r rune) bool { return r == '\n' }) {
			all++
			got := what(text)
			for _, g := range got {
				by[g]++
			}
			if len(got) > 0 {
				alarms++
				t.Logf("false alarm: %q is taken to speak of %v", text, got)
			}
		}
		t.Logf("%s: %d harmless texts, %d false alarms: %v", file, all, alarms, by)
		if alarms*100 > 4*all {
			t.Errorf("%s: %d of %d harmless texts are taken for something, at most 4 %%", file, alarms, all)
		}
	}
}

// TestNothingGrave holds texts that name a grave sign's words and deny it, or mean another thing.
func TestNothingGrave(t *testing.T) {
	data, err := os.ReadFile("testdata/notgrave.txt")
	if err != nil {
		t.Fatal(err)
	}
	for text := range strings.FieldsFuncSeq(string(data), func(r rune) bool { return r == '\n' }) {
		for _, g := range what(text) {
			if signs.Sign(g).Grave() {
				t.Errorf("%q is taken to speak of %s", text, g)
			}
		}
	}
}

// Each grave sign by its own name, in whatever company, is heard, and is not when plainly denied.
func TestEverySignIsHeard(t *testing.T) {
	for _, s := range signs.All() {
		if !s.Grave() {
			continue
		}
		for _, word := range []string{strings.ReplaceAll(string(s), "-", " "), s.Words()} {
			for _, say := range []string{"%", "had %", "% on the hill", "some % I think", "windy, %", "no fever. %", "no cold but %", "%?", "felt % and tired", "was fine, then %"} {
				text := strings.ReplaceAll(say, "%", word)
				if !slices.Contains(what(text), string(s)) {
					t.Errorf("%q: %s is passed over", text, s)
				}
			}
		}
		for _, say := range []string{"no %", "No % at all", "never felt %", "% - no", "%? No", "no fever, no %", "no pain or %"} {
			text := strings.ReplaceAll(say, "%", strings.ReplaceAll(string(s), "-", " "))
			if slices.Contains(what(text), string(s)) {
				t.Errorf("%q is taken to speak of %s", text, s)
			}
		}
	}
}

func TestDenials(t *testing.T) {
	order, by := wordings(t, "denied.txt")
	for _, name := range order {
		for _, text := range by[name] {
			if got := what(text); len(got) > 0 {
				t.Errorf("%q is taken to speak of %v", text, got)
			}
			if !slices.ContainsFunc(signs.Read(text), func(m signs.Mention) bool { return string(m.Sign)+string(m.Topic) == name }) {
				t.Errorf("%q: the denial of %s is not heard: %v", text, name, signs.Read(text))
			}
		}
	}
	order, by = wordings(t, "undenied.txt")
	for _, name := range order {
		for _, text := range by[name] {
			if !slices.Contains(what(text), name) {
				t.Errorf("%q is taken for a denial of %s: %v", text, name, signs.Read(text))
			}
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, file := range []string{"said.txt", "denied.txt", "undenied.txt", "harmless.txt"} {
		data, err := os.ReadFile("testdata/" + file)
		if err != nil {
			f.Fatal(err)
		}
		for line := range strings.Lines(string(data)) {
			f.Add(line)
		}
	}
	f.Add("chest\xff pain, İ’m dizzy’ 38.5")
	f.Fuzz(func(t *testing.T, text string) {
		last := 0
		said := map[signs.Mention]bool{}
		for _, m := range signs.Read(text) {
			if m.From < last || m.To <= m.From || m.To > len(text) {
				t.Fatalf("%q: %d-%d after %d", text, m.From, m.To, last)
			}
			last = m.From
			if utf8.ValidString(text) && !utf8.ValidString(text[m.From:m.To]) {
				t.Fatalf("%q: %d-%d cuts a letter", text, m.From, m.To)
			}
			if (m.Sign == "") == (m.Topic == "") {
				t.Fatalf("%q: %+v", text, m)
			}
			key := m
			key.Said = 0
			if said[key] {
				t.Fatalf("%q: %+v is said twice", text, m)
			}
			said[key] = true
		}
	})
}
