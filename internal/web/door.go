package web

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"sync"
	"time"

	"nextrung/internal/workout"
	"nextrung/reports"
)

// What the door allows: how long a sign-in lasts, and how many wrong passphrases it takes within a time from one address
// and from all of them (common practice, no source). A passphrase of coach.LeastPassphrase characters is not guessed
// in 60 tries; somebody with the right passphrase waits out the time while others guess, or uses another address.
const (
	signInLasts   = 12 * time.Hour
	triesTime     = 15 * time.Minute
	triesOfOne    = 5
	triesOfAll    = 60
	cookieName    = "nextrung"
	signInPath    = "/sign-in"
	signOutPath   = "/sign-out"
	runningPath   = "/running"
	clientsPrefix = "/c/"
)

// Lock is what a door asks about passphrases: coach.Coach is one.
type Lock interface {
	IsPassphrase(ctx context.Context, passphrase string) (bool, error)
	PassphraseMark(ctx context.Context) (workout.Digest, error)
}

// Door lets in anybody who knows the passphrase, for a time or until another passphrase is set. Its methods may be called from several goroutines.
type Door struct {
	lock Lock
	now  func() time.Time

	one      sync.Mutex // one passphrase is checked at a time: each check takes much memory on purpose
	mutex    sync.Mutex
	signedIn map[[sha256.Size]byte]signedIn // by the digest of the cookie's word
	wrong    []try                          // the last wrong ones, oldest first
}

// signedIn is a sign-in: when it ends, and the mark of the passphrase that was given.
type signedIn struct {
	end  time.Time
	mark workout.Digest
}

// try is a wrong passphrase.
type try struct {
	at   time.Time
	from string
}

// NewDoor makes a door with a lock.
func NewDoor(lock Lock, now func() time.Time) *Door {
	return &Door{lock: lock, now: now, signedIn: map[[sha256.Size]byte]signedIn{}}
}

// kept serves h to those who have signed in and leads everybody else to the door. A desk without a door is open.
func (d *Door) kept(h http.Handler) http.Handler {
	if d == nil {
		return h
	}
	mux := http.NewServeMux()
	mux.HandleFunc("GET "+signInPath, func(w http.ResponseWriter, _ *http.Request) { d.ask(w, http.StatusOK, nil) })
	mux.Handle("POST "+signInPath, limited(maxForm, http.HandlerFunc(d.signIn)))
	mux.HandleFunc("POST "+signOutPath, d.signOut)
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		switch path := r.URL.Path; {
		case path == runningPath, path == "/"+reports.ServedStyle, strings.HasPrefix(path, clientsPrefix), d.knows(r):
			h.ServeHTTP(w, r)
		case r.Method == http.MethodGet:
			http.Redirect(w, r, signInPath, http.StatusSeeOther)
		default:
			d.ask(w, http.StatusUnauthorized, []string{"You are signed out, and nothing was entered. Sign in, go back and send it again."})
		}
	})
	return mux
}

// knows says whether a request comes from somebody who has signed in.
func (d *Door) knows(r *http.Request) bool {
	c, err := r.Cookie(d.cookie(r))
	if err != nil {
		return false
	}
	mark, err := d.lock.PassphraseMark(r.Context())
	d.mutex.Lock()
	defer d.mutex.Unlock()
	in, ok := d.signedIn[sha256.Sum256([]byte(c.Value))]
	return ok && err == nil && in.mark == mark && d.now().Before(in.end)
}

// cookie is the cookie's name: with the prefix that binds it to this host where the line is encrypted.
func (d *Door) cookie(r *http.Request) string {
	if r.TLS != nil {
		return "__Host-" + cookieName
	}
	return cookieName
}

func (d *Door) signIn(w http.ResponseWriter, r *http.Request) {
	if err := r.ParseForm(); err != nil {
		d.ask(w, http.StatusBadRequest, []string{"The form could not be read."})
		return
	}
	d.one.Lock()
	defer d.one.Unlock()
	from := source(r)
	if d.tooMany(from) {
		d.ask(w, http.StatusTooManyRequests, []string{"Too many wrong passphrases. Wait a quarter of an hour."})
		return
	}
	mark, err := d.lock.PassphraseMark(r.Context()) // first: one that is set meanwhile ends this sign-in as well
	ok := false
	if err == nil {
		ok, err = d.lock.IsPassphrase(r.Context(), r.PostFormValue("passphrase"))
	}
	switch {
	case err != nil:
		d.ask(w, http.StatusInternalServerError, []string{"The book could not be read."})
	case !ok:
		d.mutex.Lock()
		d.wrong = append(d.wrong, try{d.now(), from})
		d.mutex.Unlock()
		d.ask(w, http.StatusForbidden, []string{"That is not the passphrase."})
	default:
		word := rand.Text()
		d.mutex.Lock()
		now := d.now()
		for known, in := range d.signedIn {
			if !now.Before(in.end) {
				delete(d.signedIn, known)
			}
		}
		d.signedIn[sha256.Sum256([]byte(word))] = signedIn{now.Add(signInLasts), mark}
		d.mutex.Unlock()
		http.SetCookie(w, &http.Cookie{
			Name: d.cookie(r), Value: word, Path: "/", MaxAge: int(signInLasts / time.Second),
			HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: r.TLS != nil,
		})
		http.Redirect(w, r, "/", http.StatusSeeOther)
	}
}

// signOut signs out the browser that asks.
func (d *Door) signOut(w http.ResponseWriter, r *http.Request) {
	if c, err := r.Cookie(d.cookie(r)); err == nil {
		d.mutex.Lock()
		delete(d.signedIn, sha256.Sum256([]byte(c.Value)))
		d.mutex.Unlock()
	}
	http.SetCookie(w, &http.Cookie{Name: d.cookie(r), Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: r.TLS != nil})
	http.Redirect(w, r, signInPath, http.StatusSeeOther)
}

// tooMany says whether an address, or all of them together, have been wrong too often lately.
func (d *Door) tooMany(from string) bool {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	since := d.now().Add(-triesTime)
	d.wrong = slices.DeleteFunc(d.wrong, func(t try) bool { return !t.at.After(since) })
	of := 0
	for _, t := range d.wrong {
		if t.from == from {
			of++
		}
	}
	return of >= triesOfOne || len(d.wrong) >= triesOfAll
}

// source is where a request comes from: its address or, with IPv6, its network, since one computer has many addresses.
func source(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	ip, err := netip.ParseAddr(host)
	if err != nil || !ip.Is6() || ip.Is4In6() {
		return host
	}
	network, err := ip.WithZone("").Prefix(64)
	if err != nil {
		return host
	}
	return network.String()
}

// ask shows the form for the passphrase.
func (d *Door) ask(w http.ResponseWriter, code int, wrong []string) {
	forms, err := fill("sign-in", result{Wrong: wrong})
	if err == nil {
		err = write(w, code, func() ([]byte, error) { return reports.PlainPage("Sign in", "", reports.ServedStyle, forms) })
	}
	if err != nil {
		http.Error(w, "The page could not be made.", http.StatusInternalServerError)
	}
}

// write makes a page and answers with it.
func write(w http.ResponseWriter, code int, page func() ([]byte, error)) error {
	b, err := page()
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	_, _ = w.Write(b) // who asked may have gone
	return nil
}
