package main

import (
	"context"
	"net"
	"os/exec"
	"runtime"

	"nextrung/internal/coach"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

type serveCommand struct {
	asOf
	Addr string `help:"Address on this computer; port 0 picks a free one." default:"127.0.0.1:0" placeholder:"HOST:PORT"`
	Open bool   `help:"Open the desk in the browser."`
}

func (serveCommand) Help() string {
	return "Examples:\n  nextrung serve --open\n  nextrung --book /tmp/ferry serve --as-of 2026-10-04\n\nServes the desk: the trainer's pages with the forms of the weekly job. It answers on this computer only. Stop it with Ctrl-C. With --as-of, everything is looked at and entered as of that day."
}

func (c *serveCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	host, _, err := net.SplitHostPort(c.Addr)
	if err != nil {
		return misuse("--addr is an address such as 127.0.0.1:8080: %v", err)
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return misuse("--addr %s: the desk answers on this computer only; use 127.0.0.1", c.Addr)
	}
	listener, err := net.Listen("tcp", c.Addr)
	if err != nil {
		return misuse("--addr %s cannot be used: %v", c.Addr, err)
	}
	on := func() workout.Date { return s.today() }
	if c.AsOf != s.today() {
		on = func() workout.Date { return c.AsOf }
	}
	address := "http://" + listener.Addr().String() + "/"
	s.say("The desk: %s", address)
	s.say("Stop it with Ctrl-C.")
	if c.Open {
		if err := openBrowser(address); err != nil {
			s.warn("the browser could not be opened (%v): open %s yourself", err, address)
		}
	}
	return web.New(co, on, s.now).Serve(ctx, listener)
}

// openBrowser hands an address to whatever opens web pages here.
func openBrowser(address string) error {
	opener := map[string][]string{"darwin": {"open"}, "windows": {"rundll32", "url.dll,FileProtocolHandler"}}[runtime.GOOS]
	if opener == nil {
		opener = []string{"xdg-open"}
	}
	return exec.Command(opener[0], append(opener[1:], address)...).Start()
}
