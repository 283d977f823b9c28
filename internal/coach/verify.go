package coach

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/logbook"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// Checked is what a check of the whole book found.
type Checked struct {
	Faults   []string // in plain sentences
	Log      logbook.Log
	Measured int // recordings that were measured again
	Signed   []logbook.Head
	Seals    []Seal
}

// Words say what the check of a sound book showed, and what it did not cover.
func (c Checked) Words() []string {
	out := []string{"The book is sound: every row is as it was entered with this program, every original is as it was received, and no act is missing from the log."}
	if at, err := time.Parse(time.RFC3339, c.Log.Began); err == nil && c.Log.Held > 0 {
		out = append(out, fmt.Sprintf("The log begins on %s with what the book held then; what was done before that day is not covered, apart from the decisions.", workout.DateOf(at, time.Local).Long()))
	}
	if c.Measured > 0 {
		out = append(out, wording.Count(c.Measured, "recording")+" measured again from the originals: the figures are the same.")
	} else {
		out = append(out, "Not checked: whether measuring the originals again gives the same figures.")
	}
	if n := len(c.Signed); n > 0 {
		out = append(out, fmt.Sprintf("Up to entry %d it is %s: is that yours?", c.Signed[n-1].Entry, c.Signed[n-1].Where))
	}
	return append(out, fmt.Sprintf("Seal of the book: %s. Somebody who wrote the whole log anew would give it another seal: compare the one on a printed page, on a page that you sent or in a backup.", c.Log.End))
}

// Verify checks the whole book: the database, its log, every row against the log, every original against its digest, the chains of
// decisions. The seal beside the book, those that the trainer signed and the heads given have to lie on the log. With again, every recording is measured again from its original and compared.
func (c *Coach) Verify(ctx context.Context, heads []logbook.Head, again bool) (out Checked, err error) {
	beside, unread := logbook.Beside(c.Dir)
	if unread == nil {
		heads = append(heads, beside)
	} else {
		out.Faults = append(out.Faults, fmt.Sprintf("the seal beside the book (%s) cannot be read: %v; compare the seal on a printed page or in a backup", logbook.HeadName, unread))
	}
	signed, unsigned, err := c.signed()
	if err != nil {
		return out, err
	}
	out.Signed, out.Faults = signed, append(out.Faults, unsigned...)
	found, err := c.book.Verify(ctx, append(heads, signed...)...)
	out.Faults = append(out.Faults, found...)
	if err != nil || len(out.Faults) > 0 {
		return out, err
	}
	if out.Log, err = c.book.Log(ctx); err == nil && again {
		err = c.measureAgain(ctx, &out)
	}
	if err == nil {
		out.Seals, err = c.Seals(ctx)
	}
	return out, err
}

// measureAgain measures every recording again from its original and compares.
func (c *Coach) measureAgain(ctx context.Context, out *Checked) error {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return err
	}
	for _, name := range names {
		r, err := c.book.Record(ctx, name, endOfTime)
		if err != nil {
			return err
		}
		for _, rec := range r.Recordings {
			w, err := c.original(ctx, rec)
			if err != nil {
				return err
			}
			series := heartrate.Clean(w)
			kept, err := c.book.Series(ctx, rec.ID)
			if err != nil {
				return err
			}
			out.Measured++
			if !sameJSON(measure(r, rec.Date, series, w), rec.Measured) || !sameSeries(series, kept) {
				out.Faults = append(out.Faults, fmt.Sprintf("recording %s of %s (%s) measures differently today: another version of the program measured it, or facts that it rests on were entered since; look at the recording's page", rec.ID, name, rec.Date))
			}
		}
	}
	return nil
}

// sameJSON compares values as the book keeps them.
func sameJSON(a, b any) bool {
	x, err := json.Marshal(a)
	y, err2 := json.Marshal(b)
	return errors.Join(err, err2) == nil && bytes.Equal(x, y)
}

func sameSeries(a, b heartrate.Series) bool {
	x, err := a.MarshalBinary()
	y, err2 := b.MarshalBinary()
	return errors.Join(err, err2) == nil && bytes.Equal(x, y)
}

// ParseSeal reads a seal of the book as it is printed.
func ParseSeal(text string) (logbook.Head, error) {
	h, err := logbook.ParseHead(text)
	h.Where = "given"
	return h, err
}

// ReadSeal is ParseSeal that also takes the name of a backup, or of a file like the one beside the book.
func ReadSeal(ctx context.Context, text string) (logbook.Head, error) {
	if _, err := os.Stat(text); err != nil {
		return ParseSeal(text)
	}
	h, err := logbook.HeadIn(ctx, text)
	h.Where = "in " + text
	return h, err
}

// Seal is the end of one client's chain of decisions.
type Seal struct {
	Client    string
	Decisions int
	Last      record.Decision
}

// Seals gives the last decision of every client who has one.
func (c *Coach) Seals(ctx context.Context) ([]Seal, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return nil, err
	}
	var out []Seal
	for _, name := range names {
		r, err := c.book.Record(ctx, name, endOfTime)
		if err != nil {
			return out, err
		}
		if n := len(r.Decisions); n > 0 {
			out = append(out, Seal{name, n, r.Decisions[n-1]})
		}
	}
	return out, nil
}
