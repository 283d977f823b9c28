package reports_test

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/xml"
	"html"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
	"nextrung/reports"
)

const hostile = `</script><script>window.XSS=1</script><img src=x onerror="window.XSS=1">"'{{.}}$clock`

// hostilePages are pages whose every text from outside tries to become markup or script.
func hostilePages(t *testing.T) map[string][]byte {
	t.Helper()
	needRuntime(t)
	c := avelin()
	c.Record.Client.Name = hostile
	said := record.Fact{Code: record.Written, Args: record.Args{"text": hostile}}
	c.Assessment.Summary, c.Assessment.Policy, c.Assessment.Robustness.DependsOn = record.Facts{said}, hostile, hostile
	c.Assessment.Cautions = record.Facts{said}
	c.Assessment.Lacking = []record.Lack{{Rule: hostile, Says: said, Needed: said}}
	for i := range c.Assessment.Reasons {
		r := &c.Assessment.Reasons[i]
		r.Says, r.Source, r.Unit, r.Is = said, hostile, hostile, hostile
	}
	c.Next.Notes = append(c.Next.Notes, record.PlanNote{Text: hostile})
	c.Record.Notes = append(c.Record.Notes, record.Note{Date: asOf, Text: hostile, Symptoms: []signs.Sign{hostile}})
	for i := range c.Record.Decisions {
		c.Record.Decisions[i].Because, c.Record.Decisions[i].By = hostile, hostile
	}
	for i := range c.Proposed {
		p := &c.Proposed[i]
		p.Cautions, p.Evidence[0].Sensor = []proposal.Caution{{Text: hostile}}, hostile
	}
	c.Record.Recordings[0].Name, c.Record.Recordings[0].Aside = hostile, record.SetAside(record.Excluded, hostile)
	rec, s, w := ride()
	rec.Name, rec.Aside = hostile, record.SetAside(record.Excluded, hostile)
	rec.Measured.Remarks = []workout.Fact{{Code: "gap", Text: hostile}}
	rec.Measured.Recoveries[0].By, rec.Measured.Drift.Clause = hostile, hostile
	out := map[string][]byte{}
	add := func(name string, b []byte, err error) {
		if err != nil {
			t.Fatal(err)
		}
		out[name] = b
	}
	b, err := reports.Roster(asOf, []reports.Client{c})
	add("roster", b, err)
	b, err = reports.Decision(c)
	add("decision", b, err)
	b, err = reports.Progress(c)
	add("progress", b, err)
	b, err = reports.Workout(rec, s, w, c)
	add("workout", b, err)
	c.Record.Recordings = append(c.Record.Recordings, rec) // the latest
	b, err = reports.Doctor(c, &reports.Recorded{Recording: rec, Series: s, Workout: w})
	add("doctor", b, err)
	b, err = reports.Notice("Not done", []string{hostile}, "roster.html")
	add("notice", b, err)
	b, err = reports.RoomPage(hostile, hostile, "roster.html", "<p>what can be done</p>")
	add("room", b, err)
	return out
}

func TestInputStaysText(t *testing.T) {
	files, err := filepath.Glob("templates/*.html")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		page := strings.TrimSuffix(filepath.Base(file), ".html")
		if page != "frame" && page != "rehearsal" && hostilePages(t)[page] == nil { // a rehearsal shows nothing from outside
			t.Errorf("the page of %s is not tried with hostile input; add it to hostilePages", file)
		}
	}
	for name, page := range hostilePages(t) {
		text := string(page)
		if strings.Contains(text, "<script>window") || strings.Contains(text, "<img") || strings.Contains(text, `onerror="`) {
			t.Errorf("%s: text from outside became markup", name)
		}
		if !strings.Contains(text, "&lt;/script&gt;") {
			t.Errorf("%s: the hostile text is not on the page", name)
		}
		if strings.Contains(text, "ZgotmplZ") {
			t.Errorf("%s: the template refused a value", name)
		}
	}
	c := avelin()
	c.Record.Client.Name = hostile
	wellFormed(t, reports.ProgressPicture(c))
}

func wellFormed(t *testing.T, svg []byte) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(string(svg)))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("the picture is no XML: %v", err)
		}
		if s, ok := tok.(xml.StartElement); ok && (s.Name.Local == "script" || s.Name.Local == "img") {
			t.Fatalf("the picture has a %s", s.Name.Local)
		}
	}
}

