// Package prescription lays a prescribed week over its days and writes it out for people: which
// session is on which day and how it is done, with the heart rates for the watch, a check session where
// evidence is missing, what comes before the warm-up, and what to do at home. How much is prescribed
// and how hard it is comes from package progression.
//
// Beats are bpm, lengths are seconds inside plans and minutes in text. Nothing here asks the clock.
package prescription

import (
	"cmp"
	"fmt"
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Week is next week for one client.
type Week struct {
	Client  string          `json:"client"`
	Made    workout.Date    `json:"as_of"`
	From    workout.Date    `json:"from"`
	To      workout.Date    `json:"to"`
	Stage   int             `json:"stage"`
	Verdict *record.Verdict `json:"verdict"`
	Decided record.Act      `json:"decided,omitempty"` // by the trainer on that day; "" for nothing
	// Sessions are in the order of their days; none where the client may not train, and then Notes says
	// so to the client and Why to the trainer.
	Sessions []Session `json:"sessions"`
	Done     int       `json:"done_before,omitempty"` // sessions of the week before the plan was made
	Why      []string  `json:"why,omitempty"`
	Targets  []Target  `json:"targets,omitempty"`
	Before   string    `json:"before_warm_up,omitempty"`
	Home     []string  `json:"at_home,omitempty"`
	Enjoys   []string  `json:"enjoys,omitempty"`
	// Unkept says which wishes about the days could not be kept.
	Unkept    []string          `json:"wishes_not_kept,omitempty"`
	Notes     []record.PlanNote `json:"notes,omitempty"`     // with their text
	Limit     float64           `json:"limit_bpm,omitempty"` // a doctor's, 0 for none
	Cautions  []string          `json:"cautions"`
	StopSigns []string          `json:"stop_signs"`

	modes      []workout.Mode // of the client, the preferred first
	particular []string       // the cautions for this client alone
}

// Kind is what a session is for.
type Kind string

// The kinds of sessions.
const (
	Steady    Kind = "steady"
	Intervals Kind = "intervals"
	Check     Kind = "check session"
)

// Session is one session on its day.
type Session struct {
	Day  workout.Date `json:"day"`
	Kind Kind         `json:"kind"`
	Plan workout.Plan `json:"plan"`
	// Low and High are the two alarms for the watch in bpm, 0 for none: an interval session has no low
	// one, since it would sound in every warm-up and recovery, nor has any session of a week that
	// shows upper beats alone.
	Low  float64 `json:"low_alarm_bpm,omitempty"`
	High float64 `json:"high_alarm_bpm,omitempty"`
}

// Lay lays a prescription, made from a record and its assessment, over its days. Without sessions in
// it there are none, whatever else is known. For a client who trains by effort, no heart rates are left.
func Lay(p record.Prescription, r record.Record, a record.Assessment) Week {
	r = r.Until(p.Made)
	w := Week{
		Client: r.Client.Name, Made: p.Made, From: p.From, To: p.To, Stage: p.Stage, Verdict: p.Verdict, Sessions: []Session{},
		Notes: notes(p, r), StopSigns: r.Client.StopSigns(),
		Limit:      r.Client.LimitOver(max(p.From, p.Made+1), p.To),
		particular: reasons.Texts(a.Cautions),
	}
	w.Cautions = slices.Concat(w.particular, signs.Cautions(signs.Client))
	if d := r.Decided(p.Made); d != nil {
		w.Decided = d.Act
	}
	if r.Referred() {
		w.Decided = record.DoRefer
	}
	if p.Sessions == 0 || len(p.Targets) == 0 {
		w.Why = why(a)
		return w
	}
	if r.Client.ByEffort() {
		p = withoutBeats(p, physiology.Body{Limit: w.Limit}.Ceiling())
	}
	hard, hardSoFar := 0, 0
	w.Done, hardSoFar = soFar(p, r)
	if p.Sessions = max(0, p.Sessions-w.Done); p.Intervals != nil {
		hard = max(0, min(p.Intervals.Count-hardSoFar, p.Sessions))
	}
	c, modes := diaryOf(p, r), preferred(p, r)
	c.running = modes.first == 1 && modes.at(0) == workout.Run
	chosen := c.choose(p.Sessions, hard)
	w.Unkept = c.unkept(p, hard, chosen)
	w.modes = modes.modes
	w.Sessions = sessions(p, chosen, modes, c)
	if len(w.Sessions) == 0 {
		w.Why, w.Unkept, w.Notes = w.Unkept, nil, []record.PlanNote{{Code: record.NoSessions, Text: said[record.NoSessions]}}
		return w
	}
	w.Notes = append(w.checkNote(r.Client), w.Notes...)
	w.Targets = targets(p, chosen.hard.len())
	w.Before = before(r.Client)
	w.Home = home(r.Client, p)
	for _, s := range r.Client.Enjoys {
		w.Enjoys = append(w.Enjoys, s.Words)
	}
	return w
}

// soFar counts the sessions, and the hard ones among them, that were done in the week of a plan before it was
// made: some, where it replaces one in the middle of the week.
func soFar(p record.Prescription, r record.Record) (sessions, hard int) {
	for _, s := range r.Sessions() {
		if s.Date < p.From || s.Date > p.Made || s.Sport == workout.Strength {
			continue
		}
		if sessions++; hardDone(s, r) {
			hard++
		}
	}
	return sessions, hard
}

// withoutBeats is a prescription with all heart rates removed but the ceiling that a limit leaves, 0 for none.
func withoutBeats(p record.Prescription, ceiling float64) record.Prescription {
	p.Targets = slices.Clone(p.Targets)
	for i := range p.Targets {
		p.Targets[i].Low, p.Targets[i].High = 0, ceiling
	}
	if p.Intervals != nil {
		i := *p.Intervals
		i.Low, i.High = 0, ceiling
		p.Intervals = &i
	}
	return p
}

// withoutLow is a session without lower limits: a low alarm would urge on somebody who is told to go slower or
// easier, or who begins. The upper ones stay, in warm-up and cool-down too.
func withoutLow(s Session) Session {
	s.Low = 0
	for i := range s.Plan.Steps {
		s.Plan.Steps[i].Low = 0
	}
	return s
}

// sessions writes out the session of each chosen day.
func sessions(p record.Prescription, chosen choice, modes ranking, c diary) []Session {
	out := []Session{}
	check := c.bestForCheck(p, chosen)
	easy := 0
	for i := range week {
		if !chosen.all.has(i) {
			continue
		}
		s := Session{Day: p.From + workout.Date(i), Kind: Steady}
		mode := modes.at(0)
		switch {
		case chosen.hard.has(i):
			s.Kind = Intervals
			s.Plan, s.High = written(p, mode, true), p.Intervals.High
		case i == check:
			s.Kind, mode = Check, modes.machine()
			s.Plan = checkPlan(p, mode)
		default:
			mode = modes.at(easy)
			easy++
			s.Plan = written(p, mode, false)
		}
		if t := p.Targets[targetOf(p, mode)]; s.Kind != Intervals {
			s.Low, s.High = t.Low, t.High
		}
		if p.UpperOnly() {
			s = withoutLow(s)
		}
		out = append(out, s)
	}
	for i := range out {
		out[i].Plan.Name = fmt.Sprintf("Session %d of %d: %s", i+1, len(out), out[i].Kind)
	}
	return out
}

// written is one session of a prescription in a mode, as progression writes it out.
func written(p record.Prescription, m workout.Mode, hard bool) workout.Plan {
	p.Sessions = 1
	p.Targets = []record.Target{p.Targets[targetOf(p, m)]}
	if !hard {
		p.Intervals = nil
	} else {
		i := *p.Intervals
		i.Count = 1
		p.Intervals = &i
	}
	return p.Plans()[0]
}

// targetOf finds the target of a mode; the first where there is none.
func targetOf(p record.Prescription, m workout.Mode) int {
	return max(0, slices.IndexFunc(p.Targets, func(t record.Target) bool { return t.Mode == m }))
}

// The parts of a check session in seconds. What the week's sessions are longer goes to the cool-down,
// so that the even part keeps the length by which it is known.
const (
	checkEdge = 5 * 60
	checkLoad = 25 * 60
)

// checkPlan is a session with 25 min at one load in zone 1.
func checkPlan(p record.Prescription, m workout.Mode) workout.Plan {
	t := p.Targets[targetOf(p, m)]
	return workout.Plan{Mode: t.Mode, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: checkEdge, High: cmp.Or(t.Low, t.High), Feel: workout.Comfortable},
		{Kind: workout.Steady, Seconds: checkLoad, Low: t.Low, High: t.High, Feel: workout.Comfortable},
		{Kind: workout.CoolDown, Seconds: max(checkEdge, 60*p.Check-checkEdge-checkLoad), High: cmp.Or(t.Low, t.High), Feel: workout.Comfortable},
	}}
}

// checkNote is the note about the check session; nil without one.
func (w Week) checkNote(c record.Client) []record.PlanNote {
	for _, s := range w.Sessions {
		if s.Kind == Check {
			n := record.PlanNote{Code: record.CheckSession, Day: s.Day, Machine: c.HasToTrainOn(machines[s.Plan.Mode]...)}
			n.Text = Say(n)
			return []record.PlanNote{n}
		}
	}
	return nil
}

// Said is the text of the notes.
func (w Week) Said() []string {
	var out []string
	for _, n := range w.Notes {
		out = append(out, n.Text)
	}
	return out
}

// why says to the trainer why there is no session, and what is missing.
func why(a record.Assessment) []string {
	var out []string
	switch {
	case len(a.Summary) > 0:
		out = append(out, reasons.Paragraph(a.Summary))
	case a.Verdict == nil:
		out = append(out, fmt.Sprintf("No verdict: the client is marked as %s.", a.State))
	}
	for _, l := range a.Lacking {
		if x := a.Reason(l.Rule); x != nil && x.Kind == policy.Gate {
			out = append(out, reasons.Text(l.Needed))
		}
	}
	return out
}
