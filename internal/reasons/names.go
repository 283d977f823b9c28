package reasons

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
)

// Rule is a rule's short name in a list, worded as met; Against is the same, worded as
// not met.
func Rule(id policy.ID) string { return orID(rules[id].kept, id) }

// Against is a rule's short name in a list of what is against a move.
func Against(id policy.ID) string { return orID(rules[id].against, id) }

func orID(name string, id policy.ID) string {
	if name == "" {
		return strings.ReplaceAll(string(id), "-", " ")
	}
	return name
}

var rules = map[policy.ID]struct{ kept, against string }{
	policy.Adult:            {"18 or older", "under age"},
	policy.EmergencySign:    {"no emergency sign", "an emergency sign"},
	policy.DoctorSign:       {"no sign that needs a doctor", "a sign that needs a doctor"},
	policy.Disease:          {"clearance for known disease", "known disease without a recent clearance"},
	policy.Screening:        {"screening", "screening not answered"},
	policy.Weeks:            {"weeks in stage 1", "too few weeks in stage 1"},
	policy.Clearance:        {"doctor's clearance", "no recent doctor's clearance"},
	policy.Break:            {"no long gap", "days without a session"},
	policy.Sessions:         {"sessions a week", "too few sessions a week"},
	policy.SessionsTotal:    {"sessions in all", "too few sessions in all"},
	policy.Minutes:          {"minutes a week", "too few minutes a week"},
	policy.Longest:          {"longest session", "no session long enough"},
	policy.Effort:           {"effort and talk", "too hard, or talking not comfortable"},
	policy.UsualEffort:      {"usual effort", "too hard on average, or talking not comfortable"},
	policy.Forecast:         {"forecast of the next stage", "the next stage would be too hard"},
	policy.IntervalWeeks:    {"weeks in stage 2", "too few weeks in stage 2"},
	policy.IntervalSessions: {"interval sessions", "too few interval sessions done as prescribed"},
	policy.LongerBouts:      {"longer bouts", "short bouts only"},
	policy.BoutEffort:       {"effort in bouts", "bouts too hard"},
	policy.EnoughEvidence:   {"heart-rate rules", "the heart rate is against"},
	policy.Zone:             {"time in zone 1", "too much time above zone 1"},
	policy.Steady:           {"steady heart rate", "heart rate not steady"},
	policy.CheckSession:     {"check session", "check session not level"},
	policy.Fall:             {"recovery", "slower recovery"},
	policy.SameEffort:       {"heart rate at the same pace", "higher heart rate at the same pace"},
	policy.BackInZone:       {"back in zone 1", "not back in zone 1 between bouts"},
	policy.Creep:            {"no creep over the bouts", "heart rate creeps over the bouts"},
	policy.AsPrescribed:     {"done as prescribed", "not done as prescribed"},
	policy.Resting:          {"resting heart rate", "resting heart rate up"},
	policy.Monotony:         {"hard and easy days", "days too alike"},
	policy.WeeklyRise:       {"weekly rise", "steep weekly rise"},
	policy.LongestRun:       {"longest run", "longest run too long"},
	policy.Enjoyment:        {"enjoyment", "low enjoyment"},
	policy.TiredSign:        {"no sign of tiredness", "signs of tiredness"},
	policy.Illness:          {"time since illness", "recent illness"},
	policy.Tiredness:        {"no tiredness pattern", "tiredness pattern"},
	policy.TirednessAgain:   {"no return of tiredness", "tiredness came back"},
	policy.FailedSessions:   {"interval sessions on track", "interval sessions failed"},
	policy.LongBreak:        {"no long break", "long break"},
}

// What a rule or a verdict is where data are lacking, where a doctor comes first, and where a question does.
const (
	NotEnough = "not enough data yet"
	SeeDoctor = "see a doctor first"
	AskToday  = "ask today" // a question about a grave sign is open
)

// Result says whether a rule is met.
func Result(met *bool) string {
	switch {
	case met == nil:
		return NotEnough
	case *met:
		return "met"
	}
	return "not met"
}

// Verdict is a verdict in words.
func Verdict(v record.Verdict) string {
	switch v {
	case record.StepBack:
		return "step back"
	case record.Refer:
		return SeeDoctor
	case record.NotAssessable:
		return NotEnough
	}
	return string(v)
}

