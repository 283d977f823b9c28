// Package recording reads and writes the files in which watches and bicycle computers export
// workouts: FIT, TCX, GPX and tables in CSV, each as it is, gzipped, or in a zip archive.
//
// It owns everything specific to a format: how a format is recognised by its content, byte
// orders, text encodings, ways to write the time, absent values, chained sequences, damage. What
// it hands on is a [workout.Workout] in the units of package workout (seconds since the start,
// beats per minute, metres per second, watts, UTC), in which absent values no longer exist.
//
// The elapsed time of a workout is counted in whole seconds: second 0 is the whole second of the
// earliest sample, and a sample belongs to the second that it falls in. A step of more than 12
// hours between two samples begins another workout; a workout of more than 7 days is refused.
// Pauses are the timer's stops in FIT, the gaps between tracks of one lap in TCX, and the gaps
// between segments in GPX. Other gaps are missing data, not pauses.
//
// Nothing is judged here: implausible heart rates are handed on as they were recorded (package
// heartrate rejects and counts them), laps are kept without being believed, and zones or maximal
// heart rates stored in a file are not read at all. Of positions only the speed is kept. Text
// from a file (names of people, places or devices) is neither kept nor repeated in a remark or an
// error; a device's serial number is kept as a digest.
//
// Plans are written for watches and calendars: a planned session as a FIT workout file
// ([EncodeWorkoutFIT]), a week of them as iCalendar ([EncodeCalendar]). Neither is a recording, and
// given as one both are refused.
//
// The package is pure: it opens no file and asks no clock.
package recording
