package web_test

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

// crew is a book of n clients with two weeks of walks each.
func crew(t testing.TB, n int) desk {
	t.Helper()
	ctx := context.Background()
	c, err := coach.Open(ctx, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	for i := range n {
		name := fmt.Sprintf("Hand%d", i)
		err := c.AddClient(ctx, record.Client{
			Name: name, Born: workout.MustDate("1980-03-01"), Sex: "female", Stage: 1, Since: today - 60, State: record.Active, Days: 3, Minutes: 40,
			Modes: []workout.Mode{workout.Walk}, Zones: []record.ZoneSet{{HRRest: 62}},
			Screening: record.Screening{On: today - 61, Active: true, Disease: "none"},
		}, today-60)
		if err != nil {
			t.Fatal(err)
		}
		for k := range 4 {
			file := walkOf(t, today-workout.Date(3*k+1), uint64(i))
			if _, err := c.Receive(ctx, coach.Intake{Client: name, On: today}, fmt.Sprintf("%d.tcx", k), file); err != nil {
				t.Fatal(err)
			}
		}
	}
	d := web.New(c, func() workout.Date { return today }, func() time.Time { return today.Noon(time.UTC) })
	return desk{Coach: c, handler: d.Handler(host)}
}

// look asks for a page and gives how long that took.
func (d desk) look(t testing.TB, path string) time.Duration {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, path, nil)
	r.Host = host
	w := httptest.NewRecorder()
	began := time.Now()
	d.handler.ServeHTTP(w, r)
	took := time.Since(began)
	if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "</html>") {
		t.Fatalf("%s: %d", path, w.Code)
	}
	return took
}

// BenchmarkDesk times the week of 300 clients, a client's row opened, a client's page and the page of all, with nothing new and after a change.
func BenchmarkDesk(b *testing.B) {
	d := crew(b, 300)
	b.Logf("the week for the first time: %v", d.look(b, "/"))
	b.Logf("all clients for the first time: %v", d.look(b, "/clients.html"))
	for name, path := range map[string]string{"week": "/", "row": "/?open=Hand7", "page": "/decision-hand7.html", "clients": "/clients.html"} {
		d.look(b, path)
		d.look(b, path) // the first look may have kept a plan
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				d.look(b, path)
			}
		})
	}
	b.Run("week after a change", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			if err := d.Tick(context.Background(), "Hand9", record.Tick{What: record.PlanSent, Of: fmt.Sprint(i), Day: today}); err != nil {
				b.Fatal(err)
			}
			d.look(b, "/")
		}
	})
}

// What another program enters is on the page at the next look, and what nothing new rests upon is the same.
func TestAnotherProgramIsSeen(t *testing.T) {
	d := crew(t, 3)
	d.t = t
	_, before := d.get("/")
	d.get("/clients.html")
	if _, again := d.get("/"); again != before {
		t.Error("the page changed although nothing did")
	}
	other, err := coach.Open(t.Context(), d.Dir)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	m, err := other.ReadMessage(t.Context(), "Hand1", "Sat 12. bit tight across the chest on the hill", today, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := other.EnterMessage(t.Context(), m, false, today); err != nil {
		t.Fatal(err)
	}
	_, after := d.get("/")
	contains(t, after, "tight across the chest on the hill", "Unanswered")
	if _, page := d.get("/decision-hand1.html"); !strings.Contains(page, "tight across the chest on the hill") {
		t.Error("the client's page does not know")
	}
	if _, page := d.get("/clients.html"); !strings.Contains(page, "Held back") {
		t.Error("the page of all clients does not know")
	}
	if err := other.Forget(t.Context(), "Hand1", today, true); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/", "/clients.html"} {
		if _, page := d.get(path); strings.Contains(page, "Hand1") {
			t.Errorf("a forgotten client is still on %s", path)
		}
	}
}
