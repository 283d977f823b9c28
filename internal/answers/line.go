package answers

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// line splits one line into its clauses.
func (p *parser) line(l line) []clause {
	p.number = l.number
	from, to := l.from, l.to
	p.fresh = p.fresh || l.own || l.quoted
	switch {
	case strings.TrimSpace(p.text[from:to]) == "":
		p.heading, p.fresh = 0, true
		return nil
	case l.own:
		p.own(from, to)
		return nil
	case l.quoted:
		p.quoted(from, to)
		return nil
	}
	items := p.items(from, to)
	clauses := p.clauses(from, to, items)
	p.giveDays(clauses)
	return clauses
}

// own keeps a line of the weekly message itself from being read; one without letters needs no piece.
func (p *parser) own(from, to int) {
	if len(p.wordsIn(from, to)) > 0 {
		p.add(from, to, Understood, 0, "a line of the weekly message itself", "")
	}
}

// quoted keeps a line that somebody else may have written, and asks what it says of signs.
func (p *parser) quoted(from, to int) {
	i := p.add(from, to, Left, 0, "", "")
	for _, x := range p.places(from, to) {
		p.say(i, x.says)
	}
	if all := p.pieces[i].Suspected; len(all) > 0 {
		p.ask(i, "", askSuspected(all))
	}
}

// giveDays gives each clause of a line its day: the one with which it or an earlier clause begins, or
// that of a line above with nothing but a day.
func (p *parser) giveDays(clauses []clause) {
	cur, leading, answered := p.heading, false, false
	var also []workout.Date
	for i := range clauses {
		c := &clauses[i]
		if all := c.aboutAll(clauses[:i], cur); len(all) > 1 {
			cur, also, p.fresh = all[len(all)-1], all[:len(all)-1], true
		}
		c.day, c.also, c.line, c.fresh = cur, also, p.number, p.fresh
		p.fresh = false
		for _, it := range c.items {
			if it.mayBeDay() { // what follows may go on about it
				c.day, c.also, cur, also = unsure, nil, unsure, nil
			}
			if it.what != isDay {
				continue
			}
			p.named = append(append(p.named, it.day), it.also...)
			c.day, c.also, c.night = it.day, it.also, it.night
			switch {
			case p.leads(c, it):
				cur, also, leading, c.fresh = it.day, it.also, leading || !answered, true
			case cur == 0 && !answered:
				cur, also = it.day, it.also
			case cur != it.day || !slices.Equal(also, it.also): // "12, easy, 4 on Mon, ...": what follows is about another day
				cur, also = unsure, nil
			}
		}
		answered = answered || slices.ContainsFunc(c.items, item.answers)
	}
	switch {
	case leading:
		p.heading = 0
		if cur > 0 && !slices.ContainsFunc(clauses, p.saysMore) {
			p.heading = cur
		}
	case cur > 0 && p.heading == 0:
		p.dayLast(clauses)
	}
}

// aboutAll lists the days that a clause without one is about where it begins a sentence and the one before gave an
// effort for each of several days, and nothing else: "Mon 12, Wed 13. Talking easy." The last day comes first.
func (c *clause) aboutAll(before []clause, cur workout.Date) (days []workout.Date) {
	const stops = ".!…"
	effort := func(it item) bool { return it.number.value > 5 || it.note.RPE != nil }
	other := func(it item) bool { // what is hard may be the last one alone
		return it.what == isDay || it.what == isSign || effort(it) || it.note.Talk == record.TalkHard || it.note.Talk == record.TalkNo
	}
	if len(before) == 0 || !strings.ContainsAny(before[len(before)-1].after, stops) || slices.ContainsFunc(c.items, other) || !slices.ContainsFunc(c.items, item.answers) {
		return nil
	}
	for i, b := range slices.Backward(before) {
		if i < len(before)-1 && strings.ContainsAny(b.after, stops) {
			break
		}
		if slices.ContainsFunc(b.items, func(it item) bool { return it.answers() && !effort(it) }) {
			return nil
		}
		if slices.ContainsFunc(b.items, effort) && !slices.Contains(days, b.day) {
			days = append(days, b.day)
		}
	}
	if len(days) > 0 && cur != unsure && cur != days[0] {
		return nil
	}
	return days
}

// leads says that a day begins what is said of it: it stands first in its clause, or at the end of one that
// announces answers, as in "up for Saturday's bike: 11, easy".
func (p *parser) leads(c *clause, day item) bool {
	return !p.anything(c.from, day.from, c.items) || c.after == ":" && !slices.ContainsFunc(c.items, item.answers)
}

// saysMore says that a clause holds more than a day.
func (p *parser) saysMore(c clause) bool {
	return len(p.wordsIn(c.from, c.to)) > 0 || slices.ContainsFunc(c.items, func(it item) bool { return it.what != isDay && it.what != isRemark && it.what != isStamp })
}

