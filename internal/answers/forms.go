package answers

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// what says what an item is.
type what int

const (
	isDay       what = iota + 1
	isValue          // an answer in words of its own
	isNumber         // a bare number
	isSign           // a sign, or a topic to ask about
	isNone           // a denied sign or complaint, or a phrase that all was well
	isRemark         // understood, not counted
	isStamp          // when a messenger sent the message
	isDoubt          // makes a question of its clause
	isPulseHead      // "resting pulse:", with the numbers still to come
	effortWord       // a word about effort, without a number
	feltWord         // the same, but it may be about talking
	enjoyWord
)

// item is a stretch of a line that a form has claimed.
type item struct {
	from, to int
	what     what
	note     record.Note  // of a value
	day      workout.Date // of a day, and of a value that names its day itself
	weekday  bool         // the day is a weekday's name
	relative bool         // the day is counted from that of the message: "yesterday"
	night    bool         // the day is "last night"
	loose    bool         // a value that holds only if nothing unknown is next to it
	means    string
	question string
	says     []signs.Mention // of signs and topics
}

// match is one match of a form.
type match struct {
	from, to int
	groups   []string
}

func (m match) group(i int) string { return m.groups[i] }

// num reads a group that holds a number, with a point or a comma.
func (m match) num(i int) float64 {
	v, err := strconv.ParseFloat(strings.Replace(m.groups[i], ",", ".", 1), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// claim takes every match of a form in a line that read accepts, and blanks it out.
func (p *parser) claim(re *regexp.Regexp, from, to int, read func(match) (item, bool)) []item {
	var out []item
	for _, at := range re.FindAllSubmatchIndex(p.mask[from:to], -1) {
		m := match{from: from + at[0], to: from + at[1]}
		for i := 0; i < len(at); i += 2 {
			g := ""
			if at[i] >= 0 {
				g = p.text[from+at[i] : from+at[i+1]]
			}
			m.groups = append(m.groups, g)
		}
		it, ok := read(m)
		if !ok {
			continue
		}
		it.from, it.to = m.from, m.to
		for it.from < it.to && strings.ContainsRune(" ,;:.\x00", rune(p.mask[it.from])) {
			it.from++
		}
		for it.to > it.from && strings.ContainsRune(" ,;:\x00", rune(p.mask[it.to-1])) {
			it.to--
		}
		for it.what == isValue && it.to > it.from && strings.ContainsRune(" .!)", rune(p.text[it.to-1])) {
			it.to--
		}
		out = append(out, it)
		p.blank(it.from, it.to)
	}
	return out
}

func (p *parser) blank(from, to int) {
	for i := from; i < to; i++ {
		p.mask[i] = 0
	}
}

const (
	num = `([0-9]{1,3}(?:\.[0-9])?)`
	// copula may stand between a word and its number.
	copula = `(?:\s|[:=~≈-]|\b(?:was|is|about|around|ca|approx|a|an|of|like|felt|level|score|rating|at|my|the)\b)*`
	degree = `(?:very|quite|pretty|fairly|really|too|super|rather)`
	lackOf = `(?:no|without(?: an?| the| any)?|broken|missing|forgot(?: the| my)?|(?:didn['’]?t|did not) have (?:an?|the)|(?:there )?(?:wasn['’]?t|was no|was not) (?:an? )?)`

	// What a number counts when it is not an answer to a question.
	amount    = `[0-9]+(?:[.,][0-9]+)?`
	times     = `min(?:ute)?s?|mins|hours?|hrs?|h|sec(?:ond)?s?|s|weeks?|months?|years?|days?`
	lengths   = `km|kms|k|kilomet(?:re|er)s?|miles?|mi|met(?:re|er)s?|m`
	counts    = `laps?|times|rounds?|sets?|reps?|bouts?|intervals?|floors?|flights?|steps|people`
	weights   = `kg|kcal|cal|calories|watts?|w|lbs?`
	clockTime = `\b[0-9]+h[0-9]{1,2}(?:min)?\b|\b[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?\s*(?:am|pm|h)?\b|\b[0-9]{1,2}\s*(?:am|pm|o['’]clock)\b`

	sep = `[\s,;/:|+–-]+`
)

// The forms of values.
var (
	rangeForm   = regexp.MustCompile(`(?i)(?:\bbetween\s+)?\b[0-9]{1,3}(?:\.[0-9])?\s*(?:-|–|—|\bto\b|\bor\b|\band\b)\s*[0-9]{1,3}(?:\.[0-9])?(?:\s*(?:/|out of|of)\s*(?:10|20|5)\b)?`)
	commaNumber = regexp.MustCompile(`\b[0-9]{1,3},[0-9]{1,3}\b`)
	effortNamed = regexp.MustCompile(`(?i)\b(?:rpe|effort|exertion|borg)` + copula + num + `(?:\s*(?:/|out of|of)\s*(10|20)\b)?`)
	effortAfter = regexp.MustCompile(`(?i)\b` + num + `(?:\s*(?:/|out of|of)\s*(10|20))?\s*(?:on (?:the )?)?(?:rpe|effort|exertion|borg)\b`)
	effortOf    = regexp.MustCompile(`(?i)\b` + num + `\s*(?:/|out of|of|on (?:a |the )?scale (?:of|to)|on)\s*(10|20)\b`)
	feltLike    = regexp.MustCompile(`(?i)\bfelt like (?:an? |about |around )*` + num + `(?:\s*(?:/|out of|of)\s*(10|20)\b)?`)
	enjoyNamed  = regexp.MustCompile(`(?i)\b(?:enjoyment|enjoyed it|enjoyed|enjoy|fun|pleasure|joy|liked it)` + copula + num + `(?:\s*(?:/|out of|of)\s*(?:5|five)\b)?`)
	enjoyAfter  = regexp.MustCompile(`(?i)\b` + num + `(?:\s*(?:/|out of|of)\s*5)?\s*(?:for )?(?:enjoyment|fun|pleasure|joy)\b`)
	enjoyOf     = regexp.MustCompile(`(?i)\b` + num + `\s*(?:/|out of|of)\s*5\b`)
	form        = regexp.MustCompile(`(?i)(?:^|[\s:,;(\x00–-])[~≈]?([0-9]{1,2}(?:\.[0-9])?)` + sep + `(easy|comfortable|comfy|hard|not possible|impossible|no)` + sep + `([1-5])(?:\s*(?:/|of|out of)\s*5)?(?:[\s,;.!)]|\x00|$)`)

	scaleNamed = regexp.MustCompile(`(?i)\(?\b(?:on (?:the|a) )?(6\s*[-–]\s*20|0\s*[-–]\s*10)\b(?: scale)?\)?`)

	pulseHead  = `(?:resting|rest|morning|waking|wake-up)\s+(?:hr|heart[ -]?rate|pulse|bpm|beats)(?:\s+(?:this|in the) morning|\s+today)?|rhr|(?:pulse|hr|heart[ -]?rate)(?:\s+(?:was|is))?\s+(?:this morning|in the morning|at rest|on waking)`
	bpmAfter   = `(?:\s*(?:bpm|beats(?: (?:a|per) min(?:ute)?)?))?`
	pulseList  = regexp.MustCompile(`(?i)\b(?:` + pulseHead + `|pulse|hr|heart[ -]?rate)\b` + copula + `[0-9]{2,3}(?:\s*(?:,|/|&|and|-)\s*[0-9]{2,3}\b)+` + bpmAfter)
	pulseNamed = regexp.MustCompile(`(?i)\b(` + pulseHead + `)` + copula + num + bpmAfter + `\b`)
	pulsePlain = regexp.MustCompile(`(?i)\b(?:(avg|average|mean|max|maximum|peak|highest|top)\s+)?(?:pulse|hr|heart[ -]?rate)(?:\s+(avg|average|mean|max|maximum|peak)\b)?` + copula + num + bpmAfter + `\b(?:\s+(at rest|this morning|in the morning|on waking|avg|average|mean|max|peak)\b)?`)
	pulseAfter = regexp.MustCompile(`(?i)\b` + num + bpmAfter + `\s+(?:(?:was|is)\s+)?(?:(?:my\s+)?resting(?:\s+(?:pulse|hr|heart[ -]?rate))?|at rest|in the morning|this morning|on waking|before getting up)\b`)
	pulseBegin = regexp.MustCompile(`(?i)\b(?:` + pulseHead + `|pulse)s?\b`)
	otherBPM   = regexp.MustCompile(`(?i)\b` + num + `\s*(?:bpm|beats(?: (?:a|per) min(?:ute)?)?)\b`)

	celsius     = regexp.MustCompile(`(?i)(?:^|[\s:,;(\x00~≈])(?:temp(?:erature)?` + copula + `)?([-−]?[0-9]{1,3}(?:[.,][0-9])?)\s*(?:°|º|degrees?|deg\.?)?\s*(?:c|celsius|centigrade)\b`)
	fahrenheit  = regexp.MustCompile(`(?i)(?:^|[\s:,;(\x00~≈])(?:temp(?:erature)?` + copula + `)?([-−]?[0-9]{1,3}(?:[.,][0-9])?)\s*(?:°|º|degrees?|deg\.?)?\s*(?:f|fahrenheit)\b`)
	degrees     = regexp.MustCompile(`(?i)\b[0-9]{1,3}(?:[.,][0-9])?\s*(?:°|º|degrees?\b|deg\b)`)
	noFan       = regexp.MustCompile(`(?i)\b` + lackOf + `\s*fan\b|\bfan (?:was )?(?:off|broken|missing)\b|\bfan (?:did not|didn['’]?t) work\b`)
	withFan     = regexp.MustCompile(`(?i)\b(?:with|had) (?:an?|the|my) fan\b|\b(?:the )?fan (?:was )?(?:on|running|working)\b|\bfan\s*[:=]?\s*yes\b`)
	description = regexp.MustCompile(`(?i)\b` + amount + `\s*(?:` + times + `|` + lengths + `|` + counts + `|` + weights + `)\b|` + clockTime + `|\b[0-9]{1,3}\s*%`)
	effortWords = regexp.MustCompile(`(?i)\b(?:no exertion at all|extremely (?:light|hard)|very,? very (?:light|hard|easy)|` + degree +
		`\s+(?:light|hard|easy|heavy|tough|comfortable)|somewhat hard|light|hard|heavy|maximal exertion|maximal|easy|tough|moderate|exhausting|comfortable|comfy|harder|easier)\b`)
	enjoyWords = regexp.MustCompile(`(?i)\b(?:loved (?:it|every minute(?: of it)?)|enjoyed (?:it|myself)|really enjoyed it|liked it|hated it|(?:great|good|big|so much) fun|fun|no fun|boring|bored|disliked it|did(?:n['’]?t| not) (?:like|enjoy) it)\b|[⭐★]+`)
)

// measured claims what names its unit or what it measures, before days are looked for: "this
// morning" belongs to the pulse, and 4/10 to the effort.
func (p *parser) measured(from, to int) []item {
	var out []item
	take := func(re *regexp.Regexp, read func(match) (item, bool)) {
		out = append(out, p.claim(re, from, to, read)...)
	}
	take(scaleNamed, func(m match) (item, bool) {
		if strings.HasPrefix(m.group(1), "6") == (p.Scale == 20) {
			return item{what: isStamp, means: "the scale of the effort"}, true
		}
		return item{what: isDoubt, question: askScale}, true
	})
	take(celsius, func(m match) (item, bool) { return heat(m.group(1), false) })
	take(fahrenheit, func(m match) (item, bool) { return heat(m.group(1), true) })
	take(degrees, doubt(askUnit))
	take(pulseList, doubt(askMornings))
	take(pulseNamed, func(m match) (item, bool) {
		return p.pulse(m.num(2), strings.Contains(strings.ToLower(m.group(1)), "this morning"), 130), true
	})
	take(pulsePlain, func(m match) (item, bool) {
		when := strings.ToLower(m.group(1) + m.group(2) + m.group(4))
		if strings.Contains(when, "rest") || strings.Contains(when, "morning") || strings.Contains(when, "waking") {
			return p.pulse(m.num(3), strings.Contains(when, "this"), 130), true
		}
		if when != "" {
			return item{what: isRemark, means: "heart rate of a session; the recording has it"}, true
		}
		return p.pulse(m.num(3), false, 100), true
	})
	take(pulseAfter, func(m match) (item, bool) {
		return p.pulse(m.num(1), strings.Contains(strings.ToLower(m.group(0)), "this morning"), 130), true
	})
	take(pulseBegin, func(match) (item, bool) { return item{what: isPulseHead, means: "resting heart rate"}, true })
	take(effortRange, doubt(askWhichNumber))
	take(effortNamed, func(m match) (item, bool) { return p.effort(m, 1, 2), true })
	take(feltLike, func(m match) (item, bool) { return p.effort(m, 1, 2), true })
	return out
}

func doubt(question string) func(match) (item, bool) {
	return func(match) (item, bool) { return item{what: isDoubt, question: question}, true }
}

// values claims the other answers of a line but talk and signs.
func (p *parser) values(from, to int) []item {
	var out []item
	take := func(re *regexp.Regexp, read func(match) (item, bool)) {
		out = append(out, p.claim(re, from, to, read)...)
	}
	take(otherBPM, doubt(askResting))
	take(description, func(match) (item, bool) {
		return item{what: isRemark, means: "time, length or amount; not an answer to a question"}, true
	})
	take(form, p.formAnswer)
	take(rangeForm, doubt(askWhichNumber))
	take(effortAfter, func(m match) (item, bool) { return p.effort(m, 1, 2), true })
	take(enjoyNamed, func(m match) (item, bool) { return enjoyment(m), true })
	take(enjoyAfter, func(m match) (item, bool) { return enjoyment(m), true })
	take(effortOf, func(m match) (item, bool) {
		it := p.effort(m, 1, 2)
		it.loose = true
		return it, true
	})
	take(enjoyOf, func(m match) (item, bool) {
		it := enjoyment(m)
		it.loose = true
		return it, true
	})
	take(commaNumber, doubt(askOneOrTwo))
	take(noFan, func(match) (item, bool) {
		return item{what: isValue, note: record.Note{NoFan: true}, means: "done without a fan"}, true
	})
	take(withFan, func(match) (item, bool) { return item{what: isRemark, means: "there was a fan"}, true })
	return out
}

var effortRange = regexp.MustCompile(`(?i)\b(?:rpe|effort|exertion|borg)` + copula + `(?:between\s+)?[0-9]{1,3}(?:\.[0-9])?\s*(?:-|–|—|\bto\b|\bor\b|\band\b)\s*[0-9]{1,3}(?:\s*(?:/|out of|of)\s*(?:10|20)\b)?`)

// words claims the words about effort and enjoyment that come without a number.
func (p *parser) words(from, to int) []item {
	var out []item
	out = append(out, p.claim(enjoyWords, from, to, func(match) (item, bool) { return item{what: enjoyWord}, true })...)
	return append(out, p.claim(effortWords, from, to, func(m match) (item, bool) {
		switch strings.ToLower(m.group(0)) {
		case "easy", "hard", "comfortable", "comfy":
			return item{what: feltWord}, true
		case "harder", "easier", "too hard", "too easy":
			return item{}, false
		}
		return item{what: effortWord}, true
	})...)
}

// formAnswer is the answer in the order of the message: effort, talking, enjoyment.
func (p *parser) formAnswer(m match) (item, bool) {
	v, scale := m.num(1), p.Scale
	talk := map[string]record.Talk{
		"easy": record.TalkComfortable, "comfortable": record.TalkComfortable, "comfy": record.TalkComfortable, "hard": record.TalkHard,
	}[strings.ToLower(m.group(2))]
	if talk == record.NotAsked {
		talk = record.TalkNo
	}
	if !onScale(v, scale) {
		return item{what: isDoubt, question: fmt.Sprintf(askOffScale, figure(v), scaleRange(scale))}, true
	}
	fun, _ := strconv.Atoi(m.group(3))
	return item{
		what:  isValue,
		note:  record.Note{RPE: &workout.RPE{Value: v, Scale: scale}, Talk: talk, Enjoyment: fun},
		means: fmt.Sprintf("effort %s on the %s scale, talking %s, enjoyment %d of 5", wording.Number(v), scaleName(scale), talkWords(talk), fun),
	}, true
}

func talkWords(t record.Talk) string {
	if t == record.TalkNo {
		return "not possible"
	}
	return string(t)
}

// effort reads an effort with its number in one group and perhaps its scale in another.
func (p *parser) effort(m match, number, scaleGroup int) item {
	scale := p.Scale
	if scaleGroup > 0 && m.group(scaleGroup) != "" {
		scale, _ = strconv.Atoi(m.group(scaleGroup))
	}
	return effortItem(m.num(number), scale)
}

func effortItem(v float64, scale int) item {
	if !onScale(v, scale) {
		return item{what: isDoubt, question: fmt.Sprintf(askOffScale, figure(v), scaleRange(scale))}
	}
	return item{
		what: isValue, note: record.Note{RPE: &workout.RPE{Value: v, Scale: scale}},
		means: fmt.Sprintf("effort %s on the %s scale", wording.Number(v), scaleName(scale)),
	}
}

func enjoyment(m match) item { return enjoymentItem(m.num(1)) }

func enjoymentItem(v float64) item {
	if v != math.Trunc(v) || v < 1 || v > 5 {
		return item{what: isDoubt, question: fmt.Sprintf(askOffEnjoyment, figure(v))}
	}
	return item{what: isValue, note: record.Note{Enjoyment: int(v)}, means: wording.Number(v) + " of 5 for enjoyment"}
}

// pulse reads a resting heart rate; most is the highest that is taken for one without a question.
func (p *parser) pulse(v float64, thisMorning bool, most float64) item {
	if v < 30 || v > most {
		return item{what: isDoubt, question: fmt.Sprintf(askPulse, figure(v))}
	}
	it := item{what: isValue, note: record.Note{HRRest: v}, means: "resting heart rate " + wording.Number(v) + " bpm"}
	if thisMorning {
		it.day = p.On
	}
	return it
}

// heat reads an air temperature. One near the body's may be a fever.
func heat(text string, inF bool) (item, bool) {
	v, err := strconv.ParseFloat(strings.NewReplacer(",", ".", "−", "-").Replace(text), 64)
	if err != nil {
		return item{}, false
	}
	means := ""
	if inF {
		v = math.Round((v-32)/1.8*10) / 10
		means = " (from " + text + " °F)"
	}
	switch {
	case v < -40 || v > 55:
		return item{what: isDoubt, question: fmt.Sprintf(askNoAir, figure(v))}, true
	case v >= 36 && v <= 42:
		return item{what: isDoubt, question: fmt.Sprintf(askDegrees, figure(v))}, true
	}
	return item{what: isValue, note: record.Note{HeatC: &v}, means: "air temperature " + wording.Number(v) + " °C" + means}, true
}
