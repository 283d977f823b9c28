package reasons_test

import (
	"testing"

	"nextrung/internal/reasons"
	"nextrung/internal/record"
)

func TestEverythingThatDoesNotCountHasItsSentence(t *testing.T) {
	for _, why := range []record.Uncounted{record.TooShort, record.WalkNotTrained, record.LongRests, record.EffortNeeded, record.TooLight} {
		if reasons.NotCounted(why) == "" {
			t.Errorf("%s has no sentence", why)
		}
	}
	if got := reasons.NotCounted(""); got != "" {
		t.Errorf("what counts is said not to: %q", got)
	}
}
