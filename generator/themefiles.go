package generator

import (
	"errors"
	"io"
	"io/fs"
	"path"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

// What a theme may hold. The built-in ones have a dozen files and 50 kB.
const (
	maxThemeEntries = 1000    // files and folders directly in its folder, read or not
	maxThemeFile    = 1 << 20 // bytes of one file
	maxTheme        = 2 << 20 // bytes of all that are read
)

// A themeFault is why a theme's folder is not read, at the file that is to blame.
type themeFault struct{ file, says, mend string }

func (f *themeFault) Error() string { return f.file + ": " + f.says }

// themeFile tells whether a file directly in a theme's folder is read: nothing
// else there is looked at.
func themeFile(name string) bool {
	return name == "style.css" || name == "icon.svg" || strings.HasSuffix(name, ".html")
}

// readTheme reads a theme's files into memory: plain files alone, for a link could
// bring a private file into the site and a pipe would keep the reader waiting for
// ever. An error is a themeFault where the folder is to blame.
func readTheme(from fs.FS, words *catalog.Catalog) (afero.Fs, error) {
	names, err := themeFolderNames(from, words)
	if err != nil {
		return nil, err
	}
	files, total := afero.NewMemMapFs(), 0
	for _, name := range names {
		if !themeFile(name) {
			continue
		}
		data, err := readThemeFile(from, name, words)
		if errors.Is(err, fs.ErrNotExist) { // it went away meanwhile
			continue
		}
		if err != nil {
			return nil, err
		}
		if total += len(data); total > maxTheme {
			return nil, &themeFault{".", words.Say("problem.theme-large", "kb", maxTheme>>10), words.Say("problem.theme-large.mend")}
		}
		if err := afero.WriteFile(files, name, data, 0o600); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// themeFolderNames are what stands directly in a theme's folder, in no order.
func themeFolderNames(from fs.FS, words *catalog.Catalog) ([]string, error) {
	dir, err := from.Open(".")
	if err != nil {
		return nil, err
	}
	defer dir.Close() //nolint:errcheck // it was only read
	list, ok := dir.(fs.ReadDirFile)
	if !ok {
		return nil, fs.ErrInvalid
	}
	found, err := list.ReadDir(maxThemeEntries + 1)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if len(found) > maxThemeEntries {
		return nil, &themeFault{".", words.Say("problem.theme-many", "n", maxThemeEntries), words.Say("problem.theme-many.mend")}
	}
	names := make([]string, len(found))
	for n, f := range found {
		names[n] = f.Name()
	}
	return names, nil
}

func readThemeFile(from fs.FS, name string, words *catalog.Catalog) ([]byte, error) {
	info, err := fs.Lstat(from, name)
	switch {
	case err != nil:
		return nil, err
	case info.Mode()&fs.ModeSymlink != 0:
		return nil, &themeFault{name, words.Say("problem.theme-link"), words.Say("problem.theme-link.mend")}
	case !info.Mode().IsRegular():
		return nil, &themeFault{name, words.Say("problem.theme-pipe"), words.Say("problem.theme-pipe.mend")}
	}
	f, err := from.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // it was only read
	data, err := io.ReadAll(io.LimitReader(f, maxThemeFile+1))
	if err == nil && len(data) > maxThemeFile {
		return nil, &themeFault{name, words.Say("problem.theme-file-large", "kb", maxThemeFile>>10), words.Say("problem.theme-file-large.mend")}
	}
	return data, err
}

// A themeFolder is a folder of the shop, seen so that links show as links.
type themeFolder struct {
	afero.IOFS
	folder afero.Fs
	dir    string
}

func newThemeFolder(folder afero.Fs, dir string) themeFolder {
	return themeFolder{afero.NewIOFS(afero.NewBasePathFs(folder, dir)), folder, dir}
}

// Lstat describes a file or a link itself.
func (t themeFolder) Lstat(name string) (fs.FileInfo, error) {
	return rooted.Lstat(t.folder, path.Join(t.dir, name))
}

// ReadLink is never wanted: no link is followed.
func (t themeFolder) ReadLink(name string) (string, error) {
	return "", &fs.PathError{Op: "readlink", Path: name, Err: fs.ErrInvalid}
}

// linked is the first part of a path in the shop that is a link; "" where none is.
func linked(folder afero.Fs, name string) string {
	at := ""
	for part := range strings.SplitSeq(name, "/") {
		at = path.Join(at, part)
		info, err := rooted.Lstat(folder, at)
		if err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return at
		}
	}
	return ""
}

// themeProblem is a problem of a theme: at its file, or where shop.md names it.
func themeProblem(at logbook.Place, dir string, err error) (logbook.Problem, bool) {
	var fault *themeFault
	if !errors.As(err, &fault) {
		return logbook.Problem{}, false
	}
	if dir != "" {
		at = logbook.Place{File: path.Join(dir, fault.file)}
	}
	return logbook.Problem{Place: at, Says: fault.says, Mend: fault.mend}, true
}
