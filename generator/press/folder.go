package press

import (
	"io/fs"
	"slices"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/sight"
)

// An item is a file, folder or link in a folder that was walked.
type item struct {
	path    string // below the folder
	mode    fs.FileMode
	size    int64 // bytes
	written time.Time
}

// walk lists all that lies in a folder, each folder before what is in it. Links
// are listed, not followed.
func walk(fsys afero.Fs, dir string) ([]item, error) {
	all, err := sight.Look(fsys, dir, nil)
	if err != nil {
		return nil, err
	}
	items := make([]item, 0, len(all.Marks()))
	for _, m := range all.Marks() {
		items = append(items, item{m.Path, m.Mode, m.Size, time.Unix(0, m.Written)})
	}
	return items, nil
}

func readDir(fsys afero.Fs, dir string) ([]fs.FileInfo, error) {
	f, err := fsys.Open(dir)
	if err != nil {
		return nil, err
	}
	infos, err := f.Readdir(-1)
	if closed := f.Close(); err == nil {
		err = closed
	}
	slices.SortFunc(infos, func(a, b fs.FileInfo) int { return strings.Compare(a.Name(), b.Name()) })
	return infos, err
}

// list names what lies directly in a folder, sorted.
func list(fsys afero.Fs, dir string) ([]string, error) {
	infos, err := readDir(fsys, dir)
	names := make([]string, 0, len(infos))
	for _, info := range infos {
		names = append(names, info.Name())
	}
	return names, err
}

// lstat describes a file or a link itself, where the file system knows links.
func lstat(fsys afero.Fs, name string) (fs.FileInfo, error) {
	if l, ok := fsys.(afero.Lstater); ok {
		info, _, err := l.LstatIfPossible(name)
		return info, err
	}
	return fsys.Stat(name)
}
