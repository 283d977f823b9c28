package recording

import (
	"bytes"
	"context"
	"errors"
	"io"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// File is one recording file, unpacked from whatever it came in.
type File struct {
	// Name is the name under which the bytes came; a file in an archive is "a.zip!folder/b.tcx".
	Name string
	// Digest names the unpacked bytes, so that x.tcx and x.tcx.gz are the same file.
	Digest workout.Digest
	// Format is "fit", "tcx", "gpx", "csv", or "" when it is none of them.
	Format string
	// Bytes is the unpacked file.
	Bytes    []byte
	Workouts []workout.Workout
	// Remarks say what was repaired, skipped or found odd in the file as a whole.
	Remarks []workout.Fact
	// Err says why the file is refused; Workouts is then empty.
	Err error
}

// Read hands on a recording, or one after the other every recording in a gzip or zip archive. The format is found by
// the content, never by the name. At least one File is handed on, and one bad file in an archive never hides another.
// Of an archive only the file at hand is in memory: its Bytes are lent until each returns. It ends early with the error of each, with an [Unreadable] when in
// gives less than size bytes, or when ctx is done; a file that is refused is no error.
func Read(ctx context.Context, name string, in io.ReaderAt, size int64, each func(File) error) error {
	u := unpacker{ctx: ctx, limits: defaultLimits, each: each, room: map[int]*bytes.Buffer{}}
	return u.unpack(source{name: name, in: in, size: size}, 0)
}

// Unreadable says that the bytes of a file could not be had.
type Unreadable struct{ Err error }

func (u *Unreadable) Error() string { return "cannot be read: " + u.Err.Error() }

func (u *Unreadable) Unwrap() error { return u.Err }

// Decode reads all of what is in memory as Read does.
func Decode(name string, b []byte) (all []File) {
	u := unpacker{ctx: context.Background(), limits: defaultLimits, room: map[int]*bytes.Buffer{}, each: func(f File) error {
		f.Bytes = bytes.Clone(f.Bytes)
		all = append(all, f)
		return nil
	}}
	u.unpack(inMemory(name, b), 0) // nothing can fail
	return all
}

// decodeOne reads bytes that are no archive.
func decodeOne(ctx context.Context, name string, b []byte) (f File) {
	f = File{Name: name, Digest: workout.DigestOf(b), Bytes: b}
	defer func() {
		if p := recover(); p != nil { // a fault of a library on hostile bytes must not stop the others
			f.Workouts, f.Err = nil, fault.New(fault.Refused, "file is damaged in a way that stops the reader; export it again")
		}
	}()
	format, text, read, err := sniff(b)
	if f.Format, f.Err = format, err; err != nil {
		return f
	}
	r, err := read(ctx, text)
	if err != nil {
		f.Err = err
		if errors.Is(err, errNoTable) {
			f.Format = ""
		}
		return f
	}
	f.Workouts, f.Remarks, f.Err = r.workouts()
	return f
}

// reader reads a file of one format, whose text is in UTF-8.
type reader func(ctx context.Context, b []byte) (reading, error)

// sniff recognises the format of bytes by their content, and gives what reads it and is to be read.
func sniff(b []byte) (format string, text []byte, read reader, err error) {
	if len(b) == 0 {
		return "", nil, nil, fault.New(fault.Refused, "file is empty; export it again")
	}
	if looksLikeFIT(b) {
		return "fit", b, readFIT, nil
	}
	if text, err = asText(b); err != nil {
		return "", nil, nil, err
	}
	text = bytes.TrimLeft(text, " \t\r\n")
	switch {
	case len(text) == 0:
		return "", nil, nil, fault.New(fault.Refused, "file contains only blanks; export it again")
	case text[0] == '<':
		format, read, err = sniffXML(text)
		return format, text, read, err
	case text[0] == '{' || text[0] == '[':
		return "", nil, nil, fault.New(fault.Refused, "content is JSON, which is not a recording format; export the workout as FIT, TCX, GPX or CSV")
	case bytes.HasPrefix(text, []byte("BEGIN:VCALENDAR")):
		return "", nil, nil, fault.New(fault.Refused, "content is a calendar, not a recording; export the workout as FIT, TCX, GPX or CSV")
	}
	return "csv", text, readCSV, nil
}

func sniffXML(text []byte) (string, reader, error) {
	switch rootName(text) {
	case "TrainingCenterDatabase":
		return "tcx", readTCX, nil
	case "gpx":
		return "gpx", readGPX, nil
	case "html":
		return "", nil, fault.New(fault.Refused, "content is a web page, not a recording; the download may have failed, export it again")
	}
	return "", nil, fault.New(fault.Refused, "content is XML but neither TCX nor GPX; export the workout as FIT, TCX, GPX or CSV")
}
