package generator

import (
	"fmt"
	"sync"

	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/page"
	"asleft/generator/photo"
)

// An Album remembers what photos are, so that reading a folder again reads only
// those that changed since. The zero value is an empty one; it may be used from
// many goroutines, for one folder.
type Album struct {
	mu    sync.Mutex
	known map[string]page.Photo // by output.FileKey, as they were looked at
	whole map[string]page.Photo // those that an earlier run of the program has decoded
}

// look is what a photo is, and what is wrong with it. A nil album looks anew.
func (a *Album) look(folder afero.Fs, path string) (ph page.Photo, wrong, err error) {
	key := a.key(folder, path)
	if ph, ok := a.find(key); ok {
		return ph, nil, nil
	}
	info, err := folder.Stat(path)
	if err != nil {
		return ph, nil, fmt.Errorf("cannot read the photo %s: %w", path, err)
	}
	if wrong := photo.CheckFile(info); wrong != nil {
		return ph, wrong, nil
	}
	data, err := afero.ReadFile(folder, path)
	if err != nil {
		return ph, nil, fmt.Errorf("cannot read the photo %s: %w", path, err)
	}
	head, wrong := photo.Look(data)
	if wrong != nil {
		return ph, wrong, nil
	}
	ph = page.Photo{Key: photo.Key(data), Sizes: photo.Sizes(head)}
	a.remember(key, ph)
	return ph, nil, nil
}

// knows tells whether an earlier run of the program has decoded a photo as its file
// is now.
func (a *Album) knows(folder afero.Fs, path string) bool {
	if a == nil || len(a.whole) == 0 {
		return false
	}
	_, ok := a.whole[a.key(folder, path)]
	return ok
}

// key is the file in its state, "" where a later write might not show.
func (a *Album) key(folder afero.Fs, path string) string {
	if a == nil {
		return ""
	}
	return output.FileKey(folder, path)
}

func (a *Album) find(key string) (ph page.Photo, ok bool) {
	if key == "" {
		return ph, false
	}
	if ph, ok = a.whole[key]; ok {
		return ph, ok
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	ph, ok = a.known[key]
	return ph, ok
}

func (a *Album) remember(key string, ph page.Photo) {
	if key == "" {
		return
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.known == nil {
		a.known = map[string]page.Photo{}
	}
	a.known[key] = ph
}
