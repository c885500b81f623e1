package press

import (
	"errors"
	"fmt"
	"io/fs"

	"asleft/generator/rooted"

	"github.com/spf13/afero"
)

// swap makes the staged folder the site and returns where the old site is now,
// or "" if there was none. On an error the old site is in its place.
func (r *Run) swap() (old string, err error) {
	_, err = lstat(r.fsys, r.at.site)
	if errors.Is(err, fs.ErrNotExist) {
		if err := r.fsys.Rename(r.at.staging, r.at.site); err != nil {
			return "", fmt.Errorf("cannot put the new site in place: %w", err)
		}
		return "", nil
	}
	if x, ok := r.fsys.(rooted.Exchanger); ok {
		err := x.Exchange(r.at.staging, r.at.site)
		if err == nil {
			return r.nameOld(), nil
		}
		if !errors.Is(err, errors.ErrUnsupported) {
			return "", fmt.Errorf("cannot put the new site in place: %w", err)
		}
	}
	return r.swapByRenames()
}

// nameOld gives the old site, which after an exchange has the staging folder's
// name, the name by which a later run knows it for what it is, and brings over
// what came late to it. (A run killed between the two calls loses that: a file
// dropped into the site in the milliseconds before.) If it cannot be renamed it
// can still be cleared away from where it is.
func (r *Run) nameOld() string {
	if err := r.fsys.Rename(r.at.staging, r.at.old); err != nil {
		return r.at.staging
	}
	return r.at.old
}

// swapByRenames is for systems without exchange. Between the two renames there
// is no site; a run killed there leaves the old one under its other name, from
// which recoverSite puts it back.
func (r *Run) swapByRenames() (old string, err error) {
	if err := r.fsys.Rename(r.at.site, r.at.old); err != nil {
		return "", fmt.Errorf("cannot put the new site in place: %w", err)
	}
	err = r.fsys.Rename(r.at.staging, r.at.site)
	if err == nil {
		return r.at.old, nil
	}
	err = fmt.Errorf("cannot put the new site in place: %w", err)
	if back := r.fsys.Rename(r.at.old, r.at.site); back != nil {
		return "", errors.Join(fmt.Errorf(sayOldSetAside, r.at.old), err, back)
	}
	return "", err
}

// settle makes the swap last and clears the old site away: in that order, or a
// power cut could leave neither.
func (r *Run) settle(old string) error {
	if err := r.syncDir("."); err != nil {
		return fmt.Errorf("the disk did not take the new site's name: %w", err)
	}
	if old == "" {
		return nil
	}
	all, err := rescue(r.fsys, old, r.at.site, r.present)
	if err != nil || r.keepSpare(old, all) {
		return err
	}
	return clearOld(r.fsys, old)
}

// recoverSite brings a site back to a whole state after a run that was killed.
// A staging folder is a site that never was. An old folder is one that was: it
// goes back if there is no site, and else is cleared away.
func recoverSite(fsys afero.Fs, at places) error {
	if err := recoverOld(fsys, at); err != nil {
		return err
	}
	return removeTree(fsys, at.staging)
}

func recoverOld(fsys afero.Fs, at places) error {
	if _, err := lstat(fsys, at.old); errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return fmt.Errorf("cannot look at %s: %w", at.old, err)
	}
	info, err := lstat(fsys, at.site)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return putBack(fsys, at)
	case err != nil:
		return fmt.Errorf("cannot look at %s: %w", at.site, err)
	case !info.IsDir():
		return refuse(sayTwoSites, at.old, at.site)
	}
	l, err := readLedger(fsys, at.site)
	if err != nil {
		return err
	}
	if l == nil {
		return makeWay(fsys, at)
	}
	was, err := readLedger(fsys, at.old)
	if err != nil {
		return err
	}
	if _, err := rescue(fsys, at.old, at.site, was); err != nil {
		return err
	}
	return clearOld(fsys, at.old)
}

// makeWay puts the old site back where somebody has made an empty folder since.
func makeWay(fsys afero.Fs, at places) error {
	if err := refuseFull(fsys, at.site); err != nil {
		return &Refusal{Says: fmt.Sprintf(sayTwoSites, at.old, at.site), Cause: err}
	}
	if err := fsys.Remove(at.site); err != nil {
		return fmt.Errorf("cannot put the site back in place: %w", err)
	}
	return putBack(fsys, at)
}

func putBack(fsys afero.Fs, at places) error {
	if err := fsys.Rename(at.old, at.site); err != nil {
		return fmt.Errorf("cannot put the site back in place: %w", err)
	}
	return nil
}
