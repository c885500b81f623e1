package generator

import (
	"fmt"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/photo"
)

// An Album remembers what photos are, so that reading a folder again reads only
// those that changed since. The zero value is an empty one; it may be used from
// many goroutines, for one folder.
type Album struct {
	mu    sync.Mutex
	known map[string]seen
	// earlier is what a photo is as an earlier run of the program saw it; nil
	// where there was none.
	earlier func(path string) (page.Photo, bool)
}

// seen is a photo as it was looked at: its file's size and time, and what came
// of it. Wrong is what is the matter with it.
type seen struct {
	size    int64
	written time.Time
	photo   page.Photo
	wrong   error
}

// settled is how old a file has to be for its time to tell that it was not
// written to since: some disks count in steps of two seconds.
const settled = 3 * time.Second

// look is what a photo is, and what is wrong with it. A nil album looks anew.
func (a *Album) look(folder afero.Fs, path string) (ph page.Photo, wrong, err error) {
	if a != nil && a.earlier != nil {
		if ph, ok := a.earlier(path); ok {
			return ph, nil, nil
		}
	}
	info, err := folder.Stat(path)
	if err != nil {
		return ph, nil, fmt.Errorf("cannot read the photo %s: %w", path, err)
	}
	now := seen{size: info.Size(), written: info.ModTime()}
	if old, ok := a.remembered(path); ok && old.size == now.size && old.written.Equal(now.written) {
		return old.photo, old.wrong, nil
	}
	if wrong := photo.CheckFile(info); wrong != nil {
		return ph, wrong, nil
	}
	began := time.Now()
	data, err := afero.ReadFile(folder, path)
	if err != nil {
		return ph, nil, fmt.Errorf("cannot read the photo %s: %w", path, err)
	}
	if head, wrong := photo.Look(data); wrong != nil {
		now.wrong = wrong
	} else {
		now.photo = page.Photo{Key: photo.Key(data), Sizes: photo.Sizes(head)}
	}
	if began.Sub(now.written) > settled && int64(len(data)) == now.size {
		a.remember(path, now)
	}
	return now.photo, now.wrong, nil
}

// knows tells whether an earlier run of the program made a photo, or decoded it,
// as its file is now.
func (a *Album) knows(path string) bool {
	if a == nil || a.earlier == nil {
		return false
	}
	_, ok := a.earlier(path)
	return ok
}

func (a *Album) remembered(path string) (seen, bool) {
	if a == nil {
		return seen{}, false
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	s, ok := a.known[path]
	return s, ok
}

func (a *Album) remember(path string, s seen) {
	if a == nil {
		return
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.known == nil {
		a.known = map[string]seen{}
	}
	a.known[path] = s
}

// keep forgets all photos but these.
func (a *Album) keep(photos []logbook.Photo) {
	if a == nil {
		return
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	kept := map[string]seen{}
	for _, p := range photos {
		if s, ok := a.known[p.Path]; ok {
			kept[p.Path] = s
		}
	}
	a.known = kept
}
