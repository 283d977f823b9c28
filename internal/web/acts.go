package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
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

// weekly adds the routes of the weekly job.
func (d *Desk) weekly(mux *http.ServeMux) {
	mux.Handle("GET /{$}", d.page(d.week))
	mux.Handle("POST /take-in", limited(maxUpload, d.told(d.takeIn)))
	mux.Handle("POST /drop", limited(maxForm, d.told(d.takeDrop)))
	mux.Handle("GET /arrivals", http.HandlerFunc(d.arriving))
	mux.Handle("POST /claim", limited(maxForm, d.told(d.claim)))
	mux.Handle("POST /put-away", limited(maxForm, d.act(d.putAway)))
	mux.Handle("POST /twin", limited(maxForm, d.act(d.heard(d.twin))))
	mux.Handle("POST /sent", limited(maxForm, d.act(d.heard(d.sent))))
	mux.Handle("POST /by", limited(maxForm, d.act(d.setBy)))
	mux.Handle("POST /answers", limited(maxForm, d.page(d.answers)))
	mux.Handle("POST /question", limited(maxForm, d.act(d.heard(d.question))))
	mux.Handle("POST /decide", limited(maxForm, d.act(d.heard(d.decide))))
}

// named is the client that a form is about, and where it leads back to: the row of the week that it came from, or the
// client's page.
func (d *Desk) named(r *http.Request) (who, page string, err error) {
	who, err = d.coach.Named(r.Context(), r.PostFormValue("client"))
	if r.PostFormValue("page") == reports.FileName("roster", "") {
		return who, reports.FileName("roster", "") + "?open=" + url.QueryEscape(who) + "#" + reports.RowID(who), err
	}
	return who, reports.FileName("decision", who), err
}

// errStale is a form on a page that is out of date.
var errStale = fault.New(fault.Conflict, "something has come in since this page was opened, so nothing was entered: look again")

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
		c := actChoice{act, actWords(act, a.Stage), a.Verdict != nil && string(*a.Verdict) == string(act)}
		if c.Recommended {
			out = append([]actChoice{c}, out...)
		} else {
			out = append(out, c)
		}
	}
	return out
}

