package recording_test

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"nextrung/internal/outside"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// The tests of this file are named after the numbered findings in DEVELOPERS.md: what real exports
// do that an importer must bear. Expected numbers were counted in the recordings with other tools
// when the findings were written down (durations, shares, gaps).

func TestFinding01ChecksumOverHeaderAndData(t *testing.T) {
	// Both have 12-byte headers or a header checksum of 0, and a right checksum over header and data.
	for _, name := range []string{"fit/indoor-ride-power-laps-01.fit", "fit/ride-sparse-pauses-01.fit", "fit/run-sparse-laps-01.fit"} {
		f := real(t, name)
		if has(f.Remarks, "checksum") {
			t.Errorf("%s: a valid checksum is remarked on", name)
		}
		if only(t, f).HeartRate.Len() == 0 {
			t.Errorf("%s: no heart rate", name)
		}
	}
}

func TestFinding02DamageCostsOnlyWhatIsDamaged(t *testing.T) {
	f := real(t, "fit/run-crc-bad-01.fit")
	wantRemark(t, f.Remarks, "checksum")
	if w := only(t, f); w.HeartRate.Len() != 303 || w.Seconds != 1578 {
		t.Errorf("wrong checksum: %d heart rates over %d s, want 303 over 1578", w.HeartRate.Len(), w.Seconds)
	}
	f = real(t, "fit/broken-eof-01.fit")
	wantRemark(t, f.Remarks, "truncated")
	if w := only(t, f); w.Seconds != 14 {
		t.Errorf("cut off by 3 bytes: %d s, want 14", w.Seconds)
	}
	f = real(t, "fit/run-truncated-01.fit")
	wantRemark(t, f.Remarks, "truncated")
	if w := only(t, f); w.Seconds > 3600 || w.Start.Year() != 2021 {
		t.Errorf("jumping clock: %v + %d s, want under an hour in 2021", w.Start, w.Seconds)
	}
}

// Cutting a file anywhere never gives more, and what it gives is the beginning of the whole.
func TestFinding02CutAnywhere(t *testing.T) {
	b := load(t, "fit/run-1s-laps-01.fit")
	whole := beats(only(t, decode(t, "whole", b)))
	before := 0
	for n := 2000; n < len(b); n += 7919 {
		w := only(t, decode(t, "part", b[:n]))
		part := beats(w)
		if len(part) < before {
			t.Fatalf("at byte %d: %d seconds, fewer than before", n, len(part))
		}
		before = len(part)
		for k, v := range part {
			if whole[k] != v {
				t.Fatalf("cut at byte %d: second %d has %g, want %g", n, k, v, whole[k])
			}
		}
	}
	if before < len(whole)*9/10 {
		t.Errorf("the longest part has %d of %d seconds", before, len(whole))
	}
}

func TestFinding04ChainedSequences(t *testing.T) {
	f := real(t, "fit/broken-chained-second-crc-01.fit")
	wantRemark(t, f.Remarks, "checksum")
	if len(f.Workouts) != 2 {
		t.Fatalf("%d workouts, want both activities of the chain", len(f.Workouts))
	}
	// Heart rate from the strap, read out after the swim, is the only heart rate of the swim.
	f = real(t, "fit/triathlon-sparse-chained-hr-01.fit")
	wantRemark(t, f.Remarks, "strap-first")
	swim := f.Workouts[0]
	if swim.Sport != workout.Swimming || swim.BeatHeartRate.Len() < 2000 || swim.Sensor != workout.Strap {
		t.Errorf("first workout: %s with %d beats from %s", swim.Sport, swim.BeatHeartRate.Len(), swim.Sensor)
	}
	for i := 1; i < swim.BeatHeartRate.Len(); i++ {
		if swim.BeatHeartRate.T[i] < swim.BeatHeartRate.T[i-1] {
			t.Fatalf("beat %d steps back in time", i)
		}
	}
	// The strap's clock must agree with the watch's where both have heart rate: on the bicycle.
	ride := f.Workouts[1]
	strap := map[int]float64{}
	for i, s := range ride.BeatHeartRate.T {
		strap[int(s)] = ride.BeatHeartRate.V[i]
	}
	n, sum := 0, 0.0
	for k, v := range beats(ride) {
		if b, ok := strap[k]; ok {
			n++
			sum += math.Abs(v - b)
		}
	}
	if n < 100 || sum/float64(n) > 3 {
		t.Errorf("watch and strap share %d s and differ by %.1f bpm, want over 100 s and under 3 bpm", n, sum/float64(n))
	}
}

