package preview

import (
	"context"
	"os"
	"path"
	"path/filepath"
	"time"

	"github.com/fsnotify/fsnotify"

	"asleft/generator/logbook"
	"asleft/generator/output"
	"asleft/generator/rooted"
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
	last    []output.Snapshot // what was seen at the last look over all files, by dir
	quiet   time.Duration     // how long nothing has to happen for a save to be over
	stirred chan struct{}     // something happened to a file that counts, or the system lost what did
	changed chan struct{}
}

// newWatch watches the folders and all below them. What skip names, by its path
// from the folder, is not looked at.
func newWatch(dirs []string, quiet time.Duration, skip func(dir, name string) bool) *watch {
	w := &watch{dirs: dirs, last: make([]output.Snapshot, len(dirs)), skip: skip, quiet: quiet, stirred: make(chan struct{}, 1), changed: make(chan struct{}, 1)}
	events, err := fsnotify.NewWatcher()
	if err != nil {
		w.blind = true
	} else {
		w.events = events
		w.listen()
	}
	w.look()
	return w
}

// listen takes what the system tells, at any moment: on Windows a folder cannot be
// watched, nor the watching ended, while what was told before waits to be taken. It
// ends when the watching does.
func (w *watch) listen() {
	go func() {
		for e := range w.events.Events {
			if w.counts(e) {
				hint(w.stirred)
			}
		}
	}()
	go func() {
		for range w.events.Errors {
			hint(w.stirred)
		}
	}()
}

// close ends the watching. It does not wait for ever: where the system tells of a
// fault at that moment, Windows' watcher forgets to answer.
func (w *watch) close() {
	if w.events == nil {
		return
	}
	closed := make(chan struct{})
	go func() {
		defer close(closed)
		_ = w.events.Close() // nothing is left to lose
	}()
	select {
	case <-closed:
	case <-time.After(time.Second):
	}
}

// hint leaves word, unless word is there already.
func hint(c chan<- struct{}) {
	select {
	case c <- struct{}{}:
	default:
	}
}

// run tells of changes until the context is done.
func (w *watch) run(ctx context.Context) {
	defer w.close()
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
		case <-w.stirred:
			if since.IsZero() {
				since = time.Now()
			}
			settle.Reset(min(w.quiet, time.Until(since.Add(tooLong))))
		case <-settle.C:
			since = time.Time{}
			w.look()
			hint(w.changed)
		case <-round.C:
			if w.look() {
				hint(w.changed)
			}
		}
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
func (w *watch) look() (differs bool) {
	for n, dir := range w.dirs {
		now := w.snapshot(dir)
		w.add(dir)
		for _, f := range now.Files() {
			if f.Mode.IsDir() {
				w.add(filepath.Join(dir, filepath.FromSlash(f.Path)))
			}
		}
		differs = differs || len(now.Changed(w.last[n], func(string) bool { return false })) > 0
		w.last[n] = now
	}
	return differs
}

// snapshot is what a folder looks like; one that is gone, or cannot be looked at,
// is empty: the reader will say what is wrong.
func (w *watch) snapshot(dir string) output.Snapshot {
	folder, err := rooted.Open(dir)
	if err != nil {
		return output.Snapshot{}
	}
	defer folder.Close() //nolint:errcheck // it was only read
	s, _ := output.TakeSnapshot(folder, ".", func(name string) bool { return w.skip(dir, name) })
	return s
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
