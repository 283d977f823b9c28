package record

import (
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// Felt is an answered session with the heart rate of its main part: what a heart rate feels like.
type Felt struct {
	Session
	Main physiology.Histogram // seconds per bpm of the recordings that can be used
	Mean float64              // of Main, in bpm
	// Hard says that effort or talk do not belong in zone 1: an effort of 14 is vigorous (Garber 2011); 5
	// corresponds to it on the 0-10 scale (common practice, no source).
	Hard  bool
	Bouts []physiology.Bout
	// Doubtful says that a sensor could not be trusted, so that the heart rate moves no zone.
	Doubtful bool
}

// hard20 and hard10 are the efforts of Felt.Hard.
const hard20, hard10 = 14, 5

// Felt lists the answered sessions of a mode from a day on that have a usable heart rate, oldest first.
func (r Record) Felt(m workout.Mode, from workout.Date) []Felt {
	var out []Felt
	for _, x := range r.Sessions() {
		if x.Mode != m || x.Date < from || x.RPE == nil && x.Talk == NotAsked {
			continue
		}
		f := Felt{Session: x, Hard: x.RPE.Reaches(hard20, hard10) || x.Talk == TalkHard || x.Talk == TalkNo}
		for _, rec := range x.Recordings {
			f.Bouts = append(f.Bouts, rec.Measured.Bouts...)
			f.Doubtful = f.Doubtful || rec.Measured.HeartRate.Doubtful
			if rec.Measured.HeartRate.Usable {
				f.Main = f.Main.Plus(rec.Measured.Main.PerBPM)
			}
		}
		var ok bool
		if f.Mean, ok = f.Main.Mean(); ok {
			out = append(out, f)
		}
	}
	return out
}

// HardAt is the lowest heart rate in bpm at which a session may have been hard: the mean of its main part,
// or the end of a bout where that is lower.
func (f Felt) HardAt() float64 {
	at := f.Mean
	for _, b := range f.Bouts {
		if b.End != nil {
			at = min(at, *b.End)
		}
	}
	return at
}

// Explained says that heat, or a sign of tiredness or illness noted within the week up to the session,
// explains what the heart did, so that the session says nothing about zones. A week is as long as in the
// policy's rule on such signs (common practice, no source).
func (r Record) Explained(x Session) bool { return x.Hot(warm) || r.Unwell(x.Date) }

// warm is the temperature in °C above which heart rate and effort rise because of the heat alone.
const warm = 25

// Unwell says that a sign was noted on a day or within a week before it.
func (r Record) Unwell(on workout.Date) bool {
	for _, n := range r.Notes {
		if n.Date <= on && n.Date > on-7 && len(n.Symptoms) > 0 {
			return true
		}
	}
	return false
}

// Answered is the trainer's answer to a suggested higher top of zone 1, with the recordings that it was based on.
type Answered struct {
	Entered    workout.Date
	Taken      bool
	Recordings []string
}

// UsedUp says that an answered suggestion of a higher top of zone 1 was based on one of the recordings.
func (r Record) UsedUp(recordings []string) bool {
	return slices.ContainsFunc(r.Answered, func(a Answered) bool {
		return slices.ContainsFunc(a.Recordings, func(id string) bool { return slices.Contains(recordings, id) })
	})
}
