package progression

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// From when facts contradict each other. A resting heart rate above 100 is the usual border of a racing heart (from memory);
// three standard errors leave one healthy adult in 370 outside, two and a half one in 80; the rest is common practice, no source.
const (
	clearlyBelow   = 5  // bpm under the resting heart rate, reached in two recordings
	restDays       = 28 // in which they lie
	highRest       = 100
	fewestMornings = 3                       // that make a resting heart rate
	farOff         = 2.5 * physiology.SEENes // of a maximum that was entered
	unlikely       = 3 * physiology.SEENes   // of a peak that was recorded
	borneOut       = 5                       // bpm under a maximum, at which a recording bears it out
	peakDays       = 365
	mostComfort    = 0.90 // of the maximum, the highest first threshold of 100 adults (Iannetta 2020)
	baseDays       = 42   // the least that stage 1 takes a client who was inactive
	latePregnancy  = 55   // years
	lateStart      = 75   // years, for a start above stage 1
	beforeDays     = 84   // three months before the screening, which it asks about
	shownDays      = 56   // of them from the first recording on, for few sessions to say anything
	fewSessions    = 1.5  // a week, half of what the screening calls active
)

// clashes lists the pairs of facts of which one must be wrong, and that nobody has confirmed.
func (v Review) clashes() []record.Question {
	var out []record.Question
	c := v.Record.Client
	ask := func(when bool, confirm record.Checked, code record.Code, args record.Args) {
		if when && !slices.Contains(c.Confirmed, confirm) {
			out = append(out, record.Question{On: v.On, Confirm: confirm, Clash: record.Fact{Code: code, Args: args}})
		}
	}
	years := math.Floor(c.Born.YearsAt(v.On))
	rest := c.ZonesOn(v.On + 1).HRRest
	lowest, times := v.lowestRecorded()
	ask(rest >= highRest, record.CheckedRest, RestHigh, record.Args{"rest": rest})
	ask(times > 1 && lowest <= rest-clearlyBelow, record.CheckedRest, RestAboveRecorded, record.Args{"rest": rest, "lowest": lowest, "days": restDays})
	mornings, enough := v.mornings(rest)
	ask(enough, record.CheckedRest, RestAboveMornings, record.Args{"rest": rest, "mean": mornings, "days": restDays})
	if estimate, ok := (physiology.Body{Age: c.Born.YearsAt(v.On)}).Maximum(workout.Run); ok {
		for _, bpm := range slices.Sorted(maps.Values(c.ZonesOn(v.On + 1).HRMax)) {
			above := bpm - estimate.BPM
			ask(-above > farOff || above > farOff && v.held(bpm-borneOut) == nil, record.CheckedMaximum, MaximumUnlikely, record.Args{"bpm": bpm, "years": years, "estimate": estimate.BPM})
		}
		top, most := v.highestComfort(estimate.BPM + physiology.SEENes)
		ask(top > mostComfort*most, record.CheckedMaximum, ComfortUnlikely, record.Args{"bpm": top, "years": years, "most": most})
		if x := v.held(estimate.BPM + unlikely); x != nil {
			ask(true, record.CheckedBirth, PeakUnlikely, record.Args{"bpm": x.Measured.Held.BPM, "on": x.Date, "years": years, "estimate": estimate.BPM})
		}
	}
	unexplained := v.unexplained()
	ask(len(unexplained) > 0, record.CheckedDisease, NoDiseaseBut, record.Args{"facts": unexplained})
	ask(c.Has(record.Pregnant) && (c.Sex == physiology.Male || years > latePregnancy), record.CheckedPregnant, PregnantBut, record.Args{"sex": string(c.Sex), "years": years})
	// A start above stage 1 after an inactive time needs weeks of training, and sessions enough for a move, in between.
	noBase := c.Inactive() && c.Stage > 1 && c.Screening.On != 0 && (c.Since-c.Screening.On < baseDays || v.sinceScreening() < *v.Policy.Rule(policy.SessionsTotal).Threshold)
	ask(noBase, record.CheckedActive, StageBut, record.Args{"stage": c.Stage, "on": c.Screening.On})
	began := math.Floor(c.Born.YearsAt(c.Since))
	ask(!noBase && c.Stage > 1 && began > lateStart, record.CheckedActive, AgeBut, record.Args{"stage": c.Stage, "years": began})
	sessions, weeks := v.beforeScreening()
	ask(c.Screening.Active && weeks > 0 && float64(sessions) < fewSessions*weeks, record.CheckedActive, ActiveBut, record.Args{"sessions": sessions, "weeks": math.Round(weeks)})
	return out
}

