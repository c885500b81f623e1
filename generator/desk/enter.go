package desk

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"net/http"
	"strings"
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
	sum := sha256.Sum256([]byte("desk " + secret))
	return hex.EncodeToString(sum[:])
}

func equal(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// known lets in who has been let in before.
func (d *Desk) known(inside http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if d.o.Secret != "" {
			c, err := r.Cookie(cookieName(r))
			if err != nil || !equal(c.Value, proofOf(d.o.Secret)) {
				d.page(w, http.StatusForbidden, "stranger", frame{Lang: d.words.Lang, Title: d.words.Say("desk.title")})
				return
			}
		}
		inside(w, r)
	}
}

type inView struct {
	frame
	Secret string
}

// askIn shows a button: programs that look ahead at addresses press none, so they do
// not use the way in up.
func (d *Desk) askIn(w http.ResponseWriter, r *http.Request) {
	d.page(w, http.StatusOK, "in", inView{frame{Lang: d.words.Lang, Title: d.words.Say("desk.title")}, r.URL.Query().Get("key")})
}

func (d *Desk) letIn(w http.ResponseWriter, r *http.Request) {
	if d.o.Secret == "" || !equal(r.PostFormValue("key"), d.o.Secret) {
		d.page(w, http.StatusForbidden, "stranger", frame{Lang: d.words.Lang, Title: d.words.Say("desk.title")})
		return
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName(r), Value: proofOf(d.o.Secret), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 400 * 24 * 3600})
	http.Redirect(w, r, "/desk/", http.StatusSeeOther)
}
