package coach_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Pages are printed by the browser of the computer; without one, or when it fails, nothing half is left.
func TestPaper(t *testing.T) {
	c := open(t)
	dir := t.TempDir()
	for _, name := range []string{"decision-runa.html", "progress-runa.html", "progress-runa.svg", "roster.html"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("<!doctype html><title>"+name+"</title><p>one page</p>"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	fake := func(does string) string {
		path := filepath.Join(t.TempDir(), "browser")
		if err := os.WriteFile(path, []byte("#!/bin/sh\nfor a in \"$@\"; do case $a in --print-to-pdf=*) to=${a#*=};; file:*) from=$a;; esac; done\n"+does+"\n"), 0o700); err != nil {
			t.Fatal(err)
		}
		return path
	}
	files, err := c.Paper(t.Context(), fake(`echo "$from" > "$to"`), dir, []string{"Runa"}, true)
	if err != nil || len(files) != 3 {
		t.Fatalf("%v: %v", files, err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if page := strings.TrimSuffix(f, ".pdf") + ".html"; err != nil || strings.TrimSpace(string(b)) != "file://"+page {
			t.Errorf("%s was printed from %q: %v", f, b, err)
		}
		os.Remove(f)
	}
	for does, says := range map[string]string{"echo no display >&2; exit 1": "no display", "exit 0": "could not print", `echo half > "$to"; exit 1`: "could not print"} {
		if _, err := c.Paper(t.Context(), fake(does), dir, []string{"Runa"}, false); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", does, err)
		}
	}
	t.Setenv("PATH", t.TempDir())
	if _, err := c.Paper(t.Context(), "", dir, []string{"Runa"}, false); err == nil || !strings.Contains(err.Error(), "install Chromium") {
		t.Errorf("without a browser: %v", err)
	}
	if _, err := c.Paper(t.Context(), "nowhere", dir, []string{"Runa"}, false); err == nil || !strings.Contains(err.Error(), `"nowhere"`) {
		t.Errorf("a browser that is not there: %v", err)
	}
	left, err := filepath.Glob(filepath.Join(dir, "*.p*"))
	if err != nil || len(left) != 0 {
		t.Errorf("left: %v, %v", left, err)
	}
}

// The real browser makes a PDF.
func TestPaperOfABrowser(t *testing.T) {
	if os.Getenv("NEXTRUNG_BROWSER") == "" {
		t.Skip("set NEXTRUNG_BROWSER=1 to print in a browser")
	}
	if _, err := exec.LookPath("chromium"); err != nil {
		t.Fatal(err)
	}
	c := open(t)
	dir := t.TempDir()
	page := filepath.Join(dir, "progress-runa.html")
	if err := os.WriteFile(page, []byte("<!doctype html><title>Runa</title><p>one page</p>"), 0o600); err != nil {
		t.Fatal(err)
	}
	files, err := c.Paper(t.Context(), "", dir, []string{"Runa"}, false)
	if err != nil || len(files) != 1 {
		t.Fatalf("%v: %v", files, err)
	}
	if b, err := os.ReadFile(files[0]); err != nil || !strings.HasPrefix(string(b), "%PDF-") {
		t.Errorf("%d bytes, %v", len(b), err)
	}
}
