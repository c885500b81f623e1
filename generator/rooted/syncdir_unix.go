//go:build !windows

package rooted

import "errors"

// SyncDir is DirSyncer's, by fsync on the open folder.
func (f *FS) SyncDir(name string) (err error) {
	dir, err := f.root.Open(local(name))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, dir.Close()) }()
	return unsupported(dir.Sync())
}
