package answers

import (
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

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

// doubt says why the answers of a clause cannot be entered as they stand, "" if they can, and the item that is
// asked about in the clause's place. What it says of signs is entered or asked about in any case.
func (p *parser) doubt(c *clause, says []signs.Mention) (why string, asked *item) {
	if i := slices.IndexFunc(c.items, func(it item) bool { return it.what == isDoubt && it.wide }); i >= 0 {
		return c.items[i].question, &c.items[i]
	}
	for i := range c.items { // "couldn't speak": breath, or words that would not come
		it := &c.items[i]
		if talk := it.about == AboutTalk || it.what == isValue && it.note.Talk != ""; talk && len(heardOf(it.says).Suspected) > 0 {
			it.what, it.about, it.choices = isDoubt, AboutTalk, talkChoices(c.day)
			it.question = askSuspected(heardOf(it.says).Suspected) + " " + askTalk
		}
	}
	if why := p.unclear(c); why != "" {
		return why, nil
	}
	any := func(is func(item) bool) bool { return slices.ContainsFunc(c.items, is) }
	doubtful := p.doubtful(c, speaks(says))
	switch {
	case len(c.also) > 0 && (speaks(says) || sameAndMore(c.items)):
		c.day = 0
		return askDayMeant, nil
	case !any(item.tells):
		return "", nil
	case strings.HasPrefix(c.after, "?"):
		return askWhetherSo, nil
	case doubtful != "":
		return fmt.Sprintf(askUnsure, doubtful), nil
	case any(func(it item) bool { return it.note.HeatC != nil }) && slices.ContainsFunc(says, feverish):
		return askAirOrFever, nil
	case c.night && any(func(it item) bool { return it.what == isValue || it.what == isDoubt }):
		return askNight, nil
	}
	return p.contradiction(c), nil
}

// sameAndMore says that answers stand behind "same" and several days, and may be the last day's own: "same Wed and Fri 14".
func sameAndMore(items []item) bool {
	same := slices.IndexFunc(items, func(it item) bool { return it.what == isSame })
	days := slices.IndexFunc(items, func(it item) bool { return it.what == isDay })
	return 0 <= same && same < days && slices.ContainsFunc(items[days:], item.answers)
}

func feverish(m signs.Mention) bool { return m.Sign == signs.Fever && m.Said != signs.Denied }

// unclear asks about an item that may be something else: for a fever, as a pulse of 38.7 is, or for the word next
// to it.
func (p *parser) unclear(c *clause) string {
	for i, it := range c.items {
		if it.what != isSign && it.about != AboutTalk && len(heardOf(it.says).Suspected) > 0 {
			return fmt.Sprintf(askMeaning, p.text[it.from:it.to])
		}
		if strange := p.nextTo(c, i); it.loose && strange != "" {
			return fmt.Sprintf(askBeside, strange)
		}
	}
	return ""
}

// doubtful is a word that makes it doubtful that a clause states what was: one of doubt by itself, or a denial
// before an answer, as in "not fun 4". A word that describes a sign is none.
func (p *parser) doubtful(c *clause, ofSign bool) string {
	words := p.wordsIn(c.from, c.to)
	for i, w := range words {
		next := slices.IndexFunc(c.items, func(it item) bool { return it.from >= w.to })
		denies := (negations[w.text] || strings.HasSuffix(w.text, "n't")) && next >= 0 && c.items[next].answers() &&
			!slices.ContainsFunc(words[i+1:], func(b word) bool { return b.from < c.items[next].from && breaks[b.text] })
		company := kin[w.text] && slices.ContainsFunc(words[max(0, i-2):i], func(b word) bool { return b.text == "with" }) // "with my sister"
		if (poison[w.text] && !company || denies) && !p.filler(w) && !(ofSign && describing[w.text]) {
			return w.text
		}
	}
	return ""
}

// kin are people who may have come along.
var kin = set("husband wife friend partner brother sister mother father son daughter kids child")

// contradiction says that an effort and a word beside it do not go together.
func (p *parser) contradiction(c *clause) string {
	for _, it := range c.items {
		if it.what != isValue || it.note.RPE == nil {
			continue
		}
		v, scale := it.note.RPE.Value, it.note.RPE.Scale
		for _, w := range c.items {
			word := p.lower(&w)
			if (w.what == effortWord || w.what == feltWord && strings.Contains(word, " ")) && scaleUpTo(scale).contradicts(word, v) {
				return fmt.Sprintf(askContradiction, word, figure(v), scaleUpTo(scale).hint(word))
			}
		}
	}
	return ""
}

func (p *parser) lower(it *item) string { return strings.ToLower(p.text[it.from:it.to]) }

// judge makes the pieces of a clause.
func (p *parser) judge(c clause) {
	p.number = c.line
	if p.onlyNo(c) {
		p.rest(c, Remark, "no", "", nil)
		return
	}
	var says []signs.Mention
	for _, it := range c.items {
		says = append(says, it.says...)
	}
	if why, asked := p.doubt(&c, says); why != "" {
		p.rest(c, Question, "", strings.TrimSpace(askSuspected(heardOf(says).Suspected)+" "+why), says)
		p.choose(len(p.pieces)-1, c, asked)
		return
	}
	at := c.from
	for i := 0; i < len(c.items); {
		if n := p.ofHealth(c, at, i); n > i {
			at, i = p.end(c, n), n
			continue
		}
		it := c.items[i]
		p.gap(c, at, it.from)
		p.say(p.item(c, it), it.says)
		at, i = it.to, i+1
	}
	p.gap(c, at, c.to)
}

// choose gives a question about all of a clause its choices: what the clause answers, for each of the
// days that may be meant or by itself.
func (p *parser) choose(piece int, c clause, asked *item) {
	var all record.Note
	for _, it := range c.items {
		if it.what == isValue {
			merge(&all, it.note)
		}
		for _, d := range append([]workout.Date{c.day}, c.also...) {
			if (it.what == isValue || it.what == feltWord) && d > 0 {
				p.entries = append(p.entries, entry{piece: piece, day: d, note: it.note})
			}
		}
	}
	x := &p.pieces[piece]
	if x.Kind != Question || empty(all) {
		return
	}
	days := []workout.Date{max(0, c.day)}
	if asked != nil {
		x.About = asked.about
		if asked.about == AboutDay {
			days = p.recent()
		}
	}
	for _, all.Date = range days {
		x.Choices = append(x.Choices, all)
	}
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
		case opinions[w.text] && kind == Understood:
			kind, means = Remark, "a word next to the answer"
		case w.symbol, p.filler(w), opinions[w.text]:
		case describing[w.text] && slices.ContainsFunc(c.items, func(it item) bool { return it.what == isSign }):
		case kind != Question:
			kind, means = Left, ""
		}
	}
	if kind == Left && slices.ContainsFunc(words, func(w word) bool { return talking[w.text] }) {
		kind, question = Question, askTalk
	}
	if i := p.trimmed(from, to, kind, c.day, means, question); question == askTalk {
		p.ask(i, AboutTalk, question, talkChoices(c.day)...)
	}
}

