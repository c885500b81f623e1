package desk

import (
	"cmp"
	"embed"
	"encoding/json"
	"errors"
	"html/template"
	"io/fs"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/desk/access"
	"asleft/generator/logbook"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
)

//go:embed pages.html
var pages string

//go:embed desk.css desk.js
var assets embed.FS

// Options are what a desk depends on. Reading has to be set; everything else may be
// empty.
type Options struct {
	// Reading is the shop as it was read last, nil where it could not be read yet.
	Reading func() *generator.Reading
	// Site serves the site as it would be made now.
	Site http.Handler
	// Words is the catalog; nil means English.
	Words *catalog.Catalog
	// Now is the clock; nil means this computer's.
	Now func() time.Time
	// Settings is the user's own folder, where the shop's key is and where it is remembered
	// what was sealed; nil for none.
	Settings afero.Fs
	// Program is the name and version of the program, for sealed reports.
	Program string
	// Phones lets phones in; nil where that cannot be.
	Phones Phones
	// Theme is the theme's folder, and ThemeDir where it stands; nil for the one that
	// shop.md names.
	Theme    fs.FS
	ThemeDir string
	// Refresh has the shop read anew; nil where that is left to whoever watches it.
	Refresh func()
	// Dir is where the folder stands on the disk. Empty: the site cannot be brought out.
	Dir string
	// Ring keeps secrets for publishing; nil for none. Far is what a far end is opened with
	// besides what shop.md says.
	// Pace is how often things are done there; zero is what suits people.
	Ring Ring
	Far  farend.Options
	Pace publish.Pace
	// Secret makes the tickets that let browsers in. Empty: whoever is on this computer
	// is let in.
	Secret string
}

// A Desk is the desk of a shop. Its methods may be called from many goroutines.
type Desk struct {
	folder  afero.Fs
	o       Options
	words   *catalog.Catalog
	pages   *template.Template
	themes  themed
	album   generator.Album
	shown   recent[[]byte] // the texts that forms were filled in from, by their digests: rows are numbered by them
	named   named
	turns   turns
	refused recent[[]string] // what was said of photos that were not taken in
	tickets tickets
	publish publishing
	saving  sync.Mutex // one file at a time
	trying  sync.Mutex // and one trial
	looking sync.Mutex // and the pixels of one photo
}

// New makes the desk of a shop folder, which a rooted.FS should be.
func New(folder afero.Fs, o Options) *Desk {
	d := &Desk{folder: folder, o: o, words: o.Words, publish: publishing{lock: NewSecret()}}
	if d.words == nil {
		d.words = catalog.English
	}
	if d.o.Now == nil {
		d.o.Now = time.Now
	}
	d.pages = pagesFor(d.words, nil)
	return d
}

// pagesFor are the pages, for a phone or, where that is nil, for this computer.
func pagesFor(words *catalog.Catalog, phone *Phone) *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{"say": words.Say, "phone": func() *Phone { return phone }}).Parse(pages))
}

// mostBody is how much a form may send, photos with it; formRoom is what of it is for all
// that is typed.
const (
	mostBody = 200 << 20
	formRoom = 4 << 20
)

// Handler serves the desk at these addresses of this computer, as 127.0.0.1:7340.
func (d *Desk) Handler(hosts ...string) http.Handler {
	tooLarge := d.known(func(w http.ResponseWriter, r *http.Request) { d.tooLarge(w, r, mostBody) })
	return access.Policy{Hosts: hosts, Near: true, MaxBody: mostBody, TooLarge: tooLarge}.Middleware(d.routes())
}

// tooLarge tells that what was sent is more than goes at once, most often photos, and leads
// back to the page that it came from.
func (d *Desk) tooLarge(w http.ResponseWriter, r *http.Request, most int64) {
	v := lostView{frame: d.frame(d.words.Say("desk.too-large")), Says: d.words.Say("desk.too-large-why", "most", most>>20), Back: "/desk/", BackName: d.words.Say("desk.board")}
	if strings.HasPrefix(r.URL.Path, "/desk/m/") {
		v.Back, v.BackName = r.URL.Path, d.words.Say("desk.too-large-back")
	}
	d.page(w, http.StatusRequestEntityTooLarge, "lost", v)
}

// policy lets a page of the desk load its own script, style and pictures, show its own
// report in a frame, and send its forms home.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; frame-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

