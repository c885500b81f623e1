package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/afero"

	"asleft/generator/portable"
	"asleft/generator/rooted"
)

// read reads a file as what it is and keeps what was wrong with it. The info is
// that of the folder's list, nil where nobody has looked. The data are lent: as
// must not keep them. False where there is nothing to be read.
func (r *reader) read(name string, info fs.FileInfo, as func(s *source, data []byte)) bool {
	if info == nil || !info.Mode().IsRegular() { // it may be a link
		var err error
		info, err = lstat(r.fs, name)
		if err == nil && !info.Mode().IsRegular() {
			r.report(Place{File: name}, "problem.not-a-file")
			return false
		}
	}
	s := &source{rules: &r.rules, path: name}
	if err := lend(r.fs, name, func(data []byte) { as(s, data) }); err != nil {
		r.fault(fmt.Errorf("cannot read %s: %w", name, err))
		return false
	}
	r.keep(s)
	return true
}

// lend lends a file's bytes to as, which must not keep them.
func lend(folder afero.Fs, name string, as func(data []byte)) error {
	buffer := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(buffer)
	if err := load(folder, name, buffer); err != nil {
		return err
	}
	as(buffer.Bytes())
	return nil
}

// buffers are what files are read into, one after another.
var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// load reads a file's bytes, no more of them than tells that it is too big.
func load(folder afero.Fs, name string, into *bytes.Buffer) (err error) {
	into.Reset()
	f, err := folder.Open(name)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	_, err = into.ReadFrom(io.LimitReader(f, maxFile+1))
	return err
}

// lstat looks at a name without following it, where the file system can: a
// pipe or a device must be recognised before anything is opened.
func lstat(folder afero.Fs, name string) (fs.FileInfo, error) {
	info, err := rooted.Lstat(folder, name)
	if err == nil && info.Mode()&fs.ModeSymlink != 0 {
		return folder.Stat(name)
	}
	return info, err
}

// maxListed is how many files a folder may hold: many times what a shop writes
// in a life, and as many as are read in seconds.
const maxListed = 100_000

// list names the entries of a folder, sorted; none where there is no folder.
// It is nil where it has been said already what is wrong with the folder.
func (r *reader) list(dir string) []fs.FileInfo {
	info, err := r.fs.Stat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return []fs.FileInfo{}
	}
	if err != nil {
		r.fault(fmt.Errorf("cannot look at the folder %s: %w", dir, err))
		return nil
	}
	if !info.IsDir() {
		r.report(Place{File: dir}, "problem.not-a-folder")
		return nil
	}
	infos, err := r.listed(dir)
	if err != nil {
		r.fault(fmt.Errorf("cannot read the folder %s: %w", dir, err))
		return nil
	}
	if len(infos) > maxListed {
		r.report(Place{File: dir}, "problem.folder-too-full", "max", "100,000")
		return nil
	}
	slices.SortFunc(infos, func(a, b fs.FileInfo) int { return strings.Compare(a.Name(), b.Name()) })
	r.hide(dir, infos)
	return slices.DeleteFunc(infos, func(i fs.FileInfo) bool { return Passing(i.Name()) })
}

// readable are the endings of what a shop reads.
var readable = []string{".md", ".jpg", ".jpeg", ".png"}

// hide notes the files that would be read if their names did not begin with a
// dot: an entry can be out of the log without anybody seeing it. What a system
// or a writer leaves behind is none of them. The folder of a whole machine is noted
// with a slash behind it.
func (r *reader) hide(dir string, infos []fs.FileInfo) {
	for _, i := range infos {
		rest, dot := strings.CutPrefix(i.Name(), ".")
		if !dot || strings.HasPrefix(rest, "_") {
			continue
		}
		file := path.Join(dir, i.Name())
		if i.IsDir() {
			if own, err := r.fs.Stat(file + "/machine.md"); dir != "machines" || err != nil || own.IsDir() {
				continue
			}
			file += "/"
		} else if !slices.Contains(readable, strings.ToLower(path.Ext(rest))) {
			continue
		}
		r.mu.Lock()
		r.hidden = append(r.hidden, file)
		r.mu.Unlock()
	}
}

// hiddenIn are the files that were noted as hidden in a folder or in its photos.
func (r *reader) hiddenIn(dir string) []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	var all []string
	for _, file := range r.hidden {
		if in := path.Dir(strings.TrimSuffix(file, "/")); in == dir || in == dir+"/photos" {
			all = append(all, file)
		}
	}
	slices.Sort(all)
	return slices.Compact(all) // the photos' folder is listed twice
}

// listed is what a folder holds, no more of it than tells that it is too full.
func (r *reader) listed(dir string) (infos []fs.FileInfo, err error) {
	f, err := r.fs.Open(dir)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	infos, err = f.Readdir(maxListed + 1)
	if errors.Is(err, io.EOF) { // the folder is empty
		err = nil
	}
	return append([]fs.FileInfo{}, infos...), err
}

// Passing tells whether a file of that name is an editor's or a sync tool's own,
// which comes and goes and is never read.
func Passing(name string) bool {
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
		other, twice := first[portable.Fold(i.Name())]
		switch {
		case !localName(i.Name()):
			r.report(at, "problem.file-name", "read", i.Name())
		case twice:
			r.report(at, "problem.names-alike", "read", i.Name(), "there", other)
		default:
			first[portable.Fold(i.Name())] = i.Name()
		}
	}
}
