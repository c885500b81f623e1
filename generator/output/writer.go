package output

import (
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/portable"
	"asleft/generator/rooted"
)

// places are the names that a run uses, all in one folder.
type places struct {
	site     string // the site itself
	staging  string // the files that are not in place yet
	manifest string
	lock     string // the lock's file
	// What earlier versions left: the list of the site's files, in its folder, a
	// site that was set aside, the site's files once more, and a cache.
	earlierList, earlierOld, earlierSpare, earlierCache string
}

func placesOf(name string) places {
	return places{
		site: name, staging: Beside(name, "new"), manifest: Beside(name, "manifest"), lock: Beside(name, "lock"),
		earlierList: path.Join(name, earlierName), earlierOld: Beside(name, "old"), earlierSpare: Beside(name, "spare"), earlierCache: Beside(name, "seen"),
	}
}

// temporary is the end of a temporary file's name.
const temporary = "-new"

// Beside is the name of a hidden file or folder that belongs to a site and
// stands beside it.
func Beside(site, what string) string { return "." + site + "-asleft-" + what }

// IsBeside tells whether a name is one that Beside gives.
func IsBeside(name string) bool {
	return strings.HasPrefix(name, ".") && strings.Contains(name, "-asleft-")
}

// IsSite tells whether a folder is a site that this program made.
func IsSite(parent afero.Fs, name string) bool {
	return exists(parent, placesOf(name).manifest) || exists(parent, placesOf(name).earlierList)
}

// Idle tells whether a site stands there that no run is at work on, and none was
// killed at work on.
func Idle(parent afero.Fs, name string) bool {
	at := placesOf(name)
	return exists(parent, at.manifest) && !exists(parent, at.staging) && !exists(parent, at.lock)
}

func exists(fsys afero.Fs, name string) bool {
	_, err := rooted.Lstat(fsys, name)
	return err == nil
}

// A Writer makes one new state of a site. Put and Keep may be called from many
// goroutines at once. It ends with Commit or Abort, and one of them must be called,
// or the site stays locked.
type Writer struct {
	fsys    afero.Fs
	at      places
	present manifest // what was written into the site that stands; nil without one
	head    string   // of that manifest
	release func() error
	intact  bool
	changed []string // see Changed

	use  sync.RWMutex // read-held by Put and Keep, held by Commit and Abort
	over bool

	mu     sync.Mutex
	claims map[string]claim // what stands where in the new site, by folded path
	files  map[string]*file // the new site's files, by path
	staged int              // files written to the staging folder
	failed error            // the first file that could not be put
}

// A claim is a name in the new site that is taken, for a file or for a folder.
type claim struct {
	path string // as spelled
	file string // the file that took it; another than path if path is a folder
}

// A file is one of the new site's.
type file struct {
	fingerprint
	temporary string // where it is until it is put in place; "" where it is there already
}

// Result says what a run did. Files are all files of the site that this program
// answers for (foreign ones are not counted) and Bytes their size; Written were
// new or different, Kept were there already. Removed stood in the site before and
// no longer do.
type Result struct {
	Files, Written, Kept, Removed int
	Bytes                         int64
}

