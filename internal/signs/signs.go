// Package signs owns the signs and symptoms that stop, hold or ease training: their names and tiers,
// how people write about them, and the stop signs, cautions and advice made from them. It finds
// words; what a record of them means for a client is decided elsewhere. It knows the common words and
// some of the rest, so a text in which it hears nothing is still for the trainer to read.
package signs

import "strings"

// Sign is a sign or symptom, by the word that commands take and books hold.
type Sign string

// The signs. Those of screening are the nine major signs and symptoms of cardiovascular, metabolic
// or kidney disease (Riebe et al. 2015, Med Sci Sports Exerc 47:2473; the same table stands in the
// handbook of exercise testing and prescription, chapter 2). The others follow the handbook's list of
// reasons to stop a test. Both from memory and copies, to be checked by licensed practice.
const (
	Chest            Sign = "chest" // pain or pressure in chest, neck, jaw, teeth, arm or between the shoulder blades
	Faint            Sign = "faint"
	BreathlessAtRest Sign = "breathless-at-rest"
	BreathlessBeyond Sign = "breathless-beyond-effort" // far more than the effort explains
	Confusion        Sign = "confusion"                // also speech or face that goes wrong
	Unsteady         Sign = "unsteady"
	PaleOrBlue       Sign = "pale-or-blue" // cold, clammy, grey or blue skin, blue lips
	SwollenLeg       Sign = "swollen-leg"  // one calf or leg: possibly a clot (from memory)
	BreathlessMild   Sign = "breathless-at-mild-effort"
	EverydayTasks    Sign = "tired-at-everyday-tasks" // or breathless at them; UnusuallyTired is the mild one
	BreathlessLying  Sign = "breathless-lying"        // or waking at night breathless
	Dizzy            Sign = "dizzy"
	Palpitations     Sign = "palpitations"
	SwollenAnkles    Sign = "swollen-ankles"
	CalfPain         Sign = "calf-pain-walking"
	HeartMurmur      Sign = "heart-murmur"
	Wheezing         Sign = "wheezing"
	Nausea           Sign = "nausea"
	ToldNotToTrain   Sign = "told-not-to-train"       // by a doctor, or not before a test; no symptom
	HospitalOrIll    Sign = "hospital-or-new-illness" // a stay, an operation or a new diagnosis; no symptom
	Bleeding         Sign = "internal-bleeding"       // in stool, urine, what is coughed or brought up (from memory)
	DeviceTrouble    Sign = "device-trouble"          // of a pacemaker or defibrillator
	// PregnancyWarning is what ends a session in pregnancy (ACOG Committee Opinion 804, 2020, from memory).
	PregnancyWarning Sign = "pregnancy-warning"
	Fever            Sign = "fever"
	ChestIllness     Sign = "chest-illness" // bronchitis and the like
	UnusuallyTired   Sign = "unusually-tired"
	PoorSleep        Sign = "poor-sleep"
	Cold             Sign = "cold"
	Sore             Sign = "sore"
)

// Tier is what a sign calls for.
type Tier int

// The tiers. Other is that of a word that is no sign of this package.
const (
	Other     Tier = iota
	Emergency      // stop and call emergency help
	Doctor         // no training until a doctor says so
	AskAgain       // ease and ask again
	Illness        // nothing until 48 hours without symptoms
)

// facts are what is known of a sign. Words are lower case and stand after "had" or "noted:".
type facts struct {
	sign  Sign
	tier  Tier
	words string
	asks  string // what to ask the client
}

