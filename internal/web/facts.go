package web

import (
	"cmp"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

func (d *Desk) allFactFields() (out []field) {
	for _, s := range factSections(d.on()) {
		out = append(out, append(s.Fields, s.About...)...)
	}
	return out
}

// factsForm is the page of what is known of a client.
type factsForm struct {
	personPage
	Urgent    []reasons.Urgent
	Barred    []string
	Missing   []gap
	Zones     []zoneRow
	ByEffort  bool
	Limit     string
	Clearance string // what the clearance on record covers; "" for none
	Proposed  []proposedRow
	State     form
	Sections  []shownSection
}

// shownSection is a part of the facts as they are, and the form that changes them.
type shownSection struct {
	factSection
	Rows    []factRow
	Entered since    // when most of it was entered
	Lacks   []string // what is not known
	Open    bool     // what was typed was refused
}

// factRow is a fact, the day from which it applies unless the section says so, and what was entered before.
type factRow struct {
	Label, Value string
	Since        since
	Before       []string
}

// since is when a fact was entered, and from when it holds where a day was given.
type since struct{ From, Entered workout.Date }

// String puts it in words; "" for no day.
func (s since) String() string {
	switch {
	case s.Entered == 0:
		return ""
	case s.From == 0:
		return "entered on " + s.Entered.Long()
	}
	return fmt.Sprintf("from %s, entered on %s", s.From.Long(), s.Entered.Long())
}

// proposedRow is a change of zones that the record supports.
type proposedRow struct {
	ID, Change, Text           string
	Evidence, Beside, Cautions []string
	Edges                      []edgeChange
	Fields                     []field
}

type edgeChange struct {
	Mode          string
	Before, After template.HTML
	Was, Would    string
}

func (d *Desk) factsPage(r *http.Request, who string) (content, error) {
	on := d.on()
	person, err := d.person(r, who, "facts")
	if err != nil {
		return content{}, err
	}
	rec, err := d.coach.Record(r.Context(), who, on, false)
	if err != nil {
		return content{}, err
	}
	page := factsForm{personPage: person, Missing: missing(rec.Client, on), Zones: zonesNow(rec.Client, on), ByEffort: rec.Client.ByEffort(), Clearance: clearance(rec.Client)}
	if page.Urgent, err = d.coach.AtOnce(r.Context(), who, on); err != nil {
		return content{}, err
	}
	if len(page.Urgent) == 0 {
		if page.Barred, err = d.heldBack(r, who); err != nil {
			return content{}, err
		}
	}
	if b := rec.Client.Body(on); b.Limit > 0 {
		page.Limit = fmt.Sprintf("Limit set by a doctor: %s bpm. Sessions stay below %s.", wording.Number(b.Limit), wording.Number(b.Ceiling()))
	}
	if page.Proposed, err = d.proposed(r, page.personPage); err != nil {
		return content{}, err
	}
	page.State = stateForm(person.By, page.refused)
	if page.Sections, err = d.shownSections(r, who, page.refused); err != nil {
		return content{}, err
	}
	stage, since := rec.StageOn(on)
	lead := fmt.Sprintf("%s, stage %d since %s.", wording.Capital(stateName(rec.StateOn(on))), stage, since.Long())
	if stage == 0 {
		lead = wording.Capital(stateName(rec.StateOn(on))) + ", in no stage yet."
	}
	return clientsRoom(who, lead, "facts", page)
}

// clearance says what the clearance on record covers.
func clearance(c record.Client) string {
	switch {
	case c.Clearance == 0:
		return ""
	case !c.Covered():
		return fmt.Sprintf("The clearance of %s does not cover what was entered on %s. A newer one is needed.", c.Clearance.Long(), c.CareSince().Long())
	}
	return fmt.Sprintf("Cleared by a doctor on %s. It covers what was known when it was entered: a sign, disease, dose or condition that comes later needs a newer one.", c.Clearance.Long())
}

// shownSections are the facts of a client as they are.
func (d *Desk) shownSections(r *http.Request, who string, no refused) ([]shownSection, error) {
	c, err := d.coach.Client(r.Context(), who)
	if err != nil {
		return nil, err
	}
	entries, err := d.coach.Entries(r.Context(), who)
	if err != nil {
		return nil, err
	}
	now := coach.FactsOf(c)
	var out []shownSection
	for _, s := range factSections(d.on()) {
		shown := shownSection{factSection: s}
		for i, f := range s.Fields {
			f = f.holding(now[f.Name])
			f.Form = s.ID
			shown.Fields[i] = f
			shown.add(f, entries[f.Name], c.Withdrawn)
		}
		shown.sum()
		for i := range shown.About {
			shown.About[i].Form = s.ID
		}
		if no.form == "facts" && no.typed.Get("section") == s.ID {
			shown.Open = true
			shown.Fields, shown.About = no.apply(shown.Fields), no.apply(shown.About)
			for i, f := range shown.Fields {
				shown.Fields[i].Was = no.typed.Get("was-" + string(f.Name))
			}
		}
		out = append(out, shown)
	}
	return out, nil
}

// add adds a fact with its history or, if it is not known, its name to what is missing.
func (s *shownSection) add(f field, entries []coach.Entry, withdrawn []record.Withdrawal) {
	row := factRow{Label: f.Label, Value: f.shown(f.Value)}
	for _, w := range slices.Backward(withdrawn) {
		if w.Fact == string(f.Name) {
			row.Before = append(row.Before, reasons.TakenOff(w))
		}
	}
	n := len(entries)
	if f.Value == "" && n < 2 && len(row.Before) == 0 {
		s.Lacks = append(s.Lacks, f.Label)
		return
	}
	if n > 0 {
		row.Since = since{entries[n-1].From, entries[n-1].Entered}
		for _, e := range slices.Backward(entries[:n-1]) {
			row.Before = append(row.Before, f.shown(e.Value)+", "+since{e.From, e.Entered}.String())
		}
	}
	s.Rows = append(s.Rows, row)
}

// sum says once for the section when most of it was entered.
func (s *shownSection) sum() {
	times := map[since]int{}
	for _, row := range s.Rows {
		times[row.Since]++
		if times[row.Since] > times[s.Entered] {
			s.Entered = row.Since
		}
	}
	for i := range s.Rows {
		if s.Rows[i].Since == s.Entered {
			s.Rows[i].Since = since{}
		}
	}
}

// changeFacts enters what was changed in one section of the facts.
func (d *Desk) changeFacts(r *http.Request) (to string, did result, err error) {
	who, to, err := d.clientOf(r, "facts")
	if err != nil {
		return "", did, err
	}
	c, err := d.coach.Client(r.Context(), who)
	if err != nil {
		return "", did, err
	}
	sections := factSections(d.on())
	i := slices.IndexFunc(sections, func(s factSection) bool { return s.ID == r.PostFormValue("section") })
	if i < 0 {
		return "", did, fault.New(fault.Wrong, "the form does not say which facts it is about")
	}
	facts, err := typed(r, sections[i].Fields, coach.FactsOf(c))
	if err == nil && len(facts) > 0 {
		for _, f := range sections[i].About {
			facts[f.Name] = strings.TrimSpace(r.PostFormValue(string(f.Name)))
		}
		if sections[i].ID == "zones" && len(c.Zones) == 0 {
			facts[coach.From] = "" // the first zones hold for every day
		}
	}
	if err == nil {
		_, err = d.coach.ChangeClient(r.Context(), who, facts, d.on())
	}
	if err != nil {
		did.Wrong = graveAnswers(plain(r, sections[i].Fields))
		return to, did, err
	}
	var changed []string
	for _, f := range sections[i].Fields {
		if value, ok := facts[f.Name]; ok {
			changed = append(changed, f.Label+": "+f.shown(value))
		}
	}
	did.Done = []string{"Entered for " + who + ". " + wording.Sentence(strings.Join(changed, "; "))}
	return to, did, nil
}

// The acts that change the state of a client. Those of record.Act are decisions; the others are facts.
func stateFields() []field {
	return []field{
		{Name: "act", Label: "From then on", Kind: oneOf, Choices: []option{
			{Value: string(record.DoPause), Label: "Pause", Means: "Ill, away or injured. No verdicts and no plans until the return."},
			{Value: string(record.DoResume), Label: "Return from the pause", Means: "Refused while a sign, a disease or a question is unresolved."},
			{Value: string(record.DoMaintain), Label: "Stay in this stage by choice", Means: "A fine outcome: the plan goes on, and no move up is suggested."},
			{Value: string(record.RecoveryOf), Label: "Recovery phase", Means: "A fitter client, easy on purpose for a while."},
			{Value: string(record.Finished), Label: "Finished", Means: "The programme is over. Everything stays on record."},
			{Value: string(record.Active), Label: "Training again", Means: "After a recovery phase, or after having finished."},
		}},
		{Name: coach.From, Label: "First day", Kind: aDay, Help: "If left empty: tomorrow for a pause, a return or staying in the stage; today for the rest."},
		{Name: "to", Label: "Last day of the pause", Kind: aDay, Help: "Leave it empty if you don't know it yet."},
		{Name: "because", Label: "Why", Kind: aText, Help: "Needed for a pause, a return or staying in the stage."},
		{Name: "by", Label: "Decided by", Kind: aText},
	}
}

func stateForm(by string, no refused) form {
	f := form{ID: "state", Name: "Pause, return, finish", Button: "Enter this", Fields: stateFields(), Open: no.form == "state"}
	f.Fields[4].Value = by
	f.Fields = no.of("state").apply(f.Fields)
	for i := range f.Fields {
		f.Fields[i].Form = f.ID
	}
	return f
}

// changeState pauses a client, lets them return, or enters another state.
func (d *Desk) changeState(r *http.Request) (to string, did result, err error) {
	who, to, err := d.clientOf(r, "facts")
	if err != nil {
		return "", did, err
	}
	act := r.PostFormValue("act")
	if !slices.ContainsFunc(stateFields()[0].Choices, func(c option) bool { return c.Value == act }) {
		return to, did, fault.In("act", "", "is missing: choose one")
	}
	switch record.State(act) {
	case record.RecoveryOf, record.Finished, record.Active:
		from, err := coach.Date(coach.From, r.PostFormValue(string(coach.From)))
		if err != nil {
			return to, did, err
		}
		facts := coach.Facts{"state": act}
		if from != 0 {
			facts[coach.From] = from.String()
		}
		if _, err := d.coach.ChangeClient(r.Context(), who, facts, d.on()); err != nil {
			return to, did, err
		}
		did.Done = []string{fmt.Sprintf("%s: %s.", who, stateName(record.State(act)))}
		return to, did, nil
	}
	from, wrong := coach.Date(coach.From, r.PostFormValue(string(coach.From)))
	last, err := coach.Date("to", r.PostFormValue("to"))
	if err = cmp.Or(wrong, err); err != nil {
		return to, did, err
	}
	made, err := d.coach.Decide(r.Context(), record.Decision{Client: who, Entered: d.on(), Typed: workout.DateOf(d.now(), d.now().Location()), Act: record.Act(act), From: from, To: last,
		Because: r.PostFormValue("because"), By: r.PostFormValue("by")})
	if err != nil {
		return to, did, err
	}
	did.Done = []string{fmt.Sprintf("%s: %s from %s. By %s.", who, reasons.Act(made.Act), made.From.Long(), made.By)}
	return to, did, d.remember(r, made.By)
}

func answerFields(today workout.Date) []field {
	return []field{
		{Name: coach.From, Label: "First day of the new zones", Kind: aDay, Value: (today + 1).String()},
		{Name: "because", Label: "Why", Kind: aText},
		{Name: "by", Label: "Decided by", Kind: aText},
	}
}

// proposed are the changes of zones that a client's record supports.
func (d *Desk) proposed(r *http.Request, p personPage) (out []proposedRow, err error) {
	found, err := d.coach.Proposals(r.Context(), p.Client, d.on())
	if err != nil {
		return nil, err
	}
	for _, x := range found.Open {
		row := proposedRow{ID: x.ID, Change: wording.Capital(x.Change()), Text: x.Text(), Cautions: record.Map(x.Cautions, proposal.Caution.Words)}
		row.Evidence = record.Map(x.Evidence, x.Shows)
		row.Beside = record.Map(x.Beside, x.Shows)
		for _, e := range x.Edges {
			c := edgeChange{Mode: wording.Capital(e.Mode.Doing()), Was: "none", Would: "none"}
			if e.Before != nil {
				c.Was, c.Before = edgesText(e.Before.BPM), reports.ZoneScale(*e.Before)
			}
			if e.After != nil {
				c.Would, c.After = edgesText(e.After.BPM), reports.ZoneScale(*e.After)
			}
			row.Edges = append(row.Edges, c)
		}
		row.Fields = answerFields(d.on())
		row.Fields[2].Value = p.By
		if p.refused.typed.Get("id") == x.ID {
			row.Fields = p.refused.of("suggestion").apply(row.Fields)
		}
		for i := range row.Fields {
			row.Fields[i].Form = x.ID
		}
		out = append(out, row)
	}
	return out, nil
}

// edgesText writes the three zones: "113–137, 138–154, 155–171".
func edgesText(e [4]float64) string {
	return wording.Band(e[0], e[1]) + ", " + wording.Band(e[1], e[2]) + ", " + wording.Band(e[2], e[3])
}

// answerSuggestion accepts or declines a change of zones.
func (d *Desk) answerSuggestion(r *http.Request) (to string, did result, err error) {
	who, to, err := d.clientOf(r, "facts")
	if err != nil {
		return "", did, err
	}
	a := proposal.Answer{Entered: d.on(), By: r.PostFormValue("by"), Because: r.PostFormValue("because")}
	switch r.PostFormValue("so") {
	case "accept":
		a.Taken = true
		if a.From, err = coach.Date(coach.From, r.PostFormValue(string(coach.From))); err != nil {
			return to, did, err
		}
	case "decline":
	default:
		return to, did, fault.New(fault.Wrong, "the answer is missing: accept or decline")
	}
	if a, err = d.coach.Answer(r.Context(), who, r.PostFormValue("id"), a); err != nil {
		return to, did, err
	}
	if a.Taken {
		did.Done = []string{fmt.Sprintf("Accepted: %s. The new zones apply from %s; earlier days keep theirs. If next week's plan was sent, send the new one.", a.Proposal.Change(), a.From.Long())}
	} else {
		did.Done = []string{fmt.Sprintf("Declined: %s. The same evidence won't bring it up again.", a.Proposal.Change())}
	}
	return to, did, nil
}