var (
	inlineScript = regexp.MustCompile(`(?s)<script>(.*?)</script>`)
	inlineStyle  = regexp.MustCompile(`(?s)<style>(.*?)</style>`)
	policyText   = regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`)
	loads        = regexp.MustCompile(`(?i)(?:src|href|action|data|poster|srcset)\s*=\s*"?([^"\s>]+)|url\(([^)]*)\)|@import`)
	styled       = regexp.MustCompile(`<[a-z][^>]*\s(?:style|on[a-z]+)\s*=`)
)

func sourceOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// TestPolicy reads each page as a browser does: its policy must name exactly the scripts and styles
// that it has, and nothing may be loaded from elsewhere.
func TestPolicy(t *testing.T) {
	pages := samples(t)
	if _, _, err := reports.Runtime(); err == nil {
		b, err := reports.Progress(avelin())
		if err != nil {
			t.Fatal(err)
		}
		pages["progress with runtime.html"] = b
	}
	for name, b := range pages {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		page := string(b)
		m := policyText.FindStringSubmatch(page)
		if m == nil {
			t.Fatalf("%s has no policy", name)
		}
		policy := html.UnescapeString(m[1])
		for _, part := range []string{"default-src 'none'", "img-src data:", "base-uri 'none'", "form-action 'none'"} {
			if !strings.Contains(policy, part) {
				t.Errorf("%s: the policy lacks %s", name, part)
			}
		}
		for _, s := range inlineScript.FindAllStringSubmatch(page, -1) {
			if !strings.Contains(policy, sourceOf(s[1])) {
				t.Errorf("%s: a script of %d bytes is not in the policy", name, len(s[1]))
			}
		}
		styles := inlineStyle.FindAllStringSubmatch(page, -1)
		if len(styles) != 1 || !strings.Contains(policy, "style-src "+sourceOf(styles[0][1])) {
			t.Errorf("%s: the style is not in the policy", name)
		}
		markup := inlineStyle.ReplaceAllString(inlineScript.ReplaceAllString(page, ""), "")
		if s := styled.FindString(markup); s != "" {
			t.Errorf("%s: an attribute that the policy forbids: %s", name, s)
		}
		for _, l := range loads.FindAllStringSubmatch(markup+styles[0][1], -1) {
			if target := l[1] + l[2]; strings.Contains(target, ":") || strings.HasPrefix(target, "//") || strings.HasPrefix(l[0], "@") {
				t.Errorf("%s loads %s", name, l[0])
			}
		}
	}
}

var tags = regexp.MustCompile(`(?s)<script.*?</script>|<style.*?</style>|<head>.*?</head>|<[^>]*>`)

// words is what a person reads on a page.
func words(page []byte) string {
	return html.UnescapeString(strings.Join(strings.Fields(tags.ReplaceAllString(string(page), " ")), " "))
}

func TestClientReadsPlainWords(t *testing.T) {
	forbidden := regexp.MustCompile(`(?i)\b(advance|hold|ease|step back|step-back|refer|not assessable|verdict|score|policy|threshold|drift|evidence|failed|streak|record-breaking)\b`)
	for _, c := range crew() {
		b, err := reports.ProgressSample(c)
		if err != nil {
			t.Fatal(err)
		}
		for what, text := range map[string]string{"page": words(b), "text": reports.ProgressText(c)} {
			if w := forbidden.FindString(text); w != "" {
				t.Errorf("%s of %s says %q", what, c.Record.Client.Name, w)
			}
		}
	}
}

func TestNumbersAreFormatted(t *testing.T) {
	long := regexp.MustCompile(`\d\.\d{2,}|\d[eE][+-]\d|NaN|Inf\b|%!|<nil>|map\[`)
	for _, c := range crew() {
		d, err := reports.DecisionSample(c)
		if err != nil {
			t.Fatal(err)
		}
		p, err := reports.ProgressSample(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{words(d), words(p), reports.ProgressText(c)} {
			if m := long.FindStringIndex(text); m != nil {
				t.Errorf("%s: …%s…", c.Record.Client.Name, text[max(0, m[0]-40):min(len(text), m[1]+20)])
			}
		}
	}
}

// TestCautions: they stand on every page on which somebody may act.
func TestCautions(t *testing.T) {
	rec, s, w := ride()
	for _, c := range crew() {
		d, err := reports.DecisionSample(c)
		if err != nil {
			t.Fatal(err)
		}
		p, err := reports.ProgressSample(c)
		if err != nil {
			t.Fatal(err)
		}
		k, err := reports.WorkoutSample(rec, s, w, c)
		if err != nil {
			t.Fatal(err)
		}
		for what, text := range map[string]string{"decision": words(d), "progress": words(p), "workout": words(k), "text": reports.ProgressText(c)} {
			to := map[string]signs.Addressee{"decision": signs.Trainer, "workout": signs.Trainer}[what]
			for _, want := range slices.Concat(signs.Cautions(to), signs.StopSigns(), reasons.Texts(c.Assessment.Cautions)) {
				if !strings.Contains(text, want) {
					t.Errorf("%s of %s lacks %q", what, c.Record.Client.Name, want)
				}
			}
		}
	}
}

func TestRosterOrder(t *testing.T) {
	b, err := reports.Roster(asOf, crew())
	if err != nil {
		t.Fatal(err)
	}
	text, last := words(b), -1
	for _, name := range []string{"A doctor first", "Pavor", "Decide now", "Maruna", "Avelin", "Lindra", "Selvane", "Not enough data yet", "Ondrel", "Carry on", "Jaskel", "Torrec", "Not assessed now", "Hedra"} {
		at := strings.Index(text, name)
		if at <= last {
			t.Errorf("%s stands at %d, not after what comes before it (%d)", name, at, last)
		}
		last = at
	}
	if !strings.Contains(text, "building, week 2 of 4, first decision on 18 October 2026") {
		t.Error("the roster does not say when the first decision comes")
	}
}

// TestProposed: the trainer's pages show suggested zones with its evidence, before and after,
// and caution; the client's page, picture and text never do.
func TestProposed(t *testing.T) {
	c := avelin()
	p := c.Proposed[0]
	c.Workouts = map[string]bool{p.Evidence[0].Recordings[0]: true}
	page := func(b []byte, err error) string {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	decision := page(reports.DecisionSample(c))
	// By arithmetic: 211 - 0.64 * 38.56 = 186.3, so zone 1 reaches 62 + 0.6 * 124.3 = 136.6; with 191 it is 139.4.
	for _, want := range []string{"Suggested zones for Avelin", "1. Maximal heart rate for walking: 191 bpm instead of 186", "112–136", "114–139", "beginner that is a trap",
		"effort 18 on the 6-20 scale", "Zones stay as they are until you accept a suggestion"} {
		if !strings.Contains(words([]byte(decision)), want) {
			t.Errorf("the decision page does not say %q", want)
		}
	}
	if !strings.Contains(decision, `The evidence</summary><ul><li><a href="workout-`) {
		t.Error("the evidence does not lead to the workout's page")
	}
	if roster := page(reports.Roster(asOf, []reports.Client{c})); !strings.Contains(roster, `href="decision-avelin.html#proposed">suggested zones</a>`) {
		t.Error("the roster has no mark")
	}
	for name, text := range map[string]string{"page": page(reports.ProgressSample(c)), "picture": string(reports.ProgressPicture(c)), "text": reports.ProgressText(c)} {
		if strings.Contains(strings.ToLower(text), "suggested zones") || strings.Contains(text, p.Text()) {
			t.Errorf("the client's %s shows suggested zones", name)
		}
	}
	before, _, _ := strings.Cut(decision, "In short")
	if want := "191 bpm was held for 15 s, above the estimated maximum of 186 bpm"; !strings.Contains(before, want) {
		t.Errorf("the first lines do not say %q", want)
	}
	if roster := page(reports.Roster(asOf, []reports.Client{c})); !strings.Contains(roster, "held 191 bpm, above the estimated maximum of 186") {
		t.Error("the row does not say the peak")
	}
	c.Proposed = nil
	if strings.Contains(page(reports.DecisionSample(c)), "Suggested zones") || strings.Contains(page(reports.Roster(asOf, []reports.Client{c})), "suggested zones") {
		t.Error("zones are suggested where none are")
	}
}

