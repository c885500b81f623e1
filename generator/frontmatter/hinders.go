package frontmatter

import (
	"errors"
	"fmt"

	"asleft/generator/catalog"
)

// ErrCannot is what an error of With is, where the file cannot say what was
// wanted by changing nothing else in it.
var ErrCannot = errors.New("cannot change the file")

// A Hindrance is why a file cannot be taken apart.
type Hindrance struct {
	Line int    // counted from 1, 0 where it is the whole file
	Key  string // of the sentence in the catalog; Key+".mend" tells how to mend it
	fill []any
}

func hinders(line int, key string, fill ...any) *Hindrance {
	return &Hindrance{Line: line, Key: key, fill: fill}
}

// Says is what hinders and how to mend it, in the words of a catalog.
func (h *Hindrance) Says(words *catalog.Catalog) (says, mend string) {
	return words.Say(h.Key, h.fill...), words.Say(h.Key+".mend", h.fill...)
}

// Error is both in English, behind the line.
func (h *Hindrance) Error() string {
	says, mend := h.Says(catalog.English)
	return fmt.Sprintf("line %d: %s; %s", h.Line, says, mend)
}

// Cannot tells which field stands in the way of a change. It is an ErrCannot.
type Cannot struct {
	Field string // as in measured[2].value; empty where it is none of the fields
	Cause error  // what the file would have become; nil where it would say something else
}

// Says is what cannot be done and how to do it, in the words of a catalog.
func (c *Cannot) Says(words *catalog.Catalog) (says, mend string) {
	if c.Field == "" {
		return words.Say("problem.cannot-change"), words.Say("problem.cannot-change.mend")
	}
	return words.Say("problem.cannot-change-field", "field", c.Field), words.Say("problem.cannot-change-field.mend", "field", c.Field)
}

// Error is both in English, and the cause.
func (c *Cannot) Error() string {
	says, mend := c.Says(catalog.English)
	if c.Cause != nil {
		return fmt.Sprintf("%s: %v; %s", says, c.Cause, mend)
	}
	return says + "; " + mend
}

// Unwrap gives the kind and the cause.
func (c *Cannot) Unwrap() []error {
	if c.Cause == nil {
		return []error{ErrCannot}
	}
	return []error{ErrCannot, c.Cause}
}
