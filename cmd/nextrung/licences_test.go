package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
	"time"

	"nextrung/reports"
)

// The command names every module of the program, in the version that was built in, and gives its text.
func TestLicences(t *testing.T) {
	licences := func(args ...string) (string, string, int) {
		var out, errs bytes.Buffer
		code := run(context.Background(), append([]string{"licences"}, args...), surroundings{out: &out, err: &errs, now: time.Now, getenv: func(string) string { return "" }})
		return out.String(), errs.String(), code
	}
	out, errs, code := licences()
	if strings.Contains(errs, "go generate ./reports") && os.Getenv("CI") == "" {
		t.Skip(errs)
	}
	if code != done {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	for _, name := range []string{"chart runtime", "github.com/alecthomas/kong", "gonum.org/v1/gonum", "modernc.org/sqlite", "go1."} {
		if !strings.Contains(out, name) {
			t.Errorf("%s is missing in:\n%s", name, out)
		}
	}
	texts, _, _ := licences("--texts")
	if len(texts) < 10*len(out) || !strings.Contains(texts, "Redistribution and use in source and binary forms") {
		t.Errorf("--texts gives %d bytes, the list %d", len(texts), len(out))
	}
	lines, _, _ := licences("--json")
	if n := strings.Count(lines, `{"name":`); n < 20 || n != strings.Count(lines, "\n") || strings.Contains(lines, "Redistribution") {
		t.Errorf("--json gives %d objects in:\n%s", n, lines)
	}
	// Of what nothing was gathered the command says so.
	if err := withoutLicence([]reports.Licence{{Name: "gonum.org/v1/gonum", Version: "v0.0.1"}}); err == nil || !strings.Contains(err.Error(), "gonum.org/v1/gonum v0.17") {
		t.Errorf("missing licences are not named: %v", err)
	}
}
