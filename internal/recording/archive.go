package recording

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
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

// limits keep a hostile or broken archive from filling the memory and from keeping the processor busy. A one-hour
// recording has 0.1 to 4 MB and text packs 10 to 50 times, so real exports stay far below all of them.
type limits struct {
	entry   int64 // bytes of one recording
	inner   int64 // bytes of an archive within an archive
	total   int64 // bytes of all unpacked files together
	ratio   int64 // unpacked to packed size, for files beyond a megabyte
	list    int64 // bytes of a zip archive's list of its files
	count   int   // files
	depth   int   // archives in archives
	seconds int   // of all workouts together
}

var defaultLimits = limits{
	entry: 40 << 20, inner: 16 << 20, total: 256 << 20, ratio: 250, list: 4 << 20, count: 20000, depth: 3, seconds: 60 * 86400,
}

// source is a file that may be an archive.
type source struct {
	name  string
	in    io.ReaderAt
	size  int64
	bytes []byte // nil while it is not in memory
}

func inMemory(name string, b []byte) source {
	return source{name, bytes.NewReader(b), int64(len(b)), b}
}

// unpacker takes files out of archives within its limits and hands them on.
type unpacker struct {
	ctx context.Context
	limits
	each  func(File) error
	seen  int   // entries looked at
	given int   // files handed on
	size  int64 // bytes unpacked so far
	inAll int   // seconds of all workouts so far
	over  bool  // a limit ended the reading
	// room is what archives are unpacked into, at each depth of nesting, one file after the other.
	room map[int]*bytes.Buffer
}

// give hands on a file, but not one that was read while the context ended, of which a part may be missing.
func (u *unpacker) give(f File) error {
	if err := u.ctx.Err(); err != nil {
		return err
	}
	u.given++
	for _, w := range f.Workouts {
		u.inAll += w.Seconds
	}
	return u.each(f)
}

// refuse hands on a file with the reason why it is not read. One beyond all limits has no digest.
func (u *unpacker) refuse(s source, why error) error {
	f := File{Name: s.name, Bytes: s.bytes, Err: why}
	if s.in == nil || s.size > u.total {
		return u.give(f)
	}
	sum := sha256.New()
	if _, err := io.Copy(sum, io.NewSectionReader(s.in, 0, s.size)); err != nil {
		return &Unreadable{err}
	}
	f.Digest = workout.Digest(sum.Sum(nil))
	return u.give(f)
}

// end refuses what is left of an archive.
func (u *unpacker) end(s source, format string, args ...any) error {
	u.over = true
	return u.refuse(s, fault.New(fault.Refused, format, args...))
}

func (u *unpacker) unpack(s source, depth int) error {
	head := make([]byte, min(s.size, 4))
	if _, err := s.in.ReadAt(head, 0); err != nil && err != io.EOF {
		return &Unreadable{err}
	}
	gzipped, zipped := bytes.HasPrefix(head, []byte("\x1f\x8b")), bytes.HasPrefix(head, []byte("PK\x03\x04")) || bytes.HasPrefix(head, []byte("PK\x05\x06"))
	switch {
	case !gzipped && !zipped && s.size > u.entry:
		return u.refuse(s, fault.New(fault.Refused, "file is larger than %d MB; export one workout in each file", u.entry>>20))
	case !gzipped && !zipped:
		if s.bytes == nil {
			s.bytes = make([]byte, s.size)
			if n, err := s.in.ReadAt(s.bytes, 0); int64(n) < s.size {
				return &Unreadable{err}
			}
		}
		return u.give(decodeOne(u.ctx, s.name, s.bytes))
	case depth >= u.depth:
		return u.refuse(s, fault.New(fault.Refused, "archive is nested %d deep, more than %d; unpack it first", depth+1, u.depth))
	case depth > 0 && s.size > u.inner:
		return u.refuse(s, fault.New(fault.Refused, "archive within an archive is larger than %d MB; unpack it first", u.inner>>20))
	case gzipped:
		return u.gunzip(s, depth)
	}
	return u.unzip(s, depth)
}

func (u *unpacker) gunzip(s source, depth int) error {
	r, err := gzip.NewReader(io.NewSectionReader(s.in, 0, s.size))
	if err != nil {
		return u.refuse(s, fault.New(fault.Refused, "gzip header is damaged; export the file again"))
	}
	inner, err := u.expand(r, depth, s.size, 0)
	if err != nil && len(inner) == 0 || errors.As(err, new(limitError)) {
		return u.refuse(s, fmt.Errorf("gzip: %w", err))
	}
	if err != nil {
		each := u.each
		defer func() { u.each = each }()
		u.each = func(f File) error {
			f.Remarks = append(f.Remarks, workout.Say(ArchiveDamaged, nil))
			return each(f)
		}
	}
	return u.unpack(inMemory(s.name, inner), depth+1)
}

