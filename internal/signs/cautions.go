package signs

// Cautions are the sentences that stand on every page on which somebody may act.
func Cautions() []string {
	return []string{
		"This is not a medical device and nothing here is a diagnosis.",
		"Medicines that slow the heart make heart-rate zones wrong: then go by effort and talk.",
		"With a known heart, metabolic or kidney disease, or with any of the stop signs, see a doctor before training on.",
		"Talk and effort overrule every number on this page.",
		"Local rules and licensed practice come first.",
	}
}

// StopSigns are the signs at which a session ends at once (from memory after the published lists,
// in own words; to be checked by licensed practice).
func StopSigns() []string {
	return []string{
		"Pain or pressure in the chest, neck, jaw or arm: stop and call emergency help.",
		"Fainting or nearly fainting: stop and call emergency help.",
		"Breathlessness at rest, or far more than the effort explains: stop and call emergency help.",
		"Confusion, unsteadiness, or cold, blue or clammy skin: stop and call emergency help.",
		"A heart that races, stumbles or flutters: stop and see a doctor before the next session.",
		"Dizziness or sickness: stop and see a doctor before the next session.",
		"Wheezing, or cramp or pain in the calf when walking: stop and see a doctor before the next session.",
		"You want to stop: stop.",
	}
}

// Advice says what a reported sign asks for at once; "" for a sign without a rule of its own.
func (s Sign) Advice() string {
	switch s.Tier() {
	case Emergency:
		return "Stop, and call emergency help. No training until a doctor says so."
	case Doctor:
		return "No training until a doctor says so."
	case AskAgain:
		return "Take it easier, and ask again in a few days."
	case Illness:
		return "No training until 48 hours without symptoms, then an easy week."
	}
	return ""
}