// TestDecided: once a decision is entered, nobody waits for it and the client reads it.
func TestDecided(t *testing.T) {
	c := avelin()
	c.Record.Decisions = append(c.Record.Decisions, record.Decision{Client: "Avelin", Entered: asOf, Act: record.DoHold, From: asOf + 1, Stage: 1,
		Because: "a wedding next week", By: "Corvane", Verdict: c.Assessment.Verdict})
	b, err := reports.Roster(asOf, []reports.Client{c})
	if err != nil {
		t.Fatal(err)
	}
	if text := words(b); !strings.Contains(text, "No decision is due") || !strings.Contains(text, "Decided") {
		t.Errorf("the roster still asks for a decision: %s", text)
	}
	if b, err = reports.ProgressSample(c); err != nil {
		t.Fatal(err)
	}
	if text := words(b); !strings.Contains(text, "Next week is planned like the last one.") || strings.Contains(text, "ready for the next step") {
		t.Errorf("the client does not read the decision: %s", text[:200])
	}
	if b, err = reports.DecisionSample(c); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(words(b), "Decided on 4 October 2026 by Corvane: held. A wedding next week.") {
		t.Error("the decision page does not say what was decided")
	}
}

// TestDoctorFirst: a sign for a doctor comes before anything else on every page, and nothing
// cheerful stands above or beside it.
func TestDoctorFirst(t *testing.T) {
	c := pavor()
	c.Record.Notes[len(c.Record.Notes)-1].Date = asOf - 3
	d, err := reports.DecisionSample(c)
	if err != nil {
		t.Fatal(err)
	}
	text := words(d)
	if !strings.HasPrefix(text, "Pavor 4 October 2026 Call emergency help now if the symptom is still there or comes back; otherwise the client has to see a doctor today On record: pain or pressure in the chest") || !strings.Contains(string(d), `class="verdict doctor"`) {
		t.Errorf("the decision page begins %q", text[:80])
	}
	for _, want := range []string{"Trained on the day it was noted (1 October 2026), and again on 3 Oct."} {
		if !strings.Contains(text, want) {
			t.Errorf("the decision page lacks %q", want)
		}
	}
	p, err := reports.ProgressSample(c)
	if err != nil {
		t.Fatal(err)
	}
	page, text := string(p), words(p)
	stop, drawn := strings.Index(page, signs.StopSigns()[0]), strings.Index(page, "<figure>")
	if stop < 0 || drawn >= 0 && drawn < stop {
		t.Error("a chart stands before the stop signs")
	}
	if !regexp.MustCompile(`^Pavor 4 October 2026 Call emergency help now if the symptom is still there or comes back; otherwise see a doctor today Chest pain, fainting, or breathless at rest: stop and call emergency help\. Delete the old sessions`).MatchString(text) {
		t.Errorf("the client reads %q", text[:160])
	}
	for what, text := range map[string]string{"page": text, "text": reports.ProgressText(c)} {
		if m := regexp.MustCompile(`as planned|What has changed|pulse now drops|Steady sessions|next step`).FindString(text); m != "" {
			t.Errorf("the client's %s says %q", what, m)
		}
	}
	c.Record.Decisions = append(c.Record.Decisions, record.Decision{Entered: asOf, Act: record.DoAdvance, From: asOf + 1, Stage: 2})
	if p, err = reports.ProgressSample(c); err != nil || strings.Contains(words(p), "moved you up") {
		t.Errorf("a decision hides the doctor: %v", err)
	}
}

