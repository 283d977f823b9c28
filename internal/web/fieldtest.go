package web

import (
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/fieldtest"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// maxTest is the largest upload of a field test, in bytes.
const maxTest = 64 << 20

// fieldTestForm is one protocol: how it is done, and its form.
type fieldTestForm struct {
	form
	Cautions []string
	How      []string
	Barred   []string
	Beats    int // of the metronome in a minute; 0 for none
	Step     int // s on the bench
	Count    int // s of the count
}

// fieldTests are the protocols, the least demanding first.
func fieldTests(today workout.Date) []fieldTestForm {
	file := field{Name: "file", Label: "Or the recording", Kind: aFile, Help: "FIT, TCX, GPX or CSV. Whatever you leave empty above is read from it."}
	stage := func(n int) []field {
		return []field{
			{Name: fault.Field(fmt.Sprintf("bpm%d", n)), Label: fmt.Sprintf("Load %d: heart rate", n), Unit: "bpm", Kind: aNumber},
			{Name: fault.Field(fmt.Sprintf("said%d", n)), Label: "Talking was", Kind: oneOf, Choices: []option{
				{Value: string(record.TalkComfortable), Label: "comfortable"}, {Value: string(record.TalkHard), Label: "hard"}, {Value: string(record.TalkNo), Label: "not possible"},
			}},
		}
	}
	talk := []field{}
	for n := range talkLoads {
		talk = append(talk, stage(n+1)...)
	}
	talk = append(talk, field{Name: "held", Label: "Each load was held for", Kind: aText, Value: "3:00", Help: "Minutes and seconds."})
	minute := fmt.Sprintf("%d:%02d", fieldtest.StepSeconds/60, fieldtest.StepSeconds%60)
	return []fieldTestForm{
		{
			form: form{ID: "talk-test", Name: "Talk test", Button: "Read the test", Fields: talk}, Cautions: reasons.TestCautions("talk-test"),
			How: []string{
				"Begin with an easy warm-up of 5 min. Then hold one load for 3 min, ask the client to say about 30 words aloud, and ask whether talking was comfortable.",
				"Go up a little each time. End at the first load at which talking is hard: there is no need to go further.",
			},
		},
		{
			form: form{ID: "walk-test", Name: "One-mile walk", Button: "Read the test", Fields: []field{
				{Name: "walk_time", Label: "Time for the mile", Kind: aText, Help: "Minutes and seconds: 15:12."},
				{Name: "end_bpm", Label: "Heart rate over the last quarter", Unit: "bpm", Kind: aNumber},
				{Name: "distance_m", Label: "Distance, if it was not 1609 m", Unit: "m", Kind: aNumber},
				{Name: "mass_kg", Label: "Body mass", Unit: "kg", Kind: aNumber, Help: "Leave it empty to use what is on record."}, file,
			}}, Cautions: reasons.TestCautions("walk-test"),
			How: []string{"The client walks one mile (1609 m) on level ground as fast as they can without running. Note the time, and the heart rate over the last quarter."},
		},
		{
			form: form{ID: "step-test", Name: "Three-minute step test", Button: "Read the test", Fields: []field{
				{Name: "bench_cm", Label: "Height of the bench", Unit: "cm", Kind: aNumber, Value: "30"},
				{Name: "stepped", Label: "Stepped for", Kind: aText, Value: minute, Help: "Minutes and seconds."},
				{Name: "count", Label: "Beats counted in the minute after", Kind: aNumber}, {Name: "count_after", Label: "Count began after", Unit: "s", Kind: aNumber}, file,
			}}, Cautions: reasons.TestCautions("step-test"), Beats: fieldtest.StepCadence, Step: fieldtest.StepSeconds, Count: fieldtest.CountSeconds,
			How: []string{
				fmt.Sprintf("Use a bench of 30 cm and a metronome (any will do) at %d beats a minute: up, up, down, down, one foot a beat, %d rounds a minute. The client steps for %s min.", fieldtest.StepCadence, fieldtest.StepCadence/4, minute),
				"Then the client sits down at once. Begin to count within 5 s, and count every beat for one full minute.",
			},
		},
	}
}

// talkLoads is how many loads of a talk test the form has room for.
const talkLoads = 6

// shownTest is the result of a field test as the page shows it.
type shownTest struct {
	Name    string
	Lines   []string
	Lacks   string
	Class   string
	Remarks []string
	Keep    string // the result as a note
	Zones   *field // the talk test's thresholds, to be used
}

// testsForm is the page of the field tests of a client.
type testsForm struct {
	personPage
	Barred []string
	Tests  []fieldTestForm
	Shown  *shownTest
	From   string
}

func (d *Desk) testsPage(r *http.Request, who string) (content, error) {
	person, err := d.person(r, who, "tests")
	if err != nil {
		return content{}, err
	}
	page := testsForm{personPage: person, Tests: fieldTests(d.on()), Shown: person.test, From: (d.on() + 1).String()}
	why, step, asks, err := d.coach.TestsBarred(r.Context(), who, d.on())
	if err != nil {
		return content{}, err
	}
	page.Barred = record.Map(reasons.Texts(why), wording.Sentence)
	for _, q := range asks {
		if q.Clash.Code == "" {
			page.Barred = append(page.Barred, "Ask first: “"+q.Asks()+"”")
		}
	}
	for i, t := range page.Tests {
		if t.ID == "step-test" {
			page.Tests[i].Barred = record.Map(reasons.Texts(step), wording.Sentence)
		}
		no := page.refused.of(t.ID)
		page.Tests[i].Open = no.form != ""
		page.Tests[i].Fields = no.apply(t.Fields)
		for j := range page.Tests[i].Fields {
			page.Tests[i].Fields[j].Form = t.ID
		}
	}
	return clientsRoom(who, "One more figure, never the one that decides.", "tests", page)
}

// readTest reads a field test that was typed or recorded and shows it; nothing enters the book.
func (d *Desk) readTest(protocol string) doing {
	return func(r *http.Request) (to string, did result, err error) {
		who, to, err := d.clientOf(r, "tests")
		if err != nil {
			return "", did, err
		}
		why, step, asks, err := d.coach.TestsBarred(r.Context(), who, d.on())
		if err != nil {
			return "", did, err
		}
		if len(why)+len(asks) > 0 || protocol == "step-test" && len(step) > 0 {
			return to, did, fault.New(fault.DoctorFirst, "no field test now: the page says why")
		}
		tests := fieldTests(d.on())
		t := coach.Tested{Typed: plain(r, tests[slices.IndexFunc(tests, func(t fieldTestForm) bool { return t.ID == protocol })].Fields)}
		delete(t.Typed, "file")
		if protocol == "talk-test" {
			t.Typed = talked(t.Typed)
		}
		t.Typed["protocol"] = protocol
		if f, head, err := r.FormFile("file"); err == nil {
			defer f.Close()
			if t.File, err = io.ReadAll(f); err != nil {
				return to, did, fault.New(fault.Wrong, "the file did not arrive whole: choose it again")
			}
			t.Name = head.Filename
		}
		read, err := d.coach.FieldTest(r.Context(), who, t, d.on())
		if err != nil {
			return to, did, err
		}
		did.test = shownTestOf(read)
		if c, err := d.coach.Client(r.Context(), who); err == nil && did.test.Zones != nil {
			did.test.Zones.Was = coach.FactsOf(c)[coach.Thresholds]
		}
		did.Done = []string{"The test was read. Nothing is entered until you say so below."}
		return to, did, nil
	}
}

// talked writes the loads of a talk test as coach reads them.
func talked(typed coach.Facts) coach.Facts {
	var stages []string
	for n := range talkLoads {
		bpm, said := typed[fault.Field(fmt.Sprintf("bpm%d", n+1))], typed[fault.Field(fmt.Sprintf("said%d", n+1))]
		if bpm+said != "" {
			stages = append(stages, bpm+"="+said)
		}
	}
	return coach.Facts{"stages": strings.Join(stages, ","), "held": typed["held"]}
}

func shownTestOf(t fieldtest.Result) *shownTest {
	names := map[string]string{"talk-test": "talk test", "walk-test": "one-mile walk", "step-test": "three-minute step test"}
	out := &shownTest{Name: names[t.Protocol], Remarks: record.Map(t.Remarks, func(f workout.Fact) string { return wording.Sentence(reasons.Text(f)) })}
	if !t.Enough {
		out.Lacks = wording.Sentence(t.Clause)
	}
	thresholds := [2]float64{}
	for _, f := range t.Figures {
		out.Lines = append(out.Lines, wording.Sentence(reasons.Figure(f)))
		switch f.Code {
		case fieldtest.T1:
			thresholds[0] = f.Value
		case fieldtest.T2:
			thresholds[1] = f.Value
		}
	}
	out.Class = wording.Sentence(reasons.Class(t))
	out.Keep = wording.Capital(out.Name) + ": " + strings.Join(append(slices.Clone(out.Lines), out.Class), " ")
	if t.Enough && thresholds[0] > 0 {
		f := zoneFields()[slices.IndexFunc(zoneFields(), func(f field) bool { return f.Name == coach.Thresholds })]
		f = f.holding(fmt.Sprintf("%g,%g", thresholds[0], thresholds[1]))
		out.Zones = &f
	}
	return out
}
