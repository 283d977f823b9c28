package coach

import (
	"cmp"
	"context"
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Facts are what somebody entered about a client, as it was typed, by field. What is missing or empty
// stays as it is; "none" empties a list, or removes a word, a number or a day.
type Facts map[fault.Field]string

// The facts that change zones: together they make a set with its first day, From.
const (
	HRRest     fault.Field = "hr_rest"
	HRMax      fault.Field = "hr_max"      // for every mode
	HRMaxMode  fault.Field = "hr_max_mode" // run=190,bike=181
	Thresholds fault.Field = "thresholds"  // T1,T2
	Edges      fault.Field = "edges"       // bike=110,135,150,168, several modes with a blank between
	Limit      fault.Field = "limit_bpm"
	From       fault.Field = "from"
)

// Because is who said so, where a fact that holds training back is withdrawn.
const Because fault.Field = "because"

// FactFields lists the fields of Facts.
func FactFields() []fault.Field {
	var set record.ZoneSet
	return append(slices.Collect(maps.Keys(factsOf(new(record.Client), &set))), From, Because)
}

// FactsOf gives the facts of a client as they would be typed, those for zones from the newest set.
func FactsOf(c record.Client) Facts {
	var set record.ZoneSet
	if n := len(c.Zones); n > 0 {
		set = c.Zones[n-1]
	}
	out := Facts{}
	for f, p := range factsOf(&c, &set) {
		out[f] = p.written()
	}
	return out
}

// factsOf says where the fact of each field stands: in the client, or in a set of facts for zones.
func factsOf(c *record.Client, z *record.ZoneSet) map[fault.Field]place {
	yesNo, active := []string{"yes", "no"}, "no"
	if c.Screening.Active {
		active = "yes"
	}
	// An answer of the screening is none only once somebody asked.
	answered := func(typed string) func() string {
		if typed == "" && c.Screening.On != 0 {
			typed = none
		}
		if c.Screening.On == 0 && typed == "no" {
			typed = ""
		}
		return func() string { return typed }
	}
	return map[fault.Field]place{
		"born": {at: &c.Born}, "since": {at: &c.Since}, "dose_change": {at: &c.DoseChange}, "clearance": {at: &c.Clearance},
		"sex": {at: &c.Sex, words: []string{"female", "male"}}, "height_cm": {at: &c.HeightCM}, "mass_kg": {at: &c.MassKG},
		"time_zone": {at: &c.TimeZone}, "sensor": {at: &c.Sensor, words: []string{"strap", "wrist"}},
		"stage": {at: &c.Stage}, "state": {at: &c.State, words: []string{"active", "maintaining", "recovery", "finished"}},
		"screened": {at: &c.Screening.On}, "active": {&c.Screening.Active, yesNo, answered(active)},
		"disease":    {&c.Screening.Disease, []string{none, "heart", "metabolic", "renal"}, answered(c.Screening.Disease)},
		"signs":      {at: screened(&c.Screening), says: answered(strings.Join(asText(c.Screening.Signs), ","))},
		"medicine":   {&c.Medicine, []string{none, "slows", "raises"}, answered(string(c.Medicine))},
		"conditions": {at: &c.Conditions, words: []string{none, "pregnant", "pacemaker", "irregular-rhythm", "insulin", "asthma"}},
		"confirmed":  {at: &c.Confirmed, words: append(asText(record.Confirmable()), none)},
		"goal":       {at: &c.Goal}, "days": {at: &c.Days}, "minutes": {at: &c.Minutes},
		"enjoys": {at: understood(&c.Enjoys), says: said(c.Enjoys)}, "equipment": {at: understood(&c.Equipment), says: said(c.Equipment)}, "tight": {at: &c.Tight},
		"modes": {at: &c.Modes, words: asText(workout.Modes())}, "resistance_days": {at: &c.Resistance, words: append(asText(workout.Weekdays()), none)},

		HRRest: {at: &z.HRRest}, Limit: {at: &z.Limit},
		HRMax: {at: reading(func(f fault.Field, typed string) error {
			if typed == none {
				delete(z.HRMax, "")
				return nil
			}
			n, err := Numbers(f, typed, 1)
			if err == nil {
				z.HRMax = map[workout.Mode]float64{"": n[0]}
			}
			return err
		}), says: func() string { return numbersText(z.HRMax[""]) }},
		HRMaxMode: {at: reading(func(f fault.Field, typed string) error {
			return byMode(f, strings.Split(typed, ","), 1, func(m workout.Mode, n []float64) {
				if n == nil {
					delete(z.HRMax, m)
					return
				}
				if z.HRMax == nil {
					z.HRMax = map[workout.Mode]float64{}
				}
				z.HRMax[m] = n[0]
			})
		}), says: func() string {
			return pairsText(",", func(m workout.Mode) string { return numbersText(z.HRMax[m]) })
		}},
		Thresholds: {at: reading(func(f fault.Field, typed string) error {
			if typed == none {
				z.T1, z.T2 = 0, 0
				return nil
			}
			n, err := Numbers(f, typed, 2)
			if err == nil {
				z.T1, z.T2 = n[0], n[1]
			}
			return err
		}), says: func() string { return numbersText(z.T1, z.T2) }},
		Edges: {at: reading(func(f fault.Field, typed string) error {
			return byMode(f, strings.Fields(typed), 4, func(m workout.Mode, n []float64) {
				if n == nil {
					delete(z.Edges, m)
					return
				}
				if z.Edges == nil {
					z.Edges = map[workout.Mode][4]float64{}
				}
				z.Edges[m] = [4]float64(n)
			})
		}), says: func() string {
			return pairsText(" ", func(m workout.Mode) string { e := z.Edges[m]; return numbersText(e[:]...) })
		}},
	}
}

// understood reads what a client has or enjoys, in the client's own words.
func understood(at *[]record.Said) reading {
	return func(f fault.Field, typed string) error {
		list := words(typed)
		if slices.Contains(list, none) {
			if len(list) > 1 {
				return bothSomeAndNone(f, typed)
			}
			list = nil
		}
		*at = record.AllUnderstood(list...)
		return nil
	}
}

// screened reads the signs found at screening.
func screened(s *record.Screening) reading {
	return func(f fault.Field, typed string) error {
		found, denied, unknown := readSigns(typed)
		s.Signs = found
		switch {
		case len(unknown) > 0:
			return notOneOf(f, unknown[0], append([]string{none}, asText(signs.All())...)...)
		case denied && len(found) > 0:
			return bothSignAndNone(f, typed)
		}
		return nil
	}
}

// unchecks are the confirmations that another value of a field ends: it has not been checked.
var unchecks = map[fault.Field][]record.Checked{
	HRRest: {record.CheckedRest}, HRMax: {record.CheckedMaximum}, HRMaxMode: {record.CheckedMaximum}, Thresholds: {record.CheckedMaximum}, Edges: {record.CheckedMaximum}, Limit: {record.CheckedDisease},
	"born": {record.CheckedBirth, record.CheckedMaximum, record.CheckedPregnant, record.CheckedActive}, "sex": {record.CheckedPregnant},
	"screened": {record.CheckedActive, record.CheckedDisease}, "active": {record.CheckedActive}, "stage": {record.CheckedActive}, "since": {record.CheckedActive}, "disease": {record.CheckedDisease},
	"medicine": {record.CheckedDisease}, "conditions": {record.CheckedDisease, record.CheckedPregnant},
}

// numbersText is Numbers backwards; "" where all are 0.
func numbersText(n ...float64) string {
	if !slices.ContainsFunc(n, func(v float64) bool { return v != 0 }) {
		return ""
	}
	return strings.Join(record.Map(n, func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }), ",")
}