// TestAnnounced: a client reads of a move, a step back or an easier week after the trainer decided
// it, and not before.
func TestAnnounced(t *testing.T) {
	announces := regexp.MustCompile(`(?i)easier week|moved you|next step|gentler|ready`)
	for _, c := range []reports.Client{avelin(), maruna()} {
		p, err := reports.ProgressSample(c)
		if err != nil {
			t.Fatal(err)
		}
		for what, text := range map[string]string{"page": words(p), "text": reports.ProgressText(c)} {
			if m := announces.FindString(text); m != "" || !strings.Contains(text, "Your trainer is looking at your last few weeks.") {
				t.Errorf("%s's %s says %q before the decision", c.Record.Client.Name, what, m)
			}
		}
	}
	for act, want := range map[record.Act]string{
		record.DoAdvance: "Your trainer has moved you up. Stage 2 begins on 5 October 2026. New: 1 session with short brisk parts.",
		record.DoEase:    "Your trainer has planned an easier week.", record.DoHold: "Next week is planned like the last one.",
		record.DoStepBack: "Your trainer has moved you to stage 2, so that what you have built can settle.",
	} {
		c := avelin()
		c.Record.Decisions = append(c.Record.Decisions, record.Decision{Entered: asOf, Act: act, From: asOf + 1, Stage: 2})
		next := prescription.Prescribe(policy.Default(), asOf, c.Record, c.Assessment)
		c.Next = &next
		if text := reports.ProgressText(c); !strings.Contains(text, want) {
			t.Errorf("after %s the client reads %q", act, text[:160])
		}
	}
}

