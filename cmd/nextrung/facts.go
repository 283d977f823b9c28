package main

import (
	"maps"
	"slices"
	"strings"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// facts are the flags that add and set share. Empty means: leave as it is.
type facts struct {
	Born       *workout.Date `help:"Day of birth." placeholder:"DATE"`
	Sex        string        `help:"Sex at birth, for published formulas: female or male." placeholder:"S"`
	Height     float64       `name:"height-cm" help:"Height in cm." placeholder:"N"`
	Mass       float64       `name:"mass-kg" help:"Mass in kg." placeholder:"N"`
	Modes      string        `help:"Modes trained, e.g. walk,bike. A walk counts as a session only if walk is among them." placeholder:"LIST"`
	HRRest     float64       `name:"hr-rest" help:"Resting heart rate: the mean of at least three mornings." placeholder:"N"`
	HRMax      float64       `name:"hr-max" help:"Measured maximal heart rate, for every mode." placeholder:"N"`
	HRMaxMode  string        `name:"hr-max-mode" help:"Measured maximal heart rate by mode: run=190,bike=181." placeholder:"LIST"`
	Thresholds string        `help:"Heart rates where talking stops being comfortable and where it is hardly possible." placeholder:"T1,T2"`
	Edges      []string      `help:"Explicit zone edges of a mode: bike=110,135,150,168." placeholder:"MODE=A,B,C,D" sep:"none"`
	Limit      float64       `name:"limit-bpm" help:"A limit in bpm set by a doctor; it overrides every zone." placeholder:"N"`
	From       workout.Date  `help:"First day of changed zone facts; the earlier set stays for the days before." placeholder:"DATE"`
	Stage      *int          `help:"Stage on entry: 1, 2 or 3." placeholder:"N"`
	Since      *workout.Date `help:"First day of that stage." placeholder:"DATE"`
	TimeZone   string        `help:"Time zone of the client, e.g. Europe/Oslo." placeholder:"TZ"`
	Sensor     string        `help:"What the client wears when files do not tell: strap or wrist." placeholder:"KIND"`
	Screened   *workout.Date `help:"Day on which the screening questions were answered." placeholder:"DATE"`
	Active     string        `help:"Regular exercise for three months: yes or no." placeholder:"YES|NO"`
	Disease    string        `help:"Known disease: none, heart, metabolic or renal." placeholder:"WORD"`
	Signs      string        `help:"Signs and symptoms at screening: none, or words from a list such as chest,dizzy." placeholder:"LIST"`
	Medicine   string        `help:"Effect of medicines on heart rate: none, slows or raises." placeholder:"WORD"`
	DoseChange *workout.Date `name:"dose-change" help:"Day of the last change of that medicine's dose." placeholder:"DATE"`
	Clearance  *workout.Date `help:"Day of a doctor's clearance for exercise." placeholder:"DATE"`
	Conditions string        `help:"Conditions with cautions of their own: none, or pregnant, pacemaker, irregular-rhythm, insulin, asthma." placeholder:"LIST"`
	State      string        `help:"active, maintaining, recovery or finished." placeholder:"WORD"`
	Goal       string        `help:"The client's goal." placeholder:"TEXT"`
	Days       int           `help:"Days a week available." placeholder:"N"`
	Minutes    int           `help:"Minutes a session available." placeholder:"N"`
	Enjoys     string        `help:"What the client enjoys: none, or words such as walking,the dog." placeholder:"LIST"`
	Equipment  string        `help:"What the client can train with: none, or words such as treadmill,exercise bike,gym." placeholder:"LIST"`
	Resistance string        `name:"resistance-days" help:"Days of the week with resistance work: none, or days such as mon,thu." placeholder:"LIST"`
	Tight      string        `help:"Muscles that the trainer found tight: none, or words such as calves,hips." placeholder:"LIST"`
}

// oneOf refuses a word that is not in a list.
func oneOf(flag, word string, words ...string) error {
	if word == "" || slices.Contains(words, word) {
		return nil
	}
	return misuse("%s %q: say one of %s", flag, word, strings.Join(words, ", "))
}

// apply puts the given facts onto a client.
func (f *facts) apply(c *record.Client) error {
	for _, check := range []error{
		oneOf("--sex", f.Sex, "female", "male"),
		oneOf("--sensor", f.Sensor, "strap", "wrist"),
		oneOf("--active", f.Active, "yes", "no"),
		oneOf("--disease", f.Disease, "none", "heart", "metabolic", "renal"),
		oneOf("--medicine", f.Medicine, "none", "slows", "raises"),
		oneOf("--state", f.State, "active", "maintaining", "recovery", "finished"),
	} {
		if check != nil {
			return check
		}
	}
	setDate := func(to *workout.Date, d *workout.Date) {
		if d != nil {
			*to = *d
		}
	}
	setDate(&c.Born, f.Born)
	setDate(&c.Since, f.Since)
	setDate(&c.Screening.On, f.Screened)
	setDate(&c.DoseChange, f.DoseChange)
	setDate(&c.Clearance, f.Clearance)
	if f.Stage != nil {
		c.Stage = *f.Stage
	}
	if f.Sex != "" {
		c.Sex = physiology.Sex(f.Sex)
	}
	if f.Height != 0 {
		c.HeightCM = f.Height
	}
	if f.Mass != 0 {
		c.MassKG = f.Mass
	}
	if f.TimeZone != "" {
		c.TimeZone = f.TimeZone
	}
	if f.Sensor != "" {
		c.Sensor = workout.Sensor(f.Sensor)
	}
	if f.State != "" {
		c.State = record.State(f.State)
	}
	if f.Goal != "" {
		c.Goal = f.Goal
	}
	if f.Days != 0 {
		c.Days = f.Days
	}
	if f.Minutes != 0 {
		c.Minutes = f.Minutes
	}
	if f.Enjoys != "" {
		c.Enjoys = record.AllUnderstood(words(noneIsEmpty(f.Enjoys))...)
	}
	if f.Equipment != "" {
		c.Equipment = record.AllUnderstood(words(noneIsEmpty(f.Equipment))...)
	}
	if f.Tight != "" {
		c.Tight = words(noneIsEmpty(f.Tight))
	}
	if f.Resistance != "" {
		c.Resistance = nil
		for _, w := range words(noneIsEmpty(f.Resistance)) {
			if !slices.Contains(workout.Weekdays(), workout.Weekday(w)) {
				return misuse("--resistance-days %q: %q is no day; days are mon, tue, wed, thu, fri, sat and sun, or none", f.Resistance, w)
			}
			c.Resistance = append(c.Resistance, workout.Weekday(w))
		}
	}
	if f.Modes != "" {
		c.Modes = nil
		for _, w := range words(f.Modes) {
			m, ok := modeNamed(w)
			if !ok {
				return misuse("--modes %q: %q is no mode; modes are walk, run, bike, row, swim and other", f.Modes, w)
			}
			c.Modes = append(c.Modes, m)
		}
	}
	if err := f.health(c); err != nil {
		return err
	}
	return f.zones(c)
}

func (f *facts) health(c *record.Client) error {
	if f.Active != "" {
		c.Screening.Active = f.Active == "yes"
	}
	if f.Disease != "" {
		c.Screening.Disease = noneIsEmpty(f.Disease)
	}
	if f.Signs != "" {
		c.Screening.Signs = nil
		for _, w := range words(f.Signs) {
			sign, ok := signs.Named(w)
			if !ok {
				return misuse("--signs %q: %q is not on the list: none, %s", f.Signs, w, symptomWords())
			}
			if sign != "" {
				c.Screening.Signs = append(c.Screening.Signs, sign)
			}
		}
	}
	if f.Medicine != "" {
		c.Medicine = record.Medicine(noneIsEmpty(f.Medicine))
	}
	if f.Conditions != "" {
		c.Conditions = nil
		for _, w := range words(noneIsEmpty(f.Conditions)) {
			if err := oneOf("--conditions", w, "pregnant", "pacemaker", "irregular-rhythm", "insulin", "asthma"); err != nil {
				return err
			}
			c.Conditions = append(c.Conditions, record.Condition(w))
		}
	}
	return nil
}

// zones starts a new set of zone facts when one of them changes; the first set needs no date.
func (f *facts) zones(c *record.Client) error {
	if f.HRRest == 0 && f.HRMax == 0 && f.HRMaxMode == "" && f.Thresholds == "" && len(f.Edges) == 0 && f.Limit == 0 {
		return nil
	}
	set := record.ZoneSet{From: f.From}
	if n := len(c.Zones); n > 0 {
		set = c.Zones[n-1]
		if f.From == 0 {
			return misuse("these facts change the zones: say from which day on with --from DATE; the earlier zones stay for the days before")
		}
		if f.From <= set.From {
			return misuse("--from %s is not after %s, when the newest zones begin", f.From, set.From)
		}
		set.From, set.HRMax, set.Edges = f.From, maps.Clone(set.HRMax), maps.Clone(set.Edges)
	}
	if f.HRRest != 0 {
		set.HRRest = f.HRRest
	}
	if f.Limit != 0 {
		set.Limit = f.Limit
	}
	if f.HRMax != 0 {
		set.HRMax = map[workout.Mode]float64{"": f.HRMax}
	}
	if f.HRMaxMode != "" {
		pairs, err := modes("--hr-max-mode", f.HRMaxMode)
		if err != nil {
			return err
		}
		if set.HRMax == nil {
			set.HRMax = map[workout.Mode]float64{}
		}
		for m, v := range pairs {
			n, err := numbers("--hr-max-mode", v, 1)
			if err != nil {
				return err
			}
			set.HRMax[m] = n[0]
		}
	}
	if f.Thresholds != "" {
		n, err := numbers("--thresholds", f.Thresholds, 2)
		if err != nil {
			return err
		}
		set.T1, set.T2 = n[0], n[1]
	}
	for _, text := range f.Edges {
		name, list, _ := strings.Cut(text, "=")
		m, ok := modeNamed(name)
		if !ok {
			return misuse("--edges %q: write MODE=A,B,C,D, e.g. bike=110,135,150,168", text)
		}
		n, err := numbers("--edges", list, 4)
		if err != nil {
			return err
		}
		if set.Edges == nil {
			set.Edges = map[workout.Mode][4]float64{}
		}
		set.Edges[m] = [4]float64(n)
	}
	c.Zones = append(slices.Clone(c.Zones), set)
	return nil
}

func words(list string) []string {
	var out []string
	for w := range strings.SplitSeq(list, ",") {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
		}
	}
	return out
}

func noneIsEmpty(w string) string {
	if w == "none" {
		return ""
	}
	return w
}

func symptomWords() string {
	var out []string
	for _, s := range signs.All() {
		out = append(out, string(s))
	}
	return strings.Join(out, ", ")
}
