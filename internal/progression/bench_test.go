package progression_test

import (
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/signs"
	"nextrung/internal/story"
)

// BenchmarkAssess is one assessment after half a year of three sessions a week.
func BenchmarkAssess(b *testing.B) {
	s := story.Intervals(26)
	r := s.Record()
	b.ReportAllocs()
	for b.Loop() {
		progression.Assess(defaults, s.Last(), r)
	}
}

// BenchmarkAssessOften is one assessment with its 400 repetitions after a year of sessions: in stage 2
// three a week, and in stage 1 with a tiredness pattern to look for as well.
func BenchmarkAssessOften(b *testing.B) {
	for name, s := range map[string]*story.Story{
		"stage 2":             story.Intervals(52),
		"stage 1 and fatigue": story.Ferry(52).Then(story.Rested(60, 70)).Then(story.Note(7*52-4, signs.PoorSleep)),
	} {
		b.Run(name, func(b *testing.B) {
			r := s.Record()
			b.ReportAllocs()
			for b.Loop() {
				progression.AssessOften(defaults, s.Last(), r)
			}
		})
	}
}
