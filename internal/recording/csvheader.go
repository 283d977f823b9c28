package recording

import (
	"math"
	"slices"
	"strings"
	"unicode"
)

// column is where a quantity is in a table, -1 when it is not there, and in which unit.
type column struct {
	at   int
	unit string
}

// The columns of a table that are read.
const (
	dateColumn = iota
	timeColumn
	heartRateColumn
	speedColumn
	powerColumn
	cadenceColumn
	distanceColumn
	columns
)

// header is what the first row of a table says.
type header struct {
	delimiter rune
	columns   [columns]column
	dump      bool
}

// columnNames are the names under which exports write a quantity, without unit and punctuation; earlier ones
// go before later ones. The words are plain English and what the larger European languages use.
var columnNames = [columns][]string{
	dateColumn: {"date", "datum", "fecha"},
	timeColumn: {"timestamp", "datetime", "date time", "time", "utc", "utc time", "local time",
		"time of day", "elapsed", "elapsed time", "time elapsed", "seconds", "duration", "t", "zeit", "uhrzeit", "temps", "tiempo"},
	heartRateColumn: {"heart rate", "heartrate", "hr", "bpm", "pulse", "pulse rate", "herzfrequenz", "puls",
		"fréquence cardiaque", "frequence cardiaque", "frecuencia cardíaca", "frecuencia cardiaca", "frequenza cardiaca", "hartslag"},
	speedColumn:    {"speed", "enhanced speed", "velocity", "geschwindigkeit"},
	powerColumn:    {"power", "watts", "leistung"},
	cadenceColumn:  {"cadence", "cad", "rpm"},
	distanceColumn: {"distance", "dist", "strecke"},
}

// has says whether a quantity has a column.
func (h *header) has(c int) bool { return h.columns[c].at >= 0 }

// cells takes the cells of the known columns out of a row, each "" where it is absent.
func (h *header) cells(row []string) (out [columns]string) {
	for i, c := range h.columns {
		if c.at >= 0 && c.at < len(row) {
			out[i] = row[c.at]
		}
	}
	return out
}

// value reads a cell as a number, NaN when it is absent or none. A unit behind the number is
// allowed; the decimal sign may be a comma where the comma does not delimit.
func (h *header) value(cell string) float64 { return decimal(cell, h.delimiter != ',') }

// units gives the factor to the base unit (s, m, m/s, W, per minute).
var units = map[string]float64{
	"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, "ms": 0.001, "millis": 0.001, "milliseconds": 0.001, "min": 60, "minutes": 60,
	"m": 1, "meter": 1, "meters": 1, "metres": 1, "km": 1000, "mi": 1609.344, "miles": 1609.344,
	"m/s": 1, "mps": 1, "km/h": 1 / 3.6, "kmh": 1 / 3.6, "kph": 1 / 3.6, "mph": 0.44704,
	"w": 1, "watt": 1, "watts": 1, "bpm": 1, "beats/min": 1, "1/min": 1, "rpm": 1, "spm": 1,
}

func knownUnit(s string) bool { _, ok := units[s]; return ok }

// scale is the factor to the base unit; without a known unit the base unit is assumed.
func (c column) scale() float64 {
	if f, ok := units[c.unit]; ok {
		return f
	}
	return 1
}

func newHeader(cells []string, delimiter rune) *header {
	h := &header{delimiter: delimiter}
	names, unit := make([]string, len(cells)), make([]string, len(cells))
	for i, c := range cells {
		names[i], unit[i] = splitName(c)
	}
	for i, wanted := range columnNames {
		h.columns[i].at = -1
		for _, w := range slices.Backward(wanted) {
			if at := slices.Index(names, w); at >= 0 {
				h.columns[i] = column{at, unit[at]}
			}
		}
	}
	h.dump = len(names) > 3 && names[0] == "type" && names[1] == "local number" && names[2] == "message"
	return h
}

// splitName brings a column's name to lower case, plain blanks and no unit: " Heart Rate [bpm]",
// "heart_rate" and "HeartRate(bpm)" are all "heart rate" or "heartrate".
func splitName(cell string) (name, unit string) {
	name = strings.ToLower(strings.TrimSpace(cell))
	if i := strings.IndexAny(name, "[("); i >= 0 {
		unit = strings.Trim(name[i:], "[]() \t")
		name = name[:i]
	}
	name = strings.Join(strings.FieldsFunc(name, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '/'
	}), " ")
	name = strings.TrimPrefix(name, "record ")
	if unit == "" {
		if i := strings.LastIndexByte(name, ' '); i >= 0 && knownUnit(name[i+1:]) {
			name, unit = name[:i], name[i+1:]
		}
	}
	switch name {
	case "s", "sec", "secs":
		name, unit = "seconds", "s"
	case "ms", "millis", "milliseconds":
		name, unit = "seconds", "ms"
	}
	return name, unit
}

// unitOf is what a cell says when it is a unit, with or without brackets.
func unitOf(cell string) string {
	return strings.ToLower(strings.Trim(strings.TrimSpace(cell), "[]()"))
}

// isUnits says whether a row under the header names units instead of values.
func (h *header) isUnits(row []string) bool {
	found := false
	for _, c := range row {
		c = unitOf(c)
		switch {
		case knownUnit(c):
			found = true
		case strings.ContainsAny(c, "0123456789"):
			return false
		}
	}
	return found && math.IsNaN(h.value(h.cells(row)[heartRateColumn]))
}

func (h *header) takeUnits(row []string) {
	for i, cell := range h.cells(row) {
		if c := &h.columns[i]; i != dateColumn && c.unit == "" {
			c.unit = unitOf(cell)
		}
	}
}
