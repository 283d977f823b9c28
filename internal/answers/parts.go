package answers

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// guess is what a number or a word may answer: the question, and what would be entered.
type guess struct {
	about About // "" for a word that answers nothing
	item  item
	less  int // by how much it is less likely
}

// placed is an answer at its place in the text; one that is known has one guess.
type placed struct {
	it  *item
	may []guess
}

// part is a run of clauses about the same days. Its numbers and words are settled together.
type part struct {
	answers    []placed
	correcting bool // "no wait" follows the last of them
	corrected  bool // one of them was taken back
}

const (
	// margin is by how much the best reading must be better than the next one to be taken: as much as
	// two answers in the order of the message are better than the reverse.
	margin = 2
	// most is how many readings a part may have: one with more does not answer three questions.
	most = 128
	// Points of a reading: for a word between an effort and a rating, and what the same question twice, a
	// rating beside nothing else and the order reversed cost.
	forMiddle, again, otherwise, bare, reverse = 2, 2, 5, 3, 4
)

// settleParts settles what the numbers and words of a message mean, part by part.
func (p *parser) settleParts(clauses []clause) {
	var x part
	of := map[workout.Date]part{}
	for i := range clauses {
		c := &clauses[i]
		goesOn := c.day == 0 && len(c.items) > 0 && c.items[0].what == isCorrection // "Mon 15", and below it "typo, 13"
		if i > 0 && (c.fresh || c.day != clauses[i-1].day) && !goesOn {
			p.assign(x)
			if slices.ContainsFunc(x.answers, func(a placed) bool { return a.it.note.RPE != nil }) {
				p.rated = append(append(p.rated, clauses[i-1].day), clauses[i-1].also...)
			}
			of[clauses[i-1].day] = x
			next := part{}
			if x.correcting { // "Correction: Wed was 14, not 15"
				next = of[c.day]
				next.correcting = true
			}
			x = next
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
			p.carrying.about = AboutTalk
		case isDay:
			p.carrying.about = cmp.Or(p.labelBefore(c, i), p.carrying.about)
		case isNumber:
			may = p.guesses(x, c, i)
		case feltWord:
			switch word := p.lower(it); {
			case i > 0 && c.items[i-1].what == isDay && p.carrying.about == AboutTalk, strings.HasSuffix(word, "possible"):
				may = []guess{{about: AboutTalk, item: talkItem(it.note.Talk)}}
			case c.after != ")" && p.nextTo(c, i) == "":
				may = []guess{{about: AboutTalk, item: talkItem(it.note.Talk)}, {}}
			}
		}
		x.add(it, may)
	}
}

// add takes an item in, and takes back what it corrects.
func (x *part) add(it *item, may []guess) {
	var in []placed
	for _, f := range fields {
		if it.what == isValue && f.of(it.note) != "" {
			in = append(in, placed{it, []guess{{about: f.about, item: *it}}})
		}
	}
	switch {
	case it.what == isDoubt && !it.wide && it.about != "":
		in = append(in, placed{it, []guess{{about: it.about, item: *it}}})
	case len(may) > 0:
		in = append(in, placed{it, may})
	}
	if len(in) == 0 {
		return
	}
	at := len(x.answers)
	for i := len(x.answers) - 1; x.correcting && i >= 0; i-- {
		if old := x.answers[i]; shares(old.may, in[0].may) {
			old.it.what, old.it.means, old.it.note = isRemark, "taken back", record.Note{}
			x.answers, x.corrected, at = slices.Delete(x.answers, i, i+1), true, i
			break
		}
	}
	x.correcting = false
	x.answers = slices.Insert(x.answers, at, in...)
}

// shares says that two answers may be about the same question.
func shares(a, b []guess) bool {
	return slices.ContainsFunc(a, func(g guess) bool {
		return g.about != "" && g.less < bare && slices.ContainsFunc(b, func(o guess) bool { return g.about == o.about && o.less < bare })
	})
}

