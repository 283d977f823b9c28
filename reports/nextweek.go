package reports

import (
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"

	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// nextWeek is the prescription in the client's words: what to know at a glance, and how each session goes.
type nextWeek struct {
	Days     string
	Sessions string
	Strip    []stripDay
	Beats    []beats
	Notes    []weekNote // what this week is about
	Plan     []plannedDay
	Said     []string // about the days
	Targets  []prescription.Target
	How      []string // what holds each week
	Around   []string // the sessions: flexibility before, at home, what the client enjoys
}

// weekNote is what a week is about, with its reason in one word of the program.
type weekNote struct {
	Code record.PlanCode
	Text string
}

// plannedDay is what to do on one or more days of next week.
type plannedDay struct{ Days, What, How string }

// stripDay is a day of a week in a row of seven.
type stripDay struct {
	Day, Minutes, More string // Minutes "" for a day off; More is what is special about the session
	Hard               bool
	Text               string // for those who do not see the row
}

// beats is one range of heart rates, large, with its place on a line; without a range, the effort leads.
type beats struct {
	Range, Unit, Title string
	Line               template.HTML
}

// weekly notes say what applies every week, so they fold away; the others are about this one.
var eachWeek = map[record.PlanCode]bool{record.ByHeartRate: true, record.KeepRecording: true, record.TellEffort: true}

// weekOf is next week laid over its days; nil when there is nothing to say of it.
func weekOf(c Client) *prescription.Week {
	if n := c.Next; n == nil || n.Sessions == 0 && len(n.Notes) == 0 {
		return nil
	}
	known := c.Known
	if known.Client.Name == "" {
		known = c.Record
	}
	return new(prescription.Lay(*c.Next, known, c.Assessment))
}

// nextOf puts the prescription into the client's words; nil when it says nothing.
func nextOf(c Client) *nextWeek {
	w := weekOf(c)
	if w == nil {
		return nil
	}
	n := &nextWeek{Days: days(w.From, w.To), Sessions: w.Size(), Targets: w.Targets, Around: w.Around(), Strip: strip(*w), Beats: beatsOfWeek(w.Targets)}
	for _, note := range w.Notes {
		if eachWeek[note.Code] {
			n.How = append(n.How, note.Text)
		} else {
			n.Notes = append(n.Notes, weekNote{note.Code, note.Text})
		}
	}
	n.Plan = record.Map(w.Groups(), func(g prescription.Group) plannedDay { return plannedDay{g.Days, g.What(), g.How()} })
	if free := w.Free(); free != "" {
		n.Said = append(n.Said, free)
	}
	n.Said = append(n.Said, w.Unkept...)
	return n
}

// strip lays a week's sessions over its days.
func strip(w prescription.Week) []stripDay {
	if len(w.Sessions) == 0 {
		return nil
	}
	var out []stripDay
	for d := w.From; d <= w.To; d++ {
		day := stripDay{Day: d.Time().Format("Mon 2")}
		minutes := 0
		for _, s := range w.Sessions {
			if s.Day != d {
				continue
			}
			minutes += int(math.Round(float64(s.Plan.Seconds()) / 60))
			if bouts := s.Plan.Bouts(); len(bouts) > 0 {
				day.Hard, day.More = true, fmt.Sprintf("%d × %s", len(bouts), prescription.Length(bouts[0].Seconds))
			} else if s.Kind == prescription.Check {
				day.More = "check"
			}
		}
		if minutes > 0 {
			day.Minutes = strconv.Itoa(minutes)
		}
		out = append(out, day)
	}
	return out
}

// beatsOfWeek are the heart rates of a week's parts on one line, so that they can be compared.
func beatsOfWeek(all []prescription.Target) []beats {
	low, high := 80.0, 180.0
	for _, t := range all {
		if t.To > 0 {
			low, high = min(low, math.Floor(t.To/10)*10-20), max(high, math.Ceil(t.To/10)*10)
		}
	}
	var out []beats
	for _, t := range all {
		b := beats{Title: t.Title, Unit: "beats a minute"}
		switch {
		case t.To > 0 && t.From > 0:
			b.Range = t.Low + "–" + t.High
		case t.To > 0:
			b.Range = "below " + t.High
		default:
			out = append(out, beats{Range: t.Effort, Unit: "effort on the scale from 6 to 20", Title: t.Title})
			continue
		}
		b.Line = beatLine(t, low, high)
		out = append(out, b)
	}
	return out
}

// beatLine draws a range of heart rates on a line from low to high.
func beatLine(t prescription.Target, low, high float64) template.HTML {
	const width, left, right = 320.0, 4.0, 4.0
	x := func(bpm float64) float64 { return left + (bpm-low)/(high-low)*(width-left-right) }
	from := low
	if t.From > 0 {
		from = t.From
	}
	colour := map[workout.Feel]string{workout.Comfortable: "z1", workout.Brisk: "z2", workout.Hard: "z3"}[t.Feel]
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="line" viewBox="0 0 %.0f 26" aria-hidden="true" focusable="false"><path class="track" d="M%.1f 7H%.1f"/><path class="%s" d="M%.1f 7H%.1f"/>`, width, left, width-right, colour, x(from), x(t.To))
	mark := func(bpm float64, anchor string) {
		fmt.Fprintf(&b, `<text x="%.1f" y="24" text-anchor="%s">%s</text>`, x(bpm), anchor, wording.Number(bpm))
	}
	mark(low, "start")
	if t.From > low+12 && x(t.To)-x(t.From) > 26 {
		mark(t.From, "middle")
	}
	if t.To < high-12 {
		mark(t.To, "middle")
	}
	mark(high, "end")
	b.WriteString("</svg>")
	return template.HTML(b.String())
}
