package handover

import (
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
)

// copyOf is a folder of the disk, in memory.
func copyOf(t *testing.T, dir string) afero.Fs {
	t.Helper()
	return copied(t, afero.NewReadOnlyFs(afero.NewBasePathFs(afero.NewOsFs(), dir)))
}

// Reports that were sealed under schema 1 are vouched for as before, to the byte.
func TestFirstSealsAreVouchedFor(t *testing.T) {
	for dir, machine := range map[string]string{"../../content-example": "wick", "../../testdata/golden/shop": ""} {
		fs := copyOf(t, dir)
		c := chainOf(t, fs)
		if len(c.Breaks) > 0 || len(c.Links) == 0 {
			t.Fatalf("%s: %d sealed reports, %+v", dir, len(c.Links), c.Breaks)
		}
		for _, l := range c.Links {
			if l.Seal.Facts.first == nil || !l.First() || machine != "" && l.Machine() != machine {
				t.Errorf("%s is not of schema 1", l.File)
			}
			if v := c.VouchFile("x", read(t, fs, l.File)); v.Answer != Unaltered {
				t.Errorf("%s: %s", l.File, v.Answer)
			}
			if v := c.VouchCode(l.Seal.Code); v.Answer != Unaltered {
				t.Errorf("%s by its code: %s", l.File, v.Answer)
			}
		}
	}
}

// todayAt are the facts of one machine of a shop; what its bench tests found is
// not asked for.
func todayAt(t *testing.T, fs afero.Fs, key string) *Facts {
	t.Helper()
	site := siteOf(t, fs)
	for n, m := range site.Shop.Machines {
		if m.Key == key {
			return Today(site, n, "2026-06-01")
		}
	}
	t.Fatalf("the shop has no %s", key)
	return nil
}

func heldToday(t *testing.T, fs afero.Fs, key string) (all string, n int) {
	t.Helper()
	now := chainOf(t, fs).Links[0].Held(todayAt(t, fs, key), catalog.English)
	if now.Same {
		t.Error("a report of schema 1 holds no digest of the log, and it is called the same")
	}
	var lines []string
	for _, ch := range now.Changes {
		if ch.Gone {
			ch.Text = "-" + ch.Text
		}
		lines = append(lines, ch.Text)
	}
	return strings.Join(lines, "\n"), len(lines)
}

func TestLook(t *testing.T) {
	got, _ := heldToday(t, copyOf(t, "../../content-example"), "wick")
	t.Log(got)
}
