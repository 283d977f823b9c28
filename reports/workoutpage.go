package reports

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// workoutPage is the page of one recording.
type workoutPage struct {
	frame
	Name, Activity string
	Date, File     string
	Aside          string
	Facts          []fact
	Trace          *chart
	ZoneTimes      *chart
	Falls          *chart
	NoFalls        string // why there are none
	Recoveries     table
	Phases         table
	Drift, Check   string
	Remarks        []string
	EdgesNote      string
	Decision       string
	care
}

// Workout makes the page of one workout. It loads the runtime from its own folder.
func Workout(rec record.Recording, s heartrate.Series, w workout.Workout, c Client) ([]byte, error) {
	p, err := workoutOf(rec, s, w, c)
	if err = errors.Join(err, paint(wholeWidth, p.Trace), paint(halfWidth, p.ZoneTimes, p.Falls)); err != nil {
		return nil, err
	}
	if p.frame, err = p.scripted(); err != nil {
		return nil, err
	}
	return render("workout.html", p)
}

// Inspected makes the page of one workout that is in no book. It stands alone in one file; slowed says that a medicine slows
// the heart.
func Inspected(rec record.Recording, s heartrate.Series, w workout.Workout, slowed bool) ([]byte, error) {
	var c Client
	if slowed {
		c.Record.Client.Medicine = record.Slows
	}
	p, err := workoutOf(rec, s, w, c)
	if err = errors.Join(err, paint(pageAlone, p.Trace), paint(halfAlone, p.ZoneTimes, p.Falls)); err != nil {
		return nil, err
	}
	p.Title, p.Decision = p.Activity+", "+p.Date, ""
	switch {
	case slowed:
		p.EdgesNote = "A medicine slows the heart, so there are no zones, and nothing is concluded from heart rate."
	case p.EdgesNote == "":
		p.EdgesNote = "There are no zones: they need a maximal heart rate, an age or zone edges."
	}
	return render("workout.html", p)
}

func workoutOf(rec record.Recording, s heartrate.Series, w workout.Workout, c Client) (workoutPage, error) {
	m := rec.Measured
	if !beatsLead(c) { // a rate under such a medicine fits no zone and no rule
		m.Zones, m.Edges, m.Recoveries, m.Drift, m.Check = nil, nil, nil, physiology.Drift{}, nil
	}
	place := ""
	if w.Place != workout.AnyPlace {
		place = ", " + string(w.Place) + "s"
	}
	p := workoutPage{
		Name: c.Record.Client.Name, Activity: w.Sport.Mode().Doing() + place, Date: rec.Date.Long(), File: rec.Name, Aside: wording.Sentence(reasons.Text(rec.Aside)),
		Facts: workoutFacts(m), EdgesNote: edges(m.Edges), Decision: FileName("decision", c.Record.Client.Name), care: careOf(c, signs.Trainer),
		Drift: driftText(m.Drift), Check: checkText(m.Check), Phases: phaseTable(m.Phases), Recoveries: recoveryTable(m.Recoveries),
	}
	if rec.Date == 0 {
		p.Date = "date not recorded"
	}
	p.frame = unscripted(p.Name + ": " + p.Activity + ", " + p.Date)
	remarks := slices.Concat(w.Remarks, s.Remarks, m.Remarks)
	for i, r := range remarks {
		if !slices.ContainsFunc(remarks[:i], r.Equal) {
			p.Remarks = append(p.Remarks, wording.Sentence(reasons.Text(r)))
		}
	}
	var err error
	var plan *record.Intervals
	if week := c.Record.PlanFor(rec.Date, rec.Date); week != nil && beatsLead(c) {
		plan = week.Intervals
	}
	if !beatsLead(c) {
		m.Bouts = nil
	}
	if p.Trace, err = traceChart("trace", s, w, m, plan); err != nil {
		return p, err
	}
	if m.Zones != nil {
		if p.ZoneTimes, err = zoneTimeChart("zone-times", *m.Zones); err != nil {
			return p, err
		}
	}
	if p.Falls = fallChart("falls", s, m.Recoveries); p.Falls == nil && len(m.Recoveries) > 0 {
		p.NoFalls = "No heart rate was recorded 60 seconds after a stop: keep recording for 3 minutes after the last effort."
	}
	standAlone(p.Trace, p.ZoneTimes, p.Falls)
	return p, nil
}

