package answers

import (
	"regexp"
	"strings"
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// book is Avelin's book on the Sunday: walks indoors on Monday, Wednesday and Saturday.
func book(change func(*record.Record)) record.Record {
	r := record.Record{Client: record.Client{Name: "Avelin", Modes: []workout.Mode{workout.Walk}}}
	for _, d := range []workout.Date{sunday - 6, sunday - 4, sunday - 1} {
		r.Reports = append(r.Reports, record.Report{Date: d, Entered: d, Minutes: 36, Sport: workout.Walking})
	}
	if change != nil {
		change(&r)
	}
	return r
}

func TestAskNamesWhatIsOpen(t *testing.T) {
	noted := func(n record.Note) func(*record.Record) {
		n.Entered = n.Date
		return func(r *record.Record) { r.Notes = append(r.Notes, n) }
	}
	rpe := func(v float64, scale int) *workout.RPE { return &workout.RPE{Value: v, Scale: scale} }
	for _, c := range []struct {
		name      string
		change    func(*record.Record)
		with, not []string
	}{
		{"all open", nil, []string{"Mon 28 Sep, walk, 36 min\nWed 30 Sep, walk, 36 min\nSat 3 Oct, walk, 36 min\n", effortLine, talkLine, enjoyLine, "Mon 12 easy 4"}, []string{pulseLine, effortLine0}},
		{"one answered", noted(record.Note{Date: sunday - 6, RPE: rpe(12, 20), Talk: record.TalkHard, Enjoyment: 3}), []string{openLine + "\nWed 30 Sep"}, []string{"Mon 28 Sep, walk"}},
		{"partly answered", noted(record.Note{Date: sunday - 4, RPE: rpe(12, 20), Talk: record.TalkHard}), []string{"Wed 30 Sep, walk, 36 min (enjoyment)"}, nil},
		{"all but talking", func(r *record.Record) {
			for _, d := range []workout.Date{sunday - 6, sunday - 4, sunday - 1} {
				noted(record.Note{Date: d, RPE: rpe(12, 20), Enjoyment: 4})(r)
			}
		}, []string{talkLine, "(talking)"}, []string{effortLine, enjoyLine}},
		{"the scale used last", noted(record.Note{Date: sunday - 20, RPE: rpe(4, 10)}), []string{effortLine0, "Mon 3 easy 4"}, []string{effortLine}},
		{"mornings measured", noted(record.Note{Date: sunday - 5, HRRest: 58}), []string{pulseLine}, nil},
		{"mornings long ago", noted(record.Note{Date: sunday - 40, HRRest: 58}), nil, []string{pulseLine}},
		{"no session", func(r *record.Record) { r.Reports = nil }, []string{noneLine}, []string{openLine, effortLine}},
		{"answers without files", func(r *record.Record) {
			r.Reports = nil
			noted(record.Note{Date: sunday - 4, RPE: rpe(12, 20), Talk: record.TalkComfortable})(r)
		}, []string{filesLine}, []string{noneLine, allLine, openLine}},
		{"everything known", func(r *record.Record) {
			for _, d := range []workout.Date{sunday - 6, sunday - 4, sunday - 1} {
				noted(record.Note{Date: d, RPE: rpe(12, 20), Talk: record.TalkComfortable, Enjoyment: 4})(r)
			}
		}, []string{allLine}, []string{openLine, "For example"}},
		{"a grave sign on record", noted(record.Note{Date: sunday - 2, Symptoms: []signs.Sign{signs.Dizzy}}), []string{referLine}, nil},
		{"advice not to train", noted(record.Note{Date: sunday - 2, Symptoms: []signs.Sign{signs.ToldNotToTrain}}), []string{
			"Don't train until the doctor who advised against it agrees.\n" + signs.AfterReferral}, []string{referLine}},
		{"advice not to train, and a symptom", noted(record.Note{Date: sunday - 2, Symptoms: []signs.Sign{signs.ToldNotToTrain, signs.Dizzy}}), []string{referLine}, nil},
		{"a milder sign on record", noted(record.Note{Date: sunday - 2, Symptoms: []signs.Sign{signs.Sore}}), nil, []string{referLine}},
		{"a sign of the screening", func(r *record.Record) {
			r.Client.Screening = record.Screening{On: sunday - 30, Signs: []signs.Sign{signs.Chest}}
		}, []string{referLine}, nil},
		{"a sign that a doctor has cleared", func(r *record.Record) {
			noted(record.Note{Date: sunday - 9, Symptoms: []signs.Sign{signs.Chest}})(r)
			r.Client.Clearance = sunday - 8
		}, nil, []string{referLine}},
		{"what came in later", noted(record.Note{Date: sunday + 1, RPE: rpe(12, 10)}), []string{effortLine}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Ask(book(c.change), sunday)
			for _, part := range append(append(c.with, bodyLine), signs.StopShort()...) {
				if !strings.Contains(got, part) {
					t.Errorf("%q is missing in:\n%s", part, got)
				}
			}
			for _, part := range c.not {
				if strings.Contains(got, part) {
					t.Errorf("%q is in:\n%s", part, got)
				}
			}
		})
	}
}

