package page

import (
	"html/template"
	"math"
	"slices"
	"strings"

	"asleft/generator/benchtest"
)

// drawing draws values, each against its limit. What it writes is in the points as
// the log has it; none of its own numbers are written.
func (s *Site) drawing(id string, d *benchtest.Drawing) template.HTML {
	if d == nil || len(d.Points) == 0 || len(d.Points) == 1 && len(d.Points[0].Limits) == 0 {
		return "" // a value with nothing beside it is no drawing
	}
	if d.Shape == benchtest.Section {
		return section(id, d)
	}
	return s.tracks(id, d)
}

// labeled is the drawing with what all its labels begin with taken off them:
// "compression, cylinder 1" and "compression, cylinder 2" need only the
// cylinder beside each other. The text alternative keeps the whole.
func labeled(d *benchtest.Drawing) *benchtest.Drawing {
	if d == nil || len(d.Points) < 2 {
		return d
	}
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

// trackHeight is how high the ink of a row is.
const trackHeight = 18

// tracks are values below one another on the same scale, each as a dot with what
// the gauge leaves open, or as a bar from zero, with what its limit does not
// allow hatched. The limit stands in words where it changes.
func (s *Site) tracks(id string, d *benchtest.Drawing) template.HTML {
	out, bars := newSVG(id), d.Shape == benchtest.Bars
	values := span(d)
	if bars {
		values = append(values, 0)
	}
	x := around(values, trackStart, trackEnd)
	if bars {
		x.from = 0 // nothing that is drawn as bars goes below it
	}
	open := false
	for i, p := range d.Points {
		out.row(p.Label, p.Shown)
		middle := out.y + trackHeight/2
		if bars { // hatching under a bar would hide where the bar ends
			middle = out.y + 5
			out.band(p.Band, x, out.y+11, trackHeight-11)
		} else {
			out.band(p.Band, x, out.y, trackHeight)
		}
		out.line("axis", trackStart, out.y+trackHeight, trackEnd, out.y+trackHeight)
		if bars {
			out.rect("solid", trackStart, middle-3, x.at(p.Value)-trackStart, 6)
		} else {
			out.dot(x.at(p.Value), middle, 4)
		}
		out.whisker(x, middle, p)
		out.y += trackHeight + 6
		open = open || p.Low != p.High
		if i+1 < len(d.Points) && slices.Equal(p.Limits, d.Points[i+1].Limits) {
			continue
		}
		for _, limit := range p.Limits {
			out.legend(s.say("page.drawn-limit", "limit", limit), func(x, y float64) { out.rect("hatched", x, y, 16, 12) })
		}
		out.y += 4
	}
	if open {
		out.legend(s.say("page.drawn-gauge"), func(x, y float64) {
			out.whisker(scale{0, 1, x, x + 16}, y+6, benchtest.Point{Low: 0, High: 1})
		})
	}
	return out.done(d.Alt)
}

// band hatches what the limit does not allow, so that the open paper is where
// a value may stand.
func (s *svg) band(b benchtest.Band, x scale, y, height float64) {
	if at := math.Max(x.at(b.Low), trackStart); b.HasLow {
		s.rect("hatched", trackStart, y, at-trackStart, height)
	}
	if at := math.Max(x.at(b.High), trackStart); b.HasHigh {
		s.rect("hatched", at, y, trackEnd-at, height)
	}
}

// whisker is what the gauge leaves open around a value.
func (s *svg) whisker(x scale, y float64, p benchtest.Point) {
	if p.Low == p.High {
		return
	}
	low, high := math.Max(x.at(p.Low), x.start), x.at(p.High)
	s.line("whisker", low, y, high, y)
	s.line("whisker", low, y-5, low, y+5)
	s.line("whisker", high, y-5, high, y+5)
}

// section is a bore cut open: two readings a level, from the top down. The
// walls are drawn further apart where it is wider, many times enlarged.
func section(id string, d *benchtest.Drawing) template.HTML {
	const middle, room = drawingWidth / 2, drawingWidth/2 - 66
	s := newSVG(id)
	var values []float64
	for _, p := range d.Points {
		values = append(values, p.Value)
	}
	half := around(values, 40, 56)
	for i := 0; i < len(d.Points); i += 2 {
		level := d.Points[i:min(i+2, len(d.Points))]
		lines := 0
		for side, p := range level {
			anchor, x := []string{"start", "end"}[side], []float64{wordsStart, wordsEnd}[side]
			value, name := broken(p.Shown, room), broken(p.Label, room)
			below := s.text("drawn-value", anchor, x, s.y+15, value...)
			s.text("drawn-name", anchor, x, below, name...)
			lines = max(lines, len(value)+len(name))
		}
		high := lineHeight*float64(lines) + 4
		s.line("axis", middle, s.y, middle, s.y+high+8)
		for side, p := range level {
			x := middle + float64(2*side-1)*half.at(p.Value)
			s.line("wall", x, s.y+2, x, s.y+high)
			s.dot(x, s.y+high/2, 2.5)
		}
		s.y += high + 8
	}
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
