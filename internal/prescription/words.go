package prescription

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// Target says in the client's words how hard a part is, with the two alarms for the watch; "" for
// none.
type Target struct {
	Title string `json:"title"`
	Text  string `json:"text"`
	Low   string `json:"low_alarm,omitempty"`
	High  string `json:"high_alarm,omitempty"`

	Feel     workout.Feel `json:"-"`
	From, To float64      `json:"-"` // bpm as in the text; 0 for none
	Effort   string       `json:"-"` // on the scale from 6 to 20, as in the text
}

// efforts say what an intensity means on the two scales of effort (moderate is 12-13 and vigorous 14-17 of 6-20,
// Garber 2011; the policy has the numbers of the other scale next to them).
var efforts = map[workout.Feel]string{
	workout.Comfortable: "Effort up to 13 on the scale from 6 to 20, or up to 4 from 0 to 10.",
	workout.Brisk:       "Effort about 14 to 15 on the scale from 6 to 20, or 5 to 6 from 0 to 10.",
	workout.Hard:        "Effort about 16 on the scale from 6 to 20, or 7 from 0 to 10, and never all out.",
}

var shortEfforts = map[workout.Feel]string{workout.Comfortable: "up to 13", workout.Brisk: "14 to 15", workout.Hard: "about 16"}

// targets puts the intensities into words; hard is how many sessions have bouts. What they feel like is
// said in the notes.
func targets(p record.Prescription, hard int) []Target {
	var out []Target
	for _, t := range p.Targets {
		x := Target{Title: wording.Capital(t.Mode.Doing()) + ": " + string(t.Feel), Text: efforts[t.Feel], Feel: t.Feel, From: t.Low, To: t.High, Effort: shortEfforts[t.Feel]}
		switch {
		case t.High > 0 && p.UpperOnly():
			x.From = 0
			x.High = wording.Number(t.High)
			x.Text += " Keep your pulse below " + x.High + ". There is no lower limit this week."
		case t.High > 0 && t.Low == 0:
			x.High = wording.Number(t.High)
			x.Text += " Keep your pulse below " + x.High + "."
		case t.High > 0:
			x.Low, x.High = wording.Number(t.Low), wording.Number(t.High)
			x.Text += fmt.Sprintf(" Keep your pulse between %s and %s.", x.Low, x.High)
		}
		out = append(out, x)
	}
	if hard > 0 {
		out = append(out, boutTarget(p, hard))
	}
	return out
}

// boutTarget describes the bouts.
func boutTarget(p record.Prescription, hard int) Target {
	set := p.Intervals
	title := fmt.Sprintf("%d × %s %s", set.Bouts, Length(set.Work), set.Feel)
	if hard < p.Sessions {
		title = fmt.Sprintf("In %s of the sessions: %s", wording.Word(hard), title)
	}
	x := Target{Title: title, Feel: set.Feel, To: set.High, Effort: shortEfforts[set.Feel]}
	text := []string{"Go comfortably for " + Length(set.Rest) + " in between.", efforts[set.Feel]}
	if set.High > 0 {
		x.High = wording.Number(set.High)
		text = append(text, "Keep your pulse below "+x.High+".")
		if set.Lowest > 0 {
			text = append(text, "This limit is a careful one: your highest pulse has not been measured, and it may be as low as "+wording.Number(set.Lowest)+".")
		}
		if set.Lowered > 0 {
			text = append(text, "That is "+wording.Count(int(set.Lowered), "beat")+" lower than your zone allows, because these parts felt too hard.")
		}
		switch {
		case p.UpperOnly():
			text = append(text, "There is no lower limit this week: go by how it feels.")
		case set.Low > 0: // no low alarm: it would sound in every warm-up and recovery
			text = append(text, "Towards the end of each part it will rise to "+wording.Number(set.Low)+" or more.")
		}
	}
	x.Text = strings.Join(text, " ")
	return x
}

// notes are the prescription's notes in words. The week is called an easier one only after the trainer
// has decided it, not before.
func notes(p record.Prescription, r record.Record) []record.PlanNote {
	var out []record.PlanNote
	for _, n := range p.Notes {
		text, softer := undecided[n.Code]
		if !softer || r.Decided(p.Made) != nil {
			text = Say(n)
		}
		n.Text = text
		out = append(out, n)
	}
	return out
}

// Group is sessions that are alike, with their days in words: "Mon 5, Wed 7 and Sat 10 Oct".
type Group struct {
	Session
	Days string
}

// Groups puts sessions that are alike together, in the order of their first days.
func (w Week) Groups() []Group {
	var out []Group
	var on [][]workout.Date
	for _, s := range w.Sessions {
		i := slices.IndexFunc(out, func(g Group) bool {
			return g.Kind == s.Kind && g.Low == s.Low && g.High == s.High && g.Plan.Mode == s.Plan.Mode && slices.Equal(g.Plan.Steps, s.Plan.Steps)
		})
		if i < 0 {
			i = len(out)
			out, on = append(out, Group{Session: s}), append(on, nil)
		}
		on[i] = append(on[i], s.Day)
	}
	for i := range out {
		var names []string
		for k, d := range on[i] {
			name := d.Day()
			if k+1 < len(on[i]) && d.Time().Month() == on[i][k+1].Time().Month() {
				name = d.Time().Format("Mon 2")
			}
			names = append(names, name)
		}
		out[i].Days = wording.List(names)
	}
	return out
}

