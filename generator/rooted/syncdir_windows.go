package rooted

import (
	"errors"
	"os"
)

// SyncDir is DirSyncer's. Windows has no such call for folders; its file system
// keeps its own journal of names.
func (f *FS) SyncDir(name string) error {
	return &os.PathError{Op: "sync", Path: local(name), Err: errors.ErrUnsupported}
}
