package coach

import (
	"context"
	"errors"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Facts are what somebody entered about a client, as it was typed, by field. What is missing or empty
// stays as it is; "none" empties a list or takes a word back.
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

// FactFields lists the fields of Facts.
func FactFields() []fault.Field {
	return append(slices.Concat(slices.Collect(maps.Keys(clientFacts)), slices.Collect(maps.Keys(zoneFacts))), From)
}

// clientFacts says how each fact is read onto a client.
var clientFacts = map[fault.Field]func(c *record.Client, f fault.Field, typed string) error{
	"born":        aDate(func(c *record.Client) *workout.Date { return &c.Born }),
	"since":       aDate(func(c *record.Client) *workout.Date { return &c.Since }),
	"screened":    aDate(func(c *record.Client) *workout.Date { return &c.Screening.On }),
	"dose_change": aDate(func(c *record.Client) *workout.Date { return &c.DoseChange }),
	"clearance":   aDate(func(c *record.Client) *workout.Date { return &c.Clearance }),
	"sex":         aWord(func(c *record.Client) *physiology.Sex { return &c.Sex }, physiology.Female, physiology.Male),
	"sensor":      aWord(func(c *record.Client) *workout.Sensor { return &c.Sensor }, workout.Strap, workout.Wrist),
	"disease":     aWord(func(c *record.Client) *string { return &c.Screening.Disease }, "", "heart", "metabolic", "renal"),
	"medicine":    aWord(func(c *record.Client) *record.Medicine { return &c.Medicine }, record.NoMedicine, record.Slows, record.Raises),
	"state":       aWord(func(c *record.Client) *record.State { return &c.State }, record.Active, record.Maintaining, record.RecoveryOf, record.Finished),
	"active": func(c *record.Client, f fault.Field, typed string) error {
		c.Screening.Active = typed == "yes"
		return oneOf(f, typed, "yes", "no")
	},
	"height_cm":       aNumber(func(c *record.Client) *float64 { return &c.HeightCM }),
	"mass_kg":         aNumber(func(c *record.Client) *float64 { return &c.MassKG }),
	"stage":           aCount(func(c *record.Client) *int { return &c.Stage }),
	"days":            aCount(func(c *record.Client) *int { return &c.Days }),
	"minutes":         aCount(func(c *record.Client) *int { return &c.Minutes }),
	"time_zone":       aText(func(c *record.Client) *string { return &c.TimeZone }),
	"goal":            aText(func(c *record.Client) *string { return &c.Goal }),
	"enjoys":          aList(func(c *record.Client) *[]string { return &c.Enjoys }),
	"equipment":       aList(func(c *record.Client) *[]string { return &c.Equipment }),
	"tight":           aList(func(c *record.Client) *[]string { return &c.Tight }),
	"modes":           aList(func(c *record.Client) *[]workout.Mode { return &c.Modes }, workout.Modes()...),
	"resistance_days": aList(func(c *record.Client) *[]workout.Weekday { return &c.Resistance }, workout.Weekdays()...),
	"conditions": aList(func(c *record.Client) *[]record.Condition { return &c.Conditions },
		record.Pregnant, record.Pacemaker, record.Irregular, record.Insulin, record.Asthma),
	"signs": func(c *record.Client, f fault.Field, typed string) error {
		found, none, unknown := readSigns(typed)
		c.Screening.Signs = found
		switch {
		case len(unknown) > 0:
			return notOneOf(f, signs.Sign(unknown[0]), append([]signs.Sign{""}, signs.All()...)...)
		case none && len(found) > 0:
			return bothSignAndNone(f, typed)
		}
		return nil
	},
}

// zoneFacts says how each fact for zones is read onto a set of them.
var zoneFacts = map[fault.Field]func(z *record.ZoneSet, f fault.Field, typed string) error{
	HRRest: aNumber(func(z *record.ZoneSet) *float64 { return &z.HRRest }),
	Limit:  aNumber(func(z *record.ZoneSet) *float64 { return &z.Limit }),
	HRMax: func(z *record.ZoneSet, f fault.Field, typed string) error {
		n, err := Numbers(f, typed, 1)
		if err == nil {
			z.HRMax = map[workout.Mode]float64{"": n[0]}
		}
		return err
	},
	HRMaxMode: func(z *record.ZoneSet, f fault.Field, typed string) error {
		return byMode(f, typed, ",", 1, func(m workout.Mode, n []float64) {
			if z.HRMax == nil {
				z.HRMax = map[workout.Mode]float64{}
			}
			z.HRMax[m] = n[0]
		})
	},
	Thresholds: func(z *record.ZoneSet, f fault.Field, typed string) error {
		n, err := Numbers(f, typed, 2)
		if err == nil {
			z.T1, z.T2 = n[0], n[1]
		}
		return err
	},
	Edges: func(z *record.ZoneSet, f fault.Field, typed string) error {
		return byMode(f, typed, " ", 4, func(m workout.Mode, n []float64) {
			if z.Edges == nil {
				z.Edges = map[workout.Mode][4]float64{}
			}
			z.Edges[m] = [4]float64(n)
		})
	},
}

// EnterClient enters a new client from typed facts. The stage begins today unless its day is among them.
func (c *Coach) EnterClient(ctx context.Context, name string, f Facts, today workout.Date) (record.Client, error) {
	client, err := f.onto(record.Client{Name: name, State: record.Active})
	if err != nil {
		return client, err
	}
	if client.Stage > 0 && client.Since == 0 {
		client.Since = today
	}
	return client, c.AddClient(ctx, client, today)
}

// ChangeClient enters a new version of a client's facts: those typed, and the others as they were.
func (c *Coach) ChangeClient(ctx context.Context, name string, f Facts, today workout.Date) (record.Client, error) {
	client, err := c.Client(ctx, name)
	if err != nil {
		return client, err
	}
	if client, err = f.onto(client); err != nil {
		return client, err
	}
	return client, c.SetClient(ctx, client, today)
}

// onto puts the facts onto a client. The error joins a fault for every field that cannot be read.
func (f Facts) onto(c record.Client) (record.Client, error) {
	var wrong []error
	zones := false
	for _, field := range slices.Sorted(maps.Keys(f)) {
		typed := strings.TrimSpace(f[field])
		if typed == "" || field == From {
			continue
		}
		if read, ok := clientFacts[field]; ok {
			wrong = append(wrong, read(&c, field, typed))
		} else if _, ok := zoneFacts[field]; ok {
			zones = true
		} else {
			wrong = append(wrong, fault.In(field, typed, "is no fact about a client"))
		}
	}
	if zones {
		set, err := f.zones(c.Zones)
		c.Zones = append(slices.Clone(c.Zones), set)
		wrong = append(wrong, err)
	}
	return c, errors.Join(wrong...)
}

// zones makes a new set of facts for zones from the newest one; the first set needs no date.
func (f Facts) zones(before []record.ZoneSet) (record.ZoneSet, error) {
	set := record.ZoneSet{}
	var wrong []error
	if n := len(before); n > 0 {
		set = before[n-1]
		set.HRMax, set.Edges = maps.Clone(set.HRMax), maps.Clone(set.Edges)
	}
	newest := set.From
	switch from, err := Date(From, f[From]); {
	case err != nil:
		wrong = append(wrong, err)
	case len(before) > 0 && from == 0:
		wrong = append(wrong, fault.In(From, "", "is missing: zones change from a day on, and the earlier zones stay for the days before"))
	case len(before) > 0 && from <= newest:
		wrong = append(wrong, fault.In(From, from, "is not after %s, when the newest zones begin", newest))
	default:
		set.From = from
	}
	for _, field := range slices.Sorted(maps.Keys(zoneFacts)) {
		if typed := strings.TrimSpace(f[field]); typed != "" {
			wrong = append(wrong, zoneFacts[field](&set, field, typed))
		}
	}
	return set, errors.Join(wrong...)
}

// Date reads a day; 0 for "".
func Date(f fault.Field, typed string) (workout.Date, error) {
	if typed = strings.TrimSpace(typed); typed == "" {
		return 0, nil
	}
	d, err := workout.ParseDate(typed)
	if err != nil {
		return 0, fault.In(f, typed, "is no day; write it as YYYY-MM-DD")
	}
	return d, nil
}

// NotAhead refuses a day after today.
func NotAhead(f fault.Field, d, today workout.Date) error {
	if d > today {
		return fault.In(f, d, "is still to come")
	}
	return nil
}

// Numbers reads n numbers separated by commas.
func Numbers(f fault.Field, typed string, n int) ([]float64, error) {
	parts := strings.Split(typed, ",")
	if len(parts) != n {
		if n == 1 {
			return nil, fault.In(f, typed, "is no number")
		}
		return nil, fault.In(f, typed, "has %d of %d numbers: give %d numbers separated by commas", len(parts), n, n)
	}
	out := make([]float64, n)
	for i, p := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fault.In(f, p, "is not a number")
		}
		out[i] = v
	}
	return out, nil
}

