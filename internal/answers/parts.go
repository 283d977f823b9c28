package answers

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nextrung/internal/record"
)

// guess is what a number or a word may answer: the question, and what would be entered.
type guess struct {
	about About // "" for a word that answers nothing
	item  item
	less  int // by how much it is less likely
}

// placed is an answer at its place in the text.
type placed struct {
	it    *item
	about About
	may   []guess // nil where the answer is known
}

// part is a run of clauses about the same days. Its numbers and words are settled together.
type part struct {
	answers    []placed
	correcting bool // "no wait" stands behind the last of them
	corrected  bool // one of them was taken back
}

const (
	// margin is by how much the best reading must be better than the next one to be taken: as much as
	// two answers in the order of the message are better than the reverse.
	margin = 2
	// most is how many numbers and words a part may leave open: more do not answer three questions.
	most = 7
	// Points of a reading: for a number that answers something, for a word between an effort and a
	// rating, and what the same question twice and a rating beside nothing else cost.
	forNumber, forMiddle, again, otherwise, bare, reverse = 10, 2, 2, 5, 3, 4
)

// settleParts settles what the numbers and words of a message mean, part by part.
func (p *parser) settleParts(clauses []clause) {
	var x part
	for i := range clauses {
		c := &clauses[i]
		if i > 0 && (c.fresh || c.day != clauses[i-1].day) {
			p.assign(x)
			x = part{}
		}
		p.gather(&x, c)
	}
	p.assign(x)
}

// gather lists what a clause answers and may answer.
func (p *parser) gather(x *part, c *clause) {
	if slices.ContainsFunc(c.items, func(it item) bool { return it.wide }) {
		return
	}
	label := About("")
	if c.line != p.carrying.line {
		p.carrying.about, p.carrying.line = "", c.line
	}
	for i := range c.items {
		it := &c.items[i]
		var may []guess
		switch it.what {
		case isCorrection:
			x.correcting = true
			continue
		case isTalkHead:
			label = AboutTalk
		case isDay:
			p.carrying.about = cmp.Or(p.labelBefore(c, i), p.carrying.about)
		case isNumber:
			may = p.guesses(x, c, i)
		case feltWord:
			switch word := p.lower(it); {
			case label == AboutTalk, strings.HasSuffix(word, "possible"):
				may = []guess{{about: AboutTalk, item: talkItem(it.note.Talk)}}
			case c.after != ")" && !p.hemmed(c, i):
				may = []guess{{about: AboutTalk, item: talkItem(it.note.Talk)}, {}}
			}
		}
		x.add(it, may)
	}
}

// hemmed says that a word beside "easy" or "hard" says what was so: "easy pace", "less easy".
func (p *parser) hemmed(c *clause, i int) bool {
	known := func(w word) bool { return p.light(w) && w.text != "to" || breaks[w.text] }
	left, right := p.neighbours(c, i)
	return len(left) > 0 && !known(left[len(left)-1]) || len(right) > 0 && !known(right[0])
}

// add takes an item in, and takes back what it corrects.
func (x *part) add(it *item, may []guess) {
	var in []placed
	for _, f := range fields {
		if it.what == isValue && f.of(it.note) != "" {
			in = append(in, placed{it: it, about: f.about})
		}
	}
	if it.what == isDoubt && !it.wide && it.about != "" {
		in = append(in, placed{it: it, about: it.about})
	}
	if len(may) > 0 {
		in = append(in, placed{it: it, may: may})
	}
	if len(in) == 0 {
		return
	}
	for i := len(x.answers) - 1; x.correcting && i >= 0; i-- {
		if old := x.answers[i]; old.shares(in[0]) {
			old.it.what, old.it.means, old.it.note = isRemark, "taken back", record.Note{}
			x.answers, x.corrected = slices.Delete(x.answers, i, i+1), true
			break
		}
	}
	x.correcting = false
	x.answers = append(x.answers, in...)
}

// shares says that two answers may be about the same question.
func (a placed) shares(b placed) bool {
	for _, g := range a.guesses() {
		if slices.ContainsFunc(b.guesses(), func(o guess) bool { return g.about != "" && g.about == o.about }) {
			return true
		}
	}
	return false
}

func (a placed) guesses() []guess {
	if a.may == nil {
		return []guess{{about: a.about, item: *a.it}}
	}
	return a.may
}

