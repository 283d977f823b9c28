package reports

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"nextrung/internal/policy"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
)

// Part is a part of the trainer's week, in the order of the page.
type Part int

// The parts. What cannot wait comes first.
const (
	Unanswered Part = iota
	DoctorFirst
	ToDecide
	Waiting
	GoingOn
	NotAssessed
)

// WeekRow is what the desk shows of one client among all of them.
type WeekRow struct {
	Name, Decision, Client string // the last two are pages
	ID                     string // of the row on the page
	Part                   Part
	Rank                   int // within the part
	Decided                bool
	Icon, Rungs            template.HTML
	Word, More             string
	Facts                  []WeekFact
	Against                string // the strongest of what is against the move, or what is needed
	Open                   string // what there is too little data for
	Same                   *Same
	Minutes                string
	Done, Planned          int           // sessions of the last week
	Sessions               template.HTML // a picture of them
	Urgent                 []string
	Doctor                 bool
	Trained                string
	Beside                 []string // what the trainer may want to look at
}

// WeekFact is what decides a verdict: its figure against its limit.
type WeekFact struct {
	Name, Value, Unit, Limit string
	Met                      bool
	Scale                    template.HTML
}

// Same is in how many repeats of an assessment the verdict was the same.
type Same struct {
	Times, Of int
	Text      string
	Picture   template.HTML
}

// WeekRowOf makes the row of a client.
func WeekRowOf(c Client) WeekRow {
	a, name := c.Assessment, c.Record.Client.Name
	shown := rosterRowOf(c)
	row := WeekRow{
		Name: name, ID: RowID(name), Decision: shown.Decision, Client: shown.Client, Icon: shown.Icon, Rungs: shown.Rungs,
		Word: wording.Capital(shown.Word), More: shown.More, Open: shown.Lacking, Minutes: shown.Dates, Urgent: shown.Urgent,
		Doctor: shown.Doctor, Trained: shown.Trained, Beside: record.Map(c.Peaks, proposal.Peak.Short),
	}
	row.Part, row.Rank = weekPart(c)
	if shown.Proposed {
		row.Beside = append(row.Beside, "Different zones are suggested.")
	}
	if n := len(c.Weeks); n > 0 {
		row.Done = c.Weeks[n-1].Attended()
		if p := c.Weeks[n-1].Plan; p != nil {
			row.Planned = p.Sessions
		}
		row.Sessions = sessionsPicture(row.Done, row.Planned)
	}
	if len(row.Urgent) > 0 || row.Doctor {
		return row
	}
	var facts []record.Reason
	if row.Part == ToDecide {
		facts = weekFacts(a)
	}
	row.Facts = record.Map(facts, weekFactOf)
	if rule, name := strongest(a); !slices.ContainsFunc(facts, func(r record.Reason) bool { return r.Rule == rule }) {
		row.Against = name
	}
	if r := a.Robustness; r != nil && r.Draws > 0 {
		times := int(math.Round(r.SameVerdict * float64(r.Draws)))
		row.Same = &Same{times, r.Draws, reasons.Robustness(r), sharePicture(r.SameVerdict)}
	}
	return row
}

func weekPart(c Client) (Part, int) {
	switch group, rank := urgency(c); group {
	case 0, 2:
		return Unanswered, group
	case 1:
		return DoctorFirst, 0
	case 3:
		return ToDecide, rank
	case 4:
		return Waiting, 0
	case 5:
		return GoingOn, rank
	case 6: // decided today: it stays where it was
		undecided := c
		undecided.Record.Decisions = nil
		return weekPart(undecided)
	}
	return NotAssessed, 0
}

// weekFacts are the three figures that say most about a verdict: what calls for less, then what is against a move, the
// heart rate before the rest, then what is in favour.
func weekFacts(a record.Assessment) []record.Reason {
	all := record.Keep(a.Reasons, func(r record.Reason) bool {
		return r.Observed != nil && r.Threshold != nil && r.Met != nil && (r.Kind == policy.Required || r.Kind == policy.Evidence || r.Kind == policy.StepBackRule && !*r.Met) &&
			r.Rule != policy.EnoughEvidence
	})
	place := func(r record.Reason) int {
		switch {
		case r.Kind == policy.StepBackRule:
			return 0
		case !*r.Met && r.Kind == policy.Evidence:
			return 1
		case !*r.Met:
			return 2
		case slices.Contains([]policy.ID{policy.Effort, policy.BoutEffort, policy.UsualEffort, policy.Forecast}, r.Rule):
			return 3 // what the client says weighs as much as the heart
		case r.Kind == policy.Evidence:
			return 4
		}
		return 5
	}
	slices.SortStableFunc(all, func(a, b record.Reason) int { return place(a) - place(b) })
	if len(all) > 3 && place(all[0]) >= 3 && place(all[1]) >= 4 { // with nothing against: the heart first, then the effort
		all[0], all[1] = all[1], all[0]
	}
	return all[:min(3, len(all))]
}

