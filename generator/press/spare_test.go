package press_test

import (
	"fmt"
	"maps"
	"path"
	"strings"
	"sync"
	"testing"

	"asleft/generator/press"

	"github.com/spf13/afero"
)

// spareStand is the one on which a spare does its work.
func spareStand(t *testing.T) (fsys afero.Fs, wrap func(*plan) afero.Fs) {
	t.Helper()
	for _, s := range stands {
		if s.name == "disk with a spare" {
			s.spareAlways(t)
			return s.make(t)
		}
	}
	t.Fatal("there is no such stand")
	return nil, nil
}

// TestSpareSparesTheWork counts the names that an edit of one page makes and
// takes away.
func TestSpareSparesTheWork(t *testing.T) {
	fsys, wrap := spareStand(t)
	pages := manyPages(false)
	mustSet(t, fsys, pages)
	for round := range 4 {
		edited := maps.Clone(pages)
		edited[fmt.Sprintf("machines/m%d/%d.html", round, round)] = "edited"
		var mu sync.Mutex // files come over several at a time
		calls := map[string]int{}
		count := &plan{hook: func(op, _ string) {
			mu.Lock()
			defer mu.Unlock()
			calls[op]++
		}}
		mustSet(t, wrap(count), edited)
		checkSite(t, fsys, edited)
		if round == 0 {
			if calls["link"] != len(pages)-1 {
				t.Errorf("without a spare: %v", calls)
			}
			continue
		}
		// This page and the one of the round before.
		if calls["link"] > 2 || calls["remove"]+calls["removeall"] > 12 || calls["mkdirall"] > 4 {
			t.Errorf("round %d: %v", round, calls)
		}
	}
}

// TestSpareIsNotBelieved does to the spare what people and programs may do.
func TestSpareIsNotBelieved(t *testing.T) {
	harm := map[string]func(t *testing.T, fsys afero.Fs){
		"nothing":            func(*testing.T, afero.Fs) {},
		"gone":               func(t *testing.T, fsys afero.Fs) { must(t, fsys.RemoveAll(spare)) },
		"a file":             func(t *testing.T, fsys afero.Fs) { must(t, fsys.RemoveAll(spare)); write(t, fsys, spare, "x") },
		"a link to the site": func(t *testing.T, fsys afero.Fs) { must(t, fsys.RemoveAll(spare)); link(t, fsys, "site", spare) },
		"a link to others":   func(t *testing.T, fsys afero.Fs) { must(t, fsys.RemoveAll(spare)); link(t, fsys, "mine", spare) },
		"another page": func(t *testing.T, fsys afero.Fs) {
			must(t, fsys.Remove(spare+"/machines/m1/1.html"))
			write(t, fsys, spare+"/machines/m1/1.html", "machines/m1/1.html")
		},
		"a page and more":    func(t *testing.T, fsys afero.Fs) { write(t, fsys, spare+"/machines/m1/more.html", "x") },
		"a folder of others": func(t *testing.T, fsys afero.Fs) { write(t, fsys, spare+"/theirs/deep/x", "x") },
		"a folder for a page": func(t *testing.T, fsys afero.Fs) {
			must(t, fsys.Remove(spare+"/machines/m1/1.html"))
			write(t, fsys, spare+"/machines/m1/1.html/x", "x")
		},
		"a page for a folder": func(t *testing.T, fsys afero.Fs) {
			must(t, fsys.RemoveAll(spare+"/machines/m2"))
			write(t, fsys, spare+"/machines/m2", "x")
		},
		"a link for a folder": func(t *testing.T, fsys afero.Fs) {
			must(t, fsys.RemoveAll(spare+"/machines/m2"))
			link(t, fsys, "../../mine", spare+"/machines/m2")
		},
		"a link for a page": func(t *testing.T, fsys afero.Fs) {
			must(t, fsys.Remove(spare+"/machines/m1/1.html"))
			link(t, fsys, "../../../mine/x", spare+"/machines/m1/1.html")
		},
		"a folder that is shut":  func(t *testing.T, fsys afero.Fs) { must(t, fsys.Chmod(spare+"/machines/m2", 0o500)) },
		"all of it that is shut": func(t *testing.T, fsys afero.Fs) { must(t, fsys.Chmod(spare, 0)) },
		"a page that is shut":    func(t *testing.T, fsys afero.Fs) { must(t, fsys.Chmod(spare+"/machines/m1/1.html", 0)) },
	}
	for name, do := range harm {
		t.Run(name, func(t *testing.T) {
			fsys, _ := spareStand(t)
			write(t, fsys, "mine/x", "mine")
			odd, even := manyPages(false), manyPages(true)
			mustSet(t, fsys, odd)
			mustSet(t, fsys, even)
			if !exists(fsys, spare) {
				t.Fatal("there is no spare")
			}
			do(t, fsys)
			must(t, fsys.Chmod("site/machines/m1/1.html", 0o644)) // one file, two names
			odd["machines/m2/late.html"] = "late"
			mustSet(t, fsys, odd)
			if got := contents(t, fsys, "mine"); len(got) != 1 || got["x"] != "mine" {
				t.Errorf("beside the site: %v", got)
			}
			must(t, fsys.RemoveAll("mine"))
			checkSite(t, fsys, odd)
		})
	}
}

func link(t *testing.T, fsys afero.Fs, target, name string) {
	t.Helper()
	must(t, fsys.(afero.Linker).SymlinkIfPossible(target, name))
}

// TestSpareHoldsNothingThatIsGone: what a page does not say any more is not
// found in a hidden folder either, nor what is somebody else's.
func TestSpareHoldsNothingThatIsGone(t *testing.T) {
	fsys, _ := spareStand(t)
	mustSet(t, fsys, manyPages(false))
	addForeign(t, fsys)
	mustSet(t, fsys, manyPages(true))
	mustSet(t, fsys, manyPages(false))
	for p, content := range contents(t, fsys, spare) {
		if _, mine := foreign[p]; mine || strings.Contains(content, "even") || path.Base(p) == ".asleft-ledger" {
			t.Errorf("%s: %q", p, content)
		}
	}
}

// TestSmallSiteHasNoSpare, nor has one that is no more.
func TestSmallSiteHasNoSpare(t *testing.T) {
	fsys, _ := spareStand(t)
	mustSet(t, fsys, manyPages(false))
	mustSet(t, fsys, manyPages(true))
	must(t, fsys.RemoveAll("site"))
	run, err := press.Begin(fsys, "site")
	must(t, err)
	must(t, run.Abandon())
	if exists(fsys, spare) {
		t.Error("the spare of a site that is gone")
	}
	mustSet(t, fsys, manyPages(false))
	mustSet(t, fsys, manyPages(true))
	back := press.SpareFrom(1000)
	defer back()
	mustSet(t, fsys, manyPages(false))
	if exists(fsys, spare) {
		t.Error("the spare of a small site")
	}
}
