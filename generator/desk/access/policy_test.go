package access

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

const host = "127.0.0.1:7341"

// reached is a handler that tells whether it was.
func reached(yes *bool) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		*yes = true
		_, _ = io.Copy(io.Discard, r.Body)
		_, _ = io.WriteString(w, "in")
	})
}

func TestWhoIsLetIn(t *testing.T) {
	own := map[string]string{"Origin": "http://" + host}
	for _, tc := range []struct {
		name, method, host, from string
		header                   map[string]string
		status                   int
	}{
		{"a page", "GET", host, "192.168.1.7:4000", nil, 200},
		{"this computer", "GET", host, "127.0.0.1:4000", nil, 200},
		{"an address of version 6", "GET", host, "[fd12::7]:4000", nil, 200},
		{"one that looks like version 6", "GET", host, "[::ffff:192.168.1.7]:4000", nil, 200},
		{"somebody from the internet", "GET", host, "8.8.8.8:4000", nil, 403},
		{"nobody", "GET", host, "", nil, 403},
		{"another host", "GET", "evil.example", "192.168.1.7:4000", nil, 421},
		{"another port", "GET", "127.0.0.1:80", "192.168.1.7:4000", nil, 421},
		{"no host", "GET", "", "192.168.1.7:4000", nil, 421},
		{"a post of our page", "POST", host, "192.168.1.7:4000", own, 200},
		{"a post of nobody's page", "POST", host, "192.168.1.7:4000", nil, 403},
		{"a post of another site", "POST", host, "192.168.1.7:4000", map[string]string{"Origin": "http://evil.example"}, 403},
		{"a post of another port", "POST", host, "192.168.1.7:4000", map[string]string{"Origin": "http://127.0.0.1:80"}, 403},
		{"a post of a page without an origin", "POST", host, "192.168.1.7:4000", map[string]string{"Origin": "null"}, 403},
		{"a post over another scheme", "POST", host, "192.168.1.7:4000", map[string]string{"Origin": "https://" + host}, 403},
		{"a browser that says cross-site", "POST", host, "192.168.1.7:4000", map[string]string{"Origin": "http://" + host, "Sec-Fetch-Site": "cross-site"}, 403},
		{"a browser that says same-site", "POST", host, "192.168.1.7:4000", map[string]string{"Origin": "http://" + host, "Sec-Fetch-Site": "same-site"}, 403},
		{"another method", "DELETE", host, "192.168.1.7:4000", own, 405},
		{"a question before a post", "OPTIONS", host, "192.168.1.7:4000", own, 405},
	} {
		r := httptest.NewRequest(tc.method, "/", nil)
		r.Host, r.RemoteAddr = tc.host, tc.from
		for k, v := range tc.header {
			r.Header.Set(k, v)
		}
		in := false
		w := httptest.NewRecorder()
		Policy{Hosts: []string{host}, Near: true, MaxBody: 100}.Middleware(reached(&in)).ServeHTTP(w, r)
		if w.Code != tc.status || in != (tc.status == 200) {
			t.Errorf("%s: %d, and let in: %v; want %d", tc.name, w.Code, in, tc.status)
		}
		if w.Header().Get("Access-Control-Allow-Origin") != "" || w.Header().Get("X-Frame-Options") != "DENY" {
			t.Errorf("%s: the headers are %v", tc.name, w.Header())
		}
	}
}

