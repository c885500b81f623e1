package catalog

import (
	"strings"

	"golang.org/x/text/unicode/bidi"
)

// The characters that keep a text's direction to itself (Unicode Standard
// Annex 9, 2.4.2 and 2.4.3).
const (
	isolateLTR   = '\u2066' // LEFT-TO-RIGHT ISOLATE
	isolateFirst = '\u2068' // FIRST STRONG ISOLATE
	isolateEnd   = '\u2069' // POP DIRECTIONAL ISOLATE
)

// isolated is a value as it stands in a sentence. One with letters that run
// from right to left is kept apart from what stands around it: without that, a
// number or a date behind it would be shown on its other side. Any other value
// comes back as it is.
func isolated(v string) string {
	mixed := false
	for i := 0; i < len(v); i++ {
		if v[i] >= rtl {
			mixed = true
			break
		}
	}
	if !mixed {
		return v
	}
	if !Balanced(v) {
		v = strings.Map(func(r rune) rune {
			if r >= isolateLTR && r <= isolateEnd {
				return '\ufffd'
			}
			return r
		}, v)
	}
	if !strings.ContainsFunc(v, rightToLeft) {
		return v
	}
	return string(isolateFirst) + v + string(isolateEnd)
}

// rtl is the lowest byte that a character of a right-to-left script begins
// with: U+0590 is 0xD6 0x90.
const rtl = 0xd6

// rightToLeft tells whether a character draws the signs and numbers beside it
// to the other side; the invisible marks U+200F and U+061C do so too.
func rightToLeft(r rune) bool {
	p, _ := bidi.LookupRune(r)
	switch p.Class() {
	case bidi.R, bidi.AL, bidi.AN:
		return true
	}
	return false
}

// Balanced tells whether every isolate in a text ends there, and none ends that
// did not begin there. A name of a file may hold one end too many, which would
// let it out into the sentence around it.
func Balanced(text string) bool {
	depth := 0
	for _, r := range text {
		switch {
		case r >= isolateLTR && r <= isolateFirst:
			depth++
		case r == isolateEnd:
			depth--
		}
		if depth < 0 {
			return false
		}
	}
	return depth == 0
}
