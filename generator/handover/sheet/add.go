package sheet

import (
	"bytes"
	"fmt"
	"image/jpeg"

	"rsc.io/qr"
)

func (s *Sheet) add(p *piece) {
	p.bar = s.bar
	p.withNext = p.withNext || s.keep
	p.turn, s.turn = s.turn, false
	s.pieces = append(s.pieces, p)
}

// Bar begins or ends a stretch with a heavy bar beside it.
func (s *Sheet) Bar(on bool) { s.bar = on }

// Keep begins or ends a stretch that stays on one page, with what is added next
// after it.
func (s *Sheet) Keep(on bool) { s.keep = on }

// Turn begins a new page with what is added next.
func (s *Sheet) Turn() { s.turn = true }

// A Fact is a label and a value.
type Fact struct{ Label, Value string }

// A Code is a QR code with a line under it.
type Code struct{ Text, Under string }

// qrSide is how wide a QR code is printed: at 37 modules each is 2 points,
// which a phone reads at arm's length.
const qrSide = 84.0

// coverSide is how wide and high a cover is printed at most.
const coverSide = 110.0

// Head is the top of the first page: a line over the title, the title, a line
// under it, facts in two columns, the QR code at the right, and at the left of the
// facts a JPEG as the cover, nil for none.
func (s *Sheet) Head(over, title, under string, facts []Fact, code *Code, cover []byte) {
	p := &piece{}
	width := s.width()
	if code != nil {
		width -= qrSide + 16
	}
	p.text(regular, noteSize+1, 0, s.wrap(regular, noteSize+1, width, over))
	p.text(bold, 21, 0, s.wrap(bold, 21, width, title))
	p.text(bold, 13, 0, s.wrap(bold, 13, width, under))
	p.height += 6
	y, left := p.height, 0.0
	if cover != nil {
		left = coverSide + 14
	}
	s.columns(p, facts, left, width-left)
	if cover != nil {
		s.cover(p, y, cover)
	}
	if code != nil {
		s.qr(p, width+16, *code)
	}
	s.add(p)
}

// cover sets the cover at the left edge.
func (s *Sheet) cover(p *piece, y float64, data []byte) {
	w, h, ok := s.fitted(data, coverSide, coverSide)
	if !ok {
		return
	}
	p.draw = append(p.draw, picture{0, y, w, h, data})
	p.height = max(p.height, y+h)
}

// fitted is how large a JPEG is printed within a width and a height.
func (s *Sheet) fitted(data []byte, width, height float64) (w, h float64, ok bool) {
	head, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil || head.Width == 0 || head.Height == 0 {
		s.fail(fmt.Errorf("a photo cannot be set: %w", err))
		return 0, 0, false
	}
	w, h = width, width*float64(head.Height)/float64(head.Width)
	if h > height {
		w, h = height*float64(head.Width)/float64(head.Height), height
	}
	return w, h, true
}

// A Part is a title with lines under it, each with a mark before it.
type Part struct {
	Title string
	Lines []string
}

// partSizes are the sizes of type for Page, from the one that is easiest to read.
var partSizes = []float64{10, 9.5, 9, 8.5, 8, 7.5}

// Page adds parts in the largest type in which they still fit on the page with
// what stands above them.
func (s *Sheet) Page(parts []Part) {
	above := 0.0
	for _, p := range s.pieces {
		above += p.before + p.height
	}
	var set []*piece
	for _, size := range partSizes {
		set = nil
		height := above
		for _, part := range parts {
			p := s.part(part, size)
			set, height = append(set, p), height+p.before+p.height
		}
		if height <= s.body() {
			break
		}
	}
	for _, p := range set {
		s.add(p)
	}
}

func (s *Sheet) part(part Part, size float64) *piece {
	p := &piece{before: size / 2}
	p.text(bold, size, 0, s.wrap(bold, size, s.width(), part.Title))
	for _, line := range part.Lines {
		p.draw = append(p.draw, block{2, p.height + size*1.02 - size*0.5, size * 0.35, size * 0.35})
		p.text(regular, size, indent, s.wrap(regular, size, s.width()-indent, line))
	}
	return p
}

