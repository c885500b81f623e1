package page

import (
	"html/template"
	"slices"
	"strings"

	"asleft/generator/benchtest"
)

// drawing draws the results of a bench test.
func drawing(id string, d *benchtest.Drawing) template.HTML {
	if d == nil || len(d.Points) == 0 {
		return ""
	}
	d = labeled(d)
	switch d.Shape {
	case benchtest.Bars:
		return bars(id, d)
	case benchtest.Section:
		return section(id, d)
	case benchtest.Slope:
		return slope(id, d)
	default:
		return whiskers(id, d)
	}
}

// labeled is the drawing with what all its labels begin with taken off them:
// "compression, cylinder 1" and "compression, cylinder 2" need only the
// cylinder beside each other. The text alternative keeps the whole.
func labeled(d *benchtest.Drawing) *benchtest.Drawing {
	first, _, ok := strings.Cut(d.Points[0].Label, ", ")
	for _, p := range d.Points {
		ok = ok && strings.HasPrefix(p.Label, first+", ")
	}
	if !ok {
		return d
	}
	plain := *d
	plain.Points = slices.Clone(d.Points)
	for i := range plain.Points {
		plain.Points[i].Label = strings.TrimPrefix(plain.Points[i].Label, first+", ")
	}
	return &plain
}

// bars are one bar a point from zero, each over the hatching of what its limit
// does not allow.
func bars(id string, d *benchtest.Drawing) template.HTML {
	const left, top, height, step = 12, 18, 130, 84
	width := left + step*float64(len(d.Points)) + 12
	s := newSVG(id, max(width, 200), height+top+34)
	y := around(append(span(d), 0), top+height, top)
	y.from = 0 // nothing that is drawn as bars goes below it
	for i, p := range d.Points {
		from := left + 4 + step*float64(i)
		s.band(p.Band, y, from, from+step-38)
	}
	s.line("axis", left, y.at(0), s.width-8, y.at(0))
	for i, p := range d.Points {
		x := left + 14 + step*float64(i)
		s.rect("solid", x, y.at(p.Value), 22, y.at(0)-y.at(p.Value))
		s.whisker(x+11, y, p)
		s.text("middle", x+11, y.at(p.High)-4, figure(p.Value))
		s.text("middle", x+11, top+height+15, short(p.Label, 13))
	}
	s.text("start", 2, top+height+30, d.Unit)
	return s.done(d.Alt)
}

// band hatches what the limit does not allow, so that the open paper is where
// a value may stand.
func (s *svg) band(b benchtest.Band, y scale, x1, x2 float64) {
	if b.HasLow {
		at := y.at(b.Low)
		s.rect("hatched", x1, at, x2-x1, y.start-at)
		s.text("start", x2+2, at+4, figure(b.Low))
	}
	if b.HasHigh {
		at := y.at(b.High)
		s.rect("hatched", x1, y.end, x2-x1, at-y.end)
		s.text("start", x2+2, at+4, figure(b.High))
	}
}

// whisker is what the gauge leaves open around a value.
func (s *svg) whisker(x float64, y scale, p benchtest.Point) {
	if p.Low == p.High {
		return
	}
	s.line("whisker", x, y.at(p.Low), x, y.at(p.High))
	s.line("whisker", x-5, y.at(p.Low), x+5, y.at(p.Low))
	s.line("whisker", x-5, y.at(p.High), x+5, y.at(p.High))
}

// section is a bore cut open: two readings a level, from the top down. The
// walls are drawn further apart where it is wider, many times enlarged.
func section(id string, d *benchtest.Drawing) template.HTML {
	const width, top, level = 300, 20, 44
	levels := (len(d.Points) + 1) / 2
	s := newSVG(id, width, top+level*float64(levels)+16)
	var values []float64
	for _, p := range d.Points {
		values = append(values, p.Value)
	}
	half := around(values, 50, 62)
	s.line("axis", width/2, top-12, width/2, top+level*float64(levels))
	for i, p := range d.Points {
		y := top + level*float64(i/2) + 12
		side := -1.0
		if i%2 == 1 {
			side = 1
		}
		x := width/2 + side*half.at(p.Value)
		s.line("wall", x, y-16, x, y+16)
		s.dot(true, x, y, 2.5)
		anchor := "end"
		if side > 0 {
			anchor = "start"
		}
		s.text(anchor, x+side*7, y-2, figure(p.Value)+" "+d.Unit)
		s.text(anchor, x+side*7, y+12, short(p.Label, 14))
	}
	return s.done(d.Alt)
}

// whiskers are values against the limit, one a line, with what the gauge
// leaves open.
func whiskers(id string, d *benchtest.Drawing) template.HTML {
	const left, right, row = 130, 345, 36
	s := newSVG(id, 420, row*float64(len(d.Points))+34)
	values := span(d)
	x := around(values, left, right)
	bottom := row*float64(len(d.Points)) + 8
	s.line("axis", left, bottom, right, bottom)
	for i, p := range d.Points {
		y := row*float64(i) + 20
		if p.Band.HasLow {
			s.rect("hatched", left, y-9, x.at(p.Band.Low)-left, 18)
			s.text("middle", x.at(p.Band.Low), bottom+16, figure(p.Band.Low))
		}
		if p.Band.HasHigh {
			s.rect("hatched", x.at(p.Band.High), y-9, right-x.at(p.Band.High), 18)
			s.text("middle", x.at(p.Band.High), bottom+16, figure(p.Band.High))
		}
		if p.Low != p.High {
			s.line("whisker", x.at(p.Low), y, x.at(p.High), y)
			s.line("whisker", x.at(p.Low), y-5, x.at(p.Low), y+5)
			s.line("whisker", x.at(p.High), y-5, x.at(p.High), y+5)
		}
		s.dot(true, x.at(p.Value), y, 4)
		s.label("end", left-6, y+5, p.Label, 17)
		s.text("start", right+6, y+4, figure(p.Value))
	}
	s.text("start", right+6, bottom+16, d.Unit)
	return s.done(d.Alt)
}

func span(d *benchtest.Drawing) []float64 {
	var values []float64
	for _, p := range d.Points {
		values = append(values, p.Low, p.Value, p.High)
		if p.Band.HasLow {
			values = append(values, p.Band.Low)
		}
		if p.Band.HasHigh {
			values = append(values, p.Band.High)
		}
	}
	return values
}

// slope is a line from each reading to the next: as found to as left.
func slope(id string, d *benchtest.Drawing) template.HTML {
	const left, right, top, height = 56, 300, 16, 110
	s := newSVG(id, 380, top+height+34)
	y := around(span(d), top+height, top)
	s.band(d.Points[len(d.Points)-1].Band, y, left, right)
	step := 0.0
	if len(d.Points) > 1 {
		step = (right - left - 30) / float64(len(d.Points)-1)
	}
	for i, p := range d.Points {
		x := left + 15 + step*float64(i)
		if i > 0 {
			before := d.Points[i-1]
			s.line("slope", x-step, y.at(before.Value), x, y.at(p.Value))
		}
		s.whisker(x, y, p)
		s.dot(i == len(d.Points)-1, x, y.at(p.Value), 4)
		// The figure stands beside its dot, on the side away from the band's own.
		if i == len(d.Points)-1 {
			s.text("end", x-9, y.at(p.Value)+4, figure(p.Value))
		} else {
			s.text("start", x+9, y.at(p.Value)-3, figure(p.Value))
		}
		if i == 0 || i == len(d.Points)-1 {
			s.text("middle", x, top+height+16, short(p.Label, 14))
		}
	}
	s.text("end", left-6, top+8, d.Unit)
	return s.done(d.Alt)
}
