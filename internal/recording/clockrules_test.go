package recording_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

var morning = time.Date(2026, 9, 1, 6, 0, 0, 0, time.UTC)

// track writes a GPX file of one segment with a point at each offset in seconds.
func track(offsets ...float64) []byte {
	var ps []string
	for _, s := range offsets {
		ps = append(ps, point(morning.Add(time.Duration(s*1000)*time.Millisecond).Format("2006-01-02T15:04:05.000Z"), 100))
	}
	return []byte(gpx(ps...))
}

// Second 0 is the whole second of the earliest sample; the length counts whole seconds.
func TestSecondsAreCountedFromTheEarliestSample(t *testing.T) {
	for _, c := range []struct {
		name    string
		offsets []float64
		start   time.Time
		seconds int
	}{
		{"one sample", []float64{0}, morning, 1},
		{"whole seconds", []float64{0, 1, 2}, morning, 3},
		{"fractions belong to their second", []float64{0.9, 2.1}, morning, 3},
		{"a fraction before the next second", []float64{0, 59.999}, morning, 60},
		{"the earliest sample may come later in the file", []float64{5, 0, 9}, morning, 10},
		{"12 h are no new workout", []float64{0, 12 * 3600}, morning, 12*3600 + 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := only(t, decode(t, "x", track(c.offsets...)))
			if !w.Start.Equal(c.start) || w.Seconds != c.seconds {
				t.Errorf("%v + %d s, want %v + %d s", w.Start, w.Seconds, c.start, c.seconds)
			}
		})
	}
}

func TestAStepOfMoreThan12HoursStartsAnotherWorkout(t *testing.T) {
	var offsets []float64
	for k := range 60 {
		offsets = append(offsets, float64(k))
	}
	for k := range 30 {
		offsets = append(offsets, 59+12*3600+1+float64(k))
	}
	f := decode(t, "x", track(offsets...))
	if len(f.Workouts) != 2 || f.Workouts[0].Seconds != 60 || f.Workouts[1].Seconds != 30 {
		t.Fatalf("%d workouts", len(f.Workouts))
	}
	if want := morning.Add((59 + 12*3600 + 1) * time.Second); !f.Workouts[1].Start.Equal(want) {
		t.Errorf("second one starts %v, want %v", f.Workouts[1].Start, want)
	}
}

// A clock that jumps by decades for some samples and comes back is no other workout.
func TestAJumpingClockLosesOnlyTheJump(t *testing.T) {
	const decades = 20 * 365 * 86400
	f := decode(t, "x", track(0, 1, 2, 3, 4, 5, decades, 6, 7, 8, -decades, 9, 10, 11, 12))
	wantRemark(t, f.Remarks, "clock-jumps")
	if w := only(t, f); w.Seconds != 13 || w.HeartRate.Len() != 13 {
		t.Errorf("%d s, %d samples, want 13 and 13", w.Seconds, w.HeartRate.Len())
	}
}

// Only a jump of the clock within an activity tears off scraps: a short activity of another day is one.
func TestAShortActivityOfAnotherDayIsKept(t *testing.T) {
	day := func(date string, from, to int) string {
		var b strings.Builder
		for k := from; k < to; k++ {
			b.WriteString(point(fmt.Sprintf("%sT06:00:%02dZ", date, k), 100))
		}
		return "<trk><trkseg>" + b.String() + "</trkseg></trk>"
	}
	f := decode(t, "x", []byte("<gpx>"+day("2026-09-01", 0, 60)+day("2026-09-05", 0, 3)+"</gpx>"))
	if len(f.Workouts) != 2 || f.Workouts[1].Seconds != 3 {
		t.Errorf("%d workouts, want 2", len(f.Workouts))
	}
}

func TestTooManyActivitiesAreRefused(t *testing.T) {
	one := "<trk><trkseg>" + point("2026-09-01T06:00:00Z", 100) + "</trkseg></trk>"
	if why := refused(t, []byte("<gpx>"+strings.Repeat(one, 1001)+"</gpx>")); !strings.Contains(why, "more than 1000") {
		t.Errorf("reason %q", why)
	}
	if f := decode(t, "x", []byte("<gpx>"+strings.Repeat(one, 1000)+"</gpx>")); len(f.Workouts) != 1000 {
		t.Errorf("%d workouts", len(f.Workouts))
	}
}

