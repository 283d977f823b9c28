package main

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"
	"time"
)

// watcher is standard output that looks for files at the first word that it is given, as a reader that
// goes away by then would leave them.
type watcher struct {
	paths   []string
	said    bool
	missing []string
}

func (w *watcher) Write(p []byte) (int, error) {
	if !w.said {
		w.said = true
		for _, path := range w.paths {
			if found, err := filepath.Glob(path); err != nil || len(found) == 0 {
				w.missing = append(w.missing, path)
			}
		}
	}
	return len(p), nil
}

// TestFilesComeBeforeTheFirstWord: `prescribe NAME --ics F --fit DIR | head -1` ends the program at its
// first or second line, and the files must be there by then.
func TestFilesComeBeforeTheFirstWord(t *testing.T) {
	book, dir := filepath.Join(t.TempDir(), "book"), t.TempDir()
	ran := func(out *watcher, args ...string) {
		t.Helper()
		var errs bytes.Buffer
		code := run(context.Background(), append([]string{"--book", book}, args...), surroundings{out: out, err: &errs, now: time.Now})
		if code != done {
			t.Fatalf("%q: exit code %d: %s", args, code, errs.String())
		}
	}
	ran(&watcher{}, "client", "add", "Runa", "--born", "1984-03-12", "--stage", "1", "--since", "2026-07-06", "--modes", "walk",
		"--screened", "2026-07-04", "--active", "no", "--disease", "none", "--signs", "none", "--medicine", "none")
	for _, form := range []string{"", "--text", "--json"} {
		ics, fit := filepath.Join(dir, "runa"+form+".ics"), filepath.Join(dir, "watch"+form)
		out := &watcher{paths: []string{ics, filepath.Join(fit, "*.fit")}}
		args := []string{"prescribe", "Runa", "--as-of", "2026-07-12", "--ics", ics, "--fit", fit}
		if form != "" {
			args = append(args, form)
		}
		ran(out, args...)
		if !out.said || len(out.missing) > 0 {
			t.Errorf("%s: at the first word %q were missing", form, out.missing)
		}
	}
}
