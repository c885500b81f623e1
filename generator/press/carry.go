package press

import (
	"errors"
	"fmt"
	"io/fs"
	"path"

	"asleft/generator/rooted"

	"github.com/spf13/afero"
)

// carryOver brings into the staging folder what the new site takes from the
// present one: kept files, and all that the press did not make.
func (r *Run) carryOver() error {
	items, err := r.stays()
	if err != nil {
		return err
	}
	for _, it := range items {
		dir := path.Dir(it.path)
		if it.mode.IsDir() {
			dir = it.path
		}
		if err := r.stageDir(dir); err != nil {
			return fmt.Errorf("cannot make the folder %s beside the site: %w", dir, err)
		}
	}
	err = parallel(len(items), func(i int) error { return r.bring(items[i]) })
	if err != nil {
		return err
	}
	return r.dress(items)
}

// stays lists what the new site takes from the present one, and refuses what
// stands in the way of it.
func (r *Run) stays() ([]item, error) {
	if _, err := lstat(r.fsys, r.at.site); errors.Is(err, fs.ErrNotExist) && r.count().Kept == 0 {
		return nil, nil
	}
	all, err := walk(r.fsys, r.at.site)
	if err != nil {
		return nil, fmt.Errorf("cannot look through %s: %w", r.at.site, err)
	}
	var stays []item
	seen := map[string]bool{}
	for _, it := range all {
		f := r.files[it.path]
		switch {
		case r.isForeign(it):
			if err := r.checkWay(it); err != nil {
				return nil, err
			}
			stays = append(stays, it)
		case f.kept && !it.mode.IsDir():
			if !it.mode.IsRegular() || it.size != f.size || !it.written.Equal(f.written) {
				return nil, refuse(sayChanged, path.Join(r.at.site, it.path))
			}
			stays = append(stays, it)
			seen[it.path] = true
		}
	}
	for p, f := range r.files {
		if f.kept && !seen[p] {
			return nil, refuse(sayChanged, path.Join(r.at.site, p))
		}
	}
	return stays, nil
}

// isForeign says whether something in the present site is not the press's.
func (r *Run) isForeign(it item) bool {
	if it.mode.IsDir() {
		return !r.ours[it.path]
	}
	_, listed := r.present[it.path]
	return !listed && it.path != ledgerName
}

// checkWay refuses a foreign item where a file of the new site, or a folder of
// one, has to go.
func (r *Run) checkWay(it item) error {
	was, taken := r.claims[folded(it.path)]
	if taken && !(it.mode.IsDir() && was.path != was.file) {
		return refuse(saySurprise, path.Join(r.at.site, it.path), was.file)
	}
	for _, dir := range above(it.path) {
		if was := r.claims[folded(dir)]; was.path != "" && was.path == was.file {
			return refuse(saySurprise, path.Join(r.at.site, it.path), was.file)
		}
	}
	return nil
}

// bring puts one item into the staging folder: as a second name of the same
// file where that can be, else as a copy with the same mode and time.
func (r *Run) bring(it item) error {
	if it.mode.IsDir() {
		return nil
	}
	from, to := path.Join(r.at.site, it.path), path.Join(r.at.staging, it.path)
	if l, ok := r.fsys.(rooted.HardLinker); ok && l.Link(from, to) == nil {
		return nil // what cannot be linked, whatever the reason, may yet be copied
	}
	var err error
	switch {
	case it.mode.IsRegular():
		err = copyFile(r.fsys, from, to, it)
	case it.mode&fs.ModeSymlink != 0:
		err = copyLink(r.fsys, from, to)
	default:
		return refuse(sayNoCarry, it.path)
	}
	if err != nil {
		return fmt.Errorf("cannot carry over %s: %w", from, err)
	}
	return nil
}

func copyFile(fsys afero.Fs, from, to string, it item) (err error) {
	f, err := fsys.Open(from)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if _, err := writeNew(fsys, to, f, false); err != nil {
		return err
	}
	return setLooks(fsys, to, it)
}

func setLooks(fsys afero.Fs, name string, it item) error {
	if err := fsys.Chmod(name, it.mode.Perm()); err != nil {
		return err
	}
	return fsys.Chtimes(name, it.written, it.written)
}

func copyLink(fsys afero.Fs, from, to string) error {
	links, ok := fsys.(afero.Symlinker)
	if !ok {
		return afero.ErrNoSymlink
	}
	target, err := links.ReadlinkIfPossible(from)
	if err != nil {
		return err
	}
	return links.SymlinkIfPossible(target, to)
}

// dress gives the foreign folders their mode and time back, the inner ones
// first, since filling a folder changes its time; and the top its mode.
func (r *Run) dress(items []item) error {
	for i := len(items) - 1; i >= 0; i-- {
		if !items[i].mode.IsDir() {
			continue
		}
		if err := setLooks(r.fsys, path.Join(r.at.staging, items[i].path), items[i]); err != nil {
			return fmt.Errorf("cannot carry over the folder %s: %w", items[i].path, err)
		}
	}
	info, err := lstat(r.fsys, r.at.site)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil {
		err = r.fsys.Chmod(r.at.staging, info.Mode().Perm())
	}
	if err != nil {
		return fmt.Errorf("cannot carry over the mode of %s: %w", r.at.site, err)
	}
	return nil
}