// Standing is the verdict in words, or the state of a client who has none.
func Standing(a record.Assessment) string {
	if a.GraveSign() == nil && a.Doubt() != nil {
		return AskToday
	}
	if a.Verdict != nil {
		return Verdict(*a.Verdict)
	}
	if name, ok := states[a.State]; ok {
		return name
	}
	return "no verdict"
}

var states = map[record.State]string{
	record.PausedState: "paused", record.Finished: "finished", record.Maintaining: "maintaining", record.RecoveryOf: "recovery phase",
}

// Plan says what a hold is for.
func Plan(p record.HoldPlan) string {
	return map[record.HoldPlan]string{record.Build: "keep building", record.Repeat: "repeat this week", record.Return: "return after a break"}[p]
}

// DecidedOn says for which day a decision is, and when it was entered where that was later.
func DecidedOn(d record.Decision) string {
	if d.Typed == 0 {
		return d.Entered.Long()
	}
	return fmt.Sprintf("%s (entered on %s)", d.Entered.Long(), d.Typed.Long())
}

// Act says what was done, in lower case.
func Act(a record.Act) string {
	switch a {
	case record.DoAdvance:
		return "moved up"
	case record.DoHold:
		return "held"
	case record.DoEase:
		return "eased"
	case record.DoStepBack:
		return "one stage down"
	case record.DoRefer:
		return "sent to a doctor"
	case record.DoMaintain:
		return "stays by choice"
	case record.DoPause:
		return "paused"
	case record.DoResume:
		return "resumed"
	}
	return string(a)
}

// Kinds are the kinds of rules in the order in which people read them.
var Kinds = []policy.Kind{policy.Gate, policy.Required, policy.Evidence, policy.StepBackRule, policy.Informative}

// Kind names a kind of rules.
func Kind(k policy.Kind) string {
	return map[policy.Kind]string{
		policy.Gate: "Before anything else", policy.Required: "Must be met", policy.Evidence: "What the heart rate says",
		policy.StepBackRule: "Would lead to an easier week or a step back", policy.Informative: "Worth knowing, decides nothing",
	}[k]
}

// ZonesFrom says what zones rest on.
func ZonesFrom(basis string) string {
	return cmp.Or(map[string]string{
		"explicit": "edges entered by the trainer", "thresholds": "talk-test thresholds",
		"reserve": "heart-rate reserve", "maximum": "a share of maximal heart rate",
	}[basis], basis)
}

// Value writes a value with the unit of its rule.
func Value(v float64, r record.Reason) string {
	switch {
	case r.Rule == policy.Resting:
		return wording.Above(v) + " the client's usual"
	case r.Rule == policy.SameEffort || r.Rule == policy.Fall:
		return wording.Number(v) + " bpm from the client's usual"
	case r.Rule == policy.Monotony:
		return wording.Number(v)
	case r.Rule == policy.Adult:
		return wording.Count(int(math.Floor(v)), "year")
	case r.Rule == policy.Illness:
		return wording.Count(int(v), "day") + " since the illness"
	}
	return InUnit(v, r.Unit)
}

// InUnit writes a value with its unit; perceived effort has its name in front.
func InUnit(v float64, unit policy.Unit) string {
	if unit == policy.UnitRPE {
		return string(unit) + " " + wording.Number(v)
	}
	if unit == policy.UnitTimes {
		return wording.Times(int(v))
	}
	return wording.Number(v) + " " + string(unit.Of(v))
}

// TakenOff says when a fact was taken off the record, and who said so.
func TakenOff(w record.Withdrawal) string {
	return fmt.Sprintf("taken off the record on %s: %s (%s)", w.On.Long(), Withdrawn(w), w.Because)
}

// Withdrawn names a fact that was taken off the record.
func Withdrawn(w record.Withdrawal) string {
	switch w.Fact {
	case "disease":
		return cmp.Or(map[string]string{"renal": "kidney"}[w.Was], w.Was) + " disease"
	case "medicine":
		return "a medicine that slows the heart"
	case "limit_bpm":
		return "a doctor's limit of " + w.Was + " bpm"
	case "active":
		return "no regular exercise before the programme"
	case "born":
		return "birth on " + w.Was
	case "care":
		return w.Was + " as the day of what calls for a clearance"
	case "signs":
		return signs.Sign(w.Was).Words()
	}
	return map[record.Condition]string{
		record.Pregnant: "pregnancy", record.Pacemaker: "a pacemaker", record.Irregular: "an irregular rhythm", record.Insulin: "insulin",
	}[record.Condition(w.Was)]
}
