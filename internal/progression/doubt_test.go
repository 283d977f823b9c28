package progression_test

import (
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"strings"
	"testing"
)

// wrote adds what a client wrote on a day, as a remark.
func wrote(on int, text string) func(*record.Record) {
	return func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: story.Day(on), Entered: story.Day(on), Text: text})
	}
}

func asked(on int, signs ...signs.Sign) func(*record.Record) {
	return func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: story.Day(on), Entered: story.Day(on), Symptoms: signs, NoSign: len(signs) == 0})
	}
}

// TestNobodyMovesUpOnADoubt: what may be a grave sign stands in the way until somebody has asked.
func TestNobodyMovesUpOnADoubt(t *testing.T) {
	for _, c := range []struct {
		name    string
		story   *story.Story
		verdict record.Verdict
		says    string
	}{
		{"nothing written", story.Ferry(4), record.Advance, ""},
		{"chest pain on the stairs", story.Ferry(4).Then(wrote(24, "Wed chest pain on the stairs")), record.NotAssessable, `a grave sign (pain or pressure in the chest`},
		{"dizzy", story.Ferry(4).Then(wrote(24, "a bit dizzy after the third lap")), record.NotAssessable, "a grave sign (dizzy)"},
		{"long ago and never asked", story.Ferry(4).Then(wrote(2, "chest pain on the stairs")), record.NotAssessable, "nobody has asked yet"},
		{"asked, and it was nothing", story.Ferry(4).Then(wrote(24, "chest pain on the stairs")).Then(asked(25)), record.Advance, ""},
		{"asked on the day itself", story.Ferry(4).Then(wrote(24, "chest pain on the stairs")).Then(asked(24)), record.Advance, ""},
		{"asked before it was written", story.Ferry(4).Then(asked(23)).Then(wrote(24, "chest pain on the stairs")), record.NotAssessable, "nobody has asked yet"},
		{"asked, and it was so", story.Ferry(4).Then(wrote(24, "chest pain on the stairs")).Then(asked(24, signs.Chest)), record.Refer, ""},
		{"cleared by a doctor since", story.Ferry(4).Then(wrote(10, "chest pain on the stairs")).Who(func(c *record.Client) { c.Clearance = story.Day(20) }), record.Advance, ""},
		{"a word about the weather", story.Ferry(4).Then(wrote(24, "windy, and the strap slipped")), record.Advance, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := assess(c.story)
			if *a.Verdict != c.verdict {
				t.Errorf("%s, want %s: %s", *a.Verdict, c.verdict, a.Summary)
			}
			doubt := a.Doubt()
			if (c.says == "") != (doubt == nil) {
				t.Fatalf("doubt %v, want %q", doubt, c.says)
			}
			if doubt == nil {
				return
			}
			if said := reasons.Text(doubt.Says); !strings.Contains(said, c.says) {
				t.Errorf("doubt %q, want %q", said, c.says)
			}
			if len(a.Lacking) == 0 || a.Lacking[0].Needed.Code != progression.NeedAskAtOnce {
				t.Errorf("lacking %+v", a.Lacking)
			}
		})
	}
}
