package recording_test

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"strings"
	"testing"

	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

type entry struct {
	name string
	data []byte
}

func zipped(t testing.TB, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range entries {
		w, err := z.Create(e.name)
		if err == nil {
			_, err = w.Write(e.data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func gzipped(t testing.TB, data []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := z.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A file is the same file whatever it is packed in.
func TestDigestIsOfTheUnpackedBytes(t *testing.T) {
	plain := written(t, "tcx")
	want := workout.DigestOf(plain)
	for name, b := range map[string][]byte{
		"x.tcx": plain, "x.tcx.gz": gzipped(t, plain), "x.zip": zipped(t, entry{"x.tcx", plain}),
		"y.zip": zipped(t, entry{"deep/inner.zip", zipped(t, entry{"x.tcx.gz", gzipped(t, plain)})}),
	} {
		f := decode(t, name, b)
		if f.Digest != want || !bytes.Equal(f.Bytes, plain) || f.Format != "tcx" {
			t.Errorf("%s: digest %s, %d bytes, format %q", name, f.Digest.Short(), len(f.Bytes), f.Format)
		}
	}
}

func TestArchiveNamesAndJunk(t *testing.T) {
	csv, fit := written(t, "csv"), written(t, "fit")
	files := recording.Decode("all.zip", zipped(t,
		entry{"__MACOSX/._run.fit", []byte("x")}, entry{".DS_Store", []byte("x")}, entry{"week/", nil}, entry{"week/Thumbs.db", []byte("x")},
		entry{"week/run.fit", fit}, entry{"notes.txt", []byte("hello")}, entry{"week/table.csv", csv},
		entry{"inner.zip", zipped(t, entry{`..\..\evil.csv`, csv})},
	))
	var got []string
	for _, f := range files {
		verdict := "read"
		if f.Err != nil {
			verdict = "refused"
		}
		got = append(got, fmt.Sprintf("%s %s %s", f.Name, f.Format, verdict))
	}
	want := []string{
		"all.zip!week/run.fit fit read", "all.zip!notes.txt  refused", "all.zip!week/table.csv csv read",
		"all.zip!inner.zip!evil.csv csv read",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The extension plays no part.
func TestFormatIsFoundByContent(t *testing.T) {
	for _, format := range formats {
		if f := decode(t, "holiday.jpg", written(t, format)); f.Format != format {
			t.Errorf("%s is taken for %q", format, f.Format)
		}
	}
}

func TestArchivesAreRefusedWithAReason(t *testing.T) {
	csv := written(t, "csv")
	deep := zipped(t, entry{"x.csv", csv})
	for range 3 {
		deep = zipped(t, entry{"x.zip", deep})
	}
	encrypted := zipped(t, entry{"x.csv", csv})
	for i := range encrypted { // set the flag of encryption in both headers
		if bytes.HasPrefix(encrypted[i:], []byte("PK\x03\x04")) {
			encrypted[i+6] |= 1
		}
		if bytes.HasPrefix(encrypted[i:], []byte("PK\x01\x02")) {
			encrypted[i+8] |= 1
		}
	}
	bomb := make([]byte, 60<<20)
	for _, c := range []struct {
		name string
		b    []byte
		want string
	}{
		{"too deep", deep, "deep"},
		{"gzip bomb", gzipped(t, bomb), "times its size"},
		{"zip bomb", zipped(t, entry{"x", bomb}), "times its size"},
		{"encrypted", encrypted, "encrypted"},
		{"no files", zipped(t), "no files"},
		{"only junk", zipped(t, entry{"__MACOSX/a", nil}), "no files"},
		{"office document", zipped(t, entry{"[Content_Types].xml", nil}, entry{"xl/a.xml", nil}), "save the table as CSV"},
		{"cut zip", zipped(t, entry{"x.csv", csv})[:60], "damaged"},
		{"gzip header alone", []byte("\x1f\x8b\x08"), "damaged"},
		{"gzip of nothing", gzipped(t, nil), "empty"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if why := refused(t, c.b); !strings.Contains(why, c.want) {
				t.Errorf("reason %q, want something on %q", why, c.want)
			}
		})
	}
}

// One bad file hides no other.
func TestArchiveGoesOnAfterABadFile(t *testing.T) {
	bomb := make([]byte, 30<<20)
	files := recording.Decode("a.zip", zipped(t, entry{"bomb", bomb}, entry{"bad.fit", []byte("\x0e\x10\x00\x00\xff\x00\x00\x00.FIT\x00\x00")}, entry{"good.csv", written(t, "csv")}))
	if len(files) != 3 || files[0].Err == nil || files[1].Err == nil || files[2].Err != nil {
		t.Errorf("%d files: %v", len(files), files)
	}
}

func TestTruncatedGzipKeepsTheBeginning(t *testing.T) {
	b := gzipped(t, []byte(tcx("", strings.Split(strings.Repeat("100,", 59)+"100", ",")...)))
	f := decode(t, "x.tcx.gz", b[:len(b)*3/4])
	wantRemark(t, f.Remarks, "archive-damaged")
	wantRemark(t, f.Remarks, "damaged")
	if n := only(t, f).HeartRate.Len(); n == 0 || n >= 60 {
		t.Errorf("%d heart rates of 60", n)
	}
}

func TestContentThatIsNoRecording(t *testing.T) {
	for _, c := range []struct{ name, content, want string }{
		{"empty", "", "empty"},
		{"blanks", " \n\t", "blanks"},
		{"web page", "<!DOCTYPE html><html><body>log in</body></html>", "web page"},
		{"json", `{"a":1}`, "JSON"},
		{"other xml", "<kml><Placemark/></kml>", "neither TCX nor GPX"},
		{"text", "Dear trainer,\nhere is my run.\n", "heart-rate column"},
		{"binary", "\x00\x01\x02\x00\x00\x00\xff", "not FIT, TCX, GPX or CSV"},
		{"picture", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00", "not FIT, TCX, GPX or CSV"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if why := refused(t, []byte(c.content)); !strings.Contains(why, c.want) {
				t.Errorf("reason %q, want something on %q", why, c.want)
			}
		})
	}
}
