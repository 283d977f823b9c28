package coach_test

import (
	"os"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// wrongFields lists the fields of the wrong inputs in an error.
func wrongFields(err error) string {
	var out []string
	for _, e := range fault.All(err) {
		if e.Kind != fault.Wrong {
			return string(e.Kind)
		}
		out = append(out, string(e.Field))
	}
	return strings.Join(out, " ")
}

func TestFactsThatAreRefused(t *testing.T) {
	today := day("2026-09-01")
	for _, x := range []struct {
		field fault.Field
		typed string
	}{
		{"born", "1990-13-01"}, {"born", "2024-01-01"}, {"since", "2026-09-02"}, {"screened", "2026-09-02"}, {"clearance", "2026-09-02"},
		{"dose_change", "2026-09-02"}, {"sex", "x"}, {"sensor", "belt"}, {"active", "maybe"}, {"disease", "flu"}, {"medicine", "strong"},
		{"state", "paused"}, {"height_cm", "1.68"}, {"height_cm", "NaN"}, {"mass_kg", "tall"}, {"stage", "4"}, {"stage", "one"}, {"days", "8"},
		{"minutes", "601"}, {"time_zone", "Europe/Atlantis"}, {"modes", "walk,fly"}, {"modes", "none"}, {"conditions", "asthma,none"},
		{"conditions", "gout"}, {"resistance_days", "someday"}, {"signs", "grumpy"}, {"signs", "chest,none"},
		{"hr_rest", "29"}, {"hr_rest", "111"}, {"hr_max", "99"}, {"hr_max", "231"}, {"hr_max", "inf"}, {"hr_max_mode", "fly=190"},
		{"hr_max_mode", "run"}, {"thresholds", "140"}, {"thresholds", "150,140"}, {"edges", "bike=110,135,150"}, {"edges", "bike=110,135,135,150"},
		{"edges", "bike=10,135,140,150"}, {"limit_bpm", "59"}, {"limit_bpm", "81"}, {"limit_bpm", "221"}, {"shoe_size", "43"},
	} {
		c := open(t)
		facts := coach.Facts{x.field: x.typed, coach.From: "2026-09-01"}
		_, err := c.ChangeClient(t.Context(), "Runa", facts, today)
		want := string(x.field)
		if x.field == "hr_max_mode" && strings.Contains(x.typed, "=231") {
			want = "hr_max"
		}
		if got := wrongFields(err); got != want {
			t.Errorf("%s %q: %v", x.field, x.typed, err)
		}
		if now, err := c.Client(t.Context(), "Runa"); err != nil || len(now.Zones) != 1 || now.Stage != 1 {
			t.Errorf("%s %q changed the client: %+v, %v", x.field, x.typed, now, err)
		}
	}
}

// Every field is read, and leaves the others as they are.
func TestFactsAsTyped(t *testing.T) {
	c, today := open(t), day("2026-09-01")
	typed := coach.Facts{
		"born": "1984-03-12", "sex": "male", "height_cm": "168.5", "mass_kg": "71", "modes": "run, bike", "sensor": "wrist", "stage": "2", "since": "2026-08-03",
		"time_zone": "Europe/Oslo", "screened": "2026-08-02", "active": "no", "disease": "heart", "signs": "Chest pain", "medicine": "slows",
		"dose_change": "2026-07-01", "clearance": "2026-07-02", "conditions": "asthma,insulin", "state": "maintaining", "goal": " the stairs ", "days": "3",
		"minutes": "40", "enjoys": "the dog,rain", "equipment": "treadmill", "resistance_days": "mon,thu", "tight": "calves",
		coach.HRRest: "60", coach.HRMax: "190", coach.HRMaxMode: "bike=181", coach.Thresholds: "130,160", coach.Edges: "bike=110,135,150,168 row=100,120,140,160",
		coach.Limit: "150", "confirmed": "hr-rest,active", coach.From: "2026-09-01", coach.Because: "her doctor",
	}
	for _, f := range coach.FactFields() {
		if typed[f] == "" {
			t.Errorf("%s is not tried", f)
		}
	}
	got, err := c.ChangeClient(t.Context(), "Runa", typed, today)
	if err != nil {
		t.Fatal(err)
	}
	z := got.Zones[len(got.Zones)-1]
	// hr_max comes before hr_max_mode and both hold.
	if len(got.Zones) != 2 || z.From != today || z.HRRest != 60 || z.HRMax[""] != 190 || z.HRMax[workout.Bike] != 181 || z.T1 != 130 || z.T2 != 160 ||
		z.Edges[workout.Row] != [4]float64{100, 120, 140, 160} || z.Edges[workout.Bike][3] != 168 || z.Limit != 150 {
		t.Errorf("zones: %+v", got.Zones)
	}
	if s := got.Screening; s.On != day("2026-08-02") || s.Active || s.Disease != "heart" || len(s.Signs) != 1 || s.Signs[0] != "chest" {
		t.Errorf("screening: %+v", s)
	}
	if got.Medicine != record.Slows || len(got.Conditions) != 2 || got.Goal != "the stairs" || got.Days != 3 || len(got.Enjoys) != 2 || len(got.Resistance) != 2 ||
		got.Modes[1] != workout.Bike || got.State != record.Maintaining || got.HeightCM != 168.5 || got.Stage != 2 || len(got.Confirmed) != 2 {
		t.Errorf("%+v", got)
	}
	emptied, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"conditions": "none", "medicine": "none", "disease": "none", "signs": "none", "enjoys": "none", "resistance_days": "none", "goal": " "}, today)
	if err != nil {
		t.Fatal(err)
	}
	if emptied.Conditions != nil || emptied.Medicine != record.NoMedicine || emptied.Screening.Disease != "" || emptied.Screening.Signs != nil || emptied.Enjoys != nil ||
		emptied.Resistance != nil || emptied.Goal != "the stairs" || len(emptied.Zones) != 2 {
		t.Errorf("%+v", emptied)
	}
}

