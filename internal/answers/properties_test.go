package answers

import (
	"math"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

// messages draws messages that are put together from known forms and from anything.
func messages() *rapid.Generator[string] {
	var lines []string
	for _, group := range forms {
		for _, f := range group {
			lines = append(lines, f[0])
		}
	}
	slices.Sort(lines)
	return rapid.Custom(func(t *rapid.T) string {
		var out strings.Builder
		for range rapid.IntRange(1, 4).Draw(t, "parts") {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				out.WriteString(rapid.String().Draw(t, "anything"))
			case 1: // words of several lines mixed
				for range rapid.IntRange(1, 6).Draw(t, "words") {
					words := strings.Fields(rapid.SampledFrom(lines).Draw(t, "line"))
					if len(words) > 0 {
						out.WriteString(rapid.SampledFrom(words).Draw(t, "word") + " ")
					}
				}
			default:
				out.WriteString(rapid.SampledFrom(lines).Draw(t, "line"))
			}
			out.WriteString(rapid.SampledFrom([]string{"\n", ", ", ". ", " ", "; ", " but ", " and "}).Draw(t, "between"))
		}
		return out.String()
	})
}

func TestNothingIsDropped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { holds(t, messages().Draw(t, "message")) })
}

// fatal is what both kinds of tests can do.
type fatal interface{ Fatalf(string, ...any) }

// holds asks of a reading what must hold for every text.
func holds(t fatal, text string) {
	r := Parse(text, week)
	at := 0
	for _, x := range r.Pieces {
		if x.From < at || x.To <= x.From || x.To > len(text) || text[x.From:x.To] != x.Text {
			t.Fatalf("%q: piece %+v is not where it says or read twice", text, x)
		}
		if missed := carries(text[at:x.From]); missed != "" {
			t.Fatalf("%q: %q is in no piece", text, missed)
		}
		at = x.To
		kept := slices.ContainsFunc(r.Notes, func(n record.Note) bool { return n.Date == x.Day && strings.Contains(n.Text, x.Text) })
		switch x.Kind {
		case Remark, Left, Question:
			if !kept {
				t.Fatalf("%q: %+v is not kept as text of its day", text, x)
			}
			if (x.Kind == Question) != (x.Question != "") {
				t.Fatalf("%q: %+v has no question, or one too many", text, x)
			}
			for _, n := range x.Choices {
				if x.Kind != Question || empty(n) || n.Date < 0 {
					t.Fatalf("%q: %+v offers %+v", text, x, n)
				}
				numbersAreGiven(t, text, n)
			}
		case Understood:
		default:
			t.Fatalf("%q: piece of no kind: %+v", text, x)
		}
	}
	if missed := carries(text[at:]); missed != "" {
		t.Fatalf("%q: %q is in no piece", text, missed)
	}
	nothingUnheard(t, text, r.Notes)
	for i, n := range r.Notes {
		if i > 0 && r.Notes[i-1].Date >= n.Date {
			t.Fatalf("%q: two notes for one day, or out of order: %+v", text, r.Notes)
		}
		if n.Date > week.On || n.Date <= week.On-7-oldest {
			t.Fatalf("%q: a note for %s", text, n.Date)
		}
		numbersAreGiven(t, text, n)
		// An answer may come before its session, within the week that it was asked about.
		if ofSession(n) && n.Date <= week.On-7 && !slices.ContainsFunc(week.Sessions, func(s record.Session) bool { return s.Date == n.Date }) {
			t.Fatalf("%q: an answer for a day without a session: %+v", text, n)
		}
	}
}

// nothingUnheard asks that the notes together say of signs and topics what the reader hears, and no more.
// A sign that is entered for one day and suspected on another is in both lists only where days split.
func nothingUnheard(t fatal, text string, notes []record.Note) {
	p := parser{Setting: week, text: text}
	p.hear(p.lines())
	heard, kept := together(heardOf(p.heard)), together(notes...)
	for _, s := range heard {
		if !slices.Contains(kept, s) {
			t.Fatalf("%q: %s is lost, kept are %v", text, s, kept)
		}
	}
	for _, m := range p.heard { // a sign that is plain on one day may be suspected on another
		heard = append(heard, together(heardOf([]signs.Mention{m}))...)
	}
	for _, s := range kept {
		if plain, suspected := strings.CutPrefix(s, "?"); !slices.Contains(heard, s) && !(suspected && slices.Contains(heard, plain)) {
			t.Fatalf("%q: %s is invented, heard are %v", text, s, heard)
		}
	}
}

// carries gives the first letter, digit or emoji of a text.
func carries(text string) string {
	for _, r := range text {
		if unicode.IsLetter(r) || unicode.IsNumber(r) || r > 0x2190 && unicode.IsSymbol(r) && r != '−' && r != '≈' {
			return string(r)
		}
	}
	return ""
}

var numeral = regexp.MustCompile(`[0-9]+(?:[.,][0-9]+)?`)

