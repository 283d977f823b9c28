package coach_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/outside"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/signs"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

var day = workout.MustDate

// open makes a book in a fresh folder with two clients, both walkers at stage 1 since 1 August.
func open(t *testing.T) *coach.Coach {
	t.Helper()
	c, err := coach.Open(context.Background(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	for _, name := range []string{"Runa", "Ketil"} {
		err := c.AddClient(context.Background(), record.Client{
			Name: name, Born: day("1980-03-01"), Sex: "female", Stage: 1, Since: day("2026-08-01"), State: record.Active,
			Modes: []workout.Mode{workout.Walk}, Zones: []record.ZoneSet{{HRRest: 62}},
			Screening: record.Screening{On: day("2026-07-30"), Active: true},
		}, day("2026-08-01"))
		if err != nil {
			t.Fatal(err)
		}
	}
	return c
}

// walk is a played half-hour walk at a time, by a sensor.
func walk(at string, o simulate.Options) workout.Workout {
	o.Start, _ = time.Parse(time.RFC3339, at)
	o.Seed = 7
	plan := workout.Plan{Mode: workout.Walk, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300, Low: 95, High: 105}, {Kind: workout.Steady, Seconds: 1200, Low: 118, High: 126},
		{Kind: workout.CoolDown, Seconds: 300, Low: 90, High: 100},
	}}
	w, _ := simulate.Play(plan, simulate.Beginner(62, 180), o)
	return w
}

func encode(t *testing.T, format string, w workout.Workout) []byte {
	t.Helper()
	b, err := recording.Encode(format, w)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func receive(t *testing.T, c *coach.Coach, in coach.Intake, name string, b []byte) []coach.Receipt {
	t.Helper()
	r, err := c.Receive(context.Background(), in, name, b)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func recordOf(t *testing.T, c *coach.Coach, name, on string, late bool) record.Record {
	t.Helper()
	r, err := c.Record(context.Background(), name, day(on), late)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func counting(r record.Record) (n int) {
	for _, rec := range r.Recordings {
		if rec.Counts() {
			n++
		}
	}
	return n
}

func TestReceiveTheSameBytesTwiceIsOnce(t *testing.T) {
	c := open(t)
	b := encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{}))
	in := coach.Intake{Client: "Runa", On: day("2026-09-01")}
	if r := receive(t, c, in, "a.tcx", b); r[0].Status != coach.Entered || len(r[0].Recordings) != 1 {
		t.Fatalf("%+v", r)
	}
	if r := receive(t, c, in, "b.tcx", b); r[0].Status != coach.Known {
		t.Errorf("again: %+v", r)
	}
	var zipped bytes.Buffer
	z := zip.NewWriter(&zipped)
	f, _ := z.Create("deep/down/c.tcx")
	f.Write(b)
	z.Close()
	if r := receive(t, c, in, "c.zip", zipped.Bytes()); r[0].Status != coach.Known || r[0].Name != "c.zip!deep/down/c.tcx" {
		t.Errorf("in an archive: %+v", r)
	}
	in.Client = "Ketil"
	if r := receive(t, c, in, "a.tcx", b); r[0].Status != coach.Refused || !strings.Contains(r[0].Why, "Runa") {
		t.Errorf("for somebody else: %+v", r)
	}
	if n := counting(recordOf(t, c, "Runa", "2026-09-02", false)); n != 1 {
		t.Errorf("%d recordings count", n)
	}
}

func TestReceiveOneWorkoutFromTwoDevicesCountsOnce(t *testing.T) {
	for _, tc := range []struct {
		name   string
		second string // start of the second recording
		sensor workout.Sensor
		counts string // the file that counts in the end
	}{
		{"clock 12 s apart, strap wins", "2026-09-01T06:00:12Z", workout.Strap, "second.fit"},
		{"clock 12 s apart, wrist loses", "2026-09-01T06:00:12Z", workout.Wrist, "first.tcx"},
		{"another time zone", "2026-09-01T08:30:00Z", workout.UnknownSensor, "first.tcx"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			c := open(t)
			in := coach.Intake{Client: "Runa", On: day("2026-09-01")}
			receive(t, c, in, "first.tcx", encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{})))
			in.Sensor = tc.sensor
			r := receive(t, c, in, "second.fit", encode(t, "fit", walk(tc.second, simulate.Options{})))
			if r[0].Status != coach.Entered {
				t.Fatalf("%+v", r)
			}
			var got []string
			for _, rec := range recordOf(t, c, "Runa", "2026-09-02", false).Recordings {
				if rec.Counts() {
					got = append(got, rec.Name)
				}
			}
			if strings.Join(got, " ") != tc.counts {
				t.Errorf("counting: %v, want %s", got, tc.counts)
			}
		})
	}
}

