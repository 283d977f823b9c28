package demo

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"nextrung/reports"
)

// aims are what a kind of page may have at most: words that stand open on a screen, and sheets of paper.
var aims = map[string]struct{ words, sheets int }{
	"roster": {600, 2}, "decision": {1000, 3}, "progress": {270, 2}, "workout": {300, 2},
}

// What the browser measures: the words that stand open (of a client's page only down to the line where all is folded) and
// those of the whole page, without what only a screen reader reads.
const (
	openWords = `(() => { document.querySelectorAll(".vh").forEach(e => e.remove());
		const count = e => e ? e.innerText.split(/\s+/).filter(w => /[\p{L}\p{N}]/u.test(w)).length : 0;
		return count(document.body) - count(document.querySelector(".small-print")); })()`
	allWords = `(() => { document.querySelectorAll("details").forEach(d => { d.open = true; });
		return document.body.innerText.split(/\s+/).filter(w => /[\p{L}\p{N}]/u.test(w)).length; })()`
	// lowCharts are the charts that are lower than 35 mm on paper.
	lowCharts = `[...document.querySelectorAll(".c")].filter(c => c.getBoundingClientRect().width > 0 && c.getBoundingClientRect().height < 132)
		.map(c => c.id + " " + Math.round(c.getBoundingClientRect().height / 96 * 25.4) + " mm")`
	// firstScreen is where the heart rates of next week end on a phone, in pixels from the top.
	firstScreen = `Math.max(0, ...[...document.querySelectorAll(".client .week .beats, .client .verdict h2")].map(e => e.getBoundingClientRect().bottom))`
)

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// TestPagesKeepTheirSize prints the size of every page of the demo and fails above the aims: a page that is too long is
// not read.
func TestPagesKeepTheirSize(t *testing.T) {
	if os.Getenv("NEXTRUNG_BROWSER") != "1" {
		t.Skip("takes a minute; measure the pages in a browser with: NEXTRUNG_BROWSER=1 go test ./internal/demo -run TestPagesKeepTheirSize -v")
	}
	ctx := context.Background()
	c := shared(t)
	dir := t.TempDir()
	if _, err := c.Report(ctx, c.standings, Day, dir, true); err != nil {
		t.Fatal(err)
	}
	pages := map[string][]string{"roster": {"roster.html"}}
	for _, s := range c.standings {
		name := s.Record.Client.Name
		pages["decision"] = append(pages["decision"], reports.FileName("decision", name))
		if s.Assessment.GraveSign() == nil && s.Assessment.Doubt() == nil { // while it is, the page is about the sign and names all reasons to stop
			pages["progress"] = append(pages["progress"], reports.FileName("progress", name))
		}
		all := s.Record.Recordings
		last := all[len(all)-1]
		if _, err := c.ReportWorkout(ctx, last.ID, Day, dir); err != nil {
			t.Fatal(err)
		}
		pages["workout"] = append(pages["workout"], reports.WorkoutFile(last))
	}
	tab, end := browser(t)
	defer end()
	for kind, files := range pages {
		for _, file := range files {
			aim, path := aims[kind], filepath.Join(dir, file)
			open, all := 0, 0
			look := func(width int64, media, js string, into any) {
				t.Helper()
				if err := chromedp.Do(tab, chromedp.EmulateViewport(width, 844), chromedp.Navigate("file://"+path)); err != nil {
					t.Fatal(err)
				}
				if _, err := chromedp.Call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: media}); err != nil {
					t.Fatal(err)
				}
				evaluateInto(t, tab, js, into)
			}
			look(1280, "", openWords, &open)
			evaluateInto(t, tab, allWords, &all)
			var low []string
			look(680, "print", lowCharts, &low)
			pdf, err := chromedp.Run(tab, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
			if err != nil {
				t.Fatal(err)
			}
			sheets := len(pdfPage.FindAll(pdf, -1))
			info, err := os.Stat(path)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%-24s %4d kB, %4d words open, %4d folded, %d sheets", file, info.Size()/1000, open, all-open, sheets)
			if open > aim.words || sheets > aim.sheets || sheets == 0 || open == 0 {
				t.Errorf("%s has %d words open and %d sheets, and may have %d and %d", file, open, sheets, aim.words, aim.sheets)
			}
			if len(low) > 0 {
				t.Errorf("%s has charts lower than 35 mm on paper: %v", file, low)
			}
			if kind == "progress" {
				end := 0.0
				if look(390, "", firstScreen, &end); end == 0 || end > 844 {
					t.Errorf("%s: next week ends at %.0f px on a phone of 844", file, end)
				}
			}
		}
	}
}

func evaluateInto(t *testing.T, tab context.Context, js string, into any) {
	t.Helper()
	var err error
	switch into := into.(type) {
	case *int:
		*into, err = chromedp.Run(tab, chromedp.Evaluate[int](js))
	case *float64:
		*into, err = chromedp.Run(tab, chromedp.Evaluate[float64](js))
	case *[]string:
		*into, err = chromedp.Run(tab, chromedp.Evaluate[[]string](js))
	}
	if err != nil {
		t.Fatal(err)
	}
}

// browser starts one, with an empty page.
func browser(t *testing.T) (tab context.Context, end func()) {
	t.Helper()
	all, stop := chromedp.NewExecAllocator(context.Background(), chromedp.ExecPath("/usr/bin/chromium"), chromedp.NoSandbox, chromedp.Headless,
		chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	tab, cancel := chromedp.NewContext(all)
	return tab, func() { cancel(); stop() }
}
