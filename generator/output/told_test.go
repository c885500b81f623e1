package output_test

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// failing is a plan in which one kind of call on one file fails, from the nth on.
func failing(op, name string, nth int) *testenv.Plan {
	count := 0
	return &testenv.Plan{Answer: func(did, on string) error {
		if did != op || filepath.ToSlash(on) != name {
			return nil
		}
		if count++; count < nth {
			return nil
		}
		return testenv.ErrFault
	}}
}

// TestEachFaultIsToldWithItsFile: an error of the disk says what could not be done to
// which file, and whether the site is in part new.
func TestEachFaultIsToldWithItsFile(t *testing.T) {
	for _, c := range []struct {
		op, name string
		nth      int
		says     string
		part     bool
	}{
		{"removeall", ".site-asleft-new", 1, "cannot remove .site-asleft-new", false},
		{"removeall", ".site-asleft-manifest-new", 1, "cannot remove .site-asleft-manifest-new", false},
		{"stat", "site", 1, "cannot look at site: ", false},
		{"stat", ".site-asleft-manifest", 1, "cannot read .site-asleft-manifest: ", false},
		{"read", ".site-asleft-manifest", 1, "cannot read .site-asleft-manifest: ", false},
		{"read", ".site-asleft-manifest", 2, "cannot read .site-asleft-manifest: ", false},
		{"read", "site", 1, "cannot look into site: ", false},
		{"mkdirall", ".site-asleft-new", 1, "cannot write index.html: ", false},
		{"open", ".site-asleft-new/1", 1, "cannot write index.html: ", false},
		{"write", ".site-asleft-new/2", 1, "cannot write machines/vise/index.html: ", false},
		{"stat", "site/machines/vise/index.html", 1, "cannot look at site/machines/vise/index.html: ", false},
		{"read", ".site-asleft-new/1", 1, "the disk did not take the new pages: ", false},
		{"sync", ".site-asleft-new/2", 1, "the disk did not take the new pages: ", false},
		{"open", ".site-asleft-manifest-new", 1, "cannot write .site-asleft-manifest: ", false},
		{"sync", ".site-asleft-manifest-new", 1, "cannot write .site-asleft-manifest: ", false},
		{"write", ".site-asleft-manifest-new", 1, "cannot write .site-asleft-manifest: ", false},
		{"remove", ".site-asleft-manifest-new", 1, "cannot write .site-asleft-manifest: ", false},
		{"mkdirall", "site/machines/vise", 1, "cannot make the folder site/machines/vise: ", true},
		{"rename", ".site-asleft-new/2", 1, "cannot put site/machines/vise/index.html in place: ", true},
		{"rename", ".site-asleft-new/1", 1, "cannot put site/index.html in place: ", true},
		{"stat", "site/machines/gone", 1, "cannot look at site/machines/gone/index.html: ", true},
		{"remove", "site/machines/gone/index.html", 1, "cannot remove site/machines/gone/index.html: ", true},
		{"read", "site/machines/gone", 1, "cannot remove site/machines/gone: ", true},
		{"remove", "site/machines/gone", 1, "cannot remove site/machines/gone: ", true},
		{"open", ".site-asleft-manifest-new", 2, "cannot write .site-asleft-manifest: ", true},
		{"rename", ".site-asleft-manifest-new", 2, "cannot write .site-asleft-manifest: ", true},
	} {
		t.Run(fmt.Sprint(c.op, " ", strings.ReplaceAll(c.name, "/", " "), " ", c.nth), func(t *testing.T) {
			fsys := afero.NewMemMapFs()
			mustSet(t, fsys, winter)
			before := contents(t, fsys, "site")
			_, err := set(failing(c.op, c.name, c.nth).Over(fsys), spring)
			var refusal *output.Refusal
			if !errors.Is(err, testenv.ErrFault) || errors.As(err, &refusal) {
				t.Fatalf("got %v, want an error of the disk", err)
			}
			if !strings.Contains(err.Error(), c.says) || errors.Is(err, output.ErrUnfinished) != c.part {
				t.Errorf("got %q, want %q, unfinished is %v", err, c.says, c.part)
			}
			if diff := cmp.Diff(before, contents(t, fsys, "site")); diff != "" && !c.part {
				t.Errorf("the site has changed (-before, +after):\n%s", diff)
			}
			mustSet(t, fsys, spring)
			checkSite(t, fsys, spring)
		})
	}
}

