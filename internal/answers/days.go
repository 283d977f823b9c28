package answers

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// oldest is how many days before the message the days it is about may be.
const oldest = 28

const (
	monthNames = `jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?`
	dayNames   = `mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday|n|s)?|thu(?:rs?(?:day)?)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?`
)

// The spellings of days.
var (
	// stamp is what messengers put before a message: it dates the message, not the session.
	stamp = regexp.MustCompile(`(?i)^\s*\[?(\d{1,4})[./-](\d{1,2})[./-](\d{2,4}),?\s+(?:at\s+)?\d{1,2}:\d{2}(?::\d{2})?\s*(?:[ap]m)?\]?(?:\s+-)?(?:\s|$)`)
	// unclearBefore are words after which a day is not the day that a clause is about.
	unclearBefore = regexp.MustCompile(`(?i)\b(?:than|like|as|since|until|till|before|after|from|to|next|last|through|every|each|except|not|both|all)\s+(?:the\s+)?$`)
	goingOn       = re(`\b(?:after|since|from)\s+$`) // "Thu 12, wheezy since Thu"
	// counted are words after which the number before them is not a day.
	counted = regexp.MustCompile(`(?i)^ *(?:interval|bout|lap|km|mile|half|set|hill|time|minute|round|session|week|floor|one)`)
	noDay   = map[string]*regexp.Regexp{
		"sun": regexp.MustCompile(`(?i)^ *(?:was|is|shining|shines|shone|came|down|up|out)\b`),
		"sat": regexp.MustCompile(`(?i)^ *(?:down|on the|next|with|there|here|in|watching|waiting|up all|for (?:ages|hours|an hour|a (?:bit|while|minute|moment|few)))\b`),
	}
	// satWhere is what may stand behind "sat" on a chair, and behind the day: "sat at the window", "Sat at the gym".
	satWhere = regexp.MustCompile(`(?i)^ *(?:(?:by|beside|on a|up|back|still|outside|inside)\b|at +\pL)`)
	// ratingBefore are words behind which 4/10 is no day.
	ratingBefore  = re(`\b(?:` + effortLabel + `|` + enjoyLabel + `)` + copula + `$`)
	weekdayBefore = re(`\b(` + dayNames + `)[\s:,–-]*$`)
	// scope are words for all of the week's sessions.
	scope    = re(`\b(?:for |in |on )?(both|all|each|every)\b(?:\s+(?:of (?:them|these|those)\b|round\b|(?:the |my |these |of (?:the|my|these) )?([2-7]|two|three|four|five|six|seven)?\s*(?:of them|walks?|runs?|rides?|rows?|sessions?|workouts?|trainings?|days?|times?|time|one|go)\b|(two|three|four|five)\b))?(?:\s+(?:this|of the) week\b)?`)
	allOfOne = re(`\b(?:time|day|one|go|walk|run|ride|row|session|workout|training)$`) // "all the time"
	sunIs    = regexp.MustCompile(`(?i)(?:^\W*|[,;.!?:\n(\x000-9/|–-]\s*|\b(?:on|and|n|easy|hard|` + digits + `)\s+)$`)
)

