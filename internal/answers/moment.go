package answers

import (
	"regexp"
	"strconv"
	"time"
)

// inMinutes and atClock are how people write a moment of a session. "After 12 minutes" is none: what passed after 12
// minutes began before.
var (
	inMinutes = regexp.MustCompile(`(?i)\bminute (\d{1,3})\b|\b(\d{1,3}) ?min(?:utes?|s)? in(?:to)?\b`)
	atClock   = regexp.MustCompile(`\b([01]?\d|2[0-3]):([0-5]\d)\b`)
)

// Moment is the second of a session of a length in seconds that the client's words name; ok is false for none.
func Moment(words string, start time.Time, seconds int) (at int, ok bool) {
	if m := inMinutes.FindStringSubmatch(words); m != nil {
		n, _ := strconv.Atoi(m[1] + m[2])
		return 60 * n, 60*n < seconds
	}
	if m := atClock.FindStringSubmatch(words); m != nil && !start.IsZero() {
		h, _ := strconv.Atoi(m[1])
		n, _ := strconv.Atoi(m[2])
		at = int(time.Date(start.Year(), start.Month(), start.Day(), h, n, 0, 0, start.Location()).Sub(start).Seconds())
		return at, at >= 0 && at < seconds
	}
	return 0, false
}
