package recording

import (
	"cmp"
	"context"
	"math"
	"strings"

	"nextrung/internal/workout"
)

// readTCX reads a Training Center XML file: every Activity, and every Course with a heart rate,
// is a workout of its own, also when they overlap in time.
func readTCX(ctx context.Context, text []byte) (reading, error) {
	v, err := visit(ctx, text, func() *tcxVisitor {
		return &tcxVisitor{points: points{counter: counter{ctx: ctx}, expected: len(text) / 300}}
	})
	v.layLaps() // of an activity that the file breaks off
	return v.points.finish(err)
}

type tcxVisitor struct {
	points
	inHeartRate, inCreator bool
	laps                   []tcxLap
	lap                    tcxLap
	inLap                  bool
}

type tcxLap struct {
	start float64
	label string
}

func (v *tcxVisitor) open(name string, a attributes) {
	switch name {
	case "Activity":
		v.activity(tcxSport(a.get("Sport")))
		v.laps = nil
	case "Course":
		v.activity("")
		v.now.course, v.laps = true, nil
	case "Lap":
		v.noPause()
		v.lap = tcxLap{start: math.NaN()}
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

func (v *tcxVisitor) close(name, text string) error {
	if v.inPoint {
		v.closeInPoint(name, text)
		return v.halt
	}
	switch name {
	case "Lap":
		if v.inLap && !math.IsNaN(v.lap.start) && len(v.laps) < mostLaps {
			v.laps = append(v.laps, v.lap)
		}
		v.inLap = false
	case "Intensity":
		if v.inLap && (text == "Active" || text == "Resting") { // the schema knows no others
			v.lap.label = strings.ToLower(text)
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
	return v.halt
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
// TotalTimeSeconds leaves pauses out; the last one runs to the last point.
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
			if l.start <= k.last && end >= k.first {
				k.laps = append(k.laps, absoluteLap{absoluteSpan{l.start, min(end, k.last+1)}, l.label})
			}
		}
	}
	v.laps = nil
}

func tcxSport(s string) workout.Sport {
	return cmp.Or(map[string]workout.Sport{"Running": workout.Running, "Biking": workout.Cycling}[s], workout.Other)
}
