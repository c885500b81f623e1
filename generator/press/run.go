package press

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// places are the names that a run uses, all in one folder.
type places struct {
	site    string // the site itself
	staging string // the new site while it is composed
	old     string // the old site while and after the two are swapped
	spare   string // a large site once more, for the next run to make the new one of
	lock    string // the lock's file
}

func placesOf(name string) places {
	return places{site: name, staging: Beside(name, "new"), old: Beside(name, "old"), spare: Beside(name, "spare"), lock: Beside(name, "lock")}
}

// Beside is the name of a hidden file or folder that belongs to a site and
// stands beside it.
func Beside(site, what string) string { return "." + site + "-asleft-" + what }

// IsBeside tells whether a name is one that Beside gives.
func IsBeside(name string) bool {
	return strings.HasPrefix(name, ".") && strings.Contains(name, "-asleft-")
}

// IsSite tells whether a folder is a site that the press made.
func IsSite(fsys afero.Fs, dir string) bool {
	_, err := fsys.Stat(path.Join(dir, ledgerName))
	return err == nil
}

// Idle tells whether a site stands there that no run is at work on, and none
// was killed at work on.
func Idle(parent afero.Fs, site string) bool {
	at := placesOf(site)
	for _, name := range []string{at.staging, at.old, at.lock} {
		if _, err := lstat(parent, name); !errors.Is(err, fs.ErrNotExist) {
			return false
		}
	}
	info, err := lstat(parent, at.site)
	return err == nil && info.IsDir()
}

// A Run makes one new state of a site. Put and Carry may be called from many
// goroutines at once. A Run ends with Finish or Abandon, and one of them must be
// called, or the site stays locked.
type Run struct {
	fsys    afero.Fs
	at      places
	present ledger                 // what the press wrote into the site that stands; nil without one
	ours    map[string]bool        // the folders that the press made there
	trusted map[string]rooted.Mark // the files there that need no reading, by path
	release func() error
	copied  atomic.Bool // a file could not be given a second name

	use  sync.RWMutex // read-held by Put and Carry, held by Finish and Abandon
	over bool

	mu     sync.Mutex
	claims map[string]claim // what stands where in the new site, by folded path
	files  map[string]file  // the new site's files, by path
	failed error            // the first file that could not be put

	dirMu  sync.Mutex
	staged bool            // there is, or may be, a staging folder
	dirs   map[string]bool // folders made in it
}

// A claim is a name in the new site that is taken, for a file or for a folder.
type claim struct {
	path string // as spelled
	file string // the file that took it; another than path if path is a folder
}

// A file is one of the new site's.
type file struct {
	entry
	kept    bool      // it stands in the present site already, unchanged
	written time.Time // when it was last written, there or to the staging folder
}

// Result says what a run did. Files are all files of the site that the press
// answers for (foreign ones and the ledger are not counted) and Bytes their
// size; Written were new or different, Kept were there already. Removed stood in
// the site before and no longer do.
type Result struct {
	Files, Written, Kept, Removed int
	Bytes                         int64
}

// Begin starts a run on the site of that name in parent, which should be a
// rooted.FS on a disk. The site's folder need not exist. If an earlier run was
// killed, Begin first brings the site back to a whole state, the old or the new.
//
// The error is ErrAtWork when another run has the site, a *Refusal when the
// folder is not the press's to write to, and otherwise the disk's.
func Begin(parent afero.Fs, name string) (*Run, error) {
	if !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, `/\`) {
		return nil, refuse(sayName, name)
	}
	at := placesOf(name)
	release, err := lock(parent, at.lock)
	if err != nil {
		return nil, err
	}
	r := &Run{
		fsys: parent, at: at, release: release,
		claims: map[string]claim{}, files: map[string]file{}, dirs: map[string]bool{},
	}
	if err := r.open(); err != nil {
		return nil, errors.Join(err, release())
	}
	return r, nil
}

// open puts right what a killed run left and looks at the present site.
func (r *Run) open() error {
	if err := recoverSite(r.fsys, r.at); err != nil {
		return err
	}
	info, err := lstat(r.fsys, r.at.site)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return removeTree(r.fsys, r.at.spare)
	case err != nil:
		return fmt.Errorf("cannot look at %s: %w", r.at.site, err)
	case info.Mode()&fs.ModeSymlink != 0:
		return refuse(saySiteLink, r.at.site)
	case !info.IsDir():
		return refuse(saySiteFile, r.at.site)
	}
	if r.present, err = readLedger(r.fsys, r.at.site); err != nil {
		return err
	}
	if r.present == nil {
		return refuseFull(r.fsys, r.at.site)
	}
	r.ours = r.present.folders()
	return nil
}

// refuseFull refuses a folder that has anything in it.
func refuseFull(fsys afero.Fs, dir string) error {
	names, err := list(fsys, dir)
	if err != nil {
		return fmt.Errorf("cannot look into %s: %w", dir, err)
	}
	if len(names) == 0 {
		return nil
	}
	if len(names) > 3 {
		names = append(names[:3], "and more")
	}
	return refuse(sayNotOurs, dir, strings.Join(names, ", "))
}

// Abandon drops the run: the present site stays as it is and the staging folder
// goes. After Finish, or a second time, it does nothing.
func (r *Run) Abandon() error {
	r.use.Lock()
	defer r.use.Unlock()
	if r.over {
		return nil
	}
	return r.drop()
}

// drop removes what was staged and lets go of the site.
func (r *Run) drop() error {
	r.over = true
	var err error
	if r.staged {
		err = removeTree(r.fsys, r.at.staging)
	}
	return errors.Join(err, r.release())
}