// TestOldSiteThatCannotBePutBack is one that an earlier version had set aside.
func TestOldSiteThatCannotBePutBack(t *testing.T) {
	fsys := afero.NewMemMapFs()
	write(t, fsys, ".site-asleft-old/index.html", "old")
	_, err := set(failing("rename", ".site-asleft-old", 1).Over(fsys), winter)
	if !errors.Is(err, testenv.ErrFault) || !strings.Contains(err.Error(), "cannot put the site back in place") {
		t.Errorf("got %v", err)
	}
	checkBeside(t, fsys, ".site-asleft-old")
}

// TestWhatAnEarlierVersionLeftCannotBeRemoved: it is told, and the next run does it.
func TestWhatAnEarlierVersionLeftCannotBeRemoved(t *testing.T) {
	for _, name := range []string{".site-asleft-old", ".site-asleft-spare", ".site-asleft-seen", "site/.asleft-ledger"} {
		fsys := afero.NewMemMapFs()
		earlier(t, fsys)
		swapped(t, fsys)
		_, err := set(failing("removeall", name, 1).Over(fsys), spring)
		if !errors.Is(err, testenv.ErrFault) || !errors.Is(err, output.ErrUnfinished) || !strings.Contains(err.Error(), "cannot remove "+name) {
			t.Errorf("%s: %v", name, err)
		}
		mustSet(t, fsys, spring)
		if exists(fsys, "site/.asleft-ledger") {
			t.Errorf("%s failed, and the old list is still there", name)
		}
	}
}

// TestFileThatCannotBeReadIsMadeAnew has a kept file fail to be opened, then to be
// read, then to be closed: it is not taken for whole.
func TestFileThatCannotBeReadIsMadeAnew(t *testing.T) {
	for nth := 1; ; nth++ {
		fsys := afero.NewMemMapFs()
		mustSet(t, fsys, winter)
		p := failing("read", "site/photos/0a.jpg", nth)
		w := mustOpen(t, p.Over(fsys))
		if w.Keep("photos/0a.jpg") {
			must(t, w.Abort())
			if nth < 4 { // to open, to read and to close
				t.Errorf("call %d failed, and the file was kept", nth)
			}
			return
		}
		must(t, w.Put("photos/0a.jpg", []byte("a photo")))
		result, err := w.Commit()
		must(t, err)
		if result.Written != 1 {
			t.Errorf("call %d failed: %+v", nth, result)
		}
		checkSite(t, fsys, site{"photos/0a.jpg": "a photo"})
	}
}

// TestKeptFileIsReadOnce: to keep it again, or to ask for one that was put, is to look at
// nothing.
func TestKeptFileIsReadOnce(t *testing.T) {
	fsys := afero.NewMemMapFs()
	mustSet(t, fsys, winter)
	looked := 0
	w := mustOpen(t, (&testenv.Plan{Hook: func(string, string) { looked++ }}).Over(fsys))
	must(t, w.Put("index.html", []byte("new")))
	if !w.Keep("photos/0a.jpg") {
		t.Fatal("not kept")
	}
	before := looked
	if !w.Keep("photos/0a.jpg") || w.Keep("index.html") {
		t.Error("the second time it is another answer")
	}
	if looked != before {
		t.Errorf("it looked %d times more", looked-before)
	}
	must(t, w.Abort())
}

// TestNothingNewLeavesTheDiskAlone: a set of files that is there is not even told of
// in a new manifest.
func TestNothingNewLeavesTheDiskAlone(t *testing.T) {
	eachPlan(t, func(t *testing.T, fsys afero.Fs, wrap func(*testenv.Plan) afero.Fs) {
		mustSet(t, fsys, winter)
		var did []string
		mustSet(t, wrap(&testenv.Plan{Hook: func(op, name string) {
			if !slices.Contains([]string{"read", "stat", "lock", "removeall"}, op) {
				did = append(did, op+" "+name)
			}
		}}), winter)
		if len(did) > 0 {
			t.Errorf("it did %q", did)
		}
		checkSite(t, fsys, winter)
	})
}

// eachPlan runs a test on every kind of file system, with a plan to put between.
func eachPlan(t *testing.T, test func(t *testing.T, fsys afero.Fs, wrap func(*testenv.Plan) afero.Fs)) {
	t.Helper()
	for _, d := range disks {
		t.Run(d.name, func(t *testing.T) {
			fsys, wrap := d.make(t)
			test(t, fsys, wrap)
		})
	}
}

