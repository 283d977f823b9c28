package recording_test

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/basetype"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
	"github.com/muktihari/fit/proto"

	"nextrung/internal/outside"
	"nextrung/internal/workout"
)

// fit writes messages after a file id.
func fit(t testing.TB, ms ...proto.Message) []byte {
	t.Helper()
	id := mesgdef.NewFileId(nil).SetType(typedef.FileActivity).SetManufacturer(typedef.ManufacturerDevelopment).SetTimeCreated(morning)
	var b bytes.Buffer
	version := encoder.WithProtocolVersion(proto.V2) // which knows developer fields
	if err := encoder.New(&b, version).Encode(&proto.FIT{Messages: append([]proto.Message{id.ToMesg(nil)}, ms...)}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func second(k int) time.Time { return morning.Add(time.Duration(k) * time.Second) }

func record(k int, bpm uint8) proto.Message {
	return mesgdef.NewRecord(nil).SetTimestamp(second(k)).SetHeartRate(bpm).ToMesg(nil)
}

// records gives one a second in [from, to).
func records(from, to int, bpm uint8) (out []proto.Message) {
	for k := from; k < to; k++ {
		out = append(out, record(k, bpm))
	}
	return out
}

func timer(k int, e typedef.EventType) proto.Message {
	return mesgdef.NewEvent(nil).SetTimestamp(second(k)).SetEvent(typedef.EventTimer).SetEventType(e).ToMesg(nil)
}

func TestPausesOfFIT(t *testing.T) {
	const start, stop = typedef.EventTypeStart, typedef.EventTypeStopAll
	for _, c := range []struct {
		name   string
		events []proto.Message
		want   []workout.Span
	}{
		{"none", nil, nil},
		{"stop and start", []proto.Message{timer(0, start), timer(20, stop), timer(30, start)}, []workout.Span{{From: 20, To: 30}}},
		{"plain stop", []proto.Message{timer(20, typedef.EventTypeStop), timer(30, start)}, []workout.Span{{From: 20, To: 30}}},
		{"stop at the second of the start", []proto.Message{timer(20, stop), timer(20, start)}, nil},
		{"stop twice", []proto.Message{timer(20, stop), timer(25, stop), timer(30, start)}, []workout.Span{{From: 20, To: 30}}},
		{"start twice", []proto.Message{timer(20, stop), timer(30, start), timer(40, start)}, []workout.Span{{From: 20, To: 30}}},
		{"before the first record", []proto.Message{timer(-45, stop), timer(-1, start)}, nil},
		{"into the first record", []proto.Message{timer(-45, stop), timer(5, start)}, []workout.Span{{From: 0, To: 5}}},
		{"unclosed", []proto.Message{timer(50, stop)}, []workout.Span{{From: 50, To: 60}}},
		{"after the last record", []proto.Message{timer(60, stop)}, nil},
		{"two that touch", []proto.Message{timer(10, stop), timer(20, start), timer(20, stop), timer(30, start)}, []workout.Span{{From: 10, To: 30}}},
		{"not in order of time", []proto.Message{timer(30, start), timer(20, stop)}, []workout.Span{{From: 20, To: 30}}},
		{"another event", []proto.Message{mesgdef.NewEvent(nil).SetTimestamp(second(5)).SetEvent(typedef.EventLap).SetEventType(stop).ToMesg(nil)}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := only(t, decode(t, "x", fit(t, append(c.events, records(0, 60, 100)...)...)))
			if d := cmp.Diff(c.want, w.Pauses); d != "" {
				t.Errorf("pauses (-want +got):\n%s", d)
			}
			if w.Seconds != 60 || w.HeartRate.Len() != 60 {
				t.Errorf("%d s, %d heart rates: a value in a pause must stay", w.Seconds, w.HeartRate.Len())
			}
		})
	}
}

func session(from, to int, sport typedef.Sport, sub typedef.SubSport) *mesgdef.Session {
	return mesgdef.NewSession(nil).SetTimestamp(second(to)).SetStartTime(second(from)).SetTotalElapsedTime(uint32(to-from) * 1000).
		SetSport(sport).SetSubSport(sub)
}

func TestSessionsOfFITAreWorkouts(t *testing.T) {
	swim := session(0, 100, typedef.SportSwimming, typedef.SubSportLapSwimming).ToMesg(nil)
	run := session(400, 500, typedef.SportRunning, typedef.SubSportTreadmill).ToMesg(nil)
	short := session(100, 400, typedef.SportTransition, typedef.SubSportGeneric).ToMesg(nil)
	f := decode(t, "x", fit(t, append(records(0, 500, 100), run, short, swim)...))
	wantRemark(t, f.Remarks, "transition")
	if len(f.Workouts) != 2 {
		t.Fatalf("%d workouts, want 2", len(f.Workouts))
	}
	for i, want := range []workout.Workout{
		{Sport: workout.Swimming, Place: workout.Indoor, Start: morning, Seconds: 100},
		{Sport: workout.Running, Place: workout.Indoor, Start: second(400), Seconds: 100},
	} {
		w := f.Workouts[i]
		if w.Sport != want.Sport || w.Place != want.Place || !w.Start.Equal(want.Start) || w.Seconds != want.Seconds || w.HeartRate.Len() != 100 {
			t.Errorf("workout %d: %s %s %v + %d s, %d heart rates", i, w.Sport, w.Place, w.Start, w.Seconds, w.HeartRate.Len())
		}
	}
	// A session in which nothing was recorded is none.
	empty := session(300, 390, typedef.SportCycling, typedef.SubSportGeneric).ToMesg(nil)
	if f := decode(t, "x", fit(t, append(append(records(0, 100, 100), records(400, 500, 100)...), swim, empty, run)...)); len(f.Workouts) != 2 {
		t.Errorf("%d workouts, want 2 without the empty one", len(f.Workouts))
	}
	// From 10 minutes the way between is exercise that counts.
	long := session(100, 800, typedef.SportTransition, typedef.SubSportGeneric).ToMesg(nil)
	run = session(800, 900, typedef.SportRunning, typedef.SubSportGeneric).ToMesg(nil)
	if f := decode(t, "x", fit(t, append(records(0, 900, 100), swim, long, run)...)); len(f.Workouts) != 3 || f.Workouts[1].Sport != workout.Other {
		t.Errorf("%d workouts, want 3 with the transition", len(f.Workouts))
	}
}

func TestSportsAndPlaces(t *testing.T) {
	for _, c := range []struct {
		sport typedef.Sport
		sub   typedef.SubSport
		want  workout.Sport
		place workout.Place
	}{
		{typedef.SportRunning, typedef.SubSportGeneric, workout.Running, workout.AnyPlace},
		{typedef.SportRunning, typedef.SubSportTreadmill, workout.Running, workout.Indoor},
		{typedef.SportCycling, typedef.SubSportRoad, workout.Cycling, workout.AnyPlace},
		{typedef.SportCycling, typedef.SubSportIndoorCycling, workout.Cycling, workout.Indoor},
		{typedef.SportCycling, typedef.SubSportVirtualActivity, workout.Cycling, workout.Indoor},
		{typedef.SportFitnessEquipment, typedef.SubSportIndoorRowing, workout.Rowing, workout.Indoor},
		{typedef.SportFitnessEquipment, typedef.SubSportTreadmill, workout.Running, workout.Indoor},
		{typedef.SportFitnessEquipment, typedef.SubSportElliptical, workout.Other, workout.Indoor},
		{typedef.SportTraining, typedef.SubSportStrengthTraining, workout.Strength, workout.AnyPlace},
		{typedef.SportTraining, typedef.SubSportYoga, workout.Other, workout.AnyPlace},
		{typedef.SportHiking, typedef.SubSportGeneric, workout.Walking, workout.AnyPlace},
		{typedef.SportSwimming, typedef.SubSportOpenWater, workout.Swimming, workout.AnyPlace},
		{typedef.SportInvalid, typedef.SubSportInvalid, workout.Other, workout.AnyPlace},
	} {
		t.Run(c.sport.String()+" "+c.sub.String(), func(t *testing.T) {
			w := only(t, decode(t, "x", fit(t, append(records(0, 9, 100), session(0, 9, c.sport, c.sub).ToMesg(nil))...)))
			if w.Sport != c.want || w.Place != c.place {
				t.Errorf("%s %q, want %s %q", w.Sport, w.Place, c.want, c.place)
			}
		})
	}
}

func TestHeartRateSensor(t *testing.T) {
	info := func(kind uint8, source typedef.SourceType) proto.Message {
		return mesgdef.NewDeviceInfo(nil).SetTimestamp(morning).SetDeviceType(kind).SetSourceType(source).ToMesg(nil)
	}
	strap, older := info(120, typedef.SourceTypeAntplus), mesgdef.NewDeviceInfo(nil).SetTimestamp(morning).SetDeviceType(120).ToMesg(nil)
	wrist := info(10, typedef.SourceTypeLocal)
	for _, c := range []struct {
		name  string
		infos []proto.Message
		want  workout.Sensor
	}{
		{"nothing told", nil, workout.UnknownSensor},
		{"strap", []proto.Message{strap}, workout.Strap},
		{"strap without a source", []proto.Message{older}, workout.Strap},
		{"strap by Bluetooth LE", []proto.Message{info(1, typedef.SourceTypeBluetoothLowEnergy)}, workout.Strap},
		{"wrist", []proto.Message{wrist}, workout.Wrist},
		{"both", []proto.Message{wrist, strap}, workout.Strap},
		{"bicycle power", []proto.Message{info(11, typedef.SourceTypeAntplus)}, workout.UnknownSensor},
		{"type 10 of a device without a source", []proto.Message{mesgdef.NewDeviceInfo(nil).SetTimestamp(morning).SetDeviceType(10).ToMesg(nil)}, workout.UnknownSensor},
		{"type 1 of another radio", []proto.Message{info(1, typedef.SourceTypeAnt)}, workout.UnknownSensor},
	} {
		t.Run(c.name, func(t *testing.T) {
			if w := only(t, decode(t, "x", fit(t, append(c.infos, records(0, 9, 100)...)...))); w.Sensor != c.want {
				t.Errorf("%q, want %q", w.Sensor, c.want)
			}
		})
	}
}

// The scale is 0-10, written ten times as large (FIT profile, session.workout_rpe).
func TestPerceivedEffort(t *testing.T) {
	for rpe, want := range map[uint8]*workout.RPE{40: {Value: 4, Scale: 10}, 100: {Value: 10, Scale: 10}, 0: nil, 255: nil, 101: nil} {
		w := only(t, decode(t, "x", fit(t, append(records(0, 9, 100), session(0, 9, typedef.SportRunning, typedef.SubSportGeneric).SetWorkoutRpe(rpe).ToMesg(nil))...)))
		if d := cmp.Diff(want, w.Effort); d != "" {
			t.Errorf("%d: (-want +got):\n%s", rpe, d)
		}
	}
}

func TestDeveloperFields(t *testing.T) {
	define := func(num uint8, base basetype.BaseType, name string, native uint8) proto.Message {
		d := mesgdef.NewFieldDescription(nil).SetDeveloperDataIndex(0).SetFieldDefinitionNumber(num).SetFitBaseTypeId(base).SetFieldName([]string{name})
		if native != 255 {
			d.SetNativeMesgNum(typedef.MesgNumRecord).SetNativeFieldNum(native)
		}
		return d.ToMesg(nil)
	}
	with := func(m proto.Message, fields ...proto.DeveloperField) proto.Message {
		m.DeveloperFields = fields
		return m
	}
	developer := func(num uint8, v proto.Value) proto.DeveloperField {
		return proto.DeveloperField{Num: num, DeveloperDataIndex: 0, Value: v}
	}
	w := only(t, decode(t, "x", fit(t,
		mesgdef.NewDeveloperDataId(nil).SetDeveloperDataIndex(0).ToMesg(nil),
		define(0, basetype.Uint16, "anything", 3), define(1, basetype.Float32, "Power", 255), define(2, basetype.Uint8, "Heart Rate Zone", 255),
		with(record(0, 255), developer(0, proto.Uint16(111)), developer(1, proto.Float32(150.5)), developer(2, proto.Uint8(3))),
		with(record(1, 120), developer(0, proto.Uint16(112)), developer(1, proto.Float32(151)), developer(2, proto.Uint8(3))),
		with(record(2, 255), developer(0, proto.Uint16(65535)), developer(1, proto.Float32(152)), developer(2, proto.Uint8(3))),
	)))
	if d := cmp.Diff(workout.Channel{T: []float64{0, 1}, V: []float64{111, 120}}, w.HeartRate); d != "" {
		t.Errorf("heart rate (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]float64{150.5, 151, 152}, w.Power.V); d != "" {
		t.Errorf("power (-want +got):\n%s", d)
	}
}

// Real logs of straps that were read out after the activity; the numbers of beats were counted
// with the FIT library's own unpacking, the spans likewise.
func TestHeartRateFromAStrapsLog(t *testing.T) {
	for _, c := range []struct {
		file  string
		beats int
		span  float64
	}{
		{"HrmPluginTestActivity.fit", 891, 1089.4},
		{"activity_poolswim_with_hr.fit", 7579, 4899.1},
	} {
		t.Run(c.file, func(t *testing.T) {
			var b []byte
			for _, p := range filesUnder(t, outside.Module(t, "github.com/muktihari/fit"), ".fit") {
				if filepath.Base(p) == c.file {
					b, _ = os.ReadFile(p)
				}
			}
			if b == nil {
				t.Fatal("not among the module's files")
			}
			n, first, last := 0, 1e18, 0.0
			for _, w := range decode(t, c.file, b).Workouts {
				n += w.BeatHeartRate.Len()
				for _, s := range w.BeatHeartRate.T {
					at := float64(w.Start.Unix()) + s
					first, last = min(first, at), max(last, at)
				}
			}
			if n < c.beats-5 || n > c.beats || last-first < c.span-2 || last-first > c.span+0.1 {
				t.Errorf("%d beats over %.1f s, want %d over %.1f s", n, last-first, c.beats, c.span)
			}
		})
	}
}

// R-R intervals end where the records are: their sum must follow the clock.
func TestBeatIntervals(t *testing.T) {
	w := only(t, real(t, "fit/ride-power-hrv-pauses-01.fit"))
	if w.Intervals.Len() < 20000 {
		t.Fatalf("%d intervals", w.Intervals.Len())
	}
	hr := w.HeartRate.Grid(w.Seconds, 10)
	near, n := 0, 0
	for i, s := range w.Intervals.T {
		v, bpm := hr[int(s)], 60/w.Intervals.V[i]
		if v == v {
			n++
			if bpm > v*0.85 && bpm < v*1.15 {
				near++
			}
		}
	}
	if float64(near) < 0.9*float64(n) {
		t.Errorf("%d of %d intervals are near the heart rate of their second", near, n)
	}
}

func TestDamagedFIT(t *testing.T) {
	good := fit(t, append(records(0, 60, 100), session(0, 60, typedef.SportRunning, typedef.SubSportGeneric).ToMesg(nil))...)
	change := func(f func(b []byte) []byte) []byte { return f(bytes.Clone(good)) }
	for _, c := range []struct {
		name, remark string
		b            []byte
		seconds      int
	}{
		{"whole", "", good, 60},
		{"wrong checksum", "checksum", change(func(b []byte) []byte { b[len(b)-1] ^= 1; return b }), 60},
		{"wrong header checksum", "header-checksum", change(func(b []byte) []byte { b[13] ^= 1; return b }), 60},
		{"header checksum 0", "", func() []byte {
			b := bytes.Clone(good)
			b[12], b[13] = 0, 0
			return append(b[:len(b)-2], crc(b[:len(b)-2])...)
		}(), 60},
		{"12-byte header", "", func() []byte {
			b := append([]byte{12}, good[1:12]...)
			b = append(b, good[14:len(good)-2]...)
			return append(b, crc(b)...)
		}(), 60},
		{"size 0", "repaired", change(func(b []byte) []byte { clear(b[4:8]); return b }), 60},
		{"wrong header length", "repaired", change(func(b []byte) []byte { b[0] = 77; return b }), 60},
		{"zeros behind", "trailing-zeros", append(bytes.Clone(good), make([]byte, 512)...), 60},
		{"rubbish behind", "trailing-bytes", append(bytes.Clone(good), "rubbish"...), 60},
		{"no checksum", "truncated", good[:len(good)-2], 60},
		{"half a checksum", "truncated", good[:len(good)-1], 60},
		{"cut", "truncated", good[:300], -1},
		{"unknown message in the middle", "damaged", change(func(b []byte) []byte { copy(b[300:], strings.Repeat("\x0f", 12)); return b }), -1},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := decode(t, "x", c.b)
			w := only(t, f)
			if c.remark != "" {
				wantRemark(t, f.Remarks, workout.Code(c.remark))
			} else if len(f.Remarks) > 0 {
				t.Errorf("remarks %v", f.Remarks)
			}
			if c.seconds >= 0 && w.Seconds != c.seconds || c.seconds < 0 && (w.Seconds < 10 || w.Seconds > 60) {
				t.Errorf("%d s", w.Seconds)
			}
		})
	}
}

