//go:build linux || darwin

package rooted

import (
	"errors"
	"io/fs"
	"os"
	"sync/atomic"

	"golang.org/x/sys/unix"
)

// held is a folder kept open for as long as one right below it has yet to be
// opened, which goes through it: no path is walked twice and no link followed.
type held struct {
	fd    int
	users atomic.Int32
}

func (h *held) release() {
	if h.users.Add(-1) == 0 {
		_ = unix.Close(h.fd) // nothing was written through it
	}
}

// start opens the folder to be surveyed, through the root.
func (s *survey) start(top *folder, dir string) (err error) {
	opened, err := s.fs.root.Open(dir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, opened.Close()) }()
	return withFd(opened, func(fd int) error { return top.open(fd, ".") })
}

func (f *folder) open(above int, name string) error {
	return again("open", f.prefix, func() (err error) {
		f.held.fd, err = unix.Openat(above, name, unix.O_RDONLY|unix.O_DIRECTORY|unix.O_NOFOLLOW|unix.O_CLOEXEC, 0)
		f.held.users.Store(1)
		return err
	})
}

// leave gives up a folder that was not opened.
func (f *folder) leave() {
	if f.above != nil {
		f.above.held.release()
	} else {
		f.held.release()
	}
}

// visit notes what is in a folder. One that went meanwhile, or was swapped for
// something else, is empty.
func (s *survey) visit(f *folder, buffer []byte) error {
	if f.above != nil {
		err := f.open(f.above.held.fd, f.name())
		f.above.held.release()
		if gone(err) {
			return nil
		}
		if err != nil {
			return err
		}
	}
	defer f.held.release()
	var names []string
	for {
		var n int
		err := again("read", f.prefix, func() (err error) {
			n, err = unix.ReadDirent(f.held.fd, buffer)
			return err
		})
		if gone(err) || err == nil && n == 0 {
			return nil
		}
		if err != nil {
			return err
		}
		_, _, names = unix.ParseDirent(buffer[:n], -1, names[:0])
		if err := s.note(f, names); err != nil {
			return err
		}
	}
}

// note asks for the marks of some names in a folder, and hands the folders among
// them to whoever has nothing to do.
func (s *survey) note(f *folder, names []string) error {
	found := len(f.below)
	for _, name := range names {
		var stat unix.Stat_t
		err := again("stat", f.prefix+name, func() error {
			return unix.Fstatat(f.held.fd, name, &stat, unix.AT_SYMLINK_NOFOLLOW)
		})
		if gone(err) {
			continue
		}
		if err != nil {
			return err
		}
		m := mark(f.prefix+name, &stat)
		if m.Mode.IsDir() {
			if s.skip(m.Path) {
				continue
			}
			f.below = append(f.below, &folder{above: f, prefix: m.Path + "/"})
		}
		f.marks = append(f.marks, m)
	}
	f.held.users.Add(int32(len(f.below) - found))
	s.add(f.below[found:])
	return nil
}

// again makes a call until no signal cuts it short.
func again(op, path string, call func() error) error {
	for {
		switch err := call(); err {
		case nil:
			return nil
		case unix.EINTR:
		default:
			return &os.PathError{Op: op, Path: path, Err: err}
		}
	}
}

// gone says that a name is not there any more, or is of something that is not a
// folder.
func gone(err error) bool {
	return errors.Is(err, unix.ENOENT) || errors.Is(err, unix.ENOTDIR) || errors.Is(err, unix.ELOOP)
}

func mark(path string, stat *unix.Stat_t) Mark {
	return Mark{
		Path: path, Mode: mode(uint32(stat.Mode)), Size: stat.Size,
		Written: stat.Mtim.Nano(), Changed: stat.Ctim.Nano(), Inode: stat.Ino,
	}
}

// mode is the system's mode as Go writes it.
func mode(bits uint32) fs.FileMode {
	m := fs.FileMode(bits & 0o777)
	switch bits & unix.S_IFMT {
	case unix.S_IFDIR:
		m |= fs.ModeDir
	case unix.S_IFLNK:
		m |= fs.ModeSymlink
	case unix.S_IFIFO:
		m |= fs.ModeNamedPipe
	case unix.S_IFSOCK:
		m |= fs.ModeSocket
	case unix.S_IFBLK:
		m |= fs.ModeDevice
	case unix.S_IFCHR:
		m |= fs.ModeDevice | fs.ModeCharDevice
	}
	if bits&unix.S_ISUID != 0 {
		m |= fs.ModeSetuid
	}
	if bits&unix.S_ISGID != 0 {
		m |= fs.ModeSetgid
	}
	if bits&unix.S_ISVTX != 0 {
		m |= fs.ModeSticky
	}
	return m
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
