package logbook

import (
	"fmt"
	"io/fs"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/spf13/afero"
)

// An endless is a shop folder in which one folder lists as many files as it is
// asked for, and cannot be listed whole.
type endless struct {
	afero.Fs
	dir string
}

func (e endless) Open(name string) (afero.File, error) {
	f, err := e.Fs.Open(name)
	if name == e.dir {
		return endlessFolder{f}, err
	}
	return f, err
}

type endlessFolder struct{ afero.File }

func (endlessFolder) Readdir(n int) ([]fs.FileInfo, error) {
	if n <= 0 {
		return nil, fmt.Errorf("a folder without end was to be listed whole: %w", os.ErrInvalid)
	}
	infos := make([]fs.FileInfo, n)
	for i := range infos {
		infos[i] = listedFile(fmt.Sprintf("e%d.md", i))
	}
	return infos, nil
}

type listedFile string

func (f listedFile) Name() string     { return string(f) }
func (listedFile) Size() int64        { return 0 }
func (listedFile) Mode() fs.FileMode  { return 0o644 }
func (listedFile) ModTime() time.Time { return time.Time{} }
func (listedFile) IsDir() bool        { return false }
func (listedFile) Sys() any           { return nil }

// A folder with more files than any shop writes is named, with the limit, and
// is all that is said: neither time nor memory goes into what it holds, and a
// machine is not said to lack a machine.md that nobody looked for.
func TestFolderTooFull(t *testing.T) {
	for _, dir := range []string{"machines", "machines/m", "machines/m/photos", "sheets"} {
		e := endless{folder(t, shopFile+machineFile+donorAndPhoto+"-- sheets/s.md --\n---\nsheet: s\nitems: [{item: i, system: drive, how: h}]\n---\n"), dir}
		_, problems, err := Read(e, Options{Today: today})
		if err != nil {
			t.Fatalf("%s: %v", dir, err)
		}
		if !slices.ContainsFunc(problems, func(p Problem) bool {
			return p.File == dir && p.Says == "the folder holds more than 100,000 files, so nothing in it was read" && p.Mend != ""
		}) {
			t.Errorf("%s: %v", dir, problems)
		}
		if slices.ContainsFunc(problems, func(p Problem) bool { return p.File == dir && p.Says != problems[0].Says }) {
			t.Errorf("%s: more is said of it: %v", dir, problems)
		}
	}
}
