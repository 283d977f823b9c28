package demo

import (
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/reports"
)

// TestANumberThatStandsTwiceIsTheSame reads the roster, both pages, the message, the calendar and the watch
// files of every member, and compares what stands in more than one of them: stage, weeks, sessions and minutes of
// the last week, the sessions of the next, its days and its heart rates.
func TestANumberThatStandsTwiceIsTheSame(t *testing.T) {
	v, dir := shared(t), t.TempDir()
	if _, err := v.Report(t.Context(), v.standings, Day, dir, true); err != nil {
		t.Fatal(err)
	}
	page := func(kind, name string) string {
		b, err := os.ReadFile(filepath.Join(dir, reports.FileName(kind, name)))
		if err != nil {
			t.Fatal(err)
		}
		return words(string(b))
	}
	roster, compared := page("roster", ""), 0
	for _, s := range v.standings {
		name := s.Record.Client.Name
		w, _, err := v.Prescribe(t.Context(), name, Day)
		if err != nil {
			t.Fatal(err)
		}
		decision, progress, message := page("decision", name), page("progress", name), words(w.Text())
		row := regexp.MustCompile(` ` + name + ` client’s page.*? days? ago| ` + name + ` client’s page.*? (?:yesterday|today)`).FindString(roster)
		same := func(what string, found ...string) {
			t.Helper()
			compared++
			for _, f := range found {
				if f == "" || f != found[0] {
					t.Errorf("%s: %s: %q", name, what, found)
					return
				}
			}
		}
		// The week that is over.
		same("sessions done", find(row, `(\d+ of \d+) `), find(decision, `Sessions in the last week (\d+ of \d+)`))
		same("minutes done and planned", find(row, `(\d+) min of (\d+)`), find(decision, `Minutes in the last week (\d+) of (\d+) planned`))
		same("weeks of the stage", find(row, `(\d+) weeks`), find(decision, `for (\d+) weeks,`))
		if s.Assessment.GraveSign() != nil {
			if len(w.Sessions) > 0 || strings.Contains(progress, "Next week") {
				t.Errorf("%s has a grave sign and a plan", name)
			}
			continue
		}
		same("weeks, for the client", find(decision, `for (\d+) weeks,`), find(progress, `You are in week (\d+)`))
		same("minutes, for the client", find(decision, `Minutes in the last week (\d+)`), find(progress, `You did (\d+) min in the week`))
		if done := find(decision, `(?:All )?(\d+(?: of \d+)?) sessions and`); !strings.HasPrefix(find(row, `(\d+ of \d+) `), strings.Split(done, " ")[0]) {
			t.Errorf("%s: %q sessions done by the rule, %q in the roster", name, done, row)
		}
		// The week to come.
		size := `(\d+ sessions?(?: of \d+ minutes|, \d+ of \d+ minutes(?: and \d+ of \d+)?))`
		same("next week", find(decision, `client reads it: `+size), find(progress, `Next week .*?`+size), find(message, size), find(w.Size(), size))
		beats := `Keep your pulse (between \d+ and \d+|below \d+)`
		if !s.Record.Client.ByEffort() {
			same("the heart rate", find(decision, beats), find(progress, beats), find(message, beats))
		}
		calendar, watch := filepath.Join(t.TempDir(), "a.ics"), t.TempDir()
		if _, err := coach.WriteCalendar(w, Day.Time(), calendar); err != nil {
			t.Fatal(err)
		}
		files, _, err := coach.WriteWorkouts(w, watch)
		if err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(calendar)
		if err != nil {
			t.Fatal(err)
		}
		lengths := map[string]int{}
		for _, x := range w.Sessions {
			lengths[fmt.Sprint(x.Plan.Seconds()/60)]++
			if !strings.Contains(string(b), "DTSTART;VALUE=DATE:"+strings.ReplaceAll(x.Day.String(), "-", "")) {
				t.Errorf("%s: the calendar has nothing on %s", name, x.Day)
			}
		}
		for _, m := range regexp.MustCompile(`\((\d+) min\)`).FindAllStringSubmatch(string(b), -1) {
			lengths[m[1]]--
		}
		for minutes, n := range lengths {
			if n != 0 {
				t.Errorf("%s: %+d sessions of %s min in the plan and not in the calendar", name, n, minutes)
			}
		}
		if len(files) == 0 || len(files) > len(w.Sessions) {
			t.Errorf("%s: %d watch files for %d sessions", name, len(files), len(w.Sessions))
		}
	}
	if compared < 50 {
		t.Errorf("only %d comparisons", compared)
	}
}

// words is the text of a page, in one line.
func words(page string) string {
	page = regexp.MustCompile(`(?s)<(script|style).*?</(script|style)>`).ReplaceAllString(page, " ")
	page = regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, " ")
	return strings.Join(strings.Fields(html.UnescapeString(page)), " ")
}

// find gives what the groups of a pattern hold, joined by a blank; "" where it is not there.
func find(text, pattern string) string {
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		return ""
	}
	return strings.TrimSuffix(strings.Join(m[1:], " "), ",")
}
