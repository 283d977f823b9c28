package demo

import (
	"bytes"
	"context"
	"flag"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"nextrung/internal/web"
	"nextrung/internal/workout"
	"nextrung/reports"
)

var update = flag.Bool("update", false, "rewrite the pages of reports/samples, with a picture of each and one of the desk")

const samples = "../../reports/samples"

// sealed is the seal of a book: another for each that is made, since its rows have salts of their own.
var sealed = regexp.MustCompile(`[0-9]+-[0-9a-f]{16}\b`)

// TestSamples renders one page of each kind from the demo's book, without the chart runtime. Accept an
// intended change with -update, and then look at the pictures.
func TestSamples(t *testing.T) {
	_, js, err := reports.Runtime()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	ctx := context.Background()
	c := shared(t)
	var last string
	for _, s := range c.standings {
		if s.Record.Client.Name == "Jaskel" {
			all := s.Record.Recordings
			rec := all[len(all)-1]
			if _, err := c.ReportWorkout(ctx, rec.ID, Day, c.Pages()); err != nil {
				t.Fatal(err)
			}
			last = reports.WorkoutFile(rec)
		}
	}
	if _, err := c.Report(ctx, c.standings, Day, c.Pages(), true); err != nil {
		t.Fatal(err)
	}
	for sample, page := range map[string]string{
		"roster.html":   reports.FileName("roster", ""),
		"decision.html": reports.FileName("decision", "Jaskel"),
		"progress.html": reports.FileName("progress", "Maruna"),
		"workout.html":  last,
		"doctor.html":   reports.FileName("doctor", "Hedra"),
		"progress.svg":  reports.PictureName("Maruna"),
	} {
		b, err := os.ReadFile(filepath.Join(c.Pages(), page))
		if err != nil {
			t.Fatal(err)
		}
		got := bytes.Replace(b, bytes.TrimSpace(js), []byte("// the chart runtime stands here"), 1)
		got = sealed.ReplaceAll(got, []byte("0-0000000000000000"))
		if len(got) > 300_000 {
			t.Errorf("%s has %d bytes: the runtime was not left out", sample, len(got))
		}
		file := filepath.Join(samples, sample)
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			if strings.HasSuffix(sample, ".html") {
				photograph(t, "file://"+filepath.Join(c.Pages(), page), strings.TrimSuffix(file, ".html")+".png")
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatalf("%v; write it with: go test ./internal/demo -run TestSamples -update", err)
		}
		if !bytes.Equal(want, got) {
			t.Errorf("%s has changed; look at it and accept it with: go test ./internal/demo -run TestSamples -update", sample)
		}
	}
	if *update {
		answer := httptest.NewUnstartedServer(nil)
		answer.Config.Handler = web.New(c.Coach, func() workout.Date { return Day }, time.Now).Handler(answer.Listener.Addr().String())
		answer.Start()
		defer answer.Close()
		photograph(t, answer.URL+"/", filepath.Join(samples, "desk.png"))
	}
}

// photograph takes a picture of a page as a browser shows it.
func photograph(t *testing.T, page, png string) {
	t.Helper()
	ctx, end := browser(t)
	defer end()
	err := chromedp.Do(ctx, chromedp.EmulateViewport(1100, 900), chromedp.Navigate(page), chromedp.Sleep(2*time.Second))
	if err != nil {
		t.Fatal(err)
	}
	b, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(png, b, 0o644); err != nil {
		t.Fatal(err)
	}
}
