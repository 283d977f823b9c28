package progression

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// trust is how far the sensor of a session can be trusted.
type trust int

const (
	trusted  trust = iota
	doubtful       // counted, though the sensor was wrong for some of the time
	leftOut        // not counted, since nothing can be measured on it
)

// trusted keeps the sessions whose heart rate counts. When sensors vary, each doubtful session is in or out
// with equal chances: nobody can say which of its beats were the heart's.
func (d draw) trusted(all []mainPart) []mainPart {
	return record.Keep(all, func(m mainPart) bool {
		if m.doubt != trusted && d.varies[whichSensors] {
			return d.IntN(2) == 0
		}
		return m.doubt != leftOut
	})
}

// doubtedShare is the share of the recordings with a heart rate from which a verdict says that the sensor was
// doubtful (common practice, no source).
const doubtedShare = 0.25

// doubtSensor names a doubtful sensor right after the verdict, where data or the client's heart rate may be what
// stands against a move, and with every move.
func (v Review) doubtSensor(a *record.Assessment) {
	said, yes := v.sensorDoubted()
	if !yes || *a.Verdict == record.Refer || len(a.Summary) == 0 || a.Summary[0].Code == AskFirst {
		return
	}
	a.Summary = slices.Insert(a.Summary, 1, said)
	gates := slices.IndexFunc(a.Lacking, func(l record.Lack) bool { return v.Policy.Rule(l.Rule).Kind != policy.Gate })
	if gates < 0 {
		gates = len(a.Lacking)
	}
	a.Lacking = slices.Insert(a.Lacking, gates, record.Lack{Rule: policy.Zone, Says: said, Needed: need(NeedGoodSensor)})
}

// sensorDoubted says in how many of the recordings that the rule on zone 1 looks at the sensor could not be
// trusted, where that is so in a quarter of them or more. It comes before anything that the same sensor says
// against the client.
func (v Review) sensorDoubted() (record.Fact, bool) {
	days := *v.Policy.Rule(policy.Zone).Window
	doubted, of := 0, 0
	for _, s := range v.recent(days) {
		for _, x := range s.Recordings {
			if h := x.Measured.HeartRate; h.Doubtful {
				doubted, of = doubted+1, of+1
			} else if h.Usable {
				of++
			}
		}
	}
	said := record.Fact{Code: SensorDoubted, Args: record.Args{"doubted": doubted, "of": of, "days": days}}
	return said, doubted > 0 && float64(doubted) >= doubtedShare*float64(of) && v.heartLeads()
}
