package answers

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// said is what the clauses of a line before say of the next one.
type said struct {
	denied       bool         // the clause before denies something and goes on
	denies       []signs.Sign // what the clause before denies
	effort, talk bool         // were answered for the day
	day          workout.Date
}

// bareNo are the words of an answer that is nothing but a no, bareYes those of a yes.
var (
	bareNo  = set("no none nope nothing never nil nah")
	bareYes = set("yes yep yeah")
	// ill are signs that may tell of an illness.
	ill = "🤒🤧🤢🤮😷🥵🥶😵💔🚑😴🤕🫀😰😱"
)

// only says that a clause is made of some words and of words that carry nothing.
func (p *parser) only(c *clause, words map[string]bool) bool {
	if c == nil || slices.ContainsFunc(c.items, func(it item) bool { return it.what != isDay }) {
		return false
	}
	found := false
	for _, w := range p.wordsIn(c.from, c.to) {
		found = found || words[w.text]
		if !words[w.text] && !p.filler(w) && !w.symbol {
			return false
		}
	}
	return found
}

// content is what a clause is made of.
type content struct {
	numbers, values, signs, words bool
	denial, loose                 bool
	unknown                       string // a word that is not known
	doubtful                      string // a word that makes it doubtful that the clause states what was
	question                      string // of an item that is doubtful by itself
	grave                         []signs.Sign
}

func (p *parser) content(c clause) content {
	var x content
	for _, it := range c.items {
		switch it.what {
		case isNumber:
			x.numbers = true
		case isValue:
			x.values, x.loose = true, x.loose || it.loose
		case isSign:
			x.signs = true
			x.grave = append(x.grave, it.signs...)
			if it.question != "" && x.question == "" {
				x.question = it.question
			}
		case isDoubt:
			if x.question == "" || it.first {
				x.question = it.question
			}
			x.grave = append(x.grave, it.signs...)
		case isNone:
			x.denial = true
		case effortWord, feltWord, enjoyWord:
			x.words = true
		}
	}
	for _, w := range p.wordsIn(c.from, c.to) {
		switch {
		case w.symbol && strings.ContainsAny(w.text, ill):
			x.unknown = w.text
		case w.symbol, p.filler(w), x.signs && describing[w.text]:
		case poison[w.text], negations[w.text]:
			if x.doubtful == "" {
				x.doubtful = w.text
			}
		case x.unknown == "":
			x.unknown = w.text
		}
	}
	return x
}

// doubt says why a clause cannot be entered as it stands; "" if it can.
func (p *parser) doubt(c clause, x content, after *clause, s said) string {
	stated := x.values || x.numbers || x.signs || x.words || x.denial
	switch {
	case x.question != "":
		return x.question
	case !stated:
		return ""
	case strings.HasPrefix(c.after, "?") && !(x.signs && p.only(after, bareYes)):
		return "It reads like a question. Is it an answer?"
	case x.doubtful != "" && x.denial && negations[x.doubtful]:
		return "It is denied twice. Is it there or not?"
	case x.doubtful != "":
		return fmt.Sprintf("%q makes it unsure. What is meant?", x.doubtful)
	case x.signs && (x.unknown != "" || x.numbers):
		return "Is it a sign of the client's own? If so, enter it as one."
	case x.signs && s.denied:
		return "Does the \"no\" before hold for this too?"
	case x.signs && p.only(after, bareNo):
		return "Is it there or not?"
	case x.loose && x.unknown != "":
		return fmt.Sprintf("%q is not understood beside it. What is meant?", x.unknown)
	case x.numbers && x.unknown != "":
		return "What does the number tell?"
	case c.night && (x.values || x.numbers):
		return "Which day's session is it?"
	}
	return p.contradiction(c)
}

