package recording

import (
	"bytes"
	"errors"

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

// Decode reads a recording, or every recording in a gzip or zip archive. The format is found by
// the content, never by the name. At least one File comes back, and one bad file in an archive
// never hides another.
func Decode(name string, b []byte) []File {
	u := unpacker{limits: defaultLimits}
	u.unpack(name, b, 0)
	return u.files
}

// decodeOne reads bytes that are no archive.
func decodeOne(name string, b []byte) (f File) {
	f = File{Name: name, Digest: workout.DigestOf(b), Bytes: b}
	defer func() {
		if p := recover(); p != nil { // a fault of a library on hostile bytes must not stop the others
			f.Workouts, f.Err = nil, fault.New(fault.Refused, "file is damaged in a way that stops the reader; export it again")
		}
	}()
	if int64(len(b)) > defaultLimits.entry {
		f.Err = fault.New(fault.Refused, "file is larger than %d MB; recordings are far smaller", defaultLimits.entry>>20)
		return f
	}
	var read func([]byte) (reading, error)
	f.Format, read, f.Err = sniff(b)
	if f.Err != nil {
		return f
	}
	r, err := read(b)
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

// sniff recognises the format of bytes by their content.
func sniff(b []byte) (string, func([]byte) (reading, error), error) {
	if len(b) == 0 {
		return "", nil, fault.New(fault.Refused, "file is empty; export it again")
	}
	if looksLikeFIT(b) {
		return "fit", readFIT, nil
	}
	text, ok := asText(b)
	if !ok {
		return "", nil, fault.New(fault.Refused, "content is not FIT, TCX, GPX or CSV; export the workout in one of these formats")
	}
	text = bytes.TrimLeft(text, " \t\r\n")
	switch {
	case len(text) == 0:
		return "", nil, fault.New(fault.Refused, "file contains only blanks; export it again")
	case text[0] == '<':
		return sniffXML(text)
	case text[0] == '{' || text[0] == '[':
		return "", nil, fault.New(fault.Refused, "content is JSON, which is not a recording format; export the workout as FIT, TCX, GPX or CSV")
	case bytes.HasPrefix(text, []byte("BEGIN:VCALENDAR")):
		return "", nil, fault.New(fault.Refused, "content is a calendar, not a recording; export the workout as FIT, TCX, GPX or CSV")
	}
	return "csv", readCSV, nil
}

func sniffXML(text []byte) (string, func([]byte) (reading, error), error) {
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
