package signs

import (
	"cmp"
	"slices"
	"strings"
)

// Reader is the version of Read. It grows with every change of what Read makes of a text, so that what
// an older reader made of a note can be told from what this one would.
const Reader = 6

// Said is how a text speaks of a sign.
type Said int

// The ways of saying it. What is not plainly denied is at least suspected.
const (
	Denied    Said = iota // said not to be
	Suspected             // may be meant: somebody must ask
	Stated                // plainly named: may be entered
)

func (s Said) String() string { return [...]string{"denied", "suspected", "stated"}[s] }

// Mention is a place in a text that speaks of a sign or of a topic, one of which is set.
type Mention struct {
	From, To int // bytes of the text
	Sign     Sign
	Topic    Topic
	Said     Said
}

// concept is a vocabulary made ready.
type concept struct {
	sign         Sign
	topic        Topic
	alone        []pattern // names only where they are all that is said
	named, maybe []pattern
}

var concepts = func() []concept {
	var out []concept
	for _, v := range slices.Concat(graves, illnesses, topics) {
		c := concept{v.sign, v.topic, compileAll(v.alone), compileAll(v.named), compileAll(v.maybe)}
		if v.sign != "" { // the sign's own word and its plain name
			for _, name := range []string{strings.ReplaceAll(string(v.sign), "-", " "), v.sign.Words()} {
				if strings.Contains(name, " ") {
					c.named = append(c.named, compile(strings.ReplaceAll(name, ",", "")))
				} else {
					c.alone = append(c.alone, compile(name))
				}
			}
		}
		out = append(out, c)
	}
	return out
}()

// Named is the sign that a word or a few words mean, as commands take them: the graver one where they
// could mean two. "none", "no" and "" mean no sign: "" and true. Other words are false.
func Named(text string) (Sign, bool) {
	words := wordsOf(text)
	if onlyNo(words) || len(words) == 0 && strings.TrimSpace(text) == "" {
		return "", true
	}
	for _, c := range concepts {
		if c.sign != "" && strings.EqualFold(strings.TrimSpace(text), c.sign.Words()) {
			return c.sign, true
		}
		for _, p := range slices.Concat(c.alone, c.named) {
			if c.sign != "" && !strings.Contains(text, "?") && whole(words, p.parts[0]) {
				return c.sign, true
			}
		}
	}
	return "", false
}

var article = set("a an the my some had have got felt feel feeling was i")

// whole says that words are a name and nothing else: no typing error, and nothing but an article or the like before it.
func whole(words []word, name []element) bool {
	for i, w := range words {
		r, ok := side(words, i, name)
		if ok && r.to == len(words)-1 {
			return !slices.ContainsFunc(words, func(w word) bool { return w.guessed })
		}
		if !article[w.text] {
			return false
		}
	}
	return false
}

// match is a place of one pattern.
type match struct {
	Mention
	names   bool // it is a name of the sign
	neutral bool // it names a place and no complaint
	apart   bool // a comma stands within
}

// Read lists what a text says of signs, illness, injuries, medicines and pregnancy, in the order of the
// text. One place may speak of several; one sign is mentioned once in overlapping places. It is a
// reason to ask or to enter, never a finding.
func Read(text string) []Mention {
	words := wordsOf(text)
	if len(words) == 0 {
		return nil
	}
	if s, ok := Named(text); ok && s != "" {
		return []Mention{{From: words[0].from, To: words[len(words)-1].to, Sign: s, Said: Stated}}
	}
	clear := passOver(words)
	tallied(clear)
	var found []match
	for _, c := range concepts {
		for _, p := range c.named {
			found = append(found, c.matches(clear, p, Stated)...)
		}
		for _, p := range c.maybe {
			found = append(found, c.matches(clear, p, Suspected)...)
		}
	}
	return withoutInjured(gather(found))
}

// aside words before a harmless phrase make it no excuse: "like a strap", "off the bike wobbly".
var aside = set("like off from on after")

