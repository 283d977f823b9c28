package web_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/draw"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	qr "github.com/piglig/go-qr"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

const passphrase = "gulls over the harbour"

// kept is a desk behind a door, with a clock that the test sets.
type kept struct {
	desk
	now *time.Time
	log *bytes.Buffer
}

// oneWord is a lock without the work of a digest.
type oneWord string

func (w oneWord) IsPassphrase(_ context.Context, p string) (bool, error) { return p == string(w), nil }
func (w oneWord) PassphraseMark(context.Context) (workout.Digest, error) {
	return workout.Digest{}, nil
}

func openKept(t *testing.T) kept {
	t.Helper()
	d := open(t)
	if err := d.SetPassphrase(t.Context(), passphrase); err != nil {
		t.Fatal(err)
	}
	now, log := today.Noon(time.UTC), &bytes.Buffer{}
	beyond := web.New(d.Coach, func() workout.Date { return today }, func() time.Time { return now })
	beyond.Door = web.NewDoor(d.Coach, func() time.Time { return now })
	beyond.Links = true
	beyond.Log = slog.New(slog.NewTextHandler(log, nil))
	d.handler = beyond.Handler(host)
	return kept{d, &now, log}
}

// from sends a request from an address with a cookie, and gives the answer as it is.
func (k kept) from(address, method, path, cookie string, form url.Values) *httptest.ResponseRecorder {
	k.t.Helper()
	r := httptest.NewRequest(method, path, strings.NewReader(form.Encode()))
	r.Host, r.RemoteAddr = host, net.JoinHostPort(address, "4000")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if cookie != "" {
		r.Header.Set("Cookie", cookie)
	}
	w := httptest.NewRecorder()
	k.handler.ServeHTTP(w, r)
	return w
}

func (k kept) signIn(address, passphrase string) *httptest.ResponseRecorder {
	return k.from(address, http.MethodPost, "/sign-in", "", url.Values{"passphrase": {passphrase}})
}

// cookie signs in.
func (k kept) cookie() string {
	k.t.Helper()
	w := k.signIn("192.0.2.1", passphrase)
	if w.Code != http.StatusSeeOther {
		k.t.Fatalf("%d: %s", w.Code, w.Body)
	}
	c := w.Result().Cookies()[0]
	if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || c.MaxAge <= 0 {
		k.t.Errorf("the cookie is not kept to this desk: %+v", c)
	}
	return c.Name + "=" + c.Value
}

