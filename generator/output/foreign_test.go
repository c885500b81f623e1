package output_test

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

func TestForeignFilesSurvive(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, d disk) {
		mustSet(t, fsys, winter)
		addForeign(t, fsys)
		when := time.Date(2024, 6, 1, 12, 0, 0, 0, time.UTC)
		// The file system in memory knows a file to be changed by the system's own slash.
		must(t, fsys.Chmod(filepath.FromSlash("site/docs/deep/notes.txt"), 0o600))
		must(t, fsys.Chmod(filepath.FromSlash("site/docs"), 0o750))
		for _, name := range []string{"CNAME", "docs/deep/notes.txt", "docs/deep", "docs"} {
			must(t, fsys.Chtimes("site/"+name, when, when))
		}
		before := stamps(t, fsys)
		for _, next := range []site{spring, winter, winter, {"index.html": "only this"}} {
			mustSet(t, fsys, next)
			checkSite(t, fsys, next, foreign)
			after := stamps(t, fsys)
			for _, name := range []string{"site/CNAME", "site/docs/deep/notes.txt", "site/docs/deep", "site/docs"} {
				if d.real && before[name] != after[name] {
					t.Errorf("%s: mode and time were %s, are %s", name, before[name], after[name])
				}
			}
		}
	})
}

func TestForeignLinksSurvive(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, d disk) {
		if !d.real {
			return // memory has no links
		}
		testenv.NeedsLinks(t)
		mustSet(t, fsys, winter)
		links := map[string]string{"full-size": "-> ../elsewhere", "docs/here": "-> ../index.html", "far": "-> /nowhere/at all"}
		must(t, fsys.Mkdir("site/docs", 0o755))
		for p, target := range links {
			must(t, fsys.(afero.Linker).SymlinkIfPossible(strings.TrimPrefix(target, "-> "), "site/"+p))
		}
		mustSet(t, fsys, spring)
		checkSite(t, fsys, spring, links)
		mustSet(t, fsys, winter)
		checkSite(t, fsys, winter, links)
	})
}

func TestForeignInTheWay(t *testing.T) {
	cases := map[string]struct{ foreign, page string }{ // foreign: what the user put there
		"a file":                    {"vise.html", "vise.html"},
		"a folder with a file":      {"vise/notes.txt", "vise"},
		"an empty folder":           {"vise/", "vise"},
		"a file for a folder":       {"vise", "vise/index.html"},
		"below a page that changes": {"machines/notes.txt", "machines"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
				mustSet(t, fsys, winter)
				if dir, ok := strings.CutSuffix(c.foreign, "/"); ok {
					must(t, fsys.Mkdir("site/"+dir, 0o755))
				} else {
					write(t, fsys, "site/"+c.foreign, "mine")
				}
				before := contents(t, fsys, "site")
				_, err := set(fsys, site{"index.html": "new", c.page: "new"})
				named := strings.TrimSuffix(c.foreign, "/")
				if strings.HasPrefix(named, c.page+"/") {
					named = c.page // the user's whole folder is in the way
				}
				wantRefusal(t, err, "site/"+named)
				if diff := cmp.Diff(before, contents(t, fsys, "site")); diff != "" {
					t.Errorf("the site was changed (-before, +after):\n%s", diff)
				}
				checkBeside(t, fsys, theManifest, "site")
			})
		})
	}
}

// TestPageThatBecameAFolder is somebody's now, and a new page has to go there.
func TestPageThatBecameAFolder(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		must(t, fsys.Remove("site/index.html"))
		must(t, fsys.Mkdir("site/index.html", 0o755))
		before := contents(t, fsys, "site")
		_, err := set(fsys, spring)
		wantRefusal(t, err, "site/index.html")
		if diff := cmp.Diff(before, contents(t, fsys, "site")); diff != "" {
			t.Errorf("the site was changed (-before, +after):\n%s", diff)
		}
	})
}

func TestFolderOfOthersIsRefused(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		for _, name := range []string{"index.html", "b.txt", "c.txt", "d.txt"} {
			write(t, fsys, "site/"+name, "mine")
		}
		before := contents(t, fsys, "site")
		_, err := set(fsys, winter)
		wantRefusal(t, err, "site", "(b.txt, c.txt, d.txt, and more)")
		if diff := cmp.Diff(before, contents(t, fsys, "site")); diff != "" {
			t.Errorf("(-before, +after):\n%s", diff)
		}
		checkBeside(t, fsys, "site")
	})
}

func TestFileAtTheSitesNameIsRefused(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		write(t, fsys, "site", "mine")
		_, err := set(fsys, winter)
		wantRefusal(t, err, "site")
		checkBeside(t, fsys, "site")
	})
}

