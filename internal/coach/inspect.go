package coach

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"nextrung/internal/fault"
	"nextrung/internal/fieldtest"
	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// Inspection is what one file contains, read without a book. Its JSON is a contract: keys
// are added, never renamed.
type Inspection struct {
	File     string         `json:"file"`
	SHA256   workout.Digest `json:"sha256"`
	Format   string         `json:"format"`
	Error    string         `json:"error"`
	Remarks  []string       `json:"remarks"`
	Workouts []Inspected    `json:"workouts"`
}

// Inspected is one workout of an inspected file.
type Inspected struct {
	Sport     workout.Sport      `json:"sport"`
	Start     *time.Time         `json:"start"` // null when the file has no date
	Elapsed   int                `json:"elapsed_s"`
	Paused    int                `json:"paused_s"`
	HeartRate inspectedHeartRate `json:"heart_rate"`
	Zones     *inspectedZones    `json:"zones"`
	Phases    []physiology.Phase `json:"phases"`
	// Recoveries carry their basis, which says why a value is null or unreliable.
	Recoveries []physiology.Recovery `json:"recoveries"`
	Drift      inspectedDrift        `json:"drift"`
	Onset      []physiology.Onset    `json:"onset"`
	Load       physiology.Load       `json:"load"`
	// Check and SameEffort are null unless the workout has the shape for them.
	Check      *inspectedCheck      `json:"check"`
	SameEffort *inspectedSameEffort `json:"same_effort"`
	// Held is the highest heart rate of 15 s, null without 15 s of heart rate.
	Held    *inspectedHeld `json:"held_15_s"`
	Remarks []string       `json:"remarks"`
	// Faults are the faults of the sensor that were found, Grade what the heart rate may be used for.
	Faults []heartrate.Fault `json:"faults"`
	Grade  inspectedGrade    `json:"grade"`
	// FieldTest and Energy are there only on request.
	FieldTest *fieldtest.Result  `json:"field_test,omitempty"`
	Energy    *physiology.Energy `json:"energy_kcal,omitempty"`
}

// Asked is what an inspection does on top of the usual measurements. A field test holds what was typed;
// the rest is read from the recording.
type Asked struct {
	Step   *fieldtest.Step
	Walk   *fieldtest.Walk
	Energy bool
	MassKG float64
}

// inspectedGrade always has a list of reasons.
type inspectedGrade struct {
	heartrate.Grade
	Reasons []heartrate.Reason `json:"reasons"`
}

type inspectedHeartRate struct {
	Usable   bool     `json:"usable"`
	Source   string   `json:"source"`
	Coverage *float64 `json:"coverage"`
	Mean     *float64 `json:"mean_bpm"`
	Min      *float64 `json:"min_bpm"`
	Peak     *float64 `json:"peak_bpm"`
	Rejected int      `json:"rejected_s"`
	Gap      int      `json:"longest_gap_s"`
}

type inspectedZones struct {
	Edges [4]float64 `json:"edges_bpm"`
	physiology.ZoneTime
}

type inspectedDrift struct {
	Assessable bool     `json:"assessable"`
	Why        string   `json:"why"`
	From       *int     `json:"from_s"`
	To         *int     `json:"to_s"`
	Slope      *float64 `json:"slope_bpm_per_10min"`
	Low        *float64 `json:"low"`
	High       *float64 `json:"high"`
}

type inspectedCheck struct {
	Assessable bool     `json:"assessable"`
	Why        string   `json:"why"`
	From       int      `json:"from_s"`
	To         int      `json:"to_s"`
	Rise       *float64 `json:"rise_bpm"` // last 5 min minus minutes 8 to 12
	Load       float64  `json:"load"`
	Unit       string   `json:"unit"`
}

type inspectedSameEffort struct {
	Assessable bool     `json:"assessable"`
	Why        string   `json:"why"`
	Mean       *float64 `json:"mean_bpm"` // minutes 5 to 15
	Load       *float64 `json:"load"`
	Unit       string   `json:"unit"`
}

// inspectedHeld is a held heart rate. Peak says whether it may show a maximum; Why gives the reason if not.
type inspectedHeld struct {
	BPM  float64 `json:"bpm"`
	From int     `json:"from_s"`
	To   int     `json:"to_s"`
	Peak bool    `json:"peak"`
	Why  string  `json:"why"`
}

// Inspect reads one file, or each file of an archive, and measures every workout in it for a body, with
// what was asked on top.
func (asked Asked) Inspect(name string, b []byte, body physiology.Body) (out []Inspection) {
	for _, f := range recording.Decode(name, b) {
		out = append(out, asked.inspect(f, body))
	}
	return out
}