// contradiction says that a number and a word beside it do not go together.
func (p *parser) contradiction(c clause) string {
	for _, it := range c.items {
		v, ok := p.effortIn(it)
		if !ok {
			continue
		}
		scale := p.Scale
		if it.note.RPE != nil {
			scale = it.note.RPE.Scale
		}
		for _, w := range c.items {
			word := strings.ToLower(p.text[w.from:w.to])
			if w.what == effortWord && contradicts(word, v, scale) {
				return fmt.Sprintf("%q does not go with %s.%s How hard was it?", word, wording.Number(v), anchorHint(word, scale))
			}
		}
	}
	return ""
}

// judge makes the pieces of a clause.
func (p *parser) judge(c clause, after *clause, pulses pulseRun, s said) said {
	if c.day != s.day || p.start(c) > c.from {
		s = said{day: c.day, denied: s.denied, denies: s.denies}
	}
	x := p.content(c)
	denies := slices.ContainsFunc(c.items, func(it item) bool { return it.what == isNone && it.means == "said not to be" })
	next := said{day: s.day, effort: s.effort, talk: s.talk, denied: strings.Contains(",-–", c.after) && c.after != "" && (denies || p.only(&c, bareNo))}
	for _, it := range c.items {
		if it.what == isNone {
			next.denies = append(next.denies, it.signs...)
		}
	}
	begins := strings.ToLower(strings.TrimSpace(string(p.mask[c.from:c.to])))
	turns := strings.HasPrefix(begins, "but") || strings.HasPrefix(begins, "however") || strings.HasPrefix(begins, "though")
	s.denied = s.denied && !turns
	switch {
	case turns && len(s.denies) > 0 && len(c.items) > 0 && !p.anything(c.from, c.to, slices.DeleteFunc(slices.Clone(c.items), func(it item) bool { return it.what == isDay })):
		// "not dizzy on Monday, but on Wednesday"
		p.trimmed(c.from, c.to, Question, c.day, "", "Was it there on this day?", unique(s.denies))
		return next
	case p.only(&c, bareNo):
		p.rest(c, Remark, "no", "", nil)
		return next
	case (x.signs && !x.values && !x.numbers && x.unknown == "" && x.doubtful == "" || p.only(&c, complaints)) && strings.Contains("?:-–", c.after) && c.after != "" && p.only(after, bareNo):
		p.rest(c, Remark, "said not to be", "", nil)
		return next
	}
	if why := p.doubt(c, x, after, s); why != "" {
		if from := p.start(c); from < c.to {
			x.grave = append(x.grave, p.mentioned(from, c.to)...)
		}
		p.rest(c, Question, "", why+p.illnessAsked(c, unique(x.grave)), unique(x.grave))
		return next
	}
	at := c.from
	for _, it := range c.items {
		p.gap(c, at, it.from)
		at = it.to
		p.item(c, it, pulses, &next)
	}
	p.gap(c, at, c.to)
	return next
}

