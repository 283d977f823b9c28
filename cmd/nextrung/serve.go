package main

import (
	"context"
	"crypto/tls"
	"fmt"
	"log/slog"
	"net"
	"os/exec"
	"runtime"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/web"
	"nextrung/internal/workout"
)

// startCommand is what nextrung does without a command, or when it is double-clicked: it opens the desk.
type startCommand struct{}

// Run opens the desk that already runs on the book, or starts one; a book that does not exist yet is made.
func (startCommand) Run(ctx context.Context, cli *commands, s *surroundings) error {
	dir, err := cli.bookFolder()
	if err != nil {
		return err
	}
	if address := web.Running(ctx, dir); address != "" {
		s.say("The desk is running already: %s", address)
		s.open(address)
		return nil
	}
	co, err := openInSight(ctx, dir)
	if err != nil {
		return err
	}
	defer co.Close()
	return (&serveCommand{asOf: asOf{s.today()}, Addr: "127.0.0.1:0", Open: true}).Run(ctx, co, s)
}

type serveCommand struct {
	asOf
	Addr string `help:"Address to answer on; port 0 picks a free one." default:"127.0.0.1:0" placeholder:"HOST:PORT"`
	Open bool   `help:"Open the desk in the browser."`

	TLSCert string   `name:"tls-cert" help:"Certificate, for an address that other computers can reach." placeholder:"FILE" type:"existingfile"`
	TLSKey  string   `name:"tls-key" help:"Key of the certificate." placeholder:"FILE" type:"existingfile"`
	Host    []string `help:"Further names under which other computers reach the desk." placeholder:"NAME"`
	Links   bool     `help:"Let clients' links work on this computer too; on an address that others can reach they always do."`
	Log     bool     `help:"Write a line for each request, without names; on an address that others can reach this is always done."`
}

func (serveCommand) Help() string {
	return "Examples:\n  nextrung serve --open\n  nextrung --book /tmp/ferry serve --as-of 2026-10-04\n  nextrung serve --addr 192.0.2.7:8443 --tls-cert desk.crt --tls-key desk.key\n\nServes the desk: the trainer's pages with the forms of the weekly job. It answers on this computer only, unless --addr names an address that other computers can reach: then everybody signs in with the passphrase that `nextrung settings --passphrase` sets. Stop it with Ctrl-C. With --as-of, everything is looked at and entered as of that day."
}

func (c *serveCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	beyond, err := c.beyond(ctx, co)
	if err != nil {
		return err
	}
	on := func() workout.Date { return s.today() }
	if c.AsOf != s.today() {
		on = func() workout.Date { return c.AsOf }
	}
	desk := web.New(co, on, s.now)
	desk.Names, desk.Links = c.Host, c.Links || beyond
	if beyond {
		desk.Door = web.NewDoor(co, s.now)
	}
	if beyond || c.Log {
		desk.Log = slog.New(slog.NewTextHandler(s.err, nil))
	}
	if (c.TLSCert == "") != (c.TLSKey == "") {
		return misuse("--tls-cert and --tls-key go together")
	}
	if c.TLSCert != "" {
		cert, err := tls.LoadX509KeyPair(c.TLSCert, c.TLSKey)
		if err != nil {
			return misuse("the certificate cannot be used: %v", err)
		}
		desk.Certificate = &cert
	}
	listener, err := net.Listen("tcp", c.Addr)
	if err != nil {
		return misuse("--addr %s cannot be used: %v", c.Addr, err)
	}
	hosts, err := desk.Addresses(listener)
	if err != nil {
		listener.Close()
		return err
	}
	if beyond && desk.Certificate == nil {
		s.warn("without --tls-cert and --tls-key, anyone on the network can read the passphrase and every page")
	}
	address := desk.Address(hosts[0])
	s.say("The desk: %s", address)
	for _, other := range hosts[1:] {
		if beyond {
			s.say("      and: %s", desk.Address(other))
		}
	}
	s.say("Stop it with Ctrl-C.")
	if c.Open {
		s.open(address + c.firstPage(ctx, co))
	}
	return desk.Serve(ctx, listener)
}

// firstPage is the page to open: what to do first in an empty book, else the week's.
func (c *serveCommand) firstPage(ctx context.Context, co *coach.Coach) string {
	if names, err := co.Clients(ctx); err == nil && len(names) == 0 {
		return web.FirstFile
	}
	return ""
}

// beyond says whether other computers reach the address, which needs a passphrase.
func (c *serveCommand) beyond(ctx context.Context, co *coach.Coach) (bool, error) {
	host, _, err := net.SplitHostPort(c.Addr)
	if err != nil {
		return false, misuse("--addr is an address such as 127.0.0.1:8080: %v", err)
	}
	ip := net.ParseIP(host)
	switch {
	case host == "localhost" || ip != nil && ip.IsLoopback():
		return false, nil
	case ip == nil:
		return false, misuse("--addr %s: name an address of this computer, such as 127.0.0.1; 0.0.0.0 is all of them", c.Addr)
	}
	set, err := co.HasPassphrase(ctx)
	if err == nil && !set {
		err = fault.New(fault.Needs, "other computers can reach %s, and no passphrase has been set: set one first with `nextrung settings --passphrase`", c.Addr)
	}
	return true, err
}

// open opens an address in the browser; where that fails, people open it themselves.
func (s *surroundings) open(address string) {
	if s.browse == nil {
		s.warn("no browser can be opened here: open %s yourself", address)
		return
	}
	if err := s.browse(address); err != nil {
		s.warn("the browser could not be opened (%v): open %s yourself", err, address)
	}
}

// browserPatience is how long we wait to see whether what opens web pages fails; afterwards it may go on running.
const browserPatience = 2 * time.Second

// openBrowser hands an address to whatever opens web pages here.
func openBrowser(address string) error {
	opener := map[string][]string{"darwin": {"open"}, "windows": {"rundll32", "url.dll,FileProtocolHandler"}}[runtime.GOOS]
	if opener == nil {
		opener = []string{"xdg-open"}
	}
	c := exec.Command(opener[0], append(opener[1:], address)...)
	if err := c.Start(); err != nil {
		return err
	}
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	select {
	case err := <-ended:
		if err != nil {
			return fmt.Errorf("%s: %w", opener[0], err)
		}
	case <-time.After(browserPatience):
	}
	return nil
}