func TestMoreThan7DaysAreRefused(t *testing.T) {
	var offsets []float64
	for h := 0; h <= 7*24; h += 6 {
		offsets = append(offsets, float64(h*3600))
	}
	if why := refused(t, track(offsets...)); !strings.Contains(why, "more than 7") {
		t.Errorf("reason %q", why)
	}
	offsets[len(offsets)-1]-- // exactly seven days
	if w := only(t, decode(t, "x", track(offsets...))); w.Seconds != 7*86400 {
		t.Errorf("%d s", w.Seconds)
	}
}

// laps writes a TCX activity: laps of tracks of seconds.
func laps(ls ...[][]int) []byte {
	var b strings.Builder
	b.WriteString(`<TrainingCenterDatabase><Activities><Activity Sport="Biking">`)
	for _, l := range ls {
		fmt.Fprintf(&b, `<Lap StartTime="%s">`, morning.Add(time.Duration(l[0][0])*time.Second).Format(time.RFC3339))
		for _, tr := range l {
			b.WriteString("<Track>")
			for _, s := range tr {
				fmt.Fprintf(&b, "<Trackpoint><Time>%s</Time></Trackpoint>", morning.Add(time.Duration(s)*time.Second).Format(time.RFC3339))
			}
			b.WriteString("</Track>")
		}
		b.WriteString("</Lap>")
	}
	b.WriteString("</Activity></Activities></TrainingCenterDatabase>")
	return []byte(b.String())
}

func TestPausesOfTCX(t *testing.T) {
	for _, c := range []struct {
		name string
		b    []byte
		want []workout.Span
	}{
		{"one track", laps([][]int{{0, 1, 60}}), nil},
		{"gap between tracks of a lap", laps([][]int{{0, 10}, {70, 80}}), []workout.Span{{From: 11, To: 70}}},
		{"gap between laps", laps([][]int{{0, 10}}, [][]int{{70, 80}}), nil},
		{"tracks without a gap", laps([][]int{{0, 10}, {11, 20}}), nil},
		{"tracks that share a point", laps([][]int{{0, 10}, {10, 20}}), nil},
		{"track before its predecessor", laps([][]int{{50, 60}, {0, 10}}), nil},
		{"two", laps([][]int{{0, 1}, {5, 6}}, [][]int{{6, 7}, {9, 10}}), []workout.Span{{From: 2, To: 5}, {From: 8, To: 9}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := only(t, decode(t, "x", c.b))
			if d := cmp.Diff(c.want, w.Pauses); d != "" {
				t.Errorf("pauses (-want +got):\n%s", d)
			}
		})
	}
}

func TestLapsOfTCXRunToTheNext(t *testing.T) {
	w := only(t, decode(t, "x", laps([][]int{{0, 10}}, [][]int{{10, 20}, {40, 50}})))
	want := []workout.Lap{{Span: workout.Span{From: 0, To: 10}}, {Span: workout.Span{From: 10, To: 51}}}
	if d := cmp.Diff(want, w.Laps); d != "" {
		t.Errorf("laps (-want +got):\n%s", d)
	}
}

func TestTracksOfGPXAreWorkouts(t *testing.T) {
	b := strings.Replace(string(track(0, 1, 2, 600, 601)), "</trkpt>\n<trkpt lat=\"0\" lon=\"0\"><time>2026-09-01T06:10:00",
		"</trkpt></trkseg></trk><trk><type>Cycling</type><trkseg><trkpt lat=\"0\" lon=\"0\"><time>2026-09-01T06:10:00", 1)
	f := decode(t, "x", []byte(b))
	if len(f.Workouts) != 2 || f.Workouts[0].Seconds != 3 || f.Workouts[1].Seconds != 2 || f.Workouts[1].Sport != workout.Cycling {
		t.Errorf("%d workouts: %+v", len(f.Workouts), f.Workouts)
	}
	if len(f.Workouts[1].Pauses) != 0 {
		t.Errorf("the gap between tracks became a pause: %v", f.Workouts[1].Pauses)
	}
}

