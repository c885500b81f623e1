package preview

import (
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"net/http"
	"net/url"
	"path"
	"strings"
	"time"

	"asleft/generator/desk/access"
)

//go:embed live.js
var liveScript []byte

//go:embed live.css
var liveStyle []byte

// types are the content types of what a site holds.
var types = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".json": "application/json; charset=utf-8",
	".svg":  "image/svg+xml",
	".jpg":  "image/jpeg",
	".xml":  "application/xml; charset=utf-8",
	".txt":  "text/plain; charset=utf-8",
}

func typeOf(name string) string {
	if name == "feed.xml" {
		return "application/atom+xml; charset=utf-8"
	}
	if t, ok := types[path.Ext(name)]; ok {
		return t
	}
	return "application/octet-stream"
}

// Handler serves the preview to this computer at the given address, as
// 127.0.0.1:8080, and to nobody else.
func (p *Preview) Handler(hosts ...string) http.Handler {
	return access.Policy{Hosts: hosts, Near: true}.Middleware(p.Pages())
}

// Pages serves the preview to whoever was let in.
func (p *Preview) Pages() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc(own+"live.js", func(w http.ResponseWriter, _ *http.Request) { send(w, "live.js", liveScript) })
	mux.HandleFunc(own+"live.css", func(w http.ResponseWriter, _ *http.Request) { send(w, "live.css", liveStyle) })
	mux.HandleFunc(own+"news", p.news)
	mux.HandleFunc("/", p.file)
	return mux
}

func send(w http.ResponseWriter, name string, data []byte) {
	w.Header().Set("Content-Type", typeOf(name))
	// A browser that is gone is nobody's problem.
	_, _ = w.Write(data)
}

// file serves a file of the last good site. The request's path is looked up in
// the site and goes nowhere near the disk.
func (p *Preview) file(w http.ResponseWriter, r *http.Request) {
	s, _ := p.state()
	if s.site == nil {
		p.bare(w, s)
		return
	}
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" || strings.HasSuffix(name, "/") {
		name += "index.html"
	}
	if from, ok := s.site.photos[name]; ok {
		p.photo(w, r, name, from)
		return
	}
	data, ok := s.site.files[name]
	if _, folder := s.site.files[name+"/index.html"]; !ok && folder {
		to := url.URL{Path: r.URL.Path + "/"}
		http.Redirect(w, r, to.String(), http.StatusFound)
		return
	}
	status := http.StatusOK
	if !ok {
		name, status = "404.html", http.StatusNotFound
		data = s.site.files[name]
	}
	if path.Ext(name) == ".html" {
		body, policy := inject(data, s.site.build)
		if policy != "" {
			w.Header().Set("Content-Security-Policy", policy)
		}
		data = body
	}
	if path.Ext(name) == ".svg" { // a drawing that is opened by itself may run a script
		w.Header().Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; sandbox")
	}
	w.Header().Set("Content-Type", typeOf(name))
	w.WriteHeader(status)
	_, _ = w.Write(data)
}

func (p *Preview) photo(w http.ResponseWriter, r *http.Request, name string, from source) {
	// A big photo takes its time, and so may those before it.
	data, err := p.photos.get(r.Context(), from.key, from.path, from.width)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	send(w, name, data)
}

// bare is the page while there is no site yet: the script shows the problems
// on it.
func (p *Preview) bare(w http.ResponseWriter, s *state) {
	say := "preview.reading"
	if len(s.problems) > 0 {
		say = "preview.nothing-yet"
	}
	page := fmt.Sprintf(`<!DOCTYPE html><html lang="%s"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>%s</title></head><body><main><p>%s</p></main></body></html>`,
		html.EscapeString(p.o.Words.Lang), html.EscapeString(p.o.Words.Say("preview.title")), html.EscapeString(p.o.Words.Say(say)))
	data, _ := inject([]byte(page), 0)
	w.Header().Set("Content-Security-Policy", widen("default-src 'none'"))
	w.Header().Set("Content-Type", typeOf("index.html"))
	w.WriteHeader(http.StatusServiceUnavailable)
	_, _ = w.Write(data)
}

// news is what an open page is told: which site there is now, and the problems
// to show over it, with all the words that it needs.
type news struct {
	Build    int64     `json:"build"`
	Title    string    `json:"title"`
	Note     string    `json:"note"`
	Gone     string    `json:"gone"` // to show when nothing is heard any more
	Problems []Problem `json:"problems"`
}

func (p *Preview) newsOf(s *state) news {
	n := news{Gone: p.o.Words.Say("preview.gone"), Problems: s.problems}
	if s.site != nil {
		n.Build = s.site.build
	}
	if len(s.problems) > 0 {
		n.Title = p.o.Words.Count("preview.problems", len(s.problems))
		n.Note = p.o.Words.Say("preview.as-before")
		if s.site == nil {
			n.Note = p.o.Words.Say("preview.nothing-yet")
		}
	}
	return n
}

// Times of the stream of news: a sign of life now and then tells a line that is
// cut from one on which nothing happens.
const (
	signOfLife = 20 * time.Second
	lineTime   = 10 * time.Second
)

// news is a stream of server-sent events (HTML Living Standard, section 9.2):
// one at once, and one for each new state. States in quick succession are told
// of once, by the last of them.
func (p *Preview) news(w http.ResponseWriter, r *http.Request) {
	ctl := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	told, retry := 0, "retry: 1000\n"
	for {
		s, changed := p.state()
		line := ": still here\n\n"
		if s.version != told {
			told = s.version
			data, err := json.Marshal(p.newsOf(s))
			if err != nil {
				return
			}
			line = retry + "data: " + string(data) + "\n\n"
			retry = ""
		}
		if err := ctl.SetWriteDeadline(time.Now().Add(lineTime)); err != nil && !errors.Is(err, http.ErrNotSupported) {
			return
		}
		if _, err := w.Write([]byte(line)); err != nil {
			return
		}
		if err := ctl.Flush(); err != nil {
			return
		}
		if !wait(r.Context(), changed) {
			return
		}
	}
}

// wait waits for a change or for the time of a sign of life; false when the
// other end is gone.
func wait(ctx context.Context, changed <-chan struct{}) bool {
	sign := time.NewTimer(signOfLife)
	defer sign.Stop()
	select {
	case <-changed:
	case <-sign.C:
	case <-ctx.Done():
		return false
	}
	return true
}
