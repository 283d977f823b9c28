package web

import (
	"errors"
	"net/http"
	"slices"

	"nextrung/internal/coach"
	"nextrung/internal/signs"
	"nextrung/reports"
)

// newClientSections are what is asked at a first meeting, in its order: only what decides something.
func newClientSections(d *Desk) []factSection {
	today := d.on()
	all := factSections(today)
	fields := func(id string) []field {
		return all[slices.IndexFunc(all, func(s factSection) bool { return s.ID == id })].Fields
	}
	name := field{Name: "name", Label: "First name", Kind: aText, Required: true, Help: "As it will appear on folders and pages."}
	screening := slices.Clone(fields("screening"))
	screening[0].Help = "Leave it empty if you ask today."
	programme := pick(fields("programme"), "stage", "since")
	programme[0], programme[1].Value = programme[0].holding("1"), today.String()
	return []factSection{
		{ID: "name", Name: "Who", Fields: []field{name}},
		{ID: "screening", Name: "Screening", Fields: screening,
			Lead: "Ask these before anything else. Leave all of them empty if you cannot ask yet: no session is planned until you have."},
		{ID: "person", Name: "Person", Fields: pick(fields("person"), "born", "sex")},
		{ID: "training", Name: "Time and likes", Fields: pick(fields("training"), "days", "minutes", "modes", "goal")},
		{ID: "zones", Name: "Heart rates", Fields: pick(fields("zones"), coach.HRRest, coach.HRMax),
			Lead: "Both can wait. A talk test in the first week is the better guide."},
		{ID: "programme", Name: "Where to begin", Fields: programme},
	}
}

func (d *Desk) newClientFields() (out []field) {
	for _, s := range newClientSections(d) {
		out = append(out, s.Fields...)
	}
	return out
}

// newClientForm is the form for a first meeting.
type newClientForm struct {
	result
	Sections       []factSection
	Stop, Cautions []string
}

func (d *Desk) newClientPage(r *http.Request) (content, error) {
	page := newClientForm{result: d.done.of(r.FormValue("done")), Sections: newClientSections(d), Stop: signs.StopSigns(), Cautions: signs.Cautions(signs.Trainer)}
	for i := range page.Sections {
		page.Sections[i].Fields = page.refused.of("new-client").apply(page.Sections[i].Fields)
	}
	return clientsRoom("New client", "One form for the first meeting, in the order of the conversation.", "newclient", page)
}

// newClient enters somebody, and says what their answers call for at once.
func (d *Desk) newClient(r *http.Request) (to string, did result, err error) {
	facts, err := typed(r, d.newClientFields(), nil)
	name := facts["name"]
	delete(facts, "name")
	if err != nil {
		did.Wrong = graveAnswers(plain(r, d.newClientFields()))
		return newClientFile, did, errors.Join(err, facts.Check(d.on()))
	}
	if facts["screened"] == "" && facts["signs"]+facts["active"]+facts["disease"] != "" {
		facts["screened"] = d.on().String()
	}
	client, err := d.coach.EnterClient(r.Context(), name, facts, d.on())
	if err != nil {
		did.Wrong = graveAnswers(facts)
		return newClientFile, did, err
	}
	did.Done = []string{client.Name + " is in the book."}
	if client.Screening.On == 0 {
		did.Done = append(did.Done, "Ask the screening questions next: no session is planned without the answers.")
	}
	return reports.FileName("facts", client.Name), did, nil
}
