package rooted_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"asleft/generator/rooted"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/spf13/afero"
)

// plain leaves out what afero does not tell.
var plain = cmpopts.IgnoreFields(rooted.Stat{}, "Changed", "Inode")

// walked is what afero's own walk sees below a folder, sorted by path.
func walked(t *testing.T, f afero.Fs, dir string, skip func(string) bool) []rooted.Stat {
	t.Helper()
	var found []rooted.Stat
	must(t, afero.Walk(f, dir, func(path string, info fs.FileInfo, err error) error {
		if err != nil || path == dir {
			return err
		}
		path = filepath.ToSlash(path)
		if dir != "." {
			path = strings.TrimPrefix(path, dir+"/")
		}
		if skip != nil && skip(path) {
			if info.IsDir() {
				return filepath.SkipDir
			}
			return nil
		}
		found = append(found, rooted.Stat{
			Path: path, Mode: info.Mode(), Size: info.Size(), Written: info.ModTime().UnixNano(),
		})
		return nil
	}))
	slices.SortFunc(found, func(a, b rooted.Stat) int { return strings.Compare(a.Path, b.Path) })
	return found
}

// plant makes a tree with names that sort before and behind a slash.
func plant(t *testing.T, f *rooted.FS) {
	t.Helper()
	names := []string{
		"a/x.md", "a.md", "a b/c.md", "a-/c.md", "a!/b/c!/d", "a!/b/c/d", "a!/b/c0", "a0/c",
		"Ä/ö.md", "日/本.md", ".hidden/x", "..x/y", "deep/er/and/deep/er/and/deep/x",
	}
	if runtime.GOOS != "windows" {
		names = append(names, "a\nb/c\td", "a\"b", "a*b/\x01/x", `a\b/x`)
	}
	for i := range 400 {
		names = append(names, fmt.Sprintf("many/%d.md", i), fmt.Sprintf("wide/%d/x.md", i))
	}
	for _, name := range names {
		must(t, f.MkdirAll(filepath.Dir(name), 0o755))
		must(t, afero.WriteFile(f, name, []byte(name), 0o644))
	}
	must(t, f.Mkdir("empty", 0o700))
}

func TestWalkSeesWhatAWalkSees(t *testing.T) {
	f, shop, outside := open(t)
	plant(t, f)
	for name, target := range map[string]string{
		"link": "inside.txt", "a/loop": "..", "a/out": outside, "nothing": "none", "self": "self",
	} {
		symlink(t, target, filepath.Join(shop, name))
	}
	if runtime.GOOS != "windows" {
		must(t, os.Chmod(filepath.Join(shop, "a.md"), 0o754|fs.ModeSetuid))
		must(t, os.Chmod(filepath.Join(shop, "a"), 0o755|fs.ModeSetgid))
		must(t, os.Chmod(filepath.Join(shop, "a b"), 0o777|fs.ModeSticky))
	}
	few := func(dir string) bool { return dir == "a!/b/c" || dir == "wide" || dir == "a.md" }
	for _, skip := range []func(string) bool{nil, few} {
		for _, dir := range []string{".", "a!", "a!/b", "empty", "wide", "deep/er"} {
			got, err := f.Walk(dir, skip)
			must(t, err)
			if diff := cmp.Diff(walked(t, f, dir, skip), got, plain, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("%s (-walk, +walk):\n%s", dir, diff)
			}
		}
	}
	for _, dir := range []string{"", "/"} {
		got, err := f.Walk(dir, nil)
		must(t, err)
		if diff := cmp.Diff(walked(t, f, ".", nil), got, plain); diff != "" {
			t.Errorf("%q (-walk, +walk):\n%s", dir, diff)
		}
	}
}

func TestWalkRefuses(t *testing.T) {
	f, shop, outside := open(t)
	symlink(t, outside, filepath.Join(shop, "way"))
	if got, err := f.Walk("none", nil); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a folder that is not there: %v, %v", got, err)
	}
	for _, dir := range []string{"inside.txt", "way", "..", "../outside"} {
		if got, err := f.Walk(dir, nil); err == nil {
			t.Errorf("%s: %v", dir, got)
		}
	}
}

// TestWalkWhileFoldersComeAndGo walks while folders are made and removed.
func TestWalkWhileFoldersComeAndGo(t *testing.T) {
	f, shop, outside := open(t)
	const folders = 20
	stop := make(chan struct{})
	var gardener sync.WaitGroup
	gardener.Go(func() {
		for i := 0; ; i = (i + 1) % folders {
			select {
			case <-stop:
				return
			default:
			}
			dir := filepath.Join(shop, "m", fmt.Sprint(i))
			// What fails here is what the walk has to live with.
			_ = os.MkdirAll(filepath.Join(dir, "photos"), 0o755)
			_ = os.WriteFile(filepath.Join(dir, "photos", "x.md"), nil, 0o644)
			next := filepath.Join(shop, "m", fmt.Sprint((i+folders/2)%folders))
			_ = os.RemoveAll(next)
			if runtime.GOOS != "windows" && i%3 == 0 {
				_ = os.Symlink(outside, next)
			}
		}
	})
	for range 100 {
		found, err := f.Walk(".", nil)
		if err != nil {
			t.Error(err)
		}
		if i := slices.IndexFunc(found, func(m rooted.Stat) bool { return strings.Contains(m.Path, "secret") }); i >= 0 {
			t.Errorf("it led outside: %v", found[i])
		}
		if !slices.IsSortedFunc(found, func(a, b rooted.Stat) int { return strings.Compare(a.Path, b.Path) }) {
			t.Error("not sorted")
		}
	}
	close(stop)
	gardener.Wait()
}