func TestReceiveTwoWalksOfOneDayBothCount(t *testing.T) {
	c := open(t)
	in := coach.Intake{Client: "Runa", On: day("2026-09-01")}
	receive(t, c, in, "morning.tcx", encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{})))
	evening := walk("2026-09-01T17:00:00Z", simulate.Options{DayBPM: 9})
	receive(t, c, in, "evening.tcx", encode(t, "tcx", evening))
	if n := counting(recordOf(t, c, "Runa", "2026-09-02", false)); n != 2 {
		t.Errorf("%d of 2 count", n)
	}
}

func TestReceiveRefusesWithReason(t *testing.T) {
	c := open(t)
	in := coach.Intake{Client: "Runa", On: day("2026-09-01")}
	for name, b := range map[string][]byte{
		"nothing.csv": []byte("hello"),
		"no-time.csv": []byte("hr\n100\n101\n"),
	} {
		r := receive(t, c, in, name, b)
		if len(r) != 1 || r[0].Status != coach.Refused || r[0].Why == "" {
			t.Errorf("%s: %+v", name, r)
		}
	}
	undated := []byte("elapsed [s],heart rate [bpm]\n0,100\n1,101\n2,102\n")
	if r := receive(t, c, in, "elapsed.csv", undated); r[0].Status != coach.Waits || r[0].Help != fault.NameDay {
		t.Errorf("a file without a date: %+v", r)
	}
	in.Day = day("2026-08-30")
	if r := receive(t, c, in, "elapsed.csv", undated); r[0].Status != coach.Entered {
		t.Errorf("its day was named: %+v", r)
	}
	if _, err := c.Receive(context.Background(), coach.Intake{Client: "Nobody"}, "a.csv", nil); err == nil || !strings.Contains(err.Error(), "Nobody") {
		t.Errorf("unknown client: %v", err)
	}
}

func TestReceiveTakesTheDayFromTheTrainerWhenTheFileHasNone(t *testing.T) {
	c := open(t)
	b := []byte("elapsed [s],heart rate [bpm]\n0,100\n1,101\n2,102\n")
	in := coach.Intake{Client: "Runa", On: day("2026-09-05"), Day: day("2026-09-01")}
	if r := receive(t, c, in, "elapsed.csv", b); r[0].Status != coach.Entered || r[0].Recordings[0].Date != in.Day {
		t.Fatalf("%+v", r)
	}
	if err := c.Reassess(context.Background(), "Runa"); err != nil {
		t.Fatal(err)
	}
	if r := recordOf(t, c, "Runa", "2026-09-05", false); r.Recordings[0].Date != in.Day || r.Recordings[0].Workout.Start.IsZero() {
		t.Errorf("%+v", r.Recordings[0])
	}
}

func TestRecordKnowsOnlyWhatHadArrived(t *testing.T) {
	c := open(t)
	b := encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{}))
	receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-20")}, "late.tcx", b)
	b = encode(t, "tcx", walk("2026-09-03T06:00:00Z", simulate.Options{}))
	receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-20"), Backlog: true}, "old.tcx", b)
	for _, tc := range []struct {
		on   string
		late bool
		want int
	}{
		{"2026-09-02", false, 0}, {"2026-09-02", true, 1}, {"2026-09-05", false, 1}, {"2026-09-05", true, 2}, {"2026-09-20", false, 2},
	} {
		if n := counting(recordOf(t, c, "Runa", tc.on, tc.late)); n != tc.want {
			t.Errorf("by %s, late %v: %d, want %d", tc.on, tc.late, n, tc.want)
		}
	}
}

