package output_test

import (
	"errors"
	"os"
	"sync"
	"time"

	"asleft/generator/rooted"

	"github.com/spf13/afero"
)

// errFault is what a faulty file system answers with.
var errFault = errors.New("the disk failed (on purpose)")

// A plan says which call of those that change something fails. With kill, every
// call after it fails too, as if the process had ended there, and the locks are
// let go, as the system does for a dead process.
type plan struct {
	nth  int // counted from 1; 0 is never
	kill bool
	hook func(op, name string) // called before a change, if not nil

	mu       sync.Mutex
	count    int
	tripped  bool
	failed   string // the operation that did
	name     string // and on what
	dead     bool
	releases []func() error
}

// change counts a change and says whether it fails.
func (p *plan) change(op, name string) error {
	if p.hook != nil {
		p.hook(op, name)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.dead {
		return errFault
	}
	p.count++
	if p.count != p.nth {
		return nil
	}
	p.tripped, p.failed, p.name = true, op, name
	if p.kill {
		p.dead = true
		for _, release := range p.releases {
			if err := release(); err != nil {
				panic(err) // the test's own file system is broken
			}
		}
	}
	return errFault
}

func (p *plan) alive() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.dead {
		return errFault
	}
	return nil
}

// A faulty is a file system that follows a plan. It has no abilities beyond
// afero.Fs; faultyDisk has.
type faulty struct {
	afero.Fs
	*plan
}

func (f faulty) Name() string { return "faulty" }

func (f faulty) Create(name string) (afero.File, error) {
	return f.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_TRUNC, 0o666)
}

func (f faulty) Open(name string) (afero.File, error) {
	if err := f.alive(); err != nil {
		return nil, err
	}
	return f.Fs.Open(name)
}

func (f faulty) OpenFile(name string, flag int, perm os.FileMode) (afero.File, error) {
	if flag&os.O_CREATE != 0 {
		if err := f.change("open", name); err != nil {
			return nil, err
		}
	}
	if err := f.alive(); err != nil {
		return nil, err
	}
	file, err := f.Fs.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return faultyFile{file, f.plan}, nil
}

func (f faulty) Stat(name string) (os.FileInfo, error) {
	if err := f.alive(); err != nil {
		return nil, err
	}
	return f.Fs.Stat(name)
}

func (f faulty) Mkdir(name string, perm os.FileMode) error {
	if err := f.change("mkdir", name); err != nil {
		return err
	}
	return f.Fs.Mkdir(name, perm)
}

func (f faulty) MkdirAll(name string, perm os.FileMode) error {
	if err := f.change("mkdirall", name); err != nil {
		return err
	}
	return f.Fs.MkdirAll(name, perm)
}

func (f faulty) Remove(name string) error {
	if err := f.change("remove", name); err != nil {
		return err
	}
	return f.Fs.Remove(name)
}

// RemoveAll that fails has removed about half of what it should.
func (f faulty) RemoveAll(name string) error {
	wasDead := f.alive() != nil
	err := f.change("removeall", name)
	if err == nil {
		return f.Fs.RemoveAll(name)
	}
	if wasDead {
		return err
	}
	var files []string
	_ = afero.Walk(f.Fs, name, func(path string, info os.FileInfo, err error) error {
		if err == nil && !info.IsDir() {
			files = append(files, path)
		}
		return nil
	})
	for _, path := range files[:(len(files)+1)/2] {
		if err := f.Fs.Remove(path); err != nil {
			return err
		}
	}
	return err
}

func (f faulty) Rename(oldname, newname string) error {
	if err := f.change("rename", oldname); err != nil {
		return err
	}
	return f.Fs.Rename(oldname, newname)
}

func (f faulty) Chmod(name string, mode os.FileMode) error {
	if err := f.change("chmod", name); err != nil {
		return err
	}
	return f.Fs.Chmod(name, mode)
}

func (f faulty) Chtimes(name string, atime, mtime time.Time) error {
	if err := f.change("chtimes", name); err != nil {
		return err
	}
	return f.Fs.Chtimes(name, atime, mtime)
}

// A faultyFile is a file open for writing.
type faultyFile struct {
	afero.File
	*plan
}

func (f faultyFile) Name() string { return f.File.Name() }

// Write that fails has written half.
func (f faultyFile) Write(data []byte) (int, error) {
	if err := f.alive(); err != nil {
		return 0, err
	}
	if err := f.change("write", f.Name()); err != nil {
		n, _ := f.File.Write(data[:len(data)/2])
		return n, err
	}
	return f.File.Write(data)
}

// Sync, like Flush, does not wait for the disk.
func (f faultyFile) Sync() error { return f.change("sync", f.Name()) }

func (f faultyFile) Close() error {
	return errors.Join(f.change("close", f.Name()), f.File.Close())
}

// A faultyDisk is a faulty rooted.FS with its abilities, less those in without.
type faultyDisk struct {
	faulty
	disk    *rooted.FS
	without without
}

type without struct{ exchange, link, flush bool }

func (f faultyDisk) Survey(dir string, skip func(dir string) bool) ([]rooted.Mark, error) {
	if err := f.alive(); err != nil {
		return nil, err
	}
	return f.disk.Survey(dir, skip)
}

func (f faultyDisk) Link(oldname, newname string) error {
	if f.without.link {
		return errors.ErrUnsupported
	}
	if err := f.change("link", newname); err != nil {
		return err
	}
	return f.disk.Link(oldname, newname)
}

func (f faultyDisk) Exchange(a, b string) error {
	if f.without.exchange {
		return errors.ErrUnsupported
	}
	if err := f.change("exchange", b); err != nil {
		return err
	}
	return f.disk.Exchange(a, b)
}

// Flush does not flush: that would only make hundreds of runs slow.
func (f faultyDisk) Flush() error {
	if f.without.flush {
		return errors.ErrUnsupported
	}
	return f.change("flush", "")
}

func (f faultyDisk) SyncDir(name string) error { return f.change("syncdir", name) }

func (f faultyDisk) Lock(name string) (func() error, error) {
	if err := f.alive(); err != nil {
		return nil, err
	}
	release, err := f.disk.Lock(name)
	if err != nil {
		return nil, err
	}
	once := sync.OnceValue(release)
	f.mu.Lock()
	defer f.mu.Unlock()
	f.releases = append(f.releases, once)
	return once, nil
}

func (f faultyDisk) LstatIfPossible(name string) (os.FileInfo, bool, error) {
	if err := f.alive(); err != nil {
		return nil, true, err
	}
	return f.disk.LstatIfPossible(name)
}

func (f faultyDisk) ReadlinkIfPossible(name string) (string, error) {
	if err := f.alive(); err != nil {
		return "", err
	}
	return f.disk.ReadlinkIfPossible(name)
}

func (f faultyDisk) SymlinkIfPossible(target, name string) error {
	if err := f.change("symlink", name); err != nil {
		return err
	}
	return f.disk.SymlinkIfPossible(target, name)
}
