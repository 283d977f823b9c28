package main

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/demo"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// TestOneTruth reads every page of the demo and of the odd book, the message, the calendar, the watch files and the
// terminal, and holds equal what stands in more than one of them. No page speaks of what it does not show.
func TestOneTruth(t *testing.T) {
	if _, _, err := reports.Runtime(); err != nil && os.Getenv("CI") != "true" {
		t.Skip(err)
	}
	t.Run("demo", func(t *testing.T) {
		t.Parallel()
		dir := filepath.Join(t.TempDir(), "demo")
		if err := copyOfDemo(dir); err != nil {
			t.Fatal(err)
		}
		readBook(t, dir, demo.Day, 150)
	})
	// Two books side by side, each read on days of its own: half of the crew costs half of the assessments, and
	// drawing the pages costs more than all the comparing. Day 16 is in the middle of a week.
	for half, days := range [][]workout.Date{{6, 16, 62}, {16, 34, 41}} {
		t.Run("odd "+strconv.Itoa(half+1), func(t *testing.T) {
			t.Parallel()
			var crew []odd
			for i, x := range oddCrew() {
				if i%2 == half {
					crew = append(crew, x)
				}
			}
			oddBook(t, crew, int(days[len(days)-1]/7)+1, func(dir string, week int) {
				for _, day := range days {
					if int(day+1)/7 == week {
						readBook(t, dir, oddBegan+day, 150)
					}
				}
			})
		})
	}
}

// shown is what people read of one client on one day.
type shown struct {
	t                                 *testing.T
	standing                          coach.Standing
	name                              string
	on                                workout.Date
	row, table                        string // of the roster: page and terminal
	decision, progress, text, picture string
	message, trainer, calendar        string
	watch                             []string
	assess, show                      string
	workouts                          map[string]string // pages of workouts by recording
	compared                          int
}

// same holds equal what was found in several places. Each is named by what it is in; where nothing stands
// the name is left out by the caller.
func (s *shown) same(what string, found ...string) {
	s.t.Helper()
	s.compared++
	for _, f := range found {
		if f == "" || f != found[0] {
			s.t.Errorf("%s, %s: %s: %q", s.name, s.on, what, found)
			return
		}
	}
}

// never fails where a text speaks of something that is not there.
func (s *shown) never(when bool, text, pattern string) {
	s.t.Helper()
	s.compared++
	if at := regexp.MustCompile(pattern).FindStringIndex(text); when && at != nil {
		s.t.Errorf("%s, %s: …%s…", s.name, s.on, text[max(0, at[0]-160):min(len(text), at[1]+160)])
	}
}

// readBook reads everything that a book shows on a day, in at least so many comparisons.
func readBook(t *testing.T, book string, on workout.Date, least int) {
	t.Helper()
	ran := func(args ...string) string {
		t.Helper()
		var out, errs bytes.Buffer
		noon := on.Time().Add(12 * time.Hour)
		if code := run(context.Background(), append([]string{"--book", book}, args...), surroundings{out: &out, err: &errs, now: func() time.Time { return noon }}); code != done {
			t.Fatalf("%q: exit code %d: %s", args, code, errs.String())
		}
		return out.String()
	}
	pages, files := t.TempDir(), t.TempDir()
	table := ran("week")
	ran("report", "--all", "--out", pages, "--workouts", "7")
	c, err := coach.Open(t.Context(), book)
	if err != nil {
		t.Fatal(err)
	}
	standings, err := c.Standings(t.Context(), nil, on)
	c.Close()
	if err != nil {
		t.Fatal(err)
	}
	read := func(path string) string {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return words(string(b))
	}
	roster, compared := read(filepath.Join(pages, reports.FileName("roster", ""))), 0
	for _, st := range standings {
		name := st.Record.Client.Name
		s := shown{t: t, standing: st, name: name, on: on, workouts: map[string]string{}}
		quoted := regexp.QuoteMeta(name)
		s.row = regexp.MustCompile(`(?s) ` + quoted + ` client’s page.*?(?: client’s page|Recommendations, not)`).FindString(roster)
		s.table = regexp.MustCompile(`(?m)^` + quoted + `  .*$`).FindString(table)
		s.decision, s.progress = read(filepath.Join(pages, reports.FileName("decision", name))), read(filepath.Join(pages, reports.FileName("progress", name)))
		s.text, s.picture = read(filepath.Join(pages, reports.TextName(name))), read(filepath.Join(pages, reports.PictureName(name)))
		ics, fit := filepath.Join(files, "a.ics"), filepath.Join(files, reports.FileName("watch", name))
		os.Remove(ics)
		s.message = words(ran("prescribe", name, "--text"))
		s.trainer = words(ran("prescribe", name, "--ics", ics, "--fit", fit))
		if b, err := os.ReadFile(ics); err == nil {
			s.calendar = strings.ReplaceAll(strings.ReplaceAll(string(b), "\r\n ", ""), `\,`, ",")
		}
		s.watch, _ = filepath.Glob(filepath.Join(fit, "*.fit"))
		s.assess, s.show = words(ran("assess", name, "--all")), words(ran("client", "show", name, "--all"))
		for _, rec := range st.Record.Recordings {
			if b, err := os.ReadFile(filepath.Join(pages, reports.WorkoutFile(rec))); err == nil {
				s.workouts[rec.ID] = words(string(b))
			}
		}
		s.readVerdict()
		s.readWeek()
		s.readNext()
		s.readWatches()
		s.readSentences()
		s.readSessions()
		compared += s.compared
	}
	if compared < least {
		t.Errorf("%s: only %d comparisons", on, compared)
	}
}

