package reports_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"nextrung/reports"
)

// need skips a test that lacks a tool; where everything must be there it fails.
func need(t *testing.T, missing string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(missing)
	}
	t.Skip(missing)
}

func needRuntime(t *testing.T) (string, []byte) {
	t.Helper()
	name, js, err := reports.Runtime()
	if err != nil {
		need(t, err.Error())
	}
	return name, js
}

// written puts one page of each kind, and some of special clients, beside the runtime in a folder, once
// for all tests; endPages removes it.
func written(t *testing.T) (dir string, pages map[string]string) {
	t.Helper()
	needRuntime(t)
	w, err := writePages()
	if err != nil {
		t.Fatal(err)
	}
	return w.dir, w.pages
}

type folder struct {
	dir   string
	pages map[string]string
}

var writePages = sync.OnceValues(func() (folder, error) {
	dir, err := os.MkdirTemp("", "pages-")
	if err != nil {
		return folder{}, err
	}
	endPages = func() { os.RemoveAll(dir) }
	f := folder{dir, map[string]string{}}
	write := func(file string, b []byte, failed error) {
		if failed == nil {
			failed = os.WriteFile(filepath.Join(dir, file), b, 0o644)
		}
		if failed != nil {
			err = fmt.Errorf("%s: %w", file, failed)
		}
	}
	name, js, failed := reports.Runtime()
	write(name, js, failed)
	page := func(what, file string, b []byte, failed error) {
		write(file, b, failed)
		f.pages[what] = file
	}
	on, everybody, one, rec, s, w := sampleInput()
	b, failed := reports.Roster(on, everybody)
	page("roster", "roster.html", b, failed)
	b, failed = reports.Decision(one)
	page("decision", "decision.html", b, failed)
	b, failed = reports.Progress(one)
	page("progress", "progress.html", b, failed)
	b, failed = reports.Workout(rec, s, w, one)
	page("workout", "workout.html", b, failed)
	b, failed = reports.Decision(lindra())
	page("decision of lindra", "lindra.html", b, failed)
	b, failed = reports.Progress(selvane())
	page("progress of selvane", "selvane.html", b, failed)
	b, failed = reports.Decision(pavor())
	page("decision of pavor", "pavor.html", b, failed)
	b, failed = reports.Progress(pavor())
	page("progress of pavor", "pavor-own.html", b, failed)
	for what, sheet := range doctorSheets() {
		b, failed = reports.Doctor(sheet.client, sheet.then)
		page("doctor, "+what, "doctor-"+strings.ReplaceAll(what, " ", "-")+".html", b, failed)
	}
	b, failed = reports.Rehearsal(rehearsed())
	page("rehearsal", "rehearsal.html", b, failed)
	if failed := deskPages(page); failed != nil {
		err = failed
	}
	delete(f.pages, reports.ServedStyle)
	delete(f.pages, reports.ServedScript)
	return f, err
})

var endPages = func() {}

// The browser is started once for all tests and ends with the test binary.
var startBrowser = sync.OnceValues(func() (context.Context, error) {
	dir, err := os.MkdirTemp("", "browser-")
	if err != nil {
		return nil, err
	}
	alloc, stop := chromedp.NewExecAllocator(context.Background(), chromedp.ExecPath(browserPath), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Headless, chromedp.NoFirstRun, chromedp.UserDataDir(dir), chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-sync", true))
	ctx, cancel := chromedp.NewContext(alloc)
	endBrowser = func() {
		cancel()
		stop()
		os.RemoveAll(dir)
	}
	return ctx, chromedp.Do(ctx, chromedp.Navigate("about:blank"))
})

// endBrowser ends the browser if it was started.
var endBrowser = func() {}

const browserPath = "/usr/bin/chromium"

func TestMain(m *testing.M) {
	code := m.Run()
	endBrowser()
	endPages()
	os.Exit(code)
}

// tab is one page in the browser, with everything that it complained about.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu         sync.Mutex
	complaints []string
}

// view is how a page is looked at.
type view struct {
	width int64
	dark  bool
}

// inABrowser skips a test that looks at pages in a browser, unless it is wanted, as it is in the gate.
func inABrowser(t *testing.T) {
	t.Helper()
	if os.Getenv("NEXTRUNG_BROWSER") != "1" {
		t.Skip("takes a minute; look at the pages in a browser with: NEXTRUNG_BROWSER=1 go test ./reports")
	}
}

func newTab(t *testing.T) *tab {
	t.Helper()
	if os.Getenv("NEXTRUNG_BROWSER") != "1" {
		t.Fatal("a test that needs a browser starts with inABrowser, or it runs unasked")
	}
	if _, err := exec.LookPath(browserPath); err != nil {
		need(t, "no "+browserPath+": the pages were not looked at in a browser")
	}
	parent, err := startBrowser()
	if err != nil {
		t.Fatal(err)
	}
	b := &tab{t: t}
	ctx, cancel := chromedp.NewContext(parent, chromedp.WithListener(b.hear))
	ctx, stop := context.WithTimeout(ctx, 60*time.Second)
	t.Cleanup(func() { stop(); cancel() })
	b.ctx = ctx
	return b
}

