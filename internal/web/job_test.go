package web_test

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

var planField = regexp.MustCompile(`name="plan" value="([^"]*)"`)

// What was sent is kept until another plan stands, and can be taken back; an old page says so.
func TestWhatWasSentIsKept(t *testing.T) {
	d := open(t)
	for _, ago := range []workout.Date{1, 3, 5} {
		d.upload("Runa", file{fmt.Sprintf("%d.tcx", ago), walk(t, today-ago)})
	}
	_, page := d.get("/?open=Runa")
	contains(t, page, "2 left", "The whole message")
	plan := planField.FindStringSubmatch(page)
	if plan == nil {
		t.Fatal("the page has no plan to send")
	}
	form := []string{"client", "Runa", "page", "roster.html"}
	_, page = d.post("/sent", append(form, "plan", "of last week")...)
	contains(t, page, "Something has come in since this page was opened", "2 left")
	_, page = d.post("/sent", append(form, "plan", plan[1])...)
	contains(t, page, "1 left", "Plan sent.", `id="row-runa"`)
	if ticks, err := d.Ticks(t.Context(), "Runa"); err != nil || len(ticks) != 1 || ticks[0].Day != today {
		t.Errorf("%v, %v", ticks, err)
	}
	d.post("/decide", "client", "Runa", "act", "ease", "because", "she slept badly", "by", "Marit", "rests", d.rests("Runa"))
	_, page = d.get("/")
	contains(t, page, "The plan has changed: send it again", "2 left", "Eased on 4 Oct")
	_, page = d.post("/sent", append(form, "undo", "yes")...)
	if strings.Contains(page, "send it again") {
		t.Error("taken back, and still there")
	}
}

// From an opened row and from the decision page a tap leads to what else there is of a client, and the decision page,
// which has the plan already, keeps the message folded and lists no days beside it.
func TestAClientsFurtherPagesAreOneTapAway(t *testing.T) {
	d := open(t)
	for _, path := range []string{"/?open=Runa", "/decision-runa.html"} {
		_, page := d.get(path)
		contains(t, page, `href="facts-runa.html"`, `href="notes-runa.html"`, `href="recordings-runa.html"`, `href="tests-runa.html"`, "<details><summary>The whole message")
		if listed := strings.Contains(page, `class="days-short"`); listed != (path == "/?open=Runa") {
			t.Errorf("%s: days listed in the panel: %v", path, listed)
		}
	}
}

// One tap accepts what is recommended, on this page only; the same day's decision can be taken back.
func TestOneTapAccepts(t *testing.T) {
	d := open(t)
	d.post("/answers", "client", "Runa", "on", today.String(), "step", "enter", "text", "chest pain on Saturday's walk")
	_, page := d.get("/?open=Runa")
	contains(t, page, "A doctor first")
	rests := hidden.FindStringSubmatch(page)
	if rests == nil {
		t.Fatal("no form")
	}
	form := []string{"client", "Runa", "page", "roster.html", "accept", "yes"}
	_, page = d.post("/decide", append(form, "rests", "of yesterday")...)
	contains(t, page, "Something has come in since")
	_, page = d.post("/decide", append(form, "rests", d.rests("Runa"))...)
	contains(t, page, "Decided: refer", "Sent to a doctor on 4 Oct")
	all := d.record("Runa").Decisions
	if len(all) != 1 || all[0].Act != record.DoRefer || all[0].Because != "As recommended." || all[0].By != "Marit" {
		t.Fatalf("%+v", all)
	}
	_, page = d.post("/decide", "client", "Runa", "page", "roster.html", "undo", "yes", "rests", d.rests("Runa"))
	contains(t, page, "Decided: hold")
	if all = d.record("Runa").Decisions; len(all) != 2 || all[1].Act != record.DoHold {
		t.Errorf("%+v", all)
	}
}

// Nothing is decided, sent or answered over a message that was typed and not entered: a sign in it would be lost.
func TestAMessageThatIsNotEnteredComesFirst(t *testing.T) {
	d := open(t)
	for _, ago := range []workout.Date{1, 3, 5} {
		d.upload("Runa", file{fmt.Sprintf("%d.tcx", ago), walk(t, today-ago)})
	}
	d.post("/answers", "client", "Runa", "on", today.String(), "step", "enter", "text", "bit tight across the chest on the hill today")
	_, page := d.get("/?open=Runa")
	for _, act := range []string{"decide", "sent", "question"} {
		for _, form := range regexp.MustCompile(`<form [^>]*action="`+act+`"[^>]*>`).FindAllString(page, -1) {
			if strings.Contains(form, "#row-runa") {
				contains(t, form, `hx-include="#row-runa .wrote textarea,#row-runa .wrote [type=date]"`)
			}
		}
	}
	q := d.record("Runa").Unanswered()[0]
	notes := len(d.record("Runa").Notes)
	typed := []string{"client", "Runa", "page", "roster.html", "text", "Sat my jaw ached on the hill"}
	for path, fields := range map[string][]string{
		"/decide":   {"accept", "yes", "rests", d.rests("Runa"), "on", (today - 1).String()},
		"/sent":     {"plan", planField.FindStringSubmatch(page)[1], "on", (today - 1).String()},
		"/question": {"on", q.On.String(), "sign", string(q.Sign), "so", "no"},
	} {
		_, page := d.post(path, append(fields, typed...)...)
		contains(t, page, "What Runa wrote is not entered yet", ">Sat my jaw ached on the hill</textarea>", "kept as a remark")
		if path != "/question" {
			contains(t, page, `name="on" value="`+(today-1).String()+`"`)
		}
	}
	ticks, err := d.Ticks(t.Context(), "Runa")
	if err != nil {
		t.Fatal(err)
	}
	if r := d.record("Runa"); len(r.Decisions)+len(ticks) != 0 || len(r.Notes) != notes {
		t.Errorf("%d decisions, %d ticks, %d notes instead of %d", len(r.Decisions), len(ticks), len(r.Notes), notes)
	}
}

