package reports

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/policy"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// rosterPage is the trainer's page of all clients at a glance.
type rosterPage struct {
	frame
	Date   string
	Lead   string
	Groups []rosterGroup
}

type rosterGroup struct {
	Name, More string
	Rows       []rosterRow
}

type rosterRow struct {
	Name             string
	Decision, Client string // links
	Icon             template.HTML
	Word, More       string
	For, Against     string
	Lacking          string
	Rungs            template.HTML
	Stage, Weeks     string
	Sessions, Dates  string
	Last, LastAgo    string
	Urgent           []string // a grave sign or an open question
	Doctor           bool     // a doctor comes first, or a question about a grave sign
	Trained          string   // sessions since the sign
	Proposed         bool     // other zones are proposed
	Peaks            []string // above the maximum that the zones rest on
	rank             int
}

// groupNames are the groups of the roster: what cannot wait, then decisions due, then the rest.
var groupNames = [...][2]string{
	{"Unanswered", "it may be a grave sign: ask today; no training until you have an answer"},
	{"A doctor first", "follow the instruction beside each name"},
	{"Also unanswered", "ask before the next session; comfortable sessions only until you have an answer"},
	{"Decide now", "a change is recommended"},
	{"Not enough data yet", "something needs to be recorded or answered first"},
	{"Carry on", "another week in the same stage"},
	{"Decided", "a decision was entered on this date or later"},
	{"Not assessed now", ""},
}

// Roster makes the trainer's page of all clients on one day. It has no charts and needs no runtime.
func Roster(asOf workout.Date, clients []Client) ([]byte, error) {
	p := rosterOf(asOf, clients)
	p.frame = unscripted("Roster of " + p.Date)
	return render("roster.html", p)
}

func rosterOf(asOf workout.Date, clients []Client) rosterPage {
	p := rosterPage{Date: asOf.Long()}
	rows := make([][]rosterRow, len(groupNames))
	for _, c := range clients {
		row := rosterRowOf(c)
		var g int
		g, row.rank = urgency(c)
		rows[g] = append(rows[g], row)
	}
	for g, all := range rows {
		if len(all) == 0 {
			continue
		}
		slices.SortStableFunc(all, func(a, b rosterRow) int { return cmp.Or(a.rank-b.rank, strings.Compare(a.Name, b.Name)) })
		p.Groups = append(p.Groups, rosterGroup{groupNames[g][0], groupNames[g][1], all})
	}
	p.Lead = wording.Plural(len(clients), "client", "clients") + "."
	switch n := len(rows[3]); {
	case len(clients) == 0:
		p.Lead = "There are no clients yet."
	case n == 0:
		p.Lead += " No decision is due."
	default:
		p.Lead += " " + wording.Plural(n, "decision is", "decisions are") + " due."
	}
	switch n := len(rows[0]) + len(rows[1]); n {
	case 0:
	case 1:
		p.Lead += " See to the client at the top first."
	default:
		p.Lead += fmt.Sprintf(" See to the %d clients at the top first.", n)
	}
	return p
}

// urgency is a client's group on the roster and the rank within it.
func urgency(c Client) (group, rank int) {
	a := c.Assessment
	switch {
	case a.Doubt() != nil:
		return 0, 0
	case is(a, record.Refer):
		return 1, 0
	case len(a.Unanswered) > 0:
		return 2, 0
	case a.Verdict == nil:
		return 7, 0
	case c.Record.Decided(a.AsOf) != nil:
		return 6, 0
	case is(a, record.NotAssessable):
		return 4, 0
	case is(a, record.Hold) && building(c):
		return 5, 1
	case is(a, record.Hold):
		return 5, 0
	}
	return 3, a.Verdict.Urgency()
}

func rosterRowOf(c Client) rosterRow {
	a := c.Assessment
	name := c.Record.Client.Name
	row := rosterRow{
		Name: name, Decision: FileName("decision", name), Client: FileName("progress", name),
		Icon: verdictIcon(a.Verdict), Word: reasons.Standing(a), More: verdictMore(c), Rungs: rungs(a.Stage), Stage: stageText(a),
		Sessions: "none", Last: notRecorded, Doctor: is(a, record.Refer), Proposed: len(c.Proposed) > 0,
		Peaks: record.Map(c.Peaks, proposal.Peak.Short),
	}
	if a.Running > 0 {
		row.Weeks = "week " + strconv.Itoa(a.Running)
	}
	if row.For, row.Against = weighs(a.Reasons); row.Doctor {
		row.For = ""
	}
	if is(a, record.NotAssessable) {
		row.Lacking = some(record.Map(a.Lacking, func(l record.Lack) string { return reasons.Rule(l.Rule) }))
	}
	row.Trained = trainedAfter(c)
	row.urgent(reasons.First(a))
	if n := len(c.Weeks); n > 0 {
		w := c.Weeks[n-1]
		row.Sessions = againstPlanned(w.Attended(), w.Plan)
		row.Dates = wording.Number(math.Round(w.Minutes)) + " min"
		if p := planned(w); p != nil && *p > 0 {
			row.Dates += " of " + wording.Number(float64(*p))
		}
	}
	if d := lastRecording(c); d != 0 {
		row.Last, row.LastAgo = shortDay(d, a.AsOf), ago(d, a.AsOf)
	}
	return row
}

// urgent puts what cannot wait in the place of what is in favour, against or not known yet.
func (r *rosterRow) urgent(all []reasons.Urgent) {
	for _, u := range all {
		r.Urgent = append(r.Urgent, u.Lines...)
	}
	if len(all) == 0 {
		return
	}
	r.For, r.Against, r.Lacking = "", "", ""
	if all[0].Grave {
		r.Doctor, r.Icon, r.Word, r.More, r.Proposed, r.Peaks = true, icons["refer"], all[0].Head, "", false, nil
	}
}

// weighs names what is in favour of and against a move in one line each: the heart rate first, since the
// rest can be seen at a glance.
func weighs(all []record.Reason) (for_, against string) {
	var pro, con []string
	for _, kind := range []policy.Kind{policy.Gate, policy.StepBackRule, policy.Evidence, policy.Required} {
		for _, r := range all {
			switch {
			case r.Kind != kind || r.Met == nil || r.Rule == policy.EnoughEvidence:
			case !*r.Met:
				con = append(con, reasons.Against(r.Rule))
			case kind == policy.Evidence || kind == policy.Required:
				pro = append(pro, reasons.Rule(r.Rule))
			}
		}
	}
	return some(pro), some(con)
}

// some lists up to three words and says how many more there are.
func some(words []string) string {
	if len(words) > 3 {
		return strings.Join(words[:3], ", ") + fmt.Sprintf(" and %d more", len(words)-3)
	}
	return wording.List(words)
}