// columns sets facts in two columns, row by row.
func (s *Sheet) columns(p *piece, facts []Fact, left, width float64) {
	column := width / 2
	y := p.height
	for i := 0; i < len(facts); i += 2 {
		for k, f := range facts[i:min(i+2, len(facts))] {
			x := left + float64(k)*column
			label := s.clean(bold, f.Label)
			p.beside(bold, noteSize, x, y, []string{label})
			from := x + max(60, s.long(bold, noteSize, label)+6)
			p.beside(regular, noteSize+0.5, from, y, s.wrap(regular, noteSize+0.5, x+column-8-from, f.Value))
		}
		y = p.height
	}
}

func (s *Sheet) qr(p *piece, x float64, code Code) {
	p.draw = append(p.draw, s.modules(code.Text, x, qrSide)...)
	p.beside(regular, 8, x, qrSide+4, s.wrap(regular, 8, qrSide, code.Under))
}

// modules are a QR code that wide, from the upper edge down, which is a link too.
func (s *Sheet) modules(text string, x, width float64) (draw []drawn) {
	made, err := qr.Encode(text, qr.M)
	if err != nil {
		s.fail(fmt.Errorf("the QR code: %w", err))
		return nil
	}
	module := width / float64(made.Size)
	for row := range made.Size {
		for from := 0; from < made.Size; {
			if !made.Black(from, row) {
				from++
				continue
			}
			to := from
			for to < made.Size && made.Black(to, row) {
				to++
			}
			// A hair higher than a module, so that no seam shows between rows.
			draw = append(draw, block{x + float64(from)*module, float64(row) * module, float64(to-from) * module, module + 0.04})
			from = to
		}
	}
	return append(draw, link{x, 0, width, width, text})
}

// Boxed is a paragraph in a box.
func (s *Sheet) Boxed(lines ...string) {
	p := &piece{before: 8, height: 7}
	for i, text := range lines {
		f := bold
		if i > 0 {
			f = regular
		}
		p.text(f, bodySize, 9, s.wrap(f, bodySize, s.width()-18, text))
	}
	p.height += 6
	w, h := s.width(), p.height
	for _, r := range []rule{{0, 0, w, 0, 1.2}, {0, h, w, h, 1.2}, {0, 0, 0, h, 1.2}, {w, 0, w, h, 1.2}} {
		p.draw = append(p.draw, r)
	}
	p.cuts = nil
	s.add(p)
}

// Heading is a section's heading; it stays with what follows and is a bookmark.
func (s *Sheet) Heading(text string) {
	p := &piece{before: 10, withNext: true, mark: text}
	if !s.bar {
		p.draw = append(p.draw, rule{0, 0, s.width(), 0, 0.8})
	}
	p.height = 5
	p.text(bold, 12, s.inset(), s.wrap(bold, 12, s.width()-s.inset(), text))
	p.height += 1
	s.add(p)
}

// inset keeps text clear of the bar.
func (s *Sheet) inset() float64 {
	if s.bar {
		return 12
	}
	return 0
}

// Note is a paragraph in plain type.
func (s *Sheet) Note(text string) {
	p := &piece{before: 3}
	p.text(regular, bodySize, s.inset(), s.wrap(regular, bodySize, s.width()-s.inset(), text))
	s.add(p)
}

// Small is a paragraph in small type.
func (s *Sheet) Small(text string) {
	p := &piece{before: 3}
	p.text(regular, noteSize, s.inset(), s.wrap(regular, noteSize, s.width()-s.inset(), text))
	s.add(p)
}

