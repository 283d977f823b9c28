package signs

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// some is a word that an element accepts; "" for the end of a clause, and false where none can be made up.
func some(e element, r *rand.Rand) (string, bool) {
	var all []string
	all = append(append(append(all, e.words...), e.begins...), e.ends...)
	switch {
	case e.other:
		return "otherwise", true
	case e.not:
		return "", true // no word at all, as most would have it
	case e.end:
		return "", true
	case e.to > 0 && (len(all) == 0 || r.IntN(2) == 0):
		v := e.from + float64(r.IntN(int(e.to-e.from)))
		if e.tenths {
			return strconv.FormatFloat(v+0.4, 'f', 1, 64), true
		}
		return strconv.Itoa(int(v)), true
	case len(all) == 0:
		return "", false
	}
	return all[r.IntN(len(all))], true
}

// Every pattern is heard in some text that is made of its own words, so that no harmless phrase and no other pattern has
// silenced it altogether.
func TestNoPatternIsSilenced(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	tried := 0
	for _, v := range slices.Concat(graves, illnesses, topics) {
		for _, text := range []string{v.named, v.maybe} {
			for _, p := range compileAll(text) {
				tried++
				var texts []string
				heard := slices.ContainsFunc(make([]struct{}, 300), func(struct{}) bool {
					var words []string
					for _, part := range p.parts {
						for _, e := range part {
							if w, ok := some(e, r); ok && w != "" {
								words = append(words, w)
							}
						}
					}
					said := "I " + strings.Join(words, " ")
					texts = append(texts, said)
					return slices.ContainsFunc(Read(said), func(m Mention) bool { return m.Sign == v.sign && m.Topic == v.topic })
				})
				if !heard {
					t.Errorf("%s%s: a pattern is never heard, as in %q or %q", v.sign, v.topic, texts[0], texts[len(texts)-1])
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d patterns were tried", tried)
	}
}
