package web

import (
	"fmt"
	"net/http"
	"slices"

	"nextrung/internal/coach"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// The fields that several of the small forms share.
func dayField(today workout.Date) field {
	return field{Name: "date", Label: "Day", Kind: aDay, Value: today.String(), Latest: today, Required: true}
}

func effortFields() []field {
	return []field{
		{Name: "rpe", Label: "Effort", Kind: aNumber, Help: "As the client says it."},
		field{Name: "scale", Label: "On the scale", Kind: oneOf, Choices: []option{{Value: "20", Label: "6 to 20"}, {Value: "10", Label: "0 to 10"}}}.holding("20"),
		{Name: "talk", Label: "Talking was", Kind: oneOf, Choices: []option{
			{Value: string(record.TalkComfortable), Label: "comfortable"}, {Value: string(record.TalkHard), Label: "hard"}, {Value: string(record.TalkNo), Label: "not possible"},
		}},
		{Name: "enjoyment", Label: "Enjoyment", Kind: oneOf, Choices: []option{
			{Value: "1", Label: "1, none"}, {Value: "2", Label: "2"}, {Value: "3", Label: "3"}, {Value: "4", Label: "4"}, {Value: "5", Label: "5, very much"},
		}},
	}
}

func wordsField() field {
	return field{Name: "text", Label: "In the client's own words", Kind: longText, Help: "Symptoms, too. Anything that may be a grave sign stops the plan at once, until you have asked and entered the answer."}
}

// signFields are a sign that is known by name, and the answer to a question that was asked.
func signFields() []field {
	named := []option{{Value: noSign, Label: "Asked: no sign"}}
	for _, s := range signs.All() {
		named = append(named, signChoice(s, wording.Capital(s.Words())))
	}
	return []field{
		{Name: "symptoms", Label: "Signs", Kind: someOf, Choices: named},
		{Name: "not_so", Label: "Asked, and the answer was no", Kind: someOf, Choices: []option{
			{Value: string(signs.Medicine), Label: "a new medicine or dose"}, {Value: string(signs.Pregnancy), Label: "pregnancy"}, {Value: string(signs.Injury), Label: "an injury"},
		}},
		{Name: "by", Label: "Asked or entered by", Kind: aText},
		{Name: "backlog", Label: "When it was known", Kind: someOf, Choices: []option{{Value: "yes", Label: "On the day itself", Means: "You noted it then and are entering it now."}}},
	}
}

func heatFields() []field {
	return []field{
		{Name: "heat", Label: "Air temperature", Unit: "°C", Kind: aNumber, Help: "During the session. In the heat, heart rate and effort rise by themselves."},
		{Name: "no_fan", Label: "Indoors", Kind: someOf, Choices: []option{{Value: "yes", Label: "without a fan", Means: "Drift and heart rate at the same pace are then not judged."}}},
	}
}

func restField() field {
	return field{Name: coach.HRRest, Label: "Resting heart rate that morning", Unit: "bpm", Kind: aNumber, Help: "On waking, lying down, counted for a full minute. It takes three mornings for a mean."}
}

// sayForms are the small forms for what no sensor knows.
func sayForms(today workout.Date) []form {
	sports := []option{}
	for _, s := range []workout.Sport{workout.Walking, workout.Running, workout.Cycling, workout.Rowing, workout.Swimming, workout.Skiing, workout.Strength, workout.Other} {
		sports = append(sports, option{Value: string(s), Label: wording.Capital(string(s))})
	}
	session := []field{
		dayField(today), {Name: "min", Label: "Length", Unit: "min", Kind: aNumber, Required: true}, {Name: "sport", Label: "Activity", Kind: oneOf, Choices: sports},
	}
	session = append(session, effortFields()...)
	session = append(session, wordsField(), field{Name: "again", Label: "Twice that day", Kind: someOf, Choices: []option{{Value: "yes", Label: "The same session was done a second time"}}})
	felt := slices.Concat([]field{dayField(today)}, effortFields(), []field{wordsField()})
	return []form{
		{ID: "note", Name: "How a session felt", Button: "Enter the note", Fields: append(felt, signFields()...), More: "A sign by name, or what you asked about", MoreFrom: len(felt)},
		{ID: "session", Name: "A session without a recording", Button: "Enter the session", Fields: session,
			Lead: "It counts for sessions, minutes and effort, never for heart-rate rules."},
		{ID: "resting", Name: "Resting heart rate", Button: "Enter it", Fields: []field{dayField(today), restField()}},
		{ID: "weather", Name: "Weather", Button: "Enter it", Fields: append([]field{dayField(today)}, heatFields()...)},
	}
}

// said is what was typed into one of the small forms.
func said(r *http.Request, fields []field) (coach.SessionEntry, error) {
	t := plain(r, fields)
	date, err := coach.Date("date", t["date"])
	return coach.SessionEntry{
		NoteEntry: coach.NoteEntry{
			Date: date, Backlog: t["backlog"] != "", RPE: t["rpe"], Scale: t["scale"], Talk: t["talk"], Enjoyment: t["enjoyment"], HRRest: t[coach.HRRest], Heat: t["heat"],
			Symptoms: t["symptoms"], NotSo: t["not_so"], By: t["by"], NoFan: t["no_fan"] != "", Text: t["text"],
		},
		Minutes: t["min"], Sport: t["sport"], Again: t["again"] != "",
	}, err
}

// say enters what was typed into one of the small forms, and says what it calls for at once.
func (d *Desk) say(id string) doing {
	return func(r *http.Request) (to string, did result, err error) {
		who, to, err := d.clientOf(r, "notes")
		if err != nil {
			return "", did, err
		}
		forms := sayForms(d.on())
		e, err := said(r, forms[slices.IndexFunc(forms, func(f form) bool { return f.ID == id })].Fields)
		if err != nil {
			return to, did, err
		}
		var n record.Note
		var unknown []string
		if id == "session" {
			n, unknown, err = d.coach.EnterSession(r.Context(), who, e, d.on())
			did.Done = []string{fmt.Sprintf("Entered for %s: %s min of %s on %s, without a recording.", who, e.Minutes, e.Sport, n.Date.Long())}
		} else {
			n, unknown, err = d.coach.EnterNote(r.Context(), who, e.NoteEntry, d.on())
			did.Done = []string{fmt.Sprintf("Entered for %s on %s.", who, n.Date.Long())}
		}
		if err != nil {
			did.Done = nil
			return to, did, err
		}
		for _, s := range n.Symptoms {
			if s.Grave() {
				continue // the page says it at its head
			}
			did.Wrong = append(did.Wrong, wording.Capital(s.Words())+": "+s.Advice(int(d.on()-n.Date)))
		}
		if len(unknown) > 0 {
			did.Wrong = append(did.Wrong, "Kept as a remark only, because no rule uses these words: "+wording.List(unknown)+".")
		}
		return to, did, nil
	}
}

// notesForm is the page of what was said about a client, with the small forms.
type notesForm struct {
	personPage
	Urgent []reasons.Urgent
	Forms  []form
	Rows   []saidRow
	Older  int
}

// saidRow is a note or a session without a recording.
type saidRow struct {
	ID, On, Says string
	Asks         []field // what undoing it needs, once that was refused
}

// shownDays is how many days back the page of notes goes unless everything is wanted.
const shownDays = 28

func (d *Desk) notesPage(r *http.Request, who string) (content, error) {
	person, err := d.person(r, who, "notes")
	if err != nil {
		return content{}, err
	}
	rec, err := d.coach.Record(r.Context(), who, d.on(), false)
	if err != nil {
		return content{}, err
	}
	page := notesForm{personPage: person, Forms: sayForms(d.on())}
	if page.Urgent, err = d.coach.AtOnce(r.Context(), who, d.on()); err != nil {
		return content{}, err
	}
	for i, f := range page.Forms {
		no := page.refused.of(f.ID)
		page.Forms[i].MoreOpen = no.form != ""
		page.Forms[i].Open = no.form != "" || i == 0 && page.refused.form == ""
		page.Forms[i].Fields = no.apply(f.Fields)
		for j := range page.Forms[i].Fields {
			page.Forms[i].Fields[j].Form = f.ID
		}
	}
	type dated struct {
		on  workout.Date
		row saidRow
	}
	var all []dated
	for i, n := range rec.Notes {
		all = append(all, dated{n.Date, saidRow{ID: n.ID, On: n.Date.Day(), Says: reasons.Note(n, rec.TakenBack(i))}})
	}
	for _, x := range rec.Reports {
		all = append(all, dated{x.Date, saidRow{ID: x.ID, On: x.Date.Day(), Says: reasons.Report(x)}})
	}
	slices.SortStableFunc(all, func(a, b dated) int { return int(b.on - a.on) })
	no := page.refused.of("withdraw")
	for _, x := range all {
		if no.typed.Get("id") == x.row.ID {
			x.row.Asks = no.apply(undoFields())
			x.row.Asks[0].Form = x.row.ID
		} else if x.on <= d.on()-shownDays && r.FormValue("all") == "" {
			page.Older++
			continue
		}
		page.Rows = append(page.Rows, x.row)
	}
	return clientsRoom(who, "What no sensor knows: effort, talk, enjoyment, signs, weather.", "notes", page)
}

// undoFields ask by whose word a grave sign leaves the record.
func undoFields() []field { return []field{{Name: coach.Because, Label: "Who said so", Kind: aText}} }

// withdraw undoes a note or a session without a recording.
func (d *Desk) withdraw(r *http.Request) (to string, did result, err error) {
	who, to, err := d.clientOf(r, "notes")
	if err != nil {
		return "", did, err
	}
	if err := d.coach.Withdraw(r.Context(), who, r.PostFormValue("id"), r.PostFormValue("because"), d.on()); err != nil {
		return to, did, err
	}
	did.Done = []string{fmt.Sprintf("%s of %s no longer counts. Assessments of earlier days still include it.", r.PostFormValue("id"), who)}
	return to, did, nil
}
