package proposal_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"nextrung/internal/fault"
	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// today is the last day of every record here, a Sunday.
var today = workout.MustDate("2026-10-04")

func rpe20(v float64) *workout.RPE { return &workout.RPE{Value: v, Scale: 20} }
func rpe10(v float64) *workout.RPE { return &workout.RPE{Value: v, Scale: 10} }

// runner is 40 years old: the estimate is 211 - 0.64*40 = 185.4 bpm, so zone 1 ends at 142.8 without
// a resting heart rate and at 60 + 0.6*125.4 = 135.2 with one of 60.
func runner() record.Record {
	return record.Record{Client: record.Client{
		Name: "Oskel", Born: workout.MustDate("1986-10-04"), Modes: []workout.Mode{workout.Run}, Stage: 1, Since: today - 60,
		Zones: []record.ZoneSet{{HRRest: 60}}, State: record.Active,
	}}
}

// outing is one session with what matters here.
type outing struct {
	ago    int // days before today
	held   float64
	mean   float64 // main part, all of it at this beat
	sensor workout.Sensor
	poor   bool // not good for peaks
	bouts  bool
	rpe    *workout.RPE
	talk   record.Talk
	sport  workout.Sport
	aside  record.Fact
	heat   *float64
	noFan  bool
}

// with adds sessions; each is called by its day, "r12" is twelve days ago.
func with(r record.Record, all ...outing) record.Record {
	for _, o := range all {
		on := today - workout.Date(o.ago)
		if o.sport == "" {
			o.sport = workout.Running
		}
		if o.mean == 0 {
			o.mean = 120
		}
		if o.sensor == "" {
			o.sensor = workout.Strap
		}
		perBPM := make(physiology.Histogram, int(o.mean)-physiology.Lowest+1)
		perBPM[len(perBPM)-1] = 1200
		m := physiology.Measurements{
			HeartRate: physiology.Summary{Usable: true, Source: o.sensor, Elapsed: 1800},
			Main:      physiology.MainPart{PerBPM: perBPM},
		}
		if o.held > 0 {
			m.Held = &physiology.Held{BPM: o.held, Basis: physiology.Basis{Enough: !o.poor && o.sensor == workout.Strap}}
			if !m.Held.Enough {
				m.Held.Why = workout.Facts{{Code: heartrate.Lagging}}
			}
		}
		if o.bouts {
			m.Bouts = []physiology.Bout{{}}
		}
		r.Recordings = append(r.Recordings, record.Recording{
			ID: fmt.Sprintf("r%d", o.ago), Date: on, Received: on, Aside: o.aside, Measured: m,
			Workout: workout.Workout{Sport: o.sport, Start: on.Time().Add(7 * time.Hour), Seconds: 1800},
		})
		if o.rpe != nil || o.talk != "" || o.heat != nil || o.noFan {
			r.Notes = append(r.Notes, record.Note{ID: fmt.Sprintf("n%d", o.ago), Date: on, Entered: on, RPE: o.rpe, Talk: o.talk, HeatC: o.heat, NoFan: o.noFan})
		}
	}
	return r
}

// rested adds mornings, each with its day before today.
func rested(r record.Record, mornings map[int]float64) record.Record {
	for ago, bpm := range mornings {
		on := today - workout.Date(ago)
		r.Notes = append(r.Notes, record.Note{ID: fmt.Sprintf("m%d", ago), Date: on, Entered: on, HRRest: bpm})
	}
	return r
}

// short writes open proposals as "maximum run 190".
func short(f proposal.Findings) string {
	var out []string
	for _, p := range f.Open {
		out = append(out, strings.TrimSpace(fmt.Sprintf("%s %s", p.Kind, p.Mode))+fmt.Sprintf(" %g", p.Value))
	}
	return strings.Join(out, ", ")
}

func hot(c float64) *float64 { return &c }

