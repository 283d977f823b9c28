package prescription_test

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// TestEveryCodeHasItsSentence reads the codes out of the source, so that a new one cannot go without.
func TestEveryCodeHasItsSentence(t *testing.T) {
	source, err := os.ReadFile("../record/plannote.go")
	if err != nil {
		t.Fatal(err)
	}
	codes := regexp.MustCompile(`PlanCode = "([a-z0-9-]+)"`).FindAllStringSubmatch(string(source), -1)
	if len(codes) < 25 {
		t.Fatalf("only %d codes found", len(codes))
	}
	seen := map[string]string{}
	for _, c := range codes {
		text := prescription.Say(record.PlanNote{Code: record.PlanCode(c[1]), N: 1, Of: 3, BPM: 137, Feel: workout.Brisk, Day: made})
		if !strings.HasSuffix(text, ".") || regexp.MustCompile(`\b(verdict|hold|refer|advance|assessable|beats|proposal)\b`).MatchString(text) {
			t.Errorf("%s: %q", c[1], text)
		}
		if other := seen[text]; other != "" {
			t.Errorf("%s and %s say the same", c[1], other)
		}
		seen[text] = c[1]
	}
}

// TestNotesNameTheirFigures: what a note carries is what the client reads.
func TestNotesNameTheirFigures(t *testing.T) {
	for want, n := range map[string]record.PlanNote{
		"You did 1 of 2 sessions. One more would help most.":                                                                              {Code: record.OneMoreSession, N: 1, Of: 2},
		"This is less than you did lately, so that it fits the time you said you have.":                                                   {Code: record.LessTime, N: 240},
		"Much of the last few weeks was harder than planned. Go slower, with easy spells in between, so that your pulse stays below 137.": {Code: record.AbovePlan, BPM: 137},
		"Hard means that you can only say single words. Stop a part early rather than go all out.":                                        {Code: record.PartsMean, Feel: workout.Hard},
		"Keep recording and keep pedalling lightly for 3 minutes after your last effort.":                                                 {Code: record.KeepRecording, Modes: []workout.Mode{workout.Bike}},
	} {
		if got := prescription.Say(n); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestOldNotesStay: books of an earlier version hold notes as sentences, which are shown as they are.
func TestOldNotesStay(t *testing.T) {
	var p record.Prescription
	if err := json.Unmarshal([]byte(`{"client":"Ruvan","sessions":2,"notes":["Slow down.",{"code":"one-more","n":1,"of":2}]}`), &p); err != nil {
		t.Fatal(err)
	}
	if got := prescription.Say(p.Notes[0]) + " " + prescription.Say(p.Notes[1]); got != "Slow down. You did 1 of 2 sessions. One more would help most." {
		t.Errorf("%q", got)
	}
	if b, err := json.Marshal(p.Notes); err != nil || string(b) != `[{"text":"Slow down."},{"code":"one-more","n":1,"of":2}]` {
		t.Errorf("%s, %v", b, err)
	}
	if !p.Says(record.OneMoreSession) || p.Says(record.FeltTooHard) || (*record.Prescription)(nil).Says(record.OneMoreSession) {
		t.Error("the notes are not found by their codes")
	}
}

// TestStopSignsComeFirst where a sign, or what may be one, stands in the way; else they come after the
// week, and no form is without them.
func TestStopSignsComeFirst(t *testing.T) {
	asked := func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: story.Day(24), Entered: story.Day(24), Text: "tight across the chest on the last hill"}.Read())
	}
	for name, c := range map[string]struct {
		story *story.Story
		wrong bool
	}{
		"a sign":               {story.Ferry(4).Then(story.Note(24, signs.Chest)), true},
		"what may be a sign":   {story.Ferry(4).Then(asked), true},
		"an ordinary week":     {story.Ferry(4), false},
		"questions unanswered": {story.Ferry(2).Who(func(c *record.Client) { c.Screening = record.Screening{} }), false},
	} {
		p, a := next(c.story)
		w := prescription.Lay(p, c.story.Record(), a)
		for form, text := range map[string]string{"message": w.Text(), "trainer's form": w.Trainer()} {
			order, stop, week := strings.Index(text, w.Notes[0].Text), strings.Index(text, signs.StopSigns()[0]), strings.Index(text, "Next week")
			if order < 0 || stop < order || form == "message" && (week < 0) != c.wrong {
				t.Errorf("%s: in the %s what to do stands at %d, the stop signs at %d, the week at %d", name, form, order, stop, week)
			}
		}
		for _, s := range w.Sessions {
			if !strings.Contains(w.Entry(s), signs.StopSigns()[0]) {
				t.Errorf("%s: no stop signs in the calendar", name)
			}
		}
	}
}

// TestAGraveSignSaysHowSoon: what a client reads instead of a plan has the time by which to act, as every other place does.
func TestAGraveSignSaysHowSoon(t *testing.T) {
	for sign, soon := range map[signs.Sign]record.PlanCode{
		signs.Chest: record.CallIfStill, signs.Faint: record.CallIfStill, signs.SwollenLeg: record.SeeToday, signs.Bleeding: record.SeeToday,
		signs.Dizzy: "", signs.ToldNotToTrain: "",
	} {
		p, _ := next(story.Ferry(4).Then(story.Note(24, sign)))
		for _, c := range []record.PlanCode{record.CallIfStill, record.SeeToday} {
			if p.Says(c) != (c == soon) {
				t.Errorf("%s: %+v, want %q", sign, p.Notes, soon)
			}
		}
		if !p.Says(record.CallHelp) || p.Sessions != 0 {
			t.Errorf("%s: %d sessions, %+v", sign, p.Sessions, p.Notes)
		}
	}
	if got, want := prescription.Say(record.PlanNote{Code: record.CallIfStill}), "Call emergency help now if the symptom is still there or comes back; otherwise see a doctor today."; got != want {
		t.Errorf("it reads %q, want %q", got, want)
	}
}
