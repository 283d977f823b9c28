package recording

import (
	"context"
	"errors"
	"strings"
	"unsafe"
)

// errUnusual says that a document holds what scan does not handle; walk must read it again.
var errUnusual = errors.New("unusual XML")

// visit follows the elements of a document with a visitor made by fresh: by scan when it is plain,
// as nearly all exports are, else by walk, which knows the whole of XML and says where damage is.
func visit[V visitor](ctx context.Context, text []byte, fresh func() V) (V, error) {
	v := fresh()
	// Nobody changes the text, and a copy of a large file is as large.
	if err := scan(ctx, unsafe.String(unsafe.SliceData(text), len(text)), v); err != errUnusual {
		return v, err
	}
	v = fresh()
	return v, walk(ctx, text, v)
}

// scan visits the elements of plain XML, many times faster than walk: tags, attributes in double
// quotes and text, without references, comments, CDATA and declarations but the first. It either
// visits exactly what walk would, or returns errUnusual; a damaged document is unusual.
func scan(ctx context.Context, s string, v visitor) error {
	s, ok := afterDeclaration(s)
	if !ok {
		return errUnusual
	}
	var stack [deepest]struct{ written, local string }
	depth, leaf := 0, false
	for n := 1; ; n++ {
		if err := now(ctx, n); err != nil {
			return err
		}
		i := strings.IndexByte(s, '<')
		if i < 0 {
			if depth > 0 || skipBlanks(s) != "" {
				return errUnusual
			}
			return nil
		}
		content := s[:i]
		s = s[i+1:]
		end := strings.IndexByte(s, '>')
		if end < 1 || !plain(content) || !allowed(content, depth) {
			return errUnusual
		}
		tag := s[:end]
		s = s[end+1:]
		if tag[0] == '/' {
			if depth--; depth < 0 || stack[depth].written != tag[1:] {
				return errUnusual
			}
			content, ok := leafText(content, leaf)
			if !ok {
				return errUnusual
			}
			leaf = false
			if err := v.close(stack[depth].local, content); err != nil {
				return err
			}
			continue
		}
		tag, single := strings.CutSuffix(tag, "/")
		tag, raw := splitTag(tag)
		name, ok := localName(tag)
		if !ok || depth >= deepest || !plainAttributes(raw) {
			return errUnusual
		}
		v.open(name, attributes{raw: raw})
		if single {
			leaf = false
			if err := v.close(name, ""); err != nil {
				return err
			}
			continue
		}
		stack[depth].written, stack[depth].local, leaf = tag, name, true
		depth++
	}
}

// now says every few thousand elements whether somebody still waits.
func now(ctx context.Context, n int) error {
	if n%4096 == 0 {
		return ctx.Err()
	}
	return nil
}

// allowed says that text may stand where it does: outside the root element only blanks.
func allowed(content string, depth int) bool { return depth > 0 || skipBlanks(content) == "" }

// leafText is the text of an element without others in it; false when a line break needs walk.
func leafText(content string, leaf bool) (string, bool) {
	if !leaf || len(content) > 1024 {
		content = ""
	}
	content = strings.TrimSpace(content)
	return content, strings.IndexByte(content, '\r') < 0
}

// strange marks the bytes that need more than scan: control characters, references, the end of
// CDATA, and the first byte of characters that XML forbids.
var strange = func() (t [256]bool) {
	for b := range 0x20 {
		t[b] = b != '\t' && b != '\n' && b != '\r'
	}
	t['&'], t[']'], t[0xEF] = true, true, true
	return t
}()

func blankByte(b byte) bool { return b == ' ' || b == '\t' || b == '\n' || b == '\r' }

// skipBlanks takes blanks off the start; it is called for every tag, where strings.TrimLeft costs more.
func skipBlanks(s string) string {
	for s != "" && blankByte(s[0]) {
		s = s[1:]
	}
	return s
}

// splitTag parts a tag's name from its attributes.
func splitTag(tag string) (name, attributes string) {
	for i := range len(tag) {
		if blankByte(tag[i]) {
			return tag[:i], tag[i:]
		}
	}
	return tag, ""
}

// afterDeclaration takes a plain XML declaration off the start, where there is one.
func afterDeclaration(s string) (string, bool) {
	if !strings.HasPrefix(s, "<?xml ") {
		return s, true
	}
	end := strings.Index(s, "?>")
	if end < 0 || !strings.HasPrefix(s[5:end], ` version="1.0"`) || !plainAttributes(s[5:end]) {
		return "", false
	}
	return s[end+2:], true
}

func plain(s string) bool {
	for i := range len(s) {
		if strange[s[i]] {
			return false
		}
	}
	return true
}

// localName takes the prefix off a name of plain characters.
func localName(s string) (string, bool) {
	colon := -1
	for i := range len(s) {
		switch c := s[i]; {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c == '_':
		case i > colon+1 && (c >= '0' && c <= '9' || c == '-' || c == '.'):
		case c == ':' && colon < 0 && i > 0:
			colon = i
		default:
			return "", false
		}
	}
	return s[colon+1:], len(s) > colon+1
}

// nextAttribute takes one attribute off raw; ok is false at the end and for what is not plain,
// which differ in whether something is left.
func nextAttribute(raw string) (name, value, rest string, ok bool) {
	trimmed := skipBlanks(raw)
	equal := strings.IndexByte(trimmed, '=')
	if len(trimmed) == len(raw) || equal < 1 || equal+2 > len(trimmed) || trimmed[equal+1] != '"' {
		return "", "", trimmed, false
	}
	value = trimmed[equal+2:]
	end := strings.IndexByte(value, '"')
	if name, ok = localName(trimmed[:equal]); !ok || end < 0 {
		return "", "", trimmed, false
	}
	return name, value[:end], value[end+1:], true
}

func plainAttributes(raw string) bool {
	for raw != "" {
		_, value, rest, ok := nextAttribute(raw)
		if !ok {
			return rest == ""
		}
		if !plain(value) || strings.IndexByte(value, '<') >= 0 || strings.IndexByte(value, '\r') >= 0 {
			return false
		}
		raw = rest
	}
	return true
}
