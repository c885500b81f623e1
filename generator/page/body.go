package page

import (
	"bytes"
	"fmt"
	"html"
	"html/template"
	"net/url"
	"path"
	"strings"

	"github.com/yuin/goldmark/ast"
	tables "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	gmhtml "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"asleft/generator/logbook"
)

// body renders Markdown of the shop: headings moved below the page's own,
// photos in their widths, words of the trade linked, links to the shop's own
// files turned into links to their pages. Links with a scheme that could run
// something (javascript: and the like) stay text, as does what looks like HTML.
func (s *composer) body(b logbook.Body, photos []logbook.Photo, m *logbook.Machine, under int) (template.HTML, error) {
	if len(bytes.TrimSpace(b.Text)) == 0 {
		return "", nil
	}
	doc := logbook.Markdown().Parse(text.NewReader(b.Text))
	w := &writer{composer: s, source: b.Text, photos: photos, machine: m, under: under}
	if err := ast.Walk(doc, w.prepare); err != nil {
		return "", err
	}
	for _, c := range w.changes {
		c()
	}
	var out rendered
	out.Grow(len(b.Text) + len(b.Text)/4)
	if err := bodyRenderer.Render(&out, b.Text, doc); err != nil {
		return "", fmt.Errorf("rendering a body: %w", err)
	}
	return template.HTML(out.String()), nil //nolint:gosec // goldmark's safe renderer and our own escaped pieces
}

// rendered is HTML as goldmark's renderer writes it, with no buffer in between.
type rendered struct{ strings.Builder }

func (*rendered) Available() int { return 0 }
func (*rendered) Buffered() int  { return 0 }
func (*rendered) Flush() error   { return nil }

// bodyRenderer is goldmark's HTML renderer, safe mode, and our ready pieces.
var bodyRenderer = renderer.NewRenderer(renderer.WithNodeRenderers(
	util.Prioritized(gmhtml.NewRenderer(), 1000),
	util.Prioritized(pieceRenderer{}, 100),
	util.Prioritized(tableRenderer{}, 100),
))

// A piece is HTML that was made ready while the page was prepared.
type piece struct {
	ast.BaseInline
	html string
}

var pieceKind = ast.NewNodeKind("Piece")

func (*piece) Kind() ast.NodeKind              { return pieceKind }
func (p *piece) Dump(source []byte, level int) { ast.DumpHelper(p, source, level, nil, nil) }

type pieceRenderer struct{}

func (pieceRenderer) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(pieceKind, func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			if _, err := w.WriteString(n.(*piece).html); err != nil {
				return ast.WalkStop, fmt.Errorf("writing: %w", err)
			}
		}
		return ast.WalkSkipChildren, nil
	})
}

// tableRenderer writes tables of Markdown: in a box in which a wide one goes
// sideways, alignment by class (pages have no style of their own).
type tableRenderer struct{}

func (tableRenderer) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(tables.KindTable, pair(func(n ast.Node) (string, string) {
		label, _ := n.AttributeString("label")
		return fmt.Sprintf(`<div class="written-table" role="group" tabindex="0" aria-label="%s"><table>`+"\n", html.EscapeString(fmt.Sprint(label))), "</table></div>\n"
	}))
	r.Register(tables.KindTableHeader, pair(func(n ast.Node) (string, string) {
		if n.NextSibling() == nil {
			return "<thead>\n<tr>", "</tr>\n</thead>\n"
		}
		return "<thead>\n<tr>", "</tr>\n</thead>\n<tbody>\n"
	}))
	r.Register(tables.KindTableRow, pair(func(n ast.Node) (string, string) {
		if n.NextSibling() == nil {
			return "<tr>", "</tr>\n</tbody>\n"
		}
		return "<tr>", "</tr>\n"
	}))
	r.Register(tables.KindTableCell, pair(func(n ast.Node) (string, string) {
		class := alignments[n.(*tables.TableCell).Alignment]
		if n.Parent().Kind() != tables.KindTableHeader {
			return "<td" + class + ">", "</td>"
		}
		if n.FirstChild() == nil { // a corner heads nothing
			return "<td" + class + ">", "</td>"
		}
		return `<th scope="col"` + class + ">", "</th>"
	}))
}

var alignments = map[tables.Alignment]string{tables.AlignRight: ` class="to-end"`, tables.AlignCenter: ` class="to-middle"`}

// pair writes a node as what goes before its children and what goes after them.
func pair(of func(n ast.Node) (before, after string)) renderer.NodeRendererFunc {
	return func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		written, after := of(n)
		if !entering {
			written = after
		}
		if _, err := w.WriteString(written); err != nil {
			return ast.WalkStop, fmt.Errorf("writing: %w", err)
		}
		return ast.WalkContinue, nil
	}
}

// A writer prepares one body. Changes to the tree wait until it has been
// walked, for a tree must not change under one's feet.
type writer struct {
	*composer
	source  []byte
	photos  []logbook.Photo
	machine *logbook.Machine
	under   int   // level of the heading that the body stands under
	levels  []int // source levels of the headings that are open
	changes []func()
}

func (w *writer) replace(n ast.Node, with ...ast.Node) {
	w.changes = append(w.changes, func() {
		parent := n.Parent()
		for _, x := range with {
			parent.InsertBefore(parent, n, x)
		}
		parent.RemoveChild(parent, n)
	})
}

