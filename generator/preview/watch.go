package preview

import (
	"context"
	"fmt"
	"hash/fnv"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"time"

	"github.com/fsnotify/fsnotify"

	"asleft/generator/logbook"
)

// A save is a handful of events; they are taken together. A long copy of photos
// is looked at now and then while it goes on.
const (
	aSave    = 40 * time.Millisecond
	tooLong  = 500 * time.Millisecond
	lookover = 2 * time.Second // drives that tell of no changes, and what the system lost
	lookOft  = 500 * time.Millisecond
)

// A watch tells that something below some folders has changed.
type watch struct {
	dirs    []string
	skip    func(dir, name string) bool
	events  *fsnotify.Watcher // nil where the system gives us none
	blind   bool              // not every folder is being watched
	last    uint64            // what was seen at the last look over all files
	quiet   time.Duration     // how long nothing has to happen for a save to be over
	changed chan struct{}
}

// newWatch watches the folders and all below them. What skip names, by its path
// from the folder, is not looked at.
func newWatch(dirs []string, quiet time.Duration, skip func(dir, name string) bool) *watch {
	w := &watch{dirs: dirs, skip: skip, quiet: quiet, changed: make(chan struct{}, 1)}
	events, err := fsnotify.NewWatcher()
	if err != nil {
		w.blind = true
	} else {
		w.events = events
	}
	w.look()
	return w
}

// run tells of changes until the context is done.
func (w *watch) run(ctx context.Context) {
	var told <-chan fsnotify.Event
	var lost <-chan error
	if w.events != nil {
		defer w.events.Close() //nolint:errcheck // nothing is left to lose
		told, lost = w.events.Events, w.events.Errors
	}
	every := lookover
	if w.blind {
		every = lookOft
	}
	round := time.NewTicker(every)
	defer round.Stop()
	settle := time.NewTimer(0)
	<-settle.C
	defer settle.Stop()
	var since time.Time // the first event of those being taken together
	for {
		select {
		case <-ctx.Done():
			return
		case e := <-told:
			if !w.counts(e) {
				continue
			}
			if since.IsZero() {
				since = time.Now()
			}
			settle.Reset(min(w.quiet, time.Until(since.Add(tooLong))))
		case <-lost:
			settle.Reset(w.quiet)
		case <-settle.C:
			since = time.Time{}
			w.look()
			w.tell()
		case <-round.C:
			if w.look() {
				w.tell()
			}
		}
	}
}

func (w *watch) tell() {
	select {
	case w.changed <- struct{}{}:
	default: // it is told already
	}
}

// counts tells whether an event is of a file that the site may depend on.
func (w *watch) counts(e fsnotify.Event) bool {
	if e.Op == fsnotify.Chmod {
		return false
	}
	for _, dir := range w.dirs {
		if name, err := filepath.Rel(dir, e.Name); err == nil && filepath.IsLocal(name) {
			return !w.skips(dir, name)
		}
	}
	return false
}

// skips tells whether a file, or a folder on the way to it, is not looked at.
func (w *watch) skips(dir, name string) bool {
	for at := name; at != "."; at = filepath.Dir(at) {
		if w.skip(dir, filepath.ToSlash(at)) {
			return true
		}
	}
	return false
}

// look goes over all files, has new folders watched, and tells whether anything
// is not as it was the last time. Links are not followed.
func (w *watch) look() bool {
	sum := fnv.New64a()
	for _, dir := range w.dirs {
		_ = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return nil //nolint:nilerr // it is gone again, or the reader will say what is wrong
			}
			name, err := filepath.Rel(dir, path)
			if err != nil || name != "." && w.skip(dir, filepath.ToSlash(name)) {
				return skipping(d)
			}
			if d.IsDir() {
				w.add(path)
			}
			info, err := d.Info()
			if err == nil && !d.IsDir() {
				fmt.Fprintf(sum, "%s\x00%d %d %s\n", path, info.ModTime().UnixNano(), info.Size(), info.Mode())
			}
			return nil
		})
	}
	differs := sum.Sum64() != w.last
	w.last = sum.Sum64()
	return differs
}

func skipping(d fs.DirEntry) error {
	if d.IsDir() {
		return filepath.SkipDir
	}
	return nil
}

// add has a folder watched; one that is watched already stays so.
func (w *watch) add(dir string) {
	if w.events == nil {
		return
	}
	if err := w.events.Add(dir); err != nil && !os.IsNotExist(err) {
		w.blind = true // the looks over all files see to it
	}
}

// skipped are the names that the reader of a shop folder passes over, and the
// folders in it that hold what the program itself wrote.
func skipped(site string) func(dir, name string) bool {
	return func(_, name string) bool {
		return logbook.Passing(path.Base(name)) || name == site || name == "handovers"
	}
}
