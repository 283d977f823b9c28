package reasons

import (
	p "nextrung/internal/progression"
	"nextrung/internal/record"
)

// training is what was done: weeks, sessions, minutes, and breaks.
var training = map[record.Code]string{
	p.WeeksDone:  `In stage {{number .stage}} for {{count .weeks "week"}} (needed: at least {{number .needed}}{{only .because}}).`,
	p.WeeksAhead: `{{only .begins}} {{capital (print "at least " (are .needed "week is" "weeks are"))}} needed{{only .because}}.`,
	p.WeeksSoFar: `In stage {{number .stage}} for {{if .weeks}}{{count .weeks "week"}}{{else}}less than a week{{end}} so far (needed: at least {{number .needed}}{{only .because}})` +
		`{{with .first}}; if every week is done as planned, the first decision can be made on {{day .}}{{end}}.`,
	p.WeeksAway:       weeksTrained + `.`,
	p.WeeksSoFarAway:  weeksTrained + `{{with .first}}; if every week is done as planned, the first decision can be made on {{day .}}{{end}}.`,
	p.ActiveBefore:    `, since the client was active before`,
	p.InactiveBefore:  `, since the client was inactive before`,
	p.TrainedBefore:   `, since the client has trained for long enough before`,
	p.ActivityUnknown: `, since it is not known whether the client was active before`,

	p.WalksDoNotCount: `{{are .walks "walk does" "walks do"}} not count, since walking is not among {{.client}}'s modes. To count them, set the modes to {{comma .modes}}.`,
	p.NoSession:       `No session of this stage is on record yet.{{each .walks}}`,
	p.NoSessionLately: `No session on these days is on record.`,
	p.FilesToCome:     `The client has answered about {{are .sessions "session whose recording has" "sessions whose recordings have"}} not arrived.`,
	p.FirstWeekRuns:   `The first week of the stage is not over yet.`,
	p.SessionsAWeek: `Sessions a week, oldest first: {{numbers .weeks}}{{if .strength}}, including {{count .strength "strength session"}}{{end}}. ` +
		`{{capital (part .reach (len .weeks) "week")}} had at least {{count .least "session"}} (needed: {{number .needed}} of the last {{number .window}}).` +
		`{{if more (len .weeks) .needed}} What counts is the {{ordinal .needed}}-best week: {{number .best}}.{{end}}` +
		`{{if .so_far}} {{are .so_far "week is" "weeks are"}} over so far.{{end}}{{each .walks}}`,
	p.MinutesAWeek:  minutesAWeek + `; the goal is {{number .goal}}).` + minutesSoFar,
	p.MinutesOfTime: minutesAWeek + `, for a client who has {{number .has}} min; the goal is {{number .goal}}).` + minutesSoFar,
	p.BaseTooSmall: `The client has time for {{number .has}} min a week, which is too small a base for intervals (needed: at least {{number .needed}}). ` +
		`One more session a week or longer ones would help; until then stage 1 is the right place.`,
	p.TimeTooShort: `The client has time for {{number .has}} min at a time, which is too short for intervals (needed: at least {{number .needed}}). ` +
		`Longer sessions{{if many .a_day}}, or two on one day,{{end}} would help; until then stage 1 is the right place.`,
	p.SessionsTotal: `{{count .sessions "session"}}{{if .strength}}, including {{count .strength "strength session"}},{{end}} ` +
		`since the stage began on {{day .since}} (needed: at least {{number .needed}}).{{each .walks}}`,
	p.LongestSession:    `The longest session lasted {{whole .minutes}} min, on {{day .on}} (needed: at least {{number .needed}}; the goal is {{number .goal}}).`,
	p.LongestDay:        `{{capital (count .pieces "session")}} on {{day .on}} add up to {{whole .minutes}} min (needed: at least {{number .needed}}; the goal is {{number .goal}}).`,
	p.OnlySoManyWeeks:   `{{if .reach}}Only {{number .reach}}{{else}}None{{end}} of the {{count .of "week"}} had at least {{count .least "session"}}.`,
	p.OnlySoManyMinutes: `The best weeks had only {{whole .minutes}} min on average (needed: at least {{number .needed}}).`,

	p.NothingPrescribed: `Nothing was prescribed for the past week.`,
	p.WeekDone: `{{capital (part .sessions .of_sessions "session")}} and {{whole .minutes}} of {{number .of_minutes}} min done` +
		`{{if .of_intervals}}, and {{part .intervals .of_intervals "interval session"}} done as prescribed{{end}} ` +
		`(needed: at least {{number .needed}} % of each).`,
	p.MonotonyOpen:      `Monotony needs the effort of every session on the 0-10 scale.`,
	p.MonotonyUndefined: `Monotony is not defined for a week without sessions or with seven equal days.`,
	p.Monotony:          `Foster monotony is {{number .monotony}}; up to {{number .limit}} is usual.`,
	p.TooFewWeeks:       `There are not enough weeks to compare yet.`,
	p.RiseNoConcern:     `The week had {{whole .minutes}} min; below {{number .from}} min a rise is no concern.`,
	p.WeeklyRise:        `The week had {{whole .minutes}} min, {{change .rise "more" "less"}} than the weeks before it ({{whole .before}} min on average).`,
	p.NoRuns:            `There are no runs to compare.`,
	p.LongestRun: `The longest run lasted {{whole .minutes}} min, {{change .rise "longer" "shorter"}} than the longest of the {{number .days}} days before ` +
		`({{whole .before}} min).`,

	p.NoBreak:     `No session of this stage is on record yet, so there is no break.`,
	p.LastSession: `The last session was {{ago .days}}.`,
	p.BreakRuns:   `No session for {{count .days "day"}}: an easy return comes first.{{each .walks}}`,
	p.ReturnRuns:  `A break of {{count .days "day"}} ended on {{day .on}}: the easy return is not over yet.`,
	p.ReturnDone:  `The easy return after a break of {{count .days "day"}} is done.`,
	p.GapShort:    `The longest recent gap between sessions is {{count .days "day"}}.`,
	p.GapAnswered: `The move to this stage already took account of the break of {{count .days "day"}}.`,
	p.GapLong:     `No session for {{count .days "day"}}; more than {{count .limit "day"}} leads to a step back.`,

	p.NoIntervals: `No recorded interval session can be compared with a prescription` +
		`{{if .prescribed}}; {{are .prescribed "was" "were"}} prescribed in the last {{count .days "day"}}{{end}}.`,
	p.IntervalsDone:   intervalsDone,
	p.EasyBouts:       `Their bouts lasted {{whole .bouts}} min, but the heart rate was above zone 1 for only {{whole .above}} min: check that they feel brisk.`,
	p.IntervalsLonger: intervalsDone + ` In {{number .longer}} of them the bouts were longer than prescribed; these count too.`,
	p.NoTimeForBouts: `The client has time for {{number .has}} min at a time, which is too short for bouts of {{number .seconds}} s. ` +
		`Longer sessions would help; until then stage 2 is the right place.`,
	p.LongerBoutsDone: `{{capital (some .done "interval session")}} with bouts of at least {{number .seconds}} s in the last {{count .days "day"}} ` +
		`(needed: at least {{number .needed}}).`,
	p.FailedInARow: `{{if many .failed}}The last {{number .failed}} interval sessions were cut short or too hard` +
		`{{else if .failed}}The last interval session was cut short or too hard` +
		`{{else}}No interval session so far, or the last one was neither cut short nor too hard{{end}}; more than {{number .limit}}{{if not .failed}} failed ones{{end}} in a row lead to a step back.`,
}

