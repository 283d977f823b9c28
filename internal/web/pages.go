package web

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"net/http"
	"sync"

	"nextrung/internal/answers"
	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// file is whatever a page names: another page, the charts' runtime, a picture, a calendar. The name is compared
// with those of what the book holds and never used as a path.
func (d *Desk) file(r *http.Request) (content, error) {
	name := r.PathValue("file")
	runtime, js, err := reports.Runtime()
	switch {
	case err != nil:
		return content{}, err
	case name == runtime:
		return content{kind: "text/javascript; charset=utf-8", body: js}, nil
	case name == reports.ServedStyle:
		return content{kind: "text/css; charset=utf-8", body: style}, nil
	case name == reports.ServedScript:
		js, err := reports.DeskScript()
		return content{kind: "text/javascript; charset=utf-8", body: js}, err
	case name == reports.FileName("roster", ""):
		return d.week(r)
	}
	names, err := d.coach.Clients(r.Context())
	if err != nil {
		return content{}, err
	}
	for _, who := range names {
		switch name {
		case reports.FileName("decision", who):
			return d.decision(r, who, nil)
		case reports.FileName("progress", who):
			return d.progress(r, who)
		case reports.FileName("doctor", who):
			return d.doctor(r, who)
		case reports.PictureName(who):
			return d.picture(r, who)
		case calendarName(who):
			return d.calendar(r, who)
		}
		if page := d.clientPage(name, who); page != nil {
			return page(r, who)
		}
	}
	return d.byRecord(r, names, name)
}

// byRecord finds the page of a recording or the watch file of a planned session by its name. Nobody is assessed, and no
// plan is made, before the name is known to be one of theirs.
func (d *Desk) byRecord(r *http.Request, names []string, name string) (content, error) {
	for _, who := range names {
		if n := d.plannedSession(who, name); n > 0 {
			return d.watchFile(r, who, n)
		}
	}
	rec, ok, err := d.coach.FindRecording(r.Context(), func(client, id string) bool {
		return reports.WorkoutFile(record.Recording{Client: client, ID: id}) == name
	})
	if err != nil || !ok {
		return content{}, cmp.Or(err, error(errNoPage))
	}
	s, err := d.shown(r, rec.Client)
	if err != nil {
		return content{}, err
	}
	return html(d.coach.WorkoutPage(r.Context(), rec, s.client))
}

// plannedSession is the number in the week of a client's planned session whose file has that name; 0 for none.
func (d *Desk) plannedSession(who, name string) int {
	for on := d.on() - 6; on <= d.on()+7; on++ {
		for n := 1; n <= 7; n++ {
			if reports.SessionFile(on, n, who) == name {
				return n
			}
		}
	}
	return 0
}

func (d *Desk) watchFile(r *http.Request, who string, n int) (content, error) {
	s, err := d.shown(r, who)
	if err != nil || s.barred || n > len(s.week.Sessions) || reports.SessionFile(s.week.Sessions[n-1].Day, n, who) != r.PathValue("file") {
		return content{}, errNoPage // a client who must not train has no files, and a plan may have changed
	}
	b, err := coach.WatchWorkout(s.week, s.week.Sessions[n-1])
	return content{kind: "application/octet-stream", name: r.PathValue("file"), body: b}, err
}

func (d *Desk) standing(r *http.Request, who string) (coach.Standing, error) {
	all, err := d.coach.Standings(r.Context(), []string{who}, d.on())
	if err != nil {
		return coach.Standing{}, err
	}
	return all[0], nil
}

// shown is what the desk shows of one client. It is made once until something of it changes.
type shown struct {
	client             reports.Client
	week               prescription.Week
	barred             bool // something that was entered since stops the week
	plan               string
	decision, progress func() ([]byte, error)
}

// formsHere marks the place of the forms on a page that was made before them.
const formsHere = `<div id="forms-here"></div>`

func (d *Desk) shown(r *http.Request, who string) (*shown, error) {
	versions, err := d.coach.Versions(r.Context())
	if err != nil {
		return nil, err
	}
	return d.clients.get(who, restsUpon{versions[who], d.on()}, func() (*shown, error) {
		standing, err := d.standing(r, who)
		if err != nil {
			return nil, err
		}
		s := new(shown)
		if s.client, err = d.coach.Page(r.Context(), standing); err != nil {
			return nil, err
		}
		s.client.Workouts = map[string]bool{}
		for _, rec := range standing.Record.Recordings {
			s.client.Workouts[rec.ID] = true
		}
		s.plan = planDigest(standing.Next)
		// A client who must not train has a message that says so, and no files.
		week, _, err := d.coach.Prescribe(r.Context(), who, d.on())
		var stops *fault.Error
		if s.week, s.barred = week, errors.As(err, &stops); err != nil && !s.barred {
			return nil, err
		}
		framed := s.client
		framed.Forms = formsHere
		s.decision = sync.OnceValues(func() ([]byte, error) { return reports.Decision(framed) })
		s.progress = sync.OnceValues(func() ([]byte, error) { return reports.Progress(s.client) })
		return s, nil
	})
}

