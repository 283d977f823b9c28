package progression_test

import (
	"testing"

	"nextrung/internal/progression"
)

// BenchmarkAssess is one assessment after half a year of three sessions a week.
func BenchmarkAssess(b *testing.B) {
	s := intervals(26)
	r := s.record()
	b.ReportAllocs()
	for b.Loop() {
		policy.Assess(s.last(), r)
	}
}

// BenchmarkAssessOften is one assessment with its 400 repetitions after a year of sessions: in stage 2
// three a week, and in stage 1 with a tiredness pattern to look for as well.
func BenchmarkAssessOften(b *testing.B) {
	for name, s := range map[string]*story{
		"stage 2":             intervals(52),
		"stage 1 and fatigue": ferry(52).then(rested(60, 70)).then(note(7*52-4, progression.PoorSleep)),
	} {
		b.Run(name, func(b *testing.B) {
			r := s.record()
			b.ReportAllocs()
			for b.Loop() {
				policy.AssessOften(s.last(), r)
			}
		})
	}
}
