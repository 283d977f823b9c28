package answers

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// settle puts what was read together by day: answers belong to a known session, two unlike answers
// for one day are a question, and everything that does not count is kept as text.
func (p *parser) settle() Reading {
	p.placeEntries()
	p.askOfTwo()
	p.compareWithBook()
	p.settleWords()
	notes := map[workout.Date]*record.Note{}
	of := func(day workout.Date) *record.Note {
		if notes[day] == nil {
			notes[day] = &record.Note{Date: day}
		}
		return notes[day]
	}
	for _, e := range p.entries {
		if p.pieces[e.piece].Kind == Understood && !empty(e.note) {
			p.pieces[e.piece].Day = e.day
			merge(of(e.day), e.note)
		}
	}
	for i := range p.pieces {
		x := &p.pieces[i]
		if x.Kind == Understood {
			continue
		}
		if x.Day <= 0 {
			x.Day = p.On
		}
		n := of(x.Day)
		n.Text = strings.TrimPrefix(n.Text+"; "+x.Text, "; ")
	}
	heard := map[workout.Date][]signs.Mention{}
	for i, says := range p.says {
		if x := &p.pieces[i]; len(says) > 0 {
			if x.Day <= 0 {
				x.Day = p.On
			}
			of(x.Day)
			heard[x.Day] = append(heard[x.Day], says...)
		}
	}
	for i := range p.pieces {
		if p.pieces[i].Day == unsure {
			p.pieces[i].Day = 0
		}
	}
	r := Reading{Notes: []record.Note{}, Pieces: p.pieces}
	for _, n := range notes {
		r.Notes = append(r.Notes, n.Heard(heard[n.Date]))
	}
	slices.SortFunc(r.Notes, func(a, b record.Note) int { return cmp.Compare(a.Date, b.Date) })
	slices.SortStableFunc(r.Pieces, func(a, b Piece) int { return cmp.Compare(a.From, b.From) })
	return r
}

// ofSession says that a note holds an answer about a session.
func ofSession(n record.Note) bool {
	return n.RPE != nil || n.Talk != record.NotAsked || n.Enjoyment != 0 || n.HeatC != nil || n.NoFan
}

func empty(n record.Note) bool { return !ofSession(n) && n.HRRest == 0 }

// placeEntries gives each value its day.
func (p *parser) placeEntries() {
	for i := range p.entries {
		e := &p.entries[i]
		piece := &p.pieces[e.piece]
		switch {
		case ofSession(e.note) || e.soft != 0:
			if e.day == 0 {
				e.day = p.dayBefore(piece.From)
			}
			if e.day <= 0 {
				e.day = p.onlySession(e.day)
			}
			piece.Day = e.day
			if piece.Kind != Understood {
				continue
			}
			if e.day == 0 || e.day == unsure {
				p.ask(e.piece, fmt.Sprintf(askSession, p.sessionDays()))
			} else if p.session(e.day) == nil {
				p.ask(e.piece, fmt.Sprintf(askNoSession, day(e.day), p.sessionDays()))
			}
		case e.note.HRRest != 0:
			if e.day == 0 && len(p.named) == 0 {
				e.day = p.On
			}
			piece.Day = e.day
			if e.day <= 0 && piece.Kind == Understood {
				p.ask(e.piece, askMorning)
			}
		}
	}
}

// dayBefore is the day of the answers before a place in the message, if no other day with a session
// is named anywhere: what follows "Mon effort 12" on lines of its own goes on about Monday.
func (p *parser) dayBefore(at int) workout.Date {
	for _, e := range p.entries {
		if e.day <= 0 || !ofSession(e.note) || p.pieces[e.piece].From > at {
			continue
		}
		other := func(d workout.Date) bool { return d != e.day && p.session(d) != nil }
		if slices.ContainsFunc(p.named, other) {
			return 0
		}
		return e.day
	}
	return 0
}