// readVerdict compares the verdict, the stage, its weeks and how sure the verdict is.
func (s *shown) readVerdict() {
	a := s.standing.Assessment
	stage := strconv.Itoa(a.Stage)
	s.same("stage", stage, find(s.assess, `, stage (\d+), as of`), find(s.show, ` stage (\d+) since`), find(s.table, `^\Q`+s.name+`\E\s+(\d+)`))
	if grave := a.GraveSign() != nil || a.Doubt() != nil; grave {
		s.never(true, s.progress, `Next week|In favour|What has changed`)
		s.never(true, s.decision, `In favour|Same verdict`)
		s.same("no sessions", "0", strconv.Itoa(len(s.watch)))
		return
	}
	if a.Verdict != nil {
		word := reasons.Standing(a)
		s.same("verdict", word, find(strings.ToLower(s.decision), ` (\Q`+word+`\E)`), find(s.row, ` (\Q`+word+`\E)`), strings.ToLower(find(s.assess, `: (?i)(\Q`+word+`\E)`)), find(s.table, ` (\Q`+word+`\E)`))
	}
	if r := a.Robustness; r != nil {
		repeats := `((?:Same verdict|A close call: [a-z -]+) in \d+ of \d+ repeats)`
		s.same("repeats", find(s.decision, repeats), find(s.assess, repeats))
		n := find(s.decision, `(\d+ of \d+) repeats`)
		s.same("share of repeats", n, fmt.Sprintf("%.0f of %d", r.SameVerdict*float64(r.Draws), r.Draws))
		s.never(r.SameVerdict < 1, s.decision, `(\d+) of 400 repeats; no single input`)
	}
	if a.Running > 0 {
		s.same("week", find(s.row, ` week (\d+)(?: |$)`), find(s.table, `^\Q`+s.name+`\E\s+\d+\s+(\d+) `))
	}
	if weeks := find(s.decision, `for (\d+) weeks?, \d+ needed`); weeks != "" {
		if rule := find(s.decision, `In stage \d for (\d+) weeks?`); rule != "" {
			s.same("whole weeks", weeks, rule)
		}
		s.same("weeks done", weeks, fmt.Sprint(a.Week))
	}
	if client := find(s.progress, `You are in week (\d+)`); client != "" {
		s.same("week, for the client", client, find(s.row, ` week (\d+)(?: |$)`))
	}
	running := []string{find(s.row, `building, week (\d+ of \d+)`), find(s.decision, `building, week (\d+ of \d+)`), find(s.assess, `Building, week (\d+ of \d+)`), find(s.table, `Building, week (\d+ of \d+)`)}
	running = slices.DeleteFunc(running, func(x string) bool { return x == "" })
	if len(running) > 0 {
		s.same("week of the stage", append(running, find(s.row, ` week (\d+) `+`(?:\d|none)`)+" of "+strconv.Itoa(a.Weeks))...)
	}
	if first := find(s.decision, `first decision (?:on|can come on) (\d+ \w+ \d+)`); first != "" {
		for _, m := range regexp.MustCompile(`first decision (?:on|can come on) (\d+ \w+ \d+)`).FindAllStringSubmatch(s.decision+s.row+s.assess, -1) {
			s.same("first decision", first, m[1])
		}
	}
}

