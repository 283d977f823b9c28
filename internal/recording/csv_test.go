package recording_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"nextrung/internal/workout"
)

func TestTables(t *testing.T) {
	const undated = ""
	for _, c := range []struct {
		name, table, start string
		want               []float64 // time and heart rate by turns
		remark             string
	}{
		{"seconds", "s,hr\n0,100\n5,101\n", undated, []float64{0, 100, 5, 101}, ""},
		{"seconds from another zero", "elapsed_s,heart_rate_bpm\n1000,100\n1005,101\n", undated, []float64{0, 100, 5, 101}, ""},
		{"milliseconds", "Time (ms),HR (bpm)\n0,100\n1500,101\n", undated, []float64{0, 100, 1.5, 101}, ""},
		{"mm:ss", "Time;HR\n59:59;100\n60:01;101\n", undated, []float64{0, 100, 2, 101}, ""},
		{"h:mm:ss", "Time\tHR\n0:00:00\t100\n1:00:00\t101\n", undated, []float64{0, 100, 3600, 101}, ""},
		{"past midnight", "Time,HR\n23:59:59,100\n00:00:01,101\n", undated, []float64{0, 100, 2, 101}, ""},
		{"epoch seconds", "timestamp,hr\n1788242400,100\n1788242401,101\n", "2026-09-01T06:00:00Z", []float64{0, 100, 1, 101}, ""},
		{"epoch milliseconds", "timestamp,hr\n1788242400000,100\n1788242401500,101\n", "2026-09-01T06:00:00Z", []float64{0, 100, 1.5, 101}, ""},
		{"with zone", "time,hr\n2026-09-01T08:00:00+02:00,100\n", "2026-09-01T06:00:00Z", []float64{0, 100}, ""},
		{"without zone", "time,hr\n2026-09-01 06:00:00,100\n", "2026-09-01T06:00:00Z", []float64{0, 100}, "no-zone"},
		{"words", "time,hr\nSun Sep 25 06:00:22 PDT 2011,161\n", "2011-09-25T13:00:22Z", []float64{0, 161}, ""},
		{"words with offset", "time,hr\n\"Sun, 25 Sep 2011 06:00:22 +0200\",161\n", "2011-09-25T04:00:22Z", []float64{0, 161}, ""},
		{"unknown zone", "time,hr\nSun Sep 25 06:00:22 XYZT 2011,161\n", "2011-09-25T06:00:22Z", []float64{0, 161}, "no-zone"},
		{"day first", "time;hr\n25.09.2011 06:00:22;161\n", "2011-09-25T06:00:22Z", []float64{0, 161}, "no-zone"},
		{"month first", "time,hr\n9/25/2011 6:00:22 PM,161\n", "2011-09-25T18:00:22Z", []float64{0, 161}, "no-zone"},
		{"half past midnight", "time,hr\n9/25/2011 12:30:00 AM,161\n", "2011-09-25T00:30:00Z", []float64{0, 161}, "no-zone"},
		{"hours and minutes beside a date", "date;time;hr\n25.9.2011;6:01;161\n25.9.2011;6:02;162\n", "2011-09-25T06:01:00Z", []float64{0, 161, 60, 162}, "no-zone"},
		{"day without the hour's zone", "time;hr\n2011-09-25 06:01;161\n", "2011-09-25T06:01:00Z", []float64{0, 161}, "no-zone"},
		{"unsure order", "time;hr\n05.09.2011 06:00:22;161\n", "2011-09-05T06:00:22Z", []float64{0, 161}, "date-order"},
		{"date and time apart", "date;time;hr\n2011-09-25;06:00:22;161\n2011-09-25;16:00:22;162\n", "2011-09-25T06:00:22Z", []float64{0, 161, 36000, 162}, "no-zone"},
		{"date and time apart, near midnight", "date;time;hr\n2011-09-25;23:59:59;161\n2011-09-26;00:00:01;162\n", "2011-09-25T23:59:59Z", []float64{0, 161, 2, 162}, "no-zone"},
		{"leading blanks and null", "Timestamp, Heart Rate [bpm]\n1, 93\n2,null\n3,\n4,104\n", undated, []float64{0, 93, 3, 104}, ""},
		{"decimal comma", "Zeit;Puls\n0,5;100,5\n1,5;101\n", undated, []float64{0.5, 100.5, 1.5, 101}, ""},
		{"units in the cells", "s,hr\n0,100 bpm\n1,101bpm\n", undated, []float64{0, 100, 1, 101}, ""},
		{"units in a second header row", "time,heart rate,speed\n[s],[bpm],[km/h]\n0,100,36\n1,101,36\n", undated, []float64{0, 100, 1, 101}, ""},
		{"absent values", "s,hr\n0,0\n1,255\n2,100\n", undated, []float64{2, 100}, ""},
		{"preamble", "Crew run\nMade by,the trainer\n\nTime,HR\n0:01,100\n0:02,101\n", undated, []float64{0, 100, 1, 101}, ""},
		{"quotes", "\"time\",\"heart rate\"\n\"0\",\"100\"\n", undated, []float64{0, 100}, ""},
		{"old line ends", "s,hr\r0,100\r1,101\r", undated, []float64{0, 100, 1, 101}, ""},
		{"windows line ends", "s,hr\r\n0,100\r\n1,101\r\n", undated, []float64{0, 100, 1, 101}, ""},
		{"byte order mark", "\ufeffs,hr\n0,100\n", undated, []float64{0, 100}, ""},
		{"Latin-1", "temps;fr\xe9quence cardiaque\n0;100\n", undated, []float64{0, 100}, ""},
		{"prefixed names", "record.timestamp[s],record.heart_rate[bpm]\n10,100\n11,101\n", undated, []float64{0, 100, 1, 101}, ""},
		{"short rows", "s,speed,hr\n0,1\n1,1,100\n", undated, []float64{1, 100}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := decode(t, "x.csv", []byte(c.table))
			w := only(t, f)
			var got []float64
			for i := range w.HeartRate.T {
				got = append(got, w.HeartRate.T[i], w.HeartRate.V[i])
			}
			if d := cmp.Diff(c.want, got); d != "" {
				t.Errorf("heart rate (-want +got):\n%s", d)
			}
			start := ""
			if !w.Start.IsZero() {
				start = w.Start.Format(time.RFC3339)
			}
			if start != c.start {
				t.Errorf("start %q, want %q", start, c.start)
			}
			if c.remark != "" {
				wantRemark(t, f.Remarks, workout.Code(c.remark))
			}
			if f.Format != "csv" {
				t.Errorf("format %q", f.Format)
			}
		})
	}
}

