package output_test

import (
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"asleft/generator/output"

	"github.com/spf13/afero"
)

// The whole of a site, ledger and foreign files and all, before and after a run.
type states struct{ old, new map[string]string }

// begun makes a file system with the winter site and foreign files on it.
func begun(t *testing.T, s stand) (afero.Fs, func(*plan) afero.Fs) {
	t.Helper()
	fsys, wrap := s.make(t)
	mustSet(t, fsys, winter)
	if s.spare { // there is one from the second run on
		mustSet(t, fsys, spring)
		mustSet(t, fsys, winter)
	}
	addForeign(t, fsys)
	return fsys, wrap
}

func statesOf(t *testing.T, s stand) states {
	t.Helper()
	fsys, _ := begun(t, s)
	old := contents(t, fsys, "site")
	mustSet(t, fsys, spring)
	return states{old, contents(t, fsys, "site")}
}

// which says which state the site is in; "" is neither.
func (s states) which(t *testing.T, fsys afero.Fs, dir string) string {
	t.Helper()
	if !exists(fsys, dir) {
		return "none"
	}
	switch got := contents(t, fsys, dir); {
	case maps.Equal(got, s.old):
		return "old"
	case maps.Equal(got, s.new):
		return "new"
	}
	return ""
}

// checkNext wants a run that only looks to leave a whole site and nothing else,
// and the next full run to work.
func (s states) checkNext(t *testing.T, fsys afero.Fs) {
	t.Helper()
	run, err := output.Begin(fsys, "site")
	must(t, err)
	must(t, run.Abandon())
	if got := s.which(t, fsys, "site"); got != "old" && got != "new" {
		t.Fatalf("after the next Begin the site is %q: %v", got, contents(t, fsys, "site"))
	}
	checkBeside(t, fsys, "site")
	mustSet(t, fsys, spring)
	if got := s.which(t, fsys, "site"); got != "new" {
		t.Fatalf("after the next run the site is %q: %v", got, contents(t, fsys, "site"))
	}
	checkBeside(t, fsys, "site")
}

func TestEveryCallFails(t *testing.T) {
	for _, s := range stands {
		t.Run(s.name, func(t *testing.T) {
			s.spareAlways(t)
			want := statesOf(t, s)
			eachCall(t, 30, func(t *testing.T, n int) bool {
				fsys, wrap := begun(t, s)
				p := &plan{nth: n}
				_, err := set(wrap(p), spring)
				wanted := "old"
				if err == nil || errors.Is(err, output.ErrLeftovers) {
					wanted = "new"
				}
				if got := want.which(t, fsys, "site"); got != wanted {
					t.Fatalf("the error is %v and the site is %q", err, got)
				}
				if err == nil && p.tripped && p.failed != "link" && p.failed != "rename" && !strings.Contains(p.name, spare) {
					// What cannot be linked is copied, an old site that cannot be renamed
					// is cleared away where it is, and without a spare it only takes
					// longer. The rest has to be told.
					t.Fatalf("nobody was told that %s failed", p.failed)
				}
				want.checkNext(t, fsys)
				return p.tripped
			})
		})
	}
}

func TestKilledAtEveryCall(t *testing.T) {
	for _, s := range stands {
		t.Run(s.name, func(t *testing.T) {
			s.spareAlways(t)
			want := statesOf(t, s)
			eachCall(t, 30, func(t *testing.T, n int) bool {
				fsys, wrap := begun(t, s)
				p := &plan{nth: n, kill: true}
				_, err := set(wrap(p), spring)
				if p.tripped && err == nil {
					t.Fatal("a killed run says that all is well")
				}
				want.checkKilled(t, fsys, s)
				want.checkNext(t, fsys)
				return p.tripped
			})
		})
	}
}

// checkKilled wants the site whole, or, where there is a gap, the old one whole
// under its other name.
func (s states) checkKilled(t *testing.T, fsys afero.Fs, on stand) {
	t.Helper()
	got := s.which(t, fsys, "site")
	if got == "none" && on.gap {
		got = s.which(t, fsys, ".site-asleft-old")
	}
	if got != "old" && got != "new" {
		t.Fatalf("the site is %q", got)
	}
}

