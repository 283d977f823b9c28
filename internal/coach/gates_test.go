package coach_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// gate is a fact that holds training back, and the fault with which a decision that would need it open is refused.
type gate struct {
	name  string
	shut  func(*record.Client)
	all   bool       // training of any kind, not only what is harder than comfortable
	kind  fault.Kind // of the refusal
	help  fault.Help
	opens func(*record.Client) // nil where nothing that can be entered does
}

func gates() []gate {
	cleared := func(c *record.Client) { c.Clearance = day("2026-10-01") }
	has := func(x record.Condition) func(*record.Client) {
		return func(c *record.Client) { c.Conditions = []record.Condition{x} }
	}
	return []gate{
		{"17 years old", func(c *record.Client) { c.Born = day("2009-06-01") }, true, fault.Refused, fault.NoHelp, nil},
		{"unscreened", func(c *record.Client) { c.Screening = record.Screening{} }, true, fault.Needs, fault.EnterScreening,
			func(c *record.Client) { c.Screening = record.Screening{On: day("2026-10-01"), Active: true} }},
		{"a disease, inactive", func(c *record.Client) { c.Screening.Active, c.Screening.Disease = false, "heart" }, true, fault.DoctorFirst, fault.EnterClearance, cleared},
		{"insulin, inactive", func(c *record.Client) {
			c.Screening.Active, c.Conditions = false, []record.Condition{record.Insulin}
		}, true, fault.DoctorFirst, fault.EnterClearance, cleared},
		{"a disease, active", func(c *record.Client) { c.Screening.Disease = "renal" }, false, fault.DoctorFirst, fault.EnterClearance, cleared},
		{"insulin", has(record.Insulin), false, fault.DoctorFirst, fault.EnterClearance, cleared},
		{"a pacemaker", has(record.Pacemaker), false, fault.DoctorFirst, fault.EnterClearance, cleared},
		{"an irregular rhythm", has(record.Irregular), false, fault.DoctorFirst, fault.EnterClearance, cleared},
		{"pregnant", has(record.Pregnant), false, fault.DoctorFirst, fault.EnterClearance, cleared},
		{"a medicine that slows", func(c *record.Client) { c.Medicine = record.Slows }, false, fault.DoctorFirst, fault.EnterClearance, cleared},
		{"a resting rate of 100", func(c *record.Client) { c.Zones[0].HRRest = 100 }, false, fault.Needs, fault.ChangeFacts,
			func(c *record.Client) { c.Zones[0].HRRest = 60 }},
		{"a limit", func(c *record.Client) { c.Zones[0].Limit, c.Confirmed = 105, []record.Checked{record.CheckedDisease} }, false, fault.Refused, fault.ChangeFacts,
			func(c *record.Client) { c.Zones[0].Limit = 0 }},
	}
}

// startedIn is a book with a client who starts in a stage; that somebody inactive may start above stage 1 is confirmed.
func startedIn(t *testing.T, stage int) (*coach.Coach, record.Client) {
	t.Helper()
	c := open(t)
	is := clientOf(t, c)
	is.Stage, is.Confirmed = stage, []record.Checked{record.CheckedActive}
	return c, is
}

// TestDecideAsksForTheMissingFact: no reason moves a client up, or back to training, through a closed gate; the fact that
// opens it does. What stands still is accepted, and says at once what is held back all the same.
func TestDecideAsksForTheMissingFact(t *testing.T) {
	on := day("2026-10-04")
	for _, g := range gates() {
		for stage := 1; stage <= 3; stage++ {
			c, is := startedIn(t, stage)
			g.shut(&is)
			put(t, c, is, on-3)
			for _, act := range []record.Act{record.DoRefer, record.DoHold, record.DoEase, record.DoMaintain, record.DoPause, record.DoResume, record.DoAdvance} {
				_, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: on, Act: act, Because: "she feels well", By: "Corvane"})
				refuse := act == record.DoAdvance || act == record.DoResume && g.all
				if refuse != (err != nil) && !(act == record.DoResume && !g.all) { // a resumed client may do comfortable sessions only
					t.Errorf("%s, stage %d: %s gives %v", g.name, stage, act, err)
				}
				if all := fault.All(err); act == record.DoAdvance && stage < 3 && (len(all) != 1 || all[0].Kind != g.kind || all[0].Help != g.help) {
					t.Errorf("%s, stage %d: refused with %+v", g.name, stage, all)
				}
			}
			all, harder, err := c.HeldBack(t.Context(), "Runa", on)
			if err != nil || g.all != (len(all) > 0) || !g.all && (len(harder) > 0) != (stage > 1) {
				t.Errorf("%s, stage %d: held back %v, %v, %v", g.name, stage, all, harder, err)
			}
			if g.opens == nil || stage == 3 {
				continue
			}
			g.opens(&is)
			put(t, c, is, on)
			if _, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: on, Act: record.DoAdvance, Because: "she feels well", By: "Corvane"}); err != nil {
				t.Errorf("%s, stage %d, with the fact: %v", g.name, stage, err)
			}
		}
	}
}

