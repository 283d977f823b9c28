package reports

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/progression"
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
	Doctor  template.HTML // the icon when a doctor comes first: then no chart and nothing cheerful comes before
	Rest    []string      // what the prescription says instead of sessions then
	Answers []answer
	Next    *nextWeek
	Minutes *chart
	Days    []dayMark
	DaysOf  string
	Band    *chart
	Feeling *chart // effort, for a client whose heart rate says little
	Better  []string
	Tips    []string
	care
}

// care is the part that every decision and progress page ends with.
type care struct{ Cautions, StopSigns []string }

// dayMark is one day of the last week.
type dayMark struct {
	Day, Text string
	Icon      template.HTML
	Quiet     bool
}

// nextWeek is the prescription in the client's words.
type nextWeek struct {
	Days     string
	Sessions string
	Targets  []nextTarget
	Watch    bool
	Notes    []string
}

type nextTarget struct {
	Title, Text string
	Low, High   string // alarm values, "" when beats must not lead
}

// Progress makes the client's page; it stands alone in one file.
func Progress(c Client) ([]byte, error) {
	s, err := runtimeScript()
	if err != nil {
		return nil, err
	}
	return progress(c, s)
}

func progress(c Client, s script) ([]byte, error) {
	p, err := progressOf(c)
	if err != nil {
		return nil, err
	}
	p.frame = s.alone(p.Name + ": how it is going")
	return render("progress.html", p)
}

func progressOf(c Client) (progressPage, error) {
	a := c.Assessment
	p := progressPage{
		Name: c.Record.Client.Name, Date: a.AsOf.Long(), Rungs: rungs(a.Stage),
		Where: where(c), Lead: lead(c), Next: nextOf(c), Better: better(c), Tips: tips(c), care: careOf(a),
	}
	p.Days, p.DaysOf = dayMarks(c)
	if doctorFirst(c) {
		p.Doctor, p.Rungs, p.Better = icons["refer"], "", nil
		if n := p.Next; n != nil && n.Sessions == "" {
			p.Rest, p.Next, p.Tips = n.Notes, nil, nil
		}
	} else {
		p.Answers = answers(c)
	}
	var err error
	if weeks := known(c.Weeks); len(weeks) > 0 {
		if p.Minutes, err = minutesChart("minutes", weeks, minutesCaption(weeks)); err != nil {
			return p, err
		}
		switch {
		case doctorFirst(c): // nothing about how well it went
		case !beatsLead(c):
			p.Feeling, err = effortChart("feeling", weeks)
		default:
			p.Band, err = bandChart("band", weeks, feltHard(c))
		}
	}
	standAlone(p.Minutes, p.Band, p.Feeling)
	return p, err
}

// beatsLead says whether the client's heart rate may lead.
func beatsLead(c Client) bool { return !c.Record.Client.ByEffort() }

// careOf puts what concerns this client before what concerns everybody.
func careOf(a progression.Assessment) care {
	return care{Cautions: slices.Concat(a.Cautions, progression.Cautions()), StopSigns: progression.StopSigns()}
}

// known are the weeks from the first with a session on.
func known(weeks []progression.Week) []progression.Week {
	for i, w := range weeks {
		if len(w.Sessions) > 0 {
			return weeks[i:]
		}
	}
	return nil
}

func minutesCaption(weeks []progression.Week) string {
	last := weeks[len(weeks)-1]
	if last.Paused {
		return "You were away in the last week."
	}
	if len(last.Sessions) == 0 {
		return "No session is known of the week to " + last.To.Long() + "."
	}
	text := fmt.Sprintf("%s min in the week to %s, the longest session %s min.",
		figure(math.Round(last.Minutes)), last.To.Long(), figure(math.Round(last.Longest)))
	if len(weeks) > 1 {
		text += fmt.Sprintf(" The first week shown had %s min in all.", figure(math.Round(weeks[0].Minutes)))
	}
	return text
}

// nextOf puts the prescription into the client's words; nil when it says nothing.
func nextOf(c Client) *nextWeek {
	n := c.Next
	if n == nil || n.Sessions == 0 && len(n.Notes) == 0 {
		return nil
	}
	w := &nextWeek{Days: days(n.From, n.To)}
	for _, s := range n.Notes {
		if rest, ok := strings.CutPrefix(s, "An easier week: "); ok && decided(c.Record, c.Assessment) == nil {
			s = rest // the trainer has not decided on it yet
		}
		w.Notes = append(w.Notes, sentence(s))
	}
	if n.Sessions == 0 {
		return w
	}
	w.Sessions = count(n.Sessions, "session", "sessions") + " of " + strconv.Itoa(n.Minutes) + " minutes, warm-up and cool-down included"
	for _, t := range n.Targets {
		w.Targets = append(w.Targets, steadyTarget(t, beatsLead(c), w.meaning(t.Feel)))
	}
	if n.Intervals != nil {
		w.Targets = append(w.Targets, w.intervalTarget(*n, beatsLead(c)))
	}
	for _, t := range w.Targets {
		w.Watch = w.Watch || t.High != ""
	}
	w.Watch = w.Watch && !says(w.Notes, "Go by the beats")
	return w
}

// meaning says what a feel means, unless the notes say it.
func (w *nextWeek) meaning(f workout.Feel) string {
	if says(w.Notes, sentenceCase(string(f))+" means") {
		return ""
	}
	return feels[f]
}

