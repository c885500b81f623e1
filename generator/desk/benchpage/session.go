package benchpage

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"
)

// How long a phone stays paired without being used, and how many there can be.
const (
	sessionTime  = 16 * time.Hour
	mostSessions = 12
)

// cookie is the name of the cookie that a paired phone brings.
const cookie = "asleft-bench"

// A session is a paired phone. The texts are what a form would lose between two
// pages.
type session struct {
	mu     sync.Mutex
	by     string                // who wrote last
	drafts map[string]url.Values // by machine, of forms that are not saved yet
	said   []note                // to show on the next page
	used   time.Time             // guarded by the sessions
}

// A note is a sentence at the top of the next page, with where it leads.
type note struct{ Text, To, Link string }

// mostDrafts bounds what a session remembers.
const mostDrafts = 20

// sessions are the paired phones, by the digest of what their cookie holds.
type sessions struct {
	now func() time.Time
	mu  sync.Mutex
	by  map[[sha256.Size]byte]*session
}

// begin pairs a phone: 256 random bits in a cookie that no script reads and
// that no other site's page has sent along.
func (s *sessions) begin(w http.ResponseWriter) {
	http.SetCookie(w, &http.Cookie{
		Name: cookie, Value: s.add(), Path: "/", MaxAge: int(sessionTime.Seconds()),
		HttpOnly: true, SameSite: http.SameSiteStrictMode,
	})
}

// add is the secret of a new session.
func (s *sessions) add() string {
	var secret [32]byte
	_, _ = rand.Read(secret[:]) // it never fails (package crypto/rand)
	value := base64.RawURLEncoding.EncodeToString(secret[:])
	s.mu.Lock()
	defer s.mu.Unlock()
	s.tidy()
	s.by[sha256.Sum256([]byte(value))] = &session{drafts: map[string]url.Values{}, used: s.now()}
	return value
}

// tidy drops the sessions that have run out, and the one that was not used the
// longest where there is no room for another. The caller holds s.
func (s *sessions) tidy() {
	var oldest *session
	for key, one := range s.by {
		if s.now().Sub(one.used) > sessionTime {
			delete(s.by, key)
		} else if oldest == nil || one.used.Before(oldest.used) {
			oldest = one
		}
	}
	for key, one := range s.by {
		if len(s.by) >= mostSessions && one == oldest {
			delete(s.by, key)
		}
	}
}

// of is the session of a request, nil for a stranger. The secret comes in the cookie,
// or by the script of a page that an earlier address of this computer sent.
func (s *sessions) of(r *http.Request) *session {
	secret, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	if c, err := r.Cookie(cookie); err == nil && !ok {
		secret = c.Value
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	one := s.by[sha256.Sum256([]byte(secret))]
	if one == nil || s.now().Sub(one.used) > sessionTime {
		return nil
	}
	one.used = s.now()
	return one
}

func (s *session) tell(n note) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.said = append(s.said, n)
}

// told are the notes to show, once.
func (s *session) told() []note {
	s.mu.Lock()
	defer s.mu.Unlock()
	said := s.said
	s.said = nil
	return said
}

// keep remembers a form that is not saved yet; nil forgets it.
func (s *session) keep(machine string, v url.Values) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if v == nil {
		delete(s.drafts, machine)
		return
	}
	if by := v.Get("by"); by != "" {
		s.by = by
	}
	if len(s.drafts) < mostDrafts || s.drafts[machine] != nil {
		s.drafts[machine] = v
	}
}

func (s *session) draft(machine string) (v url.Values, by string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.drafts[machine], s.by
}
