package press

import (
	"io/fs"
	"slices"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
	"asleft/generator/sight"
)

// walk lists all that lies in a folder, each folder before what is in it. Links
// are listed, not followed.
func walk(fsys afero.Fs, dir string) ([]rooted.Mark, error) {
	all, err := sight.Look(fsys, dir, nil)
	return all.Marks(), err
}

// writtenAt is when a file was last written.
func writtenAt(m rooted.Mark) time.Time { return time.Unix(0, m.Written) }

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
