package heartrate

import (
	"math"
	"slices"

	"nextrung/internal/workout"
)

// A heart does not change its rate by 25 bpm within a minute beyond what a change of load explains: such a
// leap is the sensor's, that loses the pulse or finds it again. Common practice, no source; TestAlarmsInRealRecordings
// holds that no real recording shows one, TestLeapsAgainstTheLoad that planted ones are found. A hill that is run at
// one speed raises heart rate as far, but more slowly.
const (
	leapRise  = 25.0 // bpm from the mean of the half minute before to that of the half minute after, beyond what the load explains
	leapTime  = 30   // s that the leap may take
	leapSide  = 30   // s of those means
	leapLoad  = 120  // s before a leap of which the load must be known: heart rate follows it for so long
	leapBack  = 0.5  // of a leap: so large, a leap the other way ends the stretch between
	leapAlone = 35.0 // bpm of a leap without a way back that still counts

	// A heart follows the load with a time constant between these, s; the middle of published ones is 57.6 (SD 23.6,
	// Hunt, Fankhauser and Saengsuwan 2015).
	quickHeart, slowHeart = 15.0, 75.0
	lateHeart             = 10 // s that it may wait, with its sensor, before it does
)

// The most that load can change heart rate: on foot 24.2 (SD 8.3) bpm for each m/s (Hunt, Fankhauser and Saengsuwan 2015); for each
// W and each step a minute common practice, no source.
const (
	mostPerSpeed                = 40.0
	mostPerWatt                 = 0.7
	mostPerStep                 = 3.0
	restlessSide, restlessSpeed = 15, 0.3 // s on either side, and the coefficient of variation of speed in them
	stuckPower                  = 15      // s for which no meter shows one power, unless it goes on writing the last one through a rest
)

// leaps finds leaps of heart rate that the load does not explain: the stretch between a leap and one the other way, or
// from a large one to the nearer end of the recording.
func (s *Series) leaps(w workout.Workout) []Fault {
	n := len(s.BPM)
	loads := s.loadsOf(w)
	if len(loads) == 0 || n < 2*leapLoad {
		return nil
	}
	bpm := newMeans(s.BPM)
	beyond := func(k int) float64 {
		before, ok := bpm.in(k-leapSide, k)
		after, ok2 := bpm.in(k+leapTime, k+leapTime+leapSide)
		if !ok || !ok2 {
			return 0
		}
		d := after - before
		for _, l := range loads {
			d = l.beyond(k, d)
		}
		return d
	}
	var out []Fault
	open, by := -1, 0.0 // the leap whose way back is sought
	for k := leapLoad; k+leapTime+leapSide <= n; k++ {
		d := beyond(k)
		if math.Abs(d) < leapRise || math.Abs(beyond(k+1)) > math.Abs(d) || slices.ContainsFunc(loads, func(l load) bool { return !l.known(k) }) {
			continue
		}
		if open >= 0 && d*by < 0 && math.Abs(d) >= leapBack*math.Abs(by) {
			out = append(out, leapFault(open, k+leapTime, by))
			open = -1
		} else if open < 0 || math.Abs(d) > math.Abs(by) {
			open, by = k, d
		}
		k += leapTime
	}
	if open >= 0 && math.Abs(by) >= leapAlone {
		if open < n-open {
			out = append(out, leapFault(0, open+leapTime, by))
		} else {
			out = append(out, leapFault(open, n, by))
		}
	}
	return out
}

func leapFault(from, to int, by float64) Fault {
	return Fault{Kind: EvenLeap, Span: workout.Span{From: from, To: to}, Args: workout.Args{"bpm": math.Abs(by)}}
}

// load is what heart rate follows, second by second: as it is, and as a quick and a slow heart would follow it.
type load struct {
	means       means
	quick, slow []float64
	most        float64 // bpm for each unit
}

