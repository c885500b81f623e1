package entry_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/entry"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// onDisk is a folder on disk with a machine in it.
func onDisk(t *testing.T) (*rooted.FS, string) {
	t.Helper()
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "machines", "harrow"), 0o755); err != nil {
		t.Fatal(err)
	}
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = folder.Close() })
	return folder, dir
}

// unlinked is a disk that knows no second names for a file, and no locks.
type unlinked struct{ afero.Fs }

func folders(t *testing.T) map[string]afero.Fs {
	t.Helper()
	disk, _ := onDisk(t)
	plain, _ := onDisk(t)
	memory := afero.NewMemMapFs()
	if err := memory.MkdirAll("machines/harrow", 0o755); err != nil {
		t.Fatal(err)
	}
	return map[string]afero.Fs{"disk": disk, "disk without links": unlinked{plain}, "memory": memory}
}

// filesIn are the files below a folder with what they hold, hidden ones too.
func filesIn(t *testing.T, folder afero.Fs) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := afero.Walk(folder, ".", func(name string, info fs.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		data, err := afero.ReadFile(folder, name)
		files[path.Clean(filepath.ToSlash(name))] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestNothingIsReplaced(t *testing.T) {
	for name, folder := range folders(t) {
		t.Run(name, func(t *testing.T) {
			if err := entry.New(folder, "machines/saw/machine.md", []byte("one")); err != nil {
				t.Fatal(err)
			}
			for _, again := range []string{"machines/saw/machine.md", "machines/saw/MACHINE.md"} {
				if err := entry.New(folder, again, []byte("two")); !errors.Is(err, entry.ErrTaken) {
					t.Errorf("%s: got %v, want ErrTaken", again, err)
				}
			}
			put(t, folder, "machines/harrow/2026-03-02-Look.md", "mine")
			for n, want := range []string{"2026-03-02-look-2.md", "2026-03-02-look-3.md"} {
				got, err := entry.NewEntry(folder, "harrow", "2026-03-02-look", []byte(fmt.Sprint(n)))
				if err != nil || got != "machines/harrow/"+want {
					t.Errorf("got %q, %v, want %s", got, err, want)
				}
			}
			files := filesIn(t, folder)
			if len(files) != 4 || files["machines/saw/machine.md"] != "one" || files["machines/harrow/2026-03-02-Look.md"] != "mine" {
				t.Errorf("files: %v", files)
			}
		})
	}
}

// Many people write entries of one name at the same moment, each through an
// opening of the folder of their own, as separate programs do.
func TestManyWritersLoseNothing(t *testing.T) {
	folder, dir := onDisk(t)
	const writers, each = 8, 6
	var wg sync.WaitGroup
	var mu sync.Mutex
	wrote := map[string]string{}
	for w := range writers {
		wg.Go(func() {
			own, err := rooted.Open(dir)
			if err != nil {
				t.Error(err)
				return
			}
			defer own.Close()
			for n := range each {
				text := strings.Repeat(fmt.Sprintf("writer %d entry %d\n", w, n), 500)
				name, err := entry.NewEntry(own, "harrow", "2026-03-02-look", []byte(text))
				if err != nil {
					t.Error(err)
				}
				mu.Lock()
				if _, twice := wrote[name]; twice {
					t.Errorf("%s was given out twice", name)
				}
				wrote[name] = text
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	files := filesIn(t, folder)
	if len(files) != writers*each || len(wrote) != writers*each {
		t.Errorf("%d files, %d names, want %d", len(files), len(wrote), writers*each)
	}
	for name, text := range wrote {
		if files[name] != text {
			t.Errorf("%s does not hold what was written", name)
		}
	}
}

func TestBusy(t *testing.T) {
	folder, _ := onDisk(t)
	defer entry.SetPatience(50 * time.Millisecond)()
	release, err := folder.Lock(".asleft-writing")
	if err != nil {
		t.Fatal(err)
	}
	if err := entry.New(folder, "machines/harrow/machine.md", []byte("x")); !errors.Is(err, entry.ErrBusy) {
		t.Errorf("got %v, want ErrBusy", err)
	}
	if err := release(); err != nil {
		t.Fatal(err)
	}
	if err := entry.New(folder, "machines/harrow/machine.md", []byte("x")); err != nil {
		t.Error(err)
	}
}

func TestAFailedWriteLeavesNothing(t *testing.T) {
	for name, fault := range map[string]struct {
		op  string
		err error
	}{
		"full disk":     {"write", syscall.ENOSPC},
		"broken disk":   {"sync", syscall.EIO},
		"refused name":  {"rename", syscall.EACCES},
		"read-only now": {"rename", syscall.EROFS},
	} {
		t.Run(name, func(t *testing.T) {
			disk, _ := onDisk(t)
			plan := &testenv.Plan{Answer: func(op, _ string) error {
				if op == fault.op {
					return fault.err
				}
				return nil
			}}
			f := plan.Over(disk)
			if got, err := entry.NewEntry(f, "harrow", "2026-03-02-look", []byte("text")); !errors.Is(err, fault.err) {
				t.Errorf("got %q, %v, want %v", got, err, fault.err)
			}
			if err := entry.New(f, "machines/new/machine.md", []byte("text")); err == nil {
				t.Error("a new machine was written")
			}
			if there, err := afero.DirExists(disk, "machines/new"); err != nil || there {
				t.Errorf("the folder of the new machine is there: %v, %v", there, err)
			}
			if files := filesIn(t, disk); len(files) != 0 {
				t.Errorf("left behind: %v", files)
			}
		})
	}
}

// Another program, such as a drive's sync, writes the same name.
func TestAConflictIsTold(t *testing.T) {
	disk, _ := onDisk(t)
	plan := &testenv.Plan{Renamed: func(name string) { put(t, disk, name, "theirs") }}
	if _, err := entry.NewEntry(plan.Over(disk), "harrow", "2026-03-02-look", []byte("ours")); !errors.Is(err, entry.ErrChanged) {
		t.Errorf("got %v, want ErrChanged", err)
	}
	if files := filesIn(t, disk); files["machines/harrow/2026-03-02-look.md"] != "theirs" || len(files) != 1 {
		t.Errorf("files: %v", files)
	}
}

func TestNoLinkLeadsOut(t *testing.T) {
	testenv.NeedsLinks(t)
	folder, dir := onDisk(t)
	outside := t.TempDir()
	for _, link := range []string{"machines/harrow/photos", "machines/out"} {
		if err := os.Symlink(outside, filepath.Join(dir, filepath.FromSlash(link))); err != nil {
			t.Fatal(err)
		}
	}
	if _, _, err := entry.KeepPhoto(folder, "harrow", entry.Shot{Data: []byte("x"), Ending: ".jpg"}); err == nil {
		t.Error("a photo went through a link")
	}
	if err := entry.New(folder, "machines/out/machine.md", []byte("x")); err == nil {
		t.Error("a file went through a link")
	}
	if _, err := entry.NewEntry(folder, "../../../etc", "x", []byte("x")); err == nil {
		t.Error("an entry went up")
	}
	if left, err := os.ReadDir(outside); err != nil || len(left) > 0 {
		t.Errorf("outside: %v, %v", left, err)
	}
}
