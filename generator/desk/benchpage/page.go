package benchpage

import (
	_ "embed"
	"encoding/json"
	"errors"
	"html/template"
	"net/http"
	"net/netip"
	"strings"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/desk/access"
	"asleft/generator/logbook"
)

//go:embed pages.html
var pages string

//go:embed script.js
var script []byte

//go:embed style.css
var style []byte

var errNoMachine = errors.New("there is no such machine in the shop")

// Options are what a bench page depends on. Reading and ShowCode have to be
// set; everything else may be empty.
type Options struct {
	// Reading is the shop as it was read last, nil where it was not.
	Reading func() *generator.Reading
	// ShowCode shows a code on the shop's computer, and nowhere else.
	ShowCode func(code string)
	// Pages are what a paired phone sees beside the bench page: the preview.
	Pages http.Handler
	// Words is the catalog; nil means English.
	Words *catalog.Catalog
	// Now is the clock; nil means this computer's.
	Now func() time.Time
}

// A Bench is the bench page of a shop.
type Bench struct {
	folder   afero.Fs
	o        Options
	words    *catalog.Catalog
	now      func() time.Time
	pairing  *pairing
	sessions *sessions
	shelf    *shelf
	pages    *template.Template
	saving   sync.Mutex // one entry at a time
}

// New makes the bench page of a shop folder, which a rooted.FS should be.
func New(folder afero.Fs, o Options) *Bench {
	b := &Bench{folder: folder, o: o, words: o.Words, now: o.Now}
	if b.words == nil {
		b.words = catalog.English
	}
	if b.now == nil {
		b.now = time.Now
	}
	b.pairing = newPairing(b.now, o.ShowCode)
	b.sessions = &sessions{now: b.now, by: map[[32]byte]*session{}}
	b.shelf = newShelf(b.now)
	b.pages = template.Must(template.New("").Funcs(template.FuncMap{"say": b.words.Say, "row": func() row { return row{} }}).Parse(pages))
	return b
}

// Offer shows a code, so that a phone can be paired.
func (b *Bench) Offer() error {
	_, err := b.pairing.offer(netip.Addr{})
	return err
}

// Handler serves the bench page at these addresses, as 192.168.1.20:7341, to
// the network that they are on.
func (b *Bench) Handler(hosts ...string) http.Handler {
	return access.Policy{Hosts: hosts, Near: true, MaxBody: mostBody, Refused: b.refused}.Middleware(b.routes())
}

func (b *Bench) refused(status int) string {
	if status == http.StatusRequestEntityTooLarge {
		return b.words.Say("phone.too-big")
	}
	return http.StatusText(status)
}

// policy lets a bench page load its own script, style and pictures, and send
// its form home.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

func (b *Bench) routes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /bench/style.css", func(w http.ResponseWriter, _ *http.Request) { send(w, "text/css", style) })
	mux.HandleFunc("GET /bench/script.js", func(w http.ResponseWriter, _ *http.Request) { send(w, "text/javascript", script) })
	mux.HandleFunc("GET /bench/pair", b.askCode)
	mux.HandleFunc("POST /bench/pair", b.tryCode)
	mux.HandleFunc("GET /bench/{$}", b.paired(b.front))
	mux.HandleFunc("GET /bench/m/{key}", b.paired(b.blank))
	mux.HandleFunc("POST /bench/m/{key}", b.paired(b.filled))
	mux.HandleFunc("POST /bench/photo", b.paired(b.newPhoto))
	mux.HandleFunc("GET /bench/photo/{id}", b.paired(b.askPhoto))
	mux.HandleFunc("POST /bench/photo/{id}", b.paired(b.takePiece))
	mux.HandleFunc("GET /", b.paired(b.beside))
	return mux
}

// beside is the preview, and the front of the bench page for the bare address.
func (b *Bench) beside(w http.ResponseWriter, r *http.Request, _ *session) {
	if b.o.Pages == nil || r.URL.Path == "/" && r.Header.Get("Referer") == "" {
		http.Redirect(w, r, "/bench/", http.StatusSeeOther)
		return
	}
	b.o.Pages.ServeHTTP(w, r)
}

func send(w http.ResponseWriter, kind string, data []byte) {
	w.Header().Set("Content-Type", kind+"; charset=utf-8")
	_, _ = w.Write(data) // a phone that is gone is nobody's problem
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
func (b *Bench) page(w http.ResponseWriter, status int, name string, view any) {
	var out strings.Builder
	if err := b.pages.ExecuteTemplate(&out, name, view); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Security-Policy", policy)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(out.String()))
}

// machine is a machine of the shop by its key; nil where there is none.
func (b *Bench) machine(key string) (*logbook.Machine, *condition.Report, *logbook.Shop) {
	r := b.o.Reading()
	if r == nil {
		return nil, nil, nil
	}
	for n, m := range r.Shop.Machines {
		if m.Key == key && n < len(r.Reports) {
			return m, r.Reports[n], r.Shop
		}
	}
	return nil, nil, nil
}

// today is the day by the shop's clock.
func (b *Bench) today(shop *logbook.Shop) logbook.Date {
	return logbook.Date(b.clock(shop).Format(time.DateOnly))
}

// clock is the time at the shop: of the zone that shop.md names, else this
// computer's.
func (b *Bench) clock(shop *logbook.Shop) time.Time {
	if shop.Zone == nil || shop.Zone == time.UTC {
		return b.now()
	}
	return b.now().In(shop.Zone)
}
