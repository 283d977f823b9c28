package recording

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// trace writes down what a visitor sees.
type trace struct{ events []string }

func (t *trace) open(name string, a attributes) {
	t.events = append(t.events, fmt.Sprintf("<%s lat=%q lon=%q Sport=%q StartTime=%q", name, a.get("lat"), a.get("lon"), a.get("Sport"), a.get("StartTime")))
}

func (t *trace) close(name, text string) error {
	t.events = append(t.events, fmt.Sprintf(">%s %q", name, text))
	return nil
}

// same says how scan and walk differ, "" when they do not; unusual documents never differ.
func same(b []byte) string {
	text, err := asText(b)
	if err != nil {
		return ""
	}
	var fast, slow trace
	if err := scan(context.Background(), string(text), &fast); errors.Is(err, errUnusual) {
		return ""
	} else if err != nil {
		return fmt.Sprint("scan: ", err)
	}
	if err := walk(context.Background(), text, &slow); err != nil {
		return fmt.Sprint("scan has no objection, walk says: ", err)
	}
	if !slices.Equal(fast.events, slow.events) {
		for i := range min(len(fast.events), len(slow.events)) {
			if fast.events[i] != slow.events[i] {
				return fmt.Sprintf("event %d: %s by scan, %s by walk", i, fast.events[i], slow.events[i])
			}
		}
		return fmt.Sprintf("%d events by scan, %d by walk", len(fast.events), len(slow.events))
	}
	return ""
}

// The fast reader must see what encoding/xml sees, or pass the document on to it.
func FuzzScan(f *testing.F) {
	for _, s := range oddXML {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if d := same(b); d != "" {
			t.Fatalf("%q: %s", b, d)
		}
	})
}

var oddXML = []string{
	`<?xml version="1.0" encoding="UTF-8"?><a lat="1" lon='2'><b:c>x</b:c></a>`, `<a lat = "1"/>`, `<a  lat="1"  lon="2" />`,
	`<a lat="1"lon="2"/>`, `<a>1<!-- --!>2</a>`, `<a>&lt;</a>`, `<a lat="&lt;"/>`, `<a lat=">"/>`, `<a lat="/"/>`, `<a><![CDATA[x]]></a>`,
	`<a>]]></a>`, `<a></b>`, `<a>`, `</a>`, `<a/><b/>`, `text`, `<a>x<b/>y</a>`, `<a:b:c/>`, `<1/>`, `<a 1="x"/>`, `< a/>`, `<a/ >`, `<a / >`, `<>`, `</>`,
	"<a>\r\n1\r2</a>", "<a lat=\"1\r2\"/>", "<a>\x01</a>", "<a>\uffff</a>", "<a>\u00a01\u00a0</a>", `<a>1 > 0</a>`, `<?pi?><a/>`, `<?xml version="1.1"?><a/>`,
	`<?xml version="1.0"?><?xml version="1.0"?><a/>`, `<a lat="1" lat="2"/>`, `<xmlns:a xmlns="x"/>`, "<a\tlat=\"1\"\n/>", `<a lat="<"/>`, `<a></a >`, `<ä/>`, `<a-b.c_d/>`,
	`<a>` + strings.Repeat("x", 1025) + `</a>`, `<a b:lat="1"/>`, `<a :lat="1"/>`, `<a lat=""/>`, `x<a/>`, `<a/>x`, ` <a/> `, `<a><?xml version="1.0"?></a>`,
}

// The real recordings are plain: all that are well-formed go the fast way.
func TestRealRecordingsArePlain(t *testing.T) {
	dir := os.Getenv("NEXTRUNG_DATA")
	if dir == "" {
		dir = "../../../shared/data"
	}
	files, _ := filepath.Glob(filepath.Join(dir, "[tg][cp]x", "*.[tg][cp]x"))
	if len(files) == 0 {
		if os.Getenv("NEXTRUNG_DATA_REQUIRED") == "1" {
			t.Fatal("the real recordings are not here")
		}
		t.Skip("the real recordings are not here; set NEXTRUNG_DATA to their folder")
	}
	unusual := 0
	for _, p := range files {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		if d := same(b); d != "" {
			t.Errorf("%s: %s", p, d)
		}
		text, _ := asText(b)
		if scan(context.Background(), string(text), &trace{}) != nil {
			unusual++
			t.Logf("%s needs encoding/xml", filepath.Base(p))
		}
	}
	if unusual > len(files)/4 {
		t.Errorf("%d of %d files need encoding/xml", unusual, len(files))
	}
}
