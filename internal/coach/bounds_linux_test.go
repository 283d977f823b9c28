//go:build linux

package coach_test

import (
	"archive/zip"
	"bufio"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/physiology"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// The bounds for one input: the memory at most resident in MB, and seconds.
const mostMB, mostSeconds = 250, 5

// most is the size of the largest file that is read at all.
const most = 40 << 20

// tooLong is the time in seconds after which a reading is stopped.
const tooLong = 3 * mostSeconds

// hostile are inputs that ask for more than any recording needs. Each writes itself, so that the process that
// measures the others stays small.
var hostile = []struct {
	name  string
	write func(w io.Writer)
}{
	{"40 tables of 25 MB in a zip", func(w io.Writer) {
		z := zip.NewWriter(w)
		var packed bytes.Buffer
		sum, size := crc32.NewIEEE(), 0
		deflate, _ := flate.NewWriter(&packed, flate.DefaultCompression)
		size = manyRows(io.MultiWriter(deflate, sum), 25<<20, func(i int) string { return fmt.Sprintf("%d,120\n", i%2000) })
		deflate.Close()
		for i := range 40 {
			e, _ := z.CreateRaw(&zip.FileHeader{
				Name: fmt.Sprintf("%d.csv", i), Method: zip.Deflate, CRC32: sum.Sum32(),
				CompressedSize64: uint64(packed.Len()), UncompressedSize64: uint64(size),
			})
			e.Write(packed.Bytes())
		}
		z.Close()
	}},
	{"zips in zips", func(w io.Writer) {
		inner := make([]byte, 1<<20)
		for range 3 {
			var b bytes.Buffer
			z := zip.NewWriter(&b)
			for i := range 32 {
				e, _ := z.Create(fmt.Sprint(i))
				e.Write(inner)
			}
			z.Close()
			inner = b.Bytes()
		}
		w.Write(inner)
	}},
	{"gzip of 255 MB", func(w io.Writer) {
		z := gzip.NewWriter(w)
		manyRows(z, 255<<20, func(i int) string { return fmt.Sprintf("%d,120\n", i%2000) })
		z.Close()
	}},
	{"20,000 tables of a week with 16 rows in a zip", func(w io.Writer) {
		z := zip.NewWriter(w)
		for i := range 20000 {
			e, _ := z.Create(fmt.Sprintf("%d.csv", i))
			fmt.Fprintf(e, "time,hr\n")
			for k := range 15 {
				fmt.Fprintf(e, "%d,%d\n", 1_800_000_000+i+k*40000, 100+k)
			}
		}
		z.Close()
	}},
	{"400,000 FIT files in a chain", func(w io.Writer) {
		one := []byte("\x0e\x20\x00\x00\x01\x00\x00\x00.FIT\x00\x00\xff\x12\x34")
		for range 400_000 {
			w.Write(one)
		}
	}},
	{"FIT with 20 million records", func(w io.Writer) {
		body := []byte{0x40, 0, 0, 20, 0, 2, 253, 4, 0x86, 3, 1, 2, 0}
		body = binary.LittleEndian.AppendUint32(body, 1_100_000_000)
		body = append(body, 100, 0x41, 0, 0, 20, 0, 1, 3, 1, 2)
		n := 20_000_000
		h := []byte("\x0e\x20\x00\x00\x00\x00\x00\x00.FIT\x00\x00")
		binary.LittleEndian.PutUint32(h[4:], uint32(len(body)+2*n))
		w.Write(h)
		w.Write(body)
		for i := range n {
			w.Write([]byte{0x80 | 1<<5 | byte(i/40)&31, 120})
		}
		w.Write([]byte{0, 0})
	}},
	{"200,000 activities in a TCX", func(w io.Writer) {
		fmt.Fprint(w, "<TrainingCenterDatabase><Activities>")
		for i := range 200_000 {
			fmt.Fprintf(w, `<Activity><Lap><Track><Trackpoint><Time>%s</Time><HeartRateBpm><Value>120</Value></HeartRateBpm></Trackpoint></Track></Lap></Activity>`, at(i*60))
		}
		fmt.Fprint(w, "</Activities></TrainingCenterDatabase>")
	}},
	{"900 activities of 100 h in a TCX", func(w io.Writer) {
		fmt.Fprint(w, "<TrainingCenterDatabase><Activities>")
		for i := range 900 {
			fmt.Fprint(w, "<Activity><Lap><Track>")
			for k := range 10 {
				fmt.Fprintf(w, `<Trackpoint><Time>%s</Time><HeartRateBpm><Value>%d</Value></HeartRateBpm></Trackpoint>`, at(i*60+k*40000), 100+k)
			}
			fmt.Fprint(w, "</Track></Lap></Activity>")
		}
		fmt.Fprint(w, "</Activities></TrainingCenterDatabase>")
	}},
	{"table with rows of 10 million columns", func(w io.Writer) {
		fmt.Fprintf(w, "time,hr\n1,100\n%s\n", strings.Repeat("1,", 10_000_000))
	}},
	{"table of 10 million columns", func(w io.Writer) { fmt.Fprintf(w, "time,hr%s\n1,100\n", strings.Repeat(",x", 10_000_000)) }},
	{"table of 40 MB, short rows", func(w io.Writer) { manyRows(w, most-20, func(i int) string { return "1,99\n" }) }},
	{"table of 40 MB, a sample a second", func(w io.Writer) {
		manyRows(w, most-20, func(i int) string { return fmt.Sprintf("%d,%d\n", i, 100+i%40) })
	}},
	{"table of 40 MB, ten samples a second", func(w io.Writer) {
		manyRows(w, most-20, func(i int) string { return fmt.Sprintf("%.1f,%d\n", float64(i)/10, 100+i/100%40) })
	}},
	{"table whose quote never ends", func(w io.Writer) {
		fmt.Fprint(w, "time,hr\n1,100\n2,\"")
		manyRows(w, most-40, func(i int) string { return "2,100\n" })
	}},
	{"table of 40 MB of quotes", func(w io.Writer) { manyRows(w, most-20, func(i int) string { return "\"\"\"\",\"\"\n" }) }},
	{"table whose clock jumps 200 times, each a week", func(w io.Writer) {
		manyRows(w, 0, nil)
		for k := range 200 {
			for i := range 15 {
				fmt.Fprintf(w, "%d,%d\n", 1_000_000_000+k*2_000_000+i*40000, 90+i)
			}
		}
	}},
	{"24 h in a FIT", func(w io.Writer) { w.Write(lasting("fit", 24, wavy)) }},
	{"48 h in a FIT", func(w io.Writer) { w.Write(lasting("fit", 48, wavy)) }},
	{"7 days in a FIT", func(w io.Writer) { w.Write(lasting("fit", 167, wavy)) }},
	{"7 days of noise in a FIT", func(w io.Writer) { w.Write(lasting("fit", 167, noisy)) }},
	{"48 h of bouts in a FIT", func(w io.Writer) { w.Write(lasting("fit", 48, bouts)) }},
	{"7 days of bouts in a FIT", func(w io.Writer) { w.Write(lasting("fit", 167, bouts)) }},
	{"5 days of a level heart rate in a GPX", func(w io.Writer) {
		fmt.Fprint(w, `<gpx><trk><trkseg>`)
		for i := range 400_000 {
			fmt.Fprintf(w, `<trkpt lat="%f" lon="2"><time>%s</time><hr>120</hr></trkpt>`, 50+float64(i)/50000, at(i))
		}
		fmt.Fprint(w, `</trkseg></trk></gpx>`)
	}},
	{"GPX of 40 MB, shortest points", func(w io.Writer) {
		fmt.Fprint(w, `<gpx><trk><trkseg>`)
		for i := range 540_000 {
			fmt.Fprintf(w, `<trkpt lat="1" lon="2"><time>%s</time><hr>99</hr></trkpt>`, at(i/2))
		}
		fmt.Fprint(w, `</trkseg></trk></gpx>`)
	}},
	{"GPX of 40 MB of empty elements", func(w io.Writer) {
		fmt.Fprintf(w, "<gpx>%s</gpx>", strings.Repeat("<trk/>", 6_600_000))
	}},
	{"GPX of 40 MB of segments, written unusually", func(w io.Writer) {
		fmt.Fprintf(w, "<gpx><!-- --><trk>%s</trk></gpx>", strings.Repeat("<trkseg></trkseg>", 2_400_000))
	}},
	{"GPX of one attribute of 40 MB", func(w io.Writer) { fmt.Fprintf(w, `<gpx><trk a="%s&amp;"/></gpx>`, strings.Repeat("x", most-100)) }},
	{"40 MB of tag openings", func(w io.Writer) { fmt.Fprint(w, "<gpx>"+strings.Repeat("<", most-100)) }},
	{"40 MB of blanks", func(w io.Writer) { fmt.Fprint(w, strings.Repeat(" ", most-100)) }},
	{"40 MB of zeros", func(w io.Writer) { w.Write(make([]byte, most)) }},
	{"8 MB of UTF-16", func(w io.Writer) {
		fmt.Fprint(w, "\xff\xfe")
		manyRows(wide{w}, 4<<20-100, func(i int) string { return "1,99\n" })
	}},
	{"8 MB of UTF-16 that grows", func(w io.Writer) {
		fmt.Fprint(w, "\xff\xfe")
		for range 4<<20 - 1 {
			w.Write([]byte{0x20, 0x20})
		}
	}},
	{"8 MB of Windows-1252", func(w io.Writer) {
		manyRows(w, 8<<20-100, func(i int) string { return "1,\x80\x80\x80\x80\x80\x80\x80\x80\n" })
	}},
	{"3 GB of nothing", func(w io.Writer) { w.(*bufio.Writer).Flush() }},
}

// wide writes ASCII as UTF-16.
type wide struct{ to io.Writer }

func (w wide) Write(b []byte) (int, error) {
	for _, c := range b {
		w.to.Write([]byte{c, 0})
	}
	return len(b), nil
}

func at(second int) string {
	return time.Unix(1_700_000_000+int64(second), 0).UTC().Format(time.RFC3339)
}

func manyRows(w io.Writer, size int, row func(i int) string) int {
	n, _ := io.WriteString(w, "time,hr\n")
	for i := 0; n < size; i++ {
		m, _ := io.WriteString(w, row(i))
		n += m
	}
	return n
}

func wavy(i int) float64 {
	return math.Round(130 + 20*math.Sin(float64(i)/1000) + 5*math.Sin(float64(i)/37))
}

func noisy(i int) float64 { return float64(60 + (i*7919)%97) }

func bouts(i int) float64 {
	if i/120%2 == 0 {
		return 110
	}
	return 160
}

func lasting(format string, hours int, bpm func(i int) float64) []byte {
	w := workout.Workout{Sport: workout.Running, Start: time.Unix(1_790_000_000, 0).UTC(), Seconds: hours * 3600}
	for i := range w.Seconds {
		w.HeartRate.Add(float64(i), bpm(i))
		w.Speed.Add(float64(i), 2.5+bpm(i)/200)
	}
	b, err := recording.Encode(format, w)
	if err != nil {
		panic(err)
	}
	return b
}

// TestBoundsResearch reads each hostile input in a process of its own, as a command does, and measures that process.
func TestBoundsResearch(t *testing.T) {
	if os.Getenv("NEXTRUNG_RESEARCH") != "1" {
		t.Skip("takes minutes; run it with: NEXTRUNG_RESEARCH=1 go test ./internal/coach -run '^TestBoundsResearch$' -v")
	}
	for _, in := range hostile {
		t.Run(in.name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "input")
			f, err := os.Create(file)
			if err != nil {
				t.Fatal(err)
			}
			w := bufio.NewWriter(f)
			in.write(w)
			w.Flush()
			if in.name == "3 GB of nothing" {
				f.Truncate(3 << 30)
			}
			info, _ := f.Stat()
			f.Close()
			child := exec.CommandContext(t.Context(), os.Args[0], "-test.run", "^TestReadsAHostileFile$", "-test.v")
			child.Env = append(os.Environ(), "NEXTRUNG_HOSTILE="+file, "GOGC=100") // as the program runs, whatever the tests do
			out, err := child.Output()
			// The processor's time, since other programs may want it as well.
			took := (child.ProcessState.UserTime() + child.ProcessState.SystemTime()).Seconds()
			said := fmt.Sprintf("stopped after %d s", tooLong)
			if err == nil {
				said = strings.TrimPrefix(strings.Split(string(out), "\n")[1], "read: ")
			}
			mb := int(child.ProcessState.SysUsage().(*syscall.Rusage).Maxrss >> 10) // at least what this process had
			if _, after, ok := strings.Cut(string(out), "VmHWM:"); ok {
				fmt.Sscan(after, &mb)
				mb >>= 10
			}
			t.Logf("| %s | %d kB | %d MB | %.1f s | %s |", in.name, info.Size()>>10, mb, took, said)
			// What is wanted is printed beside what was measured; a test fails only where the machine would be eaten.
			if mb > mostMB || took > mostSeconds {
				t.Logf("more than the %d MB and %d s that are wanted", mostMB, mostSeconds)
			}
			if mb > 4*mostMB {
				t.Errorf("%d MB", mb)
			}
		})
	}
}

// TestReadsAHostileFile is the process that TestBoundsResearch measures.
func TestReadsAHostileFile(t *testing.T) {
	file := os.Getenv("NEXTRUNG_HOSTILE")
	if file == "" {
		t.Skip("is started by TestBoundsResearch")
	}
	limit := syscall.Rlimit{Cur: tooLong, Max: tooLong}
	if err := syscall.Setrlimit(syscall.RLIMIT_CPU, &limit); err != nil {
		t.Fatal(err)
	}
	files, workouts, said, size := 0, 0, "read", 0
	err := coach.Asked{}.InspectFile(t.Context(), file, physiology.Body{HRMaxAny: 190}, func(in coach.Inspection) error {
		files++
		workouts += len(in.Workouts)
		if in.Error != "" {
			said = in.Error
		}
		text, err := json.Marshal(in)
		size += len(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	status, _ := os.ReadFile("/proc/self/status") // proc_pid_status(5): VmHWM is the peak, in kB
	defer fmt.Println(string(status))
	fmt.Printf("read: %d files, %d workouts, %d kB said; %s\n", files, workouts, size>>10, said)
}
