package coach_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/policy"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// life is one client's story week by week: the facts, the body that nobody knows, and beside each week
// the verdict of a careful practitioner who goes by the rules of the programme.
type life struct {
	client   record.Client
	begins   workout.Date // a Monday
	body     simulate.Athlete
	progress simulate.Progress
	record   simulate.Options
	format   string
	seed     uint64
	first    workout.Plan // each session of the first week, before anything was prescribed
	weeks    []told
}

// told is the story of one week.
type told struct {
	prose string
	// lives changes the nth session of the week from what was prescribed.
	lives func(n int, o *lived)
	notes func(monday workout.Date) []record.Note

	verdict record.Verdict  // "" for a pause
	plan    record.HoldPlan // "" where it is not a hold
	because string          // in the summary
	// proposes are the changes of zones that the record supports.
	proposes []proposal.Kind
	sees     func(t *testing.T, s coach.Standing)

	// After the assessment of Sunday.
	sets    func(c *record.Client, monday workout.Date) // facts that hold from next Monday on
	decides record.Decision
}

// lived is one session as it was done.
type lived struct {
	workout.Plan
	simulate.Options
	missed, silent bool
	note           record.Note // beside effort and talk
}

// daysOf are the days of training in a week of so many sessions, 0 is Monday.
var daysOf = [][]int{nil, {2}, {0, 3}, {0, 2, 5}, {0, 2, 4, 6}, {0, 1, 3, 4, 6}}

