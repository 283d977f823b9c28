package recording

import (
	"bytes"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// asText brings a file's text to UTF-8 without a byte order mark. It knows UTF-8, UTF-16 with and
// without a mark, and treats anything else as Windows-1252, which includes Latin-1. It returns
// false for bytes that are not text.
func asText(b []byte) ([]byte, bool) {
	switch {
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		b = b[3:]
	case bytes.HasPrefix(b, []byte("\xff\xfe")), bytes.HasPrefix(b, []byte("\xfe\xff")):
		return fromUTF16(b, unicode.LittleEndian, unicode.UseBOM)
	case len(b) >= 2 && b[1] == 0 && b[0] != 0:
		return fromUTF16(b, unicode.LittleEndian, unicode.IgnoreBOM)
	case len(b) >= 2 && b[0] == 0 && b[1] != 0:
		return fromUTF16(b, unicode.BigEndian, unicode.IgnoreBOM)
	}
	if bytes.IndexByte(b[:min(len(b), 4096)], 0) >= 0 {
		return nil, false
	}
	if utf8.Valid(b) {
		return b, true
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(b)
	return out, err == nil
}

func fromUTF16(b []byte, e unicode.Endianness, p unicode.BOMPolicy) ([]byte, bool) {
	out, err := unicode.UTF16(e, p).NewDecoder().Bytes(b)
	if err != nil || bytes.IndexByte(out[:min(len(out), 4096)], 0) >= 0 {
		return nil, false
	}
	return out, true
}
