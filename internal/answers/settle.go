package answers

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// settle puts what was read together by day: answers belong to a known session, two unlike answers
// for one day are a question, and everything that does not count is kept as text.
func (p *parser) settle() Reading {
	p.placeEntries()
	p.askTakenBack()
	p.askOfNod()
	p.copySame()
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
		if p.holds(e) && !empty(e.note) {
			p.pieces[e.piece].Day = e.day
			merge(of(e.day), e.note)
		}
	}
	heard := map[workout.Date][]signs.Mention{}
	for i, says := range p.says {
		x := &p.pieces[i]
		text := x.Kind != Understood && x.From < x.To
		if x.Day = max(0, x.Day); x.Day == 0 && (text || len(says) > 0) {
			x.Day = p.On
		}
		if text {
			n := of(x.Day)
			n.Text = strings.TrimPrefix(n.Text+"; "+x.Text, "; ")
		}
		if len(says) > 0 {
			of(x.Day)
			heard[x.Day] = append(heard[x.Day], says...)
		}
	}
	p.pieces = slices.DeleteFunc(p.pieces, func(x Piece) bool { return x.From == x.To })
	r := Reading{Notes: []record.Note{}, Pieces: p.pieces}
	for _, n := range notes {
		r.Notes = append(r.Notes, n.Heard(heard[n.Date]))
	}
	slices.SortFunc(r.Notes, func(a, b record.Note) int { return cmp.Compare(a.Date, b.Date) })
	slices.SortStableFunc(r.Pieces, func(a, b Piece) int { return cmp.Compare(a.From, b.From) })
	return r
}

// holds says that an entry is not asked about.
func (p *parser) holds(e entry) bool { return p.pieces[e.piece].Kind == Understood }

// said is what the message answers for a day.
func (p *parser) said(on workout.Date) (out record.Note) {
	for _, e := range p.entries {
		if p.holds(e) && e.day == on {
			merge(&out, e.note)
		}
	}
	return out
}

// field is one answer of a note. A new question of the weekly message needs a line here, and a form.
type field struct {
	about   About
	name    string
	session bool                     // belongs to a session
	of      func(record.Note) string // written out; "" where it is not given
	set     func(to *record.Note, from record.Note)
}

var fields = []field{
	{AboutEffort, "effort", true, func(n record.Note) string {
		if n.RPE == nil {
			return ""
		}
		return wording.Number(n.RPE.Value) + " on the " + scaleUpTo(n.RPE.Scale).name + " scale"
	}, func(to *record.Note, from record.Note) { to.RPE = from.RPE }},
	{AboutTalk, "talking", true, func(n record.Note) string { return string(n.Talk) },
		func(to *record.Note, from record.Note) { to.Talk = from.Talk }},
	{AboutEnjoyment, "enjoyment", true, func(n record.Note) string { return given(float64(n.Enjoyment), "%s of 5") },
		func(to *record.Note, from record.Note) { to.Enjoyment = from.Enjoyment }},
	{AboutPulse, "the resting heart rate", false, func(n record.Note) string { return given(n.HRRest, "%s bpm") },
		func(to *record.Note, from record.Note) { to.HRRest = from.HRRest }},
	{AboutHeat, "the temperature", true, func(n record.Note) string {
		if n.HeatC == nil {
			return ""
		}
		return wording.Number(*n.HeatC) + " °C"
	}, func(to *record.Note, from record.Note) { to.HeatC = from.HeatC }},
	{"", "the fan", true, func(n record.Note) string {
		if n.NoFan {
			return "no fan"
		}
		return ""
	}, func(to *record.Note, from record.Note) { to.NoFan = from.NoFan }},
}

// given writes a value out; "" for 0.
func given(v float64, form string) string {
	if v == 0 {
		return ""
	}
	return fmt.Sprintf(form, wording.Number(v))
}

// ofSession says that a note holds an answer about a session.
func ofSession(n record.Note) bool {
	return slices.ContainsFunc(fields, func(f field) bool { return f.session && f.of(n) != "" })
}

func empty(n record.Note) bool {
	return !slices.ContainsFunc(fields, func(f field) bool { return f.of(n) != "" })
}

func merge(n *record.Note, from record.Note) {
	for _, f := range fields {
		if f.of(from) != "" {
			f.set(n, from)
		}
	}
}

// nods are words that answer none of the questions.
var nods = set("ok okay k yes yep yeah yup good great fine sure")

// askOfNod asks what "ok" means where it is all that was answered.
func (p *parser) askOfNod() {
	if len(p.entries) > 0 || len(p.heard) > 0 || slices.ContainsFunc(p.pieces, func(x Piece) bool { return x.Kind != Understood }) {
		return
	}
	for i, x := range p.pieces {
		if x.Means == "" && slices.ContainsFunc(strings.FieldsFunc(strings.ToLower(x.Text), notLetter), func(w string) bool { return nods[w] }) {
			p.ask(i, "", fmt.Sprintf(askMeaning, strings.ToLower(x.Text)))
		}
	}
}

