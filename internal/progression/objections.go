package progression

import (
	"fmt"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/wording"
)

// mostNamed is the number of objections that a summary names.
const mostNamed = 2

// objection is a rule that speaks against moving up, in one short sentence, and what would have to
// change.
type objection struct{ rule, text, needed string }

// objections lists what speaks against moving up, the most telling first: what the heart rate says,
// then effort, then what was done. While the weeks of the stage are not done, what is still growing
// is no objection.
func (v Review) objections(f findings) []objection {
	building := v.days.weeks() < v.weeksAsked()
	var out []objection
	against := false
	for _, x := range f.evidence {
		against = against || x.against
		if x.against || x.Rule == "zone" && x.isUnmet() {
			out = append(out, object(x))
		}
	}
	for _, id := range []string{"effort", "bout-effort", "clearance", "sessions", "minutes", "interval-sessions", "longer-bouts", "sessions-total", "longest", "evidence"} {
		for _, x := range f.required {
			switch {
			case x.Rule != id || !x.isUnmet():
				continue
			case id == "effort" && v.hardInZone1() >= hardTwice:
				o := object(x)
				o.needed = fmt.Sprintf("The pulse kept to zone 1 and it was hard all the same: talk and effort overrule the zones. Go slower than the beats allow, and look at `nextrung client proposals %s` or do a talk test.", wording.Quoted(v.Record.Client.Name))
				out = append(out, o)
				continue
			case id == "effort" || id == "bout-effort" || id == "clearance":
			case id == "sessions" && v.Policy.Rule(id).Keeps(x.Points[len(x.Points)-1].Value) && building:
				continue // the last week had enough
			case id == "evidence" && against, id != "sessions" && building:
				continue
			}
			out = append(out, object(x))
		}
	}
	return out
}

// object puts a rule that is not met into a short sentence.
func object(x finding) objection {
	o := objection{rule: x.Rule, text: x.Text}
	switch x.Rule {
	case "zone":
		o.text = fmt.Sprintf("Only %s %% of the time lay below the top of zone 1.", wording.Number(*x.Observed))
		o.needed = "Slow down until the heart rate stays below the top of zone 1. If the effort is low and talking comfortable all the same, check what the zones rest on."
	case "steady", "check-session":
		o.needed = "Keep the sessions as they are until the heart rate stays level at an even load."
	case "same-effort":
		o.needed = "Keep the week as it is, and ask about sleep, illness, heat and strain outside of training."
	case "back-in-zone", "creep":
		o.needed = "Make the bouts easier until the heart rate comes back between them."
	case "effort", "bout-effort":
		o.needed = "Make the sessions easier until the effort keeps to its limit and talking is comfortable."
	case "sessions":
		reach := 0
		for _, p := range x.Points {
			if policy.Within(p.Value, x.Is, *x.Threshold) {
				reach++
			}
		}
		o.text = fmt.Sprintf("Only %d of %s had at least %g sessions.", reach, wording.Several(len(x.Points), "week"), *x.Threshold)
		o.needed = "Find days on which the sessions can take place."
	case "minutes":
		o.text = fmt.Sprintf("The best weeks had only %s min on average; %g are asked for.", wording.Number(*x.Observed), *x.Threshold)
		o.needed = "Let the sessions grow by a few minutes."
	}
	return o
}

// hardTwice is the number of sessions that were hard within zone 1 from which the zone is doubted and
// not the client (common practice, no source).
const hardTwice = 2

// hardInZone1 counts the sessions of the rule on effort that kept to zone 1 and were hard all the
// same, since the zones were last set.
func (v Review) hardInZone1() int {
	rule, zone := v.Policy.Rule("effort"), v.Policy.Rule("zone")
	set := v.Record.Client.ZonesOn(v.On + 1).From
	parts, _ := v.mainParts(*rule.Window)
	n := 0
	for _, m := range parts {
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
	if zone.Rule != "zone" || zone.Met == nil || *zone.Met {
		return false
	}
	parts, _ := v.mainParts(7)
	if len(parts) == 0 {
		return true
	}
	share, _, _ := shareBelow(parts, 0, draw{})
	return !v.Policy.Rule("zone").Keeps(share)
}
