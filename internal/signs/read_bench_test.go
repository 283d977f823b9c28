package signs_test

import (
	"strings"
	"testing"

	"nextrung/internal/signs"
)

// sixty is a note of 60 words, some of them of signs.
var sixty = strings.Join(strings.Fields(`good week all in all did the walk along the harbour with all of the crew then the stairs on thursday bit windy
	the strap kept slipping so ignore the first ten minutes after that my chest felt a little tight on the hill then it went off and my heart was steady in the evening and I slept well`), " ")

func BenchmarkRead(b *testing.B) {
	if n := len(strings.Fields(sixty)); n != 60 {
		b.Fatalf("%d words", n)
	}
	for b.Loop() {
		signs.Read(sixty)
	}
}