func TestLinkAtTheSitesNameIsRefused(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, d disk) {
		if !d.real {
			return // memory has no links
		}
		testenv.NeedsLinks(t)
		must(t, fsys.Mkdir("real", 0o755))
		must(t, fsys.(afero.Linker).SymlinkIfPossible("real", "site"))
		_, err := set(fsys, winter)
		wantRefusal(t, err, "site", "link")
		checkBeside(t, fsys, "real", "site")
	})
}

func TestDamagedManifestIsRefused(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		good, err := afero.ReadFile(fsys, theManifest)
		must(t, err)
		write(t, fsys, theManifest, string(good[:len(good)/2]))
		_, err = set(fsys, spring)
		wantRefusal(t, err, theManifest)
		write(t, fsys, theManifest, string(good))
		mustSet(t, fsys, spring)
		checkSite(t, fsys, spring)
	})
}

// TestOtherFolderUnderTheSitesName has the site gone, and somebody's folder with a
// page of the same name in its place.
func TestOtherFolderUnderTheSitesName(t *testing.T) {
	eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
		mustSet(t, fsys, winter)
		must(t, fsys.RemoveAll("site"))
		write(t, fsys, "site/index.html", "mine")
		_, err := set(fsys, spring)
		wantRefusal(t, err, "site", "index.html")
		if got := contents(t, fsys, "site"); len(got) != 1 || got["index.html"] != "mine" {
			t.Errorf("got %q", got)
		}
		must(t, fsys.RemoveAll("site"))
		mustSet(t, fsys, spring)
		checkSite(t, fsys, spring)
	})
}

// TestFoldersBehindLinks has one of the site's folders lead to the user's own: no
// file there is written or removed.
func TestFoldersBehindLinks(t *testing.T) {
	dir := t.TempDir()
	fsys, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, fsys.Close()) }()
	mustSet(t, fsys, winter)
	must(t, fsys.RemoveAll("site/machines"))
	write(t, fsys, "logs/gone/index.html", "mine")
	symlink(t, "../logs", filepath.Join(dir, "site", "machines"))
	_, err = set(fsys, spring)
	wantRefusal(t, err, "site/machines")
	mustSet(t, fsys, site{"index.html": "only this"})
	if got := contents(t, fsys, "logs"); len(got) != 1 || got["gone/index.html"] != "mine" {
		t.Errorf("got %q", got)
	}
}

// earlier is a site as an earlier version left it, with what it kept beside it.
func earlier(t *testing.T, fsys afero.Fs) {
	t.Helper()
	mustSet(t, fsys, winter)
	text, err := afero.ReadFile(fsys, theManifest)
	must(t, err)
	must(t, fsys.Remove(theManifest))
	write(t, fsys, "site/.asleft-ledger", strings.Replace(string(text), "manifest", "ledger", 1))
	write(t, fsys, ".site-asleft-spare/index.html", winter["index.html"])
	write(t, fsys, ".site-asleft-seen", "asleft memory 1\n")
}

// swapped has the site's own files once more, where an earlier version set them aside.
func swapped(t *testing.T, fsys afero.Fs) {
	t.Helper()
	for p, c := range contents(t, fsys, "site") {
		if _, ours := winter[p]; ours || p == ".asleft-ledger" {
			write(t, fsys, ".site-asleft-old/"+p, c)
		}
	}
}

// TestEarlierVersionsAreTakenOver has a site as it was before there was a manifest
// beside it, with all that an earlier version may have left, killed or not.
func TestEarlierVersionsAreTakenOver(t *testing.T) {
	for name, killed := range map[string]func(t *testing.T, fsys afero.Fs){
		"at rest": func(*testing.T, afero.Fs) {},
		"killed before the swap": func(t *testing.T, fsys afero.Fs) {
			write(t, fsys, ".site-asleft-new/index.html", "never seen")
			if _, real := fsys.(rooted.Locker); real {
				write(t, fsys, ".site-asleft-lock", "")
			}
		},
		"killed in the swap":    func(t *testing.T, fsys afero.Fs) { must(t, fsys.Rename("site", ".site-asleft-old")) },
		"killed after the swap": swapped, "killed after the swap, with a file of the user's": swapped,
	} {
		t.Run(name, func(t *testing.T) {
			eachDisk(t, func(t *testing.T, fsys afero.Fs, _ disk) {
				earlier(t, fsys)
				addForeign(t, fsys)
				killed(t, fsys)
				if name == "killed after the swap, with a file of the user's" {
					write(t, fsys, ".site-asleft-old/late.txt", "mine")
					mustSet(t, fsys, spring)
					if got := contents(t, fsys, ".site-asleft-old"); got["late.txt"] != "mine" || got["index.html"] != "" {
						t.Errorf("of the old site there is %q", got)
					}
					must(t, fsys.RemoveAll(".site-asleft-old"))
				}
				mustSet(t, fsys, spring)
				checkSite(t, fsys, spring, foreign)
			})
		})
	}
}
