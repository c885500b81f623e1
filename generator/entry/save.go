package entry

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/portable"
	"asleft/generator/rooted"
)

// What can stand in the way of a new file.
var (
	// ErrTaken: a file of that name is there, and is as it was.
	ErrTaken = errors.New("a file of that name is there already")
	// ErrBusy: somebody else has been writing in the shop folder all the while.
	ErrBusy = errors.New("somebody else is writing in the shop folder")
	// ErrChanged: what was written is not what stands there now, for another
	// program, such as a drive's sync, wrote at the same moment.
	ErrChanged = errors.New("another program wrote to this file at the same moment")
)

// New writes a new file of the shop folder, whole or not at all. A file of that
// name, in small or capital letters, is never replaced: that is ErrTaken.
func New(folder afero.Fs, name string, data []byte) error {
	return locked(folder, func() error {
		dir := path.Dir(name)
		there, err := afero.DirExists(folder, dir)
		if err != nil {
			return fmt.Errorf("cannot look for the folder %s: %w", dir, err)
		}
		err = placeNew(folder, name, data)
		if err != nil && !there {
			_ = folder.Remove(dir) // an empty folder of ours; if it stays, inspect tells
		}
		return err
	})
}

func placeNew(folder afero.Fs, name string, data []byte) error {
	if err := makeDir(folder, path.Dir(name)); err != nil {
		return err
	}
	clearAside(folder, path.Dir(name))
	names, err := namesIn(folder, path.Dir(name))
	if err != nil {
		return err
	}
	if names[portable.Fold(path.Base(name))] {
		return fmt.Errorf("%s: %w", name, ErrTaken)
	}
	return place(folder, name, data)
}

// NewEntry writes a log entry of a machine under its own name, or the next free
// one: DATE-slug.md, DATE-slug-2.md. It returns the name in the shop folder.
// The machine's folder has to be there.
func NewEntry(folder afero.Fs, key, stem string, data []byte) (name string, err error) {
	err = locked(folder, func() error {
		clearAside(folder, dirOf(key), photosOf(key))
		name, err = nextFree(folder, dirOf(key), stem, ".md", data)
		return err
	})
	return name, err
}

// Replace writes a file of the shop folder in place of the one that is there, if any,
// whole or not at all; check, if given, sees what is there (nil for no file) while nobody
// else of the program writes, and what it returns stops it.
func Replace(folder afero.Fs, name string, data []byte, check func(there []byte) error) error {
	return locked(folder, func() (err error) {
		if check != nil {
			there, err := afero.ReadFile(folder, name)
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("cannot read %s: %w", name, err)
			}
			if err := check(there); err != nil {
				return err
			}
		}
		if err := makeDir(folder, path.Dir(name)); err != nil {
			return err
		}
		clearAside(folder, path.Dir(name))
		aside, err := writeAside(folder, path.Dir(name), data)
		if err != nil {
			return fmt.Errorf("cannot write %s: %w", name, err)
		}
		if err := folder.Rename(aside, name); err != nil {
			return fmt.Errorf("cannot write %s: %w", name, errors.Join(err, folder.Remove(aside)))
		}
		if err := rooted.SyncDir(folder, path.Dir(name)); err != nil {
			return fmt.Errorf("the disk did not take the name of %s: %w", name, err)
		}
		return nil
	})
}

// mostTries bounds the search for a free name.
const mostTries = 10_000

// nextFree places a file under the first free name. The caller holds the lock;
// a program that knows of no lock can still be first, and then the next is
// tried.
func nextFree(folder afero.Fs, dir, stem, ending string, data []byte) (string, error) {
	names, err := namesIn(folder, dir)
	if err != nil {
		return "", err
	}
	for n := 1; n <= mostTries; n++ {
		base := stem + ending
		if n > 1 {
			base = stem + "-" + strconv.Itoa(n) + ending
		}
		if names[portable.Fold(base)] {
			continue
		}
		name := path.Join(dir, base)
		if err := place(folder, name, data); !errors.Is(err, ErrTaken) {
			return name, err
		}
	}
	return "", fmt.Errorf("%s: %w", path.Join(dir, stem+ending), ErrTaken)
}

// namesIn are the names in a folder, folded: two that differ in capitals only are
// one file on some systems.
func namesIn(folder afero.Fs, dir string) (map[string]bool, error) {
	infos, err := afero.ReadDir(folder, dir)
	if err != nil {
		return nil, fmt.Errorf("cannot read the folder %s: %w", dir, err)
	}
	names := map[string]bool{}
	for _, i := range infos {
		names[portable.Fold(i.Name())] = true
	}
	return names, nil
}

func makeDir(folder afero.Fs, dir string) error {
	if err := folder.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s: %w", dir, err)
	}
	return nil
}

