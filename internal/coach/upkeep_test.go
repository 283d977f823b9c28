package coach_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/logbook"
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

var noon = day("2026-09-02").Noon(time.UTC)

// stricter is the policy with other minutes a week.
func stricter(t *testing.T, c *coach.Coach, minutes float64) policy.Policy {
	t.Helper()
	p, err := c.Policy.With(map[policy.ID]map[string]float64{policy.Minutes: {"threshold": minutes}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func minutesNeeded(p policy.Policy) float64 { return *p.Rule(policy.Minutes).Threshold }

// A restored backup brings back the book and the policy of its day, and the ones that it replaces are kept beside it.
func TestRestoreBringsBackBookAndPolicy(t *testing.T) {
	c, ctx := open(t), t.Context()
	receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-01")}, "a.tcx", encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{})))
	if err := c.UsePolicy(ctx, stricter(t, c, 90), "Marit", "two beginners tired early", day("2026-09-01")); err != nil {
		t.Fatal(err)
	}
	backup := filepath.Join(t.TempDir(), "backup.db")
	if err := c.Backup(ctx, backup, day("2026-09-01")); err != nil {
		t.Fatal(err)
	}
	if err := c.Forget(ctx, "Runa", workout.MustDate("2026-10-04"), true); err != nil {
		t.Fatal(err)
	}
	if err := c.UsePolicy(ctx, stricter(t, c, 120), "Marit", "still", day("2026-09-02")); err != nil {
		t.Fatal(err)
	}
	old, err := c.Restore(ctx, backup, noon)
	if err != nil {
		t.Fatal(err)
	}
	if n := counting(recordOf(t, c, "Runa", "2026-09-02", false)); n != 1 || minutesNeeded(c.Policy) != 90 {
		t.Errorf("%d recordings, %g min", n, minutesNeeded(c.Policy))
	}
	if problems, err := c.Verify(ctx, nil, false); err != nil || len(problems.Faults) > 0 {
		t.Errorf("%v %v", problems, err)
	}
	if _, err := os.Stat(c.DropFolder("Runa")); err != nil {
		t.Errorf("no folder for exports: %v", err)
	}
	// What was replaced can be had back in the same way.
	if _, err := c.Restore(ctx, old, noon.Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	if names, err := c.Clients(ctx); err != nil || slices.Contains(names, "Runa") || minutesNeeded(c.Policy) != 120 {
		t.Errorf("%v %v, %g min", names, err, minutesNeeded(c.Policy))
	}
}

// A backup that is broken changes nothing, and leaves nothing behind.
func TestRestoreRefusesABrokenBackup(t *testing.T) {
	c := open(t)
	before, err := filepath.Glob(filepath.Join(c.Dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "backup.db")
	if err := os.WriteFile(file, []byte("SQLite format 3\x00"+strings.Repeat("x", 5000)), 0o600); err != nil {
		t.Fatal(err)
	}
	if old, err := c.Restore(t.Context(), file, noon); err == nil || old != "" {
		t.Errorf("%q %v", old, err)
	}
	if _, err := coach.RestoreInto(t.Context(), t.TempDir(), filepath.Join(t.TempDir(), "nothing.db"), noon); err == nil {
		t.Error("a file that is not there was restored")
	}
	after, _ := filepath.Glob(filepath.Join(c.Dir, "*"))
	if names, err := c.Clients(t.Context()); err != nil || len(names) != 2 || !slices.Equal(before, after) {
		t.Errorf("%v %v; %v", names, err, after)
	}
}

// Into an empty folder a backup is simply put; a book that is too damaged to open changes places with it.
func TestRestoreWhereNoBookCanBeOpened(t *testing.T) {
	c, ctx := open(t), t.Context()
	backup := filepath.Join(t.TempDir(), "backup.db")
	if err := c.Backup(ctx, backup, day("2026-09-01")); err != nil {
		t.Fatal(err)
	}
	for name, damage := range map[string][]byte{"nothing there": nil, "no database": bytes.Repeat([]byte("rust"), 4000), "a header": append([]byte("SQLite format 3\x00"), make([]byte, 8000)...)} {
		dir := filepath.Join(t.TempDir(), "book")
		if damage != nil {
			if err := os.MkdirAll(dir, 0o700); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, logbook.FileName), damage, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		old, err := coach.RestoreInto(ctx, dir, backup, noon)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if damage != nil {
			if kept, err := os.ReadFile(old); err != nil || !bytes.Equal(kept, damage) {
				t.Errorf("%s: the old book was not kept: %v", name, err)
			}
		} else if old != "" {
			t.Errorf("%s: %q was kept", name, old)
		}
		back, err := coach.Open(ctx, dir)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if names, err := back.Clients(ctx); err != nil || len(names) != 2 {
			t.Errorf("%s: %v %v", name, names, err)
		}
		back.Close()
	}
}

// A policy is put in use with who, when and why, and only over the one that it was made from.
func TestUsePolicy(t *testing.T) {
	c, ctx, on := open(t), t.Context(), day("2026-09-01")
	other := stricter(t, c, 90)
	if err := c.UsePolicy(ctx, other, "", "  ", on); err == nil || !strings.Contains(err.Error(), "because") || !strings.Contains(err.Error(), "by") {
		t.Errorf("%v", err)
	}
	if err := c.UsePolicy(ctx, c.Policy, "Marit", "nothing", on); err == nil {
		t.Error("the same policy was put in use")
	}
	if err := c.UsePolicy(ctx, other, "Marit", "two beginners tired early", on); err != nil {
		t.Fatal(err)
	}
	again, err := coach.Open(ctx, c.Dir)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if minutesNeeded(again.Policy) != 90 || again.Policy.Text() != other.Text() {
		t.Errorf("%g min", minutesNeeded(again.Policy))
	}
	// Another program changes the file.
	if err := os.WriteFile(filepath.Join(c.Dir, "policy.toml"), policy.DefaultText(), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := c.UsePolicy(ctx, stricter(t, c, 100), "Marit", "more", on); err == nil || minutesNeeded(c.Policy) != 90 {
		t.Errorf("a file that changed since was overwritten: %v", err)
	}
	used, err := c.Policies(ctx)
	if err != nil || len(used) != 2 {
		t.Fatalf("%+v %v", used, err)
	}
	if u := used[0]; u.By != "Marit" || u.Because != "two beginners tired early" || u.Entered != on || len(u.Changes) != 1 || u.Changes[0].Is != "90" {
		t.Errorf("%+v", u)
	}
	if used[1].By != "" {
		t.Errorf("the first policy was entered by %q", used[1].By)
	}
}

// A tried policy looks at earlier decisions with what was known on their day.
func TestTryPolicyOnPast(t *testing.T) {
	c, ctx := open(t), t.Context()
	for _, on := range []string{"2026-08-03", "2026-08-05", "2026-08-10", "2026-08-12", "2026-08-17", "2026-08-19", "2026-08-24", "2026-08-26"} {
		r := record.Report{Date: day(on), Entered: day(on), Minutes: 45, Sport: workout.Walking, RPE: &workout.RPE{Value: 12, Scale: 20}, Talk: record.TalkComfortable}
		if err := c.AddReport(ctx, "Runa", r, false); err != nil {
			t.Fatal(err)
		}
	}
	for _, on := range []string{"2026-08-16", "2026-08-30"} {
		if _, err := c.Decide(ctx, record.Decision{Client: "Runa", Entered: day(on), Act: record.DoHold, Because: "one more week", By: "Marit"}); err != nil {
			t.Fatal(err)
		}
	}
	past, err := c.TryPolicyOnPast(ctx, longerSessions(t, "46"), day("2026-09-01"))
	if err != nil || len(past) != 2 {
		t.Fatalf("%+v %v", past, err)
	}
	for i, on := range []string{"2026-08-30", "2026-08-16"} {
		p := past[i]
		if p.Decision.Entered != day(on) || len(p.By) != 1 || p.By[0].Rule != policy.Longest || !strings.Contains(p.By[0].Text, "45 min") {
			t.Errorf("%s: %+v", on, p)
		}
	}
}

// An archive of a client has every original as it came in, tables whose every column stands in the dictionary, and pages.
func TestExport(t *testing.T) {
	c, ctx, on := open(t), t.Context(), day("2026-09-05")
	original := encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{}))
	receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-01")}, "evening, quay.tcx", original)
	if _, _, err := c.EnterNote(ctx, "Runa", coach.NoteEntry{Date: day("2026-09-01"), RPE: "12", Text: "=cmd|' /C calc'!A0", By: "Marit"}, on); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Decide(ctx, record.Decision{Client: "Runa", Entered: on, Act: record.DoHold, Because: "one more week", By: "Marit"}); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), coach.ExportName("Runa", on))
	if err := c.ExportFile(ctx, "Runa", on, file); err != nil {
		t.Skip(err) // without the runtime of the charts there are no pages
	}
	z, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	tables, known, originals, pages := map[string][][]string{}, map[string]bool{}, 0, 0
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case strings.HasPrefix(f.Name, "originals/"):
			originals++
			if !bytes.Equal(b, original) || !strings.HasSuffix(f.Name, "evening, quay.tcx") {
				t.Errorf("%s is not what came in", f.Name)
			}
		case strings.HasPrefix(f.Name, "pages/"):
			pages++
		case strings.HasSuffix(f.Name, ".csv"):
			rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
			if err != nil {
				t.Errorf("%s: %v", f.Name, err)
			}
			tables[f.Name] = rows
		}
		if strings.Contains(string(b), "Ketil") {
			t.Errorf("%s names another client", f.Name)
		}
	}
	for _, row := range tables["dictionary.csv"][1:] {
		known[row[0]+" "+row[1]] = row[2] != ""
	}
	for name, rows := range tables {
		for _, column := range rows[0] {
			if name != "dictionary.csv" && !known[name+" "+column] {
				t.Errorf("%s: the dictionary does not explain %q", name, column)
			}
		}
	}
	if originals != 1 || pages < 4 || len(tables) != 6 || len(tables["recordings.csv"]) != 2 || len(tables["decisions.csv"]) != 2 {
		t.Errorf("%d originals, %d pages, tables %v", originals, pages, tables)
	}
	columns := 1 // the row about all tables
	for name, rows := range tables {
		if name != "dictionary.csv" {
			columns += len(rows[0])
		}
	}
	if n := len(tables["dictionary.csv"]) - 1; n != columns {
		t.Errorf("the dictionary has %d rows for %d columns", n, columns)
	}
	developers, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range tables["dictionary.csv"][1:] {
		for part := range strings.SplitSeq(row[5], "; ") {
			if !strings.Contains(string(developers), part) {
				t.Errorf("%s: the table of accuracy does not say %q", row[1], part)
			}
		}
	}
	session := map[string]string{}
	for i, head := range tables["sessions.csv"][0] {
		session[head] = tables["sessions.csv"][1][i]
	}
	body := physiology.Body{} // the same recording, inspected without the book
	seen := coach.Asked{}.Inspect("evening, quay.tcx", original, body)[0].Workouts[0]
	if want := strconv.FormatFloat(math.Round(float64(seen.Elapsed-seen.Paused)/60*100)/100, 'f', -1, 64); session["minutes"] != want || session["client"] != "Runa" || session["effort"] != "12" {
		t.Errorf("inspected %s min, exported %v", want, session)
	}
	if d := seen.Drift; d.Assessable != (session["drift"] != "") {
		t.Errorf("inspected %+v, exported %q", d, session["drift"])
	}
	measured := map[string]string{}
	for i, head := range tables["recordings.csv"][0] {
		measured[head] = tables["recordings.csv"][1][i]
	}
	for name, want := range map[string]*float64{"mean": seen.HeartRate.Mean, "least": seen.HeartRate.Min, "peak": seen.HeartRate.Peak} {
		if got, err := strconv.ParseFloat(measured[name], 64); err != nil || want == nil || math.Abs(got-*want) > 0.005 {
			t.Errorf("%s: exported %q, inspected %v", name, measured[name], want)
		}
	}
	zones := 0.0
	for _, name := range []string{"under_zone_1", "zone_1", "zone_2", "zone_3", "over_zone_3", "not_recorded"} {
		v, err := strconv.ParseFloat(session[name], 64)
		if err != nil || session[name] != measured[name] {
			t.Errorf("%s: session %q, its only recording %q", name, session[name], measured[name])
		}
		zones += v
	}
	if int(zones) != seen.Elapsed-seen.Paused {
		t.Errorf("the zones add up to %v s of %d s", zones, seen.Elapsed-seen.Paused)
	}
	if note := tables["notes.csv"][1]; strings.HasPrefix(note[len(note)-1], "=") {
		t.Errorf("a spreadsheet would run %q", note[len(note)-1])
	}
}

