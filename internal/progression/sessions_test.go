package progression_test

import (
	"testing"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// rec is a recording that starts some minutes after seven on the first day.
func rec(id string, after, minutes int, sport workout.Sport) record.Recording {
	return record.Recording{
		ID: id, Date: story.Began, Received: story.Began,
		Workout: workout.Workout{Sport: sport, Start: story.Began.Time().Add(time.Duration(7*60+after) * time.Minute), Seconds: 60 * minutes},
	}
}

// in is a recording of a file in a format.
func in(format string, x record.Recording) record.Recording {
	x.Format = format
	return x
}

func TestSessions(t *testing.T) {
	type want struct {
		mode    workout.Mode
		minutes float64
	}
	run := workout.Running
	walker := record.Client{Modes: []workout.Mode{workout.Run, workout.Walk}}
	for _, c := range []struct {
		name    string
		client  record.Client
		all     []record.Recording
		reports []record.Report
		want    []want
	}{
		{"one recording", walker, []record.Recording{rec("a", 0, 30, run)}, nil, []want{{"run", 30}}},
		{"29 min apart are one", walker, []record.Recording{rec("a", 0, 10, run), rec("b", 39, 20, run)}, nil, []want{{"run", 30}}},
		{"30 min apart are two", walker, []record.Recording{rec("a", 0, 10, run), rec("b", 40, 20, run)}, nil, []want{{"run", 10}, {"run", 20}}},
		{"three files, in any order", walker, []record.Recording{rec("c", 30, 5, workout.Walking), rec("a", 0, 5, workout.Walking), rec("b", 5, 25, run)}, nil, []want{{"run", 35}}},
		{"overlap counts once", walker, []record.Recording{rec("a", 0, 30, run), rec("b", 20, 30, run)}, nil, []want{{"run", 50}}},
		{"one inside the other", walker, []record.Recording{rec("a", 0, 60, run), rec("b", 20, 10, run)}, nil, []want{{"run", 60}}},
		{"after an enclosed one the longer end counts", walker, []record.Recording{rec("a", 0, 60, run), rec("b", 5, 5, run), rec("c", 85, 20, run)}, nil, []want{{"run", 80}}},
		{"10 min count", walker, []record.Recording{rec("a", 0, 10, run)}, nil, []want{{"run", 10}}},
		{"9 min do not", walker, []record.Recording{rec("a", 0, 9, run)}, nil, nil},
		{"a walker's walk counts", walker, []record.Recording{rec("a", 0, 30, workout.Walking)}, nil, []want{{"walk", 30}}},
		{"a runner's walk does not", record.Client{Modes: []workout.Mode{workout.Run}}, []record.Recording{rec("a", 0, 30, workout.Walking)}, nil, nil},
		{"without modes a walk does not", record.Client{}, []record.Recording{rec("a", 0, 30, workout.Walking)}, nil, nil},
		{"without modes a row does", record.Client{}, []record.Recording{rec("a", 0, 30, workout.Rowing)}, nil, []want{{"row", 30}}},
		{"a file without a sport is about the only mode", record.Client{Modes: []workout.Mode{workout.Walk}}, []record.Recording{in("csv", rec("a", 0, 30, workout.Other))}, nil, []want{{"walk", 30}}},
		{"a format without a word for walking is about the only mode", record.Client{Modes: []workout.Mode{workout.Walk}}, []record.Recording{in("tcx", rec("a", 0, 30, workout.Other))}, nil, []want{{"walk", 30}}},
		{"a format with a word for running means something else", record.Client{Modes: []workout.Mode{workout.Run}}, []record.Recording{in("tcx", rec("a", 0, 30, workout.Other))}, nil, []want{{"other", 30}}},
		{"of two modes it is not told which", walker, []record.Recording{in("csv", rec("a", 0, 30, workout.Other))}, nil, []want{{"other", 30}}},
		{"a file that tells another sport is not", record.Client{Modes: []workout.Mode{workout.Walk}}, []record.Recording{in("fit", rec("a", 0, 30, workout.Other))}, nil, []want{{"other", 30}}},
		{"a report", walker, nil, []record.Report{{Date: story.Began, Minutes: 40, Sport: run}}, []want{{"run", 40}}},
		{"a report about a recording", walker, []record.Recording{rec("a", 0, 30, run)}, []record.Report{{Date: story.Began, Minutes: 35, Sport: run}}, []want{{"run", 30}}},
		{"a report of another sport", walker, []record.Recording{rec("a", 0, 30, run)}, []record.Report{{Date: story.Began, Minutes: 30, Sport: workout.Cycling}}, []want{{"run", 30}, {"bike", 30}}},
		{"a report of a much longer run", walker, []record.Recording{rec("a", 0, 15, run)}, []record.Report{{Date: story.Began, Minutes: 60, Sport: run}}, []want{{"run", 15}, {"run", 60}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := record.Record{Client: c.client, Recordings: c.all, Reports: c.reports}.Sessions()
			if len(got) != len(c.want) {
				t.Fatalf("%d sessions, want %d: %+v", len(got), len(c.want), got)
			}
			for i, s := range got {
				if s.Mode != c.want[i].mode || s.Minutes != c.want[i].minutes {
					t.Errorf("session %d: %s for %v min, want %v", i, s.Mode, s.Minutes, c.want[i])
				}
				if s.Reported != (len(s.Recordings) == 0) {
					t.Errorf("session %d: reported %v with %d recordings", i, s.Reported, len(s.Recordings))
				}
			}
		})
	}
}

func TestPausesAndAside(t *testing.T) {
	a, b := rec("a", 0, 30, workout.Running), rec("b", 240, 30, workout.Running)
	a.Workout.Pauses = []workout.Span{{From: 60, To: 360}}
	b.Aside = record.SetAside(record.Excluded, "borrowed watch")
	got := record.Record{Recordings: []record.Recording{a, b}}.Sessions()
	if len(got) != 1 || got[0].Minutes != 25 {
		t.Errorf("%+v, want one session of 25 min", got)
	}
}

// TestTheWorstAnswerOfADayCounts, whichever came last and no matter who gave it; on two scales by the
// thresholds of the policy, so that 7 of 10 is harder than 15 of 20 and 6 is not.
func TestTheWorstAnswerOfADayCounts(t *testing.T) {
	type answers []record.Note
	for _, c := range []struct {
		name   string
		report *workout.RPE
		notes  answers
		rpe    workout.RPE
		talk   record.Talk
		given  int
	}{
		{"the later one", story.RPE20(12), answers{{RPE: story.RPE20(18), Talk: record.TalkNo}}, *story.RPE20(18), record.TalkNo, 2},
		{"the earlier one", story.RPE20(18), answers{{RPE: story.RPE20(12), Talk: record.TalkHard}, {Talk: record.TalkComfortable}}, *story.RPE20(18), record.TalkHard, 2},
		{"harder on the other scale", story.RPE20(15), answers{{RPE: story.RPE10(7)}}, *story.RPE10(7), record.NotAsked, 2},
		{"milder on the other scale", story.RPE20(15), answers{{RPE: story.RPE10(6)}}, *story.RPE20(15), record.NotAsked, 2},
		{"one", story.RPE20(15), nil, *story.RPE20(15), record.NotAsked, 1},
	} {
		r := record.Record{Reports: []record.Report{{Date: story.Began, Minutes: 30, Sport: workout.Running, RPE: c.report}}}
		for i, n := range c.notes {
			n.Date, n.Entered = story.Began, story.Began+workout.Date(i)
			r.Notes = append(r.Notes, n)
		}
		s := r.Sessions()[0]
		if *s.RPE != c.rpe || s.Talk != c.talk || len(s.Efforts) != c.given {
			t.Errorf("%s: %v, talk %q, of %v", c.name, *s.RPE, s.Talk, s.Efforts)
		}
	}
	said, _ := story.Reason(assess(story.Ferry(3).Then(func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: story.Day(18), Entered: story.Day(20), RPE: story.RPE20(18)})
	})), "effort")
	given := func(value float64, scale int) record.Fact {
		return record.Fact{Code: progression.EffortGiven, Args: record.Args{"effort": value, "scale": scale}}
	}
	twice := record.Facts{{Code: progression.AnsweredTwice, Args: record.Args{"on": story.Day(18), "answers": record.Facts{given(12, 0), given(18, 20)}}}}
	want := record.Fact{Code: progression.EffortTooHard, Args: record.Args{"worst": 18.0, "scale": 20, "limit": 14.0, "usual": 13.0, "answers": 9, "twice": twice}}
	if !said.Says.Equal(want) {
		t.Errorf("%v, want %v", said.Says, want)
	}
	// A hard answer does not vanish because no session of its day is known.
	said, _ = story.Reason(assess(story.Ferry(3).Then(func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: story.Day(19), Entered: story.Day(20), RPE: story.RPE20(18)})
	})), "effort")
	want = record.Fact{Code: progression.StrayEffort, Args: record.Args{"effort": 18.0, "scale": 20, "on": story.Day(19), "limit": 14.0}}
	if !said.Says.Equal(want) || story.Met(said) != "unmet" {
		t.Errorf("%s: %v, want %v", story.Met(said), said.Says, want)
	}
}

