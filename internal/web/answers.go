package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"nextrung/internal/answers"
	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
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
	Choices []string
}

// answers reads a client's message and shows what it means; sent again with the choices, it enters it.
func (d *Desk) answers(r *http.Request) (content, error) {
	who, _, err := d.named(r)
	if err != nil {
		return content{}, err
	}
	form := messageForm{Text: r.PostFormValue("text")}
	if form.On, err = workout.ParseDate(r.PostFormValue("on")); err != nil {
		return content{}, fault.In("day", r.PostFormValue("on"), "is not a day")
	}
	m, err := d.coach.ReadMessage(r.Context(), who, form.Text, form.On, 0)
	if len(fault.All(err)) > 0 {
		form.Why = sentence(err)
		return d.decision(r, who, &form)
	}
	if err != nil {
		return content{}, err
	}
	if r.PostFormValue("step") != "enter" {
		form.show(m)
		return d.decision(r, who, &form)
	}
	if err := choose(&m, r); err != nil {
		return content{}, err
	}
	if m, err = d.coach.EnterMessage(r.Context(), m, false, d.on()); err != nil {
		return content{}, err
	}
	did := result{Done: []string{fmt.Sprintf("Entered from the message of %s: %s.", form.On.Long(), wording.Count(len(m.Entered), "note"))}}
	r.Form.Set("done", d.done.keep(did))
	return d.decision(r, who, nil)
}

// show lists what was understood, what has to be asked and what was not understood.
func (f *messageForm) show(m coach.Message) {
	f.Grave, f.Notes = m.Grave(), len(m.Notes)
	for i, p := range m.Pieces {
		if p.Kind == answers.Understood && (p.Means == "" || p.JustDay) {
			continue
		}
		form := pieceForm{Piece: p, N: i}
		for _, c := range p.Choices {
			form.Choices = append(form.Choices, chosen(c))
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

// choose adds the notes that were chosen for the questions of a message.
func choose(m *coach.Message, r *http.Request) error {
	for i, p := range m.Pieces {
		typed := r.PostFormValue(fmt.Sprintf("choice-%d", i))
		if typed == "" {
			continue
		}
		n, err := strconv.Atoi(typed)
		if err != nil || n < 0 || n >= len(p.Choices) {
			return fault.New(fault.Conflict, "the message now reads differently from when the page was made: read it again")
		}
		m.Notes = append(m.Notes, p.Choices[n])
	}
	return nil
}
