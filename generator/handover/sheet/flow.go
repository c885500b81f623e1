package sheet

// placed is a piece on a page, y from the page's upper edge.
type placed struct {
	*piece
	y float64
}

// flow deals the pieces out over pages.
func (s *Sheet) flow() [][]placed {
	pages := [][]placed{nil}
	y := 0.0
	turn := func() { pages, y = append(pages, nil), 0 }
	pieces := s.cut()
	for i, p := range pieces {
		before := p.before
		if y == 0 {
			before = 0
		}
		if y > 0 && (p.turn || y+before+s.needs(pieces[i:]) > s.body()) {
			turn()
			before = 0
		}
		last := len(pages) - 1
		pages[last] = append(pages[last], placed{p, top + y + before})
		y += before + p.height
	}
	return pages
}

// needs is the room that the first piece takes with all that has to stay with
// it, at most a page.
func (s *Sheet) needs(pieces []*piece) float64 {
	room := pieces[0].height
	for i := 0; pieces[i].withNext && i+1 < len(pieces); i++ {
		room += pieces[i+1].before + pieces[i+1].height
	}
	return min(room, s.body())
}

// cut cuts pieces that are higher than a page, between two lines.
func (s *Sheet) cut() []*piece {
	var all []*piece
	for _, p := range s.pieces {
		for p.height > s.body() {
			at := 0.0
			for _, c := range p.cuts {
				if c <= s.body() {
					at = c
				}
			}
			if at == 0 {
				break // nothing to cut at: one thing higher than a page
			}
			var head *piece
			head, p = p.parted(at)
			all = append(all, head)
		}
		all = append(all, p)
	}
	return all
}

// parted parts a piece at a height.
func (p *piece) parted(at float64) (head, tail *piece) {
	head = &piece{height: at, before: p.before, mark: p.mark, bar: p.bar, turn: p.turn}
	tail = &piece{height: p.height - at, withNext: p.withNext, bar: p.bar}
	for _, d := range p.draw {
		if topOf(d) < at-0.01 {
			head.draw = append(head.draw, d)
		} else {
			tail.draw = append(tail.draw, d.lower(-at))
		}
	}
	for _, c := range p.cuts {
		if c > at+0.01 {
			tail.cuts = append(tail.cuts, c-at)
		}
	}
	return head, tail
}

func topOf(d drawn) float64 {
	switch d := d.(type) {
	case words:
		return d.y - d.size*1.02
	case rule:
		return min(d.y1, d.y2)
	case block:
		return d.y
	case picture:
		return d.y
	case link:
		return d.y
	}
	return 0
}
