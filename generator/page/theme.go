package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"slices"
	"sync"

	"golang.org/x/net/html"

	"asleft/generator/catalog"
	"asleft/themes"
)

// A Theme is a folder of templates and style, ready to be filled in.
type Theme struct {
	templates *template.Template
	shared    *template.Template // the program's own, without any of the theme's
	budget    *budget
	style     []byte
	icon      []byte // nil when the theme has none
}

// views are the templates that every theme has to have.
var views = []string{"front.html", "story.html", "condition.html", "listing.html", "words.html", "lost.html"}

// A theme may leave out verify.html and gone.html: then the site does without
// the page about sealed reports, and without those that machines for sale leave
// behind when they are gone.

// LoadTheme reads a theme's folder: all its *.html together as templates,
// style.css, and icon.svg if there is one. The program's own pieces are there for
// it to use, and not to replace. An error names the template and the line.
func LoadTheme(folder fs.FS, words *catalog.Catalog) (*Theme, error) {
	allowed := &budget{}
	shared, err := template.New("").Funcs(functions(words, allowed)).ParseFS(themes.Shared, "shared/*.html")
	if err != nil {
		return nil, fmt.Errorf("the program's own templates cannot be read: %w", err)
	}
	t, err := template.Must(shared.Clone()).ParseFS(folder, "*.html")
	if err != nil {
		return nil, fmt.Errorf("the theme cannot be read: %w", err)
	}
	for _, name := range views {
		if t.Lookup(name) == nil {
			return nil, fmt.Errorf("the theme has no %s", name)
		}
	}
	if err := voiceless(folder, shared); err != nil {
		return nil, err
	}
	if err := callsItself(t); err != nil {
		return nil, err
	}
	for _, all := range []*template.Template{shared, t} {
		sayOnce(all, words)
		countSteps(all)
	}
	style, err := fs.ReadFile(folder, "style.css")
	if err != nil {
		return nil, fmt.Errorf("the theme has no style.css: %w", err)
	}
	icon, err := fs.ReadFile(folder, "icon.svg")
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("the theme's icon.svg cannot be read: %w", err)
	}
	made := &Theme{templates: t, shared: shared, budget: allowed, style: style, icon: icon}
	made.settle()
	return made, nil
}

// has tells whether the theme has a template that it may leave out.
func (t *Theme) has(name string) bool { return t.templates.Lookup(name) != nil }

// stylePath is named by content, so that a browser may keep it for ever.
func (t *Theme) stylePath() string { return "assets/style-" + digest(t.style) + ".css" }

func (t *Theme) iconPath() string {
	if t.icon == nil {
		return ""
	}
	return "assets/icon-" + digest(t.icon) + ".svg"
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:5])
}

// own fills in one of the program's own templates, which no theme can replace.
func (t *Theme) own(name string, view any) (template.HTML, error) {
	b, done := t.buffer()
	defer done()
	if err := t.shared.ExecuteTemplate(b, name, view); err != nil {
		return "", fmt.Errorf("the program's own %s: %w", name, err)
	}
	return template.HTML(b.String()), nil //nolint:gosec // html/template made it
}

// frame makes a page whose text is the program's own: the theme's template has
// to hold it whole, and once.
func (t *Theme) frame(put Put, path, name string, view any, body template.HTML) error {
	return t.fill(func(path string, page []byte) error {
		if n := bytes.Count(page, []byte(body)); n != 1 {
			return fmt.Errorf("the theme's %s holds the text of the page %d times; write {{.Body}} in it, once", name, n)
		}
		return put(path, page)
	}, path, name, view)
}

// fill makes a page of a template and a view.
func (t *Theme) fill(put Put, path, name string, view any) error {
	b, done := t.buffer()
	defer done()
	if err := t.templates.ExecuteTemplate(b, name, view); err != nil {
		return fmt.Errorf("the theme's %s: %w", name, err)
	}
	if v, ok := view.(interface{ policy() string }); ok && v.policy() != "" && !bound(b.Bytes(), v.policy()) {
		return fmt.Errorf("the theme's %s makes a page without its policy, or puts something before it; write {{template \"meta\" .}} right behind <head>", name)
	}
	return put(path, b.Bytes())
}

// bound tells whether a page begins with its policy, so that a browser goes by it for all
// that follows: no theme has a program run, in the site or beside the desk's own pages.
func bound(made []byte, policy string) bool {
	for z := html.NewTokenizer(bytes.NewReader(made)); ; {
		switch z.Next() {
		case html.DoctypeToken, html.CommentToken:
		case html.TextToken:
			if len(bytes.TrimSpace(z.Text())) > 0 {
				return false
			}
		case html.StartTagToken, html.SelfClosingTagToken:
			tag := z.Token()
			has := func(key, value string) bool { return slices.Contains(tag.Attr, html.Attribute{Key: key, Val: value}) }
			switch {
			case tag.Data == "meta" && has("http-equiv", "Content-Security-Policy"):
				return has("content", policy)
			case tag.Data != "html" && tag.Data != "head" && tag.Data != "meta":
				return false
			}
		default:
			return false
		}
	}
}

// buffers are used for one page after the other.
var buffers = sync.Pool{New: func() any { return new(bounded) }}

// maxIdle is the largest buffer, in bytes, that is kept for the next page: a
// page of the common size fits, and one that is out of all measure does not stay.
const maxIdle = 1 << 20

// buffer is one for a page that is filled in now.
func (t *Theme) buffer() (b *bounded, done func()) {
	b = buffers.Get().(*bounded)
	b.budget = t.budget
	over := t.budget.page()
	return b, func() {
		over()
		if b.Cap() <= maxIdle {
			b.Reset()
			b.steps, b.budget = 0, nil
			buffers.Put(b)
		}
	}
}

// maxPage is the largest page, in bytes: more than any log comes to, and a
// theme that goes round in circles must not fill the memory.
const maxPage = 64 << 20

var errMaxPage = fmt.Errorf("the page grew past %d MB; the template repeats itself", maxPage>>20)

// A bounded is a buffer that does not grow past maxPage, and counts the empty
// texts that are written into it: see countSteps.
type bounded struct {
	bytes.Buffer
	steps  int
	budget *budget
}

func (b *bounded) Write(p []byte) (int, error) {
	if len(p) == 0 {
		if b.steps++; b.steps > maxSteps+b.Len()/16 {
			return 0, errMaxSteps
		}
	}
	if b.Len()+len(p) > maxPage {
		return 0, errMaxPage
	}
	if err := b.budget.write(len(p)); err != nil {
		return 0, err
	}
	return b.Buffer.Write(p)
}