// Nobody sees or does anything before signing in.
func TestTheDoorIsShut(t *testing.T) {
	k := openKept(t)
	for _, path := range []string{"/", "/roster.html", "/decision-runa.html", "/progress-runa.html", "/upkeep.html", "/policy.html", "/links.html", "/licences.html", "/desk.js", "/nothing"} {
		w := k.from("192.0.2.1", http.MethodGet, path, "", nil)
		if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/sign-in" || strings.Contains(w.Body.String(), "Runa") {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	for _, path := range []string{"/decide", "/forget", "/backup", "/restore", "/export", "/link", "/settings", "/take-in", "/try-policy", "/use-policy", "/verify", "/drop"} {
		w := k.from("192.0.2.1", http.MethodPost, path, "nextrung=guess", url.Values{"client": {"Runa"}, "typed": {"Runa"}})
		if w.Code != http.StatusUnauthorized {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	if len(k.clients()) != 2 {
		t.Error("somebody was forgotten")
	}
	if w := k.from("192.0.2.1", http.MethodGet, "/sign-in", "", nil); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "Passphrase") || strings.Contains(w.Body.String(), "This week") {
		t.Errorf("the door: %d", w.Code)
	}
}

// A sign-in opens the desk, lasts half a day, and ends when it is ended.
func TestSigningInAndOut(t *testing.T) {
	k := openKept(t)
	first, second := k.cookie(), k.cookie()
	if first == second {
		t.Fatal("two sign-ins have the same cookie")
	}
	open := func(cookie string) bool {
		return k.from("192.0.2.1", http.MethodGet, "/upkeep.html", cookie, nil).Code == http.StatusOK
	}
	if !open(first) || !open(second) || open(first+"x") || open("nextrung=") {
		t.Error("the cookie does not decide")
	}
	k.from("192.0.2.1", http.MethodPost, "/sign-out", first, nil)
	if open(first) || !open(second) {
		t.Error("signing out ends the wrong sign-in")
	}
	*k.now = k.now.Add(12*time.Hour - time.Second)
	if !open(second) {
		t.Error("it ended too early")
	}
	*k.now = k.now.Add(time.Second)
	if open(second) {
		t.Error("it does not end")
	}
}

// Guesses are limited from one address and from all together; afterwards the right passphrase opens again.
func TestGuessesAreLimited(t *testing.T) {
	k := openKept(t)
	for i := range 5 {
		if w := k.signIn("192.0.2.9", fmt.Sprint("guess ", i)); w.Code != http.StatusForbidden {
			t.Errorf("guess %d: %d", i, w.Code)
		}
	}
	if w := k.signIn("192.0.2.9", passphrase); w.Code != http.StatusTooManyRequests {
		t.Errorf("after five guesses: %d", w.Code)
	}
	if w := k.signIn("192.0.2.1", passphrase); w.Code != http.StatusSeeOther {
		t.Errorf("from another address: %d", w.Code)
	}
	*k.now = k.now.Add(16 * time.Minute)
	if w := k.signIn("192.0.2.9", passphrase); w.Code != http.StatusSeeOther {
		t.Errorf("after a quarter of an hour: %d", w.Code)
	}
	// One computer has many addresses of IPv6.
	for i := range 5 {
		k.signIn(fmt.Sprintf("2001:db8::%d", i+1), "guess")
	}
	if w := k.signIn("2001:db8::99", passphrase); w.Code != http.StatusTooManyRequests {
		t.Errorf("from the same network: %d", w.Code)
	}
	if w := k.signIn("2001:db8:1::1", passphrase); w.Code != http.StatusSeeOther {
		t.Errorf("from another network: %d", w.Code)
	}
}

// All addresses together have a limit, too. The passphrases are not really digested, which would take a minute.
func TestGuessesFromEverywhereAreLimited(t *testing.T) {
	now := today.Noon(time.UTC)
	k := kept{desk: open(t)}
	d := web.New(k.Coach, func() workout.Date { return today }, time.Now)
	d.Door = web.NewDoor(oneWord(passphrase), func() time.Time { return now })
	k.handler = d.Handler(host)
	for i := range 60 {
		if w := k.signIn(fmt.Sprintf("192.0.2.%d", i), "guess"); w.Code != http.StatusForbidden {
			t.Fatalf("guess %d: %d", i, w.Code)
		}
	}
	if w := k.signIn("198.51.100.1", passphrase); w.Code != http.StatusTooManyRequests {
		t.Errorf("%d", w.Code)
	}
}

// Lines say what was asked as a template: no name, no token, no figure, no passphrase.
func TestLinesHoldNoNames(t *testing.T) {
	k := openKept(t)
	token, err := k.MakeLink(t.Context(), "Runa", 9, true, today)
	if err != nil {
		t.Fatal(err)
	}
	cookie := k.cookie()
	k.signIn("192.0.2.77", "a wrong passphrase")
	for _, path := range []string{"/decision-runa.html", "/c/" + token, "/c/" + token + "/answers", "/upkeep.html?done=word", "/nothing/here"} {
		k.from("192.0.2.77", http.MethodGet, path, cookie, nil)
	}
	k.from("192.0.2.77", http.MethodPost, "/c/"+token+"/answers", "", url.Values{"text": {"effort 14, dizzy on the quay"}})
	text := k.log.String()
	for _, secret := range []string{"runa", "Runa", token, "192.0.2.77", passphrase, "wrong passphrase", "dizzy", "word", cookie} {
		if strings.Contains(text, secret) {
			t.Errorf("the lines hold %q", secret)
		}
	}
	contains(t, text, `path="GET /{file}"`, `path="GET /c/{token}"`, `path="POST /sign-in"`, "status=403", "status=404")
	if n := strings.Count(text, "\n"); n != 8 {
		t.Errorf("%d lines of 8 requests", n)
	}
}

// Every answer has the strict policy; nothing inline runs but what is named by its digest.
func TestContentPolicyOfEveryAnswer(t *testing.T) {
	k := openKept(t)
	cookie := k.cookie()
	for _, path := range []string{"/", "/sign-in", "/decision-runa.html", "/progress-runa.html", "/upkeep.html", "/policy.html", "/nothing", "/c/nothing", "/desk.css"} {
		w := k.from("192.0.2.1", http.MethodGet, path, cookie, nil)
		p := w.Header().Get("Content-Security-Policy")
		contains(t, p, "default-src 'none'", "frame-ancestors 'none'", "form-action 'self'", "base-uri 'none'")
		if strings.Contains(p, "unsafe") || strings.Contains(p, "*") {
			t.Errorf("%s: %s", path, p)
		}
		for _, style := range regexp.MustCompile(`<(?:style|script)>`).FindAllString(w.Body.String(), -1) {
			if !strings.Contains(p, "'sha256-") {
				t.Errorf("%s has an inline %s that the policy does not name", path, style)
			}
		}
		markup := regexp.MustCompile(`(?s)<script>.*?</script>`).ReplaceAllString(w.Body.String(), "")
		if inline := regexp.MustCompile(`\s(?:style|on[a-z]+)="`).FindString(markup); inline != "" {
			t.Errorf("%s: %s", path, inline)
		}
	}
}

// A link shows one client's page to everybody who has it, and answers foreign, ended and withdrawn tokens in the same way.
func TestClientsLinks(t *testing.T) {
	k := openKept(t)
	cookie := k.cookie()
	w := k.from("192.0.2.1", http.MethodPost, "/link", cookie, url.Values{"client": {"Runa"}, "days": {"30"}})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("%d: %s", w.Code, w.Body)
	}
	to, _, _ := strings.Cut(w.Header().Get("Location"), "#")
	page := k.from("192.0.2.1", http.MethodGet, "/"+strings.TrimPrefix(to, "/"), cookie, nil).Body.String()
	m := regexp.MustCompile(`http://` + regexp.QuoteMeta(host) + `/c/([\w-]{22})<`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal("the link is not shown")
	}
	runa := m[1]
	contains(t, page, `<svg class="code"`)
	if again := k.from("192.0.2.1", http.MethodGet, "/links.html", cookie, nil).Body.String(); strings.Contains(again, runa) {
		t.Error("the token is shown for ever")
	}
	get := func(token string) *httptest.ResponseRecorder {
		return k.from("203.0.113.5", http.MethodGet, "/c/"+token, "", nil)
	}
	own := get(runa)
	if own.Code != http.StatusOK || !strings.Contains(own.Body.String(), "Runa") {
		t.Fatalf("%d: %s", own.Code, own.Body)
	}
	for _, trainers := range []string{"Ketil", "This week", "desk.js", "decision-", "workout-", "<form", "/answers"} {
		if strings.Contains(own.Body.String(), trainers) {
			t.Errorf("the client's page holds %q", trainers)
		}
	}
	ended, err := k.MakeLink(t.Context(), "Ketil", 1, true, today-2)
	if err != nil {
		t.Fatal(err)
	}
	foreign := get("AAAAAAAAAAAAAAAAAAAAAA")
	if k.post("/withdraw-link", "client", "Runa"); get(runa).Code != http.StatusOK {
		t.Error("somebody who has not signed in withdrew a link")
	}
	k.from("192.0.2.1", http.MethodPost, "/withdraw-link", cookie, url.Values{"client": {"Runa"}})
	for name, token := range map[string]string{"withdrawn": runa, "ended": ended, "cut": runa[:21], "dots": "..", "long": strings.Repeat("A", 3000)} {
		w := get(token)
		if name != "dots" && (w.Code != http.StatusNotFound || w.Body.String() != foreign.Body.String() || fmt.Sprint(w.Header()) != fmt.Sprint(foreign.Header())) {
			t.Errorf("%s: %d, not as a foreign token: %s", name, w.Code, w.Body)
		}
		if w.Code == http.StatusOK {
			t.Errorf("%s leads somewhere", name)
		}
	}
}