func TestFinding05HeartRatePresentButMeaningless(t *testing.T) {
	for _, name := range []string{"fit/virtual-ride-hr-zero-01.fit", "tcx/run-laps-hr255-01.tcx"} {
		w := only(t, real(t, name))
		if w.HeartRate.Len() > 0 {
			t.Errorf("%s: %d heart rates, want none", name, w.HeartRate.Len())
		}
		wantRemark(t, w.Remarks, "no-heart-rate")
	}
}

func TestFinding06SessionsAnywhereOrNowhere(t *testing.T) {
	w := only(t, real(t, "fit/ride-no-session-01.fit"))
	if w.Sport != workout.Other || w.Seconds != 1979 || len(w.Laps) != 0 {
		t.Errorf("without session: %s, %d s, %d laps, want other, 1979, 0", w.Sport, w.Seconds, len(w.Laps))
	}
	for _, name := range []string{"fit/triathlon-sessions-last-01.fit", "fit/triathlon-sparse-chained-hr-01.fit"} {
		f := real(t, name)
		var sports []workout.Sport
		for _, w := range f.Workouts {
			sports = append(sports, w.Sport)
		}
		if got := fmt.Sprint(sports); got != "[swimming cycling running]" {
			t.Errorf("%s: %s", name, got)
		}
		wantRemark(t, f.Remarks, "transition")
	}
	// Session first in the file.
	if w := only(t, real(t, "fit/run-intervals-tail-01.fit")); w.Sport != workout.Running || w.Seconds != 4488 {
		t.Errorf("session first: %s, %d s", w.Sport, w.Seconds)
	}
}

func TestFinding07LapIntensityIsKeptAsWritten(t *testing.T) {
	w := only(t, real(t, "fit/run-intervals-tail-01.fit"))
	if len(w.Laps) != 12 {
		t.Fatalf("%d laps, want 12", len(w.Laps))
	}
	for _, l := range w.Laps {
		if l.Label != "interval" {
			t.Errorf("lap at %d s is %q", l.From, l.Label)
		}
	}
}

func TestFinding08RelativeTimesHaveNoDate(t *testing.T) {
	for _, name := range []string{"fit/run-laps-compressed-tail-01.fit", "fit/run-no-speed-irregular-01.fit"} {
		w := only(t, real(t, name))
		if !w.Start.IsZero() {
			t.Errorf("%s: dated %v", name, w.Start)
		}
		wantRemark(t, w.Remarks, "undated")
	}
	// A junk local time stamp must not move the start.
	if w := only(t, real(t, "fit/virtual-ride-laps-01.fit")); w.Start.Format(time.RFC3339) != "2021-07-22T18:52:52Z" {
		t.Errorf("start %v", w.Start)
	}
}

func TestFinding09SparseSamplesAreNoSeconds(t *testing.T) {
	w := only(t, real(t, "fit/run-sparse-laps-01.fit"))
	if w.Seconds != 2625 || w.HeartRate.Len() != 590 || len(w.Pauses) != 0 {
		t.Errorf("%d s, %d samples, %d pauses, want 2625, 590, 0", w.Seconds, w.HeartRate.Len(), len(w.Pauses))
	}
}

