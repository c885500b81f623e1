package output_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/testenv"
)

// shopSize is how many machines the sites of these tests have.
const shopSize = 4

// TestEachCallFails has each call of the file system fail once: whatever comes of
// the run, a visitor finds whole pages, and the next run finishes.
func TestEachCallFails(t *testing.T) {
	v := versionsOf(t, shopSize)
	for _, d := range disks {
		t.Run(d.name, func(t *testing.T) {
			kept, part, done := 0, 0, 0
			calls := eachCall(t, d, func(t *testing.T, n int) bool {
				fsys, wrap := begun(t, d, shopSize)
				p := &testenv.Plan{Nth: n}
				_, err := set(wrap(p), linked("new", shopSize))
				fresh := v.check(t, fsys)
				switch {
				case err == nil:
					done++
					checkAlike(t, v.new, contents(t, fsys, "site"))
				case errors.Is(err, output.ErrUnfinished):
					part++
				case fresh > 0 && p.Failed != "removeall" && p.Failed != "release":
					t.Fatalf("the site has changed, and the error is only %v", err)
				default:
					kept++
				}
				if err == nil && p.Tripped && strings.Contains("open write close rename mkdirall", p.Failed) {
					t.Fatalf("nobody was told that %s of %s failed", p.Failed, p.On)
				}
				v.finish(t, fsys, shopSize)
				return p.Tripped
			})
			if !d.real && (calls < 100 || kept < 20 || part < 20 || done == 0) {
				t.Errorf("%d calls failed: %d left the old site, %d a part, %d the new one; too few of some kind", calls, kept, part, done)
			}
		})
	}
}

// checkAlike wants all files of one in the other.
func checkAlike(t *testing.T, want, got map[string]string) {
	t.Helper()
	for name, data := range want {
		if got[name] != data {
			t.Fatalf("%s is not as it was to be", name)
		}
	}
}

// TestKilledAtEachCall ends the run at each call, and the run that is to finish it
// at some calls too.
func TestKilledAtEachCall(t *testing.T) {
	v := versionsOf(t, shopSize)
	for _, d := range disks {
		t.Run(d.name, func(t *testing.T) {
			mixed := 0
			eachCall(t, d, func(t *testing.T, n int) bool {
				fsys, wrap := begun(t, d, shopSize)
				p := &testenv.Plan{Nth: n, Kill: true}
				_, err := set(wrap(p), linked("new", shopSize))
				if p.Tripped && err == nil {
					t.Fatal("a killed run says that all is well")
				}
				if v.check(t, fsys) > 0 && p.Tripped {
					mixed++
				}
				for _, again := range []int{7, 61, 97} {
					next := &testenv.Plan{Nth: again, Kill: true}
					_, _ = set(wrap(next), linked("new", shopSize))
					v.check(t, fsys)
				}
				v.finish(t, fsys, shopSize)
				return p.Tripped
			})
			if !d.real && mixed < 5 {
				t.Errorf("only %d kills came between old and new", mixed)
			}
		})
	}
}

// TestFirstRunFailsAtEachCall has nothing before it: there is a front page only
// when all else is there.
func TestFirstRunFailsAtEachCall(t *testing.T) {
	v := versionsOf(t, shopSize)
	for _, kill := range []bool{false, true} {
		for _, d := range disks {
			t.Run(fmt.Sprint(d.name, " killed ", kill), func(t *testing.T) {
				eachCall(t, d, func(t *testing.T, n int) bool {
					fsys, wrap := d.make(t)
					p := &testenv.Plan{Nth: n, Kill: kill}
					_, err := set(wrap(p), linked("new", shopSize))
					switch got := contentsIfAny(t, fsys); {
					case got["index.html"] != "":
						checkAlike(t, v.new, got)
					case err == nil:
						t.Fatal("all is said to be well, and there is no front page")
					}
					mustSet(t, fsys, linked("new", shopSize))
					checkSite(t, fsys, v.new)
					return p.Tripped
				})
			})
		}
	}
}

func contentsIfAny(t *testing.T, fsys afero.Fs) map[string]string {
	t.Helper()
	if !exists(fsys, "site") {
		return nil
	}
	return contents(t, fsys, "site")
}

// TestInOrder watches each file being put in place.
func TestInOrder(t *testing.T) {
	_, wrap := begun(t, disks[0], shopSize)
	var calls []string
	p := &testenv.Plan{Hook: func(op, name string) { calls = append(calls, op+" "+name) }}
	var inPlace []string
	p.Renamed = func(to string) { inPlace = append(inPlace, to); calls = append(calls, "placed "+to) }
	mustSet(t, wrap(p), linked("new", shopSize))
	turn, last, removed := 0, "", false
	old := linked("old", shopSize)
	for _, call := range calls {
		if name, ok := strings.CutPrefix(call, "remove site/"); ok {
			removed = true
			if _, was := old[name]; was && last != "site/index.html" {
				t.Errorf("%s went after %s was put in place, not after the front page", name, last)
			}
		}
		name, ok := strings.CutPrefix(call, "placed site/")
		if !ok {
			continue
		}
		if removed {
			t.Errorf("%s was put in place after something was removed", name)
		}
		last = "site/" + name
		next := 1
		switch _, was := old[name]; {
		case strings.HasPrefix(name, "photos/") || strings.HasPrefix(name, "assets/"):
			next = 0
		case name == "index.html":
			next = 3
		case was:
			next = 2
		}
		if next < turn {
			t.Errorf("%s came too late", name)
		}
		turn = next
	}
	if !removed || turn != 3 {
		t.Errorf("nothing was removed, or the front page did not come last: %q", inPlace)
	}
}

// eachCall tries n = 1, 2, ... until a try says that there was no n-th call, and
// returns how many there were. On a real disk, which is slow, it tries some of them.
func eachCall(t *testing.T, d disk, try func(t *testing.T, n int) (tripped bool)) int {
	t.Helper()
	step := 1
	if d.real {
		step = 11
	}
	for n := 1; ; n += step {
		tripped := false
		if !t.Run(fmt.Sprintf("call %d", n), func(t *testing.T) { tripped = try(t, n) }) || !tripped {
			if n < 50 && !t.Failed() {
				t.Errorf("there were only %d calls", n-1)
			}
			return n - 1
		}
	}
}
