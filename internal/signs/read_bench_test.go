package signs_test

import (
	"strings"
	"testing"

	"nextrung/internal/signs"
)

// sixty is a note of 60 words, some of them of signs.
var sixty = strings.Join(strings.Fields(`good week all in all did the walk along the harbour with the crew then the stairs on thursday bit windy
	the strap kept slipping so ignore the first ten minutes after that my chest felt a little tight on the hill and I was out of breath at the top
	legs heavy on friday but my heart was steady and I slept well after it`), " ")

func BenchmarkRead(b *testing.B) {
	if n := len(strings.Fields(sixty)); n < 60 {
		b.Fatalf("%d words", n)
	}
	for b.Loop() {
		signs.Read(sixty)
	}
}
