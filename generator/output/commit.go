package output

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/afero"
	"golang.org/x/sync/errgroup"

	"asleft/generator/rooted"
)

// Commit makes the site what was put and kept, and ends the run. If the set of
// files is the one that stands there, nothing on the disk is changed. On an error
// the present site stays as it is, save for an error that is ErrUnfinished.
func (w *Writer) Commit() (Result, error) {
	w.use.Lock()
	defer w.use.Unlock()
	if w.over {
		return Result{}, refuse(sayOver)
	}
	result, err := w.commit()
	return result, errors.Join(err, w.close())
}

func (w *Writer) commit() (Result, error) {
	if w.failed != nil {
		return Result{}, fmt.Errorf(sayIncomplete, w.failed)
	}
	if len(w.files) == 0 {
		return Result{}, refuse(sayNothing)
	}
	fresh, gone := w.fresh(), w.gone()
	w.changed = slices.Concat(fresh, gone)
	result := Result{Files: len(w.files), Written: len(fresh), Kept: len(w.files) - len(fresh), Removed: len(gone)}
	for _, f := range w.files {
		result.Bytes += f.size
	}
	if len(fresh)+len(gone) == 0 && w.head == manifestHead && !exists(w.fsys, w.at.earlierList) {
		return result, nil
	}
	if err := w.checkWay(fresh); err != nil {
		return Result{}, err
	}
	if err := w.flush(fresh); err != nil {
		return Result{}, fmt.Errorf("the disk did not take the new pages: %w", err)
	}
	if err := w.announce(fresh); err != nil {
		return Result{}, fmt.Errorf("cannot write %s: %w", w.at.manifest, err)
	}
	if err := w.finish(fresh, gone); err != nil {
		return result, fmt.Errorf("%w: %w", ErrUnfinished, err)
	}
	return result, nil
}

// Changed names, after Commit, the files that were written or removed.
func (w *Writer) Changed() []string { return w.changed }

// fresh are the paths of the files that are new or different, in the order in
// which they are put in place.
func (w *Writer) fresh() []string {
	var all []string
	for p, f := range w.files {
		if f.temporary != "" {
			all = append(all, p)
		}
	}
	turn := func(p string) int {
		_, there := w.present[p]
		return Turn(p, there)
	}
	slices.SortFunc(all, func(a, b string) int {
		return cmp.Or(cmp.Compare(turn(a), turn(b)), strings.Compare(a, b))
	})
	return all
}

// gone are the paths of the files that the new site has no more.
func (w *Writer) gone() []string {
	var all []string
	for p := range w.present {
		if w.files[p] == nil {
			all = append(all, p)
		}
	}
	slices.Sort(all)
	return all
}

// checkWay refuses what is not the program's where a new file, or a folder of one,
// has to go. What it is to remove is in the way too: no page of a site becomes a
// folder.
func (w *Writer) checkWay(fresh []string) error {
	looked := map[string]bool{}
	for _, p := range fresh {
		for _, dir := range slices.Backward(above(p)) {
			if looked[dir] {
				continue
			}
			looked[dir] = true
			info, err := rooted.Lstat(w.fsys, path.Join(w.at.site, dir))
			if err == nil && !info.IsDir() {
				return refuse(sayInTheWay, path.Join(w.at.site, dir), p)
			}
		}
		info, err := rooted.Lstat(w.fsys, path.Join(w.at.site, p))
		_, ours := w.present[p]
		switch {
		case err == nil && (info.IsDir() || !ours):
			return refuse(sayInTheWay, path.Join(w.at.site, p), p)
		case err == nil && runtime.GOOS == "windows" && info.Mode().Perm()&0o200 == 0:
			// It could not be replaced, and by then others would be.
			return fmt.Errorf("cannot put %s in place: %w", path.Join(w.at.site, p), rooted.ErrReadOnly)
		case err != nil && !errors.Is(err, fs.ErrNotExist):
			return fmt.Errorf("cannot look at %s: %w", path.Join(w.at.site, p), err)
		}
	}
	return nil
}

// syncLimit is up to how many new files are synced one by one where the disk
// cannot be flushed as a whole.
const syncLimit = 256

// flush has the disk hold the temporary files before they are put in place. A
// killed program loses nothing that it wrote, so this is for power cuts only: on
// Linux one syncfs(2). Elsewhere each file has to be synced by itself, right for an
// evening's edit and too slow for ten thousand pages; should the power fail in the
// seconds after those, the next run finds the damaged ones by their digests.
func (w *Writer) flush(fresh []string) error {
	if f, ok := w.fsys.(rooted.Flusher); ok {
		if err := f.Flush(); !errors.Is(err, errors.ErrUnsupported) {
			return err
		}
	}
	if len(fresh) > syncLimit {
		return nil
	}
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for _, p := range fresh {
		work.Go(func() error {
			f, err := w.fsys.OpenFile(w.files[p].temporary, os.O_RDWR, 0)
			if err != nil {
				return err
			}
			return errors.Join(f.Sync(), f.Close())
		})
	}
	return work.Wait()
}

