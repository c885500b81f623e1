package desk

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"
)

// NewSecret is a secret that lets a browser in.
func NewSecret() string {
	var b [32]byte
	_, _ = rand.Read(b[:]) // it never fails: see crypto/rand
	return hex.EncodeToString(b[:])
}

// cookieName has the port in it: cookies do not tell ports apart, and two shops may have
// their desks open on one computer.
func cookieName(r *http.Request) string {
	_, port, _ := strings.Cut(r.Host, ":")
	return "asleft-desk-" + port
}

// proofOf is what the browser keeps: not the secret itself.
func proofOf(secret string) string {
	return fmt.Sprintf("%x", sha256.Sum256([]byte("desk "+secret)))
}

func equal(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// known lets in who has been let in before.
func (d *Desk) known(inside http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if _, phone := w.(*phoneWriter); d.o.Secret != "" && !phone {
			c, err := r.Cookie(cookieName(r))
			if err != nil || !equal(c.Value, proofOf(d.o.Secret)) {
				d.page(w, http.StatusForbidden, "stranger", frame{Lang: d.words.Lang, Title: d.words.Say("desk.title")})
				return
			}
		}
		inside(w, r)
	}
}

// ticketTime is how long a way in holds that nobody has used.
const ticketTime = 10 * time.Minute

// Ticket is a way in to the desk with that secret, for one browser: an address may lie
// about in a history or in a list of processes, so it is of use once and for a while.
func Ticket(secret string, now time.Time) string {
	return signed(secret, strconv.FormatInt(now.Unix(), 16)+"-"+NewSecret()[:16])
}

// signed is a ticket of that time and chance, with its proof.
func signed(secret, what string) string {
	proof := Proof([]byte(secret), "ticket "+what)
	return what + "-" + hex.EncodeToString(proof[:])
}

// Proof is what only who has a key can make of a text: its HMAC with SHA-256 (RFC 2104).
// The text's first word says what it is a proof of, so that none serves for another.
func Proof(key []byte, text string) [sha256.Size]byte {
	mac := hmac.New(sha256.New, key)
	mac.Write([]byte(text))
	return [sha256.Size]byte(mac.Sum(nil))
}

// tickets are those that were used.
type tickets struct {
	mu   sync.Mutex
	used map[string]time.Time
}

// take uses a ticket; false where it is none, is too old or was used.
func (t *tickets) take(secret, ticket string, now time.Time) bool {
	parts := strings.Split(ticket, "-")
	if len(parts) != 3 || !equal(signed(secret, parts[0]+"-"+parts[1]), ticket) {
		return false
	}
	seconds, err := strconv.ParseInt(parts[0], 16, 64)
	if made := time.Unix(seconds, 0); err != nil || now.Sub(made) > ticketTime || made.Sub(now) > ticketTime {
		return false
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if _, used := t.used[ticket]; used {
		return false
	}
	if t.used == nil {
		t.used = map[string]time.Time{}
	}
	for old, at := range t.used {
		if now.Sub(at) > 2*ticketTime {
			delete(t.used, old)
		}
	}
	t.used[ticket] = now
	return true
}

type inView struct {
	frame
	Ticket string
}

// askIn shows a button: programs that look ahead at addresses press none, so they do
// not use the way in up.
func (d *Desk) askIn(w http.ResponseWriter, r *http.Request) {
	d.page(w, http.StatusOK, "in", inView{frame{Lang: d.words.Lang, Title: d.words.Say("desk.title")}, r.URL.Query().Get("ticket")})
}

func (d *Desk) letIn(w http.ResponseWriter, r *http.Request) {
	if d.o.Secret == "" || !d.tickets.take(d.o.Secret, r.PostFormValue("ticket"), d.o.Now()) {
		d.page(w, http.StatusForbidden, "stranger", frame{Lang: d.words.Lang, Title: d.words.Say("desk.title")})
		return
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName(r), Value: proofOf(d.o.Secret), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 400 * 24 * 3600})
	http.Redirect(w, r, "/desk/", http.StatusSeeOther)
}
