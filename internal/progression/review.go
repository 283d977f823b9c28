package progression

import (
	"fmt"
	"math"
	"strings"

	"nextrung/internal/workout"
)

// review is one client on one date with what all rules look at.
type review struct {
	p        Policy
	r        Record
	on       workout.Date
	stage    int
	since    workout.Date
	state    State
	sessions []Session // all of them
	days     programme // the days of the stage that count
	stageIn  []Session // sessions of the stage, on days that count
	walks    []Session // walks of the stage by somebody who does not train by walking
}

func (p Policy) review(on workout.Date, r Record) review {
	v := review{p: p, r: r.Until(on), on: on}
	v.stage, v.since = v.r.StageOn(on)
	v.state = v.r.StateOn(on)
	v.sessions = v.r.Sessions()
	v.days = v.r.programme(v.since, on)
	inStage := func(s Session) bool { return v.days.weekOf(s.Date) >= 0 }
	v.stageIn, v.walks = keep(v.sessions, inStage), keep(v.r.walks(), inStage)
	return v
}

// recent lists the sessions of the stage in the last n days that count; 0 gives all of the stage.
func (v review) recent(n int) []Session {
	if n == 0 {
		return v.stageIn
	}
	from := v.days.from(n, v.on)
	return keep(v.stageIn, func(s Session) bool { return s.Date >= from })
}

// finding is a reason on its way into an assessment.
type finding struct {
	Reason
	// needed says what to record when the rule cannot be told for lack of data; "" when time alone helps.
	needed string
	// against is set for evidence whose whole interval lies beyond the threshold.
	against bool
	// tooHard is set for a check session that was run harder than zone 1, whatever the heart rate.
	tooHard bool
}

// begin fills in what the policy says of a rule.
func (v review) begin(id string) (Rule, finding) {
	rule := v.p.Rule(id)
	threshold := *rule.Threshold
	from := v.since
	if *rule.Window > 0 {
		from = v.days.from(*rule.Window, v.on)
	}
	return rule, finding{Reason: Reason{
		Rule: id, Kind: rule.Kind, Is: rule.Is, Threshold: &threshold, Unit: rule.Unit,
		From: from, To: v.on, Workouts: []string{}, Source: rule.Source, Asks: asks(id, rule.Kind),
	}}
}

// told sets a verdict on a rule with its observed value.
func (f finding) told(observed float64, met bool, text string, args ...any) finding {
	f.Observed = &observed
	return f.stated(met, text, args...)
}

// stated sets a verdict on a rule without a number to it.
func (f finding) stated(met bool, text string, args ...any) finding {
	f.Enough, f.Met = true, &met
	f.Text = fmt.Sprintf(text, args...)
	return f
}

// unless takes back what would have to be recorded where time alone helps.
func (f finding) unless(timeHelps bool) finding {
	if timeHelps {
		f.needed = ""
	}
	return f
}

// untold leaves a rule open: text says what is missing, needed what to record.
func (f finding) untold(needed, text string, args ...any) finding {
	f.needed, f.Text = needed, fmt.Sprintf(text, args...)
	return f
}

// within sets the interval of the observed value and, from it, whether the rule speaks against.
func (f finding) interval(low, high float64) finding {
	f.Low, f.High = &low, &high
	if f.Is == atMost {
		f.against = low > *f.Threshold
	} else {
		f.against = high < *f.Threshold
	}
	return f
}

func (f finding) isMet() bool   { return f.Met != nil && *f.Met }
func (f finding) isUnmet() bool { return f.Met != nil && !*f.Met }

// rests names the sessions that a finding rests on, with one value for each.
func (f *finding) rests(s Session, value float64) {
	f.Workouts = append(f.Workouts, s.ids()...)
	f.Points = append(f.Points, Point{s.Date, value})
}

// number writes a value as people do, with at most one decimal.
func number(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", math.Round(v*10)/10+0), ".0")
}

// early says that an answer is on its way: the weeks of the stage are not done yet and at least
// half of the sessions tell what they should, so that nothing else has to be recorded.
func (v review) early(telling, sessions int) bool {
	return v.days.weeks() < max(4, v.weeksAsked()) && telling > 0 && 2*telling >= sessions
}

// several writes a count with its noun: "1 session", "3 sessions".
func several(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// word writes a small count as a word.
func word(n int) string {
	if names := []string{"no", "one", "two", "three", "four", "five", "six"}; n < len(names) {
		return names[n]
	}
	return number(float64(n))
}

// joined makes one list of words: "a, b and c".
func joined(all []string) string {
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return strings.Join(all, "")
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
