package rooted_test

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// The basics that code written to afero.Fs relies on.
func TestContract(t *testing.T) {
	f, shop, _ := open(t)
	must(t, f.MkdirAll("/a/b", 0o755))
	must(t, f.MkdirAll("a/b", 0o755))
	must(t, f.Mkdir("a/c", 0o755))
	if err := f.Mkdir("a/c", 0o755); !errors.Is(err, fs.ErrExist) {
		t.Errorf("Mkdir of a folder that is there: %v", err)
	}
	must(t, afero.WriteFile(f, "a/b/one.txt", []byte("one"), 0o644))
	if got, err := os.ReadFile(filepath.Join(shop, "a", "b", "one.txt")); string(got) != "one" {
		t.Errorf("on the disk: %q, %v", got, err)
	}
	if err := afero.WriteFile(f, "none/x.txt", nil, 0o644); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file in a folder that is not there: %v", err)
	}
	if _, err := f.OpenFile("a/b/one.txt", os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644); !errors.Is(err, fs.ErrExist) {
		t.Errorf("O_EXCL on a file that is there: %v", err)
	}
	must(t, f.Rename("a/b/one.txt", "a/c/two.txt"))
	if _, err := f.Stat("a/b/one.txt"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the old name after a rename: %v", err)
	}
	if err := f.Remove("a/c"); err == nil {
		t.Error("a folder with something in it was removed by Remove")
	}
	must(t, f.Remove("a/b"))
	when := time.Date(2026, 3, 2, 18, 30, 0, 0, time.UTC)
	must(t, f.Chtimes("a/c/two.txt", when, when))
	must(t, f.Chmod("a/c/two.txt", 0o600))
	info, err := f.Stat("a/c/two.txt")
	must(t, err)
	if !info.ModTime().Equal(when) || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("got %v %v", info.Mode(), info.ModTime())
	}
	if runtime.GOOS != "windows" {
		must(t, f.Chown("a/c/two.txt", os.Getuid(), os.Getgid()))
	}
	must(t, f.RemoveAll("a"))
	must(t, f.RemoveAll("a"))
	if f.Name() == "" || f.Dir() != shop {
		t.Errorf("Name %q, Dir %q", f.Name(), f.Dir())
	}
}

func TestFileReadsAndWrites(t *testing.T) {
	f, _, _ := open(t)
	file, err := f.Create("log.txt")
	must(t, err)
	_, err = file.WriteString("found stuck")
	must(t, err)
	_, err = file.WriteAt([]byte("F"), 0)
	must(t, err)
	must(t, file.Truncate(5))
	must(t, file.Sync())
	_, err = file.Seek(0, io.SeekStart)
	must(t, err)
	got, err := io.ReadAll(file)
	must(t, errors.Join(err, file.Close()))
	if string(got) != "Found" {
		t.Errorf("got %q", got)
	}
	got, err = afero.ReadFile(afero.NewReadOnlyFs(f), "/log.txt")
	if err != nil || string(got) != "Found" {
		t.Errorf("through a layer of afero: %q, %v", got, err)
	}
}

func TestWalkAndGlob(t *testing.T) {
	f, _, _ := open(t)
	for _, name := range []string{"m/harrow/a.md", "m/harrow/b.md", "m/vise/c.md"} {
		must(t, f.MkdirAll(filepath.Dir(name), 0o755))
		must(t, afero.WriteFile(f, name, nil, 0o644))
	}
	var walked []string
	must(t, afero.Walk(f, "m", func(path string, _ fs.FileInfo, err error) error {
		walked = append(walked, filepath.ToSlash(path))
		return err
	}))
	want := []string{"m", "m/harrow", "m/harrow/a.md", "m/harrow/b.md", "m/vise", "m/vise/c.md"}
	if diff := cmp.Diff(want, walked); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	found, err := afero.Glob(f, "m/*/*.md")
	if err != nil || len(found) != 3 {
		t.Errorf("glob: %v, %v", found, err)
	}
	inner, err := afero.NewIOFS(f).ReadDir("m")
	if err != nil || len(inner) != 2 {
		t.Errorf("as an io/fs: %v, %v", inner, err)
	}
}

