package sheet

import (
	"bytes"
	"fmt"

	"github.com/signintech/gopdf"
)

// PDF writes the sheet. The foot is what stands at the bottom of a page, left
// and right, of so many.
func (s *Sheet) PDF(foot func(page, of int) (left, right string)) ([]byte, error) {
	pages := s.flow()
	for n, page := range pages {
		s.pdf.AddPage()
		for i, p := range page {
			if p.mark != "" {
				s.pdf.SetY(p.y)
				s.pdf.AddOutlineWithPosition(p.mark)
			}
			if p.bar {
				from := p.y
				if i > 0 && page[i-1].bar {
					from -= p.before
				}
				s.pdf.RectFromUpperLeftWithStyle(side, from, 4, p.y+p.height-from, "F")
			}
			for _, d := range p.draw {
				s.set(d, side, p.y)
			}
		}
		s.foot(foot(n+1, len(pages)))
	}
	return s.written()
}

// written is the PDF of the pages that were set.
func (s *Sheet) written() ([]byte, error) {
	if s.failed != nil {
		return nil, fmt.Errorf("setting the sheet: %w", s.failed)
	}
	var b bytes.Buffer
	if _, err := s.pdf.WriteTo(&b); err != nil {
		return nil, fmt.Errorf("writing the PDF: %w", err)
	}
	return completed(b.Bytes(), s.About)
}

func (s *Sheet) foot(left, right string) {
	y := s.paper.Height - bottom + 14
	s.set(rule{0, 0, s.width(), 0, 0.8}, side, y)
	right = s.clean(bold, right)
	from := s.width() - s.long(bold, noteSize, right)
	lines, size := s.footLines(from-noteSize, left)
	for n, line := range lines {
		s.set(words{0, 12 + float64(n)*size*1.1, regular, size, line}, side, y)
	}
	s.set(words{from, 12, bold, noteSize, right}, side, y)
}

// footLines are the foot's left side, clear of the code at its right: in smaller
// type where a long name would take more than the two lines that there is room for.
func (s *Sheet) footLines(width float64, text string) (lines []string, size float64) {
	for size = noteSize; ; size -= 0.5 {
		if lines = s.wrap(regular, size, width, text); len(lines) <= 2 || size <= 4 {
			return lines, size
		}
	}
}

// set draws one thing at an offset.
func (s *Sheet) set(d drawn, x, y float64) {
	switch d := d.(type) {
	case words:
		s.font(d.face, d.size)
		s.pdf.SetXY(x+d.x, y+d.y)
		if err := s.pdf.Text(d.text); err != nil {
			s.fail(err)
		}
	case rule:
		s.pdf.SetLineWidth(d.width)
		s.pdf.Line(x+d.x1, y+d.y1, x+d.x2, y+d.y2)
	case block:
		s.pdf.RectFromUpperLeftWithStyle(x+d.x, y+d.y, d.w, d.h, "F")
	case picture:
		holder, err := gopdf.ImageHolderByBytes(d.jpeg)
		if err == nil {
			err = s.pdf.ImageByHolder(holder, x+d.x, y+d.y, &gopdf.Rect{W: d.w, H: d.h})
		}
		if err != nil {
			s.fail(fmt.Errorf("a photo: %w", err))
		}
	case link:
		s.pdf.AddExternalLink(d.to, x+d.x, y+d.y, d.w, d.h)
	}
}
