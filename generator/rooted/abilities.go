package rooted

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"github.com/spf13/afero"
)

// A HardLinker can give a file a second name without copying it. A symbolic
// link is itself linked, not what it points to.
type HardLinker interface {
	Link(oldname, newname string) error
}

// A Locker can hold a name so that no other process, and no other caller in
// this one, holds it too. The hold ends with the process however that ends.
type Locker interface {
	// Lock takes the lock at once or returns ErrLocked; it does not wait. The
	// lock is a file of that name, which release removes.
	Lock(name string) (release func() error, err error)
}

// A Flusher can put all that was written below it on the disk at once, which for
// many files is far quicker than syncing each.
type Flusher interface {
	Flush() error
}

// A DirSyncer can put the names in a folder on the disk, so that a rename
// outlives a power cut.
type DirSyncer interface {
	SyncDir(name string) error
}

// WriteSynced writes a new file, sees that the disk has it, and closes it.
func WriteSynced(f afero.File, data []byte) error {
	_, err := f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// SyncDir puts the names in a folder on the disk, where file system and disk can do so.
func SyncDir(fsys afero.Fs, dir string) error {
	if syncer, ok := fsys.(DirSyncer); ok {
		if err := syncer.SyncDir(dir); !errors.Is(err, errors.ErrUnsupported) {
			return err
		}
	}
	return nil
}

// Lstat describes a file or a link itself, where the file system knows links.
func Lstat(fsys afero.Fs, name string) (fs.FileInfo, error) {
	if l, ok := fsys.(afero.Lstater); ok {
		info, _, err := l.LstatIfPossible(name)
		return info, err
	}
	return fsys.Stat(name)
}

// A Lister can describe all that lies in a folder, links themselves, through the
// folder alone: no path is walked for each, and no link followed.
type Lister interface {
	List(dir string) ([]fs.FileInfo, error)
}

// A Describer describes a file or a link itself as a Lister would.
type Describer interface {
	Describe(name string) (fs.FileInfo, error)
}

// A Stamped is a FileInfo that tells when a file was last changed in any way, in ns
// since 1970, and its number on its disk, where Sys does not.
type Stamped interface {
	Stamp() (changed int64, number uint64)
}

// ErrLocked says that another holds the lock.
var ErrLocked = errors.New("locked by another")

// Link is HardLinker's.
func (f *FS) Link(oldname, newname string) error {
	oldname, newname = local(oldname), local(newname)
	return f.insist(func() error { return f.root.Link(oldname, newname) }, oldname)
}

// unsupported tells "this system or this disk cannot" from "it failed".
func unsupported(err error) error {
	if err == nil {
		return nil
	}
	// A kernel or a disk that does not know the call answers with ENOSYS,
	// EOPNOTSUPP (both errors.ErrUnsupported already) or EINVAL.
	if errors.Is(err, syscall.EINVAL) {
		return fmt.Errorf("%w: %w", errors.ErrUnsupported, err)
	}
	return err
}
