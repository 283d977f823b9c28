package progression

import (
	"maps"
	"math/rand/v2"
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// draws is how often an assessment is repeated: with 400 a share is sure to about 0.05 (two standard
// errors of a proportion of one half).
const draws = 400

// normal95 is the 0.95 quantile of the normal distribution: that many standard errors lie between a
// value and either end of its 90 % interval.
const normal95 = 1.645

// input is something that an assessment rests on and that has an error.
type input int

const (
	maximalRate input = iota
	innerEdges
	whichSessions
	whichSensors
	answers
	slopeError
	fallNoise
	sameEffortNoise
	restingNoise
	inputs // how many there are
)

// code names the input that a verdict depends on.
func (i input) code() record.Code {
	return [inputs]record.Code{
		OnMaximum, OnEdges, OnSessions, OnSensors, OnAnswers, OnSlope, OnRecovery, OnSameEffort, OnResting,
	}[i]
}

// draw is one repetition: what varies, and by how much. The zero draw varies nothing.
type draw struct {
	*rand.Rand
	varies  [inputs]bool
	maximum float64 // of a standard normal distribution
	edges   float64 // between -1 and 1
}

func newDraw(from *rand.Rand, varies [inputs]bool) draw {
	d := draw{Rand: from, varies: varies}
	if varies[maximalRate] {
		d.maximum = d.NormFloat64()
	}
	if varies[innerEdges] {
		d.edges = 2*d.Float64() - 1
	}
	return d
}

// noise is a standard normal value when the input varies, else 0.
func (d draw) noise(of input) float64 {
	if !d.varies[of] {
		return 0
	}
	return d.NormFloat64()
}

// resampled draws as many of x as there are, with replacement, when the input varies.
func resampled[T any](d draw, of input, x []T) []T {
	if !d.varies[of] {
		return x
	}
	out := make([]T, len(x))
	for i := range out {
		out[i] = x[d.IntN(len(x))]
	}
	return out
}

// AssessOften is Assess with Robustness filled in; it costs some ten times as much.
//
// The assessment is repeated 400 times with its inputs drawn within their errors:
//
//   - The maximal heart rate is normal around its value with a standard deviation of 10.8 bpm when it
//     is estimated from age (Nes 2013) and 3 bpm when it was measured (common practice, no source).
//     Where thresholds, talk or the trainer anchor the zones, the inner edges lie instead anywhere
//     within 8 bpm of theirs (Nuuttila 2025). No edge ever moves by both. The whole person is drawn:
//     one deviation for all sessions.
//   - The sessions are those of the same weeks trained again. Their number, days and minutes are facts
//     and stay, and so do breaks, signs and what was concluded in earlier weeks. What each of them
//     said is drawn with replacement (bootstrap) from those that the rule rests on: the heart rate of
//     the main part, the drift, the bouts, the answers. As many answers and measurements stand
//     against a rule as before, so that none is missing by chance.
//   - Sessions with a doubtful sensor count for zone 1 or not, each with equal chances.
//   - Drift, check session, drop in 60 s, heart rate at the same effort and resting heart rate are
//     normal around their values, with the standard error behind their 90 % interval.
//
// What the verdict depends on most is the input which, varied alone, changes it most often. The random
// numbers follow from client, date and policy, so that the same assessment always says the same.
//
// Robustness is nil without a verdict, before a stage is set, and without heart-rate data. For a
// client whose heart rate does not lead only sessions and answers are drawn, and ByEffort says so.
func AssessOften(p policy.Policy, on workout.Date, r record.Record) record.Assessment {
	v := NewReview(p, on, r)
	a, f := v.assessment()
	if a.Verdict == nil || f == nil {
		return a
	}
	byEffort := !v.heartLeads()
	if !byEffort && !slices.ContainsFunc(v.stageIn, func(s record.Session) bool { return slices.ContainsFunc(s.Recordings, beats) }) {
		return a
	}
	s := v.repeatable(f)
	seed := workout.DigestOf([]byte(a.Client + "\n" + on.String() + "\n" + a.Policy))
	share := func(came map[record.Verdict]int, which ...input) float64 {
		var varies [inputs]bool
		for _, i := range which {
			varies[i] = true
		}
		from := rand.New(rand.NewChaCha8(seed))
		for range draws {
			came[s.verdict(newDraw(from, varies))]++
		}
		return float64(came[*a.Verdict]) / draws
	}
	var all []input
	most, least := input(-1), 1.0
	for i := range inputs {
		all = append(all, i)
		if alone := share(map[record.Verdict]int{}, i); alone < least {
			most, least = i, alone
		}
	}
	came := map[record.Verdict]int{}
	out := record.Robustness{SameVerdict: share(came, all...), Draws: draws, ByEffort: byEffort, DependsOn: OnNothing}
	for _, v := range slices.Sorted(maps.Keys(came)) {
		if n := float64(came[v]) / draws; v != *a.Verdict && n > out.OtherShare {
			out.Verdict, out.Other, out.OtherShare = *a.Verdict, v, n
		}
	}
	switch {
	case most >= 0:
		out.DependsOn = most.code()
	case out.SameVerdict < 1:
		out.DependsOn = OnSeveral
	}
	a.Robustness = &out
	return a
}

// repeatable is an assessment taken apart so that it can be repeated: the findings, those that
// errors can change, and how each of these follows from a draw.
type repeatable struct {
	findings *findings
	facts    circumstances
	steps    []func(draw)
}

// verdict repeats the assessment with one draw.
func (s repeatable) verdict(d draw) record.Verdict {
	for _, step := range s.steps {
		step(d)
	}
	return s.facts.weighing(s.findings).conclude()
}

// repeatable prepares the repetition; the findings are its own to change.
func (v Review) repeatable(observed *findings) repeatable {
	f := &findings{required: slices.Clone(observed.required), evidence: slices.Clone(observed.evidence), others: slices.Clone(observed.others)}
	s := repeatable{findings: f, facts: observed.facts}
	each := func(list []finding, id policy.ID, again func(draw, finding) finding) {
		for i, was := range list {
			if was.Rule == id && (was.Met != nil || id == policy.Zone) {
				s.steps = append(s.steps, func(d draw) { list[i] = again(d, was) })
			}
		}
	}
	each(f.evidence, policy.Zone, v.zoneAgain())
	if i := slices.IndexFunc(f.evidence, func(f finding) bool { return f.Rule == policy.Steady || f.Rule == policy.CheckSession }); i >= 0 {
		again := v.steadyAgain()
		s.steps = append(s.steps, func(d draw) { f.evidence[i] = again(d) })
	}
	each(f.others, policy.Fall, moved(fallNoise))
	each(f.evidence, policy.SameEffort, moved(sameEffortNoise))
	each(f.others, policy.Resting, moved(restingNoise))
	each(f.evidence, policy.BackInZone, v.backInZoneAgain())
	each(f.evidence, policy.Creep, v.creepAgain())
	each(f.required, policy.Effort, v.effortAgain(policy.Effort))
	each(f.required, policy.BoutEffort, v.effortAgain(policy.BoutEffort))
	if slices.ContainsFunc(f.required, func(x finding) bool { return x.Rule == policy.Forecast && x.Met != nil }) {
		each(f.required, policy.Forecast, v.forecastAgain())
	}
	each(f.required, policy.UsualEffort, usualAgain)
	each(f.required, policy.IntervalSessions, v.intervalsAgain())
	each(f.others, policy.FailedSessions, v.failedAgain())
	// What follows from other findings comes last.
	for i := range f.required {
		if f.required[i].Rule == policy.EnoughEvidence {
			s.steps = append(s.steps, func(draw) { f.required[i].Met = v.enough(f.evidence) })
		}
	}
	if again := v.tirednessRepeated(f); again != nil {
		s.steps = append(s.steps, again)
	}
	return s
}

// moved gives the finding again with its observed value moved within its error.
func moved(by input) func(draw, finding) finding {
	return func(d draw, was finding) finding { return was.moved(d.noise(by)) }
}

// moved shifts observed value and interval by a number of standard errors and judges again.
func (f finding) moved(errors float64) finding {
	if f.Low == nil || f.Observed == nil || errors == 0 {
		return f
	}
	by := errors * (*f.High - *f.Low) / (2 * normal95)
	return f.judged(*f.Observed+by, *f.Low+by, *f.High+by)
}

// judged is the finding with another observed value and its interval.
func (f finding) judged(observed, low, high float64) finding {
	met := policy.Within(observed, f.Is, *f.Threshold)
	f.Observed, f.Met = &observed, &met
	return f.interval(low, high)
}