// TestMaximum: at, under and over what is needed, and with data lacking. The estimate is 185.4.
func TestMaximum(t *testing.T) {
	for _, c := range []struct {
		name string
		all  []outing
		want string
		says string // of what lacks data
	}{
		{"over it, very hard", []outing{{held: 190.4, rpe: rpe20(17)}}, "maximum run 190", ""},
		{"just under very hard", []outing{{held: 190, rpe: rpe20(16)}}, "", "does not fit a maximum"},
		{"very hard on the other scale", []outing{{held: 190, rpe: rpe10(8)}}, "maximum run 190", ""},
		{"just under it on the other scale", []outing{{held: 190, rpe: rpe10(7)}}, "", "does not fit a maximum"},
		{"talk not possible", []outing{{held: 190, talk: record.TalkNo}}, "maximum run 190", ""},
		{"talk only hard", []outing{{held: 190, talk: record.TalkHard}}, "", "does not fit a maximum"},
		{"no answer", []outing{{held: 190}}, "", "nobody knows how hard the session was"},
		{"1 bpm over the maximum in whole beats", []outing{{held: 187, rpe: rpe20(18)}}, "maximum run 187", ""},
		{"less than 1 bpm over", []outing{{held: 186.3, rpe: rpe20(18)}}, "", ""},
		{"below the maximum", []outing{{held: 180, rpe: rpe20(20)}}, "", ""},
		{"a wrist sensor", []outing{{held: 195, rpe: rpe20(19), sensor: workout.Wrist}}, "", "lags behind"},
		{"a strap with faults", []outing{{held: 195, rpe: rpe20(19), poor: true}}, "", "lags behind"},
		{"an excluded recording", []outing{{held: 195, rpe: rpe20(19), aside: record.SetAside(record.Excluded, "somebody else's")}}, "", ""},
		{"a year ago", []outing{{held: 190, rpe: rpe20(19), ago: 365}}, "", ""},
		{"a day less than a year ago", []outing{{held: 190, rpe: rpe20(19), ago: 364}}, "maximum run 190", ""},
		{"the highest of several", []outing{{held: 188, rpe: rpe20(18), ago: 3}, {held: 191, rpe: rpe20(19), ago: 5}, {held: 200, ago: 8}}, "maximum run 191", ""},
		{"on the bike, where the estimate is 8 lower", []outing{{held: 179, rpe: rpe20(18), sport: workout.Cycling}}, "maximum bike 179", ""},
		{"nothing held", []outing{{rpe: rpe20(20)}}, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := proposal.Find(with(runner(), c.all...), today, nil)
			if got := short(f); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
			if untold := nearly(f); c.says == "" && untold != "" || !strings.Contains(untold, c.says) {
				t.Errorf("untold %q, want %q", untold, c.says)
			}
		})
	}
}

// Recordings that an earlier program measured do not show what was held; that is said.
func TestMaximumOfOlderMeasurements(t *testing.T) {
	for seconds, says := range map[int]string{59: "", 60: "1 recording of running was measured by an earlier version"} {
		r := with(runner(), outing{rpe: rpe20(19)}, outing{ago: 3, held: 180})
		r.Recordings[0].Measured.PerBPM = physiology.Histogram{seconds}
		r.Recordings[1].Measured.PerBPM = physiology.Histogram{1200}
		f := proposal.Find(r, today, nil)
		if untold := nearly(f); len(f.Open) != 0 || !strings.Contains(untold, says) || says == "" && untold != "" {
			t.Errorf("%d s: %+v", seconds, f)
		}
	}
}

// A proposed maximum shows what it does: by arithmetic, zone 1 ends at 60 + 0.6*(191-60) = 138.6 instead of
// 135.24; and it warns of the trap.
func TestMaximumShowsWhatItChanges(t *testing.T) {
	r := with(runner(), outing{held: 191.7, rpe: rpe20(19), ago: 4})
	p := proposal.Find(r, today, nil).Open[0]
	if len(p.Edges) != 1 || p.Edges[0].Mode != workout.Run || !near(p.Edges[0].Before.BPM[1], 135.24) || !near(p.Edges[0].After.BPM[1], 138.6) {
		t.Errorf("edges %+v", p.Edges)
	}
	if !near(*p.Was, 185.4) || p.Zones.HRMax[workout.Run] != 191 || p.Zones.HRRest != 60 || p.Zones.From != 0 {
		t.Errorf("was %v, zones %+v", *p.Was, p.Zones)
	}
	if e := p.Evidence[0]; !slices.Equal(e.Recordings, []string{"r4"}) || e.Sensor != workout.Strap || e.BPM != 191.7 || e.RPE.Value != 19 || e.Date != today-4 {
		t.Errorf("evidence %+v", e)
	}
	for _, want := range []string{"191 bpm for 15 s", "an estimate from age"} {
		if !strings.Contains(p.Text(), want) {
			t.Errorf("%q does not say %q", p.Text(), want)
		}
	}
	if !strings.Contains(cautions(p), "beginner that is a trap") {
		t.Errorf("cautions %v", p.Cautions)
	}
	if r.Client.Zones[0].HRMax != nil {
		t.Error("the client's own facts were touched")
	}
}

