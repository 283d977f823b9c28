package recording

import (
	"errors"
	"math"
	"slices"
	"strings"

	"nextrung/internal/workout"
)

// rowClock reads the time of one row after the other.
type rowClock struct {
	clockReader
	timed, dated  bool // there is a time column, and a date column beside it
	unsure        bool // nothing says whether day or month comes first
	shift, before float64
}

// clock looks through a table's dates and gives what reads the times of its rows.
func (h *header) clock(body []byte) *rowClock {
	c := &rowClock{timed: h.has(timeColumn), before: math.NaN()}
	c.dated = c.timed && h.has(dateColumn)
	c.dayFirst, c.unsure = h.dayComesFirst(body) // finds the row of units, too
	c.comma, c.scale = h.delimiter != ',', h.columns[timeColumn].scale()
	if !c.timed { // the date column holds the time as well
		c.scale = h.columns[dateColumn].scale()
	}
	return c
}

// at reads the time of a row as Unix seconds, or as seconds since some start when the table has no date; NaN where
// there is none. The form is settled by the first cell that can be read and then holds for the column.
func (c *rowClock) at(row [columns]string) float64 {
	date, text := strings.TrimSpace(row[dateColumn]), strings.TrimSpace(row[timeColumn])
	if !c.timed {
		text = date
	}
	if text == "" {
		return math.NaN()
	}
	if c.dated {
		if t := c.read(date + " " + text); !math.IsNaN(t) {
			return t
		}
	}
	t := c.read(text)
	if c.ofDay && !math.IsNaN(t) { // a clock without a date passes midnight
		if t+c.shift < c.before-clockStep {
			c.shift += 86400
		}
		t += c.shift
		c.before = t
	}
	return t
}

// remarks says what was odd about the times that were read.
func (c *rowClock) remarks() (out []workout.Fact) {
	if c.unsure && c.slashed {
		out = append(out, workout.Say(DateOrder, nil))
	}
	if c.unzoned {
		out = append(out, workout.Say(NoZone, workout.Args{"zone": "none"}))
	}
	if c.strangeZone {
		out = append(out, workout.Say(NoZone, workout.Args{"zone": "unknown"}))
	}
	return out
}

// clockReader reads times as people and programs write them.
type clockReader struct {
	dayFirst, comma bool
	scale           float64

	ofDay, slashed, unzoned, strangeZone bool // what was met
}

func (c *clockReader) read(s string) float64 {
	s = strings.TrimSpace(s)
	if t, zoned, ok := stamp(s); ok {
		c.unzoned = c.unzoned || !zoned
		return t
	}
	if v := decimal(s, c.comma); !math.IsNaN(v) {
		switch v *= c.scale; {
		case v >= 1e14: // microseconds since 1970
			return v / 1e6
		case v >= 1e11: // milliseconds since 1970
			return v / 1e3
		}
		return v
	}
	if t, ok := hours(s); ok {
		c.ofDay = true
		return t
	}
	return c.calendar(s)
}

// hours reads mm:ss and h:mm:ss, with or without a fraction, AM or PM.
func hours(s string) (float64, bool) {
	s, half := halfDay(s)
	parts := strings.Split(strings.Replace(s, ",", ".", 1), ":")
	if len(parts) < 2 || len(parts) > 3 {
		return 0, false
	}
	seconds := number(parts[len(parts)-1])
	if !(seconds >= 0 && seconds < 61) {
		return 0, false
	}
	for i, unit := len(parts)-2, 60; i >= 0; i, unit = i-1, unit*60 {
		v, ok := digits(parts[i])
		if !ok || len(parts[i]) > 4 {
			return 0, false
		}
		seconds += float64(v * unit)
	}
	return half(seconds), true
}

// halfDay takes AM or PM off the end and gives what it means for a time of day.
func halfDay(s string) (string, func(float64) float64) {
	upper := strings.ToUpper(s)
	for _, m := range []string{"AM", "PM"} {
		if rest, ok := strings.CutSuffix(upper, m); ok {
			return strings.TrimSpace(s[:len(rest)]), func(t float64) float64 {
				return math.Mod(t, 12*3600) + map[string]float64{"PM": 12 * 3600}[m]
			}
		}
	}
	return s, func(t float64) float64 { return t }
}

// zoneHours are the abbreviations in common use whose meaning is plain enough; Go's own parser
// takes each for UTC.
var zoneHours = map[string]float64{
	"UTC": 0, "GMT": 0, "Z": 0, "WET": 0, "WEST": 1, "BST": 1, "CET": 1, "CEST": 2, "MEZ": 1, "MESZ": 2, "EET": 2, "EEST": 3, "MSK": 3,
	"EST": -5, "EDT": -4, "CST": -6, "CDT": -5, "MST": -7, "MDT": -6, "PST": -8, "PDT": -7, "AKST": -9, "AKDT": -8, "HST": -10,
	"JST": 9, "AEST": 10, "AEDT": 11, "ACST": 9.5, "AWST": 8, "NZST": 12, "NZDT": 13,
}

