package answers

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

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
	cur, leading, only := p.heading, false, true
	var also []workout.Date
	answered, trailing := false, workout.Date(0)
	for i := range clauses {
		c := &clauses[i]
		c.day, c.also, c.line, c.fresh = cur, also, p.number, p.fresh
		p.fresh = false
		for _, it := range c.items {
			if it.what != isDay {
				only = only && (it.what == isRemark || it.what == isStamp)
				continue
			}
			p.named = append(append(p.named, it.day), it.also...)
			c.day, c.also, c.night = it.day, it.also, it.night
			switch {
			case !p.anything(c.from, it.from, c.items):
				cur, also, leading, c.fresh = it.day, it.also, leading || !answered, true
			case cur == 0 && answered: // "12, easy, 4 on Mon, ...": what follows is about another day
				cur, also, trailing = unsure, nil, it.day
			case cur == 0:
				cur, also = it.day, it.also
			case cur != it.day || !slices.Equal(also, it.also):
				cur, also = unsure, nil
			}
		}
		only = only && len(p.wordsIn(c.from, c.to)) == 0
		answered = answered || slices.ContainsFunc(c.items, item.answers)
	}
	if cur > 0 && p.heading == 0 && !leading && trailing == 0 {
		p.dayLast(clauses)
	}
	switch {
	case only && leading && cur > 0:
		p.heading = cur
	case leading:
		p.heading = 0
	}
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

// movedDays doubts the days of a line that ends with "sorry, that was Wed".
func (p *parser) movedDays(items []item) {
	n := len(items) - 1
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

// readPulses reads the bare numbers of a line that are pulses: all of them behind a head such as
// "resting pulse:", and those that can be no effort behind a pulse.
func (p *parser) readPulses(items []item) {
	head, value := false, false
	for i := range items {
		it := &items[i]
		head, value = head || it.what == isPulseHead, value || it.note.HRRest != 0 && it.day == 0
		if v := it.number.value; it.what == isNumber && (head || value && v > 20) {
			from, to := it.from, it.to
			*it = p.pulse(v, false, 110)
			it.from, it.to = from, to
		}
	}
}

// anything says that a stretch holds more than filler words.
func (p *parser) anything(from, to int, items []item) bool {
	for _, it := range items {
		if it.from >= from && it.to <= to && it.what != isRemark && it.what != isStamp && it.what != isPulseHead && it.what != isCorrection && it.what != isTalkHead {
			return true
		}
	}
	return slices.ContainsFunc(p.wordsIn(from, to), func(w word) bool { return !p.filler(w) && !w.symbol })
}

func (p *parser) filler(w word) bool {
	return fillers[w.text] || p.Client != "" && w.text == strings.ToLower(p.Client)
}

// items claims all that is known in a line, in order.
func (p *parser) items(from, to int) []item {
	items := p.claimAll(measured, from, to)
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
func (p *parser) clauses(from, to int, items []item) []clause {
	var cuts []int // pairs: end of one clause, begin of the next
	for _, at := range separator.FindAllIndex(p.mask[from:to], -1) {
		a, b := from+at[0], from+at[1]
		sep := strings.TrimSpace(string(p.mask[a:b]))
		if sep == ":" && announces.MatchString(p.text[from:a]) {
			continue
		}
		if len(sep) > 1 && sep[0] < utf8.RuneSelf {
			b = a // a word begins the next clause
		}
		cuts = append(cuts, a, b)
	}
	for i, it := range items {
		if it.what != isDay || i == 0 {
			continue
		}
		begin := it.from
		if and := strings.TrimRight(string(p.mask[from:it.from]), " "); strings.HasSuffix(strings.ToLower(and), " and") {
			begin = from + len(and) - 3
		}
		if p.leads(items[:i], from, cuts, begin) {
			cuts = append(cuts, begin, begin)
		} else if cut, ok := p.andBefore(items, i, from); ok {
			cuts = append(cuts, cut, cut)
		}
	}
	var pairs [][2]int
	for i := 0; i < len(cuts); i += 2 {
		pairs = append(pairs, [2]int{cuts[i], cuts[i+1]})
	}
	slices.SortFunc(pairs, func(a, b [2]int) int { return cmp.Compare(a[0], b[0]) })
	var out []clause
	begin := from
	for _, c := range append(pairs, [2]int{to, to}) {
		if c[0] < begin {
			continue
		}
		out = append(out, clause{from: begin, to: c[0], after: strings.TrimSpace(p.text[c[0]:c[1]])})
		begin = c[1]
	}
	for i := range out {
		for _, it := range items {
			if it.from >= out[i].from && it.from < out[i].to {
				out[i].items = append(out[i].items, it)
			}
		}
	}
	return slices.DeleteFunc(out, func(c clause) bool {
		return len(c.items) == 0 && len(p.wordsIn(c.from, c.to)) == 0 && c.after == ""
	})
}

// announces are words behind which a colon parts nothing.
var announces = re(`\b(?:` + effortLabel + `|` + enjoyLabel + `|talk|talking|talk test)\s*$`)

// leads says that the clause in which a day stands began with another day, and that the new one is
// not tied to what stands before it.
func (p *parser) leads(before []item, from int, cuts []int, at int) bool {
	start := from
	for i := 1; i < len(cuts); i += 2 {
		if cuts[i] <= at {
			start = max(start, cuts[i])
		}
	}
	first := slices.IndexFunc(before, func(it item) bool {
		return it.from >= start && it.what != isPulseHead && it.what != isStamp && it.what != isRemark
	})
	if first < 0 || before[first].what != isDay || p.anything(start, before[first].from, nil) {
		return false
	}
	rest := strings.ToLower(strings.TrimRight(string(p.mask[start:at]), " "))
	return !strings.HasSuffix(rest, " on") && !strings.HasSuffix(rest, " for") && !strings.HasSuffix(rest, "\x00on")
}

// andBefore finds the "and" between "12 on Monday" and "13 on Tuesday".
func (p *parser) andBefore(items []item, i, from int) (int, bool) {
	for j := i - 1; j >= 0; j-- {
		if items[j].what != isDay {
			continue
		}
		gap := strings.ToLower(string(p.mask[items[j].to:items[i].from]))
		if n := strings.Index(gap, " and "); n >= 0 && !strings.ContainsAny(gap[:n], ",;.!?") {
			return items[j].to + n + 1, true
		}
		break
	}
	return 0, false
}
