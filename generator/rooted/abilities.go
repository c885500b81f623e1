package rooted

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"
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

// A Walker can tell what the system notes of all files of a tree at once: far
// quicker than asking file by file.
type Walker interface {
	// Walk gives all files, links and folders below dir, sorted by Path, which is
	// from dir, as text; links are not followed. What skip names is left out, a
	// folder with all in it; skip is called from several goroutines at once and may
	// be nil. What comes or goes meanwhile is in it or not. Where dir is not there
	// the error is fs.ErrNotExist.
	Walk(dir string, skip func(name string) bool) ([]Stat, error)
}

// A Stat is what the system notes about a file, without opening it.
type Stat struct {
	Path    string // with slashes
	Mode    fs.FileMode
	Size    int64  // bytes
	Written int64  // when the contents were last written, in ns since 1970
	Changed int64  // when contents, mode or name last were, in ns since 1970; 0 where the system does not tell
	Inode   uint64 // the file's number on its disk; 0 where the system does not tell
}

// ErrLocked says that another holds the lock.
var ErrLocked = errors.New("locked by another")

// Link is HardLinker's.
func (f *FS) Link(oldname, newname string) error {
	return f.root.Link(local(oldname), local(newname))
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
