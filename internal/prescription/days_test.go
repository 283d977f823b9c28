package prescription_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// TestSpacing: whatever was done and wished, the number of sessions is kept, two hard sessions never
// stand less than 48 h apart, those already done included, and the same question has the same answer.
func TestSpacing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sessions := rapid.IntRange(1, 7).Draw(t, "sessions")
		hard := rapid.IntRange(0, min(3, sessions)).Draw(t, "hard")
		p := intervalWeek(sessions, hard)
		r := record.Record{Client: deckhand()}
		inStage2(&r)
		last := made - 100
		for _, d := range rapid.SliceOfDistinct(rapid.IntRange(0, 6), rapid.ID[int]).Draw(t, "days done") {
			bouts := rapid.SampledFrom([]int{0, 4}).Draw(t, "bouts")
			did(&r, d, workout.Walking, bouts)
			if bouts > 0 {
				last = max(last, made-workout.Date(d))
			}
		}
		r.Client.Resistance = rapid.SliceOfDistinct(rapid.SampledFrom(workout.Weekdays()), rapid.ID[workout.Weekday]).Draw(t, "resistance days")
		if rapid.Bool().Draw(t, "check") {
			p.Check = 36
		}
		w := lay(p, r)
		if len(w.Sessions) != sessions {
			t.Fatalf("%d sessions prescribed, %d laid: %s", sessions, len(w.Sessions), named(w))
		}
		before, checks := p.From-1, 0
		for i, s := range w.Sessions {
			if s.Day <= before || s.Day > p.To {
				t.Fatalf("session %d is on %s", i+1, s.Day)
			}
			before = s.Day
			if (len(s.Plan.Bouts()) > 0) != (s.Kind == prescription.Intervals) {
				t.Fatalf("%s has %d bouts", s.Kind, len(s.Plan.Bouts()))
			}
			if s.Kind == prescription.Check {
				checks++
			}
			if want := fmt.Sprintf("Session %d of %d: %s", i+1, sessions, s.Kind); s.Plan.Name != want {
				t.Fatalf("named %q, want %q", s.Plan.Name, want)
			}
		}
		for i, d := range hardDays(w) {
			if d < last+2 {
				t.Fatalf("hard on %s, %d days after the last hard session", d, d-last)
			}
			if i > 0 && d-hardDays(w)[i-1] < 2 {
				t.Fatalf("two hard days in a row: %s", named(w))
			}
		}
		// Two fit into any seven days, three into a week that is not narrowed at its start.
		if n := len(hardDays(w)); n != hard && (hard <= 2 || last < made) {
			t.Fatalf("%d of %d hard sessions: %s", n, hard, named(w))
		} else if n < hard && !slices.ContainsFunc(w.Unkept, func(s string) bool { return strings.Contains(s, "48 hours") }) {
			t.Fatalf("a hard session became an easy one in silence: %q", w.Unkept)
		}
		if want := min(checks, 1); checks > 1 || p.Check > 0 && sessions > hard && checks != 1 {
			t.Fatalf("%d check sessions, want %d", checks, want)
		}
		if again := lay(p, r); named(again) != named(w) {
			t.Fatalf("%s, then %s", named(w), named(again))
		}
	})
}

// TestApartFromResistance: no session stands on a day of resistance work while there are other days
// (cardio for fat loss or performance goes on another day where the client can: common practice, no
// source); where there are not, as few as can be, and it is said.
func TestApartFromResistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sessions := rapid.IntRange(1, 7).Draw(t, "sessions")
		r := record.Record{Client: deckhand()}
		r.Client.Resistance = rapid.SliceOfDistinct(rapid.SampledFrom(workout.Weekdays()), rapid.ID[workout.Weekday]).Draw(t, "resistance days")
		for _, d := range rapid.SliceOfDistinct(rapid.IntRange(0, 27), rapid.ID[int]).Draw(t, "days done") {
			did(&r, d, workout.Walking, 0)
		}
		w := lay(steadyWeek(sessions), r)
		shared := 0
		for _, s := range w.Sessions {
			if slices.Contains(r.Client.Resistance, s.Day.Weekday()) {
				shared++
			}
		}
		if want := max(0, sessions-(7-len(r.Client.Resistance))); shared != want {
			t.Fatalf("%d on resistance days %v, want %d: %s", shared, r.Client.Resistance, want, named(w))
		}
		if (shared > 0) != (len(w.Unkept) > 0) {
			t.Fatalf("%d shared, said: %q", shared, w.Unkept)
		}
	})
}

