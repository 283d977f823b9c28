package coach

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// AddClient enters a new client.
func (c *Coach) AddClient(ctx context.Context, client record.Client, on workout.Date) error {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return err
	}
	for _, n := range names {
		if strings.EqualFold(n, client.Name) {
			return fmt.Errorf("%s is in the book already; change facts with `nextrung client set %q`", n, n)
		}
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

// Forget removes a client and everything received for them.
func (c *Coach) Forget(ctx context.Context, name string) error {
	record, err := c.book.Record(ctx, name, endOfTime)
	if err != nil {
		return err
	}
	if err := c.removePages(record); err != nil {
		return err
	}
	if err := c.removeDrop(name); err != nil {
		return err
	}
	return c.book.Forget(ctx, name)
}

// checkClient refuses facts that cannot be or that would make every later number wrong.
func checkClient(client record.Client, on workout.Date) error {
	var wrong []string
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	name := client.Name
	switch {
	case strings.TrimSpace(name) == "":
		say("the name is empty")
	case name != strings.TrimSpace(name) || strings.ContainsAny(name, `/\:*?"<>|`) || strings.HasPrefix(name, ".") || strings.ContainsFunc(name, func(r rune) bool { return r < ' ' }):
		say("the name %q cannot be the name of a folder; leave out / \\ : * ? \" < > | and leading dots", name)
	case strings.EqualFold(name, refusedFolder):
		say("the name %q is the folder of refused files", name)
	}
	if client.Born == 0 {
		say("the day of birth is missing (--born YYYY-MM-DD)")
	} else if age := client.Born.YearsAt(on); age < 5 || age > 110 {
		say("born %s makes the client %.0f years old", client.Born, age)
	}
	if client.Stage < 0 || client.Stage > 3 {
		say("stage %d does not exist; stages are 1, 2 and 3", client.Stage)
	}
	if client.Since > on {
		say("the stage begins on %s, which is still to come", client.Since)
	}
	for what, d := range map[string]workout.Date{"screening": client.Screening.On, "clearance": client.Clearance, "change of dose": client.DoseChange} {
		if d > on {
			say("the %s is dated %s, which is still to come", what, d)
		}
	}
	if _, err := time.LoadLocation(client.TimeZone); err != nil {
		say("time zone %q is not known; write it like Europe/Oslo", client.TimeZone)
	}
	for _, z := range client.Zones {
		wrong = append(wrong, checkZones(z)...)
	}
	if len(wrong) > 0 {
		return errors.New(strings.Join(wrong, "; "))
	}
	return nil
}

func checkZones(z record.ZoneSet) (wrong []string) {
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	if z.HRRest != 0 && (z.HRRest < 30 || z.HRRest > 110) {
		say("a resting heart rate of %.0f bpm is outside 30 to 110", z.HRRest)
	}
	for mode, v := range z.HRMax {
		if v < 100 || v > 230 {
			say("a maximal heart rate of %.0f bpm%s is outside 100 to 230", v, forMode(mode))
		}
		if z.HRRest != 0 && v <= z.HRRest {
			say("the maximal heart rate %.0f is not above the resting one %.0f", v, z.HRRest)
		}
	}
	if z.T1 != 0 && z.T2 != 0 && z.T1 >= z.T2 {
		say("the first threshold %.0f is not below the second %.0f", z.T1, z.T2)
	}
	for mode, e := range z.Edges {
		if !slices.IsSorted(e[:]) || e[0] < physiology.Lowest || e[3] > physiology.Highest || slices.ContainsFunc([]int{0, 1, 2}, func(i int) bool { return e[i] == e[i+1] }) {
			say("zone edges %v%s do not rise from 30 to 230", e, forMode(mode))
		}
	}
	if z.Limit != 0 && (z.Limit < 60 || z.Limit > 220) {
		say("a limit of %.0f bpm is outside 60 to 220", z.Limit)
	}
	return wrong
}

func forMode(m workout.Mode) string {
	if m == "" {
		return ""
	}
	return " for " + string(m)
}

// AddNote enters what no sensor knows.
func (c *Coach) AddNote(ctx context.Context, client string, n record.Note) error {
	_, err := c.AddNotes(ctx, client, []record.Note{n})
	return err
}

// AddNotes enters several notes at once, all or none, and returns their IDs.
func (c *Coach) AddNotes(ctx context.Context, client string, notes []record.Note) ([]string, error) {
	notes = slices.Clone(notes)
	for i, n := range notes {
		if n.Reader == 0 { // nothing comes into the book unread, whichever way it comes
			notes[i] = n.Read()
		}
	}
	return c.book.AddNotes(ctx, client, notes)
}

// ErrTwice means that the same session was reported before.
var ErrTwice = errors.New("the same session is in the book already")

// AddReport enters a session without a recording. One with the same day, sport and length as an
// earlier one is refused unless again says that it was done twice.
func (c *Coach) AddReport(ctx context.Context, client string, r record.Report, again bool) error {
	record, err := c.book.Record(ctx, client, endOfTime)
	if err != nil {
		return err
	}
	for _, old := range record.Reports {
		if !again && old.Date == r.Date && old.Sport == r.Sport && old.Minutes == r.Minutes {
			return fmt.Errorf("%w as %s: %g min of %s on %s", ErrTwice, old.ID, old.Minutes, old.Sport, old.Date)
		}
	}
	return c.book.AddReport(ctx, client, r)
}

// Withdraw makes a note ("n12") or a reported session ("r3") count no longer from a day on.
func (c *Coach) Withdraw(ctx context.Context, client, id string, on workout.Date) error {
	return c.book.Withdraw(ctx, client, id, on)
}