func TestZonesChangeFromADayOn(t *testing.T) {
	c, today := open(t), day("2026-09-10")
	change := func(facts coach.Facts) error {
		_, err := c.ChangeClient(t.Context(), "Runa", facts, today)
		return err
	}
	if got := wrongFields(change(coach.Facts{coach.HRMax: "190"})); got != "from" {
		t.Errorf("without a day: %s", got)
	}
	if err := change(coach.Facts{coach.HRMax: "190", coach.From: "2026-09-05"}); err != nil {
		t.Fatal(err)
	}
	if got := wrongFields(change(coach.Facts{coach.HRMax: "191", coach.From: "2026-09-05"})); got != "from" {
		t.Errorf("from the same day: %s", got)
	}
	fresh, err := c.EnterClient(t.Context(), "Odd", coach.Facts{"born": "1980-01-01", "stage": "1", coach.HRMax: "180"}, today)
	if err != nil || len(fresh.Zones) != 1 || fresh.Zones[0].From != 0 || fresh.Since != today || fresh.State != record.Active {
		t.Errorf("a new client: %+v, %v", fresh, err)
	}
	_, err = c.EnterClient(t.Context(), "odd", coach.Facts{"born": "1980-01-01"}, today)
	if all := fault.All(err); len(all) != 1 || all[0].Kind != fault.Conflict || all[0].Help != fault.ChangeFacts || all[0].Client != "Odd" {
		t.Errorf("a name that is taken: %v", err)
	}
	for _, name := range []string{"", "../Odd", ".odd", "a\x1bb", "Refused"} {
		if _, err := c.EnterClient(t.Context(), name, coach.Facts{"born": "1980-01-01"}, today); wrongFields(err) != "name" {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// A confirmed fact is no longer so once another value is typed, unless that is confirmed with it.
func TestAnotherValueIsNotConfirmed(t *testing.T) {
	c, today := open(t), day("2026-09-10")
	for _, x := range []struct {
		typed coach.Facts
		want  int
	}{
		{coach.Facts{coach.HRRest: "102", "confirmed": "hr-rest", coach.From: "2026-09-01"}, 1},
		{coach.Facts{"goal": "the stairs"}, 1},
		{coach.Facts{coach.HRRest: "104", coach.From: "2026-09-02"}, 0},
		{coach.Facts{"confirmed": "hr-rest,disease"}, 2},
		{coach.Facts{"conditions": "insulin"}, 1},
		{coach.Facts{"confirmed": "none"}, 0},
	} {
		if got, err := c.ChangeClient(t.Context(), "Runa", x.typed, today); err != nil || len(got.Confirmed) != x.want {
			t.Errorf("%v: %v, %v", x.typed, got.Confirmed, err)
		}
	}
}

// What lies outside the resting and the maximal heart rate on record is refused, with both in the question.
func TestThresholdsAndEdgesLieBetweenRestAndMaximum(t *testing.T) {
	for _, x := range []struct{ field, typed, rest, most, names string }{
		{"thresholds", "60,150", "62", "180", "62"}, {"thresholds", "130,181", "62", "180", "180"}, {"thresholds", "130,180", "62", "180", ""},
		{"edges", "walk=62,120,140,160", "62", "180", "62"}, {"edges", "walk=100,120,140,181", "62", "180", "180"}, {"edges", "walk=100,120,140,170", "62", "180", ""},
		{"edges", "walk=100,120,140,181", "62", "", ""},
	} {
		_, err := open(t).EnterClient(t.Context(), "Ines", coach.Facts{"born": "1970-04-02", fault.Field(x.field): x.typed, coach.HRRest: x.rest, coach.HRMax: x.most}, day("2026-09-01"))
		if (err != nil) != (x.names != "") || err != nil && !(strings.Contains(err.Error(), x.names+" bpm") && strings.Contains(err.Error(), "?")) {
			t.Errorf("%+v: %v", x, err)
		}
	}
}

// TestFactsHoldFromADay: a fact keeps the day from which it holds and the day on which it was entered, a day to come is
// refused, and an earlier state holds before it.
func TestFactsHoldFromADay(t *testing.T) {
	c, today := open(t), day("2026-09-01")
	for field, typed := range map[fault.Field]string{"conditions": "pregnant", "state": "recovery", "medicine": "raises", "days": "2", "goal": "stairs"} {
		if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{field: typed, coach.From: "2026-09-02"}, today); wrongFields(err) != "from" {
			t.Errorf("%s from tomorrow: %v", field, err)
		}
		client, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{field: typed, coach.From: "2026-08-22"}, today)
		if want := (record.Dated{From: day("2026-08-22"), Entered: today}); err != nil || client.Dated[string(field)] != want {
			t.Errorf("%s: %+v, %v", field, client.Dated, err)
		}
	}
	now, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"conditions": "none"}, today)
	if _, kept := now.Dated["conditions"]; err != nil || kept || len(now.Dated) != 4 {
		t.Errorf("%+v, %v", now.Dated, err)
	}
	r := record.Record{Client: now}
	if r.StateOn(day("2026-08-21")) != record.Active || r.StateOn(day("2026-08-22")) != record.RecoveryOf {
		t.Errorf("%s, then %s", r.StateOn(day("2026-08-21")), r.StateOn(day("2026-08-22")))
	}
}