// byMode reads pairs of a mode and n numbers: run=190,bike=181.
func byMode(f fault.Field, typed, between string, n int, put func(workout.Mode, []float64)) error {
	for pair := range strings.SplitSeq(typed, between) {
		if pair = strings.TrimSpace(pair); pair == "" {
			continue
		}
		name, value, _ := strings.Cut(pair, "=")
		if !slices.Contains(workout.Modes(), workout.Mode(name)) {
			example := map[int]string{1: "run=190,bike=181", 4: "bike=110,135,150,168"}[n]
			return fault.In(f, pair, "names no mode; write it like %s; modes are %s", example, listed(workout.Modes()))
		}
		numbers, err := Numbers(f, value, n)
		if err != nil {
			return err
		}
		put(workout.Mode(name), numbers)
	}
	return nil
}

func aDate[T any](at func(*T) *workout.Date) func(*T, fault.Field, string) error {
	return func(t *T, f fault.Field, typed string) (err error) {
		*at(t), err = Date(f, typed)
		return err
	}
}

func aNumber[T any](at func(*T) *float64) func(*T, fault.Field, string) error {
	return func(t *T, f fault.Field, typed string) error {
		n, err := Numbers(f, typed, 1)
		if err == nil {
			*at(t) = n[0]
		}
		return err
	}
}