func (b *tab) hear(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch ev := ev.(type) {
	case *log.EventEntryAdded:
		b.complaints = append(b.complaints, fmt.Sprint(ev.Entry.Level, ": ", ev.Entry.Text))
	case *runtime.EventConsoleAPICalled:
		b.complaints = append(b.complaints, "console: "+string(ev.Type))
	case *runtime.EventExceptionThrown:
		b.complaints = append(b.complaints, "exception: "+ev.ExceptionDetails.Text)
	}
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// colours requests the page in light or in dark colours.
func (b *tab) colours(dark bool) {
	b.t.Helper()
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	if err != nil {
		b.t.Fatal(err)
	}
}

// open shows a page.
func (b *tab) open(file string, v view) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(v.width, 900))
	b.colours(v.dark)
	b.do(chromedp.Navigate("file://" + file))
}

func (b *tab) heard() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string{}, b.complaints...)
}

func evaluate[T any](b *tab, js string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatal(err)
	}
	return v
}

// TestPagesInABrowser opens every kind of page wide, on a phone and in the dark: no complaint of
// the browser (a violated policy is one), every chart drawn, nothing wider than the screen.
func TestPagesInABrowser(t *testing.T) {
	inABrowser(t)
	dir, pages := written(t)
	for name, file := range pages {
		for _, v := range []view{{width: 1280}, {width: 360}, {width: 1280, dark: true}} {
			t.Run(fmt.Sprintf("%s/%d/dark=%v", name, v.width, v.dark), func(t *testing.T) {
				t.Parallel()
				b := newTab(t)
				b.open(filepath.Join(dir, file), v)
				charts := evaluate[int](b, `document.querySelectorAll(".c").length`)
				if !strings.HasPrefix(name, "roster") && !strings.HasPrefix(name, "room") && !strings.HasPrefix(name, "doctor, ") && name != "notice" && charts == 0 {
					t.Error("the page has no chart")
				}
				if empty := evaluate[[]string](b, badlyDrawn); len(empty) > 0 {
					t.Errorf("charts without marks, or with more than one drawing shown: %v", empty)
				}
				if over := evaluate[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 0 {
					t.Errorf("the page is %d px wider than the screen: %v", over, evaluate[[]string](b, wide))
				}
				// A rule's name in the picture leads to what is behind it, however it is folded.
				if shut := evaluate[[]string](b, `[...document.querySelectorAll(".distances a, .brief p a[href^='#']")].filter(a => {
					a.click(); const r = document.querySelector(a.hash); return !r || r.getBoundingClientRect().height === 0; }).map(a => a.hash)`); len(shut) > 0 {
					t.Errorf("what is behind these rules stays folded: %v", shut)
				}
				// Highlighting and tooltips must not break the policy or the marks.
				hover(b)
				if bad := evaluate[[]string](b, badlyDrawn); len(bad) > 0 {
					t.Errorf("charts without marks after the pointer was over them: %v", bad)
				}
				if heard := b.heard(); len(heard) > 0 {
					t.Errorf("the browser complains: %v", heard)
				}
			})
		}
	}
}

// badlyDrawn lists the charts that do not show exactly one drawing with marks; those in a closed part show none.
const badlyDrawn = `[...document.querySelectorAll(".c")].filter(c => !c.closest("details:not([open])")).filter(c => {
	const shown = [...c.querySelectorAll("svg")].filter(s => s.getBoundingClientRect().width > 0);
	return shown.length !== 1 || shown[0].querySelectorAll("path").length < 4; }).map(c => c.id)`

// wide lists the elements that reach beyond the screen, and cells whose text reaches beyond them.
const wide = `[...document.querySelectorAll("main *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 ||
	(e.tagName === "TD" || e.tagName === "TH") && e.scrollWidth > e.clientWidth + 1)
	.slice(0, 5).map(e => e.tagName + "." + e.className + " " + e.textContent.slice(0, 40) + " " + e.scrollWidth + ">" + e.clientWidth)`

// hover moves the pointer over the middle of each chart.
func hover(b *tab) {
	ids := evaluate[[]string](b, `[...document.querySelectorAll("script[data-for]")].map(s => s.dataset.for)`)
	for _, id := range ids {
		at := evaluate[[]float64](b, `(() => { const c = document.getElementById("`+id+`"); c.scrollIntoView({block: "center"});
			const r = c.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`)
		b.do(chromedp.MouseEvent("mouseMoved", at[0], at[1]), chromedp.MouseEvent("mouseMoved", at[0]+3, at[1]))
	}
}

// TestAccessible runs axe-core with the rules of WCAG 2.2 AA over every kind of page with all details open,
// then the rules that judge colours once more in the dark, where nothing but colours differs.
func TestAccessible(t *testing.T) {
	inABrowser(t)
	axe, err := os.ReadFile("node_modules/axe-core/axe.min.js")
	if err != nil {
		need(t, "no axe-core: install it with: npm ci --prefix reports")
	}
	dir, pages := written(t)
	for name, file := range pages {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := newTab(t)
			b.open(filepath.Join(dir, file), view{width: 1280})
			b.do(chromedp.Evaluate[chromedp.Void](string(axe) + "; document.querySelectorAll('details').forEach(d => { d.open = true; }); undefined"))
			checks := func(colours, rules string) {
				type result struct {
					Judged int
					Faults []string
				}
				r := evaluate[result](b, `axe.run(document, {runOnly: `+rules+`}).then(r => ({Judged: r.passes.length,
					Faults: r.violations.map(v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + " " + (n.failureSummary || "")).join(" | "))}))`)
				for _, f := range r.Faults {
					t.Errorf("%s: %s", colours, f)
				}
				if r.Judged == 0 {
					t.Errorf("%s: axe-core judged nothing", colours)
				}
			}
			checks("light", `{type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}`)
			b.colours(true)
			if !evaluate[bool](b, `matchMedia("(prefers-color-scheme: dark)").matches`) {
				t.Fatal("the page is not dark")
			}
			checks("dark", `{type: "rule", values: ["color-contrast", "link-in-text-block"]}`)
		})
	}
}

