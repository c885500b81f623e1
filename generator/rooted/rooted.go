package rooted

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/afero"
)

// An FS is one folder as an afero.Fs. It may be used from many goroutines.
type FS struct {
	root *os.Root
	dir  string
	top  *os.File // the folder itself
}

var (
	_ afero.Fs        = (*FS)(nil)
	_ afero.Symlinker = (*FS)(nil)
	_ HardLinker      = (*FS)(nil)
	_ Locker          = (*FS)(nil)
	_ Flusher         = (*FS)(nil)
	_ DirSyncer       = (*FS)(nil)
	_ Lister          = (*FS)(nil)
	_ Describer       = (*FS)(nil)
)

// Open opens a folder, which must exist. The folder's own path may lead through
// links; below it none leads out. Close the FS when done with it.
func Open(dir string) (*FS, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("cannot open the folder %s: %w", dir, err)
	}
	root, err := os.OpenRoot(abs)
	if err != nil {
		return nil, fmt.Errorf("cannot open the folder %s: %w", dir, err)
	}
	top, err := root.Open(".")
	if err != nil {
		return nil, fmt.Errorf("cannot open the folder %s: %w", dir, errors.Join(err, root.Close()))
	}
	return &FS{root: root, dir: abs, top: top}, nil
}

// Close lets go of the folder; the FS cannot be used after it.
func (f *FS) Close() error { return errors.Join(f.top.Close(), f.root.Close()) }

// Dir is the folder's absolute path, for messages.
func (f *FS) Dir() string { return f.dir }

// Name is the kind of file system, as for every afero.Fs.
func (f *FS) Name() string { return "rooted" }

// local is a name as os.Root wants it: no leading separator, cleaned. A name
// that climbs keeps its "..", so that the root refuses it rather than reading
// some other file of the same name.
func local(name string) string {
	for name != "" && os.IsPathSeparator(name[0]) {
		name = name[1:]
	}
	return filepath.Clean(name)
}

// Create makes a file, or empties it, for reading and writing.
func (f *FS) Create(name string) (afero.File, error) {
	return f.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_TRUNC, 0o666)
}

// Open opens a file or folder for reading.
func (f *FS) Open(name string) (afero.File, error) { return f.OpenFile(name, os.O_RDONLY, 0) }

// OpenFile opens a file with the flags of package os.
func (f *FS) OpenFile(name string, flag int, perm os.FileMode) (afero.File, error) {
	name = local(name)
	if opened := f.openAtOnce(name, flag, perm); opened != nil {
		return opened, nil
	}
	var opened *os.File
	err := f.insist(func() (err error) {
		opened, err = f.root.OpenFile(name, flag, perm)
		return err
	}, name)
	if err != nil {
		return nil, err // and no nil *os.File in an afero.File
	}
	return opened, nil
}

// Mkdir makes one folder.
func (f *FS) Mkdir(name string, perm os.FileMode) error { return f.root.Mkdir(local(name), perm) }

// MkdirAll makes a folder and those above it that are missing.
func (f *FS) MkdirAll(name string, perm os.FileMode) error { return f.root.MkdirAll(local(name), perm) }

// Remove removes a file, a link or an empty folder.
func (f *FS) Remove(name string) error {
	name = local(name)
	return f.insist(func() error { return f.root.Remove(name) }, name)
}

// RemoveAll removes a file, or a folder and all in it; links are removed, not
// followed. The FS's own folder is refused. Nothing there is no error.
func (f *FS) RemoveAll(name string) error {
	return f.insist(func() error { return f.root.RemoveAll(local(name)) })
}

// Rename renames a file or a folder. Where Windows refuses that because another
// program has the file open, it tries again for some seconds; see ErrHeld.
func (f *FS) Rename(oldname, newname string) error {
	oldname, newname = local(oldname), local(newname)
	return f.insist(func() error { return f.root.Rename(oldname, newname) }, newname, oldname)
}

// Stat describes a file, following links that stay inside.
func (f *FS) Stat(name string) (info os.FileInfo, err error) {
	name = local(name)
	err = f.insist(func() (err error) {
		info, err = f.root.Stat(name)
		return err
	}, name)
	return info, err
}

// Chmod changes a file's mode.
func (f *FS) Chmod(name string, mode os.FileMode) error { return f.root.Chmod(local(name), mode) }

// Chown changes a file's owner and group, where the system has such.
func (f *FS) Chown(name string, uid, gid int) error { return f.root.Chown(local(name), uid, gid) }

// Chtimes changes when a file was last read and last written.
func (f *FS) Chtimes(name string, atime, mtime time.Time) error {
	return f.root.Chtimes(local(name), atime, mtime)
}

// LstatIfPossible describes a file or a link itself; it always can.
func (f *FS) LstatIfPossible(name string) (os.FileInfo, bool, error) {
	info, err := f.lstat(local(name))
	return info, true, err
}

func (f *FS) lstat(name string) (info os.FileInfo, err error) {
	err = f.insist(func() (err error) {
		info, err = f.root.Lstat(name)
		return err
	}, name)
	return info, err
}

// ReadlinkIfPossible is where a symbolic link points, which may be outside.
func (f *FS) ReadlinkIfPossible(name string) (string, error) { return f.root.Readlink(local(name)) }

// SymlinkIfPossible makes a symbolic link. It may point outside, as links that
// are carried over from elsewhere do; it cannot be followed there through the FS.
func (f *FS) SymlinkIfPossible(target, name string) error {
	return f.root.Symlink(target, local(name))
}

// List is Lister's.
func (f *FS) List(dir string) (infos []os.FileInfo, err error) {
	name := local(dir)
	opened := f.openAtOnce(name, os.O_RDONLY, 0)
	if opened == nil {
		if opened, err = f.root.Open(name); err != nil {
			return nil, err
		}
	}
	defer func() { err = errors.Join(err, opened.Close()) }()
	infos, err = opened.Readdir(-1)
	tellMore(opened, infos)
	return infos, err
}
