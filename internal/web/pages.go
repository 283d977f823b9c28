package web

import (
	"bytes"
	"encoding/json"
	"html/template"
	"net/http"
	"slices"

	"nextrung/internal/answers"
	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// week is the trainer's page of all clients, with what can be taken in and what has to be asked.
func (d *Desk) week(r *http.Request) (content, error) {
	standings, err := d.coach.Standings(r.Context(), nil, d.on())
	if err != nil {
		return content{}, err
	}
	names, err := d.coach.Clients(r.Context())
	if err != nil {
		return content{}, err
	}
	form := weekForm{result: d.done.of(r.FormValue("done")), Clients: names, Drop: d.coach.Drop}
	if form.By, err = d.by(r); err != nil {
		return content{}, err
	}
	var all []reports.Client
	for _, s := range standings {
		all = append(all, s.Shown())
		form.Grave = form.Grave || s.Assessment.GraveSign() != nil || s.Assessment.Doubt() != nil
		for _, q := range s.Assessment.Unanswered {
			form.Questions = append(form.Questions, questionOf(s.Record.Client.Name, q, form.By))
		}
	}
	forms, err := fill("week", form)
	if err != nil {
		return content{}, err
	}
	return html(reports.ServedRoster(d.on(), all, forms))
}

// weekForm is what can be done on the page of all clients.
type weekForm struct {
	result
	Clients   []string
	Drop, By  string
	Questions []questionForm
	Grave     bool // somebody must not train: nothing stands before that
}

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
		return content{kind: "text/css; charset=utf-8", body: slices.Concat(style, peopleStyle)}, nil
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
			return d.rendered(r, who, reports.Progress)
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
		record, err := d.coach.Record(r.Context(), who, d.on(), false)
		if err != nil {
			return content{}, err
		}
		for _, rec := range record.Recordings {
			if reports.WorkoutFile(rec) == name {
				client, err := d.client(r, who)
				if err != nil {
					return content{}, err
				}
				return html(d.coach.WorkoutPage(r.Context(), rec, client))
			}
		}
	}
	return content{}, errNoPage
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
	week, _, err := d.coach.Prescribe(r.Context(), who, d.on())
	if err != nil || n > len(week.Sessions) || reports.SessionFile(week.Sessions[n-1].Day, n, who) != r.PathValue("file") {
		return content{}, errNoPage // a client who must not train has no files, and a plan may have changed
	}
	b, err := coach.WatchWorkout(week, week.Sessions[n-1])
	return content{kind: "application/octet-stream", name: r.PathValue("file"), body: b}, err
}

func (d *Desk) standing(r *http.Request, who string) (coach.Standing, error) {
	all, err := d.coach.Standings(r.Context(), []string{who}, d.on())
	if err != nil {
		return coach.Standing{}, err
	}
	return all[0], nil
}

func (d *Desk) client(r *http.Request, who string) (reports.Client, error) {
	s, err := d.standing(r, who)
	if err != nil {
		return reports.Client{}, err
	}
	c, err := d.coach.Page(r.Context(), s)
	if err != nil {
		return c, err
	}
	c.Workouts = map[string]bool{}
	for _, rec := range s.Record.Recordings {
		c.Workouts[rec.ID] = true
	}
	return c, nil
}

func (d *Desk) rendered(r *http.Request, who string, render func(reports.Client) ([]byte, error)) (content, error) {
	c, err := d.client(r, who)
	if err != nil {
		return content{}, err
	}
	return html(render(c))
}

func (d *Desk) picture(r *http.Request, who string) (content, error) {
	c, err := d.client(r, who)
	return content{kind: "image/svg+xml", body: reports.ProgressPicture(c)}, err
}

func calendarName(who string) string { return "week-" + reports.PictureName(who) + ".ics" }

func (d *Desk) calendar(r *http.Request, who string) (content, error) {
	w, _, err := d.coach.Prescribe(r.Context(), who, d.on())
	if err != nil {
		return content{}, err
	}
	b, err := coach.Calendar(w, d.now())
	return content{kind: "text/calendar; charset=utf-8", name: calendarName(who), body: b}, err
}

// decision is the trainer's page of one client with its forms; read is a message that was just read.
func (d *Desk) decision(r *http.Request, who string, read *messageForm) (content, error) {
	c, err := d.client(r, who)
	if err != nil {
		return content{}, err
	}
	form := clientForm{
		result: d.done.of(r.FormValue("done")), Client: who, Rests: restsOn(c.Assessment), Read: read,
		Ask: answers.Ask(c.Record, d.on()), Progress: reports.FileName("progress", who), On: d.on(), Acts: acts(c.Assessment),
	}
	if form.By, err = d.by(r); err != nil {
		return content{}, err
	}
	if form.Read == nil {
		form.Read = &messageForm{On: d.on()}
	}
	for _, q := range c.Assessment.Unanswered {
		form.Questions = append(form.Questions, questionOf(who, q, form.By))
	}
	// A client who must not train has a message that says so, and no files.
	if w, _, err := d.coach.Prescribe(r.Context(), who, d.on()); err == nil {
		form.Plan = w.Text()
		if len(w.Sessions) > 0 {
			form.Calendar = calendarName(who)
		}
		for i, s := range w.Sessions {
			form.Watch = append(form.Watch, link{s.Day.Day(), reports.SessionFile(s.Day, i+1, who)})
		}
	}
	if c.Forms, err = fill("client", form); err != nil {
		return content{}, err
	}
	return html(reports.Decision(c))
}

// clientForm is what can be done on the page of one client.
type clientForm struct {
	result
	Client, By string
	Rests      string // the digest of what the page rests on
	On         workout.Date
	Questions  []questionForm
	Acts       []actChoice
	Read       *messageForm
	Ask        string // the weekly message
	Plan       string // next week's message
	Progress   string
	Calendar   string
	Watch      []link
}

type link struct{ Name, File string }

// restsOn names what a page was made from, so that nothing is decided on a page that is out of date.
func restsOn(a record.Assessment) string {
	a.Robustness = nil
	b, err := json.Marshal(a)
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

func fill(name string, form any) (template.HTML, error) {
	var b bytes.Buffer
	err := templates.ExecuteTemplate(&b, name+".html", form)
	return template.HTML(b.String()), err
}
