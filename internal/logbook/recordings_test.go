package logbook_test

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/logbook"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

func TestAddGivesBackWhatWentIn(t *testing.T) {
	b, _ := crewed(t)
	f := export("quay.fit", 20_000)
	its := items(f, "Runa", monday, 2)
	its[0].Recording.Workout = full[workout.Workout](100)
	its[0].Recording.Measured = full[physiology.Measurements](200)
	its[0].Series.BPM[1] = 100.5
	its[0].Series.Remarks = []workout.Fact{{Code: "gap", Text: "heart rate lost"}}
	its[0].Recording.Received = monday + 1 // a backlog counts as received when it was recorded
	its[1].Recording.Received = monday + 3
	its[1].Recording.Aside = record.SetAside(record.SameWorkout, "pier.fit")
	must(t, b.Add(t.Context(), f, "Runa", monday+3, its, nil))
	for _, want := range its {
		got, err := b.Recording(t.Context(), want.Recording.ID)
		must(t, err)
		same(t, "recording", got, want.Recording)
		series, err := b.Series(t.Context(), want.Recording.ID)
		must(t, err)
		same(t, "series", series, want.Series)
	}
	raw, name, err := b.Original(t.Context(), f.Digest)
	must(t, err)
	same(t, "original", raw, f.Bytes)
	same(t, "name", name, "quay.fit")
	who, on, ok, err := b.Holder(t.Context(), f.Digest)
	if err != nil || !ok || who != "Runa" || on != monday+3 {
		t.Errorf("held by %s since %s (%v, %v)", who, on, ok, err)
	}
	verified(t, b)
}

// The channels stay in the original.
func TestAddKeepsNoChannels(t *testing.T) {
	b, _ := crewed(t)
	f := export("quay.fit", 100)
	its := items(f, "Runa", monday, 1)
	its[0].Recording.Workout.HeartRate.Add(0, 100)
	must(t, b.Add(t.Context(), f, "Runa", monday, its, nil))
	got, err := b.Recording(t.Context(), its[0].Recording.ID)
	must(t, err)
	if got.Workout.HeartRate.Len() != 0 || got.Workout.Seconds != 5 {
		t.Errorf("workout is %+v", got.Workout)
	}
}

func TestTwiceIsOnce(t *testing.T) {
	b, dir := crewed(t)
	f := add(t, b, "Runa", "quay.fit", monday, 2)
	second := open(t, dir) // another program, so to say
	for _, c := range []struct {
		name   string
		book   *logbook.Book
		client string
		as     string
	}{
		{"the same again", b, "Runa", "quay.fit"},
		{"under another name", b, "Runa", "copy of quay.fit"},
		{"for somebody else", b, "Odd", "quay.fit"},
		{"from another connection", second, "Runa", "quay.fit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			again := f
			again.Name = c.as
			err := c.book.Add(t.Context(), again, c.client, monday+7, items(again, c.client, monday, 2), nil)
			var known *logbook.ErrKnown
			if !errors.As(err, &known) || known.Client != "Runa" || known.Received != monday {
				t.Fatalf("%v, want that the file is known as Runa's since %s", err, monday)
			}
			refused(t, err, "Runa", "2026-09-07")
		})
	}
	same(t, "Runa's files", counts(t, b, "Runa", monday+30), []string{"quay.fit", "quay.fit"})
	same(t, "Odd's files", counts(t, b, "Odd", monday+30), []string{})
	verified(t, b)
}

