package sight

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// A Sight is what a folder looked like at a moment.
type Sight struct {
	began time.Time
	marks []rooted.Mark // sorted by path
}

// Look looks at all that lies below a folder, links themselves and not what
// they lead to, but for what skip names by its path: files, and folders with all
// in them (nil skips nothing). A folder that is not there gives fs.ErrNotExist.
func Look(fsys afero.Fs, dir string, skip func(dir string) bool) (Sight, error) {
	s := Sight{began: time.Now()}
	if skip == nil {
		skip = func(string) bool { return false }
	}
	var err error
	if surveyor, ok := fsys.(rooted.Surveyor); ok {
		s.marks, err = surveyor.Survey(dir, func(name string) bool { return skip(below(dir, name)) })
		for n := range s.marks {
			s.marks[n].Path = below(dir, s.marks[n].Path)
		}
		s.marks = slices.DeleteFunc(s.marks, func(m rooted.Mark) bool { return skip(m.Path) })
		return s, err
	}
	err = afero.Walk(fsys, dir, func(name string, info fs.FileInfo, err error) error {
		if err != nil {
			return err
		}
		below := below(dir, filepath.ToSlash(name))
		switch {
		case below == "":
			return nil
		case info.IsDir() && skip(below):
			return fs.SkipDir
		case skip(below):
			return nil
		}
		s.marks = append(s.marks, rooted.Mark{Path: below, Mode: info.Mode(), Size: info.Size(), Written: info.ModTime().UnixNano()})
		return nil
	})
	slices.SortFunc(s.marks, func(a, b rooted.Mark) int { return strings.Compare(a.Path, b.Path) })
	return s, err
}

// below is a walked name as seen from the folder, "" for the folder itself.
func below(dir, name string) string {
	if name == dir {
		return ""
	}
	return strings.TrimPrefix(name, dir+"/")
}

// coarse is how old a file's times have to be on a disk that counts in steps of
// two seconds, the coarsest there is; fine, on one that counts in less than
// milliseconds, though the system's clock ticks only every few of them.
const (
	coarse = 3 * time.Second
	fine   = 20 * time.Millisecond
)

// settled tells whether a later write to the file would show in its times.
func (s Sight) settled(m rooted.Mark) bool {
	if m.Mode.IsDir() {
		return true // what lies in it is seen for itself
	}
	last, age := max(m.Written, m.Changed), coarse
	if m.Changed%int64(time.Millisecond) != 0 {
		age = fine
	}
	return s.began.UnixNano()-last > int64(age)
}

// Marks are all that was seen, sorted by path.
func (s Sight) Marks() []rooted.Mark { return s.marks }

// Part is the marks of the paths that are chosen, seen at the same moment.
func (s Sight) Part(chosen func(name string) bool) Sight {
	part := Sight{began: s.began}
	for _, m := range s.marks {
		if chosen(m.Path) {
			part.marks = append(part.marks, m)
		}
	}
	return part
}

// Folders are the parts that lie in each folder directly below dir, by the
// folder's name.
func (s Sight) Folders(dir string) map[string]Sight {
	parts := map[string]Sight{}
	for _, m := range s.marks {
		below, inside := strings.CutPrefix(m.Path, dir+"/")
		name, _, deeper := strings.Cut(below, "/")
		if inside && (deeper || m.Mode.IsDir()) {
			parts[name] = Sight{s.began, append(parts[name].marks, m)}
		}
	}
	return parts
}

// Digest is one value for all that was seen: SHA-256 in lower-case hexadecimal.
// It is empty where it would not show that something changed later: a file was
// written only just before, or there is a link, of which only itself is seen.
func (s Sight) Digest() string {
	h := sha256.New()
	var b []byte
	for _, m := range s.marks {
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
func appendState(b []byte, m rooted.Mark) []byte {
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

// State is a short name for a file in the state that it was seen in, not the
// path with it: "" where there is no such plain file, and where a later write
// to it might not show.
func (s Sight) State(name string) string {
	n, there := slices.BinarySearchFunc(s.marks, name, func(m rooted.Mark, name string) int { return strings.Compare(m.Path, name) })
	if !there || !s.marks[n].Mode.IsRegular() || !s.settled(s.marks[n]) {
		return ""
	}
	sum := sha256.Sum256(appendState([]byte(name), s.marks[n]))
	return hex.EncodeToString(sum[:16])
}

// Moved names what is not as it was in an earlier sight of the same folder:
// changed, come or gone. Names that ignore tells are left out.
func (s Sight) Moved(earlier Sight, ignore func(name string) bool) []string {
	var moved []string
	was := map[string]rooted.Mark{}
	for _, m := range earlier.marks {
		was[m.Path] = m
	}
	for _, m := range s.marks {
		old, there := was[m.Path]
		delete(was, m.Path)
		if m.Mode.IsDir() {
			old.Size, old.Written, old.Changed = m.Size, m.Written, m.Changed
		}
		if (!there || old != m) && !ignore(m.Path) {
			moved = append(moved, m.Path)
		}
	}
	for name := range was {
		if !ignore(name) {
			moved = append(moved, name)
		}
	}
	slices.Sort(moved)
	return moved
}
