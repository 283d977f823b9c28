package main

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"nextrung/internal/coach"
	"nextrung/internal/physiology"
	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

type clientCommands struct {
	Add    clientAdd    `cmd:"" help:"Enter a new client."`
	Set    clientSet    `cmd:"" help:"Change facts of a client; what was known before is kept."`
	Show   clientShow   `cmd:"" help:"Show a client's facts, decisions and recordings."`
	List   clientList   `cmd:"" help:"List the clients."`
	Forget clientForget `cmd:"" help:"Remove a client and everything received for them."`
}

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
	Enjoys     string        `help:"What the client enjoys." placeholder:"LIST"`
}

// oneOf refuses a word that is not in a list.
func oneOf(flag, word string, words ...string) error {
	if word == "" || slices.Contains(words, word) {
		return nil
	}
	return misuse("%s %q: say one of %s", flag, word, strings.Join(words, ", "))
}

// apply puts the given facts onto a client.
func (f *facts) apply(c *progression.Client) error {
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
		c.State = progression.State(f.State)
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
		c.Enjoys = words(f.Enjoys)
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

func (f *facts) health(c *progression.Client) error {
	if f.Active != "" {
		c.Screening.Active = f.Active == "yes"
	}
	if f.Disease != "" {
		c.Screening.Disease = noneIsEmpty(f.Disease)
	}
	if f.Signs != "" {
		c.Screening.Signs = nil
		for _, w := range words(f.Signs) {
			sign, ok := progression.SymptomNamed(w)
			if !ok {
				return misuse("--signs %q: %q is not on the list: none, %s", f.Signs, w, symptomWords())
			}
			if sign != "" {
				c.Screening.Signs = append(c.Screening.Signs, sign)
			}
		}
	}
	if f.Medicine != "" {
		c.Medicine = progression.Medicine(noneIsEmpty(f.Medicine))
	}
	if f.Conditions != "" {
		c.Conditions = nil
		for _, w := range words(noneIsEmpty(f.Conditions)) {
			if err := oneOf("--conditions", w, "pregnant", "pacemaker", "irregular-rhythm", "insulin", "asthma"); err != nil {
				return err
			}
			c.Conditions = append(c.Conditions, progression.Condition(w))
		}
	}
	return nil
}

// zones starts a new set of zone facts when one of them changes; the first set needs no date.
func (f *facts) zones(c *progression.Client) error {
	if f.HRRest == 0 && f.HRMax == 0 && f.HRMaxMode == "" && f.Thresholds == "" && len(f.Edges) == 0 && f.Limit == 0 {
		return nil
	}
	set := progression.ZoneSet{From: f.From}
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
	for _, s := range progression.Symptoms() {
		out = append(out, string(s))
	}
	return strings.Join(out, ", ")
}

type clientAdd struct {
	Name string `arg:"" help:"First name, as folders and pages show it."`
	facts
}

func (clientAdd) Help() string {
	return "Example: nextrung client add Runa --born 1984-03-12 --sex female --stage 1 --since 2026-07-06 --modes run,walk --screened 2026-07-04 --active no --disease none --signs none --medicine none"
}

func (c *clientAdd) Run(ctx context.Context, cli *commands, s *surroundings) error {
	if c.Born == nil {
		return misuse("--born DATE is missing: zones and cautions need the age")
	}
	dir, err := cli.bookFolder()
	if err != nil {
		return err
	}
	co, err := coach.Open(ctx, dir)
	if err != nil {
		return err
	}
	defer co.Close()
	client := progression.Client{Name: c.Name, State: progression.Active}
	if err := c.apply(&client); err != nil {
		return err
	}
	if client.Stage > 0 && client.Since == 0 {
		client.Since = s.today()
	}
	if err := co.AddClient(ctx, client, s.today()); err != nil {
		return err
	}
	s.say("%s is in the book. Put exported workouts into %s, or use `nextrung receive --client %q FILE...`.", client.Name, co.DropFolder(client.Name), client.Name)
	if client.Screening.On == 0 {
		s.say("The screening is not answered yet; without it nobody is moved up: `nextrung client set %q --screened DATE --active yes|no --disease ... --signs ... --medicine ...`.", client.Name)
	}
	return nil
}

type clientSet struct {
	Name string `arg:"" help:"The client."`
	facts
}

func (clientSet) Help() string {
	return "Example: nextrung client set Runa --hr-max-mode run=188 --from 2026-09-01"
}

func (c *clientSet) Run(ctx context.Context, cli *commands, s *surroundings) error {
	co, err := cli.openFor(ctx, &c.Name)
	if err != nil {
		return err
	}
	defer co.Close()
	client, err := co.Client(ctx, c.Name)
	if err != nil {
		return err
	}
	if err := c.apply(&client); err != nil {
		return err
	}
	if err := co.SetClient(ctx, client, s.today()); err != nil {
		return err
	}
	s.say("The facts of %s are entered as of today; assessments of earlier days still use those of before.", client.Name)
	return nil
}

type clientShow struct {
	Name string `arg:"" help:"The client."`
	JSON bool   `name:"json" help:"The facts as JSON."`
}

func (clientShow) Help() string { return "Example: nextrung client show Runa" }

func (c *clientShow) Run(ctx context.Context, cli *commands, s *surroundings) error {
	co, err := cli.openFor(ctx, &c.Name)
	if err != nil {
		return err
	}
	defer co.Close()
	r, err := co.Record(ctx, c.Name, s.today(), false)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(r.Client)
	}
	return showClient(s, r)
}

