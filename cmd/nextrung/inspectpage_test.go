package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"nextrung/reports"
)

// The page of a recording stands alone, says so where there are no zones, and never replaces a file.
func TestInspectDrawsAPageWithoutABook(t *testing.T) {
	if _, _, err := reports.Runtime(); errors.Is(err, reports.ErrRuntime) {
		t.Skip(err)
	}
	for _, x := range []struct {
		name      string
		args      []string
		has, lack string
	}{
		{"zones", []string{"--hr-max", "185", "../../testdata/bike-bouts.tcx"}, "Zones from", "There are no zones"},
		{"no facts", []string{"../../testdata/bike-bouts.tcx"}, "There are no zones", "Zones from"},
		{"compressed", []string{"../../testdata/run-pause.tcx.gz"}, ">away<", "Zones from"},
		{"medicine", []string{"--medicine", "slows", "--hr-max", "185", "../../testdata/bike-bouts.tcx"}, "A medicine slows the heart", "Zones from"},
	} {
		page := filepath.Join(t.TempDir(), "page.html")
		draw := func() (code int, said string) {
			var out, errs bytes.Buffer
			code = run(context.Background(), append([]string{"inspect", "--page", page}, x.args...), surroundings{out: &out, err: &errs, now: time.Now})
			return code, out.String() + errs.String()
		}
		if code, said := draw(); code != done {
			t.Fatalf("%s: exit code %d: %s", x.name, code, said)
		}
		b, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		html := string(b)
		for _, want := range []string{x.has, "<svg", "script-src &#39;none&#39;", " beats a minute<", `aria-label="Cautions"`} {
			if !strings.Contains(html, want) {
				t.Errorf("%s: the page lacks %q", x.name, want)
			}
		}
		for _, not := range []string{x.lack, "<script", "href=\"decision", "http://www.", "https://"} {
			if strings.Contains(html, not) {
				t.Errorf("%s: the page has %q", x.name, not)
			}
		}
		if code, said := draw(); code != failed || !strings.Contains(said, "already exists") {
			t.Errorf("%s: drawn over a file: %d %s", x.name, code, said)
		}
	}
}

// Where there is more than one file, nothing is written.
func TestInspectDrawsOnePageOnly(t *testing.T) {
	page := filepath.Join(t.TempDir(), "page.html")
	var out, errs bytes.Buffer
	code := run(context.Background(), []string{"inspect", "--page", page, "../../testdata/bike-bouts.tcx", "../../testdata/run-pause.tcx.gz"}, surroundings{out: &out, err: &errs, now: time.Now})
	if code != misused || !strings.Contains(errs.String(), "name one of them") {
		t.Errorf("exit code %d: %s", code, errs.String())
	}
	if _, err := os.Stat(page); err == nil {
		t.Error("a page was written")
	}
}
