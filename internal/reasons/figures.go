package reasons

import (
	"fmt"

	"nextrung/internal/fieldtest"
	"nextrung/internal/wording"
)

// Figure is one figure of a field test with its error: "maximal oxygen uptake per kg: 38.2 mL/kg/min, 33.2 to 43.2 (…)".
func Figure(f fieldtest.Figure) string {
	digits := 0
	switch {
	case f.Unit == "s":
		return f.Name + ": " + wording.Clock(int(f.Value+0.5))
	case f.Value < 10:
		digits = 2
	case f.Unit == fieldtest.PerKG:
		digits = 1
	}
	out := fmt.Sprintf("%s: %.*f %s", f.Name, digits, f.Value, f.Unit)
	switch {
	case f.Low != nil && f.High != nil:
		out += fmt.Sprintf(", %.*f to %.*f", digits, *f.Low, digits, *f.High)
	case f.High != nil:
		out += fmt.Sprintf(", at most %.*f", digits, *f.High)
	}
	if f.Error != "" {
		out += " (" + f.Error + ")"
	}
	return out
}

// Class is the class of a field test's result, or why there is none; "" where the test has no norms.
func Class(t fieldtest.Result) string {
	if t.Rating != "" {
		return "class: " + t.Rating + " (" + t.Norms + ")"
	}
	return t.Norms
}