func TestTakeInEmptiesTheDropFolder(t *testing.T) {
	c := open(t)
	good := encode(t, "gpx", walk("2026-09-01T06:00:00Z", simulate.Options{}))
	put := func(rel string, b []byte) string {
		path := filepath.Join(c.Dir, "drop", rel)
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		old := time.Now().Add(-time.Minute)
		if err := os.Chtimes(path, old, old); err != nil {
			t.Fatal(err)
		}
		return path
	}
	taken := put("runa/a.gpx", good)
	bad := put("Runa/bad.fit", []byte("no recording"))
	loose := put("loose.gpx", good)
	stranger := put("Stranger/a.gpx", good)
	put("Stranger/deep/b.gpx", good) // a folder of nobody is named once, whatever lies in it
	dropped, err := c.TakeIn(context.Background(), day("2026-09-02"), nil)
	if err != nil || len(dropped) != 4 {
		t.Fatalf("%v, %+v", err, dropped)
	}
	for path, gone := range map[string]bool{taken: true, bad: true, loose: false, stranger: false} {
		if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) != gone {
			t.Errorf("%s: gone should be %v", path, gone)
		}
	}
	kept, _ := filepath.Glob(filepath.Join(c.Dir, "drop", "refused", "Runa", "*-bad.fit"))
	notes, _ := filepath.Glob(filepath.Join(c.Dir, "drop", "refused", "Runa", "*-bad.fit.txt"))
	if len(kept) != 1 || len(notes) != 1 {
		t.Fatalf("refused: %v, %v", kept, notes)
	}
	if text, _ := os.ReadFile(notes[0]); !strings.Contains(string(text), "Dropped for: Runa") || len(text) < 40 {
		t.Errorf("the reason reads %q", text)
	}
	if n := counting(recordOf(t, c, "Runa", "2026-09-02", false)); n != 1 {
		t.Errorf("%d recordings", n)
	}
	for name, text := range map[string]string{"0a1b-quay.fit": "no recording", "0a1b-quay.fit.txt": "Dropped for: Runa\nFile: Runa/quay.fit\n"} { // as earlier versions kept them
		if err := os.WriteFile(filepath.Join(c.Dir, "drop", "refused", name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := c.Forget(context.Background(), "Runa", day("2026-09-01"), false); err != nil {
		t.Fatal(err)
	}
	if left, _ := filepath.Glob(filepath.Join(c.Dir, "drop", "refused", "*")); len(left) != 0 {
		t.Errorf("forgotten, but still there: %v", left)
	}
}

func TestDecide(t *testing.T) {
	c, ctx := open(t), context.Background()
	decide := func(d record.Decision) (record.Decision, error) {
		d.Client, d.By, d.Because = "Runa", "Ketil", "as told"
		return c.Decide(ctx, d)
	}
	on := day("2026-09-06")
	if _, err := c.Decide(ctx, record.Decision{Client: "Runa", Entered: on, Act: record.DoHold}); err == nil {
		t.Error("a decision without a reason was kept")
	}
	if _, err := decide(record.Decision{Entered: on, Act: record.DoStepBack}); err == nil {
		t.Error("stepped back from stage 1")
	}
	d, err := decide(record.Decision{Entered: on, Act: record.DoAdvance})
	if err != nil || d.Stage != 2 || d.From != on+1 || d.Verdict == nil || *d.Verdict == record.Advance {
		t.Fatalf("%+v, %v", d, err)
	}
	r := recordOf(t, c, "Runa", "2026-09-10", false)
	if s, _ := r.StageOn(on); s != 1 {
		t.Errorf("on the day of the decision the stage is %d", s)
	}
	if s, since := r.StageOn(on + 1); s != 2 || since != on+1 {
		t.Errorf("the day after: stage %d since %s", s, since)
	}
	if p := recordOf(t, c, "Runa", "2026-09-06", false).PlanFor(on+1, on+7); p == nil || p.Stage != 2 {
		t.Errorf("the prescription does not follow the decision: %+v", p)
	}
	if err := record.VerifyChain(r.Decisions); err != nil {
		t.Error(err)
	}
	if d.Digest != r.Decisions[0].Digest {
		t.Errorf("the decision comes back sealed %s, the book holds %s", d.Digest, r.Decisions[0].Digest)
	}

	// After a stop sign nobody is moved up before a dated clearance.
	if err := coach.AddNote(ctx, c, "Runa", record.Note{Date: day("2026-09-12"), Entered: day("2026-09-12"), Symptoms: []signs.Sign{signs.Chest}}); err != nil {
		t.Fatal(err)
	}
	_, err = decide(record.Decision{Entered: day("2026-09-13"), Act: record.DoAdvance})
	if !errors.Is(err, coach.ErrRefer) {
		t.Fatalf("advance under refer: %v", err)
	}
	client, err := c.Client(ctx, "Runa")
	if err != nil {
		t.Fatal(err)
	}
	client.Clearance = day("2026-09-14")
	if err := c.SetClient(ctx, client, day("2026-09-14")); err != nil {
		t.Fatal(err)
	}
	if _, err = decide(record.Decision{Entered: day("2026-09-14"), Act: record.DoAdvance}); err != nil {
		t.Errorf("with a clearance: %v", err)
	}
}

func TestSetClientMeasuresAgain(t *testing.T) {
	c, ctx := open(t), context.Background()
	b := encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{}))
	receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-01")}, "a.tcx", b)
	before := recordOf(t, c, "Runa", "2026-09-30", false).Recordings[0].Measured.Zones
	client, err := c.Client(ctx, "Runa")
	if err != nil {
		t.Fatal(err)
	}
	client.Zones = append(client.Zones, record.ZoneSet{From: day("2026-09-15"), HRMax: map[workout.Mode]float64{"": 150}, HRRest: 62})
	if err := c.SetClient(ctx, client, day("2026-09-15")); err != nil {
		t.Fatal(err)
	}
	if got := recordOf(t, c, "Runa", "2026-09-30", false).Recordings[0].Measured.Zones; *got != *before {
		t.Errorf("zones from 15 September changed the walk of 1 September: %+v", got)
	}
	client.Zones[1].From = day("2026-08-20")
	if err := c.SetClient(ctx, client, day("2026-09-16")); err != nil {
		t.Fatal(err)
	}
	got := recordOf(t, c, "Runa", "2026-09-30", false).Recordings[0].Measured.Zones
	if *got == *before || got.Sum() != before.Sum() {
		t.Errorf("zones from 20 August did not change it, or lost seconds: %+v", got)
	}
}

