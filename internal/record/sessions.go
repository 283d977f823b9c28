package record

import (
	"cmp"
	"slices"
	"time"

	"nextrung/internal/workout"
)

const (
	// apart is the time between recordings from which they are two sessions.
	apart = 30 * time.Minute
	// lateAfter is the number of days after which a recording counts as received late.
	lateAfter = 7
)

// Sessions lists what counts of what the client did, oldest first: recordings of one day less than
// 30 min apart are one session, and sessions without a recording come from reports.
func (r Record) Sessions() []Session {
	return Keep(r.Done(), func(s Session) bool { return s.Uncounted == "" })
}

// Answerable lists the sessions that a client may be asked about: those that count, and those of which
// an effort decides whether they do.
func (r Record) Answerable() []Session {
	return Keep(r.Done(), func(s Session) bool {
		return s.Uncounted == "" || s.Uncounted == EffortNeeded || s.Uncounted == TooLight
	})
}

// Done lists all that the client did, also what does not count, oldest first. Recordings set aside
// are not in it.
func (r Record) Done() []Session {
	recordings := Keep(r.Recordings, Recording.Counts)
	for i, x := range recordings {
		recordings[i].Workout.Sport = r.Client.Sport(x.Format, x.Workout.Sport)
	}
	slices.SortStableFunc(recordings, func(a, b Recording) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), a.Workout.Start.Compare(b.Workout.Start), cmp.Compare(a.ID, b.ID))
	})
	var all []Session
	var end time.Time // of the session that is being put together
	for _, x := range recordings {
		stop := x.Workout.Start.Add(time.Duration(x.elapsed()) * time.Second)
		minutes := float64(x.elapsed()-x.paused()) / 60
		if n := len(all); n > 0 && all[n-1].Date == x.Date && x.Workout.Start.Sub(end) < apart {
			s := &all[n-1]
			// Where two recordings overlap the time counts once.
			if over := end.Sub(x.Workout.Start).Minutes(); over > 0 {
				minutes = max(0, minutes-over)
			}
			s.Recordings = append(s.Recordings, x)
			s.Minutes += minutes
			if stop.After(end) {
				end = stop
			}
			continue
		}
		end = stop
		all = append(all, Session{Date: x.Date, Start: x.Workout.Start, Minutes: minutes, Recordings: []Recording{x}})
	}
	for i := range all {
		all[i].describe()
	}
	all = r.withReports(all)
	r.attachNotes(all)
	for i := range all {
		r.Client.judge(&all[i])
	}
	return all
}

// Awaited lists the days with an answer about effort or talk of which nothing else is known, since the file is still to
// come, as sessions without minutes. done is what Done gives.
func (r Record) Awaited(done []Session) []Session {
	var out []Session
	for _, n := range r.Notes {
		at := func(s Session) bool { return s.Date == n.Date }
		if (n.RPE != nil || n.Talk != NotAsked) && !slices.ContainsFunc(done, at) && !slices.ContainsFunc(out, at) {
			out = append(out, Session{Date: n.Date, RPE: n.RPE, Talk: n.Talk})
		}
	}
	return out
}

// describe fills in what the longest recording of a session says, and what any of them says of
// effort.
func (s *Session) describe() {
	longest := 0
	for _, x := range s.Recordings {
		if x.elapsed() > longest {
			longest = x.elapsed()
			s.Mode, s.Sport, s.Place = x.Workout.Sport.Mode(), x.Workout.Sport, x.Workout.Place
		}
		s.answer(x.Workout.Effort, NotAsked, 0, nil)
		if x.Received-x.Date > lateAfter {
			s.Late = true
		}
	}
}

// Sport is the sport that a file names or, where its format could not name it, the only sport that the client does: files of
// points alone need not name any, and TCX has no words but running, biking and other (schema TrainingCenterDatabase v2).
func (c Client) Sport(format string, named workout.Sport) workout.Sport {
	if len(c.Modes) != 1 || named.Mode() != workout.OtherMode || named == workout.Strength {
		return named
	}
	only := c.Modes[0]
	if format == "csv" || format == "gpx" || format == "tcx" && only != workout.Run && only != workout.Bike {
		return only.Sport()
	}
	return named
}

