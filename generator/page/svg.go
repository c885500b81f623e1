package page

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"
)

// An svg is a drawing on its way to the page: ink in the reader's own text
// color, hatching where another would use color, no script and no style but
// the theme's. Lengths are units of its view box.
type svg struct {
	id            string // unlike any other on its page
	width, height float64
	b             strings.Builder
}

func newSVG(id string, width, height float64) *svg {
	return &svg{id: id, width: width, height: height}
}

// num is a length without more digits than a screen can show.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
}

func (s *svg) line(class string, x1, y1, x2, y2 float64) {
	fmt.Fprintf(&s.b, `<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s" stroke="currentColor"/>`, class, num(x1), num(y1), num(x2), num(y2))
}

// rect is solid, hollow, hatched or crossed.
func (s *svg) rect(fill string, x, y, w, h float64) {
	paint := map[string]string{"solid": "currentColor", "hollow": "none", "hatched": "url(#" + s.id + "-h)", "crossed": "url(#" + s.id + "-x)"}[fill]
	fmt.Fprintf(&s.b, `<rect class="%s" x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="currentColor"/>`,
		fill, num(x), num(y), num(math.Max(w, 0)), num(math.Max(h, 0)), paint)
}

func (s *svg) dot(solid bool, x, y, r float64) {
	fill := "none"
	if solid {
		fill = "currentColor"
	}
	fmt.Fprintf(&s.b, `<circle cx="%s" cy="%s" r="%s" fill="%s" stroke="currentColor"/>`, num(x), num(y), num(r), fill)
}

// text is set at its start, middle or end.
func (s *svg) text(anchor string, x, y float64, text string) {
	fmt.Fprintf(&s.b, `<text x="%s" y="%s" text-anchor="%s" fill="currentColor">%s</text>`, num(x), num(y), anchor, html.EscapeString(text))
}

// label is a name beside a drawing, in as many lines as it takes: at most that many
// letters in each, around the middle y.
func (s *svg) label(anchor string, x, y float64, text string, most int) {
	lines := broken(text, most)
	fmt.Fprintf(&s.b, `<text y="%s" text-anchor="%s" fill="currentColor">`, num(y-15*float64(len(lines)-1)/2), anchor)
	for i, line := range lines {
		fmt.Fprintf(&s.b, `<tspan x="%s" dy="%d">%s</tspan>`, num(x), 15*min(i, 1), html.EscapeString(line))
	}
	s.b.WriteString(`</text>`)
}

// broken is a text in lines of at most that many letters, broken between words.
func broken(text string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > most {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// done is the drawing with its text alternative.
func (s *svg) done(alt string) template.HTML {
	return template.HTML(fmt.Sprintf( //nolint:gosec // every text in it is escaped
		`<svg class="drawing" role="img" aria-labelledby="%s-t" viewBox="0 0 %s %s" width="%s" height="%s" font-size="14" stroke-width="1.5">`+
			`<title id="%s-t">%s</title>`+
			`<defs><pattern id="%s-h" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="6" stroke="currentColor" stroke-width="1.5"/></pattern>`+
			`<pattern id="%s-x" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M0 0 L6 6 M6 0 L0 6" stroke="currentColor" stroke-width="1"/></pattern></defs>%s</svg>`,
		s.id, num(s.width), num(s.height), num(s.width), num(s.height), s.id, html.EscapeString(alt), s.id, s.id, s.b.String()))
}

// A scale maps values onto a stretch of the drawing.
type scale struct{ from, to, start, end float64 }

func (c scale) at(v float64) float64 {
	if c.to == c.from {
		return (c.start + c.end) / 2
	}
	return c.start + (v-c.from)/(c.to-c.from)*(c.end-c.start)
}

// around is a scale that shows all of the values, with room at both ends.
func around(values []float64, start, end float64) scale {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		low, high = math.Min(low, v), math.Max(high, v)
	}
	room := (high - low) * 0.12
	if room == 0 {
		room = math.Max(math.Abs(high)*0.1, 1e-9)
	}
	return scale{low - room, high + room, start, end}
}

// short is a label that fits; what is cut off stands in the text alternative.
func short(s string, most int) string {
	runes := []rune(s)
	if len(runes) <= most {
		return s
	}
	return string(runes[:most-1]) + "…"
}

// figure is a number as a drawing labels it, in the drawing's unit.
func figure(v float64) string { return strconv.FormatFloat(v, 'g', 5, 64) }