// TestAPageOfAnotherAddress: one of a private network may ask where that is allowed,
// and comes without its cookie; where it is not, and from a site, it is turned away.
func TestAPageOfAnotherAddress(t *testing.T) {
	for _, tc := range []struct {
		origin, method string
		moved          bool
		status         int
	}{
		{"http://192.168.1.20:7341", "POST", true, 200},
		{"http://192.168.1.20", "OPTIONS", true, 204},
		{"http://[fd12::7]:7341", "OPTIONS", true, 204},
		{"http://192.168.1.20:7341", "POST", false, 403},
		{"http://192.168.1.20:7341", "OPTIONS", false, 405},
		{"https://192.168.1.20:7341", "POST", true, 403},
		{"http://8.8.8.8:7341", "POST", true, 403},
		{"http://8.8.8.8", "OPTIONS", true, 405},
		{"http://evil.example", "POST", true, 403},
		{"http://192.168.1.20:7341.evil.example", "POST", true, 403},
		{"null", "POST", true, 403},
		{"http://" + host, "OPTIONS", true, 405},
	} {
		r := httptest.NewRequest(tc.method, "/", nil)
		r.Host, r.RemoteAddr = host, "192.168.1.7:4000"
		r.Header.Set("Origin", tc.origin)
		r.Header.Set("Cookie", "a=b")
		w := httptest.NewRecorder()
		Policy{Hosts: []string{host}, Near: true, MaxBody: 10, Moved: tc.moved}.Middleware(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
			if r.Header.Get("Cookie") != "" {
				t.Errorf("%v: it came with its cookie", tc)
			}
		})).ServeHTTP(w, r)
		shared := w.Header().Get("Access-Control-Allow-Origin")
		if w.Code != tc.status || (shared == tc.origin) != (tc.status < 300) || w.Header().Get("Access-Control-Allow-Credentials") != "" {
			t.Errorf("%v: %d, shared with %q", tc, w.Code, shared)
		}
	}
}

func TestADoorWithoutPosts(t *testing.T) {
	r := httptest.NewRequest("POST", "/", strings.NewReader("x"))
	r.Host = host
	r.Header.Set("Origin", "http://"+host)
	in := false
	w := httptest.NewRecorder()
	Policy{Hosts: []string{host}}.Middleware(reached(&in)).ServeHTTP(w, r)
	if w.Code != http.StatusMethodNotAllowed || in {
		t.Errorf("a post came in: %d", w.Code)
	}
}

// serving runs a server until the test is over and returns its address.
func serving(t *testing.T, lim limits, guard func(host string) http.Handler) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- serve(ctx, lim, guard(l.Addr().String()), l) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Errorf("the server ended with %v", err)
		}
	})
	return l.Addr().String()
}

// talk sends text and returns the first line of the answer; empty where the
// line was cut without one.
func talk(t *testing.T, at string, text string, more ...func(net.Conn)) string {
	t.Helper()
	c, err := net.Dial("tcp", at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close() //nolint:errcheck // nothing is left to lose
	if err := c.SetDeadline(time.Now().Add(10 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(c, text); err != nil {
		return ""
	}
	for _, m := range more {
		m(c)
	}
	line, err := bufio.NewReader(c).ReadString('\n')
	var late net.Error
	if errors.As(err, &late) && late.Timeout() {
		t.Fatalf("no answer and no end to %.60q", text)
	}
	return strings.TrimSpace(line)
}

// Ten gigabytes are announced: nothing of them is read.
func TestABodyThatIsAnnouncedTooBig(t *testing.T) {
	in := false
	at := serving(t, usualLimits, func(h string) http.Handler {
		return Policy{Hosts: []string{h}, MaxBody: 1 << 20}.Middleware(reached(&in))
	})
	got := talk(t, at, fmt.Sprintf("POST / HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Length: 10737418240\r\n\r\n", at, at))
	if !strings.Contains(got, " 413 ") || in {
		t.Errorf("ten gigabytes: %q, let in: %v", got, in)
	}
	got = talk(t, at, fmt.Sprintf("GET / HTTP/1.1\r\nHost: %s\r\nContent-Length: 10737418240\r\n\r\n", at))
	if !strings.Contains(got, " 400 ") || in {
		t.Errorf("ten gigabytes with a GET: %q", got)
	}
}

// A body that does not say how long it is ends where the limit is.
func TestABodyThatNeverEnds(t *testing.T) {
	read := make(chan int64, 1)
	handler := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		n, err := io.Copy(io.Discard, r.Body)
		var big *http.MaxBytesError
		if !errors.As(err, &big) {
			t.Errorf("the reader was told %v", err)
		}
		read <- n
		http.Error(w, "too big", http.StatusRequestEntityTooLarge)
	})
	at := serving(t, usualLimits, func(h string) http.Handler { return Policy{Hosts: []string{h}, MaxBody: 1 << 20}.Middleware(handler) })
	sent := 0
	talk(t, at, fmt.Sprintf("POST / HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nTransfer-Encoding: chunked\r\n\r\n", at, at), func(c net.Conn) {
		piece := "10000\r\n" + strings.Repeat("x", 0x10000) + "\r\n"
		for sent = 0; sent < 256; sent++ { // 16 MB, and more would follow
			if _, err := io.WriteString(c, piece); err != nil {
				return
			}
		}
	})
	if n := <-read; n > 1<<20 {
		t.Errorf("%d bytes were read", n)
	}
	if sent == 256 {
		t.Error("the server took in 16 MB where 1 MB is the limit")
	}
}

// A header that trickles in, and a body that does, are given up.
func TestSlowRequests(t *testing.T) {
	lim := usualLimits
	lim.header = 150 * time.Millisecond
	failed := make(chan error, 1)
	slow := &pace{slowest: 1024, headway: 150 * time.Millisecond, longest: time.Second, giveBack: time.Second}
	at := serving(t, lim, func(h string) http.Handler {
		return Policy{Hosts: []string{h}, MaxBody: 1 << 20, slow: slow}.Middleware(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			_, err := io.Copy(io.Discard, r.Body)
			failed <- err
			http.Error(w, "too slow", http.StatusRequestTimeout)
		}))
	})
	trickle := func(c net.Conn) {
		for range 40 {
			if _, err := io.WriteString(c, "x"); err != nil {
				return
			}
			time.Sleep(20 * time.Millisecond)
		}
	}
	if got := talk(t, at, "GET / HTTP/1.1\r\nX: ", trickle); got != "" && !strings.Contains(got, " 408 ") {
		t.Errorf("a header that trickles in was answered %q", got)
	}
	talk(t, at, fmt.Sprintf("POST / HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Length: 1000\r\n\r\n", at, at), trickle)
	var late net.Error
	if err := <-failed; !errors.As(err, &late) || !late.Timeout() {
		t.Errorf("a body that trickles in ended with %v", err)
	}
}

