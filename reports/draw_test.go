package reports

import (
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