// announce writes down, before the first file is put in place, that the site is
// unfinished, and which names are the program's own from now on: all that the site
// has, and all that it will have. Of a page that changes it keeps the old fingerprint.
func (w *Writer) announce(fresh []string) error {
	all := manifest{}
	for _, p := range fresh {
		all[p] = w.files[p].fingerprint
	}
	maps.Copy(all, w.present)
	return replaceFile(w.fsys, w.at.manifest, all.text(unfinishedHead), 0o644)
}

// finish puts the new files in place, removes what is gone and writes the manifest.
func (w *Writer) finish(fresh, gone []string) error {
	made := map[string]bool{}
	for _, p := range fresh {
		name := path.Join(w.at.site, p)
		if dir := path.Dir(name); !made[dir] {
			if err := w.fsys.MkdirAll(dir, 0o755); err != nil {
				return fmt.Errorf("cannot make the folder %s: %w", dir, err)
			}
			made[dir] = true
		}
		if err := w.fsys.Rename(w.files[p].temporary, name); err != nil {
			return fmt.Errorf("cannot put %s in place: %w", name, err)
		}
	}
	if err := removeFiles(w.fsys, w.at.site, gone); err != nil {
		return err
	}
	if err := w.clearEarlier(); err != nil {
		return err
	}
	all := manifest{}
	for p, f := range w.files {
		all[p] = f.fingerprint
	}
	if err := replaceFile(w.fsys, w.at.manifest, all.text(manifestHead), 0o644); err != nil {
		return fmt.Errorf("cannot write %s: %w", w.at.manifest, err)
	}
	return nil
}

// removeFiles removes files of a folder, and the folders that are empty then.
// What has become a folder, or lies behind a link, is somebody else's.
func removeFiles(fsys afero.Fs, top string, files []string) error {
	dirs := map[string]bool{} // whether they are folders
	for _, p := range files {
		inside, err := areFolders(fsys, top, above(p), dirs)
		if err != nil {
			return fmt.Errorf("cannot look at %s: %w", path.Join(top, p), err)
		}
		if !inside {
			continue
		}
		name := path.Join(top, p)
		info, err := rooted.Lstat(fsys, name)
		if err == nil && !info.IsDir() {
			err = fsys.Remove(name)
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("cannot remove %s: %w", name, err)
		}
	}
	for _, dir := range slices.Backward(slices.Sorted(maps.Keys(dirs))) { // the inner ones first
		if !dirs[dir] {
			continue
		}
		name := path.Join(top, dir)
		infos, err := afero.ReadDir(fsys, name)
		if err == nil && len(infos) == 0 {
			err = fsys.Remove(name)
		}
		if err != nil {
			return fmt.Errorf("cannot remove %s: %w", name, err)
		}
	}
	return nil
}

// areFolders tells whether all of these are folders, and no links to such; known
// are those that were looked at already.
func areFolders(fsys afero.Fs, top string, dirs []string, known map[string]bool) (bool, error) {
	for _, dir := range slices.Backward(dirs) {
		is, looked := known[dir]
		if !looked {
			info, err := rooted.Lstat(fsys, path.Join(top, dir))
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return is, err
			}
			is = err == nil && info.IsDir()
			known[dir] = is
		}
		if !is {
			return false, nil
		}
	}
	return true, nil
}

// clearEarlier removes what earlier versions kept in the site's folder and beside
// it. Of a site that one of them had set aside, what is not the program's stays.
func (w *Writer) clearEarlier() error {
	if !exists(w.fsys, w.at.earlierList) {
		return nil
	}
	old, _, err := readManifest(w.fsys, path.Join(w.at.earlierOld, earlierName))
	if err == nil {
		err = removeFiles(w.fsys, w.at.earlierOld, append(slices.Collect(maps.Keys(old)), earlierName))
		if infos, e := afero.ReadDir(w.fsys, w.at.earlierOld); e == nil && len(infos) == 0 {
			err = errors.Join(err, removeAll(w.fsys, w.at.earlierOld))
		}
	}
	for _, name := range []string{w.at.earlierSpare, w.at.earlierCache, w.at.earlierList} {
		err = errors.Join(err, removeAll(w.fsys, name))
	}
	return err
}