// readWeek compares the week that is over: sessions, minutes, the longest session, and the last recording.
func (s *shown) readWeek() {
	weeks := s.standing.Weeks
	w := weeks[len(weeks)-1]
	n := strconv.Itoa(len(w.Sessions))
	s.same("sessions", n, strings.Fields(strings.ReplaceAll(find(s.decision, `Sessions in the last week (\d+(?: of \d+)?)`), ",", ""))[0], strconv.Itoa(len(regexp.MustCompile(`(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ \d+ min`).FindAllString(after(s.progress, "Your last week"), -1))+s.twiceADay(w)))
	s.same("sessions and plan", find(s.decision, `Sessions in the last week (\d+ of \d+|\d+, no(?:ne)? plan(?:ned)?)`), find(s.row, ` (\d+ of \d+|\d+, no(?:ne)? plan(?:ned)?) \d+ min`))
	s.same("minutes", find(s.row, `(\d+) min(?: of \d+)?`), find(s.decision, `Minutes in the last week (\d+)`))
	if plan := find(s.row, `\d+ min of (\d+)`); plan != "" {
		s.same("minutes planned", plan, find(s.decision, `Minutes in the last week \d+ of (\d+) planned`))
	}
	s.never(w.Plan != nil, find(s.decision, `Minutes in the last week (\d+ [a-z ]+)`), `no plan`)
	if s.standing.Assessment.GraveSign() != nil || s.standing.Assessment.Doubt() != nil {
		return
	}
	minutes := find(s.row, `(\d+) min(?: of \d+)?`)
	if len(w.Sessions) > 0 {
		head := `(\d+) minutes (?:a week|in the last week)`
		s.same("minutes, for the client", minutes, find(s.progress, head), find(s.text, head))
		last := regexp.MustCompile(` \d+ \w+ \d{4} (\d+) min (?:no plan|no session|\d+ min) (\d+) min (\d+)\b`)
		minutesTable, _, _ := strings.Cut(after(s.progress, "The numbers of:"), "Your last week")
		rows := last.FindAllStringSubmatch(minutesTable, -1)
		if len(rows) == 0 {
			s.t.Errorf("%s, %s: the client's page has no row of the last week", s.name, s.on)
		} else {
			row := strings.Fields(strings.Join(rows[len(rows)-1][1:], " "))
			s.same("last row", minutes+" "+find(s.progress, `longest session was (\d+) min`)+" "+n, strings.Join(row, " "))
		}
		s.same("picture", minutes, find(s.picture, `Week to \Q`+w.To.Long()+`\E: (\d+) min`))
		s.never(true, s.progress, `You were away in the last week`)
	}
	if r := s.standing.Assessment.Reason("as-prescribed"); r != nil && r.Met != nil {
		if rule := find(s.decision, `(\d+) of \d+ min done`); rule != "" {
			s.same("minutes of the rule", minutes, rule)
		}
	}
	last := workout.Date(0)
	for _, rec := range s.standing.Record.Recordings {
		last = max(last, rec.Date)
	}
	if last != 0 {
		s.same("last recording", last.Long(), find(s.decision, `Last recording (\d+ \w+ \d+)`))
		s.same("last recording in the table", last.String(), find(s.table, ` (\d{4}-\d\d-\d\d) `))
	}
}

// twiceADay is the number of sessions that share their day with another, which the client's week shows together.
func (s *shown) twiceADay(w record.Week) int {
	days := map[workout.Date]bool{}
	for _, x := range w.Sessions {
		days[x.Date] = true
	}
	return len(w.Sessions) - len(days)
}

