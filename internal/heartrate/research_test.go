package heartrate_test

import (
	"os"
	"testing"
)

// researching says whether the studies run too: tests that draw, fit or read by the hundred to show how good a
// method is, rather than to guard it.
var researching = os.Getenv("NEXTRUNG_RESEARCH") == "1"

// research skips a study unless it was switched on.
func research(t *testing.T, why string) {
	t.Helper()
	if !researching {
		t.Skipf("%s; run it with: NEXTRUNG_RESEARCH=1 go test ./internal/heartrate -run '^%s$'", why, t.Name())
	}
}
