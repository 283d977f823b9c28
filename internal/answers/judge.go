package answers

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// said is what the clauses of a line before say of the next one.
type said struct {
	effort, talk bool // were answered for the day
	day          workout.Date
}

// bareNo are the words of an answer that is nothing but a no.
var bareNo = set("no none nope nothing never nil nah")

// ill are signs that may mean an illness.
const ill = "🤒🤧🤢🤮😷🥵🥶😵💔🚑😴🤕🫀😰😱"

// onlyNo says that a clause is a no plus filler words.
func (p *parser) onlyNo(c clause) bool {
	if slices.ContainsFunc(c.items, func(it item) bool { return it.what != isDay }) {
		return false
	}
	found := false
	for _, w := range p.wordsIn(c.from, c.to) {
		found = found || bareNo[w.text]
		if !bareNo[w.text] && !p.filler(w) && !w.symbol {
			return false
		}
	}
	return found
}

// content is what a clause is made of.
type content struct {
	numbers, values, signs, words, none, heat, loose bool
	unknown                                          string // a word that is not known
	doubtful                                         string // a word that makes it doubtful that the clause states what was
	question                                         string // of an item that is doubtful by itself
	says                                             []signs.Mention
}

func (p *parser) content(c clause) content {
	var x content
	for _, it := range c.items {
		x.says = append(x.says, it.says...)
		if it.what != isSign && len(heardOf(it.says).Suspected) > 0 { // a pulse of 38.7, or a fever
			x.question = cmp.Or(x.question, fmt.Sprintf(askMeaning, p.text[it.from:it.to]))
		}
		switch it.what {
		case isNumber:
			x.numbers = true
		case isValue:
			x.values, x.loose, x.heat = true, x.loose || it.loose, x.heat || it.note.HeatC != nil
		case isNone:
			x.none = x.none || len(it.says) == 0
		case isDoubt:
			x.question = cmp.Or(x.question, it.question)
		case effortWord, feltWord, enjoyWord:
			x.words = true
		}
	}
	x.signs = speaks(x.says)
	for _, w := range p.wordsIn(c.from, c.to) {
		switch {
		case w.symbol && strings.ContainsAny(w.text, ill):
			x.unknown = w.text
		case w.symbol, p.filler(w), x.signs && describing[w.text]:
		case poison[w.text], negations[w.text]:
			x.doubtful = cmp.Or(x.doubtful, w.text)
		default:
			x.unknown = cmp.Or(x.unknown, w.text)
		}
	}
	return x
}

// doubt says why the answers of a clause cannot be entered as they stand; "" if they can. What it says
// of signs is entered or asked about in any case.
func (p *parser) doubt(c clause, x content) string {
	switch {
	case x.question != "":
		return x.question
	case !x.values && !x.numbers && !x.words && !x.none:
		return ""
	case strings.HasPrefix(c.after, "?"):
		return askWhetherSo
	case x.doubtful != "":
		return fmt.Sprintf(askUnsure, x.doubtful)
	case x.heat && slices.ContainsFunc(x.says, func(m signs.Mention) bool { return m.Sign == signs.Fever && m.Said != signs.Denied }):
		return askAirOrFever
	case x.loose && x.unknown != "":
		return fmt.Sprintf(askBeside, x.unknown)
	case x.numbers && (x.unknown != "" || x.signs):
		return askNumber
	case c.night && (x.values || x.numbers):
		return askNight
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
				return fmt.Sprintf(askContradiction, word, figure(v), anchorHint(word, scale))
			}
		}
	}
	return ""
}

// judge makes the pieces of a clause.
func (p *parser) judge(c clause, pulses pulseRun, s said) said {
	if c.day != s.day || p.start(c) > c.from {
		s = said{day: c.day}
	}
	x := p.content(c)
	if p.onlyNo(c) {
		p.rest(c, Remark, "no", "", nil)
		return s
	}
	if why := p.doubt(c, x); why != "" {
		suspected := askSuspected(heardOf(x.says).Suspected)
		p.rest(c, Question, "", strings.TrimSpace(suspected+" "+why), x.says)
		return s
	}
	at := c.from
	for i := 0; i < len(c.items); {
		if n := p.ofHealth(c, at, i); n > i {
			at, i = p.end(c, n), n
			continue
		}
		it := c.items[i]
		p.gap(c, at, it.from)
		p.say(p.item(c, it, pulses, &s), it.says)
		at, i = it.to, i+1
	}
	p.gap(c, at, c.to)
	return s
}

// end is where what stands before an item of a clause ends.
func (p *parser) end(c clause, i int) int {
	if i < len(c.items) {
		return c.items[i].from
	}
	return c.to
}

