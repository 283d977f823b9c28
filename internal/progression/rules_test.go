package progression_test

import (
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"slices"
	"testing"
)

// ruleCase is one rule at, just inside, just beyond its threshold, or without data.
type ruleCase struct {
	rule  policy.ID
	name  string
	story *story.Story
	want  string // "met", "unmet" or "untold"
}

func ruleCases() []ruleCase {
	return slices.Concat(gateCases(), volumeCases(), effortCases(), forecastCases(), heartCases(), intervalCases(), loadCases(), tirednessCases(), breakCases())
}

// assess judges the story of a case, by a policy in which its rule is on.
func (c ruleCase) assess() record.Assessment {
	if c.rule == policy.Forecast || c.rule == policy.UsualEffort {
		return by(c.rule, c.story)
	}
	return assess(c.story)
}

func TestRules(t *testing.T) {
	for _, c := range ruleCases() {
		t.Run(string(c.rule)+"/"+c.name, func(t *testing.T) {
			a := c.assess()
			r, ok := story.Reason(a, c.rule)
			if !ok {
				t.Fatalf("the assessment gives no reason for %s", c.rule)
			}
			if got := story.Met(r); got != c.want {
				t.Errorf("%s is %s, want %s: %s (observed %v)", c.rule, got, c.want, r.Says, value(r.Observed))
			}
			if r.Enough != (r.Met != nil) {
				t.Errorf("enough is %v for a rule that is %s", r.Enough, story.Met(r))
			}
		})
	}
}

func value(v *float64) any {
	if v == nil {
		return "nothing"
	}
	return *v
}

// alwaysTold lists the rules that have a result without any data: what is not on record counts as
// nothing on record there.
var alwaysTold = []policy.ID{
	"emergency-sign", "doctor-sign", "weeks", "interval-weeks", "break", "tired-sign", "illness", "tiredness", "tiredness-again",
	"failed-sessions", "long-break",
}

// TestEveryRuleIsTested asks for a case on each side of each rule, and one without data.
func TestEveryRuleIsTested(t *testing.T) {
	seen := map[policy.ID][]string{}
	for _, c := range ruleCases() {
		seen[c.rule] = append(seen[c.rule], c.want)
	}
	for _, id := range policy.RuleIDs() {
		for _, want := range []string{"met", "unmet", "untold"} {
			if want == "untold" && slices.Contains(alwaysTold, id) {
				continue
			}
			if id == policy.Screening && want == "unmet" {
				continue // unanswered is lacking, not against
			}
			if !slices.Contains(seen[id], want) {
				t.Errorf("no case of rule %s is %s", id, want)
			}
		}
	}
}

// TestReasonsFollowThePolicy holds what every reason carries against the policy's block.
func TestReasonsFollowThePolicy(t *testing.T) {
	for _, c := range ruleCases() {
		a := c.assess()
		for _, r := range a.Reasons {
			rule := defaults.Rule(r.Rule)
			if single := r.Rule == policy.Effort || r.Rule == policy.BoutEffort; single && r.Kind == policy.Informative {
				continue // where another rule on effort decides
			}
			if r.Kind != rule.Kind || r.Is != rule.Is || r.Unit != rule.Unit || r.Source != rule.Source || !slices.Contains(rule.Stages, a.Stage) {
				t.Fatalf("%s/%s: reason %+v does not follow its rule %+v", c.rule, c.name, r, rule)
			}
			if r.From > r.To || r.To != a.AsOf {
				t.Errorf("%s/%s: reason %s looks from %s to %s", c.rule, c.name, r.Rule, r.From, r.To)
			}
			if r.Workouts == nil {
				t.Errorf("%s/%s: reason %s has null workouts", c.rule, c.name, r.Rule)
			}
		}
	}
}
