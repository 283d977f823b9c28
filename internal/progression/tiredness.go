package progression

import (
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// resting compares the resting heart rate of the last 7 days with the client's own before that.
func (v Review) resting() finding {
	rule, f := v.begin(policy.Resting)
	f.From = v.On - workout.Date(*rule.Window) + 1
	asked := int(rule.More["mornings"])
	var now, before []float64
	for _, n := range v.Record.Notes {
		switch {
		case n.HRRest == 0:
		case n.Date >= f.From:
			now = append(now, n.HRRest)
			f.Points = append(f.Points, record.Point{Date: n.Date, Value: n.HRRest})
		case n.Date >= max(v.comparableFrom(), f.From-42):
			before = append(before, n.HRRest)
		}
	}
	own, mornings := v.Record.Client.ZonesOn(v.On).HRRest, 0 // on record
	if len(before) >= asked {
		own, mornings = mean(before), len(before)
	}
	if len(now) < asked || own == 0 {
		return f.open(record.Fact{}, FewMornings, record.Args{"mornings": len(now), "days": *rule.Window})
	}
	rise := mean(now) - own
	f = f.told(rise, rule.Keeps(rise), Resting, record.Args{"resting": mean(now), "rise": rise, "usual": own, "mornings": mornings})
	te, df, _ := physiology.ErrorToJudgeBy(append(before, now...), physiology.TypicalErrorRest*own)
	half := physiology.DetectableChange(te, df, max(len(before), asked), len(now))
	return f.interval(rise-half, rise+half)
}

// harder says that the effort given at the same load rose in enough of the last sessions against
// the client's own at that load, on one scale.
func (v Review) harder() bool {
	rule := v.Policy.Rule(policy.Tiredness)
	same := v.Policy.Rule(policy.SameEffort)
	from := v.On - workout.Date(*rule.Window) + 1
	all, _ := v.sameEfforts()
	all = record.Keep(all, func(m measure) bool { return m.rpe != nil })
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
func (v Review) tiredness() finding {
	rule, f := v.begin(policy.Tiredness)
	f.From = v.On - workout.Date(*rule.Window) + 1
	reports, harder := v.tiredReports(f.From)
	if len(reports) == 0 {
		return f.told(0, true, NothingTiring, nil)
	}
	if v.Record.Client.ByEffort() {
		return f.told(0, true, TiredByReport, record.Args{"reports": reports})
	}
	worse := worseSigns(harder, v.resting(), v.sameEffortTrend(), v.fallTrend())
	n := float64(len(worse))
	if rule.Keeps(n) {
		return f.told(n, true, TiredUnconfirmed, record.Args{"reports": reports})
	}
	return f.told(n, false, TirednessPattern, record.Args{"reports": reports, "signs": worse})
}

// tiredReports lists what was reported since a day that points to tiredness. harder says that the same
// load has become harder.
func (v Review) tiredReports(since workout.Date) (reports record.Facts, harder bool) {
	var noted []signs.Sign
	for _, s := range v.Signs(signs.AskAgain, signs.Illness) {
		if s.On >= since && s.what != signs.Sore {
			noted = append(noted, s.what)
		}
	}
	reports = counted(noted)
	harder = v.harder()
	if harder {
		reports = append(reports, record.Fact{Code: MoreEffort})
	}
	return reports, harder
}

// worseSigns lists what the heart rate says in the worse direction.
func worseSigns(harder bool, resting finding, sameEffort, fall trend) record.Facts {
	var worse record.Facts
	if resting.IsUnmet() {
		worse = append(worse, record.Fact{Code: RestingUp})
	}
	if t := sameEffort; t.enough && (t.change() > t.detectable || harder && math.Abs(t.change()) > t.detectable) {
		worse = append(worse, record.Fact{Code: SameEffortChanged, Args: record.Args{"change": t.change()}})
	}
	if t := fall; t.enough && (t.change() < -t.detectable || harder && math.Abs(t.change()) > t.detectable) {
		worse = append(worse, record.Fact{Code: RecoveryChanged, Args: record.Args{"change": t.change()}})
	}
	return worse
}

// tirednessRepeated gives the step that repeats the rules on the tiredness pattern with the changes
// that a draw has given to resting heart rate, the drop in 60 s and heart rate at the same effort; nil
// where no report could make a pattern of them. Earlier patterns stay as they were.
func (v Review) tirednessRepeated(f *findings) func(draw) {
	rule := v.Policy.Rule(policy.Tiredness)
	reports, harder := v.tiredReports(v.On - workout.Date(*rule.Window) + 1)
	if len(reports) == 0 || v.Record.Client.ByEffort() {
		return nil
	}
	now, again := about(f.others, policy.Tiredness), about(f.others, policy.TirednessAgain)
	resting, sameEffort, fall := about(f.others, policy.Resting), about(f.evidence, policy.SameEffort), about(f.others, policy.Fall)
	sameEffortTrend, fallTrend := v.sameEffortTrend(), v.fallTrend()
	before := 0.0
	if again != nil && v.tirednessBefore() {
		before = 1
	}
	return func(draw) {
		n := worseSigns(harder, *resting, sameEffortTrend.changedTo(*sameEffort), fallTrend.changedTo(*fall))
		met := rule.Keeps(float64(len(n)))
		now.Met = &met
		if again != nil {
			still := met || v.Policy.Rule(policy.TirednessAgain).Keeps(1+before)
			again.Met = &still
		}
	}
}

// changedTo is the trend with the change that a finding observed.
func (t trend) changedTo(f finding) trend {
	if t.enough && f.Observed != nil {
		t.after = t.before + *f.Observed
	}
	return t
}

// about finds the finding of a rule; nil if there is none.
func about(all []finding, rule policy.ID) *finding {
	for i := range all {
		if all[i].Rule == rule {
			return &all[i]
		}
	}
	return nil
}

// tirednessAgain counts how often the pattern showed within the window, this time included. Earlier
// times are read as they were known then, at least two weeks back, so that one spell counts once.
func (v Review) tirednessAgain() finding {
	rule, f := v.begin(policy.TirednessAgain)
	times := 0
	if v.tiredness().IsUnmet() {
		times++
		if v.tirednessBefore() {
			times++
		}
	}
	n := float64(times)
	if rule.Keeps(n) {
		return f.told(n, true, TirednessSeen, record.Args{"times": times, "days": *rule.Window})
	}
	return f.told(n, false, TirednessBack, record.Args{"days": *rule.Window})
}

// tirednessBefore says that the pattern showed within the window, at least two weeks back.
func (v Review) tirednessBefore() bool {
	for back := 14; back <= *v.Policy.Rule(policy.TirednessAgain).Window; back += 7 {
		then := NewReview(v.Policy, v.On-workout.Date(back), v.Record)
		if then.Since == v.Since && then.tiredness().IsUnmet() {
			return true
		}
	}
	return false
}