// readNext compares the week to come: size, days, heart rates, alarms.
func (s *shown) readNext() {
	size := `(\d+ sessions?(?: of \d+ minutes|, \w+ of \d+ minutes(?:,? (?:and )?\w+ of \d+)*))`
	planned := s.standing.Next.Sessions
	if s.standing.Assessment.GraveSign() != nil || s.standing.Assessment.Doubt() != nil {
		return
	}
	if planned == 0 {
		s.same("nothing planned", "0", strconv.Itoa(len(s.watch)))
		s.never(true, s.progress, size)
		return
	}
	plan := after(s.decision, "rescribed for") // beside it may stand what follows if the trainer accepts a change
	s.same("next week", find(s.progress, `Next week: `+size), find(plan, `^ \d.*?\d{4} `+size), find(s.message, size), find(s.text, size))
	s.same("days", find(s.progress, `Next week: .*?included (\d+.*?\d{4})`), find(plan, `^ (\d+.*?\d{4})`), find(s.message, `Next week, (\d+.*?\d{4})`), find(s.trainer, `, stage \d: (\d+.*?\d{4})`))
	beats := `Keep your pulse (between \d+ and \d+|below \d+)`
	if !s.standing.Record.Client.ByEffort() {
		s.same("the heart rate", find(s.progress, beats), find(s.message, beats), find(s.text, beats))
		s.same("the heart rate, for the trainer", find(plan, `(\d+–\d+|below \d+) beats a minute`),
			strings.NewReplacer("between ", "", " and ", "–").Replace(find(s.progress, beats)))
		alarm := `(?:low \d+, )?high (\d+)`
		s.same("alarms", every(s.progress, `High alarm (\d+)`), every(s.message, alarm), every(s.calendar, alarm), every(s.text, alarm))
		s.same("the lowest alarm", find(find(s.progress, beats), `(\d+)$`), strings.Fields(every(s.progress, `High alarm (\d+)`))[0])
	}
	s.same("sessions in the calendar", strconv.Itoa(planned), strconv.Itoa(strings.Count(s.calendar, "BEGIN:VEVENT")))
	s.same("sessions on the watch", strconv.Itoa(planned), strconv.Itoa(len(s.watch)))
	s.same("sessions of the sum", strconv.Itoa(planned), find(s.progress, `Next week: (\d+) sessions?`))
}

// readSentences looks for sentences that speak of what the page does not show.
func (s *shown) readSentences() {
	if s.standing.Assessment.GraveSign() != nil || s.standing.Assessment.Doubt() != nil {
		return
	}
	next, weeks := s.standing.Next, s.standing.Weeks
	w := weeks[len(weeks)-1]
	band := after(s.progress, "Your time against the plan")
	harder := strings.Contains(band, "Harder than planned")
	s.never(!harder, s.progress, `was harder than planned|were harder than planned|\(hatched\)`)
	if faster := find(band, `\Q`+find(band, `(?:In|for) the week to (\d+ \w+ \d+)`)+`\E (?:\d+ min|\d+ s) ((?:\d+ min|\d+ s))`); strings.Contains(band, "Week to Comfortable Brisk") {
		s.never(faster != "0 min", band, `was as comfortable as planned|All of your time was comfortable`)
	}
	s.never(w.Plan == nil, regexp.MustCompile(`In the week to \Q`+w.To.Long()+`\E[^.]*\.`).FindString(s.progress), `plan`)
	hadBouts := slices.ContainsFunc(s.standing.Record.Prescriptions, func(p record.Prescription) bool { return p.Intervals != nil && p.From <= s.on })
	s.never(next.Intervals == nil, s.progress+s.text, `Slow them down|with (?:short )?(?:brisk|hard) parts`)
	s.never(next.Intervals == nil && !hadBouts, s.progress, `faster parts (?:were|are)`)
	// "Like this" is true only of a week that is the same as the one that was done.
	same := w.Plan != nil && w.Plan.Total() == next.Total() && len(w.Sessions) >= w.Plan.Sessions
	s.never(!same, s.progress, `(?i)one more week like this`)
	s.never(regexp.MustCompile(`New this week`).MatchString(s.progress), s.progress, `(?i)one more week like this`)
	// Answers that stand in the table are not denied.
	s.never(regexp.MustCompile(`\d (?:on 6–20|of 10) (?:comfortable|hard)`).MatchString(after(s.decision, "Sessions of the last four weeks")), s.decision, `(?i)\bno answers? about effort(?: or talk)? so far`)
	runs := slices.Contains(s.standing.Record.Client.TrainedModes(), workout.Run)
	s.never(!runs, s.decision+s.assess, `\bruns?\b to compare|Longest run`)
	s.never(len(s.standing.Record.Client.Modes) == 1, s.progress+s.decision, `(?i)other training`)
	s.never(strings.Contains(s.progress, "There are no stages for under-18s"), s.progress, `You are in week|before you begin`)
	if short := len(w.Sessions) == 0 && w.Plan != nil && w.Plan.Sessions > 0; short {
		s.never(true, s.progress, `Your weeks are long enough`)
	}
	// A comparison of beats is the difference of the two figures beside it, and beyond what is normal.
	for _, m := range regexp.MustCompile(`about (\d+) beats? (?:lower|in a minute) \((\d+) in [\w ]+(?:, (\d+) now)?\)\. A change of up to (\d+) beats?`).FindAllStringSubmatch(s.progress, -1) {
		if m[3] != "" {
			s.same("beats lower", m[1], strconv.Itoa(whole(m[2])-whole(m[3])))
		}
		if change := max(whole(m[2])-whole(m[3]), whole(m[1])-whole(m[2])); m[3] != "" && change <= whole(m[4]) {
			s.t.Errorf("%s, %s: %s", s.name, s.on, m[0])
		}
	}
	// What a chart says of a comparison is what its rule compares.
	for _, m := range regexp.MustCompile(`(?:Recovery: drop of|Heart rate at the same pace or power:) ([\d.]+) bpm(?: in 60 s)?, usually ([\d.]+);`).FindAllStringSubmatch(s.decision, -1) {
		if charts := regexp.MustCompile(`On average ([\d.]+) bpm at first and ([\d.]+) bpm lately`).FindAllStringSubmatch(s.decision, -1); len(charts) > 0 {
			s.compared++
			if !slices.ContainsFunc(charts, func(c []string) bool { return c[1] == m[2] && c[2] == m[1] }) {
				s.t.Errorf("%s, %s: %q is in no caption: %q", s.name, s.on, m[0], charts)
			}
		}
	}
}

