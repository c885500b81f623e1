package quantity

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"
)

// ErrNothing reports that a value was asked for where none was given.
var ErrNothing = errors.New("no reading was given")

// ParseError reports text that is not a quantity, limit or gauge.
type ParseError struct {
	Read     string // what was read, cut when long
	Expected string // what was expected there, such as "a unit after the number"
	Mend     string // how to mend it, such as "did you mean psi?"
}

// Error gives all three parts in one line.
func (e *ParseError) Error() string {
	return fmt.Sprintf("read %q, expected %s; %s", e.Read, e.Expected, e.Mend)
}

// MismatchError reports two values of different dimensions where one kind was
// needed.
type MismatchError struct {
	Read string    // the value at fault, as written
	Have Dimension // what it measures
	With string    // the value or unit it was put against, as written
	Want Dimension // what that measures
}

// Error names both values and their dimensions.
func (e *MismatchError) Error() string {
	return fmt.Sprintf("%s is %s, but %s is %s; give both in units of the same kind", e.Read, e.Have, e.With, e.Want)
}

// malformed builds a ParseError, cutting text that is too long to show.
func malformed(read, expected, mend string) *ParseError {
	return &ParseError{Read: shorten(read, 48), Expected: expected, Mend: mend}
}

// shorten cuts trimmed text to at most so many bytes, between characters.
func shorten(text string, most int) string {
	text = strings.TrimSpace(text)
	if len(text) <= most {
		return text
	}
	cut := most
	for cut > 0 && !utf8.RuneStart(text[cut]) {
		cut--
	}
	return text[:cut] + "..."
}