// InspectFile does the same with a file on disk, and hands on what it finds one file of an archive after the other. A
// file that cannot be read gives a [FileTrouble].
func (asked Asked) InspectFile(ctx context.Context, path string, body physiology.Body, each func(Inspection) error) error {
	return readFile(ctx, path, func(f recording.File) error { return each(asked.inspect(f, body)) })
}

func (asked Asked) inspect(f recording.File, body physiology.Body) Inspection {
	in := Inspection{
		File: f.Name, SHA256: f.Digest, Format: f.Format,
		Remarks: reasons.Texts(f.Remarks), Workouts: []Inspected{},
	}
	if f.Err != nil {
		in.Error = f.Err.Error()
	}
	for _, w := range f.Workouts {
		s := heartrate.Clean(w)
		m := physiology.Measure(s, w, body, false)
		one := inspected(w, m)
		one.Faults = reasons.WriteFaults(s.Faults)
		one.Grade = inspectedGrade{s.Grade, reasons.WriteGrade(s.Grade.Reasons)}
		switch {
		case asked.Step != nil:
			t := reasons.WriteTest(fieldtest.ReadStep(s, w, *asked.Step).Result(body))
			one.FieldTest = &t
		case asked.Walk != nil:
			t := reasons.WriteTest(fieldtest.ReadWalk(s, w, *asked.Walk).Result(body))
			one.FieldTest = &t
		}
		if asked.Energy {
			e := physiology.EnergyOf(s, body, asked.MassKG, len(m.Bouts) > 0)
			e.Basis = reasons.Text(e.Says)
			one.Energy = &e
		}
		in.Workouts = append(in.Workouts, one)
	}
	return in
}

// InspectPage draws the only workout of a file for a body into a new page, which stands alone. A file with several workouts
// is refused.
func InspectPage(ctx context.Context, path string, body physiology.Body, page string) error {
	var rec record.Recording
	var found []workout.Workout
	err := readFile(ctx, path, func(f recording.File) error {
		if f.Err != nil {
			return fmt.Errorf("%s: %w", f.Name, f.Err)
		}
		if found = append(found, f.Workouts...); len(found) > 1 {
			return fault.New(fault.Refused, "%s holds more than one workout, and a page shows one; unpack or split the file, and draw each by itself", filepath.Base(path))
		}
		rec.Name = f.Name
		return nil
	})
	if err != nil {
		return err
	}
	if len(found) == 0 {
		return fault.New(fault.Refused, "%s holds no workout", filepath.Base(path))
	}
	w, s := found[0], heartrate.Clean(found[0])
	rec.Workout, rec.Measured = w, physiology.Measure(s, w, body, false)
	if !w.Start.IsZero() {
		rec.Date = workout.DateOf(w.Start, time.UTC)
	}
	drawn, err := reports.Inspected(rec, s, w, body.Slowed)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(page, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return fault.Exists(page)
	}
	if err != nil {
		return fmt.Errorf("cannot write the page: %w", err)
	}
	_, err = f.Write(drawn)
	return errors.Join(err, f.Close())
}

func inspected(w workout.Workout, m physiology.Measurements) Inspected {
	m = reasons.WriteMeasurements(m)
	h, d := m.HeartRate, m.Drift
	out := Inspected{
		Sport: w.Sport, Start: only(!w.Start.IsZero(), w.Start), Elapsed: h.Elapsed, Paused: h.Paused,
		HeartRate: inspectedHeartRate{h.Usable, h.Source.String(), h.Coverage, h.Mean, h.Min, h.Peak, h.Rejected, h.Gap},
		Phases:    append([]physiology.Phase{}, m.Phases...),
		Onset:     append([]physiology.Onset{}, m.Onsets...),
		Load:      m.Load, Recoveries: append([]physiology.Recovery{}, m.Recoveries...),
		Drift:   inspectedDrift{d.Enough, d.Clause, only(d.Enough, d.From), only(d.Enough, d.To), only(d.Enough, d.Slope), only(d.Enough, d.Low), only(d.Enough, d.High)},
		Remarks: reasons.Texts(append(append([]workout.Fact{}, w.Remarks...), m.Remarks...)),
	}
	if m.Zones != nil {
		out.Zones = &inspectedZones{m.Edges.BPM, *m.Zones}
	}
	if c := m.Check; c != nil {
		out.Check = &inspectedCheck{c.Enough, c.Clause, c.From, c.To, only(c.Enough, c.Rise), c.Load, c.Unit}
	}
	if e := m.SameEffort; e != nil {
		out.SameEffort = &inspectedSameEffort{e.Enough, e.Clause, only(e.Enough, e.Mean), only(e.Enough, e.Load), e.Unit}
	}
	if h := m.Held; h != nil {
		out.Held = &inspectedHeld{h.BPM, h.From, h.To, h.Enough, h.Clause}
	}
	return out
}

// only is a value that is known, null in JSON when it is not.
func only[T any](known bool, v T) *T {
	if !known {
		return nil
	}
	return &v
}
