package coach

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"nextrung/internal/fault"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Export writes everything that the book holds about a client into a zip archive: the originals as they came in, the facts,
// tables with a dictionary of their columns, and the pages as of a day.
func (c *Coach) Export(ctx context.Context, client string, on workout.Date, to io.Writer) error {
	r, err := c.book.Record(ctx, client, endOfTime)
	if err != nil {
		return err
	}
	z := zip.NewWriter(to)
	add := func(name string, b []byte) error {
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: on.Noon(time.UTC)})
		if err == nil {
			_, err = f.Write(b)
		}
		return err
	}
	facts, err := json.MarshalIndent(r.Client, "", " ")
	if err != nil {
		return err
	}
	if err := add("facts.json", facts); err != nil {
		return err
	}
	if err := addTables(r, add); err != nil {
		return err
	}
	if err := c.addOriginals(ctx, r, add); err != nil {
		return err
	}
	if err := c.addPages(ctx, client, on, add); err != nil {
		return err
	}
	return z.Close()
}

// ExportFile is Export into a new file, which has its name only when it is whole. It refuses a name that is taken.
func (c *Coach) ExportFile(ctx context.Context, client string, on workout.Date, file string) error {
	if _, err := os.Lstat(file); err == nil {
		return fault.Exists(file)
	}
	part, err := os.CreateTemp(filepath.Dir(file), ".export-")
	if err != nil {
		return fmt.Errorf("cannot write the export: %w", err)
	}
	defer os.Remove(part.Name())
	err = c.Export(ctx, client, on, part)
	if err := errors.Join(err, part.Sync(), part.Close()); err != nil {
		return err
	}
	return os.Rename(part.Name(), file)
}

func (c *Coach) addOriginals(ctx context.Context, r record.Record, add func(string, []byte) error) error {
	seen := map[workout.Digest]bool{}
	for _, rec := range r.Recordings {
		if seen[rec.File] {
			continue
		}
		seen[rec.File] = true
		b, _, err := c.book.Original(ctx, rec.File)
		if err != nil {
			return err
		}
		if err := add(originalName(rec), b); err != nil {
			return err
		}
	}
	return nil
}

// originalName is where an archive has the original of a recording: its digest keeps names apart that are alike.
func originalName(rec record.Recording) string {
	return "originals/" + rec.File.Short() + "-" + path.Base(safe(rec.Name))
}

func (c *Coach) addPages(ctx context.Context, client string, on workout.Date, add func(string, []byte) error) error {
	dir, err := os.MkdirTemp("", "nextrung-export-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	all, err := c.Standings(ctx, []string{client}, on)
	if err != nil {
		return err
	}
	if err := c.WorkoutPages(ctx, all[0], int(on-workout.Date(1)), dir); err != nil {
		return err
	}
	if _, err := c.Report(ctx, all, on, dir, false); err != nil {
		return err
	}
	return filepath.WalkDir(dir, func(file string, f fs.DirEntry, err error) error {
		if err != nil || f.IsDir() {
			return err
		}
		b, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		return add(path.Join("pages", f.Name()), b)
	})
}

// column is one column of a table in an archive: its name, what it means, its unit ("" for none), and its value in
// one row; "" is what is not on record.
type column[R any] struct {
	name, means, unit string
	of                func(R) string
}

// inertText explains in the dictionary what inert does.
const inertText = "text that a spreadsheet would run as a formula (it begins with =, +, -, @, a tab or a line break) has an apostrophe before it; an empty cell means not recorded"

func addTables(r record.Record, add func(string, []byte) error) error {
	dictionary := [][]string{{"table", "column", "meaning", "unit", "method", "error"}, {"all", "all", inertText, "", "", ""}}
	return errors.Join(
		addTable("sessions.csv", r.Done(), sessionColumns(r.Client.Name), &dictionary, add),
		addTable("recordings.csv", r.Recordings, recordingColumns, &dictionary, add),
		addTable("sessions-reported.csv", r.Reports, reportColumns, &dictionary, add),
		addTable("notes.csv", r.Notes, noteColumns, &dictionary, add),
		addTable("decisions.csv", r.Decisions, decisionColumns, &dictionary, add),
		add("dictionary.csv", inCSV(dictionary)),
	)
}

func addTable[R any](file string, all []R, columns []column[R], dictionary *[][]string, add func(string, []byte) error) error {
	var head []string
	for _, c := range columns {
		head = append(head, c.name)
		*dictionary = append(*dictionary, []string{file, c.name, c.means, c.unit, made[c.name].method, made[c.name].error})
	}
	rows := [][]string{head}
	for _, r := range all {
		var row []string
		for _, c := range columns {
			row = append(row, inert(c.of(r)))
		}
		rows = append(rows, row)
	}
	return add(file, inCSV(rows))
}

// inert keeps a spreadsheet from taking text for a formula (OWASP, CSV injection). Numbers stay numbers.
func inert(text string) string {
	if text == "" || !strings.ContainsRune("=+-@\t\r\n", rune(text[0])) {
		return text
	}
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return text
	}
	return "'" + text
}

