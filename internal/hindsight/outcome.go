package hindsight

import (
	"cmp"
	"maps"
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

const (
	// window is the number of days after a decision that are looked at: six weeks.
	window = 42
	// goneAfter is the number of days without a session, pauses and weeks without a plan left out, from
	// which somebody counts as having dropped out; common practice, no source.
	goneAfter = 14
)

// Stretch is what is on record of a stretch of days.
type Stretch struct {
	From workout.Date `json:"from"`
	To   workout.Date `json:"to"`
	Days int          `json:"days"` // 0: nothing could be looked at
	// Sessions and Minutes are nil without any session on record.
	Sessions *int     `json:"sessions"`
	Minutes  *float64 `json:"minutes"`
	// Weeks counts the whole weeks of the stretch for which sessions were prescribed or expressly none;
	// Prescribed and Done are those weeks' sessions. All nil or 0 without a plan on record.
	Weeks      int  `json:"planned_weeks"`
	Prescribed *int `json:"prescribed"`
	Done       *int `json:"done_of_prescribed"`

	Effort    []Effort `json:"effort"`    // one for each scale; the two are never converted
	Enjoyment *Answers `json:"enjoyment"` // of 1 to 5; nil when nobody asked
	// Told counts the days on which the client said anything. Signs are nil when that is none.
	Told  int    `json:"days_told"`
	Signs []Sign `json:"signs"`
}

// Answers are the answers to one question.
type Answers struct {
	Answers int     `json:"answers"`
	Lowest  float64 `json:"lowest"`
	Median  float64 `json:"median"` // of an even number the mean of the two in the middle
	Highest float64 `json:"highest"`
}

// Effort is the perceived effort of sessions on one scale: 20 is 6-20, 10 is 0-10.
type Effort struct {
	Scale int `json:"scale"`
	Answers
}

// Sign is one reported sign with how often it was noted.
type Sign struct {
	Symptom signs.Sign   `json:"sign"`
	Tier    string       `json:"tier"` // emergency, doctor, ease or illness
	Times   int          `json:"times"`
	Last    workout.Date `json:"last"`
}

// Outcome is what came of a decision: what is on record from the day it held, for six weeks, up to the
// day before another stage holds, or up to the day from which we look back.
type Outcome struct {
	Stretch
	// Cut says why fewer than six weeks could be looked at: "today", "next-move" or "".
	Cut string `json:"cut"`
	// Before is the same for up to six weeks of the stage before the decision held.
	Before Stretch `json:"before"`
	// Weekly is what the policy said at the end of each whole week, over everything known now of the
	// days up to it.
	Weekly []Week `json:"weekly"`
	// Followed lists the decisions that came in that time, and the one that ended it.
	Followed []Followed `json:"followed"`
	// Without is the number of days without a session at the end, pauses and weeks without a plan left
	// out; Dropped that they are 14 or more, nil when fewer than 14 days can be looked at.
	Without int   `json:"days_without_session"`
	Dropped *bool `json:"dropped_out"`
	// Stage is the one on the last day.
	Stage int `json:"stage"`
}

// Week is the policy's word at the end of one week.
type Week struct {
	On      workout.Date    `json:"as_of"`
	Verdict *record.Verdict `json:"verdict"`
	// Tired is true where the tiredness pattern appeared, nil where it was not looked for or nothing was
	// reported in that week.
	Tired *bool `json:"tiredness_pattern"`
}

// Followed is a later decision.
type Followed struct {
	On    workout.Date `json:"on"`
	Act   record.Act   `json:"act"`
	Stage int          `json:"stage"` // from then on
}

// outcome looks at what came of decision i.
func outcome(k Known, p policy.Policy, i int) Outcome {
	d := k.Now.Decisions[i]
	r := atOnce(k.Now)
	stage, since := r.StageOn(d.From - 1)
	o := Outcome{Before: stretch(r, max(d.From-window, since), min(d.From-1, k.On)), Weekly: []Week{}, Followed: []Followed{}, Stage: stage}
	from, to := d.From, d.From+window-1
	if end := nextMove(k.Now, i); end != 0 && end-1 < to {
		to, o.Cut = end-1, "next-move"
	}
	if k.On < to {
		to, o.Cut = k.On, "today"
	}
	o.Stretch = stretch(r, from, to)
	for j, x := range k.Now.Decisions {
		if j > i && x.Entered <= k.On && (x.Entered <= to || x.From == to+1) {
			s, _ := k.Now.StageOn(x.From)
			o.Followed = append(o.Followed, Followed{x.Entered, x.Act, s})
		}
	}
	if o.Days == 0 {
		return o
	}
	o.Stage, _ = r.StageOn(to)
	for end := from + 6; end <= to; end += 7 {
		o.Weekly = append(o.Weekly, weekOf(r, p, end))
	}
	o.dropped(r)
	return o
}

// atOnce gives a record in which everything counts as known from the day that it is about.
func atOnce(r record.Record) record.Record {
	r.Recordings, r.Reports, r.Notes = slices.Clone(r.Recordings), slices.Clone(r.Reports), slices.Clone(r.Notes)
	for i := range r.Recordings {
		r.Recordings[i].Received = r.Recordings[i].Date
	}
	for i := range r.Reports {
		r.Reports[i].Entered = r.Reports[i].Date
	}
	for i := range r.Notes {
		r.Notes[i].Entered = r.Notes[i].Date
	}
	return r
}

// nextMove is the first day on which another stage holds than decision i led to; 0 for none. A move
// that was undone before it showed anything has it on its own first day.
func nextMove(r record.Record, i int) workout.Date {
	d := r.Decisions[i]
	stage, _ := r.StageOn(d.From)
	if (d.Act == record.DoAdvance || d.Act == record.DoStepBack) && stage != d.Stage {
		return d.From
	}
	var first workout.Date
	for _, x := range r.Decisions {
		if s, _ := r.StageOn(x.From); x.From > d.From && s != stage && (first == 0 || x.From < first) {
			first = x.From
		}
	}
	return first
}

// stretch reads what is on record from one day to another, and nothing else.
func stretch(r record.Record, from, to workout.Date) Stretch {
	s := Stretch{From: from, To: to, Days: max(0, int(to-from)+1), Effort: []Effort{}}
	if s.Days == 0 {
		return s
	}
	within := func(d workout.Date) bool { return from <= d && d <= to }
	r.Recordings = record.Keep(r.Recordings, func(x record.Recording) bool { return within(x.Date) })
	r.Reports = record.Keep(r.Reports, func(x record.Report) bool { return within(x.Date) })
	r.Notes = record.Keep(r.Notes, func(x record.Note) bool { return within(x.Date) })
	sessions := r.Sessions()
	if n := len(sessions); n > 0 {
		s.Sessions, s.Minutes = &n, new(0.0)
		for _, x := range sessions {
			*s.Minutes += x.Minutes
		}
	}
	s.plans(r, sessions)
	s.answers(sessions)
	s.signs(r, sessions)
	return s
}

// plans compares whole weeks with what was prescribed for them.
func (s *Stretch) plans(r record.Record, sessions []record.Session) {
	prescribed, done, all := 0, 0, r.Prescriptions
	for from := s.From; from+6 <= s.To; from += 7 {
		r.Prescriptions = madeBy(all, from+6)
		if p := r.PlanFor(from, from+6); p != nil {
			s.Weeks, s.Prescribed, s.Done = s.Weeks+1, &prescribed, &done
			prescribed += p.Sessions
			done += len(record.Keep(sessions, func(x record.Session) bool { return from <= x.Date && x.Date <= from+6 }))
		}
	}
}

// madeBy leaves out what was written down after a day.
func madeBy(all []record.Prescription, day workout.Date) []record.Prescription {
	return record.Keep(all, func(p record.Prescription) bool { return p.Made <= day })
}

func (s *Stretch) answers(sessions []record.Session) {
	given := map[int][]float64{} // by scale
	var enjoyed []float64
	for _, x := range sessions {
		if x.RPE != nil {
			given[x.RPE.Scale] = append(given[x.RPE.Scale], x.RPE.Value)
		}
		if x.Enjoyment > 0 {
			enjoyed = append(enjoyed, float64(x.Enjoyment))
		}
	}
	for _, scale := range []int{20, 10} {
		if a := answersOf(given[scale]); a != nil {
			s.Effort = append(s.Effort, Effort{scale, *a})
		}
	}
	s.Enjoyment = answersOf(enjoyed)
}

// answersOf is nil without an answer.
func answersOf(v []float64) *Answers {
	n := len(v)
	if n == 0 {
		return nil
	}
	slices.Sort(v)
	return &Answers{Answers: n, Lowest: v[0], Median: (v[(n-1)/2] + v[n/2]) / 2, Highest: v[n-1]}
}

// signs lists reported signs, the gravest first.
func (s *Stretch) signs(r record.Record, sessions []record.Session) {
	days := map[workout.Date]bool{}
	found := map[signs.Sign]Sign{}
	for _, n := range r.Notes {
		days[n.Date] = true
		for _, x := range n.Symptoms {
			g := found[x]
			found[x] = Sign{x, tiers[x.Tier()], g.Times + 1, max(g.Last, n.Date)}
		}
	}
	for _, x := range sessions {
		if x.RPE != nil || x.Talk != record.NotAsked {
			days[x.Date] = true
		}
	}
	if s.Told = len(days); s.Told > 0 {
		s.Signs = slices.AppendSeq([]Sign{}, maps.Values(found))
		slices.SortFunc(s.Signs, func(a, b Sign) int {
			return cmp.Or(cmp.Compare(a.Symptom.Urgency(), b.Symptom.Urgency()), cmp.Compare(a.Symptom, b.Symptom))
		})
	}
}

var tiers = map[signs.Tier]string{signs.Emergency: "emergency", signs.Doctor: "doctor", signs.AskAgain: "ease", signs.Illness: "illness"}

// weekOf is what the policy says at the end of one week. The tiredness pattern is judged against the
// client's own earlier weeks; nothing after the day is read.
func weekOf(r record.Record, p policy.Policy, end workout.Date) Week {
	a := progression.Assess(p, end, r)
	w := Week{On: end, Verdict: a.Verdict}
	if x := a.Reason(policy.Tiredness); x != nil && x.Met != nil && stretch(r, end-6, end).Told > 0 {
		w.Tired = new(!*x.Met)
	}
	return w
}

// dropped counts the days at the end without a session on which one could have been expected.
func (o *Outcome) dropped(r record.Record) {
	r.Prescriptions = madeBy(r.Prescriptions, o.To)
	last := o.From - 1
	for _, s := range r.Sessions() {
		if s.Date <= o.To {
			last = max(last, s.Date)
		}
	}
	looked := 0
	for day := o.From; day <= o.To; day++ {
		p := r.PlanFor(day, day)
		if r.Paused(day) || r.StateOn(day) == record.Finished || p != nil && p.Sessions == 0 {
			continue
		}
		looked++
		if day > last {
			o.Without++
		}
	}
	if looked >= goneAfter {
		o.Dropped = new(o.Without >= goneAfter)
	}
}
