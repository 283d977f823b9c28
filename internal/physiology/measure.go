package physiology

import (
	"slices"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Measure takes every measurement of one workout: s is its clean heart rate, b the body on that
// day. steady says that the session is known to have been done at one load, so that drift can
// be measured without speed and power.
func Measure(s heartrate.Series, w workout.Workout, b Body, steady bool) Measurements {
	mode := w.Sport.Mode()
	c := courseOf(s, w)
	main := mainSpan(c.phases)
	out := Measurements{
		HeartRate:  Summarise(s),
		Edges:      b.Edges(mode),
		Phases:     c.phases,
		Main:       MainPart{Span: main, PerBPM: Count(s, main)},
		Bouts:      c.bouts,
		Drift:      driftOf(s, c.phases, c.effort, steady),
		Check:      checkOf(s, c.phases, c.effort, steady),
		SameEffort: sameEffortOf(s, c.effort),
		Onsets:     onsetsOf(s, c.bouts),
		Held:       HeldOf(s),
		Effort:     c.effort.By,
		PerBPM:     Count(s, workout.Span{To: len(s.BPM)}),
		Remarks:    append(slices.Clone(s.Remarks), c.effort.remarks()...),
	}
	for _, st := range c.stops[:min(len(c.stops), mostFits)] {
		out.Recoveries = append(out.Recoveries, recoveryOf(s, c.effort, st))
	}
	if out.Edges != nil {
		z := TimeInZone(s, *out.Edges)
		out.Zones = &z
		if len(out.PerBPM) > 0 {
			out.Load.Lucia = some(z.Lucia(), true)
		}
	}
	out.Load.Banister = some(Banister(s, b, mode))
	out.heed(s.Grade)
	return out
}

// heed withholds what the series must not be used for, and says why. The values of a fall stay
// visible, but are not enough to judge by; the sensor is the reason even where there is another, since no
// longer recording would help. Drift that could not be measured anyway keeps its own reason.
func (m *Measurements) heed(g heartrate.Grade) {
	if !g.UseRecovery {
		for i := range m.Recoveries {
			b := &m.Recoveries[i].Basis
			b.Enough, b.Why = false, g.Why(heartrate.Recovery)
		}
	}
	if why := g.Why(heartrate.Drift); !g.UseDrift {
		if m.Drift.Enough {
			m.Drift = Drift{Basis: m.Drift.Basis}
			m.Drift.Enough, m.Drift.Why = false, why
		}
		if m.SameEffort != nil && m.SameEffort.Enough {
			m.SameEffort.Mean, m.SameEffort.Enough, m.SameEffort.Why = 0, false, why
		}
		if m.Check != nil && m.Check.Enough {
			m.Check.Rise, m.Check.Enough, m.Check.Why = 0, false, why
		}
	}
	if !g.UsePeaks {
		for i := range m.Bouts {
			m.Bouts[i].Peak = nil
		}
	}
}

// Summarise describes a clean series.
func Summarise(s heartrate.Series) Summary {
	return Summary{
		Usable:   s.Usable(),
		Doubtful: s.Doubtful(),
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
