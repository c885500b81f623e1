package output_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// A folder is one on the disk, all of it older than the disk's clock is coarse.
type folder struct {
	*testing.T
	dir string
	fs  *rooted.FS
}

func newFolder(t *testing.T) folder {
	t.Helper()
	dir := t.TempDir()
	fs, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = fs.Close() })
	f := folder{t, dir, fs}
	f.write("shop.md", "shop: Test")
	f.write("machines/harrow/machine.md", "name: Harrow")
	f.write("machines/harrow/a.md", "title: A")
	f.write("machines/harrow-2/machine.md", "name: Other")
	return f
}

func (f folder) path(name string) string { return filepath.Join(f.dir, filepath.FromSlash(name)) }

func (f folder) write(name, text string) {
	f.Helper()
	if err := os.MkdirAll(filepath.Dir(f.path(name)), 0o755); err != nil {
		f.Fatal(err)
	}
	if err := os.WriteFile(f.path(name), []byte(text), 0o600); err != nil {
		f.Fatal(err)
	}
}

func (f folder) do(err error) {
	f.Helper()
	if err != nil {
		f.Fatal(err)
	}
}

// look looks until what was written shows in the times: at most as long as the
// coarsest disk needs.
func (f folder) look() output.Snapshot {
	f.Helper()
	for range 400 {
		s, err := output.TakeSnapshot(f.fs, ".", nil)
		if err != nil {
			f.Fatal(err)
		}
		if s.Digest() != "" {
			return s
		}
		time.Sleep(10 * time.Millisecond)
	}
	f.Fatal("the disk's times never tell")
	return output.Snapshot{}
}

func TestDigestTellsEveryChange(t *testing.T) {
	old := time.Date(2020, 5, 4, 3, 2, 1, 0, time.UTC)
	for _, c := range []struct {
		name   string
		change func(f folder)
		same   bool
	}{
		{"nothing", func(folder) {}, true},
		{"read", func(f folder) { _, err := os.ReadFile(f.path("shop.md")); f.do(err) }, true},
		{"longer", func(f folder) { f.write("shop.md", "shop: Longer") }, false},
		{"the same length", func(f folder) { f.write("shop.md", "shop: Tess") }, false},
		{"the same bytes again", func(f folder) { f.write("shop.md", "shop: Test") }, false},
		{"a new file", func(f folder) { f.write("machines/harrow/b.md", "") }, false},
		{"an empty folder", func(f folder) { f.do(os.Mkdir(f.path("machines/none"), 0o755)) }, false},
		{"a file gone", func(f folder) { f.do(os.Remove(f.path("machines/harrow/a.md"))) }, false},
		{"renamed", func(f folder) { f.do(os.Rename(f.path("machines/harrow/a.md"), f.path("machines/harrow/b.md"))) }, false},
		{"a file in place of a folder", func(f folder) {
			f.do(os.RemoveAll(f.path("machines/harrow-2")))
			f.write("machines/harrow-2", "")
		}, false},
		{"another file with the old date", func(f folder) {
			f.write("other", "title: B")
			f.do(os.Chtimes(f.path("other"), old, old))
			f.do(os.Rename(f.path("other"), f.path("machines/harrow/a.md")))
		}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := newFolder(t)
			f.do(os.Chtimes(f.path("machines/harrow/a.md"), old, old))
			before := f.look().Digest()
			c.change(f)
			if same := f.look().Digest() == before; same != c.same {
				t.Errorf("taken for the same: %v, want %v", same, c.same)
			}
		})
	}
}

// TestPutBackDateIsFoundOut needs a system that tells when a file was last
// changed in any way, which no program sets by the way.
func TestPutBackDateIsFoundOut(t *testing.T) {
	f := newFolder(t)
	info, err := os.Stat(f.path("shop.md"))
	f.do(err)
	before := f.look().Digest()
	file, err := os.OpenFile(f.path("shop.md"), os.O_WRONLY, 0)
	f.do(err)
	_, err = file.WriteAt([]byte("L"), 6)
	f.do(err)
	f.do(file.Close())
	f.do(os.Chtimes(f.path("shop.md"), info.ModTime(), info.ModTime()))
	if f.look().Digest() == before {
		t.Error("a file that was changed and given its old date is taken for unchanged")
	}
}