// held is the first recording of the last year in which a sound sensor held more than a heart rate in bpm; nil for none.
func (v Review) held(bpm float64) *record.Recording {
	for i, x := range v.Record.Recordings {
		if h := x.Measured.Held; h != nil && h.Enough && x.Counts() && x.Date > v.On-peakDays && h.BPM > bpm {
			return &v.Record.Recordings[i]
		}
	}
	return nil
}

// highestComfort is the top of zone 1 in bpm that was entered and is the largest share of the maximum of its mode, with
// that maximum: the measured one, else what is supposed; 0 where none was entered.
func (v Review) highestComfort(supposed float64) (top, most float64) {
	c, set := v.Record.Client, v.Record.Client.ZonesOn(v.On+1)
	most = supposed
	for _, m := range c.TrainedModes() {
		t, of := cmp.Or(set.Edges[m][1], set.T1), cmp.Or(set.HRMax[m], set.HRMax[""], supposed)
		if t/of > top/most {
			top, most = t, of
		}
	}
	return top, most
}

// lowestRecorded is a heart rate in bpm that two recordings of the last weeks went down to, and how many show their lowest.
func (v Review) lowestRecorded() (bpm float64, times int) {
	var low []float64
	for _, x := range v.Record.Recordings {
		if h := x.Measured.HeartRate; x.Counts() && x.Date > v.On-restDays && h.Usable && h.Min != nil {
			low = append(low, *h.Min)
		}
	}
	if slices.Sort(low); len(low) > 1 {
		bpm = low[1]
	}
	return bpm, len(low)
}

// mornings is the mean resting heart rate in bpm of the notes of the last weeks; clearly says that they are enough, and
// that it lies below the one on record by more than the smallest detectable change between two such means.
func (v Review) mornings(rest float64) (bpm float64, clearly bool) {
	since := v.Record.Client.ZonesOn(v.On + 1).From
	var all []float64
	for _, n := range v.Record.Notes {
		if n.HRRest > 0 && n.Date > v.On-restDays && n.Date >= since {
			all = append(all, n.HRRest)
		}
	}
	if len(all) < fewestMornings {
		return 0, false
	}
	return mean(all), rest-mean(all) > physiology.DetectableChange(physiology.TypicalErrorRest*rest, math.Inf(1), fewestMornings, len(all))
}

// unexplained lists what points to a disease or a doctor's care where the screening found no disease and no doctor has
// cleared the client.
func (v Review) unexplained() record.Facts {
	c := v.Record.Client
	var out record.Facts
	if c.Screening.On == 0 || c.Screening.Diseased() || c.Clearance != 0 {
		return nil
	}
	for _, x := range []struct {
		has  bool
		code record.Code
	}{
		{c.Has(record.Insulin), HasInsulin}, {c.Has(record.Pacemaker), HasPacemaker}, {c.Has(record.Irregular), HasIrregular},
		{c.Medicine == record.Slows, HasSlowing}, {v.weeksLimit() > 0, HasLimit},
	} {
		if x.has {
			out = append(out, record.Fact{Code: x.code})
		}
	}
	return out
}

// beforeScreening counts the sessions in the months that the screening asks about, and the weeks of them that recordings
// cover; 0 weeks where too little is known.
func (v Review) beforeScreening() (sessions int, weeks float64) {
	end := v.Record.Client.Screening.On
	first := end
	for _, s := range v.Record.Done() {
		if s.Date >= end-beforeDays && s.Date < end {
			sessions++
			first = min(first, s.Date)
		}
	}
	if end-first < shownDays {
		return 0, 0
	}
	return sessions, float64(end-first) / 7
}

// sinceScreening counts the sessions between the screening and the start.
func (v Review) sinceScreening() float64 {
	c := v.Record.Client
	return float64(len(record.Keep(v.Record.Done(), func(s record.Session) bool { return s.Date >= c.Screening.On && s.Date < c.Since })))
}

// Body is the client's on a day, with the careful side of facts that contradict others: a resting heart rate in question
// gives way to the lowest that was recorded, a maximum that is too high for the age to the estimate.
func (v Review) Body(on workout.Date) physiology.Body {
	b := v.Record.Client.Body(on)
	for _, q := range v.unanswered {
		switch q.Clash.Code {
		case RestHigh, RestAboveRecorded:
			lowest, _ := v.lowestRecorded()
			b.HRRest = min(b.HRRest, lowest)
		case RestAboveMornings:
			b.HRRest = min(b.HRRest, q.Clash.Args["mean"].(float64))
		case ComfortUnlikely:
			b.T1, b.T2, b.Fixed = 0, 0, nil
		case MaximumUnlikely:
			if q.Clash.Args["bpm"].(float64) > q.Clash.Args["estimate"].(float64) {
				b.HRMax, b.HRMaxAny = nil, 0
			}
		}
	}
	return b
}