// Indoors the message asks about the fan, outdoors about the heat.
func TestAskAboutHeat(t *testing.T) {
	in := func(place workout.Place, note record.Note) string {
		missing := []open{{session: record.Session{Date: sunday, Place: place, NoFan: note.NoFan, HeatC: note.HeatC}, effort: true}}
		return strings.Join(questions(missing, 20), "\n")
	}
	warm := 27.0
	for _, c := range []struct {
		place workout.Place
		note  record.Note
		want  string
	}{
		{workout.Indoor, record.Note{}, fanLine},
		{workout.Outdoor, record.Note{}, heatLine},
		{workout.AnyPlace, record.Note{}, heatLine},
		{workout.Indoor, record.Note{NoFan: true}, effortLine},
		{workout.Indoor, record.Note{HeatC: &warm}, effortLine},
	} {
		if got := in(c.place, c.note); !strings.HasSuffix(got, c.want) {
			t.Errorf("%s %+v: %q, want %q last", c.place, c.note, got, c.want)
		}
	}
}

// The example is read as exactly what it shows, on every day of two years and on both scales, about
// a session of today or of another day.
func TestExampleIsRead(t *testing.T) {
	for on := sunday - 366; on < sunday+366; on++ {
		for scale, want := range map[int][2]float64{20: {12, 13}, 10: {3, 4}} {
			for _, back := range []workout.Date{0, 2, 6} {
				asked := open{session: record.Session{Date: on - back, Minutes: 30}}
				s := Setting{On: on, Scale: scale, Sessions: []record.Session{{Date: on - 7, Minutes: 30}, asked.session}}
				text := strings.TrimPrefix(exampleFor([]open{asked}, on, scale), "For example: ")
				r := Parse(text, s)
				if len(r.Notes) != 1 || !r.Whole() {
					t.Fatalf("%s: %q is read as %s", on, text, written(r))
				}
				n := r.Notes[0]
				if n.Date != on-back || n.RPE == nil || n.RPE.Value != want[0] && n.RPE.Value != want[1] || n.RPE.Scale != scale || n.Talk != record.TalkComfortable || n.Enjoyment != 4 || n.Text != "" {
					t.Fatalf("%s: %q is read as %s", on, text, written(r))
				}
			}
		}
	}
}

// The message itself, sent back or quoted, enters nothing and asks nothing; filled in, it is read.
func TestTheMessageItselfIsNoAnswer(t *testing.T) {
	for _, r := range []record.Record{book(nil), book(func(r *record.Record) { r.Reports = nil }), book(func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: sunday - 1, Entered: sunday - 1, HRRest: 58, RPE: &workout.RPE{Value: 4, Scale: 10}, Enjoyment: 3})
	}), book(func(r *record.Record) {
		r.Notes = append(r.Notes, suspicious("n1", "saw stars, then my heart was all over the place"), record.Note{Date: sunday - 2, Entered: sunday - 2, Symptoms: []signs.Sign{signs.Chest}})
	})} {
		s := Setting{On: sunday, Scale: ScaleOf(r), Client: "Avelin", Sessions: r.Sessions()}
		s.Open = r.Unanswered()
		message := Ask(r, sunday)
		for _, text := range []string{message, "> " + strings.ReplaceAll(message, "\n", "\n> ")} {
			if got := Parse(text, s); len(got.Notes) != 0 || !got.Whole() {
				t.Errorf("the message is read as %s:\n%s", written(got), text)
			}
		}
	}
	filled := strings.ReplaceAll(Ask(book(nil), sunday), "walk, 36 min", "walk, 36 min: 12 easy 4")
	want := "Mon effort 12/20 talk comfortable enjoy 4 | Wed effort 12/20 talk comfortable enjoy 4 | Sat effort 12/20 talk comfortable enjoy 4"
	if got := written(Parse(filled, Setting{On: sunday, Scale: 20, Client: "Avelin", Sessions: book(nil).Sessions()})); got != want {
		t.Errorf("filled in it is read as %s", got)
	}
}

