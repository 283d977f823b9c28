package hindsight

import (
	"reflect"
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Changed says what is known today about the time before an assessment that was not known, or known
// otherwise, on its day.
type Changed struct {
	On      workout.Date `json:"as_of"` // the day of the decision
	Changes []Change     `json:"changes"`
	// Policy says that the decision rested on another policy than the one at hand.
	Policy     bool   `json:"policy"`
	ThenPolicy string `json:"policy_then"`
	// Then is the verdict of the day, Again that of the policy at hand over what the book holds for that
	// day, and Now the same with everything known today of the time before.
	Then  *record.Verdict `json:"then"`
	Again *record.Verdict `json:"again"`
	Now   *record.Verdict `json:"now"`
	// Differ are the rules with a different result given everything known today.
	Differ []Differs `json:"rules_that_differ,omitempty"`
}

// Differs is a rule with what was found on the day and what is found now: true, false, or nil for not
// enough data.
type Differs struct {
	Rule policy.ID `json:"rule"`
	Then *bool     `json:"then"`
	Now  *bool     `json:"now"`
}

// Change is one thing that is known differently now.
type Change struct {
	Kind  ChangeKind   `json:"kind"`
	Thing Thing        `json:"thing,omitempty"`     // what changed; "" for facts and zones
	Of    workout.Date `json:"of,omitzero"`         // the day it is about
	Came  workout.Date `json:"came,omitzero"`       // when it came in, where the book says
	ID    string       `json:"id,omitempty"`        // of the recording, file, note or reported session
	Signs []signs.Sign `json:"signs,omitempty"`     // of a note
	Aside record.Fact  `json:"aside_fact,omitzero"` // why a recording no longer counts
	Facts []string     `json:"facts,omitempty"`     // the names of those that changed
}

// Thing is what a change is about.
type Thing string

// The things.
const (
	Recording Thing = "recording"
	Note      Thing = "note"
	Report    Thing = "report"
)

// ChangeKind is the kind of a change.
type ChangeKind string

// The kinds of changes.
const (
	CameLater     ChangeKind = "came-later"     // received or entered after the day
	EnteredSince  ChangeKind = "entered-since"  // not used then although it counts as known by that day
	CountsNoMore  ChangeKind = "counts-no-more" // set aside or excluded since
	OutOfTheBook  ChangeKind = "out-of-the-book"
	TakenBack     ChangeKind = "taken-back" // a note or reported session
	ZonesChanged  ChangeKind = "zones"
	FactsChanged  ChangeKind = "facts"
	UndatedChange ChangeKind = "undated-facts" // since when they hold is not known
)

// Since compares what was said on a day with what is known now of the days up to it: by the last
// decision of that day, else by the assessment that was kept of it, else by one that is run again. It is
// nil when nothing changed.
func Since(k Known, p policy.Policy, on workout.Date, kept *record.Assessment) *Changed {
	for i := len(k.Now.Decisions) - 1; i >= 0; i-- {
		if d := k.Now.Decisions[i]; d.Entered == on {
			then := Before(k.then(d.Entered), d, k.Now.Decisions[:i])
			return changes(k, p, d, then, progression.Assess(p, d.Entered, then))
		}
	}
	then := k.then(on)
	again := progression.Assess(p, on, then)
	if kept == nil {
		kept = &again
	}
	d := record.Decision{Entered: on, Verdict: kept.Verdict, Policy: kept.Policy, Files: files(then)}
	return changes(k, p, d, then, again)
}

// files are the digests that an assessment rests on.
func files(r record.Record) []workout.Digest {
	counting := record.Keep(r.Recordings, record.Recording.Counts)
	return record.Map(counting, func(x record.Recording) workout.Digest { return x.File })
}

// changes is nil when nothing that a decision rested on changed. then is the record of its day, and
// again the assessment that is run again over it.
func changes(k Known, p policy.Policy, d record.Decision, then record.Record, again record.Assessment) *Changed {
	c := Changed{On: d.Entered, ThenPolicy: d.Policy, Policy: d.Policy != "" && d.Policy != p.Digest(), Then: d.Verdict, Again: again.Verdict, Now: again.Verdict, Changes: []Change{}}
	c.recordings(k.Now, then, d)
	c.told(k.Now, then, d.Entered)
	c.facts(k.Now, then, d.Entered)
	if len(c.Changes) > 0 {
		all := Knowing(k.Now, then, d.Entered)
		all.Decisions = then.Decisions
		now := progression.Assess(p, d.Entered, all)
		c.Now = now.Verdict
		c.Differ = differ(again, now)
	}
	if len(c.Changes) == 0 && equal(c.Then, c.Again) {
		return nil
	}
	return &c
}

// differ lists the rules on which two assessments disagree.
func differ(then, now record.Assessment) []Differs {
	was := map[policy.ID]*bool{}
	for _, r := range then.Reasons {
		was[r.Rule] = r.Met
	}
	var out []Differs
	for _, r := range now.Reasons {
		if before, ok := was[r.Rule]; !ok || !equal(before, r.Met) {
			out = append(out, Differs{r.Rule, before, r.Met})
		}
	}
	return out
}

// equal says that both are unknown or both the same.
func equal[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }

// recordings compares the files of a decision with what counts now. Of a file with several workouts of
// which one was excluded since, only the rest is known to the decision's seal; that shows in the
// verdict alone.
func (c *Changed) recordings(now, then record.Record, d record.Decision) {
	counts, aside := map[workout.Digest]bool{}, map[workout.Digest]record.Recording{}
	for _, x := range now.Recordings {
		if !x.Counts() {
			aside[x.File] = x
			continue
		}
		counts[x.File] = true
		switch {
		case x.Date > d.Entered || slices.Contains(d.Files, x.File):
		case x.Received > d.Entered:
			c.add(Change{Kind: CameLater, Thing: Recording, Of: x.Date, Came: x.Received, ID: x.ID})
		default:
			c.add(Change{Kind: EnteredSince, Thing: Recording, Of: x.Date, Came: x.Received, ID: x.ID})
		}
	}
	for i, f := range d.Files {
		x, ok := aside[f]
		switch {
		case counts[f] || slices.Contains(d.Files[:i], f):
		case ok:
			c.add(Change{Kind: CountsNoMore, Thing: Recording, Of: x.Date, ID: x.ID, Aside: x.Aside})
		default:
			c.add(Change{Kind: OutOfTheBook, Thing: Recording, ID: f.Short()})
		}
	}
}

func (c *Changed) add(x Change) { c.Changes = append(c.Changes, x) }

// told compares notes and reported sessions.
func (c *Changed) told(now, then record.Record, on workout.Date) {
	left := map[string]bool{}
	came := func(x Change) {
		left[x.ID] = true
		if x.Of <= on && x.Came > on {
			x.Kind = CameLater
			c.add(x)
		}
	}
	for _, n := range now.Notes {
		came(Change{Thing: Note, Of: n.Date, Came: n.Entered, ID: n.ID, Signs: n.Symptoms})
	}
	for _, x := range now.Reports {
		came(Change{Thing: Report, Of: x.Date, Came: x.Entered, ID: x.ID})
	}
	gone := func(x Change) {
		if x.ID != "" && !left[x.ID] {
			x.Kind = TakenBack
			c.add(x)
		}
	}
	for _, n := range then.Notes {
		gone(Change{Thing: Note, Of: n.Date, ID: n.ID})
	}
	for _, x := range then.Reports {
		gone(Change{Thing: Report, Of: x.Date, ID: x.ID})
	}
}

// facts compares what the client's facts say about the time up to the day.
func (c *Changed) facts(now, then record.Record, on workout.Date) {
	was, is := then.Client, Knowing(now, then, on).Client
	zones := func(day workout.Date) bool {
		a, b := was.ZonesOn(day), is.ZonesOn(day)
		a.From, b.From = 0, 0
		return !reflect.DeepEqual(a, b)
	}
	if zones(on) || slices.ContainsFunc(then.Recordings, func(x record.Recording) bool { return zones(x.Date) }) {
		c.add(Change{Kind: ZonesChanged})
	}
	var changed []string
	for _, f := range []struct {
		name    string
		was, is any
	}{
		{"date of birth", was.Born, is.Born}, {"sex", was.Sex, is.Sex}, {"screening", was.Screening, is.Screening},
		{"clearance", was.Clearance, is.Clearance}, {"medicine", was.Medicine, is.Medicine}, {"beginning of the stage", [2]int{was.Stage, int(was.Since)}, [2]int{is.Stage, int(is.Since)}},
	} {
		if !reflect.DeepEqual(f.was, f.is) {
			changed = append(changed, f.name)
		}
	}
	if len(changed) > 0 {
		c.add(Change{Kind: FactsChanged, Facts: changed})
	}
	if n := now.Client; n.ByEffort() != is.ByEffort() && (n.DoseChange == 0 || n.DoseChange <= on) {
		c.add(Change{Kind: UndatedChange})
	}
}

// Knowing is the record of a day with everything that is known now of the time up to it: recordings,
// notes and reported sessions as if they had come in on the day that they are about, and facts that carry
// a date. Facts without one (modes, conditions, a medicine without the date of its dose) stay as they
// were known then: since when they hold is not known.
func Knowing(now, then record.Record, on workout.Date) record.Record {
	c, n := then.Client, now.Client
	c.Born, c.Sex, c.HeightCM, c.MassKG, c.TimeZone, c.Zones = n.Born, n.Sex, n.HeightCM, n.MassKG, n.TimeZone, n.Zones
	if n.Screening.On != 0 && n.Screening.On <= on {
		c.Screening = n.Screening
	}
	if n.Clearance != 0 && n.Clearance <= on {
		c.Clearance = n.Clearance
	}
	if n.DoseChange != 0 && n.DoseChange <= on {
		c.DoseChange, c.Medicine = n.DoseChange, n.Medicine
	}
	if n.Since <= on {
		c.Stage, c.Since = n.Stage, n.Since
	}
	all := atOnce(now)
	all.Client = c
	return all.Until(on)
}
