package logbook

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/spf13/afero"
	"golang.org/x/text/unicode/norm"
)

// file is a file's bytes, no more of them than tells that it is too big.
func (r *reader) file(name string) ([]byte, bool) {
	info, err := lstat(r.fs, name)
	if err == nil && !info.Mode().IsRegular() {
		r.report(Place{File: name}, "problem.not-a-file")
		return nil, false
	}
	data, err := r.bytes(name)
	if err != nil {
		r.fault(fmt.Errorf("cannot read %s: %w", name, err))
		return nil, false
	}
	return data, true
}

func (r *reader) bytes(name string) (data []byte, err error) {
	f, err := r.fs.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return io.ReadAll(io.LimitReader(f, maxFile+1))
}

// lstat looks at a name without following it, where the file system can: a
// pipe or a device must be recognised before anything is opened.
func lstat(folder afero.Fs, name string) (fs.FileInfo, error) {
	if l, ok := folder.(afero.Lstater); ok {
		info, _, err := l.LstatIfPossible(name)
		if err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return folder.Stat(name)
		}
		return info, err
	}
	return folder.Stat(name)
}

// list names the entries of a folder, sorted; none where there is no folder.
func (r *reader) list(dir string) []fs.FileInfo {
	info, err := r.fs.Stat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		r.fault(fmt.Errorf("cannot look at the folder %s: %w", dir, err))
		return nil
	}
	if !info.IsDir() {
		r.report(Place{File: dir}, "problem.not-a-folder")
		return nil
	}
	infos, err := afero.ReadDir(r.fs, dir)
	if err != nil {
		r.fault(fmt.Errorf("cannot read the folder %s: %w", dir, err))
		return nil
	}
	return slices.DeleteFunc(infos, func(i fs.FileInfo) bool { return skipped(i.Name()) })
}

// skipped tells whether a name is an editor's or a sync tool's own.
func skipped(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$") || strings.HasSuffix(name, "~")
}

func markdownFile(i fs.FileInfo) bool {
	return !i.IsDir() && strings.EqualFold(path.Ext(i.Name()), ".md")
}

// unlike tells whether a file was most likely meant to be Markdown but does
// not end in .md: an editor that hides the endings of names adds a second one.
func unlike(i fs.FileInfo) bool {
	name := strings.ToLower(i.Name())
	return !i.IsDir() && (strings.HasSuffix(name, ".md.txt") || strings.HasSuffix(name, ".markdown"))
}

// stray reports the files of a folder that no reader would ever see.
func (r *reader) stray(dir string, infos []fs.FileInfo) {
	for _, i := range infos {
		if unlike(i) {
			r.report(Place{File: dir + "/" + i.Name()}, "problem.file-ending")
		}
	}
}

// names reports the Markdown files of a folder whose names another system
// refuses, or takes for one and the same: the folder would not be the same
// there.
func (r *reader) names(dir string, infos []fs.FileInfo) {
	first := map[string]string{}
	for _, i := range infos {
		if !markdownFile(i) {
			continue
		}
		at := Place{File: dir + "/" + i.Name()}
		other, twice := first[alike(i.Name())]
		switch {
		case !localName(i.Name()):
			r.report(at, "problem.file-name", "read", i.Name())
		case twice:
			r.report(at, "problem.names-alike", "read", i.Name(), "there", other)
		default:
			first[alike(i.Name())] = i.Name()
		}
	}
}

// alike is one form for the names that some system takes for one file: capital
// letters do not count there, nor how an accented letter is put together.
func alike(name string) string {
	return strings.ToLower(strings.ToUpper(norm.NFC.String(name)))
}
