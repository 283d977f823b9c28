package progression

import (
	"math"
	"slices"

	"nextrung/internal/workout"
)

// course is what next week is for.
type course string

const (
	rest      course = "rest"     // no training
	moderate  course = "moderate" // comfortable sessions only, until a clearance comes
	easeWeek  course = "ease"
	backAgain course = "return"
	build     course = "build"
	repeat    course = "repeat"
)

// Prescribe writes the week after an assessment, from the day after it. The stage follows what the
// trainer decided; without a decision a recommended advance does not happen yet, while an easier
// week, a step back or a rest does. Duration grows first, then frequency, from what was really done;
// intensity grows by stages and interval steps only. Beats are left out where heart rate must not lead.
func (p Policy) Prescribe(on workout.Date, r Record, a Assessment) Prescription {
	v := p.review(on, r)
	out := Prescription{
		Client: r.Client.Name, From: on + 1, To: on + 7, Made: on, Verdict: a.Verdict,
		Targets: []Target{}, Notes: []string{},
	}
	c := v.course(a)
	stage, since := v.r.StageOn(out.To)
	if a.Verdict != nil && *a.Verdict == StepBack && a.To != nil && v.decided() == "" {
		stage, since = *a.To, out.From
	}
	out.Stage = stage
	if c == rest {
		out.Notes = v.restNotes(a)
		return out
	}
	week := v.volume(c, stage, since)
	out.Sessions, out.Minutes = week.sessions, week.minutes
	out.Reduced = c == easeWeek || c == backAgain
	out.Targets = v.targets(out.From)
	out.Slower = v.tooHard(a)
	if stage > 1 && c != easeWeek && c != moderate && !v.easyReturn(c) && v.r.StateOn(out.To) != RecoveryOf {
		out.Intervals = v.intervals(c, stage, since, out.From, out.Sessions)
	}
	out.Check = v.checkMinutes(c, out, a)
	out.Notes = v.notes(c, out, a, week)
	return out
}

// decided is what the trainer decided on the day of the assessment or for the days after it; ""
// without any.
func (v review) decided() Act {
	var act Act
	for _, d := range v.r.Decisions {
		if d.Entered == v.on || d.From > v.on {
			act = d.Act
		}
	}
	return act
}

// course follows the trainer's decision, and where there is none the verdict.
func (v review) course(a Assessment) course {
	paused := func(on workout.Date) bool { return v.r.StateOn(on) == PausedState }
	if paused(v.on+1) || paused(v.on+7) || v.r.StateOn(v.on+7) == Finished {
		return rest
	}
	verdict := Hold
	if a.Verdict != nil {
		verdict = *a.Verdict
	}
	if verdict == Refer {
		if v.onlyVigorousBarred(a) {
			return moderate
		}
		return rest
	}
	switch v.decided() {
	case DoRefer:
		return rest
	case DoEase:
		return easeWeek
	case DoAdvance, DoStepBack, DoMaintain:
		return repeat
	case DoHold:
		if verdict == Ease || verdict == StepBack {
			return repeat
		}
	}
	switch {
	case verdict == Ease:
		return easeWeek
	case verdict == NotAssessable && cannotStart(a):
		return rest
	case v.longAway(), v.returnGoesOn():
		return backAgain
	case a.Plan != nil && *a.Plan == Build && v.r.StateOn(v.on+7) == Active:
		return build
	}
	return repeat
}

// onlyVigorousBarred says that a client is sent to a doctor only because vigorous work needs a newer
// clearance; comfortable sessions may go on (Riebe 2015).
func (v review) onlyVigorousBarred(a Assessment) bool {
	for _, x := range a.Reasons {
		if x.Kind == Gate && x.Met != nil && !*x.Met && x.Rule != "disease" {
			return false
		}
	}
	return v.r.Client.Screening.Active || v.r.Client.Clearance != 0
}

// cannotStart says that nothing is prescribed before a gate has been answered.
func cannotStart(a Assessment) bool {
	if a.Stage == 0 {
		return true
	}
	for _, x := range a.Reasons {
		if x.Kind == Gate && (x.Met == nil || !*x.Met) {
			return true
		}
	}
	return false
}

// longAway says that a break runs for which a return is due.
func (v review) longAway() bool {
	b, ok := v.gap()
	return ok && b.ended == 0 && !v.p.Rule("break").keeps(float64(b.days))
}

// returnGoesOn says that the return after a break that ended is not over when next week begins.
func (v review) returnGoesOn() bool {
	b, ok := v.gap()
	return ok && b.ended != 0 && !v.p.Rule("break").keeps(float64(b.days)) && v.returnLasts(b, v.on+1)
}