// pairsText is byMode backwards, without the modes that have no value.
func pairsText(between string, value func(workout.Mode) string) string {
	var out []string
	for _, m := range workout.Modes() {
		if v := value(m); v != "" {
			out = append(out, string(m)+"="+v)
		}
	}
	return strings.Join(out, between)
}

// said are the words of what a client has or enjoys.
func said(all []record.Said) func() string {
	return func() string {
		return strings.Join(record.Map(all, func(s record.Said) string { return s.Words }), ",")
	}
}

// byMode reads pairs of a mode and n numbers: run=190 or bike=110,135,150,168; none for those of run=none.
func byMode(f fault.Field, pairs []string, n int, put func(workout.Mode, []float64)) error {
	for _, pair := range pairs {
		name, value, _ := strings.Cut(strings.TrimSpace(pair), "=")
		if !slices.Contains(workout.Modes(), workout.Mode(name)) {
			example := map[int]string{1: "run=190,bike=181", 4: "bike=110,135,150,168"}[n]
			return fault.In(f, pair, "names no mode: write it like %s; modes are %s", example, strings.Join(asText(workout.Modes()), ", "))
		}
		if strings.TrimSpace(value) == none {
			put(workout.Mode(name), nil)
			continue
		}
		numbers, err := Numbers(f, value, n)
		if err != nil {
			return err
		}
		put(workout.Mode(name), numbers)
	}
	return nil
}

// forZones says that a fact belongs to a set with its first day.
func forZones(f fault.Field) bool {
	return slices.Contains([]fault.Field{HRRest, Limit, HRMax, HRMaxMode, Thresholds, Edges}, f)
}

// Check says what of the facts cannot be read, and enters nothing.
func (f Facts) Check(today workout.Date) error {
	_, err := f.onto(record.Client{}, today)
	return err
}

// EnterClient enters a new client from typed facts. The stage begins today unless its day is among them.
func (c *Coach) EnterClient(ctx context.Context, name string, f Facts, today workout.Date) (record.Client, error) {
	client, err := f.onto(record.Client{Name: name, State: record.Active}, today)
	if err := errors.Join(err, f.allAnswered(false)); err != nil {
		return client, err
	}
	if err := f.heard(Facts{}, record.Record{Client: client}, today); err != nil {
		return client, err
	}
	if client.Stage > 0 && client.Since == 0 {
		client.Since = today
	}
	if client.Clearance != 0 {
		client.Cover(record.Record{})
	}
	return client, c.AddClient(ctx, client, today)
}