func TestPassphrase(t *testing.T) {
	c, ctx := open(t), t.Context()
	if ok, err := c.IsPassphrase(ctx, ""); ok || err != nil {
		t.Errorf("without a passphrase the door opens: %v", err)
	}
	if err := c.SetPassphrase(ctx, "too short"); err == nil {
		t.Error("a short passphrase was taken")
	}
	const right = "gulls över the harbour"
	if err := c.SetPassphrase(ctx, right); err != nil {
		t.Fatal(err)
	}
	for passphrase, want := range map[string]bool{right: true, "": false, right + " ": false, strings.ToUpper(right): false, strings.Repeat("a", 1<<20): false} {
		if ok, err := c.IsPassphrase(ctx, passphrase); ok != want || err != nil {
			t.Errorf("%.30q: %v %v", passphrase, ok, err)
		}
	}
	disk, err := os.ReadFile(filepath.Join(c.Dir, logbook.FileName))
	if err == nil && bytes.Contains(disk, []byte(right)) {
		t.Error("the passphrase itself is in the book")
	}
}

// Each state of a link, and where it leads on which day.
func TestLinks(t *testing.T) {
	c, ctx, on := open(t), t.Context(), day("2026-09-01")
	make := func(client string, days int, at workout.Date) string {
		t.Helper()
		token, err := c.MakeLink(ctx, client, days, true, at)
		if err != nil {
			t.Fatal(err)
		}
		if len(token) != 22 {
			t.Errorf("token %q has not 128 bits", token)
		}
		return token
	}
	before := make("Runa", 30, on) // withdrawn by the next one
	runa, ketil := make("Runa", 30, on), make("Ketil", 5, on)
	for _, x := range []struct {
		name, token string
		on          workout.Date
		client      string
	}{
		{"new", runa, on, "Runa"}, {"another client's", ketil, on, "Ketil"}, {"last day", ketil, on + 5, "Ketil"}, {"day after", ketil, on + 6, ""},
		{"day before it was made", runa, on - 1, ""}, {"replaced", before, on, ""}, {"foreign", "AAAAAAAAAAAAAAAAAAAAAA", on, ""}, {"empty", "", on, ""},
		{"cut", runa[:21], on, ""}, {"longer", runa + "A", on, ""},
	} {
		l, err := c.LinkOf(ctx, x.token, x.on)
		if l.Client != x.client || (err == nil) != (x.client != "") {
			t.Errorf("%s: leads to %q, %v", x.name, l.Client, err)
		}
	}
	if err := c.WithdrawLinks(ctx, "Runa", on); err != nil {
		t.Fatal(err)
	}
	if _, err := c.LinkOf(ctx, runa, on); err == nil {
		t.Error("a withdrawn link leads somewhere")
	}
	if err := c.Forget(ctx, "Ketil", workout.MustDate("2026-10-04"), true); err != nil {
		t.Fatal(err)
	}
	if _, err := c.LinkOf(ctx, ketil, on); err == nil {
		t.Error("the link of a forgotten client leads somewhere")
	}
	for _, days := range []int{0, -1, coach.MostLinkDays + 1} {
		if _, err := c.MakeLink(ctx, "Runa", days, false, on); err == nil {
			t.Errorf("%d days were taken", days)
		}
	}
}