const (
	weeksTrained = `{{if .weeks}}{{capital (count .weeks "week")}}{{else}}No week{{end}} with sessions in stage {{number .stage}} so far, not counting {{count .away "week"}} away (needed: at least {{number .needed}}{{only .because}})`
	minutesAWeek = `Minutes a week, oldest first: {{wholes .weeks}}{{if .strength}}, including {{count .strength "strength session"}}{{end}}. ` +
		`The best {{if many .of}}{{count .of "week"}} had {{whole .best}} min on average{{else}}week had {{whole .best}} min{{end}} ` +
		`(needed: at least {{number .needed}}`
	minutesSoFar = `{{if .so_far}} {{are .so_far "week is" "weeks are"}} over so far.{{end}}{{each .walks}}`

	intervalsDone = `Done as prescribed in the last {{count .days "day"}}: {{part .done .recorded (print (or (and .missing "recorded ") "") "interval session")}} ` +
		`(needed: at least {{number .needed}}{{if .missing}}; {{number .prescribed}} were prescribed{{end}}).{{each .easy}}`
)

// efforts are what the client said of effort, talk and enjoyment.
var efforts = map[record.Code]string{
	p.FewAnswers:     `{{capital (some .answers "answer")}} about effort or talk in the last {{count .days "day"}} (needed: at least {{number .needed}}).`,
	p.FewBoutAnswers: `{{capital (some .answers "answer")}} about the effort of sessions with bouts in the last {{count .days "day"}} (needed: at least {{number .needed}}).`,
	p.NoBoutsToRate:  `No session with bouts is on record, so no effort can be compared with their limit yet.`,
	p.EffortTooHard:  `The highest effort was {{effort .worst .scale}}; {{if more .limit .usual}}most should be at or below {{number .usual}}, and {{end}}none may be above {{number .limit}} ({{count .answers "answer"}}).{{each .twice}}`,
	p.EffortOftenHard: `In {{part .over .answers "answer"}} the effort was above {{number .limit}}, up to {{effort .worst .scale}}; ` +
		`most of them should be at or below {{number .limit}}.{{each .twice}}`,
	p.EffortMostlyKept: `In most of the {{count .answers "answer"}} the effort was within the limit of {{number .limit}}; ` +
		`the highest was {{effort .worst .scale}}, which is fine now and then.{{each .twice}}`,
	p.EffortKept:      `The highest effort was {{effort .worst .scale}} (needed: at most {{number .limit}}; {{count .answers "answer"}}).{{each .twice}}`,
	p.TalkUneasy:      `Talking was not comfortable in {{part .uneasy .answers "session"}}.`,
	p.TalkEasy:        `Talking was comfortable in {{part .answers .answers "session"}}.`,
	p.StrayEffort:     `An effort of {{effort .effort .scale}} was given for {{day .on}}, a day without a session that counts; no answer may be above {{number .limit}}.`,
	p.AnsweredTwice:   `On {{day .on}} there were {{word (len .answers)}} answers, {{list .answers}}; the highest counts.`,
	p.EffortGiven:     `{{effort .effort .scale}}`,
	p.UsualEffortSays: `The mean effort of {{count .answers "answer"}} in the last {{count .days "day"}} was {{number .usual}} (needed: at most {{number .limit}}).`,
	p.ForecastSays: `Week {{number .week}} of stage {{number .stage}} would feel like about {{number .effort}} (limit {{number .limit}}): {{number .sure}} % sure ` +
		`to stay within it{{if .talk}} and still be able to talk{{end}}, going by {{count .answers "answer"}} (needed: at least {{number .needed}} %).`,
	p.NoForecast:   `Without heart-rate zones, or the time for bouts, nobody can say how stage {{number .stage}} would feel.`,
	p.FewEnjoyment: `{{capital (some .answers "answer")}} about enjoyment so far (needed: {{number .needed}}).`,
	p.Enjoyment:    `Enjoyment was {{number .limit}} or less in {{last .low .of "answer"}}.`,
	p.EnjoymentLow: `Enjoyment was {{number .limit}} or less in {{last .low .of "answer"}}: talk about it before moving up.`,
}