// TestPrint lays every page out for A4 with its margins: no part may reach beyond the paper, and no
// picture may be cut by its frame. Then it prints.
func TestPrint(t *testing.T) {
	inABrowser(t)
	const paper = 680 // 180 mm at 96 px an inch
	dir, pages := written(t)
	for name, file := range pages {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := newTab(t)
			b.open(filepath.Join(dir, file), view{width: 1280})
			// A browser prints a page that was first laid out for the screen, so the paper comes only now.
			if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
				t.Fatal(err)
			}
			b.do(chromedp.EmulateViewport(paper, 960))
			if cut := evaluate[[]string](b, wide); len(cut) > 0 {
				t.Errorf("beyond the paper: %v", cut)
			}
			const sheet = 1016 // 269 mm
			if low := evaluate[float64](b, `Math.max(0, ...[...document.querySelectorAll(".client .week, .client .stop, .client .doctor")].map(e => e.getBoundingClientRect().bottom))`); low > sheet {
				t.Errorf("next week and when to stop end at %.0f px and do not fit the first sheet", low)
			}
			cut := evaluate[[]string](b, `[...document.querySelectorAll(".c")].filter(c => c.getBoundingClientRect().width > 0).filter(c => { const s = c.querySelector(".at-paper").getBoundingClientRect(), r = c.getBoundingClientRect();
				return s.width < 200 || s.right > r.right + 1 || s.bottom > r.bottom + 1; }).map(c => c.id)`)
			if len(cut) > 0 {
				t.Errorf("pictures cut: %v", cut)
			}
			pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
			if err != nil {
				t.Fatal(err)
			}
			if !strings.HasPrefix(string(pdf), "%PDF-") {
				t.Error("no PDF came out")
			}
			if sheets := strings.Count(string(pdf), "/Type /Page\n"); strings.HasPrefix(name, "doctor, ") && sheets != 1 {
				t.Errorf("the page for the doctor takes %d sheets", sheets)
			}
			if dir := os.Getenv("NEXTRUNG_LOOK"); dir != "" {
				os.WriteFile(filepath.Join(dir, strings.ReplaceAll(name, " ", "-")+".pdf"), pdf, 0o644)
			}
		})
	}
}

// TestNothingRunsFromInput opens pages full of hostile names: nothing of them may run.
func TestNothingRunsFromInput(t *testing.T) {
	inABrowser(t)
	dir := t.TempDir()
	name, js := needRuntime(t)
	if err := os.WriteFile(filepath.Join(dir, name), js, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{reports.ServedStyle, reports.ServedScript} { // what a served page loads
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for what, page := range hostilePages(t) {
		file := filepath.Join(dir, what+".html")
		if err := os.WriteFile(file, page, 0o644); err != nil {
			t.Fatal(err)
		}
		b := newTab(t)
		b.open(file, view{width: 1280})
		if got := evaluate[string](b, `String(window.XSS)`); got != "undefined" {
			t.Errorf("%s: a script from the input ran", what)
		}
		if heard := b.heard(); len(heard) > 0 {
			j, _ := json.Marshal(heard)
			t.Errorf("%s: the browser complains: %s", what, j)
		}
	}
}
