package main

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/signs"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// oddBegan is the Monday on which everybody of the odd book begins.
var oddBegan = workout.MustDate("2026-03-02")

// odd is one invented deckhand whose weeks are out of the ordinary. Nobody is real.
type odd struct {
	name    string
	facts   func(*record.Client)
	weeks   int    // 0 for all of the book
	format  string // "" for fit
	sensor  workout.Sensor
	body    func(*simulate.Athlete)
	does    func(week, n int, o *outing) // what was done otherwise than planned; weeks count from 1
	alone   bool                         // does the first week's sessions for good, whatever is planned
	first   []workout.Plan               // the sessions of a week without a plan; nil for three walks of half an hour
	says    func(week int, monday workout.Date) []record.Note
	decides map[int]record.Decision // at the end of a week
	sets    func(week int, c *record.Client, monday workout.Date) bool
}

// outing is one session as it was done.
type outing struct {
	workout.Plan
	simulate.Options
	missed, silent bool
	reported       bool // without a recording
	noHeart        bool
	scale10        bool
	again          int // so many hours later the same once more
	day            workout.Date
}

func walks(n, minutes int) (out []workout.Plan) {
	for range n {
		out = append(out, workout.Plan{Mode: workout.Walk, Steps: []workout.Step{
			{Kind: workout.WarmUp, Seconds: 300}, {Kind: workout.Steady, Seconds: minutes*60 - 600, Feel: workout.Comfortable}, {Kind: workout.CoolDown, Seconds: 300},
		}})
	}
	return out
}

func in(mode workout.Mode, plans []workout.Plan) []workout.Plan {
	for i := range plans {
		plans[i].Mode = mode
	}
	return plans
}

func everyWeek(f func(o *outing)) func(int, int, *outing) {
	return func(_, _ int, o *outing) { f(o) }
}

func weeksOff(from, to int) func(int, int, *outing) {
	return func(week, _ int, o *outing) { o.missed = week >= from && week <= to }
}

func noteOn(week, day int, s ...signs.Sign) func(int, workout.Date) []record.Note {
	return func(w int, monday workout.Date) []record.Note {
		if w != week {
			return nil
		}
		return []record.Note{{Date: monday + workout.Date(day), Symptoms: s}}
	}
}