// crc is the FIT protocol's checksum, bit by bit (CRC-16, polynomial 0x8005 reflected).
func crc(b []byte) []byte {
	var c uint16
	for _, x := range b {
		c ^= uint16(x)
		for range 8 {
			if c&1 != 0 {
				c = c>>1 ^ 0xA001
			} else {
				c >>= 1
			}
		}
	}
	return binary.LittleEndian.AppendUint16(nil, c)
}

func TestChains(t *testing.T) {
	one, two := fit(t, records(0, 60, 100)...), fit(t, records(3600, 3660, 120)...)
	settings := fit(t, mesgdef.NewUserProfile(nil).SetWeight(700).ToMesg(nil))
	broken := bytes.Clone(one)
	broken[200] = 0x0F // a message that nothing defines
	for _, c := range []struct {
		name string
		b    []byte
		want []int
	}{
		{"two activities", append(bytes.Clone(one), two...), []int{60, 60}},
		{"activity and settings", append(bytes.Clone(one), settings...), []int{60}},
		{"settings and activity", append(bytes.Clone(settings), two...), []int{60}},
		{"damaged and good", append(broken, two...), []int{-1, 60}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := decode(t, "x", c.b)
			if len(f.Workouts) != len(c.want) {
				t.Fatalf("%d workouts, want %d", len(f.Workouts), len(c.want))
			}
			for i, n := range c.want {
				if n >= 0 && f.Workouts[i].Seconds != n {
					t.Errorf("workout %d: %d s, want %d", i, f.Workouts[i].Seconds, n)
				}
			}
		})
	}
	if why := refused(t, settings); !strings.Contains(why, "no recorded samples") {
		t.Errorf("settings: %s", why)
	}
}

