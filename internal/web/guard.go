package web

import (
	"net/http"
	"slices"
	"sync"

	"nextrung/reports"
)

// The most that a request may bring, in bytes.
const (
	maxForm   = 256 << 10
	maxAnswer = 64 << 10 // a client's message: answers.MaxText also where each letter takes three bytes in a form
	maxUpload = 512 << 20
)

func limited(n int64, h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Body = http.MaxBytesReader(w, r.Body, n)
		h.ServeHTTP(w, r)
	})
}

// contentPolicy is worked out once: it names the charts' runtime, which is large, by its digest.
var contentPolicy = sync.OnceValue(reports.ServedPolicy)

// guarded keeps other sites out: a request names one of the hosts, so that no name that somebody points at this
// computer reaches the desk; an act comes from the desk's own pages; no page is shown inside another or kept by
// the browser.
func guarded(h http.Handler, hosts []string) http.Handler {
	own := http.NewCrossOriginProtection().Handler(h)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range map[string]string{
			"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store",
			"Content-Security-Policy": contentPolicy(), "Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
		} {
			w.Header().Set(name, value)
		}
		if !slices.Contains(hosts, r.Host) {
			http.Error(w, "This desk answers only under its own address.", http.StatusMisdirectedRequest)
			return
		}
		own.ServeHTTP(w, r)
	})
}
