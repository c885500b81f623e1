package desk

import (
	"cmp"
	"html/template"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"asleft/generator/catalog"
	"asleft/generator/desk/access"
)

// A Chooser asks in the browser where a shop's folder is, or is to be: for the first time
// that somebody starts the program by a double click.
type Chooser struct {
	words *catalog.Catalog
	usual string
	path  string
	pages *template.Template

	mu    sync.Mutex
	taken bool
	take  func(dir string) (address string, err error)
}

// NewChooser makes one that proposes a folder. Once a folder is picked and there, it is
// given to take, which returns where the browser is to go on, or why it cannot.
func NewChooser(words *catalog.Catalog, usual string, take func(dir string) (string, error)) *Chooser {
	return &Chooser{words: words, usual: usual, take: take, path: "/shop/" + NewSecret(), pages: pagesFor(words, nil)}
}

// Path is where it asks: nobody can guess it.
func (c *Chooser) Path() string { return c.path }

// Handler serves it to this computer.
func (c *Chooser) Handler(hosts ...string) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /desk/desk.css", asset("desk.css", "text/css"))
	mux.HandleFunc("GET /desk/desk.js", asset("desk.js", "text/javascript"))
	mux.HandleFunc("GET "+c.path, func(w http.ResponseWriter, r *http.Request) {
		in := r.FormValue("in")
		if !filepath.IsAbs(in) {
			c.page(w, http.StatusOK, c.usual, "", "")
			return
		}
		dir := filepath.Clean(in)
		if !fit(dir) { // a shop can begin in a folder of its own there
			dir = filepath.Join(dir, filepath.Base(c.usual))
		}
		c.page(w, http.StatusOK, dir, "", in)
	})
	mux.HandleFunc("POST "+c.path, c.chosen)
	return access.Policy{Hosts: hosts, Near: true, MaxBody: 1 << 16}.Middleware(mux)
}

type chooseView struct {
	frame
	At, Dir, Wrong string
	Looking        bool   // somebody looks through the folders
	In, Up         string // the folder that is shown, and the address of the one above it; empty for none
	Folders        []fileLink
	Many           bool // there are more
}

// mostFolders is how many folders of one are shown.
const mostFolders = 500

// page asks for the folder. In is the one that somebody is looking into; empty for the one
// that the proposed folder would stand in.
func (c *Chooser) page(w http.ResponseWriter, status int, dir, wrong, in string) {
	v := chooseView{frame: frame{Lang: c.words.Lang, Title: c.words.Say("desk.choose")}, At: c.path, Dir: dir, Wrong: wrong, Looking: in != ""}
	v.In = filepath.Clean(cmp.Or(in, filepath.Dir(c.usual)))
	if up := filepath.Dir(v.In); up != v.In {
		v.Up = c.lookInto(up)
	}
	all, _ := os.ReadDir(v.In) // a folder that cannot be read shows none
	for _, e := range all {
		whole := filepath.Join(v.In, e.Name())
		info, err := os.Stat(whole) // a link to a folder is one
		switch {
		case err != nil || !info.IsDir() || strings.HasPrefix(e.Name(), "."):
			continue
		case len(v.Folders) == mostFolders:
			v.Many = true
			continue
		}
		link := fileLink{To: c.lookInto(whole), Name: e.Name()}
		if isShop(whole) {
			link.Says = c.words.Say("desk.choose-is-shop")
		}
		v.Folders = append(v.Folders, link)
	}
	sendPage(w, c.pages, status, "choose", v)
}

func (c *Chooser) lookInto(dir string) string {
	return c.path + "?" + url.Values{"in": {dir}}.Encode()
}

// isShop tells whether a folder is a shop's.
func isShop(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, "shop.md"))
	return err == nil
}

// chosen takes a folder: one of a shop, an empty one, or one that is made now. One in
// which other things lie is not taken, so that a shop does not end up among them.
func (c *Chooser) chosen(w http.ResponseWriter, r *http.Request) {
	dir := strings.TrimSpace(r.PostFormValue("dir"))
	wrong := ""
	switch {
	case !filepath.IsAbs(dir):
		wrong = c.words.Say("desk.choose-whole", "dir", dir)
	case os.MkdirAll(dir, 0o755) != nil:
		wrong = c.words.Say("desk.choose-cannot", "dir", dir)
	case !fit(dir):
		wrong = c.words.Say("desk.choose-other", "dir", dir)
	}
	if wrong != "" {
		c.page(w, http.StatusUnprocessableEntity, dir, wrong, "")
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.taken { // a second press
		http.NotFound(w, r)
		return
	}
	address, err := c.take(filepath.Clean(dir))
	if err != nil {
		c.page(w, http.StatusUnprocessableEntity, dir, err.Error(), "")
		return
	}
	c.taken = true
	// The desk has another port. A browser that keeps to form-action goes nowhere by a
	// redirect of what a form sent, so this page leads there by itself.
	w.Header().Set("Refresh", "0; url="+address)
	f := frame{Lang: c.words.Lang, Title: c.words.Say("desk.chosen")}
	sendPage(w, c.pages, http.StatusOK, "chosen", chosenView{f, filepath.Clean(dir), address})
}

type chosenView struct {
	frame
	Dir, Next string
}

// fit tells whether a folder is a shop's, or empty.
func fit(dir string) bool {
	if isShop(dir) {
		return true
	}
	all, err := os.ReadDir(dir)
	if err != nil {
		return false
	}
	for _, e := range all {
		if !strings.HasPrefix(e.Name(), ".") && e.Name() != "desktop.ini" {
			return false
		}
	}
	return true
}
