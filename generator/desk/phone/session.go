package phone

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"path"
	"strings"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/entry"
	"asleft/generator/rooted"
)

// How long a phone stays paired without being used, and how many there can be.
const (
	sessionTime  = 30 * 24 * time.Hour
	mostSessions = 12
)

// cookie is the name of the cookie that a paired phone brings.
const cookie = "asleft-phone"

// A session is a paired phone.
type session struct{ used time.Time } // guarded by the sessions

// sessions are the paired phones, by the digest of what their cookie holds. It is made
// with a key that is not in the shop's folder: a folder that comes from elsewhere lets in
// no phone that was let in there, and none that somebody wrote into it.
type sessions struct {
	now    func() time.Time
	key    []byte
	folder afero.Fs
	mu     sync.Mutex
	by     map[[sha256.Size]byte]*session
}

// sessionsFile is where paired phones are remembered while the program does not run: of
// what their cookies hold, the digests alone.
const sessionsFile = ".asleft/phones.json"

// usedAgain is how far the time at which a phone was used last may be behind on the disk.
const usedAgain = 6 * time.Hour

func newSessions(folder afero.Fs, key []byte, now func() time.Time) *sessions {
	s := &sessions{now: now, key: key, folder: folder, by: map[[sha256.Size]byte]*session{}}
	var known map[string]time.Time
	data, err := rooted.ReadFile(folder, sessionsFile, rooted.MostText)
	if err != nil || json.Unmarshal(data, &known) != nil {
		return s // none, or damaged by somebody else: phones are let in anew
	}
	for digest, used := range known {
		var key [sha256.Size]byte
		if n, err := hex.Decode(key[:], []byte(digest[:min(len(digest), 2*len(key))])); err == nil && n == len(key) {
			s.by[key] = &session{used: used}
		}
	}
	return s
}

// digest is what a secret is known by.
func (s *sessions) digest(secret string) [sha256.Size]byte {
	return desk.Proof(s.key, "phone "+secret)
}

// remember writes them down. That it fails costs a phone a new code. The caller holds s.
func (s *sessions) remember() {
	known := map[string]time.Time{}
	for key, one := range s.by {
		known[hex.EncodeToString(key[:])] = one.used
	}
	if data, err := json.Marshal(known); err == nil && s.folder.MkdirAll(path.Dir(sessionsFile), 0o755) == nil {
		_ = entry.KeepDraft(s.folder, sessionsFile, data)
	}
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
	s.by[s.digest(value)] = &session{used: s.now()}
	s.remember()
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
	one := s.by[s.digest(secret)]
	if one == nil || s.now().Sub(one.used) > sessionTime {
		return nil
	}
	late := s.now().Sub(one.used) > usedAgain
	one.used = s.now()
	if late {
		s.remember()
	}
	return one
}
