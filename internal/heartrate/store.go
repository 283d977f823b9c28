package heartrate

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"nextrung/internal/workout"
)

// The stored form: a version byte, then deflated: the length of a JSON head and the head, one
// origin a second as runs, and the values. Heart rate is nearly always a whole number and every
// bridged value follows from its neighbours, so the usual form keeps one byte of difference for
// each recorded second; whatever does not come back exactly from that is stored as whole floats.
// Version 1 had no faults and no grade; it is still read, and graded by what it holds.
const (
	version    = 2
	oldVersion = 1
	asBytes    = 0 // recorded seconds as differences of whole bpm; bridged seconds follow
	asFloats   = 1 // every second as a float64, little endian
	mostStored = 7 * 86400
)

type head struct {
	Seconds  int            `json:"n"`
	Rejected int            `json:"rejected,omitempty"`
	Source   workout.Sensor `json:"source,omitempty"`
	Remarks  []workout.Fact `json:"remarks,omitempty"`
	Faults   []Fault        `json:"faults,omitempty"`
	Grade    Grade          `json:"grade,omitzero"`
	Form     int            `json:"form,omitempty"`
}

// MarshalBinary writes the series compactly; UnmarshalBinary gives back exactly the same values.
func (s Series) MarshalBinary() ([]byte, error) {
	if len(s.BPM) != len(s.Origin) {
		return nil, fmt.Errorf("store heart rate: %d values but %d origins", len(s.BPM), len(s.Origin))
	}
	h := head{Seconds: len(s.BPM), Rejected: s.Rejected, Source: s.Source, Remarks: s.Remarks, Faults: s.Faults, Grade: s.Grade, Form: asBytes}
	values, ok := s.steps()
	if !ok {
		h.Form = asFloats
		values = make([]byte, 0, 8*len(s.BPM))
		for _, v := range s.BPM {
			values = binary.LittleEndian.AppendUint64(values, math.Float64bits(v))
		}
	}
	headed, err := json.Marshal(h)
	if err != nil {
		return nil, fmt.Errorf("store heart rate: %w", err)
	}
	raw := binary.AppendUvarint(nil, uint64(len(headed)))
	raw = append(raw, headed...)
	for k := 0; k < len(s.Origin); {
		run := k
		for run < len(s.Origin) && s.Origin[run] == s.Origin[k] {
			run++
		}
		raw = append(raw, byte(s.Origin[k]))
		raw = binary.AppendUvarint(raw, uint64(run-k))
		k = run
	}
	raw = append(raw, values...)

	out := bytes.NewBuffer([]byte{version})
	z, err := flate.NewWriter(out, flate.DefaultCompression)
	if err != nil {
		return nil, fmt.Errorf("store heart rate: %w", err)
	}
	_, err = z.Write(raw)
	if err := errors.Join(err, z.Close()); err != nil {
		return nil, fmt.Errorf("store heart rate: %w", err)
	}
	return out.Bytes(), nil
}

// steps writes the recorded seconds as differences of whole bpm, one byte each; a paused second
// without a value is 0. It is false when that would not give back the same values.
func (s Series) steps() ([]byte, bool) {
	out := make([]byte, 0, len(s.BPM))
	again := Series{BPM: make([]float64, len(s.BPM)), Origin: s.Origin}
	last := 0
	for k, v := range s.BPM {
		switch o := s.Origin[k]; {
		case o == Missing || o == Bridged:
			again.BPM[k] = math.NaN()
		case o == Paused && math.IsNaN(v):
			out = append(out, 0)
			again.BPM[k] = v
		case v >= 1 && v <= 255 && v == math.Trunc(v):
			// Differences wrap around in a byte; 0 is kept for "no value", so the second's value is
			// stored modulo 255 and shifted by one.
			out = append(out, byte((int(v)-last+255)%255+1))
			last = int(v)
			again.BPM[k] = v
		default:
			return nil, false
		}
	}
	again.straighten()
	for k, v := range s.BPM {
		if math.Float64bits(v) != math.Float64bits(again.BPM[k]) {
			return nil, false
		}
	}
	return out, true
}

var errStored = errors.New("stored heart rate is damaged")

// UnmarshalBinary reads what MarshalBinary wrote. Damaged or foreign bytes are an error.
func (s *Series) UnmarshalBinary(b []byte) error {
	if len(b) == 0 || b[0] != version && b[0] != oldVersion {
		return fmt.Errorf("%w: unknown version", errStored)
	}
	z := flate.NewReader(bytes.NewReader(b[1:]))
	raw, err := io.ReadAll(io.LimitReader(z, 1<<24))
	if err != nil {
		return fmt.Errorf("%w: %w", errStored, err)
	}
	size, used := binary.Uvarint(raw)
	if used <= 0 || size > uint64(len(raw)-used) {
		return fmt.Errorf("%w: no head", errStored)
	}
	var h head
	if err := json.Unmarshal(raw[used:used+int(size)], &h); err != nil {
		return fmt.Errorf("%w: %w", errStored, err)
	}
	if h.Seconds < 0 || h.Seconds > mostStored {
		return fmt.Errorf("%w: %d s", errStored, h.Seconds)
	}
	out := Series{
		BPM: make([]float64, h.Seconds), Origin: make([]Origin, 0, h.Seconds), Rejected: h.Rejected,
		Source: h.Source, Remarks: h.Remarks, Faults: h.Faults, Grade: h.Grade,
	}
	rest, err := out.readOrigins(raw[used+int(size):])
	if err != nil {
		return err
	}
	switch h.Form {
	case asBytes:
		err = out.readSteps(rest)
	case asFloats:
		err = out.readFloats(rest)
	default:
		err = fmt.Errorf("%w: form %d", errStored, h.Form)
	}
	if err != nil {
		return err
	}
	if b[0] == oldVersion {
		out.Grade = gradeOf(out)
	}
	*s = out
	return nil
}

// readOrigins reads the runs of origins and gives what follows them.
func (s *Series) readOrigins(b []byte) (rest []byte, err error) {
	for len(s.Origin) < len(s.BPM) {
		if len(b) < 2 || b[0] > byte(Paused) {
			return nil, fmt.Errorf("%w: origins", errStored)
		}
		n, used := binary.Uvarint(b[1:])
		if used <= 0 || n == 0 || n > uint64(len(s.BPM)-len(s.Origin)) {
			return nil, fmt.Errorf("%w: origins", errStored)
		}
		s.Origin = append(s.Origin, slices.Repeat([]Origin{Origin(b[0])}, int(n))...)
		b = b[1+used:]
	}
	return b, nil
}

func (s *Series) readSteps(b []byte) error {
	last := 0
	for k, o := range s.Origin {
		s.BPM[k] = math.NaN()
		if o == Missing || o == Bridged {
			continue
		}
		if len(b) == 0 {
			return fmt.Errorf("%w: values end early", errStored)
		}
		if b[0] > 0 {
			last = (last + int(b[0]) - 1) % 255
			if last == 0 {
				last = 255
			}
			s.BPM[k] = float64(last)
		}
		b = b[1:]
	}
	if len(b) > 0 {
		return fmt.Errorf("%w: %d values too many", errStored, len(b))
	}
	s.straighten()
	return nil
}

func (s *Series) readFloats(b []byte) error {
	if len(b) != 8*len(s.BPM) {
		return fmt.Errorf("%w: %d bytes of values for %d s", errStored, len(b), len(s.BPM))
	}
	for k := range s.BPM {
		s.BPM[k] = math.Float64frombits(binary.LittleEndian.Uint64(b[8*k:]))
	}
	return nil
}
