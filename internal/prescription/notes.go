package prescription

import (
	"fmt"
	"slices"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// said are the sentences of notes that need no figures, as the client reads them.
var said = map[record.PlanCode]string{
	record.EasierWeek:     "An easier week: shorter sessions, nothing hard.",
	record.EasierAgain:    "Another easier week: short again, nothing hard.",
	record.RestFirst:      "Rest until you have had no fever and no other symptoms for 48 hours. Then start with this easy week.",
	record.WelcomeBack:    "Welcome back. Start with about three quarters of what you did before.",
	record.EasyPhase:      "You are in an easy phase: about three quarters of your usual minutes, all of them comfortable.",
	record.CheckLater:     "After one or two comfortable weeks, do a check session: warm up, keep to one comfortable speed on one machine for 25 minutes, and cool down.",
	record.AnswerFirst:    "Comfortable sessions only until you have answered your trainer's question about your health.",
	record.ClearanceFirst: "Ask your doctor for clearance. Until you have it, comfortable sessions only.",
	record.FeltTooHard:    "Last week felt harder than it should have. Go slower, even if your watch allows more.",
	record.ZonesTooLow:    "If talking was easy all the same, tell your trainer: the heart rates given here may be too low for you.",
	record.KeepLength:     "Your pulse still climbs while your speed stays the same. Don't make the sessions longer for now.",
	record.NormalFirst:    "Comfortable sessions only for now: after your illness, some normal weeks come before anything harder.",
	record.EasyFirst:      "Make the first session an easy one.",
	record.SmallSteps:     "We planned this week from what you did lately, so that you build up in small steps.",
	record.LessTooHard:    "This is less than you did lately, because some of that was too hard.",
	record.LessTime:       "This is less than you did lately, so that it fits the time you said you have.",
	record.InPieces:       "You have been doing more than this in shorter sessions. Keep that up as long as it stays comfortable.",
	record.ShorterNow:     "The sessions are shorter this week, so that they feel comfortable again.",
	record.ByTalk:         "Comfortable means that you can talk in whole sentences. If you can't, slow down, whatever your watch says.",
	record.NoRoom:         "Comfortable sessions only: your doctor's limit leaves no room for harder parts.",
	record.AtTheWall:      "Swim by how it feels, since water hides your pulse. When you stop at the wall, try a whole sentence: if you can't say it, swim slower.",
	record.NoTime:         "Brisk or hard parts don't fit into the time you have for one session, so all sessions are comfortable. If you can make one longer, tell your trainer.",
	record.OnlyUpperLimit: "Go by how it feels: the alarm is only an upper limit, and your pulse doesn't have to reach it.",
	record.ByFeel:         "Go by how it feels: numbers do not suit your pulse.",
	record.ByHeartRate:    "Your watch may number its zones differently. Follow the heart rates given here.",
	record.TellEffort:     "After each session, tell your trainer how hard it was and whether you could talk comfortably.",
	record.NoSessions:     "No sessions this week.",
	record.DoctorFirst:    "Don't train until a doctor has cleared you. Then tell your trainer the date of the clearance.",
	record.AgreeFirst:     signs.ToldNotToTrain.NoTraining(signs.Client) + ". Then tell your trainer the date of the clearance.",
	record.CallHelp:       signs.StopLine,
	record.CallIfStill:    signs.Chest.Urgent(signs.Client, 1) + ".", // whenever it is read
	record.SeeToday:       signs.SwollenLeg.Urgent(signs.Client, 1) + ".",
	record.TooYoung:       "There are no stages for under-18s. Your trainer will tell you how to train.",
	record.NoStageYet:     "No sessions yet: your trainer will tell you where you start.",
	record.AskedFirst:     "Don't train until you have answered your trainer's question about how you felt.",
	record.QuestionsFirst: "No sessions yet: your trainer has a few questions for you first.",
}

// undecided are the sentences of an easier week that the trainer has not decided on: it is not called so.
var undecided = map[record.PlanCode]string{
	record.EasierWeek:  "Shorter sessions, nothing hard.",
	record.EasierAgain: "Short again, nothing hard.",
}

// because says why a plan was replaced.
var because = map[record.Change]string{
	record.ByDecision:  ", because your trainer has decided on a change",
	record.ForHealth:   ", because something else comes first",
	record.ForEase:     ", because less is better now",
	record.AfterAnswer: ", because what had to be settled first has been settled",
	record.ForTime:     ", because you have less time",
	record.ForZones:    ", because the heart rates for you have changed",
}

// Say puts a note into words for the client.
func Say(n record.PlanNote) string {
	switch n.Code {
	case "": // from a book of an earlier version
		return n.Text
	case record.Replaces:
		return fmt.Sprintf("This replaces the plan of %s%s. Delete the old sessions from your calendar and your watch.", n.Day.Long(), because[n.Why])
	case record.AbovePlan:
		return "Much of the last few weeks was harder than planned. " + slower(n.BPM)
	case record.AboveZone1:
		return "In much of the last few weeks your pulse was above your comfortable range. " + slower(n.BPM)
	case record.OneMoreSession:
		return fmt.Sprintf("You did %d of %s. One more would help most.", n.N, wording.Count(n.Of, "session"))
	case record.NewParts:
		return fmt.Sprintf("New this week: one session has short %s parts. The others stay comfortable.", n.Feel)
	case record.PartsMean:
		if n.Feel == workout.Hard {
			return "Hard means that you can only say single words. Stop a part early rather than go all out."
		}
		return "Brisk means that your sentences get short."
	case record.KeepRecording:
		return AfterEffort(n.Modes)
	case record.CheckSession:
		where := "preferably on the flat, on a route you always use"
		if n.Machine {
			where = "on the machine you always use, with a fan if there is one"
		}
		return fmt.Sprintf("The session on %s is a check session, to see whether your pulse stays level. After the warm-up, go at one steady speed for %d minutes, %s. Afterwards, tell your trainer how hard it was.",
			n.Day.Day(), checkLoad/60, where)
	}
	return said[n.Code]
}

func slower(top float64) string {
	if top > 0 {
		return "Go slower, with easy spells in between, so that your pulse stays below " + wording.Number(top) + "."
	}
	return "Go slower, with easy spells in between, so that your pulse stays in your comfortable range."
}

// AfterEffort is the advice for the minutes in which recovery is measured.
func AfterEffort(modes []workout.Mode) string { return "Keep recording and " + KeepMoving(modes) + "." }

// KeepMoving says how to keep moving after the last effort, in the client's modes.
func KeepMoving(modes []workout.Mode) string {
	ways := map[workout.Mode]string{
		workout.Run: "walking easily", workout.Walk: "walking easily", workout.Bike: "pedalling lightly",
		workout.Row: "rowing lightly", workout.Swim: "swimming easily",
	}
	onFoot := func(m workout.Mode) bool { return m == workout.Run || m == workout.Walk }
	way := "moving easily"
	if len(modes) > 0 && ways[modes[0]] != "" && !slices.ContainsFunc(modes, func(m workout.Mode) bool { return m != modes[0] && !(onFoot(m) && onFoot(modes[0])) }) {
		way = ways[modes[0]]
	}
	return "keep " + way + " for 3 minutes after your last effort"
}
