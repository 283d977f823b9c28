package reports

import (
	"errors"
	"fmt"
	"html/template"
	"math"
	"strings"

	"nextrung/internal/prescription"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// progressPage is the client's page: plain words, no verdict words, no alarm, no race.
type progressPage struct {
	frame
	Name    string
	Date    string
	Rungs   template.HTML
	Where   string        // "You are in week 5."
	Lead    string        // what comes next, in one or two sentences
	Alarm   *alarm        // comes first: then no chart and nothing cheerful comes before
	Icon    template.HTML // of the alarm
	Tell    string        // the address of the page on which the client answers
	Next    *nextWeek
	Better  []improved
	Minutes *chart
	Answers []answer
	Days    []dayMark
	DaysOf  string
	Worth   []fact // worth noticing
	Band    *chart
	Feeling *chart // effort, for a client whose heart rate says little
	Tips    []string
	Book    string // the seal of the book, "" for none
	care
}

// care is the part that every decision and progress page ends with.
type care struct {
	Cautions, StopSigns []string
	StopLine            string // where there is room for one line
}

// dayMark is one day of the last week.
type dayMark struct {
	Day, Minutes, Text string
	Quiet, Reported    bool
}

// Progress makes the client's page; it stands alone in one file.
func Progress(c Client) ([]byte, error) {
	p, err := progressOf(c)
	if err = errors.Join(err, paint(clientPage, p.Minutes, p.Band, p.Feeling)); err != nil {
		return nil, err
	}
	return render("progress.html", p)
}

func progressOf(c Client) (progressPage, error) {
	a := c.Assessment
	p := progressPage{
		frame: unscripted(c.Record.Client.Name + ": how it is going"), Name: c.Record.Client.Name, Date: a.AsOf.Long(), Rungs: rungs(a.Stage),
		Where: where(c), Lead: lead(c), Alarm: alarmOf(c), Icon: icons["refer"], Tell: c.AnswersAt, Next: nextOf(c), Better: better(c), Tips: tips(c), Book: c.Sealed, care: careOf(c, signs.Client),
	}
	p.Days, p.DaysOf = dayMarks(c)
	p.Worth = worth(c)
	if p.Alarm != nil {
		p.Rungs, p.Better, p.Worth = "", nil, nil
		if n := p.Next; n != nil && n.Sessions == "" {
			p.Next, p.Tips = nil, nil // the alarm says it all
		}
	} else {
		p.Answers = answers(c)
	}
	return p, p.draw(c, known(c.Weeks))
}

func (p *progressPage) draw(c Client, weeks []record.Week) (err error) {
	if len(weeks) == 0 {
		return nil
	}
	if p.Minutes, err = minutesChart("minutes", weeks, minutesCaption(weeks)); err != nil {
		return err
	}
	switch {
	case p.Alarm != nil: // nothing about how well it went
		p.Minutes.Title = headless
	case !beatsLead(c):
		p.Feeling, err = effortChart("feeling", weeks)
	default:
		p.Band, err = bandChart("band", weeks, feltHard(c))
	}
	standAlone(p.Minutes, p.Band, p.Feeling)
	return err
}

// beatsLead says whether the client's heart rate may lead.
func beatsLead(c Client) bool { return !c.Record.Client.ByEffort() }

// careOf puts what concerns this client before what concerns everybody.
func careOf(c Client, to signs.Addressee) care {
	return care{Cautions: append(reasons.Texts(c.Assessment.Cautions), signs.Cautions(to)...), StopSigns: c.Record.Client.StopSigns(), StopLine: signs.StopLine}
}

// known are the weeks from the first with a session on.
func known(weeks []record.Week) []record.Week {
	for i, w := range weeks {
		if len(w.Sessions) > 0 {
			return weeks[i:]
		}
	}
	return nil
}

const headless = "Minutes, week by week"

// minutesHead is what the minutes show, in a line; a longer week only where it is longer by a tenth.
func minutesHead(weeks []record.Week) string {
	first, last := math.Round(weeks[0].Minutes), math.Round(weeks[len(weeks)-1].Minutes)
	switch {
	case last == 0:
		return headless
	case first > 0 && last >= 1.1*first:
		return fmt.Sprintf("From %s to %s minutes a week", wording.Number(first), wording.Number(last))
	}
	return wording.Number(last) + " minutes in the last week"
}

func minutesCaption(weeks []record.Week) string {
	last := weeks[len(weeks)-1]
	switch {
	case last.Paused && len(last.Sessions) == 0:
		return "You were away in the last week."
	case len(last.Sessions) == 0 && last.Awaited > 0:
		return "We have your answers for the week to " + last.To.Long() + ", but not the recordings yet."
	case len(last.Sessions) == 0:
		return "We know of no session in the week to " + last.To.Long() + "."
	}
	return "Last week’s longest session was " + wording.Number(math.Round(last.Longest)) + " min."
}

// dayMarks says of each day of the last week what is known of it.
func dayMarks(c Client) ([]dayMark, string) {
	if len(c.Weeks) == 0 {
		return nil, ""
	}
	w := c.Weeks[len(c.Weeks)-1]
	var out []dayMark
	for d := w.From; d <= w.To; d++ {
		m := dayMark{Day: d.Time().Format("Mon 2"), Text: "rest", Quiet: true}
		if c.Record.Paused(d) { // sessions of the day stand in its place
			m.Text, m.Quiet = "away", false
		}
		var total float64
		var modes []workout.Mode
		var what []string
		recorded := false
		for _, s := range w.Sessions {
			if s.Date == d {
				total += s.Minutes
				if n := len(modes); n == 0 || modes[n-1] != s.Mode {
					modes, what = append(modes, s.Mode), append(what, s.Mode.Doing())
				}
				recorded = recorded || !s.Reported
			}
		}
		if total > 0 {
			m.Minutes, m.Text, m.Quiet = wording.Number(math.Round(total)), wording.List(what), false
			if !recorded {
				m.Text, m.Reported = m.Text+", "+notRecorded, true
			}
		}
		out = append(out, m)
	}
	return out, days(w.From, w.To)
}

// tips are what to do so that the next page can show more; none for a week without training.
func tips(c Client) []string {
	if c.Next != nil && c.Next.Sessions == 0 {
		return nil
	}
	var out []string
	hidden := c.Next.Says(record.AtTheWall)
	if !hidden && !c.Next.Says(record.KeepRecording) {
		out = append(out, prescription.AfterEffort(c.Record.Client.Modes))
	}
	if !hidden && beatsLead(c) {
		out = append(out, "Wear the same sensor each time, snug and in the same place.")
	}
	return append(out, "Tell your trainer after each session how hard it felt and whether you could talk comfortably.")
}

// ProgressText is the progress page as text for a message.
func ProgressText(c Client) string {
	var b strings.Builder
	line := func(s string) {
		if s != "" {
			b.WriteString(s + "\n")
		}
	}
	line(c.Record.Client.Name + ", " + c.Assessment.AsOf.Long() + "\n")
	stop := func() {
		b.WriteString("\nWhen to stop:\n")
		for _, s := range c.Record.Client.StopSigns() {
			line("- " + wording.Sentence(s))
		}
	}
	alarm := alarmOf(c)
	if alarm != nil {
		line(wording.Sentence(alarm.Head))
		for _, s := range alarm.Lines {
			line(s)
		}
		stop()
	} else {
		line(strings.TrimSpace(where(c) + " " + lead(c)))
		line(signs.StopLine)
		for _, a := range answers(c) {
			line(a.What + ": " + a.Word + ".")
		}
		if weeks := known(c.Weeks); len(weeks) > 0 {
			b.WriteByte('\n')
			line(minutesHead(weeks) + ". " + minutesCaption(weeks))
		}
		for _, s := range better(c) {
			line(s.Text)
		}
	}
	n := weekOf(c)
	if n != nil && (alarm == nil || len(n.Sessions) > 0) {
		b.WriteByte('\n')
		b.WriteString(n.Section())
	}
	if alarm == nil || n != nil && len(n.Sessions) > 0 {
		b.WriteByte('\n')
		for _, s := range tips(c) {
			line(s)
		}
	}
	if alarm == nil {
		stop()
	}
	b.WriteString("\nPlease bear in mind:\n")
	for _, s := range careOf(c, signs.Client).Cautions {
		line("- " + wording.Sentence(s))
	}
	return b.String()
}
