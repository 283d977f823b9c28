package recording

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
	"github.com/muktihari/fit/proto"

	"nextrung/internal/workout"
)

// undatedStart is the time since switching on, in seconds, at which an undated workout begins.
const undatedStart = 1000

// encodeFIT writes an activity: file id, device info, timer events and records in the order of
// time, laps, session, activity. It leaves the order to nobody: a library that sorts messages
// would move events of the same second.
func encodeFIT(w workout.Workout) ([]byte, error) {
	start := w.Start
	if start.IsZero() {
		start = time.Unix(fitEpoch+undatedStart, 0)
	}
	now := func(second int) time.Time { return start.Add(time.Duration(second) * time.Second).UTC() }
	var out []proto.Message
	put := func(m proto.Message) { out = append(out, m) }

	id := mesgdef.NewFileId(nil).SetType(typedef.FileActivity).SetManufacturer(typedef.ManufacturerDevelopment).
		SetProduct(0).SetTimeCreated(now(0))
	if w.Device != "" {
		id.SetSerialNumber(serialOf([]byte(w.Device)))
	}
	put(id.ToMesg(nil))
	switch w.Sensor {
	case workout.Strap:
		put(mesgdef.NewDeviceInfo(nil).SetTimestamp(now(0)).SetDeviceIndex(1).
			SetDeviceType(uint8(typedef.AntplusDeviceTypeHeartRate)).SetSourceType(typedef.SourceTypeAntplus).ToMesg(nil))
	case workout.Wrist:
		put(mesgdef.NewDeviceInfo(nil).SetTimestamp(now(0)).SetDeviceIndex(1).
			SetDeviceType(uint8(typedef.LocalDeviceTypeWhr)).SetSourceType(typedef.SourceTypeLocal).ToMesg(nil))
	}
	timer := func(second int, e typedef.EventType) {
		put(mesgdef.NewEvent(nil).SetTimestamp(now(second)).SetEvent(typedef.EventTimer).SetEventType(e).ToMesg(nil))
	}
	timer(0, typedef.EventTypeStart)
	paused, pauses := 0, w.Pauses
	running := true
	events := func(upTo int) { // the timer's events until a second
		for len(pauses) > 0 {
			p := pauses[0]
			if running && p.From <= upTo {
				timer(p.From, typedef.EventTypeStopAll)
				running = false
				paused += p.Seconds()
			}
			if running || p.To > upTo {
				return
			}
			timer(p.To, typedef.EventTypeStart)
			running, pauses = true, pauses[1:]
		}
	}
	for _, s := range samples(w) {
		events(s.second)
		put(fitRecord(w, s, now(s.second)))
	}
	events(w.Seconds)
	if running {
		timer(w.Seconds, typedef.EventTypeStopAll)
	}
	for i, l := range lapsOf(w) {
		lap := mesgdef.NewLap(nil).SetMessageIndex(typedef.MessageIndex(i)).SetTimestamp(now(l.To)).SetStartTime(now(l.From)).
			SetTotalElapsedTime(uint32(l.Seconds()) * 1000).SetTotalTimerTime(uint32(l.Seconds()-pausedIn(w, l.Span)) * 1000)
		for intensity, label := range intensities {
			if label == l.Label {
				lap.SetIntensity(intensity)
			}
		}
		put(lap.ToMesg(nil))
	}
	sport, sub := fitSport(w)
	session := mesgdef.NewSession(nil).SetMessageIndex(0).SetTimestamp(now(w.Seconds)).SetStartTime(now(0)).
		SetSport(sport).SetSubSport(sub).SetTotalElapsedTime(uint32(w.Seconds) * 1000).
		SetTotalTimerTime(uint32(w.Seconds-paused) * 1000).SetFirstLapIndex(0).SetNumLaps(uint16(len(lapsOf(w))))
	if w.Effort != nil && w.Effort.Scale == 10 {
		session.SetWorkoutRpe(uint8(math.Round(w.Effort.Value * 10)))
	}
	put(session.ToMesg(nil))
	put(mesgdef.NewActivity(nil).SetTimestamp(now(w.Seconds)).SetTotalTimerTime(uint32(w.Seconds-paused) * 1000).
		SetNumSessions(1).SetType(typedef.ActivityManual).SetEvent(typedef.EventActivity).SetEventType(typedef.EventTypeStop).ToMesg(nil))
	return fitFile("encode fit", out)
}

// fitFile writes messages in the order given; what says in an error what was to be written.
func fitFile(what string, messages []proto.Message) ([]byte, error) {
	var b bytes.Buffer
	if err := encoder.New(&b).Encode(&proto.FIT{Messages: messages}); err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	return b.Bytes(), nil
}

// serialOf makes a serial number of a digest: never 0 or 0xFFFFFFFF, which mean "none".
func serialOf(b []byte) uint32 {
	sum := sha256.Sum256(b)
	return binary.LittleEndian.Uint32(sum[:4])>>1 | 1
}

func pausedIn(w workout.Workout, s workout.Span) int {
	n := 0
	for _, p := range w.Pauses {
		n += p.Overlap(s)
	}
	return n
}

func fitRecord(w workout.Workout, s sample, t time.Time) proto.Message {
	r := mesgdef.NewRecord(nil).SetTimestamp(t)
	if !math.IsNaN(s.hr) {
		r.SetHeartRate(uint8(s.hr))
	}
	if s.speed >= 0 && s.speed < 1e6 {
		r.SetEnhancedSpeed(uint32(math.Round(s.speed * 1000))).SetDistance(uint32(math.Round(s.metres * 100)))
		if w.Place == workout.Outdoor {
			lat, lon := invented(s.metres)
			r.SetPositionLat(int32(math.Round(lat / 180 * (1 << 31)))).SetPositionLong(int32(math.Round(lon / 180 * (1 << 31))))
		}
	}
	if s.power >= 0 && s.power < math.MaxUint16 {
		r.SetPower(uint16(math.Round(s.power)))
	}
	if s.cadence >= 0 && s.cadence < 254.5 {
		r.SetCadence(uint8(math.Round(s.cadence)))
	}
	return r.ToMesg(nil)
}