// decide enters a decision, unless something has come in since the page was made.
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
		return page, did, errStale
	}
	made := record.Decision{Client: who, Entered: d.on(), Typed: workout.DateOf(d.now(), d.now().Location()), Act: record.Act(r.PostFormValue("act")), Because: did.Typed, By: r.PostFormValue("by")}
	switch {
	case r.PostFormValue("accept") != "" && now.Assessment.Verdict != nil:
		made.Act, made.Because = record.Act(*now.Assessment.Verdict), "As recommended."
	case r.PostFormValue("undo") != "":
		made.Act, made.Because = record.DoHold, "Undone on the same day."
	}
	made, err = d.coach.Decide(r.Context(), made)
	if err != nil {
		return page, did, err
	}
	if err := d.remember(r, made.By); err != nil {
		return page, did, err
	}
	did.Typed = ""
	did.Done = []string{fmt.Sprintf("Decided: %s, stage %d from %s. By %s.", strings.ReplaceAll(string(made.Act), "-", " "), made.Stage, made.From.Long(), made.By)}
	if made.Act == record.DoAdvance && (made.Verdict == nil || *made.Verdict != record.Advance) {
		did.Wrong = []string{"You moved " + who + " up although the policy does not recommend it. If that was a mistake, undo the decision today."}
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

// actWords say what a decision does for a client in a stage.
func actWords(act record.Act, stage int) string {
	switch act {
	case record.DoAdvance:
		return fmt.Sprintf("Move up to stage %d", stage+1)
	case record.DoStepBack:
		return fmt.Sprintf("Step back to stage %d", stage-1)
	case record.DoEase:
		return "Plan an easier week"
	case record.DoRefer:
		return "Send to a doctor"
	case record.DoMaintain:
		return "Stay in this stage by choice"
	case record.DoPause:
		return "Pause"
	case record.DoResume:
		return "Resume after the pause"
	}
	return "Stay in this stage"
}

// decidedWords say what was decided.
func decidedWords(dec record.Decision) string {
	return wording.Capital(reasons.Act(dec.Act)) + " on " + dec.Entered.Short()
}

// questionForm is an open question, with the client's own words.
type questionForm struct {
	Client, Page, ID string
	On               workout.Date
	Words            string
	Asks             string // the question to put to the client
	Urgent           string // what to do if it is so
	Until            string // what holds until it is answered; "" where the verdict says more
	Sign             signs.Sign
	Topic            signs.Topic
	Confirm          record.Checked // of facts that contradict each other
	Grave            bool
}

func questionOf(who, id, page string, q record.Question, today workout.Date) questionForm {
	f := questionForm{Client: who, ID: id, Page: page, On: q.On, Words: q.Words, Asks: q.Asks(), Sign: q.Sign, Topic: q.Topic, Confirm: q.Confirm, Grave: q.Grave()}
	if q.Clash.Code != "" {
		f.Asks = reasons.Text(q.Clash)
	}
	if q.Grave() {
		f.Urgent = q.Sign.Advice(int(today - q.On))
	}
	return f
}

// question enters the answer to a question about a sign or a topic, unless somebody has answered it since.
func (d *Desk) question(r *http.Request) (to string, did result, err error) {
	who, page, err := d.named(r)
	if err != nil {
		return "", did, err
	}
	if confirm := r.PostFormValue("confirm"); confirm != "" {
		return page, did, d.confirm(r, who, record.Checked(confirm), &did)
	}
	e := coach.NoteEntry{By: r.PostFormValue("by")}
	if e.Date, err = workout.ParseDate(r.PostFormValue("on")); err != nil {
		return page, did, fault.In("day", r.PostFormValue("on"), "is not a day")
	}
	now, err := d.standing(r, who)
	if err != nil {
		return page, did, err
	}
	if !slices.ContainsFunc(now.Assessment.Unanswered, func(q record.Question) bool {
		return q.On == e.Date && string(q.Sign) == r.PostFormValue("sign") && string(q.Topic) == r.PostFormValue("topic")
	}) {
		return page, did, fault.New(fault.Conflict, "that question is no longer open: look again")
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
	answer := "they said no"
	if so == "yes" {
		answer = "they said yes"
	}
	did.Done = []string{fmt.Sprintf("Entered for %s, %s: %s.", who, e.Date.Long(), answer)}
	return page, did, nil
}

// confirm enters that facts are right although they contradict each other.
func (d *Desk) confirm(r *http.Request, who string, fact record.Checked, did *result) error {
	c, err := d.coach.Client(r.Context(), who)
	if err != nil {
		return err
	}
	all := []string{string(fact)}
	for _, known := range c.Confirmed {
		all = append(all, string(known))
	}
	if _, err := d.coach.ChangeClient(r.Context(), who, coach.Facts{"confirmed": strings.Join(all, ",")}, d.on()); err != nil {
		return err
	}
	did.Done = []string{"Entered for " + who + ": asked, and what is on record is right."}
	return nil
}

// sent records that the plan on a client's page was sent, or takes that back.
func (d *Desk) sent(r *http.Request) (to string, did result, err error) {
	who, page, err := d.named(r)
	if err != nil {
		return "", did, err
	}
	if r.PostFormValue("undo") != "" {
		return page, did, d.coach.Untick(r.Context(), who, record.PlanSent, d.on()-jobDays+1)
	}
	now, err := d.standing(r, who)
	if err == nil && planDigest(now.Next) != r.PostFormValue("plan") {
		err = errStale
	}
	if err == nil {
		err = d.coach.Tick(r.Context(), who, record.Tick{What: record.PlanSent, Of: r.PostFormValue("plan"), Day: d.on()})
	}
	return page, did, err
}

// setBy keeps the name of the person who decides and asks.
func (d *Desk) setBy(r *http.Request) (to string, did result, err error) {
	return "/", did, d.coach.SetBy(r.Context(), r.PostFormValue("by"))
}

// topicIsSo enters what is so about a client: a medicine with the day of the change, or a pregnancy. An injury is
// not a fact but a reason to decide.
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
	did.Done = []string{"Entered for " + who + ". The plan takes it into account."}
	return nil
}
