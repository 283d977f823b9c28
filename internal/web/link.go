package web

import (
	"cmp"
	"crypto/rand"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	qr "github.com/piglig/go-qr"

	"nextrung/internal/answers"
	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
	"nextrung/reports"
)

const linksFile = "links.html"

// link adds the routes of clients' links. Where links are off, their addresses lead nowhere.
func (d *Desk) link(mux *http.ServeMux) {
	mux.Handle("GET /"+linksFile, d.page(d.linksPage))
	mux.Handle("POST /link", limited(maxForm, http.HandlerFunc(d.makeLink)))
	mux.Handle("POST /withdraw-link", limited(maxForm, d.act(d.withdrawLink)))
	if d.Links {
		mux.HandleFunc("GET "+clientsPrefix+"{token}", d.byLink(d.ownPage))
		mux.HandleFunc("GET "+clientsPrefix+"{token}/answers", d.byLink(d.ownQuestions))
		mux.Handle("POST "+clientsPrefix+"{token}/answers", limited(maxAnswer, d.byLink(d.ownAnswers)))
	}
}

// freshLinks holds links that were just made, since the book keeps no token: each can be looked at until the desk stops
// or enough others have been made.
type freshLinks struct {
	mutex sync.Mutex
	last  []freshLink
}

type freshLink struct{ id, client, token string }

// keepFresh is how many are held.
const keepFresh = 8

func (f *freshLinks) keep(client, token string) string {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	id := rand.Text()
	f.last = append(f.last, freshLink{id, client, token})
	f.last = f.last[max(0, len(f.last)-keepFresh):]
	return id
}

func (f *freshLinks) of(id string) (freshLink, bool) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	for _, l := range f.last {
		if l.id == id {
			return l, true
		}
	}
	return freshLink{}, false
}

// linksForm is the page of clients' links.
type linksForm struct {
	result
	On      bool // links are served
	Here    bool // but reach this computer only
	Fresh   *freshForm
	Clients []string
	Linked  []linkForm
	Days    string
	Answers bool
}

type freshForm struct {
	Client, Address string
	Picture         template.HTML
}

type linkForm struct {
	Client, State string
	Leads         bool
}

func (d *Desk) linksPage(r *http.Request) (content, error) {
	form := linksForm{
		result: d.done.of(r.FormValue("done")), On: d.Links, Here: d.Door == nil,
		Days: cmp.Or(r.FormValue("days"), strconv.Itoa(coach.LinkDays)), Answers: r.FormValue("answers") != "",
	}
	var err error
	if form.Clients, err = d.coach.Clients(r.Context()); err != nil {
		return content{}, err
	}
	links, err := d.coach.Links(r.Context())
	if err != nil {
		return content{}, err
	}
	for _, name := range form.Clients {
		if l, ok := links[name]; ok {
			form.Linked = append(form.Linked, linkForm{name, linkState(l, d.on()), l.Leads(d.on())})
		}
	}
	if l, ok := d.fresh.of(r.FormValue("made")); ok {
		address := d.Address(r.Host) + strings.TrimPrefix(clientsPrefix, "/") + l.token
		picture, err := qrPicture(address)
		if err != nil {
			return content{}, err
		}
		form.Fresh = &freshForm{l.client, address, picture}
	}
	return room("Clients’ links", "A link shows one client their own page, and nothing else.", upkeepFile, "links", form)
}

// linkState says in words what a client's latest link does on a day.
func linkState(l coach.Link, on workout.Date) string {
	switch {
	case l.Withdrawn != 0:
		return "withdrawn on " + l.Withdrawn.Long()
	case l.Expires < on:
		return "ended on " + l.Expires.Long()
	case l.Answers:
		return "opens the page and takes answers until " + l.Expires.Long()
	}
	return "opens the page until " + l.Expires.Long()
}

// qrPicture draws a QR code as SVG, dark on light with the quiet zone of four modules that readers need (ISO/IEC 18004,
// from memory), whatever the colours of the page.
func qrPicture(text string) (template.HTML, error) {
	code, err := qr.EncodeText(text, qr.Medium)
	if err != nil {
		return "", fmt.Errorf("draw the link: %w", err)
	}
	const quiet = 4
	n := code.Size()
	var path strings.Builder
	for y := range n {
		for x := range n {
			if code.Module(x, y) {
				fmt.Fprintf(&path, "M%d %dh1v1h-1z", x+quiet, y+quiet)
			}
		}
	}
	return template.HTML(fmt.Sprintf(`<svg class="code" viewBox="0 0 %d %[1]d" role="img" aria-label="The link as a QR code"><rect width="%[1]d" height="%[1]d" fill="#fff"/><path d="%s" fill="#000"/></svg>`, n+2*quiet, path.String())), nil
}

