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
	dayNames   = `mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday|s)?|thu(?:rs?(?:day)?)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?`
)

// The spellings of days.
var (
	// stamp is what messengers put before a message: it dates the message, not the session.
	stamp     = regexp.MustCompile(`(?i)^\s*\[?(\d{1,4})[./-](\d{1,2})[./-](\d{2,4}),?\s+(?:at\s+)?\d{1,2}:\d{2}(?::\d{2})?\s*(?:[ap]m)?\]?(?:\s+-)?(?:\s|$)`)
	isoDate   = regexp.MustCompile(`\b(\d{4})-(\d{1,2})-(\d{1,2})\b`)
	dotDate   = regexp.MustCompile(`\b(\d{1,2})\.\s?(\d{1,2})\.(?:\s?(\d{4})\b|(\d{2})\b)?`)
	bareDot   = regexp.MustCompile(`^\W*(\d{1,2})\.(\d{1,2})(?:\s*:|\s+\D)`)
	slashDate = regexp.MustCompile(`\b(\d{1,2})/(\d{1,2})(?:/(\d{4}|\d{2}))?\b`)
	dayMonth  = regexp.MustCompile(`(?i)\b(\d{1,2})(?:st|nd|rd|th)?\.?\s*(?:of\s+)?(` + monthNames + `)\b\.?(?:,?\s*(\d{4})\b)?`)
	monthDay  = regexp.MustCompile(`(?i)\b(` + monthNames + `)\b\.?\s*(\d{1,2})(?:st|nd|rd|th)?\b(?:,?\s*(\d{4})\b)?`)
	ordinal   = regexp.MustCompile(`(?i)\b(?:the\s+)?(\d{1,2})(?:st|nd|rd|th)\b`)
	weekday   = regexp.MustCompile(`(?i)\b(` + dayNames + `)\b(?:['’]s\b)?`)
	relative  = regexp.MustCompile(`(?i)\b(?:(day before yesterday)|(yesterday)(?:['’]s)?|(today)(?:['’]s)?|(this (?:morning|afternoon|evening))|(last night)|([2-6]|two|three|four|five|six) days ago)\b`)
	// unclearBefore are words after which a day is not the day that a clause is about.
	unclearBefore = regexp.MustCompile(`(?i)\b(?:than|like|as|since|until|till|before|after|from|to|next|last|through|every|each|except|not|both|all)\s+(?:the\s+)?$`)
	// counted are words after which the number before them is not a day.
	counted = regexp.MustCompile(`(?i)^\s*(?:interval|bout|lap|km|mile|half|set|hill|time|minute|round|session|week|floor|one)`)
	noDay   = map[string]*regexp.Regexp{
		"sun": regexp.MustCompile(`(?i)^\s*(?:was|is|shining|shines|shone|came|down|up|out)\b`),
		"sat": regexp.MustCompile(`(?i)^\s*(?:down|on the|next|with|there|here|in)\b`),
	}
	// ratingBefore are words behind which 4/10 is no day.
	ratingBefore  = re(`\b(?:` + effortLabel + `|` + enjoyLabel + `)` + copula + `$`)
	weekdayBefore = re(`\b(` + dayNames + `)[\s:,–-]*$`)
	// scope are words for all of the week's sessions.
	scope    = re(`\b(?:for |in |on )?(both|all|each|every)\b(?:\s+(?:of (?:them|these|those)\b|round\b|(?:the |my |these |of (?:the|my|these) )?([2-7]|two|three|four|five|six|seven)?\s*(?:of them|walks?|runs?|rides?|rows?|sessions?|workouts?|trainings?|days?|times?|time|one|go)\b|(two|three|four|five)\b))?(?:\s+(?:this|of the) week\b)?`)
	allOfOne = re(`\b(?:time|day|one|go|walk|run|ride|row|session|workout|training)$`) // "all the time"
	sunIs    = regexp.MustCompile(`(?i)(?:^\W*|[,;.!?:\n(\x000-9/|–-]\s*|\b(?:on|and|n)\s+)$`)
)

// days claims the days in a line.
func (p *parser) days(from, to int) []item {
	var out []item
	found := func(re *regexp.Regexp, read func(m match) (item, bool)) {
		out = append(out, p.claim(re, from, to, func(m match) (item, bool) {
			it, ok := read(m)
			it.what = cmp.Or(it.what, isDay)
			it = p.doubtedDay(it, from, m.from)
			it.wide = it.what == isDoubt
			return it, ok
		})...)
	}
	found(isoDate, func(m match) (item, bool) { return p.date(m.group(3), m.group(2), m.group(1)) })
	found(dotDate, func(m match) (item, bool) { return p.date(m.group(1), m.group(2), m.group(3)+m.group(4)) })
	found(dayMonth, func(m match) (item, bool) { return p.date(m.group(1), m.group(2), m.group(3)) })
	found(monthDay, func(m match) (item, bool) { return p.date(m.group(2), m.group(1), m.group(3)) })
	found(slashDate, p.slashed)
	found(weekday, func(m match) (item, bool) { return p.weekday(m, from, to) })
	out = append(out, p.misspelt(from, to)...)
	out = append(out, p.claim(scope, from, to, p.scoped)...)
	found(ordinal, func(m match) (item, bool) { return p.ordinal(m, to) })
	found(relative, p.relative)
	if m := bareDot.FindSubmatchIndex(p.mask[from:to]); m != nil {
		it, ok := p.date(string(p.mask[from+m[2]:from+m[3]]), string(p.mask[from+m[4]:from+m[5]]), "")
		if ok && it.what == 0 && it.day > p.On-14 && it.day <= p.On {
			it.what, it.from, it.to = isDay, from+m[2], from+m[5]
			p.blank(it.from, it.to)
			out = append(out, it)
		}
	}
	return out
}

