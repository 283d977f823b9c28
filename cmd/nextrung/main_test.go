package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
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
	testscript.Main(tidied{m}, map[string]func(){"nextrung": main})
}

// TestScripts runs the command line as people do, each script in a fresh home.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Setup: func(env *testscript.Env) error {
			recordings, err := recordingsFolder()
			if err != nil {
				return err
			}
			env.Setenv("RECORDINGS", recordings)
			env.Setenv("XDG_DATA_HOME", env.WorkDir+"/data")
			env.Setenv("NEXTRUNG_BOOK", env.WorkDir+"/book")
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

// exits runs a command and checks its exit code: exits 3 nextrung inspect broken.fit
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND [ARG...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d\n%s%s", got, want, ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}