func notLetter(r rune) bool { return !unicode.IsLetter(r) }

// placeEntries gives each value its day.
func (p *parser) placeEntries() {
	var unknown []int
	for i := range p.entries {
		e := &p.entries[i]
		piece := &p.pieces[e.piece]
		switch {
		case piece.Kind == Question: // what is asked about has its day
		case ofSession(e.note) || e.soft != 0 || e.same:
			if e.day == 0 {
				e.day = p.dayBefore(i)
			}
			if e.day <= 0 {
				e.day = p.onlySession(e.day)
			}
			piece.Day = e.day
			switch {
			case e.day <= 0:
				unknown = append(unknown, i)
			case p.session(e.day) != nil:
			case p.waits(e.day):
				piece.Means += waits
			default:
				p.ask(e.piece, AboutDay, fmt.Sprintf(askNoSession, day(e.day), p.sessionDays()), p.on(e.note)...)
			}
		case e.note.HRRest != 0:
			if e.day == 0 && len(p.named) == 0 {
				e.day = p.On
			}
			piece.Day = e.day
			if e.day <= 0 && piece.Kind == Understood {
				p.ask(e.piece, AboutPulse, askMorning)
			}
		}
	}
	p.askSessions(unknown)
}

// takenBack are words that take back what was answered, or change its days, and put nothing in its place.
var takenBack = re(`(?m)\b(?:swap(?:ped)?|switch|other way (?:a?round)(?:\s+(?:sorry|please|lol))?\s*$|wrong way (?:a?round)|vice versa|(?:mixed|muddled) (?:\pL+ ){0,2}up|got (?:\pL+ ){1,2}(?:mixed|muddled|backwards)|` +
	`(?:scrap|ignore|forget|disregard|delete|strike) (?:all |about )?(?:that|this|those|these|it|them|the lot|everything|what i|my last)|wrong (?:week|days?|ones?|message|chat|person|numbers?)|(?:that|those|these|this) (?:was|were|is|are) (?:for )?my \pL+['’]s)\b`)

// askTakenBack asks about all answers of a message that takes some back, since it does not say which.
func (p *parser) askTakenBack() {
	if !p.moved && !slices.ContainsFunc(p.pieces, func(x Piece) bool { return x.Kind != Understood && takenBack.MatchString(x.Text) }) {
		return
	}
	for _, e := range p.entries {
		if p.holds(e) && ofSession(e.note) {
			p.ask(e.piece, AboutDay, askDayMeant, p.on(e.note)...)
		}
	}
}

// dayBefore is the day that an answer without one goes on about: that of the answers before it, if this
// answer is missing there and all other days so far have it.
func (p *parser) dayBefore(i int) workout.Date {
	last, has := workout.Date(0), map[workout.Date]bool{}
	for _, e := range p.entries[:i] {
		if e.day <= 0 || !ofSession(e.note) {
			continue
		}
		last = e.day
		for _, f := range fields {
			has[e.day] = has[e.day] || f.session && f.of(e.note) != "" && f.of(p.entries[i].note) != ""
		}
	}
	for d, answered := range has {
		if answered == (d == last) && (d != last || len(has) > 1) {
			return 0
		}
	}
	return last
}

// askSessions asks which day answers are about, once for those that stand together.
func (p *parser) askSessions(unknown []int) {
	var head *Piece
	var at int // the index of head
	var all record.Note
	for _, i := range unknown {
		e := p.entries[i]
		x := &p.pieces[e.piece]
		within := func(z Piece) bool { return z.From < z.To && z.From >= head.To && z.To <= x.From && z.Line == x.Line }
		if head == nil || head.Line != x.Line || slices.ContainsFunc(p.pieces, func(z Piece) bool { return within(z) && (z.Kind != Understood || z.Means != "") }) {
			head, at, all = x, e.piece, record.Note{}
		}
		merge(&all, e.note)
		p.ask(e.piece, AboutDay, fmt.Sprintf(askSession, p.sessionDays()), p.on(all)...)
		if x == head {
			continue
		}
		head.Choices = x.Choices
		p.say(at, p.says[e.piece])
		p.says[e.piece] = nil
		for j := range p.pieces {
			if z := &p.pieces[j]; z == x || within(*z) {
				z.From = z.To // dropped
			}
		}
		head.To = x.To
		head.Text = p.text[head.From:head.To]
	}
}