// ChangeClient enters a new version of a client's facts: those typed, and the others as they were.
func (c *Coach) ChangeClient(ctx context.Context, name string, f Facts, today workout.Date) (record.Client, error) {
	client, err := c.Client(ctx, name)
	if err != nil {
		return client, err
	}
	if !slices.ContainsFunc(slices.Collect(maps.Values(f)), func(typed string) bool { return typed != "" }) {
		return client, fault.New(fault.Wrong, "there is nothing to change: name at least one fact")
	}
	before := client
	client, err = f.onto(client, today)
	if err := errors.Join(err, f.allAnswered(before.Screening.On != 0)); err != nil {
		return client, err
	}
	r, err := c.book.Record(ctx, name, endOfTime)
	if err != nil {
		return client, err
	}
	if err := f.heard(FactsOf(before), r, today); err != nil {
		return client, err
	}
	if strings.TrimSpace(f["clearance"]) == none {
		client.ClearedTo, client.ClearedFrom = "", 0
	} else if strings.TrimSpace(f["clearance"]) == "" { // one that is entered with a fact is for it
		client.DateCare(before, today)
	} else {
		client.Cover(r)
	}
	if err := checkClient(client, today); err != nil {
		return client, err
	}
	if err := c.withdraw(ctx, &client, f[Because], today); err != nil {
		return client, err
	}
	if err := c.keepSigns(ctx, before, client, f["clearance"] == "", today); err != nil {
		return client, err
	}
	return client, c.SetClient(ctx, client, today)
}

// inOwnWords are the facts that are written freely, with what people call them.
var inOwnWords = map[fault.Field]string{"goal": "goal", "enjoys": "text about what the client enjoys", "equipment": "text about equipment", "tight": "text about tight muscles", Because: "reason"}

// heard refuses facts in somebody's own words that speak of a grave sign of which the record does not know, unless they
// are as they were.
func (f Facts) heard(before Facts, r record.Record, on workout.Date) error {
	for _, field := range slices.Sorted(maps.Keys(inOwnWords)) {
		if f[field] == before[field] {
			continue
		}
		var except []signs.Sign
		if field == Because { // whose word takes a fact off the record is a doctor's, as a rule, and no reason to ask again
			except = append(except, signs.ToldNotToTrain)
		}
		if err := heard(r, inOwnWords[field], f[field], on, except...); err != nil {
			return err
		}
	}
	return nil
}

// onto puts the facts onto a client, as of today. A first day makes a new set of those for zones and stands beside each
// of the others. The error joins a fault for every field that cannot be read.
func (f Facts) onto(c record.Client, today workout.Date) (record.Client, error) {
	set, before := record.ZoneSet{}, c.Zones
	if n := len(before); n > 0 {
		set = before[n-1]
		set.HRMax, set.Edges = maps.Clone(set.HRMax), maps.Clone(set.Edges)
	}
	var wrong []error
	var ahead error // zones may be set for days to come, nothing else
	places, zones := factsOf(&c, &set), false
	first, err := Date(From, f[From])
	wrong = append(wrong, err)
	dated := map[string]record.Dated{}
	maps.Copy(dated, c.Dated)
	for _, field := range slices.Sorted(maps.Keys(f)) {
		typed := strings.TrimSpace(f[field])
		if typed == "" || field == From || field == Because {
			continue
		}
		to, ok := places[field]
		if !ok {
			return c, fault.In(field, typed, "is not a fact about a client; the facts are %s", strings.Join(asText(slices.Sorted(slices.Values(FactFields()))), ", "))
		}
		wrong = append(wrong, to.read(field, typed))
		if f["confirmed"] == "" {
			c.Confirmed = slices.DeleteFunc(slices.Clone(c.Confirmed), func(x record.Checked) bool { return slices.Contains(unchecks[field], x) })
		}
		if forZones(field) {
			zones = true
			continue
		}
		ahead = cmp.Or(ahead, NotAhead(From, first, today))
		delete(dated, string(field)) // a day that was given belongs to what was known then
		if first != 0 {
			dated[string(field)] = record.Dated{From: first, Entered: today}
		}
	}
	wrong = append(wrong, ahead)
	if c.Dated = nil; len(dated) > 0 {
		c.Dated = dated
	}
	if zones {
		from, err := f.from(before)
		wrong, set.From = append(wrong, err), from
		c.Zones = append(slices.Clone(before), set)
	}
	return c, errors.Join(wrong...)
}

// from is the first day of a new set of facts for zones; the first set needs none.
func (f Facts) from(before []record.ZoneSet) (workout.Date, error) {
	from, err := Date(From, f[From])
	if err != nil || len(before) == 0 {
		return from, err
	}
	newest := before[len(before)-1].From
	switch {
	case from == 0:
		err = fault.In(From, "", "is missing: give the first day of the new zones; the earlier zones stay for the days before")
	case from <= newest:
		err = fault.In(From, from, "must be after %s, the first day of the newest zones", newest)
	}
	return from, err
}
