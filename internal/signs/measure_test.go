package signs_test

import (
	"os"
	"slices"
	"testing"

	"nextrung/internal/signs"
)

func TestMeasure(t *testing.T) {
	for _, file := range []string{"third.txt", "fourth.txt", "fifth.txt", "sixth.txt", "tuning.txt"} {
		if _, err := os.Stat("testdata/" + file); err != nil {
			continue
		}
		show := os.Getenv("SHOW") == file
		order, by := wordings(t, file)
		type n struct{ all, exact, graver int }
		tiers := map[signs.Tier]*n{}
		for _, want := range order {
			if want == "harmless" {
				grave, any := 0, 0
				for _, text := range by[want] {
					got := what(text)
					g := slices.ContainsFunc(got, func(s string) bool { return signs.Sign(s).Grave() })
					if g {
						grave++
					}
					if len(got) > 0 {
						any++
						if show {
							t.Logf("ALARM %v %q %v", g, text, got)
						}
					}
				}
				t.Logf("%s harmless: %d, grave alarms %d, any %d", file, len(by[want]), grave, any)
				continue
			}
			tier := signs.Sign(want).Tier()
			if tiers[tier] == nil {
				tiers[tier] = &n{}
			}
			s := n{}
			for _, text := range by[want] {
				got := what(text)
				s.all++
				switch {
				case slices.Contains(got, want):
					s.exact++
				case slices.ContainsFunc(got, func(g string) bool { return graver(g, want) }):
					s.graver++
				default:
					if show {
						t.Logf("MISS %s %q %v", want, text, got)
					}
				}
			}
			t.Logf("%s %-28s %d: %d + %d", file, want, s.all, s.exact, s.graver)
			x := tiers[tier]
			x.all, x.exact, x.graver = x.all+s.all, x.exact+s.exact, x.graver+s.graver
		}
		for tier, s := range tiers {
			t.Logf("%s tier %d: %d: %d + %d = %.1f %%", file, tier, s.all, s.exact, s.graver, 100*float64(s.exact+s.graver)/float64(s.all))
		}
	}
}
