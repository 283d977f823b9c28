package heartrate

// A stuck sensor repeats one value. In real recordings of steady effort true heart rate stays the same
// for up to 67 s, and a smoothed one for longer where it hardly changes at all; so a stuck one shows as
// a long rest between lively surroundings. Common practice, no source: chosen on real recordings and held by
// TestAlarmsInRealRecordings and TestPlantedFaultsAreFound.
const (
	frozenLeast  = 90   // s
	frozenEnd    = 180  // s, when it goes on to the end
	livelyWindow = 30   // s before and after, but at least
	livelyCount  = 10   // readings
	livelyShare  = 0.08 // of the readings there must differ from the one before
)

// markFrozen marks the readings of long runs of one value that come between lively readings or go on
// to the end after them.
func markFrozen(at []int, bpm []float64, marks []mark) {
	for i := 0; i < len(at); {
		j := i + 1
		for j < len(at) && bpm[at[j]] == bpm[at[i]] && at[j]-at[j-1] <= longestHold {
			j++
		}
		long, ends := at[j-1]-at[i], j == len(at)
		if long >= frozenLeast && j-i >= livelyCount && lively(at, bpm, i, -1) && (ends && long >= frozenEnd || !ends && lively(at, bpm, j-1, 1)) {
			for _, k := range at[i+1 : j] {
				if marks[k] == good {
					marks[k] = isFrozen
				}
			}
		}
		i = j
	}
}

// lively says whether the readings on one side of reading i move.
func lively(at []int, bpm []float64, i, way int) bool {
	n, moves := 0, 0
	for j := i + way; j >= 0 && j < len(at); j += way {
		if d := way * (at[j] - at[i]); d > livelyWindow && n >= livelyCount {
			break
		}
		n++
		if bpm[at[j]] != bpm[at[j-way]] {
			moves++
		}
	}
	return n >= livelyCount && float64(moves) >= livelyShare*float64(n)
}
