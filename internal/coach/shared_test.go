package coach_test

import (
	"context"
	"nextrung/internal/coach"
	"nextrung/internal/demo"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync"
	"testing"
)

// crew is the demo's book, open, with the standings of its last day.
type crew struct {
	*coach.Coach
	standings []coach.Standing
}

// played makes the demo's book once for all tests; removeDemo ends it with the test binary.
var (
	played     = sync.OnceValues(playDemo)
	removeDemo = func() {}
)

func playDemo() (crew, error) {
	dir, err := os.MkdirTemp("", "demo-")
	if err != nil {
		return crew{}, err
	}
	removeDemo = func() { os.RemoveAll(dir) }
	c, standings, err := demo.Make(context.Background(), filepath.Join(dir, "demo"), nil)
	if err != nil {
		return crew{}, err
	}
	removeDemo = func() { c.Close(); os.RemoveAll(dir) }
	return crew{c, standings}, nil
}

// sharedDemo is the demo's book, which every test may read and none may change.
func sharedDemo(t *testing.T) (*coach.Coach, []coach.Standing) {
	t.Helper()
	d, err := played()
	if err != nil {
		t.Fatal(err)
	}
	return d.Coach, d.standings
}

func TestMain(m *testing.M) {
	debug.SetGCPercent(400) // collecting what the tests drop would cost a third of their time
	code := m.Run()
	removeDemo()
	os.Exit(code)
}

// research skips a test that measures the method over many sessions, unless it is wanted. The gate
// finds such tests by the end of their name.
func research(t *testing.T) {
	t.Helper()
	if !strings.HasSuffix(t.Name(), "Research") {
		t.Fatalf("%s is research: its name must end in Research, or the gate never runs it", t.Name())
	}
	if os.Getenv("NEXTRUNG_RESEARCH") != "1" && !*update {
		t.Skipf("takes long; run it with: NEXTRUNG_RESEARCH=1 go test ./internal/coach -run %s", t.Name())
	}
}
