package progression

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// mostNamed is the number of objections that a summary names.
const mostNamed = 2

// objections lists what is against moving up, with what would have to change, the weightiest first:
// effort and talk, then what the heart rate says, then what was done. While the weeks of the stage are not done,
// what is still growing is no objection.
func (v Review) objections(f findings) []record.Lack {
	building := v.building()
	var effort, out []record.Lack
	against := false
	for _, x := range f.evidence {
		against = against || x.against
		if x.against || x.Rule == policy.Zone && x.IsUnmet() {
			out = append(out, object(x))
		}
	}
	for _, id := range []policy.ID{policy.Effort, policy.BoutEffort, policy.UsualEffort, policy.Forecast, policy.Clearance, policy.Sessions, policy.Minutes, policy.IntervalSessions,
		policy.LongerBouts, policy.SessionsTotal, policy.Longest, policy.EnoughEvidence} {
		felt := slices.Contains([]policy.ID{policy.Effort, policy.BoutEffort, policy.UsualEffort, policy.Forecast}, id)
		for _, x := range f.required {
			switch {
			case x.Rule != id || !x.IsUnmet():
				continue
			case felt && v.Stage == 1 && v.hardInZone1() >= hardTwice:
				o := object(x)
				o.Needed = record.Fact{Code: NeedOtherZones}
				effort = append(effort, o)
				continue
			case felt:
				effort = append(effort, object(x))
				continue
			case id == policy.Clearance || x.Says.Code == BaseTooSmall || x.Says.Code == TimeTooShort:
			case id == policy.Sessions && v.Policy.Rule(id).Keeps(x.Points[len(x.Points)-1].Value) && building:
				continue // the last week had enough
			case id == policy.EnoughEvidence && against, id != policy.Sessions && building:
				continue
			}
			out = append(out, object(x))
		}
	}
	return append(effort, out...)
}

// changes says what would have to change for a rule to be met.
var changes = map[policy.ID]record.Code{
	policy.Zone: NeedSlower, policy.Steady: NeedLevel, policy.CheckSession: NeedLevel, policy.SameEffort: NeedAskAround,
	policy.BackInZone: NeedEasierBouts, policy.Creep: NeedEasierBouts, policy.Effort: NeedEasier, policy.BoutEffort: NeedEasier,
	policy.UsualEffort: NeedEasier, policy.Forecast: NeedEasier,
	policy.Sessions: NeedDays, policy.Minutes: NeedMinutes,
}

// object puts a rule that is not met in short.
func object(x finding) record.Lack {
	o := record.Lack{Rule: x.Rule, Says: x.Says, Needed: need(changes[x.Rule])}
	switch x.Rule {
	case policy.Zone:
		o.Says = record.Fact{Code: OnlyBelowTop, Args: record.Args{"share": *x.Observed, "needed": *x.Threshold}}
	case policy.Sessions:
		reach := len(record.Keep(x.Points, func(p record.Point) bool { return policy.Within(p.Value, x.Is, *x.Threshold) }))
		o.Says = record.Fact{Code: OnlySoManyWeeks, Args: record.Args{"reach": reach, "of": len(x.Points), "least": *x.Threshold}}
	case policy.Longest:
		if x.Says.Code == TimeTooShort {
			o.Needed = need(NeedMoreTime)
		}
	case policy.Minutes:
		if x.Says.Code == BaseTooSmall {
			o.Needed = need(NeedMoreTime)
			break
		}
		o.Says = record.Fact{Code: OnlySoManyMinutes, Args: record.Args{"minutes": *x.Observed, "needed": *x.Threshold}}
	}
	return o
}

// hardTwice is the number of sessions that were hard within zone 1 from which the zone is doubted and
// not the client (common practice, no source).
const hardTwice = 2

// hardInZone1 counts the sessions of the rule on effort that kept to zone 1 and were hard all the
// same, since the zones were last set.
func (v Review) hardInZone1() int {
	rule, zone := v.Policy.Rule(policy.Effort), v.Policy.Rule(policy.Zone)
	set := v.Record.Client.ZonesOn(v.On + 1).From
	parts, _ := v.mainParts(*rule.Window)
	n := 0
	for _, m := range (draw{}).trusted(parts) {
		s := m.session
		hard := s.RPE != nil && !rule.EffortWithin(*s.RPE) || s.Talk != record.NotAsked && s.Talk != record.TalkComfortable
		if hard && s.Date >= set && zone.Keeps(100*m.below(draw{})/m.seconds) {
			n++
		}
	}
	return n
}

// HarderThanPlanned says that the heart rate was above zone 1 for too much of the time, in the last
// weeks and in the last one too as far as it was recorded.
func (v Review) HarderThanPlanned(zone record.Reason) bool {
	if zone.Rule != policy.Zone || !zone.IsUnmet() {
		return false
	}
	parts, _ := v.mainParts(7)
	parts = draw{}.trusted(parts)
	if len(parts) == 0 {
		return true
	}
	share, _, _ := shareBelow(parts, 0, draw{})
	return !v.Policy.Rule(policy.Zone).Keeps(share)
}