// dayLast gives all clauses of a line the day that stands alone in the last one: "12, easy, 4 (that was Tue)".
func (p *parser) dayLast(clauses []clause) {
	n := len(clauses) - 1
	last := &clauses[n]
	if !p.dayAlone(*last) || slices.ContainsFunc(clauses[:n], func(c clause) bool { return c.day != 0 }) {
		return
	}
	for i := range clauses[:n] {
		clauses[i].day, clauses[i].also = last.day, last.also
	}
	last.fresh = last.fresh && n == 0
}

// movedDays doubts the days of a line that ends with "sorry, that was Wed", and those above a line of nothing else.
func (p *parser) movedDays(items []item) {
	n := len(items) - 1
	p.moved = p.moved || n == 1 && items[0].what == isCorrection && items[1].what == isDay
	if n < 2 || items[n].what != isDay || items[n-1].what != isCorrection || !slices.ContainsFunc(items[:n], item.answers) {
		return
	}
	for i := range items {
		if items[i].what == isDay {
			items[i].what, items[i].wide, items[i].about, items[i].question = isDoubt, true, AboutDay, askDayMeant
		}
	}
}

// dayAlone says that a clause names a day and nothing else, and that nothing is announced for it.
func (p *parser) dayAlone(c clause) bool {
	return len(c.items) == 1 && c.items[0].what == isDay && c.after != ":" && !p.anything(c.from, c.to, nil)
}

// readPulses reads the bare numbers of a line that are pulses: all of them after a head such as
// "resting pulse:", and those that can be no effort after a pulse.
func (p *parser) readPulses(items []item) {
	head, value, sentences := false, false, 0
	for i := range items {
		it := &items[i]
		if i > 0 && head && fullStop.Match(p.mask[items[i-1].to:it.from]) {
			sentences++
		}
		head, value = head || it.what == isPulseHead, value || it.note.HRRest != 0 && it.day == 0
		if v := it.number.value; it.what == isNumber && (head && sentences == 0 || (head || value) && v > 20) {
			from, to := it.from, it.to
			*it = p.pulse(v, false, 110)
			it.from, it.to = from, to
		}
	}
}

var fullStop = re(`[.!]\s`)

// anything says that a stretch holds more than filler words.
func (p *parser) anything(from, to int, items []item) bool {
	return slices.ContainsFunc(items, func(it item) bool { return it.from >= from && it.to <= to && !it.silent() }) ||
		slices.ContainsFunc(p.wordsIn(from, to), func(w word) bool { return !p.filler(w) && !w.symbol })
}

func (p *parser) filler(w word) bool {
	return fillers[w.text] || p.Client != "" && w.text == strings.ToLower(p.Client)
}

// items claims all that is known in a line, in order.
func (p *parser) items(from, to int) []item {
	items := append(p.claimAll(measured, from, to), p.claimAll(lists, from, to)...)
	items = append(items, p.days(from, to)...)
	items = append(items, p.talk(from, to)...)
	items = append(items, p.claimAll(valued, from, to)...)
	items = p.health(from, to, items)
	items = append(items, p.claimAll(spoken, from, to)...)
	slices.SortFunc(items, func(a, b item) int { return cmp.Compare(a.from, b.from) })
	p.readPulses(items)
	p.movedDays(items)
	return p.todayOrBefore(p.joinDays(items))
}

// clause is what is between two separators.
type clause struct {
	from, to int
	items    []item
	day      workout.Date // 0: none was named
	also     []workout.Date
	night    bool
	after    string // the separator behind it
	line     int
	fresh    bool // a new part begins with it
}

var separator = regexp.MustCompile(`[,;!?|()\[\]•·—"“”…]|\.|:|\s[-–/+]\s|^\s*[-–*•]\s|(?i:\s(?:but|however|though)\b)`)

// clauses splits a line where a separator stands outside of what was claimed, and before a day that
// begins a new part.
func (p *parser) clauses(from, to int, items []item) (out []clause) {
	end := func(at, next int) {
		c := clause{from: from, to: at, after: strings.TrimSpace(p.text[at:next])}
		for len(items) > 0 && items[0].from < at {
			c.items, items = append(c.items, items[0]), items[1:]
		}
		if len(c.items) > 0 || c.after != "" || len(p.wordsIn(c.from, c.to)) > 0 {
			out = append(out, c)
		}
		from = next
	}
	begin := from
	for _, at := range append(separator.FindAllIndex(p.mask[from:to], -1), []int{to - from, to - from}) {
		a, b := begin+at[0], begin+at[1]
		sep := strings.TrimSpace(p.text[a:b])
		if sep != "" && strings.Trim(sep, ":-–") == "" && announces.MatchString(p.text[begin:a]) {
			continue
		}
		if len(sep) > 1 && sep[0] < utf8.RuneSelf {
			b = a // a word begins the next clause
		}
		for i := 1; i < len(items) && items[i].from < a; i++ {
			if at := p.cutBefore(out, items, i, from); at > from {
				end(at, at)
				i = 0
			}
		}
		end(a, b)
	}
	return out
}

