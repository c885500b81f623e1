package rooted_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"
	"golang.org/x/sys/unix"
)

// TestOpensAsOSRootDoes holds what opens, and what an error says, against
// os.Root, which walks every path itself.
func TestOpensAsOSRootDoes(t *testing.T) {
	f, shop, outside := open(t)
	root, err := os.OpenRoot(shop)
	must(t, err)
	defer func() { must(t, root.Close()) }()
	must(t, f.MkdirAll("a/b", 0o755))
	must(t, afero.WriteFile(f, "a/b/x.md", []byte("x"), 0o644))
	for name, target := range map[string]string{
		"in": "a/b", "up": "a/../inside.txt", "self": "self", "nothing": "none",
		"out": outside, "a/out": "../../outside", "top": shop, "a/in": "../inside.txt",
	} {
		symlink(t, target, filepath.Join(shop, name))
	}
	names := []string{
		"inside.txt", "a/b/x.md", "a/b", "a", ".", "", "in/x.md", "up", "self", "nothing", "out", "out/secret.txt", "a/out/secret.txt",
		"top/inside.txt", "a/in", "none", "none/x", "inside.txt/x", "..", "../outside/secret.txt", "a/../../outside/secret.txt",
		"/proc/self/root", "a\x00b", "a/b/../b/x.md",
	}
	for _, flag := range []int{os.O_RDONLY, os.O_RDWR, os.O_RDWR | os.O_APPEND} {
		for _, name := range names {
			got, gotErr := f.OpenFile(name, flag, 0o640)
			want, wantErr := root.OpenFile(clean(name), flag, 0o640)
			if diff := cmp.Diff(said(wantErr), said(gotErr)); diff != "" {
				t.Errorf("%q, flags %x (-os.Root, +rooted):\n%s", name, flag, diff)
			}
			if gotErr == nil {
				if wantErr == nil && got.Name() != want.Name() {
					t.Errorf("%q is named %s, want %s", name, got.Name(), want.Name())
				}
				must(t, got.Close())
			}
			if wantErr == nil {
				must(t, want.Close())
			}
		}
	}
}

func clean(name string) string {
	for name != "" && name[0] == '/' {
		name = name[1:]
	}
	return filepath.Clean(name)
}

func said(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

// TestSwappedFolders reads through a name that is now a folder and now a link
// that leads out: whichever it is at the moment, nothing of outside is read.
func TestSwappedFolders(t *testing.T) {
	f, shop, outside := open(t)
	must(t, os.Mkdir(filepath.Join(shop, "real"), 0o755))
	must(t, os.WriteFile(filepath.Join(shop, "real", "secret.txt"), []byte("ours"), 0o644))
	symlink(t, outside, filepath.Join(shop, "fake"))
	must(t, os.Rename(filepath.Join(shop, "real"), filepath.Join(shop, "way")))
	stop := make(chan struct{})
	var swapper sync.WaitGroup
	swapper.Go(func() {
		for {
			select {
			case <-stop:
				return
			default:
				if err := swap(shop, "way", "fake"); err != nil {
					t.Error(err)
					return
				}
			}
		}
	})
	read := 0
	for range 5000 {
		data, err := afero.ReadFile(f, "way/secret.txt")
		switch {
		case err == nil && string(data) != "ours":
			t.Fatalf("read %q", data)
		case err == nil:
			read++
		case errors.Is(err, fs.ErrNotExist):
			t.Fatal(err)
		}
	}
	close(stop)
	swapper.Wait()
	if read == 0 {
		t.Error("the file was never read")
	}
}

// swap exchanges two names in one step, renameat2(2).
func swap(dir, a, b string) error {
	return unix.Renameat2(unix.AT_FDCWD, filepath.Join(dir, a), unix.AT_FDCWD, filepath.Join(dir, b), unix.RENAME_EXCHANGE)
}
