// Package jcs writes JSON in the one form that RFC 8785 (JSON Canonicalization
// Scheme) gives it, so that the same data has the same bytes, and therefore the
// same digest, wherever it is written.
//
// Parse reads strictly and Encode writes: Transform is both. What I-JSON (RFC
// 7493) forbids, and a lenient reader would quietly repair, is an error here:
// names that stand twice in one object, half a surrogate pair, bytes that are
// not UTF-8, numbers beyond IEEE 754 double precision. A repaired document is
// another document.
package jcs

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// Values are what Parse returns and Encode takes: nil, bool, float64, string,
// []any and map[string]any.

// Transform is a JSON text in its canonical form.
func Transform(text []byte) ([]byte, error) {
	v, err := Parse(text)
	if err != nil {
		return nil, err
	}
	return Encode(v)
}

// Marshal is a Go value, as encoding/json sees it, in canonical form.
func Marshal(v any) ([]byte, error) {
	text, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("writing JSON: %w", err)
	}
	return Transform(text)
}

// Encode writes a value in canonical form.
func Encode(v any) ([]byte, error) { return appendValue(nil, v) }

func appendValue(b []byte, v any) ([]byte, error) {
	switch v := v.(type) {
	case nil:
		return append(b, "null"...), nil
	case bool:
		return strconv.AppendBool(b, v), nil
	case float64:
		text, err := Number(v)
		return append(b, text...), err
	case string:
		return appendString(b, v)
	case []any:
		return appendList(b, v)
	case map[string]any:
		return appendObject(b, v)
	}
	return nil, fmt.Errorf("a %T is no JSON value", v)
}

func appendList(b []byte, list []any) ([]byte, error) {
	b = append(b, '[')
	for i, v := range list {
		if i > 0 {
			b = append(b, ',')
		}
		var err error
		if b, err = appendValue(b, v); err != nil {
			return nil, err
		}
	}
	return append(b, ']'), nil
}

func appendObject(b []byte, object map[string]any) ([]byte, error) {
	names := make([]string, 0, len(object))
	for name := range object {
		names = append(names, name)
	}
	slices.SortFunc(names, byUTF16)
	b = append(b, '{')
	for i, name := range names {
		if i > 0 {
			b = append(b, ',')
		}
		var err error
		if b, err = appendString(b, name); err != nil {
			return nil, err
		}
		if b, err = appendValue(append(b, ':'), object[name]); err != nil {
			return nil, err
		}
	}
	return append(b, '}'), nil
}

// byUTF16 orders names by their UTF-16 code units (section 3.2.3), which is not
// the order of their bytes: a sign beyond U+FFFF comes before U+FB33.
func byUTF16(a, b string) int {
	if ascii(a) && ascii(b) {
		return strings.Compare(a, b)
	}
	return slices.Compare(utf16.Encode([]rune(a)), utf16.Encode([]rune(b)))
}

func ascii(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return r > unicode.MaxASCII })
}

// shortEscapes are the control characters with an escape of their own (section
// 3.2.2.2); the others are written as \u00xx, and all else as it is.
var shortEscapes = map[rune]string{'\b': `\b`, '\t': `\t`, '\n': `\n`, '\f': `\f`, '\r': `\r`, '"': `\"`, '\\': `\\`}

func appendString(b []byte, s string) ([]byte, error) {
	if !utf8.ValidString(s) {
		return nil, errors.New("a text is not UTF-8")
	}
	b = append(b, '"')
	for _, r := range s {
		short, ok := shortEscapes[r]
		switch {
		case ok:
			b = append(b, short...)
		case r < ' ':
			b = fmt.Appendf(b, `\u%04x`, r)
		default:
			b = utf8.AppendRune(b, r)
		}
	}
	return append(b, '"'), nil
}

// Number writes a number as ECMAScript's Number::toString does (section
// 3.2.2.3): the shortest digits that read back as the same double, with an
// exponent only below 1e-6 and from 1e21 on. NaN and infinities are an error.
func Number(f float64) (string, error) {
	switch size := math.Abs(f); {
	case math.IsNaN(f) || math.IsInf(f, 0):
		return "", errors.New("a number is not finite")
	case f == 0: // also -0
		return "0", nil
	case size >= 1e-6 && size < 1e21:
		return strconv.FormatFloat(f, 'f', -1, 64), nil
	}
	digits, exponent, _ := strings.Cut(strconv.FormatFloat(f, 'e', -1, 64), "e")
	// Go writes at least two digits of the exponent, ECMAScript no zero.
	return digits + "e" + exponent[:1] + strings.TrimLeft(exponent[1:], "0"), nil
}
