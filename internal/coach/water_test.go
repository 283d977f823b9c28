package coach_test

import (
	"fmt"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// TestSwimsWithoutAPulse: files of swims whose heart rate is lost, from the first minute or after a short stretch at the wall,
// lead to a plan by feel; swims with a heart rate do not.
func TestSwimsWithoutAPulse(t *testing.T) {
	for name, x := range map[string]struct {
		seconds int // of heart rate that are kept
		hidden  bool
	}{"none": {0, true}, "the first minutes": {240, true}, "all": {3600, false}} {
		c := open(t)
		is := clientOf(t, c)
		is.Modes = []workout.Mode{workout.Swim}
		put(t, c, is, day("2026-08-02"))
		for i := range 4 {
			on := day("2026-08-31") + workout.Date(2*i)
			w := walk(on.String()+"T06:00:00Z", simulate.Options{})
			w.Sport = workout.Swimming
			n := min(x.seconds, w.HeartRate.Len())
			w.HeartRate = workout.Channel{T: w.HeartRate.T[:n], V: w.HeartRate.V[:n]}
			receive(t, c, coach.Intake{Client: "Runa", On: on}, fmt.Sprintf("swim%d.fit", i), encode(t, "fit", w))
		}
		plan, a, err := c.Prescribe(t.Context(), "Runa", day("2026-09-07"))
		if err != nil {
			t.Fatal(err)
		}
		hidden := false
		for _, f := range a.Cautions {
			hidden = hidden || f.Code == progression.PulseUnderWater
		}
		text := plan.Text()
		if hidden != x.hidden || strings.Contains(text, "at the wall") != x.hidden || strings.Contains(text, "Watch alarm") == x.hidden {
			t.Errorf("%s: hidden %v\n%s", name, hidden, text)
		}
		for _, s := range plan.Sessions {
			if x.hidden && (s.High > 0 || s.Kind == prescription.Check) {
				t.Errorf("%s: %+v", name, s)
			}
		}
		if strings.Contains(text, "Keep recording") == x.hidden {
			t.Errorf("%s: %s", name, text)
		}
	}
}
