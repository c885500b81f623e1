package main

import (
	"context"
	"errors"
	"io"
	"net"
	"strconv"
	"sync"
	"syscall"

	"golang.org/x/sync/errgroup"
)

// usualPort is tried first, so that the address stays the same from one evening
// to the next.
const usualPort = 7340

// together runs all of them until one fails or the context is done, and waits
// for the last. The error is the first one's.
func together(ctx context.Context, all ...func(context.Context) error) error {
	group, ctx := errgroup.WithContext(ctx)
	for _, run := range all {
		group.Go(func() error { return run(ctx) })
	}
	return group.Wait()
}

// listen listens at an address. A port that was not asked for by number gives
// way to any free one.
func listen(host string, flags deskFlags) (net.Listener, error) {
	l, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(flags.port)))
	if err == nil || flags.given && !taken(err) {
		return l, faulty(err)
	}
	if flags.given {
		return nil, &outcome{fault, errors.New(words.Say("command.desk-port", "port", flags.port))}
	}
	l, err = net.Listen("tcp", net.JoinHostPort(host, "0"))
	return l, faulty(err)
}

// windowsTaken is WSAEADDRINUSE, what Windows says of a port that another program has. Go
// has a number of its own for it there, which nothing answers with.
const windowsTaken = syscall.Errno(10048)

// taken tells whether an address was not to be had because another program has it.
func taken(err error) bool {
	return errors.Is(err, syscall.EADDRINUSE) || errors.Is(err, windowsTaken)
}

func faulty(err error) error {
	if err == nil {
		return nil
	}
	return &outcome{fault, err}
}

// names are what a browser may call the listener by.
func names(l net.Listener) []string {
	_, port, _ := net.SplitHostPort(l.Addr().String()) // the system's own form
	all := []string{"127.0.0.1:" + port, "localhost:" + port}
	if port == "80" {
		all = append(all, "127.0.0.1", "localhost")
	}
	return all
}

// A sharedWriter is written to by several at once, a line at a time.
type sharedWriter struct {
	mu sync.Mutex
	w  io.Writer
}

func (s *sharedWriter) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.w.Write(b)
}
