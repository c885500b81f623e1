package access

import (
	"context"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"time"
)

// limits are how long and how many: a header that does not come, a line that
// nobody uses, the end of what is under way, the lines of one address and all of
// them together. A browser opens six lines at a time.
type limits struct {
	header, idle, closing time.Duration
	perAddress            int
	connections           int
}

var usualLimits = limits{header: 10 * time.Second, idle: 60 * time.Second, closing: 3 * time.Second, perAddress: 24, connections: 96}

const maxHeader = 16 << 10

// Serve answers on the listeners until the context is done, then lets what is
// under way end and returns. The error is a listener's.
func Serve(ctx context.Context, handler http.Handler, listeners ...net.Listener) error {
	return serve(ctx, usualLimits, handler, listeners...)
}

func serve(ctx context.Context, lim limits, handler http.Handler, listeners ...net.Listener) error {
	open := newLines(lim)
	// Requests that last, as a stream of events, end with the context too.
	server := &http.Server{
		Handler: handler, ReadHeaderTimeout: lim.header, IdleTimeout: lim.idle, MaxHeaderBytes: maxHeader,
		ConnState: open.state,
		// What is asked of the server as a whole (OPTIONS *) goes through the policy too.
		DisableGeneralOptionsHandler: true,
		BaseContext:                  func(net.Listener) context.Context { return ctx },
		ErrorLog:                     log.New(io.Discard, "", 0), // what strangers do is no news for the mechanic
	}
	ended := make(chan error, len(listeners))
	for _, l := range listeners {
		go func() { ended <- server.Serve(listener{l, open}) }()
	}
	var err error
	left := len(listeners)
	select {
	case <-ctx.Done():
	case err = <-ended:
		left--
	}
	// The context that stops us is done already.
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), lim.closing)
	defer cancel()
	if e := server.Shutdown(grace); e != nil {
		err = errors.Join(err, server.Close())
	}
	for range left {
		if e := <-ended; !errors.Is(e, http.ErrServerClosed) {
			err = errors.Join(err, e)
		}
	}
	return err
}