func (d *Desk) routes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /desk/in", d.askIn)
	mux.HandleFunc("POST /desk/in", d.letIn)
	mux.HandleFunc("GET /desk/desk.css", asset("desk.css", "text/css"))
	mux.HandleFunc("GET /desk/desk.js", asset("desk.js", "text/javascript"))
	mux.HandleFunc("GET /desk/{$}", d.known(d.board))
	mux.HandleFunc("POST /desk/start", d.known(form(d.start)))
	mux.HandleFunc("POST /desk/undo", d.known(form(d.takeBack)))
	for _, at := range []string{"/desk/shop", "/desk/new/{id}", "/desk/s/{file}", "/desk/s/new/{id}", "/desk/m/{key}", "/desk/m/{key}/e/{file}", "/desk/m/{key}/new/{id}"} {
		mux.HandleFunc("GET "+at, d.known(d.show))
		mux.HandleFunc("POST "+at, d.known(d.sent))
	}
	for _, at := range []string{"/desk/new", "/desk/s/new", "/desk/m/{key}/new", "/desk/m/{key}/list"} {
		mux.HandleFunc("GET "+at, d.known(d.begin))
	}
	mux.HandleFunc("GET /desk/m/{key}/list/{id}", d.known(d.walk))
	mux.HandleFunc("POST /desk/m/{key}/list/{id}", d.known(form(d.walked)))
	mux.HandleFunc("POST /desk/m/{key}/rename", d.known(form(d.rename)))
	mux.HandleFunc("GET /desk/m/{key}/seal", d.here(d.beforeSealing))
	mux.HandleFunc("POST /desk/m/{key}/seal", d.here(form(d.seal)))
	mux.HandleFunc("GET /desk/m/{key}/sealed/{name}", d.here(d.buyerFile))
	mux.HandleFunc("GET /desk/m/{key}/tag", d.here(d.tag))
	mux.HandleFunc("GET "+publishAt, d.here(d.publishPage))
	mux.HandleFunc("POST "+publishAt, d.here(form(d.publishSaid)))
	mux.HandleFunc("GET "+placeAt, d.here(d.place))
	mux.HandleFunc("POST "+placeAt, d.here(form(d.keepPlace)))
	mux.HandleFunc("GET /desk/phone", d.here(d.door))
	mux.HandleFunc("POST /desk/phone", d.here(form(d.openDoor)))
	mux.HandleFunc("GET /desk/phone/picture", d.here(d.picture))
	mux.HandleFunc("GET /desk/m/{key}/report", d.known(d.report))
	mux.HandleFunc("GET /desk/m/{key}/photo/{name}", d.known(d.photo))
	mux.HandleFunc("POST /desk/", d.known(d.notFound))
	mux.HandleFunc("GET /", d.known(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, "/desk/") {
			d.notFound(w, r)
			return
		}
		if d.o.Site == nil || r.URL.Path == "/" && r.Header.Get("Referer") == "" {
			http.Redirect(w, r, "/desk/", http.StatusSeeOther)
			return
		}
		d.o.Site.ServeHTTP(w, r)
	}))
	return mux
}

// form reads what a form sends, before it is taken; photos come otherwise: formOf.
func form(taken http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if err := r.ParseForm(); err != nil {
			http.Error(w, http.StatusText(http.StatusBadRequest), http.StatusBadRequest)
			return
		}
		taken(w, r)
	}
}

func asset(name, kind string) http.HandlerFunc {
	data, err := assets.ReadFile(name)
	if err != nil {
		panic(err) // it is built in
	}
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", kind+"; charset=utf-8")
		_, _ = w.Write(data) // a browser that is gone is nobody's problem
	}
}

// page sends one of the pages.
func (d *Desk) page(w http.ResponseWriter, status int, name string, view any) {
	all := d.pages
	if p, ok := w.(*phoneWriter); ok {
		all = p.pages
	}
	sendPage(w, all, status, name, view)
}

func sendPage(w http.ResponseWriter, all *template.Template, status int, name string, view any) {
	var out strings.Builder
	if err := all.ExecuteTemplate(&out, name, view); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Security-Policy", policy)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(out.String()))
}

func sendJSON(w http.ResponseWriter, v any) {
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	_ = json.NewEncoder(w).Encode(v)
}

// fail tells of what is the fault of the computer, such as a full disk. What was typed
// is still in the browser's page.
func (d *Desk) fail(w http.ResponseWriter, err error) {
	d.page(w, http.StatusInternalServerError, "failed", failedView{d.frame(""), d.words.Say("desk.failed", "why", err.Error())})
}

// notFound tells that there is no such page, and leads back: to the machine where it is of
// one that is there.
func (d *Desk) notFound(w http.ResponseWriter, r *http.Request) {
	v := lostView{d.frame(d.words.Say("desk.lost-page")), d.words.Say("desk.lost-why"), "/desk/", d.words.Say("desk.board")}
	if m, _ := machineOf(d.o.Reading(), r.PathValue("key")); m != nil {
		v.Back, v.BackName = machineAt(m.Key), m.Name
	}
	d.page(w, http.StatusNotFound, "lost", v)
}

type lostView struct {
	frame
	Says, Back, BackName string
}

type failedView struct {
	frame
	Says string
}

// frame is what every page has.
type frame struct {
	Lang, Shop, Title string
	Said              string // what was just done
	Soon              bool   // the page asks for itself again in a moment
	Again             bool   // where there is no script, it does so now and then
	Undo              *undoView
}

func (d *Desk) frame(title string) frame {
	f := frame{Lang: d.words.Lang, Title: title}
	if r := d.o.Reading(); r != nil {
		f.Shop = r.Shop.Name
	}
	if f.Title == "" {
		f.Title = d.words.Say("desk.title")
	}
	return f
}

// today is the day by the shop's clock.
func (d *Desk) today() logbook.Date { return logbook.Date(d.clock().Format(time.DateOnly)) }

// clock is the time at the shop: of the zone that shop.md names, else this computer's.
func (d *Desk) clock() time.Time {
	if r := d.o.Reading(); r != nil && r.Shop.Zone != nil && r.Shop.Zone != time.UTC {
		return d.o.Now().In(r.Shop.Zone)
	}
	return d.o.Now()
}

// machineOf is a machine of the shop by its key, with its report; nil where there is none.
func machineOf(r *generator.Reading, key string) (*logbook.Machine, *condition.Report) {
	if r == nil {
		return nil, nil
	}
	for n, m := range r.Shop.Machines {
		if m.Key == key && n < len(r.Reports) {
			return m, r.Reports[n]
		}
	}
	return nil, nil
}

// nowCalled is the key that a machine has now: the one it is asked by, or where none has
// that and one had it before, that one's.
func nowCalled(r *generator.Reading, key string) string {
	if m, _ := machineOf(r, key); m != nil || r == nil || key == "" {
		return key
	}
	was := ""
	for _, m := range r.Shop.Machines {
		if slices.Contains(m.Was, key) {
			if was != "" {
				return key
			}
			was = m.Key
		}
	}
	return cmp.Or(was, key)
}

var errNoFile = errors.New("there is no such file in the shop")
