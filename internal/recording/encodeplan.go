package recording

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
	"github.com/muktihari/fit/proto"

	"nextrung/internal/workout"
)

const (
	// mostSteps is what the 12 bits of a message index can count (FIT profile, message_index.mask).
	mostSteps = 0x0FFF
	// mostText is the room of a string without its closing zero: the size of a field is one byte
	// (FIT protocol, field definition).
	mostText = 254
	// lowestTarget and highestTarget are the heart rates in bpm between which readings are believed
	// at all. They stand in for a bound that a step does not have.
	lowestTarget, highestTarget = 30, 230
)

// madeUpTime is the time_created of every planned workout: FIT requires one, a plan has none, and
// the same plan must give the same bytes. Devices distinguish planned workouts by their serial
// number, which is a digest of the plan here.
var madeUpTime = time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)

// EncodeWorkoutFIT writes a planned session as a FIT workout file, which watches and bicycle
// computers guide through: file id, workout, and one workout step for each step of the plan, with
// repeats written out. The same plan gives the same bytes.
//
// Steps last by time. A step's beats are a custom heart-rate target, stored as bpm + 100, since 0
// to 100 are per cent of the maximum there (FIT profile, workout_hr); bounds are rounded to whole
// bpm. A step without Low and High has an open target, as for clients who train by effort,
// not heart rate. FIT has no one-sided target, so a missing Low is written as 30 bpm and a missing
// High as 230, which no alarm of a device will ever reach. The words for the effort stand in the
// notes of the step, those of the first one after the plan's own note.
//
// A plan is refused that has no steps or more than 4095, a step of less than a second or more than
// 7 days, or bounds that are outside 30 to 230 bpm or the wrong way round.
func EncodeWorkoutFIT(plan workout.Plan) ([]byte, error) {
	if n := len(plan.Steps); n == 0 || n > mostSteps {
		return nil, fmt.Errorf("encode planned workout %q: plan has %d steps; it must have 1 to %d", plan.Name, n, mostSteps)
	}
	name := cmp.Or(fitText(plan.Name), "Session")
	sport, sub := fitSport(workout.Workout{Sport: plan.Mode.Sport()})
	out := []proto.Message{
		mesgdef.NewFileId(nil).SetType(typedef.FileWorkout).SetManufacturer(typedef.ManufacturerDevelopment).
			SetProduct(0).SetSerialNumber(serialOf(fmt.Appendf(nil, "%+v", plan))).SetTimeCreated(madeUpTime).ToMesg(nil),
		mesgdef.NewWorkout(nil).SetWktName(name).SetSport(sport).SetSubSport(sub).SetNumValidSteps(uint16(len(plan.Steps))).ToMesg(nil),
	}
	bout, bouts := 0, len(plan.Bouts())
	for i, s := range plan.Steps {
		if s.Kind == workout.Work {
			bout++
		}
		step, err := fitStep(s, bout, bouts)
		if err != nil {
			return nil, fmt.Errorf("encode planned workout %q: step %d: %w", plan.Name, i+1, err)
		}
		if i == 0 && plan.Note != "" {
			step.SetNotes(fitText(plan.Note + " " + step.Notes))
		}
		out = append(out, step.SetMessageIndex(typedef.MessageIndex(i)).ToMesg(nil))
	}
	return fitFile(fmt.Sprintf("encode planned workout %q", plan.Name), out)
}

var feels = map[workout.Feel]string{
	workout.Comfortable: "Comfortable: talking is easy", workout.Brisk: "Brisk: sentences get short", workout.Hard: "Hard: single words",
}

func fitStep(s workout.Step, bout, bouts int) (*mesgdef.WorkoutStep, error) {
	if s.Seconds < 1 || s.Seconds > longest {
		return nil, fmt.Errorf("it lasts %d s; it must last between 1 s and 7 days", s.Seconds)
	}
	step := mesgdef.NewWorkoutStep(nil).SetDurationType(typedef.WktStepDurationTime).SetDurationValue(uint32(s.Seconds) * 1000)
	name, intensity := "Part", typedef.IntensityActive
	switch s.Kind {
	case workout.WarmUp:
		name, intensity = "Warm-up", typedef.IntensityWarmup
	case workout.Steady:
		name = "Steady"
	case workout.Work:
		name = fmt.Sprintf("Bout %d/%d", bout, bouts)
	case workout.Recovery:
		name, intensity = "Recovery", typedef.IntensityRecovery
	case workout.CoolDown:
		name, intensity = "Cool-down", typedef.IntensityCooldown
	}
	step.SetWktStepName(name).SetIntensity(intensity).SetNotes(feels[s.Feel])
	if s.Low == 0 && s.High == 0 {
		return step.SetTargetType(typedef.WktStepTargetOpen).SetTargetValue(0), nil
	}
	low, high := cmp.Or(math.Round(s.Low), lowestTarget), cmp.Or(math.Round(s.High), highestTarget)
	if !(low >= lowestTarget && low <= high && high <= highestTarget) {
		return nil, fmt.Errorf("heart rates from %g to %g cannot be a target; they must be between %d and %d bpm, the lower first", s.Low, s.High, lowestTarget, highestTarget)
	}
	// A target value of 0 says that the custom values stand (FIT profile, workout_step.target_hr_zone).
	return step.SetTargetType(typedef.WktStepTargetHeartRate).SetTargetValue(0).
		SetCustomTargetValueLow(uint32(low) + uint32(typedef.WorkoutHrBpmOffset)).
		SetCustomTargetValueHigh(uint32(high) + uint32(typedef.WorkoutHrBpmOffset)), nil
}

// fitText makes a text fit for a string field: one line of valid UTF-8, cut between runes.
func fitText(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r):
			return ' '
		case r == utf8.RuneError: // a broken byte, or the mark that stood in for one
			return -1
		}
		return r
	}, s)
	for len(s) > mostText {
		_, n := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-n]
	}
	return strings.TrimSpace(s)
}