var table = []facts{
	{Chest, Emergency, "pain or pressure in the chest, neck, jaw or arm", "Did you have pain or pressure in the chest, neck, jaw or arm?"},
	{Faint, Emergency, "fainted or nearly fainted", "Did you faint or nearly faint?"},
	{BreathlessAtRest, Emergency, "breathless at rest", "Were you breathless at rest?"},
	{BreathlessBeyond, Emergency, "far more breathless than the effort explains", "Were you far more breathless than the effort explains?"},
	{Confusion, Emergency, "confused or slurring words", "Were you confused, or were your words slurred?"},
	{Unsteady, Emergency, "unsteady", "Were you unsteady on your feet?"},
	{PaleOrBlue, Emergency, "cold, clammy, grey or blue skin", "Was your skin cold, clammy, grey or blue?"},
	{SwollenLeg, Doctor, "one swollen or painful leg", "Is one calf or leg swollen, warm or painful?"},
	{BreathlessMild, Doctor, "breathless at mild effort", "Were you breathless with mild effort?"},
	{EverydayTasks, Doctor, "unusually tired or breathless with everyday tasks", "Do everyday tasks make you unusually tired or breathless?"},
	{BreathlessLying, Doctor, "breathless lying down, or waking up breathless at night", "Were you breathless lying down, or did you wake up breathless at night?"},
	{Dizzy, Doctor, "dizzy", "Were you dizzy?"},
	{Palpitations, Doctor, "racing or irregular heartbeat", "Did your heart race, flutter or skip beats?"},
	{SwollenAnkles, Doctor, "swollen ankles", "Are your ankles swollen?"},
	{CalfPain, Doctor, "calf pain when walking", "Do you get calf pain when you walk?"},
	{HeartMurmur, Doctor, "a heart murmur", "Has a doctor found a heart murmur?"},
	{Wheezing, Doctor, "wheezing", "Were you wheezing?"},
	{Nausea, Doctor, "sick or nauseous", "Did you feel sick?"},
	{ToldNotToTrain, Doctor, "medical advice not to train", "Has a doctor told you not to exercise, or not to exercise yet?"},
	{HospitalOrIll, Doctor, "a stay in hospital, an operation or a new illness", "Were you in hospital, did you have an operation, or is a doctor treating you for something new?"},
	{Bleeding, Doctor, "blood in stool, urine or what you cough up", "Was there blood in your stool or urine, did you cough or bring up blood, or was your stool black?"},
	{DeviceTrouble, Doctor, "trouble with a pacemaker or defibrillator", "Is something wrong with a pacemaker or defibrillator, or did it give a shock?"},
	{PregnancyWarning, Doctor, "bleeding, fluid or contractions in pregnancy, or a baby that moves less", "Was there bleeding or fluid, were there contractions, or did the baby move less?"},
	{Fever, Illness, "a fever", "Did you have a fever?"},
	{ChestIllness, Illness, "a chest illness", "Do you have a chest illness?"},
	{UnusuallyTired, AskAgain, "unusually tired", "Were you unusually tired?"},
	{PoorSleep, AskAgain, "slept badly", "Did you sleep badly?"},
	{Cold, AskAgain, "a cold", "Do you have a cold?"},
	{Sore, AskAgain, "sore", "Were you sore?"},
}

// All lists the signs, the gravest first.
func All() []Sign {
	var out []Sign
	for _, f := range table {
		out = append(out, f.sign)
	}
	return out
}

func (s Sign) facts() facts {
	for _, f := range table {
		if f.sign == s {
			return f
		}
	}
	words := strings.ReplaceAll(string(s), "-", " ")
	return facts{s, Other, words, "Did you notice this: " + words + "?"}
}

// Tier of a sign.
func (s Sign) Tier() Tier { return s.facts().tier }

// Words says a sign plainly, in lower case.
func (s Sign) Words() string { return s.facts().words }

// Question is what to ask a client who may have meant the sign.
func (s Sign) Question() string { return s.facts().asks }

// Grave says that nothing harder than rest may follow before somebody has asked: Emergency or Doctor.
func (s Sign) Grave() bool { return s.Tier() == Emergency || s.Tier() == Doctor }

// Urgency is how soon somebody has to act on a sign; the lower, the sooner.
type Urgency int

