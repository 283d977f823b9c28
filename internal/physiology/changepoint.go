package physiology

import (
	"math"
	"slices"
)

// segment is a stretch [from, to) with one level.
type segment struct {
	from, to int
	level    float64 // mean of the known values; NaN when none is known
}

// candidate is a place where the last stretch may begin, with what is known up to there.
type candidate struct {
	at                      int
	best, v, squares, known float64
	// gone is where the candidate may no longer be used.
	gone int
}

// changePoints cuts y into stretches of constant mean by PELT (Killick, Fearnhead & Eckley 2012, JASA
// 107:1590): it minimises the sum of squared deviations from each stretch's mean plus penalty for every
// stretch, exactly, pruning candidates that can never again be best. Stretches have at least shortest
// values. NaN costs nothing and belongs to the stretch around it.
func changePoints(y []float64, penalty float64, shortest int) []segment {
	n := len(y)
	if n == 0 {
		return nil
	}
	shortest = min(shortest, n)
	sum := runningSums(y)
	best := make([]float64, n+1) // the least cost of y[:t], a penalty for each stretch included
	previous := make([]int, n+1)
	candidates := []candidate{{gone: n + 1}}
	for t := 1; t <= n; t++ {
		least, from := math.Inf(1), 0
		v, squares, known := sum.v[t], sum.squares[t], sum.known[t]
		for i := range candidates {
			c := &candidates[i]
			if t-c.at < shortest || t >= c.gone {
				continue
			}
			cost := c.best + penalty
			if k := known - c.known; k > 0 {
				d := v - c.v
				cost += max(0, squares-c.squares-d*d/k)
			}
			if cost < least {
				least, from = cost, c.at
			}
			// Beginning anew at t is cheaper from here on than going on from c. But a stretch that begins
			// at t ends at t+shortest at the earliest, so c may be needed until then.
			if cost-penalty > least && c.gone > n {
				c.gone = t + shortest
			}
		}
		best[t], previous[t] = least, from
		if t%64 == 0 {
			candidates = slices.DeleteFunc(candidates, func(c candidate) bool { return t >= c.gone })
		}
		if t >= shortest && t <= n-shortest {
			candidates = append(candidates, candidate{t, least, v, squares, known, n + 1})
		}
	}
	var out []segment
	for t := n; t > 0; t = previous[t] {
		out = append(out, segment{previous[t], t, sum.mean(previous[t], t)})
	}
	slices.Reverse(out)
	return out
}

// noise is a robust standard deviation of what differs from one value to the next: the median absolute
// difference / (0.6745 sqrt 2). Slow changes and the few large ones hardly count.
func noise(y []float64) float64 {
	var d []float64
	last := math.NaN()
	for _, v := range y {
		if math.IsNaN(v) {
			continue
		}
		if !math.IsNaN(last) {
			d = append(d, math.Abs(v-last))
		}
		last = v
	}
	if len(d) == 0 {
		return 0
	}
	slices.Sort(d)
	return median(d) / (0.6745 * math.Sqrt2)
}
