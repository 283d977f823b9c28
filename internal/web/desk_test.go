package web_test

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

var today = workout.MustDate("2026-10-04")

// host is the address under which the tests' desk answers.
const host = "127.0.0.1:8000"

// desk is a desk on a book with two deckhands.
type desk struct {
	t *testing.T
	*coach.Coach
	handler http.Handler
}

func open(t *testing.T) desk {
	t.Helper()
	c, err := coach.Open(context.Background(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	for _, name := range []string{"Runa", "Ketil"} {
		err := c.AddClient(context.Background(), record.Client{
			Name: name, Born: workout.MustDate("1980-03-01"), Sex: "female", Stage: 1, Since: today - 60, State: record.Active, Days: 3, Minutes: 40,
			Modes: []workout.Mode{workout.Walk}, Zones: []record.ZoneSet{{HRRest: 62}},
			Screening: record.Screening{On: today - 61, Active: true, Disease: "none"},
		}, today-60)
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := c.SetBy(context.Background(), "Marit"); err != nil {
		t.Fatal(err)
	}
	d := web.New(c, func() workout.Date { return today }, func() time.Time { return today.Noon(time.UTC) })
	return desk{t, c, d.Handler(host)}
}

// walk is a recorded walk of 30 min on a day.
func walk(t testing.TB, on workout.Date) []byte { return walkOf(t, on, 0) }

// walkOf is the walk of one of several people.
func walkOf(t testing.TB, on workout.Date, who uint64) []byte {
	t.Helper()
	plan := workout.Plan{Mode: workout.Walk, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300, Low: 95, High: 105}, {Kind: workout.Steady, Seconds: 1200, Low: 118, High: 126},
		{Kind: workout.CoolDown, Seconds: 300, Low: 90, High: 100},
	}}
	w, _ := simulate.Play(plan, simulate.Beginner(62, 180), simulate.Options{Start: on.Time().Add(7*time.Hour + time.Duration(who%7)*time.Minute), Seed: uint64(on) + who<<32})
	b, err := recording.Encode("tcx", w)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// send sends a request from the desk's own page and gives the status and the page, after any redirect.
func (d desk) send(r *http.Request) (int, string) {
	d.t.Helper()
	r.Host = host
	if r.Method == http.MethodPost && r.Header.Get("Sec-Fetch-Site") == "" {
		r.Header.Set("Sec-Fetch-Site", "same-origin")
	}
	w := httptest.NewRecorder()
	d.handler.ServeHTTP(w, r)
	if w.Code == http.StatusSeeOther {
		to, _, _ := strings.Cut(w.Header().Get("Location"), "#")
		return d.get("/" + strings.TrimPrefix(to, "/"))
	}
	return w.Code, html.UnescapeString(w.Body.String())
}

func (d desk) get(path string) (int, string) {
	d.t.Helper()
	return d.send(httptest.NewRequest(http.MethodGet, path, nil))
}

func (d desk) post(path string, fields ...string) (int, string) {
	d.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(fields); i += 2 {
		form.Set(fields[i], fields[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return d.send(r)
}

// file is a file that is uploaded.
type file struct {
	name string
	body []byte
}

func (d desk) upload(client string, files ...file) (int, string) {
	d.t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	m.WriteField("client", client)
	for _, f := range files {
		part, err := m.CreateFormFile("file", f.name)
		if err != nil {
			d.t.Fatal(err)
		}
		part.Write(f.body)
	}
	m.Close()
	r := httptest.NewRequest(http.MethodPost, "/take-in", &b)
	r.Header.Set("Content-Type", m.FormDataContentType())
	return d.send(r)
}

func (d desk) record(client string) record.Record {
	d.t.Helper()
	r, err := d.Record(context.Background(), client, today, false)
	if err != nil {
		d.t.Fatal(err)
	}
	return r
}

func contains(t *testing.T, page string, wanted ...string) {
	t.Helper()
	for _, w := range wanted {
		if !strings.Contains(page, w) {
			t.Errorf("%q is not on the page", w)
		}
	}
}

var hidden = regexp.MustCompile(`name="rests" value="([^"]*)"`)

// rests is what the page of a client rests on.
func (d desk) rests(client string) string {
	d.t.Helper()
	_, page := d.get("/decision-" + strings.ToLower(client) + ".html")
	m := hidden.FindStringSubmatch(page)
	if m == nil {
		d.t.Fatal("the page has no form for a decision")
	}
	return m[1]
}

// Every address on every page, from the first one on, leads somewhere.
func TestEveryLinkLeadsSomewhere(t *testing.T) {
	d := open(t)
	for i := range 6 {
		d.upload("Runa", file{fmt.Sprintf("%d.tcx", i), walk(t, today-workout.Date(2*i+1))})
	}
	link := regexp.MustCompile(`(?:href|src)="([^"#]*)["#]`)
	action := regexp.MustCompile(`action="([^"]*)"`)
	seen, next := map[string]bool{}, []string{"/"}
	for len(next) > 0 {
		path := next[0]
		next = next[1:]
		code, page := d.get(path)
		if code != http.StatusOK {
			t.Errorf("%s: %d", path, code)
		}
		here, err := url.Parse(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range link.FindAllStringSubmatch(page, -1) {
			ref, err := here.Parse(m[1])
			if err != nil {
				t.Fatal(err)
			}
			if to := ref.String(); !seen[to] && !ref.IsAbs() {
				seen[to] = true
				next = append(next, to)
			}
		}
		for _, m := range action.FindAllStringSubmatch(page, -1) {
			to := "/" + strings.TrimPrefix(m[1], "/")
			if !seen[to] && to != "/sign-out" {
				seen[to] = true
				if code, _ := d.post(to); code == http.StatusMethodNotAllowed {
					t.Errorf("%s: no form goes there", to)
				}
			}
		}
	}
	for _, wanted := range []string{"/decision-runa.html", "/progress-ketil.html", "/desk.css", "/facts-runa.html", "/recordings-ketil.html", "/new-client.html"} {
		if !seen[wanted] {
			t.Errorf("no page leads to %s; %d addresses seen", wanted, len(seen))
		}
	}
	if n := len(slices.DeleteFunc(keys(seen), func(p string) bool { return !strings.HasPrefix(p, "/workout-") })); n != 6 {
		t.Errorf("%d of 6 workouts have a page", n)
	}
}

// One style sheet is served that is joined from several: a name that two of them give to something else would change
// pages that neither was looked at with.
func TestNoNameIsStyledInTwoSheets(t *testing.T) {
	heads, bare := regexp.MustCompile(`([^{}]+)\{`), regexp.MustCompile(`^\.[a-z][a-z0-9-]*$`)
	first := map[string]string{}
	for _, name := range []string{"../../reports/styles/page.css", "desk.css", "people.css", "upkeep.css"} {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range heads.FindAllStringSubmatch(string(b), -1) {
			for head := range strings.SplitSeq(m[1], ",") {
				head = strings.TrimSpace(head)
				if !bare.MatchString(head) {
					continue
				}
				if was := first[head]; was != "" && was != name {
					t.Errorf("%s is styled in %s and in %s", head, was, name)
				}
				first[head] = name
			}
		}
	}
	if len(first) < 100 {
		t.Errorf("only %d names were found", len(first))
	}
}

// What is drawn on a row of the week is visible only by its style, and nothing else tells that one has gone.
func TestEverythingDrawnOnARowIsStyled(t *testing.T) {
	source, err := os.ReadFile("../../reports/weekrow.go")
	if err != nil {
		t.Fatal(err)
	}
	var sheets string
	for _, name := range []string{"../../reports/styles/page.css", "desk.css"} {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		sheets += string(b)
	}
	drawn := regexp.MustCompile(`<(?:path|circle) class="([a-z]+)"`).FindAllStringSubmatch(string(source), -1)
	for _, m := range drawn { // all of them are marks of a scale; the same name elsewhere is another mark
		if !regexp.MustCompile(`\.scale \.` + m[1] + ` \{`).MatchString(sheets) {
			t.Errorf("%q is drawn without a style", m[1])
		}
	}
	if len(drawn) < 5 {
		t.Errorf("only %d marks were found", len(drawn))
	}
}

func keys(m map[string]bool) (out []string) {
	for k := range m {
		out = append(out, k)
	}
	return out
}

// A file that is refused is listed with why, and stops no other.
func TestOneBadFileStopsNoOther(t *testing.T) {
	d := open(t)
	good := walk(t, today-1)
	code, page := d.upload("Runa", file{"photo.jpg", []byte("\xff\xd8\xff\xe0 a photo")}, file{"walk.tcx", good}, file{"again.tcx", good}, file{"", nil})
	contains(t, page, "photo.jpg: refused", "walk.tcx: entered; 3 October 2026, ", "again.tcx: already in the book")
	if n := len(d.record("Runa").Recordings); code != http.StatusOK || n != 1 {
		t.Errorf("%d: %d recordings", code, n)
	}
	if d.upload("", file{"walk.tcx", walk(t, today-2)}); len(d.record("Runa").Recordings) != 1 {
		t.Error("files of nobody were taken in")
	}
	if code, _ = d.upload("Nobody", file{"walk.tcx", walk(t, today-2)}); code == http.StatusInternalServerError {
		t.Error("an unknown client is no fault of the book")
	}
	if _, page = d.upload("Ketil", file{"walk.tcx", good}); !strings.Contains(page, "was received for Runa") {
		t.Error("somebody else's recording was taken without a word")
	}
}

// An upload that breaks off says what was taken in before, and a slow one holds up nobody.
func TestABrokenUploadLosesNothingAndHoldsUpNobody(t *testing.T) {
	d := open(t)
	var whole bytes.Buffer
	m := multipart.NewWriter(&whole)
	m.WriteField("client", "Runa")
	for i, name := range []string{"first.tcx", "second.tcx"} {
		part, err := m.CreateFormFile("file", name)
		if err != nil {
			t.Fatal(err)
		}
		part.Write(walk(t, today-workout.Date(1+2*i)))
	}
	body, slow := io.Pipe()
	r := httptest.NewRequest(http.MethodPost, "/take-in", body)
	r.Header.Set("Content-Type", m.FormDataContentType())
	done := make(chan string)
	go func() {
		_, page := d.send(r)
		done <- page
	}()
	if _, err := slow.Write(whole.Bytes()[:whole.Len()-200]); err != nil { // the end of the second file does not come
		t.Fatal(err)
	}
	answered := make(chan int, 1)
	go func() {
		code, _ := d.get("/")
		answered <- code
	}()
	select {
	case code := <-answered:
		if code != http.StatusOK {
			t.Errorf("meanwhile: %d", code)
		}
	case <-time.After(time.Minute):
		t.Fatal("a slow upload holds up the desk")
	}
	slow.CloseWithError(io.ErrUnexpectedEOF)
	contains(t, <-done, "first.tcx: entered", "The upload broke off")
	if n := len(d.record("Runa").Recordings); n != 1 {
		t.Errorf("%d recordings", n)
	}
}

// A message is shown as it was read, with its questions, before anything is entered.
func TestAMessageIsReadThenEntered(t *testing.T) {
	d := open(t)
	for _, ago := range []workout.Date{1, 3} {
		d.upload("Runa", file{"walk.tcx", walk(t, today-ago)})
	}
	form := []string{"client", "Runa", "on", today.String(), "text", "Sat 12, could talk no probs, 4\nThu felt ok <script>alert(1)</script>"}
	code, page := d.post("/answers", append(form, "step", "read")...)
	contains(t, page, "effort 12 on the 6-20 scale", "Enter this", "not understood; kept as a remark")
	if n := len(d.record("Runa").Notes); code != http.StatusOK || n != 0 {
		t.Fatalf("%d: reading entered %d notes", code, n)
	}
	r := httptest.NewRequest(http.MethodPost, "/answers", strings.NewReader(url.Values{"client": {"Runa"}, "on": {today.String()}, "step": {"read"}, "text": {form[5]}}.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Host = host
	w := httptest.NewRecorder()
	d.handler.ServeHTTP(w, r)
	if strings.Contains(w.Body.String(), "<script>alert") {
		t.Error("the client's words became markup")
	}
	_, page = d.post("/answers", append(form, "step", "enter")...)
	contains(t, page, "Entered from the message of 4 October 2026")
	found := false
	for _, n := range d.record("Runa").Notes {
		found = found || n.Date == today-1 && n.RPE != nil && n.RPE.Value == 12 && n.Talk == record.TalkComfortable && n.Enjoyment == 4
	}
	if !found {
		t.Errorf("entered %+v", d.record("Runa").Notes)
	}
	_, page = d.post("/answers", "client", "Runa", "on", today.String(), "text", "  ", "step", "read")
	contains(t, page, "is empty")
}

// A question with answers to choose from enters the one that was tapped.
func TestAQuestionIsAnsweredByATap(t *testing.T) {
	d := open(t)
	d.upload("Runa", file{"walk.tcx", walk(t, today-1)})
	form := []string{"client", "Runa", "on", today.String(), "text", "Sat: 12, talking was so-so"}
	_, page := d.post("/answers", append(form, "step", "read")...)
	choice := regexp.MustCompile(`name="(choice-\d+)" value="0"><span>([^<]*)<`).FindStringSubmatch(page)
	if choice == nil {
		t.Fatal("no choice is offered")
	}
	if !strings.Contains(choice[2], "talking comfortable") {
		t.Fatalf("the first choice is %q", choice[2])
	}
	d.post("/answers", append(form, "step", "enter", choice[1], "0")...)
	talk := record.NotAsked
	for _, n := range d.record("Runa").Notes {
		talk = max(talk, n.Talk)
	}
	if talk != record.TalkComfortable {
		t.Errorf("talk %q was entered", talk)
	}
	notes := len(d.record("Runa").Notes)
	for _, stale := range [][]string{{choice[1], "99"}, {choice[1], "0", strings.Replace(choice[1], "choice", "piece", 1), "something else"}, {"rests", "of an earlier page"}} {
		_, page = d.post("/answers", append(append(form, "step", "enter"), stale...)...)
		contains(t, page, "Something has come in since this page was opened", "talking was so-so")
	}
	if len(d.record("Runa").Notes) != notes {
		t.Error("a page that is out of date entered something")
	}
}

// What may be a grave sign stands on the first page in the client's words and stops the plan until it is answered.
func TestASignIsAskedAboutFirst(t *testing.T) {
	d := open(t)
	for i := range 4 {
		d.upload("Runa", file{fmt.Sprintf("%d.tcx", i), walk(t, today-workout.Date(2*i+1))})
	}
	d.post("/answers", "client", "Runa", "on", today.String(), "step", "enter", "text", "Sat 12. bit tight across the chest on the hill")
	_, page := d.get("/")
	contains(t, page, "Unanswered", "tight across the chest on the hill", "They said no")
	if _, page = d.get("/decision-runa.html"); strings.Contains(page, "week-progress-runa") {
		t.Error("a plan stands before the question is answered")
	}
	if _, page = d.post("/decide", "client", "Runa", "act", "advance", "because", "she is keen", "by", "Marit", "rests", d.rests("Runa")); len(d.record("Runa").Decisions) != 0 {
		t.Error("moved up before the question was answered")
	}
	contains(t, page, "she is keen") // nothing that was typed is lost
	asked := d.record("Runa").Unanswered()
	if len(asked) != 1 {
		t.Fatalf("%d questions", len(asked))
	}
	q := []string{"client", "Runa", "on", asked[0].On.String(), "sign", string(asked[0].Sign), "by", "Marit"}
	if _, page = d.post("/question", q...); !strings.Contains(page, "The answer is missing") {
		t.Error("no answer was taken for one")
	}
	d.post("/question", append(q, "so", "no")...)
	if n := len(d.record("Runa").Unanswered()); n != 0 {
		t.Errorf("%d questions after the answer", n)
	}
	if _, page = d.get("/decision-runa.html"); !strings.Contains(page, ".ics") {
		t.Error("no plan after the answer")
	}
}

// A decision rests on what the page showed; a page that is out of date decides nothing.
func TestAStalePageDecidesNothing(t *testing.T) {
	d := open(t)
	d.upload("Runa", file{"a.tcx", walk(t, today-1)})
	old := d.rests("Runa")
	d.upload("Runa", file{"b.tcx", walk(t, today-3)})
	form := []string{"client", "Runa", "act", "hold", "because", "two walks only", "by", "Marit"}
	_, page := d.post("/decide", append(form, "rests", old)...)
	contains(t, page, "Something has come in since this page was opened", "two walks only")
	if len(d.record("Runa").Decisions) != 0 {
		t.Fatal("decided on a stale page")
	}
	if err := d.SetBy(t.Context(), ""); err != nil {
		t.Fatal(err)
	}
	_, page = d.post("/decide", append(form, "rests", d.rests("Runa"))...)
	contains(t, page, `name="by" value="Marit"`) // typed once
	contains(t, page, "Decided: hold, stage 1")
	if all := d.record("Runa").Decisions; len(all) != 1 || all[0].By != "Marit" || all[0].Because != "two walks only" {
		t.Errorf("%+v", all)
	}
}

// Nothing but the desk's own pages reaches the book, and no name reaches the disk.
func TestHostileRequests(t *testing.T) {
	d := open(t)
	send := func(method, path string, body io.Reader, change func(*http.Request)) int {
		r := httptest.NewRequest(method, path, body)
		r.Host = host
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		change(r)
		w := httptest.NewRecorder()
		d.handler.ServeHTTP(w, r)
		if code := w.Code; code < 400 {
			t.Logf("%s %s: %s", method, path, w.Body.String()[:min(200, w.Body.Len())])
		}
		return w.Code
	}
	none := func(*http.Request) {}
	decide := "client=Runa&act=hold&because=x&by=y"
	for _, c := range []struct {
		name, method, path, body string
		change                   func(*http.Request)
		want                     int
	}{
		{"foreign host", "GET", "/", "", func(r *http.Request) { r.Host = "ferry.example" }, http.StatusMisdirectedRequest},
		{"another port", "GET", "/", "", func(r *http.Request) { r.Host = "127.0.0.1:9" }, http.StatusMisdirectedRequest},
		{"cross-site form", "POST", "/decide", decide, func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, http.StatusForbidden},
		{"foreign origin", "POST", "/decide", decide, func(r *http.Request) { r.Header.Set("Origin", "http://ferry.example") }, http.StatusForbidden},
		{"no origin", "POST", "/decide", decide, func(r *http.Request) { r.Header.Set("Origin", "null") }, http.StatusForbidden},
		{"the book itself", "GET", "/book.db", "", none, http.StatusNotFound},
		{"traversal", "GET", "/..%2fbook.db", "", none, http.StatusNotFound},
		{"traversal twice", "GET", "/%2e%2e%2f%2e%2e%2fetc%2fpasswd", "", none, http.StatusNotFound},
		{"a name with markup", "GET", "/%3Cscript%3E", "", none, http.StatusNotFound},
		{"an unknown client", "POST", "/decide", "client=Nobody&act=hold", none, http.StatusNotFound},
		{"a form that is too large", "POST", "/answers", "client=Runa&text=" + strings.Repeat("a", 300<<10), none, http.StatusRequestEntityTooLarge},
		{"a method that is not there", "DELETE", "/decide", "", none, http.StatusMethodNotAllowed},
		{"no files", "POST", "/take-in", "client=Runa", none, http.StatusBadRequest},
	} {
		if got := send(c.method, c.path, strings.NewReader(c.body), c.change); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
	if len(d.record("Runa").Decisions) != 0 {
		t.Error("a foreign request decided something")
	}
}

// TestManyAtOnce sends readers and writers together: each form is done once, and no page is half of one.
func TestManyAtOnce(t *testing.T) {
	d := open(t)
	got := make(chan string)
	const n = 20
	for i := range n {
		go func() {
			r := httptest.NewRequest(http.MethodPost, "/answers", strings.NewReader(url.Values{
				"client": {"Ketil"}, "on": {today.String()}, "step": {"enter"}, "text": {fmt.Sprintf("resting heart rate %d this morning", 50+i)},
			}.Encode()))
			r.Host = host
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			w := httptest.NewRecorder()
			d.handler.ServeHTTP(w, r)
			got <- w.Body.String()
		}()
	}
	for range n {
		if page := <-got; !strings.Contains(page, "</html>") {
			t.Error("half a page")
		}
	}
	if all := len(d.record("Ketil").Notes); all != n {
		t.Errorf("%d of %d notes", all, n)
	}
}
