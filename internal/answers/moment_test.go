package answers_test

import (
	"testing"
	"time"

	"nextrung/internal/answers"
)

// TestMoment: only words that give the moment itself mark one; the time at which something was over does not.
func TestMoment(t *testing.T) {
	start := time.Date(2026, 10, 3, 17, 0, 0, 0, time.FixedZone("", 3600))
	for words, want := range map[string]int{
		"chest tight in minute 12": 720, "12 minutes in I felt dizzy": 720, "20 min into it": 1200, "at 17:05 my heart raced": 300,
		"gone after 12 minutes": -1, "minute 50": -1, "at 16:59": -1, "at 18:00": -1, "pace was 5:30": -1, "dizzy": -1, "": -1, "minute 999": -1,
	} {
		at, ok := answers.Moment(words, start, 2040)
		if !ok {
			at = -1
		}
		if at != want {
			t.Errorf("%q: %d, want %d", words, at, want)
		}
	}
	if _, ok := answers.Moment("at 17:05", time.Time{}, 2040); ok {
		t.Error("a moment by the clock without a start")
	}
}
