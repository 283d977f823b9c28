package simulate

import (
	"maps"
	"math"

	"nextrung/internal/workout"
)

// Athlete is an invented body. The zero value of a noise or a drift is none; Rest, Max, Gain, Rise,
// Fast and Slow must be set. Start from Beginner and change what matters.
type Athlete struct {
	Rest float64 // bpm, mornings
	Max  float64 // bpm, in the mode that is played
	// Upright is how far, in bpm above Rest, the heart rate stands before a session starts.
	Upright float64
	// Gain is the steady-state rise of heart rate with load by mode: bpm per m/s (run, walk, other)
	// or bpm per W (bike, row).
	Gain map[workout.Mode]float64

	Rise float64 // s, time constant of a rise
	// Fast and Slow are the time constants in s of the two parts of a fall, FastShare the share of
	// the first.
	Fast, Slow, FastShare float64
	Delay                 int // s between a change of load and the first change of heart rate

	// Drift is the slow rise in bpm per 10 min at half of the heart-rate reserve, at 22 °C, from the
	// tenth minute of exercise on. It is proportional to the share of the reserve and grows with heat.
	Drift float64

	// Talk1 and Talk2 are the shares of the heart-rate reserve at which talking stops being
	// comfortable and is hardly possible.
	Talk1, Talk2 float64
	Feels        float64 // RPE points (6-20) above what most people give at the same share
	// Steep is by how much effort rises faster than in most people on either side of 13, as a factor; 0 is 1.
	Steep float64

	DayToDay   float64 // bpm, standard deviation of a day's shift
	FallDay    float64 // coefficient of variation, from day to day, of the time constants of the fall
	BeatToBeat float64 // bpm, standard deviation from second to second
	Wobble     float64 // coefficient of variation of speed or power while a load is held
}

// Beginner is an untrained but healthy adult with the given resting and maximal heart rate.
//
// Rise: treadmill steps gave 57.6 ± 23.6 s, and 24.2 ± 8.3 bpm per m/s (Hunt, Fankhauser
// and Saengsuwan, BioMedical Engineering OnLine 2015). Fall: seated after a submaximal ride the mean single time constant of
// sedentary men was 50.6 s with an amplitude of 44 bpm, hence about 31 bpm in 60 s (Barak et al.,
// Journal of Sports Science and Medicine 2011); 0.55 at 25 s and 0.45 at 120 s gives 30. Gain on the
// bike: 110 bpm at 50 W and 130 bpm at 80 W is the common worked example of submaximal
// extrapolation. Drift: +2 % in 30 min at 22 °C (Lafrenz et al. 2008) is about 0.9 bpm in 10 min.
// Day-to-day 5 ± 2 bpm near 90 % of the maximum, CV 1.1-1.4 % (Lamberts et al. 2004). The 60-second
// fall was seen to vary by 15-32 % between repeats (Al Haddad et al. 2011), about 25 % (Buchheit
// 2014); a fifth on the time constants gives about half of that, the rest comes from the heart rate
// at the stop.
// Upright, delay, beat-to-beat noise, wobble and the rowing gain are invented.
func Beginner(rest, maximum float64) Athlete {
	return Athlete{
		Rest: rest, Max: maximum, Upright: 12,
		Gain: map[workout.Mode]float64{
			workout.Run: 24.2, workout.Walk: 24.2, workout.OtherMode: 24.2,
			workout.Bike: 2.0 / 3, workout.Row: 0.55, workout.Swim: 60,
		},
		Rise: 57.6, Fast: 25, Slow: 120, FastShare: 0.55, Delay: 3,
		Drift: 0.9, Talk1: 0.60, Talk2: 0.80,
		DayToDay: 1.8, FallDay: 0.2, BeatToBeat: 0.8, Wobble: 0.02,
	}
}

// Progress is the change of a body in one week of training.
type Progress struct {
	Rest  float64 // bpm that the resting heart rate falls
	Gain  float64 // share by which Gain falls: heart rate at the same load
	Fall  float64 // share by which both time constants of the fall shorten
	Drift float64 // share by which Drift falls
}

// Usual is a training effect of published size: resting heart rate fell 2.7 bpm in 20 weeks (Wilmore
// et al. 1996); at 150 W heart rate fell from 169 to 146 in 10 weeks (Krzemiński et al. 1991), which
// over a resting rate of about 75 is 2.8 % of the gain a week, halved here for training in zone 1.
// The fall and the drift are invented: meta-analysis found the data on healthy adults insufficient.
func Usual() Progress { return Progress{Rest: 0.135, Gain: 0.014, Fall: 0.015, Drift: 0.03} }

// After is the body after so many weeks of p; negative weeks go back.
func (a Athlete) After(weeks float64, p Progress) Athlete {
	shrink := func(share float64) float64 { return math.Pow(1-share, weeks) }
	a.Rest -= p.Rest * weeks
	a.Gain = maps.Clone(a.Gain)
	for m := range a.Gain {
		a.Gain[m] *= shrink(p.Gain)
	}
	a.Fast *= shrink(p.Fall)
	a.Slow *= shrink(p.Fall)
	a.Drift *= shrink(p.Drift)
	return a
}

// Share is the share of the heart-rate reserve at a heart rate.
func (a Athlete) Share(bpm float64) float64 { return (bpm - a.Rest) / (a.Max - a.Rest) }

// At is the heart rate at a share of the reserve.
func (a Athlete) At(share float64) float64 { return a.Rest + share*(a.Max-a.Rest) }

// Load is the speed (m/s) or power (W) that leads to a heart rate, never below 0.
func (a Athlete) Load(m workout.Mode, bpm float64) float64 {
	return math.Max(0, (bpm-a.Rest-a.Upright)/a.Gain[m])
}

// rates is the effort of this athlete at a share of the reserve, before a day's shift and rounding.
func (a Athlete) rates(share float64) float64 {
	const middle = 13 // where moderate effort ends (Garber 2011)
	if a.Steep == 0 {
		return effort(share)
	}
	return middle + a.Steep*(effort(share)-middle)
}

// effort is the rating on the 6-20 scale at a share of the reserve: straight lines through the
// published pairs 30 % - 9, 40 % - 11.5, 60 % - 13.5, 90 % - 17.5 (Garber et al., ACSM position
// stand 2011: moderate is 40-59 % and 12-13, vigorous 60-89 % and 14-17).
func effort(share float64) float64 {
	x := [...]float64{0, 0.3, 0.4, 0.6, 0.9, 1}
	y := [...]float64{6, 9, 11.5, 13.5, 17.5, 20}
	share = min(max(share, 0), 1)
	i := 1
	for share > x[i] {
		i++
	}
	return y[i-1] + (y[i]-y[i-1])*(share-x[i-1])/(x[i]-x[i-1])
}
