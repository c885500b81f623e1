package handover

import (
	"errors"
	"os"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/handover/sheet"
	"asleft/generator/testenv"
)

// TestKilledAnywhere ends the run at its first change of the disk, at its
// second, and so on: each time there is no new report, or a whole one, and the
// same command again makes all of it.
func TestKilledAnywhere(t *testing.T) {
	t.Parallel()
	start, _, _ := small(t)
	whole, none := 0, 0
	for n := 1; ; n++ {
		fs, buyer, p := copied(t, start), afero.NewMemMapFs(), &testenv.Plan{Nth: n, Kill: true, Changes: true}
		_, err := smallReport(t, p.Over(fs), "2026-03-10", "2026-03-09").Seal(p.Over(buyer), nil, sheet.Letter)
		if err == nil {
			if n < 15 {
				t.Fatalf("the run was through after %d changes", n)
			}
			break
		}
		if !errors.Is(err, testenv.ErrFault) {
			t.Fatalf("killed at %d: %v", n, err)
		}
		links := afterKill(t, n, fs, buyer)
		if errors.Is(err, ErrNoCopies) != (links == 3) {
			t.Fatalf("killed at %d, %d links: %v", n, links, err)
		}
		if links == 2 {
			none++
		} else {
			whole++
		}
		sameAgain(t, n, fs, buyer)
	}
	if whole == 0 || none == 0 {
		t.Errorf("%d runs left a whole report, %d none: one of the two was never tried", whole, none)
	}
}

// TestKilledTwice ends a run anywhere, and, when the mechanic has written on,
// the next one at the same place: the chain holds all the same, and the one
// after leaves nothing of either.
func TestKilledTwice(t *testing.T) {
	t.Parallel()
	start, _, _ := small(t)
	for n := 1; ; n++ {
		fs, buyer := copied(t, start), afero.NewMemMapFs()
		var err error
		for _, asOf := range []string{"2026-03-05", "2026-03-06"} {
			p := &testenv.Plan{Nth: n, Kill: true, Changes: true}
			if _, err = smallReport(t, p.Over(fs), "2026-03-10", asOf).Seal(p.Over(buyer), nil, sheet.Letter); err != nil && !errors.Is(err, testenv.ErrFault) {
				t.Fatalf("killed at %d: %v", n, err)
			}
			afterKill(t, n, fs, buyer)
		}
		if _, err := smallReport(t, fs, "2026-03-10", "2026-03-07").Seal(buyer, nil, sheet.Letter); err != nil {
			t.Fatalf("killed twice at %d, and run again: %v", n, err)
		}
		afterKill(t, n, fs, buyer)
		if err := errors.Join(noParts(fs, folderName), noParts(buyer, ".")); err != nil {
			t.Fatalf("killed twice at %d, and run again: %v", n, err)
		}
		if err == nil {
			return
		}
	}
}

// afterKill checks what a killed run left and returns how many links there are.
func afterKill(t *testing.T, n int, fs, buyer afero.Fs) int {
	t.Helper()
	c := chainOf(t, fs)
	if len(c.Breaks) > 0 {
		t.Fatalf("killed at %d: %v", n, c.Breaks)
	}
	infos, err := afero.ReadDir(buyer, ".")
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	for _, info := range infos {
		if info.Name()[0] == '.' {
			continue // a draft
		}
		if v := c.VouchFile(info.Name(), read(t, buyer, info.Name())); v.Answer != Unaltered {
			t.Fatalf("killed at %d: %s is %s", n, info.Name(), v.Answer)
		}
	}
	return len(c.Links)
}

func sameAgain(t *testing.T, n int, fs, buyer afero.Fs) {
	t.Helper()
	made, err := smallReport(t, fs, "2026-03-10", "2026-03-09").Seal(buyer, nil, sheet.Letter)
	if err != nil {
		t.Fatalf("killed at %d, and run again: %v", n, err)
	}
	c := chainOf(t, fs)
	if len(c.Breaks) > 0 || len(c.Links) != 3 || made.Seal.Number != 3 {
		t.Fatalf("killed at %d, and run again: %v, %d links", n, c.Breaks, len(c.Links))
	}
	for _, name := range []string{made.HTML, made.PDF} {
		if v := c.VouchFile(name, read(t, buyer, name)); v.Answer != Unaltered {
			t.Fatalf("killed at %d, and run again: %s is %s", n, name, v.Answer)
		}
	}
	if err := errors.Join(noParts(fs, folderName), noParts(buyer, ".")); err != nil {
		t.Fatalf("killed at %d, and run again: %v", n, err)
	}
}
