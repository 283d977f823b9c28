package rehearsal

import (
	"context"
	"fmt"
	"nextrung/internal/policy"
	"regexp"
	"slices"
	"strconv"
)

// Variation is the whole policy with one threshold changed, on the same clients.
type Variation struct {
	Rule  policy.ID `json:"rule"`
	Value float64   `json:"threshold"`
	Group
}

// Vary rehearses the policy once for each threshold of a rule. Prescriptions follow the changed
// policy too, so that each line is a whole rehearsal and not another reading of the same weeks.
func Vary(ctx context.Context, o Options, rule policy.ID, values []float64, progress func(done, all int)) ([]Variation, error) {
	var policies []policy.Policy
	for _, v := range values {
		p, err := with(o.Policy, rule, v)
		if err != nil {
			return nil, err
		}
		policies = append(policies, p)
	}
	var out []Variation
	for i, p := range policies {
		o.Policy = p
		lives, err := o.lives(ctx, []Way{Whole}, func(done, all int) {
			if progress != nil {
				progress(i*all+done, len(values)*all)
			}
		})
		if err != nil {
			return nil, err
		}
		out = append(out, Variation{rule, values[i], Group{"everybody", Count(under(Whole, lives), 0)}})
	}
	return out, nil
}

var (
	blockStart = regexp.MustCompile(`(?m)^[ \t]*\[\[`)
	hardest    = regexp.MustCompile(`(\bhardest[ \t]*=[ \t]*)[^\s,}]+`)
	threshold  = regexp.MustCompile(`(?m)^([ \t]*threshold[ \t]*=[ \t]*)[^\s#]+`)
)

// with is the policy with another threshold of one rule. The text is changed and read again, so that
// impossible values are refused as in a trainer's own file.
func with(p policy.Policy, rule policy.ID, value float64) (policy.Policy, error) {
	if !slices.Contains(policy.RuleIDs(), rule) {
		return p, fmt.Errorf("there is no rule %q", rule)
	}
	text := p.Text()
	id := regexp.MustCompile(`(?m)^[ \t]*id[ \t]*=[ \t]*["\']` + regexp.QuoteMeta(string(rule)) + `["\']`)
	starts := blockStart.FindAllStringIndex(text, -1)
	for i, at := range starts {
		from, to := at[0], len(text)
		if i+1 < len(starts) {
			to = starts[i+1][0]
		}
		block := text[from:to]
		if !id.MatchString(block) {
			continue
		}
		changed := threshold.ReplaceAllString(block, "${1}"+strconv.FormatFloat(value, 'g', -1, 64))
		if r := p.Rule(rule); r.More["hardest"] > 0 { // moves along, as far as the scale goes
			moved := max(value, min(20, r.More["hardest"]+value-*r.Threshold))
			changed = hardest.ReplaceAllString(changed, "${1}"+strconv.FormatFloat(moved, 'g', -1, 64))
		}
		out, err := policy.Parse([]byte(text[:from] + changed + text[to:]))
		if err != nil {
			return p, fmt.Errorf("threshold %g of %s: %w", value, rule, err)
		}
		if *out.Rule(rule).Threshold != value {
			return p, fmt.Errorf("the threshold of %s is written in a way that cannot be changed here; change it in the policy itself", rule)
		}
		return out, nil
	}
	return p, fmt.Errorf("the block of rule %q is written in a way that cannot be changed here; change it in the policy itself", rule)
}
