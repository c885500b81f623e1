package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// Size is what a shop is made from. All of it goes into every byte.
type Size struct {
	Machines, Entries, Photos int
	Width, Height             int // of a photo as stored, in pixels
	Seed                      uint64
}

// What the user can mend.
var (
	errSize = errors.New("no shop of that size can be made")
	errFull = errors.New("the folder has files in it; name an empty or a new one")
)

// maxEach is the most entries a machine has on average: the calendar has a day
// for each.
const maxEach = 1000

func (s Size) check() error {
	wrong := func(why string) error { return fmt.Errorf("%w: %s", errSize, why) }
	switch {
	case s.Machines < 1 || s.Machines > 100_000:
		return wrong("from 1 to 100000 machines")
	case s.Entries < 0 || s.Entries/s.Machines > maxEach:
		return wrong(fmt.Sprintf("from 0 to %d entries for each machine", maxEach))
	case s.Photos < 0 || s.Photos > 0 && s.Photos > maxEach*s.Entries:
		return wrong("photos need entries to stand in")
	case s.Width < 16 || s.Height < 16 || s.Width > 65_000 || s.Height > 65_000:
		return wrong("photos from 16 to 65000 pixels a side")
	}
	return nil
}

// made is what came out, in bytes. text is all Markdown files, bodies the part
// of them below the front matter.
type made struct{ text, bodies, photos int64 }

// fill makes the shop in a folder that holds nothing yet.
func fill(dir string, size Size) (made, error) {
	if err := size.check(); err != nil {
		return made{}, err
	}
	if err := refuseFull(dir); err != nil {
		return made{}, err
	}
	p, err := newPlan(size)
	if err != nil {
		return made{}, err
	}
	var text, bodies, photos atomic.Int64
	write := func(f file) error {
		if f.photo {
			photos.Add(int64(len(f.data)))
		} else {
			text.Add(int64(len(f.data)))
			bodies.Add(int64(f.body))
		}
		return put(dir, f)
	}
	if err := write(p.shop()); err != nil {
		return made{}, err
	}
	err = each(len(p.machines), func(i int) error { return p.log(i, write) })
	return made{text.Load(), bodies.Load(), photos.Load()}, err
}

// A file of the shop, by its path with slashes.
type file struct {
	path  string
	data  []byte
	body  int // bytes below the front matter
	photo bool
}

func put(dir string, f file) error {
	name := filepath.Join(dir, filepath.FromSlash(f.path))
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return fmt.Errorf("making the folder for %s: %w", f.path, err)
	}
	if err := os.WriteFile(name, f.data, 0o644); err != nil {
		return fmt.Errorf("writing %s: %w", f.path, err)
	}
	return nil
}

// refuseFull refuses a folder with anything in it: what is made here is
// invented and must never end up among real logs.
func refuseFull(dir string) error {
	names, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("looking into %s: %w", dir, err)
	}
	if len(names) > 0 {
		return fmt.Errorf("%s: %w (there is %s)", dir, errFull, names[0].Name())
	}
	return nil
}

// each calls do for 0 to n-1 on all cores, until one fails.
func each(n int, do func(int) error) error {
	work, ctx := errgroup.WithContext(context.Background())
	work.SetLimit(runtime.GOMAXPROCS(0))
	for i := 0; i < n && ctx.Err() == nil; i++ {
		work.Go(func() error { return do(i) })
	}
	return work.Wait()
}
