package progression

import (
	"slices"
	"time"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// adult is the gate on age.
func (v Review) adult() finding {
	rule, f := v.begin(policy.Adult)
	if v.Record.Client.Born == 0 {
		return f.open(need(NeedBirthDate), AgeUnknown, nil)
	}
	age := v.Record.Client.Born.YearsAt(v.On)
	if v.grownUp() <= v.On {
		return f.told(age, true, Age, record.Args{"years": age})
	}
	return f.told(age, false, UnderAge, record.Args{"limit": *rule.Threshold})
}

// grownUp is the birthday from which training counts for a stage, by the calendar and not by days over the mean
// year; 0 where the day of birth is not known.
func (v Review) grownUp() workout.Date {
	if v.Record.Client.Born == 0 {
		return 0
	}
	return workout.DateOf(v.Record.Client.Born.Time().AddDate(int(*v.Policy.Rule(policy.Adult).Threshold), 0, 0), time.UTC)
}

// months is the age of a clearance in months of mean length.
func months(clearance, on workout.Date) float64 { return float64(on-clearance) / (365.2425 / 12) }

// disease is the gate on known disease. vigorous says that vigorous work comes next: a stage above
// the first, or a move into it.
func (v Review) disease(vigorous bool) finding {
	rule, f := v.begin(policy.Disease)
	c := v.Record.Client
	known := record.Args{"disease": c.Disease()}
	switch {
	case c.Screening.On == 0:
		if v.before() {
			return f.open(record.Fact{}, DiseaseNotAskedBy, record.Args{"on": v.On})
		}
		return f.open(record.Fact{}, DiseaseNotAsked, nil) // the rule on screening needs it
	case c.Disease() == "":
		return f.stated(true, NoDisease, nil)
	case !c.Screening.Active && (!c.Covered() || !rule.Keeps(months(c.Clearance, c.Screening.On))): // an old one cleared no start
		return f.stated(false, DiseaseInactive, known)
	case c.Clearance == 0:
		return f.stated(!vigorous, DiseaseUncleared, known)
	case !c.Covered():
		known["on"], known["since"] = c.Clearance, c.CareSince()
		return f.stated(!vigorous, DiseaseNewer, known)
	}
	age := months(c.Clearance, v.On)
	known["on"], known["months"] = c.Clearance, age
	if rule.Keeps(age) {
		return f.told(age, true, DiseaseCleared, known)
	}
	known["limit"] = *rule.Threshold
	return f.told(age, !vigorous, DiseaseStale, known)
}

// screening is the gate on the answers; after a very long break they are needed again.
func (v Review) screening() finding {
	rule, f := v.begin(policy.Screening)
	on := v.Record.Client.Screening.On
	if on == 0 {
		if v.before() {
			return f.open(need(NeedScreeningFirst), ScreeningOpenBy, record.Args{"on": v.On})
		}
		return f.open(need(NeedScreening), ScreeningOpen, nil)
	}
	if days := v.longestGapSince(on); float64(days) > rule.More["again_after_break_days"] {
		return f.open(need(NeedScreeningAgain), ScreeningOld, record.Args{"on": on, "days": days})
	}
	if len(v.Record.OpenSigns()) > 0 {
		return f.told(1, true, ScreeningThenSign, record.Args{"on": on})
	}
	return f.told(1, true, ScreeningDone, record.Args{"on": on, "clearance": string(v.Record.Client.ClearanceNeeded())})
}

// Bars lists the gates that no decision opens: those that bar all training, and those that bar what is harder than
// comfortable, for want of a doctor's clearance or while facts contradict each other; the latter belong to no rule.
//
// All training is barred unless the client is of age and screened, no sign waits for a doctor or for an answer, and who
// was inactive with a known disease has been cleared. What is harder is barred by a known disease, and by what makes a
// client train by effort, without a clearance that is new enough.
func (v Review) Bars() (all, harder []record.Reason) {
	emergency, doctor := v.signGates()
	for _, f := range []finding{v.adult(), emergency, doctor, v.screening()} {
		if !f.IsMet() {
			all = append(all, f.Reason)
		}
	}
	if f := v.disease(false); f.IsUnmet() {
		all = append(all, f.Reason)
	}
	if f := v.disease(true); f.IsUnmet() {
		harder = append(harder, f.Reason)
	}
	if f := v.clearance(); v.Record.Client.ByEffort() && !f.IsMet() {
		harder = append(harder, f.Reason)
	}
	for _, q := range v.clashes() {
		harder = append(harder, record.Reason{Says: q.Clash})
	}
	return all, harder
}

// MayTrain says that no gate bars comfortable sessions.
func (v Review) MayTrain() bool {
	all, _ := v.Bars()
	return len(all) == 0
}

// Cleared says that nothing bars vigorous work for want of a doctor's clearance.
func (v Review) Cleared() bool {
	_, harder := v.Bars()
	return !slices.ContainsFunc(harder, func(r record.Reason) bool { return r.Rule != "" })
}

// clearance is the rule for clients whose heart rate must not lead.
func (v Review) clearance() finding {
	rule, f := v.begin(policy.Clearance)
	on := v.Record.Client.Clearance
	if on == 0 {
		return f.open(need(NeedClearance), ClearanceOpen, nil)
	}
	if c := v.Record.Client; !c.Covered() {
		return f.open(need(NeedClearance), ClearanceBefore, record.Args{"on": on, "since": c.CareSince()})
	}
	age := months(on, v.On)
	return f.told(age, rule.Keeps(age), ClearanceAge, record.Args{"on": on, "months": age, "limit": *rule.Threshold})
}

// particular lists the cautions that belong to this client.
func (v Review) particular() record.Facts {
	c := v.Record.Client
	out := record.Facts{}
	say := func(when bool, code record.Code, args record.Args) {
		if when {
			out = append(out, record.Fact{Code: code, Args: args})
		}
	}
	say(c.Medicine == record.Slows, MedicineSlows, nil)
	say(c.Medicine == record.Raises, MedicineRaises, nil)
	say(c.DoseChange != 0 && v.On-c.DoseChange < 42, DoseChanged, record.Args{"on": c.DoseChange})
	say(c.Has(record.Pregnant), WithPregnancy, nil)
	say(c.Has(record.Pacemaker), WithPacemaker, nil)
	say(c.Has(record.Irregular), WithIrregular, nil)
	say(c.Has(record.Insulin), WithInsulin, nil)
	say(c.Has(record.Asthma), WithAsthma, nil)
	body := c.Body(v.On + 1)
	body.Limit = v.weeksLimit()
	say(body.Limit > 0, UnderLimit, record.Args{"limit": body.Limit, "ceiling": body.Ceiling()})
	say(v.UnderWater(), PulseUnderWater, nil)
	say(v.Stage > 1 && v.heartLeads() && v.intervalsWithoutStrap(), NoStrap, nil)
	for _, s := range v.Signs(signs.Other) {
		say(v.On-s.On < 28, OtherNoted, record.Args{"on": s.On, "sign": string(s.what)})
	}
	return out
}

// intervalsWithoutStrap says that there are interval sessions to judge, but none with a chest strap.
func (v Review) intervalsWithoutStrap() bool {
	return len(v.intervalSessions(*v.Policy.Rule(policy.IntervalSessions).Window)) > 0 && !v.strapIntervals()
}
