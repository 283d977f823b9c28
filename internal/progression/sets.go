package progression

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// oftenFrom is the number of sessions a week from which two of them may have bouts.
const oftenFrom = 3

// sets are the interval sessions of a stage, one entry a week, from the first week to the last. The time
// in bouts grows by at most half from one entry to the next (common practice, no source). Stage 2
// ends where Mitranun 2014 and Nemoto 2007 end, stage 3 where the rehabilitation tables do; what lies
// between is common practice, no source.
func sets(stage, sessions int) []record.Intervals {
	switch often := sessions >= oftenFrom; {
	case stage == 2 && often:
		return []record.Intervals{
			{Count: 1, Bouts: 4, Work: 60, Rest: 240}, {Count: 2, Bouts: 3, Work: 60, Rest: 180}, {Count: 2, Bouts: 4, Work: 60, Rest: 180},
			{Count: 2, Bouts: 6, Work: 60, Rest: 180}, {Count: 2, Bouts: 4, Work: 120, Rest: 120}, {Count: 2, Bouts: 6, Work: 120, Rest: 120},
			{Count: 2, Bouts: 5, Work: 180, Rest: 180},
		}
	case stage == 2:
		return []record.Intervals{
			{Count: 1, Bouts: 4, Work: 60, Rest: 240}, {Count: 1, Bouts: 5, Work: 60, Rest: 180}, {Count: 1, Bouts: 6, Work: 60, Rest: 180},
			{Count: 1, Bouts: 4, Work: 120, Rest: 120}, {Count: 1, Bouts: 6, Work: 120, Rest: 120}, {Count: 1, Bouts: 5, Work: 180, Rest: 180},
		}
	case often:
		return []record.Intervals{
			{Count: 1, Bouts: 4, Work: 60, Rest: 180}, {Count: 2, Bouts: 3, Work: 60, Rest: 180}, {Count: 2, Bouts: 4, Work: 60, Rest: 180},
			{Count: 2, Bouts: 4, Work: 90, Rest: 150}, {Count: 2, Bouts: 4, Work: 120, Rest: 120}, {Count: 2, Bouts: 4, Work: 180, Rest: 180},
		}
	}
	return []record.Intervals{
		{Count: 1, Bouts: 4, Work: 60, Rest: 180}, {Count: 1, Bouts: 3, Work: 120, Rest: 120}, {Count: 1, Bouts: 4, Work: 120, Rest: 120},
		{Count: 1, Bouts: 4, Work: 180, Rest: 180},
	}
}

// inBouts is the time in bouts of a week in seconds.
func inBouts(s record.Intervals) int { return s.Count * s.Bouts * s.Work }

// sets are the interval sessions of a stage that a client has the time for; none where not even two bouts fit.
func (v Review) sets(stage, sessions int) []record.Intervals {
	var out []record.Intervals
	for _, s := range sets(stage, sessions) {
		if s, ok := v.fitted(s); ok {
			out = append(out, s)
		}
	}
	return out
}

// fitted makes interval sessions fit into the minutes that the client has at a time: with less rest where it is more
// than three times a bout (the 1:3 of the other entries), then with fewer bouts.
func (v Review) fitted(s record.Intervals) (record.Intervals, bool) {
	minutes := v.Record.Client.Minutes
	if minutes == 0 {
		return s, true
	}
	room := 60*minutes - 2*record.Edge(minutes)
	needed := func() int { return s.Bouts*s.Work + (s.Bouts-1)*s.Rest }
	if needed() > room {
		s.Rest = min(s.Rest, 3*s.Work)
	}
	for needed() > room && s.Bouts > fewestBouts {
		s.Bouts--
	}
	return s, needed() <= room
}

// RoomForBouts says that the time that a client has at a time holds some bouts of a stage, of at least so many seconds.
func (v Review) RoomForBouts(stage, seconds int) bool {
	return slices.ContainsFunc(v.sets(stage, oftenFrom), func(s record.Intervals) bool { return s.Work >= seconds })
}

