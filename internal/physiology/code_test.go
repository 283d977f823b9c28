package physiology_test

import (
	"slices"

	"nextrung/internal/workout"
)

// codeOf is the first thing that a measurement lacks, "" for none.
func codeOf(why workout.Facts) workout.Code {
	if len(why) == 0 {
		return ""
	}
	return why[0].Code
}

// saysCode says whether a code is among what a measurement lacks; "" always is.
func saysCode(why workout.Facts, code workout.Code) bool {
	return code == "" || slices.ContainsFunc(why, func(f workout.Fact) bool { return f.Code == code })
}
