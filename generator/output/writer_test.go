package output_test

import (
	"errors"
	"fmt"
	"io/fs"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/output"
)

var (
	winter = site{
		"index.html":                 "the shop in winter",
		"machines/harrow/index.html": "a tiller",
		"machines/gone/index.html":   "a saw",
		"photos/0a.jpg":              "a photo",
		"assets/empty.css":           "",
	}
	spring = site{
		"index.html":                 "the shop in spring",
		"machines/harrow/index.html": "a tiller",
		"machines/vise/index.html":   "a vise",
		"photos/0a.jpg":              "keep:a photo",
		"assets/empty.css":           "",
	}
	foreign = map[string]string{
		"CNAME":                     "shop.example",
		"docs/deep/notes.txt":       "notes",
		"machines/gone/by-hand.txt": "kept by hand",
		"empty/":                    "",
	}
)

// addForeign puts the foreign files into the site as a user would.
func addForeign(t *testing.T, fsys afero.Fs) {
	t.Helper()
	for p, c := range foreign {
		if dir, ok := strings.CutSuffix(p, "/"); ok {
			must(t, fsys.MkdirAll("site/"+dir, 0o755))
			continue
		}
		write(t, fsys, "site/"+p, c)
	}
}

func TestFirstSameAndChangedSite(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		got := mustSet(t, fsys, winter)
		if want := (output.Result{Files: 5, Written: 5, Bytes: 18 + 8 + 5 + 7}); got != want {
			t.Errorf("first: got %+v, want %+v", got, want)
		}
		checkSite(t, fsys, winter)

		before := stamps(t, fsys)
		got = mustSet(t, fsys, winter)
		if want := (output.Result{Files: 5, Kept: 5, Bytes: 38}); got != want {
			t.Errorf("same: got %+v, want %+v", got, want)
		}
		if diff := cmp.Diff(before, stamps(t, fsys)); diff != "" {
			t.Errorf("the same files were written again (-before, +after):\n%s", diff)
		}

		got = mustSet(t, fsys, spring)
		if want := (output.Result{Files: 5, Written: 2, Kept: 3, Removed: 1, Bytes: 18 + 8 + 6 + 7}); got != want {
			t.Errorf("changed: got %+v, want %+v", got, want)
		}
		checkSite(t, fsys, spring)
	})
}

func TestEmptyFolderIsTaken(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, d disk) {
		must(t, fsys.Mkdir("site", 0o750))
		mustSet(t, fsys, winter)
		checkSite(t, fsys, winter)
		info, err := fsys.Stat("site")
		must(t, err)
		if d.real && runtime.GOOS != "windows" && info.Mode().Perm() != 0o750 { // which knows read-only and nothing else
			t.Errorf("the folder's mode became %v", info.Mode())
		}
	})
}

func TestSameInputSameBytes(t *testing.T) {
	var first map[string]string
	eachDisk(t, func(t *testing.T, fsys afero.Fs, d disk) {
		if d.real {
			mustSet(t, fsys, winter) // another past
		}
		mustSet(t, fsys, spring)
		got := contents(t, fsys, "site")
		if first == nil {
			first = got
		}
		if diff := cmp.Diff(first, got); diff != "" {
			t.Errorf("(-first, +this):\n%s", diff)
		}
	})
}

func TestHandEditedAndDeletedPagesAreMadeAnew(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		write(t, fsys, "site/machines/harrow/index.html", "a tilled") // as long as the page
		must(t, fsys.Remove("site/machines/gone/index.html"))
		if got := mustSet(t, fsys, winter); got.Written != 2 || got.Kept != 3 {
			t.Errorf("got %+v", got)
		}
		checkSite(t, fsys, winter)
	})
}