// TestSameFilesFinishAnUnfinishedSite: where all files are there already, what is left
// to do is done all the same.
func TestSameFilesFinishAnUnfinishedSite(t *testing.T) {
	for name, spoil := range map[string]func(t *testing.T, fsys afero.Fs, manifest string){
		"killed before the last manifest": func(t *testing.T, fsys afero.Fs, manifest string) {
			write(t, fsys, theManifest, strings.Replace(manifest, "manifest 1", "manifest 1 unfinished", 1))
		},
		"an earlier version ran in between": func(t *testing.T, fsys afero.Fs, manifest string) {
			write(t, fsys, "site/.asleft-ledger", strings.Replace(manifest, "manifest", "ledger", 1))
		},
		"an earlier version made it": func(t *testing.T, fsys afero.Fs, manifest string) {
			must(t, fsys.Remove(theManifest))
			write(t, fsys, "site/.asleft-ledger", strings.Replace(manifest, "manifest", "ledger", 1))
		},
	} {
		t.Run(name, func(t *testing.T) {
			eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
				mustSet(t, fsys, winter)
				text, err := afero.ReadFile(fsys, theManifest)
				must(t, err)
				spoil(t, fsys, string(text))
				if got := mustSet(t, fsys, winter); got.Written+got.Removed != 0 {
					t.Errorf("got %+v", got)
				}
				checkSite(t, fsys, winter)
				if again, err := afero.ReadFile(fsys, theManifest); string(again) != string(text) {
					t.Errorf("the manifest is now %q, %v", again, err)
				}
			})
		})
	}
}

// TestPartlyNewSiteIsNotWhole: after a run that failed between two pages nobody is
// told that a whole site stands there, even where no name is new.
func TestPartlyNewSiteIsNotWhole(t *testing.T) {
	fsys := afero.NewMemMapFs()
	mustSet(t, fsys, site{"index.html": "1", "a.html": "1", "b.html": "1"})
	_, err := set(failing("rename", ".site-asleft-new/3", 1).Over(fsys), site{"a.html": "2", "b.html": "2", "index.html": "2"})
	if !errors.Is(err, output.ErrUnfinished) {
		t.Fatalf("got %v", err)
	}
	if got := contents(t, fsys, "site"); got["a.html"] != "2" || got["index.html"] != "1" {
		t.Fatalf("the run was to fail in the middle: %q", got)
	}
	if files, err := output.Files(fsys, "site"); !errors.Is(err, output.ErrNoSite) {
		t.Errorf("told as whole: %v, %v", files, err)
	}
}

// TestEachFolderIsLookedAtOnce, however many files are put into it or removed from it.
func TestEachFolderIsLookedAtOnce(t *testing.T) {
	fsys, _ := disks[0].make(t)
	many := site{"index.html": "front"}
	for n := range 30 {
		many[fmt.Sprint("machines/many/", n)] = "page"
	}
	for what, s := range map[string]site{"put": many, "removed": {"index.html": "front"}} {
		mustSet(t, fsys, site{"index.html": "front"})
		if what == "removed" {
			mustSet(t, fsys, many)
		}
		calls := map[string]int{}
		mustSet(t, (&testenv.Plan{Hook: func(op, name string) { calls[op+" "+filepath.ToSlash(name)]++ }}).Over(fsys), s)
		for _, call := range []string{"stat site/machines", "stat site/machines/many", "mkdirall site/machines/many", "mkdirall .site-asleft-new"} {
			if calls[call] > 1 || calls[call] == 0 && (what == "put" || strings.HasPrefix(call, "stat")) {
				t.Errorf("%s: %d times %s", what, calls[call], call)
			}
		}
	}
}

