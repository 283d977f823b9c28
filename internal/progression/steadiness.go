package progression

import (
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// ranked is a value with the interval around it and the session it comes from.
type ranked struct {
	value, low, high float64
	session          *record.Session
}

// deciding picks the value that decides whether k of the last n are at most the threshold: the kth
// smallest of the last n. ok is false with fewer than k values.
func deciding(all []ranked, k, n int) (at ranked, last []ranked, ok bool) {
	last = all[max(0, len(all)-n):]
	if len(last) < k {
		return ranked{}, last, false
	}
	sorted := slices.Clone(last)
	slices.SortStableFunc(sorted, func(a, b ranked) int {
		switch {
		case a.value < b.value:
			return -1
		case a.value > b.value:
			return 1
		}
		return 0
	})
	return sorted[k-1], last, true
}

// steady is the evidence that the heart rate stays level: from the drift of ordinary sessions or
// from the latest check session, whichever is met; of two that are not, the check session speaks.
func (v Review) steady() finding {
	return speaking(v.checkSession(), v.drift())
}

// speaking is the one of the two that decides.
func speaking(check, drift finding) finding {
	took := len(check.Points) > 0 // even if its effort is not known
	if drift.IsMet() || !took || check.Met == nil && drift.Met != nil {
		return drift
	}
	return check
}

// steadyAgain repeats the rule with other sessions among the last ones and other errors.
func (v Review) steadyAgain() func(draw) finding {
	check, drift := v.checkSession(), v.drift()
	rule := v.Policy.Rule(policy.Steady)
	all, _ := v.slopes()
	k, n := int(rule.More["sessions"]), int(rule.More["of"])
	last := all[max(0, len(all)-n):]
	return func(d draw) finding {
		now := check
		if check.Met != nil && !check.tooHard {
			now = check.moved(d.noise(slopeError))
		}
		if drift.Met == nil {
			return speaking(now, drift)
		}
		drawn := slices.Clone(resampled(d, whichSessions, last))
		for i, x := range drawn {
			by := d.noise(slopeError) * (x.high - x.low) / (2 * normal95)
			drawn[i] = ranked{x.value + by, x.low + by, x.high + by, x.session}
		}
		at, _, _ := deciding(drawn, k, n)
		return speaking(now, drift.judged(at.value, at.low, at.high))
	}
}

// drift judges the slope of heart rate at even load in ordinary sessions.
func (v Review) drift() finding {
	rule, f := v.begin(policy.Steady)
	all, hot := v.slopes()
	k, n := int(rule.More["sessions"]), int(rule.More["of"])
	at, last, ok := deciding(all, k, n)
	for _, x := range last {
		f.rests(*x.session, x.value)
	}
	if !ok {
		needed := record.Fact{Code: NeedSteadySession, Args: record.Args{"hot": hot}}
		f = f.open(needed, FewSteadySessions, record.Args{"sessions": len(last), "needed": k, "hot": hot})
		return f.unless(v.tooShortFor(steadyMinutes) || v.early(len(all), len(v.recent(*rule.Window))))
	}
	f = f.told(at.value, rule.Keeps(at.value), Drift, record.Args{"kept": keeping(rule, last), "of": len(last), "limit": *rule.Threshold, "needed": k, "value": at.value})
	return f.interval(at.low, at.high)
}

// The shortest sessions that show whether the heart rate stays level, and what it is at the same pace.
const (
	steadyMinutes     = 35
	sameEffortMinutes = 15
)

// tooShortFor says that the client has too little time at a time for a session of so many minutes, which is not
// needed then.
func (v Review) tooShortFor(minutes int) bool {
	return v.Record.Client.Minutes > 0 && v.Record.Client.Minutes < minutes
}

// keeping counts the values within a rule's threshold.
func keeping(rule policy.Rule, all []ranked) int {
	return len(record.Keep(all, func(x ranked) bool { return rule.Keeps(x.value) }))
}

// slopes lists the drifts of the window, one a session, and counts those in the heat, which do not
// count.
func (v Review) slopes() (all []ranked, hot int) {
	rule := v.Policy.Rule(policy.Steady)
	for _, s := range v.recent(*rule.Window) {
		for _, x := range s.Recordings {
			d := x.Measured.Drift
			if !d.Enough {
				continue
			}
			if s.Hot(rule.More["warmest_c"]) {
				hot++
				break
			}
			all = append(all, ranked{d.Slope, d.Low, d.High, &s})
			break
		}
	}
	return all, hot
}

// checkSession judges the latest check session whose effort is known, since a check session that
// was run harder than zone 1 checks nothing.
func (v Review) checkSession() finding {
	rule, f := v.begin(policy.CheckSession)
	sessions := v.recent(*rule.Window)
	for i := len(sessions) - 1; i >= 0; i-- {
		s := sessions[i]
		c := checkOf(s)
		switch {
		case c == nil:
		case s.Hot(v.Policy.Rule(policy.Steady).More["warmest_c"]):
			if len(f.Points) == 0 {
				f.rests(s, c.Rise)
				f = f.open(need(NeedCoolCheck), CheckInHeat, record.Args{"on": s.Date})
			}
		case s.RPE == nil && len(f.Points) == 0:
			f.rests(s, c.Rise)
			f = f.open(need(NeedCheckEffort), CheckWithoutEffort, record.Args{"on": s.Date})
		case s.RPE != nil:
			f.Workouts, f.Points = []string{}, nil
			f.rests(s, c.Rise)
			limit := effortFrom(rule, s.RPE.Scale)
			f.tooHard = s.RPE.Value > limit
			f = f.told(c.Rise, rule.Keeps(c.Rise) && !f.tooHard, CheckRise,
				record.Args{"on": s.Date, "rise": c.Rise, "effort": s.RPE.Value, "scale": s.RPE.Scale, "limit": *rule.Threshold, "hardest": limit})
			f = f.interval(c.Rise-normal95*c.Error, c.Rise+normal95*c.Error)
			f.against = f.against || f.tooHard
			return f
		}
	}
	return f
}

// check is the check session among the recordings of a session; nil if there is none.
func checkOf(s record.Session) *physiology.Check {
	for _, x := range s.Recordings {
		if c := x.Measured.Check; c != nil && c.Enough {
			return c
		}
	}
	return nil
}

// effortFrom is an effort among the further numbers of a rule, on one of the two scales.
func effortFrom(rule policy.Rule, scale int) float64 {
	if scale == 10 {
		return rule.More["effort_10"]
	}
	return rule.More["effort"]
}

// beats says whether a recording has a heart rate at all, trusted or not.
func beats(x record.Recording) bool { return usable(x) || x.Measured.HeartRate.Doubtful }

// usable says that the heart rate of a recording may be counted.
func usable(x record.Recording) bool { return x.Measured.HeartRate.Usable }

func isStrap(x record.Recording) bool { return x.Sensor() == workout.Strap }
