package output

import (
	"errors"
	"fmt"
	"reflect"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// lockRetry is how long to wait between two tries to get the lock.
const lockRetry = 20 * time.Millisecond

// lock keeps other runs away from the site, and waits that long for one that is
// at work there. A disk has a lock of its own (rooted.Locker), which dies with the
// process. Any other file system, such as one in memory, is taken for one that
// only this process can see; there the lock is this process's own.
func lock(fsys afero.Fs, name string, wait time.Duration) (release func() error, err error) {
	try := func() (func() error, error) { return lockHere(fsys, name) }
	if locker, ok := fsys.(rooted.Locker); ok {
		try = func() (func() error, error) { return locker.Lock(name) }
	}
	for until := time.Now().Add(wait); ; time.Sleep(lockRetry) {
		release, err = try()
		switch {
		case err == nil:
			return release, nil
		case !errors.Is(err, rooted.ErrLocked):
			return nil, fmt.Errorf("cannot write beside the site: %w", err)
		case time.Now().After(until):
			return nil, fmt.Errorf("%w (%w)", ErrAtWork, err)
		}
	}
}

// A memoryLock is one site in memory that a run of this process has in hand.
type memoryLock struct {
	fsys afero.Fs
	name string
}

var memoryLocks sync.Map // of memoryLock

func lockHere(fsys afero.Fs, name string) (release func() error, err error) {
	l := memoryLock{fsys, name}
	if !reflect.ValueOf(fsys).Comparable() {
		l.fsys = nil // held for all such file systems: too much rather than too little
	}
	if _, held := memoryLocks.LoadOrStore(l, struct{}{}); held {
		return nil, rooted.ErrLocked
	}
	return func() error { memoryLocks.Delete(l); return nil }, nil
}