func TestFreshFileHasNoDigest(t *testing.T) {
	f := newFolder(t)
	later := time.Now().Add(time.Hour)
	f.do(os.Chtimes(f.path("shop.md"), later, later))
	s, err := output.TakeSnapshot(f.fs, ".", nil)
	f.do(err)
	if s.Digest() != "" || s.Key("shop.md") != "" {
		t.Error("a file from the future is believed")
	}
	f.do(os.Remove(f.path("shop.md")))
	if s = f.look(); s.Key("machines/harrow/a.md") == "" || s.Key("machines/harrow/a.md") == s.Key("machines/harrow-2/machine.md") {
		t.Error("two files in one state")
	}
}

// TestOldDateOnAFreshFile: a file that was changed just now is not believed, whatever
// date it was given.
func TestOldDateOnAFreshFile(t *testing.T) {
	f := newFolder(t)
	f.look()
	for range 50 { // a machine under load may take longer than the disk's clock needs
		f.do(os.Chtimes(f.path("shop.md"), time.Unix(0, 0), time.Unix(0, 0)))
		s, err := output.TakeSnapshot(f.fs, ".", nil)
		f.do(err)
		if s.Digest() == "" && s.Key("shop.md") == "" {
			return
		}
	}
	t.Error("a file with an old date is believed at once")
}

// TestFileThatCameAndWent leaves a folder's own dates behind, which do not count: what
// lies in it is seen for itself.
func TestFileThatCameAndWent(t *testing.T) {
	f := newFolder(t)
	before := f.look()
	f.write("machines/harrow/x.md", "")
	f.do(os.Remove(f.path("machines/harrow/x.md")))
	if after := f.look(); after.Digest() != before.Digest() || len(after.Changed(before, func(string) bool { return false })) > 0 {
		t.Error("nothing is there that was not there before, and it is taken for changed")
	}
}

func TestLinkHasNoDigest(t *testing.T) {
	f := newFolder(t)
	symlink(t, "shop.md", f.path("link.md"))
	time.Sleep(50 * time.Millisecond)
	s, err := output.TakeSnapshot(f.fs, ".", nil)
	f.do(err)
	if s.Digest() != "" || s.Key("link.md") != "" {
		t.Error("a link is believed, whatever it leads to")
	}
}

func TestParts(t *testing.T) {
	f := newFolder(t)
	f.write("machines/stray.md", "")
	s := f.look()
	parts := s.Folders("machines")
	if len(parts) != 2 {
		t.Fatalf("%d folders", len(parts))
	}
	before := map[string]string{"harrow": parts["harrow"].Digest(), "harrow-2": parts["harrow-2"].Digest()}
	f.write("machines/harrow/a.md", "title: C")
	s = f.look()
	parts = s.Folders("machines")
	if parts["harrow"].Digest() == before["harrow"] || parts["harrow-2"].Digest() != before["harrow-2"] {
		t.Error("the change is not where it was made")
	}
	rest := s.Part(func(name string) bool { return name == "shop.md" })
	if all := rest.Files(); len(all) != 1 || all[0].Path != "shop.md" {
		t.Errorf("the part holds %v", all)
	}
	f.write("machines/harrow/a.md", "title: D")
	if again := f.look().Part(func(name string) bool { return name == "shop.md" }); again.Digest() != rest.Digest() {
		t.Error("a part changed that was not touched")
	}
}

func TestChanged(t *testing.T) {
	f := newFolder(t)
	before := f.look()
	f.write("machines/harrow/a.md", "title: longer")
	f.write("machines/harrow/b.md", "")
	f.write("machines/harrow/.b.md.swp", "")
	f.do(os.Remove(f.path("shop.md")))
	f.do(os.RemoveAll(f.path("machines/harrow-2")))
	moved := f.look().Changed(before, func(name string) bool { return filepath.Base(name)[0] == '.' })
	if want := []string{"machines/harrow-2", "machines/harrow-2/machine.md", "machines/harrow/a.md", "machines/harrow/b.md", "shop.md"}; !slices.Equal(moved, want) {
		t.Errorf("got %q, want %q", moved, want)
	}
	if moved := before.Changed(f.look(), func(name string) bool { return filepath.Base(name)[0] == '.' || name == "shop.md" }); slices.Contains(moved, "machines/harrow/.b.md.swp") || slices.Contains(moved, "shop.md") || len(moved) != 4 {
		t.Errorf("the other way round: %q", moved)
	}
	if moved := f.look().Changed(f.look(), func(string) bool { return false }); len(moved) > 0 {
		t.Errorf("two looks at the same: %q", moved)
	}
}

