package prescription_test

import (
	"fmt"
	"strings"
	"testing"

	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// TestALimitIsACeiling: under every limit, in every stage, whatever was decided and for every client, no part of a session
// goes above the limit less 5 bpm (common practice, no source), none is urged up to it, no stage whose zone lies
// above it is recommended or planned, and everything that goes out names it.
func TestALimitIsACeiling(t *testing.T) {
	people := map[string]func(*record.Client){
		"active":    func(*record.Client) {},
		"inactive":  func(c *record.Client) { c.Screening.Active = false },
		"by effort": func(c *record.Client) { c.Medicine = record.Slows },
		"edges": func(c *record.Client) {
			c.Zones[0].Edges = map[workout.Mode][4]float64{"": {110, 135, 150, 168}}
		},
	}
	moves, bouts := 0, 0
	for who, change := range people {
		for _, limit := range []float64{85, 105, 122, 140, 148, 156, 165, 190} {
			for stage := 1; stage <= 3; stage++ {
				for _, act := range []record.Act{"", record.DoAdvance, record.DoHold} {
					for _, weeks := range []int{1, 6, 8} {
						s := story.Ferry(weeks)
						if stage > 1 {
							s = story.Intervals(weeks)
						}
						s.Client.Stage = stage
						s.Who(change).Who(func(c *record.Client) { c.Zones[0].Limit, c.Clearance = limit, story.Began-2 })
						r, on := s.Record(), s.Last()
						a := progression.Assess(defaults, on, r)
						zone := r.Client.Body(on).Unlimited().Edges(workout.Run)
						outOfReach := func(stage int) bool { return zone != nil && stage > 1 && zone.BPM[stage-1]+5 > limit-5 }
						if act != "" {
							to := stage
							if act == record.DoAdvance {
								to = min(3, stage+1)
							}
							r.Decisions = append(r.Decisions, record.Decision{Client: r.Client.Name, Entered: on, From: on + 1, Act: act, Stage: to})
						}
						p := prescription.Prescribe(defaults, on, r, a)
						w := prescription.Lay(p, r, a)
						if a.To != nil {
							moves++
						}
						if p.Intervals != nil {
							bouts++
						}
						bad := func(what string, args ...any) {
							t.Errorf("%s, limit %g, stage %d, week %d, decided %q: %s", who, limit, stage, weeks, act, fmt.Sprintf(what, args...))
						}
						if a.To != nil && *a.To > stage && outOfReach(*a.To) {
							bad("%s to stage %d", story.Verdict(a), *a.To)
						}
						if p.Intervals != nil && outOfReach(p.Stage) {
							bad("bouts: %+v", *p.Intervals)
						}
						named := fmt.Sprintf("limit of %g bpm", limit)
						if !strings.Contains(w.Text(), named) || !strings.Contains(w.Trainer(), named) || !strings.Contains(w.WatchNote(), fmt.Sprintf("%g", limit)) {
							bad("the plan does not name it:\n%s\n%s", w.Text(), w.WatchNote())
						}
						for _, x := range w.Sessions {
							if x.High <= 0 || x.High > limit-5 || x.Low >= x.High || x.Low > 0 && zone.BPM[1] > limit-5 {
								bad("alarms %g and %g", x.Low, x.High)
							}
							if !strings.Contains(w.Entry(x), named) {
								bad("the calendar does not name it: %s", w.Entry(x))
							}
							for _, step := range x.Plan.Steps {
								if step.High <= 0 || step.High > limit-5 || step.Low >= step.High || step.Low > 0 && zone.BPM[1] > limit-5 {
									bad("%+v", step)
								}
							}
						}
					}
				}
			}
		}
	}
	if moves < 50 || bouts < 50 {
		t.Errorf("only %d moves and %d weeks with bouts among these", moves, bouts)
	}
}

// TestALimitEnteredLater: a plan that was sent is replaced when a limit below its heart rates is entered, and its bouts go
// when their zone lies above it.
func TestALimitEnteredLater(t *testing.T) {
	for _, x := range []struct {
		limit   float64
		replace bool
		bouts   bool
	}{{105, true, false}, {140, true, false}, {158, true, true}, {190, false, true}} {
		s := story.Intervals(6)
		s.Client.Clearance = story.Began - 2
		r, eve := s.Record(), s.Last()
		a := progression.Assess(defaults, eve, r)
		sent, isNew := prescription.Standing(defaults, eve, r, a)
		if !isNew || sent.Intervals == nil {
			t.Fatalf("%+v", sent)
		}
		r.Prescriptions = append(r.Prescriptions, sent)
		now := r.Client.Zones[0]
		now.Limit, now.From = x.limit, eve+1
		r.Client.Zones = append(r.Client.Zones, now)
		on := eve + 2
		p, replaced := prescription.Standing(defaults, on, r, progression.Assess(defaults, on, r))
		if replaced != x.replace || (p.Intervals != nil) != x.bouts || p.Targets[0].High > x.limit-5 {
			t.Errorf("limit %g: replaced %v, %+v, %+v", x.limit, replaced, p.Targets, p.Intervals)
		}
		if p.Says(record.Replaces) != x.replace {
			t.Errorf("limit %g: %+v", x.limit, p.Notes)
		}
	}
}

// TestLivesUnderALimit: week by week a client walks under the ceiling with ease. One whose next stage lies above it holds, in
// a plan that grows to the time the client has, and is never told to go faster; one whose limit leaves room moves up.
func TestLivesUnderALimit(t *testing.T) {
	for _, x := range []struct {
		limit float64
		top   int // stage at the end
	}{{105, 1}, {140, 1}, {158, 2}, {185, 3}} {
		l := lifeOf(1, func(c *record.Client) {
			c.Screening.Active, c.Zones[0].Limit, c.Clearance = true, x.limit, story.Began-2
		})
		l.aim = func(_ int, low, high float64) float64 { return max(low, high-15) }
		for w := range 24 {
			l.week(w)
			a, p := l.assessed[w], l.plans[w]
			if a.Stage > x.top || p.Targets[0].High > x.limit-5 || p.Intervals != nil && p.Intervals.High > x.limit-5 {
				t.Errorf("limit %g, week %d: stage %d, %+v, %+v", x.limit, w+1, a.Stage, p.Targets, p.Intervals)
			}
			if v := story.Verdict(a); x.top == 1 && v != record.Hold {
				t.Errorf("limit %g, week %d: %s", x.limit, w+1, v)
			}
		}
		last := l.plans[23]
		if last.Stage != x.top || x.top == 1 && last.Sessions*last.Minutes < 90 {
			t.Errorf("limit %g: after 24 weeks stage %d, %d x %d min", x.limit, last.Stage, last.Sessions, last.Minutes)
		}
	}
}

// TestALimitFromWithinTheWeek: a doctor's limit that begins on any day of the week holds for what is handed out before, in
// heart rates, alarms and words, by effort too, in the plan that is new and in the one that replaces it.
func TestALimitFromWithinTheWeek(t *testing.T) {
	for stage := 1; stage <= 3; stage++ {
		for _, medicine := range []record.Medicine{record.NoMedicine, record.Slows} {
			for days := workout.Date(1); days <= 7; days++ {
				for _, sent := range []bool{false, true} {
					s := story.Ferry(6)
					if stage > 1 {
						s = story.Intervals(6)
					}
					s.Client.Stage = stage
					s.Who(func(c *record.Client) { c.Medicine, c.Clearance = medicine, story.Began-2 })
					r, on := s.Record(), s.Last()
					if sent {
						p, _ := prescription.Standing(defaults, on, r, progression.Assess(defaults, on, r))
						r.Prescriptions = append(r.Prescriptions, p)
						on++
					}
					limited := r.Client.Zones[0]
					limited.From, limited.Limit = on+days, 105
					r.Client.Zones = append(r.Client.Zones, limited)
					a := progression.Assess(defaults, on, r)
					p, _ := prescription.Standing(defaults, on, r, a)
					if limited.From > p.To {
						continue
					}
					w := prescription.Lay(p, r, a)
					bad := func(what string) {
						t.Errorf("stage %d, medicine %q, from day %d, sent %v: %s\n%s", stage, medicine, days, sent, what, w.Text())
					}
					if len(w.Sessions) == 0 || w.Limit != 105 || !strings.Contains(w.Text(), "limit of 105 bpm") {
						bad("the limit is not named")
					}
					for _, x := range w.Sessions {
						if x.High == 0 || x.High > 100 {
							bad(fmt.Sprintf("an alarm at %g", x.High))
						}
					}
					if p.Intervals != nil && medicine == record.NoMedicine {
						bad("bouts above the limit")
					}
					if strings.Count(w.Text(), "the alarm is only an upper limit") > 1 {
						bad("says twice that the alarm is only an upper limit")
					}
				}
			}
		}
	}
}