// doubtedDay makes a doubt of a day that may be another one, or that is out of reach.
func (p *parser) doubtedDay(it item, from, at int) item {
	if it.what != isDay {
		return it
	}
	switch {
	case unclearBefore.Match(p.before(from, at)):
		it.question = askDayTold
	case p.elsewhen && (it.weekday || it.relative):
		it.question = fmt.Sprintf(askElsewhen, day(p.On))
	case it.day > p.On:
		it.question = askDayToCome
	case it.day < p.On-oldest:
		it.question = askDayLongAgo
	default:
		return it
	}
	it.what = isDoubt
	return it
}

// weekday is the last day of a name up to the message.
func (p *parser) weekday(m match, from, to int) (item, bool) {
	if name := strings.ToLower(m.group(1)); name == "sun" || name == "sat" {
		if !sunIs.Match(p.before(from, m.from)) || noDay[name].Match(p.mask[m.to:to]) {
			return item{}, false
		}
	}
	return item{day: p.lastDay(m.group(1)), weekday: true}, true
}

// lastDay is the last day of a name up to the message.
func (p *parser) lastDay(name string) workout.Date {
	return p.On - workout.Date((int(p.On.Time().Weekday())-int(dayOfWeek(name))+7)%7)
}

// misspelt claims the names of weekdays, and "easy", with one typing error.
func (p *parser) misspelt(from, to int) (out []item) {
	for _, w := range p.wordsIn(from, to) {
		it := item{from: w.from, to: w.to}
		switch name := corrected(w.text); {
		case name == w.text:
			continue
		case name == "easy":
			it.what, it.note.Talk = feltWord, record.TalkComfortable
		case strings.HasSuffix(name, "day"):
			it.what, it.day, it.weekday = isDay, p.lastDay(name), true
			it = p.doubtedDay(it, from, w.from)
			it.wide = it.what == isDoubt
		default:
			continue
		}
		out = append(out, it)
		p.blank(w.from, w.to)
	}
	return out
}

// scoped reads "both", "all three" and the like as the days of the week's sessions, if there are as many.
func (p *parser) scoped(m match) (item, bool) {
	days := p.sessionsSince(7)
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
	if len(days) == 0 || count != 0 && count != len(days) {
		return item{what: isDoubt, wide: true, question: askDayMeant, about: AboutDay}, true
	}
	return item{what: isDay, day: days[0], also: days[1:]}, true
}