func TestFinding10PausesAreTimerStops(t *testing.T) {
	w := only(t, real(t, "fit/ride-power-hrv-pauses-01.fit"))
	// A start and stop 45 s before the first record are no part of the workout.
	if w.Seconds != 10135 || w.Pauses[0].From < 0 {
		t.Errorf("%d s, first pause %v", w.Seconds, w.Pauses[0])
	}
	w = only(t, real(t, "fit/run-long-pauses-02.fit"))
	longest := 0
	for _, p := range w.Pauses {
		longest = max(longest, p.Seconds())
	}
	if longest != 998 {
		t.Errorf("longest pause %d s, want 998", longest)
	}
	w = only(t, real(t, "fit/run-laps-compressed-tail-01.fit"))
	if pausedSeconds(w) != 110 {
		t.Errorf("paused %d s, want the 110 s between stop and start", pausedSeconds(w))
	}
}

func TestFinding11DuplicateAndBackwardTimes(t *testing.T) {
	w := only(t, real(t, "fit/ski-duplicate-timestamps-01.fit"))
	seen := map[float64]int{}
	for _, s := range w.Speed.T {
		seen[s]++
	}
	if w.Seconds != 2989 {
		t.Errorf("%d s, want 2989", w.Seconds)
	}
	// Heart rate in a record of its own must not be lost to the position's record of the same second.
	if n := len(beats(w)); n < 2200 {
		t.Errorf("%d seconds with heart rate, want over 2200 of 2989", n)
	}
}

func TestFinding12TwoDevicesOneRide(t *testing.T) {
	a, b := only(t, real(t, "fit/indoor-ride-power-steady-01.fit")), only(t, real(t, "fit/virtual-ride-laps-01.fit"))
	if a.Device == b.Device {
		t.Errorf("both rides come from device %q", a.Device)
	}
	// Their clocks are 12 s apart: the best shift is there and differs by 1.4 bpm.
	one, two := beats(a), beats(b)
	best, at := math.Inf(1), 0
	for shift := -60; shift <= 60; shift++ {
		n, sum := 0, 0.0
		for k, v := range one {
			if o, ok := two[k+shift]; ok {
				n++
				sum += math.Abs(v - o)
			}
		}
		if m := sum / float64(n); n > 300 && m < best {
			best, at = m, shift
		}
	}
	if apart := math.Abs(float64(at) + b.Start.Sub(a.Start).Seconds()); math.Abs(best-1.4) > 0.2 || math.Abs(apart-12) > 1 {
		t.Errorf("clocks %g s apart with %.1f bpm between, want 12 s and 1.4 bpm", apart, best)
	}
}

func TestFinding13FieldsOfAnyWidthAndDeveloperFields(t *testing.T) {
	if w := only(t, real(t, "fit/ride-hr-dropout-01.fit")); w.HeartRate.Len() != 8946 || len(w.Pauses) == 0 {
		t.Errorf("malformed field sizes: %d heart rates, %d pauses", w.HeartRate.Len(), len(w.Pauses))
	}
	if w := only(t, real(t, "fit/run-56min-steady-01.fit")); w.HeartRate.Len() != 3424 {
		t.Errorf("developer fields of many types: %d heart rates", w.HeartRate.Len())
	}
}

func TestFinding14LapWordsOfTCX(t *testing.T) {
	for i := 1; i <= 17; i++ {
		for _, l := range only(t, real(t, fmt.Sprintf("tcx/run-series-%02d.tcx.gz", i))).Laps {
			if l.Label != "resting" {
				t.Errorf("series %d: lap at %d s is %q", i, l.From, l.Label)
			}
		}
	}
}

