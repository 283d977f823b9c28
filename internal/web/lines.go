package web

import (
	"log/slog"
	"net/http"
	"time"
)

// logged writes a line after each request: the template of its path, never the path itself, which may hold a client's
// name or link; no field of a form; no address.
func (d *Desk) logged(h http.Handler) http.Handler {
	if d.Log == nil {
		return h
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		began := time.Now()
		seen := &answered{ResponseWriter: w, code: http.StatusOK}
		h.ServeHTTP(seen, r)
		d.Log.LogAttrs(r.Context(), slog.LevelInfo, "request", slog.String("path", pathTemplate(r)), slog.Int("status", seen.code), slog.Int64("ms", time.Since(began).Milliseconds()))
	})
}

// pathTemplate is the pattern that a request's path fits, with its method; "none" for a path without a handler.
func pathTemplate(r *http.Request) string {
	if r.Pattern == "" {
		return "none"
	}
	return r.Pattern
}

// answered remembers the status of an answer.
type answered struct {
	http.ResponseWriter
	code int
}

func (a *answered) WriteHeader(code int) {
	a.code = code
	a.ResponseWriter.WriteHeader(code)
}

// Unwrap lets http.ResponseController reach the connection.
func (a *answered) Unwrap() http.ResponseWriter { return a.ResponseWriter }
