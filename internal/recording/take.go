package recording

import (
	"context"
	"math"
	"slices"
	"time"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

const (
	// clockStep is the step between two samples, in seconds, beyond which another workout begins.
	clockStep = 12 * 3600
	// longest is the elapsed time, in seconds, beyond which a workout is refused.
	longest = 7 * 24 * 3600
	// longestInAll is the elapsed time of all workouts in a file, in seconds, beyond which it is refused.
	longestInAll = 2 * longest
	// mostSamples is more than one sample a second of the longest workout.
	mostSamples = 700_000
	// mostTakes bounds how often the clock of one activity may jump, mostWorkouts how many
	// activities a file may hold, and mostLaps how many laps and stops of the timer one may have.
	mostTakes, mostWorkouts, mostLaps = 200, 1000, 5000
	// horizon is the Unix time 1998-07-03: FIT counts seconds since 1989-12-31, and stamps below
	// 0x10000000 are seconds since the device was switched on (FIT protocol, date_time). In the
	// other formats too, an earlier time comes from a clock that was never set, or is elapsed time.
	horizon = fitEpoch + 0x10000000
	// fragment is the length in seconds under which a piece of a file whose clock jumped is not
	// taken for a workout beside a longer piece.
	fragment = 10
)

// reading is what a format's reader found in one file.
type reading struct {
	takes   []*take
	remarks []workout.Fact
}

// take is one workout while it is being read; times are absolute, in Unix seconds.
type take struct {
	workout.Workout // channels with absolute T; Start, Seconds, Laps and Pauses are still empty

	roll        *roll     // the activity, nil for a part that was cut out
	scrap       bool      // cut out of a scrap
	first, last float64   // earliest and latest sample of any channel
	latest      float64   // the sample that came last in the file
	times       []float64 // of all samples, in file order
	expected    int       // samples, as far as the file's size shows
	zeroes      int       // heart rates of 0 or 255, which mean "none"

	distance workout.Channel // m since some start
	position positions
	laps     []absoluteLap
	pauses   []absoluteSpan
}

type absoluteSpan struct{ from, to float64 }

type absoluteLap struct {
	absoluteSpan
	label string
}

// roll holds the takes of one activity and the one that samples are now added to.
type roll struct {
	takes []*take
	now   *take
	sport workout.Sport
	// course says that the file calls it a course: a way to go, unless somebody recorded a heart rate on it.
	course bool
	// expected is the number of samples that the size of the file suggests; 0 when not worked out.
	expected int
}

var (
	errSamples    = fault.New(fault.Refused, "file holds more than %d samples, which is one a second for a week; export one workout in each file", mostSamples)
	errActivities = fault.New(fault.Refused, "file holds more than %d workouts; split it", mostWorkouts)
)

// counter counts the samples of a file. It ends the reading of one that holds too many, or that nobody waits for.
type counter struct {
	ctx     context.Context
	samples int
}

func (c *counter) next() error {
	if c.samples++; c.samples > mostSamples {
		return errSamples
	}
	if c.samples%1024 == 0 {
		return c.ctx.Err()
	}
	return nil
}

// takesOf lists the takes of all activities that were recorded.
func takesOf(rolls []*roll) (all []*take) {
	for _, r := range rolls {
		if !r.onlyCourse() {
			all = append(all, r.takes...)
		}
	}
	return all
}

// onlyCourse says that an activity is a way to go that nobody has gone.
func (r *roll) onlyCourse() bool {
	return r.course && !slices.ContainsFunc(r.takes, func(k *take) bool { return k.HeartRate.Len() > 0 })
}

// errCourse refuses a file of which nothing was recorded.
var errCourse = fault.New(fault.Refused, "file is a planned course, not a recording; export the activity that was recorded")

// at notes a sample at Unix time t and gives the take that it belongs to: the current one, unless
// the clock has stepped too far; then an earlier one that t fits to, or a new one. It gives nil
// when the clock jumps too often for any of it to be believed.
func (r *roll) at(t float64) *take {
	if r.now == nil || math.Abs(t-r.now.latest) > clockStep {
		r.now = nil
		for _, k := range r.takes {
			if t > k.first-clockStep && t < k.last+clockStep {
				r.now = k
			}
		}
		if r.now == nil {
			if len(r.takes) >= mostTakes {
				return nil
			}
			r.now = &take{first: t, last: t, roll: r}
			r.now.Sport = r.sport
			if len(r.takes) == 0 {
				r.now.expected = min(r.expected, mostSamples)
				r.now.times = make([]float64, 0, r.now.expected)
			}
			r.takes = append(r.takes, r.now)
		}
	}
	k := r.now
	k.first, k.last, k.latest = min(k.first, t), max(k.last, t), t
	k.times = append(k.times, t)
	return k
}

// sample adds the values of a point.
func (k *take) sample(p point) {
	if !math.IsNaN(p.hr) {
		k.heartRate(p.t, p.hr)
	}
	k.add(&k.Speed, p.t, p.speed)
	k.add(&k.Power, p.t, p.power)
	k.add(&k.Cadence, p.t, p.cadence)
	k.add(&k.distance, p.t, p.distance)
	k.position.add(p.t, p.lat, p.lon)
}

// heartRate adds a reading unless it is one of the values that mean "none".
func (k *take) heartRate(t, bpm float64) {
	if bpm <= 0 || bpm == 255 || math.IsNaN(bpm) || math.IsInf(bpm, 0) {
		k.zeroes++
		return
	}
	k.put(&k.HeartRate, t, bpm)
}

// add appends a sample of speed, power, cadence or distance; none of them is negative.
func (k *take) add(c *workout.Channel, t, v float64) {
	if v >= 0 && !math.IsInf(v, 0) {
		k.put(c, t, v)
	}
}

// channels are those that a workout keeps.
func channels(w *workout.Workout) []*workout.Channel {
	return []*workout.Channel{&w.HeartRate, &w.BeatHeartRate, &w.Intervals, &w.Speed, &w.Power, &w.Cadence}
}

// put appends a sample; a channel that is used gets room for all samples at once.
func (k *take) put(c *workout.Channel, t, v float64) {
	if c.T == nil {
		c.T, c.V = make([]float64, 0, k.expected), make([]float64, 0, k.expected)
	}
	c.Add(t, v)
}

// workouts finishes the takes of a reading.
func (r reading) workouts() ([]workout.Workout, []workout.Fact, error) {
	if len(r.takes) > mostWorkouts {
		return nil, r.remarks, errActivities
	}
	var out []workout.Workout
	var refused error
	scraps, inAll := 0, 0
	for _, k := range r.takes {
		if k.isScrap() {
			scraps += len(k.times)
			continue
		}
		w, err := k.finish()
		if err != nil {
			refused = err
			r.remarks = append(r.remarks, workout.Say(TooLong, workout.Args{"days": (math.Floor(k.last) - math.Floor(k.first) + 1) / 86400}))
			continue
		}
		if inAll += w.Seconds; inAll > longestInAll {
			return nil, r.remarks, fault.New(fault.Refused, "file holds more than %d days of workouts; split it", longestInAll/86400)
		}
		out = append(out, w)
	}
	if scraps > 0 {
		r.remarks = append(r.remarks, workout.Say(ClockJumps, workout.Args{"n": scraps, "of": "sample"}))
	}
	if len(out) == 0 {
		if refused == nil {
			refused = fault.New(fault.Refused, "file holds no samples with a time; export the workout with its full recording")
		}
		return nil, r.remarks, refused
	}
	return out, r.remarks, nil
}

// isScrap says whether a short take is what a jump of the clock tore off a longer one of the same
// activity.
func (k *take) isScrap() bool {
	if k.roll == nil || k.last-k.first >= fragment {
		return k.scrap
	}
	return slices.ContainsFunc(k.roll.takes, func(o *take) bool { return o.last-o.first >= fragment })
}

// finish lays a take on whole seconds since its start.
func (k *take) finish() (workout.Workout, error) {
	w := k.Workout
	zero := math.Floor(k.first)
	length := math.Floor(k.last) - zero + 1
	if length > longest {
		return w, fault.New(fault.Refused, "recording spans more than 7 days (%.1f): the device's clock may have jumped; export it again", length/86400)
	}
	w.Seconds = int(length)
	if zero >= horizon {
		w.Start = time.Unix(int64(zero), 0).UTC()
	} else {
		w.Remarks = append(w.Remarks, workout.Say(Undated, nil))
	}
	if w.Sport == "" {
		w.Sport = workout.Other
	}
	if w.Speed.Len() == 0 {
		w.Speed = k.derivedSpeed()
	}
	if w.Place == workout.AnyPlace && k.position.moved() {
		w.Place = workout.Outdoor
	}
	for _, c := range channels(&w) {
		for i := range c.T {
			c.T[i] -= zero
		}
	}
	w.Laps = k.finishLaps(zero, w.Seconds)
	w.Pauses = k.finishPauses(zero, w.Seconds)
	if w.HeartRate.Len()+w.BeatHeartRate.Len() == 0 {
		w.Remarks = append(w.Remarks, workout.Say(NoHeartRate, workout.Args{"unfilled": k.zeroes, "rejected": 0}))
	}
	return w, nil
}

// span brings an absolute span to whole seconds within [0, n).
func (s absoluteSpan) span(zero float64, n int) workout.Span {
	second := func(t float64) int {
		return int(min(max(math.Floor(t)-zero, 0), float64(n)))
	}
	return workout.Span{From: second(s.from), To: second(s.to)}
}

func (k *take) finishLaps(zero float64, n int) []workout.Lap {
	var out []workout.Lap
	for _, l := range k.laps {
		if s := l.span(zero, n); s.To > s.From {
			out = append(out, workout.Lap{Span: s, Label: l.label})
		}
	}
	slices.SortStableFunc(out, func(a, b workout.Lap) int { return a.From - b.From })
	return out
}

// finishPauses sorts the pauses and joins those that touch.
func (k *take) finishPauses(zero float64, n int) []workout.Span {
	var all []workout.Span
	for _, p := range k.pauses {
		if s := p.span(zero, n); s.To > s.From {
			all = append(all, s)
		}
	}
	slices.SortFunc(all, func(a, b workout.Span) int { return a.From - b.From })
	var out []workout.Span
	for _, s := range all {
		if i := len(out) - 1; i >= 0 && s.From <= out[i].To {
			out[i].To = max(out[i].To, s.To)
			continue
		}
		out = append(out, s)
	}
	return out
}