func TestPolicyFileIsTheTrainers(t *testing.T) {
	dir := t.TempDir()
	c, err := coach.Open(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	c.Close()
	path := filepath.Join(dir, "policy.toml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, append(text, "\n[nonsense]\n"...), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := coach.Open(context.Background(), dir); err == nil || !strings.Contains(err.Error(), "policy.toml") {
		t.Errorf("a policy with an unknown key: %v", err)
	}
}

// Every real recording at hand goes into one book: nothing fails, what is refused says why, and
// what one file holds twice counts once.
func TestReceiveEveryRealRecording(t *testing.T) {
	folder := outside.Data(t)
	c := open(t)
	fates := map[coach.Status]int{}
	for _, kind := range []string{"fit", "tcx", "gpx", "csv"} {
		files, err := filepath.Glob(filepath.Join(folder, kind, "*"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, %v", kind, files, err)
		}
		for _, file := range files {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-30"), Fixed: true}, filepath.Base(file), b) {
				fates[r.Status]++
				if r.Status == coach.Refused {
					t.Logf("%s: %s", r.Name, r.Why)
					if r.Why == "" {
						t.Errorf("%s is refused without a reason", r.Name)
					}
				}
			}
		}
	}
	r := recordOf(t, c, "Runa", "2026-09-30", false)
	t.Logf("%v; %d recordings, %d count", fates, len(r.Recordings), counting(r))
	aside := map[string]bool{}
	for _, rec := range r.Recordings {
		if !rec.Counts() {
			aside[rec.Name] = true
			t.Logf("%s: %v", rec.Name, rec.Aside)
		}
	}
	// One ride by two devices, and one by one device in two formats, count once each.
	for _, pair := range [][2]string{
		{"indoor-ride-power-steady-01.fit", "virtual-ride-laps-01.fit"},
		{"ride-power-recovery-01.tcx", "ride-power-recovery-01.gpx"},
	} {
		if aside[pair[0]] == aside[pair[1]] {
			t.Errorf("of %v not exactly one counts", pair)
		}
	}
}

func TestDecisionsStayInOrder(t *testing.T) {
	c, ctx := open(t), context.Background()
	decide := func(act record.Act, entered, from string) error {
		d := record.Decision{Client: "Runa", Act: act, Entered: day(entered), Because: "as told", By: "Ketil"}
		if from != "" {
			d.From = day(from)
		}
		_, err := c.Decide(ctx, d)
		return err
	}
	for _, tc := range []struct {
		what          string
		act           record.Act
		entered, from string
		ok            bool
	}{
		{"before the client began", record.DoHold, "2026-07-01", "", false},
		{"holding from before the client began", record.DoHold, "2026-09-06", "2020-01-01", false},
		{"in order", record.DoAdvance, "2026-09-06", "", true},
		{"holding from before the last one", record.DoHold, "2026-09-20", "2026-09-01", false},
		{"taking the last one back from the same day", record.DoHold, "2026-09-06", "2026-09-07", true},
	} {
		if err := decide(tc.act, tc.entered, tc.from); (err == nil) != tc.ok {
			t.Errorf("%s: %v", tc.what, err)
		}
	}
	r := recordOf(t, c, "Runa", "2026-09-30", false)
	if s, _ := r.StageOn(day("2026-09-10")); s != 1 || len(r.Decisions) != 2 {
		t.Errorf("after taking back: stage %d, %d decisions on record", s, len(r.Decisions))
	}
}

func TestAddReportAsksBeforeItCountsTwice(t *testing.T) {
	c, ctx := open(t), context.Background()
	r := record.Report{Date: day("2026-09-01"), Entered: day("2026-09-02"), Minutes: 30, Sport: workout.Walking}
	if err := c.AddReport(ctx, "Runa", r, false); err != nil {
		t.Fatal(err)
	}
	if err := c.AddReport(ctx, "Runa", r, false); !errors.Is(err, &fault.Error{Kind: fault.Conflict}) {
		t.Errorf("the same again: %v", err)
	}
	if err := c.AddReport(ctx, "Runa", r, true); err != nil {
		t.Error(err)
	}
	if n := len(recordOf(t, c, "Runa", "2026-09-30", false).Reports); n != 2 {
		t.Errorf("%d reports", n)
	}
}

func TestLateComers(t *testing.T) {
	c, ctx := open(t), context.Background()
	b := encode(t, "tcx", walk("2026-08-20T06:00:00Z", simulate.Options{}))
	r := receive(t, c, coach.Intake{Client: "Runa", On: day("2026-10-20"), Fixed: true}, "late.tcx", b)
	if len(r[0].Remarks) == 0 || !strings.Contains(strings.Join(reasons.Texts(r[0].Remarks), " "), "do not include it") {
		t.Errorf("an old recording comes in without a word: %v", r[0].Remarks)
	}
	for on, want := range map[string]int{"2026-08-19": 0, "2026-08-21": 1, "2026-10-20": 0} {
		late, err := c.LateComers(ctx, "Runa", day(on))
		if err != nil || len(late) != want {
			t.Errorf("%s: %d late, %v", on, len(late), err)
		}
	}
}

func TestNamedKnowsLetterCaseOnly(t *testing.T) {
	c := open(t)
	if n, err := c.Named(context.Background(), "RUNA"); n != "Runa" || err != nil {
		t.Errorf("%q, %v", n, err)
	}
	if _, err := c.Named(context.Background(), "Run"); err == nil || !strings.Contains(err.Error(), "Ketil, Runa") {
		t.Errorf("%v", err)
	}
}