// TestWithdrawingWhatHoldsTrainingBackNeedsAReason: a fact that shut a gate on an earlier day leaves only with who said so,
// which is kept; one entered the same day is corrected without a word, and so is what holds nothing back.
func TestWithdrawingWhatHoldsTrainingBackNeedsAReason(t *testing.T) {
	first := day("2026-09-01")
	for _, x := range []struct {
		name        string
		before, now coach.Facts
		kept        string // what is withdrawn; "" for nothing
	}{
		{"a disease", coach.Facts{"disease": "heart"}, coach.Facts{"disease": "none"}, "disease heart"},
		{"another disease", coach.Facts{"disease": "heart"}, coach.Facts{"disease": "renal"}, "disease heart"},
		{"a medicine", coach.Facts{"medicine": "slows"}, coach.Facts{"medicine": "none"}, "medicine slows"},
		{"another medicine", coach.Facts{"medicine": "slows"}, coach.Facts{"medicine": "raises"}, "medicine slows"},
		{"a medicine that raises", coach.Facts{"medicine": "raises"}, coach.Facts{"medicine": "none"}, ""},
		{"a pacemaker", coach.Facts{"conditions": "pacemaker"}, coach.Facts{"conditions": "none"}, "conditions pacemaker"},
		{"insulin of two", coach.Facts{"conditions": "insulin,asthma"}, coach.Facts{"conditions": "asthma"}, "conditions insulin"},
		{"asthma", coach.Facts{"conditions": "asthma"}, coach.Facts{"conditions": "none"}, ""},
		{"a pregnancy", coach.Facts{"conditions": "pregnant"}, coach.Facts{"conditions": "none"}, "conditions pregnant"},
		{"a limit lifted", coach.Facts{coach.Limit: "120", coach.From: "2026-09-01"}, coach.Facts{coach.Limit: "0", coach.From: "2026-09-05"}, "limit_bpm 120"},
		{"a limit raised", coach.Facts{coach.Limit: "120", coach.From: "2026-09-01"}, coach.Facts{coach.Limit: "140", coach.From: "2026-09-05"}, "limit_bpm 120"},
		{"a limit lowered", coach.Facts{coach.Limit: "120", coach.From: "2026-09-01"}, coach.Facts{coach.Limit: "110", coach.From: "2026-09-05"}, ""},
		{"inactive with a disease", coach.Facts{"disease": "heart", "active": "no"}, coach.Facts{"active": "yes"}, "active no"},
		{"inactive", coach.Facts{"active": "no"}, coach.Facts{"active": "yes"}, ""},
		{"under 18", coach.Facts{"born": "2010-05-05"}, coach.Facts{"born": "2000-05-05"}, "born 2010-05-05"},
		{"another goal", coach.Facts{"disease": "heart"}, coach.Facts{"goal": "the stairs"}, ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			change := func(c *coach.Coach, f coach.Facts, on workout.Date, because string) (record.Client, error) {
				all := coach.Facts{coach.Because: because}
				for k, v := range f {
					all[k] = v
				}
				return c.ChangeClient(t.Context(), "Runa", all, on)
			}
			c := open(t)
			if _, err := change(c, x.before, first, ""); err != nil {
				t.Fatal(err)
			}
			if x.now[coach.From] == "" { // the same day
				if got, err := change(c, x.now, first, ""); err != nil || len(got.Withdrawn) > 0 {
					t.Errorf("the same day: %+v, %v", got.Withdrawn, err)
				}
				if _, err := change(c, x.before, first, ""); err != nil {
					t.Fatal(err)
				}
			}
			got, err := change(c, x.now, first+4, " ")
			if refused := wrongFields(err) == "because"; refused != (x.kept != "") || !refused && err != nil {
				t.Errorf("without a reason: %v", err)
			}
			if x.kept == "" {
				return
			}
			got, err = change(c, x.now, first+4, " her doctor's letter ")
			if err != nil || len(got.Withdrawn) != 1 || got.Withdrawn[0].Fact+" "+got.Withdrawn[0].Was != x.kept || got.Withdrawn[0].Because != "her doctor's letter" || got.Withdrawn[0].On != first+4 {
				t.Errorf("%+v, %v", got.Withdrawn, err)
			}
			if got, err := change(c, coach.Facts{"goal": "the stairs"}, first+4, ""); err != nil || len(got.Withdrawn) != 1 {
				t.Errorf("another fact the same day: %+v, %v", got.Withdrawn, err)
			}
			page := decisionPage(t, c, first+5)
			if page != "" && !(strings.Contains(page, "Taken off the record") && strings.Contains(page, "her doctor")) {
				t.Error("the decision page does not show it")
			}
		})
	}
}

// decisionPage is Runa's page of a day; "" where pages cannot be made here.
func decisionPage(t *testing.T, c *coach.Coach, on workout.Date) string {
	t.Helper()
	if _, _, err := reports.Runtime(); err != nil && os.Getenv("CI") != "true" {
		return ""
	}
	all, err := c.Standings(t.Context(), []string{"Runa"}, on)
	if err != nil {
		t.Fatal(err)
	}
	of, err := c.Page(t.Context(), all[0])
	if err != nil {
		t.Fatal(err)
	}
	page, err := reports.Decision(of)
	if err != nil {
		t.Fatal(err)
	}
	return string(page)
}