// A measured maximum is not overruled by less than 1 bpm, and an explicit one for every mode gives way in
// this mode only.
func TestMaximumAgainstAMeasuredOne(t *testing.T) {
	for held, want := range map[float64]string{190: "", 190.9: "", 191: "maximum run 191"} {
		r := runner()
		r.Client.Zones = []record.ZoneSet{{HRRest: 60, HRMax: map[workout.Mode]float64{"": 190}}}
		f := proposal.Find(with(r, outing{held: held, rpe: rpe20(19)}), today, nil)
		if got := short(f); got != want {
			t.Errorf("held %g: %q, want %q", held, got, want)
		}
		if want != "" && (f.Open[0].Zones.HRMax[""] != 190 || f.Open[0].Zones.HRMax[workout.Run] != 191 || !strings.Contains(f.Open[0].Text(), "190 bpm, which was entered")) {
			t.Errorf("%+v %s", f.Open[0].Zones, f.Open[0].Text())
		}
	}
}

func near(a, b float64) bool { return a-b < 0.01 && b-a < 0.01 }

// TestResting: the mean of at least three mornings, the first one as the scale of the reserve, a later
// one from 5 bpm on.
func TestResting(t *testing.T) {
	none := runner()
	none.Client.Zones = nil
	since := runner()
	since.Client.Zones = []record.ZoneSet{{HRRest: 70}, {From: today - 5, HRRest: 60}, {From: today + 1, HRRest: 60, T1: 130}}
	noted := func(ago int) record.Record {
		r := rested(runner(), map[int]float64{1: 66, 2: 66, 3: 66})
		r.Notes = append(r.Notes, record.Note{ID: "n", Date: today - workout.Date(ago), Entered: today, Symptoms: []signs.Sign{signs.PoorSleep}})
		return r
	}
	twice := rested(runner(), map[int]float64{1: 66, 2: 66, 3: 60})
	twice.Notes = append(twice.Notes, record.Note{ID: "later", Date: today - 3, Entered: today, HRRest: 66})
	for _, c := range []struct {
		name string
		r    record.Record
		want string
		says string
	}{
		{"no resting heart rate, three mornings", rested(none, map[int]float64{1: 58, 2: 61, 4: 62}), "resting 60", ""},
		{"no resting heart rate, two mornings", rested(none, map[int]float64{1: 58, 2: 61}), "", "known for only 2 of the last 14 days"},
		{"no mornings", none, "", ""},
		{"the oldest is 13 days ago", rested(none, map[int]float64{1: 58, 2: 61, 13: 61}), "resting 60", ""},
		{"the oldest is 14 days ago", rested(none, map[int]float64{1: 58, 2: 61, 14: 61}), "", "known for only 2"},
		{"5 bpm above", rested(runner(), map[int]float64{1: 64, 2: 65, 3: 66}), "resting 65", ""},
		{"just under 5 bpm above", rested(runner(), map[int]float64{1: 64, 2: 65, 3: 65}), "", ""},
		{"5 bpm below", rested(runner(), map[int]float64{1: 54, 2: 55, 3: 56}), "resting 55", ""},
		{"two mornings far away", rested(runner(), map[int]float64{1: 75, 2: 75}), "", ""},
		{"a sign on the last morning", noted(1), "", ""},
		{"a sign 6 days before the last but two", noted(9), "", ""},
		{"a sign 7 days before it", noted(10), "resting 66", ""},
		{"two values of one day, the later counts", twice, "resting 66", ""},
		{"mornings before the value began", rested(since, map[int]float64{1: 66, 2: 66, 6: 66}), "", ""},
		{"mornings since the value began", rested(since, map[int]float64{1: 66, 2: 66, 5: 66}), "resting 66", ""},
		{"a value that cannot be", rested(none, map[int]float64{1: 25, 2: 28, 3: 29}), "", "outside 30 to 110"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := proposal.Find(c.r, today, nil)
			if got := short(f); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
			if untold := nearly(f); c.says == "" && untold != "" || !strings.Contains(untold, c.says) {
				t.Errorf("untold %q, want %q", untold, c.says)
			}
		})
	}
}

// The first resting heart rate changes the scale: by arithmetic the top of zone 1 moves from 0.77*185.4 =
// 142.76 to 60 + 0.6*125.4 = 135.24. It is proposed and says so.
func TestRestingChangesTheScale(t *testing.T) {
	r := runner()
	r.Client.Zones = nil
	p := proposal.Find(rested(r, map[int]float64{1: 60, 2: 60, 3: 60}), today, nil).Open[0]
	if e := p.Edges; len(e) != 1 || e[0].Before.Basis != "maximum" || e[0].After.Basis != "reserve" || !near(e[0].Before.BPM[1], 142.758) || !near(e[0].After.BPM[1], 135.24) {
		t.Errorf("edges %+v", e)
	}
	if p.Was != nil || p.Cautions[0].Code != proposal.AnotherScale || len(p.Evidence) != 3 || p.Evidence[0].Date > p.Evidence[2].Date {
		t.Errorf("%+v", p)
	}
	risen := proposal.Find(rested(runner(), map[int]float64{1: 70, 2: 70, 3: 70}), today, nil).Open[0]
	if risen.Cautions[0].Code != proposal.RisenRest {
		t.Errorf("cautions %v", risen.Cautions)
	}
}