// loadsOf are power, or the speed of who goes on foot or rows; on foot the cadence too. The bpm that each
// unit explains are no more than heart rate and load of this recording span.
func (s *Series) loadsOf(w workout.Workout) (out []load) {
	m := w.Sport.Mode()
	onFoot := m == workout.Run || m == workout.Walk
	add := func(c workout.Channel, most float64, forget func(v []float64)) {
		v := c.Grid(len(s.BPM), longestHold)
		l := load{quick: followed(v, quickHeart), slow: followed(v, slowHeart), most: most}
		switch all := width(l.quick); {
		case all > 0:
			l.most = min(most, width(s.BPM)/all)
			fallthrough
		case all == 0:
			forget(v)
			l.means = newMeans(v)
			out = append(out, l)
		}
	}
	if w.Power.Len() > 0 {
		add(w.Power, mostPerWatt, forgetStuck)
	} else if onFoot || m == workout.Row {
		add(w.Speed, mostPerSpeed, forgetRestless)
	}
	if onFoot {
		add(w.Cadence, mostPerStep, func([]float64) {})
	}
	return out
}

// forgetStuck makes a power unknown that stays the same for long, but zero.
func forgetStuck(v []float64) {
	for from, to := 0, 1; from < len(v); from, to = to, to+1 {
		for to < len(v) && v[to] == v[from] {
			to++
		}
		for k := from; k < to && to-from > stuckPower && v[from] != 0; k++ {
			v[k] = math.NaN()
		}
	}
}

// forgetRestless makes a speed unknown that goes up and down from second to second, as in shuttles and games: turning and
// starting cost more than it shows.
func forgetRestless(v []float64) {
	squares := slices.Clone(v)
	for k := range squares {
		squares[k] *= squares[k]
	}
	mean, square := newMeans(v), newMeans(squares)
	for k := range v {
		m, _ := mean.in(k-restlessSide, k+restlessSide)
		q, _ := square.in(k-restlessSide, k+restlessSide)
		if q > (1+restlessSpeed*restlessSpeed)*m*m {
			v[k] = math.NaN()
		}
	}
}

// followed is v as a heart with that time constant follows it; where v is not known it stays.
func followed(v []float64, tau float64) []float64 {
	out, x := make([]float64, len(v)), math.NaN()
	for k, u := range v {
		switch {
		case math.IsNaN(u):
		case math.IsNaN(x):
			x = u
		default:
			x += (u - x) / tau
		}
		out[k] = x
	}
	return out
}

// width is the largest known value less the smallest.
func width(v []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range v {
		if !math.IsNaN(x) {
			low, high = min(low, x), max(high, x)
		}
	}
	return high - low
}

// known says whether the load is known before, in and after a leap at second k.
func (l load) known(k int) bool {
	for _, span := range [4][2]int{{k - leapLoad, k - leapLoad/2}, {k - leapLoad/2, k}, {k, k + leapTime}, {k + leapTime, k + leapTime + leapSide}} {
		if _, ok := l.means.in(span[0], span[1]); !ok {
			return false
		}
	}
	return true
}

// beyond is what is left of a change d of heart rate at second k after what the load may explain of it, to a heart or
// a sensor that answers at once or late.
func (l load) beyond(k int, d float64) float64 {
	least, most := 0.0, 0.0
	for late := 0; late <= lateHeart; late += 10 {
		from, to := k-leapSide/2-late, k+leapTime+leapSide/2-late
		for _, x := range [2][]float64{l.quick, l.slow} {
			explained := l.most * (x[to] - x[from])
			least, most = min(least, explained), max(most, explained)
		}
	}
	return d - min(max(d, least), most)
}

// means gives means of known values over any stretch.
type means struct{ sum, known []float64 }

func newMeans(v []float64) means {
	m := means{make([]float64, len(v)+1), make([]float64, len(v)+1)}
	for i, x := range v {
		m.sum[i+1], m.known[i+1] = m.sum[i], m.known[i]
		if !math.IsNaN(x) {
			m.sum[i+1] += x
			m.known[i+1]++
		}
	}
	return m
}

// in is the mean of [from, to), false unless half of it is known.
func (m means) in(from, to int) (float64, bool) {
	from, to = max(0, from), min(to, len(m.sum)-1)
	if to <= from {
		return 0, false
	}
	n := m.known[to] - m.known[from]
	return (m.sum[to] - m.sum[from]) / n, 2*n >= float64(to-from)
}
