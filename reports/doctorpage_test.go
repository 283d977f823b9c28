package reports_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
	"nextrung/reports"
)

type doctorSheet struct {
	client reports.Client
	then   *reports.Recorded
}

// doctorSheets are the sheets for the doctor of clients of every kind, the last with more to say than fits.
func doctorSheets() map[string]doctorSheet {
	full := selvane()
	full.Record = full.Record.Until(asOf)
	for i := range 9 {
		full.Record.Notes = append(full.Record.Notes, record.Note{ID: "n9" + string(rune('0'+i)), Date: asOf - 2, Entered: asOf - 2, Symptoms: []signs.Sign{signs.Palpitations, signs.EverydayTasks, signs.BreathlessLying},
			Text: strings.Repeat("my heart raced and fluttered on the long ramp ", 12), HRRest: 71})
	}
	full.Record.Client.Conditions = []record.Condition{record.Pregnant, record.Pacemaker, record.Irregular, record.Insulin, record.Asthma}
	full.Record.Client.Screening.Disease, full.Record.Client.DoseChange = "renal", asOf-9
	full.Record.Client.Screening.Signs = []signs.Sign{signs.Palpitations, signs.EverydayTasks, signs.SwollenAnkles}
	for _, rule := range []policy.ID{policy.Resting, policy.SameEffort, policy.Steady, policy.Fall} {
		full.Assessment.Reasons = append(full.Assessment.Reasons, record.Reason{Rule: rule, Kind: policy.Informative, Observed: ptr(9.0), Threshold: ptr(7.0), Is: policy.AtMost, Unit: "bpm", Met: new(bool), From: asOf - 6, To: asOf})
	}
	full.Assessment.Verdict = ptr(record.Refer)
	full.Record.Decisions = append(full.Record.Decisions, record.Decision{Entered: asOf, From: asOf + 1, Act: record.DoRefer, By: "Corvane", Because: strings.Repeat("too much at once ", 40)})
	away := pavor()
	away.Record.Notes[len(away.Record.Notes)-1].Date = asOf
	return map[string]doctorSheet{
		"grave sign":     sheetOf(withRide(pavor(), "minute 12: pressure on the stairs")),
		"no recording":   {away, nil},
		"under-recorded": {ondrel(), nil},
		"nothing known":  {reports.Client{Record: record.Record{Client: record.Client{Name: "Elun"}}, Assessment: record.Assessment{AsOf: asOf}}, nil},
		"too much":       sheetOf(withRide(full, "")),
	}
}

func sheetOf(c reports.Client, then *reports.Recorded) doctorSheet { return doctorSheet{c, then} }

// withRide puts a ride on the day of the client's last note, which then says something else unless that is "".
func withRide(c reports.Client, says string) (reports.Client, *reports.Recorded) {
	c.Record.Notes = slices.Clone(c.Record.Notes)
	last := &c.Record.Notes[len(c.Record.Notes)-1]
	if says != "" {
		last.Text = says
	}
	rec, s, w := ride()
	rec.Workout.Seconds++ // longer than the others of the day
	rec.Date, w.Start = last.Date, last.Date.Time().Add(17*time.Hour)
	c.Record.Recordings = append(slices.Clone(c.Record.Recordings), rec)
	return c, &reports.Recorded{Recording: rec, Series: s, Workout: w}
}

func doctorWords(t *testing.T, c reports.Client, then *reports.Recorded) string {
	t.Helper()
	b, err := reports.DoctorSample(c, then)
	if err != nil {
		t.Fatal(err)
	}
	return words(b)
}

