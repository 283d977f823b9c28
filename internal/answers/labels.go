package answers

// naming is what stands beside a number.
type naming struct {
	about    About // the question that it names
	strange  bool  // a word that may name or count something else
	denied   bool  // "not 12"
	no       bool  // "no 13"
	from, to int   // of the words that are strange or deny
}

// labels are the words that name a question.
var labels = map[string]About{
	"rpe": AboutEffort, "e": AboutEffort, "effort": AboutEffort, "exertion": AboutEffort, "borg": AboutEffort,
	"enjoyment": AboutEnjoyment, "enjoy": AboutEnjoyment, "enjoyed": AboutEnjoyment, "pleasure": AboutEnjoyment, "joy": AboutEnjoyment, "j": AboutEnjoyment, "fun": AboutEnjoyment, "enj": AboutEnjoyment, "star": AboutEnjoyment, "stars": AboutEnjoyment,
	"enjoyed it": AboutEnjoyment, "liked it": AboutEnjoyment,
}

// clock words may stand before a time of day: "see you at 6".
var clock = set("at by from till until before after since")

// hyphened is the rest of "warm-up".
var hyphened = re(`^(?:-\pL+)*`)

// labelled is the question that a word names.
func labelled(text string) About { return labels[corrected(text)] }

// labelBefore is the question that is named before a day: "effort: Mon 12, Wed 13".
func (p *parser) labelBefore(c *clause, i int) About {
	left, _ := p.neighbours(c, i)
	for _, w := range left {
		if about := labelled(w.text); about != "" {
			return about
		}
	}
	return ""
}

// neighbours are the words on both sides of an item, up to the next one in its clause.
func (p *parser) neighbours(c *clause, i int) (left, right []word) {
	from, to := c.from, c.to
	if i > 0 {
		from = c.items[i-1].to
	}
	if i+1 < len(c.items) {
		to = c.items[i+1].from
	}
	return p.wordsIn(from, c.items[i].from), p.wordsIn(c.items[i].to, to)
}

// light says that a word neither answers anything nor names what a number counts.
func (p *parser) light(w word) bool { return w.symbol || p.filler(w) || opinions[w.text] }

// nextTo is a word beside an item that is not known; "" if there is none. Words that may name a pace go with
// "easy" and "hard": "less easy", "hard on the flat".
func (p *parser) nextTo(c *clause, i int) string {
	pace := c.items[i].what == feltWord
	known := func(w word) bool { return p.light(w) && w.text != "to" || breaks[w.text] || poison[w.text] && !pace }
	left, right := p.neighbours(c, i)
	if n := len(left); n > 0 && !known(left[n-1]) {
		return left[n-1].text
	}
	if len(right) > 0 && !known(right[0]) && (pace || !leading[right[0].text] || right[0].text == "to") {
		return right[0].text
	}
	return ""
}

// beside reads the words on both sides of a number.
func (p *parser) beside(c *clause, i int) naming {
	it := c.items[i]
	n := naming{about: it.about, from: it.from, to: it.to}
	left, right := p.neighbours(c, i)
	if n.about == "" {
		p.namedBefore(&n, c, i, left)
	}
	if n.about == "" && !n.strange && !n.denied {
		p.namedAfter(&n, c, i, right)
	}
	return n
}

// label makes words of enjoyment that name a number a part of it.
func (p *parser) label(it *item) bool {
	switch text := p.lower(it); text {
	case "fun", "enjoyed it", "liked it":
		it.what, it.means = isStamp, "enjoyment"
	default:
		return text != "" && text[0] < 128
	}
	return true
}

// namedBefore reads the words before a number from its side.
func (p *parser) namedBefore(n *naming, c *clause, i int, words []word) {
	for j := len(words) - 1; j >= 0; j-- {
		w := words[j]
		switch n.about = labelled(w.text); {
		case n.about != "":
			n.from = w.from
			return
		case clock[w.text] && (j == 0 || labelled(words[j-1].text) == ""):
			n.strange, n.from = true, w.from
			return
		case w.text == "of" && j > 0 && words[j-1].text == "out": // "for out of five": a scale whose number was misheard
			n.strange, n.from = true, words[j-1].from
			return
		case breaks[w.text]:
			return
		case negations[w.text]:
			n.denied, n.no, n.from = true, w.text == "no", w.from
			return
		case p.light(w):
			continue
		}
		if j = placeBefore(words, j); j < 0 {
			n.strange, n.from = true, w.from
			return
		}
	}
	if i == 0 {
		return
	}
	switch prev := &c.items[i-1]; {
	case prev.what == enjoyWord && p.label(prev):
		n.about = AboutEnjoyment
	case prev.what == isSign && len(words) == 0:
		n.strange = true
	}
}

// placeBefore is the word with which a phrase of place or company begins that ends at j: "in the rain"; -1 if none
// does.
func placeBefore(words []word, j int) int {
	k := j - 1
	for k >= 0 && (articles[words[k].text] || opinions[words[k].text]) {
		k--
	}
	if k >= 0 && (words[k].text == "with" || k < j-1 && leading[words[k].text]) {
		return k
	}
	return -1
}

// unit says that a word after a number may be what it counts.
func (p *parser) unit(w word) bool {
	return !p.light(w) && !leading[w.text] && !breaks[w.text] && !poison[w.text] && !negations[w.text] && senseOf(w) == neither
}

// namedAfter reads the words after a number.
func (p *parser) namedAfter(n *naming, c *clause, i int, words []word) {
	next := &item{}
	if i+1 < len(c.items) {
		next = &c.items[i+1]
	}
	more, tied := next.what == isNumber, false // by "for" or "of"
	for j, w := range words {
		about := labelled(w.text)
		switch {
		case about != "" && (tied || !more):
			n.about, n.to = about, w.to
			return
		case tied && !p.light(w), j == 0 && !more && next.what != isSign && about == "" && p.unit(w): // "12 for the hill"
			n.strange, n.to = true, w.to+len(hyphened.Find(p.mask[w.to:c.to]))
			return
		case w.text == "for" || w.text == "of":
			tied = true
		case !tied && (!p.filler(w) || breaks[w.text]), leading[w.text]:
			return
		}
	}
	p.namedByNext(n, c, i, tied, len(words) == 0)
}

// namedByNext reads the item after a number: "4 for fun", or a sign, which the number may be about.
func (p *parser) namedByNext(n *naming, c *clause, i int, tied, adjacent bool) {
	if i+1 == len(c.items) {
		return
	}
	next, follows := &c.items[i+1], i+2 < len(c.items) && c.items[i+2].what == isNumber
	switch {
	case next.what == enjoyWord && (tied || !follows) && p.label(next):
		n.about = AboutEnjoyment
	case next.what == isSign && adjacent && (i == 0 || c.items[i-1].what == isDay):
		n.strange = true
	}
}