// asideForm is the name of a file that is written aside.
var asideForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\.asleft-[0-9a-f]{16}$`) })

// clearAside removes what a run that was killed had written aside in folders, and the
// empty file with which it had taken a name on a disk without second names (give).
// The caller holds the lock, so nobody is writing there now. That it fails
// changes nothing: the next run tries again.
func clearAside(folder afero.Fs, dirs ...string) {
	for _, dir := range dirs {
		infos, _ := afero.ReadDir(folder, dir) // it need not be there
		var left []fs.FileInfo
		for _, i := range infos {
			if asideForm().MatchString(i.Name()) && i.Mode().IsRegular() {
				left = append(left, i)
			}
		}
		for _, i := range infos {
			taken := i.Mode().IsRegular() && i.Size() == 0 && !strings.HasPrefix(i.Name(), ".") &&
				slices.ContainsFunc(left, func(aside fs.FileInfo) bool {
					after := i.ModTime().Sub(aside.ModTime())
					return after.Abs() <= claimedWithin
				})
			if taken {
				_ = folder.Remove(path.Join(dir, i.Name()))
			}
		}
		for _, i := range left {
			_ = folder.Remove(path.Join(dir, i.Name()))
		}
	}
}

// claimedWithin is how far apart the times of a file written aside and of the name taken
// for it may lie: the moment in between, and the two seconds that the clocks of old
// disks go by.
const claimedWithin = 10 * time.Second

// place writes a file aside, waits for the disk to have it, and gives it its
// name in one step that fails where there is a file of that name.
func place(folder afero.Fs, name string, data []byte) (err error) {
	aside, err := writeAside(folder, path.Dir(name), data)
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", name, err)
	}
	defer func() {
		if e := folder.Remove(aside); e != nil && !errors.Is(e, fs.ErrNotExist) {
			err = errors.Join(err, fmt.Errorf("cannot clear up beside %s: %w", name, e))
		}
	}()
	if err := give(folder, aside, name); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s: %w", name, ErrTaken)
		}
		return fmt.Errorf("cannot write %s: %w", name, err)
	}
	if err := rooted.SyncDir(folder, path.Dir(name)); err != nil {
		return fmt.Errorf("the disk did not take the name of %s: %w", name, err)
	}
	if there, err := afero.ReadFile(folder, name); err != nil || !bytes.Equal(there, data) {
		return fmt.Errorf("%s: %w", name, errors.Join(ErrChanged, err))
	}
	return nil
}

// give gives the file aside its name. A second name for one file is refused by
// the system where that name is taken. A disk that knows no second names, as
// the ones of cameras and some sync drives, has the name taken by an empty file
// first, which only its maker replaces.
func give(folder afero.Fs, aside, name string) error {
	if linker, ok := folder.(rooted.HardLinker); ok {
		if err := linker.Link(aside, name); err == nil || errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	f, err := folder.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return errors.Join(err, folder.Remove(name))
	}
	if err := folder.Rename(aside, name); err != nil {
		return errors.Join(err, folder.Remove(name))
	}
	return nil
}

// writeAside writes a hidden file, which no reader of the shop folder looks at.
func writeAside(folder afero.Fs, dir string, data []byte) (name string, err error) {
	var random [8]byte
	if _, err := rand.Read(random[:]); err != nil {
		return "", err
	}
	name = path.Join(dir, ".asleft-"+hex.EncodeToString(random[:]))
	f, err := folder.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return "", err
	}
	if err = rooted.WriteSynced(f, data); err != nil {
		return "", errors.Join(err, folder.Remove(name))
	}
	return name, nil
}

// lockName is the file that is locked while something is written; hidden, so no
// reader of the shop folder looks at it.
const lockName = ".asleft-writing"

// patience is how long a writer waits for another one, who needs milliseconds;
// pause is how long between two looks.
var patience = 10 * time.Second

const pause = 20 * time.Millisecond

// inMemory is the lock of file systems that only this process can see.
var inMemory sync.Mutex

// locked does something while nobody else of the program writes in the folder.
func locked(folder afero.Fs, do func() error) (err error) {
	locker, ok := folder.(rooted.Locker)
	if !ok {
		inMemory.Lock()
		defer inMemory.Unlock()
		return do()
	}
	release, err := locker.Lock(lockName)
	for until := time.Now().Add(patience); errors.Is(err, rooted.ErrLocked); release, err = locker.Lock(lockName) {
		if time.Now().After(until) {
			return fmt.Errorf("%w (%w)", ErrBusy, err)
		}
		time.Sleep(pause)
	}
	if err != nil {
		return fmt.Errorf("cannot write in the shop folder: %w", err)
	}
	defer func() { err = errors.Join(err, release()) }()
	return do()
}
