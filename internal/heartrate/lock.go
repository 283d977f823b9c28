package heartrate

import (
	"math"

	"nextrung/internal/workout"
)

// An optical sensor can take the movement of the body for the pulse: its signal holds the step rate
// and its multiples (Wijshoff 2017). Runners' true heart rate lies within 3 bpm of the step rate for
// minutes (up to 151 s in real recordings), so nearness proves nothing. What does is that heart rate
// copies the small changes of cadence from second to second, or that it jumped onto the cadence or
// off it. Of 60 stretches of 30 s and more with true heart rate near the step or pedal rate none
// had a correlation above 0.72. Common practice, no source: chosen on real recordings and held by
// TestHeartRateNearTheCadenceIsNoLock and TestPlantedFaultsAreFound.
const (
	lockLeast   = 30   // s
	lockCount   = 6    // readings
	lockNear    = 3.0  // bpm
	lockMisses  = 1    // readings in a row that may be off
	lockStride  = 3    // readings; where there is one a second, only every third is tried for a beginning
	lockShare   = 0.9  // of the readings must be near
	copyCount   = 15   // readings that a correlation must rest on
	copySD      = 0.8  // bpm; cadence must vary at least so much for a correlation to mean anything
	copyCorr    = 0.85 // correlation of heart rate with cadence
	jumpLeast   = 8.0  // bpm onto the line or off it
	jumpRate    = 4.0  // bpm/s when the two readings are further apart
	lineSD      = 1.5  // bpm; of the distance from the line after a jump
	leastRhythm = 15   // /min; below there is no rhythm
)

// markLock marks the readings of stretches in which heart rate follows the cadence or half, twice or,
// on foot, four times it: devices count strides, and each is two steps.
func markLock(at []int, bpm []float64, marks []mark, w workout.Workout, step int) {
	if w.Cadence.Len() == 0 || len(at) < lockCount {
		return
	}
	bridge := 10
	if step >= 2 {
		bridge = 30
	}
	cad := w.Cadence.Grid(len(bpm), bridge)
	factors := []float64{0.5, 1, 2, 4}
	if m := w.Sport.Mode(); m == workout.Bike || m == workout.Row || m == workout.Swim {
		factors = factors[:3]
	}
	stride := 1
	if step <= 1 {
		stride = lockStride
	}
	for _, f := range factors {
		l := line{at, bpm, marks, cad, f}
		width := l.width()
		isNear := func(i int) bool {
			k := at[i]
			d := bpm[k] - f*cad[k]
			return d <= width && d >= -width && cad[k] >= leastRhythm && marks[k] == good
		}
		for i := 0; i < len(at); i += stride {
			if !isNear(i) {
				continue
			}
			from := i
			for j := max(0, i-stride+1); j < from; j++ {
				if isNear(j) {
					from = j
				}
			}
			last, near := from, 0
			for j := from; j < len(at) && j-last <= lockMisses+1 && at[j]-at[last] <= longestHold; j++ {
				if isNear(j) {
					last, near = j, near+1
				}
			}
			l.judge(from, last+1, near)
			i = last
		}
	}
}

// line is the cadence times a factor, with the heart rate laid beside it.
type line struct {
	at    []int
	bpm   []float64
	marks []mark
	cad   []float64
	f     float64
}

// width allows for the rounding of cadence to whole numbers.
func (l line) width() float64 { return max(lockNear, 2+l.f/2) }

// judge marks the readings [from, to) when they show that heart rate is not merely near the line.
func (l line) judge(from, to, near int) {
	if l.at[to-1]-l.at[from] < lockLeast || near < lockCount || float64(near) < lockShare*float64(to-from) {
		return
	}
	var n, h, c, hh, cc, hc float64
	for _, k := range l.at[from:to] {
		x, y := l.bpm[k], l.f*l.cad[k]
		if l.marks[k] != good || !(math.Abs(x-y) <= l.width()) {
			continue
		}
		n, h, c, hh, cc, hc = n+1, h+x, c+y, hh+x*x, cc+y*y, hc+x*y
	}
	vh, vc, cov := hh/n-h*h/n/n, cc/n-c*c/n/n, hc/n-h*c/n/n
	copies := n >= copyCount && vc >= copySD*copySD && cov >= copyCorr*math.Sqrt(vh*vc)
	onLine := math.Abs(h-c)/n <= 0.5+l.f/2 && vh+vc-2*cov <= lineSD*lineSD
	if copies || onLine && (l.jump(from-1, from) || l.jump(to, to-1)) {
		set(l.marks, l.at[from:to], isLocked)
	}
}

// jump says whether heart rate leaps between the reading out, off the line, and its neighbour in, on it.
func (l line) jump(out, in int) bool {
	if out < 0 || out >= len(l.at) {
		return false
	}
	a, b := l.at[out], l.at[in]
	dt := max(a-b, b-a)
	return dt <= leapWithin && l.marks[a] == good && math.Abs(l.bpm[a]-l.bpm[b]) >= max(jumpLeast, jumpRate*float64(dt))
}
