package progression_test

import "testing"

// BenchmarkAssess is one assessment after half a year of three sessions a week.
func BenchmarkAssess(b *testing.B) {
	s := intervals(26)
	r := s.record()
	b.ReportAllocs()
	for b.Loop() {
		policy.Assess(s.last(), r)
	}
}