// A file of which anything cannot be entered leaves nothing behind.
func TestAddIsAllOrNothing(t *testing.T) {
	for _, c := range []struct {
		name   string
		spoil  func(f *recording.File, its []logbook.Item)
		aside  map[string]record.Fact
		client string
		want   string
	}{
		{"refused by the reader", func(f *recording.File, _ []logbook.Item) { f.Err = errors.New("file is empty") }, nil, "Runa", "file is empty"},
		{"bytes that changed", func(f *recording.File, _ []logbook.Item) { f.Bytes[7]++ }, nil, "Runa", "bytes of quay.fit changed"},
		{"a workout without a day", func(_ *recording.File, its []logbook.Item) { its[1].Recording.Date = 0 }, nil, "Runa", "day of the workout is missing"},
		{"a measure that is no number", func(_ *recording.File, its []logbook.Item) {
			nan := its[1].Series.BPM[3]
			its[1].Recording.Measured.HeartRate.Mean = &nan
		}, nil, "Runa", "NaN"},
		{"a series that is torn", func(_ *recording.File, its []logbook.Item) { its[1].Series.BPM = nil }, nil, "Runa", "origins"},
		{"two workouts with one number", func(_ *recording.File, its []logbook.Item) { its[1].Recording.Index = 0 }, nil, "Runa", "workout 2"},
		{"set aside an unknown recording", func(*recording.File, []logbook.Item) {}, map[string]record.Fact{"0#0": record.SetAside(record.SameWorkout, "pier.fit")}, "Runa", `"0#0"`},
		{"an unknown client", func(*recording.File, []logbook.Item) {}, nil, "Ylva", "clients are Odd, Runa"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, _ := crewed(t)
			f := export("quay.fit", 300)
			its := items(f, "Runa", monday, 2)
			c.spoil(&f, its)
			refused(t, b.Add(t.Context(), f, c.client, monday, its, c.aside), c.want)
			var files, recordings int
			must(t, b.DB().QueryRow("SELECT (SELECT count(*) FROM file), (SELECT count(*) FROM recording)").Scan(&files, &recordings))
			if files != 0 || recordings != 0 {
				t.Errorf("%d files and %d recordings stayed", files, recordings)
			}
		})
	}
	b, _ := crewed(t)
	f := export("quay.fit", 300)
	refused(t, b.Add(t.Context(), f, "Runa", monday, nil, nil), "no workout")
	refused(t, b.Add(t.Context(), f, "Runa", 0, items(f, "Runa", monday, 1), nil), "day of receipt")
	// Somebody else's recording cannot be set aside.
	odds := add(t, b, "Odd", "odd.fit", monday, 1)
	refused(t, b.Add(t.Context(), f, "Runa", monday, items(f, "Runa", monday, 1), map[string]record.Fact{odds.Digest.Short() + "#0": record.SetAside(record.SameWorkout, "x")}), "not in the book")
}

// Two files can have the same eight digits; neither is lost.
func TestShortDigestsMayCollide(t *testing.T) {
	b, _ := crewed(t)
	seen := map[string]int{}
	var one, two recording.File
	for n := 0; ; n++ { // about 80,000 tries for an even chance among 2^32
		raw := fmt.Appendf(nil, "workout %d", n)
		d := workout.DigestOf(raw)
		if m, ok := seen[d.Short()]; ok {
			first := fmt.Appendf(nil, "workout %d", m)
			one = recording.File{Name: "one.csv", Bytes: first, Digest: workout.DigestOf(first)}
			two = recording.File{Name: "two.csv", Bytes: raw, Digest: d}
			break
		}
		seen[d.Short()] = n
	}
	must(t, b.Add(t.Context(), one, "Runa", monday, items(one, "Runa", monday, 1), nil))
	its := items(two, "Runa", monday+1, 1)
	must(t, b.Add(t.Context(), two, "Runa", monday+1, its, nil))
	if its[0].Recording.ID != two.Digest.String()+"#0" {
		t.Errorf("ID is %s", its[0].Recording.ID)
	}
	for _, f := range []struct{ id, name string }{{one.Digest.Short() + "#0", "one.csv"}, {its[0].Recording.ID, "two.csv"}} {
		got, err := b.Recording(t.Context(), f.id)
		must(t, err)
		same(t, f.id, got.Name, f.name)
	}
}

func TestRemeasure(t *testing.T) {
	b, _ := crewed(t)
	f := add(t, b, "Runa", "quay.fit", monday, 2)
	want := full[physiology.Measurements](1)
	must(t, b.Remeasure(t.Context(), f.Digest.Short()+"#1", want))
	for i, m := range []physiology.Measurements{items(f, "Runa", monday, 1)[0].Recording.Measured, want} {
		got, err := b.Recording(t.Context(), fmt.Sprintf("%s#%d", f.Digest.Short(), i))
		must(t, err)
		same(t, "measurements", got.Measured, m)
	}
}

