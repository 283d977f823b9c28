package answers

import (
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
)

// The questions to the trainer, some with words to be filled in. How an answer is entered is up to the code
// that shows the question.
const (
	askDayTold       = "Which day is this about?"
	askDayMeant      = "Which day do they mean?"
	askDayToCome     = "This day is still to come. Which day do they mean?"
	askDayLongAgo    = "This day is more than four weeks before the message. Which day do they mean?"
	askElsewhen      = "This message was not sent on %s. Which day do they mean?"
	askTodayOr       = "Is it today, or %s?"
	askDayOr         = "Which day is it: %s or %s?"
	askIsDay         = "Is it %s?"
	askDayOrRating   = "Is it a day, or a rating out of %s?"
	askNight         = "Which day's session is it?"
	askMorning       = "Which morning is it?"
	askMornings      = "Which number belongs to which morning?"
	askWhichSessions = "Which answer belongs to which session?"
	askSession       = "Which day is this about? %s"
	askNoSession     = "There is no session on %s. Which session is it? %s"
	sessionsOn       = "There are sessions on %s."
	noSessions       = "There is no session in the last two weeks."

	askMeaning     = "What does %s mean?"
	askNumber      = "What does the number mean?"
	askWhichNumber = "Which number is it?"
	askOneOrTwo    = "Is it one number or two?"
	askWhetherSo   = "It reads like a question. Is it an answer?"
	askUnsure      = "%q makes this unclear. What do they mean?"
	askBeside      = "%q next to it is unclear. What do they mean?"
	askPicture     = "What does the picture mean?"

	askScale         = "Is the effort on this scale?"
	askOffScale      = "%s is not an effort %s. How hard was it?"
	askEffort        = "How hard was it, %s?%s A number is needed, not a word."
	anchorBeside     = " %q goes with %s on the %s scale."
	askContradiction = "%q does not fit %s.%s How hard was it?"
	askTalk          = "Was talking comfortable, hard or not possible?"
	askAboutTalk     = "Is %q about talking? Was talking comfortable, hard or not possible?"
	askEnjoyment     = "How enjoyable was it, from 1 to 5? A number is needed, not a word."
	askOffEnjoyment  = "%s is not a rating from 1 to 5. How enjoyable was it?"
	askResting       = "Is this the resting heart rate?"
	askPulse         = "%s bpm: is it a resting heart rate?"
	askUnit          = "Is it °C or °F?"
	askNoAir         = "%s °C is not a likely air temperature. What is it?"
	askDegrees       = "%s °C: was it the air, or a fever?"
	askAirOrFever    = "Was it the air, or a fever?"
	askOfAnswers     = "Two answers about %s for %s: %s. Which one is right?"
	askOfBook        = "The book has another answer about %s for %s: %s. Which one is right?"
)

// askSuspected asks about what words may mean, each question once.
func askSuspected(all []record.Suspicion) string {
	var out []string
	for _, s := range all {
		if q := askSuspicion(s); !slices.Contains(out, q) {
			out = append(out, q)
		}
	}
	return strings.Join(out, " ")
}

func askSuspicion(s record.Suspicion) string {
	ask := "Ask: “" + s.Asks() + "”"
	switch s.Topic {
	case signs.Medicine:
		return ask + " A medicine can slow or raise the heart rate, and until you know which and since when, the zones may be wrong."
	case signs.Pregnancy:
		return ask + " Zones and cautions depend on it."
	case signs.Injury:
		return ask + " An injury needs to be seen to first."
	}
	switch s.Sign {
	case signs.BreathlessAtRest:
		return "Breathless at rest, lying down, with mild effort, or only with hard effort?"
	case signs.Nausea:
		return "Was it during a session, or soon after? If so, no training until a doctor has cleared the client."
	case signs.Cold:
		return "Is it an illness, or the weather?"
	case signs.Fever:
		return "Was it a fever, or the weather?"
	case signs.Sore, signs.UnusuallyTired:
		return "Is it more than usual after a session?"
	}
	return "Possible sign: " + s.Sign.Words() + ". " + ask
}
