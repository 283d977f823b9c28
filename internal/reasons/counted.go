package reasons

import (
	"fmt"

	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// uncounted says, for each reason, why something that was done does not count, and what would change it.
var uncounted = map[record.Uncounted]string{
	record.TooShort:       fmt.Sprintf("shorter than %d min; in a weights session, only minutes in zone 1 and above count", policy.Shortest),
	record.WalkNotTrained: "walking is not one of this client's modes; add it if these walks are training",
	record.LongRests:      "heart rate was mostly below zone 1; weights with long rests are not cardio; a circuit is",
	record.EffortNeeded:   "weights without heart rate count once you enter how hard they felt",
	record.TooLight:       "below zone 1, and the client felt no effort",
}

// NotCounted says why something that was done does not count; "" if it does.
func NotCounted(why record.Uncounted) string { return uncounted[why] }
