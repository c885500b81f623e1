package sheet

import (
	"slices"
	"strings"
)

// The size of a card, five by three inches, and how far from its edge it is printed.
const (
	cardWidth  = 5 * 72.0
	cardHeight = 3 * 72.0
	cardEdge   = 14.0
)

// CardPaper is one card a page.
var CardPaper = Paper{"card", cardWidth, cardHeight}

// A Card hangs on a machine. Each text is one line or paragraph of it; empty ones are
// left out.
type Card struct {
	Name, Under, Price string
	Heavy              string   // what nobody may overlook
	Title              string   // of the lines below
	Lines              []string // each with a mark before it
	Foot               []string
	Code               *Code // nil for none
}

// Cards writes cards: one a page on the card's own paper, four a page on any other, with
// lines to cut along. Missing tells whether a sign was set as the replacement sign.
//
// Whatever its texts are, a card holds all of them: in the largest type in which it does,
// and in the smallest a name or a line that is still too long ends in an ellipsis.
func Cards(paper Paper, about About, cards []Card) (pdf []byte, missing bool, err error) {
	columns, rows := 1, 1
	if paper != CardPaper {
		columns, rows = 2, 2
		paper.Width, paper.Height = max(paper.Width, paper.Height), min(paper.Width, paper.Height)
	}
	s, err := New(paper, about)
	if err != nil {
		return nil, false, err
	}
	left, upper := (paper.Width-float64(columns)*cardWidth)/2, (paper.Height-float64(rows)*cardHeight)/2
	for page := range slices.Chunk(cards, columns*rows) {
		s.pdf.AddPage()
		for i, card := range page {
			x, y := left+float64(i%columns)*cardWidth, upper+float64(i/columns)*cardHeight
			for _, d := range s.card(card) {
				s.set(d, x+cardEdge, y+cardEdge)
			}
			if paper != CardPaper {
				for _, r := range []rule{{0, 0, cardWidth, 0, 0.3}, {0, cardHeight, cardWidth, cardHeight, 0.3}, {0, 0, 0, cardHeight, 0.3}, {cardWidth, 0, cardWidth, cardHeight, 0.3}} {
					s.set(r, x, y)
				}
			}
		}
	}
	pdf, err = s.written()
	return pdf, s.missing, err
}

// cardScales are the sizes of type for a card, of the largest.
var cardScales = []float64{1, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64}

// cardCode is how wide a card's QR code is: at 37 modules each is 2.6 points.
const cardCode = 96.0

// card sets a card from its own upper left corner.
func (s *Sheet) card(c Card) []drawn {
	for _, scale := range cardScales {
		if p, fits := s.cardAt(c, scale, 0); fits {
			return p.draw
		}
	}
	smallest := cardScales[len(cardScales)-1]
	for most := 3; most > 1; most-- {
		if p, fits := s.cardAt(c, smallest, most); fits {
			return p.draw
		}
	}
	p, _ := s.cardAt(c, smallest, 1)
	return p.draw
}

// cardAt sets a card in type of a size. Each of its texts has that many lines at most,
// but for what nobody may overlook; 0 is any number.
func (s *Sheet) cardAt(c Card, scale float64, most int) (p *piece, fits bool) {
	const width, height = cardWidth - 2*cardEdge, cardHeight - 2*cardEdge
	p = &piece{}
	beside := width
	if c.Code != nil {
		beside -= cardCode + 12
		p.draw = s.modules(c.Code.Text, width-cardCode, cardCode)
	}
	set := func(f face, size, x, width float64, most int, text string) {
		p.text(f, size*scale, x, s.cutOff(f, size*scale, width, most, text))
	}
	set(bold, 20, 0, beside, most, c.Name)
	set(regular, 10, 0, beside, most, c.Under)
	set(bold, 17, 0, beside, most, c.Price)
	p.height += 4 * scale
	p.text(bold, 11, 0, s.wrap(bold, 11, beside, c.Heavy)) // however small a long name makes the rest
	if c.Code != nil {
		p.beside(regular, 7.5*scale, width-cardCode, cardCode+3, s.cutOff(regular, 7.5*scale, cardCode, max(most, 2), c.Code.Under))
	}
	p.height += 4 * scale
	p.draw = append(p.draw, rule{0, p.height, width, p.height, 0.8})
	p.height += 3 * scale
	if len(c.Lines) > 0 {
		set(bold, 9, 0, width, most, c.Title)
	}
	for _, line := range c.Lines {
		p.draw = append(p.draw, block{2, p.height + 9*scale*0.52, 3 * scale, 3 * scale})
		set(regular, 9, 11*scale, width-11*scale, most, line)
	}
	foot := &piece{}
	for i, line := range c.Foot {
		f := regular
		if i == 0 {
			f = bold
		}
		foot.text(f, 8.5*scale, 0, s.cutOff(f, 8.5*scale, width, most, line))
	}
	for _, d := range foot.draw {
		p.draw = append(p.draw, d.lower(height-foot.height))
	}
	return p, p.height+foot.height+2 <= height
}

// cutOff wraps a text to that many lines at most, the last of which ends in an ellipsis
// where there was more; 0 is any number.
func (s *Sheet) cutOff(f face, size, width float64, most int, text string) []string {
	lines := s.wrap(f, size, width, text)
	if most == 0 || len(lines) <= most {
		return lines
	}
	lines = lines[:most]
	last := []rune(lines[most-1])
	for len(last) > 0 && s.long(f, size, string(last)+"…") > width {
		last = last[:len(last)-1]
	}
	lines[most-1] = strings.TrimRight(string(last), " ") + "…"
	return lines
}
