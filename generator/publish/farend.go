package publish

import (
	"context"
	"time"
)

// Folder is the folder at the far end that holds what is ours and no part of the
// site: the manifest, the lock, and files that are not whole yet.
const Folder = ".asleft-publish"

const (
	manifestName = Folder + "/manifest"
	lockName     = Folder + "/lock"
)

// A FarEnd is the place that a site is brought to. Names are paths below it, with
// slashes. All but Close may be called from many goroutines at once. An error is a
// *Fault where something can be said to a person; a file that is not there is
// fs.ErrNotExist.
type FarEnd interface {
	// Traits say how to use it best.
	Traits() Traits
	// Read returns a file, which may have so many bytes.
	Read(ctx context.Context, name string, most int64) ([]byte, error)
	// Stat describes those files that are there, of the names given. What is there and
	// is no plain file has the size -1.
	Stat(ctx context.Context, names []string) (map[string]Info, error)
	// List describes every file, but for those in Folder.
	List(ctx context.Context) (map[string]Info, error)
	// MakeFolders makes folders, each after those above it. Some may be there.
	MakeFolders(ctx context.Context, dirs []string) error
	// Put writes a file so that a reader sees the old one or the new one, whole.
	Put(ctx context.Context, name string, data []byte) error
	// Create writes a file in Folder that must not be there yet, or says fs.ErrExist.
	Create(ctx context.Context, name string, data []byte) error
	// Remove removes a file, and the folders above it that are empty then.
	Remove(ctx context.Context, name string) error
	// Tidy removes what a killed run left in Folder of files that were not whole.
	Tidy(ctx context.Context) error
	// Close ends it.
	Close() error
}

// A Drafter is a far end that can hold a file back: it goes over the line at once, and
// is put in place when it is its turn. Put is both in one.
type Drafter interface {
	// Draft brings the bytes of a file under a name of its own in Folder.
	Draft(ctx context.Context, name string, data []byte) (draft string, err error)
	// Place gives a draft its name, so that a reader sees the old file or the new one.
	Place(ctx context.Context, draft, name string) error
}

// Traits say how a far end is used best.
type Traits struct {
	AtOnce    int  // calls that write which it does well at a time
	DearStat  bool // to ask for many files costs more than to send some twice
	NoReplace bool // Put leaves a moment in which the file is not there
}

// Info is what a far end tells of a file without reading it.
type Info struct {
	Size    int64
	MD5     string    // in hex, where the server knows it
	Changed time.Time // by the clock of the far end; zero where it is not known
}
