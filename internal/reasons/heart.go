package reasons

import (
	p "nextrung/internal/progression"
	"nextrung/internal/record"
)

// leftOut is said of sessions in the heat, which do not count.
const leftOut = `{{if .hot}} {{are .hot "session" "sessions"}} in the heat or without a fan {{verb .hot "does" "do"}} not count.{{end}}`

// belowTop says how much of the sessions that count was below the top of zone 1.
const belowTop = `{{number .share}} % of the main part of {{count .sessions "session"}} was below the top of zone 1 (needed: at least {{number .needed}} %).`

// heart is what the heart rate says.
var heart = map[record.Code]string{
	p.EvidenceTally: `Heart-rate rules: {{if .met}}{{number .met}}{{else}}none{{end}} of {{number .rules}} met{{if .against}}, {{number .against}} against{{end}}{{if .open}}, {{number .open}} without enough data yet{{end}} ` +
		`(needed: {{if .needed}}at least {{number .needed}} met and {{end}}none against).`,
	p.FewZoneSessions: `Heart rate was recorded in {{some .sessions "session"}} of the last {{count .days "day"}} (needed: at least {{number .needed}}).`,
	p.FewWithoutSuggested: `Talking was comfortable above zone 1 in {{count .left "session"}}, which count neither for nor against until the suggested top of zone 1 is answered; ` +
		`that leaves {{some .sessions "session"}} (needed: at least {{number .needed}}).`,
	p.ZoneShare:       belowTop,
	p.ZoneShareOfRest: belowTop + ` {{are .left "more session" "more sessions"}} left out: talking was comfortable above zone 1, and a higher top was suggested.`,
	p.OnlyBelowTop:    `Only {{number .share}} % of the main part was below the top of zone 1 (needed: at least {{number .needed}} %).`,

	p.FewSteadySessions: `{{if .sessions}}Only {{are .sessions "session shows" "sessions show"}}{{else}}No session shows{{end}} whether the heart rate stays level (needed: at least {{number .needed}}).` + leftOut,
	p.Drift: `Drift stayed within {{number .limit}} bpm per 10 min in {{last .kept .of "session"}} that show it ` +
		`(needed: {{number .needed}}; the {{ordinal .needed}}-lowest is {{number .value}}).`,
	p.CheckInHeat:        `The check session of {{day .on}} was done in the heat or without a fan.`,
	p.CheckWithoutEffort: `Nobody has asked how hard the check session of {{day .on}} was.`,
	p.CheckRise: `In the check session of {{day .on}} the last 5 min were {{above .rise}} minutes 8 to 12, at an effort of {{effort .effort .scale}} ` +
		`(needed: at most {{number .limit}} bpm, at an effort of at most {{number .hardest}}).`,

	p.SameEffortUncompared: `Heart rate at the same pace or power cannot be compared with the client's usual yet: {{list .why}} ({{some .measurements "measurement"}} so far).` + leftOut,
	p.SameEffort: `Heart rate at the same pace or power: {{number .after}} bpm, usually {{number .before}}; ` +
		`up to {{number .chance}} bpm is normal day-to-day variation.` + leftOut,
	p.RecoveryUncompared: `Recovery cannot be compared with the client's usual yet: {{list .why}} ({{some .measurements "measurement"}} so far).` + leftOut,
	p.Recovery: `Recovery: drop of {{number .after}} bpm in 60 s, usually {{number .before}}; ` +
		`up to {{number .chance}} bpm is normal day-to-day variation.` + leftOut,
	p.NoneOfLate:  `nothing from the last few weeks`,
	p.TooFewAlike: `too few under the same conditions`,

	p.FewBackInZone: `{{if .sessions}}Only {{are .sessions "session shows" "sessions show"}}{{else}}No session shows{{end}} whether the heart rate comes back into zone 1 between bouts (needed: at least {{number .needed}}).`,
	p.BackInZone:    `{{if eq (number .share) "100"}}After {{part .bouts .bouts "bout"}}{{else}}After {{number .share}} % of the {{count .bouts "bout"}}{{end}} the heart rate was back in zone 1 before the next one (needed: at least {{number .needed}} %).`,
	p.FewCreep:      `{{if .sessions}}Only {{are .sessions "session shows" "sessions show"}}{{else}}No session shows{{end}} whether the heart rate creeps up from bout to bout (needed: at least {{number .needed}}).`,
	p.Creep: `In {{last .kept .of "interval session"}} the heart rate rose by at most {{number .limit}} bpm from the second bout to the last ` +
		`(needed: {{number .needed}}; the {{ordinal .needed}}-lowest is {{number .value}}).`,
}
