//go:build linux || darwin

package rooted_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"asleft/generator/rooted"

	"github.com/spf13/afero"
)

func TestWalkSeesNothingInAShutFolder(t *testing.T) {
	f, shop, _ := open(t)
	for _, name := range []string{"a/b/c/d", "a/b/shut/e", "z/x"} {
		must(t, f.MkdirAll(name, 0o755))
	}
	must(t, os.Chmod(filepath.Join(shop, "a", "b", "shut"), 0o300))
	before := openFiles(t)
	got, err := asNobody(t, shop, func() ([]rooted.Stat, error) { return f.Walk("a", nil) })
	var names []string
	for _, s := range got {
		names = append(names, s.Path)
	}
	if want := []string{"b", "b/c", "b/c/d", "b/shut"}; err != nil || !slices.Equal(names, want) {
		t.Errorf("got %q, %v, want %q", names, err, want)
	}
	if after := openFiles(t); after != before {
		t.Errorf("%d files open before, %d after", before, after)
	}
	if _, err := asNobody(t, shop, func() ([]rooted.Stat, error) { return f.Walk("a/b/shut", nil) }); !errors.Is(err, fs.ErrPermission) {
		t.Errorf("the shut folder itself: %v", err)
	}
	must(t, os.Chmod(filepath.Join(shop, "a", "b", "shut"), 0o700))
}

// openFiles counts this process's open files.
func openFiles(t *testing.T) int {
	t.Helper()
	names, err := os.ReadDir("/dev/fd")
	must(t, err)
	return len(names)
}

// asNobody does something as another user, if we are root: root is let in
// everywhere.
func asNobody(t *testing.T, dir string, do func() ([]rooted.Stat, error)) ([]rooted.Stat, error) {
	t.Helper()
	if os.Getuid() != 0 {
		return do()
	}
	const nobody = 65534
	must(t, filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
		return errors.Join(err, os.Lchown(path, nobody, nobody))
	}))
	must(t, syscall.Setreuid(-1, nobody))
	defer func() { must(t, syscall.Setreuid(-1, 0)) }()
	return do()
}

// What POSIX stat(2) calls st_ctime and st_ino: a change of mode alone moves the
// one, and a new file under an old name has another of the other.
func TestWalkKnowsAChangeThatKeepsTheTime(t *testing.T) {
	f, shop, _ := open(t)
	look := func() rooted.Stat {
		t.Helper()
		found, err := f.Walk(".", nil)
		must(t, err)
		if len(found) != 1 {
			t.Fatalf("got %v", found)
		}
		return found[0]
	}
	first := look()
	info, err := os.Stat(filepath.Join(shop, "inside.txt"))
	must(t, err)
	if stat := info.Sys().(*syscall.Stat_t); first.Inode != stat.Ino || first.Inode == 0 || first.Changed == 0 {
		t.Errorf("got %+v, want the number %d", first, stat.Ino)
	}
	if again := look(); again != first {
		t.Errorf("got %+v, then %+v", first, again)
	}
	time.Sleep(20 * time.Millisecond) // a clock of file times may tick as slowly as 100 a second
	must(t, afero.WriteFile(f, "inside.txt", []byte("INSIDE"), 0o644))
	must(t, f.Chtimes("inside.txt", info.ModTime(), info.ModTime()))
	second := look()
	if second.Written != first.Written || second.Size != first.Size || second.Changed <= first.Changed {
		t.Errorf("got %+v, then %+v", first, second)
	}
	must(t, afero.WriteFile(f, "new", []byte("iNSIDE"), 0o644))
	must(t, f.Chtimes("new", info.ModTime(), info.ModTime()))
	must(t, f.Rename("new", "inside.txt"))
	if third := look(); third.Inode == second.Inode || third.Written != first.Written {
		t.Errorf("got %+v, then %+v", second, third)
	}
}

// TestWalkOpensFewAtATime walks more folders than a process may open.
func TestWalkOpensFewAtATime(t *testing.T) {
	f, _, _ := open(t)
	for i := range 500 {
		must(t, f.MkdirAll(filepath.Join("m", time.Duration(i).String(), "photos"), 0o755))
	}
	var old syscall.Rlimit
	must(t, syscall.Getrlimit(syscall.RLIMIT_NOFILE, &old))
	few := old
	few.Cur = 100
	must(t, syscall.Setrlimit(syscall.RLIMIT_NOFILE, &few))
	found, err := f.Walk(".", nil)
	must(t, syscall.Setrlimit(syscall.RLIMIT_NOFILE, &old))
	if err != nil || len(found) != 1002 {
		t.Errorf("%d found, %v", len(found), err)
	}
}
