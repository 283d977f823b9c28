package progression

import "nextrung/internal/record"

// What an assessment can say. Package reasons holds the sentence of every code and names its arguments.

// The verdict in short: Assessment.Summary.
const (
	Paused        record.Code = "paused"
	Finished      record.Code = "finished"
	NotEnough     record.Code = "not-enough"
	NoStage       record.Code = "no-stage"
	DoctorFirst   record.Code = "doctor-first"
	AskFirst      record.Code = "ask-first"
	ClientWrote   record.Code = "client-wrote" // on, text: what nobody has asked about
	Ready         record.Code = "ready"
	HearSentences record.Code = "hear-sentences" // before stage 2, since answers may be rosier than sessions
	HearShort     record.Code = "hear-short"     // before stage 3
	OneStageDown  record.Code = "one-stage-down"
	EasierWeek    record.Code = "easier-week"
	AfterBreak    record.Code = "after-break"
	StaysByChoice record.Code = "stays-by-choice"
	RecoveryPhase record.Code = "recovery-phase"
	LastStage     record.Code = "last-stage"
	Uncleared     record.Code = "uncleared"   // in the last stage
	AboveLimit    record.Code = "above-limit" // stage, from, limit: its zone begins above what the limit leaves
	Building      record.Code = "building"
	NotYet        record.Code = "not-yet"
	AfterIllness  record.Code = "after-illness"
	ByThePlan     record.Code = "by-the-plan"
	StageBegins   record.Code = "stage-begins"
	SensorDoubted record.Code = "sensor-doubted" // doubted, of: recordings; days
)

// Cautions that belong to one client.
const (
	MedicineSlows   record.Code = "medicine-slows"
	MedicineRaises  record.Code = "medicine-raises"
	DoseChanged     record.Code = "dose-changed"
	WithPregnancy   record.Code = "with-pregnancy"
	WithPacemaker   record.Code = "with-pacemaker"
	WithIrregular   record.Code = "with-irregular"
	WithInsulin     record.Code = "with-insulin"
	WithAsthma      record.Code = "with-asthma"
	UnderLimit      record.Code = "under-limit" // limit, ceiling: bpm
	PulseUnderWater record.Code = "pulse-under-water"
	NoStrap         record.Code = "no-strap"
	OtherNoted      record.Code = "other-noted"
)

// Before anything else.
const (
	AgeUnknown        record.Code = "age-unknown"
	Age               record.Code = "age"
	UnderAge          record.Code = "under-age"
	DiseaseNotAsked   record.Code = "disease-not-asked"
	DiseaseNotAskedBy record.Code = "disease-not-asked-by"
	NoDisease         record.Code = "no-disease"
	DiseaseInactive   record.Code = "disease-inactive"
	DiseaseUncleared  record.Code = "disease-uncleared"
	DiseaseNewer      record.Code = "disease-newer" // than the clearance
	DiseaseCleared    record.Code = "disease-cleared"
	DiseaseStale      record.Code = "disease-stale"
	ScreeningOpen     record.Code = "screening-open"
	ScreeningOpenBy   record.Code = "screening-open-by"
	ScreeningOld      record.Code = "screening-old"
	ScreeningDone     record.Code = "screening-done"
	ScreeningThenSign record.Code = "screening-then-sign"
	ClearanceOpen     record.Code = "clearance-open"
	ClearanceBefore   record.Code = "clearance-before"
	ClearanceAge      record.Code = "clearance-age"
	SignDoubt         record.Code = "sign-doubt"
	NoEmergencySign   record.Code = "no-emergency-sign"
	NoDoctorSign      record.Code = "no-doctor-sign"
	EmergencySigns    record.Code = "emergency-signs"
	DoctorSigns       record.Code = "doctor-signs"
	EmergencyFirst    record.Code = "emergency-first"
)

// Facts of which one must be wrong.
const (
	RestAboveMornings record.Code = "rest-above-mornings" // rest, mean: bpm; days
	RestAboveRecorded record.Code = "rest-above-recorded" // rest, lowest: bpm; recordings, days
	RestHigh          record.Code = "rest-high"           // rest
	ComfortUnlikely   record.Code = "comfort-unlikely"    // bpm, years, most
	StageBut          record.Code = "stage-but"           // stage, on
	NoBoutsUncleared  record.Code = "no-bouts-uncleared"
	NoBoutsLimited    record.Code = "no-bouts-limited"
	AgeBut            record.Code = "age-but"          // stage, years
	MaximumUnlikely   record.Code = "maximum-unlikely" // bpm, years, estimate
	PeakUnlikely      record.Code = "peak-unlikely"    // bpm, on, years, estimate
	NoDiseaseBut      record.Code = "no-disease-but"   // facts
	HasInsulin        record.Code = "has-insulin"
	HasPacemaker      record.Code = "has-pacemaker"
	HasIrregular      record.Code = "has-irregular"
	HasSlowing        record.Code = "has-slowing"
	HasLimit          record.Code = "has-limit"
	PregnantBut       record.Code = "pregnant-but" // sex, years
	ActiveBut         record.Code = "active-but"   // sessions, weeks
)

