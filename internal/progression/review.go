package progression

import (
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Review is one client on one date with what all rules look at.
type Review struct {
	Policy   policy.Policy
	Record   record.Record
	On       workout.Date
	Stage    int
	Since    workout.Date
	state    record.State
	Sessions []record.Session // all of them
	days     programme        // the days of the stage that count
	stageIn  []record.Session // sessions of the stage, on days that count
	// unanswered is what notes may mean and nobody has asked about, the gravest first, then facts that contradict each other.
	unanswered []record.Question
	walks      []record.Session // walks of the stage by somebody who does not train by walking
}

func NewReview(p policy.Policy, on workout.Date, r record.Record) Review {
	v := Review{Policy: p, Record: r.Until(on), On: on}
	v.Stage, v.Since = v.Record.StageOn(on)
	v.state = v.Record.StateOn(on)
	v.Sessions = v.Record.Sessions()
	v.unanswered = append(v.Record.Unanswered(), v.clashes()...)
	v.days = programmeOf(v.Record, v.Since, on)
	inStage := func(s record.Session) bool { return v.days.weekOf(s.Date) >= 0 }
	v.stageIn, v.walks = record.Keep(v.Sessions, inStage), record.Keep(v.Record.Done(), func(s record.Session) bool { return s.Uncounted == record.WalkNotTrained && inStage(s) })
	return v
}

// recent lists the sessions of the stage in the last n days that count; 0 gives all of the stage.
func (v Review) recent(n int) []record.Session {
	if n == 0 {
		return v.stageIn
	}
	from := v.days.from(n, v.On)
	return record.Keep(v.stageIn, func(s record.Session) bool { return s.Date >= from })
}

// finding is a reason on its way into an assessment.
type finding struct {
	record.Reason
	// needed says what to record when data are lacking; empty when time alone helps.
	needed record.Fact
	// against is set for evidence whose whole interval lies beyond the threshold.
	against bool
	// tooHard is set for a check session that was run harder than zone 1, whatever the heart rate.
	tooHard bool
}

// begin fills in what the policy says of a rule.
func (v Review) begin(id policy.ID) (policy.Rule, finding) {
	rule := v.Policy.Rule(id)
	threshold := *rule.Threshold
	from := v.Since
	if *rule.Window > 0 {
		from = v.days.from(*rule.Window, v.On)
	}
	return rule, finding{Reason: record.Reason{
		Rule: id, Kind: rule.Kind, Is: rule.Is, Threshold: &threshold, Unit: rule.Unit,
		From: from, To: v.On, Workouts: []string{}, Source: rule.Source, FromMemory: rule.FromMemory, Asks: asks(rule),
	}}
}

// told sets a verdict on a rule with its observed value.
func (f finding) told(observed float64, met bool, code record.Code, args record.Args) finding {
	f.Observed = &observed
	return f.stated(met, code, args)
}

// stated sets a verdict on a rule without a number to it.
func (f finding) stated(met bool, code record.Code, args record.Args) finding {
	f.Enough, f.Met = true, &met
	f.Says = record.Fact{Code: code, Args: args}
	return f
}

// unless takes back what would have to be recorded where time alone helps.
func (f finding) unless(timeHelps bool) finding {
	if timeHelps {
		f.needed = record.Fact{}
	}
	return f
}

// open leaves a rule open: the code says what is missing, needed what to record.
func (f finding) open(needed record.Fact, code record.Code, args record.Args) finding {
	f.needed, f.Says = needed, record.Fact{Code: code, Args: args}
	return f
}

// need is what has to be recorded, where that takes no arguments; "" for nothing.
func need(code record.Code) record.Fact { return record.Fact{Code: code} }

// within sets the interval of the observed value and, from it, whether the rule is against a move.
func (f finding) interval(low, high float64) finding {
	f.Low, f.High = &low, &high
	if f.Is == policy.AtMost {
		f.against = low > *f.Threshold
	} else {
		f.against = high < *f.Threshold
	}
	return f
}

// rests names the sessions that a finding rests on, with one value for each.
func (f *finding) rests(s record.Session, value float64) {
	f.Workouts = append(f.Workouts, s.IDs()...)
	f.Points = append(f.Points, record.Point{Date: s.Date, Value: value})
}

// early says that an answer is on its way: the weeks of the stage are not done yet and at least
// half of the sessions show what they should, so that nothing else has to be recorded.
func (v Review) early(telling, sessions int) bool {
	return v.days.weeks() < max(4, v.weeksAsked()) && telling > 0 && 2*telling >= sessions
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// asks is what a rule of kind step-back calls for when it is not met; "" for the other kinds.
func asks(rule policy.Rule) record.Verdict {
	switch {
	case rule.Kind != policy.StepBackRule:
		return ""
	case rule.Eases():
		return record.Ease
	}
	return record.StepBack
}