// TestAFactEnteredLaterShutsEveryWay: a plan that was sent before a fact was entered no longer stands, however it
// goes out, and no plan goes out as of the days before it.
func TestAFactEnteredLaterShutsEveryWay(t *testing.T) {
	sunday := day("2026-10-04")
	for _, g := range gates() {
		for stage := 1; stage <= 3; stage++ {
			c, is := startedIn(t, stage)
			put(t, c, is, sunday-30)
			if w, _, err := c.Prescribe(t.Context(), "Runa", sunday); err != nil || len(w.Sessions) == 0 {
				t.Fatalf("%+v, %v", w, err)
			}
			g.shut(&is)
			put(t, c, is, sunday+2)
			try := func(way string, sessions []bool, err error) {
				most := len(sessions)
				for _, hard := range sessions {
					if hard {
						t.Errorf("%s, stage %d: %s has harder parts", g.name, stage, way)
					}
				}
				if g.all && most > 0 || err != nil && len(fault.All(err)) != 1 {
					t.Errorf("%s, stage %d: %s has %d sessions, %v", g.name, stage, way, most, err)
				}
			}
			for way, on := range map[string]workout.Date{"today": sunday + 2, "as of the day before": sunday + 1, "as of the day it was sent": sunday} {
				if g.name == "a limit" && on < sunday+2 {
					continue // it has a first day of its own
				}
				w, _, err := c.Prescribe(t.Context(), "Runa", on)
				try(way, hardIn(w.Sessions), err)
				w, _, err = c.PrescribeAnew(t.Context(), "Runa", on)
				try("anew "+way, hardIn(w.Sessions), err)
				if on < sunday+2 {
					_, err = c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: on, Act: record.DoAdvance, Because: "x", By: "Corvane"})
					if err == nil {
						t.Errorf("%s, stage %d: moved up %s", g.name, stage, way)
					}
				}
			}
			standings, err := c.Week(t.Context(), sunday+3, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range standings {
				if s.Record.Client.Name == "Runa" && (g.all && s.Next.Sessions > 0 || s.Next.Intervals != nil) {
					t.Errorf("%s, stage %d: the week has %+v", g.name, stage, s.Next)
				}
			}
		}
	}
}

