package testenv

import (
	"bytes"
	"context"
	"net"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// A Line stands between a program and its servers, and does to the connections what
// happens to them in life.
type Line struct {
	// Delay holds every piece for so long, one way.
	Delay time.Duration
	// After is how many bytes go through, both ways and all connections together, until
	// the line is cut, or, if Dead, silent from then on without a word. 0 is never.
	After int64
	Dead  bool

	through atomic.Int64
	over    atomic.Bool
	mended  atomic.Bool

	mu    sync.Mutex
	conns []net.Conn
	lists []net.Listener
}

// NewLine makes a line that ends with the test.
func NewLine(t testing.TB) *Line {
	l := &Line{}
	t.Cleanup(func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		for _, c := range l.conns {
			_ = c.Close() // it may be closed already
		}
		for _, c := range l.lists {
			_ = c.Close() // as above
		}
	})
	return l
}

// Through is how many bytes went through.
func (l *Line) Through() int64 { return l.through.Load() }

// Over tells whether the line was cut or has gone silent.
func (l *Line) Over() bool { return l.over.Load() }

// At is an address through which an address is reached.
func (l *Line) At(t testing.TB, address string) string {
	t.Helper()
	at, err := l.listen(address, true)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// Dial reaches an address through the line.
func (l *Line) Dial(ctx context.Context, network, address string) (net.Conn, error) {
	at, err := l.listen(address, false)
	if err != nil {
		return nil, err
	}
	return (&net.Dialer{}).DialContext(ctx, network, at)
}

// Mend has new connections go through again, for as long as they like.
func (l *Line) Mend() {
	l.mended.Store(true)
	l.over.Store(false)
}

func (l *Line) listen(address string, often bool) (string, error) {
	list, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	l.mu.Lock()
	l.lists = append(l.lists, list)
	l.mu.Unlock()
	go func() {
		for {
			in, err := list.Accept()
			if err != nil {
				return
			}
			if !often {
				_ = list.Close() // one connection was wanted
			}
			go l.join(in, address)
		}
	}()
	return list.Addr().String(), nil
}

// join connects two ends.
func (l *Line) join(in net.Conn, address string) {
	if l.over.Load() && !l.Dead {
		_ = in.Close() // the line is cut
		return
	}
	out, err := net.Dial("tcp", address)
	if err != nil {
		_ = in.Close() // as refused as the other
		return
	}
	l.mu.Lock()
	l.conns = append(l.conns, in, out)
	l.mu.Unlock()
	go l.carry(in, out)
	go l.carry(out, in)
}

type piece struct {
	data []byte
	due  time.Time
}

// carry takes what comes from one end to the other.
func (l *Line) carry(from, to net.Conn) {
	queue := make(chan piece, 4096)
	go func() {
		defer func() {
			if c, ok := to.(*net.TCPConn); ok && !l.over.Load() {
				_ = c.CloseWrite() // the other way may go on
			}
		}()
		for p := range queue {
			time.Sleep(time.Until(p.due))
			if l.over.Load() {
				return
			}
			if _, err := to.Write(p.data); err != nil {
				return
			}
			if through := l.through.Add(int64(len(p.data))); l.After > 0 && through >= l.After && !l.mended.Load() {
				l.end()
				return
			}
		}
	}()
	defer close(queue)
	buffer := make([]byte, 64<<10)
	for {
		n, err := from.Read(buffer)
		if n > 0 && !l.over.Load() {
			queue <- piece{bytes.Clone(buffer[:n]), time.Now().Add(l.Delay)}
		}
		if err != nil {
			return
		}
	}
}

// end cuts every connection, or stops carrying anything.
func (l *Line) end() {
	if !l.over.CompareAndSwap(false, true) || l.Dead {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, c := range l.conns {
		_ = c.Close() // that is what a cut line is
	}
}
