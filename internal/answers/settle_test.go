package answers

import (
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// with gives the week other sessions or another scale.
func with(change func(*Setting)) Setting {
	s := week
	s.Sessions = append([]record.Session{}, week.Sessions...)
	change(&s)
	return s
}

func answered(s *record.Session, effort float64, talk record.Talk, fun int) {
	s.RPE = &workout.RPE{Value: effort, Scale: 20}
	s.Efforts = []workout.RPE{*s.RPE}
	s.Talk, s.Enjoyment = talk, fun
}

func TestWhatTheBookHolds(t *testing.T) {
	known := with(func(s *Setting) { answered(&s.Sessions[0], 12, record.TalkComfortable, 4) })
	oneOpen := with(func(s *Setting) {
		answered(&s.Sessions[0], 12, record.TalkComfortable, 4)
		answered(&s.Sessions[1], 13, record.TalkHard, 3)
	})
	late := with(func(s *Setting) { s.On, s.Sessions = sunday+1, s.Sessions[:2] }) // Monday's is a week ago
	sports := with(func(s *Setting) { s.Sessions[0].Mode, s.Sessions[1].Mode = workout.Run, workout.Bike })
	only := with(func(s *Setting) { s.Sessions = s.Sessions[2:] })
	none := with(func(s *Setting) { s.Sessions = nil })
	ten := with(func(s *Setting) { s.Scale = 10 })
	twoOfADay := with(func(s *Setting) {
		s.Sessions = append(s.Sessions, record.Session{Date: sunday - 1, Minutes: 20})
	})
	today := with(func(s *Setting) { s.Sessions = append(s.Sessions, record.Session{Date: sunday, Minutes: 36}) })
	both := with(func(s *Setting) {
		s.Sessions = append(s.Sessions, record.Session{Date: sunday - 7, Minutes: 36}, record.Session{Date: sunday, Minutes: 36})
	})
	twelfth := Setting{On: workout.MustDate("2026-10-14"), Scale: 20, Sessions: []record.Session{{Date: workout.MustDate("2026-10-12")}}}
	fifth := Setting{On: workout.MustDate("2026-10-07"), Scale: 10, Sessions: []record.Session{{Date: workout.MustDate("2026-10-05")}}}
	for _, c := range []struct {
		name, text string
		in         Setting
		want       string
	}{
		{"the same answer again", "Mon 12 easy 4", known, ""},
		{"another answer", "Mon 14", known, "Mon (14) | ?14"},
		{"another talk", "Mon talking hard", known, "Mon (talking hard) | ?talking hard"},
		{"a word beside what is known", "Mon easy", known, "Mon (easy)"},
		{"without a day, one session open", "12 easy 4", oneOpen, "Sat effort 12/20 talk comfortable enjoy 4"},
		{"without a day, in pieces", "12, could chat the whole time, 4/5", oneOpen, "Sat effort 12/20 talk comfortable enjoy 4"},
		{"without a day, the only session", "RPE 12, no fan", only, "Sat effort 12/20 no fan"},
		{"without a day, one of two sessions a week ago", "12 was fine, easy talk", late, "Mon (12; was fine; easy talk) | ?12 | ?easy talk"},
		{"by their sport", "run 12 easy 4. bike 13 hard 3", sports, "Mon effort 12/20 talk comfortable enjoy 4 | Wed effort 13/20 talk hard enjoy 3"},
		{"a sport that is no session", "the bike seat hurts. 12 easy 4", sports, "Sun (the bike seat hurts; 12 easy 4) | -the bike seat hurts | ?12 easy 4"},
		{"halves of a session", "the first half was 12, the second 15", sports, "Sun (the first half was 12; the second 15) | ?the first half was 12 | ?the second 15"},
		{"without a session", "12 easy 4", none, "Sun (12 easy 4) | ?12 easy 4"},
		{"a sign needs no session", "fever on Tue", none, "Tue [fever]"},
		{"two sessions of a day are one answer", "Sat 12", twoOfADay, "Sat effort 12/20"},
		{"the 0-10 scale", "Mon 4 easy 4", ten, "Mon effort 4/10 talk comfortable enjoy 4"},
		{"the 0-10 scale, bare", "Mon 4", ten, "Mon effort 4/10"},
		{"the 0-10 scale has no 12", "Mon 12", ten, "Mon (12) | ?12"},
		{"unless it is named", "Mon 12/20", ten, "Mon effort 12/20"},
		{"the second small number", "Mon 4 4", ten, "Mon effort 4/10 enjoy 4"},
		{"two efforts on the 0-10 scale", "Mon 3, Mon 5", ten, "Mon (3; 5) | ?3 | ?5"},
		{"word and number on the 0-10 scale", "Mon 2 very hard", ten, "Mon (2 very hard) | ?2 very hard"},
		{"Monday the 12th", "Mon 12", twelfth, "Mon (12) | ?12"},
		{"Monday the 12th, in the form", "Mon 12 easy 4", twelfth, "Mon effort 12/20 talk comfortable enjoy 4"},
		{"Monday the 12th with its effort", "Mon 12 13 easy 4", twelfth, "Mon effort 13/20 talk comfortable enjoy 4"},
		{"Monday the 12th, set off", "Mon 12: 13", twelfth, "Mon effort 13/20"},
		{"Monday, set off from its effort", "Mon: 12", twelfth, "Mon effort 12/20"},
		{"Monday 12 October", "Mon 12 Oct 13", twelfth, "Mon effort 13/20"},
		{"Monday the 5th on the 0-10 scale", "Mon 5 easy 4", fifth, "Mon effort 5/10 talk comfortable enjoy 4"},
		{"Monday the 5th with its effort", "Mon 5 4 easy 3", fifth, "Mon effort 4/10 talk comfortable enjoy 3"},
		{"today's weekday", "Sun 12", today, "Sun effort 12/20"},
		{"today's weekday, a week ago open too", "Sun 12 easy 4", both, "Sun (Sun 12 easy 4) | ?Sun 12 easy 4"},
		{"today with its date", "Sun 4 Oct, 36 min: 12 easy 4", both, "Sun effort 12/20 talk comfortable enjoy 4"},
		{"today by its own word", "today 12", both, "Sun effort 12/20"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := written(Parse(c.text, c.in)); got != c.want {
				t.Errorf("%q\n got %s\nwant %s", c.text, got, c.want)
			}
		})
	}
}

