package progression_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

func chain(n int) []progression.Decision {
	var out []progression.Decision
	hold := progression.Hold
	for i := range n {
		d := progression.Decision{
			Client: "Ines", Entered: day(7 * i), From: day(7*i + 1), Act: progression.DoHold, Stage: 1, Because: "one more week", By: "Marit",
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
	ease := progression.Ease
	changes := map[string]func([]progression.Decision) []progression.Decision{
		"client":     func(c []progression.Decision) []progression.Decision { c[1].Client = "Bo"; return c },
		"entered":    func(c []progression.Decision) []progression.Decision { c[1].Entered++; return c },
		"act":        func(c []progression.Decision) []progression.Decision { c[1].Act = progression.DoAdvance; return c },
		"from":       func(c []progression.Decision) []progression.Decision { c[1].From++; return c },
		"to":         func(c []progression.Decision) []progression.Decision { c[1].To = day(9); return c },
		"stage":      func(c []progression.Decision) []progression.Decision { c[1].Stage = 2; return c },
		"because":    func(c []progression.Decision) []progression.Decision { c[1].Because += "!"; return c },
		"by":         func(c []progression.Decision) []progression.Decision { c[1].By = "Bo"; return c },
		"verdict":    func(c []progression.Decision) []progression.Decision { c[1].Verdict = &ease; return c },
		"no verdict": func(c []progression.Decision) []progression.Decision { c[1].Verdict = nil; return c },
		"policy":     func(c []progression.Decision) []progression.Decision { c[1].Policy = "sha256:1"; return c },
		"files":      func(c []progression.Decision) []progression.Decision { c[1].Files = nil; return c },
		"before":     func(c []progression.Decision) []progression.Decision { c[1].Before[0]++; return c },
		"digest":     func(c []progression.Decision) []progression.Decision { c[1].Digest[0]++; return c },
		"removed":    func(c []progression.Decision) []progression.Decision { return append(c[:1], c[2]) },
		"first gone": func(c []progression.Decision) []progression.Decision { return c[1:] },
		"swapped":    func(c []progression.Decision) []progression.Decision { c[0], c[1] = c[1], c[0]; return c },
		"sealed anew": func(c []progression.Decision) []progression.Decision {
			c[1].By = "Bo"
			c[1] = c[1].Seal(&c[0])
			return c
		},
		"doubled":      func(c []progression.Decision) []progression.Decision { return append(c, c[2]) },
		"put in front": func(c []progression.Decision) []progression.Decision { return append(chain(1), c...) },
	}
	if err := progression.VerifyChain(chain(3)); err != nil {
		t.Fatalf("an untouched chain: %v", err)
	}
	if err := progression.VerifyChain(nil); err != nil {
		t.Fatalf("no decision at all: %v", err)
	}
	for name, change := range changes {
		t.Run(name, func(t *testing.T) {
			err := progression.VerifyChain(change(chain(3)))
			if err == nil {
				t.Fatal("the change does not show")
			}
			if !strings.HasPrefix(err.Error(), "decision ") {
				t.Errorf("%v does not name the decision", err)
			}
		})
	}
}

// TestSealIsStable: the digest hangs on the content alone, not on a digest that was there before.
func TestSealIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := progression.Decision{
			Client: rapid.String().Draw(t, "client"), Because: rapid.String().Draw(t, "because"),
			Stage: rapid.IntRange(1, 3).Draw(t, "stage"), From: day(rapid.IntRange(0, 900).Draw(t, "from")),
		}
		once := d.Seal(nil)
		if twice := once.Seal(nil); twice.Digest != once.Digest {
			t.Fatalf("sealed twice: %s, then %s", once.Digest, twice.Digest)
		}
		if err := progression.VerifyChain([]progression.Decision{once}); err != nil {
			t.Fatal(err)
		}
	})
}
