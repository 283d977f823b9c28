package web

import (
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
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

// weekly are the ways of the weekly job.
func (d *Desk) weekly(mux *http.ServeMux) {
	mux.Handle("GET /{$}", d.page(d.week))
	mux.Handle("POST /take-in", limited(maxUpload, d.told(d.takeIn)))
	mux.Handle("POST /drop", limited(maxForm, d.act(d.takeDrop)))
	mux.Handle("POST /answers", limited(maxForm, d.page(d.answers)))
	mux.Handle("POST /question", limited(maxForm, d.act(d.question)))
	mux.Handle("POST /decide", limited(maxForm, d.act(d.decide)))
}

// named is the client that a form is about, and their page.
func (d *Desk) named(r *http.Request) (who, page string, err error) {
	who, err = d.coach.Named(r.Context(), r.PostFormValue("client"))
	return who, reports.FileName("decision", who), err
}

// errBrokeOff is an upload that ended, or was too large, after some of its files.
var errBrokeOff = fault.New(fault.Wrong, "the upload broke off or was too large: what is listed here was taken in, the rest was not")

// takeIn receives the files that were chosen or dropped, each on its own as it comes: one that is refused stops no other.
func (d *Desk) takeIn(r *http.Request) (to string, did result, err error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return "", did, fault.New(fault.Wrong, "no files came with the form")
	}
	in := coach.Intake{On: d.on()}
	for {
		part, err := parts.NextPart()
		if err == io.EOF {
			break
		}
		if err != nil {
			return "/", did, errBrokeOff
		}
		b, err := io.ReadAll(part)
		if err != nil {
			return "/", did, errBrokeOff
		}
		switch part.FormName() {
		case "client":
			if in.Client, err = d.coach.Named(r.Context(), string(b)); err != nil {
				return "/", did, err
			}
		case "file":
			if err := d.receive(r, in, part, b, &did); err != nil {
				return "/", did, err
			}
		}
	}
	if len(did.Done)+len(did.Wrong) == 0 {
		did.Wrong = []string{"No file was chosen."}
	}
	return "/", did, nil
}

func (d *Desk) receive(r *http.Request, in coach.Intake, part *multipart.Part, b []byte, did *result) error {
	name := part.FileName()
	if name == "" {
		return nil // nothing was chosen
	}
	if in.Client == "" {
		return fault.New(fault.Wrong, "choose whose files these are")
	}
	d.acts.Lock()
	defer d.acts.Unlock()
	receipts, err := d.coach.Receive(r.Context(), in, name, b)
	if err != nil {
		return err
	}
	did.add(in.Client, receipts)
	return nil
}

// takeDrop receives everything in the drop folder.
func (d *Desk) takeDrop(r *http.Request) (to string, did result, err error) {
	dropped, err := d.coach.TakeIn(r.Context(), d.on(), func(int, int) {})
	for _, f := range dropped {
		did.add(f.Client, f.Receipts)
		if f.Waiting != "" {
			did.Wrong = append(did.Wrong, fmt.Sprintf("%s was left in the drop folder: %s", f.File, f.Waiting))
		}
	}
	if len(dropped) == 0 {
		did.Done = []string{"The drop folder is empty."}
	}
	return "/", did, err
}

// add says what became of received files.
func (r *result) add(who string, receipts []coach.Receipt) {
	for _, f := range receipts {
		if f.Status == coach.Refused || f.Status == coach.Waits {
			r.Wrong = append(r.Wrong, fmt.Sprintf("%s, %s: %s: %s", who, f.Name, f.Status, f.Why))
			continue
		}
		line := fmt.Sprintf("%s, %s: %s", who, f.Name, f.Status)
		for _, rec := range f.Recordings {
			line += fmt.Sprintf("; %s, %s, %s", rec.Date.Long(), rec.Workout.Sport, wording.Clock(rec.Workout.Seconds))
		}
		for _, remark := range reasons.Texts(f.Remarks) {
			line += "; " + remark
		}
		r.Done = append(r.Done, line)
	}
}

// actChoice is a decision that can be chosen.
type actChoice struct {
	Act         record.Act
	Word        string
	Recommended bool
}

// acts are the decisions that make sense after an assessment, what it recommends first.
func acts(a record.Assessment) []actChoice {
	all := []record.Act{record.DoHold}
	switch {
	case a.State == record.PausedState:
		all = []record.Act{record.DoResume}
	case a.Verdict != nil && *a.Verdict == record.Refer:
		all = []record.Act{record.DoRefer, record.DoHold, record.DoEase}
	default:
		if a.Stage < 3 {
			all = append(all, record.DoAdvance)
		}
		all = append(all, record.DoEase)
		if a.Stage > 1 {
			all = append(all, record.DoStepBack)
		}
		all = append(all, record.DoMaintain, record.DoPause, record.DoRefer)
	}
	var out []actChoice
	for _, act := range all {
		c := actChoice{act, wording.Capital(strings.ReplaceAll(string(act), "-", " ")), a.Verdict != nil && string(*a.Verdict) == string(act)}
		if c.Recommended {
			out = append([]actChoice{c}, out...)
		} else {
			out = append(out, c)
		}
	}
	return out
}