// What names a session with its length: "Walking, comfortable, 36 minutes".
func (s Session) What() string {
	return s.Title() + ", " + wording.Count(minutes(s.Plan.Seconds()), "minute")
}

// Title names a session: "Walking, comfortable".
func (s Session) Title() string {
	feel := "comfortable"
	switch s.Kind {
	case Check:
		feel = "check session"
	case Intervals:
		feel = "comfortable with " + string(s.Plan.Bouts()[0].Feel) + " parts"
	}
	return wording.Capital(s.Plan.Mode.Doing()) + ", " + feel
}

// How names the parts of a session in order, repeats put together: "5 min easy, 4 × (1 min brisk,
// 3 min comfortable), 5 min easy".
func (s Session) How() string {
	var out []string
	steps := s.Plan.Steps
	for i := 0; i < len(steps); i++ {
		x := steps[i]
		if x.Kind != workout.Work {
			out = append(out, Length(x.Seconds)+" "+part(x, s.Kind))
			continue
		}
		n := len(s.Plan.Bouts())
		if text := Length(x.Seconds) + " " + string(x.Feel); n == 1 {
			out = append(out, text)
		} else {
			out = append(out, fmt.Sprintf("%d × %s with %s comfortable in between", n, text, Length(steps[i+1].Seconds)))
		}
		i += 2*n - 2
	}
	return strings.Join(out, ", ")
}

// part names a step other than a bout.
func part(x workout.Step, k Kind) string {
	switch {
	case x.Kind == workout.WarmUp:
		return "easy to warm up"
	case x.Kind == workout.CoolDown:
		return "easy to cool down"
	case k == Check:
		return "comfortable at one steady speed"
	}
	return string(x.Feel)
}

// Alarms is the sentence about the alarms of a session; "" for a client who trains by effort.
func (s Session) Alarms() string {
	switch {
	case s.Low > 0 && s.High > 0:
		return "Watch alarms: low " + wording.Number(s.Low) + ", high " + wording.Number(s.High) + "."
	case s.High > 0:
		return "Watch alarm: high " + wording.Number(s.High) + "."
	}
	return ""
}

// Size says how many sessions there are and how long they last: "3 sessions of 36 minutes, warm-up and
// cool-down included", "3 sessions, two of 25 minutes and one of 35, ..."; "" without any.
func (w Week) Size() string {
	n := wording.Count(len(w.Sessions), "session")
	switch all := w.lengths(); len(all) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("%s of %d minutes, %s", n, all[0].minutes, included)
	default:
		return n + ", " + each(all) + ", " + included
	}
}

const included = "warm-up and cool-down included"

// lengthOf is how many sessions last so many minutes.
type lengthOf struct{ minutes, sessions int }

// lengths lists how long the sessions last, the shortest first.
func (w Week) lengths() []lengthOf {
	times := map[int]int{}
	for _, s := range w.Sessions {
		times[minutes(s.Plan.Seconds())]++
	}
	var out []lengthOf
	for _, m := range slices.Sorted(maps.Keys(times)) {
		out = append(out, lengthOf{m, times[m]})
	}
	return out
}

// each writes the lengths: "36 minutes each", "two of 25 minutes and one of 35".
func each(all []lengthOf) string {
	if len(all) == 1 {
		return fmt.Sprintf("%d minutes%s", all[0].minutes, wording.Verb(all[0].sessions, "", " each"))
	}
	var parts []string
	for i, x := range all {
		part := fmt.Sprintf("%s of %d", wording.Word(x.sessions), x.minutes)
		if i == 0 {
			part += " minutes"
		}
		parts = append(parts, part)
	}
	return wording.List(parts)
}

// Free says how freely the client may move the sessions.
func (w Week) Free() string {
	hard := 0
	for _, s := range w.Sessions {
		if s.Kind == Intervals {
			hard++
		}
	}
	switch {
	case hard > 1:
		return "These days are a suggestion: move a session if you need to, but keep a day between the harder ones."
	case len(w.Sessions) > 1:
		return "These days are a suggestion: move a session if you need to."
	}
	return ""
}

func minutes(seconds int) int { return int(math.Round(float64(seconds) / 60)) }

// Length writes the length of a part: "90 s", "3 min".
func Length(s int) string {
	if s%60 == 0 {
		return fmt.Sprintf("%d min", s/60)
	}
	if s < 120 {
		return fmt.Sprintf("%d s", s)
	}
	return fmt.Sprintf("%d min %d s", s/60, s%60)
}
