package physiology

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Measure takes every measurement of one workout: s is its clean heart rate, b the body on that
// day. steady says that the session is known to have been done at one load, which lets drift be
// told without speed and power.
func Measure(s heartrate.Series, w workout.Workout, b Body, steady bool) Measurements {
	mode := w.Sport.Mode()
	out := Measurements{
		HeartRate: Summarise(s),
		Edges:     b.Edges(mode),
		PerBPM:    Count(s, workout.Span{To: len(s.BPM)}),
		Remarks:   s.Remarks,
	}
	if out.Edges != nil {
		z := TimeInZone(s, *out.Edges)
		out.Zones = &z
		if len(out.PerBPM) > 0 {
			out.Load.Lucia = some(z.Lucia(), true)
		}
	}
	out.Load.Banister = some(Banister(s, b, mode))
	return out
}

// Summarise describes a clean series.
func Summarise(s heartrate.Series) Summary {
	return Summary{
		Usable:   s.Usable(),
		Source:   s.Source,
		Coverage: some(s.Coverage()),
		Mean:     some(s.Mean()),
		Min:      some(s.Min()),
		Peak:     some(s.Peak()),
		Rejected: s.Rejected,
		Gap:      s.LongestGap(),
		Elapsed:  len(s.Origin),
		Paused:   s.Paused(),
	}
}

// some is a value that is there, or nil.
func some(v float64, ok bool) *float64 {
	if !ok {
		return nil
	}
	return &v
}