func steadyTarget(t progression.Target, beats bool, meaning string) nextTarget {
	x := nextTarget{Title: sentenceCase(doing(t.Mode)) + ": " + string(t.Feel), Text: meaning}
	if t.High > 0 && beats {
		x.Low, x.High = wholeBeats(t.Low), wholeBeats(t.High)
		x.Text += fmt.Sprintf(" Stay between %s and %s beats a minute.", x.Low, x.High)
	}
	return x
}

// intervalTarget tells of the bouts, except what the notes say of them.
func (w *nextWeek) intervalTarget(p progression.Prescription, beats bool) nextTarget {
	set := p.Intervals
	x := nextTarget{Title: fmt.Sprintf("In %d of the sessions: %d × %s %s", set.Count, set.Bouts, length(set.Work), set.Feel)}
	text := []string{"With " + length(set.Rest) + " comfortable in between."}
	if begin := boutsBegin(p); begin > 0 && !says(w.Notes, "then the cool-down") {
		text = append(text, fmt.Sprintf("They begin %s into the session.", count(int(math.Round(float64(begin)/60)), "minute", "minutes")))
	}
	if m := w.meaning(set.Feel); m != "" {
		text = append(text, m)
	}
	if set.High > 0 && beats {
		x.High = wholeBeats(set.High)
		text = append(text, "Not above "+x.High+" beats a minute.")
		switch {
		case set.Low > 0: // no low alarm: it would sound in every warm-up and recovery
			text = append(text, "Towards the end of each you will see "+wholeBeats(set.Low)+" or more.")
		case !says(w.Notes, "only an upper limit"):
			text = append(text, "There is no lower number: the pulse follows late, so go by how it feels.")
		}
	}
	x.Text = strings.Join(text, " ")
	return x
}

func wholeBeats(bpm float64) string { return strconv.Itoa(int(math.Round(bpm))) }

// says looks for a phrase in sentences that come from the prescription, so that the page does not
// repeat it.
func says(sentences []string, phrase string) bool {
	return slices.ContainsFunc(sentences, func(s string) bool { return strings.Contains(s, phrase) })
}

var feels = map[workout.Feel]string{
	workout.Comfortable: "You can talk in whole sentences.",
	workout.Brisk:       "Sentences get short, but you can still talk.",
	workout.Hard:        "Only single words come easily.",
}

// dayMarks says of each day of the last week what is known of it.
func dayMarks(c Client) ([]dayMark, string) {
	if len(c.Weeks) == 0 {
		return nil, ""
	}
	w := c.Weeks[len(c.Weeks)-1]
	var out []dayMark
	for d := w.From; d <= w.To; d++ {
		m := dayMark{Day: d.Time().Format("Mon 2"), Text: "rest", Icon: icons["rest"], Quiet: true}
		if c.Record.Paused(d) {
			m.Text, m.Icon = "away", icons["away"]
		}
		var total float64
		var what []string
		recorded := false
		for _, s := range w.Sessions {
			if s.Date == d {
				total += s.Minutes
				if name := doing(s.Mode); len(what) == 0 || what[len(what)-1] != name {
					what = append(what, name)
				}
				recorded = recorded || !s.Reported
			}
		}
		if total > 0 {
			m.Text, m.Icon, m.Quiet = figure(math.Round(total))+" min "+list(what), icons["trained"], false
			if !recorded {
				m.Text, m.Icon = m.Text+", "+notRecorded, icons["reported"]
			}
		}
		out = append(out, m)
	}
	return out, days(w.From, w.To)
}

// tips are what to do so that the next page can say more; none for a week without training.
func tips(c Client) []string {
	if c.Next != nil && c.Next.Sessions == 0 {
		return nil
	}
	var out []string
	if c.Next == nil || !says(c.Next.Notes, "Keep recording") {
		out = append(out, c.Record.Client.AfterEffort())
	}
	if beatsLead(c) {
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
	line(strings.TrimSpace(where(c) + " " + lead(c)))
	stop := func() {
		b.WriteString("\nWhen to stop:\n")
		for _, s := range progression.StopSigns() {
			line("- " + sentence(s))
		}
	}
	if doctorFirst(c) {
		stop()
	} else {
		for _, a := range answers(c) {
			line(a.What + ": " + a.Word + ".")
		}
		if weeks := known(c.Weeks); len(weeks) > 0 {
			b.WriteByte('\n')
			line(minutesCaption(weeks))
		}
		for _, s := range better(c) {
			line(s)
		}
	}
	n := nextOf(c)
	if n != nil {
		b.WriteByte('\n')
		line(sentence(strings.TrimSuffix("Next week, "+n.Days+": "+n.Sessions, ": ")))
		for _, t := range n.Targets {
			line("- " + strings.Join(strings.Fields(t.Title+". "+t.Text), " "))
			switch {
			case t.Low != "":
				line("  Watch alarms: low " + t.Low + ", high " + t.High + ".")
			case t.High != "":
				line("  Watch alarm: high " + t.High + ".")
			}
		}
		if n.Watch {
			line("Your watch numbers zones differently. Go by the beats.")
		}
		for _, s := range n.Notes {
			line(sentence(s))
		}
	}
	if !doctorFirst(c) || n != nil && n.Sessions != "" {
		b.WriteByte('\n')
		for _, s := range tips(c) {
			line(s)
		}
	}
	if !doctorFirst(c) {
		stop()
	}
	b.WriteString("\nPlease bear in mind:\n")
	for _, s := range careOf(c.Assessment).Cautions {
		line("- " + sentence(s))
	}
	return b.String()
}