func TestKeep(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, site{"photos/good": "good", "photos/edited": "sound", "photos/short": "short", "photos/gone": "gone", "photos/dir": "dir"})
		write(t, fsys, "site/photos/edited", "wound")
		write(t, fsys, "site/photos/short", "shor")
		write(t, fsys, "site/photos/foreign", "foreign")
		must(t, fsys.Remove("site/photos/gone"))
		must(t, fsys.Remove("site/photos/dir"))
		must(t, fsys.Mkdir("site/photos/dir", 0o755))
		w, err := output.Open(fsys, "site", time.Minute)
		must(t, err)
		defer func() { must(t, w.Abort()) }()
		for _, p := range []string{"edited", "short", "gone", "dir", "foreign", "none", "../photos/good", "good/", "GOOD"} {
			if w.Keep("photos/" + p) {
				t.Errorf("photos/%s was kept", p)
			}
		}
		for range 2 {
			if !w.Keep("photos/good") {
				t.Error("photos/good was not kept")
			}
		}
		must(t, w.Put("photos/SHORT", nil))
		write(t, fsys, "site/photos/short", "short")
		if w.Keep("photos/short") {
			t.Error("two files were taken of which some systems would make one")
		}
		must(t, w.Put("photos/edited", []byte("sound")))
		if w.Keep("photos/edited") {
			t.Error("a file that was Put was kept too")
		}
		wantRefusal(t, w.Put("photos/good", []byte("good")), "photos/good")
	})
}

func TestAbort(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		before := stamps(t, fsys)
		w, err := output.Open(fsys, "site", time.Minute)
		must(t, err)
		must(t, w.Put("index.html", []byte("never seen")))
		must(t, w.Abort())
		must(t, w.Abort())
		wantRefusal(t, w.Put("late.html", nil))
		if w.Keep("photos/0a.jpg") {
			t.Error("a run that is over kept a file")
		}
		_, err = w.Commit()
		wantRefusal(t, err)
		if diff := cmp.Diff(before, stamps(t, fsys)); diff != "" {
			t.Errorf("(-before, +after):\n%s", diff)
		}
		checkSite(t, fsys, winter)
	})
}

// TestAbortOfARunThatIsOver leaves the next run alone.
func TestAbortOfARunThatIsOver(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		first := mustOpen(t, fsys)
		must(t, first.Abort())
		w := mustOpen(t, fsys)
		must(t, w.Put("index.html", []byte("front")))
		must(t, first.Abort())
		if _, err := output.Open(fsys, "site", 0); !errors.Is(err, output.ErrAtWork) {
			t.Errorf("the next run's hold on the site: %v", err)
		}
		_, err := w.Commit()
		must(t, err)
		must(t, w.Abort())
		checkSite(t, fsys, site{"index.html": "front"})
	})
}

// TestFirstFileThatFailedIsTold, of several, when the run is to be ended.
func TestFirstFileThatFailedIsTold(t *testing.T) {
	w := mustOpen(t, afero.NewMemMapFs())
	for _, p := range []string{"ok", "first?", "second?", "fine"} {
		_ = w.Put(p, nil) // what it says is told again below
	}
	_, err := w.Commit()
	wantRefusal(t, err, `"first?"`, "a file of the new one is missing")
	if strings.Contains(err.Error(), "second") {
		t.Errorf("got %q", err)
	}
}

func TestNothingPutKeepsTheSite(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		_, err := set(fsys, site{})
		wantRefusal(t, err)
		checkSite(t, fsys, winter)
	})
}