var (
	// announces are words behind which a colon parts nothing.
	announces = re(`\b(?:` + effortLabel + `|` + enjoyLabel + `|talk|talking|talk test)\s*$`)
	tiesDay   = re(`[\s\x00](?:on|for)\s*$`)
	andAhead  = re(`^[^,;.!?]*?\s(and)\s`)
	andBehind = re(`\s(and)\s*$`)
)

// cutBefore is where a clause ends before the item i, a day: behind one that began with another day, as in
// "Mon 12 Wed 13", at the "and" of "12 and Wed 13" or "12 on Mon and 13 on Wed", or between two days' answers
// in a line that began with a day, as in "Mon 13, easy, 4 Fri 14, hard, 3"; 0 if it goes on.
func (p *parser) cutBefore(earlier []clause, items []item, i, from int) int {
	before, day := items[:i], items[i]
	if day.what != isDay {
		return 0
	}
	if at := p.cutBetween(earlier, items, i, from); at > 0 {
		return at
	}
	text := p.mask[from:day.from]
	first := slices.IndexFunc(before, func(it item) bool { return !it.silent() })
	if and := andBehind.FindSubmatchIndex(text); and != nil && slices.ContainsFunc(before, item.answers) {
		return from + and[2]
	}
	if first >= 0 && before[first].what == isDay && (slices.ContainsFunc(before, item.answers) || !p.anything(from, before[first].from, nil)) && !tiesDay.Match(text) {
		return day.from
	}
	for _, it := range slices.Backward(before) {
		if it.what == isDay {
			if and := andAhead.FindSubmatchIndex(p.mask[it.to:day.from]); and != nil {
				return it.to + and[2]
			}
			break
		}
	}
	return 0
}

var (
	// labelAhead is what may stand between a day and its number.
	labelAhead = re(`^` + copula + `(?:` + effortLabel + `|` + enjoyLabel + `)?` + copula + `$`)
	wordAhead  = re(`^[\s:]*\pL`)
)

// cutBetween is where a clause ends that has answers on both sides of a day, and answers before it in the line.
// Where the day may belong to either side it becomes a doubt.
func (p *parser) cutBetween(earlier []clause, items []item, i, from int) int {
	before, day := items[:i], &items[i]
	answered := slices.ContainsFunc(earlier, func(c clause) bool { return slices.ContainsFunc(c.items, item.answers) })
	if !answered || !slices.ContainsFunc(before, item.answers) || slices.ContainsFunc(before, item.isDay) {
		return 0
	}
	last, next := before[len(before)-1], item{}
	if i+1 < len(items) && labelAhead.Match(p.mask[day.to:items[i+1].from]) {
		next = items[i+1]
	}
	tie := tiesDay.FindIndex(p.mask[from:day.from])
	led := slices.IndexFunc(earlier[0].items, item.isDay) == 0
	own := p.ownNumber(last, next)
	switch {
	case !next.answers() && (tie != nil || !wordAhead.Match(p.mask[day.to:])):
		return 0
	case own && (tie != nil || next.what != isNumber && effortSince(earlier)): // "14 on Fri 3", "12 easy 4, 14 Fri easy"
		return 0
	case own, !led, !next.answers():
		day.what, day.wide, day.weekday, day.about, day.question = isDoubt, true, true, AboutDay, askDayMeant
		return 0
	case tie != nil:
		return from + tie[0]
	}
	return day.from
}

// ownNumber says that the number before a day may be the effort of that day, by what stands behind the day.
func (p *parser) ownNumber(last, next item) bool {
	switch {
	case last.what != isNumber:
		return false
	case next.what == isNumber:
		return last.number.value > next.number.value
	}
	return last.number.value > 5 || p.Scale == 10
}

// effortSince says that there may be an effort beside the last day of some clauses, or since.
func effortSince(clauses []clause) bool {
	for _, c := range slices.Backward(clauses) {
		switch {
		case slices.ContainsFunc(c.items, func(it item) bool { return it.what == isDoubt && it.wide }):
			return false
		case slices.ContainsFunc(c.items, func(it item) bool { return it.number.value > 5 || it.note.RPE != nil }):
			return true
		case slices.ContainsFunc(c.items, item.isDay):
			return false
		}
	}
	return false
}
