// Package reports makes the pages that people see: the roster and the decision page for the
// trainer, the progress page for the client, and the page of one workout. Each is one HTML file
// that loads nothing from elsewhere.
//
// The package turns facts into finished words and chart options; it measures and judges nothing.
// What was not recorded is said so and never drawn as zero. Dates, bpm and minutes are rounded
// here and nowhere before.
package reports