// The anchors of the 6-20 scale as published: Borg, Perceived Exertion and Pain Scales, 1998; those
// of the 0-10 scale for whole sessions: Foster et al. 2001, J Strength Cond Res 15:109 (both from
// memory).
func TestAnchorsArePublished(t *testing.T) {
	for word, value := range map[string]float64{
		"no exertion at all": 6, "extremely light": 7.5, "very light": 9, "light": 11, "somewhat hard": 13, "hard": 15, "very hard": 17,
		"extremely hard": 19, "maximal exertion": 20,
	} {
		if got, ok := scaleUpTo(20).anchorOf(word); !ok || got != value {
			t.Errorf("%q stands beside %g (%v) on 6-20, published %g", word, got, ok, value)
		}
		if scaleUpTo(20).contradicts(word, value) {
			t.Errorf("%q contradicts its own number", word)
		}
	}
	for word, value := range map[string]float64{
		"rest": 0, "very, very easy": 1, "easy": 2, "moderate": 3, "somewhat hard": 4, "hard": 5, "very hard": 7, "maximal": 10,
	} {
		if got, ok := scaleUpTo(10).anchorOf(word); !ok || got != value {
			t.Errorf("%q stands beside %g (%v) on 0-10, published %g", word, got, ok, value)
		}
	}
	if scaleUpTo(20).contradicts("very hard", 14) || !scaleUpTo(20).contradicts("very hard", 13.5) || !scaleUpTo(20).contradicts("light", 15) {
		t.Error("a word and a number contradict each other when they are more than 3 apart")
	}
	if scaleUpTo(10).contradicts("very hard", 5) || !scaleUpTo(10).contradicts("very hard", 4) {
		t.Error("on the 0-10 scale they do when they are more than 2 apart")
	}
	for word := range map[string]bool{"very hard": true, "easy": true, "maximal": true} {
		for _, n := range Parse("Mon "+word, week).Notes {
			if n.RPE != nil {
				t.Errorf("%q became the number %g", word, n.RPE.Value)
			}
		}
	}
}

func TestGraveFirst(t *testing.T) {
	r := Parse("palpitations\nfelt dizy\nno chest pain\nfainted on Mon\nslept badly", week)
	var got []string
	for _, g := range r.Grave() {
		got = append(got, g.Text)
	}
	if len(got) != 3 || got[0] != "fainted" || got[1] != "palpitations" || got[2] != "felt dizy" {
		t.Errorf("grave: %q, want fainting first, then palpitations and the typing error, no denied sign", got)
	}
}
