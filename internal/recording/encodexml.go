package recording

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"nextrung/internal/workout"
)

const xmlHead = `<?xml version="1.0" encoding="UTF-8"?>` + "\n"

func encodeTCX(w workout.Workout) []byte {
	var b strings.Builder
	sport := cmp.Or(map[workout.Sport]string{workout.Running: "Running", workout.Cycling: "Biking"}[w.Sport], "Other")
	fmt.Fprintf(&b, xmlHead+"<TrainingCenterDatabase><Activities><Activity Sport=\"%s\"><Id>%s</Id>\n", sport, at(w, 0))
	points := timed(w)
	for _, l := range lapsOf(w) {
		label := "Active"
		if l.Label == "rest" || l.Label == "recovery" || l.Label == "resting" {
			label = "Resting"
		}
		fmt.Fprintf(&b, "<Lap StartTime=\"%s\"><TotalTimeSeconds>%d</TotalTimeSeconds><Intensity>%s</Intensity><TriggerMethod>Manual</TriggerMethod>",
			at(w, l.From), l.Seconds(), label)
		open := false
		// Only a gap between tracks of one lap is a pause, so that the first point after a pause
		// is in the lap in which the pause began.
		for ; len(points) > 0 && (points[0].second < l.To || points[0].gap); points = points[1:] {
			switch {
			case !open:
				b.WriteString("<Track>\n")
				open = true
			case points[0].gap:
				b.WriteString("</Track><Track>\n")
			}
			tcxPoint(&b, w, points[0])
		}
		if open {
			b.WriteString("</Track>")
		}
		b.WriteString("</Lap>\n")
	}
	b.WriteString("</Activity></Activities></TrainingCenterDatabase>\n")
	return []byte(b.String())
}

func tcxPoint(b *strings.Builder, w workout.Workout, s sample) {
	fmt.Fprintf(b, "<Trackpoint><Time>%s</Time>", at(w, s.second))
	if w.Place == workout.Outdoor && !math.IsNaN(s.speed) {
		lat, lon := invented(s.metres)
		fmt.Fprintf(b, "<Position><LatitudeDegrees>%.8f</LatitudeDegrees><LongitudeDegrees>%.8f</LongitudeDegrees></Position>", lat, lon)
	}
	if !math.IsNaN(s.speed) {
		element(b, "DistanceMeters", s.metres, 2)
	}
	if !math.IsNaN(s.hr) {
		b.WriteString("<HeartRateBpm>")
		element(b, "Value", s.hr, 0)
		b.WriteString("</HeartRateBpm>")
	}
	element(b, "Cadence", s.cadence, 0)
	if !math.IsNaN(s.speed) || !math.IsNaN(s.power) {
		b.WriteString("<Extensions><TPX>")
		element(b, "Speed", s.speed, 3)
		element(b, "Watts", s.power, 0)
		b.WriteString("</TPX></Extensions>")
	}
	b.WriteString("</Trackpoint>\n")
}

// encodeGPX writes heart rate and cadence under the prefix by which other readers know the track
// point extension.
func encodeGPX(w workout.Workout) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, xmlHead+`<gpx version="1.1" creator="nextrung" xmlns="http://www.topografix.com/GPX/1/1" xmlns:gpxtpx="urn:track-point-extension">`+
		"<trk><type>%s</type><trkseg>\n", w.Sport)
	for _, s := range timed(w) {
		if s.gap {
			b.WriteString("</trkseg><trkseg>\n")
		}
		lat, lon := 0.0, 0.0 // readers know 0, 0 for "no position"
		if !math.IsNaN(s.speed) {
			lat, lon = invented(s.metres)
		}
		fmt.Fprintf(&b, `<trkpt lat="%.8f" lon="%.8f"><time>%s</time>`, lat, lon, at(w, s.second))
		if !math.IsNaN(s.hr) || !math.IsNaN(s.cadence) {
			b.WriteString("<extensions><gpxtpx:TrackPointExtension>")
			element(&b, "gpxtpx:hr", s.hr, 0)
			element(&b, "gpxtpx:cad", s.cadence, 0)
			b.WriteString("</gpxtpx:TrackPointExtension></extensions>")
		}
		b.WriteString("</trkpt>\n")
	}
	b.WriteString("</trkseg></trk></gpx>\n")
	return []byte(b.String())
}
