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
			if v := c.VouchCode(l.Seal.Code); len(v) != 1 || v[0].Answer != Unaltered {
				t.Errorf("%s by its code: %+v", l.File, v)
			}
		}
	}
}

// todayAt are the facts of one machine of a shop.
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

// What a report of schema 1 said is held against the log of today as well as can
// be: nothing is made up, and what was taken out, reworded or redated is found.
func TestAFirstSealIsHeldAgainstToday(t *testing.T) {
	if got, n := heldToday(t, copyOf(t, "../../content-example"), "wick"); n != 0 {
		t.Errorf("nothing of what it said has changed, and it says:\n%s", got)
	}
	for name, tc := range map[string]struct{ was, now, want string }{
		"a defect reworded": {"carburetor gummed shut", "carburetor a little dirty", "-What the log said on October 4, 2025 of “carburetor gummed shut, main jet blocked” reads otherwise now."},
		"a reading changed": {"78 psi", "88 psi", "-What the log said on October 4, 2025 of “compression cylinder 1 cold” reads otherwise now. It was: 78 psi. It is: 88 psi."},
		"an entry redated":  {"date: 2025-10-04", "date: 2025-10-05", "-An entry has another date:"},
		"an entry retitled": {"title: ", "title: Not a ", "-The entry of October 4, 2025 has another title."},
	} {
		fs := copyOf(t, "../../content-example")
		text := ""
		for _, e := range todayAt(t, fs, "wick").Entries {
			if e.Date == "2025-10-04" {
				text = e.File
			}
		}
		before := string(read(t, fs, text))
		after := strings.Replace(before, tc.was, tc.now, 1)
		if before == after {
			t.Fatalf("%s: %s does not hold %q", name, text, tc.was)
		}
		write(t, fs, text, []byte(after))
		if got, _ := heldToday(t, fs, "wick"); strings.Count(got, tc.want) != 1 {
			t.Errorf("%s: it does not say %q:\n%s", name, tc.want, got)
		}
	}
}
