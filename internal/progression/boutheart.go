package progression

import (
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// backInZone is the evidence that the heart recovers between bouts.
func (v Review) backInZone() finding {
	rule, f := v.begin(policy.BackInZone)
	sessions := v.intervalSessions(*rule.Window)
	var telling [][]between
	for _, x := range sessions {
		if len(x.falls) > 0 {
			telling = append(telling, x.falls)
			f.rests(x.Session, 100*float64(back(x.falls, draw{}))/float64(len(x.falls)))
		}
	}
	n := len(telling)
	if asked := int(rule.More["sessions"]); n < asked {
		f = f.open(strapOrMore(n, len(sessions)), FewBackInZone, record.Args{"sessions": n, "needed": asked})
		return f.unless(v.early(n, len(sessions)))
	}
	got, low, high, told := shareBack(telling, draw{})
	f = f.told(got, rule.Keeps(got), BackInZone, record.Args{"share": got, "bouts": told, "needed": *rule.Threshold})
	return f.interval(low, high)
}

// shareBack is the share of bouts, in percent, after which the heart rate came back into zone 1, with
// its interval.
func shareBack(sessions [][]between, d draw) (share, low, high float64, bouts int) {
	n := 0
	for _, falls := range sessions {
		n, bouts = n+back(falls, d), bouts+len(falls)
	}
	low, high = wilson(n, bouts)
	return 100 * float64(n) / float64(bouts), 100 * low, 100 * high, bouts
}

// strapOrMore is what to do where too few of so many interval sessions show the heart rate.
func strapOrMore(telling, sessions int) record.Fact {
	if sessions > 0 && telling == sessions {
		return need(NeedStrapIntervals)
	}
	return need(NeedStrap)
}

// backInZoneAgain repeats the rule with other sessions and another top of zone 1.
func (v Review) backInZoneAgain() func(draw, finding) finding {
	var telling [][]between
	for _, x := range v.intervalSessions(*v.Policy.Rule(policy.BackInZone).Window) {
		if len(x.falls) > 0 {
			telling = append(telling, x.falls)
		}
	}
	return func(d draw, was finding) finding {
		share, low, high, _ := shareBack(resampled(d, whichSessions, telling), d)
		return was.judged(share, low, high)
	}
}

// wilson is the 90 % interval of a proportion (Wilson 1927).
func wilson(k, n int) (low, high float64) {
	z, N := physiology.StudentQuantile(math.Inf(1)), float64(n)
	p := float64(k) / N
	centre := (p + z*z/(2*N)) / (1 + z*z/N)
	half := z / (1 + z*z/N) * math.Sqrt(p*(1-p)/N+z*z/(4*N*N))
	return max(0, centre-half), min(1, centre+half)
}

// creep is the evidence that heart rate does not rise from bout to bout. A session gives one value
// without an interval of its own; the interval is the range of the sessions that decide. That of
// three holds the median of all such sessions in 75 of 100 cases (order statistics: 1 - 2/2^3).
func (v Review) creep() finding {
	rule, f := v.begin(policy.Creep)
	sessions := v.intervalSessions(*rule.Window)
	all := rises(sessions)
	k, n := int(rule.More["sessions"]), int(rule.More["of"])
	at, last, ok := deciding(all, k, n)
	for _, x := range last {
		f.rests(*x.session, x.value)
	}
	if !ok {
		f = f.open(strapOrMore(len(all), len(sessions)), FewCreep, record.Args{"sessions": len(last), "needed": k})
		return f.unless(v.early(len(all), len(sessions)))
	}
	f = f.told(at.value, rule.Keeps(at.value), Creep, record.Args{"kept": keeping(rule, last), "of": len(last), "limit": *rule.Threshold, "needed": k, "value": at.value})
	return f.interval(spread(last))
}

// rises lists the creep of the sessions that show it.
func rises(sessions []intervalSession) []ranked {
	var out []ranked
	for _, x := range sessions {
		if x.creep != nil {
			out = append(out, ranked{value: *x.creep, session: &x.Session})
		}
	}
	return out
}

// spread is the smallest and the largest value.
func spread(x []ranked) (low, high float64) {
	low, high = x[0].value, x[0].value
	for _, y := range x {
		low, high = min(low, y.value), max(high, y.value)
	}
	return low, high
}

// creepAgain repeats the rule with other sessions among the last ones.
func (v Review) creepAgain() func(draw, finding) finding {
	rule := v.Policy.Rule(policy.Creep)
	all := rises(v.intervalSessions(*rule.Window))
	k, n := int(rule.More["sessions"]), int(rule.More["of"])
	last := all[max(0, len(all)-n):]
	return func(d draw, was finding) finding {
		drawn := resampled(d, whichSessions, last)
		at, _, _ := deciding(drawn, k, n)
		low, high := spread(drawn)
		return was.judged(at.value, low, high)
	}
}
