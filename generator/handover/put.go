package handover

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"sync"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// A draft is a file written beside its place, and on the disk, but not yet in
// its place.
type draft struct {
	fs         afero.Fs
	name, part string
	placed     bool // it has its place, be it that the disk may not have it yet
}

// partOf is where the draft of a file is.
func partOf(name string) string { return path.Join(path.Dir(name), "."+path.Base(name)+".part") }

// drafted writes a draft.
func drafted(fs afero.Fs, name string, data []byte, perm os.FileMode) (d *draft, err error) {
	d = &draft{fs: fs, name: name, part: partOf(name)}
	defer func() {
		if err != nil {
			err = fmt.Errorf("writing %s: %w", name, err)
			d.drop()
		}
	}()
	f, err := fs.OpenFile(d.part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return d, err
	}
	return d, rooted.WriteSynced(f, data)
}

// place puts a draft in its place in one step, and sees that the disk has it.
func (d *draft) place() error {
	if err := d.fs.Rename(d.part, d.name); err != nil {
		return fmt.Errorf("writing %s: %w", d.name, err)
	}
	d.placed = true
	return synced(d.fs, path.Dir(d.name))
}

// An InTheWay is a file that has the name of one that is to be written, and is
// another. It is never replaced.
type InTheWay struct{ File string }

func (e *InTheWay) Error() string {
	return e.File + " is there already, and is not what would be written"
}

// placeNew puts a draft in a place where nothing is, in one step, and sees that the
// disk has it. A second name for the draft is refused by the system itself where the
// name is taken; a disk without such names is looked at first, which is as good while
// no other run is at work.
func (d *draft) placeNew() error {
	if linker, ok := d.fs.(rooted.HardLinker); ok {
		err := linker.Link(d.part, d.name)
		if err == nil {
			d.drop()
			d.placed = true
			return synced(d.fs, path.Dir(d.name))
		}
		if errors.Is(err, fs.ErrExist) {
			return &InTheWay{d.name}
		}
	}
	if there, err := exists(d.fs, d.name); err != nil {
		return err
	} else if there {
		return &InTheWay{d.name}
	}
	return d.place()
}

// exists tells whether anything has a name, be it a link that leads nowhere.
func exists(shop afero.Fs, name string) (bool, error) {
	_, err := rooted.Lstat(shop, name)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("looking for %s: %w", name, err)
	}
	return true, nil
}

// written tells whether a file is there to the byte already. Anything else of that
// name is in the way.
func written(to afero.Fs, name string, data []byte) (bool, error) {
	if there, err := exists(to, name); err != nil || !there {
		return false, err
	}
	if own, err := rooted.ReadFile(to, name, int64(len(data))); err == nil && bytes.Equal(own, data) {
		return true, nil
	}
	return false, &InTheWay{name}
}

// drop clears a draft away. That it fails changes nothing: the next run clears
// it.
func (d *draft) drop() { _ = d.fs.Remove(d.part) }

// draftForm is the name of a draft. That of the note of the last report is not among
// them: it can be all that a killed run left of it, see Chain.readDraft.
var draftForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\.([a-z0-9-]+-\d{4}-\d\d-\d\d-[0-9a-f]{10,16}\.(json|html|pdf)|shop-key\.pub|[0-9a-f]{16}\.pem)\.part$`)
})

// clearDrafts clears away the drafts that killed runs left in a folder. The
// caller holds the lock, so none of them is being written.
func clearDrafts(fs afero.Fs, dir string) {
	infos, _ := afero.ReadDir(fs, dir) // it need not be there
	for _, i := range infos {
		if draftForm().MatchString(i.Name()) && i.Mode().IsRegular() {
			(&draft{fs: fs, part: path.Join(dir, i.Name())}).drop()
		}
	}
}

// lockName is the file that is locked while something is written in a folder.
const lockName = ".sealing"

// begun makes a folder ready to be written to: it is there, no other run of the
// program writes to it until release is called (on a file system that can see
// to that), and what killed runs left is gone.
func begun(fs afero.Fs, dir string, perm os.FileMode) (release func() error, err error) {
	if err := fs.MkdirAll(dir, perm); err != nil {
		return nil, fmt.Errorf("making %s: %w", dir, err)
	}
	release = func() error { return nil }
	if locker, ok := fs.(rooted.Locker); ok {
		if release, err = locker.Lock(path.Join(dir, lockName)); errors.Is(err, rooted.ErrLocked) {
			return nil, fmt.Errorf("%w (%w)", ErrAtWork, err)
		} else if err != nil {
			return nil, fmt.Errorf("writing in %s: %w", dir, err)
		}
	}
	clearDrafts(fs, dir)
	return release, nil
}

func synced(fs afero.Fs, dir string) error {
	if err := rooted.SyncDir(fs, dir); err != nil {
		return fmt.Errorf("writing in %s: %w", dir, err)
	}
	return nil
}

// putNew writes one whole file where nothing is.
func putNew(fs afero.Fs, name string, data []byte, perm os.FileMode) error {
	return putBy((*draft).placeNew, fs, name, data, perm)
}

// put writes one whole file, in place of an older one.
func put(fs afero.Fs, name string, data []byte, perm os.FileMode) error {
	return putBy((*draft).place, fs, name, data, perm)
}

func putBy(place func(*draft) error, fs afero.Fs, name string, data []byte, perm os.FileMode) error {
	d, err := drafted(fs, name, data, perm)
	if err != nil {
		return err
	}
	if err = place(d); err != nil {
		d.drop()
	}
	return err
}
