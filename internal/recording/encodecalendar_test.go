package recording_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

var made = time.Date(2026, 10, 4, 18, 30, 5, 0, time.FixedZone("", 2*3600))

func calendar(t require, name string, entries ...recording.CalendarEntry) []byte {
	t.Helper()
	b, err := recording.EncodeCalendar(name, made, entries)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return b
}

// unfolded takes the line folds out as RFC 5545, 3.1 says: a line break followed by one blank.
func unfolded(b []byte) []string {
	return strings.Split(strings.NewReplacer("\r\n ", "", "\r\n\t", "").Replace(string(b)), "\r\n")
}

// events reads a calendar with a general reader of the format.
func events(t require, b []byte) (name string, out []recording.CalendarEntry) {
	t.Helper()
	cal, err := ical.NewDecoder(bytes.NewReader(b)).Decode()
	if err != nil {
		t.Fatalf("go-ical: %v\n%s", err, b)
	}
	if v, _ := cal.Props.Text(ical.PropVersion); v != "2.0" {
		t.Errorf("version %q", v)
	}
	name, _ = cal.Props.Text("NAME")
	for _, e := range cal.Events() {
		text := func(prop string) string {
			s, err := e.Props.Text(prop)
			if err != nil {
				t.Fatalf("%s: %v", prop, err)
			}
			return s
		}
		day := func(prop string) workout.Date {
			p := e.Props.Get(prop)
			if p == nil || p.ValueType() != ical.ValueDate {
				t.Fatalf("%s is no day: %v", prop, p)
			}
			at, err := p.DateTime(time.UTC)
			if err != nil {
				t.Fatalf("%s: %v", prop, err)
			}
			return workout.DateOf(at, time.UTC)
		}
		if day(ical.PropDateTimeEnd) != day(ical.PropDateTimeStart)+1 {
			t.Errorf("an event ends on %s", day(ical.PropDateTimeEnd))
		}
		if at, err := e.Props.DateTime(ical.PropDateTimeStamp, time.UTC); err != nil || !at.Equal(made) {
			t.Errorf("stamp %v, %v", at, err)
		}
		if s := text(ical.PropTransparency); s != "TRANSPARENT" {
			t.Errorf("transparency %q", s)
		}
		out = append(out, recording.CalendarEntry{UID: text(ical.PropUID), Day: day(ical.PropDateTimeStart), Summary: text(ical.PropSummary), Description: text(ical.PropDescription)})
	}
	return name, out
}

// wellFormed checks what holds of every file (RFC 5545, 3.1): CRLF alone, lines of at most 75
// octets, no rune split, no control characters.
func wellFormed(t require, b []byte) {
	t.Helper()
	if !bytes.HasSuffix(b, []byte("END:VCALENDAR\r\n")) {
		t.Errorf("ends with %q", b[max(0, len(b)-30):])
	}
	for line := range strings.SplitSeq(strings.TrimSuffix(string(b), "\r\n"), "\r\n") {
		if len(line) > 75 || len(line) == 0 || !utf8.ValidString(line) {
			t.Errorf("line of %d octets: %q", len(line), line)
		}
		if strings.ContainsFunc(line, func(r rune) bool { return unicode.IsControl(r) && r != '\t' }) {
			t.Errorf("control character in %q", line)
		}
	}
}

func TestCalendarIsReadByOthers(t *testing.T) {
	b := calendar(t, "Week from 5 October", recording.CalendarEntry{
		UID: "torrec-2026-10-06-1@nextrung", Day: workout.MustDate("2026-10-06"), Summary: "Walk, comfortable", Description: "112 to 134 beats.\nKeep recording for 3 minutes; then stop.", Seconds: 1790,
	}, recording.CalendarEntry{UID: "torrec-2026-12-31-2@nextrung", Day: workout.MustDate("2026-12-31"), Summary: "Walk"})
	wellFormed(t, b)
	name, got := events(t, b)
	want := []recording.CalendarEntry{
		{UID: "torrec-2026-10-06-1@nextrung", Day: workout.MustDate("2026-10-06"), Summary: "Walk, comfortable (30 min)", Description: "112 to 134 beats.\nKeep recording for 3 minutes; then stop."},
		{UID: "torrec-2026-12-31-2@nextrung", Day: workout.MustDate("2026-12-31"), Summary: "Walk"},
	}
	if d := cmp.Diff(want, got); d != "" || name != "Week from 5 October" {
		t.Errorf("%q %s", name, d)
	}
	lines := strings.Join(unfolded(b), "\n")
	for _, line := range []string{
		"PRODID:-//nextrung//planned workouts//EN", "DTSTAMP:20261004T163005Z", "DTSTART;VALUE=DATE:20261006",
		"DTEND;VALUE=DATE:20261007", "DTEND;VALUE=DATE:20270101", `SUMMARY:Walk\, comfortable (30 min)`,
	} {
		if !strings.Contains(lines, "\n"+line+"\n") {
			t.Errorf("no line %q in\n%s", line, lines)
		}
	}
	if strings.Contains(lines, "METHOD") || strings.Contains(lines, "ORGANIZER") {
		t.Error("a file to import is no invitation (RFC 5546, 3.2.1: PUBLISH needs an organizer)")
	}
}

