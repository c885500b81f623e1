package sheet

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// missingSign stands for a sign that the font lacks.
const missingSign = '\ufffd'

// clean is a text as it will be set: one line, composed, signs that have no
// shape of their own left out, signs that the font lacks replaced.
func (s *Sheet) clean(f face, text string) string {
	text = strings.Join(strings.Fields(norm.NFC.String(text)), " ")
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r):
			return -1
		case s.has(f, r):
			return r
		}
		s.missing = true
		return missingSign
	}, text)
}

func (s *Sheet) has(f face, r rune) bool {
	if _, ok := s.known[f][r]; ok {
		return true
	}
	s.font(f, bodySize)
	ok, err := s.pdf.IsCurrFontContainGlyph(r)
	if err != nil {
		s.fail(err)
	}
	return ok
}

func (s *Sheet) font(f face, size float64) {
	if err := s.pdf.SetFont(string(f), "", size); err != nil {
		s.fail(err)
	}
}

// long is the length of a cleaned text. No kerning is used, so lengths add up.
func (s *Sheet) long(f face, size float64, text string) float64 {
	total := 0.0
	for _, r := range text {
		total += s.advance(f, r)
	}
	return total * size
}

// advance is the width of a sign at size 1.
func (s *Sheet) advance(f face, r rune) float64 {
	if w, ok := s.known[f][r]; ok {
		return w
	}
	s.font(f, 100)
	w, err := s.pdf.MeasureTextWidth(string(r))
	if err != nil {
		s.fail(err)
	}
	s.known[f][r] = w / 100
	return w / 100
}

// wrap breaks a text into lines no longer than width. A word that is longer
// than a line is broken where the line is full.
func (s *Sheet) wrap(f face, size, width float64, text string) []string {
	return s.wrapAfter(0, f, size, width, text)
}

// wrapAfter is wrap for a text whose first line begins after something else of
// that length.
func (s *Sheet) wrapAfter(taken float64, f face, size, width float64, text string) []string {
	var lines []string
	line, used := "", taken
	space := s.long(f, size, " ")
	end := func() {
		if line != "" || used > 0 {
			lines = append(lines, line)
		}
		line, used = "", 0
	}
	for _, word := range strings.Fields(s.clean(f, text)) {
		long := s.long(f, size, word)
		switch {
		case line != "" && used+space+long <= width:
			line, used = line+" "+word, used+space+long
			continue
		case line == "" && used+long <= width:
			line, used = word, used+long
			continue
		}
		end()
		for long > width {
			head := s.fits(f, size, width, word)
			lines = append(lines, head)
			word = word[len(head):]
			long = s.long(f, size, word)
		}
		line, used = word, long
	}
	end()
	return lines
}

// fits is as much of a word as fits, at least one sign, a combining mark never
// parted from its letter.
func (s *Sheet) fits(f face, size, width float64, word string) string {
	end, used := 0, 0.0
	for i, r := range word {
		if unicode.Is(unicode.Mn, r) {
			continue
		}
		if used > width && i > 0 {
			break
		}
		end = i
		used += s.advance(f, r) * size
	}
	if used <= width {
		return word
	}
	if end == 0 {
		for i := range word {
			if i > 0 {
				return word[:i]
			}
		}
		return word
	}
	return word[:end]
}
