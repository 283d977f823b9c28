package answers

import (
	"slices"
	"strings"

	"nextrung/internal/workout"
)

// passRepeated takes no notice of a day that is named again: "Thu 12, wheezy since Thu".
func (p *parser) passRepeated(items []item) {
	var day workout.Date
	for i, it := range items {
		switch {
		case it.what == isDay:
			day = it.day
		case it.what == isDoubt && it.weekday && it.day == day && goingOn.Match(p.before(0, it.from)):
			items[i] = item{from: it.from, to: it.to, what: isStamp, says: it.says}
		}
	}
}

// joinDays makes one day of a weekday and a date that stand together, a list of "Mon and Wed", the later
// of "Mon, no wait, Tue", and a question of other days.
func (p *parser) joinDays(items []item) []item {
	p.passRepeated(items)
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
		if p.parted(out, gap) {
			out = append(out, it)
			continue
		}
		joined := joinedDay(before, it, string(gap))
		p.blank(before.to, it.from)
		out[n-1] = joined
	}
	return out
}

// parted says that a gap behind the last of some items parts two days: "since Wednesday. Monday 12", "I did both.
// Tuesday was 12" or "12 on Wed, Sat 13".
func (p *parser) parted(items []item, gap []byte) bool {
	n, last := len(items), items[len(items)-1]
	return fullStop.Match(gap) && (last.to-last.from > len("Thurs") || len(last.also) > 0) ||
		n > 1 && strings.ContainsAny(string(gap), ",.") && items[n-2].answers() && trailing.Match(p.mask[items[n-2].to:last.from])
}

// joinedDay is what two days with a gap between them mean together.
func joinedDay(before, it item, gap string) item {
	joined := before
	joined.to, joined.night, joined.says = it.to, before.night || it.night, append(before.says, it.says...)
	both := append(append(slices.Clone(before.also), it.day), it.also...)
	switch {
	case before.weekday && !it.weekday && len(it.also) == 0 && before.day.Time().Weekday() == it.day.Time().Weekday():
		joined.day, joined.weekday = it.day, false
	case len(it.also) > 0 && slices.Equal(append([]workout.Date{before.day}, before.also...), append([]workout.Date{it.day}, it.also...)): // "Mon and Wed both"
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
