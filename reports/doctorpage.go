package reports

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	weekly "nextrung/internal/answers"
	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// doctorPage is one sheet for a doctor who has never seen the program: what was said, what was recorded, what is usual,
// what is asked, and a slip for the answer. It judges nothing.
type doctorPage struct {
	frame
	Name, Date string
	Icon       template.HTML
	Urgent     string   // a heading with a time
	Why        []string // who sent the client, and which rules
	Question   string
	Person     []fact
	Said       []saidRow
	More       string // what of it is left out
	Trace      *chart
	NoTrace    string // why there is none
	Usual      table
	Unusual    []string
	Health     []fact
	Efforts    []string // to choose from on the slip, the easiest first
	NoDevice   string
	Dense      bool // so much that it needs smaller letters on paper
}

// saidRow is what the client said on a day, and what that may mean or was entered as.
type saidRow struct{ Day, Words, Means string }

// Recorded is a recording read again from its original.
type Recorded struct {
	Recording record.Recording
	Series    heartrate.Series
	Workout   workout.Workout
}

// The longest lists and texts of the sheet, so that it stays one.
const (
	mostSaid, mostUnusual, mostWhy = 3, 2, 2
	longestMeaning                 = 180 // letters, as those that follow
	longestWhy                     = 130
	longestHealth                  = 90
	usualDays                      = 42 // before the day that the page is about
)

// SeesDoctor says that the page for the doctor is written unasked: a doctor has to come first, or a
// grave sign is on record while the client is away.
func SeesDoctor(c Client) bool { return doctorFirst(c) || len(graveSaid(c)) > 0 }

// Doctor makes the page for the doctor; it stands alone in one file. What was recorded then is that of RecordedThen, nil
// where there is none or its original can no longer be read.
func Doctor(c Client, then *Recorded) ([]byte, error) {
	p, err := doctorOf(c, then)
	if err == nil {
		err = paint(doctorSheet, p.Trace)
	}
	if err != nil {
		return nil, err
	}
	return render("doctor.html", p)
}

// RecordedThen is the recording to show: the longest of the day on which the gravest sign was noted, without a sign the
// latest; nil for none.
func RecordedThen(c Client) *record.Recording {
	day := aboutDay(c)
	var out *record.Recording
	for i := range c.Record.Recordings {
		switch r := &c.Record.Recordings[i]; {
		case !r.Counts() || r.Date > c.Assessment.AsOf || day != 0 && r.Date != day:
		case out == nil, day == 0 && r.Date >= out.Date, day != 0 && r.Workout.Seconds > out.Workout.Seconds:
			out = r
		}
	}
	return out
}

func doctorOf(c Client, then *Recorded) (doctorPage, error) {
	r, on := c.Record, c.Assessment.AsOf
	name := r.Client.Name
	p := doctorPage{
		frame: unscripted(name + ": for the doctor, " + on.Long()), Name: name, Date: on.Long(), Icon: icons["refer"], Urgent: doctorUrgent(c), Why: doctorWhy(c),
		Question: "May " + name + " train, how hard, and up to what heart rate? What has to be looked into first, and what should the trainer watch for?",
		Person:   person(c), Usual: usualTable(c, then), Unusual: unusual(c), Health: health(r.Client, on), Efforts: efforts(c), NoDevice: signs.NoDevice,
	}
	p.Said, p.More = saidRows(c)
	p.Dense = len(p.Said)+len(p.Unusual)+len(p.Why) > 4
	day := aboutDay(c)
	switch rec := RecordedThen(c); {
	case rec == nil && day == 0:
		p.NoTrace = "No heart rate has been recorded."
	case rec == nil:
		p.NoTrace = "No recording of that day (" + day.Long() + ")."
	case then == nil:
		p.NoTrace = "The recording of " + rec.Date.Long() + " can no longer be read."
	default:
		var err error
		p.Trace, err = doctorTrace(c, *then)
		return p, err
	}
	return p, nil
}

// graveSaid are the grave signs on record and what may be one, the most urgent first, of equal ones the latest.
func graveSaid(c Client) []record.OpenSign {
	on := c.Assessment.AsOf
	out := record.Keep(c.Record.OpenSigns(), func(s record.OpenSign) bool { return s.On <= on })
	for _, q := range c.Assessment.Unanswered {
		if q.Grave() {
			out = append(out, record.OpenSign{On: q.On, Sign: q.Sign})
		}
	}
	slices.SortStableFunc(out, func(a, b record.OpenSign) int {
		return cmp.Or(int(a.Sign.Urgency()-b.Sign.Urgency()), int(b.On-a.On))
	})
	return out
}

