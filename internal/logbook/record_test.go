package logbook_test

import (
	"fmt"
	"testing"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Everything that the types can hold comes back from a book that was closed and opened again.
func TestRecordRoundTrip(t *testing.T) {
	dir := t.TempDir()
	b := open(t, dir)
	want := record.Record{Client: full[record.Client](1)}
	want.Client.Name = "Runa"
	on := monday + 100 // later than every day that full gives
	must(t, b.PutClient(t.Context(), want.Client, monday))
	for i := range 3 {
		name := fmt.Sprintf("day %d.fit", i)
		f := export(name, 900)
		its := items(f, "Runa", monday+workout.Date(i), 1)
		r := &its[0].Recording
		r.Workout, r.Measured = full[workout.Workout](50*i), full[physiology.Measurements](70*i)
		r.Workout.Start = r.Date.Time().Add(9 * time.Hour)
		r.Received, r.Aside = r.Date+1, record.SetAside(record.Excluded, name)
		must(t, b.Add(t.Context(), f, "Runa", r.Date+1, its, nil))
		want.Recordings = append(want.Recordings, *r)

		report, note := full[record.Report](30*i), full[record.Note](40*i)
		report.Date, note.Date = r.Date, r.Date
		must(t, b.AddReport(t.Context(), "Runa", report))
		must(t, b.AddNote(t.Context(), "Runa", note))
		report.ID, note.ID = fmt.Sprintf("r%d", i+1), fmt.Sprintf("n%d", i+1)
		want.Reports, want.Notes = append(want.Reports, report), append(want.Notes, note)

		d := full[record.Decision](90 * i)
		must(t, b.AddDecision(t.Context(), "Runa", d))
		d.Client = "Runa"
		if i == 0 {
			d = d.Seal(nil)
		} else {
			d = d.Seal(&want.Decisions[i-1])
		}
		want.Decisions = append(want.Decisions, d)

		p := full[record.Prescription](10 * i)
		p.From = r.Date
		must(t, b.AddPrescription(t.Context(), "Runa", p))
		want.Prescriptions = append(want.Prescriptions, p)
	}
	must(t, b.Close())

	b = open(t, dir)
	verified(t, b)
	got, err := b.Record(t.Context(), "Runa", on)
	must(t, err)
	same(t, "record", got, want)
	must(t, record.VerifyChain(got.Decisions))
	facts, err := b.Client(t.Context(), "Runa")
	must(t, err)
	same(t, "facts", facts, want.Client)
}

func TestAssessmentsRoundTrip(t *testing.T) {
	b, _ := crewed(t)
	var want []record.Assessment
	for i, day := range []workout.Date{monday + 7, monday, monday + 14} {
		a := full[record.Assessment](100 * i)
		a.AsOf = day
		must(t, b.AddAssessment(t.Context(), "Runa", a))
		a.Summary = append(a.Summary, record.Fact{Code: "assessed-again"})
		must(t, b.AddAssessment(t.Context(), "Runa", a))
		want = append(want, a)
	}
	for _, a := range want {
		got, err := b.Assessment(t.Context(), "Runa", a.AsOf)
		must(t, err)
		same(t, "assessment of "+a.AsOf.String(), got, &a)
	}
	for who, day := range map[string]workout.Date{"Odd": monday, "Runa": monday + 1} {
		if none, err := b.Assessment(t.Context(), who, day); none != nil || err != nil {
			t.Errorf("%s has an assessment of %s: %v (%v)", who, day, none, err)
		}
	}
}

// A day sees what had been received, entered and made by then, and done by then.
func TestRecordOnADay(t *testing.T) {
	b, _ := crewed(t)
	ctx := t.Context()
	add(t, b, "Runa", "first.fit", monday, 1)
	late := export("late.fit", 100)
	must(t, b.Add(ctx, late, "Runa", monday+20, items(late, "Runa", monday+1, 1), nil))
	early := export("a clock ahead.fit", 100) // done on a day after its receipt
	must(t, b.Add(ctx, early, "Runa", monday+2, items(early, "Runa", monday+4, 1), nil))
	must(t, b.AddNote(ctx, "Runa", record.Note{Date: monday, Entered: monday + 3, Text: "windy"}))
	must(t, b.AddReport(ctx, "Runa", record.Report{Date: monday + 1, Entered: monday + 5, Minutes: 30}))
	must(t, b.AddDecision(ctx, "Runa", record.Decision{Entered: monday + 6, From: monday + 7, Act: record.DoHold}))
	must(t, b.AddPrescription(ctx, "Runa", record.Prescription{Made: monday + 6, From: monday + 7, To: monday + 13}))
	must(t, b.AddPrescription(ctx, "Runa", record.Prescription{Made: monday + 8, From: monday + 7, To: monday + 13, Minutes: 25}))
	for _, c := range []struct {
		on    workout.Date
		files []string
		// notes, reports, decisions, prescriptions
		n [4]int
	}{
		{monday - 1, []string{}, [4]int{}},
		{monday, []string{"first.fit"}, [4]int{}},
		{monday + 2, []string{"first.fit"}, [4]int{}},
		{monday + 3, []string{"first.fit"}, [4]int{1}},
		{monday + 4, []string{"first.fit", "a clock ahead.fit"}, [4]int{1}},
		{monday + 5, []string{"first.fit", "a clock ahead.fit"}, [4]int{1, 1}},
		{monday + 6, []string{"first.fit", "a clock ahead.fit"}, [4]int{1, 1, 1, 1}},
		{monday + 8, []string{"first.fit", "a clock ahead.fit"}, [4]int{1, 1, 1, 2}},
		{monday + 20, []string{"first.fit", "late.fit", "a clock ahead.fit"}, [4]int{1, 1, 1, 2}},
		{workout.MustDate("9999-12-31"), []string{"first.fit", "late.fit", "a clock ahead.fit"}, [4]int{1, 1, 1, 2}},
	} {
		t.Run(c.on.String(), func(t *testing.T) {
			same(t, "files", counts(t, b, "Runa", c.on), c.files)
			r, err := b.Record(ctx, "Runa", c.on)
			must(t, err)
			same(t, "notes, reports, decisions, prescriptions", [4]int{len(r.Notes), len(r.Reports), len(r.Decisions), len(r.Prescriptions)}, c.n)
		})
	}
	r, err := b.Record(ctx, "Odd", monday+30)
	must(t, err)
	same(t, "another client's record", r, record.Record{Client: r.Client})
}

// Every version of a plan is kept, the newest of a week last.
func TestPrescribingAgain(t *testing.T) {
	b, _ := crewed(t)
	for _, p := range []record.Prescription{
		{Made: monday + 6, From: monday + 7, Minutes: 20},
		{Made: monday + 6, From: monday + 7, Minutes: 22},
		{Made: monday + 8, From: monday + 7, Minutes: 24},
		{Made: monday - 1, From: monday, Minutes: 10},
	} {
		must(t, b.AddPrescription(t.Context(), "Runa", p))
	}
	r, err := b.Record(t.Context(), "Runa", monday+30)
	must(t, err)
	var got []int
	for _, p := range r.Prescriptions {
		got = append(got, p.Minutes)
	}
	same(t, "minutes", got, []int{10, 20, 22, 24})
}

func TestFactsHaveVersions(t *testing.T) {
	b := open(t, t.TempDir())
	for _, v := range []struct {
		on   workout.Date
		goal string
	}{{monday, "typing error"}, {monday, "first"}, {monday + 7, "second"}, {monday + 14, "third"}, {monday + 14, "third, corrected"}} {
		must(t, b.PutClient(t.Context(), record.Client{Name: "Runa", Goal: v.goal}, v.on))
	}
	for _, c := range []struct {
		on   workout.Date
		want string
	}{
		{monday - 30, "first"}, {monday, "first"}, {monday + 6, "first"}, {monday + 7, "second"}, {monday + 13, "second"},
		{monday + 14, "third, corrected"}, {monday + 99, "third, corrected"},
	} {
		got, err := b.ClientOn(t.Context(), "Runa", c.on)
		must(t, err)
		same(t, "facts on "+c.on.String(), got.Goal, c.want)
		r, err := b.Record(t.Context(), "Runa", c.on)
		must(t, err)
		same(t, "facts of the record on "+c.on.String(), r.Client.Goal, c.want)
	}
	got, err := b.Client(t.Context(), "Runa")
	must(t, err)
	same(t, "newest facts", got.Goal, "third, corrected")
	if _, err := b.DB().Exec("UPDATE facts SET value = '{}'"); err == nil {
		t.Error("facts can be changed")
	}
}

func TestClientsAreListedByName(t *testing.T) {
	b := open(t, t.TempDir())
	for _, n := range []string{"ylva", "Runa", "Åse", "odd", `the "mate"`} {
		must(t, b.PutClient(t.Context(), record.Client{Name: n}, monday))
	}
	got, err := b.Clients(t.Context())
	must(t, err)
	same(t, "clients", got, []string{"odd", "Runa", `the "mate"`, "ylva", "Åse"})
}

func TestRecordingsStandOldestFirst(t *testing.T) {
	b, _ := crewed(t)
	f := export("three.fit", 100)
	its := items(f, "Runa", monday, 3)
	its[0].Recording.Workout.Start, its[2].Recording.Workout.Start = its[2].Recording.Workout.Start, its[0].Recording.Workout.Start
	must(t, b.Add(t.Context(), f, "Runa", monday, its, nil))
	r, err := b.Record(t.Context(), "Runa", monday)
	must(t, err)
	for i, x := range r.Recordings {
		if want := 2 - i; x.Index != want {
			t.Errorf("place %d has workout %d, want %d", i, x.Index, want)
		}
	}
}

// Several notes are entered together or not at all, and each can be taken back by its ID.
func TestNotesAreEnteredTogether(t *testing.T) {
	b, ctx := open(t, t.TempDir()), t.Context()
	must(t, b.PutClient(ctx, record.Client{Name: "Runa", Born: monday - 12000}, monday))
	note := func(d workout.Date, text string) record.Note {
		return record.Note{ID: "n77", Date: d, Entered: monday + 3, Text: text}
	}
	if ids, err := b.AddNotes(ctx, "Runa", []record.Note{note(monday, "windy"), note(0, "of no day")}); err == nil || ids != nil {
		t.Errorf("a note of no day was entered among others: %v, %v", ids, err)
	}
	ids, err := b.AddNotes(ctx, "Runa", []record.Note{note(monday, "windy"), note(monday+1, "calm")})
	must(t, err)
	if fmt.Sprint(ids) != "[n1 n2]" {
		t.Errorf("IDs %v, want n1 and n2", ids)
	}
	must(t, b.Withdraw(ctx, "Runa", ids[0], monday+3))
	r, err := b.Record(ctx, "Runa", monday+3)
	must(t, err)
	if len(r.Notes) != 1 || r.Notes[0].ID != "n2" || r.Notes[0].Text != "calm" {
		t.Errorf("notes %+v, want the second alone", r.Notes)
	}
}

// The records of several days from one reading are those of each day alone, and do not share what
// differs between them.
func TestRecordsOfSeveralDays(t *testing.T) {
	b := open(t, t.TempDir())
	must(t, b.PutClient(t.Context(), record.Client{Name: "Runa", Sex: "female"}, monday))
	must(t, b.PutClient(t.Context(), record.Client{Name: "Runa", Sex: "male"}, monday+5))
	first, better := export("watch.fit", 900), export("strap.fit", 901)
	old := items(first, "Runa", monday, 1)
	must(t, b.Add(t.Context(), first, "Runa", monday, old, nil))
	must(t, b.Add(t.Context(), better, "Runa", monday+3, items(better, "Runa", monday, 1), map[string]record.Fact{old[0].Recording.ID: record.SetAside(record.SameWorkout, "strap.fit")}))
	must(t, b.AddNote(t.Context(), "Runa", record.Note{Date: monday, Entered: monday, Text: "n"}))
	must(t, b.Withdraw(t.Context(), "Runa", "n1", monday+4))
	days := []workout.Date{monday + 6, monday, monday + 3, monday + 4}
	all, err := b.Records(t.Context(), "Runa", days...)
	must(t, err)
	for _, day := range days {
		alone, err := b.Record(t.Context(), "Runa", day)
		must(t, err)
		same(t, day.String(), all[day], alone)
	}
	for _, c := range []struct {
		day                      workout.Date
		recordings, aside, notes int
		sex                      physiology.Sex
	}{{monday, 1, 0, 1, "female"}, {monday + 3, 2, 1, 1, "female"}, {monday + 4, 2, 1, 0, "female"}, {monday + 6, 2, 1, 0, "male"}} {
		r, aside := all[c.day], 0
		for _, x := range r.Recordings {
			if !x.Counts() {
				aside++
			}
		}
		if len(r.Recordings) != c.recordings || aside != c.aside || len(r.Notes) != c.notes || r.Client.Sex != c.sex {
			t.Errorf("%s: %d recordings, %d aside, %d notes, %s", c.day, len(r.Recordings), aside, len(r.Notes), r.Client.Sex)
		}
	}
}
