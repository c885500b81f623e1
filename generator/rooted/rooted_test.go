package rooted_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// open gives a rooted folder with a folder of someone else's beside it:
//
//	outside/secret.txt     shop/inside.txt
func open(t *testing.T) (f *rooted.FS, shop, outside string) {
	t.Helper()
	top := t.TempDir()
	shop, outside = filepath.Join(top, "shop"), filepath.Join(top, "outside")
	for _, dir := range []string{shop, outside} {
		must(t, os.Mkdir(dir, 0o755))
	}
	must(t, os.WriteFile(filepath.Join(outside, "secret.txt"), []byte("secret"), 0o644))
	must(t, os.WriteFile(filepath.Join(shop, "inside.txt"), []byte("inside"), 0o644))
	f, err := rooted.Open(shop)
	must(t, err)
	t.Cleanup(func() { must(t, f.Close()) })
	return f, shop, outside
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// symlink makes a link with package os, past the FS.
func symlink(t *testing.T, target, name string) {
	t.Helper()
	testenv.NeedsLinks(t)
	must(t, os.Symlink(target, name))
}

func TestOpenWantsAFolder(t *testing.T) {
	_, shop, _ := open(t)
	for _, name := range []string{"missing", "inside.txt"} {
		if f, err := rooted.Open(filepath.Join(shop, name)); err == nil {
			t.Errorf("Open(%s) = %v, want an error", name, f)
		}
	}
}

// attempts are all the ways to a file or folder called name.
func attempts(f *rooted.FS, name string) map[string]error {
	attempt := map[string]error{}
	keep := func(what string, err error) { attempt[what] = err }
	opened := func(what string, file afero.File, err error) {
		if err == nil {
			err = file.Close()
		} else if file != nil {
			err = nil // an error with a file that is not nil: show it as not refused
		}
		keep(what, err)
	}
	file, err := f.Open(name)
	opened("open", file, err)
	file, err = f.Create(name)
	opened("create", file, err)
	file, err = f.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	opened("openfile", file, err)
	_, err = f.Stat(name)
	keep("stat", err)
	keep("mkdirall", f.MkdirAll(name+"/deep", 0o755))
	keep("mkdir", f.Mkdir(name+"/new", 0o755))
	keep("chmod", f.Chmod(name, 0o600))
	keep("chtimes", f.Chtimes(name, time.Unix(0, 0), time.Unix(0, 0)))
	keep("rename into", f.Rename("inside.txt", name+"/in.txt"))
	keep("link into", f.Link("inside.txt", name+"/in.txt"))
	keep("link out of", f.Link(name+"/secret.txt", "got.txt"))
	keep("rename out of", f.Rename(name+"/secret.txt", "got.txt"))
	keep("remove", f.Remove(name+"/secret.txt"))
	keep("lock", lockOnce(f, name))
	keep("symlink", f.SymlinkIfPossible("x", name+"/link"))
	return attempt
}

func lockOnce(f *rooted.FS, name string) error {
	release, err := f.Lock(name)
	if err != nil {
		return err
	}
	return release()
}

func TestNothingLeadsOut(t *testing.T) {
	ways := map[string]func(t *testing.T, shop, outside string) (name string){
		"dot-dot":       func(*testing.T, string, string) string { return "../outside" },
		"slash dot-dot": func(*testing.T, string, string) string { return "/../outside" },
		"inner dot-dot": func(*testing.T, string, string) string { return "a/../../outside" },
		"absolute link": func(t *testing.T, shop, outside string) string {
			symlink(t, outside, filepath.Join(shop, "way"))
			return "way"
		},
		"relative link": func(t *testing.T, shop, _ string) string {
			symlink(t, filepath.Join("..", "outside"), filepath.Join(shop, "way"))
			return "way"
		},
		"link to a file": func(t *testing.T, shop, outside string) string {
			symlink(t, filepath.Join(outside, "secret.txt"), filepath.Join(shop, "way"))
			return "way"
		},
		"link to nothing yet": func(t *testing.T, shop, outside string) string {
			symlink(t, filepath.Join(outside, "new.txt"), filepath.Join(shop, "way"))
			return "way"
		},
		"link by links": func(t *testing.T, shop, _ string) string {
			must(t, os.Mkdir(filepath.Join(shop, "deep"), 0o755))
			symlink(t, filepath.Join("..", "..", "outside"), filepath.Join(shop, "deep", "out"))
			symlink(t, filepath.Join("deep", "out"), filepath.Join(shop, "way"))
			return "way"
		},
	}
	for way, prepare := range ways {
		t.Run(way, func(t *testing.T) {
			f, shop, outside := open(t)
			before := look(t, outside)
			name := prepare(t, shop, outside)
			for what, err := range attempts(f, name) {
				if err == nil {
					t.Errorf("%s %s was not refused", what, name)
				}
			}
			if diff := cmp.Diff(before, look(t, outside)); diff != "" {
				t.Errorf("outside was changed (-before, +after):\n%s", diff)
			}
			if data, err := os.ReadFile(filepath.Join(shop, "inside.txt")); string(data) != "inside" {
				t.Errorf("inside.txt is %q, %v", data, err)
			}
		})
	}
}

// look is all that a folder holds: names, modes, times and contents.
func look(t *testing.T, dir string) []string {
	t.Helper()
	var all []string
	must(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		line := path + " " + info.Mode().String() + " " + info.ModTime().String()
		if info.Mode().IsRegular() {
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			line += " " + string(data)
		}
		all = append(all, line)
		return nil
	}))
	return all
}

func TestRemovingALinkLeavesItsTarget(t *testing.T) {
	f, shop, outside := open(t)
	symlink(t, outside, filepath.Join(shop, "way"))
	must(t, os.Mkdir(filepath.Join(shop, "folder"), 0o755))
	symlink(t, outside, filepath.Join(shop, "folder", "way"))
	before := look(t, outside)
	must(t, f.RemoveAll("way"))
	must(t, f.RemoveAll("folder"))
	if diff := cmp.Diff(before, look(t, outside)); diff != "" {
		t.Errorf("outside was changed (-before, +after):\n%s", diff)
	}
	if err := f.RemoveAll("/"); err == nil {
		t.Error("the FS's own folder was not refused")
	}
}

func TestReadingAFolderDoesNotFollowLinks(t *testing.T) {
	f, shop, outside := open(t)
	symlink(t, filepath.Join(outside, "secret.txt"), filepath.Join(shop, "way"))
	dir, err := f.Open("/")
	must(t, err)
	infos, err := dir.Readdir(-1)
	must(t, errors.Join(err, dir.Close()))
	types := map[string]fs.FileMode{}
	for _, info := range infos {
		types[info.Name()] = info.Mode().Type()
	}
	want := map[string]fs.FileMode{"inside.txt": 0, "way": fs.ModeSymlink}
	if diff := cmp.Diff(want, types); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

func TestNames(t *testing.T) {
	f, _, _ := open(t)
	names := []string{"inside.txt", "/inside.txt", "//inside.txt", "./inside.txt", "a/../inside.txt", "/a//../inside.txt"}
	if runtime.GOOS == "windows" {
		names = append(names, `\inside.txt`, `a\..\inside.txt`)
	}
	for _, name := range names {
		data, err := afero.ReadFile(f, name)
		if err != nil || string(data) != "inside" {
			t.Errorf("%q: %q, %v", name, data, err)
		}
	}
	for _, name := range []string{"", "/", "."} {
		if info, err := f.Stat(name); err != nil || !info.IsDir() {
			t.Errorf("%q is the folder itself; got %v, %v", name, info, err)
		}
	}
}
