package web_test

import (
	"bufio"
	"context"
	"fmt"
	"net"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"nextrung/internal/web"
	"nextrung/internal/workout"
)

// Somebody who looks while files are taken in is told of each as it is done, and does not keep the desk from stopping.
func TestEachFileIsToldAsItIsDone(t *testing.T) {
	d := open(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	desk := web.New(d.Coach, func() workout.Date { return today }, time.Now)
	d.handler = desk.Handler(host)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	stopped := make(chan error, 1)
	go func() { stopped <- desk.Serve(ctx, l) }()
	answer, err := http.Get("http://" + l.Addr().String() + "/arrivals")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if kind := answer.Header.Get("Content-Type"); kind != "text/event-stream" {
		t.Fatalf("the stream is %s", kind)
	}
	const files = 5
	sent := []file{{"photo.jpg", []byte("a photo")}}
	for i := range files {
		sent = append(sent, file{fmt.Sprintf("%d.tcx", i), walk(t, today-workout.Date(1+2*i))})
	}
	go func() { d.upload("Runa", sent...) }()
	var told []string
	for lines := bufio.NewScanner(answer.Body); lines.Scan(); {
		line, isData := strings.CutPrefix(lines.Text(), "data: ")
		if !isData {
			continue
		}
		told = append(told, line)
		if strings.Contains(line, "<b>6 of 6</b>") {
			break
		}
	}
	// Of changes that follow one another closely only the last may be told, so that a slow reader holds nobody up.
	if n := len(slices.Compact(slices.Clone(told))); n != len(told) || n < 3 {
		t.Errorf("%d events, %d different", len(told), n)
	}
	if all := strings.Join(told, ""); !strings.Contains(all, "photo.jpg: refused") || !strings.Contains(all, " of 6</b>") {
		t.Errorf("told:\n%s", strings.Join(told, "\n"))
	}
	stop()
	select {
	case err := <-stopped:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(time.Minute):
		t.Fatal("a reader keeps the desk from stopping")
	}
}
