package rooted_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/spf13/afero"
	"golang.org/x/sys/unix"
)

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
