package progression

import (
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// measure is one value that can be compared with others like it.
type measure struct {
	date  workout.Date
	value float64
	// kind is what must be equal for two measurements to be alike (mode, place, activity, unit);
	// level is what must be near (heart rate at the stop, load).
	kind  string
	level float64
	id    string
	rpe   *workout.RPE
	// effort moves a heart rate at the same effort to another level; nil for the rest.
	effort *physiology.SameEffort
}

// trend compares the last measurements with the client's own baseline.
type trend struct {
	enough         bool
	why            record.Facts // where it is not enough
	before, after  float64      // means of baseline and of the last ones
	detectable     float64      // smallest detectable change of after - before, 90 %
	baseline, last []measure
}

func (t trend) change() float64 { return t.after - t.before }

// args are what the sentence of a comparison names; hot counts the sessions that were left out for the heat.
func (t trend) args(hot int) record.Args {
	return record.Args{"after": t.after, "before": t.before, "chance": t.detectable, "hot": hot}
}

// compare finds the latest measurements for which there is a baseline like them. The baseline is
// the mean of the first 3-5 like measurements of the stage that are at least two weeks old; against it
// stands the mean of the last 3, of which the latest is younger than that. Heart rates at the same effort
// are moved to the load of the latest, so that going quicker is not taken for getting worse. The smallest
// detectable change rests on the client's own typical error when there are 5 like measurements, but never on less
// than the published one in percent of the baseline (Buchheit 2014), nor on less than 1 bpm, since devices
// store whole beats; see physiology.ErrorToJudgeBy.
func (v Review) compare(rule policy.Rule, all []measure, near func(a, b float64) bool) trend {
	recentFrom := v.days.from(int(rule.More["recent_days"]), v.On)
	oldBefore := v.days.from(int(rule.More["baseline_age_days"]), v.On)
	nLast, nBase := int(rule.More["recent"]), int(rule.More["baseline"])
	none := trend{why: record.Facts{{Code: NoneOfLate}}}
	for i := len(all) - 1; i >= 0 && all[i].date >= oldBefore; i-- {
		var alike []measure
		for _, m := range all[:i+1] {
			if m.kind == all[i].kind && near(m.level, all[i].level) {
				if m.effort != nil {
					m.value = m.effort.At(all[i].level)
				}
				alike = append(alike, m)
			}
		}
		split := max(0, len(alike)-nLast)
		last := record.Keep(alike[split:], func(m measure) bool { return m.date >= recentFrom })
		baseline := record.Keep(alike[:split], func(m measure) bool { return m.date < oldBefore })
		baseline = baseline[:min(len(baseline), int(rule.More["baseline_most"]))]
		if len(last) < nLast || len(baseline) < nBase {
			none.why = record.Facts{{Code: TooFewAlike}}
			continue
		}
		t := trend{enough: true, baseline: baseline, last: last, before: mean(values(baseline)), after: mean(values(last))}
		te, df := max(1, rule.More["error_percent"]/100*t.before), math.Inf(1)
		if len(alike) >= int(rule.More["stable"]) {
			te, df, _ = physiology.ErrorToJudgeBy(values(alike), te)
		}
		t.detectable = physiology.DetectableChange(te, df, len(baseline), len(last))
		return t
	}
	return none
}

func values(ms []measure) []float64 {
	out := make([]float64, len(ms))
	for i, m := range ms {
		out[i] = m.value
	}
	return out
}

// comparableFrom is the day from which measurements may be compared with each other: since the
// stage began, the last change of a dose or of a medicine, and the end of a break after which all starts anew.
func (v Review) comparableFrom() workout.Date { return max(v.Since, v.alikeFrom()) }

// alikeFrom is the same, whatever the stage.
func (v Review) alikeFrom() workout.Date {
	from := max(v.Record.Client.DoseChange, v.Record.Client.Dated["medicine"].From)
	for i := 1; i < len(v.Sessions); i++ {
		if float64(v.Sessions[i].Date-v.Sessions[i-1].Date-1) > v.Policy.Rule(policy.Screening).More["again_after_break_days"] {
			from = max(from, v.Sessions[i].Date)
		}
	}
	return from
}

// judge turns a trend into a finding; the change may be sign times the detectable change at most
// (sign 1) or at least (sign -1).
func (t trend) judge(f finding, rule policy.Rule, sign float64) finding {
	limit := sign * *rule.Threshold * t.detectable
	f.Threshold = &limit
	for _, m := range append(append([]measure{}, t.baseline...), t.last...) {
		f.Workouts = append(f.Workouts, m.id)
		f.Points = append(f.Points, record.Point{Date: m.date, Value: m.value})
	}
	change := t.change()
	f.Observed, f.From = &change, t.baseline[0].date
	met := policy.Within(change, f.Is, limit)
	f.Enough, f.Met = true, &met
	return f.interval(change-t.detectable, change+t.detectable)
}
