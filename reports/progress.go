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
	Where   string // "You are in week 5."
	Lead    string // what comes next, in one or two sentences
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
	if !is(a, progression.Refer) {
		p.Answers = answers(a)
	}
	p.Days, p.DaysOf = dayMarks(c)
	var err error
	if weeks := known(c.Weeks); len(weeks) > 0 {
		if p.Minutes, err = minutesChart("minutes", weeks, minutesCaption(weeks)); err != nil {
			return p, err
		}
		if !beatsLead(c) {
			p.Feeling, err = effortChart("feeling", weeks)
		} else {
			p.Band, err = bandChart("band", weeks)
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

// daysInStage counts the days of the stage up to the assessment, pauses left out; 0 before it begins.
func daysInStage(c Client) int {
	_, since := c.Record.StageOn(c.Assessment.AsOf)
	n := 0
	for d := since; since != 0 && d <= c.Assessment.AsOf; d++ {
		if !c.Record.Paused(d) {
			n++
		}
	}
	return n
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

// where says in which week the client is.
func where(c Client) string {
	a := c.Assessment
	switch a.State {
	case progression.PausedState:
		return "You are having a break."
	case progression.Finished:
		return "You have finished the programme."
	case progression.Maintaining:
		return "You are keeping what you have built."
	case progression.RecoveryOf:
		return "You are in an easy phase."
	}
	n := daysInStage(c)
	switch {
	case a.Stage == 0 && len(known(c.Weeks)) > 0:
		return "Here is what you have done."
	case a.Stage == 0 || n == 0:
		return "You are about to begin."
	}
	n = max(1, (n+3)/7) // the week that the last days mostly belong to
	if a.Stage == 1 {
		return fmt.Sprintf("You are in week %d.", n)
	}
	return fmt.Sprintf("You are in week %d of stage %d.", n, a.Stage)
}

// lead says what comes next, by the trainer's decision where there is one.
func lead(c Client) string {
	a := c.Assessment
	const decides = " Your trainer decides with you when."
	if d := decided(c.Record, a); d != nil {
		switch d.Act {
		case progression.DoAdvance:
			return "You are ready for the next step. It begins on " + d.From.Long() + "."
		case progression.DoEase:
			return "Next comes an easier week. That is part of training, not a step away from it."
		case progression.DoStepBack:
			return "For a while it gets gentler again, so that what you have built can settle."
		case progression.DoRefer:
			return "Before the next session please talk to a doctor. Your trainer will explain why and help you with it."
		case progression.DoHold:
			return "One more week like this."
		case progression.DoMaintain:
			return "You stay where you are, by choice. That is a fine place to be."
		case progression.DoPause:
			if d.To != 0 {
				return "You have a break until " + d.To.Long() + "."
			}
			return "You have a break. Come back when you are ready."
		}
	}
	if a.Verdict == nil {
		return ""
	}
	switch *a.Verdict {
	case progression.Advance:
		return "You are ready for the next step." + decides
	case progression.Ease:
		return "Next comes an easier week. That is part of training, not a step away from it."
	case progression.StepBack:
		return "For a while it gets gentler again, so that what you have built can settle."
	case progression.Refer:
		return "Before the next session please talk to a doctor. Your trainer will explain why and help you with it."
	case progression.NotAssessable:
		return "One more week like this. A few things are still missing from the picture; what to record stands below."
	}
	if a.Plan != nil && *a.Plan == progression.Return {
		return "Welcome back. The first sessions are easy ones."
	}
	return "One more week like this."
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
		text += fmt.Sprintf(" In the first week shown it was %s min.", figure(math.Round(weeks[0].Minutes)))
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
		w.Targets = append(w.Targets, intervalTarget(*n.Intervals, beatsLead(c), w.meaning(n.Intervals.Feel)))
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

func intervalTarget(set progression.Intervals, beats bool, meaning string) nextTarget {
	x := nextTarget{
		Title: fmt.Sprintf("In %d of the sessions: %d × %s %s", set.Count, set.Bouts, length(set.Work), set.Feel),
		Text:  fmt.Sprintf("With %s comfortable in between. ", length(set.Rest)) + meaning,
	}
	if set.High > 0 && beats {
		x.High = wholeBeats(set.High)
		x.Text += " Not above " + x.High + " beats a minute."
		if set.Low > 0 {
			// No low alarm: it would sound in every warm-up and recovery.
			x.Text += " Towards the end of each you will see " + wholeBeats(set.Low) + " or more."
		}
	}
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
		out = append(out, "Keep recording and keep walking easily for 3 minutes after your last effort.")
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
	if !is(c.Assessment, progression.Refer) {
		for _, a := range answers(c.Assessment) {
			line(a.What + ": " + a.Word + ".")
		}
	}
	if weeks := known(c.Weeks); len(weeks) > 0 {
		b.WriteByte('\n')
		line(minutesCaption(weeks))
	}
	for _, s := range better(c) {
		line(s)
	}
	if n := nextOf(c); n != nil {
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
	b.WriteByte('\n')
	for _, s := range tips(c) {
		line(s)
	}
	b.WriteString("\nWhen to stop:\n")
	care := careOf(c.Assessment)
	for _, s := range care.StopSigns {
		line("- " + sentence(s))
	}
	b.WriteString("\nPlease bear in mind:\n")
	for _, s := range care.Cautions {
		line("- " + sentence(s))
	}
	return b.String()
}