func TestFinding15LapBoundariesAndTracks(t *testing.T) {
	w := only(t, real(t, "tcx/run-laps-pause-01.tcx"))
	// One lap has two tracks whose points are 86 s apart: 85 s lie strictly between.
	if len(w.Laps) != 6 || len(w.Pauses) != 1 || pausedSeconds(w) != 85 {
		t.Errorf("%d laps, pauses %v, want 6 laps and one pause of 85 s", len(w.Laps), w.Pauses)
	}
	// Repeated points at lap boundaries make no pauses and no extra seconds.
	w = only(t, real(t, "tcx/run-series-04.tcx.gz"))
	if w.Seconds != 4765 || len(w.Pauses) != 0 || len(w.Laps) != 20 || w.HeartRate.Len() <= 4765 {
		t.Errorf("%d s, %d pauses, %d laps, %d samples", w.Seconds, len(w.Pauses), len(w.Laps), w.HeartRate.Len())
	}
}

func TestFinding16SeveralActivitiesAndCourses(t *testing.T) {
	course := strings.NewReplacer("<Activities>", "<Courses>", "</Activities>", "</Courses>",
		"<Activity Sport=\"Running\">", "<Course>", "</Activity>", "</Course>").Replace(tcx("", "100", "101", "102"))
	if w := only(t, decode(t, "course", []byte(course))); w.HeartRate.Len() != 3 {
		t.Errorf("course: %d heart rates, want 3", w.HeartRate.Len())
	}
	if w := only(t, real(t, "tcx/open-water-swim-tail-01.tcx")); w.Sport != workout.Other {
		t.Errorf("sport %s", w.Sport)
	}

	// On real recordings.
	f := real(t, "tcx/run-laps-two-activities-01.tcx")
	if len(f.Workouts) != 2 || f.Workouts[0].HeartRate.Len() != 254 || f.Workouts[1].HeartRate.Len() != 165 {
		t.Errorf("%d workouts", len(f.Workouts))
	}
}

func TestFinding17TimeFormats(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"2026-09-01T06:00:00Z", "2026-09-01T06:00:00Z"},
		{"2026-09-01T06:00:00.000Z", "2026-09-01T06:00:00Z"},
		{"2026-09-01T06:00:00.000+01:00", "2026-09-01T05:00:00Z"},
		{"2026-09-01T06:00:00.999999Z", "2026-09-01T06:00:00Z"},
		{"2026-09-01T06:00:00.123456789Z", "2026-09-01T06:00:00Z"},
		{"2026-09-01T06:00:00+0530", "2026-09-01T00:30:00Z"},
		{"2026-09-01T06:00:00-07", "2026-09-01T13:00:00Z"},
		{"2026-09-01 06:00:00", "2026-09-01T06:00:00Z"},
		{" 2026-09-01T06:00:00 \n", "2026-09-01T06:00:00Z"},
		{"2024-02-29T23:59:59Z", "2024-02-29T23:59:59Z"},
	} {
		t.Run(c.text, func(t *testing.T) {
			w := only(t, decode(t, "x", []byte(gpx(point(c.text, 100)))))
			if got := w.Start.Format(time.RFC3339); got != c.want {
				t.Errorf("read as %s, want %s", got, c.want)
			}
		})
	}
	for _, bad := range []string{"", "yesterday", "2026-13-01T06:00:00Z", "2026-09-01", "2026-09-01T06:00", "2026-09-01T06:00:00+25:00", "2026-09-01T0x:00:00Z"} {
		if why := refused(t, []byte(gpx(point(bad, 100)))); !strings.Contains(why, "no time") {
			t.Errorf("%q: %s", bad, why)
		}
	}

	// On real recordings.
	if w := only(t, real(t, "tcx/paddle-mixed-time-format-01.tcx")); w.HeartRate.Len() != 111 {
		t.Errorf("mixed formats: %d points, want 111", w.HeartRate.Len())
	}
	if w := only(t, real(t, "tcx/walk-offset-timezone-01.tcx.gz")); w.Start.Format(time.RFC3339) != "2017-01-09T19:38:51Z" {
		t.Errorf("offset: start %v, want 19:38:51 UTC", w.Start)
	}
}

