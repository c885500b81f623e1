package press

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path"

	"asleft/generator/rooted"
)

// Finish puts the new site in place and ends the run. If the set of files is
// the one that stands there, nothing on the disk is changed. On an error the
// present site stays as it is, save for an error that is ErrLeftovers: then the
// new site is in place and the Result holds.
func (r *Run) Finish() (Result, error) {
	r.use.Lock()
	defer r.use.Unlock()
	if r.over {
		return Result{}, refuse(sayOver)
	}
	result, err := r.finish()
	dropped := r.drop()
	if err == nil && dropped != nil {
		return result, fmt.Errorf("%w: %w", ErrLeftovers, dropped)
	}
	return result, errors.Join(err, dropped)
}

func (r *Run) finish() (Result, error) {
	if r.failed != nil {
		return Result{}, fmt.Errorf(sayIncomplete, r.failed)
	}
	if len(r.files) == 0 {
		return Result{}, refuse(sayNothing)
	}
	result := r.count()
	if result.Written == 0 && result.Removed == 0 {
		return result, nil
	}
	if err := r.compose(); err != nil {
		return Result{}, err
	}
	old, err := r.swap()
	if err != nil {
		return Result{}, err
	}
	if err := r.settle(old); err != nil {
		return result, fmt.Errorf("%w: %w", ErrLeftovers, err)
	}
	return result, nil
}

func (r *Run) count() Result {
	result := Result{Files: len(r.files)}
	for _, f := range r.files {
		result.Bytes += f.size
		if f.kept {
			result.Kept++
		} else {
			result.Written++
		}
	}
	for p := range r.present {
		if _, stays := r.files[p]; !stays {
			result.Removed++
		}
	}
	return result
}

// compose makes the staging folder whole: what is kept, what is foreign, the
// ledger; and has the disk hold it all before the swap can make it the site.
func (r *Run) compose() error {
	if err := r.stageDir("."); err != nil {
		return fmt.Errorf("cannot make a folder beside the site: %w", err)
	}
	items, err := r.stays()
	if err != nil {
		return err
	}
	if r.readySpare(items) {
		err = r.stageSpare()
	} else {
		err = r.carryOver(r.at.staging, items, nil)
	}
	if err != nil {
		return err
	}
	if err := r.dress(items); err != nil {
		return err
	}
	name := path.Join(r.at.staging, ledgerName)
	if _, err := writeNew(r.fsys, name, bytes.NewReader(r.ledger().text()), true); err != nil {
		return fmt.Errorf("cannot write %s: %w", name, err)
	}
	if err := r.flush(); err != nil {
		return fmt.Errorf("the disk did not take the new site: %w", err)
	}
	return nil
}

// ledger is the new site's.
func (r *Run) ledger() ledger {
	l := ledger{}
	for p, f := range r.files {
		l[p] = f.entry
	}
	return l
}

// syncLimit is up to how many new files are synced one by one where the disk
// cannot be flushed as a whole.
const syncLimit = 256

// flush has the disk hold the staged site. A killed program loses nothing that
// it wrote, so this is for power cuts only.
//
// On Linux one syncfs covers every file and folder and costs about as much as
// syncing a few files. Elsewhere each file has to be synced by itself, some
// milliseconds each: right for an evening's edit, not for the ten thousand pages
// of a first run. Beyond syncLimit only the ledger and the top folder are
// synced; should the power fail in the seconds until the system has written the
// rest, the next run finds the damaged pages by their digests and makes them anew.
func (r *Run) flush() error {
	if f, ok := r.fsys.(rooted.Flusher); ok {
		if err := f.Flush(); !errors.Is(err, errors.ErrUnsupported) {
			return err
		}
	}
	var fresh []string
	for p, f := range r.files {
		if !f.kept {
			fresh = append(fresh, p)
		}
	}
	if len(fresh) <= syncLimit {
		err := parallel(len(fresh), func(i int) error { return r.syncFile(path.Join(r.at.staging, fresh[i])) })
		if err != nil {
			return err
		}
	}
	return r.syncDir(r.at.staging)
}

func (r *Run) syncFile(name string) error {
	f, err := r.fsys.OpenFile(name, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// syncDir has the disk hold a folder's names, where the system can do that.
func (r *Run) syncDir(name string) error {
	d, ok := r.fsys.(rooted.DirSyncer)
	if !ok {
		return nil
	}
	if err := d.SyncDir(name); !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}
