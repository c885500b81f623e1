package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"slices"

	"github.com/spf13/afero"

	"asleft/generator/benchpage"
	"asleft/generator/door"
	"asleft/generator/preview"
)

// benchPage is the page for phones, on every network of the shop's own that
// this computer is in, and on no other.
type benchPage struct {
	listeners []net.Listener
	handler   http.Handler
}

// openBench listens on the shop's network and shows where, and the first code.
func openBench(folder afero.Fs, p *preview.Preview, out io.Writer, flags previewFlags) (*benchPage, error) {
	listeners, err := listenNear(flags)
	if err != nil {
		return nil, err
	}
	b := benchpage.New(folder, benchpage.Options{
		Reading: p.Reading, Pages: p.Pages(), Words: words,
		ShowCode: func(code string) { fmt.Fprintln(out, words.Say("command.bench-code", "code", code)) },
	})
	hosts := addresses(listeners)
	for _, h := range hosts {
		fmt.Fprintln(out, words.Say("command.bench-at", "address", "http://"+h+"/bench/"))
	}
	fmt.Fprintln(out, words.Say("command.bench-clear"))
	if err := b.Offer(); err != nil {
		closeAll(listeners)
		return nil, &outcome{fault, err}
	}
	return &benchPage{listeners, b.Handler(hosts...)}, nil
}

func (b *benchPage) serve(ctx context.Context) error {
	return door.Serve(ctx, b.handler, b.listeners...)
}

// listenNear listens at this computer's addresses in private networks.
func listenNear(flags previewFlags) ([]net.Listener, error) {
	near, err := privateAddresses()
	if err != nil {
		return nil, &outcome{fault, err}
	}
	if len(near) == 0 {
		return nil, &outcome{fault, errors.New(words.Say("command.bench-no-net"))}
	}
	if flags.port != 0 {
		flags.port++ // beside the preview
	}
	var all []net.Listener
	for _, a := range near {
		l, err := listen(a.String(), flags)
		if err != nil {
			closeAll(all)
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
}

// privateAddresses are this computer's addresses that a phone on the shop's
// network can type: those of version 4 first. Addresses that hold for one
// cable only are left out.
func privateAddresses() ([]netip.Addr, error) {
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return nil, fmt.Errorf("the addresses of this computer cannot be read: %w", err)
	}
	var all []netip.Addr
	for _, a := range addrs {
		prefix, err := netip.ParsePrefix(a.String())
		if err == nil && prefix.Addr().Unmap().IsPrivate() {
			all = append(all, prefix.Addr().Unmap())
		}
	}
	slices.SortFunc(all, func(a, b netip.Addr) int {
		return cmp.Or(cmp.Compare(a.BitLen(), b.BitLen()), a.Compare(b))
	})
	return all, nil
}

// addresses are the listeners' addresses as a browser names them.
func addresses(all []net.Listener) []string {
	var hosts []string
	for _, l := range all {
		hosts = append(hosts, l.Addr().String())
	}
	return hosts
}

func closeAll(all []net.Listener) {
	for _, l := range all {
		_ = l.Close() // nothing was sent on it
	}
}
