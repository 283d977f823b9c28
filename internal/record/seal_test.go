package record_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

func chain(n int) []record.Decision {
	var out []record.Decision
	hold := record.Hold
	for i := range n {
		d := record.Decision{
			Client: "Ines", Entered: story.Day(7 * i), From: story.Day(7*i + 1), Act: record.DoHold, Stage: 1, Because: "one more week", By: "Marit",
			Verdict: &hold, Policy: "sha256:0", Files: []workout.Digest{workout.DigestOf([]byte{byte(i)})},
		}
		if i == 0 {
			out = append(out, d.Seal(nil))
		} else {
			out = append(out, d.Seal(&out[i-1]))
		}
	}
	return out
}

// TestEveryChangeOfADecisionShows changes one field at a time, and removes and swaps decisions.
func TestEveryChangeOfADecisionShows(t *testing.T) {
	ease := record.Ease
	changes := map[string]func([]record.Decision) []record.Decision{
		"client":     func(c []record.Decision) []record.Decision { c[1].Client = "Bo"; return c },
		"entered":    func(c []record.Decision) []record.Decision { c[1].Entered++; return c },
		"act":        func(c []record.Decision) []record.Decision { c[1].Act = record.DoAdvance; return c },
		"from":       func(c []record.Decision) []record.Decision { c[1].From++; return c },
		"to":         func(c []record.Decision) []record.Decision { c[1].To = story.Day(9); return c },
		"stage":      func(c []record.Decision) []record.Decision { c[1].Stage = 2; return c },
		"because":    func(c []record.Decision) []record.Decision { c[1].Because += "!"; return c },
		"by":         func(c []record.Decision) []record.Decision { c[1].By = "Bo"; return c },
		"verdict":    func(c []record.Decision) []record.Decision { c[1].Verdict = &ease; return c },
		"no verdict": func(c []record.Decision) []record.Decision { c[1].Verdict = nil; return c },
		"policy":     func(c []record.Decision) []record.Decision { c[1].Policy = "sha256:1"; return c },
		"files":      func(c []record.Decision) []record.Decision { c[1].Files = nil; return c },
		"before":     func(c []record.Decision) []record.Decision { c[1].Before[0]++; return c },
		"digest":     func(c []record.Decision) []record.Decision { c[1].Digest[0]++; return c },
		"removed":    func(c []record.Decision) []record.Decision { return append(c[:1], c[2]) },
		"first gone": func(c []record.Decision) []record.Decision { return c[1:] },
		"swapped":    func(c []record.Decision) []record.Decision { c[0], c[1] = c[1], c[0]; return c },
		"sealed anew": func(c []record.Decision) []record.Decision {
			c[1].By = "Bo"
			c[1] = c[1].Seal(&c[0])
			return c
		},
		"doubled":      func(c []record.Decision) []record.Decision { return append(c, c[2]) },
		"put in front": func(c []record.Decision) []record.Decision { return append(chain(1), c...) },
	}
	if err := record.VerifyChain(chain(3)); err != nil {
		t.Fatalf("an untouched chain: %v", err)
	}
	if err := record.VerifyChain(nil); err != nil {
		t.Fatalf("no decision at all: %v", err)
	}
	for name, change := range changes {
		t.Run(name, func(t *testing.T) {
			err := record.VerifyChain(change(chain(3)))
			if err == nil {
				t.Fatal("the change does not show")
			}
			if !strings.HasPrefix(err.Error(), "decision ") {
				t.Errorf("%v does not name the decision", err)
			}
		})
	}
}

// TestSealIsStable: the digest depends on the content alone, not on a digest that was there before.
func TestSealIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := record.Decision{
			Client: rapid.String().Draw(t, "client"), Because: rapid.String().Draw(t, "because"),
			Stage: rapid.IntRange(1, 3).Draw(t, "stage"), From: story.Day(rapid.IntRange(0, 900).Draw(t, "from")),
		}
		once := d.Seal(nil)
		if twice := once.Seal(nil); twice.Digest != once.Digest {
			t.Fatalf("sealed twice: %s, then %s", once.Digest, twice.Digest)
		}
		if err := record.VerifyChain([]record.Decision{once}); err != nil {
			t.Fatal(err)
		}
	})
}
