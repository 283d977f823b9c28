package reports

import (
	"errors"
	"fmt"
	"html/template"
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// TestRuntimeNeedsBuilding: a missing, half or stale runtime is an error that names the command.
func TestRuntimeNeedsBuilding(t *testing.T) {
	file := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	for name, files := range map[string]fstest.MapFS{
		"missing": {"runtime/.gitignore": file("*")},
		"half":    {"runtime/stamp": file(Stamp() + "\n")},
		"stale":   {"runtime/stamp": file("sha256:00\n"), "runtime/charts.js": file("x")},
	} {
		_, err := readRuntime(files, "charts.js")
		if !errors.Is(err, ErrRuntime) || !strings.Contains(err.Error(), "go generate ./reports") {
			t.Errorf("%s: %v", name, err)
		}
	}
	js, err := readRuntime(fstest.MapFS{"runtime/stamp": file(Stamp() + "\n"), "runtime/charts.js": file("x")}, "charts.js")
	if err != nil || string(js) != "x" {
		t.Errorf("a whole runtime gives %q, %v", js, err)
	}
}

// TestTemplates fills every field of every page, so that each branch of each template is taken
// with its own type, and then none.
func TestTemplates(t *testing.T) {
	for file, page := range map[string]any{
		"roster.html": &rosterPage{}, "decision.html": &decisionPage{}, "progress.html": &progressPage{}, "workout.html": &workoutPage{}, "rehearsal.html": &rehearsalPage{},
		"room.html": &roomPage{}, "notice.html": &noticePage{}, "doctor.html": &doctorPage{},
	} {
		empty, err := render(file, page)
		if err != nil {
			t.Errorf("%s, empty: %v", file, err)
		}
		populate(reflect.ValueOf(page).Elem())
		full, err := render(file, page)
		if err != nil {
			t.Errorf("%s, filled: %v", file, err)
		}
		for _, b := range [][]byte{empty, full} {
			if s := string(b); strings.Contains(s, "ZgotmplZ") || strings.Count(s, "<main>") != 1 || !strings.HasSuffix(strings.TrimSpace(s), "</html>") {
				t.Errorf("%s is not whole", file)
			}
		}
		if len(full) <= len(empty) {
			t.Errorf("%s shows nothing of what it is given", file)
		}
	}
}

// populate gives every field that a template can reach a value.
func populate(v reflect.Value) {
	if !v.CanSet() {
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int:
		v.SetInt(1)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		populate(v.Elem())
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			v.SetBytes([]byte("{}"))
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		populate(v.Index(0))
	case reflect.Struct:
		for i := range v.NumField() {
			populate(v.Field(i))
		}
	}
}

// colours reads the variables of one block of the style sheet.
func colours(block string) map[string]string {
	out := map[string]string{}
	for _, m := range regexp.MustCompile(`--([a-z0-9]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(block, -1) {
		out[m[1]] = m[2]
	}
	return out
}

// luminance and contrast are those of WCAG 2.2 ("relative luminance", "contrast ratio").
func luminance(hex string) float64 {
	lin := func(s string) float64 {
		n, _ := strconv.ParseUint(s, 16, 8)
		c := float64(n) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(hex[1:3]) + 0.7152*lin(hex[3:5]) + 0.0722*lin(hex[5:7])
}

func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// TestContrast holds the colours of light, dark and paper to WCAG 2.2 AA: 4.5 for text (1.4.3), 3
// for the outline of every mark (1.4.11), and a ramp of zones that goes one way.
func TestContrast(t *testing.T) {
	// 21 is the ratio of black and white by definition; #767676 is known as the lightest grey that
	// passes 4.5 on white (common practice, no source).
	if c := contrast("#000000", "#ffffff"); math.Abs(c-21) > 1e-9 {
		t.Fatalf("black on white is %g", c)
	}
	if contrast("#767676", "#ffffff") < 4.5 || contrast("#777777", "#ffffff") >= 4.5 {
		t.Fatal("the formula is wrong about the lightest grey")
	}
	roots := strings.Split(style, ":root {")[1:]
	if len(roots) != 3 {
		t.Fatalf("%d sets of colours, want light, dark and paper", len(roots))
	}
	for i, name := range []string{"light", "dark", "paper"} {
		block, _, _ := strings.Cut(roots[i], "}")
		c := colours(block)
		for _, ground := range []string{"page", "card", "tint"} {
			for _, ink := range []string{"ink", "soft", "accent", "alarm"} {
				if r := contrast(c[ink], c[ground]); r < 4.5 {
					t.Errorf("%s: %s on %s has a contrast of %.2f", name, ink, ground, r)
				}
			}
			if r := contrast(c["outline"], c[ground]); r < 3 {
				t.Errorf("%s: the outline on %s has a contrast of %.2f", name, ground, r)
			}
		}
		for z := range 4 {
			a, b := luminance(c[fmt.Sprint("z", z)]), luminance(c[fmt.Sprint("z", z+1)])
			if (a < b) != (name == "dark") {
				t.Errorf("%s: zone ramp turns at %d", name, z)
			}
		}
	}
}

// TestFills: no two zones share a pattern with a neighbour, and every name is there.
func TestFills(t *testing.T) {
	seen := map[template.HTML]string{}
	for _, p := range parts(physiology.ZoneTime{}) {
		if p.Name == "" {
			t.Error("a fill without a name")
		}
		if other, taken := seen[p.Swatch()]; taken {
			t.Errorf("%s and %s look the same", p.Name, other)
		}
		seen[p.Swatch()] = p.Name
	}
}

func TestAgainstPlan(t *testing.T) {
	z := physiology.ZoneTime{Under: 300, Zone1: 1200, Zone2: 900, Zone3: 400, Over: 60, NotRecorded: 30, Paused: 100}
	steady := &record.Prescription{Stage: 1, Sessions: 3, Minutes: 30}
	brisk := &record.Prescription{Stage: 2, Sessions: 3, Intervals: &record.Intervals{Count: 1, Bouts: 4, Work: 60, Rest: 120, Feel: workout.Brisk}}
	hard := &record.Prescription{Stage: 3, Sessions: 3, Intervals: &record.Intervals{Count: 2, Bouts: 4, Work: 60, Rest: 180, Feel: workout.Hard}}
	for _, c := range []struct {
		name string
		week record.Week
		want bandTime
	}{
		{"steady week", record.Week{Stage: 1, Plan: steady, Zones: z}, bandTime{1500, 0, 0, 1360, 30}},
		{"brisk sets of 12 min", record.Week{Stage: 2, Plan: brisk, Zones: z}, bandTime{1500, 720, 0, 180 + 460, 30}},
		{"hard sets of 32 min", record.Week{Stage: 3, Plan: hard, Zones: z}, bandTime{1500, 900, 400, 60, 30}},
		{"no plan", record.Week{Stage: 1, Zones: z}, bandTime{1500, 900, 460, 0, 30}},
		{"a week of rest", record.Week{Stage: 2, Plan: &record.Prescription{}, Zones: z}, bandTime{1500, 900, 460, 0, 30}},
		{"reported only", record.Week{Stage: 1, Sessions: []record.Session{{Reported: true, Minutes: 20}}}, bandTime{None: 1200}},
	} {
		if got := againstPlan(c.week); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
		if got := againstPlan(c.week).total(); c.week.Sessions == nil && got != z.Sum()-z.Paused {
			t.Errorf("%s: %d s do not add up to the unpaused time", c.name, got)
		}
	}
	for stage, want := range []int{1: 1360, 2: 460, 3: 60} {
		if got := aboveStage(record.Week{Stage: stage, Zones: z}); stage > 0 && got != want {
			t.Errorf("stage %d: %d s above it, want %d", stage, got, want)
		}
	}
}

// TestBandCaption: the sentence under the chart speaks of the plan where there was one, and of faster time where
// there is any.
func TestBandCaption(t *testing.T) {
	steady := &record.Prescription{Stage: 1, Sessions: 3, Minutes: 30}
	brisk := &record.Prescription{Stage: 2, Sessions: 3, Minutes: 30, Intervals: &record.Intervals{Count: 2, Bouts: 4, Work: 60, Rest: 120, Feel: workout.Brisk}}
	easy, faster := physiology.ZoneTime{Zone1: 5400}, physiology.ZoneTime{Zone1: 4500, Zone2: 900}
	for _, x := range []struct {
		plan     *record.Prescription
		zones    physiology.ZoneTime
		feltHard bool
		want     string
	}{
		{steady, easy, false, "your time was as comfortable as planned."},
		{brisk, faster, false, "15 min of the 90 min recorded were faster, and no more than planned."},
		{steady, faster, false, "15 min of the 90 min recorded were harder than planned (hatched). Slower is fine."},
		{brisk, faster, true, "Going by your pulse alone, the week to 4 October 2026 was as planned."},
		{nil, easy, false, "Nothing was planned for the week to 4 October 2026. All of your time was comfortable."},
		{nil, faster, false, "Nothing was planned for the week to 4 October 2026; 15 min of the 90 min recorded were above your comfortable range."},
		{nil, faster, true, "It felt harder than it should have, and how it feels comes first: slower is fine."},
	} {
		w := record.Week{To: workout.MustDate("2026-10-04"), Stage: 2, Plan: x.plan, Zones: x.zones}
		if got := bandCaption([]record.Week{w}, x.feltHard); !strings.HasSuffix(got, x.want) {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}

func TestWords(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{wording.Number(0), "0"}, {wording.Number(-0.04), "0"}, {wording.Number(1.25), "1.3"}, {wording.Number(19.96), "20"}, {wording.Number(20.4), "20.4"}, {wording.Number(-8.7), "−8.7"}, {wording.Number(123.456), "123.5"},
		{wording.Clock(59), "0:59"}, {wording.Clock(600), "10:00"}, {wording.Clock(3725), "1:02:05"},
		{minutes(0), "0 min"}, {minutes(45), "45 s"}, {minutes(90), "2 min"},
		{wording.Plural(1, "week", "weeks"), "1 week"}, {wording.Plural(0, "week", "weeks"), "0 weeks"},
		{wording.Sentence("one more"), "One more."}, {wording.Sentence("Done."), "Done."}, {wording.Sentence(" "), ""}, {wording.Sentence("said “so.”"), "Said “so.”"}, {wording.Sentence("“so”"), "“so”."},
		{wording.List(nil), ""}, {wording.List([]string{"a"}), "a"}, {wording.List([]string{"a", "b", "c"}), "a, b and c"},
		{days(workout.MustDate("2026-10-05"), workout.MustDate("2026-10-11")), "5 to 11 October 2026"},
		{days(workout.MustDate("2026-09-28"), workout.MustDate("2026-10-04")), "28 September to 4 October 2026"},
		{days(workout.MustDate("2026-12-28"), workout.MustDate("2027-01-03")), "28 December 2026 to 3 January 2027"},
		{ago(5, 5), "today"}, {ago(4, 5), "yesterday"}, {ago(1, 5), "4 days ago"}, {ago(6, 5), "after this date"}, {ago(0, 5), ""},
		{reasons.InUnit(13, "RPE"), "RPE 13"}, {reasons.InUnit(2, "weeks"), "2 weeks"}, {reasons.InUnit(1, "% of bouts"), "1 % of bouts"},
		{reasons.Value(1, record.Reason{Rule: policy.Break, Unit: "days without a session"}), "1 day without a session"},
		{effort(&workout.RPE{Value: 3, Scale: 10}), "3 of 10"}, {effort(&workout.RPE{Value: 12, Scale: 20}), "12 on 6–20"}, {effort(nil), "not asked"},
		{orWord(nil, "bpm", notRecorded), "not recorded"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// TestEdgesHaveOneConvention: an edge on a whole beat is written as it is in both zones, as sessions and
// suggestions write it, and the note says to which of them it counts.
func TestEdgesHaveOneConvention(t *testing.T) {
	const which = " A heart rate on an edge counts for the zone above."
	whole, between := &physiology.Edges{BPM: [4]float64{95.4, 123, 139.2, 155.1}, Basis: "maximum"}, &physiology.Edges{BPM: [4]float64{95.4, 123.2, 139.2, 155.1}, Basis: "maximum"}
	if got := bandText(whole, 0) + " " + bandText(whole, 1); got != "96–123 123–139" || !strings.HasSuffix(edges(whole), which) {
		t.Errorf("%s. %s", got, edges(whole))
	}
	if got := bandText(between, 0) + " " + bandText(between, 1); got != "96–123 124–139" || strings.HasSuffix(edges(between), which) {
		t.Errorf("%s. %s", got, edges(between))
	}
}

// TestBetter: only what lies beyond the normal day-to-day variation is shown to the client.
func TestBetter(t *testing.T) {
	on := workout.MustDate("2026-10-04")
	reason := func(rule policy.ID, before, after, chance float64) record.Reason {
		r := record.Reason{Rule: rule, Enough: true, Says: record.Fact{Args: record.Args{"before": before, "after": after, "chance": chance}}}
		for i, v := range []float64{before - 1, before, before + 1, after - 2, after, after + 2} {
			r.Points = append(r.Points, record.Point{Date: on - 130 + workout.Date(20*i), Value: v})
		}
		return r
	}
	for _, c := range []struct {
		name string
		r    record.Reason
		want string
	}{
		{"larger fall", reason("fall", 19, 30, 10), "After easy efforts your pulse now drops by about 30 beats in a minute (19 in May). A change of up to 10 beats is normal from day to day."},
		{"as many beats as the figures beside them differ", reason("same-effort", 148.6, 142.4, 5.8),
			"At the same pace, in similar weather, your pulse is about 7 beats lower (149 in May, 142 now). A change of up to 6 beats is normal from day to day."},
		{"beyond chance by less than a beat", reason("same-effort", 125.4, 120.1, 5.2), ""},
		{"fall within chance", reason("fall", 24, 30, 10), ""},
		{"smaller fall", reason("fall", 30, 15, 10), ""},
		{"fewer beats", reason("same-effort", 127, 121, 4), "At the same pace, in similar weather, your pulse is about 6 beats lower (127 in May, 121 now). A change of up to 4 beats is normal from day to day."},
		{"more beats", reason("same-effort", 121, 127, 4), ""},
		{"fewer within chance", reason("same-effort", 124, 121, 4), ""},
		{"another rule", reason("steady", 10, 2, 1), ""},
	} {
		client := Client{Assessment: record.Assessment{AsOf: on, Stage: 1, Reasons: []record.Reason{c.r}}}
		if got := strings.Join(record.Map(better(client), func(b improved) string { return b.Text }), " "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		client.Record.Client.Medicine = record.Slows
		if len(better(client)) > 0 {
			t.Errorf("%s: shown under a medicine that slows the heart", c.name)
		}
	}
}

// TestSteps expands the differences as bundle/entry.js does and gets the values back to half a part.
func TestSteps(t *testing.T) {
	bpm := []float64{95.2, 96, math.NaN(), 97.4, 90}
	for _, parts := range []int{1, 10} {
		sum := 0
		for i, d := range steps(bpm, parts)["$steps"].([]any) {
			if d == nil {
				if !math.IsNaN(bpm[i]) {
					t.Errorf("value %d is lost", i)
				}
				continue
			}
			sum += d.(int)
			if got := float64(sum) / float64(parts); math.Abs(got-bpm[i]) > 0.5/float64(parts)+1e-9 {
				t.Errorf("value %d in parts of %d is %g, want %g", i, parts, got, bpm[i])
			}
		}
	}
	if s := steps(make([]float64, 7*3600), 1); len(s["$steps"].([]any)) > 5400 || s["every"] != 5 {
		t.Errorf("seven hours are drawn with %d points, every %v s", len(s["$steps"].([]any)), s["every"])
	}
}

func TestAxis(t *testing.T) {
	for _, c := range []struct {
		low, high, least float64
		from, to, step   float64
	}{
		{1.4, 4.6, 0.5, 1, 5, 1}, {11, 13, 1, 11, 13, 1}, {75, 136, 10, 60, 140, 20}, {0, 0, 0.5, -0.5, 0.5, 0.5}, {21, 38, 1, 20, 40, 5}, {75, 75, 10, 70, 80, 10},
	} {
		from, to, step := axis(c.low, c.high, c.least)
		if from != c.from || to != c.to || step != c.step {
			t.Errorf("axis(%g, %g, %g) = %g to %g by %g, want %g to %g by %g", c.low, c.high, c.least, from, to, step, c.from, c.to, c.step)
		}
	}
}

// TestScaleRange: a rule's own scale has honest ends, so that different margins look different.
func TestScaleRange(t *testing.T) {
	for _, c := range []struct {
		unit                policy.Unit
		observed, threshold float64
		from, to            float64
	}{
		{"weeks", 10, 6, 0, 12}, {"sessions", 30, 12, 0, 30}, {"min a week", 85, 75, 0, 150}, {"sessions a week", 3, 2, 0, 4},
		{"% of the main part", 91, 80, 0, 100}, {"% of the prescription", 140, 80, 0, 140}, {"RPE", 12, 13, 6, 20}, {"RPE", 3, 4, 0, 10},
		{"bpm against the baseline", 3.2, -2.9, -5.8, 3.2}, {"signs", 0, 0, 0, 1}, {"bpm", -0.7, 8, -0.7, 16},
	} {
		from, to := scaleRange(record.Reason{Observed: &c.observed, Threshold: &c.threshold, Is: "at least", Unit: c.unit})
		if from != c.from || to != c.to {
			t.Errorf("%g of %g %s runs from %g to %g, want %g to %g", c.observed, c.threshold, c.unit, from, to, c.from, c.to)
		}
	}
}

// TestRuleRow: units stand with thresholds, sources say once that something is from memory, and a
// value that is none of the last says how it comes about.
func TestRuleRow(t *testing.T) {
	v := func(x float64) *float64 { return &x }
	for _, c := range []struct{ got, want string }{
		{askedInUnit(record.Reason{Is: "at most", Threshold: v(12), Unit: "months"}), "at most 12 months"},
		{askedInUnit(record.Reason{Is: "at most", Threshold: v(13), Unit: "RPE"}), "at most RPE 13"},
		{askedInUnit(record.Reason{Rule: policy.Resting, Is: "at most", Threshold: v(5), Unit: "bpm above the own"}), "at most 5 bpm above the client's usual"},
		{askedInUnit(record.Reason{Rule: policy.Fall, Is: "at most", Threshold: v(1), Unit: "bpm against the baseline"}), ""},
		{sourceText(record.Reason{Source: "Riebe 2015", FromMemory: "the list of signs"}), "Riebe 2015 †"},
		{sourceText(record.Reason{Source: "common practice, no source"}), "Common practice, no source"},
		{howObserved(weeksOf("minutes", 85, 72, 85, 97, 99, 109)), "that or more in 4 of 5 weeks; 109 in the last"},
		{howObserved(weeksOf("minutes", 109, 72, 85, 109)), ""},
		{howObserved(weeksOf("longest", 30, 20, 30, 25)), ""},
		{shortDay(workout.MustDate("2021-09-27"), workout.MustDate("2026-10-04")), "27 Sep 2021"},
		{shortDay(workout.MustDate("2026-09-27"), workout.MustDate("2026-10-04")), "27 Sep"},
		{reasons.Verdict(record.Refer), "see a doctor first"}, {reasons.Verdict(record.NotAssessable), "not enough data yet"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func weeksOf(rule policy.ID, observed float64, weeks ...float64) record.Reason {
	r := record.Reason{Rule: rule, Is: "at least", Observed: &observed}
	for i, w := range weeks {
		r.Points = append(r.Points, record.Point{Date: workout.Date(7 * i), Value: w})
	}
	return r
}

// TestInShort: what is against a move and what lacks data is shown with its reason; what is met only
// by name.
func TestInShort(t *testing.T) {
	yes, no := true, false
	said := func(text string) record.Fact {
		return record.Fact{Code: record.Written, Args: record.Args{"text": text}}
	}
	a := record.Assessment{
		Reasons: []record.Reason{
			{Rule: "sessions", Kind: policy.Required, Met: &yes, Says: said("Sessions text.")},
			{Rule: "evidence", Kind: policy.Required, Met: &no, Says: said("Evidence text.")},
			{Rule: "zone", Kind: policy.Evidence, Met: &no, Says: said("39 % below the top of zone 1.")},
			{Rule: "steady", Kind: policy.Evidence, Says: said("Steady text.")},
			{Rule: "fall", Kind: policy.Evidence, Says: said("Fall text.")},
			{Rule: "weekly-rise", Kind: policy.Informative, Met: &no, Says: said("Rise text.")},
			{Rule: "enjoyment", Kind: policy.Informative, Says: said("Untold and of no weight.")},
			{Rule: "tired-sign", Kind: policy.StepBackRule, Met: &no, Says: said("Tired text.")},
		},
		Lacking: []record.Lack{{Rule: "steady", Says: said("Steady lacks."), Needed: said("One longer session.")}},
	}
	s := inShortOf(a)
	got := fmt.Sprint(s.Against, s.Open, s.Watch, s.For)
	want := "[{tired-sign Signs of tiredness Tired text. } {zone Too much time above zone 1 39 % below the top of zone 1. }]" +
		"[{steady Steady heart rate Steady lacks. One longer session.} {fall Recovery Fall text. }][{weekly-rise Steep weekly rise Rise text. }]Sessions a week."
	if strings.ReplaceAll(got, "] [", "][") != want && got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if inShortOf(record.Assessment{}) != nil {
		t.Error("something in short about nothing")
	}
}

// TestLoad: power comes before speed, both as a running mean; pauses are gaps, and a channel that
// covers less than half is left out.
func TestLoad(t *testing.T) {
	full := func(n int, v float64) (c workout.Channel) {
		for k := range n {
			c.Add(float64(k), v)
		}
		return c
	}
	if _, ok := loadOf(workout.Workout{}, 600); ok {
		t.Error("a load of nothing")
	}
	if _, ok := loadOf(workout.Workout{Speed: full(200, 2)}, 600); ok {
		t.Error("a load of a third of the time")
	}
	if _, ok := loadOf(workout.Workout{Speed: full(600, 0)}, 600); ok {
		t.Error("a load of standing still")
	}
	l, ok := loadOf(workout.Workout{Speed: full(600, 2.5), Pauses: []workout.Span{{From: 100, To: 200}}}, 600)
	if !ok || l.name != "speed" || l.unit != "km/h" || math.Abs(l.v[50]-9) > 1e-9 || !math.IsNaN(l.v[150]) || l.top < 9 {
		t.Errorf("2.5 m/s are drawn as %s %g %s up to %g, in the pause %g", l.name, l.v[50], l.unit, l.top, l.v[150])
	}
	step := full(300, 100)
	for k := 300; k < 600; k++ {
		step.Add(float64(k), 200)
	}
	l, ok = loadOf(workout.Workout{Speed: full(600, 2.5), Power: step}, 600)
	if !ok || l.name != "power" || l.v[292] != 100 || l.v[307] != 200 || math.Abs(l.v[300]-(100+100*8.0/15)) > 1e-9 {
		t.Errorf("a step of power is drawn as %s %g, %g, %g", l.name, l.v[292], l.v[300], l.v[307])
	}
}

// TestRuleNames: every rule of the program has names for the roster and, where its values are
// drawn, is a rule.
func TestRuleNames(t *testing.T) {
	known := map[policy.ID]bool{}
	for _, id := range policy.RuleIDs() {
		known[id] = true
		if reasons.Rule(id) == "" || reasons.Against(id) == "" || reasons.Rule(id) == reasons.Against(id) {
			t.Errorf("%s has the names %q and %q", id, reasons.Rule(id), reasons.Against(id))
		}
	}
	for id := range drawn {
		if !known[id] {
			t.Errorf("%q is drawn but is no rule", id)
		}
	}
	for stage := 1; stage <= 3; stage++ {
		for _, q := range questions(stage) {
			for _, id := range q.rules {
				if !known[id] {
					t.Errorf("the client is asked about %q, which is no rule", id)
				}
			}
		}
	}
}

// TestAnswersSayWhatIsThere: the answers count the weeks and the answers that there are, and speak of faster parts only
// where some were done or come.
func TestAnswersSayWhatIsThere(t *testing.T) {
	yes, no := true, false
	week := func(minutes float64) []record.Week {
		return []record.Week{{Minutes: minutes, Sessions: []record.Session{{Minutes: minutes}}}}
	}
	minutes := func(met *bool) record.Reason {
		return record.Reason{Rule: policy.Minutes, Met: met, Observed: new(90.0), Threshold: new(75.0)}
	}
	bouts := record.Reason{Rule: policy.BoutEffort}
	for _, x := range []struct {
		name      string
		stage     int
		reason    record.Reason
		weeks     []record.Week
		next      *record.Prescription
		lacking   []record.Lack
		word, why string
	}{
		{"three full weeks", 1, minutes(nil), week(90), nil, nil, "yes, so far", "Your weeks so far are long enough."},
		{"enough weeks", 1, minutes(&yes), week(90), nil, nil, "yes", "Your weeks are long enough."},
		{"enough weeks, then none", 1, minutes(&yes), week(0), nil, nil, "yes", "Your best weeks are long enough; the last one was shorter."},
		{"the first days", 1, record.Reason{Rule: policy.Minutes}, week(30), nil, nil, "not seen yet", "They count from the first full week."},
		{"bouts that nobody saw", 2, bouts, week(90), &record.Prescription{Intervals: &record.Intervals{}}, nil, "not seen yet", "Record a session with its faster parts."},
		{"bouts that nobody saw, none planned", 2, bouts, week(90), &record.Prescription{}, nil, "not seen yet", "There are no faster parts next week."},
		{"bouts that nobody saw, no plan", 2, bouts, week(90), nil, nil, "not seen yet", "There are no faster parts next week."},
		{"no interval sessions, none planned", 2, record.Reason{Rule: policy.IntervalSessions}, week(90), &record.Prescription{}, nil, "not seen yet", "There are no faster parts next week."},
		{"few interval sessions, none planned", 2, record.Reason{Rule: policy.IntervalSessions, Met: &no}, week(90), &record.Prescription{}, nil, "not yet", "There are no faster parts next week."},
		{"bouts without answers", 2, bouts, week(90), nil, []record.Lack{{Rule: policy.BoutEffort}}, "tell us", "How hard did the faster parts feel? A word to your trainer is enough."},
		{"too hard, none planned", 2, record.Reason{Rule: policy.BoutEffort, Met: &no}, week(90), &record.Prescription{}, nil, "not yet", "The faster parts were too hard. There are none next week."},
		{"too hard, and more planned", 2, record.Reason{Rule: policy.BoutEffort, Met: &no}, week(90), &record.Prescription{Intervals: &record.Intervals{}}, nil,
			"not yet", "The faster parts were too hard. Slow them down."},
	} {
		c := Client{Assessment: record.Assessment{Stage: x.stage, Reasons: []record.Reason{x.reason}, Lacking: x.lacking}, Weeks: x.weeks, Next: x.next}
		if got := answers(c); len(got) != 1 || got[0].Word != x.word || got[0].Why != x.why {
			t.Errorf("%s: %+v", x.name, got)
		}
	}
}
