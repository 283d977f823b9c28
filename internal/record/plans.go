package record

import (
	"cmp"
	"fmt"

	"nextrung/internal/workout"
)

// Plans writes the sessions of the week out step by step: warm-up, main part, cool-down. Interval
// sessions stand at every other place, so that a day lies between them, and keep the length of the
// week's sessions by steady time before the bouts; they take longer where the bouts need it.
func (p Prescription) Plans() []workout.Plan {
	if len(p.Targets) == 0 {
		return nil
	}
	t := p.Targets[0]
	out := make([]workout.Plan, 0, p.Sessions)
	left := 0
	if p.Intervals != nil {
		left = p.Intervals.Count
	}
	for i := range p.Sessions {
		name, main := "steady", p.steadyPart(t)
		if left > 0 && (i%2 == 0 || p.Sessions-i <= left) {
			left--
			name, main = "intervals", p.intervalPart(t)
		}
		steps := append([]workout.Step{easy(workout.WarmUp, p.edge(), t)}, main...)
		out = append(out, workout.Plan{
			Name: fmt.Sprintf("Session %d of %d: %s", i+1, p.Sessions, name), Mode: t.Mode,
			Steps: append(steps, easy(workout.CoolDown, p.edge(), t)),
		})
	}
	return out
}

// Total is the minutes of the whole week as the sessions are written out: interval sessions have the
// length of their bouts, and a check session its own.
func (p Prescription) Total() int {
	if len(p.Targets) == 0 {
		return p.Sessions * p.Minutes
	}
	seconds := 0
	for _, plan := range p.Plans() {
		seconds += plan.Seconds()
	}
	return (seconds+30)/60 + max(0, p.Check-p.Minutes)
}

// edge is the length of warm-up and cool-down in seconds: 5 min, 3 in very short sessions.
func (p Prescription) edge() int {
	if p.Minutes < 15 {
		return 180
	}
	return 300
}

// easy is a part below the target band; where that has no lower end, below its upper one.
func easy(k workout.StepKind, seconds int, t Target) workout.Step {
	return workout.Step{Kind: k, Seconds: seconds, High: cmp.Or(t.Low, t.High), Feel: workout.Comfortable}
}

func (p Prescription) steadyPart(t Target) []workout.Step {
	main := max(60, p.Minutes*60-2*p.edge())
	return []workout.Step{{Kind: workout.Steady, Seconds: main, Low: t.Low, High: t.High, Feel: t.Feel}}
}

// beforeBouts is the steady time in seconds between warm-up and first bout; what is under 2 min is
// left out.
func (p Prescription) beforeBouts() int {
	i := p.Intervals
	spare := p.Minutes*60 - 2*p.edge() - i.Bouts*i.Work - (i.Bouts-1)*i.Rest
	if spare < 120 {
		return 0
	}
	return spare
}

func (p Prescription) intervalPart(t Target) []workout.Step {
	i := p.Intervals
	var out []workout.Step
	if spare := p.beforeBouts(); spare > 0 {
		out = append(out, workout.Step{Kind: workout.Steady, Seconds: spare, Low: t.Low, High: t.High, Feel: t.Feel})
	}
	for n := range i.Bouts {
		if n > 0 {
			out = append(out, workout.Step{Kind: workout.Recovery, Seconds: i.Rest, High: t.High, Feel: workout.Comfortable})
		}
		out = append(out, workout.Step{Kind: workout.Work, Seconds: i.Work, Low: i.Low, High: i.High, Feel: i.Feel})
	}
	return out
}