// numbersAreGiven asks that every number of a note stands in the text, or as °F, and is on its scale.
func numbersAreGiven(t fatal, text string, n record.Note) {
	var given []float64
	for _, s := range numeral.FindAllString(text, -1) {
		for _, s := range append(strings.FieldsFunc(s, func(r rune) bool { return r == '.' || r == ',' }), strings.ReplaceAll(s, ",", ".")) {
			if v, err := strconv.ParseFloat(s, 64); err == nil {
				given = append(given, v)
			}
		}
	}
	for n := range strings.Count(text, "⭐") + strings.Count(text, "★") { // rated in stars
		given = append(given, float64(n+1))
	}
	for i, ten := range strings.Split(tens, "|") {
		for one := range 10 { // sixty-one
			if strings.Contains(strings.ToLower(text), ten) {
				given = append(given, float64(10*(i+2)+one))
			}
		}
	}
	for i, name := range strings.Fields(`one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty`) {
		if strings.Contains(strings.ToLower(text), name) {
			given = append(given, float64(i+1))
		}
	}
	want := func(what string, v float64, ok bool) {
		if !ok || !slices.Contains(given, v) {
			t.Fatalf("%q: %s of %g is invented or off its scale", text, what, v)
		}
	}
	if n.RPE != nil {
		want("effort", n.RPE.Value, scaleUpTo(n.RPE.Scale).holds(n.RPE.Value))
	}
	if n.Enjoyment != 0 {
		want("enjoyment", float64(n.Enjoyment), n.Enjoyment >= 1 && n.Enjoyment <= 5)
	}
	if n.HRRest != 0 {
		want("resting heart rate", n.HRRest, n.HRRest >= 30 && n.HRRest <= 130)
	}
	if n.HeatC != nil {
		v := *n.HeatC
		fromF := slices.ContainsFunc(given, func(f float64) bool {
			return math.Abs((f-32)/1.8-v) < 0.051 || math.Abs((-f-32)/1.8-v) < 0.051
		})
		if !(fromF || slices.Contains(given, math.Abs(v))) || v < -40 || v > 55 {
			t.Fatalf("%q: a temperature of %g °C is invented", text, v)
		}
	}
}

// Whatever is denied never becomes a sign: every sign in every word that the program knows, in every
// way of denying it.
func TestDeniedSignsAreNeverEntered(t *testing.T) {
	for _, s := range signs.All() {
		for _, word := range []string{string(s), s.Words(), strings.ReplaceAll(string(s), "-", " ")} {
			for _, deny := range []string{
				"no %", "not %", "never %", "without %", "didn't have %", "no % at all", "I was not %", "I haven't had any %", "no % or pain", "no pain or %",
				"no %, no pain", "% - no", "%: no", "%? no", "no % on Mon", "Mon 12 easy 4, no %", "no cold, % or fever", "neither % nor fever", "not feeling %",
				"no % and no pain", "no % and fever", "no pain, %", "no, %", "not really %", "no more %", "no longer %", "not without %", "don't have %",
			} {
				text := strings.ReplaceAll(deny, "%", word)
				for _, n := range Parse(text, week).Notes {
					if len(n.Symptoms) > 0 {
						t.Errorf("%q enters %v", text, n.Symptoms)
					}
				}
			}
		}
	}
}

// A grave sign in whatever company is entered or asked about, never passed over, unless it is
// plainly denied.
func TestGraveSignsAreNeverPassedOver(t *testing.T) {
	for _, s := range signs.All() {
		if tier := s.Tier(); tier != signs.Emergency && tier != signs.Doctor {
			continue
		}
		for _, word := range []string{strings.ReplaceAll(string(s), "-", " ")} {
			for _, say := range []string{
				"%", "had %", "Mon 12 easy 4, %", "Mon 12 %", "% on the hill on Wed", "some % I think", "% maybe", "felt % when I got home", "my friend had %",
				"is % bad?", "12 easy 4 % 😀", "no fever, %", "> %", "Mon 12 easy 4\n\n%\n\nthanks", "no longer %", "% again!!", "not % on Mon but on Wed",
			} {
				if say == "no fever, %" && strings.Contains(word, " or ") {
					continue // reads as a list of what was not: "no fever, pale or blue"
				}
				if say == "my friend had %" && s == signs.HospitalOrIll {
					continue // people write of others in hospital all the time, and those clients may train
				}
				text := strings.ReplaceAll(say, "%", word)
				found := false
				for _, g := range Parse(text, week).Grave() {
					found = found || slices.Contains(g.Signs, s) || slices.Contains(suspected(g), string(s))
				}
				if !found {
					t.Errorf("%q: %s is passed over: %s", text, s, written(Parse(text, week)))
				}
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, group := range forms {
		for _, line := range group {
			f.Add(line[0])
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > MaxText {
			return
		}
		holds(t, text)
	})
}
