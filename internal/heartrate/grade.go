package heartrate

import (
	"slices"

	"nextrung/internal/workout"
)

// Use is what heart rate is measured for.
type Use string

// The uses of a series.
const (
	Zones    Use = "zones"    // time in zone
	Drift    Use = "drift"    // the slow rise at constant load
	Recovery Use = "recovery" // the fall after a stop
	Peaks    Use = "peaks"    // peaks of work bouts
)

// Grade says what a series may be used for, and for what not and why.
type Grade struct {
	UseZones    bool     `json:"zones"`
	UseDrift    bool     `json:"drift"`
	UseRecovery bool     `json:"recovery"`
	UsePeaks    bool     `json:"peaks"`
	Reasons     []Reason `json:"reasons,omitempty"`
}

// Reason is a fact about the series and the uses that it rules out.
type Reason struct {
	Code workout.Code `json:"code,omitempty"`
	Args workout.Args `json:"args,omitempty"`
	// Text is the clause: in JSON for people, and alone in books of an earlier version.
	Text    string `json:"text,omitempty"`
	Against []Use  `json:"against"`
}

// Says is the reason without the uses.
func (r Reason) Says() workout.Fact { return workout.Fact{Code: r.Code, Args: r.Args, Text: r.Text} }

// Why gives the reasons against one use, none when there are none.
func (g Grade) Why(u Use) workout.Facts {
	var out workout.Facts
	for _, r := range g.Reasons {
		if slices.Contains(r.Against, u) {
			out = append(out, r.Says())
		}
	}
	return out
}

// The reasons against a use.
const (
	Unusable    workout.Code = "unusable"
	LittleHeart workout.Code = "little-heart-rate" // percent, needed: of the time
	// OnWrist rests on agreement with a chest strap or ECG: concordance 0.32 for the wrist against
	// 0.96 for a second strap in trail running (Navalta et al. 2020), at most 0.80 in cardiac patients on
	// machines (Etiwy et al. 2019), a mean error of 5.7 % (SD 10.2) with hard intervals (Bunn et al.
	// 2019); at best a mean absolute error of 3 bpm with limits of agreement of 15 bpm (Sartor et al.
	// 2018), which serves for time in zone and for means over minutes but not for single values.
	OnWrist    workout.Code = "on-wrist"
	Lagging    workout.Code = "lagging"
	DryStrap   workout.Code = "dry-strap"
	Locked     workout.Code = "locked"
	WrongTimes workout.Code = "doubled-or-halved"
	Faulty     workout.Code = "faulty"  // seconds
	Leaping    workout.Code = "leaping" // seconds
)

// Enough is the share of the seconds outside pauses that must have a heart rate for a series, or for the
// span of a measurement, to be judged (common practice, no source).
const Enough = 0.8

// TooLittle says that too little heart rate was recorded.
func TooLittle(coverage float64) workout.Fact {
	return workout.Say(LittleHeart, workout.Args{"percent": 100 * coverage, "needed": 100 * Enough})
}

// faulty is the share of the seconds that may be faulty for the rest to be taken as sound (common practice,
// no source).
const faulty = 0.1

// gradeOf judges a series by its sensor, its coverage and its faults. Drift, falls and peaks need heart
// rate in their own span only, and check that themselves.
func gradeOf(s Series) Grade {
	g := Grade{UseZones: true, UseDrift: true, UseRecovery: true, UsePeaks: true}
	use := map[Use]*bool{Zones: &g.UseZones, Drift: &g.UseDrift, Recovery: &g.UseRecovery, Peaks: &g.UsePeaks}
	because := func(f workout.Fact, against ...Use) {
		for _, u := range against {
			*use[u] = false
		}
		g.Reasons = append(g.Reasons, Reason{Code: f.Code, Args: f.Args, Against: against})
	}
	no := func(code workout.Code, against ...Use) { because(workout.Fact{Code: code}, against...) }
	if n := s.faultSeconds(EvenLeap); n > 0 {
		against := []Use{Drift, Recovery, Peaks}
		if !s.Usable() {
			against = append(against, Zones)
		}
		because(workout.Say(Leaping, workout.Args{"seconds": n}), against...)
	} else if !s.Usable() {
		no(Unusable, Zones, Drift, Recovery, Peaks)
		return g
	}
	if c, ok := s.Coverage(); ok && c < Enough {
		because(TooLittle(c), Zones)
	}
	if s.Source == workout.Wrist {
		no(OnWrist, Recovery, Peaks)
	}
	if s.faultSeconds(Lag) > 0 {
		no(Lagging, Recovery, Peaks)
	}
	if s.faultSeconds(DryStart, Restless) > 0 {
		no(DryStrap, Peaks)
	}
	if s.faultSeconds(Lock) > 0 {
		no(Locked, Peaks)
	}
	if n := s.faultSeconds(Doubled, Halved); n > soonBack {
		no(WrongTimes, Peaks)
	}
	if s.tooFaulty() {
		because(workout.Say(Faulty, workout.Args{"seconds": s.wrongSeconds()}), Drift, Recovery, Peaks)
	}
	return g
}
