package progression_test

import (
	"strings"
	"testing"

	"nextrung/internal/progression"
)

// wrote adds what a client wrote on a day, as a remark.
func wrote(on int, text string) func(*progression.Record) {
	return func(r *progression.Record) {
		r.Notes = append(r.Notes, progression.Note{Date: day(on), Entered: day(on), Text: text})
	}
}

func asked(on int, signs ...progression.Symptom) func(*progression.Record) {
	return func(r *progression.Record) {
		r.Notes = append(r.Notes, progression.Note{Date: day(on), Entered: day(on), Symptoms: signs, NoSign: len(signs) == 0})
	}
}

// TestNobodyMovesUpOnADoubt: what may be a grave sign stands in the way until somebody has asked.
func TestNobodyMovesUpOnADoubt(t *testing.T) {
	for _, c := range []struct {
		name    string
		story   *story
		verdict progression.Verdict
		says    string
	}{
		{"nothing written", ferry(4), progression.Advance, ""},
		{"chest pain on the stairs", ferry(4).then(wrote(24, "Wed chest pain on the stairs")), progression.NotAssessable, `may tell of pain or pressure in the chest`},
		{"dizzy", ferry(4).then(wrote(24, "a bit dizzy after the third lap")), progression.NotAssessable, "may tell of dizzy"},
		{"long ago and never asked", ferry(4).then(wrote(2, "chest pain on the stairs")), progression.NotAssessable, "nobody has asked yet"},
		{"asked, and it was nothing", ferry(4).then(wrote(24, "chest pain on the stairs")).then(asked(25)), progression.Advance, ""},
		{"asked on the day itself", ferry(4).then(wrote(24, "chest pain on the stairs")).then(asked(24)), progression.Advance, ""},
		{"asked before it was written", ferry(4).then(asked(23)).then(wrote(24, "chest pain on the stairs")), progression.NotAssessable, "nobody has asked yet"},
		{"asked, and it was so", ferry(4).then(wrote(24, "chest pain on the stairs")).then(asked(24, progression.Chest)), progression.Refer, ""},
		{"cleared by a doctor since", ferry(4).then(wrote(10, "chest pain on the stairs")).who(func(c *progression.Client) { c.Clearance = day(20) }), progression.Advance, ""},
		{"a word about the weather", ferry(4).then(wrote(24, "windy, and the strap slipped")), progression.Advance, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, a := c.story.next()
			if *a.Verdict != c.verdict {
				t.Errorf("%s, want %s: %s", *a.Verdict, c.verdict, a.Summary)
			}
			if !strings.Contains(a.Doubt(), c.says) || (c.says == "") != (a.Doubt() == "") {
				t.Errorf("doubt %q, want %q", a.Doubt(), c.says)
			}
			if c.says == "" {
				return
			}
			if len(a.Lacking) == 0 || !strings.Contains(a.Lacking[0].Needed, "--symptoms none") {
				t.Errorf("lacking %+v", a.Lacking)
			}
			if p.Sessions != 0 || !has(p.Notes, "call emergency help") {
				t.Errorf("prescribes %d sessions, notes %q", p.Sessions, p.Notes)
			}
		})
	}
}
