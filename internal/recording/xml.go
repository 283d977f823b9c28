package recording

import (
	"bytes"
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"nextrung/internal/fault"
)

// deepest is how far elements may be nested; exports stay below 12.
const deepest = 64

// visitor follows the elements of a document by local names; prefixes and namespaces, declared or
// not, play no part.
type visitor interface {
	open(name string, a attributes)
	// close ends an element; text is its character data when it holds no other element. An error ends the visit.
	close(name, text string) error
}

// attributes are those of one element: as text that scan has looked through, or as a list.
type attributes struct {
	raw  string
	list []xml.Attr
}

// get gives the first attribute of a local name, "" when there is none.
func (a attributes) get(name string) string {
	for raw := a.raw; raw != ""; {
		n, value, rest, ok := nextAttribute(raw)
		if !ok {
			break
		}
		if n == name {
			return value
		}
		raw = rest
	}
	for _, x := range a.list {
		if x.Name.Local == name {
			return x.Value
		}
	}
	return ""
}

var (
	errDoctype = fault.New(fault.Refused, "XML declares a document type or entities, which no recording needs; export it again")
	errNesting = fault.New(fault.Refused, "XML elements are nested more than %d deep, which no recording needs; export it again", deepest)
)

// damage says where XML stopped making sense.
type damage struct {
	line int
	kind string // "early", "malformed" or "mismatched"
}

func (d damage) Error() string {
	what := map[string]string{"early": "ends early", "malformed": "is malformed", "mismatched": "has a mismatched tag"}
	return fmt.Sprintf("XML %s at line %d", what[d.kind], d.line)
}

// walk visits the elements of UTF-8 text in order. On damage what came before has been visited.
func walk(ctx context.Context, text []byte, v visitor) error {
	dec := xml.NewDecoder(bytes.NewReader(text))
	dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // asText did it
	fault := func(kind string) error {
		line, _ := dec.InputPos()
		return damage{line, kind}
	}
	var stack []string
	var data []byte
	leaf := false
	for n := 1; ; n++ {
		if err := now(ctx, n); err != nil {
			return err
		}
		token, err := dec.RawToken()
		switch {
		case err == io.EOF && len(stack) == 0:
			return nil
		case err != nil && dec.InputOffset() >= int64(len(text)):
			return fault("early")
		case err != nil:
			return fault("malformed")
		}
		switch t := token.(type) {
		case xml.StartElement:
			if len(stack) >= deepest {
				return errNesting
			}
			stack = append(stack, t.Name.Local)
			data, leaf = data[:0], true
			v.open(t.Name.Local, attributes{list: t.Attr})
		case xml.EndElement:
			n := len(stack) - 1
			if n < 0 || stack[n] != t.Name.Local {
				return fault("mismatched")
			}
			stack = stack[:n]
			content := ""
			if leaf {
				content = string(bytes.TrimSpace(data))
			}
			leaf = false
			if err := v.close(t.Name.Local, content); err != nil {
				return err
			}
		case xml.CharData:
			if leaf && len(data)+len(t) <= 1024 { // longer text is neither a number nor a time
				data = append(data, t...)
			}
		case xml.Directive:
			return errDoctype
		}
	}
}

// rootName is the local name of the first element, "" when there is none near the beginning.
func rootName(text []byte) string {
	text = text[:min(len(text), 8192)]
	for {
		i := bytes.IndexByte(text, '<')
		if i < 0 || i+1 >= len(text) {
			return ""
		}
		text = text[i+1:]
		switch {
		case bytes.HasPrefix(text, []byte("!--")):
			if i = bytes.Index(text, []byte("-->")); i < 0 {
				return ""
			}
			text = text[i:]
		case bytes.HasPrefix(bytes.ToLower(text[:min(len(text), 13)]), []byte("!doctype html")):
			return "html"
		case text[0] == '?' || text[0] == '!':
		default:
			if i = bytes.IndexAny(text, " \t\r\n/>"); i >= 0 {
				text = text[:i]
			}
			name := string(text)
			return name[strings.LastIndexByte(name, ':')+1:]
		}
	}
}