// TestTopOfZone1: zone 1 runs from 110.2 to 135.2 bpm.
func TestTopOfZone1(t *testing.T) {
	easy := outing{ago: 20, mean: 122, rpe: rpe20(12), talk: record.TalkComfortable}
	hard := func(ago int, mean float64) outing {
		return outing{ago: ago, mean: mean, rpe: rpe20(14), talk: record.TalkComfortable}
	}
	change := func(o outing, f func(*outing)) outing { f(&o); return o }
	for _, c := range []struct {
		name string
		all  []outing
		want string
		says string
	}{
		{"twice 14", []outing{easy, hard(2, 130), hard(5, 131)}, "top-of-zone-1 run 122", ""},
		{"once 14", []outing{easy, hard(2, 130)}, "", ""},
		{"twice 13", []outing{easy, {ago: 2, mean: 130, rpe: rpe20(13)}, {ago: 5, mean: 131, rpe: rpe20(13)}}, "", ""},
		{"twice 5 of 10", []outing{easy, {ago: 2, mean: 130, rpe: rpe10(5)}, {ago: 5, mean: 131, rpe: rpe10(5)}}, "top-of-zone-1 run 122", ""},
		{"twice 4 of 10", []outing{easy, {ago: 2, mean: 130, rpe: rpe10(4)}, {ago: 5, mean: 131, rpe: rpe10(4)}}, "", ""},
		{"talk hard and talk not possible", []outing{easy, {ago: 2, mean: 130, talk: record.TalkHard}, {ago: 5, mean: 131, talk: record.TalkNo}}, "top-of-zone-1 run 122", ""},
		{"no answers", []outing{easy, {ago: 2, mean: 130}, {ago: 5, mean: 131}}, "", ""},
		{"above zone 1", []outing{easy, hard(2, 136), hard(5, 140)}, "", ""},
		{"the highest beat of zone 1", []outing{easy, hard(2, 135), hard(5, 135)}, "top-of-zone-1 run 122", ""},
		{"below zone 1", []outing{easy, hard(2, 109), hard(5, 109)}, "", ""},
		{"one of them 28 days ago", []outing{easy, hard(2, 130), hard(28, 131)}, "", ""},
		{"one of them 27 days ago", []outing{easy, hard(2, 130), hard(27, 131)}, "top-of-zone-1 run 122", ""},
		{"with a sprint into zone 3", []outing{easy, change(hard(2, 130), func(o *outing) { o.held = 154.1 }), hard(5, 131)}, "", ""},
		{"with a hill in zone 2", []outing{easy, change(hard(2, 130), func(o *outing) { o.held = 154 }), hard(5, 131)}, "top-of-zone-1 run 122", ""},
		{"interval sessions", []outing{easy, change(hard(2, 130), func(o *outing) { o.bouts = true }), change(hard(5, 131), func(o *outing) { o.bouts = true })}, "", ""},
		{"in the heat", []outing{easy, change(hard(2, 130), func(o *outing) { o.heat = hot(26) }), change(hard(5, 131), func(o *outing) { o.noFan = true })}, "", "says something about those days"},
		{"at 25 °C", []outing{easy, change(hard(2, 130), func(o *outing) { o.heat = hot(25) }), hard(5, 131)}, "top-of-zone-1 run 122", ""},
		{"nothing comfortable is known", []outing{hard(2, 130), hard(5, 131)}, "", "Do a talk test"},
		{"comfortable only above", []outing{change(easy, func(o *outing) { o.mean = 133 }), hard(2, 130), hard(5, 131)}, "", "Do a talk test"},
		{"the highest comfortable below", []outing{easy, {ago: 21, mean: 127, rpe: rpe20(13)}, {ago: 22, mean: 130, rpe: rpe20(11)}, hard(2, 130), hard(5, 131)}, "top-of-zone-1 run 127", ""},
		{"comfortable too long ago", []outing{change(easy, func(o *outing) { o.ago = 84 }), hard(2, 130), hard(5, 131)}, "", "Do a talk test"},
		{"comfortable on another machine only", []outing{change(easy, func(o *outing) { o.sport = workout.Cycling }), hard(2, 130), hard(5, 131)}, "", "Do a talk test"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := proposal.Find(with(runner(), c.all...), today, nil)
			if got := short(f); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
			if untold := nearly(f); c.says == "" && untold != "" || !strings.Contains(untold, c.says) {
				t.Errorf("untold %q, want %q", untold, c.says)
			}
		})
	}
}