func TestPutRefuses(t *testing.T) {
	cases := map[string]struct {
		first, second string
		names         []string
	}{
		"same path":         {"a/page", "a/page", []string{"a/page"}},
		"case":              {"a/Page", "a/page", []string{"a/Page", "a/page"}},
		"case of a folder":  {"A/one", "a/two", []string{`"A/one" and "a/two" lie in folders`}},
		"case beyond ASCII": {"caf\u00c9", "caf\u00e9", []string{"caf\u00c9", "caf\u00e9"}},
		"composed accent":   {"caf\u00e9", "cafe\u0301", []string{"caf\u00e9", "cafe\u0301"}},
		"kelvin sign":       {"\u212a", "k", []string{"\u212a", "k"}},
		"file then folder":  {"a", "a/b", []string{`"a" would be a file and "a/b" would lie in`}},
		"folder then file":  {"a/b", "a", []string{`"a" would be a file and "a/b" would lie in`}},
		"deep folder":       {"a/b/c", "A", []string{`"A" would be a file and "a/b/c" would lie in`}},
		"climbs":            {"ok", "../x", nil}, "absolute": {"ok", "/x", nil}, "empty": {"ok", "", nil}, "top": {"ok", ".", nil},
		"inner dots": {"ok", "a/../x", nil}, "ends in slash": {"ok", "a/", nil}, "double slash": {"ok", "a//b", nil},
		"backslash": {"ok", `a\b`, nil}, "drive": {"ok", "C:x", nil}, "device": {"ok", "machines/aux/index.html", []string{"machines/aux"}},
		"device with ending": {"ok", "Com1.html", nil}, "device with superscript": {"ok", "lpt².txt", nil},
		"bad character first": {"ok", "a/?b", []string{"does not allow ? in a name"}}, "control character first": {"ok", "a/\tb", []string{"cannot be seen"}},
		"line break": {"ok", "a\nb", nil}, "NUL": {"ok", "a\x00b", nil}, "not UTF-8": {"ok", "a\xffb", nil},
		"ends in period": {"ok", "a./b", nil}, "ends in space": {"ok", "a /b", nil},
		"too long": {"ok", strings.Repeat("x", 256), nil}, "an earlier list": {"ok", ".asleft-ledger", nil}, "an earlier list in capitals": {"ok", ".ASLEFT-LEDGER", nil},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
				mustSet(t, fsys, winter)
				w, err := output.Open(fsys, "site", time.Minute)
				must(t, err)
				must(t, w.Put(c.first, []byte("1")))
				wantRefusal(t, w.Put(c.second, []byte("2")), c.names...)
				if _, err := w.Commit(); err == nil {
					t.Error("a run with a refused file was finished")
				}
				checkSite(t, fsys, winter)
			})
		})
	}
}

func TestPutTakes(t *testing.T) {
	names := site{}
	for _, p := range []string{"404.html", "a b/c", "com10", "console", "null.html", "auxiliary/x", "ö/ß", "ss", ".nojekyll", "a.b.c", strings.Repeat("x", 255)} {
		names[p] = p
	}
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, names)
		checkSite(t, fsys, names)
		if got := mustSet(t, fsys, names); got.Kept != len(names) {
			t.Errorf("the manifest did not give the names back: %+v", got)
		}
	})
}

func TestPutFromManyGoroutines(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		old, want := site{}, site{}
		for i := range 400 {
			p := fmt.Sprintf("machines/m%d/%d.html", i%20, i)
			old[p] = p
			if want[p] = p; i%3 == 0 {
				want[p] += " edited"
			}
		}
		mustSet(t, fsys, old)
		putInParts(t, fsys, want)
		checkSite(t, fsys, want)
	})
}

// putInParts puts each file once, from eight goroutines.
func putInParts(t *testing.T, fsys afero.Fs, s site) {
	t.Helper()
	w, err := output.Open(fsys, "site", time.Minute)
	must(t, err)
	paths := make(chan string)
	errs := make(chan error, 8)
	for range 8 {
		go func() {
			var err error
			for p := range paths {
				if s[p] == p && w.Keep(p) && w.Keep(p) {
					continue
				}
				err = errors.Join(err, w.Put(p, []byte(s[p])))
			}
			errs <- err
		}()
	}
	for p := range s {
		paths <- p
	}
	close(paths)
	for range 8 {
		must(t, <-errs)
	}
	_, err = w.Commit()
	must(t, err)
}