// A client who looks before the trainer sees no new plan, and fixes none.
func TestALinkShowsOnlyPlansThatTheTrainerHasSeen(t *testing.T) {
	k := openKept(t)
	for _, ago := range []workout.Date{1, 3, 8, 10} {
		if err := k.AddReport(t.Context(), "Runa", reported(today-ago), false); err != nil {
			t.Fatal(err)
		}
	}
	token, err := k.MakeLink(t.Context(), "Runa", 30, false, today)
	if err != nil {
		t.Fatal(err)
	}
	own := func() string { return k.from("203.0.113.5", http.MethodGet, "/c/"+token, "", nil).Body.String() }
	if page := own(); strings.Contains(page, `id="next"`) || len(k.record("Runa").Prescriptions) > 0 {
		t.Errorf("%d plans were kept", len(k.record("Runa").Prescriptions))
	}
	k.from("192.0.2.1", http.MethodGet, "/decision-runa.html", k.cookie(), nil)
	if page := own(); !strings.Contains(page, `id="next"`) || len(k.record("Runa").Prescriptions) != 1 {
		t.Errorf("the plan is not shown; %d are kept", len(k.record("Runa").Prescriptions))
	}
}

// Without links, their addresses are nobody's.
func TestLinksAreOffByDefault(t *testing.T) {
	d := open(t)
	token, err := d.MakeLink(t.Context(), "Runa", 30, true, today)
	if err != nil {
		t.Fatal(err)
	}
	if code, _ := d.get("/c/" + token); code != http.StatusNotFound {
		t.Errorf("%d", code)
	}
	_, page := d.get("/links.html")
	contains(t, page, "Links are off")
	_, page = d.post("/link", "client", "Runa", "days", "a year", "answers", "yes")
	contains(t, page, "must be a whole number", `value="a year"`, `value="yes" checked`)
}