func (d *Desk) progress(r *http.Request, who string) (content, error) {
	s, err := d.shown(r, who)
	if err != nil {
		return content{}, err
	}
	return html(s.progress())
}

func (d *Desk) doctor(r *http.Request, who string) (content, error) {
	s, err := d.shown(r, who)
	if err != nil {
		return content{}, err
	}
	return html(d.coach.DoctorPage(r.Context(), s.client))
}

func (d *Desk) picture(r *http.Request, who string) (content, error) {
	s, err := d.shown(r, who)
	if err != nil {
		return content{}, err
	}
	return content{kind: "image/svg+xml", body: reports.ProgressPicture(s.client)}, nil
}

func calendarName(who string) string { return "week-" + reports.PictureName(who) + ".ics" }

func (d *Desk) calendar(r *http.Request, who string) (content, error) {
	s, err := d.shown(r, who)
	if err != nil || s.barred {
		return content{}, cmp.Or(err, error(errNoPage))
	}
	b, err := coach.Calendar(s.week, d.now())
	return content{kind: "text/calendar; charset=utf-8", name: calendarName(who), body: b}, err
}

// decision is the trainer's page of one client with its forms; read is a message that was just read.
func (d *Desk) decision(r *http.Request, who string, read *messageForm) (content, error) {
	s, err := d.shown(r, who)
	if err != nil {
		return content{}, err
	}
	did := d.done.of(r.FormValue("done"))
	form, err := d.panel(r, who, cmp.Or(read, did.typed))
	if err != nil {
		return content{}, err
	}
	form.result = did
	forms, err := fill("client", form)
	if err != nil {
		return content{}, err
	}
	page, err := s.decision()
	return html(bytes.Replace(page, []byte(formsHere), []byte(forms), 1), err)
}

// panel is what can be done for one client.
func (d *Desk) panel(r *http.Request, who string, read *messageForm) (clientForm, error) {
	s, err := d.shown(r, who)
	if err != nil {
		return clientForm{}, err
	}
	a := s.client.Assessment
	form := clientForm{
		Client: who, Rests: restsOn(a), Read: read, Page: reports.FileName("decision", who), Ask: answers.Ask(s.client.Record, d.on()),
		Decision: reports.FileName("decision", who), Progress: reports.FileName("progress", who), On: d.on(), Acts: acts(a), PlanID: s.plan,
		Pages: pagesOf(who, "decision"),
	}
	if form.By, err = d.by(r); err != nil {
		return clientForm{}, err
	}
	if form.Read == nil {
		form.Read = &messageForm{On: d.on()}
	}
	for _, q := range a.Unanswered {
		form.Questions = append(form.Questions, questionOf(who, "", form.Page, q, d.on()))
	}
	if a.Verdict != nil && len(form.Acts) > 0 && form.Acts[0].Recommended {
		form.Chosen, form.Accept = form.Acts[0].Act, form.Acts[0].Word
	}
	if dec := s.client.Record.Decided(d.on()); dec != nil && len(s.client.Record.Decisions) > 0 {
		form.Undo = true
	}
	if s.barred {
		return form, nil
	}
	form.Plan = s.week.Text()
	if len(s.week.Sessions) > 0 {
		form.Calendar = calendarName(who)
	}
	for i, x := range s.week.Sessions {
		form.Watch = append(form.Watch, link{x.Day.Day(), reports.SessionFile(x.Day, i+1, who)})
	}
	for _, g := range s.week.Groups() {
		form.Days = append(form.Days, planLine{g.Days, g.What(), g.How()})
	}
	return form, nil
}

// clientForm is what can be done for one client.
type clientForm struct {
	result
	Client, By string
	ID, Page   string // of the row that holds it, and the page that its forms lead back to
	Rests      string // the digest of what the page rests on
	On         workout.Date
	Questions  []questionForm
	Acts       []actChoice
	Chosen     record.Act // what is recommended, and the words of the button
	Accept     string
	Undo       bool // something was decided today
	Read       *messageForm
	Ask        string // the weekly message
	Plan       string // next week's message
	PlanID     string
	Days       []planLine
	Decision   string
	Progress   string
	Pages      []reports.Room // of the client, the decision page among them
	Calendar   string
	Watch      []link
}

type link struct{ Name, File string }

// planLine is sessions that are alike, in short.
type planLine struct{ Days, What, How string }

// restsOn names what a page was made from, so that nothing is decided on a page that is out of date.
func restsOn(a record.Assessment) string {
	a.Robustness = nil
	return digestOf(a)
}

// digestOf names a value.
func digestOf(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return ""
	}
	return workout.DigestOf(b).Short()
}

// by is who decides unless somebody else is named.
func (d *Desk) by(r *http.Request) (string, error) {
	set, err := d.coach.Settings(r.Context())
	return set.By, err
}