// Open starts a run on the site of that name in parent, which should be a
// rooted.FS on a disk. The site's folder need not exist. Where another run has the
// site, Open waits for it, so long at most.
//
// The error is ErrAtWork when that was not long enough, a *Refusal when the folder
// is not the program's to write to, and otherwise the disk's.
func Open(parent afero.Fs, name string, wait time.Duration) (*Writer, error) {
	if !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, `/\`) {
		return nil, refuse(sayName, name)
	}
	w := &Writer{fsys: parent, at: placesOf(name), claims: map[string]claim{}, files: map[string]*file{}}
	var err error
	if w.release, err = lock(parent, w.at.lock, wait); err != nil {
		return nil, err
	}
	if err := w.open(); err != nil {
		return nil, errors.Join(err, w.release())
	}
	return w, nil
}

// open looks at the present site and clears away what a killed run left.
func (w *Writer) open() (err error) {
	if exists(w.fsys, w.at.earlierOld) && !exists(w.fsys, w.at.site) {
		if err := w.fsys.Rename(w.at.earlierOld, w.at.site); err != nil {
			return fmt.Errorf("cannot put the site back in place: %w", err)
		}
	}
	for _, left := range []string{w.at.staging, w.at.manifest + temporary} {
		if err := removeAll(w.fsys, left); err != nil {
			return err
		}
	}
	info, err := rooted.Lstat(w.fsys, w.at.site)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fmt.Errorf("cannot look at %s: %w", w.at.site, err)
	case info.Mode()&fs.ModeSymlink != 0:
		return refuse(saySiteLink, w.at.site)
	case !info.IsDir():
		return refuse(saySiteFile, w.at.site)
	}
	w.present, w.head, err = readManifest(w.fsys, w.at.manifest)
	if err == nil && w.present == nil {
		w.present, w.head, err = readManifest(w.fsys, w.at.earlierList)
	}
	if err != nil {
		return err
	}
	return w.checkOurs()
}

// checkOurs refuses a folder with files of which none is one that the manifest
// lists, as it lists it: it is another than the one that was written.
func (w *Writer) checkOurs() error {
	infos, err := afero.ReadDir(w.fsys, w.at.site)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(infos) == 0 {
		return nil
	}
	if err != nil {
		return fmt.Errorf("cannot look into %s: %w", w.at.site, err)
	}
	there := false
	for p, f := range w.present {
		if w.isAsListed(p, f) {
			return nil
		}
		there = there || exists(w.fsys, path.Join(w.at.site, p))
	}
	if w.head == unfinishedHead && !there { // killed before the first file was in place
		return nil
	}
	var names []string
	for _, info := range infos[:min(len(infos), 3)] {
		names = append(names, info.Name())
	}
	if len(infos) > 3 {
		names = append(names, "and more")
	}
	return refuse(sayNotOurs, w.at.site, strings.Join(names, ", "))
}

// AssumeIntact tells the run that the present site is, file for file, what the
// last run left: what is to stay need not be read to make sure. Call it before the
// first Put. After a run that did not finish it does nothing.
func (w *Writer) AssumeIntact() { w.intact = w.head == manifestHead }

// Abort drops the run: the present site stays as it is and the temporary files
// go. After Commit, or a second time, it does nothing.
func (w *Writer) Abort() error {
	w.use.Lock()
	defer w.use.Unlock()
	if w.over {
		return nil
	}
	return w.close()
}

// close removes what was staged and lets go of the site.
func (w *Writer) close() error {
	w.over = true
	return errors.Join(removeAll(w.fsys, w.at.staging), w.release())
}

func removeAll(fsys afero.Fs, name string) error {
	if err := fsys.RemoveAll(name); err != nil {
		return fmt.Errorf("cannot remove %s: %w", name, err)
	}
	return nil
}

// Put gives the new site a file. The path is relative to the site's folder,
// with slashes. Two files of one path, or of paths that some system would take
// for one, are refused with an error that names both. Data is not kept after
// Put returns.
//
// After any error of Put the run cannot be committed: a site is never short of a
// page.
func (w *Writer) Put(p string, data []byte) error {
	w.use.RLock()
	defer w.use.RUnlock()
	if w.over {
		return refuse(sayOver)
	}
	err := w.put(p, data)
	w.mu.Lock()
	defer w.mu.Unlock()
	w.failed = cmp.Or(w.failed, err)
	return err
}

func (w *Writer) put(p string, data []byte) error {
	if err := PortablePath(p); err != nil {
		return err
	}
	f := &file{fingerprint: fingerprintOf(data)}
	if err := w.claim(p, f); err != nil {
		return err
	}
	if f.fingerprint == w.present[p] && w.isAsListed(p, f.fingerprint) {
		return nil
	}
	name, err := w.nextTemporary()
	if err == nil {
		err = writeNew(w.fsys, name, data, 0o644, false)
	}
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", p, err)
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	f.temporary = name
	return nil
}

// nextTemporary is a name in the staging folder, which it makes at first.
func (w *Writer) nextTemporary() (string, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.staged == 0 {
		if err := w.fsys.MkdirAll(w.at.staging, 0o755); err != nil {
			return "", err
		}
	}
	w.staged++
	return path.Join(w.at.staging, strconv.Itoa(w.staged)), nil
}

// Keep keeps the present site's file of that path, if it is there and is, byte
// for byte, what the manifest says. Otherwise it returns false, and the caller
// makes the file anew and Puts it. To keep a file twice is fine.
func (w *Writer) Keep(p string) bool {
	w.use.RLock()
	defer w.use.RUnlock()
	want, listed := w.present[p]
	if w.over || !listed {
		return false
	}
	if taken, kept := w.taken(p); taken {
		return kept
	}
	if !w.isAsListed(p, want) {
		return false
	}
	// Another goroutine may have kept it meanwhile, or put a file of a name so like it
	// that it cannot be had.
	_ = w.claim(p, &file{fingerprint: want})
	_, kept := w.taken(p)
	return kept
}

// KeepAll keeps every file of the present site that this program made and which
// chooses, as Keep does; false where one of them is not there as it was left.
func (w *Writer) KeepAll(which func(path string) bool) bool {
	for p := range w.present {
		if which(p) && !w.Keep(p) {
			return false
		}
	}
	return true
}

// taken tells whether the new site has a file of that path, and whether that is the
// present site's.
func (w *Writer) taken(p string) (taken, kept bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	f := w.files[p]
	return f != nil, f != nil && f.temporary == ""
}

// isAsListed tells whether the present site's file is what the manifest says.
// What cannot be read is not: it is then made anew, which mends it.
func (w *Writer) isAsListed(p string, want fingerprint) bool {
	if w.intact {
		return true
	}
	name := path.Join(w.at.site, p)
	info, err := rooted.Lstat(w.fsys, name)
	if err != nil || !info.Mode().IsRegular() || info.Size() != want.size {
		return false
	}
	f, err := w.fsys.Open(name)
	if err != nil {
		return false
	}
	sum := sha256.New()
	_, err = io.Copy(sum, io.LimitReader(f, want.size+1))
	return errors.Join(err, f.Close()) == nil && [sha256.Size]byte(sum.Sum(nil)) == want.sum
}

// claim takes a path and the folders above it, all or none.
func (w *Writer) claim(p string, f *file) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if was, taken := w.claims[portable.Fold(p)]; taken {
		return clash(was, claim{p, p})
	}
	dirs := above(p)
	for _, dir := range dirs {
		was, taken := w.claims[portable.Fold(dir)]
		if taken && (was.path == was.file || was.path != dir) {
			return clash(was, claim{dir, p})
		}
	}
	w.claims[portable.Fold(p)] = claim{p, p}
	for _, dir := range dirs {
		w.claims[portable.Fold(dir)] = claim{dir, p}
	}
	w.files[p] = f
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
