//go:build !linux

package rooted

import (
	"errors"
	"os"
)

// Exchange is Exchanger's; only Linux can do it here.
func (f *FS) Exchange(a, b string) error {
	return &os.LinkError{Op: "exchange", Old: local(a), New: local(b), Err: errors.ErrUnsupported}
}

// Flush is Flusher's; only Linux can do it here.
func (f *FS) Flush() error {
	return &os.PathError{Op: "flush", Path: f.dir, Err: errors.ErrUnsupported}
}
