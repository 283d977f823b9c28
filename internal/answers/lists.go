package answers

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

const (
	talkLabel = `talk(?:ing)?(?: test)?|speak(?:ing)?|chat(?:ting)?`
	listSpace = `(?:\s*[,;&+]\s*(?:and\s+)?|\s+(?:(?:and|then|n)\s+)?)(?:an?\s+)?`
)

// lists are the forms of lists: one answer to the same question for each session, in their order.
var lists = []form{
	{numberList(`\s*/\s*`), (*parser).numbersListed},
	{numberList(listSpace), (*parser).numbersListed},
	{re(`\b(?:(` + talkLabel + `)` + copula + `)?(` + talkWord + `(?:\s*[,./;&]?\s*(?:and\s+)?` + talkWord + `)*)`), (*parser).talkListed},
}

const talkWord = `\b(?:easily|easy|ez|comfortable|fine|ok|okay|good|yes|yep|y|e|hard|difficult|tough|h|not possible|impossible|no|nope|n)\b`

func numberList(between string) *regexp.Regexp {
	return re(`\b(?:(` + effortLabel + `|` + enjoyLabel + `)` + copula + `)?(` + anyNum + `(?:` + between + anyNum + `)+)(?:\s+(?:for\s+)?(` + enjoyLabel + `|stars?)\b)?`)
}

var (
	eachNumber   = re(`\b` + anyNum)
	eachTalk     = re(talkWord)
	listEnds     = re(`^\s*(?:$|[,.;!)(\]\x00\r\n/]|(?:for|but|and|talk|talking|easy|hard|enjoy|enjoyed|enjoyment|fun|lol|haha|xx?)\b)`)
	rangeFrom    = re(`\b(?:between|from|or|to|not)\s+$`)
	namedDay     = re(`\b(?:` + dayNames + `)\b`)
	joined       = re(`,[0-9]`)
	thisClause   = re(`[^,;.!?\n\r]*$`)
	thisSentence = re(`[^.!?\n\r]*$`)
)

// listDays are the days that a list is about: those that the message names, or those of all sessions where it
// names none, or the list its question. None where there are not as many, or in another order.
func (p *parser) listDays(n int, labelled, efforts bool) []workout.Date {
	var named []workout.Date
	days := p.asked()
	for _, d := range namedDay.FindAllString(p.text, -1) {
		if day := p.lastDay(d); !slices.Contains(named, day) {
			named = append(named, day)
		}
	}
	switch {
	case len(named) == n && slices.IsSorted(named) && (!efforts || n == len(days)):
		return named
	case len(days) == n && (labelled || !slices.ContainsFunc(named, func(d workout.Date) bool { return !slices.Contains(days, d) })):
		return days
	}
	return nil
}

// list makes an item of answers one after the other, unless a day before them in the clause says that they are its own.
func (p *parser) list(m match, label string, notes []record.Note) (item, bool) {
	before := p.before(0, m.from)
	clause := thisClause.Find(before)
	strange := label == "" && slices.ContainsFunc(p.wordsIn(m.from-len(clause), m.from), func(w word) bool { return !p.light(w) }) // "sets of 4 and 5"
	if len(notes) < 2 || strange || !p.alone(m.from, m.to) || namedDay.Match(clause) || rangeFrom.Match(before) || !listEnds.Match(p.mask[m.to:]) {
		return item{}, false
	}
	days := p.listDays(len(notes), label != "", notes[0].RPE != nil)
	if days == nil {
		return item{what: isList, question: askWhichSessions}, true
	}
	it := item{what: isList, means: "one answer for each session"}
	for i, n := range notes {
		n.Date = days[i]
		it.choices = append(it.choices, n)
	}
	return it, true
}

// numbersListed reads "12, 14, 13", "enjoyed 4/3/4" or "4 and 3". What is no effort is a rating, and both kinds
// together are no list.
func (p *parser) numbersListed(m match) (item, bool) {
	texts := eachNumber.FindAllString(m.group(2), -1)
	if len(texts) < 2 { // twenty one
		return item{}, false
	}
	if top := scaleOf(texts[1]); len(texts) == 2 && (strings.Contains(m.group(2), "/") && top%5 == 0 || joined.MatchString(m.group(2))) { // 4/5 or 12,14
		return item{what: isDoubt, question: askOneOrTwo}, p.oneOrTwo(m, top)
	}
	label := strings.ToLower(m.group(1) + m.groups[len(m.groups)-1])
	about, n := labels[label], len(texts)
	efforts := notesOf(texts, func(v float64) item { return effortItem(v, p.Scale) })
	joys := notesOf(texts, enjoymentItem)
	switch {
	case len(efforts) == n && (len(joys) == 0 && about == "" || about == AboutEffort):
		return p.list(m, label, efforts)
	case len(joys) == n && (len(efforts) == 0 && about == "" || about == AboutEnjoyment):
		return p.list(m, label, joys)
	}
	return item{}, false
}

// oneOrTwo says that 4/5 may be two ratings: it begins a sentence behind several days, and is the only one.
func (p *parser) oneOrTwo(m match, top int) bool {
	before := p.text[:m.from]
	return len(namedDay.FindAllString(before, -1)) > 1 && !namedDay.MatchString(thisSentence.FindString(before)) && strings.Count(p.text, fmt.Sprintf("/%d", top)) == 1
}

// notesOf are the notes of the numbers that answer a question.
func notesOf(texts []string, read func(float64) item) (notes []record.Note) {
	for _, text := range texts {
		if it := read(inFigures(text)); it.what == isValue {
			notes = append(notes, it.note)
		}
	}
	return notes
}

// talkListed reads "talking yes, no" and "easy hard easy"; what may mean something else needs its question.
func (p *parser) talkListed(m match) (item, bool) {
	var notes []record.Note
	for _, word := range eachTalk.FindAllString(m.group(2), -1) {
		if word = strings.ToLower(word); m.group(1) == "" && word != "hard" && !strings.HasPrefix(word, "eas") && word != "ez" {
			return item{}, false
		}
		notes = append(notes, record.Note{Talk: talkOf(word)})
	}
	if len(notes) == 1 && strings.Contains(" y n e h yes no ", " "+strings.ToLower(m.group(2))+" ") { // "talk y", "talk: no"
		return talkItem(notes[0].Talk), markedAhead.Match(p.mask[m.to:])
	}
	return p.list(m, m.group(1), notes)
}

// talkOf is the answer about talking that a word or a letter stands for.
func talkOf(word string) record.Talk {
	switch strings.ToLower(word) {
	case "hard", "difficult", "tough", "h":
		return record.TalkHard
	case "not possible", "impossible", "no", "nope", "n":
		return record.TalkNo
	}
	return record.TalkComfortable
}

var markedAhead = re(`^\s*(?:$|[,.;|/)\n]|[0-9]|(?:` + enjoyLabel + `)\b)`)
