package output

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/afero"
	"golang.org/x/sync/errgroup"

	"asleft/generator/rooted"
)

// A Stat is what the system notes about a file, without opening it.
type Stat struct {
	Path    string // with slashes
	Mode    fs.FileMode
	Size    int64  // bytes
	Written int64  // when the contents were last written, in ns since 1970
	Changed int64  // when contents, mode or name last were, in ns since 1970; 0 where the system does not tell
	Inode   uint64 // the file's number on its disk; 0 where the system does not tell
}

func statOf(path string, info fs.FileInfo) Stat {
	s := Stat{Path: path, Mode: info.Mode(), Size: info.Size(), Written: info.ModTime().UnixNano()}
	s.more(info)
	return s
}

// A Snapshot is what a folder looked like at a moment.
type Snapshot struct {
	began time.Time
	files []Stat // sorted by path
	loose bool   // a later write to some file might not show
}

// TakeSnapshot looks at all that lies below a folder, links themselves and not
// what they lead to, but for what skip names by its path: files, and folders with
// all in them (nil skips nothing; it is called from several goroutines at once). A
// folder that is not there gives fs.ErrNotExist.
func TakeSnapshot(fsys afero.Fs, dir string, skip func(name string) bool) (Snapshot, error) {
	w := &walk{fsys: fsys, top: dir, skip: skip}
	if skip == nil {
		w.skip = func(string) bool { return false }
	}
	w.list = func(dir string) ([]fs.FileInfo, error) { return afero.ReadDir(fsys, dir) }
	if lister, ok := fsys.(rooted.Lister); ok {
		w.list = lister.List
	}
	s := Snapshot{began: time.Now()}
	w.work.SetLimit(runtime.GOMAXPROCS(0))
	w.work.Go(func() error { return w.folder("") })
	err := w.work.Wait()
	slices.SortFunc(w.found, byPath)
	s.files = w.found
	return s, err
}

func byPath(a, b Stat) int { return strings.Compare(a.Path, b.Path) }

// A walk goes through as many folders at a time as there are cores.
type walk struct {
	fsys afero.Fs
	top  string
	skip func(name string) bool
	list func(dir string) ([]fs.FileInfo, error)
	work errgroup.Group

	mu    sync.Mutex
	found []Stat
}

// folder notes what is in a folder and those below it.
func (w *walk) folder(below string) error {
	infos, err := w.read(below)
	if err != nil {
		return err
	}
	prefix := ""
	if below != "" {
		prefix = below + "/"
	}
	found := make([]Stat, 0, len(infos))
	for _, info := range infos {
		if name := prefix + info.Name(); !w.skip(name) {
			found = append(found, statOf(name, info))
		}
	}
	w.mu.Lock()
	w.found = append(w.found, found...)
	w.mu.Unlock()
	for _, s := range found {
		if !s.Mode.IsDir() || w.work.TryGo(func() error { return w.folder(s.Path) }) {
			continue
		}
		if err := w.folder(s.Path); err != nil { // all cores have something to do
			return err
		}
	}
	return nil
}

// read lists a folder. Nothing is seen in one that went meanwhile, that was swapped
// for something else, be it by a folder above it, or that this user may not look into,
// but for the first.
func (w *walk) read(below string) ([]fs.FileInfo, error) {
	infos, err := w.list(path.Join(w.top, below))
	if err == nil || below == "" {
		return infos, err
	}
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) {
		return nil, nil
	}
	for _, dir := range append([]string{below}, above(below)...) {
		info, gone := rooted.Lstat(w.fsys, path.Join(w.top, dir))
		if errors.Is(gone, fs.ErrNotExist) || gone == nil && !info.IsDir() {
			return nil, nil
		}
	}
	return nil, err
}

// After is the snapshot with some files, and the folders above them, looked at
// anew, because they were written or removed meanwhile: all else is as it was seen
// before, so that what somebody else did meanwhile shows at the next look. A file
// that was written after that moment makes a later look differ too.
func (s Snapshot) After(fsys afero.Fs, dir string, names []string, moment time.Time) (Snapshot, error) {
	anew := map[string]bool{}
	for _, name := range names {
		anew[name] = true
		for _, dir := range above(name) {
			anew[dir] = true
		}
	}
	next := Snapshot{began: time.Now(), loose: s.loose}
	for _, f := range s.files {
		if !anew[f.Path] {
			next.files = append(next.files, f)
			next.loose = next.loose || !s.settled(f)
		}
	}
	for name := range anew {
		info, err := described(fsys, path.Join(dir, name))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return next, err
		}
		f := statOf(name, info)
		next.files = append(next.files, f)
		next.loose = next.loose || f.Mode.IsRegular() && f.Written > moment.UnixNano()
	}
	slices.SortFunc(next.files, byPath)
	return next, nil
}

