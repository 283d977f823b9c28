package hindsight

import (
	"encoding/json"
	"fmt"
	"strings"

	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// MarshalJSON adds the sentences to the facts.
func (e Entry) MarshalJSON() ([]byte, error) {
	type facts Entry
	return json.Marshal(struct {
		facts
		Agreed string `json:"agreement_text"`
		Came   string `json:"outcome_text"`
	}{facts(e), e.Agreed(), e.Came()})
}

// Agreed says how a decision compares with the recommendation, without blame: "moved up although the policy
// said hold".
func (e Entry) Agreed() string {
	if e.Agreement == Bolder || e.Agreement == MoreCareful {
		return reasons.Act(e.Decision.Act) + " " + e.Recommended()
	}
	return e.Recommended()
}

// Recommended is the same without what was done: "although the policy said hold".
func (e Entry) Recommended() string {
	untold := e.Decision.Verdict != nil && *e.Decision.Verdict == record.NotAssessable
	differs := e.Agreement == Bolder || e.Agreement == MoreCareful
	switch {
	case e.Agreement == NoRecommendation:
		return "no recommendation on that day"
	case differs && untold:
		return "although there was not enough data yet"
	case differs:
		return "although the policy said " + verdictOf(e.Decision.Verdict)
	case untold:
		return "there was not enough data yet"
	case e.Agreement == OwnChoice:
		return "the policy said " + verdictOf(e.Decision.Verdict)
	}
	return "as recommended"
}

// Came is what came of a decision, in one sentence for people.
func (e Entry) Came() string {
	o := e.Outcome
	switch {
	case e.Replaced:
		return "Undone before anything could come of it."
	case o.Days == 0:
		return "Too early to say: it starts on " + o.From.Long() + "."
	}
	parts := []string{o.sessions()}
	if o.Minutes != nil {
		parts = append(parts, fmt.Sprintf("%.0f min each", *o.Minutes/float64(*o.Sessions)))
	}
	parts = append(parts, o.effort(), o.enjoyed(), o.reported())
	s := o.span() + ": " + strings.Join(parts, ", ")
	more := []string{s, o.tired(), o.gone(), o.asked(), o.followed(), o.where(e.Stage)}
	return strings.Join(record.Keep(more, func(x string) bool { return x != "" }), "; ") + "."
}

// span names the time that could be looked at.
func (o Outcome) span() string {
	length := wording.Count(o.Days, "day")
	if o.Days == 1 {
		length = "day"
	}
	if o.Days%7 == 0 {
		length = []string{"week", "two weeks", "three weeks", "four weeks", "five weeks", "six weeks"}[o.Days/7-1]
	}
	until := map[string]string{"today": "since", "next-move": "until the next move", "": "after"}[o.Cut]
	return "In the " + length + " " + until
}

// sessions says how many of the prescribed sessions took place.
func (s Stretch) sessions() string {
	planned := "in the " + wording.Count(s.Weeks, "week") + " with a plan"
	if s.Weeks == 1 {
		planned = "in the one week with a plan"
	}
	whole := s.Days%7 == 0 && s.Weeks == s.Days/7
	done := "no session on record"
	if s.Sessions != nil {
		done = wording.Count(*s.Sessions, "session")
	}
	switch {
	case s.Prescribed == nil && s.Sessions == nil:
		return done
	case s.Prescribed == nil:
		return done + ", no plan on record"
	case *s.Prescribed == 0:
		return done + ", none prescribed"
	case whole && (s.Sessions == nil || *s.Done > *s.Prescribed):
		return fmt.Sprintf("%s (%d prescribed)", done, *s.Prescribed)
	case whole:
		return fmt.Sprintf("%d of %s", *s.Done, wording.Count(*s.Prescribed, "session"))
	case s.Sessions == nil:
		return fmt.Sprintf("%s (%d prescribed %s)", done, *s.Prescribed, planned)
	}
	return fmt.Sprintf("%s (%d of %d %s)", done, *s.Done, *s.Prescribed, planned)
}

// effort gives the range on each scale, the median where it adds something, and the median before.
func (o Outcome) effort() string {
	if len(o.Effort) == 0 {
		return "effort not recorded"
	}
	var out []string
	for _, e := range o.Effort {
		s := e.span()
		if e.Scale == 10 {
			s += " of 10"
		}
		var more []string
		if e.Answers.Answers > 2 && e.Lowest != e.Highest {
			more = append(more, "median "+wording.Number(e.Median))
		}
		for _, b := range o.Before.Effort {
			if b.Scale == e.Scale {
				more = append(more, wording.Number(b.Median)+" before")
			}
		}
		if len(more) > 0 {
			s += " (" + strings.Join(more, ", ") + ")"
		}
		out = append(out, s)
	}
	return "effort " + strings.Join(out, " and ")
}

// span writes the lowest and highest answer.
func (a Answers) span() string {
	if a.Lowest == a.Highest {
		return wording.Number(a.Lowest)
	}
	return wording.Number(a.Lowest) + " to " + wording.Number(a.Highest)
}

func (s Stretch) enjoyed() string {
	if s.Enjoyment == nil {
		return "enjoyment not asked about"
	}
	return "enjoyment " + s.Enjoyment.span() + " of 5"
}

func (s Stretch) reported() string {
	if s.Told == 0 {
		return "signs not asked about"
	}
	if len(s.Signs) == 0 {
		return "no signs"
	}
	out := record.Map(s.Signs, func(g Sign) string {
		if g.Times > 1 {
			return fmt.Sprintf("%s (%s)", g.Symptom.Words(), wording.Times(g.Times))
		}
		return g.Symptom.Words()
	})
	return "reported: " + strings.Join(out, ", ")
}

func (o Outcome) tired() string {
	var seen []string
	for _, w := range o.Weekly {
		if w.Tired != nil && *w.Tired {
			seen = append(seen, w.On.Short())
		}
	}
	switch len(seen) {
	case 0:
		return ""
	case 1:
		return "tiredness pattern in the week to " + seen[0]
	default:
		return "tiredness pattern in the weeks to " + wording.List(seen)
	}
}

func (o Outcome) gone() string {
	if o.Dropped == nil || !*o.Dropped {
		return ""
	}
	if o.Sessions == nil {
		return "nothing has come in and no pause was entered"
	}
	return fmt.Sprintf("no session on record in the last %s, no pause entered", wording.Count(o.Without, "day"))
}

// asked says when the policy first recommended less.
func (o Outcome) asked() string {
	var out []string
	known := map[record.Verdict]bool{}
	for _, w := range o.Weekly {
		if v := w.Verdict; v != nil && asksOf[*v] < asksOf[record.Hold] && !known[*v] {
			known[*v] = true
			what := map[record.Verdict]string{
				record.Ease: "an easier week", record.StepBack: "a step back", record.Refer: "seeing a doctor first",
			}[*v]
			out = append(out, what+" (from "+w.On.Short()+")")
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "the policy recommended " + strings.Join(out, ", then ")
}

func (o Outcome) followed() string {
	return strings.Join(record.Map(o.Followed, func(f Followed) string {
		if f.Act == record.DoAdvance {
			return fmt.Sprintf("%s to stage %d on %s", reasons.Act(f.Act), f.Stage, f.On.Short())
		}
		return reasons.Act(f.Act) + " on " + f.On.Short()
	}), ", ")
}

func (o Outcome) where(stage int) string {
	if o.Cut == "next-move" || stage == 0 {
		return ""
	}
	return fmt.Sprintf("still in stage %d", o.Stage)
}

// between writes days as people do, short within a sentence.
func between(d, on workout.Date) string {
	if d.Time().Year() == on.Time().Year() {
		return d.Short()
	}
	return d.Long()
}

func verdictOf(v *record.Verdict) string {
	if v == nil {
		return "none"
	}
	return reasons.Verdict(*v)
}
