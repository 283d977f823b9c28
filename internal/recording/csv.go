package recording

import (
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"math"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// headerRows is within how many lines the header of a table must stand; some exports put a
// summary or a title before it. longestRow is the length in bytes that no row reaches, and
// mostBadRows the number of rows that cannot be split at which the rest of a table is left out.
const headerRows, longestRow, mostBadRows = 40, 1 << 16, 1000

// restart is the step back in seconds that elapsed time makes only where another recording begins.
const restart = 60

var (
	errNoTable  = fault.New(fault.Refused, "content is not FIT, TCX, GPX or a table with a heart-rate column; export the workout in one of these formats")
	errNoTime   = fault.New(fault.Refused, "table has a heart-rate column but no time column, so durations are unknown; export it with a time or with the seconds since the start")
	errRestarts = fault.New(fault.Refused, "the time in the table jumps back again and again; put one recording in each file, in order of time")
	errDump     = fault.New(fault.Refused, "table is a dump of FIT messages, not one row per sample; use the FIT file itself")
)

// readCSV reads a table with one row per sample: a time and a heart-rate column under their usual
// names, and speed, power, cadence and distance when they are there.
func readCSV(ctx context.Context, text []byte) (reading, error) {
	if bytes.IndexByte(text, '\r') >= 0 {
		text = bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n"))
	}
	h, body, err := findHeader(text)
	if err != nil {
		return reading{}, err
	}
	var r reading
	count := counter{ctx: ctx}
	clock := h.clock(body)
	o := &roll{expected: bytes.Count(body, []byte("\n"))}
	rolls := []*roll{o}
	rows, timeless := 0, 0
	bad, err := h.rows(body, func(row [columns]string) error {
		rows++
		if err := count.next(); err != nil {
			return err
		}
		t := clock.at(row)
		if math.IsNaN(t) {
			timeless++
			return nil
		}
		if o.now != nil && t < horizon && t < o.now.latest-restart {
			if len(rolls) == mostTakes {
				return errRestarts
			}
			o = &roll{} // elapsed time started again: several recordings in one table
			rolls = append(rolls, o)
		}
		if k := o.at(t); k != nil {
			k.sample(point{
				t: t, hr: h.value(row[heartRateColumn]), speed: h.value(row[speedColumn]) * h.columns[speedColumn].scale(), power: h.value(row[powerColumn]),
				cadence: h.value(row[cadenceColumn]), distance: h.value(row[distanceColumn]) * h.columns[distanceColumn].scale(), lat: math.NaN(), lon: math.NaN(),
			})
		}
		return nil
	})
	if err != nil {
		return r, err
	}
	if bad > 0 {
		r.remarks = append(r.remarks, workout.Say(Damaged, workout.Args{"format": "csv", "rows": bad}))
	}
	r.remarks = append(r.remarks, clock.remarks()...)
	if h.has(speedColumn) && h.columns[speedColumn].unit == "" {
		r.remarks = append(r.remarks, workout.Say(NoUnit, nil))
	}
	r.takes = takesOf(rolls)
	if len(rolls) > 1 {
		r.remarks = append(r.remarks, workout.Say(Several, workout.Args{"times": len(rolls) - 1}))
	}
	switch {
	case rows == 0:
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
			case h.has(heartRateColumn) && (h.has(timeColumn) || h.has(dateColumn)):
				return h, rest, nil
			case h.has(heartRateColumn) && h.numberBelow(rest):
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
	return !math.IsNaN(h.value(h.cells(firstRow(line, h.delimiter))[heartRateColumn]))
}

// firstRow splits one line. A line too long for a row is none.
func firstRow(line []byte, delimiter rune) []string {
	if len(line) > longestRow {
		return nil
	}
	row, _ := tableReader(bytes.NewReader(line), delimiter).Read()
	return row
}

// oneLine gives a table to its reader line by line, each with an end, so that a quote that is never closed costs
// one line and not the rest of the table.
type oneLine struct{ left []byte }

func (l *oneLine) Read(p []byte) (int, error) {
	if len(l.left) == 0 {
		return 0, io.EOF
	}
	n := copy(p, l.left)
	l.left = l.left[n:]
	return n, nil
}

func tableReader(in io.Reader, delimiter rune) *csv.Reader {
	r := csv.NewReader(in)
	r.Comma, r.LazyQuotes, r.FieldsPerRecord, r.TrimLeadingSpace = delimiter, true, -1, delimiter != '\t'
	r.ReuseRecord = true
	return r
}

// rows hands on the cells of the known columns, row by row below the header. It counts the rows that cannot be
// split, and gives up when they are too many.
func (h *header) rows(b []byte, each func([columns]string) error) (bad int, err error) {
	var line oneLine
	r := tableReader(&line, h.delimiter)
	first := true
	for bad <= mostBadRows && len(b) > 0 {
		line.left, b, _ = bytes.Cut(b, []byte("\n"))
		if len(line.left) > longestRow {
			bad++
			continue
		}
		switch row, err := r.Read(); {
		case err == io.EOF: // a blank line
			continue
		case err != nil:
			bad++
			continue
		case first && h.isUnits(row):
			h.takeUnits(row)
		default:
			if err := each(h.cells(row)); err != nil {
				return bad, err
			}
		}
		first = false
	}
	return bad, nil
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