// A session counts as one in zone 1 from 80 % of the main part below its top.
func TestTopOfZone1AsksForSessionsInIt(t *testing.T) {
	for share, want := range map[int]string{80: "top-of-zone-1 run 122", 79: ""} {
		r := with(runner(), outing{ago: 20, mean: 122, rpe: rpe20(12)}, outing{ago: 2, mean: 150, rpe: rpe20(15)}, outing{ago: 5, mean: 150, rpe: rpe20(15)})
		for i := range r.Recordings[1:] {
			h := r.Recordings[i+1].Measured.Main.PerBPM
			h[130-physiology.Lowest], h[len(h)-1] = share, 100-share
		}
		if got := short(proposal.Find(r, today, nil)); got != want {
			t.Errorf("%d %%: %q, want %q", share, got, want)
		}
	}
}

// Days after a noted sign of tiredness speak of the client and not of the zones.
func TestTopOfZone1LeavesTiredDaysOut(t *testing.T) {
	for ago, want := range map[int]string{11: "", 12: "top-of-zone-1 run 122"} {
		r := with(runner(), outing{ago: 20, mean: 122, rpe: rpe20(12)}, outing{ago: 4, mean: 130, rpe: rpe20(15)}, outing{ago: 5, mean: 130, rpe: rpe20(15)})
		on := today - workout.Date(ago)
		r.Notes = append(r.Notes, record.Note{ID: "s", Date: on, Entered: on, Symptoms: []signs.Sign{signs.PoorSleep}})
		if got := short(proposal.Find(r, today, nil)); got != want {
			t.Errorf("a sign %d days ago: %q, want %q", ago, got, want)
		}
	}
}

// The top of zone 1 goes down in the mode that speaks, and in no mode up: with a second mode whose zone 1 ends
// lower than the proposed beat, explicit edges take the place of a threshold, which would count for both.
func TestTopOfZone1LowersOneModeOnly(t *testing.T) {
	hard := []outing{{ago: 20, mean: 133, rpe: rpe20(12)}, {ago: 2, mean: 134, rpe: rpe20(15)}, {ago: 5, mean: 134, rpe: rpe20(15)}}
	one := proposal.Find(with(runner(), hard...), today, nil).Open[0]
	if one.Zones.T1 != 133 || one.Zones.Edges != nil || one.Edges[0].After.BPM[1] != 133 {
		t.Errorf("one mode: %+v", one.Zones)
	}
	r := runner()
	r.Client.Modes = []workout.Mode{workout.Run, workout.Bike} // zone 1 of the bike ends at 60 + 0.6*117.4 = 130.4
	two := proposal.Find(with(r, hard...), today, nil).Open[0]
	if two.Zones.T1 != 0 || two.Zones.Edges[workout.Run][1] != 133 || len(two.Edges) != 1 {
		t.Errorf("two modes: %+v, changes %+v", two.Zones, two.Edges)
	}
	r.Client.Zones = []record.ZoneSet{{HRRest: 60, Limit: 150}}
	limited := proposal.Find(with(r, hard...), today, nil).Open[0]
	e := limited.Zones.Edges[workout.Run]
	if !(e[0] < e[1] && e[1] < e[2] && e[2] < e[3]) || limited.Edges[0].After.BPM[3] != 150 {
		t.Errorf("with a limit: %v, after %v", e, limited.Edges[0].After)
	}
	low := proposal.Find(with(r, outing{ago: 20, mean: 125, rpe: rpe20(12)}, hard[1], hard[2]), today, nil).Open[0]
	if low.Zones.T1 != 125 || len(low.Edges) != 2 {
		t.Errorf("below both: %+v", low.Zones)
	}
}

// What contradicts a proposal stands beside it.
func TestTopOfZone1NamesWhatContradictsIt(t *testing.T) {
	p := proposal.Find(with(runner(), outing{ago: 20, mean: 122, rpe: rpe20(12)}, outing{ago: 15, mean: 132, rpe: rpe20(12)},
		outing{ago: 2, mean: 130, rpe: rpe20(15), sensor: workout.Wrist}, outing{ago: 5, mean: 131, rpe: rpe20(15)}), today, nil).Open[0]
	all := cautions(p)
	if !strings.Contains(all, "1 session at the same or a higher heart rate was comfortable") || !strings.Contains(all, "wrist") {
		t.Errorf("cautions %q", all)
	}
	if len(p.Beside) != 1 || p.Beside[0].BPM != 122 || !slices.Equal(p.Beside[0].Recordings, []string{"r20"}) {
		t.Errorf("beside %+v", p.Beside)
	}
}

