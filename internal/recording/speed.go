package recording

import (
	"math"

	"nextrung/internal/workout"
)

const (
	// distanceWindow and positionWindow are the seconds before and after a sample over which speed
	// is taken. Devices smooth the distance that they write, but write it in steps; positions
	// scatter by metres.
	distanceWindow, positionWindow = 3, 5
	// speedGap is the gap in seconds across which no speed is derived.
	speedGap = 30
	// fastest is the speed in m/s beyond which a derived value is a jump of the position.
	fastest = 40
	// earthRadius is the mean radius in metres (IUGG).
	earthRadius = 6371008.8
)

// positions are points on the unit sphere. They serve to derive speed and are then forgotten.
type positions struct {
	t []float64
	p [][3]float64
}

// add notes a point of latitude and longitude in degrees. The point 0, 0 is what converters write
// for "no position".
func (p *positions) add(t, lat, lon float64) {
	if lat == 0 && lon == 0 || !(math.Abs(lat) <= 90) || !(math.Abs(lon) <= 180) {
		return
	}
	sinLat, cosLat := math.Sincos(lat * math.Pi / 180)
	sinLon, cosLon := math.Sincos(lon * math.Pi / 180)
	p.t = append(p.t, t)
	p.p = append(p.p, [3]float64{cosLat * cosLon, cosLat * sinLon, sinLat})
}

// moved says whether the points lie further apart than a fixed device scatters.
func (p positions) moved() bool {
	for i := range p.t {
		if p.metres(0, i) > 50 {
			return true
		}
	}
	return false
}

// metres is the straight distance R |a - b| between two points of a sphere. It is the chord of the
// great circle that the haversine formula measures, and shorter by d^2/24R^2 of it: by less than a
// millionth up to 30 km.
func (p positions) metres(i, j int) float64 {
	x, y, z := p.p[i][0]-p.p[j][0], p.p[i][1]-p.p[j][1], p.p[i][2]-p.p[j][2]
	return earthRadius * math.Sqrt(x*x+y*y+z*z)
}

// derivedSpeed is the speed in m/s from the distance, else from the positions.
func (k *take) derivedSpeed() workout.Channel {
	if d := k.distance; d.Len() > 1 {
		if c := slope(d.T, distanceWindow, func(a, _, b int) float64 { return d.V[b] - d.V[a] }); c.Len() > 0 {
			return c
		}
	}
	// Two chords, to the middle and on, lose less in a bend than one and scatter less than the
	// path from point to point.
	p := k.position
	return slope(p.t, positionWindow, func(a, m, b int) float64 {
		return p.metres(a, m) + p.metres(m, b)
	})
}

// slope gives, at each time, the way between the samples at most window seconds before and after,
// by their time. Where there is no neighbour so near, the previous sample is taken. Gaps, steps
// back and jumps end a stretch.
func slope(t []float64, window float64, way func(a, m, b int) float64) workout.Channel {
	out := workout.Channel{T: make([]float64, 0, len(t)), V: make([]float64, 0, len(t))}
	start, a, b := 0, 0, 0 // start of the stretch and the window's ends, which only move on
	for i := range t {
		if i > 0 && (t[i]-t[i-1] > speedGap || t[i] < t[i-1]) {
			start = i
		}
		for a = max(a, start); t[a] < t[i]-window; a++ {
		}
		for b = max(b, i); b+1 < len(t) && t[b+1] >= t[b] && t[b+1]-t[b] <= speedGap && t[b+1] <= t[i]+window; b++ {
		}
		from := a
		if t[b] == t[from] {
			from = max(start, i-1)
		}
		seconds := t[b] - t[from]
		if seconds <= 0 {
			continue
		}
		if v := way(from, i, b) / seconds; v >= 0 && v <= fastest {
			out.Add(t[i], v)
		}
	}
	return out
}
