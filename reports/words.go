package reports

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"nextrung/internal/physiology"
	"nextrung/internal/prescription"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

const (
	notRecorded = "not recorded"
	notEnough   = "not enough data"
)

// withUnit writes a value with its unit behind it.
func withUnit(v float64, unit string) string {
	if unit == "" {
		return wording.Number(v)
	}
	return wording.Number(v) + " " + unit
}

// span writes the ends of some values: "53 to 61 bpm", or one of them where they read alike.
func span(low, high float64, unit string) string {
	if wording.Number(low) == wording.Number(high) {
		return withUnit(low, unit)
	}
	return wording.Number(low) + " to " + withUnit(high, unit)
}

// orWord writes a value, or the word for its absence.
func orWord(v *float64, unit, word string) string {
	if v == nil || math.IsNaN(*v) {
		return word
	}
	return withUnit(*v, unit)
}

// minutes writes seconds as whole minutes; less than one minute is given in seconds.
func minutes(s int) string {
	switch {
	case s == 0:
		return "0 min"
	case s < 60:
		return fmt.Sprintf("%d s", s)
	}
	return fmt.Sprintf("%d min", int(math.Round(float64(s)/60)))
}

// days writes a range of days: "5 to 11 October 2026".
func days(from, to workout.Date) string {
	if from == 0 || to == 0 {
		return "dates not set"
	}
	return prescription.Days(from, to)
}

// shortDay writes a day without its year while that is this year.
func shortDay(d, on workout.Date) string {
	if d.Time().Year() != on.Time().Year() {
		return d.Short() + " " + strconv.Itoa(d.Time().Year())
	}
	return d.Short()
}

// ago says how long before on a day was.
func ago(d, on workout.Date) string {
	switch n := int(on - d); {
	case d == 0:
		return ""
	case n < 0:
		return "after this date"
	default:
		return wording.Ago(n)
	}
}

func effort(r *workout.RPE) string {
	switch {
	case r == nil:
		return "not asked"
	case r.Scale == 10:
		return wording.Number(r.Value) + " of 10"
	}
	return wording.Number(r.Value) + " on 6–20"
}

func talk(t record.Talk) string {
	words := map[record.Talk]string{record.TalkComfortable: "comfortable", record.TalkHard: "hard", record.TalkNo: "not possible"}
	return cmp.Or(words[t], "not asked")
}

// sensor says what kind of device a heart rate comes from.
func sensor(s workout.Sensor) string {
	return cmp.Or(map[workout.Sensor]string{workout.Strap: "chest strap", workout.Wrist: "wrist"}[s], "sensor not known")
}

// edges says where zones come from.
func edges(e *physiology.Edges) string {
	if e == nil {
		return ""
	}
	parts := []string{reasons.ZonesFrom(e.Basis)}
	if e.Limited {
		parts = append(parts, "the limit in bpm")
	}
	s := "Zones from " + wording.List(parts)
	if e.Estimated {
		s += "; the maximal heart rate is an estimate from age"
	}
	s += "."
	if slices.ContainsFunc(e.BPM[:], func(bpm float64) bool { return bpm == math.Floor(bpm) }) {
		s += " A heart rate on an edge counts for the zone above."
	}
	return s
}
