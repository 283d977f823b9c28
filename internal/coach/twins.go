package coach

import (
	"context"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/logbook"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// sameBPM is the mean difference in bpm above which two overlapping recordings may be of two
// people. True twins were seen to differ by 1.4 bpm, strangers by 9 and more.
const sameBPM = 3

// setTwinsAside finds recordings of one workout by two devices, in two formats or in two time
// zones. One of them counts: strap before unknown before wrist, then coverage, then whether speed
// or power is there, then the one received first. It marks losing items and returns the losing
// recordings of the book with the reason.
func (c *Coach) setTwinsAside(ctx context.Context, old []record.Recording, items []logbook.Item) (map[string]record.Fact, error) {
	aside := map[string]record.Fact{}
	for i := range items {
		it := &items[i]
		for j := range items[:i] {
			inner := &items[j]
			if !inner.Recording.Counts() || !it.Recording.Counts() || !near(inner.Recording.Workout, it.Recording.Workout) {
				continue
			}
			switch winner(inner.Recording, inner.Series, it) {
			case first:
				it.Recording.Aside = sameAs(inner.Recording.ID)
			case second:
				inner.Recording.Aside = sameAs(it.Recording.ID)
			}
		}
		for _, o := range old {
			if !o.Counts() || aside[o.ID].Code != "" || !it.Recording.Counts() || !near(o.Workout, it.Recording.Workout) {
				continue
			}
			series, err := c.book.Series(ctx, o.ID)
			if err != nil {
				return nil, err
			}
			switch winner(o, series, it) {
			case first:
				it.Recording.Aside, it.Behind = sameAs(o.Name), o.File
			case second:
				aside[o.ID] = sameAs(it.Recording.Name)
			}
		}
	}
	return aside, nil
}

func sameAs(other string) record.Fact { return record.SetAside(record.SameWorkout, other) }

// The outcomes of laying two recordings side by side.
const (
	neither = iota // two workouts
	first          // one workout, the earlier received recording counts
	second         // one workout, the new recording counts
)

func winner(o record.Recording, series heartrate.Series, it *logbook.Item) int {
	like := heartrate.Compare(series, it.Series, int(it.Recording.Workout.Start.Sub(o.Workout.Start)/time.Second))
	switch {
	case !twins(o, it.Recording, like, it):
		return neither
	case better(it.Recording, o):
		return second
	}
	return first
}

// twins decides on one pair, and leaves a remark where only a person can decide.
func twins(o, n record.Recording, like heartrate.Likeness, it *logbook.Item) bool {
	if like.Quarters != 0 {
		return true
	}
	if !halfOverlap(o.Workout, n.Workout) {
		return false
	}
	if like.Comparable && like.Difference > sameBPM {
		it.Recording.Workout.Remarks = append(it.Recording.Workout.Remarks,
			workout.Say(record.SomebodyElse, workout.Args{"name": o.Name, "bpm": like.Difference}))
	}
	return true
}

// near says that two workouts could be one: they overlap, or lie within the widest time-zone shift
// and are of similar length.
func near(a, b workout.Workout) bool {
	if halfOverlap(a, b) {
		return true
	}
	apart := b.Start.Sub(a.Start).Abs()
	return apart <= 26*time.Hour && min(a.Seconds, b.Seconds)*10 >= max(a.Seconds, b.Seconds)*8
}

// halfOverlap says that two workouts overlap by at least half of the shorter.
func halfOverlap(a, b workout.Workout) bool {
	at := int(b.Start.Sub(a.Start) / time.Second)
	common := workout.Span{To: a.Seconds}.Overlap(workout.Span{From: at, To: at + b.Seconds})
	return 2*common >= min(a.Seconds, b.Seconds)
}

// better says that recording a counts rather than b, which was received first.
func better(a, b record.Recording) bool {
	rank := map[workout.Sensor]int{workout.Strap: 2, workout.UnknownSensor: 1, workout.Wrist: 0}
	if x, y := rank[a.Workout.Sensor], rank[b.Workout.Sensor]; x != y {
		return x > y
	}
	if x, y := coverage(a), coverage(b); x != y {
		return x > y
	}
	return hasEffort(a) && !hasEffort(b)
}

func coverage(r record.Recording) float64 {
	if c := r.Measured.HeartRate.Coverage; c != nil {
		return *c
	}
	return 0
}

// hasEffort says that the recording has speed or power, judged by what could be measured.
func hasEffort(r record.Recording) bool { return r.Measured.Effort != "" }
