package main

import (
	"context"
	"fmt"
	"net"
	"sync"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/desk"
	"asleft/generator/desk/access"
	"asleft/generator/desk/phone"
)

// phones lets phones in to the desk, on networks of the shop's own that this computer is
// in, and on no other.
type phones struct {
	flags deskFlags
	out   *sharedWriter
	base  *phone.Base
	fails chan error

	mu    sync.Mutex
	ctx   context.Context // of their pages' life
	end   context.CancelFunc
	doors []string
}

// begin has what the phones need beside the networks.
func (p *phones) begin(ctx context.Context, folder afero.Fs, reading func() *generator.Reading, d *desk.Desk, key []byte) {
	p.ctx, p.end = context.WithCancel(ctx)
	p.fails = make(chan error, 1)
	p.base = phone.New(folder, phone.Options{
		Reading: reading, Desk: d, Words: words, Key: key,
		Tell:     func(text string) { fmt.Fprintln(p.out, printable(text)) },
		ShowCode: func(code string) { fmt.Fprintln(p.out, words.Say("command.phone-code", "code", code)) },
	})
}

// Networks are those that a phone could be in.
func (p *phones) Networks() ([]string, error) {
	found, err := networks()
	var all []string
	for _, n := range found {
		all = append(all, n.name)
	}
	return all, err
}

// Open listens on the shop's network and says where, and the first code.
func (p *phones) Open(network string) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.doors) > 0 {
		return nil
	}
	flags := p.flags
	flags.network = network
	near, err := listenNear(flags)
	if err != nil {
		return err
	}
	var all []net.Listener
	for _, l := range near {
		at := l.Addr().String()
		all, p.doors = append(all, l.Listener), append(p.doors, at)
		fmt.Fprintln(p.out, words.Say("command.phone-at", "address", "http://"+at+"/phone/", "network", l.network))
	}
	fmt.Fprintln(p.out, words.Say("command.phone-clear"))
	handler := p.base.Handler(p.doors...)
	go func() { p.fails <- access.Serve(p.ctx, handler, all...) }()
	return p.base.Offer()
}

// Doors are the addresses at which phones are let in.
func (p *phones) Doors() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.doors
}

// Code lets the next phone in.
func (p *phones) Code() (string, error) { return p.base.Code() }

// serve waits until the desk ends or the phones' pages fail.
func (p *phones) serve(ctx context.Context) error {
	select {
	case err := <-p.fails:
		return err
	case <-ctx.Done():
		p.end() // where the desk ends, so do they
	}
	if len(p.Doors()) > 0 {
		return <-p.fails
	}
	return nil
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

func closeAll(all []near) {
	for _, l := range all {
		_ = l.Close() // nothing was sent on it
	}
}
