package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/answers"
	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// messageForm is a client's message as it was typed and as it was read.
type messageForm struct {
	On     workout.Date
	Text   string
	Why    []string // why it was not read
	Grave  []answers.Piece
	Pieces []pieceForm
	Notes  int // how many would be entered
}

// pieceForm is one stretch of the message: what it means, or a question with its answers to choose from.
type pieceForm struct {
	answers.Piece
	N       int // its place in the message
	Choices []choiceForm
	Settled bool // one of them was chosen
}

type choiceForm struct {
	Text   string
	Chosen bool
}

// answers reads a client's message and shows what it means; sent again with the choices, it enters it.
func (d *Desk) answers(r *http.Request) (content, error) {
	who, back, err := d.named(r)
	if err != nil {
		return content{}, err
	}
	show := func(form *messageForm) (content, error) {
		if strings.HasPrefix(back, reports.FileName("roster", "")) {
			return d.weekWith(r, who, form)
		}
		return d.decision(r, who, form)
	}
	form := messageForm{Text: r.PostFormValue("text")}
	if form.On, err = workout.ParseDate(r.PostFormValue("on")); err != nil {
		return content{}, fault.In("day", r.PostFormValue("on"), "is not a day")
	}
	m, err := d.coach.ReadMessage(r.Context(), who, form.Text, form.On, 0)
	if len(fault.All(err)) > 0 {
		form.Why = sentence(err)
		return show(&form)
	}
	if err != nil {
		return content{}, err
	}
	if r.PostFormValue("step") != "enter" {
		form.show(m, r)
		return show(&form)
	}
	now, err := d.standing(r, who)
	if err != nil {
		return content{}, err
	}
	if rests := r.PostFormValue("rests"); rests != "" && rests != restsOn(now.Assessment) || !choose(&m, r) {
		form.show(m, r)
		form.Why = sentence(errStale)
		return show(&form)
	}
	if m, err = d.coach.EnterMessage(r.Context(), m, false, d.on()); err != nil {
		return content{}, err
	}
	did := result{Done: []string{fmt.Sprintf("Entered from the message of %s: %s.", form.On.Long(), wording.Count(len(m.Entered), "note"))}}
	r.Form.Set("done", d.done.keep(did))
	return show(nil)
}

// heard does something for a client, but not over a message that was typed and is not entered: a sign in it would be
// lost. The message stands on the page again, read.
func (d *Desk) heard(f doing) doing {
	return func(r *http.Request) (to string, did result, err error) {
		if strings.TrimSpace(r.PostFormValue("text")) == "" {
			return f(r)
		}
		who, page, err := d.named(r)
		if err != nil {
			return "", did, err
		}
		did.typed = &messageForm{On: d.on(), Text: r.PostFormValue("text")}
		if on, err := workout.ParseDate(r.PostFormValue("on")); err == nil && r.PostFormValue("so") == "" { // a question has a day of its own
			did.typed.On = on
		}
		m, err := d.coach.ReadMessage(r.Context(), who, did.typed.Text, did.typed.On, 0)
		if len(fault.All(err)) > 0 {
			did.typed.Why = sentence(err)
		} else if err != nil {
			return "", did, err
		}
		did.typed.show(m, r)
		return page, did, fault.New(fault.Conflict, "what %s wrote is not entered yet: enter it first, or empty the field", who)
	}
}

// show lists what was understood, what has to be asked and what was not understood.
func (f *messageForm) show(m coach.Message, r *http.Request) {
	f.Grave, f.Notes = m.Grave(), len(m.Notes)
	for i, p := range m.Pieces {
		if p.Kind == answers.Understood && (p.Means == "" || p.JustDay) {
			continue
		}
		form := pieceForm{Piece: p, N: i}
		n, ok := choice(i, p, r)
		form.Settled = ok && n >= 0
		for k, c := range p.Choices {
			form.Choices = append(form.Choices, choiceForm{chosen(c), form.Settled && k == n})
		}
		f.Pieces = append(f.Pieces, form)
	}
	rank := []answers.Kind{answers.Question, answers.Left, answers.Remark, answers.Understood}
	slices.SortStableFunc(f.Pieces, func(a, b pieceForm) int { return slices.Index(rank, a.Kind) - slices.Index(rank, b.Kind) })
}

// chosen puts a choice in words: the day and what would be entered.
func chosen(n record.Note) string {
	var all []string
	if n.RPE != nil {
		all = append(all, "effort "+wording.Number(n.RPE.Value))
	}
	if n.Talk != record.NotAsked {
		all = append(all, map[record.Talk]string{
			record.TalkComfortable: "talking comfortable", record.TalkHard: "talking hard", record.TalkNo: "talking not possible",
		}[n.Talk])
	}
	if n.Enjoyment != 0 {
		all = append(all, fmt.Sprintf("enjoyment %d", n.Enjoyment))
	}
	if n.HRRest != 0 {
		all = append(all, "resting heart rate "+wording.Number(n.HRRest)+" bpm")
	}
	if n.HeatC != nil {
		all = append(all, wording.Number(*n.HeatC)+" °C")
	}
	for _, s := range n.Symptoms {
		all = append(all, s.Words())
	}
	if n.Date <= 0 {
		return wording.Capital(wording.List(all))
	}
	if len(all) == 0 {
		return n.Date.Day()
	}
	return n.Date.Day() + ": " + wording.List(all)
}

// choose adds the notes that were chosen for the questions of a message; false if it now reads differently from when
// the page was made.
func choose(m *coach.Message, r *http.Request) bool {
	for i, p := range m.Pieces {
		n, ok := choice(i, p, r)
		if !ok {
			return false
		}
		if n >= 0 {
			m.Notes = append(m.Notes, p.Choices[n])
		}
	}
	return true
}

// choice is the number of the answer that was chosen for a piece, -1 for none; false if there is no such answer, or the
// piece was another one.
func choice(i int, p answers.Piece, r *http.Request) (int, bool) {
	typed := r.PostFormValue(fmt.Sprintf("choice-%d", i))
	if typed == "" {
		return -1, true
	}
	n, err := strconv.Atoi(typed)
	if of := r.PostFormValue(fmt.Sprintf("piece-%d", i)); err != nil || n < 0 || n >= len(p.Choices) || of != "" && of != p.Text {
		return -1, false
	}
	return n, true
}