// aboutDay is the day that the page is about; 0 for none.
func aboutDay(c Client) workout.Date {
	if all := graveSaid(c); len(all) > 0 {
		return all[0].On
	}
	return 0
}

// doctorUrgent says how soon the client has to be seen, as the sign's tier has it. What nobody has asked about yet is
// taken as meant.
func doctorUrgent(c Client) string {
	if all := graveSaid(c); len(all) > 0 {
		return all[0].Sign.Urgent(signs.Trainer, int(c.Assessment.AsOf-all[0].On))
	}
	switch {
	case !doctorFirst(c):
		return "No urgent sign is on record"
	case c.Next != nil && c.Next.Sessions > 0:
		return "Comfortable sessions only until a doctor has cleared the client"
	}
	return "No training until a doctor has cleared the client"
}

// doctorWhy says what calls for a doctor besides the signs: the trainer's decision, and the gates that are not met.
func doctorWhy(c Client) []string {
	var out []string
	if d := c.Record.Decided(c.Assessment.AsOf); d != nil && d.Act == record.DoRefer {
		out = append(out, fmt.Sprintf("Sent by the trainer, %s, on %s: %s", d.By, d.Entered.Long(), wording.Sentence(d.Because)))
	}
	said := []policy.ID{policy.EmergencySign, policy.DoctorSign} // stands in the client's words
	if is(c.Assessment, record.Refer) {
		for _, r := range c.Assessment.Reasons {
			if r.Kind == policy.Gate && r.IsUnmet() && !slices.Contains(said, r.Rule) {
				out = append(out, reasons.Text(r.Says))
			}
		}
	}
	return record.Map(out[:min(len(out), mostWhy)], func(s string) string { return shortened(s, longestWhy) })
}

func person(c Client) []fact {
	p := c.Record.Client
	born, age := notRecorded, ""
	if p.Born != 0 {
		born, age = p.Born.Long(), fmt.Sprintf("%d years", int(p.Born.YearsAt(c.Assessment.AsOf)))
	}
	training := fact{"In training", "since " + p.Since.Long(), "cardio, stage " + stageText(c.Assessment) + " of 3"}
	if p.Since == 0 {
		training.Value = notRecorded
	}
	return []fact{{"Name", p.Name, ""}, {"Born", born, age}, {"Sex", cmp.Or(string(p.Sex), notRecorded), ""}, training}
}

// saidRows lists what the client said: grave signs, then open questions, then the other notes of the last four weeks,
// the latest first.
func saidRows(c Client) (out []saidRow, more string) {
	on, r := c.Assessment.AsOf, c.Record
	open, listed := graveSaid(c), map[string]bool{}
	if s := r.Client.Screening; s.On != 0 && slices.ContainsFunc(r.OpenSigns(), func(x record.OpenSign) bool { return x.On == s.On && slices.Contains(s.Signs, x.Sign) }) {
		out = append(out, saidRow{s.On.Long(), notRecorded, shortened("Answered yes at the screening: "+wording.List(record.Map(s.Signs, signs.Sign.Words))+".", longestMeaning)})
	}
	add := func(n record.Note, means string) {
		listed[n.ID] = true
		out = append(out, saidRow{n.Date.Long(), quoted(n.Text), shortened(means, longestMeaning)})
	}
	for i, n := range slices.Backward(r.Notes) {
		grave := record.Keep(n.Symptoms, func(s signs.Sign) bool { return slices.Contains(open, record.OpenSign{On: n.Date, Sign: s}) })
		if len(grave) > 0 && !r.TakenBack(i) {
			add(n, "Entered as: "+wording.List(record.Map(grave, signs.Sign.Words))+".")
		}
	}
	for _, q := range c.Assessment.Unanswered {
		if q.Note != "" && !listed[q.Note] {
			add(record.Note{ID: q.Note, Date: q.On, Text: q.Words}, q.Asks()+" Nobody has asked yet.")
		}
	}
	for i, n := range slices.Backward(r.Notes) {
		if n.Date > on-28 && n.Date <= on && !listed[n.ID] && (n.Text != "" || len(n.Symptoms) > 0) {
			means := wording.List(record.Map(n.Symptoms, signs.Sign.Words))
			if means != "" && r.TakenBack(i) {
				means += " (taken back)"
			}
			add(n, strings.TrimSpace(wording.Sentence(means)+" "+reasons.Answer(n)))
		}
	}
	if n := len(out) - mostSaid; n > 0 {
		return out[:mostSaid], fmt.Sprintf("And %d more in the book.", n)
	}
	return out, ""
}