// item makes an item's piece and the entries that it gives, and returns the index of the piece.
func (p *parser) item(c clause, it item) int {
	enter := func(e entry, means string) int {
		days := append([]workout.Date{c.day}, c.also...)
		if it.day != 0 && it.what == isValue {
			days = []workout.Date{it.day}
		}
		e.piece = p.add(it.from, it.to, Understood, days[0], means, "")
		for _, e.day = range days {
			p.entries = append(p.entries, e)
		}
		return e.piece
	}
	switch it.what {
	case isDay:
		return p.justDay(p.add(it.from, it.to, Understood, it.day, day(it.day), ""))
	case isStamp, isCorrection, isTalkHead, isPulseHead:
		return p.add(it.from, it.to, Understood, c.day, it.means, "")
	case isRemark, isNone:
		if s := p.session(c.day); s != nil && p.text[it.from:it.to] == length(*s) { // carried along from the message
			return p.add(it.from, it.to, Understood, c.day, "length of the session", "")
		}
		return p.add(it.from, it.to, Remark, c.day, it.means, "")
	case isSign:
		if len(it.says) == 0 {
			return p.add(it.from, it.to, Remark, c.day, "belongs to a sign", "")
		}
		return p.add(it.from, it.to, Understood, c.day, signMeans(it.says), "")
	case isValue:
		return enter(entry{note: it.note}, it.means)
	case isList:
		i := p.add(it.from, it.to, Understood, 0, it.means, "")
		if it.question != "" {
			p.ask(i, AboutDay, it.question)
		}
		for _, n := range it.choices {
			p.entries = append(p.entries, entry{piece: i, day: n.Date, note: n})
		}
		return i
	case isSame:
		return enter(entry{same: true, as: it.day}, "the same answers")
	case isDoubt:
		i := p.add(it.from, it.to, Question, c.day, "", "")
		for n := range it.choices {
			it.choices[n].Date = max(0, c.day)
		}
		p.ask(i, it.about, it.question, it.choices...)
		return i
	}
	soft := it.what
	if strings.Contains(p.lower(&it), " ") && soft == feltWord {
		soft = effortWord
	}
	return enter(entry{soft: soft}, "a word next to the answer") // about effort or enjoyment
}

const saidNot = "denied"

// signMeans names the signs that mentions enter.
func signMeans(says []signs.Mention) string {
	var words []string
	for _, s := range heardOf(says).Symptoms {
		words = append(words, s.Words())
	}
	return "sign: " + strings.Join(words, "; ")
}

// talkChoices are the three answers about talking.
func talkChoices(on workout.Date) (out []record.Note) {
	for _, t := range []record.Talk{record.TalkComfortable, record.TalkHard, record.TalkNo} {
		out = append(out, record.Note{Date: max(0, on), Talk: t})
	}
	return out
}