// easyReturn says that a return is comfortable throughout: after a break long enough for stage 1 weeks,
// or after one with a fever or a chest illness.
func (v review) easyReturn(c course) bool {
	b, ok := v.gap()
	ill := slices.ContainsFunc(v.signs(Illness), func(s sign) bool { return s.on >= b.after })
	return c == backAgain && ok && (v.longEnough(b) || ill)
}

// targets gives zone 1 for each mode of the client, in whole beats inside the zone.
func (v review) targets(from workout.Date) []Target {
	body := v.r.Client.Body(from)
	out := []Target{}
	for _, m := range v.r.Client.modes() {
		t := Target{Mode: m, Feel: workout.Comfortable}
		if e := body.Edges(m); e != nil && !v.r.Client.ByEffort() {
			t.Low, t.High = math.Ceil(e.BPM[0]), math.Floor(e.BPM[1])
		}
		out = append(out, t)
	}
	return out
}

// steps are the interval sessions of a stage from the first to the last (bouts, work and rest in
// seconds). Stage 2 after Mitranun 2014 and Nemoto 2007, stage 3 after the rehabilitation tables;
// the steps between are common practice, no source.
func steps(stage int) []Intervals {
	if stage == 2 {
		return []Intervals{
			{Bouts: 4, Work: 60, Rest: 240}, {Bouts: 4, Work: 60, Rest: 180}, {Bouts: 5, Work: 60, Rest: 180},
			{Bouts: 6, Work: 60, Rest: 180}, {Bouts: 6, Work: 120, Rest: 120}, {Bouts: 5, Work: 180, Rest: 180},
		}
	}
	return []Intervals{{Bouts: 4, Work: 60, Rest: 180}, {Bouts: 4, Work: 120, Rest: 120}, {Bouts: 4, Work: 180, Rest: 180}}
}

// step is the index of the last interval step that was prescribed since the stage began; -1 for none.
func (v review) step(stage int, since workout.Date) int {
	at := -1
	var last workout.Date
	for _, p := range v.r.Prescriptions {
		if p.Stage != stage || p.Intervals == nil || p.From < since || p.From > v.on || p.From < last {
			continue
		}
		same := func(s Intervals) bool {
			return s.Bouts == p.Intervals.Bouts && s.Work == p.Intervals.Work && s.Rest == p.Intervals.Rest
		}
		if i := slices.IndexFunc(steps(stage), same); i >= 0 {
			at, last = i, p.From
		}
	}
	return at
}

// intervals gives the interval sessions of the week: one in the first week of the stage, then two
// where there are three sessions or more.
func (v review) intervals(c course, stage int, since, from workout.Date, sessions int) *Intervals {
	all := steps(stage)
	last := v.step(stage, since)
	next := max(0, last)
	if c == build && last >= 0 {
		next = min(last+1, len(all)-1)
	}
	if c == backAgain {
		next = max(0, last-1)
	}
	out := all[next]
	out.Count, out.Feel = 1, workout.Brisk
	if last >= 0 && sessions >= 3 && c != backAgain {
		out.Count = 2
	}
	if stage == 3 {
		out.Feel = workout.Hard
	}
	out.Low, out.High = v.boutBeats(stage, out.Work, from)
	return &out
}

// unmeasuredShare is the share of an estimated maximum above which nobody is sent before the maximum
// has been measured (common practice, no source).
const unmeasuredShare = 0.90

// settled is the length in seconds from which a bout reaches the heart rate that belongs to its load
// (Hunt 2015: time constant 58 s, so 95 % after 3 of them).
const settled = 180

// boutBeats gives the lowest limits over the client's modes, so that the numbers are safe in each.
// Bouts under 3 min end before the heart rate has settled, so they get no lower limit; in stage 3
// their upper limit is the middle of the zone, since only all-out work brings the heart rate to its
// top within them.
func (v review) boutBeats(stage, work int, from workout.Date) (low, high float64) {
	if v.r.Client.ByEffort() {
		return 0, 0
	}
	body := v.r.Client.Body(from)
	for _, m := range v.r.Client.modes() {
		e := body.Edges(m)
		if e == nil {
			return 0, 0
		}
		top := e.BPM[stage]
		if stage == 3 && work < settled {
			top = (e.BPM[2] + e.BPM[3]) / 2
		}
		if most, ok := body.Maximum(m); ok && stage == 3 && e.Estimated {
			top = min(top, unmeasuredShare*most.BPM)
		}
		if high == 0 || top < high {
			high, low = top, e.BPM[stage-1]
		}
	}
	if work < settled || low >= high {
		low = 0
	}
	return math.Ceil(low), math.Floor(high)
}
