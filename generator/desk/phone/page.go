package phone

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"html/template"
	"io/fs"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/desk"
	"asleft/generator/desk/access"
	"asleft/generator/logbook"
)

//go:embed pages.html
var pages string

// assets are the scripts and the style. Their address holds their version, so that a
// browser may keep them: the page of what a phone keeps opens without this computer.
//
//go:embed *.js *.css
var assets embed.FS

var version = sync.OnceValue(func() string {
	names, err := fs.Glob(assets, "*")
	if err != nil {
		panic(err) // the pattern is our own
	}
	all := sha256.New()
	for _, name := range names {
		data, err := assets.ReadFile(name)
		if err != nil {
			panic(err) // it is in the program
		}
		all.Write(data)
	}
	all.Write([]byte(pages))
	return hex.EncodeToString(all.Sum(nil))[:16]
})

// longest is how long a browser may keep what has its version in its address.
const longest = "private, max-age=31536000"

var errNoMachine = errors.New("there is no such machine in the shop")

// Options are what the phones' base depends on. Reading, Desk and ShowCode have to be
// set; everything else may be empty.
type Options struct {
	// Reading is the shop as it was read last, nil where it was not.
	Reading func() *generator.Reading
	// ShowCode shows a code on the shop's computer, and nowhere else.
	ShowCode func(code string)
	// Tell tells somebody at the shop's computer of what came late and did not pass;
	// nil tells nobody.
	Tell func(text string)
	// Desk has the pages that a paired phone sees, and makes evenings of what their forms
	// say. It has to be set.
	Desk *desk.Desk
	// Key is this computer's own, and in no shop folder: by it a phone is known that was let
	// in. Without one none is when the program starts anew.
	Key []byte
	// Words is the catalog; nil means English.
	Words *catalog.Catalog
	// Now is the clock; nil means this computer's.
	Now func() time.Time
}

// A Base is what the phones of a shop are let in by, and send to.
type Base struct {
	folder   afero.Fs
	o        Options
	words    *catalog.Catalog
	now      func() time.Time
	pairing  *pairing
	sessions *sessions
	uploads  *uploads
	pages    *template.Template
	desk     http.Handler
	saving   sync.Mutex // one entry at a time
}

// New makes the base of a shop folder's phones, which a rooted.FS should be.
func New(folder afero.Fs, o Options) *Base {
	b := &Base{folder: folder, o: o, words: o.Words, now: o.Now}
	if b.words == nil {
		b.words = catalog.English
	}
	if b.now == nil {
		b.now = time.Now
	}
	b.pairing = newPairing(b.now, o.ShowCode)
	if o.Key == nil {
		o.Key = []byte(desk.NewSecret())
	}
	b.sessions = newSessions(folder, o.Key, b.now)
	b.uploads = newUploads(b.now)
	b.pages = template.Must(template.New("").Funcs(template.FuncMap{"say": b.words.Say, "version": version}).Parse(pages))
	b.desk = o.Desk.Phone(desk.Phone{
		Attributes: template.HTMLAttr(b.part("attributes")), //nolint:gosec // our own template escaped it
		Head:       template.HTML(b.part("head")),           //nolint:gosec // so here
		Top:        template.HTML(b.part("top")),            //nolint:gosec // and here
	})
	return b
}

// part is a part of the pages.
func (b *Base) part(name string) string {
	var out strings.Builder
	if err := b.pages.ExecuteTemplate(&out, name, nil); err != nil {
		panic(err) // the template is our own
	}
	return out.String()
}

// Offer shows a code, so that a phone can be paired.
func (b *Base) Offer() error {
	_, err := b.pairing.offer(netip.Addr{})
	return err
}

// Code is the code that lets the next phone in.
func (b *Base) Code() (string, error) {
	if err := b.Offer(); err != nil {
		return "", err
	}
	return b.pairing.shown(), nil
}

// Handler serves phones at these addresses, as 192.168.1.20:7341, to
// the network that they are on.
func (b *Base) Handler(hosts ...string) http.Handler {
	return access.Policy{Hosts: hosts, Near: true, Moved: true, MaxBody: mostBody, Refused: b.refused}.Middleware(b.routes())
}

