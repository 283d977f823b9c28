package record

import (
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Recording is one workout of one received file as the book keeps it: the header and what was
// measured. The series itself stays in the book.
type Recording struct {
	ID       string         `json:"id"` // short digest of the file and index, "1a2b3c4d#0"
	File     workout.Digest `json:"file"`
	Index    int            `json:"index"`
	Name     string         `json:"name"` // the file's name as it was received, for an archive "a.zip!b.tcx"
	Format   string         `json:"format"`
	Client   string         `json:"client"`
	Received workout.Date   `json:"received"`
	Date     workout.Date   `json:"date"` // day of the start in the client's time zone
	// Workout has no channels here.
	Workout  workout.Workout         `json:"workout"`
	Measured physiology.Measurements `json:"measured"`
	// Aside says why the recording does not count; the zero fact if it does. See SetAside.
	Aside Fact `json:"aside_fact,omitzero"`
}

// Why a recording does not count: the argument "of" is the trainer's reason, or the recording that counts.
const (
	Excluded    Code = "excluded"
	SameWorkout Code = "same-workout"
)

// SomebodyElse is a remark on a recording that overlaps with another of the client and differs from it:
// its name and by how many bpm.
const SomebodyElse Code = "somebody-else"

// The remarks on a file that came in.
const (
	UndatedWorkout  Code = "undated-workout"  // workout: the number in the file
	CountsInstead   Code = "counts-instead"   // of: the recording that counts
	BeforeProgramme Code = "before-programme" // date, since
	LongAgo         Code = "long-ago"         // date, days: it counts from its own day
	LongOnTheWay    Code = "long-on-the-way"  // date, days, on: it counts from the day of receipt
)

// SetAside is why a recording does not count.
func SetAside(code Code, of string) Fact { return workout.Say(code, Args{"of": of}) }

// Counts says that a recording is not set aside.
func (r Recording) Counts() bool { return r.Aside.Code == "" }

// Report is a session that was done without a recording, or what the client said about one.
type Report struct {
	ID      string        `json:"id"`
	Date    workout.Date  `json:"date"`
	Entered workout.Date  `json:"entered"`
	Minutes float64       `json:"minutes"`
	Sport   workout.Sport `json:"sport"`
	RPE     *workout.RPE  `json:"rpe,omitempty"`
	Talk    Talk          `json:"talk,omitempty"`
}

// Note is what no sensor knows, on one day. A note about effort, talk or enjoyment belongs to the
// session of that day.
type Note struct {
	ID        string       `json:"id"`
	Date      workout.Date `json:"date"`
	Entered   workout.Date `json:"entered"`
	RPE       *workout.RPE `json:"rpe,omitempty"`
	Talk      Talk         `json:"talk,omitempty"`
	Enjoyment int          `json:"enjoyment,omitempty"` // 1-5, 0 not asked
	HRRest    float64      `json:"hr_rest,omitempty"`
	Symptoms  []signs.Sign `json:"symptoms,omitempty"`
	NoSign    bool         `json:"no_sign,omitempty"` // the client was asked, and there was no sign
	// Suspected is what the words may mean beyond what is entered, as version Reader of the reader found
	// when the note was entered; Reader is 0 for a note that nobody has read.
	Suspected []Suspicion   `json:"suspected,omitempty"`
	Reader    int           `json:"reader,omitempty"`
	NotSo     []signs.Topic `json:"not_so,omitempty"` // topics that the client was asked about and that were not so
	By        string        `json:"by,omitempty"`     // who asked, or entered it
	HeatC     *float64      `json:"heat_c,omitempty"`
	NoFan     bool          `json:"no_fan,omitempty"` // done indoors without a fan
	Text      string        `json:"text,omitempty"`
}

// Talk is the answer to the talk test.
type Talk string

// The answers. NotAsked is the zero value.
const (
	NotAsked        Talk = ""
	TalkComfortable Talk = "comfortable"
	TalkHard        Talk = "hard"
	TalkNo          Talk = "no"
)

// Session is what the client did: one or more recordings less than 30 min apart, or a report. Of
// several answers about it the worst counts: the hardest effort, the least talk, the least enjoyment.
type Session struct {
	Date       workout.Date  `json:"date"`
	Start      time.Time     `json:"start,omitzero"`
	Mode       workout.Mode  `json:"mode"`
	Place      workout.Place `json:"place,omitempty"`
	Minutes    float64       `json:"minutes"`  // elapsed minus paused; of a circuit those in zone 1 and above
	Reported   bool          `json:"reported"` // without a recording
	Sport      workout.Sport `json:"sport,omitempty"`
	Recordings []Recording   `json:"recordings,omitempty"`
	RPE        *workout.RPE  `json:"rpe,omitempty"`
	Talk       Talk          `json:"talk,omitempty"`
	Enjoyment  int           `json:"enjoyment,omitempty"`
	HeatC      *float64      `json:"heat_c,omitempty"`
	NoFan      bool          `json:"no_fan,omitempty"`
	// Efforts are all efforts given for the session, in the order in which they came; RPE is the hardest.
	Efforts []workout.RPE `json:"efforts,omitempty"`
	Late    bool          `json:"late,omitempty"` // received more than 7 days after it was done
	// Uncounted says why it does not count; "" if it does.
	Uncounted Uncounted `json:"uncounted,omitempty"`
}

// Week is the seven days that end with To.
type Week struct {
	From     workout.Date        `json:"from"`
	To       workout.Date        `json:"to"`
	Stage    int                 `json:"stage"`
	Paused   bool                `json:"paused"` // the whole week lies in a pause
	Sessions []Session           `json:"sessions,omitempty"`
	Minutes  float64             `json:"minutes"`
	Longest  float64             `json:"longest_min"`
	Zones    physiology.ZoneTime `json:"zones"`
	Plan     *Prescription       `json:"plan,omitempty"` // what was prescribed for this week
}

// Record is everything known of one client by a date: the input of an assessment.
type Record struct {
	Client        Client
	Recordings    []Recording // those that count and those set aside, oldest first
	Reports       []Report
	Notes         []Note
	Decisions     []Decision
	Prescriptions []Prescription
	Answered      []Answered // suggestions of a higher top of zone 1
}
