package prescription_test

import (
	"fmt"
	"testing"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// season is an invented client who does what is prescribed, and a trainer who follows every verdict.
type season struct {
	record  record.Record
	body    simulate.Athlete
	seed    uint64
	options func(week int, o *simulate.Options)
	mute    bool // gives no answers
	weeks   []record.Assessment
}

// run goes through weeks: prescribe, do, record, assess, decide.
func (s *season) run(weeks int) {
	r := &s.record
	for week := range weeks {
		eve := story.Day(7*week) - 1
		p := prescription.Prescribe(defaults, eve, *r, progression.Assess(defaults, eve, *r))
		r.Prescriptions = append(r.Prescriptions, p)
		body := s.body.After(float64(week), simulate.Usual())
		for i, plan := range p.Plans() {
			if i == 0 && p.Check > p.Minutes { // one session is the longer check session
				plan.Steps[1].Seconds += 60 * (p.Check - p.Minutes)
			}
			o := simulate.Options{
				Seed: 100000*s.seed + uint64(1000*week+i), Start: story.Day(7*week + 2*i).Time().Add(17 * time.Hour), Place: workout.Outdoor,
				Sensor: workout.Strap, Tail: 180,
			}
			if s.options != nil {
				s.options(week, &o)
			}
			w, truth := simulate.Play(plan, body, o)
			on := workout.DateOf(w.Start, time.UTC)
			id := fmt.Sprintf("%d-%d#0", week, i)
			r.Recordings = append(r.Recordings, record.Recording{
				ID: id, File: workout.DigestOf([]byte(id)), Client: r.Client.Name, Received: on, Date: on, Workout: w,
				Measured: physiology.Measure(heartrate.Clean(w), w, r.Client.Body(on), false),
			})
			if !s.mute {
				r.Notes = append(r.Notes, record.Note{Date: on, Entered: on, RPE: story.RPE20(truth.RPE), Talk: record.Talk(truth.Talk)})
			}
		}
		on := story.Day(7*week + 6)
		a := progression.Assess(defaults, on, *r)
		s.weeks = append(s.weeks, a)
		if a.To != nil {
			act := map[record.Verdict]record.Act{record.Advance: record.DoAdvance, record.StepBack: record.DoStepBack}[*a.Verdict]
			r.Decisions = append(r.Decisions, record.Decision{Entered: on, From: on + 1, Act: act, Stage: *a.To})
		}
	}
}

// verdicts gives what the weeks from one on came to, the stage first: "1 hold".
func (s *season) verdicts() []string {
	out := make([]string, len(s.weeks))
	for i, a := range s.weeks {
		out[i] = fmt.Sprint(a.Stage, " ", story.Verdict(a))
	}
	return out
}

// ines is the season of a client in her first week: invented body, chest strap, easy walking after
// the last effort.
func ines(seed uint64) *season {
	return &season{record: record.Record{Client: story.Ferry(1).Client}, body: simulate.Beginner(62, 185), seed: seed}
}

// TestSeason plays prescriptions on invented bodies and assesses what is measured in the recordings.
func TestSeason(t *testing.T) {
	t.Run("one who does what is prescribed moves when the weeks are done", func(t *testing.T) {
		for seed := range uint64(5) {
			s := ines(seed)
			s.run(10)
			for week, want := range map[int]string{1: "1 hold", 3: "1 hold", 4: "1 advance", 5: "2 hold", 8: "2 hold", 9: "2 advance", 10: "3 hold"} {
				if got := s.verdicts()[week-1]; got != want {
					t.Errorf("seed %d, week %d: %s, want %s: %s", seed, week, got, want, reasons.Paragraph(s.weeks[week-1].Summary))
				}
			}
		}
	})
	t.Run("one who gives no answers cannot be assessed", func(t *testing.T) {
		s := ines(1)
		s.mute = true
		s.run(6)
		last := s.weeks[5]
		if story.Verdict(last) != record.NotAssessable || len(last.Lacking) == 0 || last.Lacking[0].Rule != policy.Effort {
			t.Errorf("%s, lacking %v", reasons.Paragraph(last.Summary), last.Lacking)
		}
	})
	t.Run("one who stops the watch at once moves on other evidence", func(t *testing.T) {
		s := ines(1)
		s.options = func(_ int, o *simulate.Options) { o.Tail = -290 }
		s.run(4)
		last := s.weeks[3]
		if fall, _ := story.Reason(last, policy.Fall); story.Met(fall) != "untold" || story.Verdict(last) != record.Advance {
			t.Errorf("%s; fall: %s", reasons.Paragraph(last.Summary), reasons.Text(fall.Says))
		}
		// The cool-down is not on record; the rest is as good as all, so the weeks grow as for others.
		if p := s.record.Prescriptions[3]; p.Minutes != 45 {
			t.Errorf("%d min, notes %v", p.Minutes, p.Notes)
		}
	})
	t.Run("one who always goes too hard stays", func(t *testing.T) {
		s := ines(1)
		s.options = func(_ int, o *simulate.Options) { o.Bias = 25 }
		s.run(6)
		last := s.weeks[5]
		if story.Verdict(last) != record.Hold || *last.Plan != record.Repeat {
			t.Errorf("%s", reasons.Paragraph(last.Summary))
		}
		if zone, _ := story.Reason(last, policy.Zone); story.Met(zone) != "unmet" {
			t.Errorf("zone: %s", reasons.Text(zone.Says))
		}
		if first, end := s.record.Prescriptions[0], s.record.Prescriptions[5]; end.Minutes >= first.Minutes {
			t.Errorf("from %d to %d min, although all of it was too hard", first.Minutes, end.Minutes)
		}
	})
	t.Run("one on a medicine that slows the heart moves by effort", func(t *testing.T) {
		s := ines(1)
		s.record.Client.Medicine, s.record.Client.Clearance = record.Slows, story.Began-20
		s.run(5)
		if got := s.verdicts(); got[3] != "1 advance" || got[4] != "2 hold" {
			t.Errorf("%v", got)
		}
		for _, p := range s.record.Prescriptions {
			for _, plan := range p.Plans() {
				for _, step := range plan.Steps {
					if step.Low != 0 || step.High != 0 {
						t.Fatalf("beats are prescribed: %+v", step)
					}
				}
			}
		}
	})
	t.Run("one with a wrist sensor moves without a fall", func(t *testing.T) {
		s := ines(1)
		s.options = func(_ int, o *simulate.Options) { o.Sensor = workout.Wrist }
		s.run(9)
		if got := s.verdicts(); got[3] != "1 advance" || got[8] != "2 advance" {
			t.Errorf("%v: %s", got, reasons.Paragraph(s.weeks[8].Summary))
		}
		for _, a := range s.weeks {
			if fall, ok := story.Reason(a, policy.Fall); ok && story.Met(fall) != "untold" {
				t.Errorf("a fall from the wrist: %s", reasons.Text(fall.Says))
			}
		}
	})
}
