package logbook_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/heartrate"
	"nextrung/internal/logbook"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// monday is the first day of the tests' calendar.
var monday = workout.MustDate("2026-09-07")

// open opens a book that is closed at the end of the test.
func open(tb testing.TB, dir string) *logbook.Book {
	tb.Helper()
	b, err := logbook.Open(tb.Context(), dir)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { b.Close() })
	return b
}

// crewed opens a new book with two clients.
func crewed(tb testing.TB) (*logbook.Book, string) {
	tb.Helper()
	dir := tb.TempDir()
	b := open(tb, dir)
	for _, name := range []string{"Runa", "Odd"} {
		must(tb, b.PutClient(tb.Context(), record.Client{Name: name, Stage: 1, Since: monday, TimeZone: "Europe/Oslo"}, monday))
	}
	return b, dir
}

func must(tb testing.TB, err error) {
	tb.Helper()
	if err != nil {
		tb.Fatal(err)
	}
}

// refused says that an error says all of these words.
func refused(tb testing.TB, err error, words ...string) {
	tb.Helper()
	if err == nil {
		tb.Errorf("no error; want one with %q", words)
		return
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			tb.Errorf("error %q does not say %q", err, w)
		}
	}
}

func same(tb testing.TB, what string, got, want any) {
	tb.Helper()
	if d := cmp.Diff(want, got, cmp.Comparer(func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) })); d != "" {
		tb.Errorf("%s differs (-want +got):\n%s", what, d)
	}
}

func verified(tb testing.TB, b *logbook.Book) {
	tb.Helper()
	problems, err := b.Verify(tb.Context())
	must(tb, err)
	for _, p := range problems {
		tb.Errorf("verify: %s", p)
	}
}

// export invents a received file; its bytes look random, so that gzip keeps them nearly as they are.
func export(name string, size int) recording.File {
	seed := workout.DigestOf([]byte(name))
	raw := make([]byte, size)
	rand.NewChaCha8(seed).Read(raw)
	return recording.File{Name: name, Digest: workout.DigestOf(raw), Format: "fit", Bytes: raw}
}

// items invents n workouts of a file, done on day and received when the file was.
func items(f recording.File, client string, day workout.Date, n int) []logbook.Item {
	out := make([]logbook.Item, n)
	for i := range out {
		start := day.Time().Add(time.Duration(16+i) * time.Hour)
		out[i] = logbook.Item{
			Series: heartrate.Series{
				BPM: []float64{100, 101, 102, math.NaN(), math.NaN()}, Origin: []heartrate.Origin{heartrate.Measured, heartrate.Bridged, heartrate.Measured, heartrate.Missing, heartrate.Paused},
				Rejected: 1, Source: workout.Strap,
			},
			Recording: record.Recording{
				ID: fmt.Sprintf("%s#%d", f.Digest.Short(), i), File: f.Digest, Index: i, Name: f.Name, Format: f.Format, Client: client, Date: day,
				Workout:  workout.Workout{Sport: workout.Running, Start: start, Seconds: 5},
				Measured: physiology.Measurements{HeartRate: physiology.Summary{Elapsed: 5}},
			},
		}
	}
	return out
}

// add receives a file with n workouts done on day.
func add(tb testing.TB, b *logbook.Book, client, name string, day workout.Date, n int) recording.File {
	tb.Helper()
	f := export(name, 500)
	must(tb, b.Add(tb.Context(), f, client, day, items(f, client, day, n), nil))
	return f
}

// counts are the names of the files whose recordings count.
func counts(tb testing.TB, b *logbook.Book, client string, on workout.Date) []string {
	tb.Helper()
	r, err := b.Record(tb.Context(), client, on)
	must(tb, err)
	out := []string{}
	for _, x := range r.Recordings {
		if x.Counts() {
			out = append(out, x.Name)
		}
	}
	return out
}

// holds says whether any file of the book's folder holds some bytes.
func holds(tb testing.TB, dir string, what []byte) bool {
	tb.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	must(tb, err)
	if len(files) == 0 {
		tb.Fatal("the folder is empty")
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		must(tb, err)
		if bytes.Contains(b, what) {
			return true
		}
	}
	return false
}

// full gives a value of which every field that JSON shows is set, so that a field that the book
// loses shows.
func full[T any](seed int) T {
	var v T
	f := filler{n: seed}
	f.fill(reflect.ValueOf(&v).Elem())
	return v
}

type filler struct{ n int }

func (f *filler) fill(v reflect.Value) {
	f.n++
	switch v.Interface().(type) {
	case workout.Date:
		v.SetInt(int64(monday) + int64(f.n%50))
		return
	case workout.Digest:
		v.Set(reflect.ValueOf(workout.DigestOf(fmt.Append(nil, f.n))))
		return
	case time.Time:
		v.Set(reflect.ValueOf(monday.Time().Add(time.Duration(f.n) * time.Minute)))
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprintf("word %d, é", f.n))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int:
		v.SetInt(int64(f.n))
	case reflect.Float64:
		v.SetFloat(float64(f.n) + 1.0/3)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			f.fill(v.Index(i))
		}
	case reflect.Interface:
		v.Set(reflect.ValueOf(fmt.Sprint("any", f.n)))
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		f.fill(key)
		f.fill(value)
		v.SetMapIndex(key, value)
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).Tag.Get("json") != "-" {
				f.fill(v.Field(i))
			}
		}
	default:
		panic("no filling for " + v.Type().String())
	}
}