// list reads so much of an archive, until all of it may be read. A zip archive's list of files would otherwise be read
// into memory whatever its length.
type list struct {
	io.ReaderAt
	left int64
	read bool
}

func (l *list) ReadAt(p []byte, at int64) (int, error) {
	if l.left -= int64(len(p)); l.left < 0 && !l.read {
		return 0, errList
	}
	return l.ReaderAt.ReadAt(p, at)
}

var errList = errors.New("list of files is too long")

func (u *unpacker) unzip(s source, depth int) error {
	files := &list{ReaderAt: s.in, left: u.list}
	r, err := zip.NewReader(files, s.size)
	files.read = true
	switch {
	case errors.Is(err, errList):
		return u.end(s, "archive holds more than %d files; split it", u.count)
	case err != nil && (r == nil || !errors.Is(err, zip.ErrInsecurePath)):
		return u.refuse(s, fault.New(fault.Refused, "zip directory is damaged or cut off; pack or export it again"))
	}
	for _, e := range r.File {
		if e.Name == "[Content_Types].xml" {
			return u.refuse(s, fault.New(fault.Refused, "content is an office document; save the table as CSV"))
		}
	}
	before := u.given
	for _, e := range r.File {
		if e.FileInfo().IsDir() || strings.HasSuffix(e.Name, "/") || junk(e.Name) {
			continue
		}
		if err := u.entryOf(s, e, depth); err != nil || u.over {
			return err
		}
	}
	if u.given == before {
		return u.refuse(s, fault.New(fault.Refused, "archive holds no files; put the recording itself in"))
	}
	return nil
}

// entryOf reads one file of a zip archive.
func (u *unpacker) entryOf(s source, e *zip.File, depth int) error {
	if u.seen++; u.seen > u.count {
		return u.end(s, "archive holds more than %d files; the rest was left out; split it", u.count)
	}
	if u.inAll > u.seconds {
		return u.end(s, "archive holds more than %d days of workouts; the rest was left out; split it", u.seconds/86400)
	}
	inner := source{name: s.name + "!" + clean(e.Name)}
	if e.Flags&1 != 0 {
		return u.refuse(inner, fault.New(fault.Refused, "file in the archive is encrypted; unpack it first"))
	}
	rc, err := e.Open()
	if err != nil {
		return u.refuse(inner, fault.New(fault.Refused, "file in the archive is packed in an unknown way or damaged; unpack it first"))
	}
	data, err := u.expand(rc, depth, int64(e.CompressedSize64), int64(e.UncompressedSize64))
	rc.Close()
	if u.size > u.total {
		return u.end(s, "archive unpacks to more than %d MB in all; the rest was left out; split it", u.total>>20)
	}
	if err != nil {
		return u.refuse(inner, fmt.Errorf("zip: %w", err))
	}
	return u.unpack(inMemory(inner.name, data), depth+1)
}

// limitError is a refusal because of a limit, as opposed to damage.
type limitError struct{ text string }

func (e limitError) Error() string { return e.text }

// expand reads an entry to its end or to the first limit. On damage it gives what came before. The size that an archive
// gives for the entry is believed as far as the limits go.
func (u *unpacker) expand(r io.Reader, depth int, packed, size int64) ([]byte, error) {
	out := u.room[depth]
	if out == nil {
		out = new(bytes.Buffer)
		u.room[depth] = out
	}
	out.Reset()
	if size > 0 && size <= min(u.entry, u.ratio*packed) {
		out.Grow(int(size) + bytes.MinRead) // without which the buffer doubles when it is full
	}
	// The ratio is looked at every megabyte, so that a bomb is left early.
	for {
		if err := u.ctx.Err(); err != nil {
			return nil, err
		}
		n, err := io.CopyN(out, r, 1<<20)
		u.size += n
		switch size := int64(out.Len()); {
		case u.size > u.total:
			return nil, limitError{fmt.Sprintf("archive unpacks to more than %d MB in all; split it", u.total>>20)}
		case size > u.entry:
			return nil, limitError{fmt.Sprintf("file unpacks to more than %d MB; export one workout in each file", u.entry>>20)}
		case size > 1<<20 && size > u.ratio*max(packed, 1):
			return nil, limitError{fmt.Sprintf("file unpacks to more than %d times its size, which no recording does", u.ratio)}
		}
		if err == io.EOF {
			return out.Bytes(), nil // lent until the next file of this depth
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
