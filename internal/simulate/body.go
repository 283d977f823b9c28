package simulate

import (
	"math"
	"math/rand/v2"
	"slices"

	"nextrung/internal/workout"
)

// played is a session as the body went through it, second by second from its own start.
type played struct {
	bpm   []float64 // with beat-to-beat noise
	clean []float64 // without it
	load  []float64
	drift []float64 // bpm per second added by the drift
	share []float64 // of the reserve that the load needs, with what drift adds
	steps []Done
	rpe   float64 // of the day and the person, to be added
}

// easy is the share of the reserve of an easy stroll or spin, used where a plan gives no band or only
// an upper limit for a warm-up, recovery or cool-down, and in the tail. Invented.
const easy = 0.25

// aim is the load that the athlete chooses for a step.
func (a Athlete) aim(m workout.Mode, s workout.Step, o Options) float64 {
	active := s.Kind == workout.Work || s.Kind == workout.Steady
	switch {
	case s.Kind == workout.Steady && o.Hold > 0:
		return o.Hold
	case s.Low > 0 || s.High > 0:
		middle := (s.Low + s.High) / 2
		switch {
		case s.Low == 0 && active:
			middle = s.High - 5
		case s.Low == 0:
			middle = min(s.High-5, a.At(easy))
		case s.High == 0:
			middle = s.Low + 5
		}
		if active {
			middle += o.Bias
		}
		return a.Load(m, middle)
	case s.Feel == workout.Hard:
		return a.Load(m, a.At((a.Talk2+1)/2)+o.Bias)
	case s.Feel == workout.Brisk:
		return a.Load(m, a.At((a.Talk1+a.Talk2)/2)+o.Bias)
	case active:
		return a.Load(m, a.At(a.Talk1-0.08)+o.Bias)
	}
	return a.Load(m, a.At(easy))
}

// run lets the body do the plan and, if asked, the tail.
func run(plan workout.Plan, a Athlete, o Options) played {
	rng := rand.New(rand.NewPCG(o.Seed, streamBody))
	steps := todo(plan, a, o)
	n := 0
	for _, s := range steps {
		n += s.Step.Seconds
	}
	for _, p := range o.Pauses {
		n += max(p.Seconds(), 0)
	}
	b := played{
		bpm: make([]float64, 0, n), clean: make([]float64, 0, n), load: make([]float64, 0, n),
		drift: make([]float64, 0, n), share: make([]float64, 0, n), rpe: a.Feels + o.DayRPE,
	}
	day := o.DayBPM + a.DayToDay*rng.NormFloat64()
	heat := 1.0
	if o.HeatC > 22 {
		heat += (o.HeatC - 22) * 4 / 13
	}
	idle := a.Rest + a.Upright + day
	slower := math.Exp(a.FallDay * rng.NormFloat64()) // today's fall against the usual
	up, fast, slow := decay(a.Rise), decay(a.Fast*slower), decay(a.Slow*slower)
	rest := decay(300)
	var (
		quick, calm   float64 // the two parts of heart rate above idle
		drift, wobble float64
		beat          float64
		exercise      int
		paused        int
	)
	for i := range steps {
		s := &steps[i]
		s.From = len(b.bpm)
		for done := 0; done < s.Step.Seconds; {
			k := len(b.bpm)
			load := s.Load
			if paused < len(o.Pauses) && k >= o.Pauses[paused].To {
				paused++
			}
			if paused < len(o.Pauses) && o.Pauses[paused].Contains(k) {
				load = 0
			} else {
				done++
			}
			if a.Wobble > 0 {
				wobble = 0.9*wobble + a.Wobble*math.Sqrt(1-0.81)*rng.NormFloat64()
				load = math.Max(0, load*(1+wobble))
			}
			b.load = append(b.load, load)

			felt := b.load[max(k-a.Delay, 0)]
			if k < a.Delay {
				felt = 0
			}
			demand := a.Gain[plan.Mode] * felt
			share := a.Share(math.Min(a.Max, a.Rest+a.Upright+demand))
			grow := 0.0
			switch {
			case felt <= 0:
				drift *= 1 - rest
			case exercise >= 600:
				grow = a.Drift / 600 * share / 0.5 * heat
				drift += grow
			}
			if felt > 0 {
				exercise++
			}
			above := math.Min(demand+drift, a.Max-idle)
			quick = follow(quick, a.FastShare*above, up, fast)
			calm = follow(calm, (1-a.FastShare)*above, up, slow)

			clean := idle + quick + calm
			beat = 0.8*beat + a.BeatToBeat*0.6*rng.NormFloat64()
			b.clean = append(b.clean, clean)
			b.bpm = append(b.bpm, clean+beat)
			b.drift = append(b.drift, grow)
			b.share = append(b.share, share+drift/(a.Max-a.Rest))
		}
		s.To = len(b.bpm)
	}
	b.steps = steps
	return b
}

