package coach_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/outside"
	"nextrung/internal/policy"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// pierRun receives a played walk to the limit of somebody whose maximum is 190, 9 bpm above the formula's,
// and says how hard it was.
func pierRun(t *testing.T, c *coach.Coach, on string, effort float64) {
	t.Helper()
	start := day(on).Time().Add(8 * time.Hour)
	plan := workout.Plan{Mode: workout.Walk, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300, High: 110}, {Kind: workout.Steady, Seconds: 1200, Low: 185, High: 195}, {Kind: workout.CoolDown, Seconds: 300, High: 100},
	}}
	w, _ := simulate.Play(plan, simulate.Beginner(62, 190), simulate.Options{Seed: uint64(day(on)), Start: start, Sensor: workout.Strap, Place: workout.Outdoor})
	receive(t, c, coach.Intake{Client: "Runa", On: day(on), Sensor: workout.Strap}, "pier-"+on+".fit", encode(t, "fit", w))
	rpe := &workout.RPE{Value: effort, Scale: 20}
	if err := coach.AddNote(t.Context(), c, "Runa", record.Note{Date: day(on), Entered: day(on), RPE: rpe}); err != nil {
		t.Fatal(err)
	}
}

func proposals(t *testing.T, c *coach.Coach, on string) []proposal.Proposal {
	t.Helper()
	f, err := c.Proposals(t.Context(), "Runa", day(on))
	if err != nil {
		t.Fatal(err)
	}
	return f.Open
}

// A taken proposal changes zones from its day only: workouts of before keep theirs, those from that day on
// and next week's sessions have the new ones, and the days before still know the proposal as open.
func TestTakenProposalChangesZonesFromItsDay(t *testing.T) {
	c := open(t)
	pierRun(t, c, "2026-09-01", 19)
	receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-02")}, "later.fit", encode(t, "fit", walk("2026-09-02T06:00:00Z", simulate.Options{})))
	before := proposals(t, c, "2026-09-01")
	if len(before) != 1 || before[0].Kind != proposal.Maximum || before[0].Value < 187 || before[0].Value > 191 {
		t.Fatalf("proposed: %+v", before)
	}
	edges := func(on string) (out []float64) {
		for _, rec := range recordOf(t, c, "Runa", on, false).Recordings {
			out = append(out, rec.Measured.Edges.BPM[1])
		}
		return out
	}
	old := edges("2026-09-02")
	next, err := c.Week(t.Context(), day("2026-09-01"), nil)
	if err != nil {
		t.Fatal(err)
	}
	a, err := c.Answer(t.Context(), "Runa", "1", proposal.Answer{Entered: day("2026-09-01"), Taken: true, By: "Ketil"})
	if err != nil {
		t.Fatal(err)
	}
	if a.From != day("2026-09-02") || a.Proposal.ID != before[0].ID {
		t.Errorf("answer %+v", a)
	}
	now := edges("2026-09-02")
	if now[0] != old[0] || now[1] <= old[1] || now[1] != 62+0.6*(before[0].Value-62) {
		t.Errorf("top of zone 1 %v, was %v", now, old)
	}
	client, err := c.Client(t.Context(), "Runa")
	if err != nil || len(client.Zones) != 2 || client.Zones[0].HRMax != nil || client.Zones[0].HRRest != 62 {
		t.Errorf("zones %+v, %v", client.Zones, err)
	}
	plans := recordOf(t, c, "Runa", "2026-09-01", false).Prescriptions
	var was float64
	for _, s := range next {
		if s.Record.Client.Name == "Runa" {
			was = s.Next.Targets[0].High
		}
	}
	if got := plans[len(plans)-1].Targets[0].High; got <= was {
		t.Errorf("next week goes up to %g bpm, before %g", got, was)
	}
	if got := proposals(t, c, "2026-09-01"); len(got) != 0 {
		t.Errorf("taken and proposed again: %+v", got)
	}
	if _, err := c.Answer(t.Context(), "Runa", "1", proposal.Answer{Entered: day("2026-09-02"), Taken: true}); err == nil || !strings.Contains(err.Error(), "zones is suggested") {
		t.Errorf("taken twice: %v", err)
	}
	answers, err := c.Answers(t.Context(), "Runa", day("2026-09-01"))
	if err != nil || len(answers) != 1 || !answers[0].Taken || answers[0].By != "Ketil" {
		t.Errorf("answers %+v, %v", answers, err)
	}
}

