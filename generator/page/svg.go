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
//
// It is as wide as the narrowest phone has room for and grows down the page, so
// that a unit is a CSS pixel wherever it is shown and its text is never shrunk.
type svg struct {
	id string // unlike any other on its page
	y  float64
	b  strings.Builder
}

const (
	drawingWidth = 296
	textSize     = 14
	lineHeight   = 18
	// A track is where the ink of a row goes: it keeps clear of the edges, for strokes
	// and the ends of whiskers.
	trackStart, trackEnd = 6, drawingWidth - 6
	// Letters keep clear of the edges by what some reach over their own width.
	wordsStart, wordsEnd = 2, drawingWidth - 2
	wordsRoom            = wordsEnd - wordsStart
)

func newSVG(id string) *svg { return &svg{id: id, y: 3} }

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

func (s *svg) dot(x, y, r float64) {
	fmt.Fprintf(&s.b, `<circle cx="%s" cy="%s" r="%s" fill="currentColor" stroke="currentColor"/>`, num(x), num(y), num(r))
}

// text writes lines that are set at their start or end; the first stands on y. It
// returns the y of a line after them. Its class tells what it is: a name, a value,
// an end of the axis, or words of the legend.
func (s *svg) text(class, anchor string, x, y float64, lines ...string) float64 {
	fmt.Fprintf(&s.b, `<text class="%s" y="%s" text-anchor="%s" fill="currentColor">`, class, num(y), anchor)
	for i, line := range lines {
		fmt.Fprintf(&s.b, `<tspan x="%s" dy="%d">%s</tspan>`, num(x), lineHeight*min(i, 1), html.EscapeString(line))
	}
	s.b.WriteString(`</text>`)
	return y + lineHeight*float64(len(lines))
}

// row writes what the ink below it is of, and at the end of the line its value.
// Where both have no room in one line the name goes into several, and where that
// leaves it no room either the value goes below.
func (s *svg) row(name, value string) {
	const gap, least = 12, 110
	room := wordsRoom - gap - advance(value)
	if value == "" {
		room = wordsRoom
	}
	top := s.y + 13
	if advance(name) > room && room < least {
		s.y = s.text("drawn-name", "start", wordsStart, top, broken(name, wordsRoom)...) - 13
		s.y = s.text("drawn-value", "start", wordsStart, s.y+13, broken(value, wordsRoom)...) - 13
		return
	}
	s.y = s.text("drawn-name", "start", wordsStart, top, broken(name, room)...) - 13
	if value != "" {
		s.text("drawn-value", "end", wordsEnd, top, value)
	}
}

// legend is a line of words beside a sample of the ink that they are about, which
// has a box of 16 by 12.
func (s *svg) legend(words string, sample func(x, y float64)) {
	sample(1, s.y+3)
	s.y = s.text("drawn-words", "start", 26, s.y+13, broken(words, wordsEnd-26)...) - 13
}

// advance is about how wide a text is, in a font that is wide: themes and readers
// have others, and what fits in this one fits in all but display faces.
func advance(text string) float64 {
	sum := 0.0
	for _, r := range text {
		switch {
		case strings.ContainsRune("iIjl.,:;'|! ", r):
			sum += 0.34
		case strings.ContainsRune("ftr()/-[]", r):
			sum += 0.42
		case strings.ContainsRune("mwMW@%", r), r >= 0x1100:
			sum += 1
		case r >= 'A' && r <= 'Z':
			sum += 0.72
		default:
			sum += 0.62
		}
	}
	return sum * textSize
}

// broken is a text in as few lines of that width as it takes, the lines about as
// long as each other: no word is left over alone where that can be helped.
func broken(text string, most float64) []string {
	if whole := strings.Join(strings.Fields(text), " "); advance(whole) <= most { // as nearly all are
		return []string{whole}
	}
	lines := filled(text, most)
	widest := most / 2
	for _, word := range wordsWithUnits(text) {
		widest = max(widest, advance(word))
	}
	for narrow := most - textSize; narrow >= widest; narrow -= textSize {
		even := filled(text, narrow)
		if len(even) > len(lines) {
			break
		}
		lines = even
	}
	return lines
}

// filled is a text in lines that are at most that wide, broken between words, and
// within a word only where it is wider than a line.
func filled(text string, most float64) []string {
	var lines []string
	line := ""
	for _, word := range wordsWithUnits(text) {
		if line != "" && advance(line+" "+word) > most {
			lines, line = append(lines, line), ""
		}
		for line == "" && advance(word) > most {
			head, rest := cutAt(word, most)
			if rest == "" {
				break
			}
			lines, word = append(lines, head), rest
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// wordsWithUnits are the words of a text, a number with its unit as one.
func wordsWithUnits(text string) []string {
	var words []string
	number := false
	for _, word := range strings.Fields(text) {
		if number {
			words[len(words)-1] += " " + word
		} else {
			words = append(words, word)
		}
		number = !number && strings.Trim(word, "0123456789.,/-(±") == ""
	}
	return words
}

// cutAt is as much of a word that does not fit as does, a letter at least, and the
// rest.
func cutAt(word string, most float64) (head, rest string) {
	at := 0
	for i := range word {
		if at > 0 && advance(word[:i]) > most {
			break
		}
		at = i
	}
	if at == 0 {
		return word, ""
	}
	return word[:at], word[at:]
}

// done is the drawing with its text alternative.
func (s *svg) done(alt string) template.HTML {
	return template.HTML(fmt.Sprintf( //nolint:gosec // every text in it is escaped
		`<svg class="drawing" role="img" aria-labelledby="%s-t" viewBox="0 0 %d %s" width="%d" height="%s" font-size="%d" stroke-width="1.5">`+
			`<title id="%s-t">%s</title>`+
			`<defs><pattern id="%s-h" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="6" stroke="currentColor" stroke-width="1.5"/></pattern>`+
			`<pattern id="%s-x" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M0 0 L6 6 M6 0 L0 6" stroke="currentColor" stroke-width="1"/></pattern></defs>%s</svg>`,
		s.id, drawingWidth, num(s.y+4), drawingWidth, num(s.y+4), textSize, s.id, html.EscapeString(alt), s.id, s.id, s.b.String()))
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