// A browser that was signed in with a passphrase somebody else knew is out as soon as another one is set.
func TestAnotherPassphraseSignsEverybodyOut(t *testing.T) {
	k := openKept(t)
	cookie := k.cookie()
	if w := k.from("192.0.2.1", http.MethodGet, "/", cookie, nil); w.Code != http.StatusOK {
		t.Fatal(w.Code)
	}
	if err := k.SetPassphrase(t.Context(), "a lantern on the breakwater"); err != nil {
		t.Fatal(err)
	}
	if w := k.from("192.0.2.1", http.MethodGet, "/", cookie, nil); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/sign-in" {
		t.Errorf("still signed in: %d", w.Code)
	}
	if w := k.signIn("192.0.2.1", "a lantern on the breakwater"); w.Code != http.StatusSeeOther {
		t.Errorf("the new passphrase: %d", w.Code)
	}
}

// A client answers on their own page; what may be a grave sign says at once what to do and is asked about as usual.
func TestAClientAnswers(t *testing.T) {
	k := openKept(t)
	k.AddReport(t.Context(), "Runa", reported(today-1), false)
	silent, err := k.MakeLink(t.Context(), "Ketil", 30, false, today)
	if err != nil {
		t.Fatal(err)
	}
	token, err := k.MakeLink(t.Context(), "Runa", 30, true, today)
	if err != nil {
		t.Fatal(err)
	}
	answer := func(token, text string) *httptest.ResponseRecorder {
		return k.from("203.0.113.5", http.MethodPost, "/c/"+token+"/answers", "", url.Values{"text": {text}})
	}
	if w := k.from("203.0.113.5", http.MethodGet, "/c/"+token, "", nil); !strings.Contains(w.Body.String(), "/c/"+token+"/answers") {
		t.Error("the page does not lead to the questions")
	}
	if w := k.from("203.0.113.5", http.MethodGet, "/c/"+token+"/answers", "", nil); w.Code != http.StatusOK || strings.Contains(w.Body.String(), "This week") || !strings.Contains(w.Body.String(), "stop and call emergency help") {
		t.Errorf("the questions: %d", w.Code)
	}
	if w := answer(token, "Sat 12, easy, 4"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "Your trainer will read it") {
		t.Errorf("%d: %s", w.Code, w.Body)
	}
	notes := k.record("Runa").Notes
	if len(notes) == 0 || notes[0].By != coach.FromClient || notes[0].RPE == nil {
		t.Errorf("%+v", notes)
	}
	w := answer(token, "chest felt tight on the pier today")
	contains(t, w.Body.String(), "Call emergency help now", "chest felt tight")
	if strings.Contains(w.Body.String(), "Your trainer will read it") {
		t.Error("a grave sign is met with thanks alone")
	}
	_, page := func() (int, string) {
		w := k.from("192.0.2.1", http.MethodGet, "/", k.cookie(), nil)
		return w.Code, w.Body.String()
	}()
	contains(t, page, "chest felt tight")
	before := len(k.record("Runa").Notes)
	if w := answer(token, "   "); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "is empty") {
		t.Errorf("empty: %d", w.Code)
	}
	if w := answer(token, "<script>alert(1)</script>"+strings.Repeat("a", 20<<10)); !strings.Contains(w.Body.String(), "is longer than") || strings.Contains(w.Body.String(), "<script>alert") {
		t.Errorf("too long: %d", w.Code)
	}
	if w := answer(token, strings.Repeat("walked along the quay\n", 1000)+"chest felt tight after that\n"+strings.Repeat("all easy\n", 900)); !strings.Contains(w.Body.String(), "is longer than") || !strings.Contains(w.Body.String(), "Call emergency help now") {
		t.Errorf("a grave sign in what is too long: %d", w.Code)
	}
	if w := answer(token, strings.Repeat("a", 400<<10)); w.Code != http.StatusRequestEntityTooLarge || !strings.Contains(w.Body.String(), signs.StopLine) {
		t.Errorf("oversize: %d", w.Code)
	}
	if w := answer(silent, "12"); w.Code != http.StatusNotFound || len(k.record("Ketil").Notes) > 0 {
		t.Errorf("a link that takes no answers: %d", w.Code)
	}
	if n := len(k.record("Runa").Notes); n != before {
		t.Errorf("%d notes, were %d", n, before)
	}
	// From another site.
	r := httptest.NewRequest(http.MethodPost, "/c/"+token+"/answers", strings.NewReader("text=12"))
	r.Host = host
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	cross := httptest.NewRecorder()
	k.handler.ServeHTTP(cross, r)
	if cross.Code != http.StatusForbidden {
		t.Errorf("from another site: %d", cross.Code)
	}
}