// copySame gives the days of "same" the answers of the day meant, as far as they have none of their own.
func (p *parser) copySame() {
	for i := range p.entries {
		e := &p.entries[i]
		if !e.same || !p.holds(*e) {
			continue
		}
		from := e.as
		for j := i - 1; j >= 0 && from == 0; j-- {
			if o := p.entries[j]; o.day > 0 && o.day != e.day && ofSession(o.note) {
				from = o.day
			}
		}
		source, own := p.said(from), p.said(e.day)
		if from == 0 || e.day <= 0 || empty(source) {
			p.ask(e.piece, AboutDay, askDayTold)
			continue
		}
		for _, f := range fields[:3] {
			if f.of(own) == "" {
				f.set(&e.note, source)
			}
		}
		if p.session(e.day) == nil {
			p.pieces[e.piece].Means += waits
		}
	}
}

// waits says that the answers for a day of the week without a session are about one whose recording is still to
// come: there are several, or no recording of the week is there yet. One number alone may be anything.
func (p *parser) waits(on workout.Date) bool {
	n := 0
	for _, e := range p.entries {
		if e.day == on && ofSession(e.note) {
			n++
		}
	}
	return on > p.On-7 && (n > 1 || len(p.sessionsSince(7)) == 0)
}

// askOfTwo makes questions of unlike answers for one day.
func (p *parser) askOfTwo() {
	for _, field := range fields {
		given, notes := map[workout.Date][]string{}, map[workout.Date][]record.Note{}
		for _, e := range p.entries {
			if v := field.of(e.note); v != "" && !slices.Contains(given[e.day], v) {
				n := record.Note{Date: e.day}
				field.set(&n, e.note)
				given[e.day], notes[e.day] = append(given[e.day], v), append(notes[e.day], n)
			}
		}
		for _, e := range p.entries {
			if all := given[e.day]; field.of(e.note) != "" && p.holds(e) && len(all) > 1 {
				p.ask(e.piece, field.about, fmt.Sprintf(askOfAnswers, field.name, day(e.day), strings.Join(all, " and ")), notes[e.day]...)
			}
		}
	}
}

// compareWithBook leaves out what the book holds already, and asks about what it holds otherwise.
func (p *parser) compareWithBook() {
	for i := range p.entries {
		e := &p.entries[i]
		s := p.session(e.day)
		if !p.holds(*e) || s == nil || !ofSession(e.note) {
			continue
		}
		known := answersOf(*s)
		var twice []string
		for _, f := range fields {
			now, before := f.of(e.note), f.of(known)
			switch {
			case now == "" || before == "":
			case now == before || f.about == AboutEffort && slices.Contains(s.Efforts, *e.note.RPE):
				twice = append(twice, f.name)
				f.set(&e.note, record.Note{})
			default:
				was, is := record.Note{Date: e.day}, record.Note{Date: e.day}
				f.set(&was, known)
				f.set(&is, e.note)
				p.ask(e.piece, f.about, fmt.Sprintf(askOfBook, f.name, day(e.day), before), was, is)
			}
		}
		if p.holds(*e) && len(twice) > 0 {
			p.pieces[e.piece].Means += " (" + strings.Join(twice, ", ") + ": already in the book)"
		}
	}
}

// answersOf is what the book holds of the questions of the weekly message.
func answersOf(s record.Session) record.Note {
	return record.Note{RPE: s.RPE, Talk: s.Talk, Enjoyment: s.Enjoyment}
}

// settleWords makes remarks of the words about effort and enjoyment whose number is known, and
// questions of the others.
func (p *parser) settleWords() {
	for _, e := range p.entries {
		if e.soft == 0 || !p.holds(e) {
			continue
		}
		var known record.Note
		if s := p.session(e.day); s != nil {
			known = answersOf(*s)
		}
		merge(&known, p.said(e.day))
		effort, talk := known.RPE != nil, known.Talk != record.NotAsked
		switch word := strings.ToLower(p.pieces[e.piece].Text); {
		case e.soft == enjoyWord && known.Enjoyment == 0:
			p.ask(e.piece, AboutEnjoyment, askEnjoyment)
		case e.soft == feltWord && effort && !talk:
			p.ask(e.piece, AboutTalk, fmt.Sprintf(askAboutTalk, word), talkChoices(e.day)...)
		case e.soft == feltWord && !effort, e.soft == effortWord && !effort:
			p.ask(e.piece, AboutEffort, fmt.Sprintf(askEffort, scaleUpTo(p.Scale).span, scaleUpTo(p.Scale).hint(word)))
		default:
			p.pieces[e.piece].Kind, p.pieces[e.piece].Means = Remark, "a word next to the answer"
		}
	}
}

// day writes a day as the message does: "Mon 28 Sep".
func day(d workout.Date) string { return d.Time().Format("Mon 2 Jan") }
