package logbook

import (
	"bytes"
	"net/url"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"asleft/generator/portable"
)

// A roll is the photos that one file names, each once.
type roll struct {
	photos []Photo
	at     map[string]int // their places in photos, by sameFile
}

// sameFile is one name for all the names of one entry that mean one photo.
func sameFile(name string) string { return strings.TrimPrefix(name, "photos/") }

// add takes a photo into the roll; false where it is there already.
func (r *roll) add(p Photo) bool {
	name := sameFile(p.File)
	if _, there := r.at[name]; there {
		return false
	}
	if r.at == nil {
		r.at = map[string]int{}
	}
	r.at[name] = len(r.photos)
	r.photos = append(r.photos, p)
	return true
}

// join takes in an image of the body. A photo that is listed too is one photo:
// the list's words and its private: hold.
func (r *roll) join(b Photo) {
	if r.add(b) {
		return
	}
	p := &r.photos[r.at[sameFile(b.File)]]
	p.InBody = true
	if p.Alt == "" {
		p.Alt = b.Alt
	}
	if p.Caption == "" {
		p.Caption = b.Caption
	}
}

// readPhotos brings together the photos listed under photos: and the images
// of the body.
func readPhotos(f *mapping, s *source, body Body) []Photo {
	var all roll
	f.each("photos", func(i *mapping) {
		p := Photo{Place: i.place(), File: i.need("file"), Alt: i.text("alt"), Caption: i.text("caption"), Cover: i.yes("cover", false), Private: i.yes("private", false), Shows: i.text("shows"), ShowsAt: i.at("shows"), Listed: true}
		switch {
		case p.File == "":
		case !localName(p.File):
			i.report("file", "problem.photo-outside", "read", p.File)
		case !all.add(p):
			i.report("file", "problem.photo-twice", "read", p.File)
		}
	})
	for _, b := range bodyPhotos(s, body) {
		all.join(b)
	}
	return all.photos
}

// bodyPhotos are the images that a body shows. Only files of the shop folder
// can be shown: a picture from elsewhere would make every reader's browser
// call on a stranger. A comment that is never closed is told of, for the rest of
// the text is hidden with it.
func bodyPhotos(s *source, body Body) []Photo {
	if !bytes.Contains(body.Text, []byte("![")) && !bytes.Contains(body.Text, commentOpens) {
		return nil
	}
	var all roll
	lines := body.lineStarts()
	at := func(n ast.Node) Place { return s.at(body.Line+sort.SearchInts(lines, n.Pos()+1)-1, "") }
	pc := parser.NewContext()
	doc := Markdown().Parse(text.NewReader(body.Text), parser.WithContext(pc))
	for _, c := range commentsOf(pc) {
		if isOpen(c) {
			s.report(at(c), "problem.comment-open")
		}
	}
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		img, ok := n.(*ast.Image)
		if !ok || !entering {
			return ast.WalkContinue, nil
		}
		name, at := PhotoName(string(img.Destination)), at(img)
		if localName(name) {
			all.join(Photo{Place: at, File: name, Alt: PlainText(img, body.Text), Caption: plain(withoutComments(img.Title)), InBody: true})
		} else {
			s.report(at, "problem.photo-outside", "read", name)
		}
		return ast.WalkContinue, nil
	})
	return all.photos
}

// lineStarts is where each line of the body begins.
func (b Body) lineStarts() []int {
	starts := []int{0}
	for i, c := range b.Text {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// PhotoName is the file that an image's destination names, its character
// references and percent signs undone (a photo's name may have spaces in it).
func PhotoName(destination string) string {
	written := plain([]byte(destination))
	if name, err := url.PathUnescape(written); err == nil {
		return name
	}
	return written
}

// localName tells whether a name stays inside the machine's folder and means
// the same file on every system: no climbing, no absolute path, no scheme, no
// device, no backslash, no hidden file.
func localName(name string) bool {
	if name == "" || len(name) > 200 || strings.ContainsAny(name, "\\:*?\"<>|\t\n") || !utf8.ValidString(name) || strings.ContainsFunc(name, unseen) {
		return false
	}
	for _, part := range strings.Split(name, "/") {
		if part == "" || part[0] == '.' || strings.TrimRight(part, ". ") != part || portable.Device(part) {
			return false
		}
	}
	return true
}