func (w *writer) prepare(n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	switch n := n.(type) {
	case *ast.Heading:
		w.heading(n)
	case *ast.Paragraph:
		if img, ok := n.FirstChild().(*ast.Image); ok && n.ChildCount() == 1 {
			w.replace(n, w.figure(img)...)
			return ast.WalkSkipChildren, nil
		}
	case *ast.Image:
		w.replace(n, &piece{html: w.inlineImage(n)})
		return ast.WalkSkipChildren, nil
	case *ast.Link:
		w.link(n)
	case *ast.AutoLink:
		w.autoLink(n)
		return ast.WalkSkipChildren, nil
	case *tables.Table:
		n.SetAttributeString("label", w.say("page.written-table"))
	case *ast.CodeSpan, *ast.CodeBlock, *ast.FencedCodeBlock:
		return ast.WalkSkipChildren, nil
	case *ast.Text:
		w.words(n)
	}
	return ast.WalkContinue, nil
}

// heading gives a heading the level below the one that it stands under, so
// that none is skipped whatever the author began with.
func (w *writer) heading(n *ast.Heading) {
	for len(w.levels) > 0 && w.levels[len(w.levels)-1] >= n.Level {
		w.levels = w.levels[:len(w.levels)-1]
	}
	w.levels = append(w.levels, n.Level)
	n.Level = min(6, w.under+len(w.levels))
}

// words links the words of the trade in running text, headings excepted.
func (w *writer) words(n *ast.Text) {
	for p := n.Parent(); p != nil; p = p.Parent() {
		if p.Kind() == ast.KindHeading || p.Kind() == ast.KindLink {
			return
		}
	}
	plain := string(n.Value(w.source))
	if strings.ContainsAny(plain, `\&`) { // may stand for something else
		plain = logbook.PlainText(n, w.source)
	}
	if n.SoftLineBreak() || n.HardLineBreak() {
		plain = strings.TrimSuffix(plain, " ") // of the line's end, which is put back below
	}
	before := len(w.linked)
	linked := w.terms.link(plain, w.to("words/index.html"), w.linked)
	if len(w.linked) == before {
		return
	}
	switch {
	case n.HardLineBreak():
		linked += "<br>\n"
	case n.SoftLineBreak():
		linked += "\n"
	}
	w.replace(n, &piece{html: linked})
}

// link lets through what a page may link to and turns the rest into its text.
func (w *writer) link(n *ast.Link) {
	if to := w.address(string(n.Destination)); to != "" {
		n.Destination = []byte(to)
		return
	}
	var inner []ast.Node
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		inner = append(inner, c)
	}
	w.replace(n, inner...)
}

// autoLink turns an address in angle brackets that a page must not link to into
// its text.
func (w *writer) autoLink(n *ast.AutoLink) {
	if n.AutoLinkType == ast.AutoLinkEmail || w.address(string(n.URL(w.source))) != "" {
		return
	}
	w.replace(n, &piece{html: html.EscapeString(string(n.Label(w.source)))})
}

// address is where a link in a body leads: elsewhere on the web, or to the
// page of one of the shop's own files. Empty when it leads nowhere.
func (w *writer) address(to string) string {
	u, err := url.Parse(to)
	if err != nil {
		return ""
	}
	switch u.Scheme {
	case "http", "https", "mailto", "tel":
		return to
	case "":
	default:
		return ""
	}
	if u.Host != "" || w.machine == nil || path.Ext(u.Path) != ".md" {
		return ""
	}
	file := path.Join(path.Dir(w.machine.File), u.Path)
	if page := w.fileAt(file); page != "" {
		return w.to(page)
	}
	return ""
}

// shown is the picture that an image in the body names.
func (w *writer) shown(n *ast.Image) (Picture, bool) {
	name := strings.TrimPrefix(logbook.PhotoName(string(n.Destination)), "photos/")
	for _, p := range w.photos {
		if strings.TrimPrefix(p.File, "photos/") == name {
			return w.picture(p)
		}
	}
	return Picture{}, false
}

func (w *writer) figure(n *ast.Image) []ast.Node {
	pic, ok := w.shown(n)
	if !ok {
		return nil
	}
	caption := ""
	if pic.Caption != "" {
		caption = "<figcaption>" + html.EscapeString(pic.Caption) + "</figcaption>"
	}
	return []ast.Node{&piece{html: `<figure class="photo">` + img(pic, "(min-width: 60rem) 44rem, 94vw") + caption + "</figure>\n"}}
}

func (w *writer) inlineImage(n *ast.Image) string {
	pic, ok := w.shown(n)
	if !ok {
		return ""
	}
	return img(pic, "(min-width: 60rem) 22rem, 60vw")
}

// img is a photo that opens larger without script.
func img(p Picture, sizes string) string {
	e := html.EscapeString
	return fmt.Sprintf(`<a class="larger" href="%s"><img src="%s" srcset="%s" sizes="%s" width="%d" height="%d" alt="%s" loading="lazy" decoding="async"></a>`,
		e(p.Large), e(p.Src), e(p.SrcSet), e(sizes), p.Width, p.Height, e(p.Alt))
}
