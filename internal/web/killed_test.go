package web_test

import (
	"bufio"
	"bytes"
	"fmt"
	"mime/multipart"
	"net"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

// childBook names the book of a desk in a process of its own.
const childBook = "NEXTRUNG_TEST_DESK"

// TestDeskOfItsOwn is that process: it serves until it is killed.
func TestDeskOfItsOwn(t *testing.T) {
	dir := os.Getenv(childBook)
	if dir == "" {
		t.Skip("is started by TestAKilledDeskLosesNothing")
	}
	c, err := coach.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println("at", l.Addr())
	web.New(c, func() workout.Date { return today }, time.Now).Serve(t.Context(), l)
}

// A desk that is killed while it takes files in has lost none when it is started again, and doubled none.
func TestAKilledDeskLosesNothing(t *testing.T) {
	d := crew(t, 1)
	const files = 24
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	m.WriteField("client", "Hand0")
	for i := range files {
		part, err := m.CreateFormFile("file", fmt.Sprintf("%d.tcx", i))
		if err != nil {
			t.Fatal(err)
		}
		part.Write(walkOf(t, today-workout.Date(15+i), 3))
	}
	m.Close()
	d.t = t
	before := len(recordings(t, d.Coach))
	child := exec.Command(os.Args[0], "-test.run=^TestDeskOfItsOwn$", "-test.v")
	child.Env = append(os.Environ(), childBook+"="+d.Dir)
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	address := ""
	for lines := bufio.NewScanner(out); address == "" && lines.Scan(); {
		address, _ = strings.CutPrefix(lines.Text(), "at ")
		if !strings.HasPrefix(lines.Text(), "at ") {
			address = ""
		}
	}
	go http.Post("http://"+address+"/take-in", m.FormDataContentType(), &body)
	for began := time.Now(); len(recordings(t, d.Coach)) < before+3; time.Sleep(5 * time.Millisecond) {
		if time.Since(began) > time.Minute {
			child.Process.Kill()
			t.Fatal("nothing is taken in")
		}
	}
	child.Process.Kill()
	child.Wait()
	some := len(recordings(t, d.Coach)) - before
	left, err := d.InDrop(t.Context())
	if err != nil || some+left < files || some+left > files+1 { // one may be in the book and not yet out of the folder
		t.Errorf("%d in the book, %d in the drop folder, of %d; %v", some, left, files, err)
	}
	t.Logf("killed after %d of %d", some, files)
	_, page := d.get("/")
	contains(t, page, "Take in what is there")
	d.post("/drop")
	if n := len(recordings(t, d.Coach)) - before; n != files {
		t.Errorf("%d of %d in the end", n, files)
	}
	if wrong, err := d.Verify(t.Context(), nil, false); err != nil || len(wrong.Faults) > 0 {
		t.Errorf("the book: %v, %v", wrong, err)
	}
}

func recordings(t *testing.T, c *coach.Coach) []string {
	t.Helper()
	r, err := c.Record(t.Context(), "Hand0", today, false)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, rec := range r.Recordings {
		ids = append(ids, rec.ID)
	}
	return ids
}