// Three devices recorded one workout: the wrist counts until the strap arrives, and again when the
// strap's file goes or stops counting.
func TestSetAsideForAnother(t *testing.T) {
	setup := func(t *testing.T) (b *logbook.Book, wrist, strap, phone recording.File) {
		b, _ = crewed(t)
		wrist = add(t, b, "Runa", "wrist.fit", monday, 1)
		strap = export("strap.fit", 100)
		must(t, b.Add(t.Context(), strap, "Runa", monday+5, items(strap, "Runa", monday, 1),
			map[string]record.Fact{wrist.Digest.Short() + "#0": record.SetAside(record.SameWorkout, "strap.fit")}))
		phone = export("phone.gpx", 100)
		its := items(phone, "Runa", monday, 1)
		its[0].Recording.Aside, its[0].Behind = record.SetAside(record.SameWorkout, "strap.fit"), strap.Digest
		must(t, b.Add(t.Context(), phone, "Runa", monday+5, its, nil))
		return b, wrist, strap, phone
	}
	for _, c := range []struct {
		name string
		do   func(t *testing.T, b *logbook.Book, wrist, strap, phone recording.File) error
		on   workout.Date
		want []string
	}{
		{"as it is", func(*testing.T, *logbook.Book, recording.File, recording.File, recording.File) error { return nil }, monday + 9, []string{"strap.fit"}},
		{"before the strap arrived", func(*testing.T, *logbook.Book, recording.File, recording.File, recording.File) error { return nil }, monday + 4, []string{"wrist.fit"}},
		{"strap undone", func(t *testing.T, b *logbook.Book, _, s, _ recording.File) error {
			return b.Undo(t.Context(), s.Digest)
		}, monday + 9, []string{"phone.gpx", "wrist.fit"}},
		{"strap excluded", func(t *testing.T, b *logbook.Book, _, s, _ recording.File) error {
			return b.Exclude(t.Context(), s.Digest.Short()+"#0", "worn by Odd")
		}, monday + 9, []string{"phone.gpx", "wrist.fit"}},
		{"strap moved", func(t *testing.T, b *logbook.Book, _, s, _ recording.File) error {
			return b.Move(t.Context(), s.Digest, "Odd")
		}, monday + 9, []string{"phone.gpx", "wrist.fit"}},
		{"wrist moved", func(t *testing.T, b *logbook.Book, w, _, _ recording.File) error {
			return errors.Join(b.Move(t.Context(), w.Digest, "Odd"), b.Move(t.Context(), w.Digest, "Runa"))
		}, monday + 9, []string{"strap.fit", "wrist.fit"}},
		{"wrist excluded, then strap undone", func(t *testing.T, b *logbook.Book, w, s, _ recording.File) error {
			return errors.Join(b.Exclude(t.Context(), w.Digest.Short()+"#0", "worn by Odd"), b.Undo(t.Context(), s.Digest))
		}, monday + 9, []string{"phone.gpx"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, wrist, strap, phone := setup(t)
			must(t, c.do(t, b, wrist, strap, phone))
			got := counts(t, b, "Runa", c.on)
			if len(got) == 2 && got[0] > got[1] { // they start at the same second
				got[0], got[1] = got[1], got[0]
			}
			same(t, "what counts", got, c.want)
			verified(t, b)
		})
	}
	t.Run("a better one takes over what hung on the first", func(t *testing.T) {
		b, _, strap, _ := setup(t)
		best := export("best.fit", 100)
		must(t, b.Add(t.Context(), best, "Runa", monday+6, items(best, "Runa", monday, 1),
			map[string]record.Fact{strap.Digest.Short() + "#0": record.SetAside(record.SameWorkout, "best.fit")}))
		must(t, b.Undo(t.Context(), strap.Digest))
		same(t, "what counts", counts(t, b, "Runa", monday+9), []string{"best.fit"})
		must(t, b.Undo(t.Context(), best.Digest))
		if got := counts(t, b, "Runa", monday+9); len(got) != 2 {
			t.Errorf("%v count, want wrist and phone", got)
		}
		verified(t, b)
	})
	t.Run("one of two workouts excluded", func(t *testing.T) {
		b, _ := crewed(t)
		wrist := add(t, b, "Runa", "wrist.fit", monday, 1)
		both := export("both.fit", 100)
		must(t, b.Add(t.Context(), both, "Runa", monday, items(both, "Runa", monday, 2), map[string]record.Fact{wrist.Digest.Short() + "#0": record.SetAside(record.SameWorkout, "x")}))
		must(t, b.Exclude(t.Context(), both.Digest.Short()+"#1", "commuting"))
		same(t, "what counts", counts(t, b, "Runa", monday), []string{"both.fit"})
		must(t, b.Exclude(t.Context(), both.Digest.Short()+"#0", "commuting"))
		same(t, "what counts", counts(t, b, "Runa", monday), []string{"wrist.fit"})
	})
}

func TestExcludeKeepsTheRecordingAndTheReason(t *testing.T) {
	b, _ := crewed(t)
	f := add(t, b, "Runa", "quay.fit", monday, 1)
	must(t, b.Exclude(t.Context(), f.Digest.Short()+"#0", "strap worn by her brother"))
	r, err := b.Record(t.Context(), "Runa", monday)
	must(t, err)
	if len(r.Recordings) != 1 || !r.Recordings[0].Aside.Equal(record.SetAside(record.Excluded, "strap worn by her brother")) {
		t.Errorf("recordings are %+v", r.Recordings)
	}
	if n := len(r.Sessions()); n != 0 {
		t.Errorf("%d sessions count", n)
	}
}