// ordinal is "the 28th" of the last two weeks, unless it counts something.
func (p *parser) ordinal(m match, to int) (item, bool) {
	n, _ := strconv.Atoi(m.group(1))
	for d := p.On; d > p.On-14 && !counted.Match(p.mask[m.to:to]); d-- {
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

func (p *parser) relative(m match) (item, bool) {
	switch {
	case m.group(1) != "":
		return item{day: p.On - 2, relative: true}, true
	case m.group(2) != "":
		return item{day: p.On - 1, relative: true}, true
	case m.group(3) != "", m.group(4) != "":
		return item{day: p.On, relative: true}, true
	case m.group(5) != "":
		return item{day: p.On, relative: true, night: true}, true
	}
	n := strings.Index("  2 3 4 5 6", m.group(6)) / 2
	if n <= 0 {
		n = map[string]int{"two": 2, "three": 3, "four": 4, "five": 5, "six": 6}[strings.ToLower(m.group(6))]
	}
	return item{day: p.On - workout.Date(n), relative: true}, true
}

// slashed reads 22/9 as a day and asks where day and month, or a day and a rating, can be taken for
// each other.
func (p *parser) slashed(m match) (item, bool) {
	a, b, year := m.group(1), m.group(2), m.group(3)
	first, _ := strconv.Atoi(a)
	second, _ := strconv.Atoi(b)
	dayFirst, ok1 := p.date(a, b, year)
	monthFirst, ok2 := p.date(b, a, year)
	recent := func(it item, ok bool) bool { return ok && it.day > p.On-oldest && it.day <= p.On }
	isRecent := recent(dayFirst, ok1) || recent(monthFirst, ok2)
	doubt := func(question string, args ...any) (item, bool) {
		return item{what: isDoubt, question: fmt.Sprintf(question, args...)}, true
	}
	isRating := year == "" && slices.Contains([]int{5, 10, 20}, second) && first <= second
	switch {
	case isRating && isRecent:
		before := p.before(0, m.from)
		named := weekdayBefore.FindSubmatch(before)
		if ratingBefore.Match(before) || named != nil && p.lastDay(string(named[1])).Time().Weekday() != dayFirst.day.Time().Weekday() {
			return item{}, false
		}
		return doubt(askDayOrRating, b)
	case isRating, !ok1 && !ok2:
		return item{}, false // a rating is read with the others
	case !isRecent:
		return doubt(askMeaning, m.group(0))
	case !ok2, ok1 && first == second:
		return dayFirst, true
	case !ok1:
		return doubt(askIsDay, monthFirst.day.Short())
	}
	return doubt(askDayOr, dayFirst.day.Short(), monthFirst.day.Short())
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
func (p *parser) date(dayText, monthText, yearText string) (item, bool) {
	d, _ := strconv.Atoi(dayText)
	month, err := strconv.Atoi(monthText)
	if err != nil && len(monthText) >= 3 {
		month = strings.Index("janfebmaraprmayjunjulaugsepoctnovdec", strings.ToLower(monthText[:3]))/3 + 1
	}
	civil := func(year int) (workout.Date, bool) {
		t := time.Date(year, time.Month(month), d, 0, 0, 0, 0, time.UTC)
		return workout.DateOf(t, time.UTC), month >= 1 && month <= 12 && d >= 1 && t.Day() == d
	}
	if yearText != "" {
		year, _ := strconv.Atoi(yearText)
		if len(yearText) == 2 {
			year += 2000
		}
		on, ok := civil(year)
		return item{day: on}, ok
	}
	for year := p.On.Time().Year(); year > p.On.Time().Year()-5; year-- { // 29 February
		if on, ok := civil(year); ok && on <= p.On {
			return item{day: on}, true
		}
	}
	return item{}, false
}

func dayOfWeek(name string) time.Weekday {
	return time.Weekday(strings.Index("sunmontuewedthufrisat", strings.ToLower(name[:3])) / 3)
}

// How two days that stand together are tied.
var (
	sameDay  = re(`^[ ,.&+/\x00–-]*(?:the|and|n)?[ ,.&+/\x00–-]*$`)
	listing  = re(`^[ ,]*(?:and|n|&|\+)[ ]*$`)
	trailing = re(`^[^,;.]*$`)
	replaced = re(`^[ ,]*$`)
)

// joinDays makes one day of a weekday and a date that stand together, a list of "Mon and Wed", the later
// of "Mon, no wait, Tue", and a question of other days.
func (p *parser) joinDays(items []item) []item {
	var out []item
	for _, it := range items {
		n := len(out)
		if n > 1 && it.what == isDay && out[n-1].what == isCorrection && out[n-2].what == isDay &&
			replaced.Match(p.mask[out[n-2].to:out[n-1].from]) && replaced.Match(p.mask[out[n-1].to:it.from]) {
			it.from = out[n-2].from
			p.blank(it.from, it.to)
			out = append(out[:n-2], it)
			continue
		}
		if n == 0 || it.what != isDay || out[n-1].day == 0 || out[n-1].what != isDay && len(out[n-1].also) == 0 || !sameDay.Match(p.mask[out[n-1].to:it.from]) {
			out = append(out, it)
			continue
		}
		before, gap := out[n-1], p.mask[out[n-1].to:it.from]
		if n > 1 && strings.ContainsAny(string(gap), ",.") && out[n-2].answers() && trailing.Match(p.mask[out[n-2].to:before.from]) {
			out = append(out, it) // "12 on Wed, Sat 13"
			continue
		}
		joined := joinedDay(before, it, string(gap))
		p.blank(before.to, it.from)
		out[n-1] = joined
	}
	return out
}

// joinedDay is what two days with a gap between them mean together.
func joinedDay(before, it item, gap string) item {
	joined := before
	joined.to, joined.night, joined.says = it.to, before.night || it.night, append(before.says, it.says...)
	both := append(append(slices.Clone(before.also), it.day), it.also...)
	switch {
	case before.weekday && !it.weekday && len(it.also) == 0 && before.day.Time().Weekday() == it.day.Time().Weekday():
		joined.day, joined.weekday = it.day, false
	case before.day == it.day && len(both) == 1:
		joined.weekday = before.weekday && it.weekday
	case listing.MatchString(gap):
		joined.what, joined.wide, joined.question, joined.also = isDay, false, "", both
	default:
		joined.what, joined.wide, joined.question, joined.also = isDoubt, true, askDayMeant, both
		if strings.Trim(gap, " ,") != "" {
			joined.also = nil
		}
	}
	return joined
}
