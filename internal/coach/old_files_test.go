package coach_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/simulate"
)

// TestOldFilesCountByTheirOwnDay: what is older than four weeks counts from the day it was recorded,
// unless the trainer names the day of receipt.
func TestOldFilesCountByTheirOwnDay(t *testing.T) {
	for _, tc := range []struct {
		name     string
		in       coach.Intake
		received string
	}{
		{"fresh", coach.Intake{On: day("2026-09-20")}, "2026-09-20"},
		{"four weeks old", coach.Intake{On: day("2026-09-29")}, "2026-09-29"},
		{"older", coach.Intake{On: day("2026-09-30")}, "2026-09-01"},
		{"older, but the trainer says when it came", coach.Intake{On: day("2026-09-30"), Fixed: true}, "2026-09-30"},
		{"an old export", coach.Intake{On: day("2026-09-20"), Backlog: true}, "2026-09-01"},
	} {
		c := open(t)
		tc.in.Client = "Runa"
		b := encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{}))
		if r := receive(t, c, tc.in, "a.tcx", b); r[0].Status != coach.Entered || r[0].Recordings[0].Received != day(tc.received) {
			t.Errorf("%s: %s, received %v", tc.name, r[0].Status, r[0].Recordings)
		}
	}
}

// TestADayThatCannotBeAsksFirst: a recording of long before the programme or of the future is not entered until somebody has answered.
func TestADayThatCannotBeAsksFirst(t *testing.T) {
	for _, tc := range []struct {
		name, start string
		in          coach.Intake
		help        fault.Help
	}{
		{"before the programme", "2026-05-01T06:00:00Z", coach.Intake{}, fault.CountAsBacklog},
		{"just before the programme", "2026-07-10T06:00:00Z", coach.Intake{}, fault.NoHelp},
		{"another decade", "2009-12-31T06:00:00Z", coach.Intake{}, fault.CountAsBacklog},
		{"the future", "2026-09-25T06:00:00Z", coach.Intake{}, fault.NameDay},
		{"the future, among old exports", "2026-09-25T06:00:00Z", coach.Intake{Backlog: true}, fault.NameDay},
		{"an old export", "2026-05-01T06:00:00Z", coach.Intake{Backlog: true}, fault.NoHelp},
		{"the trainer names the day of a wrong clock", "1989-12-31T00:10:00Z", coach.Intake{Day: day("2026-09-18")}, fault.NoHelp},
		{"tonight, by a clock an ocean away", "2026-09-21T06:00:00Z", coach.Intake{}, fault.NoHelp},
	} {
		c := open(t)
		tc.in.Client, tc.in.On = "Runa", day("2026-09-20")
		r := receive(t, c, tc.in, "a.tcx", encode(t, "tcx", walk(tc.start, simulate.Options{})))[0]
		want := coach.Entered
		if tc.help != fault.NoHelp {
			want = coach.Waits
		}
		if r.Status != want || r.Help != tc.help || (r.Why == "") != (want == coach.Entered) {
			t.Errorf("%s: %s (%s), help %q; want %s, %q", tc.name, r.Status, r.Why, r.Help, want, tc.help)
		}
		if n := len(recordOf(t, c, "Runa", "2026-12-31", false).Recordings); (n == 1) != (want == coach.Entered) {
			t.Errorf("%s: %d recordings are in the book", tc.name, n)
		}
	}
}

// TestTheDropFolderKeepsWhatMustBeAsked: the file waits where it was put, with its question.
func TestTheDropFolderKeepsWhatMustBeAsked(t *testing.T) {
	c := open(t)
	file := filepath.Join(c.DropFolder("Runa"), "old.tcx")
	if err := os.WriteFile(file, encode(t, "tcx", walk("2026-05-01T06:00:00Z", simulate.Options{})), 0o600); err != nil {
		t.Fatal(err)
	}
	past := time.Now().Add(-time.Minute)
	if err := os.Chtimes(file, past, past); err != nil {
		t.Fatal(err)
	}
	for range 2 { // asked again until it is answered
		all, err := c.TakeIn(context.Background(), day("2026-09-20"), nil)
		if err != nil || len(all) != 1 || all[0].Waiting == "" || all[0].Help != fault.CountAsBacklog {
			t.Fatalf("%+v, %v", all, err)
		}
		if _, err := os.Stat(file); err != nil {
			t.Fatal(err)
		}
	}
}