func (d *Desk) makeLink(w http.ResponseWriter, r *http.Request) {
	var who, token string
	err := d.alone(r, func() (err error) {
		if who, err = d.coach.Named(r.Context(), r.PostFormValue("client")); err != nil {
			return err
		}
		days, err := strconv.Atoi(strings.TrimSpace(r.PostFormValue("days")))
		if err != nil {
			return fault.In("days", r.PostFormValue("days"), "must be a whole number")
		}
		token, err = d.coach.MakeLink(r.Context(), who, days, r.PostFormValue("answers") != "", d.on())
		return err
	})
	if err != nil && len(fault.All(err)) > 0 {
		typed := url.Values{"done": {d.done.keep(result{Wrong: sentence(err), Typed: who})}, "days": {r.PostFormValue("days")}, "answers": {r.PostFormValue("answers")}}
		http.Redirect(w, r, linksFile+"?"+typed.Encode()+"#done", http.StatusSeeOther)
		return
	}
	if err != nil {
		d.fail(w, r, err)
		return
	}
	http.Redirect(w, r, linksFile+"?made="+d.fresh.keep(who, token)+"#made", http.StatusSeeOther)
}

func (d *Desk) withdrawLink(r *http.Request) (to string, did result, err error) {
	who, err := d.coach.Named(r.Context(), r.PostFormValue("client"))
	if err == nil {
		err = d.coach.WithdrawLinks(r.Context(), who, d.on())
	}
	if err == nil {
		did.Done = []string{who + "’s link no longer works."}
	}
	return linksFile, did, err
}

// byLink answers a request with a token; every token that leads nowhere gets the same answer.
func (d *Desk) byLink(page func(*http.Request, coach.Link) ([]byte, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var b []byte
		l, err := d.coach.LinkOf(r.Context(), r.PathValue("token"), d.on()) // who guesses holds up nobody
		if err == nil {
			err = d.alone(r, func() (err error) { b, err = page(r, l); return err })
		}
		code, says := http.StatusOK, ""
		var f *fault.Error
		var large *http.MaxBytesError
		switch {
		case errors.As(err, &f) && f.Kind == fault.NotFound:
			code, says = http.StatusNotFound, "This link does not work. Ask your trainer for a new one."
		case errors.As(err, &large):
			code, says = http.StatusRequestEntityTooLarge, "That is too long, and was not read. "+signs.StopLine+" Otherwise, please write less."
		case errors.As(err, &f):
			code, says = http.StatusBadRequest, strings.Join(sentence(err), " ")
		case err != nil:
			code, says = http.StatusInternalServerError, "Something went wrong here. Please tell your trainer."
		}
		if err != nil {
			b, err = reports.PlainPage("Not here", says, "/"+reports.ServedStyle, template.HTML(" "))
		}
		if err != nil {
			http.Error(w, "The page could not be made.", http.StatusInternalServerError)
			return
		}
		_ = write(w, code, func() ([]byte, error) { return b, nil })
	}
}

// ownPage is the client's own page.
func (d *Desk) ownPage(r *http.Request, l coach.Link) ([]byte, error) {
	s, err := d.standing(r, l.Client)
	if err != nil {
		return nil, err
	}
	c, err := d.coach.OwnPage(r.Context(), s)
	if err != nil {
		return nil, err
	}
	if l.Answers {
		c.AnswersAt = clientsPrefix + r.PathValue("token") + "/answers"
	}
	return reports.Progress(c)
}

// ownForm is the page on which a client answers.
type ownForm struct {
	Ask, Text string
	Back      string
	Wrong     []string
	Grave     []graveForm
	Thanks    bool
}

// graveForm is what a client wrote that may be a grave sign: what to do first, then the words and what they may mean.
type graveForm struct{ Do, Words, Asks string }

func (d *Desk) ownQuestions(r *http.Request, l coach.Link) ([]byte, error) {
	return d.ownForm(r, l, ownForm{})
}

func (d *Desk) ownForm(r *http.Request, l coach.Link, form ownForm) ([]byte, error) {
	if !l.Answers {
		return nil, errNoPage
	}
	record, err := d.coach.Record(r.Context(), l.Client, d.on(), false)
	if err != nil {
		return nil, err
	}
	form.Ask, form.Back = answers.Ask(record, d.on()), clientsPrefix+r.PathValue("token")
	forms, err := fill("own", form)
	if err != nil {
		return nil, err
	}
	return reports.PlainPage("Your week", "", "/"+reports.ServedStyle, forms)
}

// ownAnswers enters what a client wrote, and says at once what to do if it may be a grave sign, kept or not.
func (d *Desk) ownAnswers(r *http.Request, l coach.Link) ([]byte, error) {
	m, err := d.coach.AnswerByLink(r.Context(), l, r.PostFormValue("text"), d.on())
	form := ownForm{Text: r.PostFormValue("text")}
	switch {
	case err == nil:
		form = ownForm{Thanks: true}
	case len(fault.All(err)) > 0 && l.Answers:
		form.Wrong = sentence(err)
	case len(m.Grave()) > 0:
		form.Wrong = []string{"Something went wrong here, and your message was not kept. Please call your trainer."}
	default:
		return nil, err
	}
	for _, p := range m.Grave() {
		all := slices.Clone(p.Signs)
		for _, s := range p.Suspected {
			all = append(all, s.Sign)
		}
		for _, s := range all {
			if s.Grave() {
				said := graveForm{s.Urgent(signs.Client, max(0, int(d.on()-p.Day))), p.Text, s.Question()}
				if !slices.Contains(form.Grave, said) {
					form.Grave = append(form.Grave, said)
				}
			}
		}
	}
	return d.ownForm(r, l, form)
}
