package progression

import (
	"fmt"
	"math"
	"strings"

	"nextrung/internal/workout"
)

// resting compares the resting heart rate of the last 7 days with the client's own before that.
func (v review) resting() finding {
	rule, f := v.begin("resting")
	f.From = v.on - workout.Date(*rule.Window) + 1
	asked := int(rule.More["mornings"])
	var now, before []float64
	for _, n := range v.r.Notes {
		switch {
		case n.HRRest == 0:
		case n.Date >= f.From:
			now = append(now, n.HRRest)
			f.Points = append(f.Points, Point{n.Date, n.HRRest})
		case n.Date >= max(v.comparableFrom(), f.From-42):
			before = append(before, n.HRRest)
		}
	}
	own, basis := v.r.Client.ZonesOn(v.on).HRRest, "the resting heart rate on record"
	if len(before) >= asked {
		own, basis = mean(before), fmt.Sprintf("the mean of %d earlier mornings", len(before))
	}
	if len(now) < asked || own == 0 {
		return f.untold("Count the resting heart rate on at least 3 mornings a week and note it.",
			"The resting heart rate of the week cannot be compared: %s in the last 7 days.", several(len(now), "morning"))
	}
	rise := mean(now) - own
	return f.told(rise, rule.keeps(rise), "The resting heart rate is %s bpm, %s against %s (%s).", number(mean(now)), signed(rise), number(own), basis)
}

func signed(v float64) string {
	if v >= 0 {
		return "+" + number(v)
	}
	return number(v)
}

// harder says that the effort given at the same load rose in enough of the last sessions against
// the client's own at that load, on one scale.
func (v review) harder() bool {
	rule := v.p.Rule("tiredness")
	same := v.p.Rule("same-effort")
	from := v.on - workout.Date(*rule.Window) + 1
	all := keep(v.sameEfforts(same.More["warmest_c"]), func(m measure) bool { return m.rpe != nil })
	near, up := nearLoad(same), 0
	for i, m := range all {
		if m.date < from {
			continue
		}
		var before []float64
		for _, o := range all[:i] {
			if o.date < from && o.kind == m.kind && near(o.level, m.level) && o.rpe.Scale == m.rpe.Scale {
				before = append(before, o.rpe.Value)
			}
		}
		if len(before) >= int(same.More["baseline"]) && m.rpe.Value >= mean(before)+rule.More["effort_rise"] {
			up++
		}
	}
	return up >= int(rule.More["sessions"])
}

// tiredness is the rule on the tiredness pattern: a report and a heart rate that changed for the
// worse. A lower heart rate or a larger fall is normally progress; it counts only together with the
// report that the same load has become harder (Aubry 2015, 2017: overreached athletes had both).
func (v review) tiredness() finding {
	rule, f := v.begin("tiredness")
	f.From = v.on - workout.Date(*rule.Window) + 1
	var reports, worse []string
	for _, s := range v.signs(AskAgain, Illness) {
		if s.on >= f.From && s.what != Sore {
			reports = append(reports, string(s.what))
		}
	}
	harder := v.harder()
	if harder {
		reports = append(reports, "more effort at the same load")
	}
	if len(reports) == 0 {
		return f.told(0, true, "Nothing is reported that points to tiredness.")
	}
	if v.r.Client.ByEffort() {
		return f.told(0, true, "Reported: %s. Heart rate does not lead for this client.", strings.Join(reports, ", "))
	}
	if v.resting().isUnmet() {
		worse = append(worse, "the resting heart rate is up")
	}
	if t := v.sameEffortTrend(); t.enough && (t.change() > t.detectable || harder && math.Abs(t.change()) > t.detectable) {
		worse = append(worse, fmt.Sprintf("the heart rate at the same effort changed by %s bpm", signed(t.change())))
	}
	if t := v.fallTrend(); t.enough && (t.change() < -t.detectable || harder && math.Abs(t.change()) > t.detectable) {
		worse = append(worse, fmt.Sprintf("the 60-second fall changed by %s bpm", signed(t.change())))
	}
	n := float64(len(worse))
	if rule.keeps(n) {
		return f.told(n, true, "Reported: %s. The heart rate does not confirm it.", strings.Join(reports, ", "))
	}
	return f.told(n, false, "A tiredness pattern: %s; and %s.", strings.Join(reports, ", "), strings.Join(worse, ", "))
}

// tirednessAgain counts how often the pattern showed within the window, this time included. Earlier
// times are read as they were known then, at least two weeks back, so that one spell counts once.
func (v review) tirednessAgain() finding {
	rule, f := v.begin("tiredness-again")
	times := 0
	if v.tiredness().isUnmet() {
		times++
		for back := 14; back <= *rule.Window; back += 7 {
			then := v.p.review(v.on-workout.Date(back), v.r)
			if then.since == v.since && then.tiredness().isUnmet() {
				times++
				break
			}
		}
	}
	n := float64(times)
	if rule.keeps(n) {
		return f.told(n, true, "The tiredness pattern showed %s within %d days.", several(times, "time"), *rule.Window)
	}
	return f.told(n, false, "The tiredness pattern came back within %d days.", *rule.Window)
}
