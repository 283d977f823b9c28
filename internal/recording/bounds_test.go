package recording_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"testing"

	"nextrung/internal/recording"
)

func read(ctx context.Context, name string, b []byte, each func(recording.File) error) error {
	return recording.Read(ctx, name, bytes.NewReader(b), int64(len(b)), each)
}

func TestReadingEndsWhenNobodyWaits(t *testing.T) {
	for _, format := range []string{"fit", "tcx", "gpx", "csv"} {
		b := written(t, format)
		for name, b := range map[string][]byte{"x." + format: b, "x.gz": gzipped(t, b), "x.zip": zipped(t, entry{"x", b})} {
			ctx, cancel := context.WithCancel(t.Context())
			cancel()
			err := read(ctx, name, b, func(recording.File) error { t.Errorf("%s: a file is handed on", name); return nil })
			if !errors.Is(err, context.Canceled) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// An interrupt in the middle ends an archive after the file at hand, and a long file before its end.
func TestReadingEndsInTheMiddle(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	files := 0
	err := read(ctx, "a.zip", zipped(t, entry{"1", written(t, "csv")}, entry{"2", written(t, "tcx")}), func(recording.File) error {
		files++
		cancel()
		return nil
	})
	if files != 1 || !errors.Is(err, context.Canceled) {
		t.Errorf("%d files, %v", files, err)
	}
	for name, b := range map[string][]byte{"csv": rows(5000), "gpx": gpxPoints(5000), "gpx read slowly": append(gpxPoints(5000), "<!-- -->"...), "fit": chain(1, 5000)} {
		counted := &countdown{Context: t.Context(), left: 2}
		if err := read(counted, name, b, func(recording.File) error { return nil }); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// countdown is a context that ends after it was asked some times.
type countdown struct {
	context.Context
	left int
}

func (c *countdown) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// An error of the one who takes the files ends the reading; a file that is shorter than it was is no recording.
func TestReadingEndsWithAnError(t *testing.T) {
	full := errors.New("full")
	if err := read(t.Context(), "a.zip", zipped(t, entry{"1", written(t, "csv")}, entry{"2", written(t, "csv")}), func(recording.File) error { return full }); err != full {
		t.Error(err)
	}
	b := written(t, "csv")
	err := recording.Read(t.Context(), "x", bytes.NewReader(b), int64(len(b))+1, func(recording.File) error { t.Error("handed on"); return nil })
	if !errors.As(err, new(*recording.Unreadable)) {
		t.Errorf("%v", err)
	}
}

func rows(n int) []byte {
	var b bytes.Buffer
	b.WriteString("time,hr\n")
	for i := range n {
		fmt.Fprintf(&b, "%d,%d\n", i/2, 100+i%50)
	}
	return b.Bytes()
}

func gpxPoints(n int) []byte {
	var b bytes.Buffer
	b.WriteString("<gpx><trk><trkseg>")
	for i := range n {
		fmt.Fprintf(&b, `<trkpt lat="1" lon="2"><time>2026-09-01T%02d:%02d:%02dZ</time><hr>99</hr></trkpt>`, i/3600, i/60%60, i%60)
	}
	b.WriteString("</trkseg></trk></gpx>")
	return b.Bytes()
}

// chain is so many FIT files, one after the other, with so many records each.
func chain(files, records int) []byte {
	body := binary.LittleEndian.AppendUint32([]byte{0x40, 0, 0, 20, 0, 2, 253, 4, 0x86, 3, 1, 2, 0}, 1_100_000_000)
	body = append(body, 100, 0x41, 0, 0, 20, 0, 1, 3, 1, 2)
	for i := range records {
		body = append(body, 0x80|1<<5|byte(i)&31, 120)
	}
	head := []byte("\x0e\x20\x00\x00\x00\x00\x00\x00.FIT\x00\x00")
	binary.LittleEndian.PutUint32(head[4:], uint32(len(body)))
	one := append(append(head, body...), 0, 0)
	return bytes.Repeat(one, files)
}

func TestWhatNoRecordingNeedsIsRefused(t *testing.T) {
	week := "time,hr\n"
	for i := range 3 * 15 { // three weeks, each a workout of its own
		week += fmt.Sprintf("%d,100\n", 1_700_000_000+i/15*1_000_000+i%15*40000)
	}
	for _, c := range []struct {
		name, want string
		b          []byte
	}{
		{"rows", "700000 samples", rows(700_001)},
		{"records", "700000 samples", chain(1, 700_001)},
		{"FIT files in a chain", "more than 100 FIT files", chain(101, 1)},
		{"activities", "more than 1000 workouts", []byte("<gpx>" + strings.Repeat("<trk></trk>", 1001) + "</gpx>")},
		{"days", "more than 14 days", []byte(week)},
		{"bytes", "larger than 40 MB", make([]byte, 40<<20+1)},
		{"text in another encoding", "not in UTF-8", append([]byte("\xff\xfe"), make([]byte, 16<<20)...)},
		{"files in an archive", "more than 20000 files", func() []byte {
			var all []entry
			for i := range 20_001 {
				all = append(all, entry{fmt.Sprintf("%0200d", i), nil})
			}
			return zipped(t, all...)
		}()},
		{"archive in an archive", "larger than 16 MB", zipped(t, entry{"a.zip", append(zipped(t, entry{"x", nil}), noise(17<<20)...)})},
	} {
		t.Run(c.name, func(t *testing.T) {
			if why := refused(t, c.b); !strings.Contains(why, c.want) {
				t.Errorf("reason %q, want something on %q", why, c.want)
			}
		})
	}
}

// noise is bytes that do not pack.
func noise(n int) []byte {
	out, x := make([]byte, n), uint32(1)
	for i := range out {
		x = x*1664525 + 1013904223
		out[i] = byte(x >> 24)
	}
	return out
}

// What came before the limit of an archive is handed on; the archive itself is named as the one that goes on.
func TestTheRestOfAnArchiveIsLeftOut(t *testing.T) {
	var week strings.Builder
	week.WriteString("time,hr\n")
	for i := range 15 {
		fmt.Fprintf(&week, "%d,100\n", 1_700_000_000+i*40000)
	}
	var all []entry
	for i := range 20 {
		all = append(all, entry{fmt.Sprintf("%d.csv", i), []byte(week.String())})
	}
	files := recording.Decode("a.zip", zipped(t, all...))
	last := files[len(files)-1]
	if len(files) != 11 || files[9].Err != nil || last.Name != "a.zip" || last.Err == nil || !strings.Contains(last.Err.Error(), "60 days") {
		t.Errorf("%d files, the last %s: %v", len(files), last.Name, last.Err)
	}
}

// A quote that is never closed costs its row, and so does a row that is too long.
func TestOneRowCostsNoOther(t *testing.T) {
	for name, odd := range map[string]string{"quote": "3,\"100", "long": "3," + strings.Repeat("9,", 40_000)} {
		f := decode(t, "x.csv", []byte("time,hr\n1,100\n2,101\n"+odd+"\n4,103\n5,104\n"))
		if n := only(t, f).HeartRate.Len(); n < 4 {
			t.Errorf("%s: %d heart rates", name, n)
		}
	}
}
