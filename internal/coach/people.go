package coach

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"nextrung/internal/fault"
	"nextrung/internal/physiology"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// AddClient enters a new client.
func (c *Coach) AddClient(ctx context.Context, client record.Client, on workout.Date) error {
	client.Name = kept(client.Name)
	names, err := c.book.Clients(ctx)
	if err != nil {
		return err
	}
	if n := match(names, client.Name); n != "" {
		return fault.New(fault.Conflict, "%s is already in the book", n).Helped(fault.ChangeFacts, n)
	}
	if err := checkClient(client, on); err != nil {
		return err
	}
	if err := c.book.PutClient(ctx, client, on); err != nil {
		return err
	}
	return os.MkdirAll(c.DropFolder(client.Name), 0o700)
}

// SetClient enters a new version of a client's facts. When they change zones, the workouts from
// that day on are measured again.
func (c *Coach) SetClient(ctx context.Context, client record.Client, on workout.Date) error {
	if err := checkClient(client, on); err != nil {
		return err
	}
	if err := c.book.PutClient(ctx, client, on); err != nil {
		return err
	}
	return c.Reassess(ctx, client.Name)
}

// Client gives a client's newest facts.
func (c *Coach) Client(ctx context.Context, name string) (record.Client, error) {
	return c.book.Client(ctx, name)
}

// Clients lists the names in the book.
func (c *Coach) Clients(ctx context.Context) ([]string, error) { return c.book.Clients(ctx) }

// Forget removes a client and everything received for them. While something waits for a doctor it refuses, unless that is
// known: nothing of it is left when somebody enters the client again.
func (c *Coach) Forget(ctx context.Context, name string, on workout.Date, known bool) error {
	record, err := c.book.Record(ctx, name, endOfTime)
	if err != nil {
		return err
	}
	if waits := waitsForDoctor(progression.NewReview(c.Policy, on, record)); len(waits) > 0 && !known {
		return doctorFirst(fault.ForgetOpen, name, "nothing was removed. Still open: %s", reasons.Paragraph(waits))
	}
	if err := c.removePages(record); err != nil {
		return err
	}
	if err := c.removeDrop(name); err != nil {
		return err
	}
	return c.book.Forget(ctx, name)
}

// checkClient refuses facts that are impossible or would make every later number wrong.
func checkClient(client record.Client, on workout.Date) error {
	var wrong []error
	say := func(f fault.Field, value any, what string, args ...any) {
		wrong = append(wrong, fault.In(f, value, what, args...))
	}
	if why := checkName(client.Name); why != "" {
		say("name", client.Name, "%s", why)
	}
	if client.Born == 0 {
		say("born", "", "is missing: zones and cautions depend on age")
	} else if age := client.Born.YearsAt(on); client.Born <= on && (age < 5 || age > 110) {
		say("born", client.Born, "makes the client %.0f years old", age)
	}
	if len(client.Screening.Signs) > 0 && client.Screening.On == 0 {
		say("screened", "", "is missing: give the day on which the signs were found")
	}
	if client.Stage < 0 || client.Stage > 3 {
		say("stage", client.Stage, "does not exist; stages are 1, 2 and 3")
	}
	for _, x := range []struct {
		field     fault.Field
		value     float64
		low, high float64
		unit      string
	}{
		{"height_cm", client.HeightCM, 50, 250, "cm"}, {"mass_kg", client.MassKG, 10, 400, "kg"},
		{"days", float64(client.Days), 1, 7, "days a week"}, {"minutes", float64(client.Minutes), 1, 600, "min"},
	} {
		wrong = append(wrong, within(x.field, x.value, x.low, x.high, x.unit))
	}
	for _, x := range []struct {
		field fault.Field
		day   workout.Date
	}{
		{"born", client.Born}, {"since", client.Since}, {"screened", client.Screening.On}, {"clearance", client.Clearance}, {"dose_change", client.DoseChange},
	} {
		wrong = append(wrong, NotAhead(x.field, x.day, on))
	}
	if _, err := time.LoadLocation(client.TimeZone); err != nil {
		say("time_zone", client.TimeZone, "is not known; write it like Europe/Oslo")
	}
	for _, z := range client.Zones {
		wrong = append(wrong, checkZones(z))
	}
	if n := len(client.Zones); n > 0 {
		wrong = append(wrong, checkLimit(client.Zones[n-1]), checkBetween(client.Zones[n-1]))
	}
	return errors.Join(wrong...)
}

