package heartrate

import (
	"fmt"
	"slices"
	"strings"

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

// Reason is a sentence without a full stop and the uses it rules out.
type Reason struct {
	Text    string `json:"text"`
	Against []Use  `json:"against"`
}

// Why gives the reasons against one use, "" when there are none.
func (g Grade) Why(u Use) string {
	var out []string
	for _, r := range g.Reasons {
		if slices.Contains(r.Against, u) {
			out = append(out, r.Text)
		}
	}
	return strings.Join(out, "; ")
}

// Enough is the share of the seconds outside pauses that must have a heart rate for a series, or for the
// span of a measurement, to be judged (common practice, no source).
const Enough = 0.8

// TooLittle says that too little heart rate was recorded, as a clause.
func TooLittle(coverage float64) string {
	return fmt.Sprintf("heart rate was recorded for only %.0f %% of the time (%.0f %% needed)", 100*coverage, 100*Enough)
}

// faulty is the share of the seconds that may be faulty for the rest to be taken as sound (common practice,
// no source).
const faulty = 0.1

// wristReason rests on agreement with a chest strap or ECG: concordance 0.32 for the wrist against
// 0.96 for a second strap in trail running (Navalta et al. 2020), at most 0.80 in cardiac patients on
// machines (Etiwy et al. 2019), a mean error of 5.7 % (SD 10.2) with hard intervals (Bunn et al.
// 2019); at best a mean absolute error of 3 bpm with limits of agreement of 15 bpm (Sartor et al.
// 2018), which serves for time in zone and for means over minutes but not for single values.
const wristReason = "a wrist sensor agrees too little with a chest strap while load changes (concordance 0.32 to 0.80) for falls after a stop and for peaks"

// gradeOf judges a series by its sensor, its coverage and its faults. Drift, falls and peaks need heart
// rate in their own span only, and check that themselves.
func gradeOf(s Series) Grade {
	g := Grade{UseZones: true, UseDrift: true, UseRecovery: true, UsePeaks: true}
	use := map[Use]*bool{Zones: &g.UseZones, Drift: &g.UseDrift, Recovery: &g.UseRecovery, Peaks: &g.UsePeaks}
	no := func(why string, against ...Use) {
		for _, u := range against {
			*use[u] = false
		}
		g.Reasons = append(g.Reasons, Reason{why, against})
	}
	if n := s.faultSeconds(EvenLeap); n > 0 {
		against := []Use{Drift, Recovery, Peaks}
		if !s.Usable() {
			against = append(against, Zones)
		}
		no(fmt.Sprintf("heart rate leaps at an even load and is not to be believed for %d s", n), against...)
	} else if !s.Usable() {
		no("there is no usable heart rate: none was recorded, or more was removed than kept", Zones, Drift, Recovery, Peaks)
		return g
	}
	if c, ok := s.Coverage(); ok && c < Enough {
		no(TooLittle(c), Zones)
	}
	if s.Source == workout.Wrist {
		no(wristReason, Recovery, Peaks)
	}
	if s.faultSeconds(Lag) > 0 {
		no("the sensor lags behind the heart", Recovery, Peaks)
	}
	if s.faultSeconds(DryStart, Restless) > 0 {
		no("the start looks like a dry strap", Peaks)
	}
	if s.faultSeconds(Lock) > 0 {
		no("the sensor followed the movement of the body for a while and may have done so elsewhere", Peaks)
	}
	if n := s.faultSeconds(Doubled, Halved); n > soonBack {
		no("twice or half of the heart rate was recorded for a while", Peaks)
	}
	wrong := s.faultSeconds(Lock, Doubled, Halved, Frozen, Disagree)
	if float64(wrong) > faulty*float64(len(s.BPM)) {
		no(fmt.Sprintf("heart rate is faulty for %d s", wrong), Drift, Recovery, Peaks)
	}
	return g
}