// oddCrew are the deckhands. What each of them is there for is said by the name of the field that is set.
func oddCrew() []odd {
	stage := func(n int) func(*record.Client) { return func(c *record.Client) { c.Stage = n } }
	act := func(a record.Act) record.Decision { return record.Decision{Act: a, Because: "said so after a talk"} }
	return []odd{
		{name: "Alda", facts: func(c *record.Client) { c.Screening.Active = false }},
		{name: "Brin away for five weeks", does: weeksOff(4, 8)},
		{name: "Corm missing every planned week", first: walks(3, 45), does: func(week, n int, o *outing) {
			o.missed = week > 1 && n > 0
			if week > 1 {
				o.Plan = walks(1, 12)[0]
			}
		}},
		{name: "Dara without a sensor", format: "gpx", does: everyWeek(func(o *outing) { o.noHeart = true })},
		{name: "Egil by effort only", does: everyWeek(func(o *outing) { o.reported, o.scale10 = true, true })},
		{name: "Fenna stepping back", facts: stage(2), body: func(b *simulate.Athlete) { b.Talk1, b.Talk2, b.Feels = 0.45, 0.5, 3 },
			decides: map[int]record.Decision{5: act(record.DoStepBack)}},
		{name: "Gudrun with too little zone 2", facts: stage(2), does: everyWeek(func(o *outing) {
			for i, s := range o.Plan.Steps {
				if s.Kind == workout.Work {
					o.Plan.Steps[i].Low, o.Plan.Steps[i].High, o.Plan.Steps[i].Feel = 100, 120, workout.Comfortable
				}
			}
		})},
		{name: "Frode with bouts in zone 1", facts: stage(2), does: everyWeek(func(o *outing) {
			for i, s := range o.Plan.Steps {
				if s.Kind == workout.Work {
					o.Plan.Steps[i].Low, o.Plan.Steps[i].High = 122, 140
				}
			}
		})},
		{name: "Halvor with a medicine", facts: func(c *record.Client) { c.Medicine, c.Clearance = record.Slows, oddBegan-10 }},
		{name: "Ilse walking", facts: func(c *record.Client) { c.Modes = []workout.Mode{workout.Run, workout.Walk} }},
		{name: "Jorun running with walks", facts: func(c *record.Client) { c.Modes = []workout.Mode{workout.Run} }, first: in(workout.Run, walks(3, 30)),
			does: func(week, n int, o *outing) {
				if n == 1 {
					o.Plan.Mode = workout.Walk
				}
			}},
		{name: "Ketil much too brisk", does: func(week, n int, o *outing) {
			if week > 2 {
				o.Bias = 22
			}
		}},
		{name: "Lova brisk by her own plan", facts: stage(2), first: walks(4, 40), does: func(week, n int, o *outing) { o.Bias = 12 }},
		{name: "Magne at the edge", body: func(b *simulate.Athlete) { b.Talk1 = 0.53 }, does: everyWeek(func(o *outing) { o.Bias = 8 })},
		{name: "Nila with a clear sign", says: noteOn(5, 2, signs.Chest)},
		{name: "Olin with a doubt", says: func(w int, monday workout.Date) []record.Note {
			if w != 4 {
				return nil
			}
			return []record.Note{{Date: monday + 3, Text: "felt a bit odd in the chest on the hill, probably nothing"}}
		}},
		{name: "Pella unscreened", facts: func(c *record.Client) { c.Screening = record.Screening{} }},
		{name: "Quill under 18", facts: func(c *record.Client) { c.Born = oddBegan - 16*365 }},
		{name: "Runa with one session", does: func(week, n int, o *outing) { o.missed = week != 2 || n > 0 }},
		{name: "Sander twice a day", facts: func(c *record.Client) { c.Screening.Active = false }, first: walks(3, 12),
			does: everyWeek(func(o *outing) { o.again = 8 })},
		{name: "Tove with a limit", facts: func(c *record.Client) { c.Zones[0].Limit = 118 }},
		{name: "Ulf with a fever", says: func(w int, monday workout.Date) []record.Note {
			return append(noteOn(5, 1, signs.Fever)(w, monday), noteOn(5, 2, signs.Fever)(w, monday)...)
		}, does: weeksOff(5, 5)},
		{name: "Vigga with zones by hand", facts: func(c *record.Client) {
			c.Zones[0] = record.ZoneSet{HRRest: 60, Edges: map[workout.Mode][4]float64{workout.Walk: {100, 128.5, 141, 160}}}
		}},
		{name: "Wido with a pause", facts: stage(2), decides: map[int]record.Decision{4: {Act: record.DoPause, Because: "a trip", To: oddBegan + 7*6 - 1}},
			alone: true, first: walks(2, 35), does: func(week, n int, o *outing) { o.missed = week == 5 && n > 2 || week == 6 }},
		{name: "Ysolde in stage 3", facts: func(c *record.Client) { c.Stage, c.Clearance = 3, oddBegan-10 }, format: "tcx"},
		{name: "Zeno resting by choice", facts: func(c *record.Client) {
			c.Stage, c.State, c.StateEnds = 2, record.RecoveryOf, oddBegan+40
		}, format: "csv"},
		{name: "Arvid maintaining", decides: map[int]record.Decision{3: act(record.DoMaintain)}, sensor: workout.Wrist},
		{name: "Bera mixing the scales", facts: stage(2), does: func(week, n int, o *outing) {
			o.scale10, o.DayRPE = n%2 == 0, 1
		}},
		{name: "Cleo moved on another scale", sets: func(week int, c *record.Client, monday workout.Date) bool {
			if week == 4 {
				c.Zones = append(c.Zones, record.ZoneSet{From: monday + 7, HRRest: 60, T1: 126})
			}
			return week == 4
		}},
		{name: "Dries silent", does: everyWeek(func(o *outing) { o.silent = true })},
		{name: "Elke in her first days", weeks: 1},
	}
}

// facts are those of everybody of the odd book, before each has their own.
func (x odd) client() record.Client {
	c := record.Client{
		Name: x.name, Born: workout.MustDate("1980-05-01"), Sex: physiology.Female, Stage: 1, Since: oddBegan, State: record.Active,
		Modes: []workout.Mode{workout.Walk}, Sensor: workout.Strap, Days: 3, Minutes: 45,
		Zones:     []record.ZoneSet{{HRRest: 62, HRMax: map[workout.Mode]float64{"": 182}}},
		Screening: record.Screening{On: oddBegan - 3, Active: true, Disease: "none"},
	}
	if x.sensor != "" {
		c.Sensor = x.sensor
	}
	if x.facts != nil {
		x.facts(&c)
	}
	return c
}

// oddDays are the days of the week of n sessions.
var oddDays = [][]int{nil, {2}, {0, 3}, {0, 2, 4}, {0, 1, 3, 5}, {0, 1, 3, 4, 5}, {0, 1, 2, 3, 4, 5}, {0, 1, 2, 3, 4, 5, 6}}