// Nothing is proposed where heart rate must not lead, to minors, to somebody who has finished, or of a time
// before.
func TestNobodyElseIsProposedAnything(t *testing.T) {
	full := with(runner(), outing{ago: 20, mean: 122, rpe: rpe20(12)}, outing{ago: 2, held: 190, rpe: rpe20(17)}, outing{ago: 4, mean: 130, rpe: rpe20(14)}, outing{ago: 5, mean: 131, rpe: rpe20(14)})
	full = rested(full, map[int]float64{1: 70, 2: 70, 3: 70})
	if got := short(proposal.Find(full, today, nil)); got != "maximum run 190, resting 70, top-of-zone-1 run 122" {
		t.Fatalf("the full record gives %q", got)
	}
	for name, change := range map[string]func(*record.Client){
		"a medicine that slows the heart": func(c *record.Client) { c.Medicine = record.Slows },
		"a pacemaker":                     func(c *record.Client) { c.Conditions = []record.Condition{record.Pacemaker} },
		"pregnant":                        func(c *record.Client) { c.Conditions = []record.Condition{record.Pregnant} },
		"17 years old":                    func(c *record.Client) { c.Born = workout.MustDate("2008-10-05") },
		"finished":                        func(c *record.Client) { c.State = record.Finished },
	} {
		r := full
		change(&r.Client)
		if f := proposal.Find(r, today, nil); len(f.Open)+len(f.Near) > 0 || f.Open == nil || f.Near == nil {
			t.Errorf("%s: %+v", name, f)
		}
	}
	if f := proposal.Find(full, today-6, nil); short(f) != "" {
		t.Errorf("six days before: %q", short(f))
	}
}

// What was declined stays declined, and new evidence makes another proposal, also a lower one. A day before
// the answer does not know it.
func TestDeclinedStaysDeclined(t *testing.T) {
	hard := []outing{{ago: 20, mean: 122, rpe: rpe20(12)}, {ago: 3, held: 195, rpe: rpe20(18)}, {ago: 4, mean: 130, rpe: rpe20(15)}, {ago: 5, mean: 131, rpe: rpe20(14)}}
	r := rested(with(runner(), hard...), map[int]float64{1: 70, 2: 70, 3: 70})
	var answers []proposal.Answer
	for _, p := range proposal.Find(r, today, nil).Open {
		answers = append(answers, proposal.Answer{Entered: today, Proposal: p})
	}
	if len(answers) != 3 {
		t.Fatalf("%d proposals, want 3", len(answers))
	}
	if got := short(proposal.Find(r, today, answers)); got != "" {
		t.Errorf("declined and proposed again: %q", got)
	}
	if got := short(proposal.Find(r, today-1, answers)); got == "" {
		t.Error("the day before knows the answer")
	}
	later := today + 3
	next := r
	for _, o := range []struct {
		on   workout.Date
		held float64
	}{{later - 2, 190}, {later - 1, 0}, {later, 0}} {
		x := with(runner(), outing{mean: 129, held: o.held, rpe: rpe20(17)})
		x.Recordings[0].ID, x.Recordings[0].Date, x.Recordings[0].Received = "new"+o.on.String(), o.on, o.on
		x.Recordings[0].Workout.Start = o.on.Time()
		x.Notes[0].Date, x.Notes[0].Entered = o.on, o.on
		next.Recordings, next.Notes = append(next.Recordings, x.Recordings...), append(next.Notes, x.Notes...)
	}
	for i := range workout.Date(3) {
		next.Notes = append(next.Notes, record.Note{ID: fmt.Sprintf("new%d", i), Date: today + 1 + i, Entered: today + 1 + i, HRRest: 71})
	}
	f := proposal.Find(next, later, answers)
	if got := short(f); got != "maximum run 190, resting 71, top-of-zone-1 run 122" {
		t.Errorf("new evidence: %q", got)
	}
	for _, p := range f.Open {
		if slices.ContainsFunc(answers, func(a proposal.Answer) bool { return a.Proposal.ID == p.ID }) {
			t.Errorf("%s has the id of a declined one", p.Kind)
		}
	}
}

