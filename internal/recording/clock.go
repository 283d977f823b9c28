package recording

import (
	"strconv"
	"strings"
	"time"
)

// stamp reads a point in time as XML writes it (XML Schema dateTime) and as exports vary it: a
// blank for the T, a comma in the fraction, no seconds fraction or up to nine digits, an offset
// with or without a colon, UTC or no zone at all, which is read as UTC. It gives Unix seconds.
func stamp(s string) (t float64, zoned, ok bool) {
	s = strings.TrimSpace(s)
	v, ok := civil(s)
	if !ok || v[1] < 1 || v[1] > 12 || v[2] < 1 || v[2] > 31 || v[3] > 24 || v[4] > 59 || v[5] > 60 {
		return 0, false, false
	}
	t = float64(daysSince1970(v[0], v[1], v[2])*86400 + v[3]*3600 + v[4]*60 + v[5])
	rest := s[len(civilForm):]
	if rest != "" && (rest[0] == '.' || rest[0] == ',') {
		after := strings.TrimLeft(rest[1:], "0123456789")
		fraction, err := strconv.ParseFloat("0."+rest[1:len(rest)-len(after)]+"0", 64)
		if err != nil {
			return 0, false, false
		}
		t, rest = t+fraction, after
	}
	offset, zoned, ok := zone(strings.TrimSpace(rest))
	return t - float64(offset), zoned, ok
}

const civilForm = "0000-00-00T00:00:00"

// civil reads year, month, day, hour, minute and second off the start of a text.
func civil(s string) (v [6]int, ok bool) {
	if len(s) < len(civilForm) {
		return v, false
	}
	field := 0
	for i, want := range []byte(civilForm) {
		switch c := s[i]; {
		case want == '0' && c >= '0' && c <= '9':
			v[field] = v[field]*10 + int(c-'0')
		case want != '0' && (c == want || want == 'T' && (c == 't' || c == ' ')):
			field++
		default:
			return v, false
		}
	}
	return v, true
}

// zone reads an offset from UTC in seconds; the empty text is UTC, but no zone.
func zone(s string) (offset int, zoned, ok bool) {
	switch s {
	case "":
		return 0, false, true
	case "Z", "z", "UTC", "GMT":
		return 0, true, true
	}
	for _, form := range []string{"-07:00", "-0700", "-07"} {
		if t, err := time.Parse(form, s); err == nil {
			_, offset = t.Zone()
			return offset, true, offset > -15*3600 && offset < 15*3600
		}
	}
	return 0, false, false
}

// digits reads a number without a sign.
func digits(s string) (int, bool) {
	n, err := strconv.ParseUint(s, 10, 63)
	return int(n), err == nil
}

// daysSince1970 counts civil days. time.Date normalises the 31st of a short month to the next.
func daysSince1970(y, m, d int) int {
	return int(time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
