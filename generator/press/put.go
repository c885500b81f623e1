package press

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"time"

	"github.com/spf13/afero"
)

// Put gives the new site a file. The path is relative to the site's folder,
// with slashes. Two files of one path, or of paths that some system would take
// for one, are refused with an error that names both. Data is not kept after
// Put returns.
//
// After any error of Put the run cannot be finished: a site is never short of a
// page.
func (r *Run) Put(p string, data []byte) error {
	r.use.RLock()
	defer r.use.RUnlock()
	if r.over {
		return refuse(sayOver)
	}
	err := r.put(p, data)
	if err != nil {
		r.mu.Lock()
		defer r.mu.Unlock()
		if r.failed == nil {
			r.failed = err
		}
	}
	return err
}

func (r *Run) put(p string, data []byte) error {
	if err := checkPath(p); err != nil {
		return err
	}
	if err := r.claim(p); err != nil {
		return err
	}
	f := file{entry: entryOf(data)}
	if f.entry == r.present[p] {
		f.written, f.kept = r.same(p, data)
	}
	if !f.kept {
		written, err := r.stage(p, data)
		if err != nil {
			return fmt.Errorf("cannot write %s: %w", p, err)
		}
		f.written = written
	}
	r.record(p, f)
	return nil
}

// Carry keeps the present site's file of that path, if it is there and is, byte
// for byte, what the ledger says the press wrote. Otherwise it returns false,
// and the caller makes the file anew and Puts it. To carry a file twice is fine.
func (r *Run) Carry(p string) bool {
	r.use.RLock()
	defer r.use.RUnlock()
	want, listed := r.present[p]
	if r.over || !listed {
		return false
	}
	if f, taken := r.placed(p); taken {
		return f.kept
	}
	written, ok := r.isAsListed(p, want)
	if !ok {
		return false
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if err := r.take(p); err != nil {
		return r.files[p].kept // another goroutine may have carried it meanwhile
	}
	r.files[p] = file{entry: want, kept: true, written: written}
	return true
}

// isAsListed says whether the present site's file is what the ledger says, and
// when it was written.
func (r *Run) isAsListed(p string, want entry) (time.Time, bool) {
	if m, ok := r.trusts(p, want.size); ok {
		return m, true
	}
	sum := sha256.New()
	written, ok := r.read(p, want.size, sum)
	return written, ok && [sha256.Size]byte(sum.Sum(nil)) == want.sum
}

// CarryAll keeps every file of the present site that the press made and which
// chooses, as Carry does; false where one of them is not there as it was left.
func (r *Run) CarryAll(which func(path string) bool) bool {
	for p := range r.present {
		if which(p) && !r.Carry(p) {
			return false
		}
	}
	return true
}

func (r *Run) placed(p string) (file, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	f, ok := r.files[p]
	return f, ok
}

func (r *Run) record(p string, f file) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.files[p] = f
}

func (r *Run) claim(p string) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.take(p)
}

// take takes a path and the folders above it, all or none. The caller holds mu.
func (r *Run) take(p string) error {
	if was, taken := r.claims[folded(p)]; taken {
		return clash(was, claim{p, p})
	}
	dirs := above(p)
	for _, dir := range dirs {
		was, taken := r.claims[folded(dir)]
		if taken && (was.path == was.file || was.path != dir) {
			return clash(was, claim{dir, p})
		}
	}
	r.claims[folded(p)] = claim{p, p}
	for _, dir := range dirs {
		if _, taken := r.claims[folded(dir)]; !taken {
			r.claims[folded(dir)] = claim{dir, p}
		}
	}
	return nil
}

// clash words the refusal of a name that is taken.
func clash(was, now claim) error {
	wasFile, nowFile := was.path == was.file, now.path == now.file
	switch {
	case wasFile && !nowFile:
		return refuse(sayInFile, was.file, now.file)
	case !wasFile && nowFile:
		return refuse(sayInFile, now.file, was.file)
	case !wasFile:
		return refuse(sayTwoFolders, was.file, now.file)
	}
	return refuse(sayTwice, was.file, now.file)
}

// same says whether the present site's file holds exactly data, and when it was
// written. The ledger alone is not asked: the file may have been edited since.
func (r *Run) same(p string, data []byte) (time.Time, bool) {
	if m, ok := r.trusts(p, int64(len(data))); ok {
		return m, true
	}
	var b bytes.Buffer
	b.Grow(len(data) + bytes.MinRead)
	written, ok := r.read(p, int64(len(data)), &b)
	return written, ok && bytes.Equal(b.Bytes(), data)
}

// read copies a file of the present site. It is not ok if it is no plain file
// of that size or cannot be read: the page is then made anew, which mends it.
func (r *Run) read(p string, size int64, to io.Writer) (written time.Time, ok bool) {
	name := path.Join(r.at.site, p)
	info, err := lstat(r.fsys, name)
	if err != nil || !info.Mode().IsRegular() || info.Size() != size {
		return time.Time{}, false
	}
	written = info.ModTime()
	f, err := r.fsys.Open(name)
	if err != nil {
		return time.Time{}, false
	}
	n, err := io.Copy(to, io.LimitReader(f, size+1))
	return written, errors.Join(err, f.Close()) == nil && n == size
}

// stage writes a file into the staging folder and says when.
func (r *Run) stage(p string, data []byte) (written time.Time, err error) {
	if err := r.stageDir(path.Dir(p)); err != nil {
		return written, err
	}
	return writeNew(r.fsys, path.Join(r.at.staging, p), bytes.NewReader(data), false)
}

// stageDir makes a folder in the staging folder; "." is that folder itself.
func (r *Run) stageDir(dir string) error {
	r.dirMu.Lock()
	defer r.dirMu.Unlock()
	return r.makeDir(dir)
}

// makeDir makes a folder and those above it that are missing. The caller holds
// dirMu.
func (r *Run) makeDir(dir string) error {
	if r.dirs[dir] {
		return nil
	}
	if dir != "." {
		if err := r.makeDir(path.Dir(dir)); err != nil {
			return err
		}
	}
	r.staged = true
	if err := r.fsys.Mkdir(path.Join(r.at.staging, dir), 0o755); err != nil {
		return err
	}
	r.dirs[dir] = true
	return nil
}

// writeNew writes a file that must not be there yet, and, if asked, waits until
// the disk has it. It says when the file was written.
func writeNew(fsys afero.Fs, name string, data io.Reader, sync bool) (written time.Time, err error) {
	f, err := fsys.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return written, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if _, err := io.Copy(f, data); err != nil {
		return written, err
	}
	if sync {
		if err := f.Sync(); err != nil {
			return written, err
		}
	}
	info, err := f.Stat()
	if err != nil {
		return written, err
	}
	return info.ModTime(), nil
}
