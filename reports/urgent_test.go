package reports_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/reports"
)

// withSign is Hedra, who wrote what may be a grave sign, or has one on record, while in a state.
func withSign(t *testing.T, sign signs.Sign, state record.State, onRecord bool) reports.Client {
	t.Helper()
	m := &member{record: record.Record{Client: facts("Hedra", "1975-02-27", 5)}}
	m.base(5, true)
	note := record.Note{ID: "q1", Date: asOf - 4, Entered: asOf - 4, Text: "tight across the chest", Suspected: []record.Suspicion{{Sign: sign}}}
	if onRecord {
		note.Symptoms, note.Suspected = []signs.Sign{sign}, nil
	}
	m.record.Notes = append(m.record.Notes, note)
	switch state {
	case record.PausedState:
		m.record.Decisions = []record.Decision{{Client: "Hedra", Entered: asOf - 3, Act: record.DoPause, From: asOf - 2, To: asOf + 7, Stage: 1, Because: "winter refit", By: "Corvane"}}
	default:
		m.record.Client.State = state
	}
	p := policy.Default()
	a := progression.Assess(p, asOf, m.record)
	next := prescription.Prescribe(p, asOf, m.record, a)
	return reports.Client{Record: m.record, Assessment: a, Weeks: m.record.Weeks(asOf, 5), Next: &next}
}

// others share the roster with a client.
var others = sync.OnceValue(func() []reports.Client { return []reports.Client{avelin(), pavor()} })

// pagesOf renders everything that is made of one client, in words.
func pagesOf(t *testing.T, c reports.Client) map[string]string {
	t.Helper()
	d, err := reports.DecisionSample(c)
	if err != nil {
		t.Fatal(err)
	}
	p, err := reports.ProgressSample(c)
	if err != nil {
		t.Fatal(err)
	}
	r, err := reports.Roster(asOf, append([]reports.Client{others()[0], others()[1]}, c))
	if err != nil {
		t.Fatal(err)
	}
	return map[string]string{"decision": words(d), "progress": words(p), "text": reports.ProgressText(c), "picture": words(reports.ProgressPicture(c)), "roster": words(r)}
}

// TestGraveSignsComeFirst: whatever the state of a client, a grave sign or an open question about one is
// the first thing on every page, and nothing reassuring stands beside it (the order of first aid: what may
// be an emergency comes before all else; common practice, no source).
func TestGraveSignsComeFirst(t *testing.T) {
	for _, sign := range signs.All() {
		if !sign.Grave() {
			continue
		}
		for _, state := range []record.State{record.Active, record.PausedState, record.Finished, record.Maintaining, record.RecoveryOf} {
			for _, onRecord := range []bool{false, true} {
				c := withSign(t, sign, state, onRecord)
				head, trainer := "Don't train. Answer your trainer today", "Ask today"
				if onRecord {
					head, trainer = sign.Urgent(signs.Client, 4), sign.Urgent(signs.Trainer, 4)
				}
				pages := pagesOf(t, c)
				for kind, text := range pages {
					where := fmt.Sprintf("%s of a client %s, %s on record %t", kind, state, sign, onRecord)
					want, before := head, 60
					switch kind {
					case "decision":
						want = trainer
					case "roster":
						_, text, _ = strings.Cut(text, "Hedra client’s page")
						text, _, _ = strings.Cut(text, " client’s page")
						if !onRecord && strings.Index(pages[kind], "Unanswered") > 200 {
							t.Errorf("%s: what is unanswered does not come first", where)
						}
						want, before = trainer, 10
					case "picture":
						before = 400
					}
					if at := strings.Index(text, want); at < 0 || at > before {
						t.Errorf("%s: %q stands at %d: %.200s", where, want, at, text)
					}
					wants(t, where, kind, text, onRecord, sign)
				}
			}
		}
	}
}

func wants(t *testing.T, where, kind, text string, onRecord bool, sign signs.Sign) {
	t.Helper()
	has := map[string]bool{signs.StopLine: kind == "picture" || kind == "text" || kind == "progress", signs.AfterReferral: kind == "picture" || kind == "text" || kind == "progress"}
	if kind == "decision" || kind == "roster" {
		has["Ask: “"+sign.Question()+"”"] = !onRecord
		has["On Wed 30 Sep Hedra wrote “tight across the chest”."] = !onRecord
	}
	has["until the doctor who advised against it agrees"] = onRecord && sign == signs.ToldNotToTrain
	for want, is := range has {
		if is && !strings.Contains(text, want) {
			t.Errorf("%s lacks %q", where, want)
		}
	}
	text = strings.ReplaceAll(text, " not met ", " ")
	if before := "until a doctor has cleared you. Then"; sign == signs.ToldNotToTrain && strings.Contains(text, before) {
		t.Errorf("%s says %q", where, before)
	}
	for _, never := range []string{"One more week", "one more week", "having a break", "have a break", "on a break", "you have built", "medical clearance not necessary", "In favour", "Lacking", "Against: nothing", " met ", "Rules that are met", "Same verdict"} {
		if strings.Contains(text, never) {
			t.Errorf("%s says %q", where, never)
		}
	}
}

// TestClientPagesCarryTheStopLine: every page of a client, whatever it says, carries the line.
func TestClientPagesCarryTheStopLine(t *testing.T) {
	for _, c := range crew() {
		for kind, text := range pagesOf(t, c) {
			if (kind == "progress" || kind == "text" || kind == "picture") && !strings.Contains(text, signs.StopLine) {
				t.Errorf("%s of %s lacks the stop line", kind, c.Record.Client.Name)
			}
		}
	}
}

// TestAllClearIsVisible: who asked, when and about which day stands on the page, and a sign taken back says so.
func TestAllClearIsVisible(t *testing.T) {
	c := withSign(t, signs.Chest, record.Active, true)
	c.Record.Notes = append(c.Record.Notes, record.Note{ID: "q2", Date: asOf - 4, Entered: asOf - 1, NoSign: true, By: "Marit"})
	c.Assessment = progression.Assess(policy.Default(), asOf, c.Record)
	page := pagesOf(t, c)["decision"]
	for _, want := range []string{"Asked by Marit on 3 Oct about 30 Sep: no sign.", "taken back"} {
		if !strings.Contains(page, want) {
			t.Errorf("the decision page lacks %q", want)
		}
	}
	if got := reasons.Answer(record.Note{Date: asOf, Entered: asOf, NotSo: []signs.Topic{signs.Medicine}}); got != "Asked on 4 Oct about 4 Oct: no change of medicine." {
		t.Errorf("got %q", got)
	}
}
