package web

import (
	"cmp"
	"net/http"
	"slices"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// clientsFile is the page of everybody in the book, newClientFile that of somebody who is not yet in it.
const (
	clientsFile   = "clients.html"
	newClientFile = "new-client.html"
)

// people adds the routes of the room Clients.
func (d *Desk) people(mux *http.ServeMux) {
	mux.Handle("GET /"+clientsFile, d.page(d.everybody))
	mux.Handle("GET /"+newClientFile, d.page(d.newClientPage))
	post := func(path string, fields func() []field, f doing) {
		mux.Handle("POST "+path, limited(maxForm, d.entry(path[1:], fields, f)))
	}
	post("/new-client", d.newClientFields, d.newClient)
	post("/facts", d.allFactFields, d.changeFacts)
	post("/state", stateFields, d.changeState)
	post("/suggestion", func() []field { return answerFields(d.on()) }, d.answerSuggestion)
	for _, form := range sayForms(d.on()) {
		post("/"+form.ID, func() []field { return form.Fields }, d.say(form.ID))
	}
	post("/withdraw", undoFields, d.withdraw)
	post("/recording", func() []field { return recordingFields(nil) }, d.changeRecording)
	for _, t := range fieldTests(d.on()) {
		mux.Handle("POST /"+t.ID, limited(maxTest, d.entry(t.ID, func() []field { return t.Fields }, d.readTest(t.ID))))
	}
}

// clientPage finds the page of a client that the room Clients has under a name; nil for none.
func (d *Desk) clientPage(name, who string) func(*http.Request, string) (content, error) {
	for kind, page := range map[string]func(*http.Request, string) (content, error){
		"facts": d.factsPage, "recordings": d.recordingsPage, "notes": d.notesPage, "tests": d.testsPage,
	} {
		if name == reports.FileName(kind, who) {
			return page
		}
	}
	return nil
}

// personPage is what the pages of one client in the room Clients have in common.
type personPage struct {
	result
	Client   string
	Pages    []reports.Room
	On       workout.Date
	By       string
	Stop     []string
	Cautions []string
}

func (d *Desk) person(r *http.Request, who, here string) (personPage, error) {
	by, err := d.by(r)
	if err != nil {
		return personPage{}, err
	}
	client, err := d.coach.Client(r.Context(), who)
	p := personPage{result: d.done.of(r.FormValue("done")), Client: who, On: d.on(), By: by, Stop: client.StopSigns(), Cautions: signs.Cautions(signs.Trainer)}
	p.Pages = pagesOf(who, here)
	return p, err
}

// pagesOf lists the pages of one client; here is the kind of the one that is shown.
func pagesOf(who, here string) (out []reports.Room) {
	for _, x := range []struct{ name, kind string }{
		{"Facts", "facts"}, {"Notes and sessions", "notes"}, {"Recordings", "recordings"}, {"Field tests", "tests"}, {"Decision page", "decision"}, {"For the doctor", "doctor"},
	} {
		out = append(out, reports.Room{Name: x.name, File: reports.FileName(x.kind, who), Here: x.kind == here})
	}
	return out
}

// clientsRoom makes a page of the room Clients from a template of the same name as its form.
func clientsRoom(head, lead, name string, form any) (content, error) {
	body, err := fill(name, form)
	if err != nil {
		return content{}, err
	}
	return html(reports.RoomPage(head, lead, clientsFile, body))
}

// clientsPage lists everybody in the book, those first whose training is held back.
type clientsPage struct {
	result
	Groups []clientGroup
}

// clientGroup are the clients whose training is held back, or of whom the same is missing.
type clientGroup struct {
	Held bool
	Do   []gap
	Rows []clientRow
}

// Name heads the group.
func (g clientGroup) Name() string {
	switch {
	case g.Held:
		return "Held back"
	case len(g.Do) == 0:
		return "Nothing is missing"
	}
	return "Missing: " + whats(g.Do)
}

// rank puts those first who are held back, then those who lack most.
func (g clientGroup) rank() int {
	if g.Held {
		return -len(gaps) - 1
	}
	return -len(g.Do)
}

// add puts a client into the group where they belong.
func (p *clientsPage) add(row clientRow) {
	g := clientGroup{Held: row.Held(), Do: row.Missing}
	if g.Held {
		g.Do = nil // each row says what it lacks
	}
	i := slices.IndexFunc(p.Groups, func(x clientGroup) bool { return x.Held == g.Held && slices.Equal(x.Do, g.Do) })
	if i < 0 {
		i = len(p.Groups)
		p.Groups = append(p.Groups, g)
	}
	p.Groups[i].Rows = append(p.Groups[i].Rows, row)
}

// Lacks names what is missing.
func (r clientRow) Lacks() string { return whats(r.Missing) }

// Held says that training is held back.
func (r clientRow) Held() bool { return len(r.Urgent)+len(r.Barred) > 0 }

// clientRow is one client: where they stand, what is missing and what to do.
type clientRow struct {
	Name, Facts string
	State       string
	Stage       int
	Zones       *zoneRow // of one activity
	ByEffort    bool
	Urgent      []reasons.Urgent
	Barred      []string
	Missing     []gap
}

// everybody is the page of everybody in the book.
func (d *Desk) everybody(r *http.Request) (content, error) {
	rows, err := ofEverybody(d, r, &d.everyone, d.clientRow)
	if err != nil {
		return content{}, err
	}
	page := clientsPage{result: d.done.of(r.FormValue("done"))}
	for _, row := range rows {
		page.add(row)
	}
	slices.SortStableFunc(page.Groups, func(a, b clientGroup) int { return a.rank() - b.rank() })
	lead := wording.Count(len(rows), "client") + " in this book."
	if len(rows) == 0 {
		lead = "Nobody is in this book yet. Begin with a first meeting."
	}
	return clientsRoom("Clients", lead, "clients", page)
}

func (d *Desk) clientRow(r *http.Request, who string) (row clientRow, err error) {
	on := d.on()
	rec, err := d.coach.Record(r.Context(), who, on, false)
	if err != nil {
		return row, err
	}
	c := rec.Client
	row = clientRow{Name: who, Facts: reports.FileName("facts", who), State: stateName(rec.StateOn(on)), ByEffort: c.ByEffort(), Missing: missing(c, on)}
	row.Stage, _ = rec.StageOn(on)
	if z := zonesNow(c, on); len(z) > 0 {
		row.Zones = &z[0]
	}
	if row.Urgent, err = d.coach.AtOnce(r.Context(), who, on); err != nil || len(row.Urgent) > 0 {
		return row, err
	}
	row.Barred, err = d.heldBack(r, who)
	return row, err
}

// heldBack says which gates hold training back, whatever is decided.
func (d *Desk) heldBack(r *http.Request, who string) ([]string, error) {
	all, harder, err := d.coach.HeldBack(r.Context(), who, d.on())
	return reasons.Texts(append(all, harder...)), err
}

// gap is a fact that is needed and not entered yet: its place among gaps.
type gap int

// gaps are what may be missing, the most important first, with what to do.
var gaps = []struct {
	what, do string
	of       func(c record.Client, z record.ZoneSet) bool
}{
	{"screening", "Ask the screening questions: no session is planned without the answers.",
		func(c record.Client, _ record.ZoneSet) bool { return c.Screening.On == 0 }},
	{"resting heart rate", "Have the resting heart rate counted on three mornings.",
		func(c record.Client, z record.ZoneSet) bool { return z.HRRest == 0 && !c.ByEffort() }},
	{"talk test or measured maximum", "Do a talk test: until then the zones rest on an estimate from age.",
		func(c record.Client, z record.ZoneSet) bool {
			return len(z.HRMax)+len(z.Edges) == 0 && z.T1 == 0 && !c.ByEffort()
		}},
	{"days and minutes", "Ask on how many days, and for how long, the client can train.",
		func(c record.Client, _ record.ZoneSet) bool { return c.Days == 0 || c.Minutes == 0 }},
	{"activities", "Ask which activities the client does.", func(c record.Client, _ record.ZoneSet) bool { return len(c.Modes) == 0 }},
	{"sex at birth", "Enter the sex at birth: published formulas need it.", func(c record.Client, _ record.ZoneSet) bool { return c.Sex == "" }},
}

// Do says what to do about it.
func (g gap) Do() string { return gaps[g].do }

// missing lists what has not been entered about a client, the most important first.
func missing(c record.Client, on workout.Date) (out []gap) {
	for i, g := range gaps {
		if g.of(c, c.ZonesOn(on)) {
			out = append(out, gap(i))
		}
	}
	return out
}

// whats names gaps in a list.
func whats(all []gap) string {
	return wording.List(record.Map(all, func(g gap) string { return gaps[g].what }))
}

// stateName is a state in the words of the desk.
func stateName(s record.State) string {
	return cmp.Or(map[record.State]string{
		record.Active: "training", record.PausedState: "paused", record.Maintaining: "maintaining by choice", record.RecoveryOf: "recovery phase", record.Finished: "finished",
	}[s], string(s))
}

// graveAnswers says what to do at once about the signs in a form, whether or not the form is entered.
func graveAnswers(facts coach.Facts) (out []string) {
	for s := range strings.SplitSeq(string(facts["signs"]), ",") {
		if sign := signs.Sign(strings.TrimSpace(s)); sign.Grave() {
			out = append(out, wording.Capital(sign.Words())+": "+sign.Advice(someDay))
		}
	}
	return out
}

// form is one form of a page.
type form struct {
	ID, Name, Button string
	Lead             string
	Fields           []field
	More             string // what the fields are called that are seldom needed; they follow the others
	MoreFrom         int    // the first of them
	MoreOpen, Open   bool
}

// First are the fields that are always shown.
func (f form) First() []field {
	if f.More == "" {
		return f.Fields
	}
	return f.Fields[:f.MoreFrom]
}

// Rest are the fields behind More.
func (f form) Rest() []field { return f.Fields[len(f.First()):] }

// clientOf finds whose form it is, and the page that the form stands on.
func (d *Desk) clientOf(r *http.Request, page string) (who, to string, err error) {
	who, err = d.coach.Named(r.Context(), r.PostFormValue("client"))
	if err != nil {
		return "", "", err
	}
	return who, reports.FileName(page, who), nil
}

// plain is what was typed into the fields of a form.
func plain(r *http.Request, fields []field) map[fault.Field]string {
	out := map[fault.Field]string{}
	for _, f := range fields {
		out[f.Name], _ = f.gathered(r.PostForm)
	}
	return out
}