func inCSV(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.WriteAll(rows) // writing to memory cannot fail
	return b.Bytes()
}

func whole(n int) string      { return fmt.Sprint(n) }
func figure(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

func orNothing(v *float64) string {
	if v == nil {
		return ""
	}
	return figure(*v)
}

// inZone is a column of seconds in a zone; without the facts for zones there are none.
func inZone(name, means string, of func(record.Recording) int) column[record.Recording] {
	return column[record.Recording]{name, means, "s", func(r record.Recording) string {
		if r.Measured.Zones == nil {
			return ""
		}
		return whole(of(r))
	}}
}

var recordingColumns = []column[record.Recording]{
	{"id", "name of the recording in the book", "", func(r record.Recording) string { return r.ID }},
	{"file", "the original in this archive", "", originalName},
	{"sha256", "digest of the original's bytes", "", func(r record.Recording) string { return r.File.String() }},
	{"received", "day on which it came in", "date", func(r record.Recording) string { return r.Received.String() }},
	{"date", "day of the start in the client's time zone", "date", func(r record.Recording) string { return r.Date.String() }},
	{"start", "start in UTC", "date and time", func(r record.Recording) string {
		if r.Workout.Start.IsZero() {
			return ""
		}
		return r.Workout.Start.Format(time.RFC3339)
	}},
	{"sport", "kind of sport", "", func(r record.Recording) string { return string(r.Workout.Sport) }},
	{"left_out", "why it does not count; empty if it counts", "", func(r record.Recording) string {
		if r.Counts() {
			return ""
		}
		return reasons.Text(r.Aside)
	}},
	{"elapsed", "length with pauses", "s", func(r record.Recording) string { return whole(r.Measured.HeartRate.Elapsed) }},
	{"paused", "pauses", "s", func(r record.Recording) string { return whole(r.Measured.HeartRate.Paused) }},
	{"sensor", "kind of sensor", "", func(r record.Recording) string { return string(r.Measured.HeartRate.Source) }},
	{"coverage", "share of the time with a heart rate", "0 to 1", func(r record.Recording) string { return orNothing(r.Measured.HeartRate.Coverage) }},
	{"mean", "mean heart rate", "bpm", func(r record.Recording) string { return orNothing(r.Measured.HeartRate.Mean) }},
	{"least", "lowest heart rate", "bpm", func(r record.Recording) string { return orNothing(r.Measured.HeartRate.Min) }},
	{"peak", "highest 5 s mean", "bpm", func(r record.Recording) string { return orNothing(r.Measured.HeartRate.Peak) }},
	inZone("under_zone_1", "time under zone 1", func(r record.Recording) int { return r.Measured.Zones.Under }),
	inZone("zone_1", "time in zone 1", func(r record.Recording) int { return r.Measured.Zones.Zone1 }),
	inZone("zone_2", "time in zone 2", func(r record.Recording) int { return r.Measured.Zones.Zone2 }),
	inZone("zone_3", "time in zone 3", func(r record.Recording) int { return r.Measured.Zones.Zone3 }),
	inZone("over_zone_3", "time over zone 3", func(r record.Recording) int { return r.Measured.Zones.Over }),
	inZone("not_recorded", "time without a heart rate", func(r record.Recording) int { return r.Measured.Zones.NotRecorded }),
	{"drift", "slow rise at constant load after 10 min; empty where it cannot be found", "bpm per 10 min", func(r record.Recording) string { return orNothing(driftOf(r)) }},
	{"drop_60", "largest drop in heart rate 60 s after a stop", "bpm", func(r record.Recording) string { return orNothing(largestDrop(r)) }},
	{"banister_impulse", "load after Banister", "1", func(r record.Recording) string { return orNothing(r.Measured.Load.Banister) }},
	{"lucia_weighted", "load after Lucia: minutes weighted by zone", "min", func(r record.Recording) string { return orNothing(r.Measured.Load.Lucia) }},
}

var reportColumns = []column[record.Report]{
	{"id", "name in the book", "", func(r record.Report) string { return r.ID }},
	{"date", "day of the session", "date", func(r record.Report) string { return r.Date.String() }},
	{"entered", "day on which it was entered", "date", func(r record.Report) string { return r.Entered.String() }},
	{"minutes", "length", "min", func(r record.Report) string { return figure(r.Minutes) }},
	{"sport", "kind of sport", "", func(r record.Report) string { return string(r.Sport) }},
	{"effort", "perceived effort", "on effort_scale", func(r record.Report) string { return effortOf(r.RPE) }},
	{"effort_scale", "20 for the scale from 6 to 20, 10 for 0 to 10", "", func(r record.Report) string { return scaleOf(r.RPE) }},
	{"talk", "how talking went", "", func(r record.Report) string { return string(r.Talk) }},
}

var noteColumns = []column[record.Note]{
	{"id", "name in the book", "", func(n record.Note) string { return n.ID }},
	{"date", "day it is about", "date", func(n record.Note) string { return n.Date.String() }},
	{"entered", "day on which it was entered", "date", func(n record.Note) string { return n.Entered.String() }},
	{"by", "who asked or entered it", "", func(n record.Note) string { return n.By }},
	{"effort", "perceived effort", "on effort_scale", func(n record.Note) string { return effortOf(n.RPE) }},
	{"effort_scale", "20 for the scale from 6 to 20, 10 for 0 to 10", "", func(n record.Note) string { return scaleOf(n.RPE) }},
	{"talk", "how talking went", "", func(n record.Note) string { return string(n.Talk) }},
	{"enjoyment", "how enjoyable it was; empty if nobody asked", "1 to 5", func(n record.Note) string {
		if n.Enjoyment == 0 {
			return ""
		}
		return whole(n.Enjoyment)
	}},
	{"resting", "resting heart rate that morning; empty if nobody measured", "bpm", func(n record.Note) string {
		if n.HRRest == 0 {
			return ""
		}
		return figure(n.HRRest)
	}},
	{"heat", "air temperature", "°C", func(n record.Note) string { return orNothing(n.HeatC) }},
	{"symptoms", "signs and symptoms", "", func(n record.Note) string { return strings.Join(asText(n.Symptoms), "; ") }},
	{"no_sign", "yes: asked, and there was no sign", "", func(n record.Note) string { return yes(n.NoSign) }},
	{"text", "as it was written", "", func(n record.Note) string { return n.Text }},
}

var decisionColumns = []column[record.Decision]{
	{"entered", "day that it is for", "date", func(d record.Decision) string { return d.Entered.String() }},
	{"typed", "day on which it was entered by the clock, where that is a later one", "date", func(d record.Decision) string {
		if d.Typed == 0 {
			return ""
		}
		return d.Typed.String()
	}},
	{"decision", "what the trainer decided", "", func(d record.Decision) string { return string(d.Act) }},
	{"from", "first day on which it holds", "date", func(d record.Decision) string { return d.From.String() }},
	{"stage", "stage from then on", "1 to 3", func(d record.Decision) string { return whole(d.Stage) }},
	{"recommended", "what the policy recommended; empty for nothing", "", func(d record.Decision) string {
		if d.Verdict == nil {
			return ""
		}
		return string(*d.Verdict)
	}},
	{"because", "the trainer's reason", "", func(d record.Decision) string { return d.Because }},
	{"by", "who decided", "", func(d record.Decision) string { return d.By }},
	{"seal", "digest over this decision and the one before", "", func(d record.Decision) string { return d.Digest.String() }},
}

func effortOf(r *workout.RPE) string {
	if r == nil {
		return ""
	}
	return figure(r.Value)
}

func scaleOf(r *workout.RPE) string {
	if r == nil {
		return ""
	}
	return whole(r.Scale)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// ExportName is the name of an archive of a client.
func ExportName(client string, on workout.Date) string {
	plain := strings.Map(func(r rune) rune {
		if slices.Contains([]rune{' ', '"', '\'', ';'}, r) || r > 0x7e {
			return '-'
		}
		return r
	}, strings.ToLower(client))
	return fmt.Sprintf("%s-%s.zip", plain, on)
}
