package fieldtest_test

import "nextrung/internal/workout"

// codeOf is the first thing that a measurement lacks, "" for none.
func codeOf(why workout.Facts) workout.Code {
	if len(why) == 0 {
		return ""
	}
	return why[0].Code
}
