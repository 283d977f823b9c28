package web

import (
	"bytes"
	"cmp"
	"html/template"
	"maps"
	"net/http"
	"slices"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/reports"
)

// jobDays is how many days the weekly job may take: what was decided or sent in that time is done
// (common practice, no source).
const jobDays = 4

// weekPage is the trainer's page of all clients: the weekly job from the top down.
type weekPage struct {
	result
	Date     string
	First    []weekPart // what stands before everything else
	Parts    []weekPart
	Squares  []bool // for each client, whether nothing is left to do
	Left     int    // clients who have something to be done for
	Of       int
	Sessions int // done in the last week
	Planned  int
	Files    filesForm
	Clients  []string
	By       string
	Empty    bool
}

type weekPart struct {
	ID, Name, More string
	Count          int
	Rows           []template.HTML
}

// partNames are the parts of the week on the page.
var partNames = map[reports.Part][2]string{
	reports.Unanswered:  {"Unanswered", "ask before anything else"},
	reports.DoctorFirst: {"A doctor first", "follow the instruction beside each name; no training until a doctor has cleared them"},
	reports.ToDecide:    {"Decide", "one tap accepts what is recommended"},
	reports.Waiting:     {"Waiting for data", ""},
	reports.GoingOn:     {"Carry on", ""},
	reports.NotAssessed: {"Away", ""},
}

// weekRow is a client's row with what was done of this week's job.
type weekRow struct {
	reports.WeekRow
	Questions []questionForm
	Twins     []twinForm
	Rests     string
	Chosen    record.Act // the recommended decision; "" where none is due
	Accept    string     // in words
	Act       string     // what was decided in this job, in words
	Answered  bool       // the client's answers of this job are in
	Sent      bool       // the plan that stands was sent
	Changed   bool       // another plan was sent in this job
	Complete  bool       // nothing is left to do
	Page      string     // where the row's forms lead back to
	Panel     *clientForm
}

// line is a row while it is closed, and what the page counts of it.
type line struct {
	row    weekRow
	closed template.HTML
	away   bool // had not begun by the day
}

// week is the page of all clients; the client whose row stands open may be named.
func (d *Desk) week(r *http.Request) (content, error) {
	return d.weekWith(r, r.FormValue("open"), nil)
}

// weekWith shows a row open, with a message that was just read.
func (d *Desk) weekWith(r *http.Request, open string, read *messageForm) (content, error) {
	lines, err := d.lines(r)
	if err != nil {
		return content{}, err
	}
	p := weekPage{result: d.done.of(r.FormValue("done")), Date: d.on().Long(), Empty: len(lines) == 0}
	if p.By, err = d.by(r); err != nil {
		return content{}, err
	}
	if p.Files, err = d.files(r); err != nil {
		return content{}, err
	}
	parts := map[reports.Part]*weekPart{}
	for _, l := range lines {
		p.Clients = append(p.Clients, l.row.Name)
		if l.away {
			continue
		}
		p.Of++
		p.Sessions, p.Planned = p.Sessions+min(l.row.Done, l.row.Planned), p.Planned+l.row.Planned
		p.Squares = append(p.Squares, l.row.Complete)
		if !l.row.Complete {
			p.Left++
		}
		part := parts[l.row.Part]
		if part == nil {
			name := partNames[l.row.Part]
			part = &weekPart{ID: "part-" + string('a'+rune(l.row.Part)), Name: name[0], More: name[1]}
			parts[l.row.Part] = part
		}
		if part.Count++; l.row.Name == open {
			if l.closed, err = d.opened(r, l.row, p.result, read); err != nil {
				return content{}, err
			}
		}
		part.Rows = append(part.Rows, l.closed)
	}
	if open != "" {
		p.result = result{} // it stands in the row
	}
	slices.SortFunc(p.Squares, func(a, b bool) int {
		if a == b {
			return 0
		} else if a {
			return -1
		}
		return 1
	})
	for _, k := range slices.Sorted(maps.Keys(parts)) {
		if k <= reports.DoctorFirst {
			p.First = append(p.First, *parts[k])
		} else {
			p.Parts = append(p.Parts, *parts[k])
		}
	}
	slices.Sort(p.Clients)
	forms, err := fill("week", p)
	if err != nil {
		return content{}, err
	}
	return html(reports.RoomPage("Week to "+d.on().Time().Format("Monday 2 January"), "", reports.FileName("roster", ""), forms))
}

