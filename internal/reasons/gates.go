package reasons

import (
	p "nextrung/internal/progression"
	"nextrung/internal/record"
)

// gates are what comes before anything else: age, screening, disease, clearance and grave signs.
var gates = map[record.Code]string{
	p.AgeUnknown: `The date of birth is not known.`,
	p.Age:        `The client is {{years .years}} years old.`,
	p.UnderAge:   `The client is under {{number .limit}}: recordings are shown, but there are no stages and no zones from age.`,

	p.DiseaseNotAsked:   `Nobody has asked about known disease yet.`,
	p.DiseaseNotAskedBy: `Nobody had asked about known disease by {{day .on}}.`,
	p.NoDisease:         `No heart, metabolic or kidney disease is known.`,
	p.DiseaseInactive:   `The client has known {{disease .disease}} disease and was inactive before: a doctor's clearance for it is needed before any session.`,
	p.DiseaseUncleared:  `The client has known {{disease .disease}} disease and no clearance on record: a doctor's clearance is needed before vigorous work.`,
	p.DiseaseNewer: `The client has known {{disease .disease}} disease, and the clearance of {{day .on}} does not cover what was added on {{day .since}}: ` +
		`a newer one is needed before vigorous work.`,
	p.DiseaseCleared: `The client has known {{disease .disease}} disease; the clearance of {{day .on}} is {{months .months}} old.`,
	p.DiseaseStale: `The client has known {{disease .disease}} disease, and the clearance of {{day .on}} is {{months .months}} old: ` +
		`one no older than {{months .limit}} is needed before vigorous work.`,

	p.ScreeningOpen:     `The screening questions have not been answered.`,
	p.ScreeningOpenBy:   `The screening questions had not been answered by {{day .on}}.`,
	p.ScreeningOld:      `The screening of {{day .on}} is from before a break of {{count .days "day"}}.`,
	p.ScreeningDone:     `The screening questions were answered on {{day .on}}: {{clearance .clearance}}.`,
	p.ScreeningThenSign: `The screening questions were answered on {{day .on}}. A sign that needs a doctor was noted too.`,
	p.ClearanceOpen:     `This client trains by effort, not heart rate, and no doctor's clearance is on record.`,
	p.ClearanceBefore:   `This client trains by effort, not heart rate. The clearance of {{day .on}} does not cover what was added on {{day .since}}: a newer one is needed.`,
	p.ClearanceAge:      `The clearance of {{day .on}} is {{months .months}} old (needed: at most {{number .limit}}).`,

	p.NoBoutsUncleared: `No interval sessions are prescribed before a doctor's clearance, so none are needed. Until then, comfortable sessions only.`,
	p.NoBoutsLimited:   `The doctor's limit leaves no room for interval sessions, so none are prescribed or needed: comfortable sessions only.`,
	p.SignDoubt:        `On {{day .on}} the client wrote {{quote .text}}. Ask: {{question .sign}} Nobody has asked yet.`,
	p.NoEmergencySign:  `No sign that needs emergency help is on record{{with .since}} since the clearance of {{day .}}{{end}}.`,
	p.NoDoctorSign:     `No sign that needs a doctor before training is on record{{with .since}} since the clearance of {{day .}}{{end}}.`,
	// Books of earlier versions do not say how many days ago a sign was: it then counts as of today.
	p.EmergencySigns: `On record: {{list .signs}}. {{advice .last (or (index . "days") 0)}}`,
	p.DoctorSigns:    `On record: {{list .signs}}. {{advice .last (or (index . "days") 0)}}`,
	p.EmergencyFirst: `The emergency sign comes first.`,
}

