package handover

import (
	"errors"
	"fmt"
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
}

// drafted writes a draft.
func drafted(fs afero.Fs, name string, data []byte, perm os.FileMode) (d *draft, err error) {
	d = &draft{fs: fs, name: name, part: path.Join(path.Dir(name), "."+path.Base(name)+".part")}
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
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return d, errors.Join(err, f.Close())
}

// place puts a draft in its place in one step, and sees that the disk has it.
func (d *draft) place() error {
	if err := d.fs.Rename(d.part, d.name); err != nil {
		return fmt.Errorf("writing %s: %w", d.name, err)
	}
	return synced(d.fs, path.Dir(d.name))
}

// drop clears a draft away. That it fails changes nothing: the next run clears
// it.
func (d *draft) drop() { _ = d.fs.Remove(d.part) }

// draftForm is the name of a draft.
var draftForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\.([a-z0-9-]+-\d{4}-\d\d-\d\d-[0-9a-f]{10}\.(json|html|pdf)|last-sealed\.json|shop-key\.pub|[0-9a-f]{16}\.pem)\.part$`)
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
	syncer, ok := fs.(rooted.DirSyncer)
	if !ok {
		return nil
	}
	if err := syncer.SyncDir(dir); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		return fmt.Errorf("writing in %s: %w", dir, err)
	}
	return nil
}

// put writes one whole file.
func put(fs afero.Fs, name string, data []byte, perm os.FileMode) error {
	d, err := drafted(fs, name, data, perm)
	if err != nil {
		return err
	}
	if err := d.place(); err != nil {
		d.drop()
		return err
	}
	return nil
}