// TestNothingGoesOutAsOfADayBeforeAFact: neither where the client could train as they liked then, nor where a doctor's
// clearance was missing already and comfortable sessions went out.
func TestNothingGoesOutAsOfADayBeforeAFact(t *testing.T) {
	sunday := day("2026-10-04")
	note := func(e coach.NoteEntry) func(*coach.Coach) error {
		e.By = "Marit"
		return func(c *coach.Coach) error {
			_, _, err := c.EnterNote(t.Context(), "Runa", e, sunday+2)
			return err
		}
	}
	facts := func(f coach.Facts) func(*coach.Coach) error {
		return func(c *coach.Coach) error { _, err := c.ChangeClient(t.Context(), "Runa", f, sunday+2); return err }
	}
	decide := func(act record.Act) func(*coach.Coach) error {
		return func(c *coach.Coach) error {
			_, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: sunday + 2, Act: act, Because: "x", By: "Corvane"})
			return err
		}
	}
	for before, was := range map[string]func(*record.Client){
		"nothing known":        func(*record.Client) {},
		"a disease, uncleared": func(c *record.Client) { c.Screening.Disease = "heart" },
		"resting rate 100":     func(c *record.Client) { c.Zones[0].HRRest = 100 },
	} {
		for name, enter := range map[string]func(*coach.Coach) error{
			"a sign":              note(coach.NoteEntry{Symptoms: "chest"}),
			"words":               note(coach.NoteEntry{Text: "my chest felt like concrete on the hill"}),
			"a fever":             note(coach.NoteEntry{Symptoms: "fever"}),
			"a limit":             facts(coach.Facts{coach.Limit: "125", coach.From: "2026-10-06"}),
			"slows, cleared":      facts(coach.Facts{"medicine": "slows", "clearance": "2026-10-06"}),
			"a new disease":       facts(coach.Facts{"conditions": "pregnant"}),
			"pregnancy, perhaps":  note(coach.NoteEntry{Text: "I think I might be pregnant, test tomorrow"}),
			"a medicine, perhaps": note(coach.NoteEntry{Text: "the doctor put me on new tablets"}),
			"an injury, perhaps":  note(coach.NoteEntry{Text: "fell and hurt my knee"}),
			"a referral":          decide(record.DoRefer),
			"a pause":             decide(record.DoPause),
			"an easier week":      decide(record.DoEase),
			"nothing that bars":   facts(coach.Facts{"goal": "the hill"}),
		} {
			c, is := startedIn(t, 2)
			was(&is)
			put(t, c, is, sunday-30)
			check(t, enter(c))
			for way, plan := range map[string]func() (prescription.Week, record.Assessment, error){
				"as sent": func() (prescription.Week, record.Assessment, error) { return c.Prescribe(t.Context(), "Runa", sunday) },
				"anew": func() (prescription.Week, record.Assessment, error) {
					return c.PrescribeAnew(t.Context(), "Runa", sunday)
				},
			} {
				if w, _, err := plan(); (err == nil) != (name == "nothing that bars") {
					t.Errorf("%s, then %s, %s: %d sessions, %v", before, name, way, len(w.Sessions), err)
				}
			}
		}
	}
}

// TestAReasonThatSpeaksOfASignIsHeard: nothing is decided over a sign that stands in the reason alone.
func TestAReasonThatSpeaksOfASignIsHeard(t *testing.T) {
	on := day("2026-09-01")
	for _, act := range []record.Act{record.DoHold, record.DoEase, record.DoMaintain, record.DoPause, record.DoAdvance, record.DoRefer} {
		for because, grave := range map[string]bool{
			"she had chest pain on the hill but feels fine now": true,
			"fainted in the shower":                             true,
			"my chest felt like concrete, she says":             true,
			"five steady weeks, no chest pain, talks easily":    false,
			"slept badly, a cold":                               false,
			"talks easily on the quay":                          false,
		} {
			for _, answer := range []string{"", "none"} {
				c := open(t)
				if answer != "" {
					if _, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: on, Symptoms: answer, By: "Marit"}, on); err != nil {
						t.Fatal(err)
					}
				}
				_, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: on, Act: act, Because: because, By: "Corvane"})
				refuse := grave && answer == "" && act != record.DoRefer
				if all := fault.All(err); refuse != (err != nil) || refuse && all[0].Help != fault.EnterSigns {
					t.Errorf("%s because %q, answered %q: %v", act, because, answer, err)
				}
			}
		}
	}
}

// TestAReasonIsNotHeardInOldNotes: what was answered about another day, or was cleared long ago, says nothing about a sign
// in today's reason.
func TestAReasonIsNotHeardInOldNotes(t *testing.T) {
	on := day("2026-09-20")
	for name, x := range map[string]struct {
		note, entered workout.Date
		symptoms      string
		cleared       workout.Date
		refused       bool
	}{
		"asked on the day":              {on - 3, on, "none", 0, false},
		"none of another day":           {on - 5, on - 5, "none", 0, true},
		"dizzy, cleared weeks ago":      {on - 40, on - 40, "dizzy", on - 35, true},
		"dizzy, just cleared":           {on - 40, on - 40, "dizzy", on - 2, false},
		"dizzy, entered a few days ago": {on - 9, on - 2, "dizzy", on - 1, false},
		"dizzy, still open":             {on - 40, on - 40, "dizzy", 0, false},
		"another sign":                  {on - 2, on - 2, "palpitations", on - 1, true},
	} {
		c := open(t)
		if _, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: x.note, Symptoms: x.symptoms, By: "Marit"}, x.entered); err != nil {
			t.Fatal(err)
		}
		if x.cleared != 0 {
			if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"clearance": x.cleared.String()}, x.cleared); err != nil {
				t.Fatal(err)
			}
		}
		_, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: on, Act: record.DoHold, Because: "she was dizzy, so no more than that", By: "Corvane"})
		if x.refused != (err != nil) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAReasonForARecordingIsHeard: no sign is kept as the reason of an exclusion alone.
