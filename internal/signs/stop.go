package signs

import "strings"

// Stop is one line of the list of stop signs: what to do, and at which signs. Items are the words for
// them; together they make the line.
type Stop struct {
	Do    string
	Items []Item
}

// Item is a stop sign in words.
type Item struct {
	Sign  Sign
	Words string
}

// Text is the line in full: "Stop and call emergency help now: fainting, or nearly fainting."
func (s Stop) Text() string {
	var words []string
	for _, i := range s.Items {
		words = append(words, i.Words)
	}
	last := len(words) - 1
	list := words[last]
	if last > 0 {
		list = strings.Join(words[:last], ", ") + ", or " + list
	}
	return s.Do + ": " + list + "."
}

const (
	call     = "Stop and call emergency help now"
	seeToday = "Stop and see a doctor today, urgently"
	notTill  = "Stop, and don't train until a doctor has cleared you"
)

// Stops is the one list of signs at which a session ends, the gravest first (sources: see Chest and the
// signs after it). StopSigns is made from it; StopShort names the same signs in fewer words.
func Stops() []Stop {
	return []Stop{
		{call, []Item{{Chest, "pain, pressure, tightness or burning in the chest, neck, jaw, teeth or arm, or between the shoulder blades"}}},
		{call, []Item{{Faint, "fainting"}, {Faint, "nearly fainting"}}},
		{call, []Item{{BreathlessAtRest, "breathlessness at rest"}, {BreathlessBeyond, "far more breathlessness than the effort explains"}}},
		{call, []Item{{Confusion, "confusion"}, {Confusion, "slurred speech"}, {Unsteady, "unsteadiness"}, {PaleOrBlue, "skin that is cold, clammy, grey or blue"}}},
		{seeToday, []Item{{SwollenLeg, "one leg that is swollen"}, {SwollenLeg, "one calf that is warm, swollen or painful"}}},
		{notTill, []Item{{Palpitations, "a heart that suddenly races, flutters or skips beats"}}},
		{notTill, []Item{{Dizzy, "dizziness"}, {Nausea, "feeling sick"}, {Wheezing, "wheezing"}}},
		{notTill, []Item{{CalfPain, "pain or cramp in the calves or legs when walking that goes away soon after you stop"}}},
	}
}

// InPregnancy is the line for a client who is pregnant (from memory of the warning signs of ACOG Committee Opinion 804,
// 2020; to be checked by licensed practice).
var InPregnancy = Stop{"Stop and call your midwife, doctor or maternity unit now", []Item{
	{PregnancyWarning, "bleeding"}, {PregnancyWarning, "leaking fluid"}, {PregnancyWarning, "regular contractions"}, {PregnancyWarning, "pain in the belly"}, {PregnancyWarning, "a baby that moves less"},
}}

// WithDevice is the line for a client with a pacemaker, which may be a defibrillator as well (from memory; to be checked by
// licensed practice).
var WithDevice = Stop{seeToday, []Item{{DeviceTrouble, "a shock or an alarm from your pacemaker or defibrillator"}}}

// enough ends the full list: a client may always stop.
const enough = "If you want to stop, stop."

// StopSigns is the list in full, one sentence a line, with the lines that concern one client behind those for an emergency.
func StopSigns(own ...Stop) []string {
	var out []string
	for i, s := range Stops() {
		if i > 0 && s.Do != call && Stops()[i-1].Do == call {
			for _, o := range own {
				out = append(out, o.Text())
			}
		}
		out = append(out, s.Text())
	}
	return append(out, enough)
}

// NoDevice is what the program says of itself wherever it advises.
const NoDevice = "This is not a medical device, and nothing here is a diagnosis."

// StopLine is what stands alone where there is room for one line, as in a watch's workout note.
const StopLine = "Chest pain, fainting, or breathless at rest: stop and call emergency help."

// StopShort is the list for a picture or a message. Its first line is StopLine.
func StopShort() []string {
	return []string{
		StopLine,
		"Confused, unsteady, far too breathless, or clammy, grey or blue skin: stop and call emergency help.",
		"One leg or calf swollen, warm or painful: stop and see a doctor today, urgently.",
		"Heart suddenly racing or skipping beats, dizzy, sick, wheezing, or calf pain when walking: stop, and don't train until a doctor has cleared you.",
	}
}

// Cautions are the sentences that stand on every page on which somebody may act, the strongest first.
func Cautions(to Addressee) []string {
	own := []string{
		"After any of the stop signs, don't train until a doctor has cleared you.",
		"With known heart, metabolic or kidney disease, don't start or train harder until a doctor has cleared you.",
		"If you take a medicine that slows the heart, heart-rate zones are wrong for you. Go by effort and talk, and tell your trainer.",
		"If it feels too hard, slow down, whatever the numbers say: effort and talk overrule every heart rate here.",
	}
	if to == Trainer {
		own = []string{
			"After any of the stop signs, no training until a doctor has cleared the client.",
			"With known heart, metabolic or kidney disease, don't let the client start or train harder until a doctor has cleared them.",
			"A medicine that slows the heart makes heart-rate zones wrong: go by effort and talk.",
			"If it feels too hard for the client, make it easier, whatever the numbers say: effort and talk overrule every heart rate here.",
		}
	}
	return append(own, "Local rules and the advice of licensed professionals come first.",
		NoDevice)
}

// AfterReferral says what becomes of plans handed out before a client was sent to a doctor.
const AfterReferral = "Delete the old sessions from your calendar and watch."

// Question is one question of screening, and the signs that a yes may mean.
type Question struct {
	Signs []Sign
	Text  string
}

// Screening is the list of nine published signs as questions (Riebe 2015; see Sign).
func Screening() []Question {
	return []Question{
		{[]Sign{Chest}, "Do you get pain, pressure, tightness or burning in the chest, neck, jaw, teeth or arms, or between the shoulder blades, during effort or excitement, in the cold or after meals?"},
		{[]Sign{BreathlessAtRest, BreathlessMild}, "Do you get short of breath at rest or with mild effort?"},
		{[]Sign{Dizzy, Faint}, "Have you been dizzy, fainted or nearly fainted?"},
		{[]Sign{BreathlessLying}, "Do you get breathless lying flat, or wake up at night breathless?"},
		{[]Sign{SwollenAnkles}, "Do your ankles swell?"},
		{[]Sign{Palpitations}, "Does your heart race, flutter or skip beats for no clear reason?"},
		{[]Sign{CalfPain}, "Do you get cramp or pain in the legs when walking that goes away when you stop?"},
		{[]Sign{HeartMurmur}, "Has a doctor ever found a heart murmur?"},
		{[]Sign{EverydayTasks}, "Do everyday tasks make you unusually tired or breathless?"},
	}
}
