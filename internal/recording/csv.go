package recording

import (
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// headerRows is within how many lines the header of a table must stand; some exports put a
// summary or a title before it. longestHeader is the length in bytes that no header reaches.
const headerRows, longestHeader = 40, 1 << 16

// restart is the step back in seconds that elapsed time makes only where another recording begins.
const restart = 60

var (
	errNoTable = fault.New(fault.Refused, "content is not FIT, TCX, GPX or a table with a heart-rate column; export the workout in one of these formats")
	errNoTime  = fault.New(fault.Refused, "table has a heart-rate column but no time column, so durations are unknown; export it with a time or with the seconds since the start")
	errDump    = fault.New(fault.Refused, "table is a dump of FIT messages, not one row per sample; use the FIT file itself")
)

// readCSV reads a table with one row per sample: a time and a heart-rate column under their usual
// names, and speed, power, cadence and distance when they are there.
func readCSV(b []byte) (reading, error) {
	text, _ := asText(b)
	text = bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n"))
	h, body, err := findHeader(text)
	if err != nil {
		return reading{}, err
	}
	rows, bad := h.rows(body)
	var r reading
	if bad > 0 {
		r.remarks = append(r.remarks, workout.Say(Damaged, workout.Args{"format": "csv", "rows": bad}))
	}
	times, remarks := h.times(rows)
	r.remarks = append(r.remarks, remarks...)
	if h.speed.at >= 0 && h.speed.unit == "" {
		r.remarks = append(r.remarks, workout.Say(NoUnit, nil))
	}
	o := &roll{expected: len(rows)}
	rolls := []*roll{o}
	timeless := 0
	for i, row := range rows {
		t := times[i]
		if math.IsNaN(t) {
			timeless++
			continue
		}
		if o.now != nil && t < horizon && t < o.now.latest-restart {
			o = &roll{} // elapsed time started again: several recordings in one table
			rolls = append(rolls, o)
		}
		k := o.at(t)
		if k == nil {
			continue
		}
		k.sample(point{
			t: t, hr: h.value(row, h.heartRate), speed: h.value(row, h.speed) * h.speed.scale(), power: h.value(row, h.power),
			cadence: h.value(row, h.cadence), distance: h.value(row, h.distance) * h.distance.scale(), lat: math.NaN(), lon: math.NaN(),
		})
	}
	if len(rolls) > mostTakes {
		return r, fault.New(fault.Refused, "the time in the table jumps back again and again; put one recording in each file, in order of time")
	}
	for _, o := range rolls {
		r.takes = append(r.takes, o.takes...)
	}
	if len(rolls) > 1 {
		r.remarks = append(r.remarks, workout.Say(Several, workout.Args{"times": len(rolls) - 1}))
	}
	switch {
	case len(rows) == 0:
		return r, fault.New(fault.Refused, "table has a header but no rows; export it again")
	case len(r.takes) == 0:
		return r, fault.New(fault.Refused, "table has a time column whose values are not times; use seconds, mm:ss or YYYY-MM-DDThh:mm:ssZ")
	case timeless > 0:
		r.remarks = append(r.remarks, workout.Say(NoTime, workout.Args{"n": timeless, "of": "row"}))
	}
	return r, nil
}

// findHeader looks for the line and the delimiter that give a time and a heart-rate column.
func findHeader(text []byte) (*header, []byte, error) {
	fault := errNoTable
	for range headerRows {
		line, rest, more := bytes.Cut(text, []byte("\n"))
		for _, d := range []rune{',', ';', '\t'} {
			h := newHeader(firstRow(line, d), d)
			switch {
			case h.dump:
				return nil, nil, errDump
			case h.heartRate.at >= 0 && (h.time.at >= 0 || h.date.at >= 0):
				return h, rest, nil
			case h.heartRate.at >= 0 && h.numberBelow(rest):
				fault = errNoTime
			}
		}
		if !more {
			break
		}
		text = rest
	}
	return nil, nil, fault
}

// numberBelow says whether the line under the header has a number in the heart-rate column, as
// opposed to a sentence that happens to hold the words.
func (h *header) numberBelow(text []byte) bool {
	line, _, _ := bytes.Cut(text, []byte("\n"))
	return !math.IsNaN(h.value(firstRow(line, h.delimiter), h.heartRate))
}

// firstRow splits one line. A line too long for a header is none.
func firstRow(line []byte, delimiter rune) []string {
	if len(line) > longestHeader {
		return nil
	}
	row, _ := tableReader(line, delimiter).Read()
	return row
}

func tableReader(b []byte, delimiter rune) *csv.Reader {
	r := csv.NewReader(bytes.NewReader(b))
	r.Comma, r.LazyQuotes, r.FieldsPerRecord, r.TrimLeadingSpace = delimiter, true, -1, delimiter != '\t'
	r.ReuseRecord = true
	return r
}

// rows reads the table below the header and keeps the cells of the known columns, whose places
// become those in the kept rows. It counts the rows that cannot be split.
func (h *header) rows(b []byte) (rows [][]string, bad int) {
	columns := []*column{&h.date, &h.time, &h.heartRate, &h.speed, &h.power, &h.cadence, &h.distance}
	r := tableReader(b, h.delimiter)
	first := true
	for bad <= 1000 {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			bad++
			continue
		}
		if first && h.isUnits(row) {
			h.takeUnits(row)
			first = false
			continue
		}
		first = false
		kept := make([]string, len(columns))
		for i, c := range columns {
			if c.at >= 0 && c.at < len(row) {
				kept[i] = row[c.at]
			}
		}
		rows = append(rows, kept)
	}
	for i, c := range columns {
		if c.at >= 0 {
			c.at = i
		}
	}
	return rows, bad
}

// value reads a cell as a number, NaN when it is absent or none. A unit behind the number is
// allowed; the decimal sign may be a comma where the comma does not delimit.
func (h *header) value(row []string, c column) float64 {
	if c.at < 0 || c.at >= len(row) {
		return math.NaN()
	}
	return decimal(row[c.at], h.delimiter != ',')
}

func decimal(cell string, comma bool) float64 {
	cell = strings.TrimSpace(cell)
	end := strings.IndexFunc(cell, func(r rune) bool { return !strings.ContainsRune("0123456789+-.,eE", r) })
	if end > 0 && knownUnit(strings.ToLower(strings.TrimSpace(cell[end:]))) {
		cell = strings.TrimSpace(cell[:end])
	}
	if comma || strings.Count(cell, ",") == 1 && !strings.Contains(cell, ".") {
		cell = strings.Replace(cell, ",", ".", 1)
	}
	return number(cell)
}