// A body that keeps up the pace may take longer than the headway.
func TestABodyThatKeepsUp(t *testing.T) {
	slow := &pace{slowest: 1, headway: 200 * time.Millisecond, longest: time.Minute, giveBack: time.Second}
	in := false
	at := serving(t, usualLimits, func(h string) http.Handler {
		return Policy{Hosts: []string{h}, MaxBody: 1 << 20, slow: slow}.Middleware(reached(&in))
	})
	got := talk(t, at, fmt.Sprintf("POST / HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Length: 10\r\n\r\n", at, at), func(c net.Conn) {
		for range 10 {
			if _, err := io.WriteString(c, "x"); err != nil {
				t.Error(err)
			}
			time.Sleep(40 * time.Millisecond)
		}
	})
	if !strings.Contains(got, " 200 ") {
		t.Errorf("a body that kept up was answered %q", got)
	}
}

// A hundred open lines that say nothing do not keep others out for long.
func TestSilentLines(t *testing.T) {
	lim := usualLimits
	lim.header, lim.idle, lim.connections = 200*time.Millisecond, 200*time.Millisecond, 8
	in := false
	at := serving(t, lim, func(h string) http.Handler { return Policy{Hosts: []string{h}}.Middleware(reached(&in)) })
	for range 24 {
		c, err := net.Dial("tcp", at)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close() //nolint:errcheck // nothing is left to lose
	}
	if got := talk(t, at, "GET / HTTP/1.1\r\nHost: "+at+"\r\n\r\n"); !strings.Contains(got, " 200 ") {
		t.Errorf("behind silent lines: %q", got)
	}
}

// A stream that has no end ends with the server.
func TestTheEndIsClean(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	open := make(chan bool)
	ended := make(chan error, 1)
	go func() {
		ended <- Serve(ctx, http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) { close(open); <-r.Context().Done() }), l)
	}()
	go func() { _, _ = http.Get("http://" + l.Addr().String()) }() //nolint:bodyclose // it gets no answer
	<-open
	stop()
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("it ended with %v", err)
		}
	case <-time.After(time.Minute):
		t.Error("it did not end")
	}
}