func TestExcludedCanBeIncludedAgain(t *testing.T) {
	b, _ := crewed(t)
	id := add(t, b, "Runa", "quay.fit", monday, 1).Digest.Short() + "#0"
	refused(t, b.Include(t.Context(), id), "no excluded recording")
	must(t, b.Exclude(t.Context(), id, "strap worn by her brother"))
	must(t, b.Include(t.Context(), id))
	same(t, "what counts", counts(t, b, "Runa", monday), []string{"quay.fit"})
}

func TestWithdrawnCountsOnTheDaysBefore(t *testing.T) {
	b, _ := crewed(t)
	must(t, b.AddNote(t.Context(), "Runa", record.Note{Date: monday, Entered: monday, Text: "windy"}))
	must(t, b.AddReport(t.Context(), "Runa", record.Report{Date: monday, Entered: monday, Minutes: 30, Sport: workout.Walking}))
	for _, id := range []string{"n1", "r1"} {
		refused(t, b.Withdraw(t.Context(), "Odd", id, monday+2), "has no entry "+id)
		must(t, b.Withdraw(t.Context(), "Runa", id, monday+2))
		refused(t, b.Withdraw(t.Context(), "Runa", id, monday+3), "has no entry "+id)
	}
	refused(t, b.Withdraw(t.Context(), "Runa", "d1", monday), "n12")
	refused(t, b.Withdraw(t.Context(), "Runa", "", monday), "n12")
	for on, want := range map[workout.Date]int{monday: 1, monday + 1: 1, monday + 2: 0, monday + 9: 0} {
		r, err := b.Record(t.Context(), "Runa", on)
		must(t, err)
		if len(r.Notes) != want || len(r.Reports) != want {
			t.Errorf("%s: %d notes, %d reports, want %d of each", on, len(r.Notes), len(r.Reports), want)
		}
	}
	verified(t, b)
}

func TestUndoneCanBeReceivedAgain(t *testing.T) {
	b, _ := crewed(t)
	f := add(t, b, "Runa", "quay.fit", monday, 3)
	must(t, b.Undo(t.Context(), f.Digest))
	same(t, "what counts", counts(t, b, "Runa", monday), []string{})
	verified(t, b)
	must(t, b.Add(t.Context(), f, "Odd", monday+1, items(f, "Odd", monday, 3), nil))
	if got := counts(t, b, "Odd", monday+1); len(got) != 3 {
		t.Errorf("%v", got)
	}
}

func TestMoveTakesTheDaysOfTheNewTimeZone(t *testing.T) {
	b, _ := crewed(t)
	must(t, b.PutClient(t.Context(), record.Client{Name: "Ylva", TimeZone: "Pacific/Auckland"}, monday))
	f := export("evening.fit", 100)
	its := items(f, "Runa", monday, 1)
	its[0].Recording.Workout.Start = monday.Time().Add(18 * time.Hour)
	its[0].Recording.Aside = record.SetAside(record.Excluded, "by hand")
	must(t, b.Add(t.Context(), f, "Runa", monday, its, nil))
	must(t, b.Move(t.Context(), f.Digest, "Ylva"))
	got, err := b.Recording(t.Context(), its[0].Recording.ID)
	must(t, err)
	if got.Client != "Ylva" || got.Date != monday+1 || !got.Aside.Equal(record.SetAside(record.Excluded, "by hand")) {
		t.Errorf("%s has it on %s (%v), want Ylva on %s", got.Client, got.Date, got.Aside, monday+1)
	}
	same(t, "Runa's", counts(t, b, "Runa", monday+9), []string{})
	verified(t, b)
}

func TestSeriesOfADayLong(t *testing.T) {
	b, _ := crewed(t)
	f := export("ferry.fit", 100)
	its := items(f, "Runa", monday, 1)
	s := heartrate.Series{BPM: make([]float64, 86400), Origin: make([]heartrate.Origin, 86400)}
	for k := range s.BPM {
		s.BPM[k], s.Origin[k] = float64(60+k%90), heartrate.Measured
	}
	its[0].Series = s
	must(t, b.Add(t.Context(), f, "Runa", monday, its, nil))
	got, err := b.Series(t.Context(), its[0].Recording.ID)
	must(t, err)
	same(t, "series", got, s)
}
