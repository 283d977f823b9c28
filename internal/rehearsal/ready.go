package rehearsal

import (
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// The limits of being ready.
const (
	mostEffort  = 16 // RPE, "very hard" begins above (Garber 2011: vigorous is 14-17)
	enoughBouts = 80 // percent of bouts after which the heart rate is back in zone 1
	trialWeek   = 4  // the session tried is that of this week of the next stage
)

// Definition is what "ready" means in a rehearsal.
const Definition = "Ready means: the client could do the interval session that the policy would prescribe in the fourth week of the next stage, if every week builds on the last. Done as written, in the zones that the trainer knows, and judged on the true body without noise, the session stays at RPE 16 or below; in stage 2, short sentences stay possible; and after at least 80 % of the bouts the heart rate is back in the true zone 1 before the next bout. As done means: the same session, at the heart rates at which this client usually trains."

// Readiness is the truth about one client in one week: which limits of the next stage's session are
// kept.
type Readiness struct {
	Effort bool // at or under RPE 16
	Talk   bool // short sentences stay possible; not asked in stage 3, where single words are meant
	Return bool // back in zone 1 between enough of the bouts
	Base   bool // no more of the base is missing than the world allows
}

// Ready says that all are kept.
func (r Readiness) Ready() bool { return r.Effort && r.Talk && r.Return && r.Base }

// trial is the session of the next stage that decides on being ready, in the newest zones.
func trial(policy policy.Policy, c record.Client, stage int) workout.Plan {
	c.Stage, c.Since = stage, start
	if n := len(c.Zones); n > 1 {
		newest := c.Zones[n-1]
		newest.From = 0
		c.Zones = []record.ZoneSet{newest}
	}
	r := record.Record{Client: c}
	var plan workout.Plan
	for w := range trialWeek {
		on := start - 1 + workout.Date(7*w)
		p := prescription.Prescribe(policy, on, r, record.Assessment{Stage: stage, Verdict: new(record.Hold), Plan: new(record.Build)})
		r.Prescriptions = append(r.Prescriptions, p)
		r.Notes = append(r.Notes, record.Note{Date: p.From, Entered: p.From, Talk: record.TalkComfortable}) // the week was done
		for _, s := range p.Plans() {
			if len(s.Bouts()) > 0 {
				plan = s
			}
		}
	}
	return plan
}

// ready is the truth about the client with a gap in week w: of the session as written, and as this client does it.
func (p person) ready(plan workout.Plan, w int, gap float64, stage int) (written, done Readiness) {
	body := p.in(w, gap)
	written, done = readiness(plan, body, stage, 0), readiness(plan, body, stage, p.bias)
	base := p.mostGap == 0 || gap <= p.mostGap
	written.Base, done.Base = base, base
	return written, done
}

// bearable says that effort and talk stayed within the limits of a session with bouts.
func bearable(t simulate.Truth, stage int) bool {
	return t.RPE <= mostEffort && (stage > 2 || t.Talk != string(record.TalkNo))
}

// readiness lets the true body do the session without noise, so many beats above the middle of the band.
func readiness(plan workout.Plan, body simulate.Athlete, stage int, bias float64) Readiness {
	body.DayToDay, body.FallDay, body.BeatToBeat, body.Wobble = 0, 0, 0, 0
	_, truth := simulate.Play(plan, body, simulate.Options{Ideal: true, NoLoad: true, Bias: bias})
	known := physiology.Body{HRRest: body.Rest, HRMaxAny: body.Max}
	top := known.Edges(plan.Mode).BPM[1]
	back, bouts := backBetween(truth, top)
	return Readiness{
		Effort: truth.RPE <= mostEffort,
		Talk:   stage > 2 || truth.Talk != string(record.TalkNo),
		Return: 100*back >= enoughBouts*bouts,
		Base:   true,
	}
}

// backBetween counts the bouts before another bout, and those after which the heart rate fell below
// the top of zone 1 first.
func backBetween(t simulate.Truth, top float64) (back, bouts int) {
	last := -1
	for _, s := range t.Steps {
		if s.Step.Kind != workout.Work {
			continue
		}
		if last >= 0 {
			bouts++
			back += one(slices.ContainsFunc(t.BPM[last:s.From], func(bpm float64) bool { return bpm < top }))
		}
		last = s.To
	}
	return back, bouts
}