// ofHealth makes one piece of what a clause says of signs from item i on, together with the words around
// it: where it has to be asked about, where it is denied and nothing else is said, and where more is
// said of a sign than its name. It gives the item behind, or i if the items make pieces of their own.
func (p *parser) ofHealth(c clause, at, i int) int {
	n := i
	var says []signs.Mention
	for ; n < len(c.items) && (c.items[n].what == isSign || c.items[n].what == isNone); n++ {
		says = append(says, c.items[n].says...)
	}
	end := p.end(c, n)
	words := p.wordsIn(at, end)
	known := !slices.ContainsFunc(words, func(w word) bool {
		return w.symbol || !p.filler(w) && !calm[w.text] && !describing[w.text] && !negations[w.text]
	})
	asks := slices.ContainsFunc(words, func(w word) bool { return w.symbol && strings.ContainsAny(w.text, ill) || talking[w.text] })
	heard := heardOf(says)
	switch {
	case len(heard.Suspected) > 0:
		p.say(p.trimmed(at, end, Question, c.day, "", askSuspected(heard.Suspected)), says)
	case len(says) > 0 && len(heard.Symptoms) == 0 && known:
		p.trimmed(at, end, Remark, c.day, saidNot, "")
	case len(heard.Symptoms) > 0 && !known && !asks:
		p.say(p.trimmed(at, end, Remark, c.day, signMeans(says), ""), says)
	default:
		return i
	}
	return n
}

// start is where the content of a clause begins: behind the day with which it opens.
func (p *parser) start(c clause) int {
	if len(c.items) > 0 && c.items[0].what == isDay && !p.anything(c.from, c.items[0].from, nil) {
		return c.items[0].to
	}
	return c.from
}

// rest makes one piece of a whole clause but the day with which it opens.
func (p *parser) rest(c clause, kind Kind, means, question string, says []signs.Mention) {
	from := p.start(c)
	if from > c.from {
		p.justDay(p.trimmed(c.from, from, Understood, c.items[0].day, day(c.items[0].day), ""))
	}
	p.say(p.trimmed(from, c.to, kind, c.day, means, question), says)
}

// trimmed adds a piece without the punctuation around it, unless nothing is left, and gives the index
// of the last piece.
func (p *parser) trimmed(from, to int, kind Kind, on workout.Date, means, question string) int {
	const around = " \t\u00a0\u202f.,;:-–/*•=&'’\"\r"
	inside := strings.TrimRight(p.text[from:to], around)
	from += len(inside) - len(strings.TrimLeft(inside, around))
	to = from + len(strings.TrimLeft(inside, around))
	if from < to {
		p.add(from, to, kind, on, means, question)
	}
	return len(p.pieces) - 1
}

// gap makes a piece of what is between two items.
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
			kind, means, question = Question, "", askPicture
		case w.symbol && kind == Understood:
			kind, means = Remark, "a picture"
		case w.symbol, p.filler(w):
		case describing[w.text] && slices.ContainsFunc(c.items, func(it item) bool { return it.what == isSign }):
		case kind != Question:
			kind, means = Left, ""
		}
	}
	if kind == Left && slices.ContainsFunc(words, func(w word) bool { return talking[w.text] }) {
		kind, question = Question, askTalk
	}
	p.trimmed(from, to, kind, c.day, means, question)
}

// item makes the piece of an item, and the entry of what it gives, and gives the index of the piece.
func (p *parser) item(c clause, it item, pulses pulseRun, s *said) int {
	enter := func(note record.Note, means string, soft what) int {
		on := c.day
		if it.day != 0 {
			on = it.day
		}
		i := p.add(it.from, it.to, Understood, on, means, "")
		p.entries = append(p.entries, entry{piece: i, day: on, note: note, soft: soft})
		s.effort, s.talk = s.effort || note.RPE != nil, s.talk || note.Talk != record.NotAsked
		return i
	}
	switch it.what {
	case isDay:
		return p.justDay(p.add(it.from, it.to, Understood, it.day, day(it.day), ""))
	case isStamp:
		return p.add(it.from, it.to, Understood, 0, it.means, "")
	case isRemark, isNone:
		if s := p.session(c.day); s != nil && p.text[it.from:it.to] == length(*s) { // carried along from the message
			return p.add(it.from, it.to, Understood, c.day, "length of the session", "")
		}
		return p.add(it.from, it.to, Remark, c.day, it.means, "")
	case isPulseHead:
		return p.add(it.from, it.to, Understood, c.day, it.means, "")
	case isSign:
		if len(it.says) == 0 {
			return p.add(it.from, it.to, Remark, c.day, "belongs to a sign", "")
		}
		return p.add(it.from, it.to, Understood, c.day, signMeans(it.says), "")
	case isValue:
		return enter(it.note, it.means, 0)
	case isNumber:
		v := p.value(it)
		found := p.bare(v, pulses.holds(it.from, v), *s)
		if found.what == isValue {
			return enter(found.note, found.means, 0)
		}
		return p.add(it.from, it.to, Question, c.day, "", found.question)
	}
	return enter(record.Note{}, "a word next to the answer", it.what) // about effort or enjoyment
}

const saidNot = "said not to be"

// signMeans names the signs that mentions enter.
func signMeans(says []signs.Mention) string {
	var words []string
	for _, s := range heardOf(says).Symptoms {
		words = append(words, s.Words())
	}
	return "sign: " + strings.Join(words, "; ")
}

// bare reads a number that does not say what it is: a pulse in a line of pulses, the effort, or, once
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
	return item{what: isDoubt, question: fmt.Sprintf(askMeaning, figure(v))}
}