// A question that somebody has answered meanwhile is not answered a second time.
func TestAQuestionIsAnsweredOnce(t *testing.T) {
	d := open(t)
	d.post("/answers", "client", "Runa", "on", today.String(), "step", "enter", "text", "bit tight across the chest on the hill today")
	q := d.record("Runa").Unanswered()[0]
	form := []string{"client", "Runa", "page", "roster.html", "on", q.On.String(), "sign", string(q.Sign), "so", "no"}
	d.post("/question", form...)
	notes := len(d.record("Runa").Notes)
	_, page := d.post("/question", append(form[:len(form)-1], "yes")...)
	contains(t, page, "no longer open")
	if n := len(d.record("Runa").Notes); n != notes {
		t.Errorf("%d notes, want %d", n, notes)
	}
}

// What holds until a question is answered stands beside it, and a sign on record stays before a question.
func TestASignOnRecordStandsBeforeAQuestion(t *testing.T) {
	d := open(t)
	d.post("/answers", "client", "Ketil", "on", today.String(), "step", "enter", "text", "bit tight across the chest on the hill today")
	_, page := d.get("/")
	contains(t, page, "No training until the answer is entered.", "tight across the chest")
	d.post("/answers", "client", "Ketil", "on", today.String(), "step", "enter", "text", "fainted on Friday's walk")
	_, page = d.get("/")
	at := strings.Index(page, "On record: ")
	if at < 0 || at > strings.Index(page, "tight across the chest") {
		t.Error("the sign on record does not stand before the question")
	}
	contains(t, page, "No training until a doctor has cleared the client", "tight across the chest")
}

// Facts that contradict each other are asked about in words, and confirmed by a tap.
func TestAContradictionIsConfirmed(t *testing.T) {
	d := open(t)
	if _, err := d.ChangeClient(t.Context(), "Ketil", coach.Facts{"sex": "male", "conditions": "pregnant"}, today); err != nil {
		t.Fatal(err)
	}
	_, page := d.get("/")
	contains(t, page, "Asked: what is on record is right")
	confirm := regexp.MustCompile(`name="confirm" value="([^"]*)"`).FindStringSubmatch(page)
	_, page = d.post("/question", "client", "Ketil", "page", "roster.html", "confirm", confirm[1])
	contains(t, page, "Entered for Ketil")
	if strings.Contains(page, "Asked: what is on record is right") {
		t.Error("the question is still asked")
	}
	if _, page = d.post("/question", "client", "Ketil", "page", "roster.html", "confirm", "nonsense"); !strings.Contains(page, "nonsense") {
		t.Error("nonsense was confirmed")
	}
}

// A second recording of the same time with another heart rate is asked about.
func TestATwinIsAskedAbout(t *testing.T) {
	d := open(t)
	d.upload("Runa", file{"watch.tcx", walk(t, today-1)})
	plan := workout.Plan{Mode: workout.Walk, Steps: []workout.Step{{Kind: workout.Steady, Seconds: 1800, Low: 150, High: 160}}}
	w, _ := simulate.Play(plan, simulate.Beginner(70, 190), simulate.Options{Start: (today - 1).Time().Add(7 * 3600e9), Seed: 5})
	other, err := recording.Encode("tcx", w)
	if err != nil {
		t.Fatal(err)
	}
	d.upload("Runa", file{"friend.tcx", other})
	_, page := d.get("/")
	contains(t, page, "someone else's", "Both are Runa’s", "Leave out friend.tcx")
	id := regexp.MustCompile(`name="id" value="([^"]*)"`).FindStringSubmatch(page)[1]
	form := []string{"client", "Runa", "page", "roster.html", "id", id}
	_, page = d.post("/twin", form...)
	contains(t, page, "The answer is missing")
	_, page = d.post("/twin", append(form, "so", "own")...)
	if strings.Contains(page, "Leave out friend.tcx") {
		t.Error("the question is still asked")
	}
	if err := d.Untick(t.Context(), "Runa", record.ConfirmedAs, today); err != nil {
		t.Fatal(err)
	}
	_, page = d.post("/twin", append(form, "so", "out")...)
	contains(t, page, "Left out")
	for _, rec := range d.record("Runa").Recordings {
		if rec.ID == id && rec.Aside.Code != record.Excluded {
			t.Errorf("it stands as %q", rec.Aside.Code)
		}
	}
}