// TestDoctorPage: the sheet has the words, the sign, its urgency, the session of the day and the usual values, and says
// "not recorded" of everything else.
func TestDoctorPage(t *testing.T) {
	for name, want := range map[string][]string{
		"grave sign": {"Call emergency help now if the symptom is still there or comes back; otherwise the client has to see a doctor today", "“minute 12: pressure on the stairs”",
			"Entered as: pain or pressure in the chest, neck, jaw or arm.", "Walking on 3 October 2026, from 17:00 (chest strap)", "the moment that the client named, 12:00 from the start",
			"Born 19 August 1971", "8 sessions", "62 bpm, as entered", "signs: none", "none that changes it", "Signature"},
		"no recording":   {"No recording of that day (4 October 2026).", "“pressure on the stairs”"},
		"under-recorded": {"No urgent sign is on record", "Screening not recorded", "Conditions not recorded", "Mean of an easy session not recorded", "not enough data"},
		"nothing known":  {"Born not recorded", "Sex not recorded", "not recorded", "No heart rate has been recorded.", "What Elun said Not recorded.", "not enough data"},
		"too much":       {"And 7 more in the book.", "and 2 more in the book", "one that slows the heart", "dose changed", "Kidney disease", "Sent by the trainer, Corvane"},
	} {
		x := doctorSheets()[name]
		got := doctorWords(t, x.client, x.then)
		for _, s := range want {
			if !strings.Contains(got, s) {
				t.Errorf("%s: the sheet lacks %q in:\n%s", name, s, got)
			}
		}
	}
}

// An open question counts as meant until somebody has asked, and the sheet says that nobody has.
func TestDoctorPageOfAnOpenQuestion(t *testing.T) {
	c := withSign(t, signs.Chest, record.Active, false)
	got := doctorWords(t, c, nil)
	for _, s := range []string{signs.Chest.Urgent(signs.Trainer, 4), "“tight across the chest”", signs.Chest.Question() + " Nobody has asked yet."} {
		if !strings.Contains(got, s) {
			t.Errorf("the sheet lacks %q in:\n%s", s, got)
		}
	}
}

// TestSeesDoctor: the sheet is written by itself when there is a sign, also while the client is away, and for a doctor who comes
// first for another reason; not for anybody else.
func TestSeesDoctor(t *testing.T) {
	sick := avelin()
	sick.Assessment.Verdict = ptr(record.Refer)
	for name, c := range map[string]struct {
		client reports.Client
		want   bool
	}{
		"sign": {pavor(), true}, "sign, away": {withSign(t, signs.Dizzy, record.PausedState, true), true}, "verdict": {sick, true},
		"ready": {avelin(), false}, "tired": {maruna(), false}, "medicine, cleared": {selvane(), false},
	} {
		if got := reports.SeesDoctor(c.client); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// A clearance ends what it covers: the sheet is not about it any more.
func TestDoctorPageAfterClearance(t *testing.T) {
	c := pavor()
	c.Record.Client.Clearance = asOf
	c.Assessment.Verdict = ptr(record.Hold)
	if got := doctorWords(t, c, nil); reports.SeesDoctor(c) || strings.Contains(got, "Entered as") || !strings.Contains(got, "“pressure on the stairs”") {
		t.Errorf("sees a doctor %v:\n%s", reports.SeesDoctor(c), got)
	}
}

// The figures beyond their limit stand with both, and only those of the heart.
func TestDoctorPageSaysWhatIsUnusual(t *testing.T) {
	c := pavor()
	c.Assessment.Reasons = []record.Reason{
		{Rule: policy.Resting, Kind: policy.Informative, Observed: ptr(9.0), Threshold: ptr(7.0), Is: policy.AtMost, Unit: "bpm", Met: new(bool), From: asOf - 6, To: asOf},
		{Rule: policy.Minutes, Kind: policy.Required, Observed: ptr(20.0), Threshold: ptr(75.0), Is: policy.AtLeast, Unit: "min", Met: new(bool)},
	}
	got := doctorWords(t, c, nil)
	if !strings.Contains(got, "Resting heart rate: 9 bpm above the client's usual, where the programme’s limit is at most 7") || strings.Contains(got, "at least 75") {
		t.Error(got)
	}
}

// RecordedThen takes the longest recording of the day, none that was set aside, and without a sign the latest.
func TestRecordedThen(t *testing.T) {
	c, then := withRide(pavor(), "")
	if got := reports.RecordedThen(c); got == nil || got.ID != then.Recording.ID {
		t.Errorf("%v", got)
	}
	c.Record.Recordings[len(c.Record.Recordings)-1].Aside = record.SetAside(record.Excluded, "the boat's engine")
	if got := reports.RecordedThen(c); got == nil || got.ID == then.Recording.ID {
		t.Errorf("%v", got)
	}
	var last workout.Date
	a := avelin()
	for _, r := range a.Record.Recordings {
		last = max(last, r.Date)
	}
	if got := reports.RecordedThen(a); got == nil || got.Date != last {
		t.Errorf("%v", got)
	}
}
