package answers

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"nextrung/internal/workout"
)

// bareNumber is what may be a number that does not say what it is.
var (
	bareNumber  = regexp.MustCompile(`[^\s,;!?()\x00]*[0-9][^\s,;!?()\x00]*`)
	plainNumber = regexp.MustCompile(`^[~≈]?([0-9]{1,3}(?:\.[0-9])?)[.:]?$`)
)

// line reads one line.
func (p *parser) line(l line) {
	p.number = l.number
	from, to := l.from, l.to
	switch {
	case strings.TrimSpace(p.text[from:to]) == "":
		p.heading = 0
		return
	case l.own:
		p.own(from, to)
		return
	case l.quoted:
		p.quoted(from, to)
		return
	}
	items := p.items(from, to)
	clauses := p.clauses(from, to, items)
	p.giveDays(clauses)
	pulses := pulseRun{to, to}
	for _, it := range items {
		if it.what == isPulseHead {
			pulses.head = min(pulses.head, it.from)
		}
		if it.note.HRRest != 0 && it.day == 0 {
			pulses.value = min(pulses.value, it.from)
		}
	}
	var said said
	for _, c := range clauses {
		said = p.judge(c, pulses, said)
	}
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
		p.ask(i, askSuspected(all))
	}
}

// giveDays gives each clause of a line its day: the one with which it or an earlier clause begins, or
// that of a line above with nothing but a day.
func (p *parser) giveDays(clauses []clause) {
	cur, leading, only := p.heading, false, true
	for i := range clauses {
		c := &clauses[i]
		c.day = cur
		for _, it := range c.items {
			if it.what != isDay {
				only = only && (it.what == isRemark || it.what == isStamp)
				continue
			}
			p.named = append(p.named, it.day)
			c.day, c.night = it.day, it.night
			switch {
			case !p.anything(c.from, it.from, c.items):
				cur, leading = it.day, leading || i == 0
			case cur == 0:
				cur = it.day
			case cur != it.day:
				cur = unsure
			}
		}
		only = only && len(p.wordsIn(c.from, c.to)) == 0
	}
	switch {
	case only && leading && cur > 0:
		p.heading = cur
	case leading:
		p.heading = 0
	}
}

// pulseRun says from where on in a line bare numbers are pulses: all of them behind a head such as
// "resting pulse:", and those that can be no effort behind a pulse.
type pulseRun struct{ head, value int }

func (r pulseRun) holds(at int, v float64) bool { return at >= r.head || at >= r.value && v > 20 }

// anything says that a stretch holds more than filler words.
func (p *parser) anything(from, to int, items []item) bool {
	for _, it := range items {
		if it.from >= from && it.to <= to && it.what != isRemark && it.what != isStamp && it.what != isPulseHead {
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
	items := p.claim(stamp, from, to, p.sent)
	items = append(items, p.claim(partsAsked, from, to, func(match) (item, bool) {
		return item{what: isStamp, means: "what the weekly message asks about it"}, true
	})...)
	items = append(items, p.measured(from, to)...)
	items = append(items, p.days(from, to)...)
	items = append(items, p.values(from, to)...)
	items = append(items, p.talk(from, to)...)
	items = p.health(from, to, items)
	items = append(items, p.words(from, to)...)
	items = append(items, p.claim(bareNumber, from, to, func(m match) (item, bool) {
		if plainNumber.MatchString(m.group(0)) {
			return item{what: isNumber}, true
		}
		return item{what: isDoubt, question: askNumber}, true
	})...)
	slices.SortFunc(items, func(a, b item) int { return cmp.Compare(a.from, b.from) })
	return p.daysOfMonth(p.todayOrBefore(p.joinDays(items)))
}

// daysOfMonth settles what "Mon 12" means where that Monday is the 12th: with another effort behind
// it a date, else a question.
func (p *parser) daysOfMonth(items []item) []item {
	var out []item
	for i, it := range items {
		n := len(out)
		v, isEffort := p.effortIn(it)
		if n == 0 || !isEffort || out[n-1].what != isDay || !out[n-1].weekday || float64(out[n-1].day.Time().Day()) != v ||
			strings.Trim(string(p.mask[out[n-1].to:it.from]), " .") != "" {
			out = append(out, it)
			continue
		}
		other := false
		for _, x := range items[i+1:] {
			if x.what == isDay {
				break
			}
			e, ok := p.effortIn(x)
			other = other || ok && onScale(e, p.Scale)
		}
		if it.what == isNumber && other {
			out[n-1].to, out[n-1].weekday = it.to, false
			continue
		}
		it.what, it.question = isDoubt, fmt.Sprintf(askDayOrEffort, figure(v))
		out = append(out, it)
	}
	return out
}

// effortIn is the effort that an item gives or, as a bare number, may give.
func (p *parser) effortIn(it item) (float64, bool) {
	if it.what == isNumber {
		return p.value(it), true
	}
	if it.what == isValue && it.note.RPE != nil {
		return it.note.RPE.Value, true
	}
	return 0, false
}

func (p *parser) value(it item) float64 {
	m := plainNumber.FindStringSubmatch(p.text[it.from:it.to])
	if m == nil {
		return math.NaN()
	}
	return match{groups: m}.num(1)
}

// clause is what is between two separators.
type clause struct {
	from, to int
	items    []item
	day      workout.Date // 0: none was named
	night    bool
	after    string // the separator behind it
}

var separator = regexp.MustCompile(`[,;!?|()\[\]•·—"“”…]|\.|:|\s[-–/+]\s|^\s*[-–*•]\s|(?i:\s(?:but|however|though)\b)`)

// clauses splits a line where a separator stands outside of what was claimed, and before a day that
// begins a new part.
func (p *parser) clauses(from, to int, items []item) []clause {
	var cuts []int // pairs: end of one clause, begin of the next
	for _, at := range separator.FindAllIndex(p.mask[from:to], -1) {
		a, b := from+at[0], from+at[1]
		if sep := strings.TrimSpace(string(p.mask[a:b])); len(sep) > 1 && sep[0] < utf8.RuneSelf {
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
