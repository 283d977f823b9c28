package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/alecthomas/kong"
)

// block is one block of code in README with the paragraph that leads to it.
type block struct {
	lead, kind, text string
}

func readmesBlocks(t *testing.T) (readme string, blocks []block) {
	t.Helper()
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	parts := regexp.MustCompile("(?m)^```").Split(string(b), -1)
	if len(parts)%2 == 0 {
		t.Fatal("README.md opens a block of code and does not close it")
	}
	for i := 1; i < len(parts); i += 2 {
		before := strings.Split(strings.TrimSpace(parts[i-1]), "\n\n")
		kind, text, _ := strings.Cut(parts[i], "\n")
		blocks = append(blocks, block{before[len(before)-1], kind, text})
	}
	return string(b), blocks
}

// commandLines are the lines of a block, those that end in a backslash joined with the next.
func (b block) commandLines() []string {
	return strings.Split(strings.TrimSpace(strings.ReplaceAll(b.text, "\\\n", " ")), "\n")
}

// isCommands says whether the first line of a block is a command; then every line must be one.
func (b block) isCommands() bool {
	return strings.HasPrefix(b.text, "go ") || strings.HasPrefix(b.text, "./nextrung ")
}

// demoHome is a home in which `nextrung demo` ran, once for all tests; removeDemoHome ends it.
var (
	demoHome       = sync.OnceValues(runDemo)
	removeDemoHome = func() {}
)

func runDemo() (string, error) {
	home, err := os.MkdirTemp("", "nextrung-home-")
	if err != nil {
		return "", err
	}
	removeDemoHome = func() { os.RemoveAll(home) }
	demo := exec.Command("nextrung", "demo")
	demo.Env = append(os.Environ(), "XDG_DATA_HOME="+home)
	return filepath.Join(home, "nextrung-demo"), demo.Run()
}

// copyOfDemo puts a copy of the demo's book into a folder that is not there yet.
func copyOfDemo(dir string) error {
	book, err := demoHome()
	if err != nil {
		return err
	}
	return os.CopyFS(dir, os.DirFS(book))
}

// TestReadmesCommandsRun runs every command of README's blocks of code in their order, in a fresh home.
// A block is of commands, of JSON (TestReadmeShowsARealInspection makes that one) or, once, the answer of a
// client, which is given to `note --paste`. The commands of Go are run by the gate, so they must stand there.
func TestReadmesCommandsRun(t *testing.T) {
	_, blocks := readmesBlocks(t)
	gate, err := os.ReadFile("../../.ci/run")
	if err != nil {
		t.Fatal(err)
	}
	recordings, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	var answer string
	for _, b := range blocks {
		if !b.isCommands() && b.kind != "json" {
			if answer != "" {
				t.Fatalf("two blocks are neither commands nor JSON:\n%s\n%s", answer, b.text)
			}
			answer = b.text
		}
	}
	if answer == "" {
		t.Fatal("README shows no answer of a client")
	}

	t.Chdir(t.TempDir())
	t.Setenv("XDG_DATA_HOME", "data")
	t.Setenv("NEXTRUNG_BOOK", "")
	demo := filepath.Join("data", "nextrung-demo")
	if err := copyOfDemo(demo); err != nil {
		t.Fatalf("nextrung demo: %v", err)
	}
	write := func(name string, b []byte, err error) {
		t.Helper()
		if err == nil {
			err = os.MkdirAll(filepath.Dir(name), 0o755)
		}
		if err == nil {
			err = os.WriteFile(name, b, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for name, from := range map[string]string{
		"run.fit": "walk-steady.fit", "step.fit": "walk-steady.fit", "mile.fit": "walk-steady.fit",
		"old-exports/run.tcx.gz": "run-pause.tcx.gz", "old-exports/walk.gpx": "walk-wrist-sparse.gpx",
	} {
		b, err := os.ReadFile(filepath.Join(recordings, from))
		write(name, b, err)
	}
	write("answer.txt", []byte(answer), nil)
	policy, err := os.ReadFile(filepath.Join(demo, "policy.toml"))
	write("my-policy.toml", bytes.Replace(policy, []byte("threshold = 75"), []byte("threshold = 90"), 1), err)

	day := time.Date(2026, 10, 5, 9, 0, 0, 0, time.UTC) // the day after the demo's last, Monday
	ran := func(b block, line string, args []string) {
		if strings.Contains(b.lead, "demo's book") {
			args = append([]string{"--book", demo}, args...)
		}
		var out, errs bytes.Buffer
		code := run(context.Background(), args, surroundings{
			in: strings.NewReader(answer), out: &out, err: &errs, now: func() time.Time { return day },
		})
		want := done
		if slices.Contains(args, "--paste") {
			want = refused // the answer holds what may be a grave sign, and a question comes back
		}
		if code != want {
			t.Errorf("%s: exit code %d, want %d\n%s%s", line, code, want, out.String(), errs.String())
		}
	}
	n := 0
	for _, b := range blocks {
		if !b.isCommands() {
			continue
		}
		for _, line := range b.commandLines() {
			command, remark, _ := strings.Cut(line, "  #")
			for part := range strings.SplitSeq(strings.TrimSpace(command), " && ") {
				words := wordsOf(part)
				switch {
				case part == "go run ./cmd/nextrung demo": // copyOfDemo ran it
				case words[0] == "go":
					if !strings.Contains("\n"+string(gate), "\n"+part) {
						t.Errorf("%s: the gate does not run it", part)
					}
				case words[0] == "./nextrung":
					ran(b, part, words[1:])
					// The same test typed instead of recorded: the flags in place of the file.
					if _, typed, ok := strings.Cut(remark, "or typed: "); ok {
						ran(b, line, append(words[1:len(words)-1:len(words)-1], wordsOf(typed)...))
					}
				default:
					t.Errorf("%s: neither a command of nextrung nor of Go", part)
				}
				n++
			}
		}
	}
	if n < 15 {
		t.Errorf("only %d commands were found in README", n)
	}
}

// wordsOf splits a command line as a shell would that knows double quotes only.
func wordsOf(line string) []string {
	words := regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(line, -1)
	for i, w := range words {
		words[i] = strings.Trim(w, `"`)
	}
	return words
}

// TestReadmeNamesRealCommandsAndFlags: what README names between its blocks is there, too.
func TestReadmeNamesRealCommandsAndFlags(t *testing.T) {
	readme, _ := readmesBlocks(t)
	parser, err := kong.New(&commands{}, kong.TypeMapper(dateType, kong.MapperFunc(decodeDate)))
	if err != nil {
		t.Fatal(err)
	}
	names, flags := map[string]bool{}, map[string]bool{}
	kong.Visit(parser.Model, func(node kong.Visitable, next kong.Next) error {
		switch node := node.(type) {
		case *kong.Node:
			names[node.Name] = true
		case *kong.Flag:
			flags["--"+node.Name] = true
		}
		return next(nil)
	})
	for _, span := range regexp.MustCompile("`[^`\n]+`").FindAllString(readme, -1) {
		for _, flag := range regexp.MustCompile(`--[a-z][a-z-]*`).FindAllString(span, -1) {
			if !flags[flag] {
				t.Errorf("%s: there is no flag %s", span, flag)
			}
		}
	}
	rows := regexp.MustCompile("(?m)^\\| `([a-z]+)").FindAllStringSubmatch(readme, -1)
	for _, row := range rows {
		if !names[row[1]] {
			t.Errorf("there is no command %q", row[1])
		}
	}
	if len(rows) < 10 || len(flags) < 50 {
		t.Errorf("%d rows and %d flags were compared", len(rows), len(flags))
	}
}