// withReports adds the reported sessions. A report of a day and mode with a recording of about the
// same length is about that recording and is no second session.
func (r Record) withReports(all []Session) []Session {
	recorded := len(all)
	for _, x := range r.Reports {
		about := slices.IndexFunc(all[:recorded], func(s Session) bool {
			return s.Date == x.Date && s.Mode == x.Sport.Mode() && max(s.Minutes-x.Minutes, x.Minutes-s.Minutes) <= max(10, x.Minutes/4)
		})
		if about >= 0 {
			all[about].answer(x.RPE, x.Talk, 0, nil)
			continue
		}
		s := Session{
			Date: x.Date, Mode: x.Sport.Mode(), Sport: x.Sport, Minutes: x.Minutes, Reported: true, Late: x.Entered-x.Date > lateAfter,
		}
		s.answer(x.RPE, x.Talk, 0, nil)
		all = append(all, s)
	}
	slices.SortStableFunc(all, func(a, b Session) int { return cmp.Compare(a.Date, b.Date) })
	return all
}

// attachNotes gives what a note says of effort, talk, enjoyment and heat to the longest session of
// its day; one in a mode that the client trains comes before weights and strolls.
func (r Record) attachNotes(all []Session) {
	notes := slices.Clone(r.Notes)
	slices.SortStableFunc(notes, func(a, b Note) int { return cmp.Compare(a.Entered, b.Entered) })
	training := func(s Session) int {
		if s.Sport == workout.Strength || !r.Client.trains(s.Mode) {
			return 0
		}
		return 1
	}
	for _, n := range notes {
		at := -1
		for i, s := range all {
			if s.Date == n.Date && (at < 0 || cmp.Or(cmp.Compare(training(s), training(all[at])), cmp.Compare(s.Minutes, all[at].Minutes)) > 0) {
				at = i
			}
		}
		if at >= 0 {
			all[at].answer(n.RPE, n.Talk, n.Enjoyment, n.HeatC)
			all[at].NoFan = all[at].NoFan || n.NoFan
		}
	}
}

// answer takes over what was answered where it is worse than what is known: a hard session must not
// vanish behind a milder answer. Of heat the last answer stands.
func (s *Session) answer(rpe *workout.RPE, talk Talk, enjoyment int, heat *float64) {
	if rpe != nil {
		s.Efforts = append(s.Efforts, *rpe)
		if s.RPE == nil || hardness(*rpe) > hardness(*s.RPE) {
			s.RPE = rpe
		}
	}
	if talk.worse() > s.Talk.worse() {
		s.Talk = talk
	}
	if enjoyment != 0 && (s.Enjoyment == 0 || enjoyment < s.Enjoyment) {
		s.Enjoyment = enjoyment
	}
	if heat != nil {
		s.HeatC = heat
	}
}

// Hot says that the air warmed the body so much that heart rate rises for that alone: above a
// temperature, or indoors without a fan (min 15 to 45 at 35 °C gave +16 % without and +4 % with one;
// Wingo and Cureton 2006).
func (s Session) Hot(warmest float64) bool {
	return s.NoFan || s.HeatC != nil && *s.HeatC > warmest
}

// hardness puts the efforts of both scales in one order, by the thresholds that stand side by side
// in the policy (13 and 4, 14 and 5, 16 and 7, 18 and 9). It is for choosing the harder one only: no
// effort is converted.
func hardness(e workout.RPE) float64 {
	if e.Scale == 10 {
		return e.Value + 9
	}
	return e.Value
}

// worse ranks answers to the talk test, the worst highest.
func (t Talk) worse() int {
	return slices.Index([]Talk{NotAsked, TalkComfortable, TalkHard, TalkNo}, t)
}

// elapsed is the length of the recording in seconds.
func (x Recording) elapsed() int {
	if x.Workout.Seconds > 0 {
		return x.Workout.Seconds
	}
	return x.Measured.HeartRate.Elapsed
}

// paused is the time in seconds during which the timer was stopped.
func (x Recording) paused() int {
	if len(x.Workout.Pauses) == 0 {
		return x.Measured.HeartRate.Paused
	}
	n := 0
	for _, p := range x.Workout.Pauses {
		n += p.Seconds()
	}
	return n
}

// Sensor is the kind of heart-rate sensor behind a recording.
func (x Recording) Sensor() workout.Sensor {
	return cmp.Or(x.Measured.HeartRate.Source, x.Workout.Sensor)
}

// IDs lists the recordings of a session.
func (s Session) IDs() []string {
	var out []string
	for _, x := range s.Recordings {
		out = append(out, x.ID)
	}
	return out
}
