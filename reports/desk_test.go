package reports_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/web"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// deskPages are pages as the desk serves them, with all their forms: the week with a question about a grave sign,
// and a client whose message was just read. From disk 'self' matches nothing, hence file:.
func deskPages(page func(what, file string, b []byte, failed error)) error {
	ctx := context.Background()
	dir, err := os.MkdirTemp("", "desk-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	c, err := coach.Open(ctx, dir)
	if err != nil {
		return err
	}
	defer c.Close()
	for _, name := range []string{"Runa", "Ketil"} {
		err := c.AddClient(ctx, record.Client{
			Name: name, Born: workout.MustDate("1980-03-01"), Sex: "female", Stage: 1, Since: asOf - 30, State: record.Active, Days: 3, Minutes: 40,
			Modes: []workout.Mode{workout.Walk}, Zones: []record.ZoneSet{{HRRest: 62}}, Screening: record.Screening{On: asOf - 31, Active: true, Disease: "none"},
		}, asOf-30)
		if err != nil {
			return err
		}
		for _, ago := range []workout.Date{1, 3} {
			if err := c.AddReport(ctx, name, record.Report{Date: asOf - ago, Entered: asOf, Minutes: 35, Sport: workout.Walking}, false); err != nil {
				return err
			}
		}
	}
	d := web.New(c, func() workout.Date { return asOf }, time.Now)
	d.Links = true
	desk := d.Handler("127.0.0.1:8000")
	send := func(method, path string, form url.Values) string {
		r := httptest.NewRequest(method, path, strings.NewReader(form.Encode()))
		r.Host = "127.0.0.1:8000"
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		desk.ServeHTTP(w, r)
		if to, _, _ := strings.Cut(w.Header().Get("Location"), "#"); to != "" {
			r := httptest.NewRequest(http.MethodGet, "/"+strings.TrimPrefix(to, "/"), nil)
			r.Host = "127.0.0.1:8000"
			w = httptest.NewRecorder()
			desk.ServeHTTP(w, r)
		}
		return strings.ReplaceAll(w.Body.String(), "'self'", "'self' file:")
	}
	message := func(client, step, text string) string {
		return send(http.MethodPost, "/answers", url.Values{"client": {client}, "on": {asOf.String()}, "step": {step}, "text": {text}})
	}
	message("Ketil", "enter", "bit tight across the chest on the hill today")
	a, err := c.Arrive("", "Runa/walk.csv", strings.NewReader("time,heart_rate\n2026-10-01T07:00:00Z,95\n2026-10-01T07:00:01Z,96\n2026-10-01T07:10:00Z,99\n"))
	if err != nil {
		return err
	}
	if _, err := c.Take(ctx, a, coach.Intake{On: asOf}); err != nil {
		return err
	}
	if a, err = c.Arrive("", "photo.jpg", strings.NewReader("a photo")); err != nil {
		return err
	}
	if _, err := c.Take(ctx, a, coach.Intake{On: asOf}); err != nil {
		return err
	}
	for _, name := range []string{reports.ServedStyle, reports.ServedScript} {
		page(name, name, []byte(send(http.MethodGet, "/"+name, nil)), nil)
	}
	page("roster on the desk", "desk-week.html", []byte(send(http.MethodGet, "/", nil)), nil)
	page("roster on the desk, a row open", "desk-row.html", []byte(send(http.MethodPost, "/answers", url.Values{"client": {"Runa"}, "on": {asOf.String()}, "page": {"roster.html"},
		"text": {"talking was so-so yesterday, 14\nknee a bit sore"}})), nil)
	page("decision on the desk", "desk-client.html", []byte(message("Runa", "read", "talking was so-so yesterday, 14\nknee a bit sore\ngrand")), nil)
	desky := func(what, file string) { page(what, "desk-"+file, []byte(send(http.MethodGet, "/"+file, nil)), nil) }
	sent := func(path string, form url.Values) string { // the page after the form
		r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
		r.Host = "127.0.0.1:8000"
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		desk.ServeHTTP(w, r)
		to, _, _ := strings.Cut(w.Header().Get("Location"), "#")
		return send(http.MethodGet, to, nil)
	}
	for _, file := range []string{"clients.html", "new-client.html", "facts-runa.html", "notes-ketil.html", "recordings-runa.html", "tests-runa.html"} {
		desky("room "+strings.TrimSuffix(file, ".html"), file)
	}
	page("room new client, refused", "desk-new-client-refused.html", []byte(sent("/new-client", url.Values{"name": {"Odd"}, "signs-1": {"chest"}, "days": {"many"}})), nil)
	page("room facts, refused", "desk-facts-refused.html", []byte(sent("/facts", url.Values{"client": {"Runa"}, "section": {"zones"}, "hr_max": {"high"}})), nil)
	page("room field test, read", "desk-test-read.html", []byte(sent("/talk-test", url.Values{"client": {"Runa"}, "bpm1": {"112"}, "said1": {"comfortable"}, "bpm2": {"130"}, "said2": {"hard"}, "held": {"3:00"}})), nil)
	refusal := send(http.MethodGet, "/nothing.html", nil)
	token, err := c.MakeLink(ctx, "Ketil", 30, true, asOf)
	if err != nil {
		return err
	}
	beside := func(text string) []byte { // a client's pages lie deeper than the desk's
		return []byte(strings.ReplaceAll(text, `href="/desk.css"`, `href="desk.css"`))
	}
	for name, text := range map[string]string{
		"upkeep": send(http.MethodPost, "/verify", nil), "first": send(http.MethodGet, "/first.html", nil), "licences": send(http.MethodGet, "/licences.html", nil),
		"policy":         send(http.MethodGet, "/policy.html", nil),
		"policy tried":   send(http.MethodPost, "/try-policy", url.Values{"minutes.threshold": {"30"}, "step": {"try"}}),
		"policy refused": send(http.MethodPost, "/try-policy", url.Values{"adult.threshold": {"3"}, "step": {"try"}}),
		"links":          send(http.MethodPost, "/link", url.Values{"client": {"Runa"}, "days": {"30"}}),
		"own questions":  send(http.MethodGet, "/c/"+token+"/answers", nil),
		"own sign":       send(http.MethodPost, "/c/"+token+"/answers", url.Values{"text": {"my chest felt tight again"}}),
		"own page":       send(http.MethodGet, "/c/"+token, nil),
		"no link":        send(http.MethodGet, "/c/nothing", nil),
	} {
		page("room: "+name, "desk-"+strings.ReplaceAll(name, " ", "-")+".html", beside(text), nil)
	}
	d.Door = web.NewDoor(c, time.Now)
	desk = d.Handler("127.0.0.1:8000")
	page("room: door", "desk-door.html", beside(send(http.MethodGet, "/sign-in", nil)), nil)
	page("notice", "desk-refusal.html", []byte(refusal), nil)
	return nil
}
