package workout

// Sport is the activity as the file names it, brought to one spelling.
type Sport string

// The sports that the program distinguishes. Everything else is Other.
const (
	Running  Sport = "running"
	Walking  Sport = "walking"
	Cycling  Sport = "cycling"
	Rowing   Sport = "rowing"
	Swimming Sport = "swimming"
	Skiing   Sport = "skiing"
	Strength Sport = "strength"
	Other    Sport = "other"
)

// Mode is the way a client trains, as far as maximal heart rate and comparisons depend on it.
type Mode string

// The modes of training.
const (
	Run       Mode = "run"
	Walk      Mode = "walk"
	Bike      Mode = "bike"
	Row       Mode = "row"
	Swim      Mode = "swim"
	OtherMode Mode = "other"
)

// Modes lists all modes in the order in which pages show them.
func Modes() []Mode { return []Mode{Walk, Run, Bike, Row, Swim, OtherMode} }

// Mode gives the training mode of a sport.
func (s Sport) Mode() Mode {
	switch s {
	case Running:
		return Run
	case Walking:
		return Walk
	case Cycling:
		return Bike
	case Rowing:
		return Row
	case Swimming:
		return Swim
	}
	return OtherMode
}

// Sport gives the usual sport of a mode.
func (m Mode) Sport() Sport {
	switch m {
	case Run:
		return Running
	case Walk:
		return Walking
	case Bike:
		return Cycling
	case Row:
		return Rowing
	case Swim:
		return Swimming
	}
	return Other
}

// Doing is the mode as an activity in words: "walking".
func (m Mode) Doing() string {
	switch m {
	case Run:
		return "running"
	case Walk:
		return "walking"
	case Bike:
		return "cycling"
	case Row:
		return "rowing"
	case Swim:
		return "swimming"
	}
	return "other training"
}

// Place separates indoor machines from outdoor ground, which are never compared with each other.
type Place string

// The places. AnyPlace, the zero value, means that the file does not say.
const (
	AnyPlace Place = ""
	Indoor   Place = "indoor"
	Outdoor  Place = "outdoor"
)
