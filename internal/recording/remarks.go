package recording

import "nextrung/internal/workout"

// What is said about a file or a workout in it, with the arguments of each.
const (
	ArchiveDamaged workout.Code = "archive-damaged"
	Damaged        workout.Code = "damaged"   // format: "fit" (at, bytes, kept), "xml" (line, damage, kept) or "csv" (rows)
	Truncated      workout.Code = "truncated" // bytes that are missing, 0 for the checksum alone
	Repaired       workout.Code = "repaired"  // what: "length" or "size"
	HeaderChecksum workout.Code = "header-checksum"
	Checksum       workout.Code = "checksum"
	TrailingZeros  workout.Code = "trailing-zeros" // bytes
	TrailingBytes  workout.Code = "trailing-bytes" // bytes
	NoTime         workout.Code = "no-time"        // n, of: "row", "record" or "point"
	ClockJumps     workout.Code = "clock-jumps"    // n, of: "record" or "sample"
	DateOrder      workout.Code = "date-order"
	NoZone         workout.Code = "no-zone" // zone: "none" or "unknown"
	NoUnit         workout.Code = "no-unit"
	Several        workout.Code = "several"     // times
	StrapFirst     workout.Code = "strap-first" // seconds
	Transition     workout.Code = "transition"  // seconds
	TooLong        workout.Code = "too-long"    // days
	Undated        workout.Code = "undated"
	NoHeartRate    workout.Code = "no-heart-rate" // unfilled: samples without a value; rejected: 0
)
