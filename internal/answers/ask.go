package answers

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// The sentences of the message that do not change. A pasted answer may carry them along; they are no
// answers.
const (
	openLine    = "What I would still like to know:"
	talkLine    = "Talking while you trained: easy, hard or not possible?"
	enjoyLine   = "How much you enjoyed it, from 1 (not at all) to 5 (very much)."
	effortLine  = "How hard it was, from 6 (no effort at all) to 20 (the hardest there is)."
	effortLine0 = "How hard it was, from 0 (rest) to 10 (the hardest there is)."
	dayLine     = "Please begin each line with the day."
	fanLine     = "Indoors: was there no fan, or was it hot? Then add \"no fan\" or \"27 °C\"."
	heatLine    = "Was it hot? Then add how hot, such as \"27 °C\"."
	pulseLine   = "Your resting pulse of the mornings, if you took it, such as: resting pulse Mon 58"
	bodyLine    = "Anything from poor sleep, a cold, sore muscles or pain? Please say on which day."
	noneLine    = "No session reached me this week. If you trained, tell me the day, what you did and for how many minutes."
	allLine     = "Thank you, about your sessions I know everything."
	firstLine   = "First of all: you told me of something that a doctor should look at. Please do not train until a doctor says so."
	stopLine    = "Pain or pressure in your chest, neck, jaw or arm, fainting, being breathless at rest, or confusion: stop, call emergency help at once, and do not wait to answer me."
	doctorLine  = "Breathless at mild effort or lying down, dizzy, a heart that races or stumbles, swollen ankles, or pain in the calf when walking: do not train, see a doctor first, and tell me."
	exampleHead = "For example: "
)

// The lines that name a session, as open.line writes them.
var (
	partsAsked  = regexp.MustCompile(`\((?:how hard|talking|enjoyment)(?: and (?:how hard|talking|enjoyment))*\)`)
	sessionLine = regexp.MustCompile(`^[A-Z][a-z]{2} \d{1,2} [A-Z][a-z]{2}, (?:run|walk|ride|row|swim|session), \d+ min(?: ` + partsAsked.String() + `)?$`)
)

// open says what of a session is not answered yet.
type open struct {
	session             record.Session
	effort, talk, enjoy bool
}

// Ask writes the weekly message to a client as of a day, ready to paste into a messenger. It asks
// for what was not answered yet of the sessions of the past week, one of each day since an answer
// belongs to the day's longest session.
func Ask(r record.Record, on workout.Date) string {
	r = r.Until(on)
	week, missing := openSessions(r, on)
	scale := ScaleOf(r)
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	say("Hi %s! A few lines about your week, %s to %s, if you like.", r.Client.Name, day(on-6), day(on))
	say("")
	if doctorFirst(r) {
		say("%s", firstLine)
		say("")
	}
	switch {
	case len(week) == 0:
		say("%s", noneLine)
	case len(missing) == 0:
		say("%s", allLine)
	default:
		say("%s", openLine)
		for _, m := range missing {
			say("%s", m.line())
		}
		say("")
		for _, l := range questions(missing, scale) {
			say("%s", l)
		}
		say("%s", dayLine)
		say("%s%s", exampleHead, exampleFor(missing, on, scale))
	}
	say("")
	if slices.ContainsFunc(r.Notes, func(n record.Note) bool { return n.HRRest != 0 && n.Date > on-28 }) {
		say("%s", pulseLine)
	}
	say("%s", bodyLine)
	say("")
	say("%s", stopLine)
	say("%s", doctorLine)
	return strings.Join(out, "\n") + "\n"
}

// doctorFirst says that a grave sign is on record that no clearance has followed.
func doctorFirst(r record.Record) bool {
	grave := func(all []signs.Sign) bool {
		return slices.ContainsFunc(all, func(s signs.Sign) bool {
			return s.Tier() == signs.Emergency || s.Tier() == signs.Doctor
		})
	}
	cleared, screened := r.Client.Clearance, r.Client.Screening
	return grave(screened.Signs) && screened.On > cleared ||
		slices.ContainsFunc(r.Notes, func(n record.Note) bool { return n.Date > cleared && grave(n.Symptoms) })
}

