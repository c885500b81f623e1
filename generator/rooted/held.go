package rooted

import "errors"

// What stands in the way on Windows alone, which replaces and removes no file that
// somebody has open, nor one that is marked read-only.
var (
	// ErrHeld says that another program has the file open, and had it for as long
	// as was waited.
	ErrHeld = errors.New("another program has the file open")
	// ErrReadOnly says that the file to be replaced is marked read-only.
	ErrReadOnly = errors.New("the file is marked read-only")
)
