package generator

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/spf13/afero"
	"golang.org/x/sync/errgroup"
	"golang.org/x/sync/semaphore"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/photo"
)

// publicPhotos are the photos that the site shows, each once, in the order of
// the logs. A photo that one entry keeps private and another shows is shown.
func publicPhotos(shop *logbook.Shop) []logbook.Photo {
	var all []logbook.Photo
	seen := map[string]bool{}
	add := func(photos []logbook.Photo) {
		for _, p := range photos {
			if p.Path != "" && !p.Private && !seen[p.Path] {
				seen[p.Path] = true
				all = append(all, p)
			}
		}
	}
	add(shop.Photos)
	for _, m := range shop.Machines {
		add(m.Photos)
		for _, e := range m.Entries {
			add(e.Photos)
		}
	}
	return all
}

// lookAtPhotos looks at the head of every photo that the site shows.
func lookAtPhotos(folder afero.Fs, shop *logbook.Shop, album *Album, words *catalog.Catalog) (map[string]page.Photo, []logbook.Problem, error) {
	photos := publicPhotos(shop)
	looked := make([]page.Photo, len(photos))
	wrong := make([]error, len(photos))
	err := each(len(photos), func(i int) error {
		var err error
		looked[i], wrong[i], err = album.look(folder, photos[i].Path)
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	byPath := map[string]page.Photo{}
	var problems []logbook.Problem
	for i, p := range photos {
		if wrong[i] != nil {
			problems = append(problems, photoProblem(p, wrong[i], words))
			continue
		}
		byPath[p.Path] = looked[i]
	}
	return byPath, problems, nil
}

// Broken is the problem of a photo, named by its path, that turned out broken
// when it was made; none where the site does not show it.
func (r *Reading) Broken(path string, why error, o Options) []logbook.Problem {
	for _, p := range publicPhotos(r.Shop) {
		if p.Path == path {
			return []logbook.Problem{photoProblem(p, why, o.words())}
		}
	}
	return nil
}

func photoProblem(p logbook.Photo, err error, words *catalog.Catalog) logbook.Problem {
	at := p.Place
	if p.Listed {
		at = at.In("file")
	}
	return logbook.Problem{Place: at, Says: words.Say("problem.photo", "file", p.Path, "why", err), Mend: words.Say("problem.photo.mend")}
}

// tryPhotos decodes the photos that no run has decoded yet, for a reading that no
// site is made of: what is broken is told with everything else that has to be
// mended, not when all of that is. It returns the ones that are whole.
func (r *Reading) tryPhotos(folder afero.Fs, o Options) (whole []string, err error) {
	var photos []logbook.Photo
	for _, p := range publicPhotos(r.Shop) {
		if _, looked := r.Photos[p.Path]; looked && !o.Album.knows(folder, p.Path) {
			photos = append(photos, p)
		}
	}
	set := &setter{folder: folder, of: len(photos), progress: o.Progress, room: semaphore.NewWeighted(room)}
	wrong := make([]error, len(photos))
	order := largestFirst(folder, photos)
	err = each(len(order), func(n int) error {
		i := order[n]
		var err error
		wrong[i], err = set.try(photos[i].Path, r.Photos[photos[i].Path])
		set.count()
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, p := range photos {
		if wrong[i] == nil {
			whole = append(whole, p.Path)
		}
	}
	r.addBroken(photos, wrong, o)
	return whole, nil
}

// addBroken adds what is wrong with photos to the problems.
func (r *Reading) addBroken(photos []logbook.Photo, wrong []error, o Options) {
	var problems []logbook.Problem
	for i, w := range wrong {
		if w != nil {
			problems = append(problems, photoProblem(photos[i], w, o.words()))
		}
	}
	r.Shop.Pinpoint(problems)
	r.Problems = logbook.Sort(append(r.Problems, problems...))
}

// setPhotos sets every photo down in its widths. One that the present site has
// already is kept without decoding anything. A photo that turns out broken is
// a problem; all of them are gathered before the run gives up.
func (r *Reading) setPhotos(folder afero.Fs, to Output, o Options) error {
	photos := publicPhotos(r.Shop)
	set := &setter{folder: folder, to: to, of: len(photos), progress: o.Progress, done: map[string]*sync.Once{}, room: semaphore.NewWeighted(room)}
	for _, p := range photos {
		set.done[r.Photos[p.Path].Key] = &sync.Once{}
	}
	wrong := make([]error, len(photos))
	order := largestFirst(folder, photos)
	err := each(len(order), func(n int) error {
		i := order[n]
		ph := r.Photos[photos[i].Path]
		var err error
		// Two files with the same content are one photo of the site.
		set.done[ph.Key].Do(func() { wrong[i], err = set.down(photos[i].Path, ph) })
		set.count()
		return err
	})
	r.addBroken(photos, wrong, o)
	return err
}

// largestFirst is the order in which to make photos, as indexes: the largest
// files first, so that no core is left alone with a large one at the end. What
// cannot be looked at comes last, to be told of when it is read.
func largestFirst(folder afero.Fs, photos []logbook.Photo) []int {
	sizes, order := make([]int64, len(photos)), make([]int, len(photos))
	for i, p := range photos {
		order[i] = i
		if info, err := folder.Stat(p.Path); err == nil {
			sizes[i] = info.Size()
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(sizes[b], sizes[a]) })
	return order
}

// room is how many bytes of decoded photos there may be at a time: for each
// core a photo of 80 megapixels as phones write them. A photo that is heavier
// (a PNG, a progressive JPEG) is made with no other beside it.
var room = int64(runtime.GOMAXPROCS(0)) * 128 << 20

type setter struct {
	folder   afero.Fs
	to       Output
	done     map[string]*sync.Once
	room     *semaphore.Weighted
	of       int
	finished atomic.Int64
	mu       sync.Mutex
	progress func(done, of int)
}

func (s *setter) count() {
	if s.progress == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.progress(int(s.finished.Add(1)), s.of)
}

// down sets one photo down; wrong is what is the matter with the photo itself.
func (s *setter) down(path string, ph page.Photo) (wrong, err error) {
	kept := map[int]bool{} // by width; of a photo of the site some widths may be damaged or gone
	for _, size := range ph.Sizes {
		if s.to.Keep(page.PhotoPath(ph.Key, size.Width)) {
			kept[size.Width] = true
		}
	}
	if len(kept) == len(ph.Sizes) {
		return nil, nil
	}
	var clean photo.Clean
	wrong, err = s.decode(path, ph, func(data []byte) (wrong error) {
		clean, wrong = photo.Make(data)
		return wrong
	})
	if wrong != nil || err != nil {
		return wrong, err
	}
	for _, rendition := range clean.Renditions {
		if kept[rendition.Width] {
			continue
		}
		if err := s.to.Put(page.PhotoPath(ph.Key, rendition.Width), rendition.JPEG); err != nil {
			return nil, fmt.Errorf("setting down %s: %w", path, err)
		}
	}
	return nil, nil
}

// try decodes one photo and makes nothing of it.
func (s *setter) try(path string, ph page.Photo) (wrong, err error) {
	return s.decode(path, ph, photo.Check)
}

// decode reads a photo and hands it on as soon as there is room for it decoded.
func (s *setter) decode(path string, ph page.Photo, do func(data []byte) error) (wrong, err error) {
	data, err := afero.ReadFile(s.folder, path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the photo %s: %w", path, err)
	}
	if photo.Key(data) != ph.Key {
		return nil, fmt.Errorf("%s changed while it was read; run this again", path)
	}
	weight := min(photo.Weight(data), room)
	if err := s.room.Acquire(context.Background(), weight); err != nil {
		return nil, err
	}
	defer s.room.Release(weight)
	return do(data), nil
}

// each calls do for 0 to n-1 on all the cores and returns the first error;
// what has not begun by then is left.
func each(n int, do func(int) error) error {
	work, ctx := errgroup.WithContext(context.Background())
	work.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		work.Go(func() error {
			if ctx.Err() != nil {
				return nil
			}
			return do(i)
		})
	}
	return work.Wait()
}