func TestAReasonForARecordingIsHeard(t *testing.T) {
	c, on := open(t), day("2026-09-01")
	got, err := c.Receive(t.Context(), coach.Intake{Client: "Runa", On: on, Fixed: true}, "walk.fit", encode(t, "fit", walk("2026-09-01T06:00:00Z", simulate.Options{})))
	if err != nil || len(got) != 1 || len(got[0].Recordings) != 1 {
		t.Fatal(got, err)
	}
	id := got[0].Recordings[0].ID
	if all := fault.All(c.Exclude(t.Context(), id, "he fainted and stopped early", on)); len(all) != 1 || all[0].Help != fault.EnterSigns {
		t.Errorf("excluded: %v", all)
	}
	if err := c.Exclude(t.Context(), id, "on the dog", on); err != nil {
		t.Error(err)
	}
}

// TestForgettingSaysWhatIsOpen: what waits for a doctor is gone with the client, so somebody has to know of it; what does
// not, holds nothing up.
func TestForgettingSaysWhatIsOpen(t *testing.T) {
	today := day("2026-09-01")
	note := func(e coach.NoteEntry) func(*testing.T, *coach.Coach) {
		return func(t *testing.T, c *coach.Coach) {
			e.By = "Marit"
			if _, _, err := c.EnterNote(t.Context(), "Runa", e, today); err != nil {
				t.Fatal(err)
			}
		}
	}
	type start struct {
		name string
		do   func(*testing.T, *coach.Coach)
		open bool
	}
	all := []start{
		{"nothing", func(*testing.T, *coach.Coach) {}, false},
		{"a grave sign", note(coach.NoteEntry{Symptoms: "faint"}), true},
		{"words that may be one", note(coach.NoteEntry{Text: "my chest felt like concrete on the hill"}), true},
		{"a mild sign", note(coach.NoteEntry{Symptoms: "sore"}), false},
		{"sent to a doctor", func(t *testing.T, c *coach.Coach) {
			if _, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: today, Act: record.DoRefer, Because: "looks ill", By: "Marit"}); err != nil {
				t.Fatal(err)
			}
		}, true},
	}
	for _, g := range gates() {
		all = append(all, start{g.name, func(t *testing.T, c *coach.Coach) {
			is := clientOf(t, c)
			g.shut(&is)
			put(t, c, is, today)
		}, g.help == fault.EnterClearance})
	}
	for _, x := range all {
		t.Run(x.name, func(t *testing.T) {
			c := open(t)
			x.do(t, c)
			err := c.Forget(t.Context(), "Runa", today, false)
			if (err != nil) != x.open {
				t.Fatalf("%v", err)
			}
			if all := fault.All(err); x.open && (len(all) != 1 || all[0].Kind != fault.DoctorFirst || all[0].Help != fault.ForgetOpen) {
				t.Errorf("%+v", all)
			}
			if _, err := c.Client(t.Context(), "Runa"); (err == nil) != x.open {
				t.Errorf("in the book: %v", err)
			}
			if x.open {
				if err := c.Forget(t.Context(), "Runa", today, true); err != nil {
					t.Error(err)
				}
			}
		})
	}
}

