package prescription

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// week is the number of days of a week.
const week = 7

// days is a set of days of the week; bit 0 is its first day.
type days uint8

func (d days) has(i int) bool     { return i >= 0 && d>>i&1 == 1 }
func (d days) with(i int) days    { return d | 1<<i }
func (d days) len() int           { return bits.OnesCount8(uint8(d)) }
func (d days) within(o days) bool { return d&^o == 0 }

// pairs counts the neighbouring days.
func (d days) pairs() int { return (d & (d << 1)).len() }

// uneven is the sum of the squared distances between the days, the week taken as repeating itself:
// least where they are spread evenly.
func (d days) uneven() int {
	first, last, sum := -1, -1, 0
	for i := range week {
		if !d.has(i) {
			continue
		}
		if last >= 0 {
			sum += (i - last) * (i - last)
		} else {
			first = i
		}
		last = i
	}
	if last < 0 {
		return 0
	}
	return sum + (first+week-last)*(first+week-last)
}

// diary is what is known of the days of the week to come, and of those just before it.
type diary struct {
	from       workout.Date
	free       days // not paused, and 48 h without fever and other symptoms of an illness possible before
	hard       days // free, and late enough after the last hard session and the start of the stage
	resistance days // with resistance work
	habit      days // on which the client usually trains
	running    bool // every comfortable session is a run
	ranBefore  int  // days before the first on which the client ran, without a day between
	yesterday  bool // trained on the day before the first
	easyFirst  bool // after some days off
}

const (
	lately     = 28 // days over which habits are read
	usually    = 2  // times in them that make a habit
	betweenDay = 2  // days from one hard session to the next: 48 h
	wellAgain  = 3  // days from the last sign of a fever or a chest illness to the first session: 48 h between
	mostInARow = 2  // days of running without a day between, while others are free (common practice, no source)
	daysOff    = 4  // days without a session after which the first one is easy
)

// past is what was done before a week begins.
type past struct {
	last, lastHard workout.Date // the last session but those of strength, and the last hard one
	ran            map[workout.Date]bool
	times, lifts   map[workout.Weekday]int // lately, but for strength, and of strength
}

// pastOf reads the habits from what counts, and from weights whether they count or not.
func pastOf(p record.Prescription, r record.Record) past {
	b := past{ran: map[workout.Date]bool{}, times: map[workout.Weekday]int{}, lifts: map[workout.Weekday]int{}}
	for _, s := range r.Done() {
		if s.Uncounted != "" && s.Sport != workout.Strength {
			continue
		}
		of := b.lifts
		if s.Sport != workout.Strength {
			of, b.last = b.times, s.Date
			b.ran[s.Date] = b.ran[s.Date] || s.Mode == workout.Run
		}
		if hardDone(s, r) {
			b.lastHard = s.Date
		}
		if s.Date > p.Made-lately {
			of[s.Date.Weekday()]++
		}
	}
	return b
}

func diaryOf(p record.Prescription, r record.Record) diary {
	c, b := diary{from: p.From}, pastOf(p, r)
	_, since := r.StageOn(p.To)
	ill := lastIllness(r)
	for i := range week {
		d := p.From + workout.Date(i)
		if r.Paused(d) || d > p.To || d <= p.Made || d < r.Client.Since || ill != 0 && d < ill+wellAgain {
			continue
		}
		c.free = c.free.with(i)
		if (p.Stage == 1 || d >= since) && (b.lastHard == 0 || d >= b.lastHard+betweenDay) {
			c.hard = c.hard.with(i)
		}
		told := len(r.Client.Resistance) > 0
		if slices.Contains(r.Client.Resistance, d.Weekday()) || !told && b.lifts[d.Weekday()] >= usually {
			c.resistance = c.resistance.with(i)
		}
		if b.times[d.Weekday()] >= usually {
			c.habit = c.habit.with(i)
		}
	}
	c.yesterday = b.last == p.From-1
	for c.ranBefore < mostInARow && b.ran[p.From-1-workout.Date(c.ranBefore)] {
		c.ranBefore++
	}
	c.easyFirst = b.last != 0 && p.Made-b.last >= daysOff
	return c
}

// lastIllness is the last day on which signs of a fever or a chest illness were noted; 0 for none.
func lastIllness(r record.Record) workout.Date {
	var last workout.Date
	for _, n := range r.Notes {
		if slices.ContainsFunc(n.Symptoms, func(s signs.Sign) bool { return s.Tier() == signs.Illness }) {
			last = max(last, n.Date)
		}
	}
	return last
}