// onlySession is the day of the session that an answer without a day must mean: the only one of the
// week, or the only one without an effort. No day if there are several.
func (p *parser) onlySession(was workout.Date) workout.Date {
	if was == unsure {
		return unsure
	}
	var all, open []workout.Date
	for _, s := range p.Sessions {
		if s.Date <= p.On-7 || s.Date > p.On || slices.Contains(all, s.Date) {
			continue
		}
		all = append(all, s.Date)
		if p.session(s.Date).RPE == nil {
			open = append(open, s.Date)
		}
	}
	switch {
	case len(open) == 1:
		return open[0]
	case len(all) == 1:
		return all[0]
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
	for _, s := range p.Sessions {
		if d := day(s.Date); s.Date > p.On-14 && s.Date <= p.On && !slices.Contains(days, d) {
			days = append(days, d)
		}
	}
	if len(days) == 0 {
		return noSessions
	}
	return fmt.Sprintf(sessionsOn, strings.Join(days, ", "))
}

// askOfTwo makes questions of unlike answers for one day.
func (p *parser) askOfTwo() {
	for _, field := range fields {
		given := map[workout.Date][]string{}
		for _, e := range p.entries {
			if v := field.of(e.note); v != "" && p.pieces[e.piece].Kind == Understood && !slices.Contains(given[e.day], v) {
				given[e.day] = append(given[e.day], v)
			}
		}
		for _, e := range p.entries {
			if all := given[e.day]; field.of(e.note) != "" && p.pieces[e.piece].Kind == Understood && len(all) > 1 {
				p.ask(e.piece, fmt.Sprintf(askOfAnswers, field.name, day(e.day), strings.Join(all, " and ")))
			}
		}
	}
}

// field is one value of a note, written out; "" where it is not given.
type field struct {
	name string
	of   func(record.Note) string
}

var fields = []field{
	{"effort", func(n record.Note) string {
		if n.RPE == nil {
			return ""
		}
		return wording.Number(n.RPE.Value) + " on the " + scaleName(n.RPE.Scale) + " scale"
	}},
	{"talking", func(n record.Note) string { return string(n.Talk) }},
	{"enjoyment", func(n record.Note) string {
		if n.Enjoyment == 0 {
			return ""
		}
		return fmt.Sprintf("%d of 5", n.Enjoyment)
	}},
	{"the resting heart rate", func(n record.Note) string {
		if n.HRRest == 0 {
			return ""
		}
		return wording.Number(n.HRRest) + " bpm"
	}},
	{"the temperature", func(n record.Note) string {
		if n.HeatC == nil {
			return ""
		}
		return wording.Number(*n.HeatC) + " °C"
	}},
}

// compareWithBook leaves out what the book holds already, and asks about what it holds otherwise.
func (p *parser) compareWithBook() {
	for i := range p.entries {
		e := &p.entries[i]
		s := p.session(e.day)
		if p.pieces[e.piece].Kind != Understood || s == nil || !ofSession(e.note) {
			continue
		}
		known := record.Note{RPE: s.RPE, Talk: s.Talk, Enjoyment: s.Enjoyment}
		var twice []string
		for _, f := range fields[:3] {
			now, before := f.of(e.note), f.of(known)
			again := now == before || f.name == "effort" && e.note.RPE != nil && slices.Contains(s.Efforts, *e.note.RPE)
			switch {
			case now == "" || before == "":
			case again:
				twice = append(twice, f.name)
			default:
				p.ask(e.piece, fmt.Sprintf(askOfBook, f.name, day(e.day), before))
			}
		}
		if p.pieces[e.piece].Kind != Understood || len(twice) == 0 {
			continue
		}
		for _, name := range twice {
			switch name {
			case "effort":
				e.note.RPE = nil
			case "talking":
				e.note.Talk = record.NotAsked
			case "enjoyment":
				e.note.Enjoyment = 0
			}
		}
		p.pieces[e.piece].Means += " (" + strings.Join(twice, ", ") + ": already in the book)"
	}
}

// settleWords makes remarks of the words about effort and enjoyment whose number is known, and
// questions of the others.
func (p *parser) settleWords() {
	for _, e := range p.entries {
		if e.soft == 0 || p.pieces[e.piece].Kind != Understood {
			continue
		}
		var known record.Note
		if s := p.session(e.day); s != nil {
			known = record.Note{RPE: s.RPE, Talk: s.Talk, Enjoyment: s.Enjoyment}
		}
		for _, other := range p.entries {
			if other.day == e.day && p.pieces[other.piece].Kind == Understood {
				merge(&known, other.note)
			}
		}
		effort, talk := known.RPE != nil, known.Talk != record.NotAsked
		switch word := strings.ToLower(p.pieces[e.piece].Text); {
		case e.soft == enjoyWord && known.Enjoyment == 0:
			p.ask(e.piece, askEnjoyment)
		case e.soft == feltWord && effort && !talk:
			p.ask(e.piece, fmt.Sprintf(askAboutTalk, word))
		case e.soft == feltWord && !effort, e.soft == effortWord && !effort:
			p.ask(e.piece, fmt.Sprintf(askEffort, scaleRange(p.Scale), anchorHint(word, p.Scale)))
		default:
			p.pieces[e.piece].Kind, p.pieces[e.piece].Means = Remark, "a word next to the answer"
		}
	}
}

func merge(n *record.Note, from record.Note) {
	n.RPE = cmp.Or(from.RPE, n.RPE)
	n.Talk = cmp.Or(from.Talk, n.Talk)
	n.Enjoyment = cmp.Or(from.Enjoyment, n.Enjoyment)
	n.HRRest = cmp.Or(from.HRRest, n.HRRest)
	n.HeatC = cmp.Or(from.HeatC, n.HeatC)
	n.NoFan = n.NoFan || from.NoFan
}

// day writes a day as the message does: "Mon 28 Sep".
func day(d workout.Date) string { return d.Time().Format("Mon 2 Jan") }
