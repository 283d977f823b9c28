// Package web is the desk: the trainer's pages, served on this computer with the forms of the weekly job
// around them. It judges nothing and keeps nothing: every form is a verb of coach, and every page is the one
// that lies on disk, under the same name.
package web

import (
	"bytes"
	"context"
	"crypto/tls"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

//go:embed templates/*.html
var templateFiles embed.FS

//go:embed *.css
var styleFiles embed.FS

// style is what is served as desk.css: that file and those of the rooms.
var style = joined("desk.css", "people.css", "upkeep.css")

func joined(names ...string) []byte {
	var all [][]byte
	for _, name := range names {
		b, err := styleFiles.ReadFile(name)
		if err != nil {
			panic(err) // they are embedded
		}
		all = append(all, b)
	}
	return bytes.Join(all, []byte("\n"))
}

var templates = template.Must(template.New("").Funcs(template.FuncMap{"day": workout.Date.Long, "weekday": workout.Date.Day, "capital": wording.Capital}).ParseFS(templateFiles, "templates/*.html"))

// Desk serves one book as of a day. Two requests never write at once; another program may.
type Desk struct {
	coach *coach.Coach
	on    func() workout.Date
	now   func() time.Time
	acts  sync.RWMutex
	done  results

	rows     memory[restsUpon, line]      // of the week
	everyone memory[restsUpon, clientRow] // of the page of all clients
	clients  memory[restsUpon, *shown]    // of the last clients whose pages were looked at
	strays   memory[string, []coach.Stray]
	coming   arrivals
	ended    chan struct{} // closed when the desk stops
	end      func()

	tried trials
	fresh freshLinks
	word  string // by which a running desk is known

	// Beyond this computer, behind door.go. All are set before the desk answers.
	Certificate *tls.Certificate // nil for no encryption
	Door        *Door            // where one signs in; nil for a desk that answers on this computer only
	Names       []string         // further hosts under which it is reached, without the port
	Links       bool             // clients' links answer
	Log         *slog.Logger     // nil for no lines
}

// manyClients is how many clients' pages are kept ready, some 3 MB each.
const manyClients = 24

// New makes the desk of a book. On gives the day on which something is entered, now the time of writing for
// calendars.
func New(c *coach.Coach, on func() workout.Date, now func() time.Time) *Desk {
	ended := make(chan struct{})
	return &Desk{
		coach: c, on: on, now: now, clients: memory[restsUpon, *shown]{most: manyClients},
		ended: ended, end: sync.OnceFunc(func() { close(ended) }),
	}
}

// Handler answers requests that name one of the hosts, "127.0.0.1:8080"; see guarded for what else it refuses.
func (d *Desk) Handler(hosts ...string) http.Handler {
	mux := http.NewServeMux()
	mux.Handle("GET /{file}", d.page(d.file)) // the pages that also lie on disk, under the same names
	d.weekly(mux)
	d.people(mux)
	d.upkeep(mux)
	d.rules(mux)
	d.link(mux)
	return d.logged(guarded(d.Door.kept(mux), hosts))
}

// content is what a request is answered with.
type content struct {
	kind string // MIME type
	name string // to be saved under; "" to be shown
	body []byte
}

func html(b []byte, err error) (content, error) {
	return content{kind: "text/html; charset=utf-8", body: b}, err
}

// errNoPage is an address that no page has.
var errNoPage = fault.New(fault.NotFound, "there is no such page")

// page answers with what f makes.
func (d *Desk) page(f func(*http.Request) (content, error)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		var c content
		err := d.alone(r, func() (err error) { c, err = f(r); return err })
		if err != nil {
			d.fail(w, r, err)
			return
		}
		w.Header().Set("Content-Type", c.kind)
		if c.name != "" {
			w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", c.name))
		}
		w.Write(c.body)
	})
}

// alone reads the form of a request and then runs f with nothing beside it, or beside others that only look where a page
// is wanted. A form that arrives slowly holds nobody up.
func (d *Desk) alone(r *http.Request, f func() error) error {
	var large *http.MaxBytesError
	if err := r.ParseForm(); errors.As(err, &large) {
		return err
	} else if err != nil {
		return fault.New(fault.Wrong, "the form could not be read: %v", err)
	}
	if r.Method == http.MethodGet || r.Method == http.MethodHead {
		d.acts.RLock()
		defer d.acts.RUnlock()
	} else {
		d.acts.Lock()
		defer d.acts.Unlock()
	}
	return f()
}

// doing is what a form does: it gives the page to go on with, and what was done.
type doing func(*http.Request) (to string, did result, err error)

// act does something with nothing else running beside it; see told.
func (d *Desk) act(f doing) http.Handler {
	return d.told(func(r *http.Request) (to string, did result, err error) {
		err = d.alone(r, func() (err error) { to, did, err = f(r); return err })
		return to, did, err
	})
}

// told does something and leads to the page that shows what it did. What was typed and refused is shown with why.
func (d *Desk) told(f doing) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		to, did, err := f(r)
		if err != nil && to == "" {
			d.fail(w, r, err)
			return
		}
		if err != nil {
			did.Wrong = append(did.Wrong, sentence(err)...)
		}
		page, at, open := strings.Cut(to, "#")
		if !open {
			at = "done"
		}
		join := "?"
		if strings.Contains(page, "?") {
			join = "&"
		}
		http.Redirect(w, r, page+join+"done="+d.done.keep(did)+"#"+at, http.StatusSeeOther)
	})
}

// status is the answer's status for each kind of obstacle.
var status = map[fault.Kind]int{
	fault.Wrong: http.StatusBadRequest, fault.NotFound: http.StatusNotFound, fault.Conflict: http.StatusConflict,
	fault.Refused: http.StatusForbidden, fault.DoctorFirst: http.StatusForbidden, fault.Needs: http.StatusForbidden,
}

// fail shows why a request was not answered. The browser gets no details of what is not a fault of the input.
func (d *Desk) fail(w http.ResponseWriter, r *http.Request, err error) {
	code, says := http.StatusInternalServerError, []string{"The book could not be used. Nothing was changed."}
	var f *fault.Error
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		code, says = http.StatusRequestEntityTooLarge, []string{fmt.Sprintf("This is more than %d MB at once. Nothing was entered: choose fewer files.", large.Limit>>20)}
	case errors.Is(r.Context().Err(), context.Canceled):
		return
	case errors.As(err, &f):
		code, says = http.StatusBadRequest, sentence(err)
		if known, ok := status[f.Kind]; ok {
			code = known
		}
	}
	b, err := reports.Notice("Not done", says, "roster.html")
	if err != nil {
		http.Error(w, says[0], code)
		return
	}
	// The script puts it in the place of the whole page, whatever the form was to change.
	for name, value := range map[string]string{"Content-Type": "text/html; charset=utf-8", "HX-Retarget": "main", "HX-Reselect": "main", "HX-Reswap": "outerHTML show:top"} {
		w.Header().Set(name, value)
	}
	w.WriteHeader(code)
	w.Write(b)
}

// sentence says what was wrong, each fault in a sentence of its own.
func sentence(err error) []string {
	var out []string
	for _, f := range fault.All(err) {
		out = append(out, wording.Sentence(f.Say("the "+strings.ReplaceAll(string(f.Field), "_", " "))))
	}
	if len(out) == 0 {
		out = []string{"The book could not be read or written: " + err.Error() + "."}
	}
	return out
}