// goes plays a life the ordinary way in a book of its own, and holds each week's assessment against
// what was expected.
func (l life) goes(t *testing.T) {
	ctx := context.Background()
	c, err := coach.Open(ctx, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	l.client.Stage, l.client.Since, l.client.State = max(1, l.client.Stage), l.begins, record.Active
	if err := c.AddClient(ctx, l.client, l.begins); err != nil {
		t.Fatal(err)
	}
	for i, w := range l.weeks {
		monday := l.begins + workout.Date(7*i)
		sunday := monday + 6
		l.week(t, c, i, w, monday)
		standings, err := c.Week(ctx, sunday, nil)
		if err != nil {
			t.Fatal(err)
		}
		s := standings[0]
		w.holds(t, i+1, s)
		l.proposed(t, c, i+1, w, sunday)
		if w.sets != nil {
			w.sets(&l.client, monday+7)
			if err := c.SetClient(ctx, l.client, sunday); err != nil {
				t.Fatalf("week %d: %v", i+1, err)
			}
			if _, err := c.Week(ctx, sunday, nil); err != nil {
				t.Fatal(err)
			}
		}
		if d := w.decides; d.Act != "" {
			d.Client, d.Entered, d.By = l.client.Name, sunday, "Corvane"
			if _, err := c.Decide(ctx, d); err != nil {
				t.Fatalf("week %d: %v", i+1, err)
			}
		}
	}
}

// week plays the sessions of a week and hands in their files and answers.
func (l life) week(t *testing.T, c *coach.Coach, i int, w told, monday workout.Date) {
	t.Helper()
	ctx, sunday := context.Background(), monday+6
	plans := []workout.Plan{l.first, l.first, l.first}
	if p := recordOf(t, c, l.client.Name, sunday.String(), false).PlanFor(monday, sunday); p != nil {
		plans = p.Plans()
	}
	var notes []record.Note
	for n, plan := range plans {
		o := lived{Plan: plan, Options: l.record}
		o.note.Date = monday + workout.Date(daysOf[len(plans)][n])
		o.Seed = l.seed<<16 | uint64(i)<<4 | uint64(n)
		o.Start = o.note.Date.Time().Add(7 * time.Hour)
		o.Steps = byFeel(plan.Steps)
		if w.lives != nil {
			w.lives(n, &o)
		}
		if o.missed {
			continue
		}
		done, truth := simulate.Play(o.Plan, l.body.After(float64(i), l.progress), o.Options)
		b, err := recording.Encode(l.format, done)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range receive(t, c, coach.Intake{Client: l.client.Name, On: sunday}, fmt.Sprintf("%s.%s", o.note.Date, l.format), b) {
			if r.Status != coach.Entered {
				t.Fatalf("week %d: %+v", i+1, r)
			}
		}
		if !o.silent {
			o.note.RPE, o.note.Talk = &workout.RPE{Value: truth.RPE, Scale: 20}, record.Talk(truth.Talk)
		}
		notes = append(notes, o.note)
	}
	if w.notes != nil {
		notes = append(notes, w.notes(monday)...)
	}
	for _, n := range notes {
		n.Entered = sunday
		if err := coach.AddNote(ctx, c, l.client.Name, n); err != nil {
			t.Fatal(err)
		}
	}
}

// proposed compares the zones that the record supports with what was expected.
func (l life) proposed(t *testing.T, c *coach.Coach, week int, w told, on workout.Date) {
	t.Helper()
	found, err := c.Proposals(context.Background(), l.client.Name, on)
	if err != nil {
		t.Fatal(err)
	}
	var kinds []proposal.Kind
	for _, p := range found.Open {
		kinds = append(kinds, p.Kind)
	}
	if !slices.Equal(kinds, w.proposes) {
		t.Errorf("week %d: proposed %v, want %v: %+v", week, kinds, w.proposes, found)
	}
}

// byFeel leaves a bout without a lower limit to its feel, as the note to the client says: the upper
// one is an alarm and no aim.
func byFeel(steps []workout.Step) []workout.Step {
	out := append([]workout.Step(nil), steps...)
	for i, s := range out {
		if s.Kind == workout.Work && s.Low == 0 {
			out[i].High = 0
		}
	}
	return out
}

// holds compares a week's assessment with what was expected.
func (w told) holds(t *testing.T, week int, s coach.Standing) {
	t.Helper()
	a := s.Assessment
	var verdict record.Verdict
	var plan record.HoldPlan
	if a.Verdict != nil {
		verdict = *a.Verdict
	}
	if a.Plan != nil {
		plan = *a.Plan
	}
	if verdict != w.verdict || plan != w.plan || !strings.Contains(reasons.Paragraph(a.Summary), w.because) {
		t.Errorf("week %d: %q %q: %s\nwant %q %q: %s\n%s\n%s", week, verdict, plan, reasons.Paragraph(a.Summary), w.verdict, w.plan, w.because, w.prose, reasonsOf(a))
	} else if testing.Verbose() {
		t.Logf("week %d: %s %s: %s\n%+v\n%s", week, verdict, plan, reasons.Paragraph(a.Summary), s.Next, reasonsOf(a))
	}
	if w.sees != nil {
		w.sees(t, s)
	}
}

// reasons lists what an assessment rests on.
func reasonsOf(a record.Assessment) string {
	var b strings.Builder
	for _, r := range a.Reasons {
		met := "not enough data yet"
		if r.Met != nil {
			met = map[bool]string{true: "met", false: "not met"}[*r.Met]
		}
		if r.Kind != policy.Gate {
			fmt.Fprintf(&b, "  %s %s: %s: %s\n", r.Kind, r.Rule, met, reasons.Text(r.Says))
		}
	}
	for _, x := range a.Lacking {
		fmt.Fprintf(&b, "  lacking %s: %s: %s\n", x.Rule, reasons.Text(x.Says), reasons.Text(x.Needed))
	}
	return b.String()
}

// reason is one rule's part in an assessment.
func reason(t *testing.T, a record.Assessment, rule policy.ID) record.Reason {
	t.Helper()
	for _, r := range a.Reasons {
		if r.Rule == rule {
			return r
		}
	}
	t.Fatalf("no reason %s", rule)
	return record.Reason{}
}

func isMet(r record.Reason) bool   { return r.Met != nil && *r.Met }
func isUnmet(r record.Reason) bool { return r.Met != nil && !*r.Met }
