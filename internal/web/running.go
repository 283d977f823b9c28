package web

import (
	"context"
	"crypto/rand"
	"crypto/tls"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"time"
)

// runningName is the file in the book's folder that says where its desk answers.
const runningName = "desk.json"

// running is what that file holds: the address of the desk and a random word, with which only the desk
// that wrote it answers. That gives away a file left behind by a crash.
type running struct {
	Address string `json:"address"` // "http://127.0.0.1:8080/"
	Word    string `json:"word"`
}

// Running is the address of the desk that runs on the book in a folder; "" if none answers.
func Running(ctx context.Context, dir string) string {
	r, err := readRunning(dir)
	if err != nil || r.Word == "" {
		return ""
	}
	ctx, cancel := context.WithTimeout(ctx, 2*time.Second)
	defer cancel()
	ask, err := http.NewRequestWithContext(ctx, http.MethodGet, r.Address+"running", nil)
	if err != nil {
		return ""
	}
	// Somebody who knows the word has read the file in the book's folder; a certificate would prove no more.
	client := http.Client{
		Transport:     &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
	defer client.CloseIdleConnections()
	answer, err := client.Do(ask)
	if err != nil {
		return ""
	}
	defer answer.Body.Close()
	word, err := io.ReadAll(io.LimitReader(answer.Body, 100))
	if err != nil || string(word) != r.Word {
		return ""
	}
	return r.Address
}

func readRunning(dir string) (r running, err error) {
	b, err := os.ReadFile(filepath.Join(dir, runningName))
	if err == nil {
		err = json.Unmarshal(b, &r)
	}
	return r, err
}

// announce writes where the desk answers, and gives what takes that back.
func (d *Desk) announce(address string) (func(), error) {
	path := filepath.Join(d.coach.Dir, runningName)
	d.word = rand.Text()
	b, err := json.Marshal(running{address, d.word})
	if err == nil {
		err = os.WriteFile(path+".tmp", b, 0o600)
	}
	if err == nil {
		err = os.Rename(path+".tmp", path)
	}
	return func() {
		if r, err := readRunning(d.coach.Dir); err == nil && r.Word == d.word { // else another desk has started since
			os.Remove(path)
		}
	}, err
}

// here answers whether this is the desk that the book's folder names.
func (d *Desk) here(w http.ResponseWriter, _ *http.Request) {
	io.WriteString(w, d.word)
}
