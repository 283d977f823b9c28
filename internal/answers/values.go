package answers

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

var (
	byName = strings.Split(toTwenty, "|") // one is the first
	byTens = strings.Split(tens, "|")     // twenty is the first
)

// inFigures reads a number in figures or letters; NaN if it is none.
func inFigures(text string) float64 {
	ten, one, _ := strings.Cut(strings.ReplaceAll(strings.ToLower(text), "-", " "), " ")
	if i := slices.Index(byTens, ten); i >= 0 {
		return float64(10*(i+2) + 1 + slices.Index(byName, one))
	}
	if i := slices.Index(byName, strings.ToLower(text)); i >= 0 {
		return float64(i + 1)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func scaleOf(text string) int {
	if text == "" {
		return 0
	}
	return int(inFigures(text))
}

// alone says that a number is not a part of something longer, such as 30-09, 1/2 or "12+".
func (p *parser) alone(from, to int) bool {
	if from > 0 && p.mask[from-1] != 0 && partBefore.Match(p.mask[max(0, from-8):from]) {
		return false
	}
	return to >= len(p.mask) || p.mask[to] == 0 || !partAfter.Match(p.mask[to:])
}

var (
	partBefore = re(`(?:[0-9][./:+-]|[<>+$€£#]|[^\x00-\x7f\p{So}\x{FE0F}–—“„‘\x{a0}\x{202f}])$`)
	partAfter  = re(`^(?:[./:–-][0-9]|[^\s\x00a-z,;:!?().–—/|&"“”'’*\[\]\x{a0}\x{202f}-])`)
)

// figures reads a number that stands by itself. The word "one" is a number only with its scale.
func (p *parser) figures(m match) (item, bool) {
	it := item{what: isNumber, about: labelled(strings.ToLower(m.group(1))), number: number{value: inFigures(m.group(2) + m.group(3)), of: scaleOf(m.group(4))}}
	return it, p.alone(m.from, m.to) && (m.group(4) != "" || !strings.EqualFold(m.group(3), "one"))
}

// between is a range: whichever end is meant, somebody has to say so.
func (p *parser) between(m match) (item, bool) {
	if !math.IsNaN(inFigures(m.group(0))) { // sixty-one
		return item{}, false
	}
	it := item{what: isDoubt, question: askWhichNumber}
	for _, end := range m.groups[1:3] {
		may := p.meanings(number{inFigures(end), scaleOf(m.group(3))}, "")
		if i := slices.IndexFunc(may, func(g guess) bool { return g.item.what == isValue }); i >= 0 {
			it.about, it.choices = may[i].about, append(it.choices, may[i].item.note)
		}
	}
	return it, true
}

// feltWords are words about effort; those that may answer the question about talking say so.
func (p *parser) feltWords(m match) (item, bool) {
	it := item{what: feltWord, to: p.wordEnd(m)}
	word := strings.ToLower(p.text[m.from:it.to])
	plain := strings.TrimSuffix(word, " peasy")
	plain = plain[strings.LastIndex(plain, " ")+1:]
	switch {
	case strings.HasPrefix(word, "not ") && plain != "possible", strings.HasPrefix(word, "too "), strings.HasPrefix(word, "extremely"), word == "somewhat hard":
		it.what = effortWord
	case slices.Contains(strings.Fields("easy easily ez comfortable comfortably comfy"), plain):
		it.note.Talk = record.TalkComfortable
	case plain == "hard":
		it.note.Talk = record.TalkHard
	case plain == "possible" || plain == "impossible":
		it.note.Talk = record.TalkNo
	case plain == "no", plain == "nope", plain == "way", plain == "chance":
		it.note.Talk = record.TalkNo
		return it, numberBehind.Match(p.mask[:m.from]) && numberAhead.Match(p.mask[m.to:])
	default:
		it.what = effortWord
	}
	return it, true
}

var (
	numberBehind = re(`[0-9][\s.,;/:|–-]+$`)
	numberAhead  = re(`^[\s.,;/:|–-]+[1-5]\b`)
)

// midWord asks whether a word between an effort and a rating is about talking: "13, yes, 4".
func (p *parser) midWord(m match) (item, bool) {
	it := item{what: isDoubt, about: AboutTalk, question: fmt.Sprintf(askAboutTalk, strings.ToLower(m.group(0))), choices: talkChoices(0)}
	return it, numberBehind.Match(p.mask[:m.from]) && numberAhead.Match(p.mask[m.to:])
}

// misfelt reads "easy" or "hard" with a typing error or in another language.
func (p *parser) misfelt(m match) (item, bool) {
	word := strings.ToLower(m.group(0))
	felt := map[string]record.Talk{"easy": record.TalkComfortable, "hard": record.TalkHard}[corrected(word)]
	return item{what: feltWord, note: record.Note{Talk: felt}}, felt != "" && corrected(word) != word
}

func talkItem(t record.Talk) item {
	return item{what: isValue, note: record.Note{Talk: t}, means: "talking " + talkWords(t)}
}

func talkWords(t record.Talk) string {
	if t == record.TalkNo {
		return "not possible"
	}
	return string(t)
}

func effortItem(v float64, scale int) item {
	if !scaleUpTo(scale).holds(v) {
		return item{what: isDoubt, about: AboutEffort, question: fmt.Sprintf(askOffScale, figure(v), scaleUpTo(scale).span)}
	}
	return item{
		what: isValue, note: record.Note{RPE: &workout.RPE{Value: v, Scale: scale}},
		means: fmt.Sprintf("effort %s on the %s scale", wording.Number(v), scaleUpTo(scale).name),
	}
}

func enjoymentItem(v float64) item {
	if v != math.Trunc(v) || v < 1 || v > 5 {
		return item{what: isDoubt, about: AboutEnjoyment, question: fmt.Sprintf(askOffEnjoyment, figure(v))}
	}
	return item{what: isValue, note: record.Note{Enjoyment: int(v)}, means: wording.Number(v) + " of 5 for enjoyment"}
}

// pulse reads a resting heart rate; most is the highest that counts as one without a question.
func (p *parser) pulse(v float64, thisMorning bool, most float64) item {
	it := item{what: isValue, note: record.Note{HRRest: v}, means: "resting heart rate " + wording.Number(v) + " bpm"}
	if v < 30 || v > most {
		return item{what: isDoubt, about: AboutPulse, question: fmt.Sprintf(askPulse, figure(v))}
	}
	if thisMorning {
		it.day = p.On
	}
	return it
}

// plainPulse reads a heart rate that does not say that it is the resting one, or not in front.
func (p *parser) plainPulse(m match) (item, bool) {
	when := strings.ToLower(m.group(1) + m.group(2) + m.group(4))
	if strings.Contains(when, "rest") || strings.Contains(when, "morning") || strings.Contains(when, "waking") {
		return p.pulse(m.num(3), strings.Contains(when, "this"), 130), true
	}
	if when != "" {
		return item{what: isRemark, means: "heart rate of a session; the recording has it"}, true
	}
	return p.pulse(m.num(3), false, 100), true
}

// heat reads an air temperature. One near the body's may be a fever.
func heat(m match, inF bool) item {
	v, means := m.num(1), ""
	if inF {
		v = math.Round((v-32)/1.8*10) / 10
		means = " (from " + m.group(1) + " °F)"
	}
	switch {
	case v < -40 || v > 55:
		return item{what: isDoubt, about: AboutHeat, wide: true, question: fmt.Sprintf(askNoAir, figure(v))}
	case v >= 36 && v <= 42:
		return item{what: isDoubt, about: AboutHeat, wide: true, question: fmt.Sprintf(askDegrees, figure(v))}
	}
	return item{what: isValue, note: record.Note{HeatC: &v}, means: "air temperature " + wording.Number(v) + " °C" + means}
}

// sameEnds is what may follow "same" where all answers are the same, and not only the route.
var sameEnds = re(`^\s*(?:$|[^\pL\s]|\b(?:` + dayNames + `|but|and|on|for|too|both|today|yesterday|this)\b)`)

// same reads "same as Monday".
func (p *parser) same(m match) (item, bool) {
	it := item{what: isSame}
	if m.group(1) != "" {
		it.day = p.lastDay(m.group(1))
	}
	end := m.to + max(0, strings.IndexAny(p.text[m.to:]+"\n", "\n\r"))
	return it, sameEnds.Match(p.mask[m.to:end])
}
