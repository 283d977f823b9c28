package recording_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
	"github.com/muktihari/fit/proto"

	"nextrung/internal/recording"
)

// TestAPlannedCourseIsNoRecording: a way to go has positions and times that somebody worked out, but no
// heart rate; it is refused as what it is, also beside a recording. A course on which a heart rate was
// recorded is one (finding 16).
func TestAPlannedCourseIsNoRecording(t *testing.T) {
	asCourse := strings.NewReplacer("<Activities>", "<Courses>", "</Activities>", "</Courses>",
		"<Activity Sport=\"Running\">", "<Course>", "</Activity>", "</Course>")
	planned := asCourse.Replace(tcx("", "0", "0", "0"))
	planned = strings.NewReplacer("<HeartRateBpm><Value>0</Value></HeartRateBpm>", "<DistanceMeters>5</DistanceMeters>").Replace(planned)
	fitCourse := func(bpm uint8) []byte {
		id := mesgdef.NewFileId(nil).SetType(typedef.FileCourse).SetManufacturer(typedef.ManufacturerDevelopment).SetTimeCreated(morning)
		ms := []proto.Message{id.ToMesg(nil), mesgdef.NewCourse(nil).SetName("Round the harbour").ToMesg(nil)}
		for k := range 120 {
			m := mesgdef.NewRecord(nil).SetTimestamp(second(k)).SetDistanceScaled(float64(3 * k)).SetSpeedScaled(3)
			if bpm > 0 {
				m.SetHeartRate(bpm)
			}
			ms = append(ms, m.ToMesg(nil))
		}
		var b bytes.Buffer
		if err := encoder.New(&b).Encode(&proto.FIT{Messages: ms}); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	for name, b := range map[string][]byte{"course.tcx": []byte(planned), "course.fit": fitCourse(0)} {
		f := recording.Decode(name, b)[0]
		if f.Err == nil || !strings.Contains(f.Err.Error(), "planned course") || len(f.Workouts) != 0 {
			t.Errorf("%s: %v, %d workouts", name, f.Err, len(f.Workouts))
		}
	}
	if w := only(t, decode(t, "gone.fit", fitCourse(120))); w.HeartRate.Len() != 120 {
		t.Errorf("a course with a heart rate: %d samples", w.HeartRate.Len())
	}
	both := strings.Replace(tcx("", "100", "101", "102"), "</Activities>", "</Activities>"+planned[strings.Index(planned, "<Courses>"):strings.Index(planned, "</Courses>")]+"</Courses>", 1)
	if w := only(t, decode(t, "both.tcx", []byte(both))); w.HeartRate.Len() != 3 {
		t.Errorf("a recording beside a course: %d samples", w.HeartRate.Len())
	}
}