// assign gives each number and word of a part the question that it answers in the reading with the most
// points, and makes a question of those for which another one is as good as that.
func (p *parser) assign(x part) {
	readings := 1
	best := make([][]int, len(x.answers)) // by answer and guess: the points of the best reading with it
	for i, a := range x.answers {
		readings = min(readings*len(a.may), most+1)
		best[i] = slices.Repeat([]int{math.MinInt}, len(a.may))
	}
	chosen := make([]guess, len(x.answers))
	var try func(i int) int
	try = func(i int) int { // the points of the best reading that goes on from those before i
		if i == len(chosen) {
			return points(chosen)
		}
		top := math.MinInt
		for g, guess := range x.answers[i].may {
			chosen[i] = guess
			n := try(i + 1)
			best[i][g], top = max(best[i][g], n), max(top, n)
		}
		return top
	}
	if readings <= most {
		try(0)
	}
	top, close := make([]guess, len(x.answers)), map[About]bool{}
	for i, a := range x.answers {
		most := slices.Max(best[i])
		top[i] = a.may[slices.Index(best[i], most)]
		for g, n := range best[i] {
			if a.may[g].about != top[i].about && most-n < margin {
				close[a.may[g].about], close[top[i].about] = true, true
			}
		}
	}
	for i, a := range x.answers {
		switch {
		case a.it.what != isNumber && a.it.what != feltWord:
		case top[i].item.what == isDoubt, close[top[i].about], readings > most:
			p.unsettled(a.it, a.may)
		case top[i].about == "" && a.it.what == isNumber:
			a.it.what, a.it.means = isStamp, "the day of the month"
		case top[i].about != "":
			a.it.what, a.it.note, a.it.means = isValue, top[i].item.note, top[i].item.means
			x.answers[i].may = top[i : i+1]
		}
	}
}

// points says how well a reading goes with the three questions in their order.
func points(chosen []guess) int {
	n := 0
	var seq []guess
	for _, g := range chosen {
		n -= g.less
		if g.about.rank() > 0 {
			seq = append(seq, g)
		}
	}
	beside := slices.ContainsFunc(seq, func(g guess) bool { return g.about != AboutEnjoyment })
	if len(seq) > 0 && !beside {
		n -= bare
	}
	for i, g := range seq {
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

// guesses lists what a number may answer, and makes a doubt of one that names something else.
func (p *parser) guesses(x *part, c *clause, i int) []guess {
	it := &c.items[i]
	n := p.beside(c, i)
	it.from, it.to = min(it.from, n.from), max(it.to, n.to)
	if n.about == "" && i > 0 && c.items[i-1].what == isDay {
		n.about = p.carrying.about
	}
	may := p.meanings(it.number, n.about)
	if (slices.Contains(p.rated, c.day) || len(c.also) > 0 && len(p.rated) > 0) && len(may) > 1 { // an effort on another scale is none
		may = slices.DeleteFunc(may, func(g guess) bool { return g.item.what == isDoubt })
	}
	if p.dayOfMonth(c, i) {
		may = append(may, guess{less: 1})
	}
	switch {
	case n.no && slices.ContainsFunc(x.answers, func(a placed) bool { return shares(a.may, may) }): // "12, no 13"
		x.correcting = true
	case n.denied && (x.correcting || x.corrected):
		it.what, it.means = isRemark, "taken back"
		return nil
	case n.denied, n.strange, len(may) == 0:
		p.unsettled(it, may)
		if n.denied || n.strange {
			it.question = askNumber
		}
		return nil
	case len(may) == 1 && may[0].item.what == isDoubt && may[0].less == 0:
		it.what, it.question, it.about = isDoubt, may[0].item.question, may[0].about
		return nil
	}
	return may
}

// meanings lists what a number may answer by itself, or to a question that is named.
func (p *parser) meanings(n number, named About) (out []guess) {
	scale := p.Scale
	if n.of >= 10 {
		scale = n.of
	}
	effort, joy := effortItem(n.value, scale), enjoymentItem(n.value)
	switch {
	case named == AboutEnjoyment && n.of > 5:
		return []guess{{about: AboutEnjoyment, item: enjoymentItem(math.NaN())}}
	case named == AboutEnjoyment, n.of == 5:
		return []guess{{about: AboutEnjoyment, item: joy}}
	case named == AboutEffort, n.of >= 10, effort.what == isValue:
		out = append(out, guess{about: AboutEffort, item: effort})
	case scaleUpTo(10).holds(n.value):
		out = append(out, guess{AboutEffort, item{what: isDoubt, choices: []record.Note{effortItem(n.value, 10).note}}, bare})
	}
	if named == "" && n.of < 10 && joy.what == isValue {
		out = append(out, guess{about: AboutEnjoyment, item: joy})
	}
	return out
}

// dayOfMonth says that a number may belong to the weekday before it: "Mon 12" where that Monday is the 12th.
func (p *parser) dayOfMonth(c *clause, i int) bool {
	if i == 0 || c.items[i].number.of != 0 || !c.items[i-1].weekday || c.items[i-1].what != isDay {
		return false
	}
	day, it := c.items[i-1], c.items[i]
	return float64(day.day.Time().Day()) == it.number.value && strings.Trim(string(p.mask[day.to:it.from]), " .") == ""
}
