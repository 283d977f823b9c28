package recording

import (
	"math"
	"reflect"
	"strconv"
	"strings"

	"github.com/muktihari/fit/profile/typedef"
	"github.com/muktihari/fit/profile/untyped/fieldnum"
	"github.com/muktihari/fit/profile/untyped/mesgnum"
	"github.com/muktihari/fit/proto"

	"nextrung/internal/workout"
)

// fitActivity collects the messages of one sequence. It keeps nothing of a message but the
// numbers named here.
type fitActivity struct {
	roll
	count    *counter // of the whole file
	halt     error    // why nothing more is read
	stop     func()   // makes the decoder end
	records  int
	timeless int  // records without a time
	lost     int  // records with an impossible clock
	planned  bool // a step of a planned workout was seen

	beats    workout.Channel // heart-rate messages with their own clock; absolute times
	anchor   float64         // Unix time of the beat clock's tick anchorAt
	anchorAt uint32
	anchored bool

	beat      float64 // Unix time of the last R-R interval's end
	intervals workout.Channel

	timer    []timerEvent
	laps     []absoluteLap
	sessions []fitSession
	code     sportCode // of the sport message

	device       string
	strap, wrist bool
	developer    map[[2]uint8]developerField // by index and number
}

// mostSessions is how many parts of one recording are told apart.
const mostSessions = 100

type timerEvent struct {
	t     float64
	start bool
}

type sportCode struct{ sport, sub uint8 }

func sportOf(m *proto.Message, sport, sub byte) sportCode {
	return sportCode{m.FieldValueByNum(sport).Uint8(), m.FieldValueByNum(sub).Uint8()}
}

type fitSession struct {
	start float64
	sportCode
	effort *workout.RPE
}

// developerField is what a field defined by an add-on measures.
type developerField uint8

const (
	otherField developerField = iota
	heartRateField
	powerField
)

func newFITActivity(count *counter) *fitActivity {
	return &fitActivity{count: count, code: sportCode{255, 255}, developer: map[[2]uint8]developerField{}}
}

// another counts a sample, and says whether it may be kept.
func (a *fitActivity) another() bool {
	if a.halt == nil {
		if a.halt = a.count.next(); a.halt != nil {
			a.stop()
		}
	}
	return a.halt == nil
}

// OnMesg takes one message from the decoder. The message is only lent.
func (a *fitActivity) OnMesg(m proto.Message) {
	if !a.another() {
		return
	}
	switch m.Num {
	case mesgnum.Record:
		a.record(&m)
	case mesgnum.Hr:
		a.heartBeats(&m)
	case mesgnum.Hrv:
		a.beatIntervals(&m)
	case mesgnum.Event:
		a.event(&m)
	case mesgnum.Lap:
		a.lapMessage(&m)
	case mesgnum.Session:
		a.session(&m)
	case mesgnum.Sport:
		a.code = sportOf(&m, fieldnum.SportSport, fieldnum.SportSubSport)
	case mesgnum.FileId:
		a.fileID(&m)
	case mesgnum.DeviceInfo:
		a.deviceInfo(&m)
	case mesgnum.FieldDescription:
		a.describe(&m)
	case mesgnum.WorkoutStep:
		a.planned = true
	}
}

// fitTime turns a date_time into Unix seconds.
func fitTime(v uint32) (float64, bool) {
	return float64(v) + fitEpoch, v != math.MaxUint32 && v != 0
}

// recordFields is what one record message holds, NaN for what it does not.
type recordFields struct {
	point
	addedHeartRate, addedPower float64 // from add-ons
}

func (r *recordFields) read(f *proto.Field) {
	const degrees = 180.0 / (1 << 31) // semicircles, FIT protocol
	switch f.Num {
	case fieldnum.RecordTimestamp:
		if t, ok := fitTime(f.Value.Uint32()); ok {
			r.t = t
		}
	case fieldnum.RecordHeartRate: // 0 and 255 are kept: the reading is missing, not the field
		r.hr = float64(f.Value.Uint8())
	case fieldnum.RecordEnhancedSpeed: // filled from speed too, by component expansion
		r.speed = unless(f.Value.Uint32(), math.MaxUint32) / 1000
	case fieldnum.RecordPower:
		r.power = unless(f.Value.Uint16(), math.MaxUint16)
	case fieldnum.RecordCadence:
		r.cadence = unless(f.Value.Uint8(), math.MaxUint8)
	case fieldnum.RecordDistance:
		r.distance = unless(f.Value.Uint32(), math.MaxUint32) / 100
	case fieldnum.RecordPositionLat:
		r.lat = unless(f.Value.Int32(), math.MaxInt32) * degrees
	case fieldnum.RecordPositionLong:
		r.lon = unless(f.Value.Int32(), math.MaxInt32) * degrees
	}
}

