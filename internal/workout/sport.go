package workout

import "cmp"

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

// sports are the usual sports of the modes.
var sports = map[Mode]Sport{Run: Running, Walk: Walking, Bike: Cycling, Row: Rowing, Swim: Swimming}

// Mode gives the training mode of a sport.
func (s Sport) Mode() Mode {
	for m, usual := range sports {
		if usual == s {
			return m
		}
	}
	return OtherMode
}

// Sport gives the usual sport of a mode.
func (m Mode) Sport() Sport { return cmp.Or(sports[m], Other) }

// Doing is the mode as an activity in words: "walking".
func (m Mode) Doing() string {
	if s, ok := sports[m]; ok {
		return string(s)
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
