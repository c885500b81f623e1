package generator

import (
	"errors"
	"fmt"
	"io/fs"
)

// maxThemeFile is the largest file of a theme that is read, in bytes.
const maxThemeFile = 4 << 20

var (
	errNoFile   = errors.New("this is a pipe or a device and not a file")
	errHugeFile = fmt.Errorf("the file is larger than %d MB", maxThemeFile>>20)
)

// plainFiles is a folder of which only folders and plain files of a sane size
// can be opened: a pipe would keep the reader waiting for ever.
type plainFiles struct{ fs.FS }

func (p plainFiles) Open(name string) (fs.File, error) {
	info, err := fs.Stat(p.FS, name)
	switch {
	case err != nil:
		return nil, err
	case !info.IsDir() && !info.Mode().IsRegular():
		return nil, &fs.PathError{Op: "open", Path: name, Err: errNoFile}
	case info.Size() > maxThemeFile && !info.IsDir():
		return nil, &fs.PathError{Op: "open", Path: name, Err: errHugeFile}
	}
	return p.FS.Open(name)
}

// ReadDir is for those who look for templates.
func (p plainFiles) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(p.FS, name) }
