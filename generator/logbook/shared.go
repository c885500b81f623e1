package logbook

import (
	"hash/maphash"
	"sync"
)

// shared keeps one copy of each short text that stands in many places: shops
// write the same words again and again, and of a large one all copies take more
// memory than anything else. It may be used from many goroutines; nil keeps
// nothing.
type shared struct {
	seed   maphash.Seed
	shares [64]struct { // so that goroutines hardly ever wait for each other
		sync.Mutex
		known map[string]string
	}
}

func newShared() *shared { return &shared{seed: maphash.MakeSeed()} }

// longestShared is that of a text, in bytes, that is likely to stand elsewhere too.
const longestShared = 48

// of is the kept copy of a text.
func (s *shared) of(text string) string {
	if s == nil || text == "" || len(text) > longestShared {
		return text
	}
	share := &s.shares[maphash.String(s.seed, text)%uint64(len(s.shares))]
	share.Lock()
	defer share.Unlock()
	if kept, ok := share.known[text]; ok {
		return kept
	}
	if share.known == nil {
		share.known = map[string]string{}
	}
	share.known[text] = text
	return text
}
