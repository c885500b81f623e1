//go:build !windows

package rooted

import "os"

// insist does something once: here no file is kept from others by being open.
func (*FS) insist(do func() error, _ ...string) error { return do() }

// taken tells that a lock cannot be had because another is at it just now.
func taken(error) bool { return false }

// breathe is called between two tries at a lock.
func breathe() {}

// Describe is Describer's.
func (f *FS) Describe(name string) (os.FileInfo, error) { return f.lstat(local(name)) }

// tellMore adds what only the system tells: it is in the infos already.
func tellMore(*os.File, []os.FileInfo) {}
