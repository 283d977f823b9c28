package physiology

import (
	"slices"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// single is the one bout of a session without a series of them.
func (g signal) single(s heartrate.Series, w workout.Workout, levels []segment) (spans []workout.Span, by By) {
	if one := g.oneBout(s, levels); len(one) > 0 {
		return g.edges(s, one, w), g.by
	}
	if one, by := g.loneEffort(s, levels); by != "" {
		return []workout.Span{one}, by
	}
	return nil, ""
}

// oneBout is a single bout in the middle of an easier session, by the effort: of 3 to 10 min, clearly above what was
// done before and after it and above the session's level, and answered by heart rate, which is near its peak then. It may have
// short lulls, as the speed of any run has. Two of them are none, since it is not known which was meant.
func (g signal) oneBout(s heartrate.Series, levels []segment) []workout.Span {
	if g.by == ByHeartRate || len(levels) < 3 {
		return nil
	}
	var best workout.Span
	most, sum, all := oneExplained, runningSums(g.v), []workout.Span(nil)
	for i := 1; i+1 < len(levels); i++ {
		for j := i; j+1 < len(levels) && levels[j].to-levels[i].from <= oneLongest; j++ {
			span := workout.Span{From: levels[i].from, To: levels[j].to}
			if !g.isOne(s, sum, span, levels[i:j+1]) {
				continue
			}
			all = append(all, span)
			if x := explained(sum, []workout.Span{span}, 0, len(g.v)); x > most {
				best, most = span, x
			}
		}
	}
	if best.To == 0 || slices.ContainsFunc(all, func(o workout.Span) bool { return o.From >= best.To || o.To <= best.From }) {
		return nil
	}
	return []workout.Span{best}
}

// isOne says whether a span, made of those levels, is a bout by itself.
func (g signal) isOne(s heartrate.Series, sum sums, span workout.Span, levels []segment) bool {
	main, level := g.mainLevel(0, len(g.v)), sum.mean(span.From, span.To)
	before, after := sum.mean(max(0, span.From-oneAround), span.From), sum.mean(span.To, min(len(g.v), span.To+oneAround))
	if span.Seconds() < boutLong || float64(span.Seconds()) > oneShare*float64(len(g.v)) || min(before, after) < fallen*main || !(level-max(before, after, main) >= oneClear*g.clear(level)) {
		return false
	}
	lulls := 0
	for _, l := range levels {
		if l.level < (level+max(before, after, main))/2 {
			lulls += l.to - l.from
		}
	}
	top, lowest := heartRange(smooth(s))
	high, ok1 := s.PeakIn(span.From, span.To+20)
	start, ok2 := s.MeanIn(span.From-30, span.From)
	low, ok3 := s.LowIn(span.To, span.To+oneAround)
	return lulls <= oneLulls && ok1 && ok2 && ok3 && high-max(start, low) >= leastAnswer && high >= top-farBelow*(top-lowest)
}
