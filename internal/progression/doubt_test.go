package progression_test

import (
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
)

// wrote adds what a client wrote on a day, read as it is when it is entered.
func wrote(on int, text string) func(*record.Record) {
	return func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: story.Day(on), Entered: story.Day(on), Text: text}.Read())
	}
}

// answered adds an answer about a day, entered on another.
func answered(about, entered int, n record.Note) func(*record.Record) {
	return func(r *record.Record) {
		n.Date, n.Entered = story.Day(about), story.Day(entered)
		r.Notes = append(r.Notes, n)
	}
}

var noSign = record.Note{NoSign: true, By: "Marit"}

func notSo(t signs.Topic) record.Note { return record.Note{NotSo: []signs.Topic{t}, By: "Marit"} }

// TestNobodyMovesUpOnADoubt: what may be a grave sign, an illness, a medicine or a pregnancy stands in
// the way until somebody has asked, and only an answer about that day or a later one counts.
func TestNobodyMovesUpOnADoubt(t *testing.T) {
	const perhaps = "tight across the chest on the last hill" // may be a sign
	cleared := func(on int) func(*record.Client) {
		return func(c *record.Client) { c.Clearance = story.Day(on) }
	}
	for _, c := range []struct {
		name    string
		story   *story.Story
		verdict record.Verdict
		asks    int // questions left
	}{
		{"nothing written", story.Ferry(4), record.Advance, 0},
		{"a word about the weather", story.Ferry(4).Then(wrote(24, "windy, and the strap slipped")), record.Advance, 0},
		{"a sign plainly named", story.Ferry(4).Then(wrote(24, "Wed chest pain on the stairs")), record.Refer, 0},
		{"a sign plainly named long ago", story.Ferry(4).Then(wrote(2, "Wed chest pain on the stairs")), record.Refer, 0},
		{"a doctor has cleared since", story.Ferry(4).Then(wrote(10, "chest pain on the stairs")).Who(cleared(20)), record.Advance, 0},
		{"the all-clear for that day, entered later", story.Ferry(4).Then(wrote(24, "chest pain on the stairs")).Then(answered(24, 26, noSign)), record.Advance, 0},
		{"well on a later day", story.Ferry(4).Then(wrote(24, "chest pain on the stairs")).Then(answered(26, 26, noSign)), record.Refer, 0},
		{"the all-clear from before", story.Ferry(4).Then(answered(24, 23, noSign)).Then(wrote(24, "chest pain on the stairs")), record.Refer, 0},

		{"perhaps a sign", story.Ferry(4).Then(wrote(24, perhaps)), record.NotAssessable, 1},
		{"perhaps a sign, long ago and never asked", story.Ferry(4).Then(wrote(2, perhaps)), record.NotAssessable, 1},
		{"asked, and it was nothing", story.Ferry(4).Then(wrote(24, perhaps)).Then(answered(24, 25, noSign)), record.Advance, 0},
		{"well on a later day, and nobody has asked about that one", story.Ferry(4).Then(wrote(24, perhaps)).Then(answered(25, 25, noSign)), record.NotAssessable, 1},
		{"asked on the day itself", story.Ferry(4).Then(wrote(24, perhaps)).Then(answered(24, 24, noSign)), record.Advance, 0},
		{"asked before it was written", story.Ferry(4).Then(answered(23, 23, noSign)).Then(wrote(24, perhaps)), record.NotAssessable, 1},
		{"asked, and it was so", story.Ferry(4).Then(wrote(24, perhaps)).Then(answered(24, 24, record.Note{Symptoms: []signs.Sign{signs.Chest}})), record.Refer, 0},
		{"cleared by a doctor since it was written", story.Ferry(4).Then(wrote(10, perhaps)).Who(cleared(20)), record.Advance, 0},
		{"perhaps a sign, and tired", story.Ferry(4).Then(wrote(24, perhaps)).Then(story.Note(25, signs.UnusuallyTired, signs.PoorSleep, signs.Cold)), record.NotAssessable, 1},

		{"a doctor said not to train", story.Ferry(4).Then(wrote(24, "GP said no exercise till the scan")), record.Refer, 0},
		{"a doctor has agreed since", story.Ferry(4).Then(wrote(10, "GP said no exercise till the scan")).Who(cleared(20)), record.Advance, 0},
		{"the doctor said no such thing", story.Ferry(4).Then(wrote(24, "GP said no exercise till the scan")).Then(answered(24, 26, noSign)), record.Advance, 0},
		{"a doctor may have said so", story.Ferry(4).Then(wrote(24, "the cardiologist wants to see me")), record.NotAssessable, 1},
		{"a doctor is for training", story.Ferry(4).Then(wrote(24, "doctor says I am fine to train")), record.Advance, 0},

		{"in bed with flu", story.Ferry(4).Then(wrote(26, "In bed with flu, 38.5")), record.Ease, 0},
		{"a new medicine", story.Ferry(4).Then(wrote(24, "doc put me on beta blockers")), record.Hold, 1},
		{"a new medicine, asked and not so", story.Ferry(4).Then(wrote(24, "doc put me on beta blockers")).Then(answered(25, 25, notSo(signs.Medicine))), record.Advance, 0},
		{"no sign, but the medicine is still open", story.Ferry(4).Then(wrote(24, "doc put me on beta blockers")).Then(answered(25, 25, noSign)), record.Hold, 1},
		{"pregnant", story.Ferry(4).Then(wrote(24, "I'm pregnant, 8 weeks")), record.Hold, 1},
		{"pregnant, not so", story.Ferry(4).Then(wrote(24, "I'm pregnant, 8 weeks")).Then(answered(25, 25, notSo(signs.Pregnancy))), record.Advance, 0},
		{"a dose changed and entered", story.Ferry(4).Then(wrote(10, "doc put me on beta blockers")).Who(func(c *record.Client) { c.DoseChange = story.Day(11) }), record.Advance, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := assess(c.story)
			if *a.Verdict != c.verdict {
				t.Errorf("%s, want %s: %s", *a.Verdict, c.verdict, a.Summary)
			}
			if len(a.Unanswered) != c.asks {
				t.Errorf("%d questions, want %d: %+v", len(a.Unanswered), c.asks, a.Unanswered)
			}
			if grave := c.verdict == record.NotAssessable; grave != (a.Doubt() != nil) {
				t.Errorf("doubt %+v", a.Doubt())
			}
		})
	}
}