func unique(all []signs.Sign) []signs.Sign {
	var out []signs.Sign
	for _, s := range all {
		if s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// start is where the content of a clause begins: behind the day with which it opens.
func (p *parser) start(c clause) int {
	if len(c.items) > 0 && c.items[0].what == isDay && !p.anything(c.from, c.items[0].from, nil) {
		return c.items[0].to
	}
	return c.from
}

// rest makes one piece of a whole clause but the day with which it opens.
func (p *parser) rest(c clause, kind Kind, means, question string, signs []signs.Sign) {
	from, to := p.start(c), c.to
	if from > c.from {
		p.trimmed(c.from, from, Understood, c.items[0].day, day(c.items[0].day), "", nil)
	}
	p.trimmed(from, to, kind, c.day, means, question, signs)
}

// trimmed adds a piece without the punctuation around it, unless nothing is left.
func (p *parser) trimmed(from, to int, kind Kind, on workout.Date, means, question string, signs []signs.Sign) {
	const around = " \t\u00a0\u202f.,;:-–/*•=&'’\"\r"
	inside := strings.TrimRight(p.text[from:to], around)
	from += len(inside) - len(strings.TrimLeft(inside, around))
	to = from + len(strings.TrimLeft(inside, around))
	if from < to {
		p.add(from, to, kind, on, means, question, signs)
	}
}

// gap makes a piece of what lies between two items.
func (p *parser) gap(c clause, from, to int) {
	words := p.wordsIn(from, to)
	if len(words) == 0 {
		return
	}
	from, to = words[0].from, words[len(words)-1].to
	kind, means, question := Understood, "", ""
	for _, w := range words {
		switch {
		case w.symbol && strings.ContainsAny(w.text, ill):
			kind, question = Question, "What does the picture mean?"
		case w.symbol && kind == Understood:
			kind, means = Remark, "a picture"
		case w.symbol, p.filler(w):
		case describing[w.text] && slices.ContainsFunc(c.items, func(it item) bool { return it.what == isSign }):
		case kind != Question:
			kind = Left
		}
	}
	var meant []signs.Sign
	if kind == Left {
		if meant = p.mentioned(from, to); len(meant) > 0 {
			kind, question = Question, "Does it speak of this sign? If so, enter it as one."+p.illnessAsked(c, meant)
			if meant[0] == signs.Nausea {
				question = nauseaAsked
			}
		} else if signs.InjuryMentioned(p.text) && slices.Contains(signs.Mentioned(p.text[from:to]), signs.SwollenAnkles) {
			kind, question = Question, injuryAsked
		} else if slices.ContainsFunc(words, func(w word) bool { return talking[w.text] }) {
			kind, question = Question, "Was talking comfortable, hard or not possible?"
		}
	}
	p.trimmed(from, to, kind, c.day, means, question, meant)
}

// item makes the piece of an item, and the entry of what it gives.
func (p *parser) item(c clause, it item, pulses pulseRun, s *said) {
	enter := func(note record.Note, means string, signs []signs.Sign, soft what) {
		on := c.day
		if it.day != 0 {
			on = it.day
		}
		i := p.add(it.from, it.to, Understood, on, means, "", signs)
		p.entries = append(p.entries, entry{piece: i, day: on, note: note, soft: soft})
		s.effort, s.talk = s.effort || note.RPE != nil, s.talk || note.Talk != record.NotAsked
	}
	switch it.what {
	case isDay:
		p.add(it.from, it.to, Understood, it.day, day(it.day), "", nil)
	case isStamp:
		p.add(it.from, it.to, Understood, 0, it.means, "", nil)
	case isRemark, isNone:
		if s := p.session(c.day); s != nil && p.text[it.from:it.to] == length(*s) { // carried along from the message
			p.add(it.from, it.to, Understood, c.day, "length of the session", "", nil)
			return
		}
		p.add(it.from, it.to, Remark, c.day, it.means, "", nil)
	case isPulseHead:
		p.add(it.from, it.to, Understood, c.day, it.means, "", nil)
	case isValue:
		enter(it.note, it.means, nil, 0)
	case isSign:
		enter(record.Note{Symptoms: it.signs}, "sign: "+it.signs[0].Words(), it.signs, 0)
	case effortWord, feltWord, enjoyWord:
		enter(record.Note{}, "a word beside the answer", nil, it.what)
	case isNumber:
		v := p.value(it)
		found := p.bare(v, pulses.holds(it.from, v), *s)
		if found.what == isValue {
			enter(found.note, found.means, nil, 0)
			return
		}
		p.add(it.from, it.to, Question, c.day, "", found.question, nil)
	}
}

// bare reads a number that says nothing of itself: a pulse in a line of pulses, the effort, or, once
// effort and talking are answered, enjoyment.
func (p *parser) bare(v float64, pulses bool, s said) item {
	whole := v == math.Trunc(v)
	switch {
	case pulses && v >= 30 && v <= 110:
		return p.pulse(v, false, 110)
	case !pulses && !s.effort && onScale(v, p.Scale):
		return effortItem(v, p.Scale)
	case !pulses && s.effort && s.talk && whole && v >= 1 && v <= 5:
		return enjoymentItem(v)
	case !pulses && onScale(v, p.Scale) && v > 5: // a second effort, which settle asks about
		return effortItem(v, p.Scale)
	}
	return item{what: isDoubt, question: fmt.Sprintf("What does %s tell?", wording.Number(v))}
}
