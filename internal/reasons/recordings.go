package reasons

import (
	"nextrung/internal/fieldtest"
	h "nextrung/internal/heartrate"
	m "nextrung/internal/physiology"
	"nextrung/internal/record"
	f "nextrung/internal/recording"
)

// sensors are the faults of a sensor, the remarks on its heart rate, and what it may not be used for. They
// are clauses without a full stop, as are all in this file.
var sensors = map[record.Code]string{
	h.NoHeartRate: `{{if .rejected}}no heart rate: no reading is plausible ({{.rejected}} s in all)` +
		`{{else if .unfilled}}the heart rate field is there but never filled (0 or 255 in all {{.unfilled}} samples)` +
		`{{else}}no heart rate was recorded{{end}}`,
	h.BeatMessages: `{{.seconds}} s of heart rate come from the strap's own messages`,
	h.Rejected:     `{{.seconds}} s of implausible heart rate were removed`,
	h.Leap: `heart rate leaps {{if .times}}{{count .times "more time"}}` +
		`{{else}}from {{whole .from}} to {{whole .to}} bpm at {{clock .at}}; check the sensor{{end}}`,
	h.Gap: `{{if eq .where "between"}}heart rate lost for {{.seconds}} s at {{clock .at}}` +
		`{{else if eq .where "more"}}heart rate lost {{count .times "more time"}}, {{.seconds}} s in all` +
		`{{else}}no heart rate in the {{.where}} {{.seconds}} s{{end}}`,

	record.Code(h.Marker):      `the sensor's mark for “no value” was written as a heart rate{{when .}}`,
	record.Code(h.Implausible): `heart rate outside 30 to 230 bpm{{when .}}`,
	record.Code(h.Spike):       `heart rate leaps further than a heart can{{when .}}`,
	record.Code(h.Doubled):     `twice the true heart rate was recorded{{when .}}`,
	record.Code(h.Halved):      `half the true heart rate was recorded{{when .}}`,
	record.Code(h.Lock):        `the sensor follows the step, pedal or stroke rate instead of the heart{{when .}}`,
	record.Code(h.Frozen): `heart rate does not move{{with when .}}{{.}}; check the sensor` +
		`{{else}} at all; the sensor is stuck{{end}}`,
	record.Code(h.DryStart): `spikes and dropouts{{when .}}, as with a dry strap`,
	record.Code(h.Dropout):  `no heart rate was recorded{{when .}}`,
	record.Code(h.Restless): `heart rate is erratic for the first {{.minutes}} min and settled after that, as with a dry strap; don't trust the peaks there`,
	record.Code(h.Lag):      `the sensor lags{{when .}}{{with index . "delay"}}: heart rate begins to drop only {{whole .}} s after efforts end{{end}}`,
	record.Code(h.EvenLeap): `heart rate leaps {{with index . "bpm"}}by {{whole .}} bpm {{end}}further than the load explains{{when .}}`,
	record.Code(h.Disagree): `two sources of heart rate differ{{with index . "apart"}} by up to {{whole .}} bpm{{end}}{{when .}}`,

	h.Unusable:    `there is no usable heart rate: none was recorded, or more was removed than kept`,
	h.LittleHeart: `heart rate was recorded for {{if eq (whole .percent) "0"}}less than 1{{else}}only {{whole .percent}}{{end}} % of the time ({{whole .needed}} % needed)`,
	h.OnWrist:     `while the load changes, a wrist sensor agrees too little with a chest strap (concordance 0.32 to 0.80) to be used for recovery or peaks`,
	h.Lagging:     `the sensor lags behind the heart`,
	h.DryStrap:    `the start looks like a dry strap`,
	h.Locked:      `the sensor followed the movement of the body for a while and may have done so elsewhere`,
	h.WrongTimes:  `twice or half the true heart rate was recorded for a while`,
	h.Leaping:     `heart rate leaps further than the load explains and is wrong for {{.seconds}} s`,
	h.Faulty:      `heart rate is faulty for {{.seconds}} s`,
}

