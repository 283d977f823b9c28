package answers

import "testing"

// wantWritten holds what is read of messages.
func wantWritten(t *testing.T, cases map[string]string) {
	t.Helper()
	for text, want := range cases {
		if got := written(Parse(text, week)); got != want {
			t.Errorf("%q\n got %s\nwant %s", text, got, want)
		}
	}
}

func TestCannotSay(t *testing.T) {
	wantWritten(t, map[string]string{
		"Mon 12, so I cannot say about the talking, 4": "Mon effort 12/20 enjoy 4 (cannot say about the talking) | ?cannot say about the talking",
		"Mon 12, talking I couldn't say, 4":            "Mon effort 12/20 enjoy 4 (talking I couldn't) | ?talking I couldn't",
		"Mon 12, couldn't say a word, 4":               "Mon effort 12/20 talk no enjoy 4",
		"Mon 12, couldn't say a full sentence, 4":      "Mon effort 12/20 talk hard enjoy 4",
	})
}

func TestNumberMisheard(t *testing.T) {
	wantWritten(t, map[string]string{
		"Mon 12, enjoyed it for out of five":         "Mon effort 12/20 (enjoyed it; out of five) | ?enjoyed it | ?out of five",
		"Mon effort for out of ten":                  "Mon (out of ten) | ?out of ten",
		"Mon twelve out of twenty, four out of five": "Mon effort 12/20 enjoy 4",
	})
}

func TestSatMayBeAVerb(t *testing.T) {
	wantWritten(t, map[string]string{
		"Wed 15 hard 1, sat for ages after":          "Wed effort 15/20 talk hard enjoy 1 (sat for ages after) | -sat for ages after",
		"Wed 15 hard 1. Sat at the gym, 13, easy, 3": "Wed effort 15/20 talk hard enjoy 1 | Sun (Sat at the gym; 13, easy, 3) | ?Sat at the gym | ?13, easy, 3",
		"Wed dizzy, sat at the window. 15 hard 1":    "Wed [dizzy] | Sun (sat at the window; 15 hard 1) | ?sat at the window | ?15 hard 1",
		"Wed 15 hard 1, sat at 7am 12 easy 4":        "Wed effort 15/20 talk hard enjoy 1 | Sat effort 12/20 talk comfortable enjoy 4 (7am)",
		"Wed 15 hard 1 sat on my own 12":             "Wed effort 15/20 talk hard enjoy 1 | Sat effort 12/20 (on my own) | -on my own",
	})
}

func TestTakenBack(t *testing.T) {
	for _, words := range []string{
		"wait no swap them", "other way round sorry", "I got them mixed up, vice versa", "scrap that, wrong week",
		"actually forget all that", "sorry that was my brother's", "wait that was wed",
	} {
		r := Parse("mon 12 easy 4\n"+words, week)
		if got := factsOf(r.Notes); len(got) > 0 || r.Whole() {
			t.Errorf("%q: %s", words, written(r))
		}
	}
	for _, words := range []string{"switched to the bike", "walked the other way round the lake", "wrong shoes", "I forgot it was hilly", "sorry, wed 13 easy 4"} {
		if r := Parse("mon 12 easy 4\n"+words, week); len(factsOf(r.Notes)) < 3 {
			t.Errorf("%q: %s", words, written(r))
		}
	}
}

func TestDayBetweenAnswers(t *testing.T) {
	both := "Mon effort 13/20 talk comfortable enjoy 4 | Wed effort 14/20 talk hard enjoy 3"
	wantWritten(t, map[string]string{
		"mon 13, easy, 4 wed 14, hard, 3":                                   both,
		"mon 13. easy. 4 wed 14. hard. 3":                                   both,
		"mon: effort 13, talk easy, fun 4 wed: effort 14, talk hard, fun 3": both,
		"mon 13, easy, 4 on wed 14, hard, 3":                                both,
		"mon 13, easy, 4 then wed was a 14, hard, 3":                        both,
		"mon 13, easy, 4 wed 12... no wait 14, hard, 3":                     "Mon effort 13/20 talk comfortable enjoy 4 | Wed effort 14/20 talk hard enjoy 3 (12)",
		"mon 12, talking easy wed 13, talking hard":                         "Mon effort 12/20 talk comfortable | Wed effort 13/20 talk hard",
		"mon 12 easy 4, 13 wed easy 3, 14 sat hard 2":                       "Mon effort 12/20 talk comfortable enjoy 4 | Wed effort 13/20 talk comfortable enjoy 3 | Sat effort 14/20 talk hard enjoy 2",
		"mon 12, 13 wed, 14 sat":                                            "Mon effort 12/20 | Wed effort 13/20 | Sat effort 14/20",
		// the day may belong to either side
		"mon easy, 13 wed easy, 14 sat hard":        "Mon (easy) | Sun (13 wed easy; 14 sat hard) | ?easy | ?13 wed easy | ?14 sat hard",
		"mon fun 4, effort 13 wed fun 3, effort 14": "Mon enjoy 4 | Sun (effort 13 wed fun 3; effort 14) | ?effort 13 wed fun 3 | ?effort 14",
		"13, easy, 4 mon 14, hard, 3 wed":           "Wed (3) | Sun (13, easy; 4 mon 14; hard) | ?13, easy | ?4 mon 14 | ?hard | ?3",
		"mon 13, easy, 4 wed nothing sat 14":        "Mon effort 13/20 (easy) | Sun (4 wed nothing sat 14) | ?easy | ?4 wed nothing sat 14",
	})
}
