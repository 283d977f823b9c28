package coach_test

import (
	"os"
	"path/filepath"
	"testing"

	"nextrung/reports"
)

// What the pages' folders hold of somebody who is forgotten is what the book's reports wrote, and all of
// it goes; the other client's pages stay.
func TestForgettingRemovesEveryPage(t *testing.T) {
	name, _, err := reports.Runtime()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	c, ctx, on := open(t), t.Context(), day("2026-09-06")
	standings, err := c.Standings(ctx, nil, on)
	check(t, err)
	folders := []string{c.Pages(), c.PagesOf(on)}
	of := map[string][]string{}
	for _, dir := range folders {
		for _, s := range standings {
			_, err := c.Report(ctx, nil, on, dir, true) // the roster
			check(t, err)
			written, err := c.Report(ctx, append(standings[:0:0], s), on, dir, false)
			if err != nil || len(written) < 4 {
				t.Fatalf("%v, %v", written, err)
			}
			sheet, err := c.ReportDoctor(ctx, s, dir)
			check(t, err)
			of[s.Record.Client.Name] = append(of[s.Record.Client.Name], append(written, sheet)...)
		}
	}
	check(t, c.Forget(ctx, "Runa", day("2026-09-01"), false))
	left := map[string]bool{}
	for _, dir := range folders {
		files, err := filepath.Glob(filepath.Join(dir, "*.*"))
		check(t, err)
		for _, f := range files {
			left[f] = filepath.Base(f) != name
		}
	}
	for _, f := range of["Runa"] {
		if _, ok := left[f]; ok {
			t.Errorf("forgotten, but %s is still there", f)
		}
	}
	for _, f := range of["Ketil"] {
		if !left[f] {
			t.Errorf("%s is gone", f)
		}
		delete(left, f)
	}
	for f, page := range left {
		if page {
			t.Errorf("%s is nobody's", f)
		}
	}
}
