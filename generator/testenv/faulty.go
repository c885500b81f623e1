package testenv

import (
	"errors"
	"os"
	"sync"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// ErrFault is what a faulty file system answers with.
var ErrFault = errors.New("the disk failed (on purpose)")

// A Plan says which call of a file system fails, of reading as of writing. With
// Kill, every call after it fails too, as if the process had ended there, and the
// locks are let go, as the system does for a dead process.
type Plan struct {
	Nth     int // counted from 1; 0 is never
	Kill    bool
	Changes bool                  // only what may change the disk counts, no reading
	Hook    func(op, name string) // called before a call, one at a time, if not nil
	Renamed func(to string)       // called after a rename, if not nil
	// Answer is what else a call fails with, if it is not nil and says so.
	Answer func(op, name string) error

	Tripped bool   // it came to that
	Failed  string // the operation that did
	On      string // and on what

	mu       sync.Mutex
	count    int
	dead     bool
	releases []func() error
}

// Over is a file system that follows the plan: one in memory, say, or a rooted one,
// whose abilities it has but for those to list and to link.
func (p *Plan) Over(fsys afero.Fs) afero.Fs {
	f := faulty{fsys, p}
	if disk, ok := fsys.(*rooted.FS); ok {
		return faultyDisk{f, disk}
	}
	return f
}

// call counts a call and says whether it fails.
func (p *Plan) call(op, name string) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.Hook != nil {
		p.Hook(op, name)
	}
	if p.dead {
		return ErrFault
	}
	if p.Answer != nil {
		if err := p.Answer(op, name); err != nil {
			return err
		}
	}
	if p.Changes && (op == "read" || op == "stat") {
		return nil
	}
	p.count++
	if p.count != p.Nth {
		return nil
	}
	p.Tripped, p.Failed, p.On = true, op, name
	if p.Kill {
		p.dead = true
		for _, release := range p.releases {
			if err := release(); err != nil {
				panic(err) // the test's own file system is broken
			}
		}
	}
	return ErrFault
}

type faulty struct {
	afero.Fs
	plan *Plan
}

func (f faulty) Name() string { return "faulty" }

func (f faulty) Create(name string) (afero.File, error) {
	return f.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_TRUNC, 0o666)
}

func (f faulty) Open(name string) (afero.File, error) { return f.OpenFile(name, os.O_RDONLY, 0) }

func (f faulty) OpenFile(name string, flag int, perm os.FileMode) (afero.File, error) {
	op := "read"
	if flag&os.O_CREATE != 0 {
		op = "open"
	}
	if err := f.plan.call(op, name); err != nil {
		return nil, err
	}
	file, err := f.Fs.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return faultyFile{file, f.plan, op}, nil
}

func (f faulty) Stat(name string) (os.FileInfo, error) {
	if err := f.plan.call("stat", name); err != nil {
		return nil, err
	}
	return f.Fs.Stat(name)
}

func (f faulty) Mkdir(name string, perm os.FileMode) error {
	if err := f.plan.call("mkdir", name); err != nil {
		return err
	}
	return f.Fs.Mkdir(name, perm)
}

func (f faulty) MkdirAll(name string, perm os.FileMode) error {
	if err := f.plan.call("mkdirall", name); err != nil {
		return err
	}
	return f.Fs.MkdirAll(name, perm)
}

func (f faulty) Remove(name string) error {
	if err := f.plan.call("remove", name); err != nil {
		return err
	}
	return f.Fs.Remove(name)
}

// RemoveAll that fails has removed about half of what it should.
func (f faulty) RemoveAll(name string) error {
	f.plan.mu.Lock()
	dead := f.plan.dead
	f.plan.mu.Unlock()
	err := f.plan.call("removeall", name)
	if err == nil {
		return f.Fs.RemoveAll(name)
	}
	if dead {
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
	if err := f.plan.call("rename", oldname); err != nil {
		return err
	}
	err := f.Fs.Rename(oldname, newname)
	if f.plan.Renamed != nil {
		f.plan.Renamed(newname)
	}
	return err
}

// A faultyFile is an open file.
type faultyFile struct {
	afero.File
	plan *Plan
	op   string
}

func (f faultyFile) Name() string { return f.File.Name() }

func (f faultyFile) Read(data []byte) (int, error) {
	if err := f.plan.call("read", f.Name()); err != nil {
		return 0, err
	}
	return f.File.Read(data)
}

func (f faultyFile) Readdir(n int) ([]os.FileInfo, error) {
	if err := f.plan.call("read", f.Name()); err != nil {
		return nil, err
	}
	return f.File.Readdir(n)
}

// Write that fails has written half.
func (f faultyFile) Write(data []byte) (int, error) {
	if err := f.plan.call("write", f.Name()); err != nil {
		n, _ := f.File.Write(data[:len(data)/2])
		return n, err
	}
	return f.File.Write(data)
}

// Sync, like Flush, does not wait for the disk.
func (f faultyFile) Sync() error { return f.plan.call("sync", f.Name()) }

func (f faultyFile) Close() error {
	op := "close"
	if f.op == "read" {
		op = "read"
	}
	return errors.Join(f.plan.call(op, f.Name()), f.File.Close())
}

// A faultyDisk is a faulty rooted.FS with its abilities.
type faultyDisk struct {
	faulty
	disk *rooted.FS
}

// Flush does not flush: that would only make hundreds of runs slow.
func (f faultyDisk) Flush() error { return f.plan.call("flush", "") }

func (f faultyDisk) Lock(name string) (func() error, error) {
	if err := f.plan.call("lock", name); err != nil {
		return nil, err
	}
	release, err := f.disk.Lock(name)
	if err != nil {
		return nil, err
	}
	once := sync.OnceValue(release)
	f.plan.mu.Lock()
	defer f.plan.mu.Unlock()
	f.plan.releases = append(f.plan.releases, once)
	return once, nil
}

func (f faultyDisk) LstatIfPossible(name string) (os.FileInfo, bool, error) {
	if err := f.plan.call("stat", name); err != nil {
		return nil, true, err
	}
	return f.disk.LstatIfPossible(name)
}

func (f faultyDisk) SyncDir(name string) error { return f.plan.call("syncdir", name) }

func (f faultyDisk) ReadlinkIfPossible(name string) (string, error) {
	return f.disk.ReadlinkIfPossible(name)
}

func (f faultyDisk) SymlinkIfPossible(target, name string) error {
	return f.disk.SymlinkIfPossible(target, name)
}