// files are the remarks on a file and what stands in it.
var files = map[record.Code]string{
	f.ArchiveDamaged: `the gzip archive is damaged or ends early, so the end of the recording may be missing`,
	f.Damaged: `{{if eq .format "csv"}}{{are .rows "row" "rows"}} of the table cannot be read and {{verb .rows "was" "were"}} left out` +
		`{{else if eq .format "fit"}}FIT data cannot be read beyond about byte {{whole .at}} of {{whole .bytes}}; what came before ({{count .kept "record"}}) was kept` +
		`{{else}}XML {{if eq .damage "early"}}ends early{{else if eq .damage "malformed"}}is malformed{{else}}has a mismatched tag{{end}} ` +
		`at line {{whole .line}}; what came before ({{count .kept "point"}}) was kept{{end}}`,
	f.Truncated:      `the FIT file ends {{if .bytes}}{{count .bytes "byte"}} early; what came before was kept{{else}}before its checksum{{end}}`,
	f.Repaired:       `the FIT header {{if eq .what "length"}}had a wrong length and was repaired{{else}}gives no size, as when a device loses power; everything after it was read{{end}}`,
	f.HeaderChecksum: `the checksum of the FIT header is wrong; the file was read all the same`,
	f.Checksum:       `the checksum of the FIT file is wrong; it was read all the same`,
	f.TrailingZeros:  `{{count .bytes "zero byte"}} after the end {{verb .bytes "was" "were"}} ignored`,
	f.TrailingBytes:  `{{count .bytes "byte"}} after the end {{verb .bytes "is" "are"}} not FIT and {{verb .bytes "was" "were"}} ignored`,
	f.NoTime:         `{{count .n .of}} without a {{if ne .of "record"}}readable {{end}}time {{verb .n "was" "were"}} left out`,
	f.ClockJumps:     `{{count .n .of}} {{if eq .of "record"}}after too many jumps of the clock{{else}}with {{verb .n "an impossible time" "impossible times"}}{{end}} {{verb .n "was" "were"}} left out`,
	f.DateOrder:      `the dates can be read as day before month or month before day; day before month was assumed`,
	f.NoZone:         `the times have {{if eq .zone "none"}}no{{else}}an unknown{{end}} time zone and are read as UTC`,
	f.NoUnit:         `the speed column has no unit and is read as m/s`,
	f.Several:        `the elapsed time starts again {{times .times}}, so the table was split; check that every part belongs to the same person`,
	f.StrapFirst:     `the strap's own log begins {{whole .seconds}} s before the first record; that time is counted`,
	f.Transition:     `a transition of {{whole .seconds}} s between two sports was left out`,
	f.TooLong:        `the recording spans more than 7 days ({{number .days}}): the device's clock may have jumped; export it again`,
	f.Undated:        `the file has no date, only the time since the start`,

	record.SomebodyElse: `overlaps with {{.name}} in time but differs by {{whole .bpm}} bpm on average: is one of these someone else's?`,
	record.Excluded:     `excluded: {{.of}}`,
	record.SameWorkout:  `the same workout as {{.of}}`,

	record.UndatedWorkout:  `workout {{.workout}} has no date and cannot be placed in a week`,
	record.CountsInstead:   `counts instead of an earlier recording: the same workout as {{.of}}`,
	record.BeforeProgramme: `recorded on {{day .date}}, before the programme began on {{day .since}}, so it counts for no stage. Did the programme begin earlier?`,
	record.LongAgo:         `recorded on {{day .date}}, {{count .days "day"}} ago, so it counts from that day on`,
	record.LongOnTheWay:    `recorded on {{day .date}}, {{count .days "day"}} before it was received; assessments for days before {{day .on}} do not include it`,
}

// measured are what a measurement lacks, and what is said of energy.
var measured = map[record.Code]string{
	m.NoSteadyStretch: `no steady stretch of {{.minutes}} min after the first {{.after}} min`,
	m.LoadNotKnown:    `without speed or power, nothing shows that the load was steady`,
	m.EvenTooShort:    `heart rate at a steady load is known for less than {{.minutes}} min`,
	m.SlopeWanders:    `heart rate wanders too much in this stretch to show a slope; a longer steady stretch is needed`,
	m.EffortWanders:   `heart rate wanders too much in minutes 5 to 15 to be compared`,
	m.LittleLoad:      `{{.by}} is known for only {{whole .percent}} % of the time`,
	m.NoMovement:      `there is no steady movement`,
	m.LoadUneven:      `the load varied: {{.by}} was within {{whole .within}} % of its median for only {{whole .percent}} % of the time ({{whole .needed}} % needed)`,
	m.LoadVaries:      `the load varied: {{.by}} varies by {{whole .percent}} % between half minutes (at most {{whole .most}} %)`,
	m.LoadChanged:     `the load changed: {{.by}} differs by {{number .percent}} % between the halves (at most {{whole .most}} %)`,
	m.NoHeartAtStop:   `heart rate was not recorded at the stop`,
	m.NoHeartAfter:    `heart rate was not recorded 60 s after the stop`,
	m.NextEffort:      `the next effort began {{.seconds}} s after the stop (60 s needed)`,
	m.EndsAfterStop:   `the recording ends {{.seconds}} s after the stop (60 s needed): keep recording for 3 min`,
	m.RisesOn:         `heart rate went on rising after the stop`,
	m.StopUncertain:   `the exact second of the stop is uncertain: the drop could be anything from {{whole .low}} to {{whole .high}} bpm`,
	m.NotFromStrap:    `neither the file nor any entry says that it comes from a chest strap`,
	m.EffortStuck:     `{{.by}} hardly changes while heart rate falls by {{whole .bpm}} bpm or more, so it is not used`,

	m.EnergyRange: `gross, for the {{whole .minutes}} min at {{whole .bpm}} bpm or more; Keytel 2005, coefficients from memory; ` +
		`90 % range worked out from r = 0.857 and an assumed spread (common practice, no source); not for heat or changing effort`,
	m.NoEnergy:     `not assessable: {{list .why}}`,
	m.Slowing:      `a medicine slows the heart`,
	m.NoBody:       `sex, age and mass are needed`,
	m.OutsideAges:  `the equation comes from people aged {{.from}} to {{.to}}`,
	m.OutsideMass:  `the equation comes from people weighing {{.from}} to {{.to}} kg; check that the mass is in kilograms`,
	m.BehindEffort: `in intervals, heart rate lags behind the effort`,
	m.MostlyBelow:  `heart rate was below {{whole .bpm}} bpm for most of the time`,
}