func showClient(s *surroundings, r progression.Record) error {
	c, today := r.Client, s.today()
	stage, since := r.StageOn(today)
	s.say("%s, born %s, %s; %s", c.Name, c.Born.Long(), orElse(string(c.Sex), "sex not given"), r.StateOn(today))
	s.say("stage %d since %s", stage, since.Long())
	if c.Screening.On == 0 {
		s.say("screening: not answered")
	} else {
		s.say("screening of %s: %s, disease %s", c.Screening.On.Long(), map[bool]string{true: "active", false: "not active"}[c.Screening.Active], orElse(c.Screening.Disease, "none"))
	}
	body := c.Body(today)
	modes := c.Modes
	if len(modes) == 0 {
		modes = workout.Modes()
	}
	for _, m := range modes {
		if e := body.Edges(m); e != nil {
			s.say("zones for %s from %s: %.0f, %.0f, %.0f, %.0f bpm", m, e.Basis, e.BPM[0], e.BPM[1], e.BPM[2], e.BPM[3])
		}
	}
	showHealth(s, c)
	if len(r.Decisions) > 0 {
		s.say("\ndecisions:")
		for _, d := range r.Decisions {
			s.say("  %s  %s, stage %d from %s, by %s: %s", d.Entered, d.Act, d.Stage, d.From, d.By, d.Because)
		}
	}
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	if len(r.Notes)+len(r.Reports) > 0 {
		s.say("\nnotes and reported sessions (take one back with --undo ID):")
		for _, n := range r.Notes {
			fmt.Fprintf(t, "  %s\t%s\t%s\n", n.Date, n.ID, noteLine(n))
		}
		for _, x := range r.Reports {
			fmt.Fprintf(t, "  %s\t%s\t%g min of %s%s\n", x.Date, x.ID, x.Minutes, x.Sport, ratings(x.RPE, x.Talk))
		}
		t.Flush()
	}
	if len(r.Recordings) == 0 {
		s.say("\nno recordings yet")
		return nil
	}
	s.say("\nrecordings (%d, counted as %d sessions: parts of one day less than 30 min apart are one):", len(r.Recordings), recordedSessions(r))
	for _, rec := range r.Recordings {
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\t%s\n", rec.Date, rec.ID, rec.Workout.Sport, clock(rec.Workout.Seconds), rec.Name, rec.Aside)
	}
	return t.Flush()
}

func recordedSessions(r progression.Record) (n int) {
	for _, x := range r.Sessions() {
		if !x.Reported {
			n++
		}
	}
	return n
}

// showHealth says what limits training or the use of beats.
func showHealth(s *surroundings, c progression.Client) {
	if len(c.Screening.Signs) > 0 {
		s.say("signs at screening: %s", joined(c.Screening.Signs))
	}
	if c.Medicine != progression.NoMedicine {
		s.say("medicine that %s the heart", c.Medicine)
	}
	if len(c.Conditions) > 0 {
		s.say("conditions: %s", joined(c.Conditions))
	}
	if c.Clearance != 0 {
		s.say("cleared by a doctor on %s", c.Clearance.Long())
	}
	if len(c.Modes) > 0 {
		s.say("trains: %s", joined(c.Modes))
	}
}

func joined[T ~string](list []T) string {
	var out []string
	for _, x := range list {
		out = append(out, string(x))
	}
	return strings.Join(out, ", ")
}

func noteLine(n progression.Note) string {
	var out []string
	if len(n.Symptoms) > 0 {
		out = append(out, joined(n.Symptoms))
	}
	if n.HRRest > 0 {
		out = append(out, fmt.Sprintf("resting %g bpm", n.HRRest))
	}
	if n.Enjoyment > 0 {
		out = append(out, fmt.Sprintf("enjoyment %d of 5", n.Enjoyment))
	}
	if n.HeatC != nil {
		out = append(out, fmt.Sprintf("%g °C", *n.HeatC))
	}
	if n.Text != "" {
		out = append(out, n.Text)
	}
	return strings.TrimPrefix(strings.Join(out, "; ")+ratings(n.RPE, n.Talk), ", ")
}

func ratings(r *workout.RPE, talk progression.Talk) string {
	out := ""
	if r != nil {
		out += fmt.Sprintf(", effort %g on the %d scale", r.Value, r.Scale)
	}
	if talk != progression.NotAsked {
		out += ", talking " + string(talk)
	}
	return out
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

type clientList struct {
	JSON bool `name:"json" help:"The facts of all clients as JSON."`
}

func (clientList) Help() string { return "Example: nextrung client list" }

func (c *clientList) Run(ctx context.Context, cli *commands, s *surroundings) error {
	co, err := cli.openBook(ctx)
	if err != nil {
		return err
	}
	defer co.Close()
	names, err := co.Clients(ctx)
	if err != nil {
		return err
	}
	all := []progression.Client{}
	for _, n := range names {
		client, err := co.Client(ctx, n)
		if err != nil {
			return err
		}
		all = append(all, client)
	}
	if c.JSON {
		return s.printJSON(all)
	}
	for _, client := range all {
		s.say("%s", client.Name)
	}
	if len(all) == 0 {
		s.say("The book has no clients yet: `nextrung client add NAME --born DATE`.")
	}
	return nil
}

type clientForget struct {
	Name string `arg:"" help:"The client."`
	Yes  bool   `help:"Really remove everything of this client; it cannot be undone."`
}

func (clientForget) Help() string { return "Example: nextrung client forget Runa --yes" }

func (c *clientForget) Run(ctx context.Context, cli *commands, s *surroundings) error {
	if !c.Yes {
		return misuse("this removes every recording, note and decision of %s for good; say --yes if that is meant", c.Name)
	}
	co, err := cli.openFor(ctx, &c.Name)
	if err != nil {
		return err
	}
	defer co.Close()
	if err := co.Forget(ctx, c.Name); err != nil {
		return err
	}
	s.say("%s is forgotten.", c.Name)
	return nil
}
