package recording

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"unicode"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// limits keep a hostile or broken archive from filling the memory. A one-hour recording has 0.1
// to 4 MB and text packs 10 to 50 times, so real exports stay far below all of them.
type limits struct {
	entry int64 // bytes of one unpacked file
	total int64 // bytes of all unpacked files together
	ratio int64 // unpacked to packed size, for files beyond a megabyte
	count int   // files
	depth int   // archives in archives
}

var defaultLimits = limits{entry: 256 << 20, total: 1 << 30, ratio: 250, count: 20000, depth: 3}

// unpacker takes files out of archives within its limits.
type unpacker struct {
	limits
	files []File
	seen  int   // entries looked at
	size  int64 // bytes unpacked so far
}

func (u *unpacker) refuse(name string, b []byte, err error) {
	u.files = append(u.files, File{Name: name, Digest: workout.DigestOf(b), Bytes: b, Err: err})
}

func (u *unpacker) unpack(name string, b []byte, depth int) {
	gzipped, zipped := bytes.HasPrefix(b, []byte("\x1f\x8b")), bytes.HasPrefix(b, []byte("PK\x03\x04")) || bytes.HasPrefix(b, []byte("PK\x05\x06"))
	switch {
	case !gzipped && !zipped:
		u.files = append(u.files, decodeOne(name, b))
	case depth >= u.depth:
		u.refuse(name, b, fault.New(fault.Refused, "archive is nested %d deep, more than %d; unpack it first", depth+1, u.depth))
	case gzipped:
		u.gunzip(name, b, depth)
	default:
		u.unzip(name, b, depth)
	}
}

func (u *unpacker) gunzip(name string, b []byte, depth int) {
	r, err := gzip.NewReader(bytes.NewReader(b))
	if err != nil {
		u.refuse(name, b, fault.New(fault.Refused, "gzip header is damaged; export the file again"))
		return
	}
	inner, err := u.expand(r, int64(len(b)))
	if err != nil && len(inner) == 0 || errors.As(err, new(limitError)) {
		u.refuse(name, b, fmt.Errorf("gzip: %w", err))
		return
	}
	first := len(u.files)
	u.unpack(name, inner, depth+1)
	if err != nil {
		for i := range u.files[first:] {
			f := &u.files[first+i]
			f.Remarks = append(f.Remarks, workout.Say(ArchiveDamaged, nil))
		}
	}
}

func (u *unpacker) unzip(name string, b []byte, depth int) {
	r, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil && (r == nil || !errors.Is(err, zip.ErrInsecurePath)) {
		u.refuse(name, b, fault.New(fault.Refused, "zip directory is damaged or cut off; pack or export it again"))
		return
	}
	for _, e := range r.File {
		if e.Name == "[Content_Types].xml" {
			u.refuse(name, b, fault.New(fault.Refused, "content is an office document; save the table as CSV"))
			return
		}
	}
	first := len(u.files)
	for _, e := range r.File {
		if e.FileInfo().IsDir() || strings.HasSuffix(e.Name, "/") || junk(e.Name) {
			continue
		}
		if u.seen++; u.seen > u.count {
			u.refuse(name, b, fault.New(fault.Refused, "archive holds more than %d files; the rest was left out; split it", u.count))
			return
		}
		inner := name + "!" + clean(e.Name)
		if e.Flags&1 != 0 {
			u.refuse(inner, nil, fault.New(fault.Refused, "file in the archive is encrypted; unpack it first"))
			continue
		}
		rc, err := e.Open()
		if err != nil {
			u.refuse(inner, nil, fault.New(fault.Refused, "file in the archive is packed in an unknown way or damaged; unpack it first"))
			continue
		}
		data, err := u.expand(rc, int64(e.CompressedSize64))
		rc.Close()
		if err != nil {
			u.refuse(inner, nil, fmt.Errorf("zip: %w", err))
			if u.size >= u.total {
				return
			}
			continue
		}
		u.unpack(inner, data, depth+1)
	}
	if len(u.files) == first {
		u.refuse(name, b, fault.New(fault.Refused, "archive holds no files; put the recording itself in"))
	}
}

// limitError is a refusal because of a limit, as opposed to damage.
type limitError struct{ text string }

func (e limitError) Error() string { return e.text }

// expand reads an entry to its end or to the first limit. On damage it gives what came before.
func (u *unpacker) expand(r io.Reader, packed int64) ([]byte, error) {
	var out bytes.Buffer
	// The ratio is looked at every megabyte, so that a bomb is left early.
	for {
		n, err := io.CopyN(&out, r, 1<<20)
		u.size += n
		switch size := int64(out.Len()); {
		case u.size > u.total:
			return nil, limitError{fmt.Sprintf("archive unpacks to more than %d MB in all; split it", u.total>>20)}
		case size > u.entry:
			return nil, limitError{fmt.Sprintf("file unpacks to more than %d MB; a recording is far smaller", u.entry>>20)}
		case size > 1<<20 && size > u.ratio*max(packed, 1):
			return nil, limitError{fmt.Sprintf("file unpacks to more than %d times its size, which no recording does", u.ratio)}
		}
		if err == io.EOF {
			return out.Bytes(), nil
		}
		if err != nil {
			return out.Bytes(), fault.New(fault.Refused, "archive is damaged or ends early; export it again")
		}
	}
}

// junk knows the files that operating systems leave in archives.
func junk(name string) bool {
	name = strings.ReplaceAll(name, `\`, "/")
	base := strings.ToLower(path.Base(name))
	return slices.Contains(strings.Split(name, "/"), "__MACOSX") || strings.HasPrefix(base, "._") ||
		slices.Contains([]string{".ds_store", "thumbs.db", "desktop.ini"}, base)
}

// clean makes a name safe to show and to join: no way upwards, no control characters.
func clean(name string) string {
	name = strings.ToValidUTF8(strings.ReplaceAll(name, `\`, "/"), "?")
	name = strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return '?'
	}, name)
	if strings.Contains(name, "..") {
		name = strings.TrimPrefix(path.Clean("/"+name), "/")
	}
	return name
}
