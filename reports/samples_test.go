package reports_test

import (
	"bytes"
	"cmp"
	"flag"
	"image"
	"image/color"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/progression"
	"nextrung/internal/workout"
	"nextrung/reports"
)

var update = flag.Bool("update", false, "write the pages of reports/samples anew")

// sampleInput is what the samples show: the only place that says so.
func sampleInput() (on workout.Date, everybody []reports.Client, one reports.Client, rec progression.Recording, s heartrate.Series, w workout.Workout) {
	rec, s, w = ride()
	return asOf, crew(), avelin(), rec, s, w
}

// samples renders one page of each kind, the runtime left out.
func samples(t *testing.T) map[string][]byte {
	t.Helper()
	on, everybody, one, rec, s, w := sampleInput()
	out := map[string][]byte{"progress.svg": reports.ProgressPicture(one), "progress.txt": []byte(reports.ProgressText(one))}
	add := func(name string, b []byte, err error) {
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = b
	}
	b, err := reports.Roster(on, everybody)
	add("roster.html", b, err)
	b, err = reports.DecisionSample(one)
	add("decision.html", b, err)
	b, err = reports.ProgressSample(one)
	add("progress.html", b, err)
	b, err = reports.WorkoutSample(rec, s, w, one)
	add("workout.html", b, err)
	return out
}

// TestSamples renders the samples again; a wanted change is accepted with -update, which also takes
// a picture of each page.
func TestSamples(t *testing.T) {
	for name, got := range samples(t) {
		file := filepath.Join("samples", name)
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Errorf("%v; write it with: go test ./reports -run TestSamples -update", err)
			continue
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s has changed at byte %d; look at it and accept it with: go test ./reports -run TestSamples -update", name, firstDifference(got, want))
		}
	}
	if *update {
		picture(t)
	}
}

func firstDifference(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

// picture takes a picture of each kind of page as a browser shows it.
func picture(t *testing.T) {
	dir, pages := written(t)
	for name, file := range pages {
		if name == "decision of lindra" || name == "progress of selvane" {
			continue
		}
		tab := newTab(t)
		tab.open(filepath.Join(dir, file), view{width: 1100})
		if err := os.WriteFile(filepath.Join("samples", name+".png"), paletted(t, tab.screenshot()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// paletted keeps the 256 most frequent colours of a picture, which is plenty for a page and a
// third of the bytes.
func paletted(t *testing.T, b []byte) []byte {
	t.Helper()
	in, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	r, count := in.Bounds(), map[color.RGBA]int{}
	at := func(x, y int) color.RGBA { return color.RGBAModel.Convert(in.At(x, y)).(color.RGBA) }
	for y := range r.Dy() {
		for x := range r.Dx() {
			count[at(x, y)]++
		}
	}
	all := slices.SortedFunc(maps.Keys(count), func(a, b color.RGBA) int {
		return cmp.Or(count[b]-count[a], int(a.R)-int(b.R), int(a.G)-int(b.G), int(a.B)-int(b.B))
	})
	var colours color.Palette
	for _, c := range all[:min(256, len(all))] {
		colours = append(colours, c)
	}
	out, nearest := image.NewPaletted(r, colours), map[color.RGBA]uint8{}
	for y := range r.Dy() {
		for x := range r.Dx() {
			c := at(x, y)
			i, known := nearest[c]
			if !known {
				i = uint8(colours.Index(c))
				nearest[c] = i
			}
			out.SetColorIndex(x, y, i)
		}
	}
	var small bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&small, out); err != nil {
		t.Fatal(err)
	}
	return small.Bytes()
}
