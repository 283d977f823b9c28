package recording

import (
	"bytes"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/unicode/norm"

	"nextrung/internal/fault"
)

// mostForeign is the size in bytes beyond which text is refused that has to be brought to UTF-8 first, which makes it
// up to three times as large.
const mostForeign = 8 << 20

var (
	errNoText  = fault.New(fault.Refused, "content is not FIT, TCX, GPX or CSV; export the workout in one of these formats")
	errForeign = fault.New(fault.Refused, "file is larger than %d MB and its text is not in UTF-8; save it as UTF-8", mostForeign>>20)
)

// asText brings a file's text to UTF-8 without a byte order mark. It knows UTF-8, UTF-16 with and
// without a mark, and treats anything else as Windows-1252, which includes Latin-1. It refuses
// bytes that are not text.
func asText(b []byte) ([]byte, error) {
	switch {
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		b = b[3:]
	case bytes.HasPrefix(b, []byte("\xff\xfe")), bytes.HasPrefix(b, []byte("\xfe\xff")):
		return decoded(b, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM))
	case len(b) >= 2 && b[1] == 0 && b[0] != 0:
		return decoded(b, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM))
	case len(b) >= 2 && b[0] == 0 && b[1] != 0:
		return decoded(b, unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM))
	}
	switch {
	case noText(b):
		return nil, errNoText
	case utf8.Valid(b):
		return b, nil
	}
	return decoded(b, charmap.Windows1252)
}

func decoded(b []byte, e encoding.Encoding) ([]byte, error) {
	if len(b) > mostForeign {
		return nil, errForeign
	}
	out, err := e.NewDecoder().Bytes(b)
	if err != nil || noText(out) {
		return nil, errNoText
	}
	return out, nil
}

// Composed brings text to Unicode's form C, with accents joined to their letters; some systems take names of files apart.
func Composed(text string) string { return norm.NFC.String(text) }

// noText says that bytes begin as no text does.
func noText(b []byte) bool { return bytes.IndexByte(b[:min(len(b), 4096)], 0) >= 0 }