// TestNotesBelongToTheSessionOfTheDay: the worst answer stands, what was not asked stays.
func TestNotesBelongToTheSessionOfTheDay(t *testing.T) {
	long, short := rec("a", 0, 30, workout.Running), rec("b", 240, 15, workout.Running)
	long.Workout.Effort = story.RPE10(3)
	r := record.Record{
		Recordings: []record.Recording{short, long},
		Notes: []record.Note{
			{Date: story.Began, Entered: story.Began + 2, RPE: story.RPE20(13)},
			{Date: story.Began, Entered: story.Began, RPE: story.RPE20(11), Talk: record.TalkHard, Enjoyment: 5, HeatC: story.Num(22)},
			{Date: story.Began + 1, Entered: story.Began + 1, RPE: story.RPE20(19)},
		},
	}
	got := r.Sessions()
	s := got[0]
	if *s.RPE != *story.RPE20(13) || s.Talk != record.TalkHard || s.Enjoyment != 5 || *s.HeatC != 22 {
		t.Errorf("the long session got %+v", s)
	}
	if got[1].RPE != nil {
		t.Errorf("the short session got an effort: %+v", got[1])
	}
}

func TestLate(t *testing.T) {
	for days, want := range map[int]bool{0: false, 7: false, 8: true} {
		a := rec("a", 0, 30, workout.Running)
		a.Received = a.Date + workout.Date(days)
		if got := (record.Record{Recordings: []record.Recording{a}}).Sessions()[0].Late; got != want {
			t.Errorf("received after %d days: late %v", days, got)
		}
	}
}

