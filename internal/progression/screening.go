package progression

import (
	"fmt"
	"slices"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// adult is the gate on age.
func (v Review) adult() finding {
	rule, f := v.begin("adult")
	if v.Record.Client.Born == 0 {
		return f.untold("Enter the date of birth.", "The date of birth is not known.")
	}
	age := v.Record.Client.Born.YearsAt(v.On)
	// A birthday counts by the calendar, not by days over the mean year.
	met := !v.Record.Client.Born.Time().AddDate(int(*rule.Threshold), 0, 0).After(v.On.Time())
	if met {
		return f.told(age, true, "The client is %s years old.", wording.Number(age))
	}
	return f.told(age, false, "The client is under %g: recordings are shown, but there are no stages and no age formula.", *rule.Threshold)
}

// months is the age of a clearance in months of mean length.
func months(clearance, on workout.Date) float64 { return float64(on-clearance) / (365.2425 / 12) }

// disease is the gate on known disease. vigorous says that vigorous work comes next: a stage above
// the first, or a move into it.
func (v Review) disease(vigorous bool) finding {
	rule, f := v.begin("disease")
	c := v.Record.Client
	switch {
	case c.Screening.On == 0:
		text := "Whether there is a known disease was not asked"
		if v.before() {
			text += " by " + v.On.Long()
		}
		return f.untold("", "%s.", text) // the rule on screening asks for it
	case !c.Screening.Diseased():
		return f.stated(true, "No heart, metabolic or kidney disease is known.")
	case c.Clearance == 0 && !c.Screening.Active:
		return f.stated(false, "A %s disease is known and the client was inactive: a doctor's clearance is needed before any session.", c.Screening.Disease)
	case c.Clearance == 0:
		return f.stated(!vigorous, "A %s disease is known and no clearance is on record: it is needed before vigorous work.", c.Screening.Disease)
	}
	age := months(c.Clearance, v.On)
	if rule.Keeps(age) {
		return f.told(age, true, "A %s disease is known; the clearance of %s is %s months old.", c.Screening.Disease, c.Clearance.Long(), wording.Number(age))
	}
	return f.told(age, !vigorous, "A %s disease is known and the clearance of %s is %s months old: vigorous work needs one of the last %g months.",
		c.Screening.Disease, c.Clearance.Long(), wording.Number(age), *rule.Threshold)
}

// screening is the gate on the answers; after a very long break they are asked for again.
func (v Review) screening() finding {
	rule, f := v.begin("screening")
	on := v.Record.Client.Screening.On
	if on == 0 {
		if v.before() {
			return f.untold("Answer the screening questions before the first session.", "The screening questions were not answered by %s.", v.On.Long())
		}
		return f.untold("Answer the screening questions.", "The screening questions are not answered.")
	}
	if days := v.longestGapSince(on); float64(days) > rule.More["again_after_break_days"] {
		return f.untold("Answer the screening questions anew.", "The screening of %s is from before a break of %s.", on.Long(), wording.Several(days, "day"))
	}
	if slices.ContainsFunc(v.Signs(signs.Emergency, signs.Doctor), func(s Noted) bool { return s.On > v.Record.Client.Clearance }) {
		return f.told(1, true, "The screening questions were answered on %s. A sign was noted since.", on.Long())
	}
	return f.told(1, true, "The screening questions were answered on %s: medical clearance %s.", on.Long(), v.Record.Client.Screening.Clearance())
}

// clearance is the rule for clients whose heart rate must not lead.
func (v Review) clearance() finding {
	rule, f := v.begin("clearance")
	on := v.Record.Client.Clearance
	if on == 0 {
		return f.untold("Enter the date of a doctor's clearance.", "Heart rate must not lead for this client, and no doctor's clearance is on record.")
	}
	age := months(on, v.On)
	return f.told(age, rule.Keeps(age), "The clearance of %s is %s months old; at most %g are asked for.", on.Long(), wording.Number(age), *rule.Threshold)
}

// particular lists the cautions that belong to this client.
func (v Review) particular() []string {
	c := v.Record.Client
	out := []string{}
	say := func(when bool, text string, args ...any) {
		if when {
			out = append(out, fmt.Sprintf(text, args...))
		}
	}
	say(c.Medicine == record.Slows, "A medicine slows the heart: zones and heart-rate rules are off; effort and talk lead.")
	say(c.Medicine == record.Raises, "A medicine raises the heart rate: compare only within one dose, and let effort and talk overrule the zones.")
	say(c.DoseChange != 0 && v.On-c.DoseChange < 42, "A dose was changed on %s: heart rates from before are not compared with those after.", c.DoseChange.Long())
	say(c.Has(record.Pregnant), "During and after pregnancy effort and talk lead, not heart rate; the doctor or midwife has the last word.")
	say(c.Has(record.Pacemaker), "With a pacemaker the heart rate says little about effort: heart-rate rules are off.")
	say(c.Has(record.Irregular), "With an irregular rhythm sensors misread the pulse: heart-rate rules are off.")
	say(c.Has(record.Insulin), "With insulin, check blood sugar before and after sessions as the doctor said, and keep sugar at hand.")
	say(c.Has(record.Asthma), "With asthma, keep the reliever at hand, warm up longer, and stop when it wheezes.")
	say(v.Stage > 1 && !c.ByEffort() && v.intervalsWithoutStrap(), "The interval sessions have no heart-rate data of chest-strap type, so effort decides.")
	for _, s := range v.Signs(signs.Other) {
		say(v.On-s.On < 28, "Noted on %s: %s.", s.On.Long(), string(s.what))
	}
	return out
}

// intervalsWithoutStrap says that there are interval sessions to judge, but none with a chest strap.
func (v Review) intervalsWithoutStrap() bool {
	return len(v.intervalSessions(*v.Policy.Rule("interval-sessions").Window)) > 0 && !v.strapIntervals()
}