func TestHostileXMLIsRefused(t *testing.T) {
	bomb := `<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>` + "<gpx>&b;</gpx>"
	for _, c := range []struct{ name, b, want string }{
		{"entities", bomb, "document type"},
		{"nesting", "<gpx>" + strings.Repeat("<a>", 1000), "nested"},
		{"no points", "<gpx><wpt lat=\"1\" lon=\"1\"/></gpx>", "no recorded points"},
		{"cut before the first point", "<gpx><trk><trkseg><trkpt lat=", "ends early"},
		{"broken before the first point", "<gpx><trk></trkseg>", "mismatched tag at line 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if why := refused(t, []byte(c.b)); !strings.Contains(why, c.want) {
				t.Errorf("reason %q, want something on %q", why, c.want)
			}
		})
	}
	f := decode(t, "x", []byte(strings.Replace(string(track(0, 1, 2, 3)), "</trkseg></trk></gpx>", "", 1)))
	wantRemark(t, f.Remarks, "damaged")
	if w := only(t, f); w.HeartRate.Len() != 4 {
		t.Errorf("%d points kept, want 4", w.HeartRate.Len())
	}
}

// Speed: a field of its own goes before distance, distance before positions.
func TestSpeedIsDerived(t *testing.T) {
	build := func(point func(k int) string) workout.Workout {
		var b strings.Builder
		b.WriteString(`<TrainingCenterDatabase><Activities><Activity Sport="Running"><Lap><Track>`)
		for k := range 120 {
			fmt.Fprintf(&b, "<Trackpoint><Time>%s</Time>%s</Trackpoint>", morning.Add(time.Duration(k)*time.Second).Format(time.RFC3339), point(k))
		}
		b.WriteString("</Track></Lap></Activity></Activities></TrainingCenterDatabase>")
		return only(t, decode(t, "x", []byte(b.String())))
	}
	speed := func(float64) string { return "<Extensions><TPX><Speed>2</Speed></TPX></Extensions>" }
	distance := func(k int) string { return fmt.Sprintf("<DistanceMeters>%d</DistanceMeters>", 3*k) }
	// One degree of latitude is 111.195 km on a sphere of 6371.0088 km.
	position := func(k int) string {
		return fmt.Sprintf("<Position><LatitudeDegrees>%.8f</LatitudeDegrees><LongitudeDegrees>-140</LongitudeDegrees></Position>", 4*float64(k)/111195.08)
	}
	for _, c := range []struct {
		name  string
		point func(k int) string
		want  float64
	}{
		{"field", func(k int) string { return position(k) + distance(k) + speed(0) }, 2},
		{"distance", func(k int) string { return position(k) + distance(k) }, 3},
		{"position", position, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := build(c.point)
			if w.Speed.Len() != 120 {
				t.Fatalf("%d speeds, want 120", w.Speed.Len())
			}
			for i, v := range w.Speed.V {
				if v < c.want*0.999 || v > c.want*1.001 {
					t.Fatalf("speed at %d s is %.4f, want %g", i, v, c.want)
				}
			}
		})
	}
	if w := build(func(int) string { return "" }); w.Speed.Len() != 0 {
		t.Error("speed from nothing")
	}
}

// Derived from positions, speed must be usable: near the device's own on a real run.
func TestDerivedSpeedIsNearTheDevices(t *testing.T) {
	own := only(t, real(t, "fit/run-1s-laps-01.fit"))
	b, err := recording.Encode("gpx", own)
	if err != nil {
		t.Fatal(err)
	}
	got := only(t, decode(t, "x", b)).Speed.Grid(own.Seconds, 0)
	want := own.Speed.Grid(own.Seconds, 0)
	n, sum := 0, 0.0
	for k := range got {
		if d := got[k] - want[k]; d == d {
			n++
			sum += max(d, -d)
		}
	}
	if n < 2500 || sum/float64(n) > 0.15 {
		t.Errorf("mean difference %.3f m/s over %d s", sum/float64(n), n)
	}
}