// TestDays holds single weeks. The week begins on a Monday.
func TestDays(t *testing.T) {
	habits := func(sport workout.Sport, daysBefore ...int) func(*record.Record) {
		return func(r *record.Record) {
			for _, d := range daysBefore {
				did(r, d, sport, 0)
			}
		}
	}
	pause := func(from, to workout.Date) func(*record.Record) {
		return func(r *record.Record) {
			r.Decisions = append(r.Decisions, record.Decision{Entered: made - 2, From: from, To: to, Act: record.DoPause, Stage: 1})
		}
	}
	both := func(all ...func(*record.Record)) func(*record.Record) {
		return func(r *record.Record) {
			for _, f := range all {
				f(r)
			}
		}
	}
	hardYesterday := both(inStage2, func(r *record.Record) { did(r, 0, workout.Walking, 4) })
	for _, c := range []struct {
		name string
		p    record.Prescription
		who  func(*record.Record)
		want string
		said string
	}{
		// Beginners train on three days that do not follow each other (an older handbook, second hand).
		{"three days with rest between", steadyWeek(3), nil, "mon wed fri", ""},
		{"one day", steadyWeek(1), nil, "mon", ""},
		{"every day", steadyWeek(7), nil, "mon tue wed thu fri sat sun", ""},
		{"more than there are days", steadyWeek(9), nil, "mon tue wed thu fri sat sun", "Only 7 days"},
		{"after a session on Sunday", steadyWeek(3), habits(workout.Walking, 0), "tue thu sat", ""},
		{"the client's own days", steadyWeek(3), habits(workout.Walking, 6, 3, 1, 13, 10, 8), "mon thu sat", ""},
		{"neighbouring days, where these are the client's own", steadyWeek(2), habits(workout.Walking, 1, 0, 8, 7), "sat sun", ""},
		{"one day once is no habit", steadyWeek(2), habits(workout.Walking, 9), "mon thu", ""},
		{"away from reported days of strength", steadyWeek(3), habits(workout.Strength, 6, 13, 4, 11), "tue thu sat", ""},
		{"strength once is no day of strength", steadyWeek(3), habits(workout.Strength, 6), "mon wed fri", ""},
		{"what the client told counts, not what was seen", steadyWeek(3),
			both(habits(workout.Strength, 6, 13, 4, 11), func(r *record.Record) { r.Client.Resistance = []workout.Weekday{"tue"} }), "mon wed fri", ""},
		{"no room apart from strength", steadyWeek(5), func(r *record.Record) { r.Client.Resistance = []workout.Weekday{"mon", "wed", "fri"} }, "mon tue thu sat sun",
			"on the same day as a session: Mon 5 Oct."},
		{"a pause until Wednesday", steadyWeek(3), pause(made-10, made+3), "thu fri sun", ""},
		{"a pause until Saturday", steadyWeek(3), pause(made-10, made+6), "sun", "Only 1 day of this week"},
		{"a pause of the whole week", steadyWeek(3), pause(made-10, made+20), "", ""},
		{"a fever on Sunday", steadyWeek(3), func(r *record.Record) {
			r.Notes = append(r.Notes, record.Note{Date: made, Entered: made, Symptoms: []signs.Sign{signs.Fever}})
		}, "wed fri sun", ""},
		{"a fever long ago", steadyWeek(3), func(r *record.Record) {
			r.Notes = append(r.Notes, record.Note{Date: made - 3, Entered: made, Symptoms: []signs.Sign{signs.Fever}})
		}, "mon wed fri", ""},
		{"a client who begins on Friday", steadyWeek(2), func(r *record.Record) { r.Client.Since = made + 5 }, "fri sun", ""},
		{"a hard and two easy ones", intervalWeek(3, 1), inStage2, "mon! wed fri", ""},
		{"two hard ones far apart", intervalWeek(3, 2), inStage2, "mon! wed fri!", ""},
		{"hard ones in a full week", intervalWeek(7, 2), inStage2, "mon! tue wed thu! fri sat sun", ""},
		{"not hard on the day after a hard one", intervalWeek(3, 1), hardYesterday, "tue! thu sat", ""},
		{"not even where every day is taken", intervalWeek(7, 2), hardYesterday, "mon tue! wed thu fri! sat sun", ""},
		{"after days off the first one is easy", intervalWeek(3, 1), both(inStage2, func(r *record.Record) { did(r, 5, workout.Walking, 0) }), "mon wed! fri", ""},
		{"hard by effort is hard too", intervalWeek(7, 1), both(inStage2, func(r *record.Record) {
			r.Reports = append(r.Reports, record.Report{Date: made, Entered: made, Minutes: 40, Sport: workout.Walking, RPE: &workout.RPE{Value: 7, Scale: 10}})
		}), "mon tue! wed thu fri sat sun", ""},
		{"no hard one before the stage begins", intervalWeek(3, 2), func(r *record.Record) {
			r.Decisions = append(r.Decisions, record.Decision{Entered: made, From: made + 7, Act: record.DoAdvance, Stage: 2})
		}, "tue thu sun!", "1 brisk session is made comfortable: less than 48 hours after another brisk one, or before the stage starts"},
		{"hard ones stay off days of strength", intervalWeek(4, 2), both(inStage2, func(r *record.Record) {
			r.Client.Resistance = []workout.Weekday{"mon", "tue", "wed", "thu"}
		}), "tue fri! sat sun!", "Tue 6 Oct"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := record.Record{Client: deckhand()}
			if c.who != nil {
				c.who(&r)
			}
			w := lay(c.p, r)
			if got := named(w); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
			said := strings.Join(w.Unkept, " ")
			if c.said == "" && said != "" || !strings.Contains(said, c.said) {
				t.Errorf("says %q, want %q", said, c.said)
			}
			if len(w.Sessions) == 0 && (len(w.Why) != 1 || !slices.Equal(w.Said(), []string{"No sessions this week."}) || len(w.Targets) > 0) {
				t.Errorf("no session, why: %q; the client reads %v", w.Why, w.Notes)
			}
		})
	}
}

