package output_test

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/testenv"
)

// TestFiles: the files that stand are told with their sizes and digests, in order; what
// somebody else put there, an unfinished site and none at all are not.
func TestFiles(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		if all, err := output.Files(fsys, "site"); !errors.Is(err, output.ErrNoSite) {
			t.Errorf("no site: %v, %v", all, err)
		}
		mustSet(t, fsys, site{"index.html": "front", "b/two.html": "", "a.html": "one"})
		write(t, fsys, "site/mine.txt", "mine")
		all, err := output.Files(fsys, "site")
		must(t, err)
		want := []output.File{
			{Path: "a.html", Size: 3, Sum: sha256.Sum256([]byte("one"))},
			{Path: "b/two.html", Size: 0, Sum: sha256.Sum256(nil)},
			{Path: "index.html", Size: 5, Sum: sha256.Sum256([]byte("front"))},
		}
		if diff := cmp.Diff(want, all); diff != "" {
			t.Errorf("(-want, +got):\n%s", diff)
		}
		text, err := afero.ReadFile(fsys, theManifest)
		must(t, err)
		write(t, fsys, theManifest, strings.Replace(string(text), "manifest 1", "manifest 1 unfinished", 1))
		if all, err := output.Files(fsys, "site"); !errors.Is(err, output.ErrNoSite) {
			t.Errorf("unfinished: %v, %v", all, err)
		}
		write(t, fsys, theManifest, string(text[:len(text)/2]))
		var refusal *output.Refusal
		if all, err := output.Files(fsys, "site"); !errors.As(err, &refusal) {
			t.Errorf("a damaged list: %v, %v", all, err)
		}
	})
}

// TestIdle: a site is at rest where it stands and no run is at work on it.
func TestIdle(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, d disk) {
		idle := func(want bool, when string) {
			t.Helper()
			if got := output.Idle(fsys, "site"); got != want {
				t.Errorf("%s: at rest is %v", when, got)
			}
		}
		idle(false, "nothing there")
		mustSet(t, fsys, winter)
		idle(true, "a site")
		w := mustOpen(t, fsys)
		idle(!d.real, "a run that has only begun") // in memory its lock is no file
		must(t, w.Put("late.html", nil))
		idle(false, "a run at work")
		must(t, w.Abort())
		idle(true, "given up")
		must(t, fsys.Mkdir(".site-asleft-new", 0o755))
		idle(false, "what a killed run left")
	})
}

