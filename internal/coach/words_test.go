package coach_test

import (
	"testing"

	"nextrung/internal/coach"
)

func TestWordsAsPeopleTypeThem(t *testing.T) {
	modes, sports := []string{"run", "walk", "bike", "row"}, []string{"running", "walking", "cycling", "strength"}
	for _, c := range []struct {
		typed   string
		allowed []string
		want    string
	}{
		{"walk", modes, "walk"}, {"walking", modes, "walk"}, {"walk", sports, "walking"}, {"Walking", sports, "walking"},
		{"cycling", modes, "bike"}, {"bike", sports, "cycling"}, {" ROW ", modes, "row"},
		{"easy", []string{"comfortable", "hard", "no"}, "comfortable"}, {"Comfortable", []string{"comfortable", "hard", "no"}, "comfortable"},
		{"no", []string{"comfortable", "hard", "no"}, "no"}, {"N", []string{"yes", "no"}, "no"},
		{"F", []string{"female", "male"}, "female"}, {"Male", []string{"female", "male"}, "male"}, {"m", []string{"female", "male"}, "male"},
		{"Monday", []string{"mon", "tue"}, "mon"}, {"", modes, ""},
	} {
		if got, err := coach.Word("modes", c.typed, c.allowed...); err != nil || got != c.want {
			t.Errorf("%q among %v: %q, %v; want %q", c.typed, c.allowed, got, err, c.want)
		}
	}
	for _, typed := range []string{"fly", "x", "wal", "walk run", "female,male"} {
		if got, err := coach.Word("modes", typed, "run", "walk", "female", "male"); err == nil {
			t.Errorf("%q is taken for %q", typed, got)
		}
	}
}