func quoted(words string) string {
	if words = weekly.Quotable(words); words == "" {
		return "own words not recorded"
	}
	return "“" + words + "”"
}

func shortened(text string, most int) string {
	if letters := []rune(text); len(letters) > most {
		return string(letters[:most]) + "…"
	}
	return text
}

// doctorTrace is the heart rate of a session without zones and parts, and the moment that the client's words give.
func doctorTrace(c Client, then Recorded) (*chart, error) {
	w := then.Workout
	var marks []any
	at, ok := 0, false
	for _, n := range c.Record.Notes {
		if n.Date == then.Recording.Date && !ok {
			if at, ok = weekly.Moment(n.Text, w.Start.In(c.Record.Client.Location()), len(then.Series.BPM)); ok {
				marks = append(marks, map[string]any{"name": "as written", "xAxis": at})
			}
		}
	}
	t, err := traceChart("trace", then.Series, workout.Workout{Pauses: w.Pauses}, physiology.Measurements{}, nil, marks...)
	if err != nil {
		return nil, err
	}
	t.Size, t.Title = "sheet", fmt.Sprintf("%s on %s", wording.Capital(w.Sport.Mode().Doing()), then.Recording.Date.Long())
	if !w.Start.IsZero() {
		t.Title += ", from " + w.Start.In(c.Record.Client.Location()).Format("15:04")
	}
	t.Title += " (" + sensor(then.Series.Source) + ")"
	if ok {
		t.Caption += " The dotted line marks the moment that the client named, " + wording.Clock(at) + " from the start."
	}
	standAlone(t)
	return t, nil
}

// health is what was entered of the client's health.
func health(c record.Client, on workout.Date) []fact {
	s := c.Screening
	screening := fact{"Screening", notRecorded, ""}
	medicine := fact{"Medicine and heart rate", notRecorded, "names of medicines are not kept"}
	conditions := fact{"Conditions", notRecorded, ""}
	if s.On != 0 {
		found := cmp.Or(wording.List(record.Map(s.Signs, signs.Sign.Words)), "none")
		active := map[bool]string{true: "exercised regularly before", false: "did not exercise regularly before"}[s.Active]
		screening = fact{"Screening", s.On.Long(), shortened("signs: "+found, longestHealth) + "; " + active}
		medicine.Value, conditions.Value = "none that changes it", "none entered"
	}
	if c.Medicine != record.NoMedicine {
		medicine.Value = map[record.Medicine]string{record.Slows: "one that slows the heart", record.Raises: "one that raises heart rate"}[c.Medicine]
	}
	if c.DoseChange != 0 {
		medicine.More = "dose changed on " + c.DoseChange.Long() + "; " + medicine.More
	}
	entered := record.Map(c.Conditions, func(x record.Condition) string {
		return cmp.Or(reasons.Withdrawn(record.Withdrawal{Fact: "conditions", Was: string(x)}), string(x))
	})
	if d := c.Disease(); d != "" {
		entered = append([]string{reasons.Withdrawn(record.Withdrawal{Fact: "disease", Was: d})}, entered...)
	}
	if len(entered) > 0 {
		conditions.Value = shortened(wording.Capital(wording.List(entered)), longestHealth)
	}
	cleared := fact{"Last clearance by a doctor", notRecorded, ""}
	if c.Clearance != 0 {
		cleared.Value = c.Clearance.Long()
	}
	if limit := c.ZonesOn(on).Limit; limit > 0 {
		cleared.More = "limit set by a doctor: " + bpm(limit)
	}
	return []fact{screening, conditions, medicine, cleared}
}

// efforts names the three efforts of the slip, with the client's heart rates where these may lead.
func efforts(c Client) []string {
	out := []string{"easy: talking is comfortable", "brisk: talking in short sentences", "hard: only single words"}
	if rows, _ := edgeRows(c); len(rows) == 1 {
		for i, beats := range []string{rows[0].Zone1, rows[0].Zone2, rows[0].Zone3} {
			out[i] += " (here " + beats + " bpm)"
		}
	}
	return out
}