func TestFinding18NoSpeedAndMissingWatts(t *testing.T) {
	w := only(t, real(t, "tcx/treadmill-ramp-recovery-01.tcx"))
	if w.Speed.Len() != 0 || w.Power.Len() != 0 || w.HeartRate.Len() != 924 || w.Place != workout.AnyPlace {
		t.Errorf("treadmill: %d speeds, %d powers, %d heart rates, place %q", w.Speed.Len(), w.Power.Len(), w.HeartRate.Len(), w.Place)
	}
	// Watts left out while coasting stay absent: no zero is made up.
	if w := only(t, real(t, "tcx/ride-power-recovery-01.tcx")); w.Power.Len() != 4606 {
		t.Errorf("%d powers, want the 4606 that are written", w.Power.Len())
	}
}

func TestFinding19PrefixesAndEncodings(t *testing.T) {

	plain := gpx(point("2026-09-01T06:00:00Z", 100), point("2026-09-01T06:00:01Z", 101))
	name := strings.Replace(plain, "<trkseg>", "<name>Fähre</name><trkseg>", 1)
	for label, b := range map[string][]byte{
		"no namespace":    []byte(plain),
		"prefixes":        []byte(strings.NewReplacer("<hr>", "<ns3:hr>", "</hr>", "</ns3:hr>").Replace(plain)),
		"prefixed root":   []byte(strings.NewReplacer("<gpx", "<g:gpx", "</gpx", "</g:gpx").Replace(plain)),
		"byte order mark": []byte("\ufeff" + plain),
		"UTF-8":           []byte(name),
		"UTF-16 little":   utf16Bytes(binary.LittleEndian, "\ufeff"+declared(name, "UTF-16")),
		"UTF-16 big":      utf16Bytes(binary.BigEndian, "\ufeff"+declared(name, "UTF-16")),
		"UTF-16 no mark":  utf16Bytes(binary.LittleEndian, declared(name, "UTF-16")),
		"Latin-1":         []byte(strings.ReplaceAll(declared(name, "ISO-8859-1"), "ä", "\xe4")),
		"CDATA":           []byte(strings.ReplaceAll(plain, "<hr>100</hr>", "<hr><![CDATA[100]]></hr>")),
		"comment inside":  []byte(strings.ReplaceAll(plain, "<hr>100", "<hr>1<!-- x -->00")),
		"entity":          []byte(strings.ReplaceAll(plain, "<hr>100", "<hr>1&#48;0")),
		"single quotes":   []byte(strings.ReplaceAll(plain, `"`, `'`)),
		"comment first":   []byte("<!-- <gpx> of the crew -->\n" + plain),
	} {
		t.Run(label, func(t *testing.T) {
			f := decode(t, "x", b)
			if w := only(t, f); f.Format != "gpx" || w.HeartRate.Len() != 2 || w.HeartRate.V[0] != 100 {
				t.Errorf("format %q, heart rate %v", f.Format, w.HeartRate.V)
			}
		})
	}

	// On real recordings.
	real(t, "tcx/treadmill-ramp-recovery-01.tcx") // byte order mark
	if w := only(t, real(t, "gpx/run-odd-namespace-tiny-01.gpx")); w.HeartRate.Len() != 9 {
		t.Errorf("odd namespace: %d heart rates", w.HeartRate.Len())
	}
	if w := only(t, real(t, "gpx/broken-unbound-prefix-01.gpx")); w.HeartRate.Len() != 205 {
		t.Errorf("undeclared prefix: %d heart rates", w.HeartRate.Len())
	}
	f := real(t, "tcx/broken-xml-01.tcx")
	wantRemark(t, f.Remarks, "damaged")
	if len(f.Workouts) != 2 || f.Workouts[0].HeartRate.Len() != 254 {
		t.Errorf("mismatched tag: %d workouts", len(f.Workouts))
	}
}

