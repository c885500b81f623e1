package rooted

import (
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

// Flush is Flusher's, by syncfs(2): one call for the whole file system that the
// folder is on.
func (f *FS) Flush() error {
	if err := withFd(f.top, unix.Syncfs); err != nil {
		return unsupported(&os.PathError{Op: "syncfs", Path: f.dir, Err: err})
	}
	return nil
}

// openAtOnce opens a file by openat2(2), in which the kernel walks the whole path and
// lets none lead out; os.Root opens and closes each folder on the way by itself. It is
// nil where that failed for whatever reason, and os.Root is asked: what it says counts.
func (f *FS) openAtOnce(name string, flag int, perm os.FileMode) *os.File {
	how := unix.OpenHow{Flags: uint64(flag) | unix.O_CLOEXEC | unix.O_LARGEFILE, Resolve: unix.RESOLVE_BENEATH} //nolint:gosec // flags have no sign
	if flag&os.O_CREATE != 0 {
		how.Mode = uint64(perm)
	}
	opened := -1
	err := withFd(f.top, func(dir int) (err error) {
		opened, err = unix.Openat2(dir, name, &how)
		return err
	})
	if err != nil {
		return nil
	}
	return os.NewFile(uintptr(opened), filepath.Join(f.dir, name))
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