// What comes through a link is kept as the client's, asked about like a message that was pasted, and never settles an
// open question about a grave sign.
func TestAnswerByLink(t *testing.T) {
	c, ctx, on := open(t), t.Context(), day("2026-09-01")
	l := coach.Link{Client: "Runa", Made: on, Expires: on + 30, Answers: true}
	m, err := c.AnswerByLink(ctx, l, "felt a tightness in my chest on the pier today", on)
	if err != nil || len(m.Grave()) == 0 {
		t.Fatalf("%+v %v", m, err)
	}
	r := recordOf(t, c, "Runa", "2026-09-01", false)
	open := len(r.Unanswered())
	if signs := len(r.Notes[0].Symptoms); r.Notes[0].By != coach.FromClient || open+signs == 0 {
		t.Errorf("%+v", r.Notes)
	}
	if _, err := c.AnswerByLink(ctx, l, "no chest pain, all fine, nothing of the kind", on); err != nil {
		t.Fatal(err)
	}
	if n := len(recordOf(t, c, "Runa", "2026-09-01", false).Unanswered()); n < open {
		t.Errorf("the client settled the question: %d open, were %d", n, open)
	}
	l.Answers = false
	if _, err := c.AnswerByLink(ctx, l, "12", on); err == nil {
		t.Error("a link that takes no answers took one")
	}
	l.Answers = true
	var enough error
	for range 20 {
		if _, enough = c.AnswerByLink(ctx, l, "a fine walk along the quay", on); enough != nil {
			break
		}
	}
	if enough == nil {
		t.Fatal("a link takes any number of messages on a day")
	}
	// A client who has written enough for a day and then feels something is heard.
	for _, text := range []string{"I have a fever of 39 and bronchitis", "I am pregnant, found out today", "my doctor gave me new tablets", "fell and twisted my ankle"} {
		if m, err := c.AnswerByLink(ctx, l, text, on); err != nil || len(m.Entered) == 0 {
			t.Errorf("%q after as many as a day takes: %v", text, err)
		}
	}
	m, err = c.AnswerByLink(ctx, l, "fainted on the stairs just now", on)
	if err != nil || len(m.Grave()) == 0 || len(m.Entered) == 0 {
		t.Errorf("a grave sign beyond a day's messages: %+v, %v", m, err)
	}
	for range 200 {
		if m, enough = c.AnswerByLink(ctx, l, "fainted on the stairs just now", on); enough != nil {
			break
		}
	}
	if enough == nil || len(m.Grave()) == 0 {
		t.Errorf("flooded: %v, %+v", enough, m.Grave())
	}
	// So is one who writes too much, wherever in it the words stand, and nothing of it is kept.
	before := len(recordOf(t, c, "Runa", "2026-09-01", false).Notes)
	for at := 700; at < 1300; at += 29 {
		text := strings.Repeat("a walk ", 200)[:at] + " my chest felt tight after that. " + strings.Repeat("all easy, ", 1700)
		if m, err := c.AnswerByLink(ctx, l, text, on); err == nil || len(m.Grave()) == 0 {
			t.Errorf("a sign after %d letters of a message that is too long: %v, %d pieces", at, err, len(m.Grave()))
		}
	}
	if n := len(recordOf(t, c, "Runa", "2026-09-01", false).Notes); n != before {
		t.Errorf("%d notes, were %d", n, before)
	}
}