// decide enters a decision, unless something has come in since the page was opened.
func (d *Desk) decide(r *http.Request) (to string, did result, err error) {
	who, page, err := d.named(r)
	if err != nil {
		return "", did, err
	}
	did.Typed = r.PostFormValue("because")
	now, err := d.standing(r, who)
	if err != nil {
		return page, did, err
	}
	if r.PostFormValue("rests") != restsOn(now.Assessment) {
		return page, did, fault.New(fault.Conflict, "something has come in since this page was opened, so nothing was decided: look again, then decide")
	}
	made, err := d.coach.Decide(r.Context(), record.Decision{
		Client: who, Entered: d.on(), Act: record.Act(r.PostFormValue("act")), Because: r.PostFormValue("because"), By: r.PostFormValue("by"),
	})
	if err != nil {
		return page, did, err
	}
	if err := d.remember(r, made.By); err != nil {
		return page, did, err
	}
	did.Typed = ""
	did.Done = []string{fmt.Sprintf("Decided: %s, stage %d from %s. By %s.", made.Act, made.Stage, made.From.Long(), made.By)}
	if made.Act == record.DoAdvance && (made.Verdict == nil || *made.Verdict != record.Advance) {
		did.Wrong = []string{"You moved " + who + " up although the policy does not recommend it. To undo this, decide to hold."}
	}
	return page, did, nil
}

// remember keeps the first name that was given as the name of the person who decides, so that it is typed once.
func (d *Desk) remember(r *http.Request, by string) error {
	known, err := d.by(r)
	if err != nil || known != "" {
		return err
	}
	return d.coach.SetBy(r.Context(), by)
}

// questionForm is what nobody has answered yet, in the client's own words.
type questionForm struct {
	Client, Page, By string
	On               workout.Date
	Words            string
	Asks             string // the question to put to the client
	Urgent           string // what to do if it is so
	Sign             signs.Sign
	Topic            signs.Topic
	Grave            bool
}

func questionOf(who string, q record.Question, by string) questionForm {
	f := questionForm{Client: who, Page: reports.FileName("decision", who), By: by, On: q.On, Words: q.Words, Asks: q.Asks(), Sign: q.Sign, Topic: q.Topic, Grave: q.Grave()}
	if q.Grave() {
		f.Urgent = q.Sign.Advice(0)
	}
	return f
}

// question enters the answer to a question about a sign or a topic.
func (d *Desk) question(r *http.Request) (to string, did result, err error) {
	who, page, err := d.named(r)
	if err != nil {
		return "", did, err
	}
	e := coach.NoteEntry{By: r.PostFormValue("by")}
	if e.Date, err = workout.ParseDate(r.PostFormValue("on")); err != nil {
		return page, did, fault.In("day", r.PostFormValue("on"), "is not a day")
	}
	sign, topic, so := r.PostFormValue("sign"), r.PostFormValue("topic"), r.PostFormValue("so")
	switch {
	case so == "yes" && sign != "":
		e.Symptoms = sign
	case so == "no" && sign != "":
		e.Symptoms = "none"
	case so == "no" && topic != "":
		e.NotSo = topic
	case so == "yes" && topic != "":
		return page, did, d.topicIsSo(r, who, signs.Topic(topic), &did)
	default:
		return page, did, fault.New(fault.Wrong, "the answer is missing: yes or no")
	}
	if _, _, err := d.coach.EnterNote(r.Context(), who, e, d.on()); err != nil {
		return page, did, err
	}
	if err := d.remember(r, e.By); err != nil {
		return page, did, err
	}
	answer := "it was not so"
	if so == "yes" {
		answer = "it was so"
	}
	did.Done = []string{fmt.Sprintf("Entered for %s, %s: %s.", who, e.Date.Long(), answer)}
	return page, did, nil
}

// topicIsSo enters what is so about a client: a medicine with the day of the change, or a pregnancy. An injury is
// no fact but a decision.
func (d *Desk) topicIsSo(r *http.Request, who string, topic signs.Topic, did *result) error {
	facts := coach.Facts{}
	switch topic {
	case signs.Medicine:
		facts["medicine"], facts["dose_change"] = r.PostFormValue("medicine"), r.PostFormValue("since")
	case signs.Pregnancy:
		c, err := d.coach.Client(r.Context(), who)
		if err != nil {
			return err
		}
		all := []string{string(record.Pregnant)}
		for _, known := range c.Conditions {
			if known != record.Pregnant {
				all = append(all, string(known))
			}
		}
		facts["conditions"] = strings.Join(all, ",")
	default:
		return fault.New(fault.Needs, "decide to ease or pause for %s, or to refer them to a doctor", who)
	}
	if _, err := d.coach.ChangeClient(r.Context(), who, facts, d.on()); err != nil {
		return err
	}
	did.Done = []string{"Entered for " + who + ". The plan follows it."}
	return nil
}
