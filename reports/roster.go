package reports

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"nextrung/internal/policy"
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
	Doctor           bool   // a doctor comes first
	Trained          string // sessions since the sign
	Proposed         bool   // other zones are proposed
	rank             int
}

// groupNames are the groups of the roster, who needs a decision first.
var groupNames = [...][2]string{
	{"Decide now", "something other than going on as before is recommended"},
	{"Cannot be told yet", "something has to be recorded or answered first"},
	{"Carry on", "one more week of the same"},
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
		g, rank := urgency(c)
		row := rosterRowOf(c)
		row.rank = rank
		rows[g] = append(rows[g], row)
	}
	for g, all := range rows {
		if len(all) == 0 {
			continue
		}
		slices.SortStableFunc(all, func(a, b rosterRow) int {
			if a.rank != b.rank {
				return a.rank - b.rank
			}
			return strings.Compare(a.Name, b.Name)
		})
		p.Groups = append(p.Groups, rosterGroup{groupNames[g][0], groupNames[g][1], all})
	}
	switch n := len(rows[0]); {
	case len(clients) == 0:
		p.Lead = "There are no clients yet."
	case n == 0:
		p.Lead = wording.Plural(len(clients), "client", "clients") + ". Nobody waits for a decision."
	default:
		p.Lead = fmt.Sprintf("%s. %s for a decision.", wording.Plural(len(clients), "client", "clients"), wording.Plural(n, "waits", "wait"))
	}
	return p
}

// urgency is a client's group on the roster and the rank within it.
func urgency(c Client) (group, rank int) {
	a := c.Assessment
	if a.Verdict == nil {
		return 4, 0
	}
	if decided(c.Record, a) != nil {
		return 3, 0
	}
	switch *a.Verdict {
	case record.NotAssessable:
		return 1, 0
	case record.Hold:
		if building(c) {
			return 2, 1
		}
		return 2, 0
	}
	return 0, a.Verdict.Urgency()
}

func rosterRowOf(c Client) rosterRow {
	a := c.Assessment
	name := c.Record.Client.Name
	row := rosterRow{
		Name: name, Decision: FileName("decision", name), Client: FileName("progress", name),
		Icon: verdictIcon(a.Verdict), Word: reasons.Standing(a), More: verdictMore(c), Rungs: rungs(a.Stage), Stage: stageText(a),
		Weeks: wording.Plural(a.Week, "week", "weeks"), Sessions: "none", Last: notRecorded, Doctor: is(a, record.Refer), Proposed: len(c.Proposed) > 0,
	}
	if len(a.Reasons) > 0 {
		if row.For, row.Against = weighs(a.Reasons); row.Doctor {
			row.For, row.Trained = "", trainedAfter(c)
		}
	}
	var lacks []string
	for _, l := range a.Lacking {
		lacks = append(lacks, reasons.Rule(l.Rule))
	}
	if is(a, record.NotAssessable) && len(lacks) > 0 {
		row.Lacking = some(lacks)
	}
	if n := len(c.Weeks); n > 0 {
		w := c.Weeks[n-1]
		row.Sessions = againstPlanned(len(w.Sessions), w.Plan)
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
	if len(words) == 0 {
		return "nothing"
	}
	if len(words) > 3 {
		return strings.Join(words[:3], ", ") + fmt.Sprintf(" and %d more", len(words)-3)
	}
	return wording.List(words)
}