// A declined proposal stays declined, also when it is looked for again weeks later; a new peak makes a new one.
func TestDeclinedProposalNeedsNewEvidence(t *testing.T) {
	c := open(t)
	pierRun(t, c, "2026-09-01", 19)
	first := proposals(t, c, "2026-09-01")[0]
	if _, err := c.Answer(t.Context(), "Runa", "9", proposal.Answer{Entered: day("2026-09-02")}); err == nil || !strings.Contains(err.Error(), "the last one is 1") {
		t.Errorf("an unknown number: %v", err)
	}
	if _, err := c.Answer(t.Context(), "Runa", first.ID, proposal.Answer{Entered: day("2026-09-02"), From: day("2026-09-09"), Because: "borrowed strap"}); err != nil {
		t.Fatal(err)
	}
	if got := proposals(t, c, "2026-09-20"); len(got) != 0 {
		t.Errorf("declined and proposed again: %+v", got)
	}
	if got := proposals(t, c, "2026-09-01"); len(got) != 1 {
		t.Errorf("the day before the answer: %+v", got)
	}
	pierRun(t, c, "2026-09-15", 19)
	if got := proposals(t, c, "2026-09-20"); len(got) != 1 || got[0].ID == first.ID || len(got[0].Evidence) != 1 {
		t.Errorf("new evidence: %+v", got)
	}
	client, err := c.Client(t.Context(), "Runa")
	if err != nil || len(client.Zones) != 1 {
		t.Errorf("declining changed zones: %+v, %v", client.Zones, err)
	}
}

// The same run without a hard answer proposes nothing and says what is missing.
func TestPeakWithoutEffortIsOnlyShown(t *testing.T) {
	c := open(t)
	pierRun(t, c, "2026-09-01", 12)
	f, err := c.Proposals(t.Context(), "Runa", day("2026-09-01"))
	if err != nil || len(f.Open) != 0 || len(f.Near) != 1 || !strings.Contains(f.Near[0].Words(), "does not fit a maximum") {
		t.Errorf("%+v, %v", f, err)
	}
}

// realMonth is a book with a month of a real runner from a chest strap, whose zones rest on a set of facts.
func realMonth(t *testing.T, zones record.ZoneSet) *coach.Coach {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(outside.Data(t), "tcx", "run-series-*.tcx.gz"))
	if err != nil || len(files) != 17 {
		t.Fatalf("%d recordings of the month, %v", len(files), err)
	}
	c := open(t)
	oskel := record.Client{
		Name: "Oskel", Born: day("1948-05-01"), Stage: 1, Since: day("2013-05-27"), Modes: []workout.Mode{workout.Run}, State: record.Active,
		Zones: []record.ZoneSet{zones}, Screening: record.Screening{On: day("2013-05-20"), Active: true, Disease: "none"},
	}
	if err := c.AddClient(t.Context(), oskel, day("2013-05-27")); err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		receive(t, c, coach.Intake{Client: "Oskel", On: day("2013-07-01"), Backlog: true, Sensor: workout.Strap}, filepath.Base(file), b)
	}
	return c
}

