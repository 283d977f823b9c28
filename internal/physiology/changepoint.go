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

// changePoints cuts y into stretches of constant mean by PELT (Killick, Fearnhead & Eckley 2012, JASA
// 107:1590): it minimises the sum of squared deviations from each stretch's mean plus penalty for every
// change, exactly, pruning candidates that can never again be best. Stretches have at least shortest
// values. NaN costs nothing and belongs to the stretch around it.
func changePoints(y []float64, penalty float64, shortest int) []segment {
	n := len(y)
	if n == 0 {
		return nil
	}
	sum := runningSums(y)
	cost := func(a, b int) float64 {
		k := sum.known[b] - sum.known[a]
		if k == 0 {
			return 0
		}
		v := sum.v[b] - sum.v[a]
		return max(0, sum.squares[b]-sum.squares[a]-v*v/k)
	}
	best := make([]float64, n+1) // the least cost of y[:t], plus one penalty for each stretch
	previous := make([]int, n+1)
	for t := range best {
		best[t] = math.Inf(1)
	}
	best[0] = 0
	candidates := []int{0}
	for t := min(shortest, n); t <= n; t++ {
		for _, c := range candidates {
			if t-c < shortest && c > 0 {
				continue
			}
			if v := best[c] + cost(c, t) + penalty; v < best[t] {
				best[t], previous[t] = v, c
			}
		}
		// A candidate too young to have been tried may not be pruned.
		candidates = slices.DeleteFunc(candidates, func(c int) bool {
			return t-c >= shortest && best[c]+cost(c, t) > best[t]
		})
		if t <= n-shortest {
			candidates = append(candidates, t)
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
