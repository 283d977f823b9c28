// Package policy owns the policy file: its rules with their numbers, units, windows and sources, what
// it may contain, where a mistake is, and every rule in plain words. Applying the rules to a client
// belongs to package progression.
package policy

import (
	"bytes"
	_ "embed" // the default policy is a file
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"nextrung/internal/workout"
)

//go:embed policy.toml
var defaultPolicy string

// Policy is the text of the rules and what was read from it.
type Policy struct {
	Rules []Rule
	text  string
}

// Rule is one block of the policy.
type Rule struct {
	ID       ID     `toml:"id"`
	Kind     Kind   `toml:"kind"`
	Stages   []int  `toml:"stage"`
	Sentence string `toml:"sentence"`
	Is       Bound  `toml:"is"`
	// On is false for one of the rules that may be switched off; nil is on.
	On *bool `toml:"on"`
	// Absent says that the file has no block of the rule, because it is older than the rule: it is as in a new book, but off.
	Absent bool `toml:"-"`
	// Threshold is what the observed value is compared with, Threshold10 the same for effort on the
	// 0-10 scale.
	Threshold   *float64 `toml:"threshold"`
	Threshold10 *float64 `toml:"threshold_10"`
	Unit        Unit     `toml:"unit"`
	// Window is the number of days looked at, paused days left out; 0 means since the stage began.
	Window *int   `toml:"window_days"`
	Source string `toml:"source"`
	// FromMemory names the part that was written down from memory of the source; "" for none.
	FromMemory string `toml:"from_memory"`
	// More holds the other numbers of the rule by name.
	More map[string]float64 `toml:"more"`
}

// Bound says on which side of its threshold a rule is met.
type Bound string

// The bounds.
const (
	AtMost  Bound = "at most"
	AtLeast Bound = "at least"
)

// Unit is that of a threshold, as the policy file spells it.
type Unit string

// UnitRPE is the unit of perceived effort, UnitTimes that of how often something was seen.
const (
	UnitRPE   Unit = "RPE"
	UnitTimes Unit = "times"
)

// singular is a unit after the number 1.
var singular = map[Unit]Unit{
	"signs": "sign", "signs with a report": "sign with a report", "screenings": "screening", "months": "month", "weeks": "week",
	"sessions": "session", "sessions a week": "session a week", "days without a session": "day without a session",
	"rules met": "rule met", "low answers": "low answer",
}

// Of is the unit as it is written after a value: "1 week", "2 weeks".
func (u Unit) Of(v float64) Unit {
	if one := singular[u]; one != "" && v == 1 {
		return one
	}
	return u
}

// Share says that the unit is a share, in percent, of something: no more than 100.
func (u Unit) Share() bool {
	return slices.Contains([]Unit{"% of the main part", "% of bouts", "% of the bouts", "% of the prescription"}, u)
}

// DefaultPolicyText is the policy as it is written for a new book.
func DefaultText() []byte { return []byte(defaultPolicy) }

// Default is the policy of a new book, which may be changed without changing the next one.
func Default() Policy {
	p := parsed()
	p.Rules = slices.Clone(p.Rules)
	for i := range p.Rules {
		r := &p.Rules[i]
		r.Stages, r.More = slices.Clone(r.Stages), maps.Clone(r.More)
		r.Threshold, r.Threshold10, r.Window, r.On = copied(r.Threshold), copied(r.Threshold10), copied(r.Window), copied(r.On)
	}
	return p
}

// parsed reads the embedded text once: finding the places of its keys takes longer than an assessment.
var parsed = sync.OnceValue(func() Policy {
	p, err := Parse(DefaultText())
	if err != nil {
		panic(err) // the embedded text is tested
	}
	return p
})

func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	return new(*p)
}

// Digest names the policy's text: "sha256:" and 64 hexadecimal digits.
func (p Policy) Digest() string { return "sha256:" + workout.DigestOf([]byte(p.text)).String() }

// Text is what the policy was read from.
func (p Policy) Text() string { return p.text }

// Rule gives one rule by its id; ParsePolicy has made sure that every id of the program is there.
func (p Policy) Rule(id ID) Rule {
	for _, r := range p.Rules {
		if r.ID == id {
			return r
		}
	}
	panic("policy without rule " + string(id))
}