// Columns are short lines in small type, in two columns read downward.
func (s *Sheet) Columns(lines []string) {
	half := (len(lines) + 1) / 2
	width := s.width()/2 - 8
	p := &piece{before: 2}
	for i := range half {
		y := p.height
		if i > 0 {
			p.cuts = append(p.cuts, y)
		}
		p.beside(regular, noteSize, 0, y, s.wrap(regular, noteSize, width, lines[i]))
		if i+half < len(lines) {
			p.beside(regular, noteSize, width+16, y, s.wrap(regular, noteSize, width, lines[i+half]))
		}
	}
	s.add(p)
}

// A Statement is one thing that the report says.
type Statement struct {
	Lead     string // in bold before the text, or empty
	Text     string
	Heavy    bool     // all of it in bold
	Initials string   // label of a line for initials beside it; empty: none
	Items    []string // each with a mark before it, under the text
	Photos   []Photo
}

// A Photo is a JPEG with what stands beside it.
type Photo struct {
	JPEG  []byte
	Lines []string
}

const (
	initialsWidth = 76.0
	photoWidth    = 180.0
	photoHeight   = 120.0
)

// Statement adds a statement; its photos stay with it.
func (s *Sheet) Statement(st Statement) {
	p := &piece{before: 2}
	x := s.inset() + indent
	f, width := regular, s.width()-x
	if st.Heavy {
		f = bold
	}
	if st.Initials != "" {
		width -= initialsWidth + 12
	}
	p.draw = append(p.draw, block{s.inset() + 2, bodySize*1.02 - 5.4, 4, 4})
	s.led(p, f, x, width, st)
	for _, item := range st.Items {
		p.draw = append(p.draw, block{x + 2, p.height + bodySize*1.02 - 4.6, 3, 3})
		p.text(f, bodySize, x+indent, s.wrap(f, bodySize, width-indent, item))
	}
	if st.Initials != "" {
		from := s.width() - initialsWidth
		p.draw = append(p.draw, rule{from, 20, s.width(), 20, 0.8})
		p.beside(regular, 8, from, 22, []string{s.clean(regular, st.Initials)})
	}
	for _, photo := range st.Photos {
		s.photo(p, x, photo)
	}
	s.add(p)
}

// led sets the text after its lead, on the lead's last line.
func (s *Sheet) led(p *piece, f face, x, width float64, st Statement) {
	lead := s.wrap(bold, bodySize, width, st.Lead)
	p.text(bold, bodySize, x, lead)
	taken := 0.0
	if len(lead) > 0 {
		taken = s.long(bold, bodySize, lead[len(lead)-1]+" ")
		p.height -= bodySize * leading
	}
	at := len(p.draw)
	p.text(f, bodySize, x, s.wrapAfter(taken, f, bodySize, width, st.Text))
	if at < len(p.draw) {
		p.draw[at] = p.draw[at].(words).right(taken)
	}
}

func (s *Sheet) photo(p *piece, x float64, photo Photo) {
	w, h, ok := s.fitted(photo.JPEG, photoWidth, photoHeight)
	if !ok {
		return
	}
	p.height += 4
	y := p.height
	p.draw = append(p.draw, picture{x, y, w, h, photo.JPEG})
	p.height = y + h + 3
	for _, text := range photo.Lines {
		lines := s.wrap(regular, noteSize, s.width()-x-w-10, text)
		p.beside(regular, noteSize, x+w+10, y, lines)
		y += float64(len(lines))*noteSize*leading + 2
	}
}

// Lines are lines to write on, two to a row, all on one page.
func (s *Sheet) Lines(labels ...string) {
	p := &piece{before: 4}
	column := s.width() / 2
	for i, label := range labels {
		x := s.inset() + float64(i%2)*(column+8)
		if i%2 == 0 {
			p.height += 27
		}
		p.draw = append(p.draw, rule{x, p.height, x + column - 14 - s.inset(), p.height, 0.8})
		p.draw = append(p.draw, words{x, p.height + 10, regular, noteSize, s.clean(regular, label)})
	}
	p.height += 14
	s.add(p)
}
