package proposal_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// screened is the runner whose zone 1 ends at 135.2 and zone 2 at 154.1 bpm, with the screening answered.
func screened() record.Record {
	r := runner()
	r.Client.Screening = record.Screening{On: today - 60, Active: true, Disease: "none"}
	return r
}

// easyAt are sessions with easy talk at heart rates, every third day back from today.
func easyAt(means ...float64) (all []outing) {
	for i, m := range means {
		all = append(all, outing{ago: 3 * i, mean: m, rpe: rpe20(12), talk: record.TalkComfortable})
	}
	return all
}

// Easy talk above zone 1 suggests a higher top: the heart rate that four sessions reached. The top of zone 2, which nobody
// measured, follows in proportion: 60 + 94.05 x (146 - 60) / 75.24 = 167.5 bpm.
func TestEasyTalkSuggestsAHigherTop(t *testing.T) {
	f := proposal.Find(with(screened(), easyAt(150, 148, 146, 147, 144)...), today, nil)
	if short(f) != "top-of-zone-1 run 146" || !f.Open[0].Raises() || len(f.Open[0].Evidence) != 5 {
		t.Fatalf("%q: %+v", short(f), f.Open)
	}
	p := f.Open[0]
	if p.Zones.T1 != 146 || p.Zones.T2 != 167 || p.Edges[0].After.BPM[1] != 146 {
		t.Errorf("zones %+v", p.Zones)
	}
	for _, want := range []string{"comfortable in 5 sessions above zone 1 (top 135 bpm)", "Suggested top of zone 1: 146 bpm", "goes up with it from 154 to 167 bpm"} {
		if !strings.Contains(p.Text(), want) {
			t.Errorf("%q does not say %q", p.Text(), want)
		}
	}
	if !strings.Contains(cautions(p), "For a beginner that is a trap") || strings.Contains(cautions(p), "wrist") {
		t.Errorf("cautions %q", cautions(p))
	}
	wrist := easyAt(150, 148, 146, 147)
	wrist[1].sensor = workout.Wrist
	if p := proposal.Find(with(screened(), wrist...), today, nil).Open[0]; !strings.Contains(cautions(p), "count steps instead of heartbeats") {
		t.Errorf("a wrist sensor: %q", cautions(p))
	}
	changed, err := p.Take(screened().Client, today+1)
	if err != nil || changed.ZonesOn(today+1).T1 != 146 || changed.Body(today).Edges(workout.Run).BPM[1] >= 136 {
		t.Errorf("%+v, %v", changed.Zones, err)
	}
}

// One zone at a time: easy talk far above zone 2 puts the top of zone 1 nowhere near it.
func TestAHigherTopStaysBelowZone3(t *testing.T) {
	if got := short(proposal.Find(with(screened(), easyAt(170, 171, 172, 173)...), today, nil)); got != "" {
		t.Errorf("got %q", got)
	}
}

// A second mode keeps its zones, as nobody talked in it.
func TestAHigherTopIsForOneMode(t *testing.T) {
	r := screened()
	r.Client.Modes = []workout.Mode{workout.Run, workout.Bike}
	p := proposal.Find(with(r, easyAt(150, 148, 146, 147)...), today, nil).Open[0]
	if p.Zones.T1 != 0 || p.Zones.Edges[workout.Run][1] != 146 || len(p.Edges) != 1 {
		t.Errorf("%+v, changes %+v", p.Zones, p.Edges)
	}
}

// Hard and easy talk at the same beats: three hard sessions of nine lower the top to just below the lowest hard one;
// three of ten, or two, ask for a talk test.
func TestHardAndEasyAtTheSameBeats(t *testing.T) {
	mixed := func(easy, hard int) []outing {
		var all []outing
		for i := range easy + hard {
			o := outing{ago: 2 * i, mean: 130 + float64(i%3), rpe: rpe20(12), talk: record.TalkComfortable}
			if i < hard {
				o.talk = record.TalkHard
			}
			all = append(all, o)
		}
		return all
	}
	for _, c := range []struct {
		easy, hard int
		want       string
	}{{6, 3, "top-of-zone-1 run 129"}, {7, 3, ""}, {4, 2, ""}, {0, 3, "top-of-zone-1 run 129"}, {3, 4, "top-of-zone-1 run 129"}} {
		f := proposal.Find(with(screened(), mixed(c.easy, c.hard)...), today, nil)
		if got := short(f); got != c.want || c.want == "" && !strings.Contains(nearly(f), "Do a talk test") {
			t.Errorf("%d hard of %d: %q %q, want %q", c.hard, c.easy+c.hard, got, nearly(f), c.want)
		}
		if len(f.Open) > 0 && (f.Open[0].Raises() || !strings.Contains(f.Open[0].Text(), "129 bpm is just below the lowest that was hard")) {
			t.Errorf("%s", f.Open[0].Text())
		}
	}
}

// Whatever is in a record: a higher top is never above the lowest beats that were hard, never for somebody with a limit, a
// medicine, an open sign or no screening, and never suggested again from declined evidence.
func TestHigherTopsKeepTheirPromises(t *testing.T) {
	raised := 0
	rapid.Check(t, func(t *rapid.T) {
		r := screened()
		forbidden := rapid.SampledFrom([]string{"", "", "", "", "limit", "slows", "raises", "unscreened", "sign"}).Draw(t, "forbidden")
		switch forbidden {
		case "limit":
			r.Client.Zones[0].Limit = 165
		case "slows":
			r.Client.Medicine = record.Slows
		case "raises":
			r.Client.Medicine = record.Raises
		case "unscreened":
			r.Client.Screening = record.Screening{}
		case "sign":
			r.Notes = append(r.Notes, record.Note{ID: "s", Date: today - 9, Entered: today - 9, Symptoms: []signs.Sign{signs.Chest}})
		}
		lowest := math.Inf(1)
		from := rapid.SampledFrom([]float64{128, 142}).Draw(t, "from") // often above zone 1, so that there is something to raise
		for i := range rapid.IntRange(4, 14).Draw(t, "sessions") {
			o := outing{ago: 2 * i, mean: math.Floor(rapid.Float64Range(from, 152).Draw(t, "mean")), rpe: rpe20(12), talk: record.TalkComfortable}
			switch rapid.IntRange(0, 39).Draw(t, "feels") {
			case 0:
				o.talk = record.TalkHard
			case 1:
				o.rpe = rpe20(15)
			}
			if o.talk == record.TalkHard || o.rpe.Value > 14 {
				lowest = min(lowest, o.mean)
			}
			r = with(r, o)
		}
		var declined []proposal.Answer
		for _, p := range proposal.Find(r, today, nil).Open {
			if !p.Raises() {
				continue
			}
			raised++
			if p.Value > lowest || forbidden != "" {
				t.Fatalf("%g bpm with the lowest hard one at %g, %q", p.Value, lowest, forbidden)
			}
			declined = append(declined, proposal.Answer{Entered: today, Proposal: p})
		}
		for _, p := range proposal.Find(r, today, declined).Open {
			if p.Raises() && len(declined) > 0 {
				t.Fatalf("declined and suggested again: %+v", p)
			}
		}
	})
	if raised == 0 && !testing.Short() {
		t.Error("nothing was ever raised")
	}
}