// readSessions compares what is said of single sessions and of zones.
func (s *shown) readSessions() {
	grave := s.standing.Assessment.GraveSign() != nil || s.standing.Assessment.Doubt() != nil
	edges := regexp.MustCompile(`(?:Walking|Running) (\d+)–(\d+) (\d+)–(\d+) (\d+)–(\d+)`).FindStringSubmatch(after(s.decision, "Zones in beats a minute"))
	next := s.standing.Next
	if low := find(s.progress, `Keep your pulse between (\d+) and`); edges != nil && !grave && low != "" && len(s.standing.Record.Client.Zones) == 1 && next.Made == s.on {
		s.same("zone 1", edges[1]+" "+edges[2], find(s.progress, `Keep your pulse between (\d+) and (\d+)`))
	}
	for _, w := range s.standing.Weeks[max(0, len(s.standing.Weeks)-1):] {
		for _, x := range w.Sessions {
			row := find(after(s.decision, "Sessions of the last four weeks"), `(\Q`+x.Date.Short()+`\E [A-Z][a-z ,\d]*? \d+ )`)
			s.same("a session's minutes", strconv.Itoa(int(x.Minutes+0.5)), find(row, ` (\d+) $`))
			for _, rec := range x.Recordings {
				if page, ok := s.workouts[rec.ID]; ok {
					s.same("the day of a workout", rec.Date.Long(), find(page, `, (\d+ \w+ \d{4})`))
					s.never(len(s.standing.Record.Client.Modes) == 1, page, `(?i)other training`)
				}
			}
		}
	}
}

func whole(text string) int {
	n, _ := strconv.Atoi(text)
	return n
}

// every lists what a pattern's group holds, each once and in order.
func every(text, pattern string) string {
	var out []string
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	slices.Sort(out)
	return strings.Join(slices.Compact(out), " ")
}

// after is the text behind a heading.
func after(text, heading string) string {
	_, rest, _ := strings.Cut(text, heading)
	return rest
}

// words is the text of a page, in one line.
func words(page string) string {
	var text strings.Builder
	for open := true; open; {
		var before, tag string
		before, tag, open = strings.Cut(page, "<")
		text.WriteString(before + " ")
		for _, name := range []string{"script", "style"} {
			if strings.HasPrefix(tag, name) {
				_, tag, _ = strings.Cut(tag, "</"+name)
			}
		}
		closed := false
		if _, page, closed = strings.Cut(tag, ">"); open && !closed {
			text.WriteString("<" + tag)
			break
		}
	}
	return strings.Join(strings.Fields(html.UnescapeString(text.String())), " ")
}

// find gives what the groups of a pattern hold, joined by a blank; "" where it is not there.
func find(text, pattern string) string {
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		return ""
	}
	return strings.TrimSuffix(strings.Join(m[1:], " "), ",")
}
