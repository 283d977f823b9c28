package recording

import (
	"errors"
	"math"
	"slices"
	"strconv"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// points is what TCX and GPX have in common: points with a time and values, in stretches with
// pauses between.
type points struct {
	counter
	expected int   // samples in the file
	halt     error // why nothing more is read
	rolls    []*roll
	now      *roll // nil outside an activity
	point
	inPoint bool
	end     float64 // last point of the stretch before, NaN when a gap before the next one is no pause
	fresh   bool    // a stretch began and has no point yet

	read, timeless, unzoned int
	remarks                 []workout.Fact
}

// point is one sample; what it lacks is NaN.
type point struct {
	t, hr, speed, power, cadence, distance, lat, lon float64
	zoned                                            bool
}

var blank = point{
	t: math.NaN(), hr: math.NaN(), speed: math.NaN(), power: math.NaN(), cadence: math.NaN(),
	distance: math.NaN(), lat: math.NaN(), lon: math.NaN(),
}

// activity begins a workout.
func (p *points) activity(sport workout.Sport) {
	p.now = &roll{sport: sport, expected: p.expected}
	p.expected = 0 // further activities get no room in advance: nobody knows how the samples are shared
	if p.rolls = append(p.rolls, p.now); len(p.rolls) > mostWorkouts {
		p.halt = errActivities
	}
	p.noPause()
}

// stretch begins a track or segment: the gap before its first point is a pause.
func (p *points) stretch() { p.fresh = true }

// noPause says that the gap before the next point is no pause, whatever begins there.
func (p *points) noPause() { p.end = math.NaN() }

// add takes over the point that was read.
func (p *points) add() {
	p.inPoint = false
	if p.now == nil {
		return
	}
	p.read++
	if err := p.next(); err != nil {
		p.halt = err
	}
	q := p.point
	if math.IsNaN(q.t) {
		p.timeless++
		return
	}
	if !q.zoned {
		p.unzoned++
	}
	k := p.now.at(q.t)
	if k == nil {
		return
	}
	// The pause is the seconds strictly between the two points.
	if p.fresh && q.t > p.end && q.t-p.end <= clockStep {
		k.pauses = append(k.pauses, absoluteSpan{math.Floor(p.end) + 1, math.Floor(q.t)})
	}
	p.fresh, p.end = false, q.t
	if q.cadence >= 255 {
		q.cadence = math.NaN()
	}
	k.sample(q)
}

// finish gives what was read; err is how the walk ended.
func (p *points) finish(err error) (reading, error) {
	r := reading{takes: takesOf(p.rolls), remarks: p.remarks}
	var d damage
	switch {
	case err == nil:
	case !errors.As(err, &d):
		return r, err
	case len(r.takes) == 0:
		return r, errors.New(d.Error() + ", before the first point with a time; export it again")
	default:
		r.remarks = append(r.remarks, workout.Say(Damaged, workout.Args{"format": "xml", "line": d.line, "damage": d.kind, "kept": p.read}))
	}
	switch {
	case len(r.takes) > 0:
	case slices.ContainsFunc(p.rolls, (*roll).onlyCourse):
		return r, errCourse
	case p.timeless > 0:
		return r, fault.New(fault.Refused, "points have no time that can be read; export the recording itself, not the route")
	default:
		return r, fault.New(fault.Refused, "file holds no recorded points; export the recording itself, not a summary or a route")
	}
	if p.timeless > 0 {
		r.remarks = append(r.remarks, workout.Say(NoTime, workout.Args{"n": p.timeless, "of": "point"}))
	}
	if p.unzoned > 0 {
		r.remarks = append(r.remarks, workout.Say(NoZone, workout.Args{"zone": "none"}))
	}
	return r, nil
}

// number reads a decimal, NaN when it is none.
func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		return math.NaN()
	}
	return v
}
