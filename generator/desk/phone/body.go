package phone

import (
	"errors"
	"net/http"
	"net/url"
)

// mostForm is the size of an evening without its photos, and mostBody all that one
// request may carry.
const (
	mostForm = 1 << 20
	mostBody = 3*mostPhoto + 2*mostForm
)

var errTooBig = errors.New("the form is too big")

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
