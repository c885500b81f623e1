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
