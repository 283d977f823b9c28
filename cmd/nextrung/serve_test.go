package main

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"io"
	"math/big"
	"net"
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

// Without a command a desk starts, on a book that is made if there is none, and opens in the browser at what to do first.
func TestStartWithoutACommand(t *testing.T) {
	t.Setenv("HOME", t.TempDir())
	for name, browse := range map[string]func(*written) func(string) error{
		"browser": func(w *written) func(string) error {
			return func(address string) error { _, err := w.Write([]byte("opened " + address)); return err }
		},
		"broken browser": func(*written) func(string) error {
			return func(string) error { return errors.New("no screen") }
		},
		"none": func(*written) func(string) error { return nil },
	} {
		ctx, stop := context.WithCancel(context.Background())
		var out written
		book := filepath.Join(t.TempDir(), "book")
		s := surroundings{in: strings.NewReader(""), out: &out, err: &out, now: time.Now, browse: browse(&out)}
		code := make(chan int)
		go func() { code <- run(ctx, []string{"--book", book}, s) }()
		want := map[string]string{"browser": "opened http://127.0.0.1:", "broken browser": "no screen", "none": "yourself"}[name]
		for began := time.Now(); !strings.Contains(out.text(), want) || !strings.Contains(out.text(), "first.html"); time.Sleep(10 * time.Millisecond) {
			if time.Since(began) > 20*time.Second {
				t.Fatalf("%s: %s", name, out.text())
			}
		}
		stop()
		if c := <-code; c != 0 || !coach.Exists(book) {
			t.Errorf("%s: exit code %d", name, c)
		}
	}
}

// Beyond this computer the desk asks who comes, on an encrypted line where it has a certificate.
func TestServeBeyond(t *testing.T) {
	book := filepath.Join(t.TempDir(), "book")
	co, err := coach.Open(context.Background(), book)
	if err == nil {
		err = errors.Join(co.SetPassphrase(context.Background(), "gulls over the harbour"), co.Close())
	}
	if err != nil {
		t.Fatal(err)
	}
	cert, key := certificate(t)
	for _, encrypted := range []bool{false, true} {
		args := []string{"--book", book, "serve", "--addr", "0.0.0.0:0", "--host", "desk.ferry.example"}
		if encrypted {
			args = append(args, "--tls-cert", cert, "--tls-key", key)
		}
		ctx, stop := context.WithCancel(context.Background())
		var out written
		code := make(chan int)
		go func() {
			code <- run(ctx, args, surroundings{in: strings.NewReader(""), out: &out, err: &out, now: time.Now})
		}()
		address := regexp.MustCompile(`The desk: (https?://127\.0\.0\.1:\d+/)`)
		for began := time.Now(); address.FindString(out.text()) == ""; time.Sleep(10 * time.Millisecond) {
			if time.Since(began) > 20*time.Second {
				t.Fatal(out.text())
			}
		}
		to := address.FindStringSubmatch(out.text())[1]
		if strings.HasPrefix(to, "https") != encrypted || strings.Contains(out.text(), "can read the passphrase") == encrypted || !strings.Contains(out.text(), "desk.ferry.example:") {
			t.Errorf("%s", out.text())
		}
		client := http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}}}
		got, err := client.Get(to)
		if err != nil {
			t.Fatal(err)
		}
		page, err := io.ReadAll(got.Body)
		got.Body.Close()
		if err != nil || !strings.Contains(string(page), "Passphrase") {
			t.Errorf("nobody is asked: %s %v", page, err)
		}
		if !strings.Contains(out.text(), "status=303") {
			t.Errorf("no line for the request: %s", out.text())
		}
		client.CloseIdleConnections()
		stop()
		if c := <-code; c != 0 {
			t.Errorf("exit code %d: %s", c, out.text())
		}
	}
}

// certificate makes a certificate of its own, and its key, as files.
func certificate(t *testing.T) (cert, key string) {
	t.Helper()
	pair, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := x509.Certificate{SerialNumber: big.NewInt(1), NotAfter: time.Now().Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	der, err := x509.CreateCertificate(rand.Reader, &template, &template, &pair.PublicKey, pair)
	if err != nil {
		t.Fatal(err)
	}
	private, err := x509.MarshalPKCS8PrivateKey(pair)
	if err != nil {
		t.Fatal(err)
	}
	cert, key = filepath.Join(t.TempDir(), "desk.crt"), filepath.Join(t.TempDir(), "desk.key")
	for name, block := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: der}, key: {Type: "PRIVATE KEY", Bytes: private}} {
		if err := os.WriteFile(name, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return cert, key
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
	var opened written
	s := surroundings{in: strings.NewReader(""), out: &out, err: &out, now: time.Now, browse: func(address string) error {
		_, err := opened.Write([]byte(address + "\n"))
		return err
	}}
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
	// Without a command, the desk that runs on the book is opened, and no second one.
	if c := run(ctx, []string{"--book", book}, s); c != 0 || opened.text() != address.FindString(out.text())+"\n" {
		t.Errorf("exit code %d, opened %q", c, opened.text())
	}
	stop()
	if c := <-code; c != 0 {
		t.Errorf("stopped with exit code %d: %s", c, out.text())
	}
}
