package rooted

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

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

// withFd lends out an open file's descriptor for one call.
func withFd(file *os.File, do func(fd int) error) error {
	conn, err := file.SyscallConn()
	if err != nil {
		return err
	}
	var failed error
	if err := conn.Control(func(fd uintptr) { failed = do(int(fd)) }); err != nil {
		return err
	}
	return failed
}