// within refuses a figure outside its bounds; 0 is none.
func within(f fault.Field, value, low, high float64, unit string) error {
	if value == 0 || value >= low && value <= high {
		return nil
	}
	return fault.In(f, value, "is outside %g to %g %s", low, high, unit)
}

// CheckHeartRates refuses a resting or maximal heart rate that no adult has; 0 is none.
func CheckHeartRates(rest, maximum float64) error {
	err := errors.Join(within(HRRest, rest, 30, 110, "bpm"), within(HRMax, maximum, 100, 230, "bpm"))
	if err == nil && maximum != 0 && maximum <= rest {
		err = fault.In(HRMax, maximum, "is not above the resting heart rate of %g bpm", rest)
	}
	return err
}

// CheckEdges refuses edges of zones that do not rise within what a heart can do.
func CheckEdges(e [4]float64, m workout.Mode) error {
	if e[0] >= physiology.Lowest && e[0] < e[1] && e[1] < e[2] && e[2] < e[3] && e[3] <= physiology.Highest {
		return nil
	}
	return fault.In(Edges, strings.Trim(fmt.Sprint(e), "[]"), "must rise%s and stay between %d and %d bpm", forMode(m), int(physiology.Lowest), int(physiology.Highest))
}

func checkZones(z record.ZoneSet) error {
	wrong := []error{CheckHeartRates(z.HRRest, 0), within(Limit, z.Limit, 1, 220, "bpm")}
	for _, maximum := range z.HRMax {
		wrong = append(wrong, CheckHeartRates(z.HRRest, maximum))
	}
	if z.T1 != 0 && z.T2 != 0 && z.T1 >= z.T2 {
		wrong = append(wrong, fault.In(Thresholds, fmt.Sprintf("%g,%g", z.T1, z.T2), "must rise: the first below the second"))
	}
	for mode, e := range z.Edges {
		wrong = append(wrong, CheckEdges(e, mode))
	}
	return errors.Join(wrong...)
}

// Room in bpm that a limit leaves above the resting heart rate at least, and the resting heart rate that is
// supposed where none is known (common practice, no source).
const roomAboveRest, usualRest = 20, 60

// checkLimit refuses a limit under which nobody could move, with the question that would settle it.
func checkLimit(z record.ZoneSet) error {
	switch {
	case z.Limit == 0 || z.Limit >= cmp.Or(z.HRRest, usualRest)+roomAboveRest:
		return nil
	case z.HRRest == 0:
		return fault.In(Limit, z.Limit, "is below %d bpm: is that the heart rate that the doctor said not to exceed in training? If so, enter the resting heart rate, too", usualRest+roomAboveRest)
	}
	return fault.In(Limit, z.Limit, "is less than %d bpm above the resting heart rate of %g: which heart rate did the doctor say not to exceed in training?", roomAboveRest, z.HRRest)
}

// checkBetween refuses thresholds and edges that do not lie between the resting and the maximal heart rate on record.
func checkBetween(z record.ZoneSet) error {
	var wrong []error
	between := func(f fault.Field, m workout.Mode, low, high float64) {
		most := cmp.Or(z.HRMax[m], z.HRMax[""])
		switch {
		case low > 0 && low <= z.HRRest:
			wrong = append(wrong, fault.In(f, low, "is not above the resting heart rate of %g bpm%s: which of the two is right?", z.HRRest, forMode(m)))
		case most > 0 && high > most:
			wrong = append(wrong, fault.In(f, high, "is above the maximal heart rate of %g bpm%s: which of the two is right?", most, forMode(m)))
		}
	}
	between(Thresholds, "", cmp.Or(z.T1, z.T2), max(z.T1, z.T2))
	for m, e := range z.Edges {
		if CheckEdges(e, m) == nil {
			between(Edges, m, e[0], e[3])
		}
	}
	return errors.Join(wrong...)
}

func forMode(m workout.Mode) string {
	if m == "" {
		return ""
	}
	return " for " + string(m)
}
