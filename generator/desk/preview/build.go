package preview

import (
	"bytes"
	"context"
	"io/fs"
	"maps"
	"slices"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/page"
)

// Options are what a preview depends on besides the shop folder. The zero value
// works.
type Options struct {
	// Today is asked at each reading for the day after which a date is in the
	// future; nil: any date goes.
	Today func() logbook.Date
	// Words is the catalog; nil means English.
	Words *catalog.Catalog
	// Theme is the theme's folder; nil means the one that shop.md names.
	Theme fs.FS
	// ThemeDir is where Theme stands, for messages.
	ThemeDir string
}

// A Preview is the site of a shop as it would be made now. Its methods may be
// called from many goroutines.
type Preview struct {
	folder afero.Fs
	o      Options
	album  generator.Album
	photos *photoCache
	build  sync.Mutex    // one build at a time
	quiet  time.Duration // see watch
	idle   time.Duration // how long after a save the photos are checked

	mu      sync.Mutex
	now     *state
	changed chan struct{} // closed when now is replaced
}

// A state is what is shown at a moment. It is replaced whole, never changed.
type state struct {
	version  int // counts the states
	site     *site
	problems []Problem
	reading  *generator.Reading // the last one, sound or not; nil before there was one
}

// A site is one good site. Files are by path; photos too, not made yet.
type site struct {
	build  int64 // tells one site from another; later is larger
	files  map[string][]byte
	photos map[string]source
}

// A source is where a photo of the site comes from.
type source struct {
	key, path string
	width     int
}

// New makes a preview of a shop folder, with nothing in it before the first
// Build.
func New(folder afero.Fs, o Options) *Preview {
	if o.Words == nil {
		o.Words = catalog.English
	}
	return &Preview{folder: folder, o: o, photos: newPhotoCache(folder), quiet: aSave, idle: restful, now: &state{}, changed: make(chan struct{})}
}

// state is the present one, and a channel that is closed when another follows.
func (p *Preview) state() (*state, <-chan struct{}) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.now, p.changed
}

// Reading is the shop as it was last read, problems or not; nil where it could
// not be read yet.
func (p *Preview) Reading() *generator.Reading {
	s, _ := p.state()
	return s.reading
}

// twice is how long after a failed reading it is tried once more: a program
// that saves by renaming leaves a moment without the file.
const twice = 80 * time.Millisecond

// Build reads the folder and shows the site that comes of it; where it has
// problems, the site from before stays and the problems are shown over it.
func (p *Preview) Build() {
	p.build.Lock()
	defer p.build.Unlock()
	reading, made, err := p.make()
	if err != nil {
		time.Sleep(twice)
		reading, made, err = p.make()
	}
	var problems []Problem
	switch {
	case err != nil:
		problems = []Problem{{Says: err.Error()}}
	case made == nil:
		problems = shown(p.folder, reading.Problems)
	}
	p.show(reading, made, problems)
}

// make is one reading of the folder, and the site of a sound one.
func (p *Preview) make() (*generator.Reading, *site, error) {
	o := generator.Options{Words: p.o.Words, Theme: p.o.Theme, ThemeDir: p.o.ThemeDir, Album: &p.album}
	if p.o.Today != nil {
		o.Today = p.o.Today()
	}
	reading, err := generator.Read(p.folder, o)
	if err != nil {
		return nil, nil, err
	}
	for _, path := range slices.Sorted(maps.Keys(reading.Photos)) {
		if wrong := p.photos.known(reading.Photos[path].Key); wrong != nil {
			reading.Problems = logbook.Sort(append(reading.Problems, reading.Broken(path, wrong, o)...))
		}
	}
	if len(reading.Problems) > 0 {
		return reading, nil, nil
	}
	made := &memory{site: &site{files: map[string][]byte{}, photos: map[string]source{}}}
	for path, ph := range reading.Photos {
		for _, size := range ph.Sizes {
			made.site.photos[page.PhotoPath(ph.Key, size.Width)] = source{ph.Key, path, size.Width}
		}
	}
	if err := reading.Compose(p.folder, made, o); err != nil {
		return nil, nil, err
	}
	return reading, made.site, nil
}

// memory is an output that keeps the site in memory.
type memory struct {
	mu   sync.Mutex
	site *site
}

// Put keeps a page.
func (m *memory) Put(path string, data []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.site.files[path] = bytes.Clone(data)
	return nil
}

// Keep tells that a photo is there: it will be made when it is asked for.
func (m *memory) Keep(path string) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	_, ok := m.site.photos[path]
	return ok
}

// show puts a new state in place of the present one, where it differs. What is
// nil stays as it was.
func (p *Preview) show(reading *generator.Reading, made *site, problems []Problem) {
	p.mu.Lock()
	defer p.mu.Unlock()
	next := *p.now
	next.problems = problems
	if reading != nil {
		next.reading = reading
	}
	if made != nil && !made.same(p.now.site) {
		// A page that was open over a restart has to see that it is another site.
		made.build = time.Now().UnixMilli()
		if p.now.site != nil {
			made.build = max(made.build, p.now.site.build+1)
		}
		next.site = made
		p.photos.keep(made.keys())
	}
	differs := p.now.version == 0 || next.site != p.now.site || !slices.Equal(next.problems, p.now.problems)
	if differs {
		next.version++
	}
	p.now = &next
	if differs {
		close(p.changed)
		p.changed = make(chan struct{})
	}
}

func (s *site) same(other *site) bool {
	return other != nil && maps.EqualFunc(s.files, other.files, bytes.Equal) && maps.Equal(s.photos, other.photos)
}

func (s *site) keys() map[string]bool {
	keys := map[string]bool{}
	for _, from := range s.photos {
		keys[from.key] = true
	}
	return keys
}

// checkPhotos makes the photos of a site that nobody asked for yet, and reads
// the folder again where one turns out to be broken, so that the problem shows.
func (p *Preview) checkPhotos(ctx context.Context, s *site) {
	for _, path := range slices.Sorted(maps.Keys(s.photos)) {
		from := s.photos[path]
		if ctx.Err() != nil {
			return
		}
		if p.photos.known(from.key) != nil {
			continue
		}
		if err := p.photos.check(ctx, from.key, from.path); err != nil && p.photos.known(from.key) != nil {
			p.Build()
		}
	}
}

// restful is how long nothing has to be saved before photos are checked: text
// that is being written comes first.
const restful = time.Second

// pause is false where the context ended it.
func pause(ctx context.Context, d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return true
	case <-ctx.Done():
		return false
	}
}

// Follow builds the preview, and again after every change, until the context
// is done. Dirs are the folders to watch, the shop's first; site is the name of
// the folder in it that the published site is in, which is not watched.
func (p *Preview) Follow(ctx context.Context, dirs []string, site string) {
	w := newWatch(dirs, p.quiet, skipped(site))
	var rest sync.WaitGroup
	defer rest.Wait()
	rest.Go(func() { w.run(ctx) })
	checked := make(chan struct{})
	close(checked)
	for ctx.Err() == nil {
		p.Build()
		checking, stop := context.WithCancel(ctx)
		before := checked
		checked = make(chan struct{})
		go func(checked chan<- struct{}) {
			defer close(checked)
			<-before // making a photo takes longer than a build; one checker is enough
			if s, _ := p.state(); s.site != nil && pause(checking, p.idle) {
				p.checkPhotos(checking, s.site)
			}
		}(checked)
		select {
		case <-w.changed:
		case <-ctx.Done():
		}
		stop()
	}
	<-checked
}
