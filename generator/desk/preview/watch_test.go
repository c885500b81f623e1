package preview

import (
	"errors"
	"path/filepath"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"
)

// On Windows the watcher of a removed folder tells of a fault, and watches no other
// folder until that is taken: who looks over all files is not there to take it.
func TestTakesWhatTheSystemTellsWhileItLooks(t *testing.T) {
	dir := newShop(t)
	w := newWatch([]string{dir}, aSave, skipped("site"))
	if w.events == nil {
		t.Fatal("this system gives no watcher")
	}
	defer w.close()
	taken := make(chan struct{})
	go func() {
		defer close(taken)
		for range 200 { // more than any buffer holds; nothing runs the watch
			w.events.Errors <- errors.New("a folder is gone")
			w.events.Events <- fsnotify.Event{Name: filepath.Join(dir, "shop.md"), Op: fsnotify.Write}
		}
	}()
	select {
	case <-taken:
	case <-time.After(time.Minute):
		t.Fatal("what the system tells waits for a look that may be waiting for it")
	}
	select {
	case <-w.stirred:
	default:
		t.Error("no word was left that something happened")
	}
}
