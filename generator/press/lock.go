package press

import (
	"errors"
	"fmt"
	"reflect"
	"sync"

	"asleft/generator/rooted"

	"github.com/spf13/afero"
)

// lock keeps a second run away from the site. A disk has a lock of its own
// (rooted.Locker), which dies with the process. Any other file system, such as
// one in memory, is taken for one that only this process can see; there the
// lock is this process's own.
func lock(fsys afero.Fs, name string) (release func() error, err error) {
	locker, ok := fsys.(rooted.Locker)
	if !ok {
		return lockHere(fsys, name)
	}
	release, err = locker.Lock(name)
	if errors.Is(err, rooted.ErrLocked) {
		return nil, fmt.Errorf("%w (%w)", ErrAtWork, err)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot write beside the site: %w", err)
	}
	return release, nil
}

// A hold is one site in memory that a run of this process has in hand.
type hold struct {
	fsys afero.Fs
	name string
}

var holds sync.Map // of hold

func lockHere(fsys afero.Fs, name string) (release func() error, err error) {
	h := hold{fsys, name}
	if !reflect.ValueOf(fsys).Comparable() {
		h.fsys = nil // held for all such file systems: too much rather than too little
	}
	if _, held := holds.LoadOrStore(h, true); held {
		return nil, ErrAtWork
	}
	return func() error { holds.Delete(h); return nil }, nil
}
