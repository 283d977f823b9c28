package reports_test

import (
	"context"
	"fmt"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"nextrung/internal/coach"
	"nextrung/internal/demo"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

// running is a desk that answers on this computer, on a book of the invented crew, with a tab on its week.
type running struct {
	*tab
	*coach.Coach
	address string
	keys    int // pressed so far
}

// runDesk starts a desk on the demo's book.
func runDesk(t *testing.T) *running {
	t.Helper()
	inABrowser(t)
	needRuntime(t)
	c, _, err := demo.Make(t.Context(), t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	if err := c.SetBy(t.Context(), "Marit"); err != nil {
		t.Fatal(err)
	}
	return serveDesk(t, c)
}

func serveDesk(t *testing.T, c *coach.Coach) *running {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	server.Config.Handler = web.New(c, func() workout.Date { return demo.Day }, time.Now).Handler(server.Listener.Addr().String())
	server.Start()
	t.Cleanup(server.Close)
	d := &running{tab: newTab(t), Coach: c, address: server.URL}
	d.do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(server.URL+"/"))
	d.until(`document.documentElement.classList.contains("scripted")`)
	return d
}

// until waits for something to be so on the page, which may be loaded again meanwhile.
func (d *running) until(js string) {
	d.t.Helper()
	for began := time.Now(); time.Since(began) < 40*time.Second; time.Sleep(40 * time.Millisecond) {
		if so, err := chromedp.Run(d.ctx, chromedp.Evaluate[bool]("!!("+js+")")); err == nil && so {
			return
		}
	}
	d.t.Fatalf("never so: %s; %v\n%s", js, d.heard(), evaluate[string](d.tab, `document.body.innerText.replace(/\s+/g, " ").slice(0, 1500)`))
}

// press presses keys, each counted.
func (d *running) press(keys ...string) {
	d.t.Helper()
	for _, k := range keys {
		d.keys++
		d.do(chromedp.KeyEvent(k))
	}
}

// paste puts a text where the keyboard is, which a person does with one press.
func (d *running) paste(text string) {
	d.t.Helper()
	d.keys++
	if _, err := chromedp.Call(d.ctx, input.InsertText, input.InsertTextParams{Text: text}); err != nil {
		d.t.Fatal(err)
	}
}

func rowOf(client string) string {
	return fmt.Sprintf(`document.getElementById("row-%s")`, strings.ToLower(client))
}

// TestAWeekByKeyboard does the weekly job of five clients without a pointer: answers, decision, plan.
func TestAWeekByKeyboard(t *testing.T) {
	d := runDesk(t)
	// Common practice, no source: what a trainer with thirty clients is willing to press for each.
	const most = 40
	for _, who := range []string{"Lindra", "Avelin", "Maruna", "Ondrel", "Selvane"} {
		row := rowOf(who)
		before := d.keys
		for evaluate[bool](d.tab, `document.activeElement?.id !== `+row+`.id`) {
			d.press("j")
			if d.keys > before+20 {
				t.Fatalf("%s is not reached by j", who)
			}
		}
		d.press("p")
		d.until(row + `?.classList.contains("open") && document.activeElement === ` + row + `.querySelector(".paste")`)
		d.paste("sat was fine, 12, could talk no probs, 4. slept fine")
		d.until(`!!` + row + `.querySelector("button.enter")`)
		d.keys++
		d.do(chromedp.KeyEvent(kb.Enter, chromedp.KeyModifiers(chromedp.ModifierCtrl)))
		d.until(row + `.querySelector(".paste")?.value === "" && !!` + row + `.querySelector(".done")`)
		d.until(`document.activeElement === ` + row)
		d.press("a")
		d.until(`!!` + row + `.querySelector(".what .says")`)
		d.until(`document.activeElement === ` + row)
		d.press("c")
		d.until(row + `.querySelectorAll(".what .job .on").length === 3`)
		if n := d.keys - before; n > most {
			t.Errorf("%s took %d presses, more than %d", who, n, most)
		} else {
			t.Logf("%s: %d presses", who, n)
		}
		r, err := d.Record(context.Background(), who, demo.Day, false)
		if err != nil {
			t.Fatal(err)
		}
		if r.Decided(demo.Day) == nil || r.Decided(demo.Day).By != "Marit" {
			t.Errorf("%s: nothing was decided", who)
		}
		if ticks, err := d.Ticks(context.Background(), who); err != nil || len(ticks) != 1 {
			t.Errorf("%s: ticked off %v, %v", who, ticks, err)
		}
	}
	if left := evaluate[string](d.tab, `document.getElementById("left").innerText`); !strings.HasPrefix(left, "4 left") {
		t.Errorf("the head says %q", left)
	}
	// Tomorrow the desk still knows.
	d.do(chromedp.Reload())
	d.until(`document.querySelectorAll(".row.complete").length >= 5`)
	if heard := d.heard(); len(heard) > 0 {
		t.Errorf("the browser complains: %v", heard)
	}
}
