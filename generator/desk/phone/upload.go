package phone

import (
	"net/http"
	"strconv"
	"time"
)

// newPhoto makes room for a photo that comes in pieces.
func (b *Base) newPhoto(w http.ResponseWriter, r *http.Request, s *session) {
	v, err := smallForm(w, r, mostCode)
	if err != nil {
		http.Error(w, b.words.Say("phone.not-read"), statusOf(err))
		return
	}
	size, err := strconv.ParseInt(v.Get("size"), 10, 64)
	if err != nil {
		size = 0
	}
	written := b.now()
	if ms, err := strconv.ParseInt(v.Get("written"), 10, 64); err == nil && ms > 0 && ms < written.UnixMilli() {
		written = time.UnixMilli(ms)
	}
	h, err := b.uploads.add(s, v.Get("name"), size, written)
	if err != nil {
		sendJSON(w, statusOf(err), photoNews{Says: b.photoWrong(err)})
		return
	}
	sendJSON(w, http.StatusCreated, photoNews{ID: h.id, Piece: piece})
}

// photoNews is what the script is told of a photo.
type photoNews struct {
	ID    string `json:"id,omitempty"`
	Have  int64  `json:"have"`
	Piece int    `json:"piece,omitempty"`
	Whole bool   `json:"whole"`
	Says  string `json:"says,omitempty"`
}

func (b *Base) askPhoto(w http.ResponseWriter, r *http.Request, s *session) {
	h := b.uploads.of(s, r.PathValue("id"))
	if h == nil {
		sendJSON(w, http.StatusNotFound, photoNews{})
		return
	}
	sendJSON(w, http.StatusOK, photoNews{ID: h.id, Have: h.have(), Whole: h.whole() != nil, Piece: piece})
}

// takePiece takes in a piece of a photo. What came of one that was cut short is
// kept.
func (b *Base) takePiece(w http.ResponseWriter, r *http.Request, s *session) {
	h := b.uploads.of(s, r.PathValue("id"))
	at, err := strconv.ParseInt(r.URL.Query().Get("at"), 10, 64)
	switch {
	case h == nil:
		w.Header().Set("Connection", "close")
		sendJSON(w, http.StatusNotFound, photoNews{})
		return
	case err != nil:
		sendJSON(w, http.StatusBadRequest, photoNews{})
		return
	case r.ContentLength > mostPiece:
		w.Header().Set("Connection", "close")
		sendJSON(w, http.StatusRequestEntityTooLarge, photoNews{})
		return
	}
	if err := h.take(at, http.MaxBytesReader(w, r.Body, mostPiece)); err != nil {
		sendJSON(w, statusOf(err), photoNews{ID: h.id, Have: h.have()})
		return
	}
	if err := b.uploads.check(h); err != nil {
		sendJSON(w, http.StatusUnprocessableEntity, photoNews{Says: b.photoWrong(err)})
		return
	}
	sendJSON(w, http.StatusOK, photoNews{ID: h.id, Have: h.have(), Whole: h.whole() != nil})
}
