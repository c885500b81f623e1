package rooted

import (
	"errors"
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

// Exchange is Exchanger's, by renameat2(2). The folder of each name is opened
// through the root, so it lies inside, and the call does not follow the last
// part of a name.
func (f *FS) Exchange(a, b string) (err error) {
	a, b = local(a), local(b)
	dirA, err := f.root.Open(filepath.Dir(a))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, dirA.Close()) }()
	dirB, err := f.root.Open(filepath.Dir(b))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, dirB.Close()) }()
	err = withFd(dirA, func(fdA int) error {
		return withFd(dirB, func(fdB int) error {
			return unix.Renameat2(fdA, filepath.Base(a), fdB, filepath.Base(b), unix.RENAME_EXCHANGE)
		})
	})
	if err != nil {
		return unsupported(&os.LinkError{Op: "exchange", Old: a, New: b, Err: err})
	}
	return nil
}

// Flush is Flusher's, by syncfs(2): one call for the whole file system that the
// folder is on.
func (f *FS) Flush() (err error) {
	dir, err := f.root.Open(".")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, dir.Close()) }()
	if err := withFd(dir, unix.Syncfs); err != nil {
		return unsupported(&os.PathError{Op: "syncfs", Path: f.dir, Err: err})
	}
	return nil
}
