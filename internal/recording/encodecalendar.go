package recording

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"

	"nextrung/internal/workout"
)

// CalendarEntry is one thing to do on a day, at whatever hour suits.
type CalendarEntry struct {
	// UID names the entry for good, so that a calendar that is given a newer file replaces it.
	UID                  string
	Day                  workout.Date
	Summary, Description string
	// Seconds is the planned length, which is added to the summary in whole minutes; 0 when there is none.
	Seconds int
}

// EncodeCalendar writes entries as an iCalendar file (RFC 5545). Each is an event of a whole day
// that leaves the day free, since people choose the hour themselves. made is the time of writing:
// DTSTAMP, and in whole minutes SEQUENCE, which must not fall when a file is written again
// (3.8.7.4). Text keeps its line breaks; other control characters and broken UTF-8, which the
// format cannot hold, are left out.
//
// Refused are no entries, no time of writing, and an entry without day, UID or summary or with the
// UID of another.
func EncodeCalendar(name string, made time.Time, entries []CalendarEntry) ([]byte, error) {
	if len(entries) == 0 {
		return nil, errors.New("encode calendar: no entries; a calendar needs at least one")
	}
	if made.Unix() <= 0 {
		return nil, errors.New("encode calendar: the time of writing is not set")
	}
	cal := ics.NewCalendar()
	cal.SetProductId("-//nextrung//planned workouts//EN")
	if name = calendarText(name); name != "" {
		cal.SetName(name)
	}
	seen := map[string]bool{}
	for i, e := range entries {
		uid, summary := calendarText(e.UID), calendarText(e.Summary)
		switch {
		case e.Day == 0 || uid == "" || summary == "":
			return nil, fmt.Errorf("encode calendar: entry %d lacks its day, UID or summary", i+1)
		case seen[uid]:
			return nil, fmt.Errorf("encode calendar: entry %d has the UID %q of another; each needs its own", i+1, uid)
		}
		seen[uid] = true
		if e.Seconds > 0 {
			summary += fmt.Sprintf(" (%d min)", (e.Seconds+30)/60)
		}
		event := cal.AddEvent(uid)
		event.SetDtStampTime(made)
		event.SetSequence(int(made.Unix() / 60))
		event.SetAllDayStartAt(e.Day.Time())
		event.SetAllDayEndAt((e.Day + 1).Time()) // the end is the first moment after (3.6.1)
		event.SetSummary(summary)
		if text := calendarText(e.Description); text != "" {
			event.SetDescription(text)
		}
		event.SetTimeTransparency(ics.TransparencyTransparent)
	}
	var b bytes.Buffer
	if err := cal.SerializeTo(&b, ics.WithLineLength(75), ics.WithNewLine("\r\n")); err != nil {
		return nil, fmt.Errorf("encode calendar: %w", err)
	}
	return b.Bytes(), nil
}

// calendarText brings line breaks to one kind and leaves out what a TEXT value cannot hold (3.3.11).
func calendarText(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n").Replace(strings.ToValidUTF8(s, ""))
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' && r != '\t' {
			return -1
		}
		return r
	}, s)
}