// TestAReferralStands: a client whom the trainer sent to a doctor is sent to train by nothing that comes later but a clearance
// from that day on, or a hold, with which the trainer takes it back; nor as of the day before.
func TestAReferralStands(t *testing.T) {
	on := day("2026-09-04")
	decide := func(act record.Act, day workout.Date) func(*coach.Coach) error {
		return func(c *coach.Coach) error {
			_, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: day, Act: act, Because: "as she says", By: "Corvane"})
			return err
		}
	}
	facts := func(f coach.Facts) func(*coach.Coach) error {
		return func(c *coach.Coach) error { _, err := c.ChangeClient(t.Context(), "Runa", f, on+2); return err }
	}
	for name, x := range map[string]struct {
		then    func(*coach.Coach) error
		refused bool
		ends    bool
	}{
		"nothing":              {facts(coach.Facts{"goal": "the hill"}), false, false},
		"an easier week":       {decide(record.DoEase, on+2), false, false},
		"a pause":              {decide(record.DoPause, on+2), false, false},
		"staying by choice":    {decide(record.DoMaintain, on+2), false, false},
		"a move up":            {decide(record.DoAdvance, on+2), true, false},
		"back to training":     {decide(record.DoResume, on+2), true, false},
		"a clearance before":   {facts(coach.Facts{"clearance": "2026-09-03"}), false, false},
		"a clearance that day": {facts(coach.Facts{"clearance": "2026-09-04"}), false, true},
		"a hold":               {decide(record.DoHold, on+2), false, true},
	} {
		t.Run(name, func(t *testing.T) {
			c := open(t)
			check(t, decide(record.DoRefer, on)(c))
			if err := x.then(c); x.refused != (err != nil) || err != nil && fault.All(err)[0].Kind != fault.DoctorFirst {
				t.Error(err)
			}
			for _, at := range []string{"2026-09-06", "2026-09-13", "2026-09-27"} {
				if trains := sessionsOf(t, c, "Runa", at) > 0; trains != x.ends {
					t.Errorf("trains after %s: %v", at, trains)
				}
			}
			if w, _, err := c.Prescribe(t.Context(), "Runa", on-1); !x.ends && (err == nil || len(w.Sessions) > 0) {
				t.Errorf("as of the day before: %d sessions, %v", len(w.Sessions), err)
			}
		})
	}
}

// TestAFeverThatGoesOnMovesTheSessions: a plan allows for the rest after a fever; if a day later the fever turns out to have
// lasted until the day of the plan, that is new to it.
func TestAFeverThatGoesOnMovesTheSessions(t *testing.T) {
	c, on := open(t), day("2026-09-10")
	walked(t, c, on-5, 30)
	fever := func(of, entered workout.Date) {
		if _, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: of, Symptoms: "fever", By: "Marit"}, entered); err != nil {
			t.Fatal(err)
		}
	}
	for _, x := range []struct{ of, entered workout.Date }{{on - 3, on}, {on, on + 1}, {on + 1, on + 1}, {on + 1, on + 2}, {on + 2, on + 3}} {
		fever(x.of, x.entered)
		for range 2 {
			w, _, err := c.Prescribe(t.Context(), "Runa", x.entered)
			check(t, err)
			if len(w.Sessions) == 0 || w.Sessions[0].Day <= x.of+2 {
				t.Errorf("a fever of %s, heard of on %s: %s", x.of, x.entered, w.Text())
			}
		}
	}
}

// TestNoMoveUpDuringOrAfterAnIllness: neither on the day of a fever or a chest illness, nor in the two normal weeks after it,
// nor as of a day before one that is on record by now, whatever the client's state.
func TestNoMoveUpDuringOrAfterAnIllness(t *testing.T) {
	on := day("2026-10-04")
	for _, sign := range []string{"fever", "chest-illness", "cold"} {
		for _, state := range []record.State{record.Active, record.Maintaining} {
			for stage := 1; stage <= 2; stage++ {
				for _, ago := range []workout.Date{-2, 0, 12} {
					c, is := startedIn(t, stage)
					is.State = state
					put(t, c, is, on-20)
					if _, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: on - ago, Symptoms: sign, By: "Marit"}, max(on, on-ago)); err != nil {
						t.Fatal(err)
					}
					for _, act := range []record.Act{record.DoHold, record.DoEase, record.DoMaintain, record.DoAdvance} {
						_, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: on, Act: act, Because: "she feels well", By: "Corvane"})
						refuse := act == record.DoAdvance && sign != "cold"
						if all := fault.All(err); refuse != (err != nil) || refuse && (len(all) != 1 || all[0].Kind != fault.Refused || !strings.Contains(err.Error(), "was noted")) {
							t.Errorf("%s %d days ago, %s in stage %d: %s gives %v", sign, ago, state, stage, act, err)
						}
					}
				}
			}
		}
	}
}

func clientOf(t *testing.T, c *coach.Coach) record.Client {
	t.Helper()
	is, err := c.Client(t.Context(), "Runa")
	if err != nil {
		t.Fatal(err)
	}
	return is
}

func put(t *testing.T, c *coach.Coach, is record.Client, on workout.Date) {
	t.Helper()
	if err := c.SetClient(t.Context(), is, on); err != nil {
		t.Fatal(fmt.Errorf("set client: %w", err))
	}
}

