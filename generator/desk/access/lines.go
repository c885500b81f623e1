package access

import (
	"net"
	"net/http"
	"net/netip"
	"sync"
	"time"
)

// lines are the open connections of all listeners. When there are too many, of one
// address or together, the one on which nothing has happened for the longest is cut:
// so nobody is shut out by lines that are only held open, least of all by somebody
// else's.
type lines struct {
	perAddress, together int

	mu  sync.Mutex
	all map[netip.Addr]map[*line]bool
	sum int
}

// A line is one connection. While busy it has a request under way whose header is
// in: the pace of its body and of its answer is looked after elsewhere.
type line struct {
	net.Conn
	of    *lines
	from  netip.Addr
	busy  bool
	since time.Time // when it became what it is
	once  sync.Once
}

func newLines(lim limits) *lines {
	return &lines{perAddress: lim.perAddress, together: lim.connections, all: map[netip.Addr]map[*line]bool{}}
}

// Close closes the connection, and counts it no longer.
func (l *line) Close() error {
	l.once.Do(func() { l.of.drop(l) })
	return l.Conn.Close()
}

func (l *lines) drop(gone *line) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.all[gone.from][gone] {
		delete(l.all[gone.from], gone)
		l.sum--
	}
	if len(l.all[gone.from]) == 0 {
		delete(l.all, gone.from)
	}
}

// add counts a new connection, and tells which has to be cut for it: another one,
// the new one, or none.
func (l *lines) add(c net.Conn) (added, cut *line) {
	added = &line{Conn: c, of: l, since: time.Now()}
	if at, err := netip.ParseAddrPort(c.RemoteAddr().String()); err == nil {
		added.from = at.Addr().Unmap().WithZone("")
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	own := l.all[added.from]
	switch {
	case len(own) >= l.perAddress:
		cut = slowest(own)
	case l.sum >= l.together:
		cut = l.slowestOfMost(len(own))
	}
	if own == nil {
		own = map[*line]bool{}
		l.all[added.from] = own
	}
	own[added] = true
	l.sum++
	if cut == nil && (len(own) > l.perAddress || l.sum > l.together) {
		cut = added
	}
	return added, cut
}

// slowest is the line that has been idle for the longest; nil where all are busy.
func slowest(of map[*line]bool) (found *line) {
	for one := range of {
		if !one.busy && (found == nil || one.since.Before(found.since)) {
			found = one
		}
	}
	return found
}

// slowestOfMost is the slowest line of the address that has the most, among those
// with an idle line. Where no line is idle, it is the one that has been busy for
// the longest, of an address that has more lines than the newcomer.
func (l *lines) slowestOfMost(newcomers int) (found *line) {
	most := 0
	for _, own := range l.all {
		one := slowest(own)
		if one != nil && (len(own) > most || len(own) == most && one.since.Before(found.since)) {
			found, most = one, len(own)
		}
	}
	if found != nil {
		return found
	}
	most = newcomers + 1
	for _, own := range l.all {
		if len(own) <= most {
			continue
		}
		found, most = nil, len(own)
		for one := range own {
			if found == nil || one.since.Before(found.since) {
				found = one
			}
		}
	}
	return found
}

// state is for http.Server: a line is idle until the header of a request is in, and
// between two requests.
func (l *lines) state(c net.Conn, s http.ConnState) {
	one, ok := c.(*line)
	if !ok {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	one.busy, one.since = s == http.StateActive, time.Now()
}

// A listener hands out lines.
type listener struct {
	net.Listener
	lines *lines
}

// Accept waits for the next connection that is not cut at once.
func (l listener) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		added, cut := l.lines.add(c)
		if cut != nil {
			_ = cut.Close() // whoever reads from it notices
		}
		if cut != added {
			return added, nil
		}
	}
}