// Signs, illness, tiredness.
const (
	SignOn            record.Code = "sign-on"
	SignTimes         record.Code = "sign-times"
	TiredSigns        record.Code = "tired-signs"
	FewTiredSigns     record.Code = "few-tired-signs"
	NoIllness         record.Code = "no-illness"
	IllnessOver       record.Code = "illness-over"
	IllnessBefore     record.Code = "illness-before" // weeks, needed: normal weeks since
	IllnessNow        record.Code = "illness-now"
	NothingTiring     record.Code = "nothing-tiring"
	TiredByReport     record.Code = "tired-by-report"
	TiredUnconfirmed  record.Code = "tired-unconfirmed"
	TirednessPattern  record.Code = "tiredness-pattern"
	MoreEffort        record.Code = "more-effort"
	RestingUp         record.Code = "resting-up"
	SameEffortChanged record.Code = "same-effort-changed"
	RecoveryChanged   record.Code = "recovery-changed"
	TirednessSeen     record.Code = "tiredness-seen"
	TirednessBack     record.Code = "tiredness-back"
	FewMornings       record.Code = "few-mornings"
	Resting           record.Code = "resting"
)

// What was done.
const (
	WeeksDone         record.Code = "weeks-done"
	WeeksAhead        record.Code = "weeks-ahead"
	WeeksAway         record.Code = "weeks-away"
	WeeksSoFarAway    record.Code = "weeks-so-far-away"
	WeeksSoFar        record.Code = "weeks-so-far"
	ActiveBefore      record.Code = "active-before"
	InactiveBefore    record.Code = "inactive-before"
	TrainedBefore     record.Code = "trained-before"
	ActivityUnknown   record.Code = "activity-unknown"
	NoTimeForBouts    record.Code = "no-time-for-bouts"
	LongestDay        record.Code = "longest-day"
	FilesToCome       record.Code = "files-to-come"
	WalksDoNotCount   record.Code = "walks-do-not-count"
	NoSession         record.Code = "no-session"
	NoSessionLately   record.Code = "no-session-lately"
	FirstWeekRuns     record.Code = "first-week-runs"
	SessionsAWeek     record.Code = "sessions-a-week"
	MinutesAWeek      record.Code = "minutes-a-week"
	MinutesOfTime     record.Code = "minutes-of-time"
	BaseTooSmall      record.Code = "base-too-small"
	TimeTooShort      record.Code = "time-too-short"
	SessionsTotal     record.Code = "sessions-total"
	LongestSession    record.Code = "longest-session"
	OnlySoManyWeeks   record.Code = "only-so-many-weeks"
	OnlySoManyMinutes record.Code = "only-so-many-minutes"
	NothingPrescribed record.Code = "nothing-prescribed"
	WeekDone          record.Code = "week-done"
	MonotonyOpen      record.Code = "monotony-open"
	MonotonyUndefined record.Code = "monotony-undefined"
	Monotony          record.Code = "monotony"
	TooFewWeeks       record.Code = "too-few-weeks"
	RiseNoConcern     record.Code = "rise-no-concern"
	WeeklyRise        record.Code = "weekly-rise"
	NoRuns            record.Code = "no-runs"
	LongestRun        record.Code = "longest-run"
)

// Breaks.
const (
	NoBreak     record.Code = "no-break"
	LastSession record.Code = "last-session"
	BreakRuns   record.Code = "break-runs"
	ReturnRuns  record.Code = "return-runs"
	ReturnDone  record.Code = "return-done"
	GapShort    record.Code = "gap-short"
	GapLong     record.Code = "gap-long"
	GapAnswered record.Code = "gap-answered"
)

