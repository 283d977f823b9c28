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
	// YYYY-MM-DDThh:mm:ss
	if len(s) < 19 || s[4] != '-' || s[7] != '-' || s[10] != 'T' && s[10] != 't' && s[10] != ' ' || s[13] != ':' || s[16] != ':' {
		return 0, false, false
	}
	y, ok1 := digits(s[:4])
	mo, ok2 := digits(s[5:7])
	d, ok3 := digits(s[8:10])
	h, ok4 := digits(s[11:13])
	mi, ok5 := digits(s[14:16])
	sec, ok6 := digits(s[17:19])
	if !(ok1 && ok2 && ok3 && ok4 && ok5 && ok6) || mo < 1 || mo > 12 || d < 1 || d > 31 || h > 24 || mi > 59 || sec > 60 {
		return 0, false, false
	}
	t = float64(daysSince1970(y, mo, d)*86400 + h*3600 + mi*60 + sec)
	rest := s[19:]
	if rest != "" && (rest[0] == '.' || rest[0] == ',') {
		n := 1
		for n < len(rest) && rest[n] >= '0' && rest[n] <= '9' {
			n++
		}
		frac, err := strconv.ParseFloat("0."+rest[1:n]+"0", 64)
		if err != nil {
			return 0, false, false
		}
		t, rest = t+frac, rest[n:]
	}
	offset, zoned, ok := zone(strings.TrimSpace(rest))
	return t - float64(offset), zoned, ok
}

// zone reads an offset from UTC in seconds; the empty text is UTC, but no zone.
func zone(s string) (offset int, zoned, ok bool) {
	switch s {
	case "":
		return 0, false, true
	case "Z", "z", "UTC", "GMT":
		return 0, true, true
	}
	sign := 1
	switch s[0] {
	case '+':
	case '-':
		sign = -1
	default:
		return 0, false, false
	}
	s = strings.Replace(s[1:], ":", "", 1)
	if len(s) == 2 {
		s += "00"
	}
	if len(s) != 4 {
		return 0, false, false
	}
	h, ok1 := digits(s[:2])
	m, ok2 := digits(s[2:])
	return sign * (h*3600 + m*60), true, ok1 && ok2 && h <= 14 && m <= 59
}

func digits(s string) (int, bool) {
	n := 0
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return n, len(s) > 0
}

// daysSince1970 counts civil days. time.Date normalises the 31st of a short month to the next.
func daysSince1970(y, m, d int) int {
	return int(time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
