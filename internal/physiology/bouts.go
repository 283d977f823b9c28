package physiology

import (
	"math"
	"slices"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// What makes work bouts (common practice, no source).
const (
	boutShortest     = 20   // s
	boutLong         = 180  // s: two of this length make an interval session, else it takes three
	reliefShortest   = 15   // s of recovery between two bouts; a shorter lull belongs to the bout
	reliefShare      = 0.2  // of a bout's length: shorter, a recovery is a stop at a light
	explainedShare   = 0.64 // of the variance between first and last bout that "work or recovery" explains
	leastExplained   = 0.15 // the same share of the whole workout's variance
	lengthAlike      = 2.0  // times the median length, or one such part of it
	freeLength       = 5.0  // the same for play with speed, where "work or recovery" explains at least
	freelyExplained  = 0.85 // of the variance; less from heart rate alone, which hardly answers to lights and hills
	freelyByHeart    = 0.75
	freeRelief       = 0.4  // of the work, so much recovery in all: else they are breaks of a long run
	reliefAlike      = 3.0  // the same for the recoveries
	levelAlike       = 0.8  // of the median level
	boutJoins        = 6    // such a part of the mean length at least
	coreShare        = 0.4  // of the time above the threshold that lies in the series
	pairShare        = 0.8  // the same for a series of two
	pairShortest     = 30   // s, two bouts that are the whole session
	pairAlike        = 0.85 // of each other's level, and of each other's length where they are short
	pairClear        = 1.5  // times a clear difference above what lies between them
	pairExplained    = 0.8
	leastAnswer      = 8.0  // bpm that heart rate falls after a bout
	leastShortAnswer = 5.0  // the same where bouts are shorter than 90 s
	oneLongest       = 600  // s of a single bout,
	oneShare         = 0.2  // of the session at most: longer, it is a short session's main part; with easier minutes on either side,
	oneAround        = 120  // s of which are looked at
	oneClear         = 1.25 // times a clear difference above them
	oneLulls         = 30   // s of lulls in it, in all
	oneExplained     = 0.4  // of the variance of the session that it explains
	snapToLap        = 10   // s, 15 s from heart rate alone: a lap mark this near is the edge of the bout
	snapToLapHeart   = 15
	crossingAround   = 12 // s around a change point in which the signal's own edge is sought
	crossingHeart    = 20 // the same for heart rate alone
	endOfBout        = 30 // s: the end of a bout's heart rate
	shortForThirty   = 90 // s: a shorter bout's end is its last third
	mostThresholds   = 40
	mostRuns         = 120 // of work at one threshold: more are no session, and all their pairs would be tried
)

// boutsOf finds the work bouts of an interval session, or none. Laps come first: their labels are
// never believed, but marks between which the effort goes up and down are the athlete's own. Then change
// points of the signal (levels); their edges move to a lap mark close by.
func boutsOf(s heartrate.Series, w workout.Workout, g signal, cuts ...[]segment) []Bout {
	if g.by == "" {
		return nil
	}
	spans, by := []workout.Span(nil), By("laps")
	laps := g.lapLevels(w)
	if len(w.Laps) >= 4 {
		spans, _ = g.series(s, laps, true)
	}
	var found []workout.Span
	most := 0.0
	for _, levels := range cuts {
		if f, explained := g.series(s, levels, false); explained > most {
			found, most = f, explained
		}
	}
	if len(found) > 0 {
		if found = g.edges(s, found, w); len(found) > len(spans) || len(found) == len(spans) && !g.agree(found, spans) {
			spans, by = found, g.by
		}
	}
	if mode := w.Sport.Mode(); len(spans) == 0 && (g.by != "speed" || mode == workout.Run || mode == workout.Walk) {
		spans, by = g.single(s, w, cuts[0]) // on wheels speed falls where the way rises
	}
	out := make([]Bout, len(spans))
	for i, span := range spans {
		next := len(s.BPM)
		if i+1 < len(spans) {
			next = spans[i+1].From
		}
		end := endOfBout
		if span.Seconds() < shortForThirty {
			end = span.Seconds() / 3
		}
		out[i] = Bout{
			Span: span, By: by,
			End:  some(s.MeanIn(span.To-end, span.To)),
			Peak: some(s.PeakIn(span.From, span.To)),
			Low:  some(s.LowIn(span.To, next)),
		}
	}
	return out
}

// agree says whether most lap marks lie where the effort changes. Found from heart rate
// alone, edges are not sharp enough to count against them.
func (g signal) agree(found, laps []workout.Span) bool {
	off := 0
	for i, f := range found {
		for _, d := range [2]int{f.From - laps[i].From, f.To - laps[i].To} {
			if d > snapToLap || d < -snapToLap {
				off++
			}
		}
	}
	return g.by == ByHeartRate || off <= len(found)
}

// series finds the bouts among segments: for every threshold between two levels, the regular series
// among the runs above it. The one that explains most of the workout's variance wins.
func (g signal) series(s heartrate.Series, segments []segment, marked bool) (best []workout.Span, most float64) {
	sum := runningSums(g.v)
	for _, threshold := range thresholds(segments) {
		runs := g.trimmed(sum, segments, g.core(s, sum, g.runs(segments, threshold), marked))
		if explained := explained(sum, runs, 0, len(g.v)); len(runs) > 0 && explained > max(most, leastExplained) {
			best, most = runs, explained
		}
	}
	return best, most
}

// trimmed takes from the first run what was clearly easier before it, a warm-up that goes over into the first
// bout, and from the last one what was after it, a jog home.
func (g signal) trimmed(sum sums, segments []segment, runs []workout.Span) []workout.Span {
	if len(runs) < 2 {
		return runs
	}
	level := g.middle(sum, runs)
	easier := func(part segment) bool {
		return part.to-part.from >= reliefShortest && g.height(sum, workout.Span{From: part.from, To: part.to}) < level-g.clear(level)
	}
	first, last := &runs[0], &runs[len(runs)-1]
	for _, part := range segments {
		if part.from == first.From && part.to <= first.To-boutShortest && easier(part) {
			first.From = part.to
		}
	}
	for _, part := range slices.Backward(segments) {
		if part.to == last.To && part.from >= last.From+boutShortest && easier(part) {
			last.To = part.from
		}
	}
	return runs
}

// thresholds lie midway between neighbouring levels.
func thresholds(segments []segment) []float64 {
	var levels []float64
	for _, s := range segments {
		if !math.IsNaN(s.level) {
			levels = append(levels, s.level)
		}
	}
	slices.Sort(levels)
	var out []float64
	every := max(1, len(levels)/mostThresholds)
	for i := every; i < len(levels); i += every {
		out = append(out, (levels[i-1]+levels[i])/2)
	}
	return out
}

// runs are the stretches above the threshold; lulls that are too short to be a recovery are filled, and
// what is then too short to be a bout is dropped.
func (g signal) runs(segments []segment, threshold float64) []workout.Span {
	var out []workout.Span
	for _, s := range segments {
		if !(s.level > threshold) {
			continue
		}
		if n := len(out); n > 0 && s.from-out[n-1].To < reliefShortest {
			out[n-1].To = s.to
			continue
		}
		out = append(out, workout.Span{From: s.from, To: s.to})
	}
	return slices.DeleteFunc(out, func(r workout.Span) bool { return r.Seconds() < boutShortest })
}

// core finds the longest regular series among neighbouring runs and adds the runs next to it that are
// work with a recovery too. Bouts of one session are alike in length and level, and so are the recoveries
// between them; hills, traffic lights and walking breaks are not.
func (g signal) core(s heartrate.Series, sum sums, runs []workout.Span, marked bool) []workout.Span {
	if len(runs) > mostRuns {
		return nil
	}
	from, to, longest := 0, 0, 0
	for a := range runs {
		for b := a + 2; b <= len(runs); b++ {
			if n := seconds(runs[a:b]); n > longest && g.isSeries(s, sum, runs[a:b], marked) {
				from, to, longest = a, b, n
			}
		}
	}
	share := coreShare
	if to-from == 2 {
		share = pairShare
	}
	if longest == 0 || float64(longest) < share*float64(seconds(runs)) {
		return nil
	}
	level, relief, length := g.middle(sum, runs[from:to]), middleRelief(runs[from:to]), float64(longest)/float64(to-from)
	joins := func(run, a, b workout.Span) bool {
		gap := float64(b.From - a.To)
		return float64(run.Seconds()) >= length/boutJoins && gap >= relief/reliefAlike && gap <= relief*reliefAlike && g.height(sum, run) >= levelAlike*level && g.between(sum, a, b)
	}
	fits := func(from, to int) bool {
		return explained(sum, runs[from:to], runs[from].From, runs[to-1].To) >= explainedShare
	}
	for from > 0 && joins(runs[from-1], runs[from-1], runs[from]) && fits(from-1, to) {
		from--
	}
	for to < len(runs) && joins(runs[to], runs[to-1], runs[to]) && fits(from, to+1) {
		to++
	}
	return slices.Clone(runs[from:to])
}

func seconds(runs []workout.Span) int {
	n := 0
	for _, r := range runs {
		n += r.Seconds()
	}
	return n
}

// middleRelief is the median length of the recoveries between runs.
func middleRelief(runs []workout.Span) float64 {
	var gaps []float64
	for i := 1; i < len(runs); i++ {
		gaps = append(gaps, float64(runs[i].From-runs[i-1].To))
	}
	return middle(gaps)
}

// height is a run's level; for heart rate it is counted from a resting 50 bpm, so that shares mean about
// the same as for speed.
func (g signal) height(sum sums, r workout.Span) float64 {
	level := sum.mean(r.From, r.To)
	if g.by == ByHeartRate {
		return level - 50
	}
	return level
}

func (g signal) middle(sum sums, runs []workout.Span) float64 {
	heights := make([]float64, len(runs))
	for i, r := range runs {
		heights[i] = g.height(sum, r)
	}
	return middle(heights)
}

// isSeries says whether runs are work bouts with recoveries between them.
func (g signal) isSeries(s heartrate.Series, sum sums, runs []workout.Span, marked bool) bool {
	lengths := make([]float64, len(runs))
	for i, r := range runs {
		lengths[i] = float64(r.Seconds())
	}
	length, relief, level := middle(slices.Clone(lengths)), middleRelief(runs), g.middle(sum, runs)
	if relief < reliefShare*length {
		return false
	}
	if len(runs) == 2 && !g.pairs(sum, runs[0], runs[1], marked) {
		return false
	}
	explained, most := explained(sum, runs, runs[0].From, runs[len(runs)-1].To), lengthAlike
	work := seconds(runs)
	rest := runs[len(runs)-1].To - runs[0].From - work
	if (explained >= freelyExplained || g.by == ByHeartRate && explained >= freelyByHeart) && float64(rest) >= freeRelief*float64(work) {
		most = freeLength
	}
	for i, r := range runs {
		h := g.height(sum, r)
		if lengths[i] > most*length || lengths[i] < length/most || h < levelAlike*level || h > level/levelAlike {
			return false
		}
		if i == 0 {
			continue
		}
		gap := float64(r.From - runs[i-1].To)
		if gap > reliefAlike*relief || gap < relief/reliefAlike || !g.between(sum, runs[i-1], r) {
			return false
		}
	}
	return explained >= explainedShare && answered(s, runs, length)
}

// pairs says whether two runs alone make a session: alike, since a run before a break and a jog home are no bouts. Short
// ones are bouts of a session that was broken off, and only where effort or laps show them, much alike, far above what
// lies between them, which lasts.
func (g signal) pairs(sum sums, a, b workout.Span, marked bool) bool {
	short, long := float64(min(a.Seconds(), b.Seconds())), float64(max(a.Seconds(), b.Seconds()))
	low, high := min(g.height(sum, a), g.height(sum, b)), max(g.height(sum, a), g.height(sum, b))
	if short < long/lengthAlike || low < pairAlike*high {
		return false
	}
	if short >= boutLong {
		return true
	}
	lower := min(sum.mean(a.From, a.To), sum.mean(b.From, b.To))
	return (g.by != ByHeartRate || marked) && short >= pairShortest && short >= pairAlike*long && float64(b.From-a.To) >= long/2 &&
		lower-sum.mean(a.To, b.From) >= pairClear*g.clear(lower) &&
		explained(sum, []workout.Span{a, b}, a.From, b.To) >= pairExplained
}

// between says whether the signal between two runs is clearly below both.
func (g signal) between(sum sums, a, b workout.Span) bool {
	lower := min(sum.mean(a.From, a.To), sum.mean(b.From, b.To))
	return lower-sum.mean(a.To, b.From) >= g.clear(lower)
}

// answered says whether heart rate fell after the runs as it does after work; unknown counts as yes.
func answered(s heartrate.Series, runs []workout.Span, length float64) bool {
	var falls []float64
	for i, r := range runs[:len(runs)-1] {
		high, ok1 := s.PeakIn(r.To-min(30, r.Seconds()/3), r.To+20)
		low, ok2 := s.LowIn(r.To, runs[i+1].From+20)
		if ok1 && ok2 {
			falls = append(falls, high-low)
		}
	}
	least := leastAnswer
	if length < shortForThirty {
		least = leastShortAnswer
	}
	return len(falls) == 0 || middle(falls) >= least
}

// explained is the share of the signal's variance in [from, to) that is explained by two levels, that of
// the runs and that of the rest: 1 - SSW/SST.
func explained(sum sums, runs []workout.Span, from, to int) float64 {
	all := sum.part(from, to)
	var in moments
	for _, r := range runs {
		p := sum.part(r.From, r.To)
		in.n, in.y, in.yy = in.n+p.n, in.y+p.y, in.yy+p.yy
	}
	out := moments{n: all.n - in.n, y: all.y - in.y, yy: all.yy - in.yy}
	if all.spread() <= 0 {
		return 0
	}
	return 1 - (in.spread()+out.spread())/all.spread()
}
