package reports

import (
	"errors"
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
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// decisionPage is the trainer's page of one client: what is recommended, on what it rests, and what
// was decided before.
type decisionPage struct {
	frame
	Name, Date     string
	Rungs          template.HTML
	Icon           template.HTML
	Word, More     string
	Summary        string
	Robustness     string
	Decided        string
	Facts          []fact
	Urgent         []string // a grave sign or an open question, before everything else
	Grave          bool     // nobody trains: no rule that is met stands beside it
	DataLacks      bool     // no verdict for want of data: then what is lacking is the answer
	Doctor         bool     // the verdict is to see a doctor first, or Grave
	Trained        string   // sessions since the sign
	Short          *inShort
	Distances      []distances
	Failed         []ruleRow   // rules that are not met and decide
	Others         []ruleGroup // all others: folded
	Memory         string      // explains the mark of sources, "" when none has it
	Zones          *chart
	Minutes        *chart
	Feeling        *chart
	Edges          []zoneRow
	EdgesNote      string
	Next, Accepted *nextWeek // as it stands, and if the trainer accepts the change that is recommended
	Proposed       []proposedZones
	Peaks          []string // above the maximum that the zones rest on
	Beats          bool     // heart rate may lead
	Sessions       []sessionRow
	Notes          []noteRow
	Aside          []asideRow
	Newest         []decisionRow // the latest decision
	Decisions      []decisionRow // those before it
	Older          string        // how many decisions are left out
	Stopped        string        // why there is no plan, when that came to light later
	Changed        string        // what changed after the assessment or the last decision
	Digest, Seal   string
	Book           string // the seal of the book, "" for none
	Roster, Client string // links
	care
}

type fact struct{ What, Value, More string }

type sessionRow struct {
	Day, What, Minutes, Comfortable, Effort, Talk, Enjoyment, Sensor string
	Link                                                             string
}

type noteRow struct{ Day, Text string }

type asideRow struct{ Day, Name, Why string }

// Decision makes the trainer's page of one client. It loads the runtime from its own folder.
func Decision(c Client) ([]byte, error) {
	p, err := decisionOf(c)
	err = errors.Join(err, paint(wholeWidth, p.Zones, p.Minutes, p.Feeling), paint(halfWidth, p.ruleCharts()...))
	if err != nil {
		return nil, err
	}
	if p.frame, err = p.scripted(); err != nil {
		return nil, err
	}
	p.frame = p.served("roster.html", c.Forms)
	return render("decision.html", p)
}

func decisionOf(c Client) (decisionPage, error) {
	a := c.Assessment
	p := decisionPage{
		frame: unscripted(c.Record.Client.Name + ": decision page of " + a.AsOf.Long()), Name: c.Record.Client.Name, Date: a.AsOf.Long(), Rungs: rungs(a.Stage), Icon: verdictIcon(a.Verdict),
		Word: wording.Capital(reasons.Standing(a)), More: verdictMore(c), Summary: summary(c), Robustness: reasons.Robustness(a.Robustness),
		Decided: decidedText(c), Facts: facts(c), Next: nextOf(c),
		Beats: beatsLead(c), Sessions: sessionRows(c), Notes: noteRows(c), Aside: asideRows(c), Digest: a.Policy, Seal: sealText(c), Book: c.Sealed, Stopped: c.Stopped, Changed: changedNotice(c),
		Proposed: proposedOf(c), Peaks: record.Map(c.Peaks, proposal.Peak.Text), Roster: FileName("roster", ""), Client: FileName("progress", c.Record.Client.Name), care: careOf(c, signs.Trainer),
	}
	if a.To != nil { // "Advance to stage 2", but "Hold, repeat this week"
		p.Word, p.More = p.Word+" "+p.More, ""
	}
	if c.IfAccepted != nil {
		accepted := c
		accepted.Next = c.IfAccepted
		p.Accepted = nextOf(accepted)
		if p.Next != nil && p.Accepted != nil { // what both weeks say is said once
			p.Next.Notes = slices.DeleteFunc(p.Next.Notes, func(n weekNote) bool { return slices.Contains(p.Accepted.Notes, n) })
		}
	}
	p.Decisions, p.Older = decisionRows(c)
	n := min(1, len(p.Decisions))
	p.Newest, p.Decisions = p.Decisions[:n], p.Decisions[n:]
	p.DataLacks = is(a, record.NotAssessable)
	p.Doctor, p.Trained, p.Short, p.Distances = is(a, record.Refer), trainedAfter(c), inShortOf(a), distancesOf(a.Reasons)
	p.urgent(reasons.First(a))
	if err := p.rules(c); err != nil {
		return p, err
	}
	if slices.ContainsFunc(a.Reasons, func(r record.Reason) bool { return r.FromMemory != "" }) {
		p.Memory = memoryNote
	}
	p.Edges, p.EdgesNote = edgeRows(c)
	return p, p.draw(c)
}

// rules sorts the rules: what fails and decides stands open, all else is folded. While a sign is grave only what has to
// be settled first is shown.
func (p *decisionPage) rules(c Client) (err error) {
	if p.Grave {
		p.Failed, err = ruleRows(c, func(r record.Reason) bool { return r.Kind == policy.Gate && !r.IsMet() })
		return err
	}
	fails := func(r record.Reason) bool { return r.IsUnmet() && decides(r) }
	if p.Failed, err = ruleRows(c, fails); err != nil {
		return err
	}
	for i := range p.Failed {
		if p.Short.says(p.Failed[i].Rule) {
			p.Failed[i].Text = ""
		}
	}
	for _, g := range []struct {
		name string
		is   func(r record.Reason) bool
	}{
		{"Not met, decides nothing", func(r record.Reason) bool { return r.IsUnmet() && !decides(r) }},
		{"Not enough data yet", func(r record.Reason) bool { return r.Met == nil }},
		{"Met", record.Reason.IsMet},
	} {
		rows, failed := ruleRows(c, g.is)
		if failed != nil {
			return failed
		}
		if len(rows) > 0 {
			p.Others = append(p.Others, ruleGroup{fmt.Sprintf("%s (%d)", g.name, len(rows)), rows})
		}
	}
	return nil
}

// ruleCharts are the charts of all rules.
func (p *decisionPage) ruleCharts() []*chart {
	out := record.Map(p.Failed, func(r ruleRow) *chart { return r.Chart })
	for _, g := range p.Others {
		out = append(out, record.Map(g.Rules, func(r ruleRow) *chart { return r.Chart })...)
	}
	return out
}

func (p *decisionPage) draw(c Client) (err error) {
	all, weeks := c.Assessment.Reasons, known(c.Weeks)
	if len(weeks) == 0 {
		return nil
	}
	effortDrawn := func(r record.Reason) bool {
		return (r.Rule == policy.Effort || r.Rule == policy.BoutEffort) && len(r.Points) > 1
	}
	if !slices.ContainsFunc(all, effortDrawn) {
		if p.Feeling, err = effortChart("effort", weeks); err != nil {
			return err
		}
	}
	if beatsLead(c) && slices.ContainsFunc(weeks, func(w record.Week) bool { return w.Zones.Sum() > 0 }) {
		p.Zones, err = zonesChart("zones", weeks)
	} else {
		p.Minutes, err = minutesChart("minutes", weeks, "Minutes of each week.")
	}
	return err
}

// urgent puts what cannot wait before everything else. While it is grave the gates stay, and nothing that
// is met or in favour.
func (p *decisionPage) urgent(all []reasons.Urgent) {
	for _, u := range all {
		p.Urgent = append(p.Urgent, u.Lines...)
	}
	if len(all) == 0 || !all[0].Grave {
		return
	}
	p.Grave, p.Doctor, p.Icon, p.Word = true, true, icons["refer"], all[0].Head
	p.More, p.Summary, p.Robustness, p.Short, p.Distances = "", "", "", nil, nil
	if p.Next != nil && p.Next.Sessions == "" {
		p.Next = nil // the head says it all
	}
	p.Proposed, p.Peaks = nil, nil
}

func decidedText(c Client) string {
	d := c.Record.Decided(c.Assessment.AsOf)
	if d == nil {
		return ""
	}
	return fmt.Sprintf("Decided on %s by %s: %s. %s", reasons.DecidedOn(*d), d.By, reasons.Act(d.Act), wording.Sentence(d.Because))
}

func facts(c Client) []fact {
	a := c.Assessment
	out := []fact{{"Stage", stageText(a), ""}}
	if a.Weeks > 0 {
		out[0].More = fmt.Sprintf("for %s, %d needed", wording.Plural(a.Week, "week", "weeks"), a.Weeks)
	}
	if n := len(c.Weeks); n > 0 {
		w := c.Weeks[n-1]
		out = append(out, fact{"Sessions in the last week", againstPlanned(w.Attended(), w.Plan), ""})
		f := fact{"Minutes in the last week", wording.Number(math.Round(w.Minutes)), "no plan"}
		if p := planned(w); p != nil {
			f.More = "of " + strconv.Itoa(*p) + " planned"
		} else if w.Plan != nil {
			f.More = "none planned"
		}
		out = append(out, f)
	}
	f := fact{What: "Last recording", Value: "none yet"}
	if d := lastRecording(c); d != 0 {
		f.Value, f.More = d.Long(), ago(d, a.AsOf)
	}
	out = append(out, f)
	for _, w := range c.Record.Client.Withdrawn {
		if w.On > a.AsOf-withdrawnFor {
			out = append(out, fact{"Taken off the record", wording.Capital(reasons.Withdrawn(w)), w.On.Long() + ": " + w.Because})
		}
	}
	return out
}

// withdrawnFor is the number of days for which the page shows what no longer holds training back: as long as a clearance
// counts.
const withdrawnFor = 365

func stageText(a record.Assessment) string {
	if a.Stage == 0 {
		return "none"
	}
	return strconv.Itoa(a.Stage)
}

// againstPlanned writes a number of sessions against the plan: "2 of 3".
func againstPlanned(n int, p *record.Prescription) string {
	switch {
	case p == nil:
		return strconv.Itoa(n) + ", no plan"
	case p.Sessions == 0:
		return strconv.Itoa(n) + ", none planned"
	}
	return strconv.Itoa(n) + " of " + strconv.Itoa(p.Sessions)
}

func lastRecording(c Client) workout.Date {
	var last workout.Date
	for _, r := range c.Record.Recordings {
		if r.Date <= c.Assessment.AsOf {
			last = max(last, r.Date)
		}
	}
	return last
}

// zonesFinding is what the zones show of the last week, in a line.
func zonesFinding(weeks []record.Week) string {
	last := weeks[len(weeks)-1]
	easy, known := comfortable(last.Zones)
	if known == 0 {
		return "No heart rate was recorded in the week to " + last.To.Long()
	}
	return percent(easy, known) + " of the last week’s recorded time was below the top of zone 1"
}

// edgeRows lists the zones in whole beats for each mode, as used for its latest recording.
func edgeRows(c Client) (rows []zoneRow, note string) {
	if !beatsLead(c) {
		return nil, ""
	}
	seen := map[workout.Mode]bool{}
	for _, r := range slices.Backward(c.Record.Recordings) {
		m := r.Workout.Sport.Mode()
		if e := r.Measured.Edges; e != nil && !seen[m] {
			seen[m] = true
			rows = append(rows, zoneRowOf(wording.Capital(m.Doing()), "", e))
			note = edges(e)
		}
	}
	return rows, note
}

// sessionRows lists the sessions of the last four weeks, newest first.
func sessionRows(c Client) []sessionRow {
	var out []sessionRow
	for _, w := range c.Weeks[max(0, len(c.Weeks)-4):] {
		for _, s := range w.Sessions {
			row := sessionRow{Day: s.Date.Short(), What: wording.Capital(s.Mode.Doing()), Minutes: wording.Number(math.Round(s.Minutes)), Comfortable: notRecorded,
				Effort: effort(s.RPE), Talk: talk(s.Talk), Enjoyment: "not asked", Sensor: "reported"}
			if s.Enjoyment > 0 {
				row.Enjoyment = strconv.Itoa(s.Enjoyment) + " of 5"
			}
			if n := len(s.Recordings); n > 1 {
				row.What += fmt.Sprintf(", %d recordings joined", n)
			}
			easy, known := 0, 0
			for _, r := range s.Recordings {
				row.Sensor = sensor(r.Measured.HeartRate.Source)
				if z := r.Measured.Zones; z != nil {
					e, k := comfortable(*z)
					easy, known = easy+e, known+k
				}
				if c.Workouts[r.ID] && row.Link == "" {
					row.Link = WorkoutFile(r)
				}
			}
			if known > 0 {
				row.Comfortable = percent(easy, known)
			}
			if s.Late {
				row.Sensor += ", received late"
			}
			out = append(out, row)
		}
	}
	slices.Reverse(out)
	return out
}

// noteRows lists what the client reported in the last four weeks besides effort and talk, and what
// somebody asked about it. Mornings with nothing but a resting heart rate stand in one line.
func noteRows(c Client) []noteRow {
	var out []noteRow
	var mornings []float64
	for i, n := range c.Record.Notes {
		if n.Date <= c.Assessment.AsOf-28 || n.Date > c.Assessment.AsOf {
			continue
		}
		says := record.Map(n.Symptoms, signs.Sign.Words)
		if len(says) > 0 && c.Record.TakenBack(i) {
			says[len(says)-1] += " (taken back: see what was asked)"
		}
		if n.HRRest > 0 && len(says) == 0 && n.HeatC == nil && n.Text == "" && reasons.Answer(n) == "" {
			mornings = append(mornings, n.HRRest)
			continue
		}
		if n.HRRest > 0 {
			says = append(says, "resting heart rate "+wording.Number(n.HRRest)+" bpm")
		}
		if n.HeatC != nil {
			says = append(says, wording.Number(*n.HeatC)+" °C")
		}
		if n.Text != "" {
			says = append(says, "“"+n.Text+"”")
		}
		text := strings.TrimSpace(wording.Sentence(strings.Join(says, "; ")) + " " + reasons.Answer(n))
		if text != "" {
			out = append(out, noteRow{n.Date.Long(), text})
		}
	}
	slices.Reverse(out)
	if len(mornings) > 0 {
		out = append(out, noteRow{"Resting heart rate", fmt.Sprintf("on %s: %s.", wording.Count(len(mornings), "morning"),
			span(slices.Min(mornings), slices.Max(mornings), "bpm"))})
	}
	return out
}

// notCountedFor is the number of days for which the page lists what does not count.
const notCountedFor = 42

// asideRows lists the recordings that were set aside, and what was done lately and does not count.
func asideRows(c Client) []asideRow {
	aside := record.Keep(c.Record.Recordings, func(r record.Recording) bool { return !r.Counts() })
	out := record.Map(aside, func(r record.Recording) asideRow {
		return asideRow{r.Date.Long(), r.Name, wording.Sentence(reasons.Text(r.Aside))}
	})
	for _, s := range c.Record.Done() {
		if s.Uncounted != "" && s.Date > c.Assessment.AsOf-notCountedFor {
			out = append(out, asideRow{s.Date.Long(), strings.TrimSpace(string(s.Sport) + " session"), wording.Sentence(reasons.NotCounted(s.Uncounted))})
		}
	}
	return out
}
