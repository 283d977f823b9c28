package main

import (
	"fmt"
	"io"
	"os"
	"reflect"

	"github.com/alecthomas/kong"
	"github.com/schollz/progressbar/v3"

	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

var dateType = reflect.TypeOf(workout.Date(0))

// decodeDate reads a day written YYYY-MM-DD.
func decodeDate(ctx *kong.DecodeContext, target reflect.Value) error {
	var text string
	if err := ctx.Scan.PopValueInto("date", &text); err != nil {
		return err
	}
	d, err := workout.ParseDate(text)
	if err != nil {
		return err
	}
	target.Set(reflect.ValueOf(d))
	return nil
}

// bar shows progress of long work on a terminal, and nothing elsewhere.
func (s *surroundings) bar(what string) func(done, all int) {
	if !s.terminal {
		return func(int, int) {}
	}
	var b *progressbar.ProgressBar
	return func(done, all int) {
		if b == nil {
			b = progressbar.NewOptions(all, progressbar.OptionSetWriter(raw(s.err)), progressbar.OptionSetDescription(what),
				progressbar.OptionClearOnFinish(), progressbar.OptionSetWidth(24))
		}
		_ = b.Set(done)
	}
}

// tame writes text from files and notes so that no terminal obeys it.
type tame struct{ to io.Writer }

func (w tame) Write(b []byte) (int, error) {
	if _, err := w.to.Write([]byte(wording.Shown(string(b)))); err != nil { // not WriteString, which a guarded writer may not guard
		return 0, err
	}
	return len(b), nil
}

// raw is what a writer writes to as it is, for what moves about on the line itself.
func raw(w io.Writer) io.Writer {
	if s, ok := w.(tame); ok {
		return s.to
	}
	return w
}

// isTerminal says whether a file is a character device, as a terminal is.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// say prints one line for people.
func (s *surroundings) say(format string, args ...any) { fmt.Fprintf(s.out, format+"\n", args...) }

// list prints lines under a head, and nothing where there are none.
func (s *surroundings) list(head string, lines []string) {
	if len(lines) > 0 {
		s.say("\n%s", head)
	}
	for _, line := range lines {
		s.say("  %s", line)
	}
}

// warn prints one line on standard error.
func (s *surroundings) warn(format string, args ...any) {
	fmt.Fprintf(s.err, "nextrung: "+format+"\n", args...)
}