// An id follows from the content: the same on another day and from a record in another order, and not the
// same for another value.
func TestIDFollowsFromContent(t *testing.T) {
	a := proposal.Find(with(runner(), outing{ago: 3, held: 190, rpe: rpe20(18)}, outing{ago: 9, held: 188, rpe: rpe20(18)}), today, nil).Open[0]
	b := proposal.Find(with(runner(), outing{ago: 9, held: 188, rpe: rpe20(18)}, outing{ago: 3, held: 190, rpe: rpe20(18)}), today+5, nil).Open[0]
	c := proposal.Find(with(runner(), outing{ago: 9, held: 188, rpe: rpe20(18)}, outing{ago: 3, held: 191, rpe: rpe20(18)}), today, nil).Open[0]
	if a.ID != b.ID || a.ID == c.ID || len(a.ID) != 8 {
		t.Errorf("ids %s, %s, %s", a.ID, b.ID, c.ID)
	}
}

// Taking one starts a set on its day and keeps the earlier ones, also where there was none.
func TestTake(t *testing.T) {
	r := with(runner(), outing{ago: 3, held: 190, rpe: rpe20(18)})
	p := proposal.Find(r, today, nil).Open[0]
	c, err := p.Take(r.Client, today+1)
	if err != nil {
		t.Fatal(err)
	}
	top := func(c record.Client, on workout.Date) float64 { return c.Body(on).Edges(workout.Run).BPM[1] }
	if len(c.Zones) != 2 || !near(top(c, today), 135.24) || !near(top(c, today+1), 138) || len(r.Client.Zones) != 1 {
		t.Errorf("%+v: %g and %g bpm", c.Zones, top(c, today), top(c, today+1))
	}
	if _, err := p.Take(c, today+1); !errors.Is(err, &fault.Error{Kind: fault.Conflict}) {
		t.Errorf("taken a second time from the same day: %v", err)
	}
	after := r
	after.Client = c
	if got := short(proposal.Find(after, today, nil)); got != "" {
		t.Errorf("taken and proposed again: %q", got)
	}
	none := rested(runner(), map[int]float64{1: 60, 2: 60, 3: 60})
	none.Client.Zones = nil
	c, err = proposal.Find(none, today, nil).Open[0].Take(none.Client, today+1)
	if err != nil || len(c.Zones) != 2 || c.ZonesOn(today).HRRest != 0 || c.ZonesOn(today+1).HRRest != 60 {
		t.Errorf("the first facts: %+v, %v", c.Zones, err)
	}
}

// A proposal survives the way into the book and back.
func TestJSON(t *testing.T) {
	f := proposal.Find(with(runner(), outing{ago: 20, mean: 122, rpe: rpe20(12)}, outing{ago: 2, held: 190, rpe: rpe20(18)}, outing{ago: 4, mean: 130, rpe: rpe20(15)}, outing{ago: 5, mean: 131, rpe: rpe20(14)}), today, nil)
	if len(f.Open) != 2 {
		t.Fatalf("%d proposals", len(f.Open))
	}
	for _, p := range f.Open {
		b, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var back proposal.Proposal
		if err := json.Unmarshal(b, &back); err != nil {
			t.Fatal(err)
		}
		if again, _ := json.Marshal(back); string(again) != string(b) {
			t.Errorf("%s\n%s", b, again)
		}
	}
}

// Whatever is in a record, a proposed maximum lies above the present one and is at most what was observed,
// a proposed top of zone 1 lies below the present one, and answering everything leaves nothing.
func TestProposalsKeepTheirPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := runner()
		for ago := range rapid.IntRange(0, 12).Draw(t, "sessions") {
			r = with(r, outing{
				ago: ago, held: rapid.SampledFrom([]float64{0, 150, 186, 190, 199.5}).Draw(t, "held"), mean: rapid.Float64Range(100, 150).Draw(t, "mean"),
				rpe:  rapid.SampledFrom([]*workout.RPE{nil, rpe20(11), rpe20(14), rpe20(18), rpe10(3), rpe10(9)}).Draw(t, "rpe"),
				talk: rapid.SampledFrom([]record.Talk{"", record.TalkComfortable, record.TalkHard, record.TalkNo}).Draw(t, "talk"),
			})
		}
		f := proposal.Find(r, today, nil)
		var answers []proposal.Answer
		for _, p := range f.Open {
			switch p.Kind {
			case proposal.Maximum:
				if p.Value < *p.Was+1 || p.Value > 199 {
					t.Fatalf("%+v", p)
				}
			case proposal.TopOfZone1:
				if p.Value > *p.Was-1 || p.Edges[0].After.BPM[1] != p.Value {
					t.Fatalf("%+v", p)
				}
			}
			answers = append(answers, proposal.Answer{Entered: today, Proposal: p})
		}
		if left := proposal.Find(r, today, answers); len(left.Open) > 0 {
			t.Fatalf("answered and still there: %+v", left.Open)
		}
	})
}

