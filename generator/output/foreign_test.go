package output_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"time"

	"asleft/generator/output"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"
)

func TestForeignFilesSurvive(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, s stand) {
		mustSet(t, fsys, winter)
		addForeign(t, fsys)
		when := time.Date(2024, 6, 1, 12, 0, 0, 0, time.UTC)
		must(t, fsys.Chmod("site/docs/deep/notes.txt", 0o600))
		must(t, fsys.Chmod("site/docs", 0o750))
		for _, name := range []string{"CNAME", "docs/deep/notes.txt", "docs/deep", "docs"} {
			must(t, fsys.Chtimes("site/"+name, when, when))
		}
		before := stamps(t, fsys)
		for _, next := range []site{spring, winter, winter, {"index.html": "only this"}} {
			mustSet(t, fsys, next)
			checkSite(t, fsys, next, foreign)
			after := stamps(t, fsys)
			for _, name := range []string{"site/CNAME", "site/docs/deep/notes.txt", "site/docs/deep", "site/docs"} {
				if s.disk && before[name] != after[name] {
					t.Errorf("%s: mode and time were %s, are %s", name, before[name], after[name])
				}
			}
		}
	})
}

func TestForeignLinksSurvive(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, s stand) {
		if !s.disk {
			return // memory has no links
		}
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
		"a file in other case":      {"Vise.html", "vise.html"},
		"a folder with a file":      {"vise/notes.txt", "vise"},
		"an empty folder":           {"vise/", "vise"},
		"a file for a folder":       {"vise", "vise/index.html"},
		"other case, folder":        {"VISE", "vise/index.html"},
		"below a page that changes": {"machines/notes.txt", "machines"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
				mustSet(t, fsys, winter)
				if dir, ok := strings.CutSuffix(c.foreign, "/"); ok {
					must(t, fsys.Mkdir("site/"+dir, 0o755))
				} else {
					write(t, fsys, "site/"+c.foreign, "mine")
				}
				before := contents(t, fsys, "site")
				_, err := set(fsys, site{"index.html": "new", c.page: "new"})
				named := strings.TrimSuffix(c.foreign, "/")
				if strings.HasPrefix(named, c.page+"/") && c.page != "machines" {
					named = c.page // the user's whole folder is in the way
				}
				wantRefusal(t, err, "site/"+named)
				if diff := cmp.Diff(before, contents(t, fsys, "site")); diff != "" {
					t.Errorf("the site was changed (-before, +after):\n%s", diff)
				}
				checkBeside(t, fsys, "site")
			})
		})
	}
}

func TestFolderOfOthersIsRefused(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		for _, name := range []string{"index.html", "b.txt", "c.txt", "d.txt"} {
			write(t, fsys, "site/"+name, "mine")
		}
		before := contents(t, fsys, "site")
		_, err := set(fsys, winter)
		wantRefusal(t, err, "site", "b.txt")
		if diff := cmp.Diff(before, contents(t, fsys, "site")); diff != "" {
			t.Errorf("(-before, +after):\n%s", diff)
		}
		checkBeside(t, fsys, "site")
	})
}

func TestFileAtTheSitesNameIsRefused(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		write(t, fsys, "site", "mine")
		_, err := set(fsys, winter)
		wantRefusal(t, err, "site")
		checkBeside(t, fsys, "site")
	})
}

func TestLinkAtTheSitesNameIsRefused(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, s stand) {
		if !s.disk {
			return // memory has no links
		}
		must(t, fsys.Mkdir("real", 0o755))
		must(t, fsys.(afero.Linker).SymlinkIfPossible("real", "site"))
		_, err := set(fsys, winter)
		wantRefusal(t, err, "site", "link")
		checkBeside(t, fsys, "real", "site")
	})
}

func TestDamagedLedgerIsRefused(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, winter)
		good, err := afero.ReadFile(fsys, "site/.asleft-ledger")
		must(t, err)
		write(t, fsys, "site/.asleft-ledger", string(good[:len(good)/2]))
		_, err = set(fsys, spring)
		wantRefusal(t, err, "site/.asleft-ledger")
		write(t, fsys, "site/.asleft-ledger", string(good))
		mustSet(t, fsys, spring)
		checkSite(t, fsys, spring)
	})
}

