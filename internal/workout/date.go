package workout

import (
	"fmt"
	"time"
)

// Date is a civil day: the number of days since 1 January of year 1. The zero value means "not
// set". Dates compare with < and differ by subtraction; a week is 7.
type Date int

const layout = "2006-01-02"

// unixDay is the Date of 1 January 1970. time.Duration cannot span twenty centuries, so days are
// counted from there.
const unixDay = 719163

// DateOf is the day that t falls on in the time zone loc.
func DateOf(t time.Time, loc *time.Location) Date {
	y, m, d := t.In(loc).Date()
	return Date(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix()/86400 + unixDay)
}

// ParseDate reads YYYY-MM-DD.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(layout, s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date; write it as YYYY-MM-DD", s)
	}
	return DateOf(t, time.UTC), nil
}

// MustDate is ParseDate for dates in code; it panics on a bad one.
func MustDate(s string) Date {
	d, err := ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

// Time is midnight UTC of the day.
func (d Date) Time() time.Time { return time.Unix(int64(d-unixDay)*86400, 0).UTC() }

// Noon is midday of the day in the time zone loc, for what is known to the day only.
func (d Date) Noon(loc *time.Location) time.Time {
	y, m, day := d.Time().Date()
	return time.Date(y, m, day, 12, 0, 0, 0, loc).UTC()
}

// String writes YYYY-MM-DD, or "" when not set.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format(layout)
}

// Long writes the day as people do: "4 October 2026".
func (d Date) Long() string {
	if d == 0 {
		return "not set"
	}
	return d.Time().Format("2 January 2006")
}

// Short writes "4 Oct".
func (d Date) Short() string {
	if d == 0 {
		return "not set"
	}
	return d.Time().Format("2 Jan")
}

// Weekday is a day of the week in the words of commands: "mon" to "sun".
type Weekday string

// Weekdays lists the days of the week, Monday first.
func Weekdays() []Weekday { return []Weekday{"mon", "tue", "wed", "thu", "fri", "sat", "sun"} }

// Weekday is the day of the week.
func (d Date) Weekday() Weekday { return Weekdays()[(int(d.Time().Weekday())+6)%7] }

// Day writes "Mon 5 Oct".
func (d Date) Day() string {
	if d == 0 {
		return "not set"
	}
	return d.Time().Format("Mon 2 Jan")
}

// YearsAt is the age in completed and part years on day on, for somebody born on d; 0 when either
// is not set.
func (d Date) YearsAt(on Date) float64 {
	if d == 0 || on == 0 {
		return 0
	}
	return float64(on-d) / 365.2425
}

// MarshalText writes YYYY-MM-DD.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads YYYY-MM-DD; empty text is "not set".
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = 0
		return nil
	}
	v, err := ParseDate(string(b))
	*d = v
	return err
}
