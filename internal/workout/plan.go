package workout

// StepKind names a part of a session.
type StepKind string

// The parts of a session, as plans prescribe them and phases find them.
const (
	WarmUp   StepKind = "warm-up"
	Steady   StepKind = "steady"
	Work     StepKind = "work"
	Recovery StepKind = "recovery"
	CoolDown StepKind = "cool-down"
	// OtherPart is used by phases only: movement that is none of the others.
	OtherPart StepKind = "other"
)

// Feel is an intensity in the words that clients use.
type Feel string

// The three feels: talking is easy; sentences get short; single words.
const (
	Comfortable Feel = "comfortable"
	Brisk       Feel = "brisk"
	Hard        Feel = "hard"
)

// Step is one part of a planned session. Low and High are bpm, 0 when no beats are prescribed.
type Step struct {
	Kind    StepKind `json:"kind"`
	Seconds int      `json:"seconds"`
	Low     float64  `json:"low_bpm,omitempty"`
	High    float64  `json:"high_bpm,omitempty"`
	Feel    Feel     `json:"feel,omitempty"`
}

// Plan is one session to be done, step by step; repeats are written out.
type Plan struct {
	Name  string `json:"name"`
	Mode  Mode   `json:"mode"`
	Steps []Step `json:"steps"`
	Note  string `json:"note,omitempty"` // shown with the first step
}

// Seconds is the planned length.
func (p Plan) Seconds() int {
	n := 0
	for _, s := range p.Steps {
		n += s.Seconds
	}
	return n
}

// Bouts gives the work steps in order.
func (p Plan) Bouts() []Step {
	var out []Step
	for _, s := range p.Steps {
		if s.Kind == Work {
			out = append(out, s)
		}
	}
	return out
}