func TestWeeks(t *testing.T) {
	r := story.Ferry(3).Then(story.Paused(7, 13)).Then(func(r *record.Record) {
		for i := range r.Recordings {
			r.Recordings[i].Measured.Zones = &physiology.ZoneTime{Zone1: 60, Zone2: 30, NotRecorded: 10}
		}
		r.Reports = append(r.Reports, record.Report{Date: story.Day(20), Entered: story.Day(20), Minutes: 50, Sport: workout.Running})
	}).Record()
	weeks := r.Weeks(story.Day(20), 4)
	if len(weeks) != 4 {
		t.Fatalf("%d weeks", len(weeks))
	}
	before, second, last := weeks[0], weeks[2], weeks[3]
	if before.From != story.Day(-7) || before.To != story.Day(-1) || len(before.Sessions) != 0 || before.Plan != nil {
		t.Errorf("the week before is %+v", before)
	}
	if !second.Paused || weeks[1].Paused || last.Paused {
		t.Error("the second week alone is paused")
	}
	if last.From != story.Day(14) || last.To != story.Day(20) || last.Minutes != 155 || last.Longest != 50 || last.Stage != 1 {
		t.Errorf("the last week is %+v", last)
	}
	if want := (physiology.ZoneTime{Zone1: 180, Zone2: 90, NotRecorded: 30}); last.Zones != want {
		t.Errorf("zones %+v, want %+v", last.Zones, want)
	}
	if last.Plan == nil || last.Plan.From != story.Day(14) {
		t.Errorf("the plan of the last week is %+v", last.Plan)
	}
}

// TestPlanOfAWeek: the prescription that covers most of the days, the last made of equal ones.
func TestPlanOfAWeek(t *testing.T) {
	plan := func(from, made int) record.Prescription {
		return record.Prescription{From: story.Day(from), To: story.Day(from + 6), Made: story.Day(made)}
	}
	r := record.Record{Prescriptions: []record.Prescription{plan(-5, -6), plan(2, -1), plan(2, 1), plan(20, 19)}}
	if got := r.Weeks(story.Day(6), 1)[0].Plan; got == nil || got.Made != story.Day(1) {
		t.Errorf("plan %+v", got)
	}
	if got := r.Weeks(story.Day(18), 1)[0].Plan; got != nil {
		t.Errorf("plan %+v of a week without one", got)
	}
}
