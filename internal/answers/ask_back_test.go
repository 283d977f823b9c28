package answers

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/signs"
)

// Each question says what it is about, which words are unclear and what they may mean, so that it can be
// answered by choosing.
func TestQuestionsCanBeAnsweredByChoosing(t *testing.T) {
	for _, c := range []struct {
		text, token string
		about       About
		choices     []string
	}{
		{"Mon 12-13, easy, 4", "12-13", AboutEffort, []string{"Mon effort 12/20", "Mon effort 13/20"}},
		{"12 easy 4", "12 easy 4", AboutDay, []string{"Mon effort 12/20 talk comfortable enjoy 4", "Wed effort 12/20 talk comfortable enjoy 4", "Sat effort 12/20 talk comfortable enjoy 4"}},
		{"Mon 12, could talk, 4", "could talk", AboutTalk, []string{"Mon talk comfortable", "Mon talk hard", "Mon talk no"}},
		{"Mon 12 easy", "easy", AboutTalk, []string{"Mon talk comfortable", "Mon talk hard", "Mon talk no"}},
		{"Mon 4", "4", "", []string{"Mon effort 4/10", "Mon enjoy 4"}},
		{"Mon 12, Mon 14", "12", AboutEffort, []string{"Mon effort 12/20", "Mon effort 14/20"}},
		{"Mon loved it", "loved it", AboutEnjoyment, nil},
	} {
		i := slices.IndexFunc(Parse(c.text, week).Pieces, func(x Piece) bool { return x.Kind == Question })
		if i < 0 {
			t.Errorf("%q: nothing is asked", c.text)
			continue
		}
		x := Parse(c.text, week).Pieces[i]
		var choices []string
		for _, n := range x.Choices {
			choices = append(choices, short(n))
		}
		if x.Text != c.token || x.About != c.about || !slices.Equal(choices, c.choices) {
			t.Errorf("%q asks about %q of %q: %q", c.text, x.About, x.Text, choices)
		}
	}
}

// A number in letters is the whole word, not the one with which it begins.
func TestNumbersInLetters(t *testing.T) {
	for i, word := range strings.Fields("six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty") {
		for _, form := range []string{"Mon %s", "Mon effort %s", "Mon a %s, ok", "Mon %s out of twenty"} {
			reads(t, strings.Replace(form, "%s", word, 1), "Mon effort "+strconv.Itoa(i+6)+"/20")
		}
	}
	for text, want := range map[string]string{
		"Mon twelve to sixteen, easy": "Mon (twelve to sixteen; easy) | ?twelve to sixteen | ?easy",
		"Mon 12, five out of five":    "Mon effort 12/20 enjoy 5",
		"Mon twenty-one":              "Mon (twenty-one) | ?twenty-one",
	} {
		reads(t, text, want)
	}
}

// What is skipped or changes no answer is no word that means a sign by itself.
func TestNoSkippedWordIsASign(t *testing.T) {
	for _, skipped := range []map[string]bool{fillers, opinions, breaks, leading, articles} {
		for w := range skipped {
			for _, m := range signs.Read(w) {
				t.Errorf("%q is skipped and means %s%s", w, m.Sign, m.Topic)
			}
		}
	}
}

// An answer that comes before its recording waits in a note, and belongs to the session once it is there.
func TestAnswersWaitForTheirSession(t *testing.T) {
	early := with(func(s *Setting) { s.Sessions = nil })
	r := Parse("Mon 12 easy 4", early)
	if got := written(r); got != "Mon effort 12/20 talk comfortable enjoy 4" {
		t.Fatal(got)
	}
	b := book(func(r *record.Record) { r.Reports = r.Reports[:1] })
	n := r.Notes[0]
	n.Entered = n.Date
	b.Notes = append(b.Notes, n)
	if s := b.Sessions()[0]; s.RPE == nil || s.RPE.Value != 12 || s.Talk != record.TalkComfortable || s.Enjoyment != 4 {
		t.Errorf("the session has %+v", s)
	}
	for _, n := range Parse("28 Sep 12 easy 4", Setting{On: sunday + 14, Scale: 20}).Notes {
		if ofSession(n) {
			t.Errorf("an answer about a day of weeks ago without a session is entered: %+v", n)
		}
	}
}
