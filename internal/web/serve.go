package web

import (
	"context"
	"crypto/tls"
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

// Serve answers under the address of a listener until the context ends; then it finishes what it has begun. While it
// runs, a file in the book's folder says where: see Running.
func (d *Desk) Serve(ctx context.Context, l net.Listener) error {
	addresses, err := d.Addresses(l)
	if err != nil {
		return err
	}
	hosts := append([]string(nil), addresses...)
	if d.Certificate != nil {
		l = tls.NewListener(l, &tls.Config{Certificates: []tls.Certificate{*d.Certificate}, MinVersion: tls.VersionTLS12})
	}
	gone, err := d.announce(d.Address(addresses[0]))
	if err != nil {
		return err
	}
	defer gone()
	server := &http.Server{
		Handler:           d.Handler(hosts...),
		ReadHeaderTimeout: headTime, ReadTimeout: uploadTime, IdleTimeout: idleTime, MaxHeaderBytes: 64 << 10,
	}
	server.RegisterOnShutdown(d.end) // somebody who listens for news does not hold the desk up
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

// Address is where the desk answers under one of its hosts: "http://127.0.0.1:8080/".
func (d *Desk) Address(host string) string {
	if d.Certificate != nil {
		return "https://" + host + "/"
	}
	return "http://" + host + "/"
}

// Addresses are the hosts under which the desk answers on a listener, with the port, the one for this computer first
// where there is one.
func (d *Desk) Addresses(l net.Listener) ([]string, error) {
	host, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return nil, err
	}
	names := []string{host}
	if ip := net.ParseIP(host); ip != nil && ip.IsUnspecified() {
		names = []string{"127.0.0.1"}
		all, err := net.InterfaceAddrs()
		if err != nil {
			return nil, err
		}
		for _, a := range all {
			if n, ok := a.(*net.IPNet); ok && !n.IP.IsLoopback() && !n.IP.IsLinkLocalUnicast() {
				names = append(names, n.IP.String())
			}
		}
	}
	if ip := net.ParseIP(names[0]); ip != nil && ip.IsLoopback() {
		names = append(names, "localhost")
	}
	var out []string
	for _, name := range append(names, d.Names...) {
		out = append(out, net.JoinHostPort(name, port))
	}
	return out, nil
}