// A played run to the limit by somebody whose maximum the age formula misses by 10 bpm gives the maximum
// within the noise; the same run from a wrist sensor gives nothing.
func TestMaximumOfAPlayedRun(t *testing.T) {
	plan := workout.Plan{Mode: workout.Run, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300, High: 110}, {Kind: workout.Steady, Seconds: 1200, Low: 188, High: 200}, {Kind: workout.CoolDown, Seconds: 300, High: 100},
	}}
	for sensor, want := range map[workout.Sensor]bool{workout.Strap: true, workout.Wrist: false} {
		r := runner()
		w, truth := simulate.Play(plan, simulate.Beginner(60, 195), simulate.Options{Seed: 7, Start: (today - 1).Time().Add(8 * time.Hour), Sensor: sensor, Place: workout.Outdoor})
		r.Recordings = []record.Recording{{ID: "a#0", Date: today - 1, Received: today - 1, Workout: w,
			Measured: physiology.Measure(heartrate.Clean(w), w, r.Client.Body(today-1), false)}}
		r.Notes = []record.Note{{ID: "n1", Date: today - 1, Entered: today - 1, RPE: rpe20(truth.RPE), Talk: record.Talk(truth.Talk)}}
		f := proposal.Find(r, today, nil)
		if got := len(f.Open) == 1; got != want {
			t.Fatalf("%s: %+v, effort %g", sensor, f, truth.RPE)
		}
		if want && (f.Open[0].Value < 191 || f.Open[0].Value > 196) {
			t.Errorf("proposed %g bpm, the body's maximum is 195", f.Open[0].Value)
		}
	}
}

// The top of zone 2 comes down in proportion where nobody measured it: with 60 bpm at rest, tops of 135.2
// and 154.1 bpm, and 122 bpm as the last comfortable one, 60 + (154.1 - 60) (122 - 60) / (135.2 - 60) = 137.6.
func TestTopOfZone2Follows(t *testing.T) {
	hard := []outing{{ago: 20, mean: 122, rpe: rpe20(12)}, {ago: 2, mean: 130, rpe: rpe20(15)}, {ago: 5, mean: 131, rpe: rpe20(15)}}
	p := proposal.Find(with(runner(), hard...), today, nil).Open[0]
	if p.Zones.T2 != 137 || p.Edges[0].After.BPM[2] != 137 || !strings.Contains(p.Text(), "from 154 to 137 bpm") {
		t.Errorf("T2 %v: %s", p.Zones.T2, p.Text())
	}
	measured := runner()
	measured.Client.Zones[0].T2 = 150
	if p := proposal.Find(with(measured, hard...), today, nil).Open[0]; p.Zones.T2 != 150 || strings.Contains(p.Text(), "zone 2") {
		t.Errorf("a measured top of zone 2 was moved to %v: %s", p.Zones.T2, p.Text())
	}
	// Taken, then hard again within the new zone 1: what came down once comes down again.
	r := with(runner(), hard...)
	var err error
	if r.Client, err = p.Take(r.Client, today+1); err != nil {
		t.Fatal(err)
	}
	later := today + 20
	for i, mean := range map[int]float64{12: 112, 14: 118, 16: 119} {
		o := outing{ago: -i, mean: mean, rpe: rpe20(15)}
		if mean == 112 {
			o.rpe = rpe20(12)
		}
		r = with(r, o)
	}
	again := proposal.Find(r, later, []proposal.Answer{{Entered: today, Taken: true, From: today + 1, Proposal: p}}).Open
	if len(again) != 1 || again[0].Zones.T1 != 112 || again[0].Zones.T2 != 124 { // 60 + 77 x 52 / 62 = 124.6
		t.Errorf("again: %+v", again)
	}
}

// nearly is what is said of what was seen and is not enough.
func nearly(f proposal.Findings) string {
	var out []string
	for _, n := range f.Near {
		out = append(out, n.Words())
	}
	return strings.Join(out, " ")
}

func cautions(p proposal.Proposal) string {
	var out []string
	for _, c := range p.Cautions {
		out = append(out, c.Words())
	}
	return strings.Join(out, " ")
}

// TestOldCautionsStay: books of an earlier version hold cautions as sentences.
func TestOldCautionsStay(t *testing.T) {
	var a proposal.Answer
	if err := json.Unmarshal([]byte(`{"taken":true,"proposal":{"kind":"resting","text":"old","cautions":["Ask first."],"evidence":[{"bpm":60,"text":"old"}]}}`), &a); err != nil {
		t.Fatal(err)
	}
	if got := cautions(a.Proposal); got != "Ask first." {
		t.Errorf("%q", got)
	}
}
