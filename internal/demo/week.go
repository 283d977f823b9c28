package demo

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// crewWeek is what one week of one member brings to the trainer.
type crewWeek struct {
	Ends      workout.Date
	Files     []dropped
	Notes     []record.Note
	Reports   []record.Report
	Decisions []record.Decision
}

// dropped is one file as it arrives.
type dropped struct {
	Name  string
	Bytes []byte
}

// week plays week i, counted from 0. p is what was prescribed for it; nil before the first
// prescription. It panics when a member's format cannot be written, which is a slip in the crew's table.
func (m crewMember) week(i int, p *record.Prescription) crewWeek {
	w := crewWeek{Ends: m.ends(i)}
	for _, o := range m.outings(i, p) {
		m.play(&w, o)
	}
	for j := range i {
		for _, o := range m.outings(j, nil) {
			if j+o.Late == i {
				m.deliver(&w, o)
			}
		}
	}
	if m.Mornings > 0 {
		w.Notes = append(w.Notes, m.mornings(i)...)
	}
	if m.Says != nil {
		w.Notes = append(w.Notes, m.Says(i+1, w.Ends)...)
	}
	for k := range w.Notes {
		w.Notes[k].Entered = w.Ends
	}
	if d, ok := m.Decides[i+1]; ok {
		d.Client, d.Entered, d.By = m.Facts.Name, w.Ends, trainer
		w.Decisions = append(w.Decisions, d)
	}
	w.Files = m.packed(w)
	return w
}

// outings are the sessions of a week as planned and changed.
func (m crewMember) outings(i int, p *record.Prescription) []outing {
	var out []outing
	for n, day := range m.Days {
		o := outing{
			Week: i, N: n, Date: m.ends(i) - 6 + workout.Date(day), Minute: 6*60 + 10 + (17*n+31*i)%90,
			Pace: m.Pace, Options: m.Record, Format: m.Format, Asked: n < m.Answers,
		}
		o.Options.Seed = m.Seed<<16 | uint64(i)<<4 | uint64(n)
		o.Plan = m.steady(i, p)
		if p != nil && p.Intervals != nil && n < p.Sessions {
			o.Plan = p.Plans()[n] // weeks with intervals are done as written
		}
		if o.Options.Sensor == workout.Wrist {
			o.Options.Faults = simulate.WristFaults(o.Options.Seed, o.Plan.Seconds())
		}
		if m.Change != nil {
			m.Change(i+1, &o)
		}
		if !o.Missed {
			out = append(out, o)
		}
	}
	return out
}

// The warm-up and cool-down of a steady session in seconds.
const warmUp, coolDown = 300, 300

// steady is a steady session: the prescribed band, or comfortable without heart rates, for the member's own
// minutes or the prescribed ones.
func (m crewMember) steady(i int, p *record.Prescription) workout.Plan {
	minutes := m.Minutes[min(i, len(m.Minutes)-1)]
	if minutes == 0 && p != nil {
		minutes = p.Minutes
	}
	main := workout.Step{Kind: workout.Steady, Seconds: minutes*60 - warmUp - coolDown, Feel: workout.Comfortable}
	if p != nil {
		for _, t := range p.Targets {
			if t.Mode == m.Mode {
				main.Low, main.High, main.Feel = t.Low, t.High, t.Feel
			}
		}
	}
	return workout.Plan{Mode: m.Mode, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: warmUp}, main, {Kind: workout.CoolDown, Seconds: coolDown},
	}}
}

// play does one outing and adds what it brings to the week: the answers to the trainer's questions,
// and the file unless it comes late.
func (m crewMember) play(w *crewWeek, o outing) {
	done, truth := m.do(o)
	rpe, talk := &workout.RPE{Value: truth.RPE, Scale: 20}, record.Talk(truth.Talk)
	if o.Told {
		w.Reports = append(w.Reports, record.Report{
			Date: o.Date, Entered: w.Ends, Minutes: math.Round(float64(done.Seconds) / 60), Sport: m.Mode.Sport(), RPE: rpe, Talk: talk,
		})
		return
	}
	if o.Asked {
		w.Notes = append(w.Notes, record.Note{Date: o.Date, RPE: rpe, Talk: talk, Enjoyment: m.Enjoys})
	}
	if o.Late == 0 {
		m.deliver(w, o)
	}
}

// do plays one outing on the body of its week.
func (m crewMember) do(o outing) (workout.Workout, simulate.Truth) {
	if o.Pace > 0 {
		o.Options.Hold = m.Body.Load(m.Mode, o.Pace)
	}
	o.Options.Start = o.Date.Time().Add(time.Duration(o.Minute) * time.Minute)
	return simulate.Play(o.Plan, m.Body.After(float64(o.Week), m.Progress), o.Options)
}

// deliver adds the file of an outing to a week, and that of a second device if there was one.
func (m crewMember) deliver(w *crewWeek, o outing) {
	add := func(prefix, format string) {
		done, _ := m.do(o)
		name := fmt.Sprintf("%s%s-%02d%02d-%s.%s", prefix, o.Date, o.Minute/60, o.Minute%60, m.Mode.Sport(), format)
		b, err := recording.Encode(format, done)
		if err != nil {
			panic(fmt.Sprintf("crew: %s: %v", name, err))
		}
		w.Files = append(w.Files, dropped{name, b})
	}
	add("", o.Format)
	if o.Twin != "" {
		o.Options.Unit, o.Options.Sensor, o.Options.Begin, o.Options.Clock = 1, workout.Wrist, 20, 12
		add("watch-", o.Twin)
	}
}

// packed compresses the week's files the way the member's exports come. Writing into memory cannot fail.
func (m crewMember) packed(w crewWeek) []dropped {
	var buf bytes.Buffer
	switch {
	case m.Pack == "gz":
		return record.Map(w.Files, func(f dropped) dropped {
			var buf bytes.Buffer
			z := gzip.NewWriter(&buf)
			z.Write(f.Bytes)
			z.Close()
			return dropped{f.Name + ".gz", buf.Bytes()}
		})
	case m.Pack == "zip" && len(w.Files) > 0:
		z := zip.NewWriter(&buf)
		for _, f := range w.Files {
			if e, err := z.Create(f.Name); err == nil {
				e.Write(f.Bytes)
			}
		}
		z.Close()
		return []dropped{{"week-to-" + w.Ends.String() + ".zip", buf.Bytes()}}
	}
	return w.Files
}

// mornings are resting heart rates of three mornings, with a day's noise of 2 bpm (invented) and
// what a bad day adds.
func (m crewMember) mornings(i int) []record.Note {
	rng := rand.New(rand.NewPCG(m.Seed, uint64(i)))
	var out []record.Note
	for _, day := range []int{1, 3, 6} {
		bpm := m.Mornings - m.Progress.Rest*float64(i) + 2*rng.NormFloat64()
		for _, o := range m.outings(i, nil) {
			if o.Date <= m.ends(i)-6+workout.Date(day) {
				bpm += o.Options.DayBPM / 3
			}
		}
		out = append(out, record.Note{Date: m.ends(i) - 6 + workout.Date(day), HRRest: math.Round(bpm)})
	}
	return out
}