// The same month with the top of zone 1 set 20 bpm below the runner's own mean, and notes that say comfortable: a higher top
// is suggested, within the heart rates that were run, and the time above zone 1 counts neither way until it is
// answered. Declined, it counts again; accepted, it is a threshold from the next day on.
func TestZonesTooLowInARealMonth(t *testing.T) {
	probe := realMonth(t, record.ZoneSet{})
	var means []float64
	last := day("2013-07-01")
	for _, x := range recordOf(t, probe, "Oskel", last.String(), false).Recordings {
		if mean, ok := x.Measured.Main.PerBPM.Mean(); ok && x.Measured.HeartRate.Usable {
			means = append(means, mean)
		}
	}
	slices.Sort(means)
	t1 := math.Round(means[len(means)/2]) - 20
	for _, taken := range []bool{false, true} {
		c := realMonth(t, record.ZoneSet{T1: t1, T2: t1 + 30, HRMax: map[workout.Mode]float64{"": 176}})
		for _, x := range recordOf(t, c, "Oskel", last.String(), false).Recordings {
			note := record.Note{Date: x.Date, Entered: x.Date, RPE: &workout.RPE{Value: 11, Scale: 20}, Talk: record.TalkComfortable}
			if err := coach.AddNote(t.Context(), c, "Oskel", note); err != nil {
				t.Fatal(err)
			}
		}
		on := day("2013-06-17")
		zone := func(on workout.Date) record.Reason {
			t.Helper()
			a, err := c.Assess(t.Context(), "Oskel", on, false)
			if err != nil {
				t.Fatal(err)
			}
			return reason(t, a, policy.Zone)
		}
		f, err := c.Proposals(t.Context(), "Oskel", on)
		if err != nil || len(f.Open) != 1 || !f.Open[0].Raises() {
			t.Fatalf("%+v, %v", f, err)
		}
		p := f.Open[0]
		if t.Logf("top %.0f, suggested %.0f from %d sessions; means %.0f", t1, p.Value, len(p.Evidence), means); p.Value < t1+5 || p.Value > t1+30 {
			t.Errorf("suggested %g bpm instead of %g, runs at %.0f", p.Value, t1, means)
		}
		if z := zone(on); isUnmet(z) {
			t.Errorf("unanswered: %s", reasons.Text(z.Says))
		}
		if _, err := c.Answer(t.Context(), "Oskel", p.ID, proposal.Answer{Entered: on, Taken: taken, By: "Corvane", Because: "ran beside him"}); err != nil {
			t.Fatal(err)
		}
		if z := zone(on); isUnmet(z) == taken {
			t.Errorf("accepted is %v: %s", taken, reasons.Text(z.Says))
		}
		client, err := c.Client(t.Context(), "Oskel")
		if got := client.ZonesOn(on + 1).T1; err != nil || taken && got != p.Value || !taken && got != t1 {
			t.Errorf("accepted is %v: T1 %g, %v", taken, got, err)
		}
		if f, err := c.Proposals(t.Context(), "Oskel", on); err != nil || slices.ContainsFunc(f.Open, proposal.Proposal.Raises) {
			t.Errorf("accepted is %v, and again: %+v, %v", taken, f.Open, err)
		}
	}
}

// A month of a real runner from a chest strap: without answers nothing is suggested and the highest peak is
// only shown; with an answer it is suggested, but not a higher one from a recording that begins like that of a
// dry strap. 174 bpm is what base R finds in that file (see TestHeldAgainstR of package physiology).
func TestProposalsOfARealMonth(t *testing.T) {
	c := realMonth(t, record.ZoneSet{})
	find := func() proposal.Findings {
		f, err := c.Proposals(t.Context(), "Oskel", day("2013-06-17"))
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	if f := find(); len(f.Open) != 0 || len(f.Near) != 1 || !strings.Contains(f.Near[0].Words(), "174 bpm was held for 15 s on 15 June 2013") {
		t.Errorf("without answers: %+v", f)
	}
	for _, on := range []string{"2013-06-15", "2013-06-12"} {
		if err := coach.AddNote(t.Context(), c, "Oskel", record.Note{Date: day(on), Entered: day(on), RPE: &workout.RPE{Value: 18, Scale: 20}}); err != nil {
			t.Fatal(err)
		}
	}
	if f := find(); len(f.Open) != 1 || f.Open[0].Value != 174 || len(f.Open[0].Evidence) != 1 || f.Open[0].Evidence[0].Date != day("2013-06-15") {
		t.Errorf("with answers: %+v", f.Open)
	}
}
