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

// The sentences of the message that do not change.
const (
	openLine    = "What I'd still like to know:"
	talkLine    = "Was talking easy, hard or not possible?"
	enjoyLine   = "How much did you enjoy it, from 1 (not at all) to 5 (very much)?"
	effortLine  = "How hard was it, from 6 (no effort at all) to 20 (as hard as it gets)?"
	effortLine0 = "How hard was it, from 0 (rest) to 10 (as hard as it gets)?"
	dayLine     = "Please start each line with the day."
	fanLine     = "If it was hot or there was no fan, add \"27 °C\" or \"no fan\"."
	heatLine    = "If it was hot, add how hot, such as \"27 °C\"."
	pulseLine   = "If you took your resting pulse in the morning, add it like this: resting pulse Mon 58"
	bodyLine    = "Slept badly, had a cold, sore muscles or pain? Please say on which day."
	noneLine    = "I have no session from you this week. If you trained, tell me the day, what you did and for how many minutes."
	filesLine   = "I have your answers, but not all the recordings that belong to them. Please send me the files."
	allLine     = "Thanks - I have everything about your sessions."
	referLine   = "Don't train until a doctor has cleared you: you told me about something a doctor needs to look at."
	answerLine  = "Please answer this first:"
	waitLine    = "Don't train until we have talked about it."
)

// partsAsked is what open.line says about a session that is answered in part.
var partsAsked = regexp.MustCompile(`\((?:how hard|talking|enjoyment)(?: and (?:how hard|talking|enjoyment))*\)`)

// open says what of a session is not answered yet.
type open struct {
	session             record.Session
	effort, talk, enjoy bool
}

// Ask writes the weekly message to a client as of a day, ready to paste into a messenger. Where something may
// be an emergency, it begins with what to do about it, and asks about what has not been answered yet of the sessions of
// the past week, one of each day since an answer belongs to the day's longest session.
func Ask(r record.Record, on workout.Date) string {
	r = r.Until(on)
	hello, stop := []string{greeting(r.Client.Name, on), ""}, append(signs.StopShort(), "")
	out := append(hello, stop...)
	if first := firstOfAll(r, on); len(first) > 0 {
		out = slices.Concat(first, []string{""}, stop, hello)
	}
	say := func(lines ...string) { out = append(out, lines...) }
	week, missing := openSessions(r, on)
	awaited := slices.ContainsFunc(r.Awaited(r.Done()), func(s record.Session) bool { return s.Date > on-7 })
	if awaited {
		say(filesLine)
	}
	switch {
	case len(missing) == 0 && awaited:
	case len(week) == 0:
		say(noneLine)
	case len(missing) == 0:
		say(allLine)
	default:
		scale := ScaleOf(r)
		say(openLine)
		for _, m := range missing {
			say(m.line())
		}
		say("")
		say(questions(missing, scale)...)
		say(dayLine, exampleFor(missing, on, scale))
	}
	say("")
	if slices.ContainsFunc(r.Notes, func(n record.Note) bool { return n.HRRest != 0 && n.Date > on-28 }) {
		say(pulseLine)
	}
	say(bodyLine)
	return strings.Join(out, "\n") + "\n"
}

func greeting(client string, on workout.Date) string {
	return fmt.Sprintf("Hi %s! A few questions about your week, %s to %s.", client, day(on-6), day(on))
}

// firstOfAll is what comes before everything else: what to do about a grave sign, and what may be one.
func firstOfAll(r record.Record, on workout.Date) []string {
	var out []string
	sign, last := graveSign(r)
	referred := sign != ""
	if referred {
		if sign.Urgency() != signs.ClearFirst {
			out = append(out, sign.Urgent(signs.Client, int(on-last))+".")
		}
		if sign.Urgency() != signs.AgreeFirst {
			out = append(out, referLine)
		}
		out = append(out, signs.AfterReferral)
	}
	if asked := graveLines(r.Unanswered()); len(asked) > 0 {
		out = append(append(out, answerLine), asked...)
		if !referred { // otherwise the message already says more
			out = append(out, waitLine)
		}
	}
	return out
}

