package progression

import (
	"fmt"
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// falls lists the drops in 60 s of the stage: of each recording the one after the last stop that
// holds one. Wrist sensors lag too much to give any. In the heat the heart rate falls slower for that
// alone (common practice, no source), so those sessions are only counted; what is hot is said by the
// rule on the same effort.
func (v Review) falls() (out []measure, hot int) {
	from, warmest := v.comparableFrom(), v.Policy.Rule(policy.SameEffort).More["warmest_c"]
	for _, s := range v.stageIn {
		if s.Date < from {
			continue
		}
		n := len(out)
		for _, x := range s.Recordings {
			if x.Sensor() == workout.Wrist {
				continue
			}
			for i := len(x.Measured.Recoveries) - 1; i >= 0; i-- {
				r := x.Measured.Recoveries[i]
				if r.Basis.Enough && r.Drop60 != nil && r.End != nil && r.Activity != physiology.UnknownActivity && r.Activity != "" {
					kind := fmt.Sprint(x.Workout.Sport.Mode(), " ", r.Activity)
					out = append(out, measure{date: s.Date, value: *r.Drop60, kind: kind, level: *r.End, id: x.ID})
					break
				}
			}
		}
		if len(out) > n && s.Hot(warmest) {
			out, hot = out[:n], hot+1
		}
	}
	return out, hot
}

func (v Review) fallTrend() trend {
	rule := v.Policy.Rule(policy.Fall)
	all, _ := v.falls()
	return v.compare(rule, all, func(a, b float64) bool { return math.Abs(a-b) <= rule.More["end_within_bpm"] })
}

// fall is the rule on the drop in 60 s.
func (v Review) fall() finding {
	rule, f := v.begin(policy.Fall)
	t := v.fallTrend()
	all, hot := v.falls()
	if !t.enough {
		f.Threshold = nil
		return f.open(record.Fact{}, RecoveryUncompared, record.Args{"why": t.why, "measurements": len(all), "hot": hot})
	}
	f = t.judge(f, rule, -1)
	f.Says = record.Fact{Code: Recovery, Args: t.args(hot)}
	return f
}

// sameEfforts lists the heart rates at a steady load. Load, machine and place must be alike, and it must
// not have been hot: such sessions are only counted. The effort given for a session with bouts is that
// of the bouts, not of the steady load.
func (v Review) sameEfforts() (out []measure, hot int) {
	from, warmest := v.comparableFrom(), v.Policy.Rule(policy.SameEffort).More["warmest_c"]
	for _, s := range v.stageIn {
		if s.Date < from {
			continue
		}
		n := len(out)
		for _, x := range s.Recordings {
			if e := x.Measured.SameEffort; e != nil && e.Enough {
				kind := fmt.Sprint(x.Workout.Sport.Mode(), " ", x.Workout.Place, " ", e.Unit)
				m := measure{date: s.Date, value: e.Mean, kind: kind, level: e.Load, id: x.ID, effort: e}
				if len(x.Measured.Bouts) < fewestBouts {
					m.rpe = s.RPE
				}
				out = append(out, m)
			}
		}
		if len(out) > n && s.Hot(warmest) {
			out, hot = out[:n], hot+1
		}
	}
	return out, hot
}

// nearLoad says that two loads lie in one band.
func nearLoad(rule policy.Rule) func(a, b float64) bool {
	return func(a, b float64) bool { return math.Abs(a-b) <= rule.More["load_within_percent"]/100*b }
}

func (v Review) sameEffortTrend() trend {
	rule := v.Policy.Rule(policy.SameEffort)
	all, _ := v.sameEfforts()
	return v.compare(rule, all, nearLoad(rule))
}

// sameEffort is the rule on the heart rate at the same effort.
func (v Review) sameEffort() finding {
	rule, f := v.begin(policy.SameEffort)
	t := v.sameEffortTrend()
	all, hot := v.sameEfforts()
	if !t.enough {
		needed := record.Fact{Code: NeedSameEffort, Args: record.Args{"hot": hot}}
		f.Threshold = nil
		n := len(all)
		f = f.open(needed, SameEffortUncompared, record.Args{"why": t.why, "measurements": n, "hot": hot})
		return f.unless(v.tooShortFor(sameEffortMinutes) || v.early(n, len(v.stageIn)))
	}
	f = t.judge(f, rule, 1)
	f.Says = record.Fact{Code: SameEffort, Args: t.args(hot)}
	return f
}
