package signs

import (
	"slices"
	"strconv"
	"strings"
)

// A pattern says how words must stand in a text. "short of breath/air" are words side by side, with
// soft words such as "my" between where people put them; a/b is one or the other, wheez* and *olol the
// beginning and the end of a word, @pain one of a group, ?@body any word that is none of a group, "$" the
// end of a clause, and !rate another word than "rate" or none. "chest & @pain" are parts that stand in
// either order at most span words apart in one sentence; with + for & no comma may stand between.
// "puffed ^ hill" does not hold in a sentence that gives the hill as the reason. A leading ~ marks words
// that name no complaint, which "was fine" after them clears.
type pattern struct {
	parts   [][]element
	neutral bool
	close   bool     // no comma may stand between the parts
	unless  *element // of a word that explains it all, anywhere in the sentence
}

// span is how many words the parts of a pattern may lie apart.
const span = 7

// element is one place of a pattern.
type element struct {
	words    []string // sorted
	begins   []string
	ends     []string
	from, to float64 // of a number, when to is set
	tenths   bool    // only a number with a decimal
	end, not bool
	other    bool   // any word but these
	initials uint64 // of the words that can be accepted, to pass over the rest quickly
}

func (e *element) accepts(w word) bool {
	if e.other {
		return w.text != "" && !slices.Contains(e.words, w.text)
	}
	if e.initials&w.initial == 0 {
		return false
	}
	word := w.text
	if _, ok := slices.BinarySearch(e.words, word); ok {
		return true
	}
	if e.to > 0 {
		if v, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64); err == nil && (!e.tenths || strings.ContainsAny(word, ".,")) {
			return v >= e.from && v < e.to
		}
	}
	return slices.ContainsFunc(e.begins, func(b string) bool { return strings.HasPrefix(word, b) }) ||
		slices.ContainsFunc(e.ends, func(b string) bool { return strings.HasSuffix(word, b) })
}

func compile(text string) pattern {
	var p pattern
	text, p.neutral = strings.CutPrefix(text, "~")
	p.close = strings.Contains(text, "+")
	text, explained, ok := strings.Cut(text, "^")
	if ok {
		p.unless = newElement(strings.TrimSpace(explained))
	}
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == '&' || r == '+' }) {
		var seq []element
		for word := range strings.FieldsSeq(part) {
			seq = append(seq, *newElement(word))
		}
		p.parts = append(p.parts, seq)
	}
	return p
}

func newElement(list string) *element {
	var e element
	e.add(list)
	slices.Sort(e.words)
	return &e
}

func (e *element) add(list string) {
	list, e.not = cutNot(list, e.not)
	if list, e.other = strings.CutPrefix(list, "?"); e.other {
		e.words, e.initials = strings.Fields(groups[list[1:]]), ^uint64(0)
		return
	}
	for w := range strings.SplitSeq(list, "/") {
		begin, open := strings.CutSuffix(w, "*")
		name, group := strings.CutPrefix(w, "@")
		switch {
		case w == "$":
			e.end = true
		case w == "@feverish": // degrees Celsius
			e.from, e.to, e.initials = 38, 43, numbers
		case w == "@belowfever":
			e.from, e.to, e.initials = -30, 38, numbers
		case w == "@few": // hours of sleep, or of the night
			e.from, e.to, e.initials = 1, 6, e.initials|numbers
			e.add("one/two/three/four/five")
		case w == "@fast": // beats a minute that nobody has sitting down
			e.from, e.to, e.initials = 100, 231, numbers
		case w == "@hypertensive": // mm Hg, at rest, from which help is sought at once (common practice, no source)
			e.from, e.to, e.initials = 180, 300, e.initials|numbers
		case w == "@tenths": // a figure nobody writes but of a temperature
			e.from, e.to, e.tenths, e.initials = 38, 42, true, numbers
		case group:
			words, ok := groups[name]
			if !ok {
				panic("signs: no group " + w)
			}
			for x := range strings.FieldsSeq(words) {
				e.add(x)
			}
		case strings.HasPrefix(w, "*"):
			e.ends, e.initials = append(e.ends, w[1:]), ^uint64(0)
		case open:
			e.begins = append(e.begins, begin)
			e.initials |= initial(begin)
		default:
			e.words = append(e.words, w)
			e.initials |= initial(w)
		}
	}
}