// dayForms are the ways of writing a day.
var dayForms = []form{
	{re(`\b(\d{4})-(\d{1,2})-(\d{1,2})\b`), dated(3, 2, 1)},
	{re(`\b(\d{1,2})\.(\d{1,2})\.(\d{2})\b`), dated(1, 2, 3)},
	{re(`\b(\d{1,2})\.\s?(\d{1,2})\.(?:\s?(\d{4})\b)?`), func(p *parser, m match) (item, bool) {
		it, ok := p.date(m.group(1), m.group(2), m.group(3))
		return it, ok && (m.group(3) != "" || m.group(2) != "5" || it.day > p.On-oldest) // "Mon 12.5."
	}},
	{re(`\b(\d{1,2})(?:st|nd|rd|th)?\.?\s*(?:of\s+)?(` + monthNames + `)\b\.?(?:,?\s*(\d{4})\b)?`), dated(1, 2, 3)},
	{re(`\b(` + monthNames + `)\b\.?\s*(\d{1,2})(?:st|nd|rd|th)?\b(?:,?\s*(\d{4})\b)?`), dated(2, 1, 3)},
	{re(`\b(\d{1,2})/(\d{1,2})(?:/(\d{4}|\d{2}))?\b`), (*parser).slashed},
	{re(`\b(` + dayNames + `)(?:\b(?:['’]s\b)?|[0-9])`), (*parser).weekday},
	{re(`\b(\pL{2,11})(?:\b|[0-9])`), (*parser).misspelt},
	{re(`(?:^|[,.;/])\s*([mtwfs])\b`), (*parser).initial},
	{scope, (*parser).scoped},
	{re(`\b(?:the |my )?(?:(?:(first)|(second)|(third)|(fourth)|(last)) (?:one|run|walk|ride|row|swim|session|workout)|(run|running|jog)|(bike|ride|cycle|cycling|spin)|(walk)|(row)|(swim))(?:['’]s)?\b`), (*parser).bySession},
	{re(`\b(?:the\s+)?(\d{1,2})(?:st|nd|rd|th)\b`), (*parser).ordinal},
	{re(`\b(?:(day before yesterday)|(yesterday)|today|this (?:morning|afternoon|evening)|(last night)|([2-6]|two|three|four|five|six) days ago)(?:['’]s)?\b`), (*parser).relative},
	{re(`^\s*(\d{1,2})\.(\d{1,2})`), func(p *parser, m match) (item, bool) { // "28.9 easy"
		it, ok := p.date(m.group(1), m.group(2), "")
		return it, ok && noNumber.Match(p.mask[m.to:]) && it.day > p.On-14 && it.day <= p.On
	}},
}

var noNumber = re(`^(?: *:| +\D)`)

// days claims the days in a line.
func (p *parser) days(from, to int) []item {
	var out []item
	for _, f := range dayForms {
		out = append(out, p.claim(f.re, from, to, func(m match) (item, bool) {
			it, ok := f.read(p, m)
			it.what = cmp.Or(it.what, isDay)
			return p.doubtedDay(it, from, m.from), ok
		})...)
	}
	return out
}

func dated(day, month, year int) func(*parser, match) (item, bool) {
	return func(p *parser, m match) (item, bool) { return p.date(m.group(day), m.group(month), m.group(year)) }
}

// doubtedDay makes a doubt of a day that may be another one, or that is out of reach.
func (p *parser) doubtedDay(it item, from, at int) item {
	switch {
	case it.what != isDay:
	case unclearBefore.Match(p.before(from, at)):
		it.question = askDayTold
	case p.elsewhen && (it.weekday || it.relative):
		it.question = fmt.Sprintf(askElsewhen, day(p.On))
	case it.day > p.On:
		it.question = askDayToCome
	case it.day < p.On-oldest:
		it.question = askDayLongAgo
	}
	if it.question != "" {
		it.what, it.wide = isDoubt, true
	}
	return it
}

// weekday is the last day of a name up to the message. "Sun" and "sat" have to stand where a day may.
func (p *parser) weekday(m match) (item, bool) {
	name := strings.ToLower(m.group(1))
	ok := len(name) > 3 || noDay[name] == nil || sunIs.Match(p.mask[max(0, m.from-40):m.from]) && !noDay[name].Match(p.mask[m.to:])
	it := item{day: p.lastDay(name), weekday: true, to: p.wordEnd(m)}
	if name == "sat" && satWhere.Match(p.mask[m.to:]) {
		it.what, it.wide, it.about, it.question = isDoubt, true, AboutDay, askDayMeant
	}
	return it, ok
}

// wordEnd is where a match ends that may have a number right behind it: "mon12".
func (p *parser) wordEnd(m match) int {
	if last := p.text[m.to-1]; '0' <= last && last <= '9' {
		return m.to - 1
	}
	return m.to
}

// initial is the one session's day of the week with this first letter, before an effort: "M: 12".
func (p *parser) initial(m match) (item, bool) {
	days := record.Keep(p.sessionsSince(7), func(d workout.Date) bool { return strings.EqualFold(d.Time().Format("Mon")[:1], m.group(1)) })
	if len(days) != 1 {
		return item{}, false
	}
	return item{day: days[0], weekday: true}, effortAhead.Match(p.mask[m.to:])
}

var weekdays = keys[:7]

var effortAhead = re(`^\s*[:=-]?\s*(?:[6-9]|1[0-9]|20)\b`)

// lastDay is the last day of a name up to the message.
func (p *parser) lastDay(name string) workout.Date {
	day := strings.Index("sunmontuewedthufrisat", strings.ToLower(name[:3])) / 3
	return p.On - workout.Date((int(p.On.Time().Weekday())-day+7)%7)
}

