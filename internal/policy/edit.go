package policy

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// With is the policy with other numbers in its text, which is otherwise unchanged. Numbers are given by rule and key:
// "threshold", "window_days", "more.weeks". What the file does not hold, or what a rule cannot be, is refused.
func (p Policy) With(numbers map[ID]map[string]float64) (Policy, error) {
	text := []byte(p.text)
	places, err := numbersIn(text)
	if err != nil {
		return Policy{}, err
	}
	where, err := placesOf(p)
	if err != nil {
		return Policy{}, err
	}
	type edit struct {
		at    unstable.Range
		value string
	}
	var edits []edit
	for id, keys := range numbers {
		for key, v := range keys {
			at, ok := places[id][key]
			if !ok {
				return Policy{}, fmt.Errorf("rule %q has no number %q in this file", id, key)
			}
			if l := limitsOf(id, key); !l.allow(v) { // before it is written: not every value can be
				return Policy{}, &Impossible{where(id, key), id, key, l.says(key, v)}
			}
			edits = append(edits, edit{at, strconv.FormatFloat(v, 'f', -1, 64)})
		}
	}
	slices.SortFunc(edits, func(a, b edit) int { return int(b.at.Offset) - int(a.at.Offset) }) // from the end, so that places stay
	for _, e := range edits {
		text = slices.Concat(text[:e.at.Offset], []byte(e.value), text[e.at.Offset+e.at.Length:])
	}
	return Parse(text)
}

// placesOf gives the places of keys by rule.
func placesOf(p Policy) (func(ID, string) Position, error) {
	where, err := places([]byte(p.text))
	return func(id ID, key string) Position {
		return where.of(slices.IndexFunc(p.Rules, func(r Rule) bool { return r.ID == id }), key)
	}, err
}

// limitsOf is the range in which a number of a rule must lie.
func limitsOf(id ID, key string) limits {
	s, _ := specOf(id)
	switch {
	case key == "threshold":
		return s.threshold
	case key == "threshold_10" && s.scale10 != nil:
		return *s.scale10
	case key == "window_days":
		return s.window
	}
	return s.more[strings.TrimPrefix(key, "more.")]
}

// numbersIn finds where the numbers of each rule stand in a text that was read before.
func numbersIn(text []byte) (map[ID]map[string]unstable.Range, error) {
	out := map[ID]map[string]unstable.Range{}
	var block map[string]unstable.Range
	var parser unstable.Parser
	table := ""
	parser.Reset(text)
	for parser.NextExpression() {
		e := parser.Expression()
		switch e.Kind {
		case unstable.ArrayTable:
			block, table = map[string]unstable.Range{}, ""
		case unstable.Table:
			_, table, _ = strings.Cut(keyName(e.Key())+".", ".")
		case unstable.KeyValue:
			name, value := table+keyName(e.Key()), e.Value()
			switch value.Kind {
			case unstable.Integer, unstable.Float:
				block[name] = parser.Range(value.Data)
			case unstable.InlineTable:
				for in := value.Children(); in.Next(); {
					block[name+"."+keyName(in.Node().Key())] = parser.Range(in.Node().Value().Data)
				}
			case unstable.String:
				if name == "id" {
					out[ID(value.Data)] = block
				}
			}
		}
	}
	return out, parser.Error()
}