// initial is a bit for the first two letters of a word, which a few pairs share; numbers for all that
// begin with none of a to z; and none for a word that was emptied.
func initial(word string) uint64 {
	switch {
	case word == "":
		return 0
	case 'a' <= word[0] && word[0] <= 'z':
		second := 0
		if len(word) > 1 {
			second = int(word[1])
		}
		return 1 << ((31*int(word[0]) + second) % 63)
	}
	return numbers
}

const numbers = 1 << 63

func cutNot(list string, already bool) (string, bool) {
	rest, not := strings.CutPrefix(list, "!")
	return rest, not || already
}

// compileAll reads patterns that commas or lines separate.
func compileAll(text string) []pattern {
	var out []pattern
	for p := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' || r == '\n' }) {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, compile(p))
		}
	}
	return out
}

// run is a stretch of words that a part of a pattern covers, both ends included.
type run struct{ from, to int }

// around is the stretch from the first of some runs to the last.
func around(parts []run) run {
	out := parts[0]
	for _, r := range parts {
		out = run{min(out.from, r.from), max(out.to, r.to)}
	}
	return out
}

// find lists the places of a pattern as the runs of its parts, in the order of the pattern.
func (p pattern) find(words []word) [][]run {
	var out [][]run
	explained := map[int][]int{} // the words of a sentence, by its first one, that explain it all
	var extend func(have []run)
	extend = func(have []run) {
		if len(have) == len(p.parts) {
			if !(p.close && apart(words, around(have))) && !p.explained(words, have, explained) {
				out = append(out, slices.Clone(have))
			}
			return
		}
		part := p.parts[len(have)]
		first, last := 0, len(words)-1
		if len(have) > 0 { // all that fits lies near
			r := around(have)
			first, last = max(first, r.from-span-3*len(part)-2), min(last, r.to+span)
		}
		for i := first; i <= last; i++ {
			if part[0].initials&words[i].initial == 0 {
				continue
			}
			r, ok := side(words, i, part)
			if ok && fits(words, have, r) {
				extend(append(have, r))
			}
		}
	}
	extend(nil)
	return out
}

// explained says that the sentence around a place gives a harmless reason for what it says; known keeps what it found.
func (p pattern) explained(words []word, parts []run, known map[int][]int) bool {
	if p.unless == nil {
		return false
	}
	s := sentenceOf(words, parts[0].from)
	at, ok := known[s.from]
	if !ok {
		for i := s.from; i <= s.to; i++ {
			if p.unless.accepts(words[i]) {
				at = append(at, i)
			}
		}
		known[s.from] = at
	}
	return slices.ContainsFunc(at, func(i int) bool {
		return !slices.ContainsFunc(parts, func(r run) bool { return r.from <= i && i <= r.to })
	})
}

// fits says that a run lies apart from others in their sentence, and near one of them.
func fits(words []word, have []run, r run) bool {
	near := len(have) == 0
	for _, h := range have {
		if r.from <= h.to && h.from <= r.to || words[r.from].sentence != words[h.from].sentence {
			return false
		}
		near = near || max(r.from, h.from)-min(r.to, h.to) <= span
	}
	return near
}

// follows says that a word stands next, soft words apart.
func follows(words []word, at int, e *element) bool {
	for ; at < len(words) && words[at].beside; at++ {
		if e.accepts(words[at]) {
			return true
		}
		if !soft[words[at].text] {
			return false
		}
	}
	return false
}

// side says where a sequence that begins with a word ends.
func side(words []word, i int, seq []element) (run, bool) {
	at, first := i, i
	for n := range seq {
		e := &seq[n]
		if e.not {
			if follows(words, at, e) {
				return run{}, false
			}
			continue
		}
		if e.end {
			return run{first, at - 1}, at == len(words) || words[at].sentence != words[at-1].sentence || !words[at].beside
		}
		for n > 0 && at < len(words) && words[at].beside && !e.accepts(words[at]) && soft[words[at].text] && at-i <= 2*len(seq) {
			at++
		}
		if at >= len(words) || n > 0 && !words[at].beside || !e.accepts(words[at]) {
			return run{}, false
		}
		at++
	}
	return run{first, at - 1}, true
}