// contradictions are pairs of facts of which one must be wrong, with what to ask.
var contradictions = map[record.Code]string{
	p.RestAboveRecorded: `The resting heart rate on record is {{number .rest}} bpm, yet in the last {{count .days "day"}} the recordings went down to {{whole .lowest}}. Ask how it was taken: it should be the mean of three mornings, lying down.`,
	p.RestAboveMornings: `The resting heart rate on record is {{number .rest}} bpm, yet the mornings noted in the last {{count .days "day"}} are {{whole .mean}} on average. Ask how the one on record was taken: it should be the mean of three mornings, lying down.`,
	p.RestHigh:          `The resting heart rate on record is {{number .rest}} bpm; 100 or more is unusual. Ask how it was taken: it should be the mean of three mornings, lying down. If it is right, have a doctor look into it.`,
	p.ComfortUnlikely:   `The top of zone 1 on record is {{whole .bpm}} bpm at the age of {{number .years}}, more than 90 % of a maximum of {{whole .most}}. Ask how it was found, and enter the maximal heart rate if it has been measured.`,
	p.StageBut:          `The client started in stage {{number .stage}}, yet did not exercise regularly at the screening of {{day .on}}. Ask what they trained before, and correct the stage or the screening.`,
	p.AgeBut:            `The client started in stage {{number .stage}} at the age of {{number .years}}. Ask what hard training they have done in the last three months and whether their doctor knows of it, and correct the stage or the date of birth.`,
	p.MaximumUnlikely:   `The maximal heart rate on record is {{number .bpm}} bpm at the age of {{number .years}}; the estimate from age is {{whole .estimate}}. Ask how it was measured, and check the date of birth.`,
	p.PeakUnlikely:      `A recording of {{day .on}} held {{whole .bpm}} bpm, for a client aged {{number .years}}; the estimate of the maximum from age is {{whole .estimate}}. Ask whose recording it is and whether the heart raced, and check the date of birth.`,
	p.NoDiseaseBut:      `The screening found no known disease, yet on record: {{list .facts}}. Ask what it is for, and enter the disease or a doctor's clearance.`,
	p.HasInsulin:        `insulin`,
	p.HasPacemaker:      `a pacemaker`,
	p.HasIrregular:      `an irregular rhythm`,
	p.HasSlowing:        `a medicine that slows the heart`,
	p.HasLimit:          `a doctor's limit in bpm`,
	p.PregnantBut:       `On record as pregnant{{if eq .sex "male"}} and as male{{end}}, at the age of {{number .years}}. Ask, and check the other facts on record.`,
	p.ActiveBut:         `The screening says regular exercise for three months, yet the recordings of the {{count .weeks "week"}} before it show only {{count .sessions "session"}}. Ask what the client really did.`,
}

// signsAndTiredness are the signs that call for less, illness, and the tiredness pattern.
var signsAndTiredness = map[record.Code]string{
	p.SignOn:        `{{sign .sign}} ({{if many .times}}{{times .times}}, most recently on {{end}}{{day .on}})`,
	p.SignTimes:     `{{sign .sign}}{{if many .times}} ({{times .times}}){{end}}`,
	p.TiredSigns:    `Noted: {{list .signs}}. Plan an easier week, then ask again.`,
	p.FewTiredSigns: `{{capital (some .signs "sign")}} of tiredness, a cold or soreness in the last {{count .days "day"}}.`,
	p.NoIllness:     `No fever or chest illness is noted.`,
	p.IllnessOver:   `The last fever or chest illness was noted {{ago .days}}.`,
	p.IllnessBefore: `The last fever or chest illness was noted {{ago .days}}. After the easy week, {{number .weeks}} of {{count .needed "normal week"}} {{verb .weeks "is" "are"}} done; a move up comes after them.`,
	p.IllnessNow:    `{{capital (sign .sign)}} was noted on {{day .on}}: no training until the client has been free of symptoms for 48 hours, then an easy week.`,

	p.NothingTiring:     `Nothing reported points to tiredness.`,
	p.TiredByReport:     `Reported: {{list .reports}}. This client trains by effort, not heart rate.`,
	p.TiredUnconfirmed:  `Reported: {{list .reports}}. The heart rate does not confirm it.`,
	p.TirednessPattern:  `Tiredness pattern: {{list .reports}}, together with {{list .signs}}.`,
	p.MoreEffort:        `more effort at the same load`,
	p.RestingUp:         `a higher resting heart rate`,
	p.SameEffortChanged: `a change of {{signed .change}} bpm at the same pace or power`,
	p.RecoveryChanged:   `a change of {{signed .change}} bpm in recovery`,
	p.TirednessSeen:     `The tiredness pattern {{if .times}}appeared {{times .times}}{{else}}did not appear{{end}} in the last {{count .days "day"}}.`,
	p.TirednessBack:     `The tiredness pattern came back within {{count .days "day"}}.`,
	p.FewMornings:       `This week's resting heart rate cannot be compared yet: it was {{if .mornings}}taken on only {{count .mornings "morning"}}{{else}}not taken{{end}} in the last {{count .days "day"}}.`,
	p.Resting: `Resting heart rate: {{number .resting}} bpm, {{against .rise .usual}} ` +
		`({{if .mornings}}mean of {{count .mornings "earlier morning"}}{{else}}the value on record{{end}}).`,
}
