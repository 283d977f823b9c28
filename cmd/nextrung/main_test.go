package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"nextrung/reports"
)

// tidied runs the tests and removes the demo that they share.
type tidied struct{ *testing.M }

func (m tidied) Run() int {
	defer func() { removeDemoHome() }()
	return m.M.Run()
}

func TestMain(m *testing.M) {
	debug.SetGCPercent(400) // collecting what the tests drop would cost a third of their time
	testscript.Main(tidied{m}, map[string]func(){"nextrung": main})
}

// inTurn runs scripts one after the other, since the folder and the environment belong to the whole process.
type inTurn struct{ *testing.T }

func (t inTurn) Parallel()     {}
func (t inTurn) Verbose() bool { return testing.Verbose() }
func (t inTurn) Run(name string, f func(testscript.T)) {
	t.T.Run(name, func(t *testing.T) { f(inTurn{t}) })
}

// TestScripts runs the command line as people do, each script in a fresh home.
func TestScripts(t *testing.T) {
	testscript.RunT(inTurn{t}, testscript.Params{
		Dir: "testdata",
		Setup: func(env *testscript.Env) error {
			recordings, err := recordingsFolder()
			if err != nil {
				return err
			}
			env.Setenv("RECORDINGS", recordings)
			t := env.T().(inTurn)
			t.Chdir(env.WorkDir)
			for name, value := range map[string]string{
				"HOME": env.Getenv("HOME"), "XDG_DATA_HOME": env.WorkDir + "/data", "NEXTRUNG_BOOK": env.WorkDir + "/book",
			} {
				env.Setenv(name, value)
				t.Setenv(name, value)
			}
			for ago := range 3 { // DAY1 is yesterday
				env.Setenv(fmt.Sprintf("DAY%d", ago+1), time.Now().AddDate(0, 0, -ago-1).Format(time.DateOnly))
			}
			return nil
		},
		Condition: func(cond string) (bool, error) {
			if cond != "runtime" {
				return false, fmt.Errorf("there is no condition %q", cond)
			}
			_, _, err := reports.Runtime()
			return err == nil || os.Getenv("CI") == "true", nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){"exits": exits, "demo": copyDemo},
	})
}

// recordingsFolder is the project's own testdata, made by simulate.
func recordingsFolder() (string, error) {
	wd, err := os.Getwd()
	return wd + "/../../testdata", err
}

// copyDemo copies the book that `nextrung demo` made: demo DIR
func copyDemo(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: demo DIR")
	}
	ts.Check(copyOfDemo(ts.MkAbs(args[0])))
}

// exits runs a command line of nextrung and checks its exit code: exits 3 nextrung inspect broken.fit
// A last "< FILE" is what is typed. The command runs in the process of the test, as `main` would run it; with
// "exec" before it, it is a program of its own: exits 3 exec nextrung inspect broken.fit
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE [exec] nextrung [ARG...] [< FILE]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	switch args[1] {
	case "exec":
		err := ts.Exec(args[2], args[3:]...)
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			got = exit.ExitCode()
		} else {
			ts.Check(err)
		}
		fmt.Fprint(ts.Stdout(), ts.ReadFile("stdout"))
		fmt.Fprint(ts.Stderr(), ts.ReadFile("stderr"))
	case "nextrung":
		got = inProcess(ts, args[2:])
	default:
		ts.Fatalf("%s is not nextrung", args[1])
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// inProcess runs a command line in this process, which has the folder and the environment of the script.
func inProcess(ts *testscript.TestScript, args []string) int {
	typed := ""
	if n := len(args); n > 1 && args[n-2] == "<" {
		args, typed = args[:n-2], ts.ReadFile(args[n-1])
	}
	for _, name := range []string{"HOME", "NEXTRUNG_BOOK"} { // which a script may change
		ts.Check(os.Setenv(name, ts.Getenv(name)))
	}
	return run(context.Background(), args, surroundings{
		in: strings.NewReader(typed), out: ts.Stdout(), err: ts.Stderr(), now: time.Now,
	})
}