// assign gives each number and word of a part the question that it answers in the reading with the most
// points, and makes a question of those for which another one is as good as that.
func (p *parser) assign(x part) {
	var open []int
	for i, a := range x.answers {
		if a.may != nil {
			open = append(open, i)
		}
	}
	if len(open) > most {
		for _, i := range open {
			p.unsettled(x.answers[i].it, x.answers[i].may)
		}
		return
	}
	best := make([][]int, len(open)) // by answer and guess: the points of the best reading with it
	for k, i := range open {
		best[k] = slices.Repeat([]int{math.MinInt}, len(x.answers[i].may))
	}
	chosen := make([]int, len(open))
	var try func(k int)
	try = func(k int) {
		if k == len(open) {
			n := points(x.answers, open, chosen)
			for k, g := range chosen {
				best[k][g] = max(best[k][g], n)
			}
			return
		}
		for g := range x.answers[open[k]].may {
			chosen[k] = g
			try(k + 1)
		}
	}
	try(0)
	top, close := make([]int, len(open)), map[About]bool{}
	for k, i := range open {
		top[k] = slices.Index(best[k], slices.Max(best[k]))
		for g, n := range best[k] {
			if a := x.answers[i]; g != top[k] && best[k][top[k]]-n < margin {
				close[a.may[g].about], close[a.may[top[k]].about] = true, true
			}
		}
	}
	for k, i := range open {
		a := x.answers[i]
		top := top[k]
		switch {
		case a.may[top].item.what == isDoubt, close[a.may[top].about]:
			p.unsettled(a.it, a.may)
		case a.may[top].about != "":
			a.it.what, a.it.note, a.it.means = isValue, a.may[top].item.note, a.may[top].item.means
		}
	}
}

// points says how well a reading goes with the three questions in their order.
func points(answers []placed, open, chosen []int) int {
	n := 0
	var seq []guess
	for i, a := range answers {
		g := guess{about: a.about, item: *a.it}
		if k := slices.Index(open, i); k >= 0 {
			g = a.may[chosen[k]]
			if a.it.what == isNumber {
				n += forNumber - g.less
			}
		}
		if g.about.rank() > 0 {
			seq = append(seq, g)
		}
	}
	rating, beside := false, false
	for i, g := range seq {
		rating, beside = rating || g.about == AboutEnjoyment, beside || g.about != AboutEnjoyment
		for _, o := range seq[:i] {
			switch d := g.about.rank() - o.about.rank(); {
			case d == 0 && g.item.means == o.item.means:
				n -= again
			case d == 0:
				n -= otherwise
			case d < -1:
				n -= reverse
			default:
				n += cmp.Compare(d, 0)
			}
		}
		if g.about == AboutTalk && i > 0 && i+1 < len(seq) && seq[i-1].about == AboutEffort && seq[i+1].about == AboutEnjoyment {
			n += forMiddle
		}
	}
	if rating && !beside {
		n -= bare
	}
	return n
}

// unsettled makes a question of a number; a word is asked about with the words.
func (p *parser) unsettled(it *item, may []guess) {
	for _, g := range may {
		if g.about != "" {
			it.choices = append(it.choices, g.item.choices...)
			if g.item.what == isValue {
				it.choices = append(it.choices, g.item.note)
			}
		}
	}
	if it.what == isNumber {
		it.what, it.question = isDoubt, fmt.Sprintf(askMeaning, figure(it.number.value))
	}
}

// guesses lists what a number may answer, and makes a doubt of
// one that names something else.
func (p *parser) guesses(x *part, c *clause, i int) []guess {
	it := &c.items[i]
	n := p.beside(c, i)
	it.from, it.to = min(it.from, n.from), max(it.to, n.to)
	v, of := it.number.value, it.number.of
	if n.about == "" && i > 0 && c.items[i-1].what == isDay {
		n.about = p.carrying.about
	}
	var out []guess
	add := func(about About, item item, less int) { out = append(out, guess{about, item, less}) }
	scale := p.Scale
	if of >= 10 {
		scale = of
	}
	switch {
	case n.about == AboutEnjoyment && of > 5:
		add(AboutEnjoyment, enjoymentItem(math.NaN()), 0)
	case n.about == AboutEnjoyment, of == 5:
		add(AboutEnjoyment, enjoymentItem(v), 0)
	case n.about == AboutEffort, of >= 10:
		add(AboutEffort, effortItem(v, scale), 0)
	default:
		if onScale(v, scale) {
			add(AboutEffort, effortItem(v, scale), 0)
		} else if onScale(v, 10) {
			add(AboutEffort, item{what: isDoubt, choices: []record.Note{effortItem(v, 10).note}}, bare)
		}
		if joy := enjoymentItem(v); joy.what == isValue {
			add(AboutEnjoyment, joy, 0)
		}
	}
	switch {
	case n.no && slices.ContainsFunc(x.answers, func(a placed) bool { return a.shares(placed{it: it, may: out}) }): // "12, no 13"
		x.correcting = true
	case n.denied && (x.correcting || x.corrected):
		it.what, it.means = isRemark, "taken back"
		return nil
	case n.denied, n.strange:
		p.unsettled(it, out)
		it.question = askNumber
		return nil
	case len(out) == 0:
		it.what, it.question = isDoubt, fmt.Sprintf(askMeaning, figure(v))
		return nil
	case len(out) == 1 && out[0].item.what == isDoubt && out[0].less == 0:
		it.what, it.question, it.about = isDoubt, out[0].item.question, out[0].about
		return nil
	}
	return out
}