// todo writes out the steps with the loads aimed for, and the tail as a last step.
func todo(plan workout.Plan, a Athlete, o Options) []Done {
	steps := make([]Done, 0, len(plan.Steps)+1)
	bouts := len(plan.Bouts())
	for _, s := range plan.Steps {
		d := Done{Step: s, Load: a.aim(plan.Mode, s, o)}
		if s.Kind == workout.Work {
			if bouts <= o.Skip {
				d.Step.Kind = workout.Recovery
				d.Load = a.Load(plan.Mode, a.At(easy))
			}
			bouts--
		}
		steps = append(steps, d)
	}
	if o.Tail > 0 {
		d := Done{Step: workout.Step{Kind: workout.OtherPart, Seconds: o.Tail}}
		if !o.Still {
			d.Load = a.Load(plan.Mode, a.At(easy))
		}
		steps = append(steps, d)
	}
	return steps
}

// decay is the share of the distance to a target that is covered in one second.
func decay(tau float64) float64 { return 1 - math.Exp(-1/tau) }

// follow moves one part of heart rate a second nearer to its target.
func follow(h, target, up, down float64) float64 {
	if target > h {
		return h + (target-h)*up
	}
	return h + (target-h)*down
}

// truth reads what was true off the body, in seconds since second begin.
func (b played) truth(a Athlete, begin int) Truth {
	t := Truth{BPM: b.bpm, Load: b.load, Steps: slices.Clone(b.steps), Rise: a.Rise}
	var longest Done // of the steady steps
	for i, s := range b.steps {
		if s.Step.Kind == workout.Steady && s.Seconds() > longest.Seconds() {
			longest = s
		}
		effort := s.Step.Kind == workout.Work || s.Step.Kind == workout.Steady
		if effort && s.To > s.From && i+1 < len(b.steps) && b.steps[i+1].Load < s.Load {
			t.Falls = append(t.Falls, b.fall(s.To-1, b.rises(i+1)))
		}
	}
	sum, n := 0.0, 0
	for k := longest.From; k < longest.To; k++ {
		if b.drift[k] > 0 {
			if n == 0 {
				t.DriftSpan = workout.Span{From: k, To: longest.To}
			}
			sum, n = sum+b.drift[k], n+1
		}
	}
	if n > 0 {
		t.Drift = sum / float64(n) * 600
	}
	t.Share = b.felt()
	t.RPE = math.Round(min(max(a.rates(t.Share)+b.rpe, 6), 20))
	switch t.Talk = "no"; {
	case t.Share < a.Talk1:
		t.Talk = "comfortable"
	case t.Share < a.Talk2:
		t.Talk = "hard"
	}
	return t.moved(begin)
}

// rises is the second at which load first rises after step i began, or the end.
func (b played) rises(i int) int {
	for j := i + 1; j < len(b.steps); j++ {
		if b.steps[j].Load > b.steps[j-1].Load {
			return b.steps[j].From
		}
	}
	return len(b.clean)
}

// fall measures the fall after a stop, as far as it goes before the next rise of load.
func (b played) fall(stop, until int) Fall {
	drop := func(s int) float64 {
		if stop+s < until {
			return b.clean[stop] - b.clean[stop+s]
		}
		return math.NaN()
	}
	return Fall{stop, b.clean[stop], drop(60), drop(120)}
}

// felt is the share of the reserve that the athlete would rate: of interval sessions the ends of the
// bouts, of others the mean of the steady steps, of neither the whole. What drift adds is felt too.
func (b played) felt() float64 {
	bouts := slices.ContainsFunc(b.steps, func(s Done) bool { return s.Step.Kind == workout.Work })
	var felt []float64
	for _, s := range b.steps {
		switch {
		case bouts && s.Step.Kind == workout.Work:
			felt = append(felt, b.share[max(s.From, s.To-30):s.To]...)
		case !bouts && s.Step.Kind == workout.Steady:
			felt = append(felt, b.share[s.From:s.To]...)
		}
	}
	if len(felt) == 0 {
		felt = b.share
	}
	sum := 0.0
	for _, share := range felt {
		sum += share
	}
	return sum / float64(max(1, len(felt)))
}

// moved counts from d seconds later.
func (t Truth) moved(d int) Truth {
	d = min(d, len(t.BPM))
	t.BPM, t.Load = t.BPM[d:], t.Load[d:]
	for i := range t.Steps {
		t.Steps[i].Span = moved(t.Steps[i].Span, d)
	}
	for i := range t.Falls {
		t.Falls[i].Stop -= d
	}
	for i := range t.Faults {
		t.Faults[i].Span = moved(t.Faults[i].Span, d)
	}
	if t.DriftSpan.Seconds() > 0 {
		t.DriftSpan = moved(t.DriftSpan, d)
		t.DriftSpan.From = max(t.DriftSpan.From, 0)
	}
	return t
}