func workoutFacts(m physiology.Measurements) []fact {
	h := m.HeartRate
	out := []fact{{"Length", wording.Clock(h.Elapsed), "no pause"}}
	if h.Paused > 0 {
		out[0].More = "paused for " + wording.Clock(h.Paused)
	}
	from := fact{What: "Heart rate from", Value: sensor(h.Source)}
	if h.Coverage != nil {
		from.More = fmt.Sprintf("%d %% of the time recorded", int(math.Round(100**h.Coverage)))
	}
	if !h.Usable {
		from.More = "too little or too poor to be used"
	}
	return append(out, from,
		fact{"Mean", orWord(whole(h.Mean), "bpm", notRecorded), "lowest " + orWord(whole(h.Min), "bpm", notRecorded)},
		fact{"Peak", orWord(whole(h.Peak), "bpm", notRecorded), "highest 5-second mean"},
		fact{"Longest gap", wording.Clock(h.Gap), fmt.Sprintf("%s rejected as implausible", wording.Plural(h.Rejected, "second", "seconds"))})
}

func whole(v *float64) *float64 {
	if v == nil {
		return nil
	}
	return new(math.Round(*v))
}

func driftText(d physiology.Drift) string {
	why := reasons.Why(d.Why, d.Clause)
	switch {
	case !d.Enough && why == "":
		return ""
	case !d.Enough:
		return "Not enough data for drift at a steady load: " + why + "."
	}
	s := fmt.Sprintf("From %s to %s the heart rate drifted by %s bpm per 10 min (90 %% interval %s to %s).",
		wording.Clock(d.From), wording.Clock(d.To), wording.Number(d.Slope), wording.Number(d.Low), wording.Number(d.High))
	if d.Cost != nil {
		s += fmt.Sprintf(" Heart rate relative to speed or power changed by %s %% from the first half to the second.", wording.Number(*d.Cost))
	}
	return s
}

func checkText(k *physiology.Check) string {
	switch {
	case k == nil:
		return ""
	case !k.Enough:
		return "Not enough data for the check session: " + reasons.Why(k.Why, k.Clause) + "."
	}
	return fmt.Sprintf("Check session: the last 5 minutes were %s minutes 8 to 12.", wording.Above(k.Rise))
}

var phaseFills = map[workout.StepKind]fill{
	workout.WarmUp: {"warm-up", "var(--z0)", plain}, workout.Steady: {"steady", "var(--z1)", plain}, workout.Work: {"work", "var(--z3)", plain},
	workout.Recovery: {"recovery", "var(--z1)", plain}, workout.CoolDown: {"cool-down", "var(--z0)", plain}, workout.OtherPart: {"other", "var(--page)", plain},
}

func phaseTable(phases []physiology.Phase) table {
	return table{[]string{"Part", "From", "To", "Length", "Mean heart rate"}, record.Map(phases, func(p physiology.Phase) []string {
		return []string{wording.Capital(string(p.Kind)), wording.Clock(p.From), wording.Clock(p.To), wording.Clock(p.Seconds()),
			orWord(whole(p.Mean), "bpm", notRecorded)}
	})}
}

func recoveryTable(all []physiology.Recovery) table {
	t := table{Head: []string{"Stop at", "Drop in 60 s", "At the stop", "60 s later", "From the peak", "Drop in 120 s", "Time constant", "After the stop", "Found by"}}
	for _, r := range all {
		drop := orWord(r.Drop60, "bpm", notRecorded)
		if r.Drop60Low != nil && *r.Drop60High-*r.Drop60Low >= 1 {
			drop += fmt.Sprintf(" (%.0f to %.0f)", *r.Drop60Low, *r.Drop60High)
		}
		if why := reasons.Why(r.Basis.Why, r.Basis.Clause); !r.Basis.Enough && why != "" {
			drop += ": " + why
		}
		t.Rows = append(t.Rows, []string{wording.Clock(r.Stop), drop, orWord(whole(r.End), "bpm", notRecorded), orWord(whole(r.At60), "bpm", notRecorded),
			orWord(r.FromPeak60, "bpm", notRecorded), orWord(r.Drop120, "bpm", notRecorded), orWord(r.Tau, "s", notEnough),
			cmp.Or(map[physiology.Activity]string{physiology.Still: "still", physiology.Moving: "moving"}[r.Activity], "not known"), string(r.By)})
	}
	return t
}
