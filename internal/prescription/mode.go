package prescription

import (
	"cmp"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// needs are what a mode cannot be trained without, one of them, and machines what keeps its speed.
var (
	needs = map[workout.Mode][]record.Equipment{
		workout.Bike: {record.Bicycle, record.ExerciseBike, record.Gym},
		workout.Row:  {record.RowingMachine, record.Boat, record.Gym},
		workout.Swim: {record.Pool, record.OpenWater},
	}
	machines = map[workout.Mode][]record.Equipment{
		workout.Walk:      {record.Treadmill, record.Gym},
		workout.Run:       {record.Treadmill, record.Gym},
		workout.Bike:      {record.ExerciseBike, record.Gym},
		workout.Row:       {record.RowingMachine, record.Gym},
		workout.OtherMode: {record.CrossTrainer, record.Stepper, record.Gym},
	}
)

// ranking is the client's modes, the one to train in first.
type ranking struct {
	modes []workout.Mode
	first int          // how many of them take turns
	check workout.Mode // for the check session
}

// at is the mode of comfortable session i: modes that the client enjoys take turns.
func (r ranking) at(i int) workout.Mode { return r.modes[i%r.first] }

// machine is the mode of a check session: one with a machine, which keeps its speed, where there is one.
func (r ranking) machine() workout.Mode { return r.check }

// preferred ranks the modes of a prescription: first those for which the client has the equipment,
// where that is known; of these what the client enjoys, then what they did most lately, or ever where
// nothing is recent, then the order in which they were entered. A client who was inactive before and has no
// session yet starts with walking where that is among the modes, and does not run yet (common
// practice, no source).
func preferred(p record.Prescription, r record.Record) ranking {
	c := r.Client
	done, ever := map[workout.Mode]int{}, map[workout.Mode]int{}
	for _, s := range r.Sessions() {
		if s.Sport == workout.Strength {
			continue
		}
		ever[s.Mode]++
		if s.Date > p.Made-lately {
			done[s.Mode]++
		}
	}
	if len(done) == 0 {
		done = ever
	}
	walks := slices.ContainsFunc(p.Targets, func(t record.Target) bool { return t.Mode == workout.Walk })
	begins := walks && len(ever) == 0 && !c.Screening.Active
	lacks := func(m workout.Mode) bool {
		known := slices.ContainsFunc(c.Equipment, func(s record.Said) bool { return len(s.Equipment) > 0 })
		return known && needs[m] != nil && !c.HasToTrainOn(needs[m]...)
	}
	rank := func(m workout.Mode) int {
		n := 0
		if begins && m == workout.Run {
			n += 4
		}
		if lacks(m) {
			n += 2
		}
		if !c.Likes(m) {
			n++
		}
		return n
	}
	out := ranking{first: 1}
	for _, t := range p.Targets {
		out.modes = append(out.modes, t.Mode)
	}
	first := func(a, b workout.Mode) int {
		switch {
		case !begins || a == b:
			return 0
		case a == workout.Walk:
			return -1
		case b == workout.Walk:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(out.modes, func(a, b workout.Mode) int {
		return cmp.Or(first(a, b), cmp.Compare(rank(a), rank(b)), cmp.Compare(done[b], done[a]))
	})
	for out.first < len(out.modes) && rank(out.modes[out.first]) == 0 {
		out.first++
	}
	out.check = out.modes[0]
	if i := slices.IndexFunc(out.modes, func(m workout.Mode) bool { return !lacks(m) && c.HasToTrainOn(machines[m]...) }); i >= 0 {
		out.check = out.modes[i]
	}
	return out
}

// home is what to do without a machine and in bad weather, for a client who has none (common practice,
// no source). Marching is upright like walking, whose maximum no other mode exceeds, so that no alarm
// has to move.
func home(c record.Client, p record.Prescription) []string {
	for _, all := range machines {
		if c.HasToTrainOn(all...) {
			return nil
		}
	}
	out := []string{"At home, or when the weather is bad: march on the spot and swing your arms, or step up and down the lowest stair with a hand on the rail, for just as long and just as hard. Leave the stair out if your knees are sore or you feel unsteady."}
	if i := p.Intervals; i != nil {
		out = append(out, "For the "+string(i.Feel)+" parts, lift your knees higher or step faster, but don't jump.")
	}
	if p.Targets[0].High > 0 {
		out = append(out, "The alarms stay the same.")
	}
	return out
}

// before is the flexibility work. It comes before the warm-up of the cardio session, not after it:
// static stretching for muscles that the trainer found tight, moving stretches for clients who are
// used to training (common practice, no source; how long a stretch is held, after Garber 2011, from
// memory).
func before(c record.Client) string {
	var out []string
	if len(c.Tight) > 0 {
		out = append(out, "stretch "+wording.List(c.Tight)+" gently, without bouncing, twice for about 20 seconds on each side; you may feel a pull, but it must not hurt")
	}
	if c.Screening.Active {
		out = append(out, "do a few minutes of moving stretches (leg swings, arm circles, heel lifts), small at first and then larger")
	}
	if len(out) == 0 {
		return "You don't need to stretch before the warm-up. If you like to stretch, do it before the warm-up, not after it."
	}
	return "Before the warm-up, not after it: " + strings.Join(out, "; then ") + "."
}
