package preview

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"github.com/spf13/afero"

	"asleft/generator/photo"
)

// mostBytes is how much the made photos may weigh in memory; the ones that were
// not asked for the longest are made again when they are. A photo in its three
// widths weighs about half a megabyte.
const mostBytes = 256 << 20

// errElsewhere says that a file is not, or no longer, the photo it was: the
// folder is about to be read again.
var errElsewhere = errors.New("the photo was changed")

// A photoCache makes photos and keeps what it made, by key.
type photoCache struct {
	folder afero.Fs
	gate   chan struct{} // as many at once as there are cores

	most int // bytes to keep

	mu    sync.Mutex // held for moments only; over asked and weight of the pictures too
	made  map[string]*picture
	clock int // counts the askings
}

// A picture is one photo. Its lock is held while it is made.
type picture struct {
	mu     sync.Mutex
	clean  photo.Clean // empty where it was let go of again
	sound  bool        // it was made once
	broken error       // what is wrong with it
	asked  int         // when it last was
	weight int         // bytes kept
}

func newPhotoCache(folder afero.Fs) *photoCache {
	return &photoCache{folder: folder, gate: make(chan struct{}, runtime.GOMAXPROCS(0)), most: mostBytes, made: map[string]*picture{}}
}

// get is the photo in one width. The error is a *photo.Refusal where the photo
// is broken.
func (g *photoCache) get(ctx context.Context, key, path string, width int) ([]byte, error) {
	p := g.picture(key)
	p.mu.Lock()
	defer p.mu.Unlock()
	if err := g.make(ctx, p, key, path); err != nil {
		return nil, err
	}
	for _, r := range p.clean.Renditions {
		if r.Width == width {
			return r.JPEG, nil
		}
	}
	return nil, errElsewhere
}

// check makes a photo if it never was, and tells what is wrong with it.
func (g *photoCache) check(ctx context.Context, key, path string) error {
	p := g.picture(key)
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.sound || p.broken != nil {
		return p.broken
	}
	return g.make(ctx, p, key, path)
}

// known is what is wrong with a photo, as far as it was made yet.
func (g *photoCache) known(key string) error {
	g.mu.Lock()
	p := g.made[key]
	g.mu.Unlock()
	if p == nil || !p.mu.TryLock() { // it is being made
		return nil
	}
	defer p.mu.Unlock()
	return p.broken
}

func (g *photoCache) picture(key string) *picture {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.made[key] == nil {
		g.made[key] = &picture{}
	}
	g.clock++
	g.made[key].asked = g.clock
	return g.made[key]
}

// make makes the photo. The caller holds the picture.
func (g *photoCache) make(ctx context.Context, p *picture, key, path string) error {
	if p.broken != nil || len(p.clean.Renditions) > 0 {
		return p.broken
	}
	select {
	case g.gate <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-g.gate }()
	data, err := afero.ReadFile(g.folder, path)
	if err != nil {
		return fmt.Errorf("cannot read the photo %s: %w", path, err)
	}
	if photo.Key(data) != key {
		return fmt.Errorf("%s: %w", path, errElsewhere)
	}
	clean, wrong := photo.Make(data)
	if wrong != nil {
		p.broken = wrong
		return wrong
	}
	p.clean, p.sound = clean, true
	g.weigh(p)
	return nil
}

// weigh counts a picture in, and lets go of those asked for the longest ago
// where all are too much. One that is being sent or made stays.
func (g *photoCache) weigh(in *picture) {
	g.mu.Lock()
	defer g.mu.Unlock()
	for _, r := range in.clean.Renditions {
		in.weight += len(r.JPEG)
	}
	total := 0
	var others []*picture
	for _, p := range g.made {
		total += p.weight
		if p != in && p.weight > 0 {
			others = append(others, p)
		}
	}
	slices.SortFunc(others, func(a, b *picture) int { return cmp.Compare(a.asked, b.asked) })
	for _, p := range others {
		if total <= g.most {
			return
		}
		if p.mu.TryLock() {
			total -= p.weight
			p.clean, p.weight = photo.Clean{}, 0
			p.mu.Unlock()
		}
	}
}

// keep forgets all photos but these.
func (g *photoCache) keep(keys map[string]bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	for key := range g.made {
		if !keys[key] {
			delete(g.made, key)
		}
	}
}