func TestFinding20GapsOfGPX(t *testing.T) {
	segments := strings.Replace(gpx(point("2026-09-01T06:00:00Z", 100), point("2026-09-01T06:01:00Z", 101)),
		"</trkpt>", "</trkpt></trkseg><trkseg>", 1)
	w := only(t, decode(t, "segments", []byte(segments)))
	if len(w.Pauses) != 1 || w.Pauses[0] != (workout.Span{From: 1, To: 60}) {
		t.Errorf("pauses %v, want [1, 60)", w.Pauses)
	}
	// 172 s without a point inside one segment: a gap, no pause; no laps, no power.
	w = only(t, real(t, "gpx/ride-tail-01.gpx"))
	if len(w.Pauses) != 0 || len(w.Laps) != 0 || w.Power.Len() != 0 || w.Seconds != 2470 {
		t.Errorf("%d pauses, %d laps, %d powers, %d s", len(w.Pauses), len(w.Laps), w.Power.Len(), w.Seconds)
	}
}

func TestFinding21ArtefactsAreHandedOn(t *testing.T) {
	// Implausible values are for package heartrate to reject and count.
	w := only(t, decode(t, "x", []byte(tcx("", "24", "120", "240"))))
	if lowest(w.HeartRate) != 24 || highest(w.HeartRate) != 240 {
		t.Errorf("heart rate %v", w.HeartRate.V)
	}
	w = only(t, real(t, "tcx/run-series-07.tcx.gz"))
	if share := float64(len(beats(w))) / float64(w.Seconds); share < 0.5 || share > 0.6 {
		t.Errorf("coverage %.2f, want about 0.55", share)
	}
	if v := highest(only(t, real(t, "tcx/run-series-09.tcx.gz")).HeartRate); v != 190 {
		t.Errorf("highest %g bpm, want the 190 as recorded", v)
	}
}

// No text of a file, and no number that gives away a person or a place, gets into what is kept.
func TestFinding21bPrivacy(t *testing.T) {
	secrets := []string{"Orvelin", "Tessavar", "3999887766", "1.357", "140.246"}
	b := gpx(point("2026-09-01T06:00:00Z", 100), point("2026-09-01T06:00:01Z", 101))
	b = strings.Replace(b, "<trkseg>", "<name>Orvelin and Tessavar</name><desc>Tessavar</desc><trkseg>", 1)
	b = strings.NewReplacer(`lat="0"`, `lat="-1.357"`, `lon="0"`, `lon="-140.246"`).Replace(b)
	inputs := map[string][]byte{
		"gpx":     []byte(b),
		"tcx":     []byte(tcx("<Creator><Name>Orvelin</Name><UnitId>3999887766</UnitId></Creator>", "100", "101")),
		"csv":     []byte("time,heart rate,note\n1,100,Orvelin\n2,101,Tessavar\n"),
		"bad xml": []byte(strings.Replace(b, "</trkseg>", "</Orvelin>", 1)),
		"no xml":  []byte("<Orvelin><Tessavar/></Orvelin>"),
		"text":    []byte("Orvelin and Tessavar\nwas here\n"),
		"type":    []byte(strings.Replace(b, "<trkseg>", "<type>Orvelin</type><trkseg>", 1)),
	}
	for name, in := range inputs {
		f := recording.Decode("x", in)[0]
		f.Bytes = nil
		text, err := json.Marshal(f.Workouts)
		if err != nil {
			t.Fatal(err)
		}
		all := string(text) + fmt.Sprintf("%+v %v", f, f.Err)
		for _, s := range secrets {
			if strings.Contains(all, s) {
				t.Errorf("%s: %q is kept: %s", name, s, all)
			}
		}
	}
	// From real FIT files no string comes out that is longer than the words we know.
	for _, p := range filesUnder(t, filepath.Join(outside.Data(t), "fit"), ".fit") {
		for _, w := range recording.Decode("x", load(t, "fit/"+filepath.Base(p)))[0].Workouts {
			for _, l := range w.Laps {
				switch l.Label {
				case "", "active", "rest", "warmup", "cooldown", "recovery", "interval", "other":
				default:
					t.Errorf("%s: lap label %q", p, l.Label)
				}
			}
			if len(w.Device) != 0 && len(w.Device) != 16 {
				t.Errorf("%s: device %q is no digest", p, w.Device)
			}
		}
	}
}