// lines are the rows of all clients in the order of the page. A row is made again only when something that it depends on
// has changed.
func (d *Desk) lines(r *http.Request) ([]line, error) {
	out, err := ofEverybody(d, r, &d.rows, d.line)
	slices.SortStableFunc(out, func(a, b line) int { return reports.CompareWeek(a.row.WeekRow, b.row.WeekRow) })
	return out, err
}

// line is the row of one client.
func (d *Desk) line(r *http.Request, who string) (line, error) {
	s, err := d.standing(r, who)
	if err != nil {
		return line{}, err
	}
	if !s.Begun() {
		return line{row: weekRow{WeekRow: reports.WeekRow{Name: who}}, away: true}, nil
	}
	row, err := d.rowOf(r, s)
	if err != nil {
		return line{}, err
	}
	b, err := fill("row", row)
	return line{row: row, closed: b}, err
}

func (d *Desk) rowOf(r *http.Request, s coach.Standing) (weekRow, error) {
	a, on, who := s.Assessment, d.on(), s.Record.Client.Name
	row := weekRow{WeekRow: reports.WeekRowOf(s.Shown()), Rests: restsOn(a), Page: "roster.html"}
	row.Urgent = nil
	for _, u := range reasons.First(a) {
		if u.Asks == nil {
			row.Urgent = append(row.Urgent, u.Lines...)
			continue
		}
		q := questionOf(who, row.ID, row.Page, *u.Asks, on)
		q.Until = strings.Join(u.Lines[1:], " ")
		row.Questions = append(row.Questions, q)
	}
	if row.Part == reports.ToDecide && a.Verdict != nil {
		row.Chosen = record.Act(*a.Verdict)
		row.Accept = actWords(record.Act(*a.Verdict), a.Stage)
	}
	if dec := s.Record.Decided(on - jobDays + 1); dec != nil {
		row.Act = decidedWords(*dec)
	}
	row.Answered = slices.ContainsFunc(s.Record.Notes, func(n record.Note) bool { return n.Entered > on-jobDays && !n.NoSign })
	ticks, err := d.coach.Ticks(r.Context(), who)
	if err != nil {
		return row, err
	}
	row.Twins = twins(s.Record, on, ticks)
	plan := planDigest(s.Next)
	for _, t := range ticks {
		if t.What == record.PlanSent && t.Day > on-jobDays {
			row.Sent, row.Changed = t.Of == plan, t.Of != plan
		}
	}
	row.Complete = len(row.Questions)+len(row.Twins) == 0 && row.Sent && (row.Part != reports.ToDecide || row.Act != "") || row.Part == reports.NotAssessed
	return row, nil
}

// opened is a row with everything that can be done for the client.
func (d *Desk) opened(r *http.Request, row weekRow, did result, read *messageForm) (template.HTML, error) {
	form, err := d.panel(r, row.Name, cmp.Or(read, did.typed))
	if err != nil {
		return "", err
	}
	form.result, form.Page, form.ID = did, row.Page, row.ID
	row.Panel = &form
	return fill("row", row)
}

// fill fills one of the desk's templates.
func fill(name string, form any) (template.HTML, error) {
	var b bytes.Buffer
	err := templates.ExecuteTemplate(&b, name+".html", form)
	return template.HTML(b.String()), err
}

// planDigest names a plan, so that one that differs from what was sent is noticed.
func planDigest(p record.Prescription) string { return digestOf(p) }