// hardIn says of each session whether it has work bouts.
func hardIn(all []prescription.Session) []bool {
	return record.Map(all, func(s prescription.Session) bool { return len(s.Plan.Bouts()) > 0 })
}

// TestBoutsAreNotNewInAReturn: a client who has done none before gets the first ones after the return from a break.
func TestBoutsAreNotNewInAReturn(t *testing.T) {
	on := day("2026-10-04")
	for days, bouts := range map[workout.Date]bool{2: true, 7: true, 9: false, 13: false, 16: false} {
		for stage := 2; stage <= 3; stage++ {
			c, is := startedIn(t, stage)
			put(t, c, is, day("2026-08-01"))
			for d := on - days; d > on-50; d -= 3 {
				check(t, c.AddReport(t.Context(), "Runa", record.Report{Date: d, Entered: d, Minutes: 40, Sport: workout.Walking}, false))
			}
			w, _, err := c.Prescribe(t.Context(), "Runa", on)
			if got := slices.Contains(hardIn(w.Sessions), true); err != nil || len(w.Sessions) == 0 || got != bouts {
				t.Errorf("stage %d, %d days away: bouts: %v, want %v; %v", stage, days, got, bouts, err)
			}
		}
	}
}

// TestNobodyWantsBoutsBeforeTheClearance: what no plan may hold, for whatever reason, is not called for.
func TestNobodyWantsBoutsBeforeTheClearance(t *testing.T) {
	on := day("2026-10-04")
	for _, g := range gates() {
		if g.all || g.kind != fault.DoctorFirst {
			continue
		}
		for stage := 2; stage <= 3; stage++ {
			c, is := startedIn(t, stage)
			g.shut(&is)
			put(t, c, is, on-30)
			a, err := c.Assess(t.Context(), "Runa", on, false)
			if err != nil {
				t.Fatal(err)
			}
			for _, l := range a.Lacking {
				if l.Rule == policy.IntervalSessions || l.Rule == policy.LongerBouts || l.Rule == policy.BoutEffort {
					t.Errorf("%s, stage %d: %s is called for", g.name, stage, l.Rule)
				}
			}
		}
	}
}

// TestFactsInOwnWordsAreHeard: a goal, or why a fact is changed, that speaks of a sign nobody has entered is refused, for a
// client of the book and for a new one.
func TestFactsInOwnWordsAreHeard(t *testing.T) {
	on := day("2026-09-20")
	for _, x := range []struct {
		facts   coach.Facts
		refused bool
	}{
		{coach.Facts{"goal": "my cardiologist says no exercise until the scan"}, true},
		{coach.Facts{"goal": "get rid of the chest pain on the stairs"}, true},
		{coach.Facts{"enjoys": "walking until she nearly fainted"}, true},
		{coach.Facts{"days": "2", "because": "less after he fainted on Monday"}, true},
		{coach.Facts{"days": "2", "because": "his doctor's letter"}, false},
		{coach.Facts{"days": "2", "because": "his doctor's letter after he fainted"}, true},
		{coach.Facts{"goal": "run five kilometres with my daughter", "tight": "calves, neck", "enjoys": "riding to the quay"}, false},
		{coach.Facts{"goal": "fitter, no chest pain, no dizziness"}, false},
	} {
		c := open(t)
		judge := func(what string, err error) {
			if all := fault.All(err); x.refused && (len(all) != 1 || all[0].Kind != fault.DoctorFirst) || !x.refused && err != nil {
				t.Errorf("%s, %v: %v", what, x.facts, err)
			}
		}
		_, err := c.ChangeClient(t.Context(), "Runa", x.facts, on)
		judge("changed", err)
		before := coach.Facts{"born": "1980-03-01"}
		for f, typed := range x.facts {
			before[f] = typed
		}
		_, err = c.EnterClient(t.Context(), "Oskel", before, on)
		judge("new", err)
		noted := "chest,faint"
		if x.facts["because"] == "" { // a doctor's word is no news where it is the reason
			noted += ",told-not-to-train"
		}
		if _, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: on, Symptoms: noted, By: "Marit"}, on); err != nil {
			t.Fatal(err)
		}
		if _, err := c.ChangeClient(t.Context(), "Runa", x.facts, on); err != nil {
			t.Errorf("%v, noted: %v", x.facts, err)
		}
	}
}
