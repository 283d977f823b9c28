package coach_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// A file that was written a moment ago is waited for; an interrupt ends the waiting.
func TestTakingInStopsWaitingWhenInterrupted(t *testing.T) {
	c := open(t)
	if err := os.WriteFile(filepath.Join(c.DropFolder("Runa"), "growing.fit"), []byte("half a file"), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	began := time.Now()
	_, err := c.TakeIn(ctx, day("2026-09-01"), nil)
	if waited := time.Since(began); !errors.Is(err, context.DeadlineExceeded) || waited > time.Second {
		t.Errorf("after %s: %v", waited, err)
	}
	if _, err := os.Stat(filepath.Join(c.DropFolder("Runa"), "growing.fit")); err != nil {
		t.Errorf("the file is gone: %v", err)
	}
}
