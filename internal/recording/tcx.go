package recording

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"nextrung/internal/workout"
)

// readTCX reads a Training Center XML file: every Activity, and every Course that carries times,
// is a workout of its own, also when they overlap in time.
func readTCX(b []byte) (reading, error) {
	text, _ := asText(b)
	v, err := visit(text, func() *tcxVisitor {
		return &tcxVisitor{points: points{expected: len(text) / 300}}
	})
	v.layLaps() // of an activity that the file breaks off
	return v.points.finish(err)
}

// points is what TCX and GPX have in common: points with a time and values, in stretches with
// pauses between.
type points struct {
	expected int // samples in the file
	rolls    []*roll
	now      *roll // nil outside an activity
	point
	inPoint bool
	end     float64 // last point of the stretch before, NaN when a gap before the next one is no pause
	fresh   bool    // a stretch began and has no point yet

	read, timeless, unzoned int
	remarks                 []workout.Remark
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
	p.rolls = append(p.rolls, p.now)
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
	if !math.IsNaN(q.hr) {
		k.heartRate(q.t, q.hr)
	}
	k.add(&k.Speed, q.t, q.speed)
	k.add(&k.Power, q.t, q.power)
	if q.cadence < 255 {
		k.add(&k.Cadence, q.t, q.cadence)
	}
	k.add(&k.distance, q.t, q.distance)
	if !math.IsNaN(q.lat) && !math.IsNaN(q.lon) {
		k.position.add(q.t, q.lat, q.lon)
	}
}

// finish gives what was read; err is how the walk ended.
func (p *points) finish(err error) (reading, error) {
	r := reading{remarks: p.remarks}
	for _, o := range p.rolls {
		r.takes = append(r.takes, o.takes...)
	}
	var d damage
	switch {
	case err == nil:
	case !errors.As(err, &d):
		return r, err
	case len(r.takes) == 0:
		return r, errors.New(d.Error() + ", before the first point with a time; export it again")
	default:
		r.remarks = append(r.remarks, remark("damaged", "%s; the %d points before are kept", d.Error(), p.read))
	}
	switch {
	case len(r.takes) > 0:
	case p.timeless > 0:
		return r, errors.New("points carry no time that can be read; export the recording itself, not the route")
	default:
		return r, errors.New("file holds no recorded points; export the recording itself, not a summary or a route")
	}
	if p.timeless > 0 {
		r.remarks = append(r.remarks, remark("no-time", "%d points without a readable time were left out", p.timeless))
	}
	if p.unzoned > 0 {
		r.remarks = append(r.remarks, remark("no-zone", "the times name no time zone and are read as UTC"))
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

type tcxVisitor struct {
	points
	inHeartRate, inCreator bool
	laps                   []tcxLap
	lap                    tcxLap
	inLap                  bool
}

type tcxLap struct {
	start, seconds float64
	label          string
}

func (v *tcxVisitor) open(name string, a attributes) {
	switch name {
	case "Activity":
		v.activity(tcxSport(a.get("Sport")))
		v.laps = nil
	case "Course":
		v.activity("")
		v.laps = nil
	case "Lap":
		v.noPause()
		v.lap = tcxLap{start: math.NaN(), seconds: math.NaN()}
		if t, _, ok := stamp(a.get("StartTime")); ok {
			v.lap.start = t
		}
		v.inLap = true
	case "Track":
		v.stretch()
	case "Trackpoint":
		v.point, v.inPoint, v.inHeartRate = blank, true, false
	case "HeartRateBpm":
		v.inHeartRate = v.inPoint
	case "Creator":
		v.inCreator = true
	}
}

func (v *tcxVisitor) close(name, text string) {
	if v.inPoint {
		v.closeInPoint(name, text)
		return
	}
	switch name {
	case "Lap":
		if v.inLap && !math.IsNaN(v.lap.start) {
			v.laps = append(v.laps, v.lap)
		}
		v.inLap = false
	case "TotalTimeSeconds":
		if v.inLap {
			v.lap.seconds = number(text)
		}
	case "Intensity":
		if v.inLap {
			switch text {
			case "Active", "Resting": // the schema knows no others
				v.lap.label = strings.ToLower(text)
			}
		}
	case "UnitId":
		if v.inCreator && v.now != nil && text != "" && strings.Trim(text, "0") != "" {
			for _, k := range v.now.takes {
				k.Device = deviceDigest(text)
			}
		}
	case "Creator":
		v.inCreator = false
	case "Activity", "Course":
		v.layLaps()
		v.now = nil
	}
}

func (v *tcxVisitor) closeInPoint(name, text string) {
	switch name {
	case "Trackpoint":
		v.add()
	case "Time":
		if t, zoned, ok := stamp(text); ok {
			v.t, v.zoned = t, zoned
		}
	case "Value":
		if v.inHeartRate {
			v.hr = number(text)
		}
	case "HeartRateBpm":
		if text != "" {
			v.hr = number(text)
		}
		v.inHeartRate = false
	case "Cadence", "RunCadence":
		v.cadence = number(text)
	case "Watts":
		v.power = number(text)
	case "Speed":
		v.speed = number(text)
	case "DistanceMeters":
		v.distance = number(text)
	case "LatitudeDegrees":
		v.lat = number(text)
	case "LongitudeDegrees":
		v.lon = number(text)
	}
}

// layLaps gives the laps of an activity to its takes. A lap runs to the next one's start, since
// TotalTimeSeconds leaves pauses out; the last runs for that time, and at least to the last point.
func (v *tcxVisitor) layLaps() {
	if v.now == nil {
		return
	}
	for i, l := range v.laps {
		end := math.Inf(1)
		if i+1 < len(v.laps) && v.laps[i+1].start >= l.start {
			end = v.laps[i+1].start
		}
		for _, k := range v.now.takes {
			if l.start > k.last || end < k.first {
				continue
			}
			k.laps = append(k.laps, absoluteLap{absoluteSpan{l.start, min(end, k.last+1)}, l.label})
		}
	}
	v.laps = nil
}

func tcxSport(s string) workout.Sport {
	switch s {
	case "Running":
		return workout.Running
	case "Biking":
		return workout.Cycling
	}
	return workout.Other
}
