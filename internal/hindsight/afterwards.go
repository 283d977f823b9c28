package hindsight

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Changed says what is known today of the time before an assessment that was not known, or was known
// otherwise, on its day.
type Changed struct {
	Changes []Change `json:"changes"`
	// Policy says that the decision rested on another policy than the one at hand.
	Policy bool `json:"policy"`
	// Then is the verdict of the day, Again that of the policy at hand over what the book holds for that
	// day, and Now the same with everything known today of the time before.
	Then  *record.Verdict `json:"then"`
	Again *record.Verdict `json:"again"`
	Now   *record.Verdict `json:"now"`
	// Reads is the summary with everything known today, "" when it is that of the day.
	Reads string `json:"now_reads,omitempty"`
	Text  string `json:"text"` // all of it in plain sentences
}

// Change is one thing that is known otherwise now.
type Change struct {
	Kind ChangeKind   `json:"kind"`
	Of   workout.Date `json:"of,omitzero"`   // the day that it tells of
	Came workout.Date `json:"came,omitzero"` // when it came in, where the book tells
	ID   string       `json:"id,omitempty"`  // of the recording, note or reported session
	Text string       `json:"text"`          // a clause without a full stop
}

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
			then := before(k.then(d.Entered), d, k.Now.Decisions[:i])
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
	var out []workout.Digest
	for _, x := range r.Recordings {
		if x.Aside == "" {
			out = append(out, x.File)
		}
	}
	return out
}

// changes is nil when nothing that a decision rested on changed. then is the record of its day, and
// again the assessment that is run again over it.
func changes(k Known, p policy.Policy, d record.Decision, then record.Record, again record.Assessment) *Changed {
	c := Changed{Policy: d.Policy != "" && d.Policy != p.Digest(), Then: d.Verdict, Again: again.Verdict, Now: again.Verdict, Changes: []Change{}}
	c.recordings(k.Now, then, d)
	c.told(k.Now, then, d.Entered)
	c.facts(k.Now, then, d.Entered)
	if len(c.Changes) > 0 {
		all := Knowing(k.Now, then, d.Entered)
		all.Decisions = then.Decisions
		now := progression.Assess(p, d.Entered, all)
		c.Now = now.Verdict
		if !slices.EqualFunc(now.Summary, again.Summary, record.Fact.Equal) {
			c.Reads = reasons.Paragraph(now.Summary)
		}
	}
	if len(c.Changes) == 0 && same(c.Then, c.Again) {
		return nil
	}
	c.say(d)
	return &c
}

func same(a, b *record.Verdict) bool {
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}

// recordings compares the files of a decision with what counts now. Of a file with several workouts of
// which one was excluded since, only the rest is known to the decision's seal; that shows in the
// verdict alone.
func (c *Changed) recordings(now, then record.Record, d record.Decision) {
	used := map[workout.Digest]bool{}
	for _, f := range d.Files {
		used[f] = true
	}
	counts, aside := map[workout.Digest]bool{}, map[workout.Digest]record.Recording{}
	for _, x := range now.Recordings {
		if x.Aside != "" {
			aside[x.File] = x
			continue
		}
		counts[x.File] = true
		switch {
		case x.Date > d.Entered || used[x.File]:
		case x.Received > d.Entered:
			c.add(Change{CameLater, x.Date, x.Received, x.ID, fmt.Sprintf("the recording of %s came in on %s", between(x.Date, d.Entered), between(x.Received, d.Entered))})
		default:
			c.add(Change{EnteredSince, x.Date, x.Received, x.ID, fmt.Sprintf("the recording of %s was entered or counted again after the decision", between(x.Date, d.Entered))})
		}
	}
	seen := map[workout.Digest]bool{}
	for _, f := range d.Files {
		if counts[f] || seen[f] {
			continue
		}
		seen[f] = true
		if x, ok := aside[f]; ok {
			c.add(Change{CountsNoMore, x.Date, 0, x.ID, fmt.Sprintf("the recording of %s counts no more (%s)", between(x.Date, d.Entered), x.Aside)})
			continue
		}
		c.add(Change{OutOfTheBook, 0, 0, f.Short(), fmt.Sprintf("file %s, which counted then, was taken out or given to somebody else", f.Short())})
	}
}

func (c *Changed) add(x Change) { c.Changes = append(c.Changes, x) }

