package wording_test

import (
	"testing"

	"nextrung/internal/wording"
)

func TestNothingThatATerminalObeysIsShown(t *testing.T) {
	for text, want := range map[string]string{
		"a\x1b[2Jb\x07\x7f\u009b31m": "a?[2Jb???31m", "run\u202Etif.\u2066x": "run?tif.?x", "a\tb\nc": "a\tb\nc",
		"bad \xff byte": "bad ? byte", "Zoë – 71 min": "Zoë – 71 min", "\r": "?",
	} {
		if got := wording.Shown(text); got != want {
			t.Errorf("%q is shown as %q, want %q", text, got, want)
		}
	}
}

// The names are those of Microsoft's "Naming Files, Paths, and Namespaces", from memory.
func TestNamesThatWindowsReserves(t *testing.T) {
	for _, name := range []string{"con", "NUL", "nul.fit", "aux.tar.gz", "COM1", "lpt9.x", "COM¹", "Runa.", "Runa "} {
		if !wording.Reserved(name) {
			t.Errorf("%q is not reserved", name)
		}
	}
	for _, name := range []string{"Connie", "COM", "COM10", "nullo", "Runa", "a.con", ""} {
		if wording.Reserved(name) {
			t.Errorf("%q is reserved", name)
		}
	}
}
