package main

import (
	"fmt"
	"os"
	"reflect"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"
	"github.com/schollz/progressbar/v3"

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

// numbers reads n numbers separated by commas.
func numbers(flag, text string, n int) ([]float64, error) {
	parts := strings.Split(text, ",")
	if len(parts) != n {
		return nil, misuse("%s %q: give %d numbers separated by commas", flag, text, n)
	}
	out := make([]float64, n)
	for i, p := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil {
			return nil, misuse("%s %q: %q is not a number", flag, text, p)
		}
		out[i] = v
	}
	return out, nil
}

// modes reads mode=value pairs such as run=190,bike=181.
func modes(flag, text string) (map[workout.Mode]string, error) {
	out := map[workout.Mode]string{}
	for pair := range strings.SplitSeq(text, ",") {
		name, value, ok := strings.Cut(strings.TrimSpace(pair), "=")
		mode, known := modeNamed(name)
		if !ok || !known {
			return nil, misuse("%s %q: write pairs like run=190,bike=181; modes are walk, run, bike, row, swim and other", flag, text)
		}
		out[mode] = value
	}
	return out, nil
}

func modeNamed(name string) (workout.Mode, bool) {
	for _, m := range workout.Modes() {
		if string(m) == name {
			return m, true
		}
	}
	return "", false
}

// rpe reads a rating on its scale.
func rpe(value float64, scale int) (*workout.RPE, error) {
	if value < 0 {
		return nil, nil
	}
	low, high := 6.0, 20.0
	if scale == 10 {
		low, high = 0, 10
	}
	if value < low || value > high {
		return nil, misuse("--rpe %g is outside the scale %g to %g; say --scale 10 for a rating from 0 to 10", value, low, high)
	}
	return &workout.RPE{Value: value, Scale: scale}, nil
}

// bar shows progress of long work on a terminal, and nothing elsewhere.
func (s *surroundings) bar(what string) func(done, all int) {
	if !s.terminal {
		return func(int, int) {}
	}
	var b *progressbar.ProgressBar
	return func(done, all int) {
		if b == nil {
			b = progressbar.NewOptions(all, progressbar.OptionSetWriter(s.err), progressbar.OptionSetDescription(what),
				progressbar.OptionClearOnFinish(), progressbar.OptionSetWidth(24))
		}
		_ = b.Set(done)
	}
}

// isTerminal says whether a file is a character device, as a terminal is.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// say prints one line for people.
func (s *surroundings) say(format string, args ...any) { fmt.Fprintf(s.out, format+"\n", args...) }

// warn prints one line on standard error.
func (s *surroundings) warn(format string, args ...any) {
	fmt.Fprintf(s.err, "nextrung: "+format+"\n", args...)
}
