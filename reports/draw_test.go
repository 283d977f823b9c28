package reports

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// BenchmarkDraw draws one chart that nobody has drawn before.
func BenchmarkDraw(b *testing.B) {
	var weeks []record.Week
	for i := range 12 {
		to := workout.MustDate("2026-10-04") - workout.Date(7*(11-i))
		weeks = append(weeks, record.Week{From: to - 6, To: to, Minutes: float64(60 + 5*i), Longest: 30, Sessions: make([]record.Session, 3)})
	}
	c, err := minutesChart("minutes", weeks, "")
	if err != nil {
		b.Fatal(err)
	}
	if _, err := draw(c.Option, 100, 100); err != nil {
		b.Fatal(err)
	}
	for i := range b.N {
		if _, err := draw(c.Option, 300+i%1000, 200+i/1000); err != nil {
			b.Fatal(err)
		}
	}
}

// TestADrawingIsTheSameEachTime: whatever was drawn before, a chart gives the same text, and the names in it are no
// other drawing's.
func TestADrawingIsTheSameEachTime(t *testing.T) {
	if _, err := readRuntime(built, "draw.js"); err != nil {
		t.Skip(err)
	}
	option := json.RawMessage(`{"xAxis":{"type":"value"},"yAxis":{"type":"value"},"series":[{"type":"line","clip":true,"data":[[0,1],[1,2]]}]}`)
	first, err := draw(option, 300, 200)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(first, "clip-path") {
		t.Fatal("the drawing refers to nothing")
	}
	if _, err := draw(option, 301, 200); err != nil {
		t.Fatal(err)
	}
	drawings = shelf{most: drawings.most}
	again, err := draw(option, 300, 200)
	if err != nil || again != first {
		t.Errorf("drawn again it is another text: %v", err)
	}
	names := regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(first, -1)
	other, err := draw(option, 301, 200)
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, n := range names {
		if strings.Contains(other, n[1]) || !strings.Contains(first, "#"+n[1]) {
			t.Errorf("the name %s", n[1])
		}
	}
}