// The worked examples of RFC 5545: folding (3.1) and a TEXT value (3.3.11).
func TestCalendarExamplesOfTheStandard(t *testing.T) {
	folded := "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n"
	if got := unfolded([]byte(folded))[0]; got != "DESCRIPTION:This is a long description that exists on a long line." {
		t.Fatalf("unfolded to %q", got)
	}
	b := calendar(t, "", recording.CalendarEntry{
		UID: "1", Day: workout.MustDate("2026-10-06"), Summary: "x", Description: "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
	})
	want := `DESCRIPTION:Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`
	if lines := unfolded(b); !strings.Contains(strings.Join(lines, "\r\n"), "\r\n"+want+"\r\n") {
		t.Errorf("no %s in %q", want, lines)
	}
	for n, want := range map[int]bool{75: false, 76: true} { // octets of the line
		b := calendar(t, "", recording.CalendarEntry{UID: "1", Day: 740000, Summary: "x", Description: strings.Repeat("x", n-len("DESCRIPTION:"))})
		if got := bytes.Contains(b, []byte("\r\n ")); got != want {
			t.Errorf("a line of %d octets: folded %v", n, got)
		}
	}
}

// A file that is written again has the same UIDs and never a lower sequence, so that it replaces.
func TestNewerCalendarReplaces(t *testing.T) {
	sequence := func(at time.Time) int {
		b, err := recording.EncodeCalendar("", at, []recording.CalendarEntry{{UID: "1", Day: 1, Summary: "x"}})
		if err != nil {
			t.Fatal(err)
		}
		cal, err := ical.NewDecoder(bytes.NewReader(b)).Decode()
		if err != nil {
			t.Fatal(err)
		}
		n, err := cal.Events()[0].Props.Get(ical.PropSequence).Int()
		if err != nil || n < 0 || n > 1<<31-1 { // INTEGER, 3.3.8
			t.Fatalf("sequence %d, %v", n, err)
		}
		return n
	}
	if a, b := sequence(made), sequence(made.Add(time.Minute)); b != a+1 {
		t.Errorf("sequence %d, a minute later %d", a, b)
	}
	sequence(time.Date(2999, 12, 31, 0, 0, 0, 0, time.UTC))
}

func TestCalendarsAreRefused(t *testing.T) {
	good := recording.CalendarEntry{UID: "1", Day: workout.MustDate("2026-10-06"), Summary: "x"}
	change := func(f func(*recording.CalendarEntry)) []recording.CalendarEntry {
		e := good
		f(&e)
		return []recording.CalendarEntry{e}
	}
	for _, c := range []struct {
		name    string
		made    time.Time
		entries []recording.CalendarEntry
		want    string
	}{
		{"nothing", made, nil, "no entries"},
		{"no time", time.Time{}, []recording.CalendarEntry{good}, "time of writing"},
		{"no day", made, change(func(e *recording.CalendarEntry) { e.Day = 0 }), "entry 1 lacks"},
		{"no UID", made, change(func(e *recording.CalendarEntry) { e.UID = "\x01" }), "entry 1 lacks"},
		{"no summary", made, change(func(e *recording.CalendarEntry) { e.Summary = "" }), "entry 1 lacks"},
		{"twice", made, []recording.CalendarEntry{good, good}, "entry 2 has the UID"},
	} {
		if _, err := recording.EncodeCalendar("", c.made, c.entries); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// clean is what a TEXT value can hold of a text.
func clean(s string) string {
	s = strings.ToValidUTF8(s, "")
	s = strings.ReplaceAll(s, "\r\n", "\n")
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\r' || r == '\u2028' || r == '\u2029':
			b.WriteRune('\n')
		case r == '\n' || r == '\t' || !unicode.IsControl(r):
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Whatever is written into a calendar comes back from another reader, and breaks nothing.
func TestAnyTextGoesIntoACalendar(t *testing.T) {
	hostile := rapid.OneOf(
		rapid.String(),
		rapid.StringOfN(rapid.SampledFrom([]rune(`,;\:"nN `+"\n\r\t🚣é\u2028\x00\x7f")), 0, 300, -1),
		rapid.SampledFrom([]string{"END:VEVENT\r\nEND:VCALENDAR", `\n\\n\,`, strings.Repeat("🚣", 100), strings.Repeat(" ", 200), strings.Repeat("x", 300) + " y", "\xff\xfe", `\`}),
	)
	rapid.Check(t, func(t *rapid.T) {
		var entries, want []recording.CalendarEntry
		for i := range rapid.IntRange(1, 4).Draw(t, "entries") {
			e := recording.CalendarEntry{
				UID: fmt.Sprint(i, hostile.Draw(t, "uid")), Day: workout.Date(rapid.IntRange(719163, 1000000).Draw(t, "day")),
				Summary: "x" + hostile.Draw(t, "summary"), Description: hostile.Draw(t, "description"),
			}
			entries = append(entries, e)
			want = append(want, recording.CalendarEntry{UID: clean(e.UID), Day: e.Day, Summary: clean(e.Summary), Description: clean(e.Description)})
		}
		name := hostile.Draw(t, "name")
		b := calendar(t, name, entries...)
		wellFormed(t, b)
		gotName, got := events(t, b)
		if d := cmp.Diff(want, got); d != "" || gotName != clean(name) {
			t.Fatalf("name %q, want %q; %s\n%s", gotName, clean(name), d, b)
		}
	})
}

// A calendar that is given as a recording is refused as what it is.
func TestCalendarIsNoRecording(t *testing.T) {
	b := calendar(t, "", recording.CalendarEntry{UID: "1", Day: 740000, Summary: "x"})
	if why := refused(t, b); !strings.Contains(why, "calendar, not a recording") {
		t.Error(why)
	}
}
