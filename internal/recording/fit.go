package recording

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"slices"

	"github.com/muktihari/fit/decoder"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// fitEpoch is 1989-12-31T00:00:00Z in Unix seconds, from which FIT counts (FIT protocol, date_time).
const fitEpoch = 631065600

// looksLikeFIT knows a file by the signature in its header, wherever the rest may be damaged.
func looksLikeFIT(b []byte) bool {
	return len(b) >= 12 && string(b[8:12]) == ".FIT"
}

// mostChained is how many FIT files one file may hold, one after the other; devices chain a handful.
const mostChained = 100

// sequence is one FIT file of a chain: header, messages, checksum.
type sequence struct {
	bytes     []byte
	truncated bool
	remarks   []workout.Fact
}

// readFIT reads all sequences of a FIT file. Each is cut out and decoded by itself, so that a
// damaged one does not cost the next.
func readFIT(ctx context.Context, b []byte) (reading, error) {
	var r reading
	count := &counter{ctx: ctx}
	var activity *fitActivity // the last one with records
	var other foreign
	for n := 1; len(b) > 0; n++ {
		if n > mostChained {
			return r, fault.New(fault.Refused, "more than %d FIT files in one; export one workout in each file", mostChained)
		}
		if !looksLikeFIT(b) {
			what := TrailingBytes
			if len(bytes.Trim(b, "\x00")) == 0 {
				what = TrailingZeros
			}
			r.remarks = append(r.remarks, workout.Say(what, workout.Args{"bytes": len(b)}))
			break
		}
		var s sequence
		s, b = cutFIT(b)
		r.remarks = append(r.remarks, s.remarks...)
		a := newFITActivity(count)
		complete, at := a.decode(s.bytes)
		if a.halt != nil {
			return r, a.halt
		}
		if !complete && !s.truncated {
			r.remarks = append(r.remarks, workout.Say(Damaged, workout.Args{"format": "fit", "at": at, "bytes": len(s.bytes), "kept": a.records}))
		}
		switch {
		case a.records == 0 && len(a.beats.T) > 0 && activity != nil:
			// A strap that was read out after a swim appends sequences of heart rate alone.
			activity.adopt(a)
		case len(a.beats.T) == 0 && a.records > 0 && a.onlyCourse():
			other.course = true
		case a.records > 0 || len(a.beats.T) > 0:
			if activity != nil {
				activity.finish(&r)
			}
			activity = a
		default:
			other.any, other.plan = true, other.plan || a.planned
		}
	}
	if activity != nil {
		activity.finish(&r)
	}
	if len(r.takes) > 0 {
		return r, nil
	}
	return r, other.refused(activity, r.remarks)
}

// foreign is what a FIT file holds that is no recording.
type foreign struct{ any, plan, course bool }

// refused says why nothing can be entered from a file.
func (o foreign) refused(activity *fitActivity, remarks []workout.Fact) error {
	switch {
	case activity != nil && activity.timeless > 0:
		return fault.New(fault.Refused, "FIT records have no time; export the workout again")
	case o.course:
		return errCourse
	case o.plan:
		return fault.New(fault.Refused, "FIT file is a planned workout, not a recording; export the activity that was recorded")
	case o.any && !hasDamage(remarks):
		return fault.New(fault.Refused, "FIT file holds no recorded samples (it may be a course or settings); export the workout itself")
	}
	return fault.New(fault.Refused, "FIT file is damaged before its first record; copy or export it again")
}

func hasDamage(rs []workout.Fact) bool {
	return slices.ContainsFunc(rs, func(r workout.Fact) bool { return r.Code == Damaged || r.Code == Truncated })
}

// cutFIT cuts the first sequence off b. The size in the header is believed only as far as there
// are bytes; a size of 0 was never filled in because the device died, and means "the rest".
func cutFIT(b []byte) (s sequence, rest []byte) {
	header := int(b[0])
	note := func(code workout.Code, args workout.Args) { s.remarks = append(s.remarks, workout.Say(code, args)) }
	if header != 12 && header != 14 || len(b) < header {
		header = 12
		if len(b) >= 14 {
			header = 14
		}
		b = patched(b, header, 0)
		note(Repaired, workout.Args{"what": "length"})
	}
	size := int64(binary.LittleEndian.Uint32(b[4:8]))
	end := int64(header) + size + 2
	switch have := int64(len(b)); {
	case size == 0:
		size = max(have-int64(header)-2, 0)
		b = patched(b, header, uint32(size))
		note(Repaired, workout.Args{"what": "size"})
		return sequence{bytes: b, remarks: s.remarks}, nil
	case end > have+2:
		note(Truncated, workout.Args{"bytes": end - have})
		return sequence{b, true, s.remarks}, nil
	case end > have:
		note(Truncated, workout.Args{"bytes": 0})
		// A checksum that nobody looks at lets the decoder finish.
		return sequence{append(slices.Clone(b[:int64(header)+size]), 0, 0), true, s.remarks}, nil
	}
	if header == 14 {
		if c := binary.LittleEndian.Uint16(b[12:14]); c != 0 && c != checksum(b[:12]) {
			note(HeaderChecksum, nil)
		}
	}
	if binary.LittleEndian.Uint16(b[end-2:end]) != checksum(b[:end-2]) {
		note(Checksum, nil)
	}
	return sequence{bytes: b[:end], remarks: s.remarks}, b[end:]
}

// patched copies b with the header's length and data size set.
func patched(b []byte, header int, size uint32) []byte {
	b = slices.Clone(b)
	b[0] = byte(header)
	if size > 0 {
		binary.LittleEndian.PutUint32(b[4:8], size)
	}
	return b
}

// crcTables holds the CRC-16 of the FIT protocol (polynomial 0x8005, reflected): table 0 for each
// byte, table n for that byte with n zero bytes behind it.
var crcTables = func() (t [8][256]uint16) {
	for b := range t[0] {
		crc := uint16(b)
		for range 8 {
			crc = crc>>1 ^ crc&1*0xA001
		}
		t[0][b] = crc
	}
	for n := 1; n < len(t); n++ {
		for b, before := range t[n-1] {
			t[n][b] = before>>8 ^ t[0][byte(before)]
		}
	}
	return t
}()

// checksum is the CRC-16 over header and messages, which the end of a sequence must repeat. The
// decoder's own check leaves the header out and so refuses valid files.
//
// It takes eight bytes a step by as many tables (slicing; Kounavis and Berry 2005, from memory): byte
// by byte it cost an eighth of reading a file.
func checksum(b []byte) uint16 {
	var crc uint16
	for ; len(b) >= 8; b = b[8:] {
		x := crc ^ (uint16(b[0]) | uint16(b[1])<<8)
		crc = crcTables[7][byte(x)] ^ crcTables[6][x>>8] ^ crcTables[5][b[2]] ^ crcTables[4][b[3]] ^
			crcTables[3][b[4]] ^ crcTables[2][b[5]] ^ crcTables[1][b[6]] ^ crcTables[0][b[7]]
	}
	for _, c := range b {
		crc = crc>>8 ^ crcTables[0][byte(crc)^c]
	}
	return crc
}

// decode reads one sequence. It says whether all of it could be read, and if not, near which byte
// the reading stopped.
func (a *fitActivity) decode(b []byte) (complete bool, at int) {
	a.expected = len(b) / 24
	in := bytes.NewReader(b)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	a.stop = stop
	_, err := decoder.New(in, decoder.WithMesgListener(a), decoder.WithBroadcastOnly(), decoder.WithIgnoreChecksum()).DecodeWithContext(ctx)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return false, len(b)
	}
	return err == nil, len(b) - in.Len()
}
