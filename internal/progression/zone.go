package progression

import (
	"math"

	"nextrung/internal/physiology"
)

// zone is the evidence that training keeps to zone 1: the share of the main parts below its top,
// pooled over the window. Time under zone 1 counts as kept. The interval is that of a ratio of
// sums over sessions (90 %):
//
//	p = sum b / sum t,  SE = sqrt(n/(n-1) sum (b - p t)^2) / sum t
func (v review) zone() finding {
	rule, f := v.begin("zone")
	var below, total []float64
	noEdges := false
	for _, s := range v.recent(*rule.Window) {
		kept, all := 0, 0
		for _, x := range s.Recordings {
			if !usable(x) {
				continue
			}
			edges := v.r.Client.Body(x.Date).Edges(x.Workout.Sport.Mode())
			if edges == nil {
				noEdges = true
				continue
			}
			kept += x.Measured.Main.PerBPM.Below(edges.BPM[1])
			all += x.Measured.Main.PerBPM.Total()
		}
		if all == 0 {
			continue
		}
		below, total = append(below, float64(kept)), append(total, float64(all))
		f.rests(s, 100*float64(kept)/float64(all))
	}
	asked := int(rule.More["sessions"])
	if len(total) < asked {
		needed := "Wear the heart-rate sensor in every session."
		if noEdges {
			needed = "Enter what the zones rest on: the date of birth, or a measured maximal heart rate."
		}
		f = f.untold(needed, "The heart rate was recorded in %s of the window; %d are needed.", several(len(total), "session"), asked)
		return f.unless(v.early(len(total), len(v.recent(*rule.Window))))
	}
	p, t := 0.0, 0.0
	for i := range total {
		p, t = p+below[i], t+total[i]
	}
	p /= t
	ss := 0.0
	for i := range total {
		ss += math.Pow(below[i]-p*total[i], 2)
	}
	n := float64(len(total))
	half := math.Inf(1)
	if n > 1 {
		half = physiology.StudentQuantile(float64(len(total)-1)) * math.Sqrt(n/(n-1)*ss) / t
	}
	f = f.told(100*p, rule.keeps(100*p), "%s %% of the main part of %s lay below the top of zone 1; at least %g %% are asked for.",
		number(100*p), several(len(total), "session"), *rule.Threshold)
	return f.interval(100*max(0, p-half), 100*min(1, p+half))
}
