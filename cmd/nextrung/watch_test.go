package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/tormoder/fit"

	"nextrung/internal/signs"
)

// onTheWatch is one planned session as another library reads it from the file for the watch.
type onTheWatch struct {
	day, kind, mode string
	seconds         int
	low, high       int // of the session, in bpm; 0 where the watch sets no bound
	bouts, boutLow  int
	comfortable     string // the heart rates of its longest comfortable part
	parts           string // in the words of the plan
	note            string // that the watch shows first
}

// bound is a target of a watch in bpm (FIT profile, workout_hr: 100 is added), 0 for one that no reading reaches.
func bound(v uint32, none int) int {
	if bpm := int(v) - 100; bpm != none {
		return bpm
	}
	return 0
}

// readWatch decodes a workout for a watch and says it in the words of the plan. Only the file is read.
func (s *shown) readWatch(path string) onTheWatch {
	b, err := os.ReadFile(path)
	if err != nil {
		s.t.Fatal(err)
	}
	f, err := fit.Decode(bytes.NewReader(b))
	if err != nil {
		s.t.Fatalf("%s: %v", path, err)
	}
	plan, err := f.Workout()
	if err != nil {
		s.t.Fatalf("%s: %v", path, err)
	}
	var w onTheWatch
	w.day, w.kind, _ = strings.Cut(plan.Workout.WktName, ": ")
	w.mode = map[fit.Sport]string{fit.SportRunning: "run", fit.SportWalking: "walk", fit.SportCycling: "bike", fit.SportRowing: "row", fit.SportSwimming: "swim"}[plan.Workout.Sport]
	var parts []string
	between, longest := "", 0
	for i, step := range plan.WorkoutSteps {
		if i == 0 {
			w.note = step.Notes
		}
		value, _ := step.GetDurationValue().(float64)
		seconds, feel := int(value), strings.ToLower(find(step.Notes, `(Comfortable|Brisk|Hard): `))
		low, high := 0, 0
		if step.TargetType == fit.WktStepTargetHeartRate {
			low, high = bound(step.CustomTargetValueLow, 30), bound(step.CustomTargetValueHigh, 230)
		}
		w.seconds, w.high = w.seconds+seconds, max(w.high, high)
		length := fmt.Sprintf("%d s", seconds)
		if seconds%60 == 0 {
			length = fmt.Sprintf("%d min", seconds/60)
		}
		switch step.Intensity {
		case fit.IntensityWarmup:
			parts = append(parts, length+" easy to warm up")
		case fit.IntensityCooldown:
			parts = append(parts, length+" easy to cool down")
		case fit.IntensityRecovery:
			between = " with " + length + " comfortable in between"
		default:
			if bout := find(step.WktStepName, `Bout \d+/(\d+)`); bout != "" {
				if w.bouts++; w.bouts == 1 {
					parts = append(parts, length+" "+feel)
				}
				w.boutLow = low
				s.same("bouts on the watch", step.WktStepName, fmt.Sprintf("Bout %d/%s", w.bouts, bout))
				continue
			}
			if w.kind == "check session" {
				feel = "comfortable at one steady speed"
			}
			parts = append(parts, length+" "+feel)
			if seconds > longest {
				longest, w.low, w.comfortable = seconds, low, fmt.Sprintf("between %d and %d", low, high)
				if low == 0 {
					w.comfortable = fmt.Sprintf("below %d", high)
				}
			}
		}
	}
	if w.bouts > 1 {
		w.low = 0
		for i, p := range parts {
			if !strings.Contains(p, "easy") && !strings.HasSuffix(p, "comfortable") {
				parts[i] = fmt.Sprintf("%d × %s%s", w.bouts, p, between)
			}
		}
	}
	w.parts = strings.Join(parts, ", ")
	return w
}

// alarms are the heart rates of a session in the words of the plan's table, and in those of its messages.
func (w onTheWatch) alarms() (table, message string) {
	switch {
	case w.high == 0:
		return "no heart rates", ""
	case w.low > 0:
		return fmt.Sprintf("%d to %d bpm", w.low, w.high), fmt.Sprintf("low %d, high %d", w.low, w.high)
	}
	return fmt.Sprintf("at most %d bpm", w.high), fmt.Sprintf("high %d", w.high)
}

// readWatches compares what the watch is given with the plan for the trainer, the message and the calendar: days,
// names, minutes, parts, bouts and heart rates of each session.
func (s *shown) readWatches() {
	entries := strings.Split(s.calendar, "BEGIN:VEVENT")[1:]
	lines := regexp.MustCompile(`(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ \w{3} [a-z ]+? (?:run|walk|bike|row|swim|other) \d+ min .*? cool down`).FindAllString(s.trainer, -1)
	s.same("sessions in the plan's table", strconv.Itoa(len(s.watch)), strconv.Itoa(len(lines)), strconv.Itoa(len(entries)))
	if len(lines) != len(s.watch) || len(entries) != len(s.watch) {
		return
	}
	for i, path := range s.watch {
		w := s.readWatch(path)
		table, alarms := w.alarms()
		s.same("a session on the watch and in the plan", fmt.Sprintf("%s %s %s %d min %s %s", w.day, w.kind, w.mode, (w.seconds+30)/60, table, w.parts), lines[i])
		s.same("its parts in the message and the calendar", w.parts, find(s.message, `(\Q`+w.parts+`\E)`), find(entries[i], `(\Q`+w.parts+`\E)`))
		s.same("its minutes in the calendar", strconv.Itoa((w.seconds+30)/60), find(entries[i], `SUMMARY:[^\n]*\((\d+) min\)`))
		s.same("its day in the name of the file", filepath.Base(path)[:10], find(entries[i], `DTSTART[^:]*:(\d{4})\d{4}`)+"-"+find(entries[i], `DTSTART[^:]*:\d{4}(\d\d)`)+"-"+find(entries[i], `DTSTART[^:]*:\d{6}(\d\d)`))
		s.same("what the watch shows first", signs.StopLine, find(w.note, `^(\Q`+signs.StopLine+`\E)`))
		if w.high == 0 {
			s.never(true, s.message+entries[i], `Watch alarms?`)
			continue
		}
		s.same("its alarms in the calendar", alarms, find(entries[i], `Watch alarms?: ((?:low \d+, )?high \d+)\.`))
		s.never(w.bouts > 0 && w.boutLow == 0, s.trainer, `it will rise to`)
		if w.boutLow > 0 {
			s.same("how far the pulse rises", strconv.Itoa(w.boutLow), find(s.trainer, `it will rise to (\d+) or more`))
		}
		if w.comfortable == "" { // nothing but bouts
			continue
		}
		s.same("comfortable on the watch", w.comfortable, find(s.trainer, `[A-Z]\w+: comfortable\. .*?Keep your pulse (between \d+ and \d+|below \d+)`))
	}
}