func (a *fitActivity) record(m *proto.Message) {
	r := recordFields{blank, math.NaN(), math.NaN()}
	for i := range m.Fields {
		r.read(&m.Fields[i])
	}
	for i := range m.DeveloperFields {
		f := &m.DeveloperFields[i]
		switch a.developer[[2]uint8{f.DeveloperDataIndex, f.Num}] {
		case heartRateField:
			r.addedHeartRate = developerNumber(f.Value)
		case powerField:
			r.addedPower = developerNumber(f.Value)
		}
	}
	a.records++
	if math.IsNaN(r.t) {
		a.timeless++
		return
	}
	k := a.at(r.t)
	if k == nil {
		a.lost++
		return
	}
	// The device's own fields go before those of add-ons.
	if !(r.hr > 0 && r.hr < 255) && r.addedHeartRate > 0 && r.addedHeartRate < 255 {
		r.hr = math.Round(r.addedHeartRate)
	}
	if math.IsNaN(r.power) && r.addedPower >= 0 {
		r.power = r.addedPower
	}
	k.sample(r.point)
}

// unless is a number, NaN where it is the mark of an absent one.
func unless[T uint8 | uint16 | uint32 | int8 | int16 | int32](v, absent T) float64 {
	if v == absent {
		return math.NaN()
	}
	return float64(v)
}

// heartBeats reads a message of a strap's own log: filtered bpm beside times in 1/1024 s of the
// strap's clock. One message in a sequence ties that clock to the date; in the others the decoder
// has unpacked the 12-bit times.
func (a *fitActivity) heartBeats(m *proto.Message) {
	bpm := m.FieldValueByNum(fieldnum.HrFilteredBpm).SliceUint8()
	ticks := m.FieldValueByNum(fieldnum.HrEventTimestamp).SliceUint32()
	if t, ok := fitTime(m.FieldValueByNum(fieldnum.HrTimestamp).Uint32()); ok && len(ticks) > 0 {
		if f := m.FieldValueByNum(fieldnum.HrFractionalTimestamp).Uint16(); f != math.MaxUint16 {
			t += float64(f) / 32768
		}
		a.anchor, a.anchorAt, a.anchored = t, ticks[0], true
	}
	if !a.anchored {
		return
	}
	for i := range min(len(bpm), len(ticks)) {
		if bpm[i] != 0 && bpm[i] != 255 && a.another() {
			a.beats.Add(a.anchor+float64(int32(ticks[i]-a.anchorAt))/1024, float64(bpm[i]))
		}
	}
}

// beatIntervals reads R-R intervals. They carry no time; each ends one interval after the one
// before, and the sum is set back to the records' clock when it strays.
func (a *fitActivity) beatIntervals(m *proto.Message) {
	if a.now == nil {
		return
	}
	for _, v := range m.FieldValueByNum(fieldnum.HrvTime).SliceUint16() {
		if v == math.MaxUint16 || v == 0 || !a.another() {
			continue
		}
		rr := float64(v) / 1000
		a.beat += rr
		if math.Abs(a.beat-a.now.latest) > 3 {
			a.beat = a.now.latest
		}
		a.intervals.Add(a.beat, rr)
	}
}

func (a *fitActivity) event(m *proto.Message) {
	t, ok := fitTime(m.FieldValueByNum(fieldnum.EventTimestamp).Uint32())
	if !ok || len(a.timer) >= mostLaps || typedef.Event(m.FieldValueByNum(fieldnum.EventEvent).Uint8()) != typedef.EventTimer {
		return
	}
	switch typedef.EventType(m.FieldValueByNum(fieldnum.EventEventType).Uint8()) {
	case typedef.EventTypeStart:
		a.timer = append(a.timer, timerEvent{t, true})
	case typedef.EventTypeStop, typedef.EventTypeStopAll, typedef.EventTypeStopDisable, typedef.EventTypeStopDisableAll:
		a.timer = append(a.timer, timerEvent{t, false})
	}
}

// when reads a message's start and end: the start plus the elapsed time, else its time stamp.
func when(m *proto.Message, startField, elapsedField byte) (s absoluteSpan, ok bool) {
	start, ok := fitTime(m.FieldValueByNum(startField).Uint32())
	end, ended := fitTime(m.FieldValueByNum(proto.FieldNumTimestamp).Uint32())
	if v := m.FieldValueByNum(elapsedField).Uint32(); v != math.MaxUint32 {
		end, ended = start+float64(v)/1000, true
	}
	return absoluteSpan{start, end}, ok && ended
}

var intensities = map[typedef.Intensity]string{
	typedef.IntensityActive: "active", typedef.IntensityRest: "rest", typedef.IntensityWarmup: "warmup",
	typedef.IntensityCooldown: "cooldown", typedef.IntensityRecovery: "recovery",
	typedef.IntensityInterval: "interval", typedef.IntensityOther: "other",
}

