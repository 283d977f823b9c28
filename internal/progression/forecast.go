package progression

import (
	"math"
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// What the forecast takes for granted, apart from the policy. None of it has a source of its own but where one is named;
// together they were tried on invented clients.
const (
	forecastWeek = 4 // of the next stage, whose session is forecast

	// middle20 and middle10 are the effort at the top of zone 1, where moderate effort ends (Garber 2011: RPE 12-13).
	middle20, middle10 = 13.0, 4.0
	// pointsReserve is the share of the heart-rate reserve that one point of effort is worth (Garber 2011: 60 % and
	// 13-14, 90 % and 17 are 30 % for four points).
	pointsReserve = 0.075
	usualRest     = 70.0 // bpm, for somebody whose resting heart rate is not known

	answerError = 1.5 // points: what one answer is off by
	heartError  = 5.0 // bpm: how far a session strays from what was prescribed
	personError = 1.0 // points: how people differ in what they call an effort
	zoneError   = 8.5 // bpm: how far the top of zone 1 is off (Nes 2013: the maximum by 10.8 bpm, of which zone 1 takes a share)

	talkWidth  = 5.0  // bpm over which talking changes
	talkSpan   = 0.2  // of the reserve, from where talking stops being comfortable to where it stops
	talkSteps  = 25   // in which the place of the former is looked for
	talkStep   = 3.0  // bpm
	talkLapse  = 0.04 // chance that an answer about talk says nothing
	talkBorder = 3.0  // bpm over which speech at the bouts goes from sure to out of the question
)

// felt is an answer about a session with the heart rate that was prescribed for it.
type felt struct {
	record.Session
	beats float64 // bpm
	bouts bool    // those of its bouts
	seen  bool    // bouts can be seen in the recording
}

// scale is how heart rate and effort go together in one mode.
type scale struct {
	top     float64 // bpm, of zone 1 as it was first set
	reserve float64 // bpm
	point   float64 // bpm that one point of effort is worth
}

// scaleOf is false without the facts for zones.
func (v Review) scaleOf(m workout.Mode) (scale, bool) {
	first := v.Record.Client
	first.Zones = first.Zones[:min(1, len(first.Zones))]
	edges := first.Body(v.On).Unlimited().Edges(m)
	body := v.Record.Client.Body(v.On)
	most, ok := body.Maximum(m)
	if edges == nil || !ok {
		return scale{}, false
	}
	rest := body.HRRest
	if rest == 0 {
		rest = usualRest
	}
	s := scale{top: edges.BPM[1], reserve: most.BPM - rest}
	s.point = pointsReserve * s.reserve
	return s, s.reserve > 0
}

// aim is where within limits somebody goes: in the middle, or 5 bpm under the upper one where there is no lower.
func aim(low, high float64) float64 {
	if low > 0 || high == 0 {
		return (low + high) / 2
	}
	return high - 5
}

// felts are the answers about effort or talk in sessions with beats to go by, oldest first, from the day on which
// heart rates can be compared. An answer about a day without a session that counts can count against, never for.
func (v Review) felts() []felt {
	var out []felt
	from := v.alikeFrom()
	sessions := record.Keep(v.Sessions, func(s record.Session) bool { return s.Date >= from })
	plain, bouts := v.byKind(sessions)
	for _, s := range plain {
		if beats := v.steadyBeats(s); beats > 0 {
			out = append(out, felt{Session: s, beats: beats})
		}
	}
	for _, s := range bouts {
		if beats := v.boutsAim(s); beats > 0 {
			_, seen := v.asInterval(s)
			out = append(out, felt{Session: s, beats: beats, bouts: true, seen: seen})
		}
	}
	rule := v.Policy.Rule(policy.Effort)
	for _, n := range v.Record.Notes {
		known := slices.ContainsFunc(v.Sessions, func(s record.Session) bool { return s.Date == n.Date })
		if n.RPE != nil && !known && n.Date >= from && rule.TooHard(*n.RPE) {
			stray := record.Session{Date: n.Date, RPE: n.RPE, Mode: v.Record.Client.TrainedModes()[0]}
			if beats := v.steadyBeats(stray); beats > 0 {
				out = append(out, felt{Session: stray, beats: beats})
			}
		}
	}
	out = record.Keep(out, func(f felt) bool { return f.RPE != nil || f.Talk != record.NotAsked })
	slices.SortStableFunc(out, func(a, b felt) int { return int(a.Date - b.Date) })
	return out
}

// boutsAim is the heart rate of the bouts of a session: that of its plan, else the one that the zones give; 0 without zones.
func (v Review) boutsAim(s record.Session) float64 {
	plan := v.Record.PlanFor(s.Date, s.Date)
	low, high := plan.Intervals.Low, plan.Intervals.High
	if high == 0 {
		low, high, _ = v.BoutBeats(v.Record.Client.Body(s.Date), plan.Stage, plan.Intervals.Work, 0)
	}
	return aim(low, high)
}

// steadyBeats is the heart rate of a session without bouts: that of its plan, else the middle of zone 1; 0 without zones.
func (v Review) steadyBeats(s record.Session) float64 {
	edges := v.Record.Client.Body(s.Date).Edges(s.Mode)
	if plan := v.Record.PlanFor(s.Date, s.Date); plan != nil {
		for _, t := range plan.Targets {
			switch {
			case t.Mode != s.Mode || t.High == 0:
			case t.Low == 0 && edges != nil && edges.BPM[0] < t.High: // told to go slower, not how slowly
				return aim(edges.BPM[0], t.High)
			default:
				return aim(t.Low, t.High)
			}
		}
	}
	if edges == nil {
		return 0
	}
	return aim(edges.BPM[0], edges.BPM[1])
}

// nextBouts is the heart rate of the session that is forecast; 0 where none can be prescribed.
func (v Review) nextBouts() float64 {
	var last *record.Intervals
	for range forecastWeek {
		next := v.MoreBouts(v.Stage+1, last, v.perWeekPlanned())
		if next.Count == 0 {
			return 0
		}
		last = &next
	}
	body := v.Body(v.On + 1)
	body.Limit = v.weeksLimit()
	low, high, _ := v.BoutBeats(body, v.Stage+1, last.Work, 0)
	return aim(low, high)
}

// weighed is what one answer adds: for effort its weight over its variance, and that times how many points it lies above
// what its beats usually feel like; for talk a log-likelihood for each place at which it may stop being comfortable.
type weighed struct {
	sure, above float64
	talk        []float64
	// lately says that talk was asked about in the days of the rule, uneasy that it was not comfortable then.
	lately, uneasy bool
}

// uneasy counts the answers about talk in the days of the rule, and those that were not comfortable.
func uneasy(all []weighed) (not, talked int) {
	for _, x := range all {
		talked += one(x.lately)
		not += one(x.uneasy)
	}
	return not, talked
}

// tooUneasy says that talking in the sessions of stage 1 is too often not comfortable for anything harder, whatever a
// harder session would feel like: its zone 1, or the client's base, is not yet what it should be.
func (v Review) tooUneasy(rule policy.Rule, all []weighed) bool {
	not, talked := uneasy(all)
	return v.Stage == 1 && 100*float64(not) > rule.More["uneasy_percent"]*float64(talked)
}

// forecaster is false where no session can be forecast: without zones, or without the time for bouts.
func (v Review) forecaster(rule policy.Rule, effortScale int) (forecaster, bool) {
	f := forecaster{beats: v.nextBouts(), room: rule.More["effort"] - middle20, talks: v.Stage == 1}
	if effortScale == 10 {
		f.room = rule.More["effort_10"] - middle10
	}
	for _, m := range v.Record.Client.TrainedModes() {
		if s, ok := v.scaleOf(m); ok {
			f.modes = append(f.modes, s)
		}
	}
	return f, f.beats > 0 && len(f.modes) > 0
}

// lastScale is the scale of the last effort given, 0 for none.
func lastScale(all []felt) (last int) {
	for _, x := range all {
		if x.RPE != nil {
			last = x.RPE.Scale
		}
	}
	return last
}

// weighAll weighs answers by their age on the day of the review; those in modes without zones say nothing.
func (v Review) weighAll(rule policy.Rule, all []felt) []weighed {
	var out []weighed
	scales := map[workout.Mode]*scale{} // nil without zones
	for _, x := range all {
		s, known := scales[x.Mode]
		if !known {
			if found, ok := v.scaleOf(x.Mode); ok {
				s = &found
			}
			scales[x.Mode] = s
		}
		if s != nil {
			w := s.weigh(x, float64(v.On-x.Date), rule.More["half_life_days"])
			w.lately = x.Talk != record.NotAsked && x.Date >= v.days.from(*rule.Window, v.On)
			w.uneasy = w.lately && x.Talk != record.TalkComfortable
			out = append(out, w)
		}
	}
	return out
}

// forecast is the rule on how a session of the next stage would feel, from all answers of this stage and those before.
func (v Review) forecast() finding {
	rule, f := v.begin(policy.Forecast)
	needed := v.sureNeeded(rule)
	f.Threshold = &needed
	all := v.felts()
	last, recent, bouts := lastScale(all), 0, 0 // efforts of the window, and those about bouts
	for _, x := range all {
		if x.RPE == nil {
			continue
		}
		if counted := len(x.IDs()) > 0 || x.Reported; counted && x.Date >= f.From {
			f.Workouts = append(f.Workouts, x.IDs()...)
			recent++
			if x.seen {
				bouts++
			}
		}
	}
	ahead, ok := v.forecaster(rule, last)
	if !ok {
		return f.open(need(NeedZones), NoForecast, record.Args{"stage": v.Stage + 1})
	}
	given := v.weighAll(rule, all)
	if v.tooUneasy(rule, given) {
		not, talked := uneasy(given)
		return f.stated(false, TalkUneasy, record.Args{"uneasy": not, "answers": talked})
	}
	o := ahead.forecast(given)
	sure := inHundred(o.sure())
	says := record.Args{"stage": v.Stage + 1, "week": forecastWeek, "effort": math.Round(middle(last) + o.above), "limit": middle(last) + ahead.room,
		"sure": sure, "needed": needed, "answers": len(all), "talk": one(ahead.talks)}
	lacks, few := record.Args{"answers": recent, "needed": rule.More["answers"], "days": *rule.Window}, FewAnswers
	if v.Stage == 2 && recent >= int(rule.More["answers"]) {
		lacks, few = record.Args{"answers": bouts, "needed": rule.More["bout_answers"], "days": *rule.Window}, FewBoutAnswers
	}
	if lacking := lacks["answers"].(int) < int(lacks["needed"].(float64)); lacking && (recent == 0 || sure >= 50) {
		f = f.open(need(NeedEffort), few, lacks)
		return f.unless(v.early(recent, len(v.recent(*rule.Window))))
	} else if lacking { // more likely too hard than not, whatever is still to come
		return f.told(sure, false, ForecastSays, says)
	}
	return f.told(sure, sure >= needed, ForecastSays, says)
}

// inHundred is a probability in whole percent, rounded down: a forecast is never certain, and one that falls short never
// shows the figure that it falls short of.
func inHundred(p float64) float64 { return min(99, math.Floor(100*p+1e-9)) }

// sureNeeded is how sure the forecast has to be in the present stage, in percent.
func (v Review) sureNeeded(rule policy.Rule) float64 {
	if v.Stage == 2 {
		return rule.More["stage_2"]
	}
	return *rule.Threshold
}

// forecastAgain repeats the rule with other answers, as many as there were.
func (v Review) forecastAgain() func(draw, finding) finding {
	rule := v.Policy.Rule(policy.Forecast)
	all := v.felts()
	ahead, _ := v.forecaster(rule, lastScale(all))
	given, needed := v.weighAll(rule, all), v.sureNeeded(rule)
	return func(d draw, was finding) finding {
		now := resampled(d, answers, given)
		sure := inHundred(ahead.forecast(now).sure())
		met := sure >= needed && !v.tooUneasy(rule, now)
		was.Observed, was.Met = &sure, &met
		return was
	}
}
