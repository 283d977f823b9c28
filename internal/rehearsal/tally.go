package rehearsal

import (
	"math"
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// patience is the number of weeks within which a ready client should be moved up, sixth the week
// in which a verdict should be possible, and settling the weeks after a move whose sessions show how it was.
const (
	patience = 3
	sixth    = 6
	settling = 4
)

// Counts is what happened to a group of clients under one way. A stay is the time of one client in
// stage 1 or 2 until the stage changes or the rehearsal ends. It is due once the minimum weeks of the
// stage are over, and waits from the first week in which it is due and the client ready. All shares
// are of the count that their comment names.
type Counts struct {
	Clients int `json:"clients"`
	Stays   int `json:"stays"`

	Advanced        int `json:"advanced"`
	AdvancedUnready int `json:"advanced_unready"` // of Advanced: not ready on that day
	AdvancedUnable  int `json:"advanced_unable"`  // of Advanced: not able to do the session as they do their sessions
	// Followed are the moves after which at least two interval sessions were done within four weeks.
	Followed  int `json:"followed"`
	HardAfter int `json:"hard_after"` // of Followed: at least half of these sessions were too hard in truth

	UnreadyWhenDue         int `json:"unready_when_due"`          // stays not ready in the first week in which they were due
	UnreadyWhenDueAdvanced int `json:"unready_when_due_advanced"` // of them: moved up while still not ready

	// Ready are the stays that waited and were followed for three weeks from then on.
	Ready       int `json:"ready"`
	ReadyInTime int `json:"ready_in_time"` // of Ready: moved up within three weeks
	// Trained are the stays that were ready and had done the sessions and minutes that the rules need,
	// followed for three weeks from the first such week on: what is left of the wait is the policy's own.
	Trained       int `json:"trained"`
	TrainedInTime int `json:"trained_in_time"` // of Trained: moved up within three weeks
	// MedianWait is the weeks that the middle one of Ready waited; nil where that one was not moved up
	// before the rehearsal or the stay ended, and without any.
	MedianWait *int `json:"median_wait_weeks"`

	Weeks    int `json:"weeks"` // assessed
	Ease     int `json:"ease"`  // of Weeks
	StepBack int `json:"step_back"`

	AtSix            int `json:"at_week_6"` // clients assessed at the end of week 6
	NotAssessableSix int `json:"not_assessable_at_week_6"`
	HeartUntoldSix   int `json:"heart_rate_untold_at_week_6"` // whatever the verdict

	// Of the due weeks in which the client was not ready, those in which each limit was not kept.
	DueUnready  int `json:"due_weeks_unready"`
	ForEffort   int `json:"unready_for_effort"`
	ForTalk     int `json:"unready_for_talk"`
	ForRecovery int `json:"unready_for_recovery"`
	ForBase     int `json:"unready_for_base,omitempty"`

	// Of the due weeks in which the client was ready and not moved up, those in which each rule stood
	// in between, by its id, and those in which it was the only one.
	Kept   int               `json:"due_weeks_ready_kept"`
	By     map[policy.ID]int `json:"kept_by"`
	ByOnly map[policy.ID]int `json:"kept_by_only"`
}

// Share is part of whole in percent; false without a whole.
func Share(part, whole int) (float64, bool) {
	if whole == 0 {
		return 0, false
	}
	return 100 * float64(part) / float64(whole), true
}

// Count counts journeys; stage 1 or 2 looks at stays and weeks in that stage only, 0 at all.
func Count(all []Journey, stage int) Counts {
	c := Counts{Clients: len(all), By: map[policy.ID]int{}, ByOnly: map[policy.ID]int{}}
	var waits []int
	for _, j := range all {
		if len(j.Weeks) >= sixth {
			c.AtSix++
			c.NotAssessableSix += one(j.Weeks[sixth-1].Verdict == record.NotAssessable)
			c.HeartUntoldSix += one(!j.Weeks[sixth-1].HeartTold)
		}
		for from := 0; from < len(j.Weeks); {
			to := from + 1
			for to < len(j.Weeks) && j.Weeks[to].Stage == j.Weeks[from].Stage {
				to++
			}
			if s := j.Weeks[from].Stage; stage == 0 || s == stage {
				c.weeks(j.Weeks[from:to])
				if s < 3 {
					waits = append(waits, c.stay(j.Weeks[from:to], len(j.Weeks)-from)...)
					if j.Weeks[to-1].Verdict == record.Advance {
						c.after(j.Weeks[to:min(to+settling, len(j.Weeks))])
					}
				}
			}
			from = to
		}
	}
	c.MedianWait = median(waits)
	return c
}

func (c *Counts) weeks(stay []Week) {
	for _, w := range stay {
		c.Weeks++
		switch w.Verdict {
		case record.Ease:
			c.Ease++
		case record.StepBack:
			c.StepBack++
		}
		switch {
		case w.Stage > 2 || !w.Due:
		case !w.Truth.Ready():
			c.DueUnready++
			c.ForEffort += one(!w.Truth.Effort)
			c.ForTalk += one(!w.Truth.Talk)
			c.ForRecovery += one(!w.Truth.Return)
			c.ForBase += one(!w.Truth.Base)
		case w.Verdict != record.Advance:
			c.Kept++
			for _, rule := range w.Open {
				c.By[rule]++
			}
			if len(w.Open) == 1 {
				c.ByOnly[w.Open[0]]++
			}
		}
	}
}

// trained says that nothing is missing of what has to be done: sessions, minutes, no break.
func (w Week) trained() bool {
	return !slices.ContainsFunc(w.Open, func(rule policy.ID) bool {
		return slices.Contains([]policy.ID{policy.Sessions, policy.SessionsTotal, policy.Minutes, policy.Longest, policy.Break, policy.IntervalSessions, policy.LongerBouts}, rule)
	})
}

// after counts how the interval sessions of the weeks after a move were.
func (c *Counts) after(weeks []Week) {
	sessions, hard := 0, 0
	for _, w := range weeks {
		sessions, hard = sessions+w.Intervals, hard+w.Hard
	}
	if sessions >= 2 {
		c.Followed++
		c.HardAfter += one(2*hard >= sessions)
	}
}

// never is the wait of somebody who was not moved up.
const never = math.MaxInt

// stay counts one stay of a client who was followed for so many weeks from its first one on. It
// returns the wait, if there is one to count.
func (c *Counts) stay(weeks []Week, followed int) []int {
	c.Stays++
	last := weeks[len(weeks)-1]
	moved := last.Verdict == record.Advance
	c.Advanced += one(moved)
	c.AdvancedUnready += one(moved && !last.Truth.Ready())
	c.AdvancedUnable += one(moved && !last.Done.Ready())
	first := func(is func(Week) bool) int {
		return slices.IndexFunc(weeks, func(w Week) bool { return w.Due && is(w) })
	}
	if due := first(func(Week) bool { return true }); due >= 0 && !weeks[due].Truth.Ready() {
		c.UnreadyWhenDue++
		c.UnreadyWhenDueAdvanced += one(moved && !last.Truth.Ready())
	}
	trained := first(func(w Week) bool { return w.Truth.Ready() && w.trained() })
	if trained >= 0 && trained+patience < followed {
		c.Trained++
		c.TrainedInTime += one(moved && len(weeks)-1-trained <= patience)
	}
	ready := first(func(w Week) bool { return w.Truth.Ready() })
	if ready < 0 || ready+patience >= followed {
		return nil
	}
	c.Ready++
	wait := len(weeks) - 1 - ready
	if !moved {
		return []int{never}
	}
	c.ReadyInTime += one(wait <= patience)
	return []int{wait}
}

// median is the middle wait, the lower one of two.
func median(waits []int) *int {
	slices.Sort(waits)
	if n := len(waits); n > 0 && waits[(n-1)/2] != never {
		return &waits[(n-1)/2]
	}
	return nil
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// Group is one line of the table.
type Group struct {
	Name string `json:"name"`
	Counts
}

// groups counts all journeys, then by move, sensor, error of the maximum and time.
func groups(all []Journey) []Group {
	of := func(name string, in func(Journey) bool) Group { return Group{name, Count(record.Keep(all, in), 0)} }
	return []Group{
		{"everybody", Count(all, 0)},
		{"stage 1 to 2", Count(all, 1)},
		{"stage 2 to 3", Count(all, 2)},
		of("chest strap", func(j Journey) bool { return j.Sensor == workout.Strap }),
		of("wrist", func(j Journey) bool { return j.Sensor == workout.Wrist }),
		of("formula over 8 bpm too low", func(j Journey) bool { return j.MaxError < -8 }),
		of("formula within 8 bpm", func(j Journey) bool { return j.MaxError >= -8 && j.MaxError <= 8 }),
		of("formula over 8 bpm too high", func(j Journey) bool { return j.MaxError > 8 }),
		of("time for 2 sessions a week", func(j Journey) bool { return j.Days == 2 }),
		of("time for 3 sessions a week", func(j Journey) bool { return j.Days == 3 }),
		of("time for 4 sessions a week", func(j Journey) bool { return j.Days == 4 }),
	}
}
