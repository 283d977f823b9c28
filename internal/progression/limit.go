package progression

import "nextrung/internal/record"

// RoomForBouts is how far in bpm the upper limit of bouts lies above the zone below at least, so that they differ
// from it (common practice, no source).
const RoomForBouts = 5

// AboveLimit says that the zone of a stage above the first lies above a doctor's limit on some day of the next week, in some mode of
// the client; nil where it does not, and for a client who trains by effort.
func (v Review) AboveLimit(stage int) *record.Fact {
	body := v.Record.Client.Body(v.On + 1)
	body.Limit = v.weeksLimit()
	if stage < 2 || stage > 3 || body.Limit == 0 {
		return nil
	}
	for _, m := range v.Record.Client.TrainedModes() {
		if e := body.Unlimited().Edges(m); e != nil && e.BPM[stage-1]+RoomForBouts > body.Ceiling() {
			return &record.Fact{Code: AboveLimit, Args: record.Args{"stage": stage, "from": e.BPM[stage-1], "limit": body.Limit, "back": 0}}
		}
	}
	return nil
}

// weeksLimit is the lowest limit in bpm of a doctor in the week to come, 0 for none.
func (v Review) weeksLimit() float64 { return v.Record.Client.LimitOver(v.On+1, v.On+7) }

// limited is AboveLimit for the present stage or the next.
func (v Review) limited() *record.Fact {
	if f := v.AboveLimit(v.Stage); f != nil {
		f.Args["back"] = v.Stage - 1
		return f
	}
	return v.AboveLimit(v.Stage + 1)
}