// mostText is the size in bytes of a policy with room for many remarks; the default has 15 kB.
const mostText = 128 << 10

// Load reads the text of a policy from a file, and no more of it than Parse takes.
func Load(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, mostText+1))
}

// Parse reads a policy. Mistakes are refused with line and column: an unknown key or
// rule, a missing or doubled one, a missing unit or source, a number outside what the rule can mean.
func Parse(text []byte) (Policy, error) {
	if len(text) > mostText {
		return Policy{}, fmt.Errorf("the policy is larger than %d kB: it needs one block for each rule, and no more", mostText>>10)
	}
	rules, err := blocks(text)
	if err != nil {
		return Policy{}, placed(err)
	}
	where, err := places(text)
	if err != nil {
		return Policy{}, err
	}
	p := Policy{Rules: rules, text: string(text)}
	seen := map[ID]bool{}
	for i, r := range p.Rules {
		s, known := specOf(r.ID)
		switch {
		case r.ID == "":
			return Policy{}, fmt.Errorf("%s: the rule has no id", where.of(i, ""))
		case !known:
			return Policy{}, fmt.Errorf("%s: there is no rule %q; the rules are %s", where.of(i, "id"), r.ID, Listed(RuleIDs()))
		case seen[r.ID]:
			return Policy{}, fmt.Errorf("%s: rule %q is here a second time", where.of(i, "id"), r.ID)
		}
		seen[r.ID] = true
		r = r.completed()
		p.Rules[i] = r
		if key, why := s.fault(r); why != "" {
			return Policy{}, &Impossible{where.of(i, key), r.ID, key, why}
		}
	}
	for _, id := range RuleIDs() {
		if newer := slices.Contains(laterRules, id); newer && !seen[id] {
			p.Rules = append(p.Rules, switchedOff(id))
			continue
		}
		if !seen[id] {
			return Policy{}, fmt.Errorf("%s: rule %q is missing; put its block back", Position{1 + bytes.Count(text, []byte("\n")), 1}, id)
		}
	}
	for _, one := range judges {
		if !slices.ContainsFunc(one, p.On) {
			i := slices.IndexFunc(p.Rules, func(r Rule) bool { return r.ID == one[0] })
			return Policy{}, &Impossible{where.of(i, "on"), one[0], "on", fmt.Sprintf("one of the rules %s must be on", Listed(one))}
		}
	}
	return p, nil
}

// blocks reads the rules of a text without judging them.
func blocks(text []byte) ([]Rule, error) {
	var file struct {
		Rule []Rule `toml:"rule"`
	}
	err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&file)
	return file.Rule, err
}

// switchedOff is a rule as in a new book, but off, for a file that is older than the rule.
func switchedOff(id ID) Rule {
	rules, _ := blocks(DefaultText()) // the embedded text is tested
	r := rules[slices.IndexFunc(rules, func(r Rule) bool { return r.ID == id })]
	r.On, r.Absent = new(false), true
	return r
}

// On says that a rule is applied to a move.
func (p Policy) On(id ID) bool { return p.Rule(id).IsOn() }

// IsOn says that the rule is applied to a move.
func (r Rule) IsOn() bool { return r.On == nil || *r.On }

// Impossible is what a rule cannot be.
type Impossible struct {
	Position
	Rule ID
	Key  string // "threshold", "more.weeks"
	Why  string
}

// Error names the place in the file.
func (i *Impossible) Error() string { return fmt.Sprintf("%s: rule %q: %s", i.Position, i.Rule, i.Why) }

// placed puts line and column in front of what the TOML reader found.
func placed(err error) error {
	var unknown *toml.StrictMissingError
	if errors.As(err, &unknown) && len(unknown.Errors) > 0 {
		line, column := unknown.Errors[0].Position()
		return fmt.Errorf("%s: unknown key %q", Position{line, column}, strings.Join(unknown.Errors[0].Key(), "."))
	}
	var bad *toml.DecodeError
	if errors.As(err, &bad) {
		line, column := bad.Position()
		return fmt.Errorf("%s: %s", Position{line, column}, plainly(strings.TrimPrefix(bad.Error(), "toml: ")))
	}
	return err
}