func (a *fitActivity) lapMessage(m *proto.Message) {
	if s, ok := when(m, fieldnum.LapStartTime, fieldnum.LapTotalElapsedTime); ok && len(a.laps) < mostLaps {
		label := intensities[typedef.Intensity(m.FieldValueByNum(fieldnum.LapIntensity).Uint8())]
		a.laps = append(a.laps, absoluteLap{s, label})
	}
}

func (a *fitActivity) session(m *proto.Message) {
	if len(a.sessions) >= mostSessions {
		return
	}
	s := fitSession{start: math.Inf(-1), sportCode: sportOf(m, fieldnum.SessionSport, fieldnum.SessionSubSport)}
	if w, ok := when(m, fieldnum.SessionStartTime, fieldnum.SessionTotalElapsedTime); ok {
		s.start = w.from
	}
	// Ten times the 0-10 scale (FIT profile, session.workout_rpe); 0 is a slider nobody moved.
	if v := m.FieldValueByNum(fieldnum.SessionWorkoutRpe).Uint8(); v >= 5 && v <= 100 {
		s.effort = &workout.RPE{Value: float64(v) / 10, Scale: 10}
	}
	a.sessions = append(a.sessions, s)
}

func (a *fitActivity) fileID(m *proto.Message) {
	a.course = typedef.File(m.FieldValueByNum(fieldnum.FileIdType).Uint8()) == typedef.FileCourse
	serial := m.FieldValueByNum(fieldnum.FileIdSerialNumber).Uint32z()
	if serial != 0 && serial != math.MaxUint32 {
		a.device = deviceDigest(strconv.FormatUint(uint64(serial), 10))
	}
}

// deviceInfo looks for the heart-rate sensor. An outside sensor that speaks the heart-rate
// profile (device type 120 of ANT+, 1 of Bluetooth LE) is taken for a chest strap, type 10 of an
// onboard source is the optical sensor of a wrist device (FIT profile, antplus_device_type,
// ble_device_type, local_device_type). Older devices do not write the source.
func (a *fitActivity) deviceInfo(m *proto.Message) {
	kind := m.FieldValueByNum(fieldnum.DeviceInfoDeviceType).Uint8()
	switch source := typedef.SourceType(m.FieldValueByNum(fieldnum.DeviceInfoSourceType).Uint8()); {
	case kind == uint8(typedef.AntplusDeviceTypeHeartRate) && (source == typedef.SourceTypeAntplus || source == typedef.SourceTypeInvalid),
		kind == uint8(typedef.BleDeviceTypeHeartRate) && source == typedef.SourceTypeBluetoothLowEnergy:
		a.strap = true
	case kind == uint8(typedef.LocalDeviceTypeWhr) && source == typedef.SourceTypeLocal:
		a.wrist = true
	}
}

// describe notes which developer fields of records measure heart rate or power: by the field of
// the profile that they stand for, else by their name, which is compared and dropped.
func (a *fitActivity) describe(m *proto.Message) {
	kind := otherField
	native := typedef.MesgNum(m.FieldValueByNum(fieldnum.FieldDescriptionNativeMesgNum).Uint16())
	num := m.FieldValueByNum(fieldnum.FieldDescriptionNativeFieldNum).Uint8()
	switch {
	case native == mesgnum.Record && num == fieldnum.RecordHeartRate:
		kind = heartRateField
	case native == mesgnum.Record && num == fieldnum.RecordPower:
		kind = powerField
	case native != mesgnum.Record || num == 255:
		name := ""
		if names := m.FieldValueByNum(fieldnum.FieldDescriptionFieldName).SliceString(); len(names) > 0 {
			name = names[0]
		}
		switch strings.NewReplacer(" ", "", "_", "", "-", "").Replace(strings.ToLower(name)) {
		case "heartrate", "hr":
			kind = heartRateField
		case "power":
			kind = powerField
		}
	}
	index, number := m.FieldValueByNum(fieldnum.FieldDescriptionDeveloperDataIndex), m.FieldValueByNum(fieldnum.FieldDescriptionFieldDefinitionNumber)
	a.developer[[2]uint8{index.Uint8(), number.Uint8()}] = kind
}

// developerNumber reads a value of any base type, NaN when it is the type's "absent" or none.
func developerNumber(v proto.Value) float64 {
	x := math.NaN()
	switch n := reflect.ValueOf(v.Any()); {
	case n.CanUint() && n.Uint() != 1<<n.Type().Bits()-1:
		x = float64(n.Uint())
	case n.CanInt() && n.Int() != 1<<(n.Type().Bits()-1)-1:
		x = float64(n.Int())
	case n.CanFloat():
		x = n.Float()
	}
	if math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}