// The same photo may be in two machines' stories at once.
func TestKeepOfOneFileFromManyGoroutines(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, site{"photos/0a.jpg": strings.Repeat("a photo ", 1<<17)}) // so large that reading takes a while
		w, err := output.Open(fsys, "site", time.Minute)
		must(t, err)
		defer func() { must(t, w.Abort()) }()
		got := make(chan bool)
		for range 16 {
			go func() { got <- w.Keep("photos/0a.jpg") }()
		}
		for range 16 {
			if !<-got {
				t.Error("not kept")
			}
		}
	})
}

func TestBadNames(t *testing.T) {
	for _, name := range []string{"", ".", "..", "a/b", "/site", `a\b`, "../site", "a\xff"} {
		_, err := output.Open(afero.NewMemMapFs(), name, 0)
		wantRefusal(t, err)
	}
}

func TestAbortedFirstRunLeavesNothing(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		w, err := output.Open(fsys, "site", time.Minute)
		must(t, err)
		must(t, w.Put("index.html", []byte("x")))
		must(t, w.Abort())
		if _, err := fsys.Stat("site"); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("an aborted run made a site: %v", err)
		}
		checkBeside(t, fsys)
	})
}

// TestWritersWaitForEachOther has many at once, each of which waits for its turn.
func TestWritersWaitForEachOther(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		const writers = 6
		done := make(chan error, writers)
		var inHand atomic.Int32
		for n := range writers {
			go func() {
				w, err := output.Open(fsys, "site", time.Minute)
				if err != nil {
					done <- err
					return
				}
				if inHand.Add(1) > 1 {
					err = errors.New("two had the site in hand")
				}
				for p, c := range []site{winter, spring}[n%2] {
					err = errors.Join(err, w.Put(p, []byte(c)))
				}
				inHand.Add(-1)
				_, failed := w.Commit()
				done <- errors.Join(err, failed)
			}()
		}
		for range writers {
			must(t, <-done)
		}
		mustSet(t, fsys, winter)
		checkSite(t, fsys, winter)
	})
}

func TestWaitComesToAnEnd(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		w := mustOpen(t, fsys)
		if _, err := output.Open(fsys, "site", 50*time.Millisecond); !errors.Is(err, output.ErrAtWork) {
			t.Errorf("the second run: %v", err)
		}
		other, err := output.Open(fsys, "other-site", 0)
		must(t, err)
		must(t, errors.Join(other.Abort(), w.Abort()))
		mustSet(t, fsys, winter)
	})
}

// TestTimesMakeNoDifference: what is kept is known by its bytes.
func TestTimesMakeNoDifference(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		for p := range winter {
			when := time.Date(2031, 1, 1, 0, 0, 0, 0, time.UTC)
			must(t, fsys.Chtimes("site/"+p, when, when))
		}
		if got := mustSet(t, fsys, winter); got.Written != 0 {
			t.Errorf("got %+v", got)
		}
	})
}

// TestAssumeIntact: nothing is read that is to stay, but not after a run that did
// not finish.
func TestAssumeIntact(t *testing.T) {
	fsys := afero.NewMemMapFs()
	mustSet(t, fsys, winter)
	write(t, fsys, "site/machines/harrow/index.html", "scribble")
	again := func() output.Result {
		w := mustOpen(t, fsys)
		w.AssumeIntact()
		for p, c := range winter {
			must(t, w.Put(p, []byte(c)))
		}
		result, err := w.Commit()
		must(t, err)
		return result
	}
	if got := again(); got.Written != 0 {
		t.Errorf("it looked: %+v", got)
	}
	text, err := afero.ReadFile(fsys, theManifest)
	must(t, err)
	write(t, fsys, theManifest, strings.Replace(string(text), "manifest 1\n", "manifest 1 unfinished\n", 1))
	if got := again(); got.Written != 1 {
		t.Errorf("it did not look: %+v", got)
	}
	checkSite(t, fsys, winter)
}