// A QR code holds the link: a reader other than the page reads it back from the picture's own modules.
func TestTheCodeHoldsTheLink(t *testing.T) {
	const link = "https://192.0.2.7:8443/c/AAAAAAAAAAAAAAAAAAAAAA"
	picture, err := web.QRPicture(link)
	if err != nil {
		t.Fatal(err)
	}
	img := drawn(t, string(picture))
	if read, err := qr.Decode(img); err != nil || read != link {
		t.Errorf("%q %v", read, err)
	}
}

// drawn paints the modules of a picture, ten dots for each.
func drawn(t *testing.T, svg string) image.Image {
	t.Helper()
	var size int
	if _, err := fmt.Sscanf(svg[strings.Index(svg, "viewBox"):], `viewBox="0 0 %d`, &size); err != nil {
		t.Fatal(err)
	}
	img := image.NewGray(image.Rect(0, 0, 10*size, 10*size))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	for _, m := range regexp.MustCompile(`M(\d+) (\d+)h1v1h-1z`).FindAllStringSubmatch(svg, -1) {
		x, _ := strconv.Atoi(m[1])
		y, _ := strconv.Atoi(m[2])
		draw.Draw(img, image.Rect(10*x, 10*y, 10*x+10, 10*y+10), image.Black, image.Point{}, draw.Src)
	}
	return img
}

func reported(on workout.Date) record.Report {
	return record.Report{Date: on, Entered: on, Minutes: 35, Sport: workout.Walking}
}