// months by their first three letters.
var months = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

var weekdays = []string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}

// calendar reads a date and a clock in any order of words: "Sun Sep 25 06:00:22 PDT 2011",
// "25.09.2011 06:00:22", "9/25/2011 6:00:22 AM", "25 Sep 2011 06:00:22 +0200".
func (c *clockReader) calendar(s string) float64 {
	s, half := halfDay(strings.ReplaceAll(s, ", ", " "))
	w := dateWords{clock: math.NaN()}
	for word := range strings.FieldsSeq(s) {
		if !w.add(word) {
			return math.NaN()
		}
	}
	y, month, d, slashed := w.date(c.dayFirst)
	if math.IsNaN(w.clock) || month < 1 || month > 12 || d < 1 || d > 31 || y < 1900 || y > 2200 {
		return math.NaN()
	}
	c.unzoned, c.strangeZone, c.slashed = c.unzoned || !w.zoned, c.strangeZone || w.strange, c.slashed || slashed
	return float64(daysSince1970(y, month, d)*86400) + half(w.clock) - w.offset
}

// dateWords is what the words of a date say.
type dateWords struct {
	clock          float64 // s of the day, NaN without one
	numbers        []int
	month          int     // 0 unless named
	offset         float64 // s from UTC
	zoned, strange bool
}

// add takes in one word; false when it looks like a clock and is none.
func (w *dateWords) add(word string) (ok bool) {
	lower := strings.ToLower(word)
	n, isNumber := digits(word)
	day, isDate := slashes(word)
	switch {
	case strings.Contains(word, ":") && math.IsNaN(w.clock):
		if strings.Count(word, ":") == 1 { // beside a date, 6:00 is an hour and a minute
			word += ":00"
		}
		w.clock, ok = hours(word)
		return ok
	case isDate:
		w.numbers = append(w.numbers, day[:]...)
	case isNumber:
		w.numbers = append(w.numbers, n)
	case len(lower) >= 3 && slices.Contains(months, lower[:3]):
		w.month = slices.Index(months, lower[:3]) + 1
	default:
		if z, _, ok := zone(word); ok {
			w.offset, w.zoned = float64(z), true
		} else if z, ok := zoneHours[strings.ToUpper(word)]; ok {
			w.offset, w.zoned = z*3600, true
		} else if !weekday(lower) {
			w.strange, w.zoned = true, true
		}
	}
	return true
}

// date puts the numbers in order, all 0 where they are no date; slashed says that nothing but dayFirst
// decided between day and month.
func (w dateWords) date(dayFirst bool) (y, month, d int, slashed bool) {
	switch n := w.numbers; {
	case w.month > 0 && len(n) == 2: // day and year, whichever is larger
		return max(n[0], n[1]), w.month, min(n[0], n[1]), false
	case w.month > 0 || len(n) != 3:
		return 0, 0, 0, false
	case n[0] > 31:
		return n[0], n[1], n[2], false
	default:
		if d, month, y = n[0], n[1], n[2]; !dayFirst {
			d, month = month, d
		}
		if y < 100 {
			y += 2000
		}
		return y, month, d, true
	}
}

// slashes splits 25.9.2011, 9/25/2011, 25-09-2011 and 2011/09/25.
func slashes(s string) (out [3]int, ok bool) {
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == '.' || r == '/' || r == '-' })
	if len(parts) != 3 || len(parts[0]) > 4 || len(parts[1]) > 4 || len(parts[2]) > 4 {
		return out, false
	}
	for i, p := range parts {
		if out[i], ok = digits(p); !ok {
			return out, false
		}
	}
	return out, true
}

func weekday(s string) bool {
	return slices.ContainsFunc(weekdays, func(day string) bool { return strings.HasPrefix(day, strings.TrimSuffix(s, ".")) })
}

// datesBy is within how many rows a table that writes dates with slashes, or AM and PM, has one.
const datesBy = 1000

// dayComesFirst settles the order of day and month from all rows: a number above 12 decides. When
// there is none, the month comes first only with AM and PM; unsure says that nothing decided.
func (h *header) dayComesFirst(body []byte) (first, unsure bool) {
	halves, any, seen := false, false, 0
	decided := errors.New("decided")
	_, err := h.rows(body, func(row [columns]string) error {
		for word := range strings.FieldsSeq(row[dateColumn] + " " + row[timeColumn]) {
			if d, ok := slashes(strings.Trim(word, ",")); ok && d[0] <= 31 {
				any = true
				if d[0] > 12 || d[1] > 12 {
					first = d[0] > 12
					return decided
				}
			}
			if u := strings.ToUpper(word); strings.HasSuffix(u, "AM") || strings.HasSuffix(u, "PM") {
				halves, any = true, true
			}
		}
		if seen++; seen >= datesBy && !any {
			return decided
		}
		return nil
	})
	if err != nil && any {
		return first, false
	}
	return !halves, true
}