// openSessions lists the sessions of the past week, one of each day, and what is missing of them.
func openSessions(r record.Record, on workout.Date) (week []record.Session, missing []open) {
	for _, s := range r.Sessions() {
		if s.Date <= on-7 || s.Date > on {
			continue
		}
		if n := len(week); n > 0 && week[n-1].Date == s.Date {
			if s.Minutes > week[n-1].Minutes {
				week[n-1] = s
			}
			continue
		}
		week = append(week, s)
	}
	for _, s := range week {
		if o := (open{s, s.RPE == nil, s.Talk == record.NotAsked, s.Enjoyment == 0}); o.effort || o.talk || o.enjoy {
			missing = append(missing, o)
		}
	}
	return week, missing
}

// line names a session, and what is missing of it if that is not everything.
func (o open) line() string {
	text := day(o.session.Date) + ", " + doing(o.session) + ", " + length(o.session)
	var parts []string
	for _, x := range []struct {
		asked bool
		word  string
	}{{o.effort, "how hard"}, {o.talk, "talking"}, {o.enjoy, "enjoyment"}} {
		if x.asked {
			parts = append(parts, x.word)
		}
	}
	if len(parts) == 3 {
		return text
	}
	return text + " (" + strings.Join(parts, " and ") + ")"
}

func length(s record.Session) string { return fmt.Sprintf("%.0f min", s.Minutes) }

func doing(s record.Session) string {
	switch s.Mode {
	case workout.Bike:
		return "ride"
	case workout.OtherMode:
		return "session"
	}
	return string(s.Mode)
}

// questions are the lines on what is missing of any session.
func questions(missing []open, scale int) []string {
	var out []string
	add := func(line string, asked func(open) bool) {
		if slices.ContainsFunc(missing, asked) {
			out = append(out, line)
		}
	}
	effort := effortLine
	if scale == 10 {
		effort = effortLine0
	}
	add(effort, func(o open) bool { return o.effort })
	add(talkLine, func(o open) bool { return o.talk })
	add(enjoyLine, func(o open) bool { return o.enjoy })
	indoor := func(o open) bool {
		return o.session.Place == workout.Indoor && !o.session.NoFan && o.session.HeatC == nil
	}
	if slices.ContainsFunc(missing, indoor) {
		return append(out, fanLine)
	}
	add(heatLine, func(o open) bool { return o.session.HeatC == nil && !o.session.NoFan })
	return out
}

// exampleFor is an answer in the form that the message asks for, about a session of another day
// than today if there is one. Its number is never that of the day of the month, which would read as
// a date.
func exampleFor(missing []open, today workout.Date, scale int) string {
	on, name := missing[0].session.Date, "today"
	if on != today {
		name = on.Time().Format("Mon")
	}
	effort := 12
	if scale == 10 {
		effort = 3
	}
	if on.Time().Day() == effort {
		effort++
	}
	return fmt.Sprintf("%s %d easy 4", name, effort)
}

// ScaleOf is the scale of effort that the client used last: 20 or 10, and 20 for one who gave none.
func ScaleOf(r record.Record) int {
	scale, last := 20, workout.Date(0)
	take := func(e *workout.RPE, on workout.Date) {
		if e != nil && on >= last {
			scale, last = e.Scale, on
		}
	}
	for _, n := range r.Notes {
		take(n.RPE, n.Date)
	}
	for _, x := range r.Reports {
		take(x.RPE, x.Date)
	}
	return scale
}

// ownLine says that a line is one of the message itself.
func ownLine(line string) bool {
	return strings.HasPrefix(line, exampleHead) || strings.HasPrefix(line, "Hi ") && strings.Contains(line, "! A few lines about your week, ") ||
		slices.Contains([]string{
			openLine, talkLine, enjoyLine, effortLine, effortLine0, dayLine, fanLine, heatLine, pulseLine, bodyLine, noneLine, allLine, firstLine, stopLine, doctorLine,
		}, line)
}
