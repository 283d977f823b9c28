package answers

import (
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// waits is said of an answer that came before its session.
const waits = " (no session that day yet: kept until there is one)"

// sessionsSince lists the days with sessions in some days before the message.
func (p *parser) sessionsSince(days workout.Date) (out []workout.Date) {
	for _, s := range p.Sessions {
		if s.Date > p.On-days && s.Date <= p.On && !slices.Contains(out, s.Date) {
			out = append(out, s.Date)
		}
	}
	return out
}

// asked lists the days that answers without a day may be about: those with sessions in the week before the
// message, and in the three days before that where nobody has answered yet, since people answer late.
func (p *parser) asked() []workout.Date {
	return record.Keep(p.sessionsSince(10), func(d workout.Date) bool { return d > p.On-7 || p.session(d).RPE == nil })
}

// recent lists the days that may be meant, or all of the week if none has a session.
func (p *parser) recent() []workout.Date {
	out := p.asked()
	for d := p.On - 6; len(p.Sessions) == 0 && d <= p.On; d++ {
		out = append(out, d)
	}
	return out
}

// on are the choices of a day for an answer.
func (p *parser) on(n record.Note) (out []record.Note) {
	for _, n.Date = range p.recent() {
		if !empty(n) {
			out = append(out, n)
		}
	}
	return out
}

// onlySession is the day of the session that an answer without a day must mean: the only one, or the only one
// without an effort. No day if there are several.
func (p *parser) onlySession(was workout.Date) workout.Date {
	if was == unsure {
		return unsure
	}
	all := p.asked()
	open := slices.DeleteFunc(slices.Clone(all), func(d workout.Date) bool { return p.session(d).RPE != nil })
	if len(open) != 1 {
		open = all
	}
	if len(open) == 1 {
		return open[0]
	}
	return 0
}

// session is the session of a day that notes belong to: the longest. nil if none is known.
func (p *parser) session(day workout.Date) *record.Session {
	var found *record.Session
	for i, s := range p.Sessions {
		if s.Date == day && (found == nil || s.Minutes > found.Minutes) {
			found = &p.Sessions[i]
		}
	}
	return found
}

func (p *parser) sessionDays() string {
	var days []string
	for _, d := range p.sessionsSince(14) {
		days = append(days, day(d))
	}
	if len(days) == 0 {
		return noSessions
	}
	return fmt.Sprintf(sessionsOn, strings.Join(days, ", "))
}
