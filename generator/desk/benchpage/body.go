package benchpage

import (
	"errors"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
)

// Sizes of a form: its texts together, its fields, and its photos.
const (
	mostForm   = 1 << 20
	mostFields = 4000
	mostFiles  = 12
	// MostBody is all that one request may carry.
	mostBody = 3*mostPhoto + 2*mostForm
)

var (
	errTooBig  = errors.New("the form is too big")
	errNotForm = errors.New("not a form")
)

// form reads a form. Photos in it are kept with the uploads; taken is told of each
// with what is wrong with it.
func (b *Bench) form(w http.ResponseWriter, r *http.Request, s *session, taken func(*upload, error)) (url.Values, error) {
	kind, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil {
		return nil, errNotForm
	}
	if kind != "multipart/form-data" {
		return smallForm(w, r, mostForm)
	}
	v, left, files := url.Values{}, int64(mostForm), 0
	for parts, n := multipart.NewReader(r.Body, params["boundary"]), 0; ; n++ {
		part, err := parts.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			return v, nil
		case err != nil:
			return nil, err
		case n > mostFields, files > mostFiles:
			return nil, errTooBig
		}
		if part.FormName() == "photo" {
			h, err := b.uploaded(s, part)
			if h != nil || err != nil {
				files++
				taken(h, err)
			}
			continue
		}
		text, err := io.ReadAll(io.LimitReader(part, left+1))
		if err != nil {
			return nil, err
		}
		if left -= int64(len(text)); left < 0 {
			return nil, errTooBig
		}
		v.Add(part.FormName(), string(text))
	}
}

// smallForm reads a form without files.
func smallForm(w http.ResponseWriter, r *http.Request, most int64) (url.Values, error) {
	if r.ContentLength > most {
		return nil, errTooBig
	}
	r.Body = http.MaxBytesReader(w, r.Body, most)
	if err := r.ParseForm(); err != nil {
		return nil, err
	}
	return r.PostForm, nil
}

// uploaded keeps a photo of a form with the uploads; nothing where no file was chosen.
func (b *Bench) uploaded(s *session, part *multipart.Part) (*upload, error) {
	data, err := io.ReadAll(io.LimitReader(part, mostPhoto+1))
	if err != nil {
		return nil, err
	}
	if len(data) == 0 {
		return nil, nil
	}
	h, err := b.uploads.add(s, part.FileName(), int64(len(data)), b.now())
	if err != nil {
		return nil, err
	}
	h.data = data
	return h, b.uploads.check(h)
}

// statusOf is the status of a request whose body could not be read.
func statusOf(err error) int {
	var big *http.MaxBytesError
	switch {
	case errors.As(err, &big), errors.Is(err, errTooBig), errors.Is(err, errPhotoSize):
		return http.StatusRequestEntityTooLarge
	case errors.Is(err, errUploadsFull):
		return http.StatusInsufficientStorage
	case errors.Is(err, errElsewhere):
		return http.StatusConflict
	}
	return http.StatusBadRequest
}