// TestWhatIsToGo has the user do something to a page before it is to go: what became
// somebody else's stays, and is no fault.
func TestWhatIsToGo(t *testing.T) {
	const page = "site/machines/gone/index.html"
	for name, c := range map[string]struct {
		change func(t *testing.T, fsys afero.Fs)
		stays  map[string]string
	}{
		"edited":           {func(t *testing.T, fsys afero.Fs) { write(t, fsys, page, "scribble") }, nil},
		"removed":          {func(t *testing.T, fsys afero.Fs) { must(t, fsys.Remove(page)) }, nil},
		"its folder gone":  {func(t *testing.T, fsys afero.Fs) { must(t, fsys.RemoveAll("site/machines/gone")) }, nil},
		"all folders gone": {func(t *testing.T, fsys afero.Fs) { must(t, fsys.RemoveAll("site/machines")) }, nil},
		"an empty folder": {func(t *testing.T, fsys afero.Fs) {
			must(t, fsys.Remove(page))
			must(t, fsys.Mkdir(page, 0o755))
		}, map[string]string{"machines/gone/index.html/": ""}},
		"a folder with a file": {func(t *testing.T, fsys afero.Fs) {
			must(t, fsys.Remove(page))
			write(t, fsys, page+"/mine.txt", "mine")
		}, map[string]string{"machines/gone/index.html/mine.txt": "mine"}},
		"below a file": {func(t *testing.T, fsys afero.Fs) {
			must(t, fsys.RemoveAll("site/machines/gone"))
			write(t, fsys, "site/machines/gone", "mine")
		}, map[string]string{"machines/gone": "mine"}},
	} {
		t.Run(name, func(t *testing.T) {
			eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
				mustSet(t, fsys, site{"index.html": "front", "machines/gone/index.html": "a saw"})
				c.change(t, fsys)
				mustSet(t, fsys, site{"index.html": "front"})
				checkSite(t, fsys, site{"index.html": "front"}, c.stays)
			})
		})
	}
}

// TestLinkToAnEmptyFolderStays where a folder of the site was.
func TestLinkToAnEmptyFolderStays(t *testing.T) {
	dir := t.TempDir()
	fsys, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, fsys.Close()) }()
	mustSet(t, fsys, site{"index.html": "front", "machines/gone.html": "a saw"})
	must(t, fsys.RemoveAll("site/machines"))
	must(t, fsys.Mkdir("mine", 0o755))
	symlink(t, "../mine", filepath.Join(dir, "site", "machines"))
	mustSet(t, fsys, site{"index.html": "front"})
	if got, err := fsys.ReadlinkIfPossible("site/machines"); err != nil || got != filepath.FromSlash("../mine") {
		t.Errorf("the link is %q, %v", got, err)
	}
}

// TestReadOnlyPage: only Windows keeps a file from being replaced that is marked so,
// and there it is said before anything is.
func TestReadOnlyPage(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		must(t, fsys.Chmod(filepath.FromSlash("site/index.html"), 0o444))
		_, err := set(fsys, spring)
		if runtime.GOOS != "windows" {
			must(t, err)
			checkSite(t, fsys, spring)
			return
		}
		if !errors.Is(err, rooted.ErrReadOnly) || !strings.Contains(err.Error(), "cannot put site/index.html in place") {
			t.Errorf("got %v", err)
		}
		checkSite(t, fsys, winter)
		must(t, fsys.Chmod(filepath.FromSlash("site/index.html"), 0o644))
	})
}

// A gauge tells how many are at something at once.
type gauge struct {
	mu        sync.Mutex
	now, most int
}

// take is at it for a while.
func (g *gauge) take() {
	g.mu.Lock()
	g.now++
	g.most = max(g.most, g.now)
	g.mu.Unlock()
	time.Sleep(100 * time.Microsecond)
	g.mu.Lock()
	g.now--
	g.mu.Unlock()
}

// check wants as many at once as there are cores, or fewer.
func (g *gauge) check(t *testing.T) {
	t.Helper()
	if cores := runtime.GOMAXPROCS(0); g.most == 0 || g.most > cores {
		t.Errorf("%d at once, on %d cores", g.most, cores)
	}
}

// A slowDisk takes a while to sync a file and to list a folder.
type slowDisk struct {
	afero.Fs
	syncs, lists *gauge
}

func (s slowDisk) OpenFile(name string, flag int, mode fs.FileMode) (afero.File, error) {
	f, err := s.Fs.OpenFile(name, flag, mode)
	return slowFile{f, s}, err
}

func (s slowDisk) List(dir string) ([]fs.FileInfo, error) {
	s.lists.take()
	return afero.ReadDir(s.Fs, dir)
}

type slowFile struct {
	afero.File
	on slowDisk
}

func (f slowFile) Sync() error {
	f.on.syncs.take()
	return f.File.Sync()
}