func aCount[T any](at func(*T) *int) func(*T, fault.Field, string) error {
	return func(t *T, f fault.Field, typed string) error {
		n, err := strconv.Atoi(typed)
		if err != nil {
			return fault.In(f, typed, "is not a whole number")
		}
		*at(t) = n
		return nil
	}
}

func aText[T any](at func(*T) *string) func(*T, fault.Field, string) error {
	return func(t *T, _ fault.Field, typed string) error {
		*at(t) = typed
		return nil
	}
}

// aWord reads one of some words. "none" is the word for the empty one, if that is among them.
func aWord[T any, W ~string](at func(*T) *W, allowed ...W) func(*T, fault.Field, string) error {
	return func(t *T, f fault.Field, typed string) error {
		word := W(typed)
		if slices.Contains(allowed, "") && typed == none {
			word = ""
		}
		*at(t) = word
		return oneOf(f, word, allowed...)
	}
}

// aList reads words separated by commas, of those allowed if any are named; "none" empties the list.
func aList[T any, W ~string](at func(*T) *[]W, allowed ...W) func(*T, fault.Field, string) error {
	return func(t *T, f fault.Field, typed string) error {
		*at(t) = nil
		if typed == none {
			return nil
		}
		for _, w := range words(typed) {
			if len(allowed) > 0 && !slices.Contains(allowed, W(w)) {
				return notOneOf(f, W(w), allowed...)
			}
			*at(t) = append(*at(t), W(w))
		}
		return nil
	}
}

// none is the word for nothing of a kind.
const none = "none"

// listed writes words, the empty one as "none".
func listed[W ~string](all []W) string {
	var out []string
	for _, w := range all {
		if w == "" {
			w = none
		}
		out = append(out, string(w))
	}
	return strings.Join(out, ", ")
}

// oneOf refuses a word that is not among some; "" passes.
func oneOf[W ~string](f fault.Field, word W, allowed ...W) error {
	if word == "" || slices.Contains(allowed, word) {
		return nil
	}
	return notOneOf(f, word, allowed...)
}

func notOneOf[W ~string](f fault.Field, word W, allowed ...W) error {
	return fault.In(f, word, "is not one of %s", listed(allowed))
}

// words splits a list at its commas.
func words(list string) []string {
	var out []string
	for w := range strings.SplitSeq(list, ",") {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
		}
	}
	return out
}

// readSigns reads a list of signs; none says that "none" was among the words.
func readSigns(typed string) (found []signs.Sign, none bool, unknown []string) {
	for _, w := range words(typed) {
		switch sign, ok := signs.Named(w); {
		case !ok:
			unknown = append(unknown, w)
		case sign == "":
			none = true
		default:
			found = append(found, sign)
		}
	}
	return found, none, unknown
}

func bothSignAndNone(f fault.Field, typed string) error {
	return fault.In(f, typed, "says none and names a sign: leave one of them out")
}
