package output_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"time"

	"asleft/generator/output"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"
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
		"photos/0a.jpg":              "carry:a photo",
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
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
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
	eachStand(t, func(t *testing.T, fsys afero.Fs, s stand) {
		must(t, fsys.Mkdir("site", 0o750))
		mustSet(t, fsys, winter)
		checkSite(t, fsys, winter)
		info, err := fsys.Stat("site")
		must(t, err)
		if s.disk && info.Mode().Perm() != 0o750 {
			t.Errorf("the folder's mode became %v", info.Mode())
		}
	})
}

func TestSameInputSameBytes(t *testing.T) {
	var first map[string]string
	eachStand(t, func(t *testing.T, fsys afero.Fs, s stand) {
		if s.disk {
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

func TestUnchangedFilesStayTheirOwn(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, s stand) {
		mustSet(t, fsys, winter)
		const page = "site/machines/harrow/index.html"
		when := time.Date(2026, 3, 2, 18, 30, 0, 0, time.UTC)
		must(t, fsys.Chtimes(page, when, when))
		before, err := fsys.Stat(page)
		must(t, err)
		mustSet(t, fsys, spring)
		after, err := fsys.Stat(page)
		must(t, err)
		if !after.ModTime().Equal(when) {
			t.Errorf("its time became %v", after.ModTime())
		}
		linked := s.disk && !strings.Contains(s.name, "without links")
		if os.SameFile(before, after) != linked {
			t.Errorf("same file %v, want %v", !linked, linked)
		}
	})
}

func TestHandEditedAndDeletedPagesAreMadeAnew(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, winter)
		write(t, fsys, "site/machines/harrow/index.html", "a tilled") // as long as the page
		must(t, fsys.Remove("site/machines/gone/index.html"))
		if got := mustSet(t, fsys, winter); got.Written != 2 || got.Kept != 3 {
			t.Errorf("got %+v", got)
		}
		checkSite(t, fsys, winter)
	})
}

func TestFoldersAndFilesChangePlaces(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		one, two := site{"words": "a file", "x/y": "in a folder"}, site{"words/index.html": "in a folder", "x": "a file"}
		mustSet(t, fsys, one)
		mustSet(t, fsys, two)
		checkSite(t, fsys, two)
		mustSet(t, fsys, one)
		checkSite(t, fsys, one)
	})
}

func TestCarry(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, site{"photos/good": "good", "photos/edited": "sound", "photos/short": "short", "photos/gone": "gone", "photos/dir": "dir"})
		write(t, fsys, "site/photos/edited", "wound")
		write(t, fsys, "site/photos/short", "shor")
		write(t, fsys, "site/photos/foreign", "foreign")
		must(t, fsys.Remove("site/photos/gone"))
		must(t, fsys.Remove("site/photos/dir"))
		must(t, fsys.Mkdir("site/photos/dir", 0o755))
		run, err := output.Begin(fsys, "site")
		must(t, err)
		defer func() { must(t, run.Abandon()) }()
		for _, p := range []string{"edited", "short", "gone", "dir", "foreign", "none", "../photos/good", "good/", "GOOD"} {
			if run.Carry("photos/" + p) {
				t.Errorf("photos/%s was carried", p)
			}
		}
		for range 2 {
			if !run.Carry("photos/good") {
				t.Error("photos/good was not carried")
			}
		}
		must(t, run.Put("photos/edited", []byte("sound")))
		if run.Carry("photos/edited") {
			t.Error("a file that was Put was carried too")
		}
		wantRefusal(t, run.Put("photos/good", []byte("good")), "photos/good")
	})
}

func TestCarryOfDamagedPhotoIsMended(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, winter)
		write(t, fsys, "site/photos/0a.jpg", "a phot0")
		mustSet(t, fsys, spring)
		checkSite(t, fsys, spring)
	})
}

func TestAbandon(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, winter)
		before := stamps(t, fsys)
		run, err := output.Begin(fsys, "site")
		must(t, err)
		must(t, run.Put("index.html", []byte("never seen")))
		must(t, run.Abandon())
		must(t, run.Abandon())
		wantRefusal(t, run.Put("late.html", nil))
		if run.Carry("photos/0a.jpg") {
			t.Error("a run that is over carried a file")
		}
		_, err = run.Finish()
		wantRefusal(t, err)
		if diff := cmp.Diff(before, stamps(t, fsys)); diff != "" {
			t.Errorf("(-before, +after):\n%s", diff)
		}
		checkSite(t, fsys, winter)
	})
}

