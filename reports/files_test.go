package reports_test

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"nextrung/internal/coach"
	"nextrung/internal/demo"
	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// played is a walk of half an hour that a device recorded on a day of the demo.
func played(t *testing.T, format, device string, ago workout.Date, seed uint64) []byte {
	t.Helper()
	plan := workout.Plan{Mode: workout.Walk, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300, Low: 95, High: 105}, {Kind: workout.Steady, Seconds: 1200, Low: 118, High: 126}, {Kind: workout.CoolDown, Seconds: 300, Low: 90, High: 100},
	}}
	w, _ := simulate.Play(plan, simulate.Beginner(62, 180), simulate.Options{Start: (demo.Day - ago).Time().Add(19 * time.Hour), Seed: seed})
	w.Device = device
	b, err := recording.Encode(format, w)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestSixtyFilesAtOnce hands in a week's exports in one go: most by a device that nobody knows, a photo, and a second
// recording of a session that is in the book. The desk answers others meanwhile, nothing is assumed and nothing lost.
func TestSixtyFilesAtOnce(t *testing.T) {
	d := runDesk(t)
	ctx := t.Context()
	if _, err := d.Receive(ctx, coach.Intake{Client: "Avelin", On: demo.Day}, "strap.fit", played(t, "fit", "strap-1", 1, 1)); err != nil {
		t.Fatal(err)
	}
	count := func(who string) int {
		r, err := d.Record(ctx, who, demo.Day, false)
		if err != nil {
			t.Fatal(err)
		}
		return len(r.Recordings)
	}
	avelin, ondrel := count("Avelin"), count("Ondrel")
	dir, names := t.TempDir(), []string{}
	put := func(name string, b []byte) {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		names = append(names, path)
	}
	put("photo.jpg", []byte("\xff\xd8\xff\xe0 a photo"))
	put("phone.tcx", played(t, "tcx", "", 1, 1)) // the same walk by another program
	for i := range 58 {
		put(fmt.Sprintf("export-%d.fit", i), played(t, "fit", "watch-9", workout.Date(2+i%25), uint64(100+i)))
	}
	// Somebody else looks at the desk all the while, at a page whose pictures are drawn already.
	if r, err := http.Get(d.address + "/decision-maruna.html"); err == nil {
		r.Body.Close()
	}
	slowest, stop, over := time.Duration(0), make(chan bool), make(chan bool)
	go func() {
		defer close(over)
		for {
			began := time.Now()
			if r, err := http.Get(d.address + "/decision-maruna.html"); err == nil {
				r.Body.Close()
				slowest = max(slowest, time.Since(began))
			}
			select {
			case <-stop:
				return
			case <-time.After(50 * time.Millisecond):
			}
		}
	}()
	d.do(chromedp.SetUploadFiles(`input[name=file]`, names), chromedp.Click(`form.drop button`))
	d.until(`document.readyState === "complete" && document.querySelector("footer") && document.querySelectorAll("form.stray").length === 2`)
	close(stop)
	<-over
	if slowest > 2*time.Second {
		t.Errorf("another look took %v meanwhile", slowest)
	}
	t.Logf("slowest look meanwhile: %v", slowest)
	if page := evaluate[string](d.tab, `document.querySelector("main").innerText`); !strings.Contains(page, "photo.jpg") || !strings.Contains(page, "59 kept: say whose") {
		t.Errorf("the page does not say what became of the files:\n%.600s", page)
	}
	if count("Avelin") != avelin || count("Ondrel") != ondrel {
		t.Error("a file was given to somebody without a tap")
	}
	d.do(chromedp.Click(`form.stray > .buttons button[value=Avelin]`))
	d.until(`document.readyState === "complete" && document.querySelector("footer") && document.querySelectorAll("form.stray").length === 1`)
	d.do(chromedp.Click(`form.stray button[value=Ondrel]`))
	d.until(`document.readyState === "complete" && document.querySelector("footer") && document.querySelectorAll("form.stray").length === 0`)
	if a, o := count("Avelin"), count("Ondrel"); a != avelin+1 || o != ondrel+58 {
		t.Errorf("Avelin has %d more, want 1; Ondrel %d more, want 58", a-avelin, o-ondrel)
	}
	// Now that device is known: one tap for what comes next.
	drop := fmt.Sprintf(`(() => { const t = new DataTransfer(); t.items.add(new File([Uint8Array.from(%s)], "next.fit"));
		document.querySelector("main").dispatchEvent(new DragEvent("drop", {dataTransfer: t, bubbles: true, cancelable: true})); })()`, strings.ReplaceAll(fmt.Sprint(played(t, "fit", "watch-9", 1, 900)), " ", ","))
	d.do(chromedp.Evaluate[chromedp.Void](drop + "; undefined"))
	d.until(`document.querySelector("form.stray .buttons button")?.value === "Ondrel"`)
	if heard := d.heard(); len(heard) > 0 {
		t.Errorf("the browser complains: %v", heard)
	}
}