// TestByEffort: where a medicine slows the heart, no page shows zones or beats.
func TestByEffort(t *testing.T) {
	c := selvane()
	p, err := reports.ProgressSample(c)
	if err != nil {
		t.Fatal(err)
	}
	d, err := reports.DecisionSample(c)
	if err != nil {
		t.Fatal(err)
	}
	rec, s, w := ride()
	k, err := reports.WorkoutSample(rec, s, w, c)
	if err != nil {
		t.Fatal(err)
	}
	beats := regexp.MustCompile(`(?i)zone [123]\b|alarm|not above \d+ beats|60-second fall|drop in 60 s|harder than planned`)
	for what, page := range map[string][]byte{"progress": p, "decision": d, "workout": k} {
		text := words(page)
		if m := beats.FindStringIndex(text); m != nil {
			t.Errorf("%s shows …%s…", what, text[max(0, m[0]-60):m[1]])
		}
	}
	if !strings.Contains(words(p), "How hard it felt") || !strings.Contains(words(k), "Between 93 and 151 beats a minute") {
		t.Error("effort or trace is missing")
	}
}

func TestFileName(t *testing.T) {
	for _, c := range []struct{ page, client, want string }{
		{"roster", "", "roster.html"},
		{"decision", "Avelin", "decision-avelin.html"},
	} {
		if got := reports.FileName(c.page, c.client); got != c.want {
			t.Errorf("FileName(%q, %q) = %q, want %q", c.page, c.client, got, c.want)
		}
	}
	seen, ok := map[string]string{}, regexp.MustCompile(`^progress-[a-z0-9-]+\.html$`)
	for _, name := range []string{"Avelin", "avelin", "AVELIN", "Avelin ", "Ävelin", "Ævelin", "../Avelin", "Avelin/", "a\x00", hostile, "-", "日本"} {
		file := reports.FileName("progress", name)
		if other, taken := seen[file]; taken {
			t.Errorf("%q and %q share %s", name, other, file)
		}
		if !ok.MatchString(file) {
			t.Errorf("%q gives %q", name, file)
		}
		seen[file] = name
	}
}

