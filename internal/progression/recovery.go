package progression

import (
	"fmt"
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// falls lists the 60-second falls of the stage: of each recording the one after the last stop that
// holds one. Wrist sensors lag too much to give any.
func (v review) falls() []measure {
	var out []measure
	from := v.comparableFrom()
	for _, s := range v.stageIn {
		if s.Date < from {
			continue
		}
		for _, x := range s.Recordings {
			if x.sensor() == workout.Wrist {
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
	}
	return out
}

func (v review) fallTrend() trend {
	rule := v.p.Rule("fall")
	return v.compare(rule, v.falls(), func(a, b float64) bool { return math.Abs(a-b) <= rule.More["end_within_bpm"] })
}

// fall is the rule on the 60-second fall.
func (v review) fall() finding {
	rule, f := v.begin("fall")
	t := v.fallTrend()
	if !t.enough {
		f.Threshold = nil
		n := len(v.falls())
		needed := "Wear the chest strap, keep recording and " + v.r.Client.keepMoving() + "." // makes it measurable
		if 2*n >= len(v.stageIn) {
			needed += " End the sessions alike."
		}
		f = f.untold(needed, "The 60-second fall cannot be compared with the client's own baseline: %s (%s so far).", t.why, several(n, "measurement"))
		return f.unless(v.early(n, len(v.stageIn)))
	}
	f = t.judge(f, rule, -1)
	f.Text = fmt.Sprintf("After like efforts the heart rate now falls by %s bpm in 60 s, against %s at the baseline; a change of %s bpm can be chance.",
		number(t.after), number(t.before), number(t.detectable))
	return f
}

// sameEfforts lists the heart rates at a steady load. Heat, load, machine and place must be alike.
// The effort given for a session with bouts is that of the bouts, not of the steady load.
func (v review) sameEfforts(warmest float64) []measure {
	var out []measure
	from := v.comparableFrom()
	for _, s := range v.stageIn {
		if s.Date < from || s.hot(warmest) {
			continue
		}
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
	}
	return out
}

// nearLoad says that two loads lie in one band.
func nearLoad(rule Rule) func(a, b float64) bool {
	return func(a, b float64) bool { return math.Abs(a-b) <= rule.More["load_within_percent"]/100*b }
}

func (v review) sameEffortTrend() trend {
	rule := v.p.Rule("same-effort")
	return v.compare(rule, v.sameEfforts(rule.More["warmest_c"]), nearLoad(rule))
}

// sameEffort is the rule on the heart rate at the same effort.
func (v review) sameEffort() finding {
	rule, f := v.begin("same-effort")
	t := v.sameEffortTrend()
	if !t.enough {
		needed := "Record one session a week on the same machine at the same speed, evenly for the first 15 minutes."
		f.Threshold = nil
		n := len(v.sameEfforts(rule.More["warmest_c"]))
		f = f.untold(needed, "The heart rate at the same effort cannot be compared with the client's own baseline: %s (%s so far).", t.why, several(n, "measurement"))
		return f.unless(v.early(n, len(v.stageIn)))
	}
	f = t.judge(f, rule, 1)
	f.Text = fmt.Sprintf("At the same effort the heart rate is now %s bpm, against %s at the baseline; a change of %s bpm can be chance.",
		number(t.after), number(t.before), number(t.detectable))
	return f
}
