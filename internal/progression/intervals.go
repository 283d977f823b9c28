package progression

import (
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// fewestBouts is the number of bouts from which a session in a week with intervals is taken as one
// of its interval sessions.
const fewestBouts = 2

// intervalSession is a session held against the intervals that were prescribed for its week.
type intervalSession struct {
	record.Session
	plan  record.Intervals
	bouts []physiology.Bout
	// whole counts the bouts of the prescribed length or more, and work is their time in seconds; longer
	// counts those clearly above it.
	whole, work, longer int
	// creep is the heart rate at the end of the last bout above that of the second, in bpm; nil
	// where the record does not show it.
	creep *float64
	// falls are the heart rates to which the bouts fell before the next one, where it can be seen.
	falls []between
}

// between is the lowest heart rate between two bouts, in bpm, with the top of zone 1.
type between struct {
	low float64
	top border
}

// back counts the bouts after which the heart rate came back into zone 1 before the next one.
func back(falls []between, d draw) int {
	n := 0
	for _, b := range falls {
		if b.low < b.top.at(d) {
			n++
		}
	}
	return n
}

// intervalSessions lists the interval sessions of the last n days that count, oldest first.
func (v Review) intervalSessions(n int) []intervalSession {
	var out []intervalSession
	for _, s := range v.recent(n) {
		if x, ok := v.asInterval(s); ok {
			out = append(out, x)
		}
	}
	return out
}

// asInterval reads a session as one of the interval sessions of its week. Without a prescription
// nothing can be held against it. Heart rate counts from chest-strap type data only.
func (v Review) asInterval(s record.Session) (intervalSession, bool) {
	plan := v.Record.PlanFor(s.Date, s.Date)
	if plan == nil || plan.Intervals == nil || plan.Intervals.Bouts < 1 || plan.Intervals.Work < 1 {
		return intervalSession{}, false
	}
	x := intervalSession{Session: s, plan: *plan.Intervals}
	for _, rec := range s.Recordings {
		bouts := rec.Measured.Bouts
		x.bouts = append(x.bouts, bouts...)
		if !isStrap(rec) || v.Record.Client.ByEffort() {
			continue
		}
		if len(bouts) < 2 {
			continue
		}
		if top, ok := v.topOfZone1(rec); ok {
			for _, b := range bouts[:len(bouts)-1] {
				if b.Low != nil {
					x.falls = append(x.falls, between{*b.Low, top})
				}
			}
		}
		if n := len(bouts); n >= 3 && bouts[1].End != nil && bouts[n-1].End != nil {
			rise := *bouts[n-1].End - *bouts[1].End
			x.creep = &rise
		}
	}
	tolerance := v.boutTolerance() * float64(x.plan.Work)
	for _, b := range x.bouts {
		more := float64(b.Seconds() - x.plan.Work)
		if more >= -tolerance {
			x.whole, x.work = x.whole+1, x.work+b.Seconds()
		}
		if more > tolerance {
			x.longer++
		}
	}
	return x, len(x.bouts) >= fewestBouts
}

// boutTolerance is the share by which a bout may be shorter than prescribed.
func (v Review) boutTolerance() float64 {
	return v.Policy.Rule(policy.IntervalSessions).More["length_within_percent"] / 100
}

// isLonger says that most of the bouts were clearly longer than prescribed, which is no failure.
func (x intervalSession) isLonger() bool { return 2*x.longer > len(x.bouts) }

// intervalsPrescribed counts the interval sessions that were prescribed for the weeks of the last n days
// that are over. Of the week that goes on, and of one in which the client was away, those that took
// place count.
func (v Review) intervalsPrescribed(n int, done []intervalSession) int {
	count := len(done)
	from := max(v.days.from(n, v.On), v.Since)
	for d := from; d <= v.On; {
		p := v.Record.PlanFor(d, d+6)
		if p == nil {
			d += 7
			continue
		}
		away := false
		for day := p.From; day <= p.To; day++ {
			away = away || v.Record.Paused(day)
		}
		if p.Intervals != nil && p.From >= from && p.To <= v.On && !away {
			count += p.Intervals.Count
			for _, x := range done {
				if x.Date >= min(d, p.From) && x.Date <= p.To {
					count--
				}
			}
		}
		d = p.To + 1
	}
	return count
}

// complete says that enough of the bouts were done, none of them counted that was too short: by their number
// or, where they were fewer and longer, by their time.
func (v Review) complete(x intervalSession) bool { return v.mostOf(x.share()) }

// share is how much of the bouts was done: 1 for all, and more for more.
func (x intervalSession) share() float64 {
	return max(float64(x.whole), float64(x.work)/float64(x.plan.Work)) / float64(x.plan.Bouts)
}

// mostOf says that a share of the bouts is enough.
func (v Review) mostOf(share float64) bool {
	return 100*share >= v.Policy.Rule(policy.IntervalSessions).More["bouts_percent"]-1e-9
}

// hasLongerBouts says that enough of the bouts, as they were done, last as long as the next stage needs.
func (v Review) hasLongerBouts(x intervalSession) bool {
	long := record.Keep(x.bouts, func(b physiology.Bout) bool {
		return float64(b.Seconds()) >= (1-v.boutTolerance())*v.Policy.Rule(policy.LongerBouts).More["bout_s"]
	})
	return v.asPrescribed(x) && v.mostOf(float64(len(long))/float64(min(x.plan.Bouts, len(x.bouts))))
}

// asPrescribed says that the session is complete and its effort within the limit, where asked.
func (v Review) asPrescribed(x intervalSession) bool {
	return v.complete(x) && (x.RPE == nil || v.Policy.Rule(policy.BoutEffort).EffortWithin(*x.RPE))
}

// intervalsDone is the rule on interval sessions done as prescribed.
func (v Review) intervalsDone() finding {
	rule, f := v.begin(policy.IntervalSessions)
	all := v.intervalSessions(*rule.Window)
	asked := v.intervalsPrescribed(*rule.Window, all)
	if len(all) == 0 && len(v.expected()) == 0 {
		return f.open(need(NeedIntervals), NoIntervals, record.Args{"prescribed": asked, "days": *rule.Window})
	}
	done, longer := 0, 0
	for _, x := range all {
		f.rests(x.Session, min(100, 100*x.share()))
		if v.asPrescribed(x) {
			done++
			if x.isLonger() {
				longer++
			}
		}
	}
	if !rule.Keeps(float64(done)) && len(v.expected()) > 0 {
		return v.filesFirst(f)
	}
	// What did not take place, or was recorded without bouts that can be seen, is not among them.
	args := record.Args{"done": done, "recorded": len(all), "missing": max(0, asked-len(all)), "prescribed": asked, "days": *rule.Window, "needed": *rule.Threshold,
		"easy": v.easyBouts(all)}
	code := IntervalsDone
	if longer > 0 {
		code, args["longer"] = IntervalsLonger, longer
	}
	return f.told(float64(done), rule.Keeps(float64(done)), code, args)
}

// fewBeats is the share of the bouts' time, without the first followsAfter seconds of each, below which the time above
// zone 1 is called short (common practice, no source). Heart rate follows a change of load with a time constant of 58 s
// (Hunt, Fankhauser and Saengsuwan 2015), so bouts of a minute are judged by their length and effort alone.
const fewBeats, followsAfter = 0.25, 60

// easyBouts says that the sessions, going by their heart rate, were hardly harder than steady ones; nil otherwise.
func (v Review) easyBouts(all []intervalSession) record.Facts {
	bouts, telling, above := 0, 0, 0
	for _, x := range all {
		for _, rec := range x.Recordings {
			if z := rec.Measured.Zones; z != nil && isStrap(rec) {
				above += z.Zone2 + z.Zone3 + z.Over
				for _, b := range rec.Measured.Bouts {
					bouts += b.Seconds()
					telling += max(0, b.Seconds()-followsAfter)
				}
			}
		}
	}
	if v.Record.Client.ByEffort() || telling == 0 || float64(above) >= fewBeats*float64(telling) {
		return nil
	}
	return record.Facts{{Code: EasyBouts, Args: record.Args{"bouts": float64(bouts) / 60, "above": float64(above) / 60}}}
}

// longerBouts is the rule on interval sessions with longer bouts: somebody who has only done bouts of
// a minute has not shown what comes in the next stage.
func (v Review) longerBouts() finding {
	rule, f := v.begin(policy.LongerBouts)
	all := v.intervalSessions(*rule.Window)
	if len(all) == 0 && len(v.expected()) == 0 {
		return f.open(record.Fact{}, NoIntervals, record.Args{"prescribed": 0, "days": *rule.Window})
	}
	done, seconds := 0, rule.More["bout_s"]
	for _, x := range all {
		if v.hasLongerBouts(x) {
			done++
			f.rests(x.Session, float64(x.work)/float64(x.whole))
		}
	}
	if !rule.Keeps(float64(done)) && len(v.expected()) > 0 {
		return v.filesFirst(f)
	}
	if !rule.Keeps(float64(done)) && !v.RoomForBouts(2, int(seconds)) {
		return f.told(float64(done), false, NoTimeForBouts, record.Args{"has": v.Record.Client.Minutes, "seconds": seconds})
	}
	return f.told(float64(done), rule.Keeps(float64(done)), LongerBoutsDone,
		record.Args{"done": done, "seconds": seconds, "days": *rule.Window, "needed": *rule.Threshold})
}

// intervalsAgain repeats the rule on interval sessions done as prescribed with other sessions.
func (v Review) intervalsAgain() func(draw, finding) finding {
	var done []bool
	for _, x := range v.intervalSessions(*v.Policy.Rule(policy.IntervalSessions).Window) {
		done = append(done, v.asPrescribed(x))
	}
	return func(d draw, was finding) finding {
		n := 0.0
		for _, yes := range resampled(d, whichSessions, done) {
			if yes {
				n++
			}
		}
		met := policy.Within(n, was.Is, *was.Threshold)
		was.Met = &met
		return was
	}
}

// failedAgain repeats the rule on failed sessions with other sessions among the last ones, as many
// as would have to fail for a step back.
func (v Review) failedAgain() func(draw, finding) finding {
	rule := v.Policy.Rule(policy.FailedSessions)
	var failed []bool
	for _, x := range v.intervalSessions(*rule.Window) {
		failed = append(failed, v.fails(x))
	}
	failed = failed[max(0, len(failed)-int(*rule.Threshold)-1):]
	return func(d draw, was finding) finding {
		all := len(failed) > int(*rule.Threshold) && !slices.Contains(resampled(d, whichSessions, failed), false)
		met := !all
		was.Met = &met
		return was
	}
}

// failed counts the interval sessions that failed running, the latest first: not complete, far too
// hard, or creeping. One that did not take place is no failure.
func (v Review) failed() finding {
	rule, f := v.begin(policy.FailedSessions)
	all := v.FailedRunning()
	for _, s := range all {
		f.Workouts = append(f.Workouts, s.IDs()...)
	}
	running := len(all)
	return f.told(float64(running), rule.Keeps(float64(running)), FailedInARow, record.Args{"failed": running, "limit": *rule.Threshold})
}

// FailedRunning are the interval sessions that failed running, the latest first.
func (v Review) FailedRunning() []record.Session {
	var out []record.Session
	all := v.intervalSessions(*v.Policy.Rule(policy.FailedSessions).Window)
	for i := len(all) - 1; i >= 0 && v.fails(all[i]); i-- {
		out = append(out, all[i].Session)
	}
	return out
}

func (v Review) fails(x intervalSession) bool {
	tooHard := x.RPE != nil && x.RPE.Value >= effortFrom(v.Policy.Rule(policy.FailedSessions), x.RPE.Scale)
	creeping := x.creep != nil && !v.Policy.Rule(policy.Creep).Keeps(*x.creep)
	return !v.complete(x) || tooHard || creeping
}

// strapIntervals says that some interval session of the window has chest-strap type data.
func (v Review) strapIntervals() bool {
	for _, x := range v.intervalSessions(*v.Policy.Rule(policy.IntervalSessions).Window) {
		if slices.ContainsFunc(x.Recordings, isStrap) {
			return true
		}
	}
	return false
}
