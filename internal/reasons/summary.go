package reasons

import (
	p "nextrung/internal/progression"
	"nextrung/internal/record"
)

// summaries are the verdict in short, the cautions of one client, and what a verdict depends on.
var summaries = map[record.Code]string{
	record.Written: `{{with index . "text"}}{{.}}{{else}}{{.of}}{{end}}`,

	p.SensorDoubted: `The sensor could not be trusted in {{part .doubted .of "recording"}} of the last {{count .days "day"}}.`,

	p.Paused:        `Paused: no assessment.`,
	p.Finished:      `Finished: no assessment.`,
	p.NotEnough:     `Not enough data yet.`,
	p.NoStage:       `No stage has been set.`,
	p.DoctorFirst:   `The client has to see a doctor first.`,
	p.AskFirst:      `Ask first.`,
	p.ClientWrote:   `On {{day .on}} the client wrote {{quote .text}}. Comfortable sessions only until that is answered.`,
	p.Ready:         `Ready for stage {{number .stage}}: every required rule is met.`,
	p.HearSentences: `Answers can be rosier than sessions are, so hear the client first: after three minutes a little brisker than usual, talking should still sound comfortable.`,
	p.HearShort:     `Answers can be rosier than sessions are, so hear the client first: after three minutes as hard as the harder parts will be, short sentences should still be possible.`,
	p.OneStageDown:  `One stage down, to stage {{number .stage}}.`,
	p.EasierWeek:    `An easier week in the same stage.`,
	p.AfterBreak:    `Coming back after a break.`,
	p.StaysByChoice: `Stays in stage {{number .stage}} by choice.`,
	p.RecoveryPhase: `In a recovery phase: zone 1 only.`,
	p.LastStage:     `Stage 3 is the last one{{if not .objections}}: keep it up{{end}}.`,
	p.Uncleared:     `A doctor's clearance is missing: comfortable sessions only until it is entered.`,
	p.AboveLimit: `The limit of {{whole .limit}} bpm leaves no room for stage {{number .stage}}, whose harder parts begin at {{whole .from}} bpm: keep to comfortable sessions. ` +
		`Only a new limit from the doctor changes that.{{with .back}} Until then the client trains as in stage {{number .}}: step back, so that the stage on record matches the training.{{end}}`,
	p.Building:     `Building, week {{number .week}} of {{number .weeks}}{{with .first}}, first decision on {{day .}}{{end}}.`,
	p.NotYet:       `Not yet.`,
	p.ByThePlan:    `If every week is done as planned, the first decision can be made on {{day .first}}.`,
	p.AfterIllness: `Normal weeks after the illness come first.`,
	p.StageBegins:  `{{.client}}'s stage {{number .stage}} begins on {{day .on}}.`,

	p.MedicineSlows:   `A medicine slows the heart, so zones and heart-rate rules do not apply: go by effort and talk.`,
	p.MedicineRaises:  `A medicine raises the heart rate: compare only heart rates at the same dose, and let effort and talk overrule the zones.`,
	p.DoseChanged:     `A dose was changed on {{day .on}}: heart rates from before are not compared with those after.`,
	p.WithPregnancy:   `During and after pregnancy, go by effort and talk, not heart rate; the doctor or midwife has the last word.`,
	p.WithPacemaker:   `With a pacemaker, the heart rate says little about effort, so heart-rate rules do not apply.`,
	p.WithIrregular:   `With an irregular rhythm, sensors misread the pulse, so heart-rate rules do not apply.`,
	p.WithInsulin:     `With insulin, check blood sugar before and after sessions as the doctor advised, and keep sugar at hand.`,
	p.WithAsthma:      `With asthma, keep the reliever at hand, warm up longer, and stop if wheezing starts.`,
	p.UnderLimit:      `A doctor's limit of {{whole .limit}} bpm applies to every session: it is a ceiling, not a target. The watch alarm sounds at {{whole .ceiling}}: slow down when it does.`,
	p.PulseUnderWater: `Water hides the pulse: for swims, go by minutes, effort and talking at the wall. A chest strap that stores the heart rate and passes it on after the swim would also show whether the pulse stays level and how it recovers.`,
	p.NoStrap:         `The interval sessions have no chest-strap heart rate, so effort decides.`,
	p.OtherNoted:      `Noted on {{day .on}}: {{.sign}}.`,

	p.OnMaximum:    `the maximal heart rate`,
	p.OnEdges:      `the inner edges of the zones`,
	p.OnSessions:   `which sessions happened to be recorded`,
	p.OnSensors:    `whether recordings with a doubtful sensor are believed`,
	p.OnAnswers:    `the answers about effort and talking`,
	p.OnSlope:      `how exactly drift can be measured`,
	p.OnRecovery:   `day-to-day variation in recovery`,
	p.OnSameEffort: `day-to-day variation in the heart rate at the same pace or power`,
	p.OnResting:    `the resting heart rate`,
	p.OnSeveral:    `several inputs together`,
	p.OnNothing:    `no single input`,
}
