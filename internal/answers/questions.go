package answers

import (
	"fmt"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// The questions to the trainer. How an answer is entered is for those to say who show the question.
const (
	askDayTold     = "Which day is this about?"
	askDayMeant    = "Which day is meant?"
	askDayToCome   = "This day is still to come. Which day is meant?"
	askDayLongAgo  = "This day is more than four weeks before the message. Which day is meant?"
	askNight       = "Which day's session is it?"
	askMorning     = "Which morning is it?"
	askMornings    = "Which number belongs to which morning?"
	askNumber      = "What does the number mean?"
	askWhichNumber = "Which number is it?"
	askOneOrTwo    = "Is it one number or two?"
	askScale       = "Is the effort on this scale?"
	askUnit        = "Is it °C or °F?"
	askResting     = "Is this the resting heart rate?"
	askAirOrFever  = "Was it the air, or a fever?"
	askPicture     = "What does the picture mean?"
	askTalk        = "Was talking comfortable, hard or not possible?"
	askWhetherSo   = "It reads like a question. Is it an answer?"
	askEnjoyment   = "How enjoyable was it, from 1 to 5? A word gives no number."
)

func askElsewhen(on workout.Date) string {
	return "This message was sent on another day than " + day(on) + ". Which day is meant?"
}

func askTodayOr(other workout.Date) string { return "Is it today, or " + day(other) + "?" }

func askDayOr(a, b workout.Date) string {
	return "Which day is it: " + a.Short() + " or " + b.Short() + "?"
}

func askDayOrRating(rating string) string { return "Is it a day, or a rating out of " + rating + "?" }

func askIsDay(on workout.Date) string { return "Is it " + on.Short() + "?" }

func askMeaning(text string) string { return "What does " + text + " mean?" }

func askDayOrEffort(v float64) string {
	return fmt.Sprintf("Is %s the day of the month or the effort?", figure(v))
}

func askUnsure(word string) string {
	return fmt.Sprintf("%q makes this unclear. What is meant?", word)
}

func askBeside(word string) string {
	return fmt.Sprintf("%q stands beside it and is not understood. What is meant?", word)
}

func askContradiction(word string, v float64, scale int) string {
	return fmt.Sprintf("%q does not go with %s.%s How hard was it?", word, figure(v), anchorHint(word, scale))
}

func askOffScale(v float64, scale int) string {
	return fmt.Sprintf("%s is not an effort %s. How hard was it?", figure(v), scaleRange(scale))
}

func askEffort(word string, scale int) string {
	return fmt.Sprintf("How hard was it, %s?%s A word gives no number.", scaleRange(scale), anchorHint(word, scale))
}

func askOffEnjoyment(v float64) string {
	return figure(v) + " is not a rating from 1 to 5. How enjoyable was it?"
}

func askAboutTalk(word string) string {
	return fmt.Sprintf("Is %q about talking? Was talking comfortable, hard or not possible?", word)
}

func askPulse(v float64) string { return figure(v) + " bpm: is it a resting heart rate?" }

func askNoAir(v float64) string { return figure(v) + " °C is no air temperature. What is it?" }

func askDegrees(v float64) string { return figure(v) + " °C: was it the air, or a fever?" }

func askSession(days string) string { return "Which day is this about? " + days }

func askOtherSession(on workout.Date, days string) string {
	return fmt.Sprintf("There is no session on %s. Which session is it? %s", day(on), days)
}

func askOfAnswers(name string, on workout.Date, all []string) string {
	return fmt.Sprintf("Two answers about %s for %s: %s. Which one is right?", name, day(on), strings.Join(all, " and "))
}

func askOfBook(name string, on workout.Date, before string) string {
	return fmt.Sprintf("The book has another answer about %s for %s: %s. Which one is right?", name, day(on), before)
}

// askSuspected asks about what words may mean, each question once.
func askSuspected(all []record.Suspicion) string {
	var out []string
	for _, s := range all {
		if q := askSuspicion(s); !strings.Contains(strings.Join(out, " "), q) {
			out = append(out, q)
		}
	}
	return strings.Join(out, " ")
}

func askSuspicion(s record.Suspicion) string {
	switch s.Topic {
	case signs.Medicine:
		return "Which medicine or dose, and since when? It can slow or raise the heart rate, and until you know, the zones may be wrong."
	case signs.Pregnancy:
		return "Is the client pregnant? Zones and cautions depend on it."
	case signs.Injury:
		return "Is it an injury? Then it needs to be seen to first."
	}
	switch s.Sign {
	case signs.BreathlessAtRest:
		return "Breathless at rest, lying down, with mild effort, or only with hard effort?"
	case signs.Nausea:
		return "Was it during a session, or soon after? Then it is a sign to stop."
	case signs.Cold:
		return "Is it an illness, or the weather?"
	case signs.Fever:
		return "Was it a fever, or the weather?"
	case signs.Sore, signs.UnusuallyTired:
		return "Is it more than usual after a session?"
	}
	return "Possible sign: " + s.Sign.Words() + ". Was it so?"
}
