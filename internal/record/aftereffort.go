package record

import "nextrung/internal/workout"

// AfterEffort is the advice for the minutes in which recovery is measured, in the client's modes.
func (c Client) AfterEffort() string { return "Keep recording and " + c.KeepMoving() + "." }

func (c Client) KeepMoving() string {
	moving := "keep moving easily"
	ways := map[workout.Mode]string{
		workout.Run: "keep walking easily", workout.Walk: "keep walking easily", workout.Bike: "keep pedalling lightly",
		workout.Row: "keep rowing lightly", workout.Swim: "keep swimming easily",
	}
	for i, m := range c.Modes {
		switch {
		case ways[m] == "", i > 0 && ways[m] != moving:
			return "keep moving easily for 3 minutes after your last effort"
		}
		moving = ways[m]
	}
	return moving + " for 3 minutes after your last effort"
}