// misspelt reads the name of a weekday with a typing error or in another language.
func (p *parser) misspelt(m match) (item, bool) {
	name, to := corrected(strings.ToLower(m.group(1))), p.wordEnd(m)
	short := func(d string) bool { return name[0] == d[0] && slip(name, d[:3]) && p.session(p.lastDay(d)) != nil }
	if i := slices.IndexFunc(weekdays, short); i >= 0 && len(name) < 4 && effortAhead.Match(p.mask[to:]) { // "Mo 12", "wde 12"
		name = weekdays[i]
	}
	if !strings.HasSuffix(name, "day") || !dayStarts.MatchString(name) {
		return item{}, false
	}
	return item{day: p.lastDay(name), weekday: true, to: to}, true
}

// scoped reads "both", "all three" and the like as the days of the week's sessions, if there are as many.
func (p *parser) scoped(m match) (item, bool) {
	days := p.asked()
	word, whole := strings.ToLower(m.group(1)), strings.ToLower(m.group(0))
	if strings.HasSuffix(whole, word) && !strings.HasPrefix(whole, "for ") && !p.ofAll(m) || word == "all" && allOfOne.MatchString(whole) {
		return item{}, false
	}
	count := 0
	if n := inFigures(m.group(2) + m.group(3)); n > 0 {
		count = int(n)
	} else if word == "both" {
		count = 2
	}
	if count > 0 && count != len(days) { // both of the days that the message names
		days = p.listDays(count, false, false)
	}
	if len(days) == 0 || count != 0 && count != len(days) {
		return item{what: isDoubt, wide: true, question: askDayMeant, about: AboutDay}, true
	}
	return item{what: isDay, day: days[0], also: days[1:]}, true
}

var namesDay = re(`\b(?:` + dayNames + `|` + monthNames + `|yesterday|today|tonight|last night|ago|[0-9]+(?:st|nd|rd|th))\b|[0-9]\.[0-9]`)

// bySession is the day of the only session of a sport, "bike 11, run 14", or of "the first one", in a message that
// names no day itself.
func (p *parser) bySession(m match) (item, bool) {
	days := p.asked()
	if len(days) < 2 || namesDay.MatchString(p.text) {
		return item{}, false
	}
	at := slices.IndexFunc(m.groups[1:], func(g string) bool { return g != "" })
	if at == 4 {
		at = len(days) - 1 // the last one
	} else if at > 4 {
		mode := []workout.Mode{workout.Run, workout.Bike, workout.Walk, workout.Row, workout.Swim}[at-5]
		days = record.Keep(days, func(d workout.Date) bool { return p.session(d).Mode == mode })
		if at = 0; len(days) > 1 || !numberNext.Match(p.mask[m.to:]) { // "the bike seat hurts"
			return item{}, false
		}
	}
	if at >= len(days) {
		return item{}, false
	}
	return item{day: days[at]}, true
}

var numberNext = re(`^\s*:|^` + copula + `(?:[0-9]|` + digits + `)`)

// ordinal is "the 28th" of the last two weeks, unless it counts something.
func (p *parser) ordinal(m match) (item, bool) {
	n, _ := strconv.Atoi(m.group(1))
	for d := p.On; d > p.On-14 && !counted.Match(p.mask[m.to:]); d-- {
		if d.Time().Day() == n {
			return item{day: d}, true
		}
	}
	return item{}, false
}

// sent reads the day on which a messenger says that the message was sent.
func (p *parser) sent(m match) (item, bool) {
	a, b, c := m.group(1), m.group(2), m.group(3)
	readings := [][3]string{{a, b, c}, {b, a, c}, {c, b, a}} // day, month, year
	p.elsewhen = !slices.ContainsFunc(readings, func(r [3]string) bool {
		it, ok := p.date(r[0], r[1], r[2])
		return ok && it.day == p.On
	})
	return item{what: isStamp, means: "when the message was sent, not the day of a session"}, true
}

// todayOrBefore asks about the name of today's weekday where a session of a week ago is open, too.
func (p *parser) todayOrBefore(items []item) []item {
	for i, it := range items {
		if s := p.session(p.On - 7); it.what == isDay && it.weekday && it.day == p.On && s != nil && s.RPE == nil {
			items[i].what, items[i].wide, items[i].about, items[i].question = isDoubt, true, AboutDay, fmt.Sprintf(askTodayOr, day(p.On-7))
		}
	}
	return items
}

