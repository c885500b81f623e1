package publish

import (
	"errors"

	"asleft/generator/catalog"
)

// A Fault is what went wrong, as a sentence of the catalog.
type Fault struct {
	Key   string // of the sentence, which says what to do about it too
	Pairs []any  // what is filled in
	Cause error  // what the system or the library said; nil for nothing
	Line  bool   // it is the line's, which may be better soon; nobody has to mend anything
}

// NewFault makes a Fault.
func NewFault(cause error, key string, pairs ...any) *Fault {
	return &Fault{Key: key, Pairs: pairs, Cause: cause}
}

// OfLine says that it is the line's.
func (f *Fault) OfLine() *Fault {
	f.Line = true
	return f
}

// Error is the sentence in English.
func (f *Fault) Error() string { return f.In(catalog.English) }

// In is the sentence in another catalog.
func (f *Fault) In(words *catalog.Catalog) string { return words.Say(f.Key, f.Pairs...) }

// Unwrap gives the cause.
func (f *Fault) Unwrap() error { return f.Cause }

// Is compares by the sentence, so that errors.Is(err, &Fault{Key: ...}) asks for one.
func (f *Fault) Is(other error) bool {
	o, ok := other.(*Fault)
	return ok && o.Key == f.Key && o.Pairs == nil
}

// IsFault tells whether an error is the fault of that key.
func IsFault(err error, key string) bool { return errors.Is(err, &Fault{Key: key}) }