// passOver empties the words of harmless phrases.
func passOver(words []word) []word {
	out := slices.Clone(words)
	for _, p := range harmless {
		for _, parts := range p.find(words) {
			for _, r := range parts {
				likened := slices.ContainsFunc(words[max(0, r.from-3):r.from], func(w word) bool { return aside[w.text] })
				for i := r.from; i <= r.to && !likened; i++ {
					out[i].text, out[i].initial = "", 0
				}
			}
		}
	}
	return out
}

func (c concept) matches(words []word, p pattern, said Said) []match {
	var out []match
	for _, parts := range p.find(words) {
		r := around(parts)
		m := match{Mention{words[r.from].from, words[r.to].to, c.sign, c.topic, said}, said == Stated, p.neutral, apart(words, r)}
		switch {
		case denies(words, parts, p.neutral):
			m.Said = Denied
		case said == Stated && doubtful(words, r.from, r.to):
			m.Said = Suspected
		}
		out = append(out, m)
	}
	return out
}

// doubtful says that a named sign must be asked about all the same: for a word of doubt in its sentence, for a no before
// it, behind it without a comma between, or at the sentence's end, or for a question.
func doubtful(words []word, from, to int) bool {
	s := sentenceOf(words, from)
	before := counted(words, s.from, from-1)
	if before.doubt+before.no+counted(words, to+1, s.to).doubt > 0 || slices.ContainsFunc(words[from:to+1], func(w word) bool { return w.guessed }) {
		return true
	}
	if to < s.to && counted(words, to+1, min(s.to, words[to+1].comma-1)).no+counted(words, s.to, s.to).no > 0 {
		return true
	}
	return strings.Contains(words[s.to].after, "?") && (s.to+1 == len(words) || !yes[words[s.to+1].text])
}

var yes = set("yes yep yeah yup")

// gather joins the overlapping places of one sign or topic, the plainest way of saying it foremost,
// and drops what lies within a longer name: the chest of a chest infection.
func gather(found []match) []Mention {
	slices.SortStableFunc(found, func(a, b match) int { return cmp.Or(a.From-b.From, b.To-a.To) })
	longest := 0
	for _, m := range found {
		longest = max(longest, m.To-m.From)
	}
	type about struct {
		sign  Sign
		topic Topic
	}
	var out []Mention
	last := map[about]int{} // the places of one sign or topic lie apart in out, so that only the last can overlap
	begin, end := 0, 0      // of the matches that one can be part of
	for _, m := range found {
		for found[begin].From < m.From-longest {
			begin++
		}
		for end < len(found) && found[end].From <= m.From {
			end++
		}
		if swallowed(m, found[begin:end]) {
			continue
		}
		i, ok := last[about{m.Sign, m.Topic}]
		if !ok || m.From >= out[i].To {
			last[about{m.Sign, m.Topic}] = len(out)
			out = append(out, m.Mention)
			continue
		}
		out[i].To, out[i].Said = max(out[i].To, m.To), max(out[i].Said, m.Said)
	}
	return out
}

// swallowed says that a match is part of one that says more: of a longer name of something else, of a
// name of the same, or, for a mere place, of what is said of that place.
func swallowed(m match, all []match) bool {
	return slices.ContainsFunc(all, func(x match) bool {
		if m.From < x.From || x.To < m.To {
			return false
		}
		if x.Sign == m.Sign && x.Topic == m.Topic {
			return x.names && !m.names || m.neutral && !x.neutral && !x.apart
		}
		return x.names && x.To-x.From > m.To-m.From
	})
}

// withoutInjured drops swollen ankles beside a fall or a twist: an injury is asked about instead.
func withoutInjured(all []Mention) []Mention {
	if !slices.ContainsFunc(all, func(m Mention) bool { return m.Topic == Injury && m.Said != Denied }) {
		return all
	}
	return slices.DeleteFunc(all, func(m Mention) bool { return m.Sign == SwollenAnkles })
}
