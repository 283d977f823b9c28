package record

import (
	"encoding/json"
	"slices"

	"nextrung/internal/workout"
)

// PlanNote is one thing to say to the client about a week, with its figures. Package prescription puts
// it into words.
type PlanNote struct {
	Code    PlanCode       `json:"code,omitempty"`
	N       int            `json:"n,omitempty"`  // sessions that were done, or minutes
	Of      int            `json:"of,omitempty"` // sessions that were planned
	BPM     float64        `json:"bpm,omitempty"`
	Feel    workout.Feel   `json:"feel,omitempty"`
	Modes   []workout.Mode `json:"modes,omitempty"`
	Day     workout.Date   `json:"day,omitzero"`
	Why     Change         `json:"why,omitempty"`     // of a plan that replaces another
	Machine bool           `json:"machine,omitempty"` // there is one for the check session
	// Text is the sentence, filled in once a week is laid out; in books of an earlier version there is nothing else.
	Text string `json:"text,omitempty"`
}

// PlanCode names what a note says.
type PlanCode string

// What there is to say about a week of sessions.
const (
	EasierWeek     PlanCode = "easier-week"
	EasierAgain    PlanCode = "easier-again"
	RestFirst      PlanCode = "rest-first" // a fever or other illness
	WelcomeBack    PlanCode = "welcome-back"
	EasyPhase      PlanCode = "easy-phase"
	CheckLater     PlanCode = "check-later"
	ClearanceFirst PlanCode = "clearance-first"
	AskedFirst     PlanCode = "asked-first"    // a question about a grave sign is open
	AnswerFirst    PlanCode = "answer-first"   // a question about the client's health is open
	FeltTooHard    PlanCode = "felt-too-hard"  // by the client's own answers
	AbovePlan      PlanCode = "above-plan"     // harder than planned by heart rate; BPM is the top of zone 1
	AboveZone1     PlanCode = "above-zone-1"   // the same where nothing was planned
	ZonesTooLow    PlanCode = "zones-too-low"  // may be, since talking was easy all the same
	KeepLength     PlanCode = "keep-length"    // the pulse climbs at an even speed
	NormalFirst    PlanCode = "normal-first"   // normal weeks after an illness, before the first bouts
	OneMoreSession PlanCode = "one-more"       // N of Of took place
	EasyFirst      PlanCode = "easy-first"     // after some days off
	SmallSteps     PlanCode = "small-steps"    // fewer than were planned before
	LessTooHard    PlanCode = "less-too-hard"  // than the N minutes that were done, which were too hard
	LessTime       PlanCode = "less-time"      // than the N minutes that were done, for want of time
	InPieces       PlanCode = "in-pieces"      // N minutes that were done, in more sessions than are planned
	ShorterNow     PlanCode = "shorter-now"    // after a week that was too hard
	ByTalk         PlanCode = "by-talk"        // what comfortable means
	AtTheWall      PlanCode = "at-the-wall"    // talk in swims, whose heart rate is lost
	NewParts       PlanCode = "new-parts"      // the first interval session
	PartsMean      PlanCode = "parts-mean"     // what brisk or hard means
	NoRoom         PlanCode = "no-room"        // for harder parts under a doctor's limit
	NoTime         PlanCode = "no-time"        // for bouts, in the time that the client has at a time
	OnlyUpperLimit PlanCode = "only-upper"     // bouts too short to reach their heart rate
	ByFeel         PlanCode = "by-feel"        // heart rate must not lead
	ByHeartRate    PlanCode = "by-heart-rate"  // whatever zones the watch has
	TellEffort     PlanCode = "tell-effort"    // no answers so far
	KeepRecording  PlanCode = "keep-recording" // after the last effort, in Modes
	CheckSession   PlanCode = "check-session"  // on Day
)

// Replaces says that the plan that was made on Day no longer holds, and Why.
const Replaces PlanCode = "replaces"

// Change is why a plan that was sent was replaced.
type Change string

// The reasons for a new version of a plan.
const (
	ByDecision  Change = "decision" // of the trainer
	ForHealth   Change = "health"   // a sign, an illness, a question or a clearance comes first, or a pause
	ForEase     Change = "ease"     // an easier week or a return
	AfterAnswer Change = "answer"   // what stood before training has been settled
	ForTime     Change = "time"     // the client has less
	ForZones    Change = "zones"    // other heart rates, or other modes
)

// What there is to say about a week without any.
const (
	NoSessions     PlanCode = "no-sessions"
	DoctorFirst    PlanCode = "doctor-first"
	AgreeFirst     PlanCode = "agree-first" // the doctor who advised against training
	CallHelp       PlanCode = "call-help"
	CallIfStill    PlanCode = "call-if-still" // for an emergency sign
	SeeToday       PlanCode = "see-today"     // for a sign that cannot wait either
	TooYoung       PlanCode = "too-young"
	NoStageYet     PlanCode = "no-stage-yet"
	QuestionsFirst PlanCode = "questions-first"
)

// UnmarshalJSON also takes the bare sentence, which is how books of an earlier version hold notes.
func (n *PlanNote) UnmarshalJSON(b []byte) error {
	type plain PlanNote
	if json.Unmarshal(b, &n.Text) == nil {
		return nil
	}
	return json.Unmarshal(b, (*plain)(n))
}

// Says reports whether a prescription has a note; none has any where it is nil.
func (p *Prescription) Says(c PlanCode) bool {
	return p != nil && slices.ContainsFunc(p.Notes, func(n PlanNote) bool { return n.Code == c })
}
