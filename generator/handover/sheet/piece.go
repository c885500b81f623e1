package sheet

// A piece is what stays together on a page: things to draw, placed from its own
// upper left corner.
type piece struct {
	height   float64
	before   float64 // space above, left out at the top of a page
	draw     []drawn
	withNext bool   // stays with what follows: a heading is never the last on a page
	turn     bool   // begins a new page
	mark     string // a bookmark
	bar      bool   // a heavy bar runs beside it
	// cuts are where a piece that is higher than a page may be cut.
	cuts []float64
}

// drawn is one thing to draw.
type drawn interface{ lower(by float64) drawn }

type words struct {
	x, y float64 // of the base line
	face face
	size float64
	text string
}

type rule struct{ x1, y1, x2, y2, width float64 }

type block struct{ x, y, w, h float64 } // filled

type picture struct {
	x, y, w, h float64
	jpeg       []byte
}

type link struct {
	x, y, w, h float64
	to         string
}

func (d words) right(by float64) drawn   { d.x += by; return d }
func (d words) lower(by float64) drawn   { d.y += by; return d }
func (d rule) lower(by float64) drawn    { d.y1 += by; d.y2 += by; return d }
func (d block) lower(by float64) drawn   { d.y += by; return d }
func (d picture) lower(by float64) drawn { d.y += by; return d }
func (d link) lower(by float64) drawn    { d.y += by; return d }

// text adds lines to a piece at x, under what it holds.
func (p *piece) text(f face, size, x float64, lines []string) {
	for _, line := range lines {
		if p.height > 0 {
			p.cuts = append(p.cuts, p.height)
		}
		p.draw = append(p.draw, words{x, p.height + size*1.02, f, size, line})
		p.height += size * leading
	}
}

// beside adds lines at x from a height of the piece on, and makes the piece
// high enough for them.
func (p *piece) beside(f face, size, x, y float64, lines []string) {
	for _, line := range lines {
		p.draw = append(p.draw, words{x, y + size*1.02, f, size, line})
		y += size * leading
	}
	p.height = max(p.height, y)
}
