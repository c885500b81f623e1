package main

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"

	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/desk/access"
	"asleft/generator/desk/benchpage"
	"asleft/generator/desk/preview"
)

// benchPage is the page for phones, on every network of the shop's own that
// this computer is in, and on no other.
type benchPage struct {
	listeners []near
	handler   http.Handler
}

// openBench listens on the shop's network and shows where, and the first code.
func openBench(folder afero.Fs, p *preview.Preview, d *desk.Desk, out io.Writer, flags deskFlags) (*benchPage, error) {
	listeners, err := listenNear(flags)
	if err != nil {
		return nil, err
	}
	b := benchpage.New(folder, benchpage.Options{
		Reading: p.Reading, Desk: d, Words: words,
		Tell:     func(text string) { fmt.Fprintln(out, printable(text)) },
		ShowCode: func(code string) { fmt.Fprintln(out, words.Say("command.bench-code", "code", code)) },
	})
	hosts := addresses(listeners)
	for n, h := range hosts {
		fmt.Fprintln(out, words.Say("command.bench-at", "address", "http://"+h+"/bench/", "network", listeners[n].network))
	}
	fmt.Fprintln(out, words.Say("command.bench-clear"))
	if err := b.Offer(); err != nil {
		closeAll(listeners)
		return nil, &outcome{fault, err}
	}
	return &benchPage{listeners, b.Handler(hosts...)}, nil
}

func (b *benchPage) serve(ctx context.Context) error {
	var all []net.Listener
	for _, l := range b.listeners {
		all = append(all, l.Listener)
	}
	return access.Serve(ctx, b.handler, all...)
}

// A near listener is for the phones in one network.
type near struct {
	net.Listener
	network string
}

// listenNear listens at this computer's addresses in the networks for phones.
func listenNear(flags deskFlags) ([]near, error) {
	found, err := networks()
	if err != nil {
		return nil, &outcome{fault, err}
	}
	picked, err := chosen(found, flags.network)
	if err != nil {
		return nil, err
	}
	if flags.port != 0 {
		flags.port++ // beside the desk
	}
	var all []near
	for _, n := range picked {
		for _, a := range n.at {
			l, err := listen(a.String(), flags)
			if err != nil {
				closeAll(all)
				return nil, err
			}
			all = append(all, near{l, n.name})
		}
	}
	return all, nil
}

// addresses are the listeners' addresses as a browser names them.
func addresses(all []near) []string {
	var hosts []string
	for _, l := range all {
		hosts = append(hosts, l.Addr().String())
	}
	return hosts
}

func closeAll(all []near) {
	for _, l := range all {
		_ = l.Close() // nothing was sent on it
	}
}
