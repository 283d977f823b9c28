package reports_test

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// The metronome appears with the script, gets ready for three seconds, counts the steps down and stops when asked.
func TestTheMetronomeOfTheStepTest(t *testing.T) {
	inABrowser(t)
	dir, _ := written(t)
	b := newTab(t)
	b.open(filepath.Join(dir, "desk-tests-runa.html"), view{width: 1280})
	is := func(when, js string) {
		t.Helper()
		if _, err := chromedp.Run(b.ctx, chromedp.Poll[bool](js, chromedp.WithPollingTimeout(8*time.Second))); err != nil {
			t.Errorf("%s: %s; it shows %q", when, js, evaluate[string](b, `document.querySelector(".metronome").innerText`))
		}
	}
	is("before", `!document.querySelector(".metronome").hidden && document.querySelector(".clock").textContent === "96 beats a minute"`)
	b.do(chromedp.Click("[data-start]"))
	is("at first", `document.querySelector(".now").textContent === "Get ready."`)
	is("then", `document.querySelector(".clock").textContent === "2:59" && ["up", "down"].includes(document.querySelector(".foot").textContent)`)
	b.do(chromedp.Click("[data-stop]"))
	is("at last", `document.querySelector(".now").textContent === "Stopped." && document.querySelector(".foot").textContent === ""`)
	if heard := b.heard(); len(heard) > 0 {
		t.Errorf("the browser complains: %v", heard)
	}
}