// TestPoorRecordings: pages of recordings with little or nothing in them say so and hold together.
func TestPoorRecordings(t *testing.T) {
	rec, full, w := ride()
	for name, alter := range map[string]func(r *record.Recording, s *heartrate.Series, w *workout.Workout){
		"empty": func(r *record.Recording, s *heartrate.Series, _ *workout.Workout) {
			*s, r.Measured = heartrate.Series{}, physiology.Measurements{}
		},
		"no heart rate": func(r *record.Recording, s *heartrate.Series, _ *workout.Workout) {
			for k := range s.BPM {
				s.BPM[k], s.Origin[k] = math.NaN(), heartrate.Missing
			}
			r.Measured = physiology.Measurements{HeartRate: physiology.Summary{Elapsed: len(s.BPM)}}
		},
		"stop at the end": func(r *record.Recording, s *heartrate.Series, _ *workout.Workout) {
			r.Measured.Recoveries = []physiology.Recovery{{Stop: len(s.BPM) - 5, Basis: physiology.Basis{Clause: "the recording ends 5 s after the stop"}}}
		},
		"paused and undated": func(r *record.Recording, s *heartrate.Series, w *workout.Workout) {
			r.Date, w.Start = 0, time.Time{}
			w.Pauses = []workout.Span{{From: 600, To: 700}}
			for k := 600; k < 700; k++ {
				s.Origin[k] = heartrate.Paused
			}
		},
		"two days long": func(_ *record.Recording, s *heartrate.Series, _ *workout.Workout) {
			for len(s.BPM) < 2*86400 {
				s.BPM, s.Origin = append(s.BPM, 100), append(s.Origin, heartrate.Measured)
			}
		},
	} {
		r, s, w := rec, heartrate.Series{BPM: slices.Clone(full.BPM), Origin: slices.Clone(full.Origin)}, w
		alter(&r, &s, &w)
		b, err := reports.WorkoutSample(r, s, w, avelin())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		text := words(b)
		if m := regexp.MustCompile(`NaN|Inf\b|%!|1 January 1\b`).FindString(text); m != "" {
			t.Errorf("%s shows %q", name, m)
		}
		want := map[string]string{"empty": "No heart rate was recorded", "no heart rate": "No heart rate was recorded",
			"stop at the end": "the recording ends 5 s after the stop", "paused and undated": "date not recorded", "two days long": "Between"}[name]
		if !strings.Contains(text, want) {
			t.Errorf("%s does not say %q", name, want)
		}
		if len(b) > 200_000 {
			t.Errorf("%s: the page has %d bytes", name, len(b))
		}
	}
}

func BenchmarkDecision(b *testing.B) {
	c := avelin()
	for b.Loop() {
		if _, err := reports.DecisionSample(c); err != nil {
			b.Fatal(err)
		}
	}
}

func TestPicture(t *testing.T) {
	for _, c := range append(crew(), reports.Client{}) {
		svg := reports.ProgressPicture(c)
		wellFormed(t, svg)
		if len(c.Weeks) > 0 && !strings.Contains(string(svg), "Minutes a week of "+c.Record.Client.Name) {
			t.Errorf("the picture of %s does not name itself", c.Record.Client.Name)
		}
	}
}

// TestEmptyClient: a client about whom nothing is known gets pages that say so.
func TestEmptyClient(t *testing.T) {
	c := reports.Client{Record: record.Record{Client: facts("Torrec", "1979-11-02", 0)}}
	c.Assessment = progression.Assess(policy.Default(), asOf, c.Record)
	for what, render := range map[string]func(reports.Client) ([]byte, error){"progress": reports.ProgressSample, "decision": reports.DecisionSample} {
		b, err := render(c)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		if strings.Contains(string(b), "<figure>") {
			t.Errorf("%s draws a chart of nothing", what)
		}
	}
}

// TestAway: a week and a day in a pause are away, not a zero.
func TestAway(t *testing.T) {
	b, err := reports.ProgressSample(hedra())
	if err != nil {
		t.Fatal(err)
	}
	text := words(b)
	for _, want := range []string{"You are on a break.", "You were away in the last week.", "4 October 2026 away", "Mon 28 away"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	t.Run("in a browser", func(t *testing.T) {
		inABrowser(t)
		file := filepath.Join(t.TempDir(), "away.html")
		needRuntime(t)
		if b, err = reports.Progress(hedra()); err == nil {
			err = os.WriteFile(file, b, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
		tab := newTab(t)
		tab.open(file, view{width: 700})
		if n := evaluate[int](tab, `[...document.querySelectorAll("#minutes .at-wide text")].filter(x => x.textContent === "away").length`); n != 2 {
			t.Errorf("the chart names %d weeks away, want 2", n)
		}
	})
}

// FuzzFileName: whatever a client is called, the file stays one plain name in the pages' folder.
func FuzzFileName(f *testing.F) {
	for _, name := range []string{"Avelin", "avelin", "../../etc", "a b", "日本", "", hostile, strings.Repeat("A", 300)} {
		f.Add(name)
	}
	plain := regexp.MustCompile(`^decision(-[a-z0-9-]+)?\.html$`)
	f.Fuzz(func(t *testing.T, name string) {
		if file := reports.FileName("decision", name); !plain.MatchString(file) || len(file) > 90 || len(name) > 0 && file == "decision.html" {
			t.Errorf("%q gives %q", name, file)
		}
	})
}
