package phone

import (
	"net/http"
	"net/netip"
	"strings"
)

// paired lets in a phone that is paired. A page sends a stranger to the page
// for the code; anything else is refused.
func (b *Base) paired(inside func(http.ResponseWriter, *http.Request, *session)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		s := b.sessions.of(r)
		switch {
		case s != nil:
			inside(w, r, s)
		case r.Method == http.MethodGet && !byScript(r) && !strings.HasPrefix(r.URL.Path, "/phone/photo"):
			http.Redirect(w, r, "/phone/pair", http.StatusSeeOther)
		default:
			w.Header().Set("Connection", "close")
			http.Error(w, b.words.Say("phone.not-paired"), http.StatusUnauthorized)
		}
	}
}

// addressOf is who sent a request, without the port; the same for all of whom that
// is not known.
func addressOf(r *http.Request) netip.Addr {
	at, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return netip.Addr{}
	}
	return at.Addr().Unmap().WithZone("")
}

func (b *Base) askCode(w http.ResponseWriter, r *http.Request) {
	wait, err := b.pairing.offer(addressOf(r))
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	if byScript(r) {
		news := pairNews{}
		if wait > 0 {
			news.Says = b.words.Say("phone.locked")
		}
		sendJSON(w, http.StatusOK, news)
		return
	}
	if wait > 0 {
		b.page(w, http.StatusTooManyRequests, "pair", b.pairView("phone.locked", ""))
		return
	}
	b.page(w, http.StatusOK, "pair", b.pairView("", codeOf(r.URL.Query().Get("code"))))
}

// pairNews is what the script of a page of an earlier address is told.
type pairNews struct {
	Token string `json:"token,omitempty"`
	Says  string `json:"says,omitempty"`
}

// codeOf are the digits of what was typed.
func codeOf(typed string) string {
	return strings.Map(func(c rune) rune {
		if c < '0' || c > '9' {
			return -1
		}
		return c
	}, typed[:min(len(typed), 40)])
}

// mostCode is how much the form with the code may weigh.
const mostCode = 4 << 10

func (b *Base) tryCode(w http.ResponseWriter, r *http.Request) {
	v, err := smallForm(w, r, mostCode)
	if err != nil {
		http.Error(w, b.words.Say("phone.too-big"), statusOf(err))
		return
	}
	got, err := b.pairing.try(addressOf(r), codeOf(v.Get("code")))
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	if got == paired && byScript(r) {
		sendJSON(w, http.StatusOK, pairNews{Token: b.sessions.add()})
		return
	}
	if got == paired {
		b.sessions.begin(w)
		http.Redirect(w, r, "/desk/", http.StatusSeeOther)
		return
	}
	status, says := http.StatusForbidden, "phone.wrong-code"
	switch got {
	case lockedOut:
		status, says = http.StatusTooManyRequests, "phone.locked"
	case codeRunOut:
		says = "phone.code-over"
	}
	if byScript(r) {
		sendJSON(w, status, pairNews{Says: b.words.Say(says)})
		return
	}
	b.page(w, status, "pair", b.pairView(says, ""))
}