// The run that mends is killed in its turn.
func TestKilledAtEveryCallOfTheNextRun(t *testing.T) {
	for _, s := range stands {
		t.Run(s.name, func(t *testing.T) {
			s.spareAlways(t)
			want := statesOf(t, s)
			fsys, wrap := begun(t, s)
			whole := &plan{}
			_, err := set(wrap(whole), spring)
			must(t, err)
			// Before its last calls a run only writes the staging folder, which the
			// test above kills at every call.
			for first := whole.count - 10; first <= whole.count; first++ {
				eachCall(t, 1, func(t *testing.T, n int) bool {
					fsys, wrap = begun(t, s)
					p := &plan{nth: first, kill: true}
					_, _ = set(wrap(p), spring)
					if !p.tripped {
						t.Fatalf("there was no call %d", first)
					}
					next := &plan{nth: n, kill: true}
					if run, err := output.Begin(wrap(next), "site"); err == nil {
						_ = run.Abandon()
					}
					want.checkKilled(t, fsys, s)
					want.checkNext(t, fsys)
					return next.tripped
				})
			}
		})
	}
}

func TestFirstRunFailsAtEveryCall(t *testing.T) {
	for _, kill := range []bool{false, true} {
		for _, s := range stands {
			t.Run(fmt.Sprint(s.name, " killed ", kill), func(t *testing.T) {
				s.spareAlways(t)
				whole, _ := s.make(t)
				mustSet(t, whole, winter)
				want := states{old: contents(t, whole, "site")}
				eachCall(t, 20, func(t *testing.T, n int) bool {
					fsys, wrap := s.make(t)
					p := &plan{nth: n, kill: kill}
					_, err := set(wrap(p), winter)
					if got := want.which(t, fsys, "site"); got != "none" && got != "old" || err == nil && got == "none" {
						t.Fatalf("the error is %v and the site is %q", err, got)
					}
					mustSet(t, fsys, winter)
					checkSite(t, fsys, winter)
					return p.tripped
				})
			})
		}
	}
}

// A power cut must not find a new site whose pages the disk does not have yet,
// nor the old one gone before the new one's name is there.
func TestDiskHasTheNewSiteBeforeTheSwap(t *testing.T) {
	for _, s := range stands {
		t.Run(s.name, func(t *testing.T) {
			s.spareAlways(t)
			_, wrap := begun(t, s)
			var mu sync.Mutex // files come over several at a time
			var calls []string
			p := &plan{}
			p.hook = func(op, name string) {
				mu.Lock()
				defer mu.Unlock()
				calls = append(calls, op+" "+filepath.ToSlash(name))
			}
			fsys := wrap(p)
			run, err := output.Begin(fsys, "site")
			must(t, err)
			must(t, run.Put("index.html", []byte("only this")))
			_, err = run.Finish()
			must(t, err)
			swap := slices.IndexFunc(calls, func(c string) bool {
				return c == "exchange site" || c == "rename site" || c == "rename .site-asleft-new"
			})
			before, after := calls[:swap], calls[swap:]
			if !endsIn(before, "sync", ".asleft-ledger") {
				t.Error("the ledger was not synced")
			}
			if !endsIn(before, "flush", "") && !(endsIn(before, "sync", "index.html") && (!s.disk || endsIn(before, "syncdir", "-new"))) {
				t.Errorf("the new page was not synced: %q", before)
			}
			if named := slices.Index(after, "syncdir ."); s.disk && (named < 0 || slices.ContainsFunc(after[:named], isRemoval)) {
				t.Errorf("the old site went before the new one's name was synced: %q", after)
			}
		})
	}
}

func isRemoval(call string) bool { return strings.HasPrefix(call, "remove") }

// endsIn looks for a call of op on a name with that ending.
func endsIn(calls []string, op, ending string) bool {
	return slices.ContainsFunc(calls, func(c string) bool {
		return strings.HasPrefix(c, op+" ") && strings.HasSuffix(c, ending)
	})
}

// eachCall tries n = 1, 2, ... until a try says that there was no n-th call. It
// fails if there were fewer than atLeast: then nothing would have been tried.
func eachCall(t *testing.T, atLeast int, try func(t *testing.T, n int) (tripped bool)) {
	t.Helper()
	for n := 1; ; n++ {
		tripped := false
		if !t.Run(fmt.Sprintf("call %d", n), func(t *testing.T) { tripped = try(t, n) }) {
			return
		}
		if tripped {
			continue
		}
		if n < atLeast {
			t.Errorf("there were only %d calls", n-1)
		}
		return
	}
}
