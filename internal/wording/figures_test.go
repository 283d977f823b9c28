package wording_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"nextrung/internal/wording"
)

func TestFigures(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{wording.Number(0), "0"}, {wording.Number(-0.04), "0"}, {wording.Number(1.25), "1.3"}, {wording.Number(98.6), "98.6"},
		{wording.Number(19.96), "20"}, {wording.Number(-8.7), "−8.7"}, {wording.Number(150), "150"},
		{wording.Signed(1.2), "+1.2"}, {wording.Signed(-1.2), "−1.2"}, {wording.Signed(0), "+0"},
		{wording.Count(1, "session"), "1 session"}, {wording.Count(0, "session"), "0 sessions"}, {wording.Count(3, "session"), "3 sessions"},
		{wording.Plural(1, "is", "are"), "1 is"}, {wording.Plural(2, "is", "are"), "2 are"},
		{wording.List(nil), ""}, {wording.List([]string{"a"}), "a"}, {wording.List([]string{"a", "b", "c"}), "a, b and c"},
		{wording.Some(0, "answer"), "no answers"}, {wording.Some(1, "answer"), "1 answer"}, {wording.Some(2, "answer"), "2 answers"},
		{wording.Times(1), "once"}, {wording.Times(2), "twice"}, {wording.Times(0), "0 times"}, {wording.Times(3), "3 times"},
		{wording.Part(0, 0, "week"), "no week"}, {wording.Part(0, 1, "week"), "no week"}, {wording.Part(1, 1, "week"), "1 week"},
		{wording.Part(0, 4, "week"), "none of the 4 weeks"}, {wording.Part(1, 4, "week"), "1 of 4 weeks"}, {wording.Part(4, 4, "week"), "all 4 weeks"}, {wording.Part(2, 2, "week"), "both weeks"}, {wording.PartOfLast(2, 2, "bout"), "both of the last 2 bouts"},
		{wording.PartOfLast(0, 3, "bout"), "none of the last 3 bouts"}, {wording.PartOfLast(2, 3, "bout"), "2 of the last 3 bouts"},
		{wording.PartOfLast(3, 3, "bout"), "all of the last 3 bouts"}, {wording.PartOfLast(1, 1, "bout"), "1 bout"},
		{wording.Word(2), "two"}, {wording.Word(12), "12"}, {wording.Ordinal(2), "2nd"}, {wording.Ordinal(4), "4th"},
		{wording.Above(2.5), "2.5 bpm above"}, {wording.Above(-2), "2 bpm below"}, {wording.Above(-0.02), "level with"},
		{wording.Band(112.2, 136.9), "113–136"}, {wording.Band(95, 123), "95–123"}, {wording.Band(95+1e-12, 123-1e-12), "95–123"}, {wording.Band(123, 139.5), "123–139"}, {wording.Band(105, 105), "none"}, {wording.Band(112.2, 112.8), "none"},
		{wording.Ago(0), "today"}, {wording.Ago(1), "yesterday"}, {wording.Ago(5), "5 days ago"},
		{wording.Capital("“so”"), "“so”"}, {wording.Capital("élan"), "Élan"}, {wording.Capital(""), ""},
		{wording.Sentence("one more"), "One more."}, {wording.Sentence("Done."), "Done."}, {wording.Sentence(" "), ""},
		{wording.Clock(59), "0:59"}, {wording.Clock(3725), "1:02:05"},
		{wording.Quoted("Ines"), "Ines"}, {wording.Quoted("Ines II"), `"Ines II"`},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// TestWordsStayWhole: whatever comes in, no letter is cut, and a sentence has one end.
func TestWordsStayWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		if out := wording.Sentence(s); utf8.ValidString(s) && !utf8.ValidString(out) || strings.HasSuffix(out, "..") && !strings.HasSuffix(s, "..") {
			t.Errorf("%q becomes %q", s, out)
		}
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "value")
		if n := wording.Number(v); n == "-0" || n == "−0" || strings.HasSuffix(n, ".0") {
			t.Errorf("%v is written %q", v, n)
		}
	})
}
