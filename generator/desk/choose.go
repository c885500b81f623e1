package desk

import (
	"html/template"
	"net/http"
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
	mux.HandleFunc("GET "+c.path, func(w http.ResponseWriter, _ *http.Request) { c.page(w, http.StatusOK, c.usual, "") })
	mux.HandleFunc("POST "+c.path, c.chosen)
	return access.Policy{Hosts: hosts, Near: true, MaxBody: 1 << 16}.Middleware(mux)
}

type chooseView struct {
	frame
	At, Dir, Wrong string
}

func (c *Chooser) page(w http.ResponseWriter, status int, dir, wrong string) {
	f := frame{Lang: c.words.Lang, Title: c.words.Say("desk.choose")}
	sendPage(w, c.pages, status, "choose", chooseView{f, c.path, dir, wrong})
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
		c.page(w, http.StatusUnprocessableEntity, dir, wrong)
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
		c.page(w, http.StatusUnprocessableEntity, dir, err.Error())
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
	if _, err := os.Stat(filepath.Join(dir, "shop.md")); err == nil {
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