// week plays one week of one deckhand through the verbs of coach. When it is done the weekly job has run and
// what the trainer decided has been entered.
func (x odd) week(ctx context.Context, c *coach.Coach, week int) (err error) {
	monday := oddBegan + workout.Date(7*(week-1))
	sunday := monday + 6
	r, err := c.Record(ctx, x.name, sunday, false)
	if err != nil {
		return err
	}
	plans := x.first
	if plans == nil {
		plans = walks(3, 30)
	}
	if p := r.PlanFor(monday, sunday); p != nil && !x.alone {
		plans = p.Plans()
	}
	for n, plan := range plans {
		if err := x.outing(ctx, c, week, n, len(plans), plan); err != nil {
			return err
		}
	}
	if x.says != nil {
		for _, n := range x.says(week, monday) {
			n.Entered = sunday
			if _, err := c.AddNotes(ctx, x.name, n); err != nil {
				return err
			}
		}
	}
	if x.sets != nil && x.sets(week, &r.Client, monday) {
		if err := c.SetClient(ctx, r.Client, sunday); err != nil {
			return err
		}
	}
	s, err := c.WeekOf(ctx, x.name, sunday)
	if err != nil {
		return err
	}
	d, decided := x.decides[week]
	if a := s.Assessment; !decided && a.Verdict != nil && *a.Verdict == record.Advance && a.To != nil {
		d, decided = record.Decision{Act: record.DoAdvance, Because: "as recommended"}, true
	}
	if decided {
		d.Client, d.Entered, d.By = x.name, sunday, "Corvane"
		if _, err := c.Decide(ctx, d); err != nil {
			return err
		}
		_, err = c.WeekOf(ctx, x.name, sunday)
	}
	return err
}

// outing plays one session of a week, and hands in its file and answers.
func (x odd) outing(ctx context.Context, c *coach.Coach, week, n, of int, plan workout.Plan) error {
	monday := oddBegan + workout.Date(7*(week-1))
	o := outing{Plan: plan, day: monday + workout.Date(oddDays[of][n])}
	o.Plan.Steps = append([]workout.Step(nil), plan.Steps...)
	for i, s := range o.Plan.Steps {
		if s.Kind == workout.Work && s.Low == 0 {
			o.Plan.Steps[i].High = 0 // the upper limit is an alarm and no aim
		}
	}
	o.Options = simulate.Options{Seed: uint64(len(x.name))<<20 | uint64(x.name[0])<<12 | uint64(week)<<4 | uint64(n), Place: workout.Indoor, Sensor: workout.Strap, Tail: 180, Laps: true}
	o.Options.Start = o.day.Time().Add(7 * time.Hour)
	if x.sensor != "" {
		o.Options.Sensor = x.sensor
	}
	if x.does != nil {
		x.does(week, n, &o)
	}
	if o.missed {
		return nil
	}
	body := simulate.Beginner(62, 182)
	if x.body != nil {
		x.body(&body)
	}
	done, truth := simulate.Play(o.Plan, body.After(float64(week), simulate.Usual()), o.Options)
	rpe, talk := &workout.RPE{Value: truth.RPE, Scale: 20}, record.Talk(truth.Talk)
	if o.scale10 {
		rpe = &workout.RPE{Value: min(10, max(0, truth.RPE-9)), Scale: 10}
	}
	if o.reported {
		return c.AddReport(ctx, x.name, record.Report{Date: o.day, Entered: monday + 6, Minutes: float64(done.Seconds / 60), Sport: o.Plan.Mode.Sport(), RPE: rpe, Talk: talk}, false)
	}
	if o.noHeart {
		done.HeartRate, done.BeatHeartRate = workout.Channel{}, workout.Channel{}
	}
	format := x.format
	if format == "" {
		format = "fit"
	}
	for again := 0; again <= min(1, o.again); again++ {
		if again > 0 { // the same bytes at another hour would be the same session in another time zone
			o.Options.Seed, o.Options.Start = o.Options.Seed+8, o.Options.Start.Add(time.Duration(o.again)*time.Hour)
			done, _ = simulate.Play(o.Plan, body.After(float64(week), simulate.Usual()), o.Options)
		}
		b, err := recording.Encode(format, done)
		if err != nil {
			return err
		}
		receipts, err := c.Receive(ctx, coach.Intake{Client: x.name, On: monday + 6}, fmt.Sprintf("%s-%d.%s", o.day, again, format), b)
		if err != nil {
			return err
		}
		for _, r := range receipts {
			if r.Status != coach.Entered {
				return fmt.Errorf("%s, week %d: %s: %s %s", x.name, week, r.Name, r.Status, r.Why)
			}
		}
	}
	if o.silent {
		return nil
	}
	_, err := c.AddNotes(ctx, x.name, record.Note{Date: o.day, Entered: monday + 6, RPE: rpe, Talk: talk, Enjoyment: 4})
	return err
}

// oddBook plays an odd book week by week, and calls seen at the end of each of the weeks.
func oddBook(t *testing.T, crew []odd, weeks int, seen func(dir string, week int)) {
	t.Helper()
	ctx, dir := context.Background(), filepath.Join(t.TempDir(), "book")
	c, err := coach.Open(ctx, dir)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	for _, x := range crew {
		if err := c.AddClient(ctx, x.client(), oddBegan); err != nil {
			t.Fatal(err)
		}
	}
	for week := 1; week <= weeks; week++ {
		for _, x := range crew {
			if x.weeks > 0 && week > x.weeks {
				continue
			}
			if err := x.week(ctx, c, week); err != nil {
				t.Fatalf("%s, week %d: %v", x.name, week, err)
			}
		}
		seen(dir, week)
	}
}