// described is what a look at the folder would tell of a file.
func described(fsys afero.Fs, name string) (fs.FileInfo, error) {
	if d, ok := fsys.(rooted.Describer); ok {
		return d.Describe(name)
	}
	return rooted.Lstat(fsys, name)
}

// coarse is how old a file's times have to be on a disk that counts in steps of
// two seconds, the coarsest there is; fine, on one that counts in less than
// milliseconds, though the system's clock ticks only every few of them.
const (
	coarse = 3 * time.Second
	fine   = 20 * time.Millisecond
)

// settled tells whether a later write to the file would show in its times.
func (s Snapshot) settled(m Stat) bool {
	if m.Mode.IsDir() {
		return true // what lies in it is seen for itself
	}
	last, age := max(m.Written, m.Changed), coarse
	if m.Changed%int64(time.Millisecond) != 0 {
		age = fine
	}
	return s.began.UnixNano()-last > int64(age)
}

// Files are all files, links and folders that were seen, sorted by path.
func (s Snapshot) Files() []Stat { return s.files }

// Part is the files of the paths that are chosen, seen at the same moment.
func (s Snapshot) Part(chosen func(name string) bool) Snapshot {
	part := Snapshot{began: s.began}
	for _, m := range s.files {
		if chosen(m.Path) {
			part.files = append(part.files, m)
		}
	}
	return part
}

// Folders are the parts that lie in each folder directly below dir, by the
// folder's name.
func (s Snapshot) Folders(dir string) map[string]Snapshot {
	parts := map[string]Snapshot{}
	for _, m := range s.files {
		below, inside := strings.CutPrefix(m.Path, dir+"/")
		name, _, deeper := strings.Cut(below, "/")
		if inside && (deeper || m.Mode.IsDir()) {
			parts[name] = Snapshot{began: s.began, files: append(parts[name].files, m)}
		}
	}
	return parts
}

// Digest is one value for all that was seen: SHA-256 in lower-case hexadecimal.
// It is empty where it would not show that something changed later: a file was
// written only just before, or there is a link, of which only itself is seen.
func (s Snapshot) Digest() string {
	if s.loose {
		return ""
	}
	h := sha256.New()
	var b []byte
	for _, m := range s.files {
		if !s.settled(m) || m.Mode&fs.ModeSymlink != 0 {
			return ""
		}
		b = append(b[:0], m.Path...)
		b = appendState(b, m)
		h.Write(b)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// appendState appends what tells one state of a file from another, the path
// left out. The path ends in a zero byte, which no path holds.
func appendState(b []byte, m Stat) []byte {
	b = append(b, 0)
	b = binary.LittleEndian.AppendUint32(b, uint32(m.Mode))
	if m.Mode.IsDir() {
		return b
	}
	for _, n := range []int64{m.Size, m.Written, m.Changed, int64(m.Inode)} { //nolint:gosec // a number is a name here
		b = binary.LittleEndian.AppendUint64(b, uint64(n))
	}
	return b
}

// Key is a short name for a file in the state that it was seen in, not the
// path with it: "" where there is no such plain file, and where a later write
// to it might not show.
func (s Snapshot) Key(name string) string {
	n, there := slices.BinarySearchFunc(s.files, name, func(m Stat, name string) int { return strings.Compare(m.Path, name) })
	if !there || !s.files[n].Mode.IsRegular() || !s.settled(s.files[n]) {
		return ""
	}
	sum := sha256.Sum256(appendState([]byte(name), s.files[n]))
	return hex.EncodeToString(sum[:16])
}

// FileKey is the key of one file, looked at now.
func FileKey(fsys afero.Fs, name string) string {
	began := time.Now()
	info, err := described(fsys, name)
	if err != nil {
		return ""
	}
	return Snapshot{began: began, files: []Stat{statOf(name, info)}}.Key(name)
}

// Changed names what is not as it was in an earlier snapshot of the same folder:
// changed, come or gone. Names that ignore tells are left out.
func (s Snapshot) Changed(earlier Snapshot, ignore func(name string) bool) []string {
	var changed []string
	was := map[string]Stat{}
	for _, m := range earlier.files {
		was[m.Path] = m
	}
	for _, m := range s.files {
		old, there := was[m.Path]
		delete(was, m.Path)
		if m.Mode.IsDir() {
			old.Size, old.Written, old.Changed = m.Size, m.Written, m.Changed
		}
		if (!there || old != m) && !ignore(m.Path) {
			changed = append(changed, m.Path)
		}
	}
	for name := range was {
		if !ignore(name) {
			changed = append(changed, name)
		}
	}
	slices.Sort(changed)
	return changed
}
