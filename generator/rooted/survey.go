package rooted

import (
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"
)

// Survey is Surveyor's: as many folders at a time as there are cores.
func (f *FS) Survey(dir string, skip func(dir string) bool) ([]Mark, error) {
	if skip == nil {
		skip = func(string) bool { return false }
	}
	dir = local(dir)
	top := &folder{}
	if dir != "." {
		top.prefix = filepath.ToSlash(dir) + "/"
	}
	s := &survey{fs: f, skip: skip, todo: []*folder{top}}
	s.more = sync.NewCond(&s.mu)
	if err := s.start(top, dir); err != nil {
		return nil, err
	}
	var work errgroup.Group
	for range runtime.GOMAXPROCS(0) {
		work.Go(s.work)
	}
	if err := work.Wait(); err != nil {
		for _, f := range s.todo {
			f.leave()
		}
		return nil, err
	}
	return top.gather(nil), nil
}

// A folder is one that a survey has found.
type folder struct {
	above  *folder
	prefix string // what the paths in it begin with
	marks  []Mark
	below  []*folder
	held   held // what the system needs to look into it
}

// name is the folder's own, for all but the first.
func (f *folder) name() string { return f.prefix[len(f.above.prefix) : len(f.prefix)-1] }

// A survey hands folders out. The one found last goes first: so only few are
// open at a time, however many there are.
type survey struct {
	fs   *FS
	skip func(dir string) bool

	mu   sync.Mutex
	more *sync.Cond // something to do, or nothing ever again
	todo []*folder
	busy int  // folders being looked into
	over bool // one failed
}

func (s *survey) work() error {
	buffer := make([]byte, 64<<10)
	for {
		f := s.next()
		if f == nil {
			return nil
		}
		err := s.visit(f, buffer)
		s.done(err)
		if err != nil {
			return err
		}
	}
}

func (s *survey) next() *folder {
	s.mu.Lock()
	defer s.mu.Unlock()
	for len(s.todo) == 0 && s.busy > 0 && !s.over {
		s.more.Wait()
	}
	if len(s.todo) == 0 || s.over {
		return nil
	}
	last := len(s.todo) - 1
	f := s.todo[last]
	s.todo = s.todo[:last]
	s.busy++
	return f
}

func (s *survey) add(found []*folder) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.todo = append(s.todo, found...)
	s.more.Broadcast()
}

func (s *survey) done(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.busy--
	s.over = s.over || err != nil
	if s.over || s.busy == 0 {
		s.more.Broadcast()
	}
}

// gather appends all marks in and below the folder, sorted by path. What lies in
// "a" belongs behind "a.md" and "a b", for those sort before "a/": so a folder
// waits until no such name follows.
func (f *folder) gather(marks []Mark) []Mark {
	slices.SortFunc(f.marks, func(a, b Mark) int { return strings.Compare(a.Path, b.Path) })
	slices.SortFunc(f.below, func(a, b *folder) int { return strings.Compare(a.name(), b.name()) })
	below := f.below
	var waiting []*folder
	for _, m := range f.marks {
		for len(waiting) > 0 && m.Path > waiting[len(waiting)-1].prefix {
			marks = waiting[len(waiting)-1].gather(marks)
			waiting = waiting[:len(waiting)-1]
		}
		marks = append(marks, m)
		if len(below) > 0 && m.Path == below[0].prefix[:len(below[0].prefix)-1] {
			waiting = append(waiting, below[0])
			below = below[1:]
		}
	}
	for _, w := range slices.Backward(waiting) {
		marks = w.gather(marks)
	}
	return marks
}
