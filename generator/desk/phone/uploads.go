package phone

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io"
	"sync"
	"time"

	"asleft/generator/photo"
)

// Sizes of photos on their way in, which stay in memory until the entry that
// they belong to is saved.
const (
	mostPhoto = 40 << 20  // bytes of one
	mostShelf = 320 << 20 // of all together
	mostHeld  = 60        // photos of one phone
	shelfTime = 3 * time.Hour
	piece     = 256 << 10 // bytes that the script sends at once
	mostPiece = 1 << 20
)

// Why a photo is not taken.
var (
	errPhotoSize   = errors.New("the photo has no size, or is too big")
	errUploadsFull = errors.New("too many photos are on their way")
	errElsewhere   = errors.New("the piece does not follow the last one")
	errCut         = errors.New("the piece was cut short")
)

// The uploads hold photos until they are saved.
type uploads struct {
	now  func() time.Time
	look chan struct{} // one photo is looked at at a time: the pixels of one are many

	mu  sync.Mutex
	all map[string]*upload
}

// An upload is a photo on its way, and belongs to one session. Size is what was announced.
type upload struct {
	id      string
	owner   *session
	name    string // as the phone calls it; never a name of ours
	size    int64
	written time.Time

	// Guarded by the uploads.
	used  time.Time
	saved bool // it is in the shop folder, and stays in case the answer was lost

	mu      sync.Mutex
	data    []byte
	turn    int // counts the tries to send on; only the last one counts
	checked bool
}

func newUploads(now func() time.Time) *uploads {
	return &uploads{now: now, look: make(chan struct{}, 1), all: map[string]*upload{}}
}

// add makes room for a photo of that size.
func (s *uploads) add(owner *session, name string, size int64, written time.Time) (*upload, error) {
	if size <= 0 || size > mostPhoto {
		return nil, errPhotoSize
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.room(owner, size) {
		return nil, errUploadsFull
	}
	var id [16]byte
	_, _ = rand.Read(id[:]) // it never fails (package crypto/rand)
	h := &upload{id: hex.EncodeToString(id[:]), owner: owner, name: name, size: size, written: written, used: s.now()}
	s.all[h.id] = h
	return h, nil
}

// room tells whether there is room, once what is no longer needed is gone. The
// caller holds s.
func (s *uploads) room(owner *session, size int64) bool {
	var all int64
	own := 0
	for id, h := range s.all {
		if s.now().Sub(h.used) > shelfTime {
			delete(s.all, id)
			continue
		}
		if !h.saved {
			all += h.size
			if h.owner == owner {
				own++
			}
		}
	}
	for id, h := range s.all {
		if !h.saved {
			continue
		}
		if all+h.size+size > mostShelf {
			delete(s.all, id)
			continue
		}
		all += h.size
	}
	return all+size <= mostShelf && own < mostHeld
}

// of is a photo of that session, nil where there is none of that id.
func (s *uploads) of(owner *session, id string) *upload {
	s.mu.Lock()
	defer s.mu.Unlock()
	h := s.all[id]
	if h == nil || h.owner != owner {
		return nil
	}
	h.used = s.now()
	return h
}

func (s *uploads) drop(h *upload) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.all, h.id)
}

func (s *uploads) done(all []*upload) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, h := range all {
		h.saved = true
	}
}

// have is how much of the photo is here.
func (h *upload) have() int64 {
	h.mu.Lock()
	defer h.mu.Unlock()
	return int64(len(h.data))
}

// take takes in a piece that begins at that place. What came of a piece that was
// cut short is kept. A later try takes over from one that still hangs on a dead
// line.
func (h *upload) take(at int64, from io.Reader) error {
	h.mu.Lock()
	if at != int64(len(h.data)) {
		h.mu.Unlock()
		return errElsewhere
	}
	h.turn++
	turn := h.turn
	h.mu.Unlock()
	b := make([]byte, 32<<10)
	for {
		n, err := from.Read(b)
		if e := h.put(turn, b[:n]); e != nil {
			return e
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return errors.Join(errCut, err)
		}
	}
}

func (h *upload) put(turn int, b []byte) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if turn != h.turn {
		return errElsewhere
	}
	if int64(len(h.data)+len(b)) > h.size {
		return errPhotoSize
	}
	h.data = append(h.data, b...)
	return nil
}

// whole is the photo's bytes, nil where some are still to come or it was not
// looked at.
func (h *upload) whole() []byte {
	h.mu.Lock()
	defer h.mu.Unlock()
	if !h.checked {
		return nil
	}
	return h.data
}

// check looks at a whole photo: that it is one, and that all of the picture is
// there. It is refused, a *photo.Refusal, before any of it is kept. A photo that
// is not whole yet is not looked at.
func (s *uploads) check(h *upload) error {
	h.mu.Lock()
	data, checked := h.data, h.checked
	h.mu.Unlock()
	if checked || int64(len(data)) != h.size {
		return nil
	}
	s.look <- struct{}{}
	defer func() { <-s.look }()
	if _, err := photo.Make(data); err != nil {
		s.drop(h)
		return err
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.checked = true
	return nil
}
