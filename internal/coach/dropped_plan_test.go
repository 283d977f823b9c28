package coach_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// A trainer who puts next week's plan into the drop folder is told what it is; it is no training.
func TestDroppedPlansAreNoRecordings(t *testing.T) {
	c := open(t)
	plan, err := recording.EncodeWorkoutFIT(workout.Plan{Name: "Session 1 of 3", Mode: workout.Walk, Steps: []workout.Step{
		{Kind: workout.Steady, Seconds: 1800, Low: 110, High: 130},
	}})
	if err != nil {
		t.Fatal(err)
	}
	week, err := recording.EncodeCalendar("", time.Unix(1_800_000_000, 0), []recording.CalendarEntry{{UID: "1", Day: day("2026-09-01"), Summary: "walk"}})
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range map[string][]byte{"plan.fit": plan, "week.ics": week} {
		path := filepath.Join(c.Dir, "drop", "Runa", name)
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		old := time.Now().Add(-time.Minute)
		if err := os.Chtimes(path, old, old); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := c.TakeIn(context.Background(), day("2026-09-02"), nil); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"plan.fit": "planned workout, not a recording", "week.ics": "calendar, not a recording"} {
		notes, _ := filepath.Glob(filepath.Join(c.Dir, "drop", "refused", "Runa", "*-"+name+".txt"))
		if len(notes) != 1 {
			t.Fatalf("%s: reasons %v", name, notes)
		}
		if text, err := os.ReadFile(notes[0]); err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%s: the reason reads %q, %v", name, text, err)
		}
	}
	if n := counting(recordOf(t, c, "Runa", "2026-09-02", false)); n != 0 {
		t.Errorf("%d recordings", n)
	}
}