// plainly describes the most common mistakes in plain words, and leaves the rest as the reader words it.
func plainly(fault string) string {
	text := strings.Contains(fault, "string") || strings.Contains(fault, "of type policy.")
	switch {
	case strings.Contains(fault, "cannot decode TOML string into") && (strings.Contains(fault, "float64") || strings.Contains(fault, "int")):
		return "a number is expected, without quotation marks"
	case strings.Contains(fault, "U+002C"):
		return "write the number with a point, not a comma"
	case strings.Contains(fault, "float64 into") && text, strings.Contains(fault, "integer into") && text:
		return "a text is expected, in quotation marks"
	}
	return fault
}

// Position is a place in the policy's text; both count from 1.
type Position struct {
	Line   int `json:"line"`
	Column int `json:"column"`
}

// String writes a position for an error: "line 3, column 1".
func (p Position) String() string { return fmt.Sprintf("line %d, column %d", p.Line, p.Column) }

// positions holds, for each rule in file order, where its block and its keys stand.
type positions []map[string]Position

// of gives the place of a key, or of the block when the key is not there.
func (p positions) of(rule int, key string) Position {
	if rule >= len(p) { // a rule that the file does not have
		return Position{1, 1}
	}
	if at, ok := p[rule][key]; ok {
		return at
	}
	return p[rule][""]
}

// places finds the keys of the text; it has been decoded before, so it is valid. Rules can also stand in one list,
// rule = [{...}], or under [rule], which is refused: every rule has its block, so that a mistake in it has a place.
func places(text []byte) (positions, error) {
	var out positions
	var p unstable.Parser
	table := "" // "more." after [rule.more]
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		if len(out) == 0 && e.Kind != unstable.ArrayTable {
			return nil, fmt.Errorf("%s: write each rule as a block of its own, under a line [[rule]]", keyPlace(&p, e.Key()))
		}
		switch e.Kind {
		case unstable.ArrayTable:
			out, table = append(out, map[string]Position{"": keyPlace(&p, e.Key())}), ""
		case unstable.Table:
			_, table, _ = strings.Cut(keyName(e.Key())+".", ".")
		case unstable.KeyValue:
			block := out[len(out)-1]
			name := table + keyName(e.Key())
			block[name] = keyPlace(&p, e.Key())
			if e.Value().Kind == unstable.InlineTable {
				for in := e.Value().Children(); in.Next(); {
					block[name+"."+keyName(in.Node().Key())] = keyPlace(&p, in.Node().Key())
				}
			}
		}
	}
	return out, p.Error()
}

// Listed writes rules for people, by their ids.
func Listed(all []ID) string {
	var out []string
	for _, id := range all {
		out = append(out, string(id))
	}
	return strings.Join(out, ", ")
}

func keyName(it unstable.Iterator) string {
	var parts []string
	for it.Next() {
		parts = append(parts, string(it.Node().Data))
	}
	return strings.Join(parts, ".")
}

func keyPlace(p *unstable.Parser, it unstable.Iterator) Position {
	if !it.Next() {
		return Position{1, 1}
	}
	start := p.Shape(it.Node().Raw).Start
	return Position{start.Line, start.Column}
}

// Keeps compares a value with the rule's threshold.
func (r Rule) Keeps(v float64) bool { return Within(v, r.Is, *r.Threshold) }

// Within compares with a tolerance far below any unit, so that a value computed to the threshold
// counts as on it.
func Within(v float64, is Bound, threshold float64) bool {
	const rounding = 1e-9
	if is == AtMost {
		return v <= threshold+rounding
	}
	return v >= threshold-rounding
}

// EffortWithin compares an effort with the threshold on its own scale.
func (r Rule) EffortWithin(e workout.RPE) bool { return e.Value <= r.EffortLimit(e.Scale) }

func (r Rule) EffortLimit(scale int) float64 {
	if scale == 10 {
		return *r.Threshold10
	}
	return *r.Threshold
}

// Hardest is the effort that no single answer may be above.
func (r Rule) Hardest(scale int) float64 {
	if scale == 10 {
		return r.More["hardest_10"]
	}
	return r.More["hardest"]
}

func (r Rule) TooHard(e workout.RPE) bool { return e.Value > r.Hardest(e.Scale) }