// MoreBouts are the interval sessions of the week after a week with last, nil for none so far, in a week
// of so many sessions; the same again after the last entry. None are a zero count.
func (v Review) MoreBouts(stage int, last *record.Intervals, sessions int) record.Intervals {
	all := v.sets(stage, sessions)
	switch {
	case len(all) == 0:
		return record.Intervals{}
	case last == nil:
		return all[0]
	}
	for _, s := range all {
		if inBouts(s) > inBouts(*last) {
			for 2*inBouts(s) > 3*inBouts(*last) && s.Bouts > fewestBouts {
				s.Bouts--
			}
			return s
		}
	}
	return v.SameBouts(*last, sessions)
}

// SameBouts are the interval sessions of last again, one where the week has too few sessions for two, in the
// time that the client has now.
func (v Review) SameBouts(last record.Intervals, sessions int) record.Intervals {
	out := record.Intervals{Count: last.Count, Bouts: last.Bouts, Work: last.Work, Rest: last.Rest}
	if sessions < oftenFrom {
		out.Count = 1
	}
	if out, ok := v.fitted(out); ok {
		return out
	}
	return record.Intervals{}
}

// FewerBouts are the largest interval sessions with less than last in time and no longer bouts; below the smallest
// entry the bouts are left out.
func (v Review) FewerBouts(stage int, last record.Intervals, sessions int) record.Intervals {
	var out record.Intervals
	for _, s := range v.sets(stage, sessions) {
		if s.Work <= last.Work && inBouts(s) < inBouts(last) && inBouts(s) > inBouts(out) {
			out = s
		}
	}
	return out
}

// LastBouts are the interval sessions that were last prescribed in a stage since it began, for a full week in which
// the client trained and that began before a day, with the whole weeks between it and that day; nil for none.
func (v Review) LastBouts(stage int, since, before workout.Date) (bouts *record.Intervals, weeksSince int) {
	trained := v.trained()
	did := func(p record.Prescription) bool {
		return slices.ContainsFunc(trained, func(d workout.Date) bool { return d >= p.From && d <= p.To })
	}
	var last *record.Prescription
	for i, p := range v.Record.Prescriptions {
		if p.Stage == stage && p.Intervals != nil && !p.Reduced && p.From >= since && p.From < before && (last == nil || p.From >= last.From) && did(p) {
			last = &v.Record.Prescriptions[i]
		}
	}
	if last == nil {
		return nil, 0
	}
	return last.Intervals, max(0, int(before-last.To-1)/7)
}

// perWeekPlanned is the number of sessions of a full week: that of the last one prescribed, else what the
// client has time for, three at most.
func (v Review) perWeekPlanned() int {
	for i := len(v.Record.Prescriptions) - 1; i >= 0; i-- {
		if p := v.Record.Prescriptions[i]; p.Sessions > 0 && !p.Reduced {
			return p.Sessions
		}
	}
	if d := v.Record.Client.Days; d > 0 {
		return min(d, oftenFrom)
	}
	return oftenFrom
}

// weeksOfTraining is how many more weeks, done as the plan has them, bring the sessions that the stage needs; ok is
// false where no plan does.
func (v Review) weeksOfTraining() (weeks int, ok bool) {
	sessions := v.perWeekPlanned()
	switch v.Stage {
	case 1:
		for n := len(v.attended()); !v.Policy.Rule(policy.SessionsTotal).Keeps(float64(n)); n += sessions {
			weeks++
		}
	case 2:
		done, longer := 0, 0
		for _, s := range v.stageIn {
			if x, ok := v.asInterval(s); ok && v.asPrescribed(x) {
				done++
				if v.hasLongerBouts(x) {
					longer++
				}
			}
		}
		last, _ := v.LastBouts(2, v.Since, v.On+1)
		for bout := v.Policy.Rule(policy.LongerBouts).More["bout_s"]; !v.Policy.Rule(policy.IntervalSessions).Keeps(float64(done)) ||
			v.Policy.On(policy.LongerBouts) && !v.Policy.Rule(policy.LongerBouts).Keeps(float64(longer)); weeks++ {
			next := v.MoreBouts(2, last, sessions)
			if done += next.Count; float64(next.Work) >= bout {
				longer += next.Count
			} else if next.Count == 0 || last != nil && inBouts(next) == inBouts(*last) {
				return 0, false
			}
			last = &next
		}
	}
	return weeks, true
}