// TestUnclearAnswersAreTapped: what may mean two things is asked while it is typed and entered by a tap; a sign stops the
// plan until it is answered; a decision is taken back; a tab that is out of date enters nothing.
func TestUnclearAnswersAreTapped(t *testing.T) {
	d := runDesk(t)
	row := rowOf("Ondrel")
	d.do(chromedp.Click("#row-ondrel a.name"))
	d.until(row + `.classList.contains("open")`)
	second := serveDesk(t, d.Coach) // another desk on the same book
	second.do(chromedp.Navigate(second.address + "/?open=Ondrel"))
	second.until(`document.documentElement.classList.contains("scripted")`)

	d.do(chromedp.Click("#row-ondrel .paste"))
	d.paste("fri: 12, talking was so-so\nfelt a bit tight across the chest on the hill")
	d.until(row + `.querySelectorAll(".reading .chips input").length > 1`)
	d.do(chromedp.Evaluate[chromedp.Void](row + `.querySelector(".reading .chips input").click(); undefined`))
	d.paste(".") // what was tapped stays while more is typed
	d.until(row + `.querySelector(".pieces")?.textContent.includes("hill.") || ` + row + `.querySelector("textarea").value.endsWith(".")`)
	time.Sleep(time.Second)
	d.until(row + `.querySelector(".reading .chips input").checked`)
	d.do(chromedp.Click("#row-ondrel button.enter"))
	d.until(`!!` + row + `.querySelector("form.ask")`)
	if evaluate[bool](d.tab, row+`.querySelector(".panel").innerText.includes("Watch,")`) {
		t.Error("watch workouts are offered before the question is answered")
	}
	r, err := d.Record(t.Context(), "Ondrel", demo.Day, false)
	if err != nil || len(r.Unanswered()) == 0 {
		t.Fatalf("nothing is asked: %v", err)
	}
	// The other desk still shows the page of before.
	second.do(chromedp.Click("#row-ondrel .what button.accept"))
	second.until(`document.querySelector("#row-ondrel .wrong")?.innerText.includes("Something has come in")`)
	if r, _ = d.Record(t.Context(), "Ondrel", demo.Day, false); r.Decided(demo.Day) != nil {
		t.Fatal("a page that is out of date decided")
	}
	second.until(`!!` + row + `.querySelector("form.ask")`)
	second.do(chromedp.Click(`#row-ondrel form.ask button[value=no]`))
	second.until(`!` + row + `.querySelector("form.ask")`)
	d.do(chromedp.Click(`#row-ondrel form.ask button[value=no]`))
	d.until(row + `?.innerText.includes("no longer open")`)
	d.until(`!!` + row + `.querySelector("button.accept")`)
	d.do(chromedp.Click("#row-ondrel button.accept"))
	d.until(`!!` + row + `.querySelector("button[name=undo]")`)
	if r, _ = d.Record(t.Context(), "Ondrel", demo.Day, false); r.Decided(demo.Day) == nil || r.Decided(demo.Day).Stage != 2 {
		t.Fatalf("decided %+v", r.Decided(demo.Day))
	}
	d.do(chromedp.Click("#row-ondrel button[name=undo]"))
	d.until(row + `.innerText.includes("Decided: hold, stage 1")`)
	if heard := d.heard(); len(heard) > 0 {
		t.Errorf("the browser complains: %v", heard)
	}
}