// TestEveryFileSystem holds what is seen through the system's own calls, and through
// afero alone (plain is a rooted folder without its abilities), against afero's walk.
func TestEveryFileSystem(t *testing.T) {
	f := newFolder(t)
	for _, name := range []string{"a.md", "a/x.md", "a b/c.md", "a-/c.md", "a0/c", "Ä/ö.md", ".hidden/x", "deep/er/and/deep/er/x", "link/x"} {
		f.write(name, name)
	}
	for name, target := range map[string]string{"a/loop": "..", "a/out": os.TempDir(), "nothing": "none"} {
		symlink(t, target, f.path(name))
	}
	type plain struct{ afero.Fs }
	skip := func(name string) bool { return name == "harrow-2" || name == "shop.md" || name == "deep/er" }
	for _, dir := range []string{".", "machines", "a"} {
		var want []string
		f.do(afero.Walk(f.fs, dir, func(name string, info os.FileInfo, err error) error {
			name = strings.TrimPrefix(filepath.ToSlash(name), dir+"/")
			switch {
			case err != nil || name == dir:
				return err
			case skip(name) && info.IsDir():
				return filepath.SkipDir
			case !skip(name):
				want = append(want, name)
			}
			return nil
		}))
		slices.Sort(want)
		for _, fsys := range []afero.Fs{f.fs, plain{f.fs}} {
			s, err := output.TakeSnapshot(fsys, dir, skip)
			f.do(err)
			var got []string
			for _, file := range s.Files() {
				got = append(got, file.Path)
			}
			if !slices.Equal(got, want) || len(got) < 3 {
				t.Errorf("%s: got %q, want %q", dir, got, want)
			}
		}
	}
	for _, fsys := range []afero.Fs{f.fs, plain{f.fs}} {
		if _, err := output.TakeSnapshot(fsys, "none", nil); !os.IsNotExist(err) {
			t.Errorf("a folder that is not there: %v", err)
		}
		for _, dir := range []string{"shop.md", "a/out", ".."} {
			if s, err := output.TakeSnapshot(fsys, dir, nil); err == nil {
				t.Errorf("%s: %v", dir, s.Files())
			}
		}
	}
}

// TestSnapshotWhileFoldersComeAndGo looks while folders are made, removed, and
// swapped for links that lead out.
func TestSnapshotWhileFoldersComeAndGo(t *testing.T) {
	f, outside := newFolder(t), t.TempDir()
	f.do(os.WriteFile(filepath.Join(outside, "secret"), nil, 0o600))
	stop := make(chan struct{})
	var gardener sync.WaitGroup
	gardener.Go(func() {
		for i := 0; ; i = (i + 1) % 20 {
			select {
			case <-stop:
				return
			default:
			}
			// What fails here is what the snapshot has to live with.
			photos, next := f.path(fmt.Sprintf("m/%d/photos", i)), f.path(fmt.Sprintf("m/%d", (i+10)%20))
			_ = os.MkdirAll(photos, 0o755)
			_ = os.WriteFile(filepath.Join(photos, "x.md"), nil, 0o600)
			_ = os.RemoveAll(next)
			if i%3 == 0 {
				_ = os.Symlink(outside, next)
			}
		}
	})
	for range 100 {
		s, err := output.TakeSnapshot(f.fs, ".", nil)
		if err != nil {
			t.Error(err)
		}
		for _, file := range s.Files() {
			if strings.Contains(file.Path, "secret") {
				t.Errorf("it led outside: %s", file.Path)
			}
		}
	}
	close(stop)
	gardener.Wait()
}

// TestAfter: what the run itself wrote is seen anew, and nothing else is.
func TestAfter(t *testing.T) {
	f := newFolder(t)
	before := f.look()
	f.write("machines/harrow/a.md", "title: written by the run")
	f.write("machines/new/b.md", "so is this")
	f.do(os.RemoveAll(f.path("machines/harrow-2")))
	moment := time.Now()
	mine := []string{"machines/harrow/a.md", "machines/new/b.md", "machines/harrow-2/machine.md"}
	time.Sleep(50 * time.Millisecond)
	after := func() string {
		s, err := before.After(f.fs, ".", mine, moment)
		f.do(err)
		return s.Digest()
	}
	if got, want := after(), f.look().Digest(); got != want || got == "" {
		t.Errorf("got %q, want %q", got, want)
	}
	f.write("shop.md", "shop: by somebody else")
	if got, now := after(), f.look().Digest(); got == now || got == "" {
		t.Errorf("what somebody else wrote meanwhile is taken for the run's: %q", got)
	}
	time.Sleep(50 * time.Millisecond)
	f.write("machines/new/b.md", "by somebody else")
	time.Sleep(50 * time.Millisecond)
	if got := after(); got != "" {
		t.Error("what was written over after the run is taken for the run's")
	}
}