// TestChangedFiles: after a run its caller knows what it wrote and what it removed.
func TestChangedFiles(t *testing.T) {
	fsys := afero.NewMemMapFs()
	mustSet(t, fsys, site{"index.html": "1", "same.html": "1", "gone.html": "1", "also-gone.html": "1", "c": "", "d": "", "e": "", "f": "", "g": ""})
	w := mustOpen(t, fsys)
	for _, p := range []string{"index.html", "new.html"} {
		must(t, w.Put(p, []byte("2")))
	}
	must(t, w.Put("same.html", []byte("1")))
	_, err := w.Commit()
	must(t, err)
	want := []string{"new.html", "index.html", "also-gone.html", "c", "d", "e", "f", "g", "gone.html"}
	if diff := cmp.Diff(want, w.Changed()); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

// TestKeepAll keeps what is chosen, and tells when one of it is not as it was left.
func TestKeepAll(t *testing.T) {
	fsys := afero.NewMemMapFs()
	mustSet(t, fsys, site{"index.html": "front", "a/1": "1", "a/2": "2", "b/1": "1"})
	inA := func(p string) bool { return strings.HasPrefix(p, "a/") }
	w := mustOpen(t, fsys)
	if !w.KeepAll(inA) {
		t.Error("what is there was not kept")
	}
	must(t, w.Put("index.html", []byte("front")))
	result, err := w.Commit()
	must(t, err)
	if result.Files != 3 || result.Kept != 3 || result.Removed != 1 {
		t.Errorf("got %+v", result)
	}
	write(t, fsys, "site/a/2", "3")
	w = mustOpen(t, fsys)
	if w.KeepAll(inA) {
		t.Error("a file that somebody changed was kept")
	}
	must(t, w.Abort())
}

// TestDiskHoldsWhatIsPutInPlace: before the first file is put in place the disk was told
// to hold all of them, as a whole where it can and each by itself where it cannot; one by
// one only up to an evening's number.
func TestDiskHoldsWhatIsPutInPlace(t *testing.T) {
	for _, c := range []struct {
		what    string
		files   int
		flushes bool
		cannot  error // what it answers to that
		flushed int
		synced  int
	}{
		{"as a whole", 5, true, nil, 1, 0},
		{"one by one", 5, false, nil, 0, 5},
		{"one by one, since this system knows no other way", 5, true, fmt.Errorf("flush: %w", errors.ErrUnsupported), 1, 5},
		{"as many as can be", 256, false, nil, 0, 256},
		{"too many for that", 257, false, nil, 0, 0},
	} {
		flushed, synced, moved := 0, 0, false
		plan := &testenv.Plan{Hook: func(op, name string) {
			name = filepath.ToSlash(name)
			moved = moved || op == "rename" && strings.HasPrefix(name, ".site-asleft-new/")
			if op == "sync" && !moved && strings.HasPrefix(name, ".site-asleft-new/") {
				synced++
			}
		}}
		fsys := plan.Over(afero.NewMemMapFs())
		if c.flushes {
			fsys = flusher{fsys, func() error {
				if !moved {
					flushed++
				}
				return c.cannot
			}}
		}
		w, err := output.Open(fsys, "site", 0)
		must(t, err)
		for n := range c.files {
			must(t, w.Put(fmt.Sprint(n, ".html"), []byte("1")))
		}
		_, err = w.Commit()
		must(t, err)
		if flushed != c.flushed || synced != c.synced || !moved {
			t.Errorf("%s: flushed %d times, synced %d files; %v", c.what, flushed, synced, moved)
		}
	}
}

type flusher struct {
	afero.Fs
	flush func() error
}

func (f flusher) Flush() error { return f.flush() }

// TestDiskThatDoesNotFlush: the old site stays, and the reason is told.
func TestDiskThatDoesNotFlush(t *testing.T) {
	fsys := afero.NewMemMapFs()
	mustSet(t, fsys, winter)
	_, err := set(flusher{fsys, func() error { return testenv.ErrFault }}, spring)
	if !errors.Is(err, testenv.ErrFault) || errors.Is(err, output.ErrUnfinished) || !strings.Contains(err.Error(), "the disk did not take the new pages") {
		t.Errorf("got %v", err)
	}
	checkSite(t, fsys, winter)
}

// TestLocksOfOtherDisks: a disk that cannot lock says why, and one whose file system has
// no name of its own is still held by one run at a time.
func TestLocksOfOtherDisks(t *testing.T) {
	cannot := errors.New("no such call here")
	_, err := output.Open(lockless{afero.NewMemMapFs(), cannot}, "site", time.Minute)
	if !errors.Is(err, cannot) || errors.Is(err, output.ErrAtWork) {
		t.Errorf("got %v", err)
	}
	nameless := struct {
		afero.Fs
		_ []int
	}{Fs: afero.NewMemMapFs()}
	w, err := output.Open(nameless, "site", 0)
	must(t, err)
	if _, err := output.Open(nameless, "site", 0); !errors.Is(err, output.ErrAtWork) {
		t.Errorf("a second run: %v", err)
	}
	must(t, w.Abort())
	here, there := mustOpen(t, afero.NewMemMapFs()), mustOpen(t, afero.NewMemMapFs())
	must(t, errors.Join(here.Abort(), there.Abort()))
}

// TestTurns: what is referred to comes before what refers to it.
func TestTurns(t *testing.T) {
	for p, want := range map[string][2]int{ // when it is new, when an older one stands
		"photos/0a.jpg": {0, 0}, "assets/deep/x.css": {0, 0}, "index.html": {3, 3},
		"photos": {1, 2}, "assets": {1, 2}, "machines/photos/x": {1, 2}, "photos.html": {1, 2}, "machines/index.html": {1, 2},
	} {
		if got := [2]int{output.Turn(p, false), output.Turn(p, true)}; got != want {
			t.Errorf("%s: got %d, want %d", p, got, want)
		}
		if output.NamedByContent(p) != (want[0] == 0) {
			t.Errorf("%s: named by its content is %v", p, output.NamedByContent(p))
		}
	}
}

type lockless struct {
	afero.Fs
	why error
}

func (l lockless) Lock(string) (func() error, error) { return nil, l.why }
