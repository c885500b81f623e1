package handover

import (
	"errors"
	"fmt"
	"os"
	"path"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// A draft is a file written beside its place, and on the disk, but not yet in
// its place.
type draft struct {
	fs         afero.Fs
	name, part string
}

// drafted writes a draft. One that a killed run left is written over.
func drafted(fs afero.Fs, name string, data []byte, perm os.FileMode) (d *draft, err error) {
	d = &draft{fs: fs, name: name, part: path.Join(path.Dir(name), "."+path.Base(name)+".part")}
	defer func() {
		if err != nil {
			err = fmt.Errorf("writing %s: %w", name, err)
			d.drop()
		}
	}()
	if err := fs.Remove(d.part); err != nil && !errors.Is(err, os.ErrNotExist) {
		return d, err
	}
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

// drop clears a draft away. That it fails changes nothing: the next run writes
// over it.
func (d *draft) drop() { _ = d.fs.Remove(d.part) }

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