func TestTableColumns(t *testing.T) {
	w := only(t, decode(t, "x", []byte("time [s],Heart Rate [bpm],speed [km/h],Power (W),cadence,distance [km]\n0,100,36,200,80,0\n1,101,18,null,81,0.01\n")))
	if d := cmp.Diff([]float64{10, 5}, w.Speed.V); d != "" {
		t.Errorf("speed (-want +got):\n%s", d)
	}
	if w.Power.Len() != 1 || w.Cadence.Len() != 2 {
		t.Errorf("power %v, cadence %v", w.Power, w.Cadence)
	}
	var b strings.Builder
	b.WriteString("s,hr,distance [km]\n")
	for k := range 60 {
		b.WriteString(strings.Join([]string{itoa(k), "100", "0." + pad(3*k)}, ",") + "\n")
	}
	w = only(t, decode(t, "x", []byte(b.String())))
	if w.Speed.Len() != 60 || w.Speed.V[30] < 2.99 || w.Speed.V[30] > 3.01 {
		t.Errorf("speed from distance: %d values, %v", w.Speed.Len(), w.Speed.V[:min(3, w.Speed.Len())])
	}
}

// Several recordings below each other in one table are not one workout.
func TestTableWithRestartingTime(t *testing.T) {
	f := decode(t, "x", []byte("id,time,hr\n1,0,100\n1,100,101\n2,0,90\n2,100,91\n"))
	if len(f.Workouts) != 2 || f.Workouts[1].HeartRate.V[0] != 90 {
		t.Fatalf("%d workouts, want 2", len(f.Workouts))
	}
	wantRemark(t, f.Remarks, "several")
	if n := len(real(t, "research/cardio.csv").Workouts); n < 15 {
		t.Errorf("tests of 21 people in one table gave %d workouts", n)
	}
}

func TestTablesAreRefusedWithAReason(t *testing.T) {
	for _, c := range []struct{ name, table, want string }{
		{"no time", "hr\n96\n97\n", "no time column"},
		{"no time but speed", "hr,speed\n96,1\n", "no time column"},
		{"no heart rate", "time,speed\n1,2\n", "heart-rate column"},
		{"times that are none", "time,hr\nsoon,100\nlater,101\n", "not times"},
		{"header alone", "time,hr\n", "no rows"},
		{"a line of a million cells", "time,hr" + strings.Repeat(",", 1_000_000) + "\n1,100\n", "heart-rate column"},
		{"dump", "Type,Local Number,Message,Field 1,Value 1,Units 1\nData,0,record,heart_rate,100,bpm\n", "dump of FIT messages"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if why := refused(t, []byte(c.table)); !strings.Contains(why, c.want) {
				t.Errorf("reason %q, want something on %q", why, c.want)
			}
		})
	}
}

func itoa(k int) string { return string(rune('0'+k/10)) + string(rune('0'+k%10)) }

func pad(k int) string { return string(rune('0'+k/100)) + itoa(k%100) }
