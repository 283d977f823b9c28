package web

import (
	"context"
	"errors"
	"net"
	"net/http"
	"time"
)

// The desk's patience: for the head of a request, for an upload over a slow line, for an idle connection, and for
// what is still being answered when the desk stops.
const (
	headTime   = 5 * time.Second
	uploadTime = 10 * time.Minute
	idleTime   = 2 * time.Minute
	goodbye    = 5 * time.Second
)

// Serve answers under the address of a listener until the context ends; then it finishes what it has begun.
func (d *Desk) Serve(ctx context.Context, l net.Listener) error {
	own := l.Addr().String()
	_, port, err := net.SplitHostPort(own)
	if err != nil {
		return err
	}
	server := &http.Server{
		Handler:           d.Handler(own, net.JoinHostPort("localhost", port)),
		ReadHeaderTimeout: headTime, ReadTimeout: uploadTime, IdleTimeout: idleTime, MaxHeaderBytes: 64 << 10,
	}
	stopped := make(chan error, 1)
	go func() {
		<-ctx.Done()
		end, cancel := context.WithTimeout(context.Background(), goodbye)
		defer cancel()
		stopped <- server.Shutdown(end)
	}()
	if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-stopped
}