func TestLinks(t *testing.T) {
	f, shop, _ := open(t)
	must(t, f.Link("/inside.txt", "/second.txt"))
	a, err := os.Stat(filepath.Join(shop, "inside.txt"))
	must(t, err)
	b, err := os.Stat(filepath.Join(shop, "second.txt"))
	must(t, err)
	if !os.SameFile(a, b) {
		t.Error("the two names are not of one file")
	}
	if err := f.Link("inside.txt", "second.txt"); !errors.Is(err, fs.ErrExist) {
		t.Errorf("Link onto a name that is there: %v", err)
	}
	symlink(t, "inside.txt", filepath.Join(shop, "soft"))
	info, asked, err := f.LstatIfPossible("soft")
	if err != nil || !asked || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("lstat: %v, %v, %v", info, asked, err)
	}
	if got, err := afero.ReadFile(f, "soft"); err != nil || string(got) != "inside" {
		t.Errorf("a link that stays inside: %q, %v", got, err)
	}
	must(t, f.SymlinkIfPossible("../elsewhere", "far"))
	if got, err := f.ReadlinkIfPossible("far"); err != nil || filepath.ToSlash(got) != "../elsewhere" {
		t.Errorf("readlink: %q, %v", got, err)
	}
}

func TestFlushAndSyncDir(t *testing.T) {
	f, _, _ := open(t)
	if err := f.Flush(); err != nil && (runtime.GOOS == "linux" || !errors.Is(err, errors.ErrUnsupported)) {
		t.Errorf("flush: %v", err)
	}
	if err := f.SyncDir("/"); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		t.Errorf("sync: %v", err)
	}
	if err := f.SyncDir("none"); err == nil {
		t.Error("a folder that is not there was synced")
	}
}

func TestLock(t *testing.T) {
	f, shop, _ := open(t)
	again, err := rooted.Open(shop)
	must(t, err)
	defer func() { must(t, again.Close()) }()
	release, err := f.Lock("busy")
	must(t, err)
	for _, other := range []*rooted.FS{f, again} {
		if _, err := other.Lock("busy"); !errors.Is(err, rooted.ErrLocked) {
			t.Errorf("a second lock: %v", err)
		}
	}
	must(t, release())
	names, err := afero.ReadDir(f, ".")
	must(t, err)
	if slices.ContainsFunc(names, func(i fs.FileInfo) bool { return i.Name() == "busy" }) {
		t.Error("the lock's file was left behind")
	}
	must(t, afero.WriteFile(f, "busy", nil, 0o644)) // as a killed process leaves it
	release, err = again.Lock("busy")
	must(t, err)
	must(t, release())
	must(t, f.Mkdir("folder", 0o755))
	if _, err := f.Lock("folder"); err == nil || errors.Is(err, rooted.ErrLocked) {
		t.Errorf("a folder as a lock: %v", err)
	}
}

// TestLockHoldsOneAtATime hands the lock about while its file comes and goes.
func TestLockHoldsOneAtATime(t *testing.T) {
	f, _, _ := open(t)
	const workers, rounds = 4, 50
	inside := make(chan struct{}, 1) // full while one is at work
	done := make(chan error, workers)
	for range workers {
		go func() { done <- takeTurns(f, inside, rounds) }()
	}
	for range workers {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
}

func takeTurns(f *rooted.FS, inside chan struct{}, rounds int) error {
	for turns := 0; turns < rounds; {
		release, err := f.Lock("turn")
		if errors.Is(err, rooted.ErrLocked) {
			runtime.Gosched()
			continue
		}
		if err != nil {
			return err
		}
		select {
		case inside <- struct{}{}:
		default:
			return errors.Join(errors.New("two held the lock at once"), release())
		}
		runtime.Gosched()
		<-inside
		if err := release(); err != nil {
			return err
		}
		turns++
	}
	return nil
}
