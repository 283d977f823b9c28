package progression

import (
	"cmp"
	"math"
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// plainEffort is the rule on effort and talk in stage 1.
func (v Review) plainEffort() finding {
	rule, f := v.begin(policy.Effort)
	sessions := v.recent(*rule.Window)
	f = v.judgeEffort(rule, f, sessions, true)
	if f.IsUnmet() {
		return f
	}
	// An answer about a day without a session that counts can count against, never for.
	for _, n := range v.Record.Notes {
		known := slices.ContainsFunc(v.Sessions, func(s record.Session) bool { return s.Date == n.Date })
		if n.RPE != nil && !known && n.Date >= f.From && rule.TooHard(*n.RPE) {
			limit := rule.EffortLimit(n.RPE.Scale)
			f.Points, f.Threshold, f.needed = append(f.Points, record.Point{Date: n.Date, Value: n.RPE.Value}), &limit, record.Fact{}
			return f.told(n.RPE.Value, false, StrayEffort, record.Args{"effort": n.RPE.Value, "scale": n.RPE.Scale, "on": n.Date, "limit": rule.Hardest(n.RPE.Scale)})
		}
	}
	return f
}

// An answer is what one session says about effort and talk, held against a rule.
type answer struct {
	rated   bool // an effort was given
	beyond  bool // it is above the limit
	tooHard bool // it is above what no answer may be
	// wellWithin says that it is at least two points below the limit.
	wellWithin bool
	uneasy     bool // talking was not comfortable
}

// answered holds the answers about sessions against a rule.
func answered(rule policy.Rule, sessions []record.Session, withTalk bool) []answer {
	var out []answer
	for _, s := range sessions {
		talked := withTalk && s.Talk != record.NotAsked
		if s.RPE == nil && !talked {
			continue
		}
		a := answer{rated: s.RPE != nil, uneasy: talked && s.Talk != record.TalkComfortable}
		if a.rated {
			a.beyond, a.tooHard = !rule.EffortWithin(*s.RPE), rule.TooHard(*s.RPE)
			a.wellWithin = s.RPE.Value <= rule.EffortLimit(s.RPE.Scale)-2
		}
		out = append(out, a)
	}
	return out
}

// kept says that most of the answers lie within the limit, none is far above it, and talking was
// always comfortable. One answer just above the limit among many is what the same effort gives by
// chance: whole points, and days that differ.
func kept(all []answer) bool {
	rated, beyond := 0, 0
	for _, a := range all {
		if a.tooHard || a.uneasy {
			return false
		}
		if a.rated {
			rated++
		}
		if a.beyond {
			beyond++
		}
	}
	return beyond == 0 || 2*beyond < rated
}

// effortAgain repeats a rule on effort with other answers, as many as there were.
func (v Review) effortAgain(id policy.ID) func(draw, finding) finding {
	rule := v.Policy.Rule(id)
	sessions, withTalk := v.recent(*rule.Window), true
	if id == policy.BoutEffort {
		sessions, withTalk = v.boutSessions(*rule.Window), false
	}
	given := answered(rule, sessions, withTalk)
	return func(d draw, was finding) finding {
		met := kept(resampled(d, answers, given))
		was.Met = &met
		if met && len(given) < int(rule.More["answers"]) {
			was.Met = nil
		}
		return was
	}
}

// judgeEffort holds the answers against the limit, each on its own scale: the middle one must be
// within it and none far above. Keeping it needs enough answers.
func (v Review) judgeEffort(rule policy.Rule, f finding, sessions []record.Session, withTalk bool) finding {
	all := answered(rule, sessions, withTalk)
	asked, n := int(rule.More["answers"]), len(all)
	uneasy := len(record.Keep(all, func(a answer) bool { return a.uneasy }))
	var efforts []workout.RPE
	for _, s := range sessions {
		if s.RPE != nil || withTalk && s.Talk != record.NotAsked {
			f.Workouts = append(f.Workouts, s.IDs()...)
		}
		if s.RPE != nil {
			efforts = append(efforts, *s.RPE)
		}
	}
	middle, worst := byEffort(rule, efforts)
	if middle != nil {
		shown := middle
		if rule.TooHard(*worst) {
			shown = worst
		}
		value, limit := shown.Value, rule.EffortLimit(shown.Scale) // one limit, whichever answer is shown
		f.Observed, f.Threshold = &value, &limit
		for _, s := range sessions {
			if s.RPE != nil && s.RPE.Scale == shown.Scale {
				f.Points = append(f.Points, record.Point{Date: s.Date, Value: s.RPE.Value})
			}
		}
	}
	args := record.Args{"answers": n, "twice": answersTwice(sessions)}
	if worst != nil {
		args["worst"], args["scale"], args["limit"] = worst.Value, worst.Scale, *f.Threshold
	}
	switch {
	case worst != nil && rule.TooHard(*worst):
		args["usual"], args["limit"] = args["limit"], rule.Hardest(worst.Scale)
		return f.stated(false, EffortTooHard, args)
	case uneasy > 0:
		return f.stated(false, TalkUneasy, record.Args{"uneasy": uneasy, "answers": n})
	case !kept(all):
		args["over"] = len(record.Keep(all, func(a answer) bool { return a.beyond }))
		return f.stated(false, EffortOftenHard, args)
	case n < asked:
		few := FewAnswers
		if !withTalk {
			few = FewBoutAnswers
		}
		f = f.open(need(NeedEffort), few, record.Args{"answers": n, "needed": asked, "days": *rule.Window})
		return f.unless(v.early(n, len(sessions)))
	case worst == nil:
		return f.stated(true, TalkEasy, record.Args{"answers": n})
	case !rule.EffortWithin(*worst):
		return f.stated(true, EffortMostlyKept, args)
	}
	return f.stated(true, EffortKept, args)
}

// byEffort gives the middle answer (of an even number the harder one) and the hardest, by how far
// each lies above the limit of its own scale; nil without any.
func byEffort(rule policy.Rule, efforts []workout.RPE) (middle, worst *workout.RPE) {
	if len(efforts) == 0 {
		return nil, nil
	}
	above := func(e workout.RPE) float64 { return e.Value - rule.EffortLimit(e.Scale) }
	sorted := slices.SortedStableFunc(slices.Values(efforts), func(a, b workout.RPE) int { return cmp.Compare(above(a), above(b)) })
	return &sorted[len(sorted)/2], &sorted[len(sorted)-1]
}

// answersTwice says, of the latest session with unlike answers, that the hardest counts; nil for none.
func answersTwice(sessions []record.Session) record.Facts {
	for i := len(sessions) - 1; i >= 0; i-- {
		s := sessions[i]
		if len(s.Efforts) < 2 || slices.Equal(s.Efforts, slices.Repeat(s.Efforts[:1], len(s.Efforts))) {
			continue
		}
		var given record.Facts
		for j, e := range s.Efforts {
			scale := e.Scale
			if j+1 < len(s.Efforts) && s.Efforts[j+1].Scale == e.Scale {
				scale = 0 // named once, behind the last of several
			}
			given = append(given, record.Fact{Code: EffortGiven, Args: record.Args{"effort": e.Value, "scale": scale}})
		}
		return record.Facts{{Code: AnsweredTwice, Args: record.Args{"on": s.Date, "answers": given}}}
	}
	return nil
}

// asFelt are the rules on effort that decide on a move, and that on single answers where it is only shown. Where the
// heart rate does not lead, there are no beats to go by, and single answers decide.
func (v Review) asFelt() (decide, shown []finding) {
	id, single := policy.Effort, v.plainEffort
	if v.Stage > 1 {
		id, single = policy.BoutEffort, v.boutEffort
	}
	if v.Stage == 3 || !v.heartLeads() {
		return []finding{single()}, nil
	}
	if f := single(); v.Policy.On(id) {
		decide = append(decide, f)
	} else {
		f.Kind = policy.Informative
		shown = append(shown, f)
	}
	if v.Policy.On(policy.UsualEffort) {
		decide = append(decide, v.usualEffort())
	}
	if v.Policy.On(policy.Forecast) {
		decide = append(decide, v.forecast())
	}
	return decide, shown
}

// usualEffort is the rule on the mean of the answers about steady sessions, and in stage 2 about those with bouts.
func (v Review) usualEffort() finding {
	rule, f := v.begin(policy.UsualEffort)
	limit20, limit10 := *rule.Threshold, *rule.Threshold10
	asked, few := int(rule.More["answers"]), FewAnswers
	all, bouts := v.byKind(v.recent(*rule.Window))
	if v.Stage == 2 {
		limit20, limit10 = rule.More["bouts"], rule.More["bouts_10"]
		all = record.Keep(bouts, func(s record.Session) bool { _, seen := v.asInterval(s); return seen })
		asked, few = int(rule.More["bout_answers"]), FewBoutAnswers
	}
	limit := limit20
	var above []float64
	talked, uneasy, no := 0, 0, 0
	for _, s := range all {
		if v.Stage == 1 && s.Talk != record.NotAsked {
			talked++
			uneasy += one(s.Talk != record.TalkComfortable)
			no += one(s.Talk == record.TalkNo)
		}
		if s.RPE == nil {
			continue
		}
		if limit = limit20; s.RPE.Scale == 10 {
			limit = limit10
		}
		above = append(above, s.RPE.Value-limit)
		f.rests(s, s.RPE.Value)
	}
	f.Threshold = &limit
	for i := range f.Points { // on the scale of the last one
		f.Points[i].Value = limit + above[i]
	}
	n := len(above)
	switch {
	case no > 0 || 100*float64(uneasy) > rule.More["uneasy_percent"]*float64(talked):
		return f.stated(false, TalkUneasy, record.Args{"uneasy": uneasy, "answers": talked})
	case n < asked:
		return f.open(need(NeedEffort), few, record.Args{"answers": n, "needed": asked, "days": *rule.Window}).unless(v.early(n, len(all)))
	}
	usual := limit + mean(above)
	return f.told(usual, policy.Within(usual, policy.AtMost, limit), UsualEffortSays, record.Args{"answers": n, "days": *rule.Window, "usual": usual, "limit": limit})
}

// usualAgain repeats the rule on the mean with other answers, as many as there were.
func usualAgain(d draw, was finding) finding {
	if was.Observed == nil {
		return was
	}
	sum := 0.0
	for _, p := range resampled(d, answers, was.Points) {
		sum += p.Value
	}
	met := sum <= *was.Threshold*float64(len(was.Points))+1e-9
	was.Met = &met
	return was
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// boutEffort is the rule on the effort of interval sessions.
func (v Review) boutEffort() finding {
	rule, f := v.begin(policy.BoutEffort)
	sessions := v.boutSessions(*rule.Window)
	if len(sessions) == 0 { // the rule on interval sessions says what to record
		return f.open(record.Fact{}, NoBoutsToRate, nil)
	}
	return v.judgeEffort(rule, f, sessions, false)
}

// boutSessions lists the interval sessions of the last n days that count.
func (v Review) boutSessions(n int) []record.Session {
	var out []record.Session
	for _, s := range v.intervalSessions(n) {
		out = append(out, s.Session)
	}
	return out
}

// enjoyment counts low answers among the last ones.
func (v Review) enjoyment() finding {
	rule, f := v.begin(policy.Enjoyment)
	asked := record.Keep(v.recent(*rule.Window), func(s record.Session) bool { return s.Enjoyment > 0 })
	of := int(rule.More["of"])
	if len(asked) < of {
		return f.open(record.Fact{}, FewEnjoyment, record.Args{"answers": len(asked), "needed": of})
	}
	low := 0.0
	for _, s := range asked[len(asked)-of:] {
		f.rests(s, float64(s.Enjoyment))
		if float64(s.Enjoyment) <= rule.More["low"] {
			low++
		}
	}
	args := record.Args{"low": low, "of": of, "limit": rule.More["low"]}
	if !rule.Keeps(low) {
		return f.told(low, false, EnjoymentLow, args)
	}
	return f.told(low, true, Enjoyment, args)
}

// WithinEffort says that the sessions of a week were not harder than their rules allow, where the
// client was asked.
func (v Review) WithinEffort(week []record.Session) bool {
	steady, bouts := v.bothKinds(week)
	return kept(steady) && kept(bouts)
}

// BoutsFelt says that at least half of the answers about the interval sessions of a week are above the limit, or
// that all lie well within it: at least two points below.
func (v Review) BoutsFelt(week []record.Session) (hard, easy bool) {
	_, bouts := v.bothKinds(week)
	rated := record.Keep(bouts, func(a answer) bool { return a.rated })
	beyond := len(record.Keep(rated, func(a answer) bool { return a.beyond }))
	easy = len(rated) > 0 && !slices.ContainsFunc(rated, func(a answer) bool { return !a.wellWithin })
	return beyond > 0 && 2*beyond >= len(rated), easy
}

// TooHard says, of the comfortable sessions of a week and of those with bouts, that in at least half of the answers
// the effort was above what no answer should be above, or talking was not comfortable. One comfortable session among
// others says too little.
func (v Review) TooHard(week []record.Session) (steady, bouts bool) {
	mostly := func(all []answer, least int) bool {
		hard := record.Keep(all, func(a answer) bool { return a.tooHard || a.uneasy })
		return len(hard) >= least && 2*len(hard) >= len(all)
	}
	ofSteady, ofBouts := v.bothKinds(week)
	return mostly(ofSteady, min(2, max(1, len(week)))), mostly(ofBouts, 1)
}

// bothKinds holds the answers about a week against the rules for steady sessions and for those with
// bouts. A session in which no bouts were seen may be one of the prescribed ones all the same: of such
// sessions the hardest count as these, as many as are missing.
func (v Review) bothKinds(week []record.Session) (steady, bouts []answer) {
	plain, seen := v.byKind(week)
	return answered(v.Policy.Rule(policy.Effort), plain, true), answered(v.Policy.Rule(policy.BoutEffort), seen, false)
}

// byKind parts sessions into steady ones and those with bouts, as bothKinds says.
func (v Review) byKind(sessions []record.Session) (plain, seen []record.Session) {
	easy := v.Policy.Rule(policy.Effort)
	found := map[workout.Date]int{} // interval sessions, by the first day of their plan
	planned := func(s record.Session) (*record.Prescription, bool) {
		p := v.Record.PlanFor(s.Date, s.Date)
		return p, p != nil && p.Intervals != nil
	}
	var unseen []record.Session
	for _, s := range sessions {
		p, with := planned(s)
		switch _, ok := v.asInterval(s); {
		case ok:
			seen = append(seen, s)
			found[p.From]++
		case with:
			unseen = append(unseen, s)
		default:
			plain = append(plain, s)
		}
	}
	slices.SortStableFunc(unseen, func(a, b record.Session) int { return cmp.Compare(aboveLimit(easy, b), aboveLimit(easy, a)) })
	for _, s := range unseen {
		if p, _ := planned(s); found[p.From] < p.Intervals.Count {
			found[p.From]++
			seen = append(seen, s)
		} else {
			plain = append(plain, s)
		}
	}
	return plain, seen
}

// aboveLimit is how far the effort of a session lies above a limit on its own scale, and talk that was not
// comfortable just above it.
func aboveLimit(rule policy.Rule, s record.Session) float64 {
	above := math.Inf(-1)
	if s.RPE != nil {
		above = s.RPE.Value - rule.EffortLimit(s.RPE.Scale)
	}
	if s.Talk != record.NotAsked && s.Talk != record.TalkComfortable {
		above = max(above, 0.5)
	}
	return above
}