// What a user drops into the site's folder in the moment between the look
// through it and the swap is found in the old folder, and brought over.
func TestForeignFileThatComesLate(t *testing.T) {
	for _, s := range stands {
		t.Run(s.name, func(t *testing.T) {
			s.spareAlways(t)
			fsys, wrap := s.make(t)
			mustSet(t, fsys, winter)
			write(t, fsys, "site/CNAME", "old.example")
			late := &plan{hook: func(op, name string) {
				if op != "exchange" && (op != "rename" || name != "site") || exists(fsys, "site/late.txt") {
					return
				}
				write(t, fsys, "site/late.txt", "late")
				write(t, fsys, "site/machines/vise/index.html", "by hand")
				must(t, fsys.Chtimes("site/machines/vise/index.html", time.Unix(1e9, 0), time.Unix(1e9, 0)))
				must(t, fsys.MkdirAll("site/late-folder", 0o755))
				must(t, fsys.Remove("site/CNAME"))
				write(t, fsys, "site/CNAME", "new.example")
			}}
			mustSet(t, wrap(late), spring)
			checkSite(t, fsys, spring, map[string]string{
				"late.txt": "late", "late-folder/": "", "machines/vise/index.html.kept-1": "by hand",
				"CNAME": "old.example", "CNAME.kept-1": "new.example",
			})
		})
	}
}

// The same, and the run is killed before it has brought the file over.
func TestForeignFileThatComesLateBeforeAKill(t *testing.T) {
	for _, s := range stands {
		t.Run(s.name, func(t *testing.T) {
			tried, lost := 0, 0
			for n, tripped := 1, true; tripped; n++ {
				fsys, wrap := s.make(t)
				mustSet(t, fsys, winter)
				p, dropped := &plan{nth: n, kill: true}, false
				p.hook = func(op, name string) {
					if (op == "exchange" || op == "rename" && name == "site") && !exists(fsys, "site/late.txt") && p.alive() == nil {
						write(t, fsys, "site/late.txt", "late")
						dropped = true
					}
				}
				_, _ = set(wrap(p), spring)
				tripped = p.tripped
				late := exists(fsys, "site/late.txt") || exists(fsys, ".site-asleft-old/late.txt")
				mustSet(t, fsys, winter)
				if dropped && !late {
					lost++
				}
				if late {
					tried++
					checkSite(t, fsys, winter, map[string]string{"late.txt": "late"})
				}
			}
			if tried < 5 {
				t.Errorf("only %d kills came after the file", tried)
			}
			if lost > 1 || lost > 0 && s.gap { // between exchange and rename, see nameOld
				t.Errorf("%d kills lost the file", lost)
			}
		})
	}
}

func exists(fsys afero.Fs, name string) bool {
	_, err := fsys.Stat(name)
	return !errors.Is(err, fs.ErrNotExist)
}

// With the site gone and the old one set aside, somebody makes a new folder.
func TestNewFolderAfterAnInterruptedSwap(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, winter)
		must(t, fsys.Rename("site", ".site-asleft-old"))
		write(t, fsys, "site/index.html", "mine")
		_, err := set(fsys, spring)
		wantRefusal(t, err, ".site-asleft-old", "site")
		checkBeside(t, fsys, ".site-asleft-old", "site")
		must(t, fsys.Remove("site/index.html"))
		run, err := output.Begin(fsys, "site")
		must(t, err)
		must(t, run.Abandon())
		checkSite(t, fsys, winter)
	})
}

// A run was killed while it cleared the old site away, and the user went on.
func TestUsersLaterEditWinsOverTheOldSite(t *testing.T) {
	eachStand(t, func(t *testing.T, fsys afero.Fs, _ stand) {
		mustSet(t, fsys, winter)
		write(t, fsys, "site/CNAME", "old.example")
		must(t, fsys.Chtimes("site/CNAME", time.Unix(1e9, 0), time.Unix(1e9, 0)))
		must(t, fsys.Rename("site", ".site-asleft-old"))
		mustSet(t, fsys, winter) // puts it back
		must(t, afero.WriteFile(fsys, "site/CNAME", []byte("new.example"), 0o644))
		for p, c := range contents(t, fsys, "site") {
			write(t, fsys, ".site-asleft-old/"+p, c)
		}
		write(t, fsys, ".site-asleft-old/CNAME", "old.example")
		must(t, fsys.Chtimes(".site-asleft-old/CNAME", time.Unix(1e9, 0), time.Unix(1e9, 0)))
		mustSet(t, fsys, winter)
		checkSite(t, fsys, winter, map[string]string{"CNAME": "new.example"})
	})
}