// TestAGraveSignStandsAboveEveryState: a pause, a recovery phase, the end of the programme, an age under
// 18 or a missing stage hide neither a sign nor the question about one.
func TestAGraveSignStandsAboveEveryState(t *testing.T) {
	states := map[string]func(*story.Story) *story.Story{
		"active":   func(s *story.Story) *story.Story { return s },
		"paused":   func(s *story.Story) *story.Story { return s.Then(story.Paused(20, 60)) },
		"finished": func(s *story.Story) *story.Story { return s.Who(func(c *record.Client) { c.State = record.Finished }) },
		"recovery": func(s *story.Story) *story.Story {
			return s.Who(func(c *record.Client) { c.State, c.StateEnds = record.RecoveryOf, story.Day(90) })
		},
		"by choice": func(s *story.Story) *story.Story { return s.Then(story.Decided(record.DoMaintain, 20, 1)) },
		"under 18": func(s *story.Story) *story.Story {
			return s.Who(func(c *record.Client) { c.Born = story.Began - 6000 })
		},
		"no stage": func(s *story.Story) *story.Story { return s.Who(func(c *record.Client) { c.Stage = 0 }) },
	}
	for name, in := range states {
		for _, sign := range signs.All() {
			if !sign.Grave() {
				continue
			}
			a := assess(in(story.Ferry(4)).Then(story.Note(24, sign)))
			if a.Verdict == nil || *a.Verdict != record.Refer || a.GraveSign() == nil {
				t.Errorf("%s with %s: %v, %q", name, sign, a.Verdict, a.Summary)
			}
			suspected := record.Note{Date: story.Day(24), Entered: story.Day(24), Suspected: []record.Suspicion{{Sign: sign}}, Text: "odd"}
			a = assess(in(story.Ferry(4)).Then(func(r *record.Record) { r.Notes = append(r.Notes, suspected) }))
			if a.Verdict == nil || *a.Verdict != record.NotAssessable || a.Doubt() == nil || a.Doubt().Sign != sign {
				t.Errorf("%s, perhaps with %s: %v, %q", name, sign, a.Verdict, a.Summary)
			}
			for _, r := range a.Reasons {
				if (r.Rule == "emergency-sign" || r.Rule == "doctor-sign") && sign.Tier() == signs.Emergency && r.Met != nil && *r.Met {
					t.Errorf("%s, perhaps with %s: %s stands beside it as met", name, sign, r.Rule)
				}
			}
		}
	}
}