// told compares notes and reported sessions.
func (c *Changed) told(now, then record.Record, on workout.Date) {
	left := map[string]bool{}
	came := func(id string, of, entered workout.Date, what string) {
		left[id] = true
		if of <= on && entered > on {
			c.add(Change{CameLater, of, entered, id, what + " was entered on " + between(entered, on)})
		}
	}
	for _, n := range now.Notes {
		came(n.ID, n.Date, n.Entered, "the note about "+between(n.Date, on)+signsOf(n))
	}
	for _, x := range now.Reports {
		came(x.ID, x.Date, x.Entered, "the session reported for "+between(x.Date, on))
	}
	gone := func(id string, of workout.Date, what string) {
		if id != "" && !left[id] {
			c.add(Change{TakenBack, of, 0, id, what + between(of, on) + " was taken back"})
		}
	}
	for _, n := range then.Notes {
		gone(n.ID, n.Date, "the note about ")
	}
	for _, x := range then.Reports {
		gone(x.ID, x.Date, "the session reported for ")
	}
}

// signsOf adds the signs of a note, since they weigh more than anything else in it.
func signsOf(n record.Note) string {
	var out []string
	for _, s := range n.Symptoms {
		out = append(out, s.Words())
	}
	if len(out) == 0 {
		return ""
	}
	return " (" + strings.Join(out, ", ") + ")"
}

// facts compares what the client's facts say of the time up to the day.
func (c *Changed) facts(now, then record.Record, on workout.Date) {
	was, is := then.Client, Knowing(now, then, on).Client
	zones := func(day workout.Date) bool {
		a, b := was.ZonesOn(day), is.ZonesOn(day)
		a.From, b.From = 0, 0
		return !reflect.DeepEqual(a, b)
	}
	days := []workout.Date{on}
	for _, x := range then.Recordings {
		days = append(days, x.Date)
	}
	if slices.ContainsFunc(days, zones) {
		c.add(Change{Kind: ZonesChanged, Text: "the zones of days before were changed"})
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
		c.add(Change{Kind: FactsChanged, Text: "facts were entered or changed: " + strings.Join(changed, ", ")})
	}
	if n := now.Client; n.ByEffort() != is.ByEffort() && (n.DoseChange == 0 || n.DoseChange <= on) {
		c.add(Change{Kind: UndatedChange, Text: "whether heart rate may lead was entered otherwise later, and the book does not know since when that holds"})
	}
}

// Knowing is the record of a day with everything that is known now of the time up to it: recordings,
// notes and reported sessions as if they had come in on the day that they tell of, and facts that carry
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

// mostTold is the number of changes that the sentence names; all of them are in the list.
const mostTold = 3

// say writes the whole in plain sentences.
func (c *Changed) say(d record.Decision) {
	var out []string
	if n := len(c.Changes); n > 0 {
		var named []string
		for _, x := range c.Changes[:min(n, mostTold)] {
			named = append(named, x.Text)
		}
		if n > mostTold {
			named = append(named, fmt.Sprintf("and %d more", n-mostTold))
		}
		out = append(out, "Changed afterwards: "+strings.Join(named, "; ")+".")
	}
	with := "With all that is known now"
	if c.Policy {
		with += " and the policy of today"
	}
	switch {
	case len(c.Changes) > 0 && same(c.Then, c.Now):
		out = append(out, with+" the recommendation is the same ("+verdictOf(c.Now)+")"+c.reads())
	case len(c.Changes) > 0:
		out = append(out, fmt.Sprintf("%s the recommendation for %s is %s; that day it was %s", with, d.Entered.Long(), verdictOf(c.Now), verdictOf(c.Then))+c.reads())
	case c.Policy:
		out = append(out, fmt.Sprintf("The policy was changed since (then %s): by today's the recommendation is %s; that day it was %s.", ShortPolicy(d.Policy), verdictOf(c.Again), verdictOf(c.Then)))
	default:
		out = append(out, fmt.Sprintf("Run again over what the book holds for that day the recommendation is %s; that day it was %s. Something was entered for that day afterwards, or workouts are measured otherwise now.",
			verdictOf(c.Again), verdictOf(c.Then)))
	}
	c.Text = strings.TrimSpace(strings.Join(out, " "))
}

// reads ends a sentence with the summary that everything known today gives, where that is another.
func (c *Changed) reads() string {
	if c.Reads == "" {
		return "."
	}
	return ". It would read: " + c.Reads
}

func verdictOf(v *record.Verdict) string {
	if v == nil {
		return "none"
	}
	return reasons.Verdict(*v)
}

// ShortPolicy shortens a policy's digest for people: "75837e9a" of "sha256:75837e9a…".
func ShortPolicy(digest string) string {
	s := strings.TrimPrefix(digest, "sha256:")
	return s[:min(8, len(s))]
}