// before is the end of what comes before a match in its line; a few words are enough.
func (p *parser) before(from, at int) []byte { return p.mask[max(from, at-40):at] }

// relative is a day counted from that of the message.
func (p *parser) relative(m match) (item, bool) {
	back := 0.0
	switch {
	case m.group(1) != "":
		back = 2
	case m.group(2) != "":
		back = 1
	case m.group(4) != "":
		back = inFigures(m.group(4))
	}
	return item{day: p.On - workout.Date(back), relative: true, night: m.group(3) != ""}, true
}

// slashed reads 22/9 as a day and asks where day and month, or a day and a rating, can be taken for
// each other.
func (p *parser) slashed(m match) (item, bool) {
	first, second, year := m.group(1), m.group(2), m.group(3)
	dayFirst, ok := p.date(first, second, year)
	monthFirst, okToo := p.date(second, first, year)
	recent := func(it item, ok bool) bool { return ok && it.day > p.On-oldest && it.day <= p.On }
	isRecent := recent(dayFirst, ok) || recent(monthFirst, okToo)
	before := p.before(0, m.from)
	named := weekdayBefore.FindSubmatch(before)
	question := fmt.Sprintf(askMeaning, m.group(0))
	switch top := scaleOf(second); {
	case year == "" && slices.Contains([]int{5, 10, 20}, top) && scaleOf(first) <= top:
		if !isRecent || ratingBefore.Match(before) || named != nil && p.lastDay(string(named[1])).Time().Weekday() != dayFirst.day.Time().Weekday() {
			return item{}, false // read with the other ratings
		}
		if p.heads(dayFirst.day, m) {
			return dayFirst, true
		}
		question = fmt.Sprintf(askDayOrRating, second)
	case !ok && !okToo:
		return item{}, false
	case isRecent && (!okToo || first == second):
		return dayFirst, true
	case isRecent && ok:
		question = fmt.Sprintf(askDayOr, dayFirst.day.Short(), monthFirst.day.Short())
	case isRecent:
		question = fmt.Sprintf(askIsDay, monthFirst.day.Short())
	}
	return item{what: isDoubt, question: question}, true
}

// heads says that a day with a session stands before all that is said of it: "3/10: effort 12".
func (p *parser) heads(day workout.Date, m match) bool {
	return p.session(day) != nil && clauseStart.Match(p.before(0, m.from)) && strings.HasPrefix(p.text[m.to:], ":")
}

// ofAll says that a bare "all" or "every" stands for the sessions: at the start of a clause, with what it is
// said of behind it.
func (p *parser) ofAll(m match) bool {
	word, ahead := strings.ToLower(m.group(1)), p.mask[m.to:]
	if word == "both" || word == "each" {
		return ofAllAhead.Match(ahead) || nothingAhead.Match(ahead)
	}
	return word == "all" && clauseStart.Match(p.before(0, m.from)) && ofAllAhead.Match(ahead)
}

var (
	nothingAhead = re(`^\s*(?:$|[^\pL\s])`)
	clauseStart  = re(`(?:^|[,;.!?\n\r])\s*(?:and\s+)?$`)
	ofAllAhead   = re(`^\s+(?:were\s+|was\s+|the same|[0-9]|easy|hard|talk|chat|comf|enjoy|fun|rpe|effort|` + digits + `)`)
)

// date reads a day of a month, a month in letters or figures, and a year that may be missing: then
// it is the latest such day up to the message.
func (p *parser) date(day, month, year string) (item, bool) {
	layout, latest := "2 1 2006", p.On.Time().Year()
	if len(month) > 2 {
		layout, month = "2 Jan 2006", month[:3]
	}
	years := []string{year}
	switch len(year) {
	case 0:
		years = nil
		for y := latest; y > latest-5; y-- { // 29 February
			years = append(years, strconv.Itoa(y))
		}
	case 2:
		years[0] = "20" + year
	}
	for _, y := range years {
		t, err := time.Parse(layout, day+" "+month+" "+y)
		if on := workout.DateOf(t, time.UTC); err == nil && (year != "" || on <= p.On) {
			return item{day: on}, true
		}
	}
	return item{}, false
}

// How two days that stand together are tied.
var (
	sameDay  = re(`^[ ,.&+/\x00–-]*(?:the|and|n)?[ ,.&+/\x00–-]*$`)
	listing  = re(`^[ ,]*(?:and|n|&|\+)[ ]*$`)
	trailing = re(`^[^,;.]*$`)
	replaced = re(`^[ ,]*$`)
)
