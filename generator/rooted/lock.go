package rooted

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"github.com/gofrs/flock"
)

// lockTries bounds the retries when the lock's file is removed by its last
// holder between our opening and our locking of it.
const lockTries = 100

// Lock is Locker's. The system drops the lock when the process dies, so a file
// that a killed run left behind blocks nobody.
func (f *FS) Lock(name string) (release func() error, err error) {
	name = local(name)
	for range lockTries {
		release, err = f.tryLock(name)
		switch {
		case errors.Is(err, fs.ErrPermission) && taken(err):
			breathe() // so Windows says of a file that is being removed, and of one that is not ours
		case err != nil && !errors.Is(err, ErrLocked) && taken(err):
			return nil, fmt.Errorf("%w (%w)", ErrLocked, err)
		case err != nil || release != nil:
			return release, err
		}
	}
	if err != nil {
		return nil, err
	}
	return nil, fmt.Errorf("%s: %w", name, ErrLocked)
}

// tryLock returns neither lock nor error when the file was taken away under it.
func (f *FS) tryLock(name string) (release func() error, err error) {
	if err := f.lockFile(name); err != nil {
		return nil, err
	}
	// The lock library opens by path. Without O_CREATE it can make nothing
	// outside, and whether it opened our file is asked once the lock is held.
	held := flock.New(filepath.Join(f.dir, name), flock.SetFlag(os.O_RDWR))
	got, err := held.TryLock()
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("cannot lock %s: %w", name, errors.Join(err, held.Close()))
	}
	if !got {
		return nil, errors.Join(fmt.Errorf("%s: %w", name, ErrLocked), held.Close())
	}
	if !f.isFile(held, name) {
		return nil, held.Close()
	}
	return func() error { return f.unlock(held, name) }, nil
}

// lockFile makes the file to lock, if it is not there.
func (f *FS) lockFile(name string) error {
	made, err := f.root.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return err
	}
	if err := made.Close(); err != nil {
		return err
	}
	info, err := f.root.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // taken away by its last holder; tryLock sees to that
	}
	if err == nil && !info.Mode().IsRegular() {
		return &os.PathError{Op: "lock", Path: name, Err: errors.New("not a regular file; remove it")}
	}
	return err
}

// isFile says whether what is locked is still the file of that name inside the
// root. It is not if the last holder removed it after we had opened it.
func (f *FS) isFile(held *flock.Flock, name string) bool {
	locked, err := held.Stat()
	if err != nil {
		return false
	}
	named, err := f.root.Lstat(name)
	return err == nil && os.SameFile(locked, named)
}

// unlock removes the file first, while it is still ours, then lets go: whoever
// opened it meanwhile finds it gone and tries anew. Windows removes no file that
// is open, so there the order is turned about and a failure to remove means that
// the next holder is already at it.
func (f *FS) unlock(held *flock.Flock, name string) error {
	if runtime.GOOS == "windows" {
		err := held.Close()
		_ = f.root.Remove(name)
		return err
	}
	removed := f.root.Remove(name)
	if errors.Is(removed, fs.ErrNotExist) {
		removed = nil
	}
	return errors.Join(removed, held.Close())
}
