package progression

import (
	"fmt"
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// falls lists the 60-second falls of the stage: of each recording the one after the last stop that
// holds one. Wrist sensors lag too much to give any. In the heat the heart rate falls slower for that
// alone (common practice, no source), so those sessions are only counted; what is hot is said by the
// rule on the same effort.
func (v Review) falls() (out []measure, hot int) {
	from, warmest := v.comparableFrom(), v.Policy.Rule("same-effort").More["warmest_c"]
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

// leftOut says how many sessions could have told something but for the heat; "" for none.
func leftOut(hot int) string {
	if hot == 0 {
		return ""
	}
	return fmt.Sprintf("%s in the heat or without a fan %s left out", wording.Several(hot, "session"), isOrAre(hot))
}

func isOrAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// soFar counts the measurements that there are, and the sessions that were left out for the heat.
func soFar(n, hot int) string {
	text := wording.Several(n, "measurement") + " so far"
	if hot > 0 {
		text += "; " + leftOut(hot)
	}
	return text
}

// leavingOut adds what was left out for the heat to what could be told.
func (f finding) leavingOut(hot int) finding {
	if hot > 0 {
		f.Text += " " + leftOut(hot) + "."
	}
	return f
}

func (v Review) fallTrend() trend {
	rule := v.Policy.Rule("fall")
	all, _ := v.falls()
	return v.compare(rule, all, func(a, b float64) bool { return math.Abs(a-b) <= rule.More["end_within_bpm"] })
}

// fall is the rule on the 60-second fall.
func (v Review) fall() finding {
	rule, f := v.begin("fall")
	t := v.fallTrend()
	all, hot := v.falls()
	if !t.enough {
		f.Threshold = nil
		n := len(all)
		needed := "Wear the chest strap, keep recording and keep moving easily for 3 minutes after your last effort." // makes it measurable
		if 2*n >= len(v.stageIn) {
			needed += " End the sessions alike."
		}
		f = f.untold(needed, "The 60-second fall cannot be compared with the client's own baseline: %s (%s).", t.why, soFar(n, hot))
		return f.unless(v.early(n, len(v.stageIn)))
	}
	f = t.judge(f, rule, -1)
	f.Text = fmt.Sprintf("After like efforts the heart rate now falls by %s bpm in 60 s, against %s at the baseline; a change of %s bpm can be chance.",
		wording.Number(t.after), wording.Number(t.before), wording.Number(t.detectable))
	return f.leavingOut(hot)
}

// sameEfforts lists the heart rates at a steady load. Load, machine and place must be alike, and it must
// not have been hot: such sessions are only counted. The effort given for a session with bouts is that
// of the bouts, not of the steady load.
func (v Review) sameEfforts() (out []measure, hot int) {
	from, warmest := v.comparableFrom(), v.Policy.Rule("same-effort").More["warmest_c"]
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
	rule := v.Policy.Rule("same-effort")
	all, _ := v.sameEfforts()
	return v.compare(rule, all, nearLoad(rule))
}

// sameEffort is the rule on the heart rate at the same effort.
func (v Review) sameEffort() finding {
	rule, f := v.begin("same-effort")
	t := v.sameEffortTrend()
	all, hot := v.sameEfforts()
	if !t.enough {
		needed := "Record one session a week on the same machine at the same speed, evenly for the first 15 minutes."
		if hot > 0 {
			needed += " Not in the heat."
		}
		f.Threshold = nil
		n := len(all)
		f = f.untold(needed, "The heart rate at the same effort cannot be compared with the client's own baseline: %s (%s).", t.why, soFar(n, hot))
		return f.unless(v.early(n, len(v.stageIn)))
	}
	f = t.judge(f, rule, 1)
	f.Text = fmt.Sprintf("At the same effort the heart rate is now %s bpm, against %s at the baseline; a change of %s bpm can be chance.",
		wording.Number(t.after), wording.Number(t.before), wording.Number(t.detectable))
	return f.leavingOut(hot)
}
