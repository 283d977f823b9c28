package coach

import (
	"context"
	"errors"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"nextrung/internal/answers"
	"nextrung/internal/fault"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// NoteEntry is what no sensor knows about one day, as it was typed; "" means that nothing was said.
type NoteEntry struct {
	Date    workout.Date // 0 for today
	Backlog bool         // counts as known on its own day

	RPE       string
	Scale     string // of the effort: "20", the usual one, or "10"
	Talk      string
	Enjoyment string
	HRRest    string // of that morning
	Heat      string // in °C
	Symptoms  string // words separated by commas
	NotSo     string // topics that were asked about and were not so, separated by commas
	By        string // who asked, or who enters it
	NoFan     bool
	Text      string
}

// SessionEntry is a session that was done without a recording, and what was said about it.
type SessionEntry struct {
	NoteEntry
	Minutes string
	Sport   string
	Again   bool // it was done a second time that day
}

// EnterNote enters what was typed of one day. Words for signs that no rule knows are kept in the note's
// text and returned.
func (c *Coach) EnterNote(ctx context.Context, client string, e NoteEntry, today workout.Date) (record.Note, []string, error) {
	n, unknown, err := c.readNote(ctx, e, today)
	if err == nil && reflect.DeepEqual(n, record.Note{Date: n.Date, Entered: n.Entered, By: n.By}) {
		err = fault.New(fault.Wrong, "there is nothing to enter: say how hard it was, how talking went, a symptom or anything else")
	}
	if err != nil {
		return record.Note{}, nil, err
	}
	in, err := c.AddNotes(ctx, client, n)
	if err != nil {
		return record.Note{}, nil, err
	}
	return in[0], unknown, nil
}

// readNote makes the note that was typed, by the person who usually enters it if nobody else is named.
func (c *Coach) readNote(ctx context.Context, e NoteEntry, today workout.Date) (n record.Note, unknown []string, err error) {
	if e.By, err = c.orUsual(ctx, e.By); err != nil {
		return n, nil, err
	}
	return e.read(today)
}

// AddNotes enters notes, all or none, and returns them as the book keeps them.
func (c *Coach) AddNotes(ctx context.Context, client string, notes ...record.Note) ([]record.Note, error) {
	in := make([]record.Note, len(notes))
	for i, n := range notes {
		var err error
		if in[i], err = enterNote(n); err != nil {
			return nil, err
		}
	}
	ids, err := c.book.AddNotes(ctx, client, in)
	for i, id := range ids {
		in[i].ID = id
	}
	return in, err
}

// enterNote is the one place through which every note passes on its way into the book, whether it was
// typed, pasted, said about a session or played. It refuses what is impossible, and reads once what its words
// say about signs and topics, so that what warns is also what is kept.
func enterNote(n record.Note) (record.Note, error) {
	if err := checkNote(n); err != nil {
		return n, err
	}
	if n.Reader == 0 { // a message was read as a whole
		n = n.Read()
	}
	return n, nil
}

// checkNote refuses a note with impossible values.
func checkNote(n record.Note) error {
	wrong := []error{
		NotAhead("date", n.Date, n.Entered), checkRPE(n.RPE),
	}
	if _, err := Word("talk", string(n.Talk), talks...); err != nil {
		wrong = append(wrong, err)
	}
	if n.Enjoyment < 0 || n.Enjoyment > 5 {
		wrong = append(wrong, fault.In("enjoyment", n.Enjoyment, "is not between 1 and 5"))
	}
	if n.HRRest != 0 && (n.HRRest < 30 || n.HRRest > 130) {
		wrong = append(wrong, fault.In(HRRest, n.HRRest, "is outside 30 to 130 bpm"))
	}
	if h := n.HeatC; h != nil && (*h < -40 || *h > 55) {
		wrong = append(wrong, fault.In("heat", *h, "is not a likely air temperature in °C"))
	}
	if n.NoSign && len(n.Symptoms) > 0 {
		wrong = append(wrong, bothSignAndNone("symptoms", strings.Join(asText(n.Symptoms), ", ")))
	}
	return errors.Join(wrong...)
}

func checkRPE(r *workout.RPE) error {
	if r == nil {
		return nil
	}
	low, high := 6.0, 20.0
	if r.Scale == 10 {
		low, high = 0, 10
	}
	if r.Value < low || r.Value > high {
		return fault.In("rpe", r.Value, "is outside the scale from %g to %g; the scales are 6 to 20 and 0 to 10", low, high)
	}
	return nil
}

// read makes the note that was typed.
func (e NoteEntry) read(today workout.Date) (record.Note, []string, error) {
	n := record.Note{Date: e.Date, Entered: today, NoFan: e.NoFan, By: strings.TrimSpace(e.By), Text: strings.TrimSpace(e.Text)}
	if n.Date == 0 {
		n.Date = today
	}
	wrong := []error{NotAhead("date", n.Date, today)}
	if e.Backlog {
		n.Entered = n.Date
	}
	var effort, heat float64
	for _, x := range []struct {
		field fault.Field
		typed string
		at    any
	}{
		{"rpe", e.RPE, &effort}, {"enjoyment", e.Enjoyment, &n.Enjoyment}, {HRRest, e.HRRest, &n.HRRest}, {"heat", e.Heat, &heat},
	} {
		if x.typed == "" {
			continue
		}
		err := place{at: x.at}.read(x.field, x.typed)
		if err == nil && x.at == any(&n.Enjoyment) && n.Enjoyment == 0 { // in the book 0 is "not asked"
			err = fault.In(x.field, x.typed, "is not between 1 and 5")
		}
		wrong = append(wrong, err)
	}
	scale, err := Word("scale", e.Scale, "20", "10")
	wrong = append(wrong, err)
	if e.RPE != "" {
		n.RPE = &workout.RPE{Value: effort, Scale: 20}
		if scale == "10" {
			n.RPE.Scale = 10
		}
	}
	if e.Heat != "" {
		n.HeatC = &heat
	}
	n.Talk, _ = Word("talk", e.Talk, talks...) // what is no word for it is refused with the whole note
	for _, w := range words(e.NotSo) {
		topic, err := Word("not_so", w, signs.Medicine, signs.Pregnancy, signs.Injury)
		n.NotSo, wrong = append(n.NotSo, topic), append(wrong, err)
	}
	var unknown []string
	if n.Symptoms, n.NoSign, unknown = readSigns(e.Symptoms); len(unknown) > 0 {
		n.Text = strings.TrimSpace(n.Text + " [reported: " + strings.Join(unknown, ", ") + "]")
	}
	// What the reader of texts recognises is entered or asked about with the text.
	unknown = slices.DeleteFunc(unknown, func(w string) bool { return len(signs.Read(w)) > 0 })
	return n, unknown, errors.Join(wrong...)
}

// EnterSession enters a session without a recording. What was said beyond effort and talk becomes a
// note of that day, which is returned; its ID is "" if there was nothing more.
func (c *Coach) EnterSession(ctx context.Context, client string, e SessionEntry, today workout.Date) (record.Note, []string, error) {
	n, unknown, err := c.readNote(ctx, e.NoteEntry, today)
	minutes, wrong := Numbers("min", e.Minutes, 1)
	if err := errors.Join(err, wrong); err != nil {
		return record.Note{}, nil, err
	}
	r := record.Report{Date: n.Date, Entered: n.Entered, Minutes: minutes[0], Sport: workout.Sport(e.Sport), RPE: n.RPE, Talk: n.Talk}
	n.RPE, n.Talk = nil, record.NotAsked
	in, err := enterNote(n)
	if err != nil {
		return in, nil, err
	}
	if err := c.AddReport(ctx, client, r, e.Again); err != nil || reflect.DeepEqual(n, record.Note{Date: n.Date, Entered: n.Entered, By: n.By}) {
		return in, nil, err
	}
	all, err := c.AddNotes(ctx, client, n)
	if err != nil {
		return in, nil, err
	}
	return all[0], unknown, nil
}

// AddReport enters a session without a recording. One with the same day, sport and length as an
// earlier one is refused unless again says that it was done twice.
func (c *Coach) AddReport(ctx context.Context, client string, r record.Report, again bool) error {
	err := checkNote(record.Note{Date: r.Date, Entered: r.Entered, RPE: r.RPE, Talk: r.Talk})
	if r.Minutes <= 0 || r.Minutes > 24*60 {
		err = errors.Join(err, fault.In("min", r.Minutes, "must be above 0 and at most 1440 minutes"))
	}
	var wrong error
	if r.Sport, wrong = Word("sport", string(r.Sport), sports...); r.Sport == "" && wrong == nil {
		wrong = notOneOf("sport", "", asText(sports)...)
	}
	if err := errors.Join(err, wrong); err != nil {
		return err
	}
	record, err := c.book.Record(ctx, client, endOfTime)
	if err != nil {
		return err
	}
	for _, old := range record.Reports {
		if !again && old.Date == r.Date && old.Sport == r.Sport && old.Minutes == r.Minutes {
			return fault.New(fault.Conflict, "the same session is already in the book as %s: %g min of %s on %s", old.ID, old.Minutes, old.Sport, old.Date).Helped(fault.SayAgain, client)
		}
	}
	return c.book.AddReport(ctx, client, r)
}

// Withdraw undoes a note ("n12") or a reported session ("r3") from a day on. A note from before that day that holds training
// back stays: what was not so is answered, with the day and who asked. A grave sign, or a question about one, leaves the
// record only with who said so, which is kept with the client's facts.
func (c *Coach) Withdraw(ctx context.Context, client, id, because string, on workout.Date) error {
	r, err := c.book.Record(ctx, client, endOfTime)
	if err != nil {
		return err
	}
	without := r
	without.Notes = record.Keep(r.Notes, func(n record.Note) bool { return n.ID != id || n.Entered >= on })
	now, then := progression.NewReview(c.Policy, on, r), progression.NewReview(c.Policy, on, without)
	if stops(now) > stops(then) || now.Ill() && !then.Ill() {
		return doctorFirst(fault.EnterSigns, client, "%s holds training back and was entered before today, so it cannot be undone; if you asked and the client said no, enter that for its day", id)
	}
	grave := r.GraveIn(id)
	for _, s := range grave {
		if err := takeOff(&r.Client, record.Withdrawal{Fact: "signs", Was: string(s.Sign)}, because, on); err != nil {
			return err
		}
	}
	if len(grave) > 0 { // first, so that no sign is gone without the word for it
		if err := c.SetClient(ctx, r.Client, on); err != nil {
			return err
		}
	}
	return c.book.Withdraw(ctx, client, id, on)
}

// stops counts what of the signs stops a client: those that are open, and the questions about grave ones.
func stops(v progression.Review) int {
	asked := record.Keep(v.Record.Unanswered(), record.Question.Grave)
	return len(v.Record.OpenSigns()) + len(asked)
}

// Message is a client's answer as it was read: what would be entered, and in Entered the IDs of the
// notes once it was.
type Message struct {
	Client string       `json:"client"`
	On     workout.Date `json:"on"`
	Scale  int          `json:"scale"`
	answers.Reading
	Entered []string `json:"entered"` // empty if nothing was entered
}

// ReadMessage reads a client's answer, written on a day, and enters nothing. Efforts without a scale of
// their own are on the one given; 0 is the one that the client used last.
func (c *Coach) ReadMessage(ctx context.Context, client, text string, on workout.Date, scale int) (Message, error) {
	m := Message{Client: client, On: on, Scale: scale, Entered: []string{}}
	refuse := func(what string, args ...any) (Message, error) {
		return m, fault.In("answer", "", what, args...).Of(fault.Refused)
	}
	switch {
	case len(text) > answers.MaxText:
		return refuse("is longer than %d characters: paste one message", answers.MaxText)
	case !utf8.ValidString(text):
		return refuse("is not plain text (UTF-8): paste the message itself, not a document")
	case strings.TrimSpace(text) == "":
		return refuse("is empty: paste the client's answer")
	}
	// What came in after the day of the answer counts too: a recording often comes later than the words.
	r, err := c.Record(ctx, client, on, true)
	if err != nil {
		return m, err
	}
	if m.Scale == 0 {
		m.Scale = answers.ScaleOf(r)
	}
	m.Reading = answers.Parse(strings.TrimPrefix(text, "\ufeff"), answers.Setting{On: on, Sessions: r.Answerable(), Scale: m.Scale, Client: r.Client.Name, Open: r.Unanswered()})
	return m, nil
}

// EnterMessage enters the notes of a message that was read. With backlog they count as known on the day
// of the answer.
func (c *Coach) EnterMessage(ctx context.Context, m Message, backlog bool, today workout.Date) (Message, error) {
	for i := range m.Notes {
		m.Notes[i].Entered = today
		if backlog {
			m.Notes[i].Entered = m.On
		}
	}
	in, err := c.AddNotes(ctx, m.Client, m.Notes...)
	for i, n := range in {
		m.Notes[i] = n
		m.Entered = append(m.Entered, n.ID)
	}
	return m, err
}