// Effort, talk and enjoyment.
const (
	FewAnswers       record.Code = "few-answers"
	FewBoutAnswers   record.Code = "few-bout-answers"
	NoBoutsToRate    record.Code = "no-bouts-to-rate"
	EffortTooHard    record.Code = "effort-too-hard"
	EffortOftenHard  record.Code = "effort-often-hard"
	EffortMostlyKept record.Code = "effort-mostly-kept"
	EffortKept       record.Code = "effort-kept"
	TalkUneasy       record.Code = "talk-uneasy"
	TalkEasy         record.Code = "talk-easy"
	StrayEffort      record.Code = "stray-effort"
	AnsweredTwice    record.Code = "answered-twice"
	EffortGiven      record.Code = "effort-given"
	UsualEffortSays  record.Code = "usual-effort"
	ForecastSays     record.Code = "forecast" // stage, week, effort, limit, sure, needed, answers, talk
	NoForecast       record.Code = "no-forecast"
	FewEnjoyment     record.Code = "few-enjoyment"
	Enjoyment        record.Code = "enjoyment"
	EnjoymentLow     record.Code = "enjoyment-low"
)

// What the heart rate says.
const (
	EvidenceTally        record.Code = "evidence-tally"
	FewZoneSessions      record.Code = "few-zone-sessions"
	FewWithoutSuggested  record.Code = "few-without-suggested"
	ZoneShare            record.Code = "zone-share"
	ZoneShareOfRest      record.Code = "zone-share-of-rest"
	OnlyBelowTop         record.Code = "only-below-top"
	FewSteadySessions    record.Code = "few-steady-sessions"
	Drift                record.Code = "drift"
	CheckInHeat          record.Code = "check-in-heat"
	CheckWithoutEffort   record.Code = "check-without-effort"
	CheckRise            record.Code = "check-rise"
	SameEffortUncompared record.Code = "same-effort-uncompared"
	SameEffort           record.Code = "same-effort"
	RecoveryUncompared   record.Code = "recovery-uncompared"
	Recovery             record.Code = "recovery"
	NoneOfLate           record.Code = "none-of-late"
	TooFewAlike          record.Code = "too-few-alike"
	FewBackInZone        record.Code = "few-back-in-zone"
	BackInZone           record.Code = "back-in-zone"
	FewCreep             record.Code = "few-creep"
	Creep                record.Code = "creep"
)

// Interval sessions.
const (
	NoIntervals     record.Code = "no-intervals"
	IntervalsDone   record.Code = "intervals-done"
	IntervalsLonger record.Code = "intervals-longer"
	EasyBouts       record.Code = "easy-bouts"
	LongerBoutsDone record.Code = "longer-bouts-done"
	FailedInARow    record.Code = "failed-in-a-row"
)

// What to record, enter or change: Lack.Needed.
const (
	NeedBirthDate      record.Code = "need-birth-date"
	NeedScreening      record.Code = "need-screening"
	NeedScreeningFirst record.Code = "need-screening-first"
	NeedScreeningAgain record.Code = "need-screening-again"
	NeedClearance      record.Code = "need-clearance"
	NeedAskAtOnce      record.Code = "need-ask-at-once"
	NeedSessions       record.Code = "need-sessions"
	NeedFiles          record.Code = "need-files"
	NeedWalks          record.Code = "need-walks"
	NeedEffort         record.Code = "need-effort"
	NeedSensor         record.Code = "need-sensor"
	NeedGoodSensor     record.Code = "need-good-sensor"
	NeedZones          record.Code = "need-zones"
	NeedSteadySession  record.Code = "need-steady-session"
	NeedCoolCheck      record.Code = "need-cool-check"
	NeedCheckEffort    record.Code = "need-check-effort"
	NeedSameEffort     record.Code = "need-same-effort"
	NeedIntervals      record.Code = "need-intervals"
	NeedStrap          record.Code = "need-strap"
	NeedStrapIntervals record.Code = "need-strap-intervals"
	NeedSlower         record.Code = "need-slower"
	NeedLevel          record.Code = "need-level"
	NeedAskAround      record.Code = "need-ask-around"
	NeedEasierBouts    record.Code = "need-easier-bouts"
	NeedEasier         record.Code = "need-easier"
	NeedZonesAnswered  record.Code = "need-zones-answered"
	NeedOtherZones     record.Code = "need-other-zones"
	NeedDays           record.Code = "need-days"
	NeedMinutes        record.Code = "need-minutes"
	NeedMoreTime       record.Code = "need-more-time"
)

// Inputs that a verdict can depend on: Robustness.DependsOn.
const (
	OnMaximum    record.Code = "on-maximum"
	OnEdges      record.Code = "on-edges"
	OnSessions   record.Code = "on-sessions"
	OnSensors    record.Code = "on-sensors"
	OnAnswers    record.Code = "on-answers"
	OnSlope      record.Code = "on-slope"
	OnRecovery   record.Code = "on-recovery"
	OnSameEffort record.Code = "on-same-effort"
	OnResting    record.Code = "on-resting"
	OnSeveral    record.Code = "on-several"
	OnNothing    record.Code = "on-nothing"
)
