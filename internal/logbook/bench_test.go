package logbook_test

import (
	"fmt"
	"testing"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/logbook"
	"nextrung/internal/physiology"
	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// sessions is half a year and more of one client.
const sessions = 150

// hour plays one interval session of about an hour as a watch would write it on day.
func hour(tb testing.TB, day workout.Date) (recording.File, []logbook.Item) {
	tb.Helper()
	plan := workout.Plan{Mode: workout.Run, Steps: []workout.Step{{Kind: workout.WarmUp, Seconds: 600, Low: 110, High: 115}}}
	for range 6 {
		plan.Steps = append(plan.Steps,
			workout.Step{Kind: workout.Work, Seconds: 180, Low: 150, High: 155},
			workout.Step{Kind: workout.Recovery, Seconds: 240, Low: 115, High: 120})
	}
	plan.Steps = append(plan.Steps, workout.Step{Kind: workout.CoolDown, Seconds: 480, Low: 105, High: 110})
	w, _ := simulate.Play(plan, simulate.Beginner(62, 186), simulate.Options{Seed: uint64(day), Start: day.Time().Add(16 * time.Hour)})
	raw, err := recording.Encode("fit", w)
	must(tb, err)
	f := recording.File{Name: day.String() + ".fit", Format: "fit", Bytes: raw, Digest: workout.DigestOf(raw)}
	its := items(f, "Runa", day, 1)
	its[0].Series = heartrate.Clean(w)
	its[0].Recording.Workout = w
	its[0].Recording.Measured = physiology.Measure(its[0].Series, w, physiology.Body{Age: 40, HRRest: 62, HRMaxAny: 186}, false)
	return f, its
}

func BenchmarkAdd(b *testing.B) {
	book, _ := crewed(b)
	f, its := hour(b, monday)
	b.SetBytes(int64(len(f.Bytes)))
	for i := 0; b.Loop(); i++ {
		f.Bytes = append(f.Bytes[:len(f.Bytes):len(f.Bytes)], fmt.Sprint(i)...) // another file each time
		f.Digest = workout.DigestOf(f.Bytes)
		its[0].Recording.ID = f.Digest.Short() + "#0"
		must(b, book.Add(b.Context(), f, "Runa", monday, its, nil))
		f.Bytes = f.Bytes[:len(f.Bytes)-len(fmt.Sprint(i))]
	}
}

// trained is the book of somebody with all those sessions.
func trained(b *testing.B) *logbook.Book {
	book, _ := crewed(b)
	for i := range sessions {
		f, its := hour(b, monday+workout.Date(i))
		must(b, book.Add(b.Context(), f, "Runa", monday+workout.Date(i), its, nil))
	}
	return book
}

func BenchmarkRecord(b *testing.B) {
	book := trained(b)
	for b.Loop() {
		r, err := book.Record(b.Context(), "Runa", monday+sessions)
		must(b, err)
		if len(r.Recordings) != sessions {
			b.Fatalf("%d recordings", len(r.Recordings))
		}
	}
}

func BenchmarkVerify(b *testing.B) {
	book := trained(b)
	for b.Loop() {
		verified(b, book)
	}
}
