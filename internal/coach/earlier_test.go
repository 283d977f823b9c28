package coach_test

import (
	"maps"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
)

// What stands in the book can be typed again as it is written, and changes nothing.
func TestFactsReadBackAreTheSame(t *testing.T) {
	c, today := open(t), day("2026-09-01")
	typed := coach.Facts{
		"born": "1984-03-12", "sex": "male", "height_cm": "168.5", "mass_kg": "71", "modes": "run,bike", "sensor": "wrist", "stage": "2", "since": "2026-08-03",
		"time_zone": "Europe/Oslo", "screened": "2026-08-02", "active": "no", "disease": "heart", "signs": "dizzy,chest", "medicine": "slows",
		"dose_change": "2026-07-01", "clearance": "2026-07-02", "conditions": "asthma,insulin", "state": "maintaining", "goal": "the stairs", "days": "3",
		"minutes": "40", "enjoys": "the dog,rain", "equipment": "treadmill", "resistance_days": "mon,thu", "tight": "calves",
		coach.HRRest: "60", coach.HRMax: "190", coach.HRMaxMode: "bike=181", coach.Thresholds: "130,160", coach.Edges: "row=100,120,140,160.5",
		coach.Limit: "150", "confirmed": "hr-rest,active", coach.From: "2026-09-01",
	}
	client, err := c.ChangeClient(t.Context(), "Runa", typed, today)
	if err != nil {
		t.Fatal(err)
	}
	read := coach.FactsOf(client)
	delete(typed, coach.From)
	if !maps.Equal(read, typed) {
		t.Errorf("typed %v\nread  %v", typed, read)
	}
	empty := map[fault.Field]string{"signs": "none", "disease": "none", "medicine": "none", "clearance": "none", "conditions": "none", "goal": "none", "mass_kg": "none",
		"hr_max": "none", "hr_max_mode": "bike=none", "edges": "row=none", "thresholds": "none", "limit_bpm": "none", "dose_change": "none", coach.From: "2026-09-02", coach.Because: "the clinic's letter"}
	if client, err = c.ChangeClient(t.Context(), "Runa", empty, today+2); err != nil {
		t.Fatal(err)
	}
	read = coach.FactsOf(client)
	for f := range empty {
		want := map[fault.Field]string{"signs": "none", "disease": "none", "medicine": "none"}[f]
		if f != coach.From && f != coach.Because && read[f] != want {
			t.Errorf("%s was emptied and reads %q", f, read[f])
		}
	}
	if client.ClearedTo != "" {
		t.Error("a clearance that was withdrawn still clears")
	}
}

// Nobody counts as asked about what was not asked.
func TestAFirstScreeningNeedsEveryAnswer(t *testing.T) {
	c, today := open(t), day("2026-09-01")
	facts := coach.Facts{"born": "1980-01-01", "screened": "2026-08-30", "active": "yes"}
	if _, err := c.EnterClient(t.Context(), "Odd", facts, today); wrongFields(err) != "signs disease medicine" {
		t.Errorf("%v", err)
	}
	for _, f := range []fault.Field{"signs", "disease", "medicine"} {
		facts[f] = "none"
	}
	client, err := c.EnterClient(t.Context(), "Odd", facts, today)
	if read := coach.FactsOf(client); err != nil || read["signs"] != "none" || read["active"] != "yes" {
		t.Errorf("%v, %v", read, err)
	}
	fresh, err := c.EnterClient(t.Context(), "Ula", coach.Facts{"born": "1980-01-01"}, today)
	if read := coach.FactsOf(fresh); err != nil || read["signs"]+read["active"]+read["disease"]+read["medicine"] != "" {
		t.Errorf("not asked, yet it reads %v, %v", read, err)
	}
}

// Every change of a fact is kept with its day.
func TestEntries(t *testing.T) {
	c := open(t)
	for _, x := range []coach.Facts{
		{"goal": "the stairs", coach.HRMax: "190", coach.From: "2026-08-20"}, {"conditions": "asthma", coach.From: "2026-08-01"}, {"goal": "the stairs"}, {"goal": "the pier"},
	} {
		if _, err := c.ChangeClient(t.Context(), "Runa", x, day("2026-09-01")); err != nil {
			t.Fatal(err)
		}
	}
	got, err := c.Entries(t.Context(), "Runa")
	if err != nil {
		t.Fatal(err)
	}
	if g := got["goal"]; len(g) != 2 || g[0].Value != "the stairs" || g[1].Value != "the pier" || g[1].Entered != day("2026-09-01") {
		t.Errorf("goal %+v", g)
	}
	if m := got[coach.HRMax]; len(m) == 0 || m[len(m)-1] != (coach.Entry{Value: "190", Entered: day("2026-09-01"), From: day("2026-08-20")}) {
		t.Errorf("maximum %+v", m)
	}
	if x := got["conditions"]; len(x) != 1 || x[0].From != day("2026-08-01") {
		t.Errorf("conditions %+v", x)
	}
	if _, err := c.Entries(t.Context(), "Nobody"); err == nil {
		t.Error("somebody unknown has entries")
	}
}
