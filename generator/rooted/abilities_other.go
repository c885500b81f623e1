//go:build !linux

package rooted

import (
	"errors"
	"os"
)

// Flush is Flusher's; only Linux can do it here.
func (f *FS) Flush() error {
	return &os.PathError{Op: "flush", Path: f.dir, Err: errors.ErrUnsupported}
}

// openAtOnce is of use on Linux alone.
func (*FS) openAtOnce(string, int, os.FileMode) *os.File { return nil }