func weekFactOf(r record.Reason) WeekFact {
	f := WeekFact{Name: reasons.Rule(r.Rule), Value: wording.Number(*r.Observed), Limit: "limit " + wording.Number(*r.Threshold), Met: *r.Met, Scale: bareScale(r)}
	if !f.Met {
		f.Name = reasons.Against(r.Rule)
	}
	f.Name = wording.Capital(f.Name)
	if r.Is == policy.AtLeast {
		f.Limit = "needed " + wording.Number(*r.Threshold)
	}
	switch {
	case r.Unit.Share():
		f.Value += " %"
	case r.Unit == policy.UnitRPE: // the name says effort
	case slices.Contains([]policy.ID{policy.SameEffort, policy.Fall, policy.Resting, policy.Creep, policy.CheckSession}, r.Rule):
		f.Unit = "bpm"
	default:
		f.Unit = string(r.Unit.Of(*r.Observed))
	}
	return f
}

// sessionsPicture draws the sessions of a week as dots: those done, and in outline those planned beside them.
func sessionsPicture(done, planned int) template.HTML {
	n := min(14, max(done, planned))
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="dots" viewBox="0 0 %d 12" width="%d" height="12" role="img" aria-label="%d of %d sessions">`, 13*n+1, 13*n+1, done, planned)
	for i := range n {
		class := "step"
		if i < done {
			class = "past"
		}
		fmt.Fprintf(&b, `<circle class="%s" cx="%d" cy="6" r="4.5"/>`, class, 13*i+6)
	}
	b.WriteString(`</svg>`)
	return template.HTML(b.String())
}

// strongest is what weighs most against a move up: the first rule that is not met, or else what is worth a look.
func strongest(a record.Assessment) (rule policy.ID, name string) {
	for _, kind := range []policy.Kind{policy.Gate, policy.StepBackRule, policy.Evidence, policy.Required, policy.Informative} {
		for _, r := range a.Reasons {
			if r.Kind == kind && r.IsUnmet() && r.Rule != policy.EnoughEvidence {
				return r.Rule, wording.Capital(reasons.Against(r.Rule))
			}
		}
	}
	return "", ""
}

// bareScale is scale without its numbers, which stand beside it.
func bareScale(r record.Reason) template.HTML {
	from, to := scaleRange(r)
	const left, right, line = 5.0, 115.0, 8.0
	x := func(v float64) float64 { return left + (v-from)/(to-from)*(right-left) }
	edge := x(*r.Threshold)
	good := [2]float64{left, edge}
	if r.Is == policy.AtLeast {
		good = [2]float64{edge, right}
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="bare scale" viewBox="0 0 120 16" aria-hidden="true" focusable="false"><path class="axis" d="M%.1f %.1fH%.1f"/><path class="good" d="M%.1f %.1fH%.1f"/>`,
		left, line, right, good[0], line, good[1])
	if r.Low != nil && r.High != nil {
		fmt.Fprintf(&b, `<path class="span" d="M%.1f %.1fH%.1f"/>`, x(*r.Low), line, x(*r.High))
	}
	fmt.Fprintf(&b, `<path class="edge" d="M%.1f 2v12"/><circle class="value" cx="%.1f" cy="%.1f" r="4"/></svg>`, edge, x(*r.Observed), line)
	return template.HTML(b.String())
}

// sharePicture draws a share as the filled part of a row of ten.
func sharePicture(share float64) template.HTML {
	var b strings.Builder
	b.WriteString(`<svg class="share" viewBox="0 0 82 8" aria-hidden="true" focusable="false">`)
	for i := range 10 {
		class := "past"
		if float64(i)+0.5 > share*10 {
			class = "step"
		}
		fmt.Fprintf(&b, `<rect class="%s" x="%.1f" y="1" width="6" height="6" rx="1.5"/>`, class, 1+8.2*float64(i))
	}
	b.WriteString(`</svg>`)
	return template.HTML(b.String())
}

// CompareWeek orders rows as the page does.
func CompareWeek(a, b WeekRow) int {
	return cmp.Or(int(a.Part)-int(b.Part), a.Rank-b.Rank, strings.Compare(a.Name, b.Name))
}

// RowID names the row of a client on the page.
func RowID(client string) string { return fileStem("row", client) }
