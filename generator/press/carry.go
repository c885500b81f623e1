package press

import (
	"errors"
	"fmt"
	"io/fs"
	"path"

	"asleft/generator/rooted"

	"github.com/spf13/afero"
)

// carryOver brings into a folder beside the site what the new site takes from
// the present one, but for what is there already.
func (r *Run) carryOver(into string, items []rooted.Mark, there map[string]bool) error {
	made := map[string]bool{}
	var missing []rooted.Mark
	for _, it := range items {
		if there[it.Path] {
			continue
		}
		dir := it.Path
		if !it.Mode.IsDir() {
			missing = append(missing, it)
			dir = path.Dir(it.Path)
		}
		if there[dir] {
			continue
		}
		if err := r.makeOnce(into, dir, made); err != nil {
			return err
		}
	}
	return parallel(len(missing), func(i int) error { return r.bring(into, missing[i]) })
}

// makeOnce makes a folder below one beside the site, if it is not among those
// that were made.
func (r *Run) makeOnce(into, dir string, made map[string]bool) error {
	if made[dir] {
		return nil
	}
	if err := r.fsys.MkdirAll(path.Join(into, dir), 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s beside the site: %w", dir, err)
	}
	made[dir] = true
	return nil
}

// stays lists what the new site takes from the present one, and refuses what
// stands in the way of it.
func (r *Run) stays() ([]rooted.Mark, error) {
	if _, err := lstat(r.fsys, r.at.site); errors.Is(err, fs.ErrNotExist) && r.count().Kept == 0 {
		return nil, nil
	}
	all, err := walk(r.fsys, r.at.site)
	if err != nil {
		return nil, fmt.Errorf("cannot look through %s: %w", r.at.site, err)
	}
	var stays []rooted.Mark
	seen := map[string]bool{}
	for _, it := range all {
		f := r.files[it.Path]
		switch {
		case r.isForeign(it):
			if err := r.checkWay(it); err != nil {
				return nil, err
			}
			stays = append(stays, it)
		case f.kept && !it.Mode.IsDir():
			if !it.Mode.IsRegular() || it.Size != f.size || !writtenAt(it).Equal(f.written) {
				return nil, refuse(sayChanged, path.Join(r.at.site, it.Path))
			}
			stays = append(stays, it)
			seen[it.Path] = true
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
func (r *Run) isForeign(it rooted.Mark) bool {
	if it.Mode.IsDir() {
		return !r.ours[it.Path]
	}
	_, listed := r.present[it.Path]
	return !listed && it.Path != ledgerName
}

// checkWay refuses a foreign item where a file of the new site, or a folder of
// one, has to go.
func (r *Run) checkWay(it rooted.Mark) error {
	was, taken := r.claims[folded(it.Path)]
	if taken && !(it.Mode.IsDir() && was.path != was.file) {
		return refuse(saySurprise, path.Join(r.at.site, it.Path), was.file)
	}
	for _, dir := range above(it.Path) {
		if was := r.claims[folded(dir)]; was.path != "" && was.path == was.file {
			return refuse(saySurprise, path.Join(r.at.site, it.Path), was.file)
		}
	}
	return nil
}

// bring puts one file or link into a folder beside the site: as a second name of
// the same file where that can be, else as a copy with the same mode and time.
func (r *Run) bring(into string, it rooted.Mark) error {
	from, to := path.Join(r.at.site, it.Path), path.Join(into, it.Path)
	if l, ok := r.fsys.(rooted.HardLinker); ok && l.Link(from, to) == nil {
		return nil // what cannot be linked, whatever the reason, may yet be copied
	}
	var err error
	switch {
	case it.Mode.IsRegular():
		r.copied.Store(true)
		err = copyFile(r.fsys, from, to, it)
	case it.Mode&fs.ModeSymlink != 0:
		err = copyLink(r.fsys, from, to)
	default:
		return refuse(sayNoCarry, it.Path)
	}
	if err != nil {
		return fmt.Errorf("cannot carry over %s: %w", from, err)
	}
	return nil
}

func copyFile(fsys afero.Fs, from, to string, it rooted.Mark) (err error) {
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

func setLooks(fsys afero.Fs, name string, it rooted.Mark) error {
	if err := fsys.Chmod(name, it.Mode.Perm()); err != nil {
		return err
	}
	return fsys.Chtimes(name, writtenAt(it), writtenAt(it))
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
func (r *Run) dress(items []rooted.Mark) error {
	for i := len(items) - 1; i >= 0; i-- {
		if !items[i].Mode.IsDir() {
			continue
		}
		if err := setLooks(r.fsys, path.Join(r.at.staging, items[i].Path), items[i]); err != nil {
			return fmt.Errorf("cannot carry over the folder %s: %w", items[i].Path, err)
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
