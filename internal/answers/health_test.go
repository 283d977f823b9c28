package answers

import (
	"os"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/signs"
)

// together is what some notes enter and suspect of signs and topics, as a sorted list.
func together(notes ...record.Note) (out []string) {
	add := func(s string) {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for _, n := range notes {
		for _, s := range n.Symptoms {
			add(string(s))
		}
		for _, s := range n.Suspected {
			add("?" + string(s.Sign) + string(s.Topic))
		}
	}
	slices.Sort(out)
	return out
}

// TestOneReader holds that a text says the same of signs, suspicions and denials whichever way it comes:
// as the text of a note, as words given for symptoms, or as a pasted message. The wordings are those on
// which the reader itself is tested.
func TestOneReader(t *testing.T) {
	n := 0
	for _, file := range []string{"said", "held", "denied", "undenied", "harmless", "notgrave", "untried"} {
		data, err := os.ReadFile("../signs/testdata/" + file + ".txt")
		if err != nil {
			t.Fatal(err)
		}
		for text := range strings.Lines(string(data)) {
			text = strings.TrimSuffix(text, "\n")
			if text == "" || strings.HasPrefix(text, "= ") {
				continue
			}
			n++
			want := together(record.Note{Text: text}.Read())
			if got := together(record.Note{}.Read(text)); !slices.Equal(got, want) {
				t.Errorf("%q: as symptoms %v, as text %v", text, got, want)
			}
			r := Parse(text, week)
			for _, note := range r.Notes {
				if note.Reader != signs.Reader {
					t.Errorf("%q: a note is unread: %+v", text, note)
				}
			}
			if got := together(r.Notes...); !slices.Equal(got, want) {
				t.Errorf("%q: pasted %v, as text %v: %s", text, got, want, written(r))
			}
			for _, x := range r.Pieces {
				if len(x.Suspected) > 0 && x.Kind != Question {
					t.Errorf("%q: %+v is suspected and not asked about", text, x)
				}
			}
		}
	}
	t.Logf("%d wordings", n)
}

func TestAnswersAcrossLines(t *testing.T) {
	for text, want := range map[string]string{
		"Chest pain?\nNo":                    "Sun (Chest pain?; No)",
		"Chest pain?\nYes":                   "Sun [chest]",
		"> Chest pain?\nNo":                  "Sun (> Chest pain?; No) | -> Chest pain?",
		"> I had chest pain":                 "Sun (> I had chest pain) | ?> I had chest pain[chest]",
		"Mon 12 easy 4\r\nChest pain?\r\nno": "Mon effort 12/20 talk comfortable enjoy 4 | Sun (Chest pain?; no)",
		"Wed\nchest pain":                    "Wed [chest]",
		"no chest pain on Mon\nWed dizzy":    "Mon (no chest pain on) | Wed [dizzy]",
	} {
		reads(t, text, want)
	}
}

// A sign never takes the other answers of its clause along, and none of them makes it less plain.
func TestSignsBesideAnswers(t *testing.T) {
	for text, want := range map[string]string{
		"Mon 12 easy 4 my heart was pounding": "Mon effort 12/20 talk comfortable enjoy 4 (my heart was pounding) | ?my heart was pounding[palpitations]",
		"Mon 12 easy 4 chest pain":            "Mon effort 12/20 talk comfortable enjoy 4 [chest]",
		"Mon 12 chest pain":                   "Mon [chest] (12) | ?12",
		"Mon maybe effort 12, chest pain":     "Mon effort 12/20 (chest pain) | ?chest pain[chest]",
		"Mon 27 °C and fever":                 "Mon [fever] (27 °C and fever) | ?27 °C and fever",
		"Mon 27 °C":                           "Mon heat 27",
		"Mon temperature 27 °C":               "Mon heat 27",
		"Mon 38.5":                            "Mon (38.5) | ?38.5[fever]",
		"38.7 this morning":                   "Sun (38.7 this morning) | ?38.7 this morning[fever]",
		"Mon 101 F":                           "Mon (101 F) | ?101 F",
		"resting pulse 58, fever 38.5":        "Sun rest 58 [fever]",
		"Mon effort 12 fun 4 no dizziness":    "Mon effort 12/20 enjoy 4 (no dizziness)",
		"Mon no cold, cough or fever, 12":     "Mon effort 12/20 (no cold, cough or fever)",
		"Mon felt dizzy on the stairs 🤒":      "Mon [dizzy] (on the stairs 🤒) | ?on the stairs 🤒",
	} {
		reads(t, text, want)
	}
}

// The names of medicines are generic ones, from memory.
func TestTopicsAreAsked(t *testing.T) {
	for text, want := range map[string]signs.Topic{
		"I'm pregnant": signs.Pregnancy, "we're expecting": signs.Pregnancy, "Mon 12 easy 4, by the way I'm pregnant": signs.Pregnancy,
		"started bisoprolol": signs.Medicine, "new tablets": signs.Medicine, "beta blocker": signs.Medicine, "doctor changed my dose": signs.Medicine,
		"since Wed new tablets": signs.Medicine, "metoprolol 50 mg": signs.Medicine, "twisted my ankle": signs.Injury,
		"not pregnant": "", "no new medicine": "", "expecting it to be harder": "", "tablets as always": "", "no change of dose": "",
	} {
		r := Parse(text, week)
		asked := slices.ContainsFunc(r.Pieces, func(x Piece) bool {
			return slices.Contains(x.Suspected, record.Suspicion{Topic: want}) && strings.Contains(x.Question, askSuspicion(record.Suspicion{Topic: want}))
		})
		if asked != (want != "") || len(r.Grave()) > 0 {
			t.Errorf("%q: %s", text, written(r))
		}
		kept := slices.ContainsFunc(r.Notes, func(n record.Note) bool { return slices.Contains(n.Suspected, record.Suspicion{Topic: want}) })
		if kept != asked {
			t.Errorf("%q: asked about %v, kept %v", text, asked, kept)
		}
	}
}

// No question names a command, a flag or a rule.
func TestQuestionsArePlain(t *testing.T) {
	for _, s := range signs.All() {
		if q := askSuspicion(record.Suspicion{Sign: s}); strings.Contains(q, "--") || strings.Contains(q, "nextrung") || !strings.Contains(q, "?") {
			t.Errorf("%s: %q", s, q)
		}
	}
}