// graveSign is the gravest sign on record, with no clearance since, that nobody has withdrawn, and the last
// day of one that is as grave; "" for none.
func graveSign(r record.Record) (sign signs.Sign, last workout.Date) {
	order := signs.All() // the gravest first
	for _, open := range r.OpenSigns() {
		s, on := open.Sign, open.On
		switch {
		case sign == "" || s.Tier() != sign.Tier() && slices.Index(order, s) < slices.Index(order, sign):
			sign, last = s, on
		case s.Tier() == sign.Tier():
			if slices.Index(order, s) < slices.Index(order, sign) {
				sign = s
			}
			last = max(last, on)
		}
	}
	return sign, last
}

// graveLines asks about the grave signs among open questions, one line for each note.
func graveLines(open []record.Question) []string {
	var out []string
	for i, q := range open {
		sameNote := func(x record.Question) bool {
			return x.Grave() && x.Note == q.Note && x.On == q.On && x.Words == q.Words
		}
		if !q.Grave() || slices.ContainsFunc(open[:i], sameNote) {
			continue
		}
		var meant []string
		for _, x := range open[i:] {
			if sameNote(x) {
				meant = append(meant, x.Asks())
			}
		}
		q.Words = Quotable(q.Words)
		out = append(out, Wrote("you", q)+" "+strings.Join(meant, " "))
	}
	return out
}

// Wrote is what somebody wrote, in their own words and with its day: who is "you" where the client reads it.
func Wrote(who string, q record.Question) string {
	if strings.TrimSpace(q.Words) == "" {
		return "A question about " + q.On.Day() + "."
	}
	return fmt.Sprintf("On %s %s wrote “%s”.", q.On.Day(), who, strings.Join(strings.Fields(q.Words), " "))
}

// Quotable is a text on one line, of a length that a message can quote.
func Quotable(text string) string {
	const most = 160
	text = strings.Join(strings.Fields(text), " ")
	if letters := []rune(text); len(letters) > most {
		return string(letters[:most]) + "…"
	}
	return text
}

// openSessions lists the sessions of the past week, one of each day, and what is missing of them.
func openSessions(r record.Record, on workout.Date) (week []record.Session, missing []open) {
	for _, s := range r.Answerable() {
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
	effort := usualEffort(scale)
	if on.Time().Day() == effort {
		effort++
	}
	return example(name, effort)
}

func usualEffort(scale int) int {
	if scale == 10 {
		return 3
	}
	return 12
}

func example(day string, effort int) string {
	return fmt.Sprintf("For example: %s %d easy 4", day, effort)
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

// ownLines are the lines of the weekly message, which a pasted answer may carry along.
type ownLines struct {
	fixed    map[string]bool
	sessions map[string]bool // lines that are the message's only where they are quoted: else they are filled in
}

// ownLines lists the lines that a message of the last weeks may have held.
func (p *parser) ownLines() ownLines {
	own := ownLines{map[string]bool{}, map[string]bool{}}
	add := func(lines ...string) {
		for _, l := range lines {
			own.fixed[l] = true
		}
	}
	add(openLine, talkLine, enjoyLine, effortLine, effortLine0, dayLine, fanLine, heatLine, pulseLine, bodyLine, noneLine, filesLine, allLine,
		referLine, answerLine, waitLine, signs.AfterReferral)
	add(signs.StopShort()...)
	for _, s := range signs.All() {
		add(s.Urgent(signs.Client, 0)+".", s.Urgent(signs.Client, 1)+".")
	}
	add(graveLines(p.Open)...)
	for d := p.On - oldest; d <= p.On; d++ {
		add(greeting(p.Client, d))
	}
	for _, effort := range []int{usualEffort(10), usualEffort(20)} {
		add(example("today", effort), example("today", effort+1))
		for d := p.On - 6; d <= p.On; d++ {
			add(example(d.Time().Format("Mon"), effort), example(d.Time().Format("Mon"), effort+1))
		}
	}
	for _, s := range p.Sessions {
		for asked := range 8 {
			own.sessions[open{s, asked&1 > 0, asked&2 > 0, asked&4 > 0}.line()] = true
		}
	}
	return own
}
