package web_test

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"mime/multipart"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

// download posts a form and gives the file that it answers with.
func (d desk) download(path string, fields ...string) (*httptest.ResponseRecorder, []byte) {
	d.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(fields); i += 2 {
		form.Set(fields[i], fields[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Host = host
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	d.handler.ServeHTTP(w, r)
	return w, w.Body.Bytes()
}

// restore uploads a backup.
func (d desk) restore(sure bool, name string, backup []byte) (int, string) {
	d.t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	if part, err := m.CreateFormFile("file", name); err != nil {
		d.t.Fatal(err)
	} else {
		part.Write(backup)
	}
	if sure {
		m.WriteField("sure", "yes")
	}
	m.Close()
	r := httptest.NewRequest(http.MethodPost, "/restore", &b)
	r.Header.Set("Content-Type", m.FormDataContentType())
	return d.send(r)
}

func (d desk) clients() []string {
	d.t.Helper()
	names, err := d.Clients(context.Background())
	if err != nil {
		d.t.Fatal(err)
	}
	return names
}

// A backup is downloaded, the book goes on, and the backup is restored by upload.
func TestBackUpForgetAndRestore(t *testing.T) {
	d := open(t)
	d.upload("Runa", file{"walk.tcx", walk(t, today-1)})
	_, page := d.get("/upkeep.html")
	contains(t, page, d.Dir, "Download a backup", "go1.")
	answer, backup := d.download("/backup")
	if answer.Code != http.StatusOK || !strings.Contains(answer.Header().Get("Content-Disposition"), "nextrung-2026-10-04.db") || !bytes.HasPrefix(backup, []byte("SQLite format 3\x00")) {
		t.Fatalf("%d %v", answer.Code, answer.Header())
	}
	_, page = d.post("/verify")
	contains(t, page, "The book is sound", "Not checked: whether measuring")
	_, page = d.post("/verify", "measure", "yes")
	contains(t, page, "1 recording measured again")
	_, page = d.post("/verify", "seal", "3-0123456789abcdef")
	contains(t, page, "1 fault found", "entry 3 of this log has another seal", "look at each fault with a backup")
	_, page = d.post("/verify", "seal", "/etc/passwd") // the desk reads no file that a form names
	contains(t, page, "is not the seal of a book")

	_, page = d.post("/forget", "client", "Runa", "typed", "runa?")
	contains(t, page, "nobody was forgotten")
	if _, page = d.post("/forget", "client", "Runa", "typed", "Runa"); slices.Contains(d.clients(), "Runa") {
		t.Fatalf("Runa is still there: %s", page)
	}
	if _, page = d.restore(false, "backup.db", backup); slices.Contains(d.clients(), "Runa") {
		t.Error("a backup was restored without the tick")
	}
	contains(t, page, "Nothing was restored")
	for name, broken := range map[string][]byte{"cut.db": backup[:len(backup)/2], "photo.jpg": []byte("\xff\xd8\xff"), "empty.db": nil} {
		if _, page = d.restore(true, name, broken); slices.Contains(d.clients(), "Runa") {
			t.Errorf("%s was restored", name)
		}
		contains(t, page, "Nothing was restored from "+name+": the book is as it was.")
	}
	_, page = d.restore(true, "backup.db", backup)
	contains(t, page, "is now the book", "before-restore-", "forget them again")
	if len(d.record("Runa").Recordings) != 1 {
		t.Error("the recording did not come back")
	}
}

// A damaged original is found, and what to do about it is said first.
func TestVerifyOnTheDesk(t *testing.T) {
	d := open(t)
	body := walk(t, today-1)
	d.upload("Runa", file{"walk.tcx", body})
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	// The row's name of the file changes, as a failing disk would do it: the number of workouts no longer fits.
	path := filepath.Join(d.Dir, "book.db")
	disk, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(disk, []byte("\x1f\x8b\x08"))
	if at < 0 {
		t.Fatal("the original is not in the file")
	}
	disk[at+40] ^= 0x10
	if err := os.WriteFile(path, disk, 0o600); err != nil {
		t.Fatal(err)
	}
	c, err := coach.Open(t.Context(), d.Dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	d.handler = web.New(c, func() workout.Date { return today }, time.Now).Handler(host)
	_, page := d.post("/verify")
	contains(t, page, "Before anything else, copy the book’s folder", "walk.tcx")
}

func TestExportOnTheDesk(t *testing.T) {
	d := open(t)
	d.upload("Runa", file{"walk.tcx", walk(t, today-1)})
	answer, b := d.download("/export", "client", "runa")
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil || !strings.Contains(answer.Header().Get("Content-Disposition"), "runa-2026-10-04.zip") {
		t.Fatalf("%v %v", err, answer.Header())
	}
	names := ""
	for _, f := range z.File {
		names += f.Name + "\n"
	}
	contains(t, names, "facts.json", "dictionary.csv", "originals/", "pages/progress-runa.html", "pages/workout-")
	if answer, _ := d.download("/export", "client", "Nobody"); answer.Code != http.StatusNotFound {
		t.Errorf("nobody's archive: %d", answer.Code)
	}
}

func TestSettingsOnTheDesk(t *testing.T) {
	d := open(t)
	drop := filepath.Join(t.TempDir(), "exports")
	_, page := d.post("/settings", "by", "Corvane", "drop", drop)
	contains(t, page, "Kept.", `value="Corvane"`, drop)
	if _, err := os.Stat(filepath.Join(drop, "Runa")); err != nil {
		t.Error(err)
	}
	_, page = d.post("/settings", "by", "Corvane", "drop", "exports")
	contains(t, page, "is not a full path", drop)
}

func TestAnEmptyBookSaysWhatToDoFirst(t *testing.T) {
	c, err := coach.Open(t.Context(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	d := desk{t, c, web.New(c, func() workout.Date { return today }, time.Now).Handler(host)}
	_, page := d.get("/")
	contains(t, page, `href="`+web.FirstFile)
	_, page = d.get("/" + web.FirstFile)
	contains(t, page, c.Drop, "Enter a client")
	for _, room := range []string{"/upkeep.html", "/policy.html", "/links.html"} {
		if code, _ := d.get(room); code != http.StatusOK {
			t.Errorf("%s: %d", room, code)
		}
	}
}

var tried = regexp.MustCompile(`name="tried" value="([^"]+)"`)

// A changed number shows what it would have said, today and on the days of earlier decisions, and counts only after that.
func TestAPolicyIsTriedThenUsed(t *testing.T) {
	d := open(t)
	ctx := t.Context()
	for week := range 8 {
		for _, ago := range []int{1, 3} {
			on := today - workout.Date(7*week+ago)
			r := record.Report{Date: on, Entered: on, Minutes: 45, Sport: workout.Walking, RPE: &workout.RPE{Value: 12, Scale: 20}, Talk: record.TalkComfortable}
			if err := d.AddReport(ctx, "Runa", r, false); err != nil {
				t.Fatal(err)
			}
		}
	}
	if _, err := d.Decide(ctx, record.Decision{Client: "Runa", Entered: today - 14, Act: record.DoHold, Because: "one more week", By: "Marit"}); err != nil {
		t.Fatal(err)
	}
	before := d.Policy.Digest()
	_, page := d.get("/policy.html")
	contains(t, page, "at least 60 min a week", "common practice, no source", `name="minutes.threshold" value="60"`)

	_, page = d.post("/use-policy", "tried", "", "by", "Marit", "because", "x")
	contains(t, page, "Look at what the changed rules would have recommended")
	_, page = d.post("/try-policy", "step", "try", "minutes.threshold", "120")
	contains(t, page, "Minutes a week: threshold 120 instead of 60 (stricter)", "On the days of earlier decisions", "Today", `value="120"`)
	if d.Policy.Digest() != before {
		t.Fatal("trying changed the policy")
	}
	m := tried.FindStringSubmatch(page)
	if m == nil {
		t.Fatal("a tried policy cannot be used")
	}
	_, page = d.post("/use-policy", "tried", m[1], "by", "", "because", "")
	if contains(t, page, "is missing", "120 instead of 60"); d.Policy.Digest() != before {
		t.Fatal("a policy came into use without a reason")
	}
	_, page = d.post("/use-policy", "tried", m[1], "by", "Marit", "because", "two beginners tired early")
	contains(t, page, "The changed rules are in use", "Marit: two beginners tired early", "Threshold: a new book starts with 60, not 120.")
	if *d.Policy.Rule(policy.Minutes).Threshold != 120 {
		t.Error("the policy is not in use")
	}
	_, page = d.post("/use-policy", "tried", m[1], "by", "Marit", "because", "again")
	contains(t, page, "try it again")

	_, page = d.post("/try-policy", "step", "default")
	contains(t, page, "threshold 60 instead of 120 (looser)")
	_, page = d.post("/use-policy", "tried", tried.FindStringSubmatch(page)[1], "by", "Marit", "because", "back")
	if contains(t, page, "are in use"); len(policy.Default().Changes(d.Policy)) != 0 {
		t.Error("the rules are not those of a new book")
	}
}

// What a rule may not be is refused, with what was typed kept.
func TestAnImpossiblePolicyIsRefused(t *testing.T) {
	d := open(t)
	for _, x := range []struct{ key, typed, says string }{
		{"adult.threshold", "16", "18 or older: threshold must be between 18 and 120, not 16"},
		{"minutes.threshold", "1,5", `"1,5" is not a number`},
		{"minutes.threshold", "NaN", "threshold must be"},
		{"minutes.threshold", "1e300", "threshold must be"},
		{"sessions.threshold", "2.5", "whole number"},
		{"minutes.threshold", `"><script>alert(1)</script>`, "is not a number"},
	} {
		_, page := d.post("/try-policy", "step", "try", x.key, x.typed, "longest.threshold", "25")
		contains(t, page, x.says, "Nothing was tried", `name="longest.threshold" value="25"`, `aria-invalid="true"`)
		if strings.Contains(page, "Use these rules") {
			t.Errorf("%s = %s can be used", x.key, x.typed)
		}
	}
	_, page := d.post("/try-policy", "step", "try")
	contains(t, page, "No number was changed")
	if code, _ := d.post("/try-policy", "step", "try", "emergency-sign.threshold", "3"); code != http.StatusOK || len(policy.Default().Changes(d.Policy)) != 0 {
		t.Error("a rule without a number was changed")
	}
}

// A desk says where it answers, to anybody who reads the book's folder; a file that a crash left is not believed.
func TestRunning(t *testing.T) {
	c, err := coach.Open(t.Context(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	stranger := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { fmt.Fprint(w, "hello") }))
	defer stranger.Close()
	for name, left := range map[string]string{
		"none": "", "broken": "{", "another program": `{"address":"` + stranger.URL + `/","word":"MINE"}`, "nobody": `{"address":"http://127.0.0.1:1/","word":"MINE"}`,
		"no word": `{"address":"` + stranger.URL + `/"}`, "no address": `{"word":"MINE"}`,
	} {
		if err := os.WriteFile(filepath.Join(c.Dir, "desk.json"), []byte(left), 0o600); err != nil {
			t.Fatal(err)
		}
		if address := web.Running(t.Context(), c.Dir); address != "" {
			t.Errorf("%s: %s was believed", name, address)
		}
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error)
	go func() {
		done <- web.New(c, func() workout.Date { return today }, time.Now).Serve(ctx, l)
	}()
	want := "http://" + l.Addr().String() + "/"
	for began := time.Now(); web.Running(t.Context(), c.Dir) != want; time.Sleep(10 * time.Millisecond) {
		if time.Since(began) > 10*time.Second {
			t.Fatal("the desk is not found")
		}
	}
	stop()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(c.Dir, "desk.json")); err == nil || web.Running(t.Context(), c.Dir) != "" {
		t.Error("a desk that has stopped is still announced")
	}
}
