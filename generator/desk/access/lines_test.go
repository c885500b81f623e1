package access

import (
	"bufio"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// dialFrom opens a line from an address of this computer.
func dialFrom(t *testing.T, from, to string) net.Conn {
	t.Helper()
	d := net.Dialer{LocalAddr: &net.TCPAddr{IP: net.ParseIP(from)}, Timeout: 5 * time.Second}
	c, err := d.Dial("tcp", to)
	if err != nil && from != "127.0.0.1" {
		t.Skipf("this system has no %s: %v", from, err)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Close() })
	return c
}

// asks sends a request on an open line and gives the first line of the answer;
// empty where the line was cut.
func asks(t *testing.T, c net.Conn, text string) string {
	t.Helper()
	if err := c.SetDeadline(time.Now().Add(5 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(c, text); err != nil {
		return ""
	}
	answer, err := bufio.NewReader(c).ReadString('\n')
	if ne, ok := err.(net.Error); ok && ne.Timeout() {
		t.Errorf("no answer within five seconds")
	}
	return strings.TrimSpace(answer)
}

// TestNobodyIsShutOut: lines of one address that say nothing, by the usual limits
// and so for a minute, keep neither others out nor that address itself.
func TestNobodyIsShutOut(t *testing.T) {
	at := serving(t, usualLimits, func(h string) http.Handler { return Policy{Hosts: []string{h}}.Middleware(reached(new(bool))) })
	request := "GET / HTTP/1.1\r\nHost: " + at + "\r\n\r\n"
	for n := range 3 * usualLimits.connections {
		c := dialFrom(t, "127.0.0.1", at)
		if n%2 == 0 {
			if _, err := io.WriteString(c, "GET / HTTP/1.1\r\nX: "); err != nil { // and goes on no further
				t.Fatal(err)
			}
		}
	}
	if got := asks(t, dialFrom(t, "127.0.0.1", at), request); !strings.Contains(got, " 200 ") {
		t.Errorf("the same address: %q", got)
	}
	if got := asks(t, dialFrom(t, "127.0.0.2", at), request); !strings.Contains(got, " 200 ") {
		t.Errorf("another address: %q", got)
	}
}

// TestSlowLinesAreCutFirst: a line with a request under way stays while there are
// idle ones, and of these the oldest goes.
func TestSlowLinesAreCutFirst(t *testing.T) {
	l := newLines(limits{perAddress: 3, connections: 6})
	c := func(from string) net.Conn { return fakeConn{from: from} }
	add := func(from string) (*line, *line) { return l.add(c(from)) }
	busy, _ := add("10.0.0.1:1")
	l.state(busy, http.StateActive)
	old, _ := add("10.0.0.1:2")
	young, _ := add("10.0.0.1:3")
	old.since, young.since = time.Unix(100, 0), time.Unix(200, 0)
	fourth, cut := add("10.0.0.1:4")
	if cut != old {
		t.Fatalf("of one address, the oldest idle line was not cut")
	}
	_ = cut.Close()
	if len(l.all[busy.from]) != 3 || l.sum != 3 {
		t.Fatalf("%d lines of it and %d together", len(l.all[busy.from]), l.sum)
	}
	for _, one := range []*line{young, fourth} {
		l.state(one, http.StateActive)
	}
	if fifth, cut := add("10.0.0.1:5"); cut != fifth {
		t.Error("where all are busy, the new one of that address was let in")
	} else {
		_ = cut.Close()
	}
	var others []*line
	for _, from := range []string{"10.0.0.2:1", "10.0.0.3:1", "10.0.0.4:1"} {
		one, cut := add(from)
		if cut != nil {
			t.Fatalf("%s was not let in", from)
		}
		l.state(one, http.StateActive)
		others = append(others, one)
	}
	seventh, cut := add("10.0.0.5:1")
	if cut == nil || cut.from != busy.from {
		t.Errorf("with all busy, the address with the most lines lost none: %v", cut)
	} else {
		_ = cut.Close()
	}
	l.state(others[1], http.StateIdle)
	if _, cut := add("10.0.0.6:1"); cut != seventh && cut != others[1] {
		t.Error("an idle line was not cut before a busy one")
	}
	for _, one := range append(others, busy, young, fourth, seventh) {
		_ = one.Close()
		_ = one.Close() // twice counts once
	}
	if l.sum < 0 || l.sum > 1 {
		t.Errorf("%d lines are left", l.sum)
	}
}

// A fakeConn is a connection that is only counted.
type fakeConn struct {
	net.Conn
	from string
}

func (f fakeConn) RemoteAddr() net.Addr {
	at, err := net.ResolveTCPAddr("tcp", f.from)
	if err != nil {
		panic(err) // the test's own addresses
	}
	return at
}
func (fakeConn) Close() error { return nil }

// TestOptionsOfEverything: a question about the whole server goes through the policy.
func TestOptionsOfEverything(t *testing.T) {
	at := serving(t, usualLimits, func(h string) http.Handler { return Policy{Hosts: []string{h}}.Middleware(reached(new(bool))) })
	for hostname, want := range map[string]string{"evil.example": " 421 ", at: " 405 "} {
		if got := talk(t, at, "OPTIONS * HTTP/1.1\r\nHost: "+hostname+"\r\n\r\n"); !strings.Contains(got, want) {
			t.Errorf("OPTIONS * for %s: %q", hostname, got)
		}
	}
}