func TestRelativeTimeOfFIT(t *testing.T) {
	at := func(s uint32) proto.Message {
		return mesgdef.NewRecord(nil).SetTimestamp(time.Unix(631065600+int64(s), 0)).SetHeartRate(100).ToMesg(nil)
	}
	w := only(t, decode(t, "x", fit(t, at(0x0FFFFFF0), at(0x0FFFFFFF))))
	if !w.Start.IsZero() || w.Seconds != 16 {
		t.Errorf("start %v, %d s, want no date and 16 s", w.Start, w.Seconds)
	}
	if w := only(t, decode(t, "x", fit(t, at(0x10000000), at(0x10000001)))); w.Start.IsZero() {
		t.Error("the first absolute time has no date")
	}
}

func TestDeviceIsADigestOfItsSerialNumber(t *testing.T) {
	file := func(serial uint32) []byte {
		id := mesgdef.NewFileId(nil).SetType(typedef.FileActivity).SetSerialNumber(serial).SetTimeCreated(morning)
		var b bytes.Buffer
		if err := encoder.New(&b).Encode(&proto.FIT{Messages: append([]proto.Message{id.ToMesg(nil)}, records(0, 9, 100)...)}); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	one, again, other := only(t, decode(t, "x", file(3999887766))), only(t, decode(t, "x", file(3999887766))), only(t, decode(t, "x", file(3999887767)))
	if one.Device == "" || one.Device != again.Device || one.Device == other.Device || strings.Contains(one.Device, "3999887766") {
		t.Errorf("devices %q %q %q", one.Device, again.Device, other.Device)
	}
	// The same device exports TCX under the same number.
	w := only(t, decode(t, "x", []byte(tcx("<Creator><UnitId>3999887766</UnitId></Creator>", "100"))))
	if w.Device != one.Device {
		t.Errorf("TCX %q, FIT %q", w.Device, one.Device)
	}
	if got := only(t, decode(t, "x", fit(t, records(0, 9, 100)...))); got.Device != "" {
		t.Errorf("device %q without a serial number", got.Device)
	}
}