// TestAfterAFreshLook: what was too young to be told apart before stays so.
func TestAfterAFreshLook(t *testing.T) {
	f := newFolder(t)
	f.look()
	f.write("shop.md", "shop: young")
	before, err := output.TakeSnapshot(f.fs, ".", nil)
	f.do(err)
	time.Sleep(50 * time.Millisecond)
	after, err := before.After(f.fs, ".", []string{"machines/harrow/a.md"}, time.Now())
	f.do(err)
	if after.Digest() != "" {
		t.Error("a file that was seen too young is believed")
	}
}

// TestKeyOfOneFile is what a look at the folder gives; what is no file, or was written
// only now, has none, so nothing is remembered of it.
func TestKeyOfOneFile(t *testing.T) {
	f := newFolder(t)
	s := f.look()
	for _, name := range []string{"shop.md", "machines/harrow/a.md"} {
		if got, want := output.FileKey(f.fs, name), s.Key(name); got != want || got == "" {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	mem := afero.NewMemMapFs() // which does not tell when a file was changed
	old, soon := time.Now().Add(-time.Hour), time.Now().Add(time.Hour)
	for name, written := range map[string]time.Time{"old": old, "older": old.Add(-time.Second), "soon": soon} {
		f.do(afero.WriteFile(mem, name, nil, 0o600))
		f.do(mem.Chtimes(name, written, written))
	}
	f.do(mem.Mkdir("folder", 0o755))
	if a, b := output.FileKey(mem, "old"), output.FileKey(mem, "older"); a == "" || b == "" || a == b {
		t.Errorf("two old files: %q and %q", a, b)
	}
	for _, none := range []string{"gone", "folder", "soon"} {
		if key := output.FileKey(mem, none); key != "" {
			t.Errorf("%s: got %q", none, key)
		}
	}
	all, err := output.TakeSnapshot(mem, ".", nil)
	f.do(err)
	for _, none := range []string{"gone", "folder", "soon", "", "zzz"} {
		if key := all.Key(none); key != "" {
			t.Errorf("%s: got %q", none, key)
		}
	}
}

// TestKeyIsThatOfALook: a disk that describes files in its own way, as Windows does, is
// asked in that way for one file as for all.
func TestKeyIsThatOfALook(t *testing.T) {
	mem := describer{afero.NewMemMapFs()}
	write(t, mem, "a.md", "")
	old := time.Now().Add(-time.Hour)
	must(t, mem.Chtimes("a.md", old, old))
	s, err := output.TakeSnapshot(mem, ".", nil)
	must(t, err)
	if got, want := output.FileKey(mem, "a.md"), s.Key("a.md"); got != want || got == "" {
		t.Errorf("got %q, want %q", got, want)
	}
	if plain := output.FileKey(mem.Fs, "a.md"); plain == s.Key("a.md") {
		t.Error("both ways tell the same; nothing was tried")
	}
}

type describer struct{ afero.Fs }

type described struct{ fs.FileInfo }

func (d described) ModTime() time.Time { return d.FileInfo.ModTime().Add(-time.Minute) }

func (d describer) Describe(name string) (fs.FileInfo, error) {
	info, err := d.Stat(name)
	return described{info}, err
}

func (d describer) List(dir string) ([]fs.FileInfo, error) {
	infos, err := afero.ReadDir(d.Fs, dir)
	for n := range infos {
		infos[n] = described{infos[n]}
	}
	return infos, err
}

// TestNameAndModeArePartOfTheDigest, also where the system does not tell when a file was
// changed.
func TestNameAndModeArePartOfTheDigest(t *testing.T) {
	digest := func(name string, mode fs.FileMode) string {
		mem, old := afero.NewMemMapFs(), time.Unix(1<<30, 0)
		write(t, mem, name, "")
		must(t, mem.Chmod(name, mode))
		must(t, mem.Chtimes(name, old, old))
		s, err := output.TakeSnapshot(mem, ".", nil)
		must(t, err)
		return s.Digest()
	}
	want := digest("a.md", 0o644)
	if want == "" || want != digest("a.md", 0o644) {
		t.Errorf("the same twice: %q", want)
	}
	for _, other := range []string{digest("a.md", 0o600), digest("b.md", 0o644)} {
		if other == want || other == "" {
			t.Errorf("another file: %q", other)
		}
	}
}

// TestSnapshotReadsNoFile: a look at ten thousand photos opens none.
func TestSnapshotReadsNoFile(t *testing.T) {
	mem := afero.NewMemMapFs()
	for n := range 20 {
		write(t, mem, fmt.Sprintf("machines/%d/a.md", n), "a")
		write(t, mem, fmt.Sprintf("machines/%d.md", n), "a")
	}
	plan := &testenv.Plan{Hook: func(op, name string) {
		if op == "read" && strings.HasSuffix(name, ".md") {
			t.Errorf("it opens %s", name)
		}
	}}
	s, err := output.TakeSnapshot(plan.Over(mem), ".", nil)
	if must(t, err); len(s.Files()) != 61 {
		t.Errorf("it saw %d files", len(s.Files()))
	}
}

// TestFaultAfter: a file that cannot be looked at anew is told, and one that was written
// at the very moment is the run's own.
func TestFaultAfter(t *testing.T) {
	mem := afero.NewMemMapFs()
	moment := time.Now().Add(-time.Hour)
	write(t, mem, "a.md", "")
	must(t, mem.Chtimes("a.md", moment, moment))
	s, err := output.TakeSnapshot(mem, ".", nil)
	must(t, err)
	if _, err := s.After(failing("stat", "a.md", 1).Over(mem), ".", []string{"a.md"}, moment); !errors.Is(err, testenv.ErrFault) {
		t.Errorf("got %v", err)
	}
	for late, known := range map[time.Duration]bool{-1: true, 0: true, 1: false} {
		must(t, mem.Chtimes("a.md", moment.Add(late), moment.Add(late)))
		after, err := s.After(mem, ".", []string{"a.md"}, moment)
		if must(t, err); (after.Digest() != "") != known {
			t.Errorf("written %d ns after the moment: %q", late, after.Digest())
		}
	}
}

// TestFolderThatCannotBeListed: one that went meanwhile, or that this user may not look
// into, is taken for empty; any other fault of the disk is told, and so is each that the
// first folder gives.
func TestFolderThatCannotBeListed(t *testing.T) {
	away := func(fsys afero.Fs) { _ = fsys.RemoveAll("top/in") } // the test sees what comes of it
	swap := func(fsys afero.Fs) { away(fsys); _ = afero.WriteFile(fsys, "top/in", nil, 0o644) }
	for name, c := range map[string]struct {
		folder   string
		listing  error // what listing it gives
		looking  error // what a look at it gives then
		meantime func(fsys afero.Fs)
		want     error
	}{
		"a fault":                  {"top/in", testenv.ErrFault, nil, nil, testenv.ErrFault},
		"a fault, and then gone":   {"top/in", testenv.ErrFault, nil, away, nil},
		"a fault, and now a file":  {"top/in", testenv.ErrFault, nil, swap, nil},
		"a fault, and another":     {"top/in", testenv.ErrFault, fs.ErrInvalid, nil, testenv.ErrFault},
		"gone":                     {"top/in", fs.ErrNotExist, nil, nil, nil},
		"shut":                     {"top/in", fs.ErrPermission, nil, nil, nil},
		"the first with a fault":   {"top", testenv.ErrFault, nil, nil, testenv.ErrFault},
		"the first is not there":   {"top", fs.ErrNotExist, nil, nil, fs.ErrNotExist},
		"the first is shut":        {"top", fs.ErrPermission, nil, nil, fs.ErrPermission},
		"the last with a fault":    {"top/in/deep", testenv.ErrFault, nil, nil, testenv.ErrFault},
		"nothing wrong at all":     {"", nil, nil, nil, nil},
		"the last may not be seen": {"top/in/deep", fs.ErrPermission, nil, nil, nil},
	} {
		for _, cores := range []int{1, 4} { // one makes it one folder after the other
			t.Run(fmt.Sprint(name, ", cores: ", cores), func(t *testing.T) {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
				mem := afero.NewMemMapFs()
				write(t, mem, "top/in/deep/x.md", "")
				write(t, mem, "top/out/y.md", "")
				plan := &testenv.Plan{Answer: func(op, on string) error {
					switch on = filepath.ToSlash(on); {
					case on != c.folder:
						return nil
					case op == "stat":
						return c.looking
					case c.meantime != nil:
						c.meantime(mem)
					}
					return c.listing
				}}
				s, err := output.TakeSnapshot(plan.Over(mem), "top", nil)
				if !errors.Is(err, c.want) {
					t.Errorf("got %v, want %v", err, c.want)
				}
				var seen []string
				for _, file := range s.Files() {
					seen = append(seen, file.Path)
				}
				if err == nil && (!slices.Contains(seen, "out/y.md") || slices.Contains(seen, "in/deep/x.md") != (c.folder == "")) {
					t.Errorf("seen: %q", seen)
				}
			})
		}
	}
}
