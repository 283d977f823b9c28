package web_test

import (
	"context"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

// empty is a desk on a book in which nobody is yet.
func empty(t *testing.T) desk {
	t.Helper()
	c, err := coach.Open(context.Background(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	d := web.New(c, func() workout.Date { return today }, func() time.Time { return today.Noon(time.UTC) })
	return desk{t, c, d.Handler(host)}
}

// send posts a form in which a name may stand several times.
func (d desk) sendForm(path string, form url.Values) (int, string) {
	d.t.Helper()
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return d.send(r)
}

// talked is the form of a first talk with somebody who has nothing wrong.
func talked() url.Values {
	v := url.Values{
		"name": {"Sunna"}, "disease": {"none"}, "active": {"yes"}, "medicine": {"none"}, "born": {"1988-05-02"}, "sex": {"female"}, "days": {"3"}, "minutes": {"40"},
		"modes": {"walk", "run"}, "goal": {"the stairs to the lighthouse"}, "hr_rest": {"61"}, "stage": {"1"}, "since": {today.String()},
	}
	for i := range signs.Screening() {
		v.Set("signs-"+string(rune('1'+i)), "none")
	}
	return v
}

// A first talk enters somebody whole, and an empty book begins with it.
func TestANewClient(t *testing.T) {
	d := empty(t)
	_, page := d.get("/clients.html")
	contains(t, page, "Nobody is in this book yet", `href="new-client.html"`)
	code, page := d.sendForm("/new-client", talked())
	contains(t, page, "Sunna is in the book.", "Zones now", "the stairs to the lighthouse")
	c, err := d.Client(t.Context(), "Sunna")
	if code != http.StatusOK || err != nil {
		t.Fatal(code, err)
	}
	if s := c.Screening; s.On != today || !s.Active || len(s.Signs) != 0 || c.Zones[0].HRRest != 61 || !slices.Equal(c.Modes, []workout.Mode{workout.Walk, workout.Run}) || c.Stage != 1 {
		t.Errorf("%+v", c)
	}
	_, page = d.get("/clients.html")
	contains(t, page, "1 client in this book", "Sunna", "training, stage 1", "Missing: talk test or measured maximum")
}

// What was typed is there again when it is refused, each fault beside its field, and nothing is entered.
func TestANewClientThatIsRefusedKeepsWhatWasTyped(t *testing.T) {
	d := empty(t)
	form := talked()
	form.Set("hr_rest", "sixty")
	form.Set("days", "three")
	form.Del("medicine")
	_, page := d.sendForm("/new-client", form)
	contains(t, page, "Nothing was entered. Look at the answers that are marked below.",
		`Resting heart rate "sixty" is not a number.`, `Days a week "three" is not a whole number.`, "Medicine that changes the heart rate must be answered",
		`name="name" value="Sunna"`, `value="sixty"`, `name="hr_rest"`, "the stairs to the lighthouse</textarea>", `name="modes" value="walk" checked`, `name="signs-3" value="none" checked`)
	form = talked()
	form.Set("born", "2025-01-01")
	form.Set("days", "9")
	_, page = d.sendForm("/new-client", form)
	contains(t, page, "makes the client 2 years old", "Days a week 9 is outside 1 to 7")
	if names, _ := d.Clients(t.Context()); len(names) != 0 {
		t.Errorf("entered %v", names)
	}
	// The form works once it is corrected, and a name that is taken is refused with everything kept.
	d.sendForm("/new-client", talked())
	_, page = d.sendForm("/new-client", talked())
	contains(t, page, "Sunna is already in the book", "the stairs to the lighthouse</textarea>")
}

// A question that nobody asked counts as no answer, and a grave one says at once what to do, even in a form that is refused.
func TestTheScreeningIsWhole(t *testing.T) {
	d := empty(t)
	form := talked()
	form.Del("signs-4")
	form.Set("signs-1", "chest")
	form.Set("minutes", "long")
	_, page := d.sendForm("/new-client", form)
	form.Set("minutes", "40")
	contains(t, page, `Minutes a session "long" is not a whole number.`, "Signs and symptoms need an answer to every question.", "Call emergency help now if the symptom is still there or comes back; otherwise the client has to see a doctor today. No training until a doctor has cleared the client.", `name="signs-1" value="chest" checked`)
	if names, _ := d.Clients(t.Context()); len(names) != 0 {
		t.Fatalf("entered %v", names)
	}
	form.Set("signs-4", "none")
	form["signs-others"] = []string{"told-not-to-train"}
	_, page = d.sendForm("/new-client", form)
	contains(t, page, "Call emergency help now", "No training until a doctor has cleared the client")
	if s := d.record("Sunna").Client.Screening.Signs; !slices.Equal(s, []signs.Sign{signs.Chest, signs.ToldNotToTrain}) {
		t.Errorf("signs %v", s)
	}
	_, page = d.get("/clients.html")
	contains(t, page, "Held back", "Call emergency help now")
	if week, _, err := d.Prescribe(t.Context(), "Sunna", today); err == nil && len(week.Sessions) > 0 {
		t.Error("a plan stands beside a grave sign")
	}
	// Without any answer somebody is entered, and nothing is planned.
	form = url.Values{"name": {"Odd"}, "born": {"1990-01-01"}}
	_, page = d.sendForm("/new-client", form)
	contains(t, page, "Ask the screening questions next", "The screening questions have not been answered.")
}

// exactly are facts that are entered on the desk, section by section, and by the command.
func exactly() (coach.Facts, map[string]url.Values) {
	return coach.Facts{
			"screened": "2026-10-01", "signs": "dizzy,cold", "active": "no", "disease": "heart", "medicine": "slows", "dose_change": "2026-09-01", "conditions": "insulin,asthma", "clearance": "2026-10-02",
			"born": "1979-12-31", "sex": "male", "height_cm": "181.5", "mass_kg": "88", "time_zone": "Europe/Oslo",
			"hr_rest": "58", "hr_max": "184", "hr_max_mode": "run=182,bike=175", "thresholds": "120,150", "edges": "row=100,120,140,160", "limit_bpm": "150",
			"days": "4", "minutes": "50", "modes": "run,row", "goal": "the regatta", "equipment": "rowing machine,gym", "enjoys": "the sea", "resistance_days": "mon,fri", "tight": "hips", "sensor": "strap",
			"stage": "2", "since": "2026-09-30", "confirmed": "hr-rest,born", "state": "recovery", "because": "the clinic's letter",
		}, map[string]url.Values{
			"screening": {"screened": {"2026-10-01"}, "signs-1": {"none"}, "signs-2": {"none"}, "signs-3": {"dizzy"}, "signs-4": {"none"}, "signs-5": {"none"}, "signs-6": {"none"}, "signs-7": {"none"}, "signs-8": {"none"},
				"signs-9": {"none"}, "signs-others": {"cold"}, "active": {"no"}, "disease": {"heart"}, "medicine": {"slows"}, "dose_change": {"2026-09-01"}, "conditions": {"insulin", "asthma"}, "clearance": {"2026-10-02"}, "because": {"the clinic's letter"}},
			"person": {"born": {"1979-12-31"}, "sex": {"male"}, "height_cm": {"181.5"}, "mass_kg": {"88"}, "time_zone": {"Europe/Oslo"}},
			"zones": {"hr_rest": {"58"}, "hr_max": {"184"}, "hr_max_mode-run": {"182"}, "hr_max_mode-bike": {"175"}, "thresholds-1": {"120"}, "thresholds-2": {"150"}, "edges-row": {"100, 120, 140, 160"},
				"limit_bpm": {"150"}, "from": {"2026-10-05"}},
			"training": {"days": {"4"}, "minutes": {"50"}, "modes": {"run", "row"}, "goal": {"the regatta"}, "equipment": {"rowing machine, gym"}, "enjoys": {"the sea"}, "resistance_days": {"mon", "fri"},
				"tight": {"hips"}, "sensor": {"strap"}},
			"programme": {"stage": {"2"}, "since": {"2026-09-30"}, "confirmed": {"hr-rest", "born"}},
		}
}

// Every fact that the commands can enter can be entered on the desk, and both leave the same facts.
func TestEveryFactCanBeEnteredOnTheDesk(t *testing.T) {
	facts, sections := exactly()
	for _, f := range coach.FactFields() {
		if f != coach.From && facts[f] == "" {
			t.Errorf("%s is not tried", f)
		}
	}
	d, typed := open(t), open(t)
	for _, x := range []desk{d, typed} { // what holds training back and will no longer
		if _, err := x.ChangeClient(t.Context(), "Runa", coach.Facts{"conditions": "pregnant"}, today-3); err != nil {
			t.Fatal(err)
		}
	}
	was := regexp.MustCompile(`name="was-([a-z_]+)" value="([^"]*)"`)
	for _, id := range []string{"screening", "person", "zones", "training", "programme"} {
		_, page := d.get("/facts-runa.html")
		_, section, _ := strings.Cut(page, `name="section" value="`+id+`"`)
		section, _, _ = strings.Cut(section, "</form>")
		form := sections[id]
		form.Set("client", "Runa")
		form.Set("section", id)
		for _, m := range was.FindAllStringSubmatch(section, -1) {
			form.Set("was-"+m[1], m[2])
		}
		_, page = d.sendForm("/facts", form)
		contains(t, page, "Entered for Runa.")
	}
	_, page := d.post("/state", "client", "Runa", "act", "recovery")
	contains(t, page, "Runa: recovery phase.")

	zones := coach.Facts{coach.From: "2026-10-05"}
	for _, f := range []fault.Field{coach.HRRest, coach.HRMax, coach.HRMaxMode, coach.Thresholds, coach.Edges, coach.Limit} {
		zones[f] = facts[f]
		delete(facts, f)
	}
	for _, part := range []coach.Facts{zones, facts} {
		if _, err := typed.ChangeClient(t.Context(), "Runa", part, today); err != nil {
			t.Fatal(err)
		}
	}
	onDesk, onCommand := d.record("Runa").Client, typed.record("Runa").Client
	if len(onDesk.Withdrawn) != 1 || !slices.Equal(onDesk.Withdrawn, onCommand.Withdrawn) {
		t.Errorf("withdrawn: desk %v, command %v", onDesk.Withdrawn, onCommand.Withdrawn)
	}
	if a, b := coach.FactsOf(onDesk), coach.FactsOf(onCommand); !maps.Equal(a, b) {
		t.Errorf("desk    %v\ncommand %v", a, b)
	}
	if !reflect.DeepEqual(onDesk.Zones, onCommand.Zones) || onDesk.ClearedTo != onCommand.ClearedTo {
		t.Errorf("desk %+v\ncommand %+v", onDesk, onCommand)
	}
}

// Only what was changed is entered; what was emptied is none, and what changed meanwhile is not overwritten.
func TestOnlyWhatWasChangedIsEntered(t *testing.T) {
	d := open(t)
	d.ChangeClient(t.Context(), "Runa", coach.Facts{"goal": "the pier", "conditions": "asthma", "clearance": "2026-09-01", "modes": "run,walk"}, today)
	form := url.Values{"client": {"Runa"}, "section": {"training"}, "goal": {""}, "was-goal": {"the pier"}, "modes": {"walk", "run"}, "was-modes": {"run,walk"}, "days": {"3"}, "was-days": {"3"}}
	_, page := d.sendForm("/facts", form)
	contains(t, page, "Goal: none")
	if c := d.record("Runa").Client; c.Goal != "" || c.Minutes != 40 || c.Modes[0] != workout.Run {
		t.Errorf("%+v", c)
	}
	_, page = d.sendForm("/facts", url.Values{"client": {"Runa"}, "section": {"training"}, "goal": {"the mast"}, "was-goal": {"the pier"}})
	contains(t, page, "in the meantime", "the mast")
	if c := d.record("Runa").Client; c.Goal != "" {
		t.Errorf("overwrote it with %q", c.Goal)
	}
	health := url.Values{"client": {"Runa"}, "section": {"screening"}, "was-conditions": {"asthma"}, "was-clearance": {"2026-09-01"}, "clearance": {""}}
	d.sendForm("/facts", health)
	if c := d.record("Runa").Client; c.Clearance != 0 || len(c.Conditions) != 0 {
		t.Errorf("%+v", c)
	}
	_, page = d.sendForm("/facts", url.Values{"client": {"Runa"}, "section": {"training"}})
	contains(t, page, "There is nothing to change")
	_, page = d.get("/facts-runa.html")
	contains(t, page, "Earlier", "the pier, entered on 4 October 2026")
}

// What holds training back leaves the record on the desk with who said so: required where it is typed, kept, and shown.
func TestWhoSaidSoIsAskedAndShown(t *testing.T) {
	for _, x := range []struct {
		section, name, was, now string
		before                  coach.Facts
		lost                    string
	}{
		{"screening", "disease", "heart", "none", coach.Facts{"disease": "heart"}, "heart disease"},
		{"screening", "medicine", "slows", "none", coach.Facts{"medicine": "slows"}, "a medicine that slows the heart"},
		{"zones", "limit_bpm", "120", "140", coach.Facts{"limit_bpm": "120", "from": (today - 5).String()}, "a doctor's limit of 120 bpm"},
		{"person", "born", "2010-05-05", "2000-05-05", coach.Facts{"born": "2010-05-05"}, "birth on 2010-05-05"},
	} {
		t.Run(x.name, func(t *testing.T) {
			d := open(t)
			if _, err := d.ChangeClient(t.Context(), "Runa", x.before, today-5); err != nil {
				t.Fatal(err)
			}
			form := url.Values{"client": {"Runa"}, "section": {x.section}, x.name: {x.now}, "was-" + x.name: {x.was}}
			if x.section == "zones" {
				form.Set("from", today.String())
			}
			_, page := d.sendForm("/facts", form)
			contains(t, page, "Who said so is missing: "+x.lost+" is on record and would no longer hold training back", `name="because"`, "Nothing was entered")
			if now := coach.FactsOf(d.record("Runa").Client); now[fault.Field(x.name)] != x.was {
				t.Errorf("%s is %q", x.name, now[fault.Field(x.name)])
			}
			form.Set("because", "the clinic's letter")
			_, page = d.sendForm("/facts", form)
			contains(t, page, "Entered for Runa.", "taken off the record on 4 October 2026: "+x.lost+" (the clinic's letter)")
		})
	}
}

// Undoing a note takes no grave sign off the record without a word: not one that it holds, and not one that its words may
// mean; any other note, and one whose sign somebody asked about, goes with one tap.
func TestUndoingAGraveNoteNeedsWhoSaidSo(t *testing.T) {
	for _, x := range []struct{ name, field, value, lost string }{
		{"a sign", "symptoms", "chest", "pain or pressure in the chest, neck, jaw or arm"},
		{"words that may be one", "text", "bit tight across the chest on the hill", "pain or pressure in the chest, neck, jaw or arm"},
		{"an effort", "rpe", "12", ""},
		{"a mild sign", "symptoms", "poor-sleep", ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			d := open(t)
			d.post("/note", "client", "Runa", "date", (today - 40).String(), x.field, x.value)
			id := d.record("Runa").Notes[0].ID
			if x.lost != "" {
				_, page := d.post("/withdraw", "client", "Runa", "id", id)
				contains(t, page, "Who said so is missing: "+x.lost+" is on record", `name="because"`)
				if len(d.record("Runa").Notes) != 1 {
					t.Fatal("the note is gone")
				}
			}
			_, page := d.post("/withdraw", "client", "Runa", "id", id, "because", "it was Ketil, asked by phone")
			contains(t, page, id+" of Runa no longer counts")
			rec := d.record("Runa")
			if len(rec.Notes) != 0 || len(rec.Client.Withdrawn) != map[bool]int{true: 1}[x.lost != ""] {
				t.Errorf("%d notes, withdrawn %v", len(rec.Notes), rec.Client.Withdrawn)
			}
			if _, page = d.get("/facts-runa.html"); x.lost != "" {
				contains(t, page, x.lost+" (it was Ketil, asked by phone)")
			}
		})
	}
	d := open(t)
	d.post("/note", "client", "Runa", "date", today.String(), "symptoms", "chest")
	d.post("/note", "client", "Runa", "date", today.String(), "symptoms", "none", "by", "Marit")
	_, page := d.post("/withdraw", "client", "Runa", "id", d.record("Runa").Notes[0].ID)
	contains(t, page, "no longer counts")
}

// Zones name where each edge comes from; new ones need their first day, and without it the form keeps what was typed.
func TestZonesOnTheFactsPage(t *testing.T) {
	d := open(t)
	_, page := d.get("/facts-runa.html")
	contains(t, page, "Zone 1 begins", "of the way from 62 at rest to", "the maximum estimated from age (±11)")
	_, page = d.post("/facts", "client", "Runa", "section", "zones", "hr_max", "181", "from", "")
	contains(t, page, "First day of the new zones is missing", `name="hr_max" value="181"`)
	_, page = d.post("/facts", "client", "Runa", "section", "zones", "hr_max", "181", "limit_bpm", "130", "from", today.String())
	contains(t, page, "the limit set by a doctor", "Limit set by a doctor: 130 bpm. Sessions stay below 125.")
	z := d.record("Runa").Client.Zones
	if len(z) != 2 || z[1].HRMax[""] != 181 || z[1].HRRest != 62 {
		t.Errorf("%+v", z)
	}
}

// A pause and a return are decisions; a return waits for a doctor.
func TestStates(t *testing.T) {
	d := open(t)
	_, page := d.post("/state", "client", "Runa", "act", "pause", "by", "Marit")
	contains(t, page, "Why is missing: every decision needs a reason")
	_, page = d.post("/state", "client", "Runa", "act", "pause", "from", today.String(), "because", "a sprained ankle", "by", "Marit")
	contains(t, page, "Runa: paused from 4 October 2026. By Marit.", "Paused, stage 1")
	d.post("/note", "client", "Runa", "date", today.String(), "symptoms", "chest")
	_, page = d.post("/state", "client", "Runa", "act", "resume", "because", "she is keen", "by", "Marit")
	contains(t, page, "The decision was not entered", "she is keen")
	if d.record("Runa").StateOn(today) != record.PausedState {
		t.Error("trains beside a grave sign")
	}
	_, page = d.post("/state", "client", "Runa", "act", "advance", "because", "x", "by", "y")
	contains(t, page, "is missing: choose one")
	d.post("/state", "client", "Ketil", "act", "finished")
	if s := d.record("Ketil").StateOn(today); s != record.Finished {
		t.Errorf("Ketil is %s", s)
	}
}

// The small forms enter what was said, and say at once what it calls for.
func TestTheSmallForms(t *testing.T) {
	d := open(t)
	yesterday := (today - 1).String()
	_, page := d.sendForm("/note", url.Values{"client": {"Runa"}, "date": {yesterday}, "rpe": {"12"}, "scale": {"20"}, "talk": {"comfortable"}, "enjoyment": {"4"}, "text": {"windy on the quay"}, "not_so": {"medicine", "injury"}, "by": {"Marit"}})
	contains(t, page, "Entered for Runa on 3 October 2026.", "effort 12 on the 6-20 scale", "windy on the quay")
	n := d.record("Runa").Notes[0]
	if n.RPE.Value != 12 || n.Talk != record.TalkComfortable || n.Enjoyment != 4 || n.By != "Marit" || len(n.NotSo) != 2 {
		t.Errorf("%+v", n)
	}
	d.post("/resting", "client", "Runa", "date", yesterday, "hr_rest", "58")
	d.post("/weather", "client", "Runa", "date", yesterday, "heat", "27", "no_fan", "yes")
	d.post("/session", "client", "Runa", "date", yesterday, "min", "30", "sport", "walking", "rpe", "11", "talk", "comfortable")
	rec := d.record("Runa")
	if len(rec.Notes) != 3 || rec.Notes[1].HRRest != 58 || *rec.Notes[2].HeatC != 27 || !rec.Notes[2].NoFan || len(rec.Reports) != 1 || rec.Reports[0].Minutes != 30 {
		t.Errorf("%+v", rec)
	}
	for _, x := range []struct{ path, wrong, kept string }{
		{"/note", "Effort 24 is outside the scale", `value="24"`}, {"/resting", "is outside 30 to 130 bpm", `value="20"`}, {"/weather", "is not a likely air temperature", `value="80"`}, {"/session", `Length "x" is not a number`, `value="x"`},
	} {
		_, page := d.post(x.path, "client", "Runa", "date", yesterday, "rpe", "24", "hr_rest", "20", "heat", "80", "min", "x", "sport", "rowing")
		contains(t, page, x.wrong, x.kept)
	}
	if again := d.record("Runa"); len(again.Notes) != 3 || len(again.Reports) != 1 {
		t.Error("something that was refused was entered")
	}
	// Her words may name a grave sign: the question stands there at once and stops the plan.
	_, page = d.post("/note", "client", "Runa", "date", yesterday, "text", "bit tight across the chest on the hill")
	contains(t, page, "Ask today", "tight across the chest", "No training until the answer is entered.")
	_, page = d.post("/note", "client", "Runa", "date", yesterday, "symptoms", "faint")
	contains(t, page, "<h2>Call emergency help now if the symptom is still there or comes back", "On record: fainted or nearly fainted")
	if n := strings.Count(page, "On record: fainted"); n != 1 {
		t.Errorf("the page says %d times that she fainted", n)
	}
	// Undone, it no longer counts.
	_, page = d.post("/withdraw", "client", "Runa", "id", "r1")
	contains(t, page, "r1 of Runa no longer counts")
	if len(d.record("Runa").Reports) != 0 {
		t.Error("the session still counts")
	}
	_, page = d.post("/withdraw", "client", "Runa", "id", "n99")
	contains(t, page, "has no entry n99")
}

// Everything that a note or a session can hold for the command has its input here.
func TestEveryNoteCanBeEnteredOnTheDesk(t *testing.T) {
	d := open(t)
	_, page := d.get("/notes-runa.html")
	inputs := map[string]string{"Date": "date", "Backlog": "backlog", "RPE": "rpe", "Scale": "scale", "Talk": "talk", "Enjoyment": "enjoyment", "HRRest": "hr_rest", "Heat": "heat", "Symptoms": "symptoms",
		"NotSo": "not_so", "By": "by", "NoFan": "no_fan", "Text": "text", "Minutes": "min", "Sport": "sport", "Again": "again"}
	for _, entry := range []reflect.Type{reflect.TypeFor[coach.NoteEntry](), reflect.TypeFor[coach.SessionEntry]()} {
		for i := range entry.NumField() {
			f := entry.Field(i)
			if name := inputs[f.Name]; !f.Anonymous && (name == "" || !strings.Contains(page, `name="`+name+`"`)) {
				t.Errorf("%s has no input", f.Name)
			}
		}
	}
	for _, f := range []fault.Field{"protocol", "bench_cm", "stepped", "count", "count_after", "walk_time", "distance_m", "end_bpm", "stages", "held", "mass_kg"} {
		_, page := d.get("/tests-runa.html")
		if f != "protocol" && f != "stages" && !strings.Contains(page, `name="`+string(f)+`"`) {
			t.Errorf("%s of a field test has no input", f)
		}
	}
}

// A recording is left out with its reason, taken back in, given to somebody else, and taken out of the book.
func TestRecordingsAreCorrected(t *testing.T) {
	d := open(t)
	for _, ago := range []workout.Date{1, 3} {
		d.upload("Runa", file{"walk.tcx", walk(t, today-ago)})
	}
	_, page := d.get("/recordings-runa.html")
	contains(t, page, "2 recordings in the book.", "below the top of zone 1", "<svg class=\"zonebar\"", "sensor not known, 100 % recorded")
	id := d.record("Runa").Recordings[0].ID
	_, page = d.get("/recordings-runa.html?id=" + url.QueryEscape(id))
	contains(t, page, "Leave it out", "Move it to that client", "Ketil")
	change := func(fields ...string) string {
		_, page := d.post("/recording", append([]string{"client", "Runa", "id", id}, fields...)...)
		return page
	}
	contains(t, change("do", "exclude", "because", ""), "Why is missing")
	contains(t, change("do", "exclude", "because", "her brother's <b>strap</b>"), "no longer counts: her brother's <b>strap</b>", "Does not count: excluded")
	if r := d.record("Runa").Recordings[0]; r.Counts() {
		t.Error("it still counts")
	}
	change("do", "include")
	contains(t, change("do", "move", "to", ""), "is missing: choose a client")
	contains(t, change("do", "undo"), "tick the box")
	contains(t, change("do", "move", "to", "Nobody"), "is not in the book")
	if len(d.record("Runa").Recordings) != 2 {
		t.Fatal("something was done that was refused")
	}
	contains(t, change("do", "move", "to", "Ketil"), "now belongs to Ketil")
	if r := d.record("Ketil").Recordings; len(r) != 1 || r[0].ID != id {
		t.Errorf("Ketil has %d", len(r))
	}
	contains(t, change("do", "undo", "sure", "yes"), "it was moved or removed")
	d.post("/recording", "client", "Ketil", "id", id, "do", "undo", "sure", "yes")
	if len(d.record("Ketil").Recordings) != 0 {
		t.Error("it is still in the book")
	}
	// A refused file of the drop folder stands there with why.
	photo := filepath.Join(d.DropFolder("Runa"), "photo.jpg")
	if err := os.WriteFile(photo, []byte("\xff\xd8\xff\xe0 a photo"), 0o600); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-time.Minute)
	os.Chtimes(photo, old, old)
	d.post("/drop")
	_, page = d.get("/recordings-runa.html")
	contains(t, page, "Refused files", "photo.jpg")
}

// A field test is typed and read, its thresholds are used only when somebody says so.
func TestFieldTestsAreRead(t *testing.T) {
	d := open(t)
	_, page := d.get("/tests-runa.html")
	contains(t, page, "The three-minute step test is hard", `data-beats="96"`, "a metronome (any will do) at 96 beats a minute", "When to stop")
	_, page = d.post("/talk-test", "client", "Runa", "bpm1", "112", "said1", "comfortable", "bpm2", "120", "said2", "comfortable", "bpm3", "132", "said3", "hard", "bpm4", "148", "said4", "no", "held", "3:00")
	contains(t, page, "T1, last comfortable: 120 bpm", "Use these for the zones", `name="thresholds-1" value="120"`, `name="thresholds-2" value="148"`)
	if z := d.record("Runa").Client.Zones; len(z) != 1 {
		t.Error("reading a test changed the zones")
	}
	d.post("/facts", "client", "Runa", "section", "zones", "thresholds-1", "120", "thresholds-2", "148", "was-thresholds", "", "from", today.String())
	if z := d.record("Runa").Client.ZonesOn(today); z.T1 != 120 || z.T2 != 148 || z.HRRest != 62 {
		t.Errorf("%+v", z)
	}
	_, page = d.post("/talk-test", "client", "Runa", "bpm1", "112", "said1", "", "held", "3:00")
	contains(t, page, "is not a stage", `name="bpm1" value="112"`)
	// The walk of 15:12 with 128 bpm at the end, 46 years, 68 kg: Kline 1987, relative equation, worked by hand:
	// 132.853 - 0.0769*149.9 - 0.3877*46.6 + 0 - 3.2649*15.2 - 0.1565*128 = 33.6.
	_, page = d.post("/walk-test", "client", "Runa", "walk_time", "15:12", "end_bpm", "128", "mass_kg", "68")
	contains(t, page, "Maximal oxygen uptake per kg: 33.6 mL/kg/min")
	_, page = d.post("/walk-test", "client", "Runa", "walk_time", "quick", "end_bpm", "128")
	contains(t, page, `Time for the mile "quick" is not a time`, `value="quick"`)
	_, page = d.post("/step-test", "client", "Runa", "bench_cm", "30", "stepped", "3:00", "count", "98", "count_after", "5")
	contains(t, page, "Beats in the minute from 5 s after the stop: 98 beats", "Keep it as a note for today")
	if len(d.record("Runa").Notes) != 0 {
		t.Error("reading a test entered a note")
	}
	_, page = d.post("/step-test", "client", "Runa")
	contains(t, page, "There is nothing to read")
}

// Nobody is tested whom something holds back, and no form offers it.
func TestNoFieldTestWhileSomethingHoldsBack(t *testing.T) {
	for name, x := range map[string]struct {
		facts coach.Facts
		note  string
		says  string
		step  bool // only the step test is barred
	}{
		"a grave sign":    {note: "fainted on the pier", says: "No field test now"},
		"not screened":    {facts: coach.Facts{"screened": "none"}, says: "The screening questions have not been answered."},
		"under age":       {facts: coach.Facts{"born": "2010-01-01"}, says: "under 18"},
		"known disease":   {facts: coach.Facts{"disease": "heart"}, says: "a doctor's clearance is needed before vigorous work"},
		"pregnant":        {facts: coach.Facts{"conditions": "pregnant"}, says: "No field test now"},
		"a fever":         {note: "had a fever yesterday", says: "No field test now"},
		"over 65":         {facts: coach.Facts{"born": "1958-01-01"}, says: "over 65: this test is not meant for that age", step: true},
		"cleared disease": {facts: coach.Facts{"disease": "heart", "clearance": "2026-10-04"}, says: "known heart disease: this test is not meant for them", step: true},
	} {
		d := open(t)
		if x.facts != nil {
			if _, err := d.ChangeClient(t.Context(), "Runa", x.facts, today); err != nil {
				t.Fatal(err)
			}
		}
		if x.note != "" {
			d.post("/note", "client", "Runa", "date", today.String(), "text", x.note)
		}
		_, page := d.get("/tests-runa.html")
		if !strings.Contains(page, x.says) || strings.Contains(page, `action="step-test"`) || strings.Contains(page, `action="talk-test"`) != x.step || strings.Contains(page, "data-beats") {
			t.Errorf("%s: %q is not there, or a form is", name, x.says)
		}
		_, page = d.post("/step-test", "client", "Runa", "bench_cm", "30", "stepped", "3:00", "count", "98", "count_after", "5")
		if strings.Contains(page, "98 beats") {
			t.Errorf("%s: the step test was read all the same", name)
		}
	}
}

// A suggestion is accepted with its first day, or declined for good; zones of earlier days stay.
func TestSuggestedZones(t *testing.T) {
	d := open(t)
	for _, who := range []string{"Runa", "Ketil"} {
		for ago := range workout.Date(6) {
			d.post("/resting", "client", who, "date", (today - ago).String(), "hr_rest", "52")
		}
	}
	id := regexp.MustCompile(`name="id" value="([^"]+)"`)
	_, page := d.get("/facts-runa.html")
	contains(t, page, "Suggested: Resting heart rate: 52 bpm instead of 62", "Accept", "Decline", "Evidence")
	m := id.FindStringSubmatch(page)
	if m == nil {
		t.Fatal("no suggestion has a form")
	}
	_, page = d.post("/suggestion", "client", "Runa", "id", m[1], "so", "accept", "from", "soon", "because", "six mornings", "by", "Marit")
	contains(t, page, `First day of the new zones "soon" is not a date`, `value="six mornings"`)
	_, page = d.post("/suggestion", "client", "Runa", "id", m[1], "so", "accept", "from", (today + 1).String(), "because", "six mornings", "by", "Marit")
	contains(t, page, "Accepted: resting heart rate: 52 bpm instead of 62. The new zones apply from 5 October 2026")
	if c := d.record("Runa").Client; c.ZonesOn(today).HRRest != 62 || c.ZonesOn(today+1).HRRest != 52 {
		t.Errorf("%+v", c.Zones)
	}
	_, page = d.get("/facts-ketil.html")
	m = id.FindStringSubmatch(page)
	_, page = d.post("/suggestion", "client", "Ketil", "id", m[1], "so", "decline", "because", "measured after coffee", "by", "Marit")
	contains(t, page, "Declined: resting heart rate")
	if id.MatchString(page) || len(d.record("Ketil").Client.Zones) != 1 {
		t.Error("it is still suggested, or the zones changed")
	}
}

// Nobody who is not in the book gets a form done, and no text becomes markup.
func TestForms404AndHostileText(t *testing.T) {
	d := open(t)
	for _, path := range []string{"/facts", "/state", "/suggestion", "/note", "/session", "/resting", "/weather", "/withdraw", "/recording", "/talk-test", "/walk-test", "/step-test"} {
		if code, _ := d.post(path, "client", "Nobody"); code != http.StatusNotFound {
			t.Errorf("%s for somebody unknown: %d", path, code)
		}
	}
	hostile := `"><script>alert(1)</script>`
	r := httptest.NewRequest(http.MethodPost, "/new-client", strings.NewReader(url.Values{"name": {hostile}, "goal": {hostile}, "hr_rest": {hostile}, "born": {hostile}, "modes": {hostile}, "signs-1": {hostile}}.Encode()))
	r.Host = host
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	d.handler.ServeHTTP(w, r)
	page := httptest.NewRecorder()
	to, _, _ := strings.Cut(w.Header().Get("Location"), "#")
	get := httptest.NewRequest(http.MethodGet, to, nil)
	get.Host = host
	d.handler.ServeHTTP(page, get)
	if body := page.Body.String(); page.Code != http.StatusOK || strings.Contains(body, "<script>alert") || !strings.Contains(body, "&lt;script&gt;alert(1)") {
		t.Errorf("%d: the name became markup, or was lost", page.Code)
	}
	d.post("/facts", "client", "Runa", "section", "training", "goal", hostile, "enjoys", hostile)
	for _, name := range []string{"/facts-runa.html", "/clients.html", "/notes-runa.html", "/recordings-runa.html?id=" + url.QueryEscape(hostile), "/tests-runa.html"} {
		get := httptest.NewRequest(http.MethodGet, name, nil)
		get.Host = host
		page := httptest.NewRecorder()
		d.handler.ServeHTTP(page, get)
		if strings.Contains(page.Body.String(), "<script>alert") || page.Code != http.StatusOK {
			t.Errorf("%s: %d, or it holds markup", name, page.Code)
		}
	}
	if code, _ := d.post("/facts", "client", "Runa", "section", "nothing"); code != http.StatusBadRequest {
		t.Errorf("an unknown section: %d", code)
	}
	if _, page := d.post("/suggestion", "client", "Runa", "id", "1"); !strings.Contains(page, "accept or decline") {
		t.Error("no answer was taken for one")
	}
	if _, page := d.post("/suggestion", "client", "Runa", "id", "1", "so", "accept"); !strings.Contains(page, "No change to Runa's zones is suggested") {
		t.Error("a suggestion that is not there was accepted")
	}
}
