package access

import (
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
)

// hostileRequests are requests that no browser sends to us for a person: @ is the
// address that we answer at. None comes through to what is behind the door.
var hostileRequests = func() []string {
	var all []string
	add := func(lines ...string) { all = append(all, strings.Join(lines, "\r\n")+"\r\n\r\n") }
	for _, of := range []string{"evil.example", "", "localhost", "0.0.0.0", "[::1]", "@.evil.example", "evil.example@@", "@,evil.example", "@ evil.example", "127.0.0.1", "127.1:80", "2130706433", "@:1", "*"} {
		add("GET / HTTP/1.1", "Host: "+of)
		add("OPTIONS * HTTP/1.1", "Host: "+of)
		add("GET http://"+of+"/ HTTP/1.1", "Host: "+of)
	}
	for _, method := range []string{"PUT", "DELETE", "PATCH", "TRACE", "CONNECT", "OPTIONS", "PROPFIND", "MOVE", "get", "G\x00T", "GE T", "", "\x16\x03\x01", strings.Repeat("A", 9000)} {
		add(method+" / HTTP/1.1", "Host: @")
		add(method+" / HTTP/1.1", "Host: @", "Origin: http://@")
	}
	for _, version := range []string{"HTTP/0.9", "HTTP/2.0", "HTTP/1.", "HTTP/1.1.1", "http/1.1", "", "HTTP/1.1 HTTP/1.1"} {
		add("GET / "+version, "Host: evil.example")
	}
	for _, more := range [][]string{
		{"Host: @"}, {"Host: evil.example"}, {"No colon"}, {": empty"}, {"Sp ace: x"}, {"X: \x00"}, {"X: a\nY: b\x01"},
		{"Content-Length: 5"}, {"Content-Length: -1"}, {"Content-Length: 1e3"}, {"Content-Length: 99999999999999999999"}, {"Content-Length: 5", "Content-Length: 6"}, {"Transfer-Encoding: chunked"}, {"Transfer-Encoding: gzip"}, {"Transfer-Encoding: chunked, chunked"}, {"Content-Length: 5", "Transfer-Encoding: chunked"},
		{"X: " + strings.Repeat("x", 2<<20)}, {strings.TrimSuffix(strings.Repeat("X: y\r\n", 200000), "\r\n")},
	} {
		add(append([]string{"GET / HTTP/1.1", "Host: @"}, more...)...)
	}
	for _, origin := range []string{"", "null", "https://@", "http://evil.example", "http://@.evil.example", "http://@/", "http://evil.example@@", "HTTP://@", "http://@ ", "http://@, http://evil.example", "file://", "@"} {
		head := []string{"POST / HTTP/1.1", "Host: @", "Content-Length: 1"}
		if origin != "" {
			head = append(head, "Origin: "+origin)
		}
		if strings.TrimSpace(origin) != "http://@" {
			add(append(head, "Content-Type: text/plain")...)
		}
	}
	for _, site := range []string{"cross-site", "same-site", "none", "x", "same-origin, cross-site"} {
		add("POST / HTTP/1.1", "Host: @", "Origin: http://@", "Sec-Fetch-Site: "+site, "Content-Length: 1")
	}
	add("POST / HTTP/1.1", "Host: @", "Origin: http://@", "Content-Length: 1000000000000")
	add("POST / HTTP/1.1", "Host: @", "Origin: http://@", "Origin: http://@", "Content-Length: 1", "Host: evil.example")
	add("GET /\x00 HTTP/1.1", "Host: @")
	add("GET /%zz HTTP/1.1", "Host: @")
	add("GET \\\\server\\x HTTP/1.1", "Host: @")
	add("GET ../../etc/passwd HTTP/1.1", "Host: @")
	add("GET /"+strings.Repeat("a", 2<<20)+" HTTP/1.1", "Host: @")
	return append(all, "\r\n\r\n\r\n", "\x00\x00\x00\x00\r\n\r\n", "SSH-2.0-x\r\n\r\n", "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", "EHLO x\r\n\r\n")
}()

// TestHostileRequests sends each: none reaches the handler, each ends, with an answer
// that refuses or with none, and one of ours comes in afterwards.
func TestHostileRequests(t *testing.T) {
	var in atomic.Int64
	at := serving(t, usualLimits, func(host string) http.Handler {
		return Policy{Hosts: []string{host}, Near: true, MaxBody: 100}.Middleware(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { in.Add(1) }))
	})
	held := 0
	for _, text := range hostileRequests {
		first := talk(t, at, strings.ReplaceAll(text, "@", at))
		if n := in.Swap(0); n != 0 {
			t.Errorf("%.120q came in: %s", text, first)
			continue
		}
		if first != "" && !strings.Contains(first, " 4") && !strings.Contains(first, " 5") {
			t.Errorf("%.120q was answered with %q", text, first)
			continue
		}
		held++
	}
	t.Logf("requests: %d tried, %d held", len(hostileRequests), held)
	if len(hostileRequests) < 120 {
		t.Errorf("only %d requests", len(hostileRequests))
	}
	if first := talk(t, at, "GET / HTTP/1.1\r\nHost: "+at+"\r\n\r\n"); !strings.Contains(first, " 200 ") || in.Load() != 1 {
		t.Errorf("one of ours was answered with %q", first)
	}
}
