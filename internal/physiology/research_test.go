package physiology

import (
	"os"
	"testing"
)

// researching says whether the studies run too: tests that draw, fit or read by the hundred to show how good a
// method is, rather than to guard it.
var researching = os.Getenv("NEXTRUNG_RESEARCH") == "1"

// Research skips a study unless it was switched on.
func Research(t *testing.T, why string) {
	t.Helper()
	if !researching {
		t.Skipf("%s; run it with: NEXTRUNG_RESEARCH=1 go test ./internal/physiology -run '^%s$'", why, t.Name())
	}
}

// OneIn is how many recordings go past for each that is read where all would take long: none in research.
func OneIn() int {
	if researching {
		return 1
	}
	return 6
}
