package coach_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"
	"github.com/tormoder/fit"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

var sunday = day("2026-08-02")

// TestPrescribedFiles reads what was written for calendar and watch with readers that others made: the
// days, lengths and heart rates of the week are there, but no heart rates for a client who must not go by
// them.
func TestPrescribedFiles(t *testing.T) {
	ctx := context.Background()
	c := open(t)
	slowed, err := c.Client(ctx, "Ketil")
	if err != nil {
		t.Fatal(err)
	}
	slowed.Medicine = record.Slows
	if err := c.SetClient(ctx, slowed, day("2026-08-01")); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"Runa", "Ketil"} {
		w, _, err := c.Prescribe(ctx, name, sunday)
		if err != nil || len(w.Sessions) != 3 {
			t.Fatalf("%s: %d sessions, %v", name, len(w.Sessions), err)
		}
		dir := t.TempDir()
		written, older, err := coach.WriteWorkouts(w, dir)
		if err != nil || len(written) != 3 || len(older) != 0 {
			t.Fatalf("%s: %v, %v, %v", name, written, older, err)
		}
		for i, f := range written {
			if want := w.Sessions[i].Day.String() + "-session-" + string(rune('1'+i)) + "-" + strings.ToLower(name) + ".fit"; filepath.Base(f.Path) != want || f.Was != coach.New {
				t.Errorf("%s %s, want %s", f.Path, f.Was, want)
			}
			steps := stepsOf(t, f.Path)
			main := steps[1]
			if !strings.HasPrefix(steps[0].Notes, signs.StopLine) {
				t.Errorf("%s: the watch shows %q first", name, steps[0].Notes)
			}
			switch beats := name == "Runa"; {
			case beats && (main.TargetType != fit.WktStepTargetHeartRate || float64(main.CustomTargetValueHigh)-100 != w.Sessions[i].High || w.Sessions[i].High == 0):
				t.Errorf("%s: the main part is %+v, want at most %.0f bpm", name, main, w.Sessions[i].High)
			case !beats:
				for _, s := range steps {
					if s.TargetType != fit.WktStepTargetOpen {
						t.Errorf("%s: a target of beats: %+v", name, s)
					}
				}
			}
		}
		path := filepath.Join(dir, "week.ics")
		if _, err := coach.WriteCalendar(w, sunday.Noon(time.UTC), path); err != nil {
			t.Fatal(err)
		}
		b, _ := os.ReadFile(path)
		cal, err := ical.NewDecoder(bytes.NewReader(b)).Decode()
		if err != nil || len(cal.Events()) != 3 {
			t.Fatalf("%s: %v, %v", name, cal, err)
		}
		for i, e := range cal.Events() {
			text, _ := e.Props.Text(ical.PropDescription)
			if from, err := e.DateTimeStart(time.UTC); err != nil || from != w.Sessions[i].Day.Time() {
				t.Errorf("%s: event %d on %v, %v", name, i+1, from, err)
			}
			if m := regexp.MustCompile(`your pulse (below|between)|bpm|alarms?: `).FindString(text); m != "" && name == "Ketil" {
				t.Errorf("%s: %q in the calendar", name, m)
			}
			for _, s := range append(signs.StopSigns(), signs.Cautions(signs.Client)...) {
				if !strings.Contains(text, s) {
					t.Errorf("%s: event %d lacks %q", name, i+1, s)
				}
			}
		}
	}
}

func stepsOf(t *testing.T, path string) []*fit.WorkoutStepMsg {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f, err := fit.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	w, err := f.Workout()
	if err != nil || len(w.WorkoutSteps) < 3 {
		t.Fatalf("%v, %v", w, err)
	}
	return w.WorkoutSteps
}

// TestFilesAfterAHardWeek: neither calendar nor watch holds a lower limit for somebody who is told to
// go slower. FIT has no open-ended range, so the lowest reading that is believed stands there.
func TestFilesAfterAHardWeek(t *testing.T) {
	ctx := context.Background()
	c := open(t)
	for _, day := range []workout.Date{sunday - 4, sunday - 2, sunday} {
		hard := record.Report{Date: day, Entered: sunday, Minutes: 30, Sport: workout.Walking, RPE: &workout.RPE{Value: 17, Scale: 20}, Talk: record.TalkHard}
		if err := c.AddReport(ctx, "Runa", hard, false); err != nil {
			t.Fatal(err)
		}
	}
	w, _, err := c.Prescribe(ctx, "Runa", sunday)
	if err != nil || len(w.Sessions) == 0 || !strings.Contains(w.Text(), "Go slower") {
		t.Fatalf("%v\n%s", err, w.Text())
	}
	dir := t.TempDir()
	written, _, err := coach.WriteWorkouts(w, dir)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range written {
		main := stepsOf(t, f.Path)[1]
		if main.TargetType != fit.WktStepTargetHeartRate || main.CustomTargetValueLow != 130 || float64(main.CustomTargetValueHigh)-100 != w.Sessions[i].High {
			t.Errorf("the main part of %s is %+v, want up to %.0f bpm", f.Path, main, w.Sessions[i].High)
		}
	}
	path := filepath.Join(dir, "week.ics")
	if _, err := coach.WriteCalendar(w, sunday.Noon(time.UTC), path); err != nil {
		t.Fatal(err)
	}
	b, _ := os.ReadFile(path)
	cal, err := ical.NewDecoder(bytes.NewReader(b)).Decode()
	if err != nil || len(cal.Events()) == 0 {
		t.Fatal(err)
	}
	for _, e := range cal.Events() {
		if text, _ := e.Props.Text(ical.PropDescription); !strings.Contains(text, "Watch alarm: high ") || strings.Contains(text, "alarms: low") {
			t.Errorf("the calendar says %q", text)
		}
	}
}

// TestFilesOfAWeekWithoutSessions: there are none, rather than an empty calendar.
func TestFilesOfAWeekWithoutSessions(t *testing.T) {
	ctx := context.Background()
	c := open(t)
	if err := coach.AddNote(ctx, c, "Runa", record.Note{Date: sunday, Entered: sunday, Symptoms: []signs.Sign{signs.Chest}}); err != nil {
		t.Fatal(err)
	}
	w, a, err := c.Prescribe(ctx, "Runa", sunday)
	if err != nil || len(w.Sessions) != 0 || a.Verdict == nil || *a.Verdict != record.Refer {
		t.Fatalf("%+v, %v", w, err)
	}
	dir := t.TempDir()
	if _, err := coach.WriteCalendar(w, sunday.Noon(time.UTC), filepath.Join(dir, "week.ics")); err == nil {
		t.Error("a calendar without sessions")
	}
	if written, _, err := coach.WriteWorkouts(w, dir); err != nil || len(written) != 0 {
		t.Errorf("%v, %v", written, err)
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("files: %v", left)
	}
	// The day before nothing was known of it, but it is now.
	if w, _, err := c.Prescribe(ctx, "Runa", sunday-1); !errors.Is(err, coach.ErrRefer) || len(w.Sessions) != 0 {
		t.Errorf("as of the day before: %d sessions, %v", len(w.Sessions), err)
	}
}