// TestRunningDays: never more than two days of running in a row, those already run included, while
// other days are free (common practice, no source); walkers keep the usual days.
func TestRunningDays(t *testing.T) {
	run := []workout.Mode{workout.Run}
	for _, c := range []struct {
		name     string
		sessions int
		sport    workout.Sport
		done     []int // days before the prescription, made on a Sunday
		want     string
	}{
		{"the usual days are four in a row", 5, workout.Running, []int{13, 12, 11, 8, 6, 5, 4, 1, 20, 19, 18, 15, 22, 7, 14}, ""},
		{"four sessions on the usual Monday to Thursday", 4, workout.Running, []int{6, 5, 4, 3, 13, 12, 11, 10}, ""},
		{"two days in a row may be", 2, workout.Running, []int{5, 4, 12, 11}, "tue wed"},
		{"after running on Saturday and Sunday", 3, workout.Running, []int{1, 0, 6, 13, 8, 7}, "wed sat sun"},
		{"walking keeps Monday to Thursday", 4, workout.Walking, []int{6, 5, 4, 3, 13, 12, 11, 10}, "mon tue wed thu"},
		{"every day, where all are taken", 7, workout.Running, nil, "mon tue wed thu fri sat sun"},
	} {
		r := record.Record{Client: deckhand()}
		p := steadyWeek(c.sessions, workout.Walk)
		if c.sport == workout.Running {
			r.Client.Modes, p = run, steadyWeek(c.sessions, run...)
		}
		for _, d := range c.done {
			did(&r, d, c.sport, 0)
		}
		w := lay(p, r)
		if got := named(w); c.want != "" && got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		if len(w.Sessions) != c.sessions {
			t.Errorf("%s: %d sessions", c.name, len(w.Sessions))
		}
		for i := 2; i < len(w.Sessions) && c.want == ""; i++ {
			if w.Sessions[i].Day == w.Sessions[i-2].Day+2 {
				t.Errorf("%s: three days in a row: %s", c.name, named(w))
			}
		}
	}
}

// Up to four sessions always fit without a third day in a row, whatever was run before.
func TestRunningDaysAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := record.Record{Client: deckhand()}
		r.Client.Modes = []workout.Mode{workout.Run}
		run := map[workout.Date]bool{}
		for _, d := range rapid.SliceOfDistinct(rapid.IntRange(0, 27), rapid.ID[int]).Draw(t, "days done") {
			did(&r, d, workout.Running, 0)
			run[made-workout.Date(d)] = true
		}
		w := lay(steadyWeek(rapid.IntRange(1, 4).Draw(t, "sessions"), workout.Run), r)
		for _, s := range w.Sessions {
			if run[s.Day] = true; run[s.Day-1] && run[s.Day-2] {
				t.Fatalf("the third day in a row: %s, done before: %v", named(w), run)
			}
		}
	})
}

// TestCheckDay: the check session stands on a rested day away from resistance work.
func TestCheckDay(t *testing.T) {
	for _, c := range []struct {
		name       string
		p          record.Prescription
		resistance []workout.Weekday
		want       string
	}{
		{"the last of the easy ones", steadyWeek(3), nil, "mon wed fri?"},
		{"not an interval session", intervalWeek(3, 2), nil, "mon! wed? fri!"},
		{"not after one", intervalWeek(5, 1), nil, "mon! tue wed fri sun?"},
		{"not on a day of strength", steadyWeek(7), []workout.Weekday{"tue", "sun"}, "mon? tue wed thu fri sat sun"},
	} {
		r := record.Record{Client: deckhand()}
		r.Client.Resistance = c.resistance
		if c.p.Intervals != nil {
			inStage2(&r)
		}
		c.p.Check = 36
		if got := named(lay(c.p, r)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
