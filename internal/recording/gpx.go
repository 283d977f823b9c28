package recording

import (
	"context"
	"math"
	"strings"

	"nextrung/internal/workout"
)

// readGPX reads a GPS Exchange file: every trk is a workout of its own, a gap between its
// segments is a pause. Routes and waypoints are not recordings.
func readGPX(ctx context.Context, text []byte) (reading, error) {
	v, err := visit(ctx, text, func() *gpxVisitor {
		return &gpxVisitor{points{counter: counter{ctx: ctx}, expected: len(text) / 200}}
	})
	return v.points.finish(err)
}

type gpxVisitor struct{ points }

func (v *gpxVisitor) open(name string, a attributes) {
	switch name {
	case "trk":
		v.activity("")
	case "trkseg":
		v.stretch()
	case "trkpt":
		v.point, v.inPoint = blank, true
		v.lat, v.lon = number(a.get("lat")), number(a.get("lon"))
	}
}

func (v *gpxVisitor) close(name, text string) error {
	if !v.inPoint {
		switch name {
		case "type":
			if s := gpxSport(text); v.now != nil && s != workout.Other {
				v.setSport(s)
			}
		case "trk":
			v.now = nil
		}
		return v.halt
	}
	switch name {
	case "trkpt":
		v.add()
	case "time":
		if t, zoned, ok := stamp(text); ok {
			v.t, v.zoned = t, zoned
		}
	case "hr", "heartrate", "heartRate", "HeartRate":
		v.hr = number(text)
	case "cad", "cadence":
		v.cadence = number(text)
	case "speed":
		v.speed = number(text)
	case "power", "watts", "PowerInWatts":
		v.power = number(text)
	case "distance":
		if d := number(text); !math.IsNaN(d) {
			v.distance = d
		}
	}
	return v.halt
}

// setSport sets the sport of the current track, whose type may stand before or after its points.
func (v *gpxVisitor) setSport(s workout.Sport) {
	v.now.sport = s
	for _, k := range v.now.takes {
		k.Sport = s
	}
}

// gpxSport reads the free text of a track's type; words it does not know are dropped.
func gpxSport(s string) workout.Sport {
	s = strings.ToLower(s)
	for _, w := range []struct {
		word  string
		sport workout.Sport
	}{
		{"run", workout.Running}, {"jog", workout.Running}, {"walk", workout.Walking}, {"hik", workout.Walking}, {"rowing", workout.Rowing},
		{"cycl", workout.Cycling}, {"mtb", workout.Cycling}, {"bik", workout.Cycling}, {"ride", workout.Cycling},
		{"swim", workout.Swimming}, {"ski", workout.Skiing}, {"strength", workout.Strength},
	} {
		if strings.Contains(s, w.word) {
			return w.sport
		}
	}
	return workout.Other
}
