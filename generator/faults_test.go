package generator_test

import (
	"errors"
	"io/fs"
	"maps"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/output"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

const faultyShop = "---\nshop: Plain\ncurrency: USD\nweb: https://shop.example/\n---\nWords.\n"

func faultyEntry(title string) string {
	return "---\ndate: 2026-03-02\ntitle: " + title + "\nphotos: [{file: a.jpg, alt: x}]\ndefects: [{key: one, defect: x, system: drive, photo: a.jpg}]\n---\nWords.\n"
}

// openDisk is an empty folder of this disk.
func openDisk(t *testing.T) *rooted.FS {
	t.Helper()
	d, err := rooted.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = d.Close() })
	return d
}

// tree is every file of a folder by its path; the press's own list, which
// holds the same facts, left out.
func tree(t *testing.T, folder afero.Fs, top string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := afero.Walk(folder, top, func(p string, info fs.FileInfo, err error) error {
		if errors.Is(err, fs.ErrNotExist) && p == top {
			return nil
		}
		if err != nil || info.IsDir() {
			return err
		}
		data, err := afero.ReadFile(folder, p)
		files[filepath.ToSlash(p)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// TestDiskFailsAtEachCall has writeup as a whole fail at its first call of the
// disk, at its second, and so on, on the side of the logs and on that of the
// site: a visitor finds each page whole, old or new, with all that it refers to;
// the logs are as they were, and the next run makes all of the new site and leaves
// nothing else behind.
func TestDiskFailsAtEachCall(t *testing.T) {
	for name, dead := range map[string]bool{"logs": false, "logs for good": true, "site": false} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			side, _, _ := strings.Cut(name, " ")
			eachFault(t, side, dead)
		})
	}
}

func eachFault(t *testing.T, side string, dead bool) {
	logs, site := openDisk(t), openDisk(t)
	put := func(name string, data []byte) {
		if err := errors.Join(logs.MkdirAll(filepath.Dir(name), 0o755), afero.WriteFile(logs, name, data, 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	put("shop.md", []byte(faultyShop))
	put("machines/m/machine.md", []byte("---\nname: M\narrived: 2026-03-01\n---\n"))
	put("machines/m/photos/a.jpg", pictureOf(t, "jpeg", 64, 48))
	write := func(logs, site afero.Fs, title string) error {
		put("machines/m/e.md", []byte(faultyEntry(title)))
		_, r, err := generator.Writeup(logs, site, "site", generator.Options{})
		if err == nil && len(r.Problems) > 0 {
			return errors.New(saidOf(r, nil))
		}
		return err
	}
	fine := func(title string) map[string]string {
		if err := write(logs, site, title); err != nil {
			t.Fatal(err)
		}
		return tree(t, site, ".")
	}
	sites := map[string]map[string]string{"one": fine("one"), "two": fine("two")}
	before, next := "two", "one"
	calls, kept, part, made := 0, 0, 0, 0
	for n := 1; ; n++ {
		f := &testenv.Plan{Nth: n, Kill: dead}
		from, to := afero.Fs(logs), afero.Fs(site)
		if side == "logs" {
			from = f.Over(logs)
		} else {
			to = f.Over(site)
		}
		err := write(from, to, next)
		if !f.Tripped {
			if err != nil {
				t.Fatal(err)
			}
			break
		}
		calls++
		now := tree(t, site, "site")
		switch err := err; {
		case alike(now, sites[next]):
			made++
		case err == nil:
			t.Fatalf("call %d failed, nobody was told, and the site is not the new one", n)
		case alike(now, sites[before]):
			kept++
		case errors.Is(err, output.ErrUnfinished) && side == "site":
			part++
			checkVisit(t, now, sites[before], sites[next])
		default:
			t.Fatalf("call %d failed (%v), and the site has changed", n, err)
		}
		if err != nil && !errors.Is(err, testenv.ErrFault) && !strings.Contains(err.Error(), testenv.ErrFault.Error()) {
			t.Fatalf("call %d: %v", n, err)
		}
		if got := tree(t, logs, "."); len(got) != 4 || got["machines/m/e.md"] != faultyEntry(next) || got["shop.md"] != faultyShop {
			t.Fatalf("call %d: the logs were changed: %d files", n, len(got))
		}
		if got := fine(next); !maps.Equal(got, sites[next]) {
			t.Fatalf("call %d: the next run did not put all right", n)
		}
		before, next = next, before
	}
	if calls < 15 || kept == 0 || side == "site" && (made == 0 || part < 3) {
		t.Errorf("%d calls failed, %d left the old site, %d a part, %d the new one", calls, kept, part, made)
	}
}

// alike tells whether a site is the one of a whole folder, what stands beside it
// left out.
func alike(site, folder map[string]string) bool {
	inside := maps.Clone(folder)
	maps.DeleteFunc(inside, func(name, _ string) bool { return !strings.HasPrefix(name, "site/") })
	return maps.Equal(site, inside)
}

// checkVisit wants a visitor to find each page whole, old or new, and everything
// that it refers to.
func checkVisit(t *testing.T, now, before, next map[string]string) {
	t.Helper()
	found, broken := testenv.Crawl(func(name string) ([]byte, error) {
		data, there := now["site/"+name]
		if !there {
			return nil, fs.ErrNotExist
		}
		return []byte(data), nil
	}, "https://shop.example/")
	if len(broken) > 0 || len(found) < 8 {
		t.Fatalf("a visitor finds %d files and does not find %q", len(found), broken)
	}
	for name, data := range found {
		if data != before["site/"+name] && data != next["site/"+name] {
			t.Fatalf("%s is neither the old nor the new one", name)
		}
	}
}
