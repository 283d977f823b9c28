package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"nextrung/internal/coach"
)

// written is what a command wrote while it runs.
type written struct {
	sync.Mutex
	bytes.Buffer
}

func (w *written) Write(b []byte) (int, error) {
	w.Lock()
	defer w.Unlock()
	return w.Buffer.Write(b)
}

func (w *written) text() string {
	w.Lock()
	defer w.Unlock()
	return w.String()
}

// The desk answers under the address that it prints until it is stopped, and on this computer only.
func TestServe(t *testing.T) {
	book := filepath.Join(t.TempDir(), "book")
	co, err := coach.Open(context.Background(), book)
	if err != nil {
		t.Fatal(err)
	}
	co.Close()
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	var out written
	s := surroundings{in: strings.NewReader(""), out: &out, err: &out, now: time.Now, getenv: os.Getenv}
	for _, addr := range []string{"0.0.0.0:0", "192.0.2.1:8080", ":8080", "nowhere"} {
		if code := run(ctx, []string{"--book", book, "serve", "--addr", addr}, s); code == 0 {
			t.Errorf("--addr %s was taken", addr)
		}
	}
	code := make(chan int)
	go func() { code <- run(ctx, []string{"--book", book, "serve"}, s) }()
	address := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`)
	for address.FindString(out.text()) == "" {
		time.Sleep(10 * time.Millisecond)
	}
	got, err := http.Get(address.FindString(out.text()))
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(got.Body)
	got.Body.Close()
	if err != nil || got.StatusCode != http.StatusOK || !strings.Contains(string(page), "There are no clients") {
		t.Errorf("%d %v: %s", got.StatusCode, err, page)
	}
	stop()
	if c := <-code; c != 0 {
		t.Errorf("stopped with exit code %d: %s", c, out.text())
	}
}
