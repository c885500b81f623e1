package rooted

import (
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

// A top is the FS's own folder, kept open as the place from which beneath opens.
type top struct{ dir *os.File }

func (t *top) open(root *os.Root) (err error) {
	t.dir, err = root.Open(".")
	return err
}

func (t *top) close() error { return t.dir.Close() }

// beneath opens a file inside the root in one call, openat2(2), where os.Root
// opens every folder on the way: with RESOLVE_BENEATH the system itself refuses
// what leads out. Whatever it refuses, and everything on a system that does not
// know the call, is for os.Root to do or to refuse, in os.Root's words. So is a
// folder: a File of os.Root's own looks at what is in it without walking a path.
func (f *FS) beneath(name string, flag int, perm os.FileMode) (opened *os.File, ok bool) {
	if perm != perm.Perm() {
		return nil, false
	}
	how := unix.OpenHow{Flags: uint64(flag) | unix.O_CLOEXEC | unix.O_LARGEFILE, Resolve: unix.RESOLVE_BENEATH}
	if flag&os.O_CREATE != 0 {
		how.Mode = uint64(perm)
	}
	fd, err := f.openat2(name, &how)
	if err != nil {
		return nil, false
	}
	var stat unix.Stat_t
	if err := unix.Fstat(fd, &stat); err != nil || stat.Mode&unix.S_IFMT == unix.S_IFDIR {
		_ = unix.Close(fd) // nothing was written through it
		return nil, false
	}
	return os.NewFile(uintptr(fd), filepath.Join(f.dir, name)), true
}

// beneathFolder opens a folder to be listed, as beneath does a file; a link on the
// way is for os.Root. (Since Go 1.26 a File describes what is in its folder through
// its own descriptor, so no path is walked.)
func (f *FS) beneathFolder(name string) (opened *os.File, ok bool) {
	fd, err := f.openat2(name, &unix.OpenHow{Flags: unix.O_DIRECTORY | unix.O_CLOEXEC, Resolve: unix.RESOLVE_BENEATH | unix.RESOLVE_NO_SYMLINKS})
	if err != nil {
		return nil, false
	}
	return os.NewFile(uintptr(fd), filepath.Join(f.dir, name)), true
}

func (f *FS) openat2(name string, how *unix.OpenHow) (fd int, err error) {
	err = withFd(f.top.dir, func(top int) (err error) {
		fd, err = unix.Openat2(top, name, how)
		return err
	})
	return fd, err
}