func TestFinding22Tables(t *testing.T) {
	w := only(t, real(t, "csv/ride-long-records-01.csv"))
	if w.HeartRate.Len() != 10686 || w.Start.Format(time.RFC3339) != "2011-09-25T13:00:22Z" {
		t.Errorf("%d rows from %v, want 10686 from 13:00:22 UTC (06:00:22 PDT)", w.HeartRate.Len(), w.Start)
	}
	w = only(t, real(t, "csv/run-compressed-records-01.csv"))
	if w.HeartRate.Len() != 754 || w.Cadence.Len() != 753 || !w.Start.IsZero() {
		t.Errorf("%d heart rates, %d cadences, start %v", w.HeartRate.Len(), w.Cadence.Len(), w.Start)
	}
	for name, want := range map[string]string{
		"csv/run-hr-only-no-time-01.csv":  "no time column",
		"csv/sdk-style-multisport-01.csv": "dump of FIT messages",
		"research/hrrecov.csv":            "heart-rate column",
	} {
		if why := refused(t, load(t, name)); !strings.Contains(why, want) {
			t.Errorf("%s: %s", name, why)
		}
	}
}

// Nothing is added behind the last sample, so that a missing recovery stays missing.
func TestFinding23NothingAfterTheLastSample(t *testing.T) {
	for _, name := range []string{"fit/run-1s-laps-01.fit", "fit/ride-power-laps-01.fit", "tcx/run-series-16.tcx.gz"} {
		w := only(t, real(t, name))
		last := 0.0
		for _, c := range []workout.Channel{w.HeartRate, w.Speed, w.Power, w.Cadence} {
			for _, s := range c.T {
				last = max(last, s)
			}
		}
		if int(last)+1 != w.Seconds {
			t.Errorf("%s: last sample at %g s, but %d s long", name, last, w.Seconds)
		}
	}
}

func declared(text, encoding string) string {
	return strings.Replace(text, `encoding="UTF-8"`, `encoding="`+encoding+`"`, 1)
}

func utf16Bytes(order binary.AppendByteOrder, s string) []byte {
	var b []byte
	for _, u := range utf16.Encode([]rune(s)) {
		b = order.AppendUint16(b, u)
	}
	return b
}

// point writes a track point without a position.
func point(when string, bpm int) string {
	return fmt.Sprintf(`<trkpt lat="0" lon="0"><time>%s</time><extensions><hr>%d</hr></extensions></trkpt>`, when, bpm)
}

// gpx writes a file of one segment.
func gpx(points ...string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>` + "\n<gpx><trk><trkseg>" + strings.Join(points, "\n") + "</trkseg></trk></gpx>"
}

// tcx writes an activity of one lap with a point each second; more follows the lap.
func tcx(more string, bpm ...string) string {
	var b strings.Builder
	b.WriteString(`<TrainingCenterDatabase><Activities><Activity Sport="Running"><Lap StartTime="2026-09-01T06:00:00Z"><Track>`)
	for i, v := range bpm {
		fmt.Fprintf(&b, "<Trackpoint><Time>2026-09-01T06:00:%02dZ</Time><HeartRateBpm><Value>%s</Value></HeartRateBpm></Trackpoint>\n", i, v)
	}
	b.WriteString("</Track></Lap>" + more + "</Activity></Activities></TrainingCenterDatabase>")
	return b.String()
}