// Files that nobody has claimed: every refusal is said, and a folder that is dropped keeps its names.
func TestClaims(t *testing.T) {
	d := open(t)
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	for _, name := range []string{"Runa/one.tcx", "../../../two.tcx"} {
		part, err := m.CreatePart(map[string][]string{"Content-Disposition": {fmt.Sprintf(`form-data; name="file"; filename=%q`, name)}})
		if err != nil {
			t.Fatal(err)
		}
		part.Write(walk(t, today-workout.Date(len(name))))
	}
	m.Close()
	r := httptest.NewRequest(http.MethodPost, "/take-in", &b)
	r.Header.Set("Content-Type", m.FormDataContentType())
	_, page := d.send(r)
	contains(t, page, "2 kept: say whose", "with Runa in the name", "Yes, Runa’s", "two.tcx")
	if _, err := os.Stat(filepath.Join(filepath.Dir(d.Dir), "two.tcx")); err == nil {
		t.Error("a name led out of the folder")
	}
	ids := regexp.MustCompile(`name="file" value="([^"]*)"`).FindAllStringSubmatch(page, -1)
	for _, c := range []struct {
		says   string
		fields []string
	}{
		{"Choose whose files these are", []string{"file", ids[0][1]}},
		{"No file was chosen", []string{"client", "Runa"}},
		{"no longer there", []string{"client", "Runa", "file", "0000"}},
		{"is not a day", []string{"client", "Runa", "file", ids[0][1], "day", "tomorrow"}},
		{"is not in the book", []string{"client", "Nobody", "file", ids[0][1]}},
	} {
		_, page := d.post("/claim", c.fields...)
		contains(t, page, c.says)
	}
	if n := len(d.record("Runa").Recordings); n != 0 {
		t.Fatalf("%d recordings before anybody said so", n)
	}
	for _, id := range ids {
		_, page = d.post("/claim", "client", "Runa", "file", id[1])
		contains(t, page, "Runa, ", "entered")
	}
	if n := len(d.record("Runa").Recordings); n != 2 {
		t.Errorf("%d recordings", n)
	}
	d.upload("", file{"photo.jpg", []byte("a photo")})
	_, page = d.get("/")
	contains(t, page, "1 refused", "photo.jpg")
	put := regexp.MustCompile(`name="id" value="([^"]*)"`).FindStringSubmatch(page)
	if _, page = d.post("/put-away", "id", put[1]); strings.Contains(page, "photo.jpg") {
		t.Error("a file that was put away is still listed")
	}
}

// A file without a date, or an old one, waits with its year and is asked about where the answer can be given, whichever
// client it was handed in for.
func TestAFileOfNoDayIsAskedAbout(t *testing.T) {
	d := open(t)
	undated := []byte("seconds,heart_rate\n")
	for s := range 900 {
		undated = fmt.Appendf(undated, "%d,%d\n", s, 100+s%7)
	}
	_, page := d.upload("Runa", file{"table.csv", undated}, file{"old.tcx", walk(t, workout.MustDate("2016-04-02"))})
	contains(t, page, "has no date", "Yes, Runa’s", "no day, ", "2 April 2016, ")
	if strings.Contains(page, "refused") || strings.Contains(page, "in the drop folder") {
		t.Error("a file that must be asked about was refused, or lies where nothing can be answered")
	}
	for _, id := range regexp.MustCompile(`name="file" value="([^"]*)" checked> Runa/table.csv`).FindAllStringSubmatch(page, -1) {
		_, page = d.post("/claim", "client", "Runa", "file", id[1], "day", (today - 2).String())
		contains(t, page, "entered; 2 October 2026")
	}
	if n := len(d.record("Runa").Recordings); n != 1 {
		t.Errorf("%d recordings", n)
	}
}

// What lies in the drop folder is counted when the page is opened.
func TestTheDropFolderIsCounted(t *testing.T) {
	d := open(t)
	path := filepath.Join(d.DropFolder("Runa"), "walk.tcx")
	if err := os.WriteFile(path, walk(t, today-1), 0o600); err != nil {
		t.Fatal(err)
	}
	_, page := d.get("/")
	contains(t, page, "<b>1</b> in the drop folder", "Take in what is there")
	_, page = d.post("/drop")
	contains(t, page, "Runa, walk.tcx: entered")
	if strings.Contains(page, "in the drop folder") {
		t.Error("it is still counted")
	}
}
