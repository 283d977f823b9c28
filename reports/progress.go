package reports

import (
	"fmt"
	"html/template"
	"math"
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

// answer is one of the questions of the stage with where the client stands.
type answer struct {
	What string
	Word string
	Why  string
	Icon template.HTML
}

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
		Where: where(c), Lead: lead(c), Answers: answers(a), Next: nextOf(c), Better: better(c), Tips: tips(c), care: careOf(a),
	}
	if p.Where == "" {
		p.Where = "Welcome."
	}
	p.Days, p.DaysOf = dayMarks(c)
	var err error
	if len(c.Weeks) > 0 {
		if p.Minutes, err = minutesChart("minutes", c.Weeks, minutesCaption(c.Weeks)); err != nil {
			return p, err
		}
		if !beatsLead(c) {
			p.Feeling, err = effortChart("feeling", c.Weeks)
		} else {
			p.Band, err = bandChart("band", c.Weeks)
		}
	}
	return p, err
}

// beatsLead says whether the client's heart rate may lead: not under a medicine that slows it.
func beatsLead(c Client) bool { return c.Record.Client.Medicine != progression.Slows }

func careOf(a progression.Assessment) care {
	return care{Cautions: a.Cautions}
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
	if a.Week <= 0 {
		return "You are about to begin."
	}
	return "You are in week " + strconv.Itoa(a.Week) + "."
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

// nextOf puts the prescription into the client's words. Nothing is prescribed to a client who is
// to see a doctor first or has a break.
func nextOf(c Client) *nextWeek {
	n := c.Next
	if n == nil || n.Sessions == 0 || is(c.Assessment, progression.Refer) {
		return nil
	}
	w := &nextWeek{Days: days(n.From, n.To), Notes: n.Notes}
	w.Sessions = count(n.Sessions, "session", "sessions") + " of " + strconv.Itoa(n.Minutes) + " minutes, warm-up and cool-down included"
	set := n.Intervals
	for _, t := range n.Targets {
		x := nextTarget{Title: sentenceCase(doing(t.Mode)) + ": " + string(t.Feel), Text: feels[t.Feel]}
		if set != nil && set.Count >= n.Sessions {
			x.Title, x.Text = sentenceCase(doing(t.Mode))+": "+string(t.Feel)+" before, between and after", "Around the faster parts. "+feels[t.Feel]
		}
		if t.High > 0 && beatsLead(c) {
			low, high := beats(t.Low, t.High)
			x.Low, x.High = strconv.Itoa(low), strconv.Itoa(high)
			x.Text += fmt.Sprintf(" Stay between %d and %d beats a minute.", low, high)
			w.Watch = true
		}
		w.Targets = append(w.Targets, x)
	}
	if set != nil {
		x := nextTarget{
			Title: fmt.Sprintf("In %s: %d × %s %s", count(set.Count, "session", "sessions"), set.Bouts, length(set.Work), set.Feel),
			Text:  fmt.Sprintf("With %s easy after each. ", length(set.Rest)) + feels[set.Feel],
		}
		if set.High > 0 && beatsLead(c) {
			low, high := beats(set.Low, set.High)
			x.High = strconv.Itoa(high)
			x.Text += fmt.Sprintf(" Not above %d beats a minute.", high)
			if set.Low > 0 {
				x.Text += fmt.Sprintf(" In the last part of each you may see %d or more.", low)
			}
			w.Watch = true
		}
		w.Targets = append(w.Targets, x)
	}
	return w
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
		m := dayMark{Day: d.Time().Format("Mon 2 Jan"), Text: "rest", Icon: icons["rest"], Quiet: true}
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

// tips are what to do so that the next page can say more.
func tips(c Client) []string {
	out := []string{"Keep recording and keep walking easily for 3 minutes after your last effort."}
	if beatsLead(c) {
		out = append(out, "Wear the same sensor each time, snug and in the same place.")
	}
	out = append(out, "Tell your trainer after each session how hard it felt and whether you could talk comfortably.")
	for _, l := range c.Assessment.Lacking {
		if s := sentence(l.Needed); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// answers are the three questions of the stage: steady sessions, minutes, easy talking.
func answers(a progression.Assessment) []answer {
	var out []answer
	for _, q := range []struct{ what, rule, unknown string }{
		{"Steady sessions", "steady", "not recorded yet"},
		{"Minutes", "minutes", "not recorded yet"},
		{"Easy talking", "talk", "tell us"},
	} {
		for _, r := range a.Reasons {
			if r.Rule == q.rule {
				out = append(out, answerOf(q.what, q.unknown, r))
			}
		}
	}
	return out
}

func answerOf(what, unknown string, r progression.Reason) answer {
	switch {
	case r.Met == nil && unknown == "tell us":
		return answer{what, unknown, "How did it feel? A word to your trainer is enough.", icons["tell-us"]}
	case r.Met == nil:
		return answer{what, unknown, "", icons["tell-us"]}
	case *r.Met:
		return answer{what, "yes", "", icons["yes"]}
	case close(r):
		return answer{what, "nearly", "", icons["nearly"]}
	}
	return answer{what, "not yet", "", icons["not-yet"]}
}

// close says that a value is within a fifth of its threshold.
func close(r progression.Reason) bool {
	return r.Observed != nil && r.Threshold != nil && math.Abs(*r.Observed-*r.Threshold) <= 0.2*math.Abs(*r.Threshold)
}

// better are the sentences on what has improved beyond the noise.
func better(c Client) []string { return nil }

// ProgressText is the progress page as text for a message.
func ProgressText(c Client) string {
	var b strings.Builder
	line := func(s string) {
		if s != "" {
			b.WriteString(s + "\n")
		}
	}
	line(c.Record.Client.Name + ", " + c.Assessment.AsOf.Long())
	line("")
	line(strings.TrimSpace(where(c) + " " + lead(c)))
	for _, a := range answers(c.Assessment) {
		line(a.What + ": " + a.Word + ".")
	}
	if len(c.Weeks) > 0 {
		line("")
		b.WriteByte('\n')
		line(minutesCaption(c.Weeks))
	}
	for _, s := range better(c) {
		line(s)
	}
	if n := nextOf(c); n != nil {
		b.WriteByte('\n')
		line("Next week, " + n.Days + ": " + n.Sessions + ".")
		for _, t := range n.Targets {
			line("- " + t.Title + ". " + t.Text)
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
	line(tips(c)[0])
	for _, s := range careOf(c.Assessment).StopSigns {
		line(sentence(s))
	}
	return b.String()
}