func TestNothingPutKeepsTheSite(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
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
		"case of a folder":  {"A/one", "a/two", []string{"A/one", "a/two"}},
		"case beyond ASCII": {"caf\u00c9", "caf\u00e9", []string{"caf\u00c9", "caf\u00e9"}},
		"composed accent":   {"caf\u00e9", "cafe\u0301", []string{"caf\u00e9", "cafe\u0301"}},
		"kelvin sign":       {"\u212a", "k", []string{"\u212a", "k"}},
		"file then folder":  {"a", "a/b", []string{`"a"`, "a/b"}},
		"folder then file":  {"a/b", "a", []string{`"a"`, "a/b"}},
		"deep folder":       {"a/b/c", "A", []string{`"A"`, "a/b/c"}},
		"climbs":            {"ok", "../x", nil}, "absolute": {"ok", "/x", nil}, "empty": {"ok", "", nil}, "top": {"ok", ".", nil},
		"inner dots": {"ok", "a/../x", nil}, "ends in slash": {"ok", "a/", nil}, "double slash": {"ok", "a//b", nil},
		"backslash": {"ok", `a\b`, nil}, "drive": {"ok", "C:x", nil}, "device": {"ok", "machines/aux/index.html", []string{"machines/aux"}},
		"device with ending": {"ok", "Com1.html", nil}, "device with superscript": {"ok", "lpt².txt", nil},
		"line break": {"ok", "a\nb", nil}, "NUL": {"ok", "a\x00b", nil}, "not UTF-8": {"ok", "a\xffb", nil},
		"ends in period": {"ok", "a./b", nil}, "ends in space": {"ok", "a /b", nil},
		"too long": {"ok", strings.Repeat("x", 256), nil}, "the ledger": {"ok", ".asleft-ledger", nil}, "the ledger in capitals": {"ok", ".ASLEFT-LEDGER", nil},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
				mustSet(t, fsys, winter)
				run, err := output.Begin(fsys, "site")
				must(t, err)
				must(t, run.Put(c.first, []byte("1")))
				wantRefusal(t, run.Put(c.second, []byte("2")), c.names...)
				if _, err := run.Finish(); err == nil {
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
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, names)
		checkSite(t, fsys, names)
		if got := mustSet(t, fsys, names); got.Kept != len(names) {
			t.Errorf("the ledger did not give the names back: %+v", got)
		}
	})
}

func TestPutFromManyGoroutines(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
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
	run, err := output.Begin(fsys, "site")
	must(t, err)
	paths := make(chan string)
	errs := make(chan error, 8)
	for range 8 {
		go func() {
			var err error
			for p := range paths {
				if s[p] == p && run.Carry(p) && run.Carry(p) {
					continue
				}
				err = errors.Join(err, run.Put(p, []byte(s[p])))
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
	_, err = run.Finish()
	must(t, err)
}

// The same photo may be in two machines' stories at once.
func TestCarryOfOneFileFromManyGoroutines(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, site{"photos/0a.jpg": strings.Repeat("a photo ", 1<<17)}) // so large that reading takes a while
		run, err := output.Begin(fsys, "site")
		must(t, err)
		defer func() { must(t, run.Abandon()) }()
		got := make(chan bool)
		for range 16 {
			go func() { got <- run.Carry("photos/0a.jpg") }()
		}
		for range 16 {
			if !<-got {
				t.Error("not carried")
			}
		}
	})
}

func TestTwoRunsDoNotMix(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		run, err := output.Begin(fsys, "site")
		must(t, err)
		if _, err := output.Begin(fsys, "site"); !errors.Is(err, output.ErrAtWork) {
			t.Errorf("the second run: %v", err)
		}
		other, err := output.Begin(fsys, "other-site")
		must(t, err)
		must(t, other.Abandon())
		must(t, run.Put("index.html", nil))
		_, err = run.Finish()
		must(t, err)
		mustSet(t, fsys, winter)
	})
}

func TestFileChangedMeanwhile(t *testing.T) {
	changes := map[string]func(fsys afero.Fs, name string) error{
		"edited": func(fsys afero.Fs, name string) error {
			return afero.WriteFile(fsys, name, []byte("other, longer"), 0o644)
		},
		"edited to the same size": func(fsys afero.Fs, name string) error {
			later := time.Now().Add(time.Minute)
			return errors.Join(afero.WriteFile(fsys, name, []byte("a tilled"), 0o644), fsys.Chtimes(name, later, later))
		},
		"removed": func(fsys afero.Fs, name string) error { return fsys.Remove(name) },
	}
	for what, change := range changes {
		t.Run(what, func(t *testing.T) {
			eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
				mustSet(t, fsys, winter)
				run, err := output.Begin(fsys, "site")
				must(t, err)
				must(t, run.Put("machines/harrow/index.html", []byte("a tiller")))
				must(t, change(fsys, "site/machines/harrow/index.html"))
				_, err = run.Finish()
				wantRefusal(t, err, "site/machines/harrow/index.html")
				mustSet(t, fsys, winter)
				checkSite(t, fsys, winter)
			})
		})
	}
}

func TestBadNames(t *testing.T) {
	for _, name := range []string{"", ".", "..", "a/b", "/site", `a\b`, "../site", "a\xff"} {
		_, err := output.Begin(afero.NewMemMapFs(), name)
		wantRefusal(t, err)
	}
}

func TestAbandonedFirstRunLeavesNothing(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		run, err := output.Begin(fsys, "site")
		must(t, err)
		must(t, run.Put("index.html", []byte("x")))
		must(t, run.Abandon())
		if _, err := fsys.Stat("site"); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("an abandoned run made a site: %v", err)
		}
		checkBeside(t, fsys)
	})
}