// hardEffort is the effort from which a day was a hard one, on the two scales (the limit for bouts;
// common practice, no source).
var hardEffort = map[int]float64{20: 16, 10: 7}

// hardDone says that a session was hard: one of the prescribed interval sessions, or so by effort.
func hardDone(s record.Session, r record.Record) bool {
	if e := s.RPE; e != nil && e.Value >= hardEffort[e.Scale] {
		return true
	}
	p := r.PlanFor(s.Date, s.Date)
	return p != nil && p.Intervals != nil && slices.ContainsFunc(s.Recordings, func(x record.Recording) bool { return len(x.Measured.Bouts) >= 2 })
}

// choice is the days of all sessions and, among them, those of the hard ones.
type choice struct{ all, hard days }

// choose picks the best of all ways to lay n sessions, some of them hard, over the week. Between two
// hard sessions there is always a day without one: where that is impossible, fewer are hard. The wishes
// stand in the order of cost. The same input always gives the same choice.
func (c diary) choose(n, hard int) choice {
	n = min(n, c.free.len())
	for h := min(n, hard); ; h-- {
		var best choice
		var least []int
		for all := range days(1 << week) {
			if all.len() != n || !all.within(c.free) {
				continue
			}
			for hd := range all + 1 {
				if hd.len() != h || !hd.within(all&c.hard) || hd.pairs() > 0 {
					continue
				}
				if cost := c.cost(choice{all, hd}); least == nil || slices.Compare(cost, least) < 0 {
					best, least = choice{all, hd}, cost
				}
			}
		}
		if least != nil {
			return best
		}
	}
}

// tooMany counts the days that follow more than two days of running without a day between.
func (c diary) tooMany(all days) int {
	if !c.running {
		return 0
	}
	n, row := 0, c.ranBefore
	for i := range week {
		if row++; !all.has(i) {
			row = 0
		}
		if row > mostInARow {
			n++
		}
	}
	return n
}

// cost lists what is against a choice, the weightiest first: a hard session straight after days
// off, hard sessions and then any on days of resistance work, more than two days of running
// in a row, days on which the client does not usually train, neighbouring days, and being spread unevenly.
func (c diary) cost(x choice) []int {
	first := 0
	if c.easyFirst && x.all.len() > x.hard.len() && x.hard != 0 && bits.TrailingZeros8(uint8(x.hard)) == bits.TrailingZeros8(uint8(x.all)) {
		first = 1
	}
	neighbours := x.all.pairs()
	if c.yesterday && x.all.has(0) {
		neighbours++
	}
	return []int{first, (x.hard & c.resistance).len(), (x.all & c.resistance).len(), c.tooMany(x.all), (x.all &^ c.habit).len(), neighbours, x.all.uneven(), x.hard.uneven(), int(x.all), int(x.hard)}
}

// bestForCheck is the day of the check session: a comfortable session with rest on the day before,
// away from resistance work, the later the better prepared; -1 for none.
func (c diary) bestForCheck(p record.Prescription, x choice) int {
	if p.Check == 0 {
		return -1
	}
	best, least := -1, 0
	for i := range week {
		if !x.all.has(i) || x.hard.has(i) {
			continue
		}
		cost := 0
		if x.all.has(i-1) || i == 0 && c.yesterday {
			cost++
		}
		if x.hard.has(i-1) || c.resistance.has(i-1) {
			cost++
		}
		if c.resistance.has(i) {
			cost += 2
		}
		if best < 0 || cost <= least {
			best, least = i, cost
		}
	}
	return best
}

// unkept says which wishes could not be met.
func (c diary) unkept(p record.Prescription, hard int, x choice) []string {
	var out []string
	if n := x.all.len(); n < p.Sessions {
		if n == 0 {
			return []string{"No day of this week is free for training: away, unwell or not started yet."}
		}
		out = append(out, fmt.Sprintf("Only %s of this week can be used for training, so there are fewer sessions.", wording.Count(n, "day")))
	}
	if n := hard - x.hard.len(); n > 0 {
		feel := string(p.Intervals.Feel)
		out = append(out, fmt.Sprintf("%s made comfortable: less than 48 hours after another %s one, or before the stage starts.", wording.Plural(n, feel+" session is", feel+" sessions are"), feel))
	}
	if on := x.all & c.resistance; on != 0 {
		var names []string
		for i := range week {
			if on.has(i) {
				names = append(names, (c.from + workout.Date(i)).Day())
			}
		}
		out = append(out, fmt.Sprintf("Strength training falls on the same day as a session: %s. Do the two at different times of the day if you can.", strings.Join(names, ", ")))
	}
	return out
}