// The urgencies.
const (
	CallNow    Urgency = iota
	SeeToday           // a doctor, the same day
	ClearFirst         // no training until a doctor has cleared the client
	AgreeFirst         // no training until the doctor who advised against it agrees
	RestFirst          // no training while it lasts, and 48 hours longer
	EaseFirst          // an easier week
	NoUrgency          // a word that is no sign of this package
)

// Urgency of a sign: that of its tier, but one swollen leg may be a clot and cannot wait, nor can blood lost within, a
// device at the heart or a warning in pregnancy, and advice not to train is from a doctor already.
func (s Sign) Urgency() Urgency {
	switch s {
	case SwollenLeg, Bleeding, DeviceTrouble, PregnancyWarning:
		return SeeToday
	case ToldNotToTrain:
		return AgreeFirst
	}
	return map[Tier]Urgency{Emergency: CallNow, Doctor: ClearFirst, Illness: RestFirst, AskAgain: EaseFirst, Other: NoUrgency}[s.Tier()]
}

// Addressee is who reads a sentence. A client reads "you" where the trainer reads "the client".
type Addressee int

// The addressees.
const (
	Client Addressee = iota
	Trainer
)

// NoTraining says until when a grave sign keeps somebody from training, without its full stop.
func (s Sign) NoTraining(to Addressee) string {
	until := "until a doctor has cleared " + [...]string{Client: "you", Trainer: "the client"}[to]
	if s.Urgency() == AgreeFirst {
		until = "until the doctor who advised against it agrees"
	}
	return [...]string{Client: "Don't train ", Trainer: "No training "}[to] + until
}

// Advice tells the trainer what a sign that was noted some days ago calls for today; "" for a word that
// is no sign of this package.
func (s Sign) Advice(days int) string {
	switch s.Urgency() {
	case CallNow:
		if days > 0 {
			return "Call emergency help now if the symptom is still there or comes back; otherwise the client has to see a doctor today. " + s.NoTraining(Trainer) + "."
		}
		return "Stop and call emergency help now. " + s.NoTraining(Trainer) + "."
	case SeeToday:
		return s.Urgent(Trainer, days) + ". " + s.NoTraining(Trainer) + "."
	case ClearFirst, AgreeFirst:
		return s.NoTraining(Trainer) + "."
	case RestFirst:
		return "No training until 48 hours have passed without symptoms, then an easy week."
	case EaseFirst:
		return "Plan an easier week, and ask again within three days."
	}
	return ""
}

// Urgent is the first thing to do about a sign that was noted some days ago, as a heading without its
// full stop; "" for a sign that is not grave. What happened on an earlier day needs a doctor today, and
// emergency help only if it is still there.
func (s Sign) Urgent(to Addressee, days int) string {
	switch u := s.Urgency(); {
	case u == CallNow && days > 0:
		return "Call emergency help now if the symptom is still there or comes back; otherwise " + [...]string{Client: "see a doctor", Trainer: "the client has to see a doctor"}[to] + " today"
	case u == CallNow:
		return "Call emergency help now"
	case u == SeeToday:
		return [...]string{Client: "See a doctor today, urgently", Trainer: "The client has to see a doctor today, urgently"}[to]
	case s.Grave():
		return s.NoTraining(to)
	}
	return ""
}

// Topic is what people write about their health that is no sign and still changes what a week or a
// zone may be.
type Topic string

// The topics.
const (
	Medicine  Topic = "medicine"
	Pregnancy Topic = "pregnancy"
	Injury    Topic = "injury" // a fall, a twist or a knock
)

// Question is what to ask a client who may have meant the topic.
func (t Topic) Question() string {
	return map[Topic]string{
		Medicine:  "Is there a new medicine, or a changed dose?",
		Pregnancy: "Could you be pregnant?",
		Injury:    "Are you injured? If so, is it safe to train?",
	}[t]
}
