package coach_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
)

// arrive hands in a file of nobody yet and says what became of it.
func arrive(t *testing.T, c *coach.Coach, name string, b []byte) []coach.Receipt {
	t.Helper()
	a, err := c.Arrive("", name, bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	receipts, err := c.Take(t.Context(), a, coach.Intake{On: day("2026-09-06")})
	if err != nil {
		t.Fatal(err)
	}
	return receipts
}

// strays are the files that wait, with whose they may be.
func strays(t *testing.T, c *coach.Coach) []coach.Stray {
	t.Helper()
	all, err := c.Strays(t.Context())
	if err == nil {
		all, err = c.Compare(t.Context(), all)
	}
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// by is a walk that a device recorded.
func by(t *testing.T, device, at string) []byte {
	t.Helper()
	w := walk(at, simulate.Options{})
	w.Device = device
	return encode(t, "fit", w)
}

// A file that nobody has claimed waits with a suggestion, which is never acted upon by itself.
func TestWhoseFileIsIt(t *testing.T) {
	for _, c := range []struct {
		name, file string
		body       func(t *testing.T) []byte
		likely     []string
		why        coach.Likeness
	}{
		{"a known device", "a.fit", func(t *testing.T) []byte { return by(t, "watch-1", "2026-09-04T07:00:00Z") }, []string{"Runa"}, coach.SameDevice},
		{"a device of two people", "a.fit", func(t *testing.T) []byte { return by(t, "watch-2", "2026-09-04T07:00:00Z") }, []string{"Ketil", "Runa"}, coach.SameDevice},
		{"a lent device", "Ketil.fit", func(t *testing.T) []byte { return by(t, "watch-1", "2026-09-04T07:00:00Z") }, []string{"Ketil", "Runa"}, coach.SameDevice},
		{"a device of two people and a name", "Ketil.fit", func(t *testing.T) []byte { return by(t, "watch-2", "2026-09-04T07:00:00Z") }, []string{"Ketil"}, coach.SameName},
		{"a new device", "a.fit", func(t *testing.T) []byte { return by(t, "watch-3", "2026-09-04T07:00:00Z") }, nil, coach.NothingAlike},
		{"a folder of the name", "ketil/a.tcx", func(t *testing.T) []byte { return encode(t, "tcx", walk("2026-09-04T07:00:00Z", simulate.Options{})) }, []string{"Ketil"}, coach.SameName},
		{"a file of the name", "Runa.tcx", func(t *testing.T) []byte { return encode(t, "tcx", walk("2026-09-04T07:00:00Z", simulate.Options{})) }, []string{"Runa"}, coach.SameName},
		{"a name in the file's name", "row_KETIL 2.tcx", func(t *testing.T) []byte { return encode(t, "tcx", walk("2026-09-04T07:00:00Z", simulate.Options{})) }, []string{"Ketil"}, coach.SameName},
		{"two names in the file's name", "Runa and Ketil.tcx", func(t *testing.T) []byte { return encode(t, "tcx", walk("2026-09-04T07:00:00Z", simulate.Options{})) }, []string{"Ketil", "Runa"}, coach.SameName},
		{"part of a word", "Runabout.tcx", func(t *testing.T) []byte { return encode(t, "tcx", walk("2026-09-04T07:00:00Z", simulate.Options{})) }, nil, coach.NothingAlike},
		{"the same heart at the same time", "a.tcx", func(t *testing.T) []byte { return encode(t, "tcx", walk("2026-09-02T07:00:00Z", simulate.Options{})) }, []string{"Runa"}, coach.SameTime},
		{"another time", "a.tcx", func(t *testing.T) []byte { return encode(t, "tcx", walk("2026-09-05T19:00:00Z", simulate.Options{})) }, nil, coach.NothingAlike},
	} {
		t.Run(c.name, func(t *testing.T) {
			book := open(t)
			in := coach.Intake{Client: "Runa", On: day("2026-09-06")}
			receive(t, book, in, "1.fit", by(t, "watch-1", "2026-09-02T07:00:00Z"))
			receive(t, book, in, "2.fit", by(t, "watch-2", "2026-09-03T07:00:00Z"))
			in.Client = "Ketil"
			receive(t, book, in, "3.fit", by(t, "watch-2", "2026-09-01T18:00:00Z"))
			before := len(recordOf(t, book, "Runa", "2026-09-06", false).Recordings)
			if r := arrive(t, book, c.file, c.body(t)); len(r) != 1 || r[0].Status != coach.Unclaimed {
				t.Fatalf("receipts %+v", r)
			}
			all := strays(t, book)
			if len(all) != 1 || !slices.Equal(all[0].Likely, c.likely) || all[0].Why != c.why {
				t.Fatalf("%d wait, likely %v by %q, want %v by %q", len(all), all[0].Likely, all[0].Why, c.likely, c.why)
			}
			if n := len(recordOf(t, book, "Runa", "2026-09-06", false).Recordings); n != before {
				t.Error("a suggestion was acted upon")
			}
			claimed, err := book.Claim(t.Context(), []string{all[0].ID}, "Runa")
			if err != nil || len(claimed) != 1 {
				t.Fatalf("claimed %v, %v", claimed, err)
			}
			if r, err := book.Take(t.Context(), claimed[0], coach.Intake{On: day("2026-09-06")}); err != nil || r[0].Status != coach.Entered {
				t.Errorf("taken %+v, %v", r, err)
			}
			if left := strays(t, book); len(left) != 0 {
				t.Errorf("%d still wait", len(left))
			}
			if _, err := book.Claim(t.Context(), []string{all[0].ID}, "Runa"); err == nil {
				t.Error("a file that is gone was claimed again without a word")
			}
			if dirs, _ := os.ReadDir(filepath.Join(book.Dir, "inbox")); len(dirs) != 0 {
				t.Errorf("left behind: %v", dirs)
			}
		})
	}
}

// What is no recording is set aside with its reason at once, what is in the book already is named, and an archive of
// several people is taken apart.
func TestWhatArrivesIsSorted(t *testing.T) {
	c := open(t)
	known := encode(t, "tcx", walk("2026-09-01T07:00:00Z", simulate.Options{}))
	receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-06")}, "known.tcx", known)
	if r := arrive(t, c, "photo.jpg", []byte("\xff\xd8\xff\xe0 a photo")); r[0].Status != coach.Refused || r[0].Why == "" {
		t.Errorf("a photo: %+v", r)
	}
	if r := arrive(t, c, "again.tcx", known); r[0].Status != coach.Known || r[0].Holder != "Runa" {
		t.Errorf("a known file: %+v", r)
	}
	if all := strays(t, c); len(all) != 0 {
		t.Errorf("%d wait", len(all))
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, body := range map[string][]byte{
		"Runa/a.tcx": encode(t, "tcx", walk("2026-09-02T07:00:00Z", simulate.Options{})), "else/b.tcx": encode(t, "tcx", walk("2026-09-03T07:00:00Z", simulate.Options{})),
		"notes.pdf": []byte("%PDF-1.4"), "known.tcx": known,
	} {
		f, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		f.Write(body)
	}
	z.Close()
	if r := arrive(t, c, "all.zip", b.Bytes()); len(r) != 4 {
		t.Errorf("an archive: %+v", r)
	}
	all := strays(t, c)
	if len(all) != 2 || all[0].Name != "all.zip/Runa/a.tcx" || !slices.Equal(all[0].Likely, []string{"Runa"}) || all[1].Name != "all.zip/else/b.tcx" {
		t.Errorf("of the archive wait %d files", len(all))
		for _, x := range all {
			t.Errorf("%s, likely %v", x.Name, x.Likely)
		}
	}
	refused, err := c.Refusals()
	if err != nil || len(refused) != 2 {
		t.Fatalf("refused %+v, %v", refused, err)
	}
	for _, r := range refused {
		if r.Why == "" || r.Client != "" {
			t.Errorf("refused without a reason: %+v", r)
		}
		if err := c.PutAway(r.ID); err != nil {
			t.Error(err)
		}
	}
	if refused, err = c.Refusals(); err != nil || len(refused) != 0 {
		t.Errorf("after putting away: %+v, %v", refused, err)
	}
	if c.PutAway("none") == nil {
		t.Error("a file that is not there was put away")
	}
}

// A name from outside leads nowhere else, and half a file is not kept.
func TestArriveKeepsWholeFilesInTheirPlace(t *testing.T) {
	c := open(t)
	for name, want := range map[string]string{
		"../../book.db": "book.db", `..\..\policy.toml`: "policy.toml", "/etc/passwd": "etc/passwd", "": "file", "...": "file", "a/b/c/d/e/f.fit": "c/d/e/f.fit",
		".hidden.fit": "hidden.fit", "x\x00y.fit": "x-y.fit", strings.Repeat("é", 200) + ".fit": "", "con:tent?.fit": "con-tent-.fit",
	} {
		a, err := c.Arrive("", name, strings.NewReader("x"))
		if err != nil {
			t.Errorf("%q: %v", name, err)
		} else if want != "" && a.Name != want || len(a.Name) > 500 {
			t.Errorf("%q became %q, want %q", name, a.Name, want)
		}
	}
	for _, name := range []string{"book.db", "policy.toml"} {
		if b, err := os.ReadFile(filepath.Join(c.Dir, name)); err != nil || string(b) == "x" {
			t.Errorf("%s: %v", name, err)
		}
	}
	before := len(strays(t, c))
	broken := io.MultiReader(strings.NewReader("half"), failing{})
	if _, err := c.Arrive("", "half.fit", broken); err == nil {
		t.Error("half a file arrived")
	}
	if _, err := c.Arrive("Runa", "half.fit", broken); err == nil {
		t.Error("half a file arrived for a client")
	}
	if n, err := c.InDrop(t.Context()); n != 0 || err != nil || len(strays(t, c)) != before {
		t.Errorf("half a file was kept: %d in the drop folder, %v", n, err)
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("the line broke") }

// What has arrived for a client and was not taken in, since the program ended, is taken in from the drop folder.
func TestWhatHasArrivedSurvives(t *testing.T) {
	c := open(t)
	a, err := c.Arrive("Runa", "week/walk.tcx", bytes.NewReader(encode(t, "tcx", walk("2026-09-02T07:00:00Z", simulate.Options{}))))
	if err != nil {
		t.Fatal(err)
	}
	c.Close()
	if c, err = coach.Open(t.Context(), c.Dir); err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if n, err := c.InDrop(t.Context()); n != 1 || err != nil {
		t.Fatalf("%d in the drop folder, %v", n, err)
	}
	done, err := c.TakeIn(t.Context(), day("2026-09-06"), nil)
	if err != nil || len(done) != 1 || done[0].Receipts[0].Status != coach.Entered || done[0].Receipts[0].Name != "walk.tcx" {
		t.Errorf("%+v, %v", done, err)
	}
	if n := len(recordOf(t, c, a.Client, "2026-09-06", false).Recordings); n != 1 {
		t.Errorf("%d recordings", n)
	}
	if err := c.Tick(t.Context(), "Runa", record.Tick{What: record.PlanSent, Of: "x", Day: day("2026-09-06")}); err != nil {
		t.Error(err)
	}
}
