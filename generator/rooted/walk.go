package rooted

import (
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"
)

// Walk is Walker's: as many folders at a time as there are cores.
func (f *FS) Walk(dir string, skip func(name string) bool) ([]Stat, error) {
	if skip == nil {
		skip = func(string) bool { return false }
	}
	w := &walk{fs: f, top: local(dir), skip: skip}
	w.work.SetLimit(runtime.GOMAXPROCS(0))
	w.work.Go(func() error { return w.folder("") })
	if err := w.work.Wait(); err != nil {
		return nil, err
	}
	slices.SortFunc(w.found, func(a, b Stat) int { return strings.Compare(a.Path, b.Path) })
	return w.found, nil
}

type walk struct {
	fs   *FS
	top  string
	skip func(name string) bool
	work errgroup.Group

	mu    sync.Mutex
	found []Stat
}

// folder notes what is in a folder and those below it. Nothing is seen in one that
// went meanwhile, that was swapped for something else, or that this user may not
// look into, but for the first.
func (w *walk) folder(below string) error {
	infos, err := w.read(filepath.Join(w.top, filepath.FromSlash(below)), below == "")
	if err != nil {
		return err
	}
	found := make([]Stat, 0, len(infos))
	for _, info := range infos {
		if name := path.Join(below, info.Name()); !w.skip(name) {
			found = append(found, StatOf(name, info))
		}
	}
	w.mu.Lock()
	w.found = append(w.found, found...)
	w.mu.Unlock()
	for _, s := range found {
		if !s.Mode.IsDir() {
			continue
		}
		if w.work.TryGo(func() error { return w.folder(s.Path) }) {
			continue
		}
		if err := w.folder(s.Path); err != nil { // all cores have something to do
			return err
		}
	}
	return nil
}

func (w *walk) read(dir string, first bool) ([]fs.FileInfo, error) {
	infos, err := w.fs.readDir(dir)
	if err == nil || first {
		return infos, err
	}
	if info, e := w.fs.root.Lstat(dir); e == nil && info.IsDir() && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, fs.ErrPermission) {
		return nil, err
	}
	return nil, nil
}

func (f *FS) readDir(dir string) (infos []fs.FileInfo, err error) {
	opened, ok := f.beneathFolder(dir)
	if !ok {
		if opened, err = f.root.Open(dir); err != nil {
			return nil, err
		}
	}
	defer func() { err = errors.Join(err, opened.Close()) }()
	return opened.Readdir(-1)
}