// TestFewAtATime: a process may have only so many files and folders open.
func TestFewAtATime(t *testing.T) {
	disk := slowDisk{afero.NewMemMapFs(), new(gauge), new(gauge)}
	pages := site{}
	for n := range 200 {
		pages[fmt.Sprint("machines/", n, "/index.html")] = "page"
	}
	mustSet(t, disk, pages)
	disk.syncs.check(t)
	s, err := output.TakeSnapshot(disk, "site", nil)
	if must(t, err); len(s.Files()) != 401 {
		t.Errorf("it saw %d files", len(s.Files()))
	}
	disk.lists.check(t)
}

// TestOldListOfAnEarlierVersionIsDamaged: of the site that it had set aside, nothing
// is removed on the word of a list that cannot be read, and the new site is there.
func TestOldListOfAnEarlierVersionIsDamaged(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		text, err := afero.ReadFile(fsys, theManifest)
		must(t, err)
		must(t, fsys.Remove(theManifest))
		ledger := strings.Replace(string(text), "manifest", "ledger", 1)
		write(t, fsys, "site/.asleft-ledger", ledger)
		write(t, fsys, ".site-asleft-old/.asleft-ledger", ledger[:len(ledger)/2])
		write(t, fsys, ".site-asleft-old/index.html", winter["index.html"])
		_, err = set(fsys, spring)
		wantRefusal(t, err, ".site-asleft-old/.asleft-ledger", "cannot be read")
		if got := contents(t, fsys, ".site-asleft-old"); len(got) != 2 {
			t.Errorf("of the old site there is %q", got)
		}
		mustSet(t, fsys, spring)
		must(t, fsys.RemoveAll(".site-asleft-old"))
		checkSite(t, fsys, spring)
	})
}

// TestKnownAsBeside tells the names that stand beside a site from all others, and a
// site from other folders.
func TestKnownAsBeside(t *testing.T) {
	for name, want := range map[string]bool{
		output.Beside("site", "cache"): true, output.Beside("", "x"): true,
		"site": false, ".site": false, "site-asleft-cache": false, ".git": false, "my-asleft-notes": false,
	} {
		if got := output.IsBeside(name); got != want {
			t.Errorf("%q: %v", name, got)
		}
	}
	fsys := afero.NewMemMapFs()
	write(t, fsys, "mine/index.html", "mine")
	mustSet(t, fsys, winter)
	write(t, fsys, "earlier/.asleft-ledger", "")
	for name, want := range map[string]bool{"site": true, "earlier": true, "mine": false, "none": false} {
		if got := output.IsSite(fsys, name); got != want {
			t.Errorf("%q is a site: %v", name, got)
		}
	}
}

// TestWhoseFolder: a folder is ours where it holds one of our files as we left it, or
// where a run had only just announced what it would write.
func TestWhoseFolder(t *testing.T) {
	for name, c := range map[string]struct {
		files      site
		unfinished bool
		holds      string // of the refusal; "" where it is ours
	}{
		"one page of ours":                    {site{"index.html": "front", "mine": ""}, false, ""},
		"nothing at all":                      {nil, false, ""},
		"none of ours":                        {site{"mine": ""}, false, "(mine)"},
		"three files":                         {site{"1": "", "2": "", "3": ""}, false, "(1, 2, 3)"},
		"four files":                          {site{"1": "", "2": "", "3": "", "4": ""}, false, "(1, 2, 3, and more)"},
		"announced, nothing in place":         {site{"CNAME": "shop.example"}, true, ""},
		"announced, another's page of a name": {site{"CNAME": "shop.example", "index.html": "mine"}, true, "(CNAME, index.html)"},
	} {
		t.Run(name, func(t *testing.T) {
			eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
				mustSet(t, fsys, site{"index.html": "front", "a.html": "a"})
				must(t, fsys.RemoveAll("site"))
				must(t, fsys.Mkdir("site", 0o755))
				for p, content := range c.files {
					write(t, fsys, "site/"+p, content)
				}
				if c.unfinished {
					text, err := afero.ReadFile(fsys, theManifest)
					must(t, err)
					write(t, fsys, theManifest, strings.Replace(string(text), "manifest 1", "manifest 1 unfinished", 1))
				}
				w, err := output.Open(fsys, "site", 0)
				if c.holds != "" {
					wantRefusal(t, err, "site", c.holds)
					return
				}
				must(t, err)
				must(t, w.Abort())
			})
		})
	}
}