func (b *Base) refused(status int) string {
	if status == http.StatusRequestEntityTooLarge {
		return b.words.Say("phone.too-big")
	}
	return http.StatusText(status)
}

// policy lets the phones' base load its own script, style and pictures, and send
// its form home.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// keptPolicy lets the page of what a phone keeps send it to another address too.
var keptPolicy = strings.Replace(policy, "connect-src 'self'", "connect-src 'self' http:", 1)

func (b *Base) routes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /phone/as/{version}/{name}", asset)
	mux.HandleFunc("GET /phone/kept", b.kept)
	mux.HandleFunc("GET /phone/alive", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusNoContent) })
	mux.HandleFunc("GET /phone/pair", b.askCode)
	mux.HandleFunc("POST /phone/pair", b.tryCode)
	mux.Handle("GET /phone/{$}", http.RedirectHandler("/desk/", http.StatusSeeOther))
	mux.HandleFunc("POST /phone/m/{key}", b.paired(b.sent))
	mux.HandleFunc("POST /phone/photo", b.paired(b.newPhoto))
	mux.HandleFunc("GET /phone/photo/{id}", b.paired(b.askPhoto))
	mux.HandleFunc("POST /phone/photo/{id}", b.paired(b.takePiece))
	mux.HandleFunc("/", b.paired(func(w http.ResponseWriter, r *http.Request, _ *session) { b.desk.ServeHTTP(w, r) }))
	return mux
}

// asset sends a script or the style.
func asset(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	data, err := assets.ReadFile(name)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	if r.PathValue("version") == version() {
		w.Header().Set("Cache-Control", longest)
	}
	kind := "text/javascript"
	if strings.HasSuffix(name, ".css") {
		kind = "text/css"
	}
	w.Header().Set("Content-Type", kind+"; charset=utf-8")
	_, _ = w.Write(data) // a phone that is gone is nobody's problem
}

// kept is the page of what a phone keeps. It says nothing of the shop, so a stranger
// may see it, and a browser may keep it: it opens where this computer is gone.
func (b *Base) kept(w http.ResponseWriter, _ *http.Request) {
	b.pageUnder(w, http.StatusOK, "kept", frame{Lang: b.words.Lang}, keptPolicy, longest)
}

func sendJSON(w http.ResponseWriter, status int, v any) {
	data, err := json.Marshal(v)
	if err != nil {
		http.Error(w, http.StatusText(http.StatusInternalServerError), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(data)
}

// page sends one of the pages.
func (b *Base) page(w http.ResponseWriter, status int, name string, view any) {
	b.pageUnder(w, status, name, view, policy, "no-store")
}

func (b *Base) pageUnder(w http.ResponseWriter, status int, name string, view any, policy, keep string) {
	var out strings.Builder
	if err := b.pages.ExecuteTemplate(&out, name, view); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Security-Policy", policy)
	w.Header().Set("Cache-Control", keep)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(out.String()))
}

// machine is a machine of the shop by its key, or by an earlier one where that is of
// one machine only; nil where there is none.
func (b *Base) machine(key string) (*logbook.Machine, *logbook.Shop) {
	r := b.o.Reading()
	if r == nil {
		return nil, nil
	}
	found, times := -1, 0
	for n, m := range r.Shop.Machines {
		if m.Key == key {
			return m, r.Shop
		}
		if slices.Contains(m.Was, key) {
			found, times = n, times+1
		}
	}
	if times != 1 {
		return nil, nil
	}
	return r.Shop.Machines[found], r.Shop
}

// today is the day by the shop's clock.
func (b *Base) today(shop *logbook.Shop) logbook.Date {
	return logbook.Date(b.clock(shop).Format(time.DateOnly))
}

// clock is the time at the shop: of the zone that shop.md names, else this
// computer's.
func (b *Base) clock(shop *logbook.Shop) time.Time {
	if shop.Zone == nil || shop.Zone == time.UTC {
		return b.now()
	}
	return b.now().In(shop.Zone)
}
