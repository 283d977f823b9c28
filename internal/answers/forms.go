package answers

import (
	"regexp"
	"strconv"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// what says what an item is.
type what int

const (
	isDay        what = iota + 1
	isValue           // an answer in words of its own
	isNumber          // a number whose question is settled by what stands around it
	isSign            // a sign, or a topic to ask about
	isNone            // a denied sign or complaint, or a phrase that all was well
	isRemark          // understood, not counted
	isStamp           // when a messenger sent the message
	isDoubt           // has to be asked about
	isPulseHead       // "resting pulse:", with the numbers still to come
	isTalkHead        // "talking", with the answer still to come
	isSame            // "same as Monday"
	isList            // one answer for each session, with their notes as choices
	isCorrection      // "no wait": what follows replaces what stands before
	effortWord        // a word about effort, without a number
	feltWord          // the same, but it may be about talking
	enjoyWord
)

// item is a stretch of a line that a form has claimed.
type item struct {
	from, to int
	what     what
	note     record.Note    // of a value
	day      workout.Date   // of a day, and of a value that names its day itself
	also     []workout.Date // the other days of "Mon and Wed" or "all three"
	weekday  bool           // the day is a weekday's name
	relative bool           // the day is counted from that of the message: "yesterday"
	night    bool           // the day is "last night"
	loose    bool           // a value that holds only if nothing unknown is next to it
	number   number
	means    string
	question string
	about    About
	choices  []record.Note
	wide     bool            // a doubt about all of its clause
	says     []signs.Mention // of signs and topics
}

func (it item) isDay() bool { return it.what == isDay }

// mayBeDay says that an item is a weekday that is asked about.
func (it item) mayBeDay() bool {
	return it.what == isDoubt && it.wide && it.weekday && it.about == AboutDay
}

// answers says that an item answers something, or may.
func (it item) answers() bool {
	return it.what == isValue || it.what == isList || it.what == isNumber || it.what == feltWord || it.what == effortWord || it.what == enjoyWord
}

// tells says that an item answers something, or says of a question what has to be asked.
func (it item) tells() bool {
	return it.answers() || it.what == isSame || it.what == isTalkHead || it.what == isDoubt || it.what == isNone && len(it.says) == 0
}

// silent says that an item answers nothing by itself.
func (it item) silent() bool {
	return it.what == isRemark || it.what == isStamp || it.what == isPulseHead || it.what == isCorrection || it.what == isTalkHead
}

// number is a number with the top of its scale, where it has one: 12, 12 of 20, 4/5.
type number struct {
	value float64
	of    int
}

// match is one match of a form.
type match struct {
	from, to int
	groups   []string
}

func (m match) group(i int) string { return m.groups[i] }

// num reads a group that holds a number, with a point or a comma.
func (m match) num(i int) float64 {
	v, _ := strconv.ParseFloat(strings.NewReplacer(",", ".", "−", "-").Replace(m.groups[i]), 64)
	return v
}

// form is a way of writing something, with what it says; false where a match turns out not to be one.
type form struct {
	re   *regexp.Regexp
	read func(*parser, match) (item, bool)
}

func (p *parser) claimAll(forms []form, from, to int) (out []item) {
	for _, f := range forms {
		out = append(out, p.claim(f.re, from, to, func(m match) (item, bool) { return f.read(p, m) })...)
	}
	return out
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
		if it.from = m.from; it.to == 0 {
			it.to = m.to
		}
		for it.from < it.to && strings.ContainsRune(" ,;:.\x00", rune(p.mask[it.from])) {
			it.from++
		}
		for it.to > it.from && strings.ContainsRune(" ,;:\x00", rune(p.mask[it.to-1])) {
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
	degree = `(?:very|quite|pretty|fairly|really|too|super|rather|v|so)`
	lackOf = `(?:no|without(?: an?| the| any)?|broken|missing|forgot(?: the| my)?|(?:didn['’]?t|did not) have (?:an?|the)|(?:there )?(?:wasn['’]?t|was no|was not) (?:an? )?)`

	tens     = `twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety`
	digits   = `(?:` + tens + `)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine)\b)?|` + toTwenty
	toTwenty = `one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen`
	anyNum   = `([0-9]{1,3}(?:\.[0-9])?|(?:` + digits + `)\b)`
	outOf    = `(?:\s*/\s*|\s+(?:out of|of|on (?:a |the )?scale (?:of|to)|on)\s+)(5|10|20|five|ten|twenty)`
	between  = `\s*(?:-|–|—|\bto\b|\bor\b|\band\b)\s*`

	// What a number counts when it is not an answer to a question.
	amount    = `(?:[0-9]+(?:[.,][0-9]+)?|\b(?:` + digits + `))`
	times     = `min(?:ute)?s?|mins|hours?|hrs?|h|sec(?:ond)?s?|s|weeks?|months?|years?|days?`
	lengths   = `km|kms|k|kilomet(?:re|er)s?|miles?|mi|met(?:re|er)s?|m`
	counts    = `laps?|times|rounds?|sets?|reps?|bouts?|intervals?|floors?|flights?|steps|people|walks|runs|rides|sessions|workouts|hills?|breaks?|stops?`
	weights   = `kg|kcal|cal|calories|watts?|w|lbs?`
	pace      = `(?:\s*(?:min)?\s*/\s*(?:km|k|mi|mile)\b)?`
	clockTime = `\b[0-9]+h[0-9]{1,2}(?:min)?\b|\b[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?\s*(?:am|pm|h)?\b` + pace + `|\b[0-9]{1,2}\s*(?:am|pm|o['’]clock)\b`

	pulseWord = `(?:pulse|hr|heart[ -]?rate)`
	pulseHead = `(?:resting|rest|morning|waking|wake-up)\s*(?:hr|heart[ -]?rate|pulse|bpm|beats)(?:\s+(?:this|in the) morning|\s+today)?|rhr|` + pulseWord + `(?:\s+(?:was|is))?\s+(?:this morning|in the morning|at rest|on waking)`
	bpmAfter  = `(?:\s*(?:bpm|beats(?: (?:a|per) min(?:ute)?)?))?`
	air       = `(?i)(?:^|[\s:,;(\x00~≈])(?:temp(?:erature)?` + copula + `)?([-−]?[0-9]{1,3}(?:[.,][0-9])?)\s*(?:°|º|degrees?|deg\.?)?\s*`

	effortLabel = `rpe|e|effort|exertion|borg`
	enjoyLabel  = `enjoyment|j|enjoyed it|enjoyed|enjoy|enj|fun|pleasure|joy|liked it`
)

var (
	// numbered is an answer to the three questions by their numbers.
	numbered  = re(`\b1\).*\b2\)`)
	timeAhead = re(`^\s*(?:` + times + `)\b`)
	eachStar  = re(`[⭐★]`)
)

var dayStarts = re(`^(?:` + dayNames + `)\b`)

func re(pattern string) *regexp.Regexp { return regexp.MustCompile(`(?i)` + pattern) }

// measured are the forms that name their unit or what they measure. They are read before days: "this
// morning" belongs to the pulse.
var measured = []form{
	{stamp, (*parser).sent},
	{re(`\b(?:i['’]?d|i would|i should|would|i['’]?ll|let['’]?s) (?:say|give|call|rate|put|guess|go (?:for|with))(?: (?:it|that|this|the effort|the exertion))?(?: (?:at|as))?\b`), always(item{what: isStamp})},
	{re(`\b(?:it['’]?s |it is )?(?:hard|difficult|impossible) to (?:say|tell|judge|know)\b`), always(item{what: isRemark, means: "not known"})},
	{re(`^\s*[1-9][.)]\s+`), func(p *parser, m match) (item, bool) { // a list of days
		return item{what: isStamp}, dayStarts.Match(p.mask[m.to:])
	}},
	{re(`\b[1-3]\)\s`), func(p *parser, _ match) (item, bool) { return item{what: isStamp}, numbered.MatchString(p.text) }},
	{re(`\b(?:\pL+er|more|less|worse) than (?:usual|normal|ever|expected|before|last (?:week|time)|i thought)\b`), always(item{what: isRemark, means: "compared with other sessions"})},
	{re(`\b(?:or so|of course|comma|full stop|question mark|new line)\b`), always(item{what: isStamp})},
	{re(`(?:^|[.,;(]\s*|\bhow )hard\s*[:=]\s*` + num + `(?:` + outOf + `)?`), func(p *parser, m match) (item, bool) {
		return item{what: isNumber, about: AboutEffort, number: number{value: m.num(1), of: scaleOf(m.group(2))}}, true
	}},
	{partsAsked, always(item{what: isStamp, means: "what the weekly message asks about it"})},
	{re(`\(?\b(?:on (?:the|a) )?(6\s*[-–]\s*20|0\s*[-–]\s*10)\b(?: scale)?\)?`), func(p *parser, m match) (item, bool) {
		if strings.HasPrefix(m.group(1), "6") == (p.Scale == 20) {
			return item{what: isStamp, means: "the scale of the effort"}, true
		}
		return item{what: isDoubt, wide: true, question: askScale}, true
	}},
	{re(air + `(?:c|celsius|centigrade|grad|grados)\b`), func(_ *parser, m match) (item, bool) { return heat(m, false), true }},
	{re(air + `(?:f|fahrenheit)\b`), func(_ *parser, m match) (item, bool) { return heat(m, true), true }},
	{re(`\b(?:hot|warm|heat|boiling|sweltering|humid|muggy|room|gym|indoors|inside)\b[\s,:-]*(?:it was |about |around |with )*((?:2[0-9]|3[0-5])(?:[.,][0-9])?)\s*(?:°|º|degrees?\b|deg\b)`),
		func(_ *parser, m match) (item, bool) { return heat(m, false), true }}, // so many °F are cold
	{re(`\b[0-9]{1,3}(?:[.,][0-9])?\s*(?:°|º|degrees?\b|deg\b)`), doubt(askUnit)},
	{re(`\b(?:` + pulseHead + `|` + pulseWord + `)\b` + copula + `[0-9]{2,3}(?:\s*(?:,|/|&|and|-)\s*[0-9]{2,3}\b)+` + bpmAfter), doubt(askMornings)},
	{re(`\b(` + pulseHead + `)` + copula + num + bpmAfter + `\b`), func(p *parser, m match) (item, bool) {
		return p.pulse(m.num(2), strings.Contains(strings.ToLower(m.group(1)), "this morning"), 130), true
	}},
	{re(`\b(?:(avg|average|mean|max|maximum|peak|highest|top)\s+)?` + pulseWord + `(?:\s+(avg|average|mean|max|maximum|peak)\b)?` + copula + num + bpmAfter + `\b(?:\s+(at rest|this morning|in the morning|on waking|avg|average|mean|max|peak)\b)?`), (*parser).plainPulse},
	{re(`\b(?:resting\s*[:=]?|rest\s*[:=])\s*` + num + bpmAfter + `\b`), func(p *parser, m match) (item, bool) {
		return p.pulse(m.num(1), false, 130), m.num(1) > 20 && !timeAhead.Match(p.mask[m.to:])
	}},
	{re(`\b(?:avg|average|mean|max|maximum|peak)\s*(?:was\s+|of\s+|at\s+)?(?:[6-9][0-9]|1[0-9]{2}|2[0-2][0-9])\b`), always(item{what: isRemark, means: "heart rate of a session; the recording has it"})},
	{re(`\b` + num + bpmAfter + `\s+(?:(?:was|is)\s+)?(?:(?:my\s+)?resting(?:\s+` + pulseWord + `)?|at rest|in the morning|this morning|on waking|before getting up)\b`), func(p *parser, m match) (item, bool) {
		return p.pulse(m.num(1), strings.Contains(strings.ToLower(m.group(0)), "this morning"), 130), m.num(1) > 20
	}},
	{re(`\b(?:` + pulseHead + `|pulse)s?\b`), always(item{what: isPulseHead, means: "resting heart rate"})},
	{re(`\b(?:` + effortLabel + `)` + copula + `(?:between\s+)?` + anyNum + between + anyNum + `(?:` + outOf + `\b)?`), (*parser).between},
	{re(`\b(?:(?:exactly|about|pretty much|much) )?(?:the )?(?:same|ditto|likewise)(?: (?:again|thing|here|for))?\b(?:\s+(?:as|like)\s+(?:on\s+)?(` + dayNames + `)\b)?(?: in every (?:way|respect)\b)?`), (*parser).same},
	{re(`\b(?:no,? (?:wait|sorry)|(?:sorry|wait),? (?:no|i mean)|sorry|wait|oops|scratch that|make (?:that|it)|typo|i meant?|correction|i mean|or rather)\b`), always(item{what: isCorrection})},
}

// valued are the forms of the other answers, read behind the days.
var valued = []form{
	{re(`\b` + num + `\s*(?:bpm|beats(?: (?:a|per) min(?:ute)?)?)\b`), doubt(askResting)},
	{re(`\b[0-9]{1,2}\s*[x×]\s*[0-9]{1,4}\s*(?:` + times + `|` + lengths + `)?\b|\b` + amount + `\s*(?:` + times + `|` + lengths + `|` + counts + `|` + weights + `)\b|` + clockTime + `|\b[0-9]{1,3}\s*%`), func(_ *parser, m match) (item, bool) {
		rating := len(m.group(0)) == 2 && strings.ContainsAny(m.group(0)[:1], "12345") && m.group(0)[1] == 's' // "5s all round"
		return item{what: isRemark, means: "time, length or amount; not an answer to a question"}, !rating
	}},
	{re(`(?:\bbetween\s+)?\b` + anyNum + between + anyNum + `\b(?:` + outOf + `\b)?`), (*parser).between},
	{re(`\b[0-9]{1,3},[0-9]{1,3}\b`), doubt(askOneOrTwo)},
	{re(`\b` + lackOf + `\s*fan\b|\bfan (?:was )?(?:off|broken|missing)\b|\bfan (?:did not|didn['’]?t) work\b`), always(item{what: isValue, loose: true, note: record.Note{NoFan: true}, means: "done without a fan"})},
	{re(`\b(?:with|had) (?:an?|the|my) fan\b|\b(?:the )?fan (?:was )?(?:on|running|working)\b|\bfan\s*[:=]?\s*yes\b`), always(item{what: isRemark, means: "there was a fan"})},
}

// spoken are the words about effort and enjoyment that come without a number, and the numbers.
var spoken = []form{
	{re(`\b(?:loved (?:it|every minute(?: of it)?)|enjoyed (?:it|myself)|really enjoyed it|liked it|hated it|(?:great|good|big|so much) fun|fun|no fun|boring|bored|disliked it|did(?:n['’]?t| not) (?:like|enjoy) it)\b`), always(item{what: enjoyWord})},
	{re(`[⭐★]\x{FE0F}?(?:\s?[⭐★]\x{FE0F}?)+`), func(_ *parser, m match) (item, bool) {
		return enjoymentItem(float64(len(eachStar.FindAllString(m.group(0), -1)))), true
	}},
	{re(`[⭐★]`), always(item{what: enjoyWord})},
	{re(`\b(?:no exertion at all|extremely (?:light|hard)|very,? very (?:light|hard|easy)|not (?:(?:so|too|very|that) )?(?:easy|hard)|(?:` + degree +
		`)\s+(?:light|hard|easy|heavy|tough|comfortable)|somewhat hard|light|hard|heavy|maximal exertion|maximal|easy peasy|easily|comfortably|easy|ez|tough|moderate|exhausting|comfortable|comfy|not possible|impossible|no (?:way|chance)|nope|no)(?:\b|[0-9])`), (*parser).feltWords},
	{re(`\b(?:yes|yep|yeah|ok|okay|fine|good|talk|talking|chatting)\b`), (*parser).midWord},
	{re(`\b\pL{3,9}\b`), (*parser).misfelt},
	{re(`[~≈]?(?:\b|\b(` + effortLabel + `|` + enjoyLabel + `))(?:([0-9]{1,3}(?:\.[0-9])?)(?:ish|s)?|(` + digits + `)(?:-?ish)?\b)(?:` + outOf + `)?`), (*parser).figures},
	{regexp.MustCompile(`[^\s,;!?()\x00]*[0-9][^\s,;!?()\x00]*`), doubt(askNumber)},
}

func always(it item) func(*parser, match) (item, bool) {
	return func(*parser, match) (item, bool) { return it, true }
}

func doubt(question string) func(*parser, match) (item, bool) {
	return always(item{what: isDoubt, question: question})
}