// suspicious is a note of the Friday as it is read when it is entered.
func suspicious(id, text string) record.Note {
	return record.Note{ID: id, Date: sunday - 2, Entered: sunday - 2, Text: text}.Read()
}

// What may be an emergency comes before the greeting: what to do, and what is wrong in the client's
// own words, then the stop signs, and no weaker line beside a stronger one.
func TestAskPutsSafetyFirst(t *testing.T) {
	stop := strings.Join(signs.StopShort(), "\n") + "\n"
	hello := greeting("Avelin", sunday)
	chest := record.Note{Date: sunday - 3, Entered: sunday - 3, Symptoms: []signs.Sign{signs.Chest}}
	older := "Call emergency help now if the symptom is still there or comes back; otherwise see a doctor today.\n"
	stars, calm := suspicious("n1", "saw stars\non the  ladder"), record.Note{Date: sunday - 2, Entered: sunday - 1, NoSign: true}
	asked := "Please answer this first:\nOn Fri 2 Oct you wrote “saw stars on the ladder”. Did you faint or nearly faint?\n"
	for _, c := range []struct {
		name  string
		notes []record.Note
		want  string
	}{
		{"nothing wrong", nil, hello + "\n\n" + stop},
		{"nothing grave", []record.Note{suspicious("n1", "covid last week")}, hello + "\n\n" + stop},
		{"a question", []record.Note{stars}, asked + waitLine + "\n\n" + stop + "\n" + hello},
		{"a question that was answered", []record.Note{stars, calm}, hello + "\n\n" + stop},
		{"a grave sign of days ago", []record.Note{chest}, older + referLine + "\n" + signs.AfterReferral + "\n\n" + stop + "\n" + hello},
		{"a grave sign of today", []record.Note{{Date: sunday, Entered: sunday, Symptoms: chest.Symptoms}}, "Call emergency help now.\n" + referLine},
		{"a sign for a doctor", []record.Note{{Date: sunday, Entered: sunday, Symptoms: []signs.Sign{signs.Dizzy}}}, referLine + "\n"},
		{"a grave sign that was taken back", []record.Note{chest, {Date: chest.Date, Entered: sunday, NoSign: true}}, hello + "\n\n" + stop},
		{"both", []record.Note{chest, stars}, older + referLine + "\n" + signs.AfterReferral + "\n" + asked + "\n" + stop + "\n" + hello},
		{"two signs in one note, and a long one", []record.Note{suspicious("n1", "saw stars, then my heart was all over the place"+strings.Repeat(" again", 40))},
			"Please answer this first:\nOn Fri 2 Oct you wrote “saw stars, then my heart was all over the place"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Ask(book(func(r *record.Record) { r.Notes = c.notes }), sunday)
			if !strings.HasPrefix(got, c.want) {
				t.Errorf("begins\n%s\nwant\n%s", got[:min(len(got), len(c.want)+80)], c.want)
			}
		})
	}
}

// No jargon and no verdict reaches the client, and the message stays short.
func TestAskIsPlain(t *testing.T) {
	got := Ask(book(func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: sunday - 5, Entered: sunday - 5, HRRest: 58})
	}), sunday)
	if m := regexp.MustCompile(`(?i)\b(advance|hold|ease|step back|refer|assess\w*|verdict|stage|zone|RPE|bpm|drift|baseline|threshold)\b`).FindString(got); m != "" {
		t.Errorf("the message says %q:\n%s", m, got)
	}
	if words := len(strings.Fields(got)); words > 200 {
		t.Errorf("the message has %d words", words)
	}
}