// tests are what is lacking in a field test, and what is odd about one.
var tests = map[record.Code]string{
	fieldtest.NoHeartRate:  `heart rate was not recorded`,
	fieldtest.EndsEarly:    `the recording ends before 65 s after the stop: keep recording while sitting`,
	fieldtest.NoCount:      `no count was given`,
	fieldtest.NoSpeed:      `the recording has no speed: type the time for the mile and the heart rate over its last quarter`,
	fieldtest.NotWalking:   `the recording shows {{.sport}}, not walking`,
	fieldtest.SpeedLost:    `speed was not recorded all the way`,
	fieldtest.LastQuarter:  `{{list .why}} in the last quarter`,
	fieldtest.Slowing:      `a medicine slows the heart, so the equation does not hold`,
	fieldtest.NoBody:       `the equation needs sex, age and mass`,
	fieldtest.AdultsOnly:   `the equation is for adults`,
	fieldtest.NothingTyped: `the time for the mile or the heart rate over its last quarter is missing`,
	fieldtest.NotAMile:     `the walk measured {{whole .metres}} m, not one mile (1609 m): mark the mile with a lap, or type its time`,
	fieldtest.UnlikelyTime: `{{number .minutes}} min is not a likely time for a mile walked as fast as possible (10 to 30 min)`,
	fieldtest.TenSeconds:   `{{whole .bpm}} bpm looks like a count over 10 s (times 6: {{whole .times6}} bpm)`,
	fieldtest.Impossible:   `{{whole .bpm}} bpm is impossible`,
	fieldtest.BelowRest:    `the equation gives less oxygen uptake than at rest`,
	fieldtest.NoneEasy:     `no stage was comfortable: start easier`,
	fieldtest.NoneHard:     `talking stayed comfortable up to {{whole .bpm}} bpm: add harder stages`,

	fieldtest.Slowed: `{{if eq .protocol "talk-test"}}a medicine slows the heart: these heart rates apply to the present dose only, and zones stay off` +
		`{{else}}a medicine slows the heart, so this heart rate says nothing about fitness: use effort and talk instead{{end}}`,
	fieldtest.MassOdd:      `a mass of {{whole .kg}} kg is unusual: were pounds typed as kilograms, or the other way round?`,
	fieldtest.TooOld:       `the client is over {{.age}}: this test is not meant for that age`,
	fieldtest.KnownDisease: `the client has known {{disease .disease}} disease: this test is not meant for them`,
	fieldtest.OutsideAges:  `the equation comes from people aged 30 to 69; for clients under 30 it reads too low`,
	fieldtest.OnWrist:      `a wrist sensor lags behind a falling heart rate, so the count may be too high: count by hand or use a chest strap`,
	fieldtest.Moved:        `the client went on moving after the stop; the protocol is to sit down at once`,
	fieldtest.Bench: `{{if eq .is "unknown"}}the height of the bench is unknown: the norms apply to 30 cm (12 in)` +
		`{{else if eq .is "inches"}}a bench of {{.cm}} cm looks like inches: 12 in is 30 cm` +
		`{{else}}the bench was {{.cm}} cm high, not 30 cm (12 in){{end}}`,
	fieldtest.Duration: `{{if .seconds}}the client stepped for {{whole .seconds}} s, not 3 min` +
		`{{else}}how long the client stepped is not known: the norms apply to 3 min{{end}}`,
	fieldtest.Late: `the count began {{whole .seconds}} s after the stop (5 s at most), so it is too low`,
	fieldtest.Count: `{{whole .beats}} beats {{if eq .is "few"}}are few for a full minute: was it counted for 10 or 15 s?` +
		`{{else}}in a minute is impossible{{end}}`,
	fieldtest.CalledRun:     `the recording calls itself a run; the equation is for walking only`,
	fieldtest.Pause:         `the timer was stopped for {{.seconds}} s on the way; this counts as part of the walk`,
	fieldtest.Distance:      `the distance is unknown and assumed to be one mile (1609 m)`,
	fieldtest.Slow:          `the heart rate of {{whole .bpm}} bpm is below about 120 bpm, where the equation is unreliable (from memory): was the walk as fast as possible?`,
	fieldtest.Decimal:       `{{.typed}} was read as decimal minutes ({{clock .seconds}}); if {{.whole}} min {{.part}} s was meant, write {{.whole}}:{{.part}}`,
	fieldtest.Untold:        `for some stages it is not known how long the load was held before the question: 3 min are needed`,
	fieldtest.Contradiction: `talking was easier at a higher heart rate than at a lower one: the lower one counts; repeat the test if you can`,
	fieldtest.Apart:         `the stages around T1 are {{whole .bpm}} bpm apart: smaller steps would narrow it down`,
	fieldtest.NoT2:          `talking stayed possible in every stage, so T2 is unknown`,
	fieldtest.Order:         `heart rate fell from one stage to a later one: each stage should be harder than the one before`,
	fieldtest.StageBPM:      `the stage at {{whole .bpm}} bpm is left out: that is not a possible heart rate`,
	fieldtest.Early:         `at {{whole .bpm}} bpm the question came after {{whole .seconds}} s; hold the load for 3 min first`,
	fieldtest.Answer:        `the stage at {{whole .bpm}} bpm is left out: the answer must be comfortable, hard or no`,

	fieldtest.StepCount:   `beats in the minute from 5 s after the stop`,
	fieldtest.TimeStepped: `time stepped`,
	fieldtest.UptakePerKG: `maximal oxygen uptake per kg`,
	fieldtest.Uptake:      `maximal oxygen uptake`,
	fieldtest.WalkTime:    `time of the walk`,
	fieldtest.WalkEnd:     `heart rate of the last quarter`,
	fieldtest.T1:          `T1, last comfortable`,
	fieldtest.T2:          `T2, first hardly possible`,

	fieldtest.StepCount + margin: `{{if .by}}the stop was found by {{.by}} and may be a little earlier or later; no margin of error for the test is published` +
		`{{else}}no margin of error is published{{end}}`,
	fieldtest.UptakePerKG + margin: `one standard error of about 5 (from memory): two people in three are within it`,
	fieldtest.Uptake + margin:      `one standard error of 0.325 (0.355 in cross-validation)`,
	fieldtest.T1 + margin:          `the change lies between these stages`,
	fieldtest.T2 + margin:          `the change lies between the stage before and this one`,

	fieldtest.Handbook:        `norms of the handbook, seen in copies only; classed by upper bounds`,
	fieldtest.NoRow:           `no confirmed table row: for women only "excellent" and "good" were seen in a copy`,
	fieldtest.NotUnderSlowing: `not classed: a medicine slows the heart`,
	fieldtest.NotKept:         `not classed: the norms apply to the protocol as written`,
	fieldtest.NotForAnybody:   `not classed: sex and an age of at least 18 years are needed`,
	fieldtest.NextEstimate:    `not classed: compare it with the client's next estimate`,
}

// margin, behind the code of a figure, makes the code of what its low and high values are.
const margin = "-margin"

// TestCautions are the cautions of a protocol.
func TestCautions(protocol string) []string { return testCautions[protocol] }

// testCautions stand with every result of a protocol. The step test is put at about 7 MET: by the stepping equation of
// the American handbook (from memory) 24 steps a minute onto 30 cm take 0.2*24 + 1.33*1.8*0.30*24 + 3.5 =
// 25.5 mL/kg/min, 7.3 MET.
var testCautions = map[string][]string{
	"step-test": {
		"The three-minute step test is hard (about 7 MET). Don't use it before screening, over the age of 65, with knee or balance trouble, or with known disease.",
		"Count for a full minute: counting 15 s and multiplying by 4 needs a different table. A fixed bench is harder for short people. The count is one figure among others and never decides alone.",
	},
	"walk-test": {"Walking as fast as possible is only for screened clients; stop at once if any stop sign appears. The estimate is one figure among others and never decides alone."},
	"talk-test": {"Thresholds found by talk overrule percentages. Stop at once if any stop sign appears."},
}
