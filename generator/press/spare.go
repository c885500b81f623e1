package press

import (
	"fmt"
	"path"

	"asleft/generator/rooted"

	"github.com/spf13/afero"
)

// The spare is a large site once more, by second names of the same files: a
// hidden folder beside it (.site-asleft-spare). The next run puts in it what is
// new and makes it the site, and so does the work of what has changed, where it
// would otherwise give every file a second name and take the first ones away.
//
// Nothing in it is believed. What stays there is what is the very file that the
// site has, by its number on the disk and all its times; anything else goes.

// spareFrom is from how many files on a site is worth a spare. The names of fewer
// are made anew before anybody notices.
var spareFrom = 1000

// readySpare brings the spare to hold just what the new site takes from the
// present one. It is false where there is none, and where anything stands in the
// way: then the spare is gone.
func (r *Run) readySpare(items []rooted.Mark) bool {
	info, err := lstat(r.fsys, r.at.spare)
	if err != nil {
		return false
	}
	if info.IsDir() && r.fillSpare(items) == nil {
		return true
	}
	_ = removeTree(r.fsys, r.at.spare) // it would only have saved time
	return false
}

func (r *Run) fillSpare(items []rooted.Mark) error {
	all, err := walk(r.fsys, r.at.spare)
	if err != nil {
		return err
	}
	want := make(map[string]rooted.Mark, len(items))
	for _, it := range items {
		want[it.Path] = it
	}
	folders := r.ledger().folders()
	there := make(map[string]bool, len(all))
	err = prune(r.fsys, r.at.spare, all, func(m rooted.Mark) bool {
		there[m.Path] = m.Mode.IsDir() && folders[m.Path] || m.Inode != 0 && m == want[m.Path] && !m.Mode.IsDir()
		return there[m.Path]
	})
	if err != nil {
		return err
	}
	return r.carryOver(r.at.spare, items, there)
}

// stageSpare moves the new files from the staging folder into the spare, which
// becomes the staging folder. A run killed in between leaves a spare that the
// next puts right.
func (r *Run) stageSpare() error {
	made := map[string]bool{}
	for p, f := range r.files {
		if f.kept {
			continue
		}
		if err := r.makeOnce(r.at.spare, path.Dir(p), made); err != nil {
			return err
		}
		if err := r.fsys.Rename(path.Join(r.at.staging, p), path.Join(r.at.spare, p)); err != nil {
			return fmt.Errorf("cannot put %s among the new site: %w", p, err)
		}
	}
	if err := removeTree(r.fsys, r.at.staging); err != nil {
		return err
	}
	if err := r.fsys.Rename(r.at.spare, r.at.staging); err != nil {
		return fmt.Errorf("cannot make the new site beside the old: %w", err)
	}
	return nil
}

// keepSpare makes an old site, of which nothing is left to be rescued, the
// spare: all in it goes that the new site does not have. It is false where there
// still is an old site to be cleared away.
func (r *Run) keepSpare(old string, all []rooted.Mark) bool {
	if r.copied.Load() || len(r.files) < spareFrom || len(all) == 0 || all[0].Inode == 0 {
		return false
	}
	// By its own name first: what is named the old site must have its ledger.
	if removeTree(r.fsys, r.at.spare) != nil || r.fsys.Rename(old, r.at.spare) != nil {
		return false
	}
	folders := r.ledger().folders()
	err := prune(r.fsys, r.at.spare, all, func(m rooted.Mark) bool {
		return m.Mode.IsDir() && folders[m.Path] || m.Mode.IsRegular() && r.files[m.Path].kept
	})
	if err != nil {
		_ = removeTree(r.fsys, r.at.spare)
	}
	return true
}

// prune removes from a folder, of which all is told, what does not stay; a
// folder goes with all in it.
func prune(fsys afero.Fs, dir string, all []rooted.Mark, stays func(rooted.Mark) bool) error {
	gone := map[string]bool{}
	for _, m := range all {
		if gone[path.Dir(m.Path)] {
			gone[m.Path] = true
			continue
		}
		if stays(m) {
			continue
		}
		if err := removeTree(fsys, path.Join(dir, m.Path)); err != nil {
			return err
		}
		gone[m.Path] = true
	}
	return nil
}
