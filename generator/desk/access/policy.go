// Package access stands between a network and a handler of ours: it lets in only
// requests that were meant for us, of the kinds we answer, no larger and no
// slower than they need to be.
//
// A page of some other site can make a browser send requests here too. Two
// checks keep those out: the Host that a request names has to be one of the
// addresses we answer at (a name that was made to point at this computer is
// not), and a request that changes something has to come from a page of ours
// (its Origin).
//
// What is not done here: who is behind a request. That is the handler's.
package access

import (
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"time"
)

// A Policy is what comes in. Hosts has to be set; everything else may be empty.
type Policy struct {
	// Hosts are the addresses that we answer at, as a browser names them:
	// 127.0.0.1:8080.
	Hosts []string
	// Near keeps out whoever is not on this computer or on a private network.
	Near bool
	// MaxBody is how many bytes a POST may carry. None: there are no POSTs.
	MaxBody int64
	// Moved lets in a page that this computer sent while it had another address in
	// the shop's network. What such a page sends comes without its cookie: whether it
	// is let in is for the handler to see, by something that the page has to bring.
	Moved bool
	// Refused words a refusal for a person, from its status; nil for the usual
	// words of HTTP.
	Refused func(status int) string
	// TooLarge answers a POST that is let in but for its size, with a page for a person; nil
	// for the words of a refusal. It reads nothing of what was sent.
	TooLarge http.HandlerFunc

	slow *pace // for tests; nil for the usual one
}

func (p Policy) pace() pace {
	if p.slow == nil {
		return usualPace
	}
	return *p.slow
}

// answerTime is how long an answer may take to go out, once it is begun.
const answerTime = 60 * time.Second

// Middleware is the handler with the policy in front of it.
func (p Policy) Middleware(inside http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		headers(w.Header())
		switch status := p.refuses(r); {
		case status == http.StatusRequestEntityTooLarge && p.TooLarge != nil:
			w.Header().Set("Connection", "close")
			p.TooLarge(w, r)
			return
		case status != 0:
			p.refuse(w, status)
			return
		}
		if p.Moved && moved(r) {
			share(w.Header(), r.Header.Get("Origin"))
			r.Header.Del("Cookie")
			if r.Method == http.MethodOptions {
				w.WriteHeader(http.StatusNoContent)
				return
			}
		}
		ctl := http.NewResponseController(w)
		_ = ctl.SetWriteDeadline(time.Now().Add(answerTime)) // a test's recorder has none
		if r.Method == http.MethodPost {
			r.Body = http.MaxBytesReader(w, &paced{ReadCloser: r.Body, pace: p.pace(), ctl: ctl, began: time.Now()}, p.MaxBody)
		}
		inside.ServeHTTP(w, r)
	})
}

// headers are on every answer: nothing is kept, nothing is guessed, no other
// site shows or reads it.
func headers(h http.Header) {
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
}

// refuses is the status that a request is refused with, 0 where it is let in.
func (p Policy) refuses(r *http.Request) int {
	switch {
	case !slices.Contains(p.Hosts, r.Host):
		return http.StatusMisdirectedRequest
	case p.Near && !near(r.RemoteAddr):
		return http.StatusForbidden
	case r.Method == http.MethodGet, r.Method == http.MethodHead:
		if r.ContentLength != 0 {
			return http.StatusBadRequest
		}
	case r.Method == http.MethodOptions && p.Moved && moved(r) && r.URL.Path != "*":
		if r.ContentLength != 0 {
			return http.StatusBadRequest
		}
	case r.Method != http.MethodPost || p.MaxBody == 0:
		return http.StatusMethodNotAllowed
	case !ownPage(r) && !(p.Moved && moved(r)):
		return http.StatusForbidden
	case r.ContentLength > p.MaxBody:
		return http.StatusRequestEntityTooLarge
	}
	return 0
}

// ownPage tells whether a request comes from a page of ours. Every browser
// names the page's origin with a POST; one that does not say is not let in.
func ownPage(r *http.Request) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" {
		return false
	}
	return r.Header.Get("Origin") == "http://"+r.Host
}

// moved tells whether a request comes from a page of another address of this
// computer's or of a private network, which a page of some site cannot have.
func moved(r *http.Request) bool {
	address, ok := strings.CutPrefix(r.Header.Get("Origin"), "http://")
	if !ok || address == r.Host {
		return false
	}
	if _, err := netip.ParseAddr(address); err == nil {
		address += ":80"
	}
	return near(address)
}

// share lets a page of another address read the answer, without cookies.
func share(h http.Header, origin string) {
	h.Set("Access-Control-Allow-Origin", origin)
	h.Set("Access-Control-Allow-Methods", "GET, POST")
	h.Set("Access-Control-Allow-Headers", "Authorization, Content-Type, Phone-Script")
	h.Set("Vary", "Origin")
}

// near tells whether an address is this computer's or of a private network.
func near(address string) bool {
	at, err := netip.ParseAddrPort(address)
	if err != nil {
		return false
	}
	a := at.Addr().Unmap()
	return a.IsLoopback() || Private(a)
}

// Private tells whether an address is of a network of one's own: those of
// RFC 1918, of RFC 4193, and those that hold for one cable only.
func Private(a netip.Addr) bool { return a.IsPrivate() || a.IsLinkLocalUnicast() }

func (p Policy) refuse(w http.ResponseWriter, status int) {
	text := http.StatusText(status)
	if p.Refused != nil {
		text = p.Refused(status)
	}
	// Nothing more of the request is read.
	w.Header().Set("Connection", "close")
	http.Error(w, text, status)
}
