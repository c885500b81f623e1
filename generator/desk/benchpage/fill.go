package benchpage

import (
	"errors"
	"net/http"
	"net/url"
)

func (b *Bench) front(w http.ResponseWriter, _ *http.Request, s *session) {
	b.page(w, http.StatusOK, "front", b.frontView(s))
}

// blank is the form of a machine, with what was not saved yet.
func (b *Bench) blank(w http.ResponseWriter, r *http.Request, s *session) {
	key := r.PathValue("key")
	draft, _ := s.draft(key)
	b.show(w, http.StatusOK, s, key, draft, nil, nil)
}

// show shows the form of a machine with these values in it.
func (b *Bench) show(w http.ResponseWriter, status int, s *session, key string, v url.Values, notes []string, found []finding) {
	m, report, shop := b.machine(key)
	if m == nil {
		http.Error(w, b.words.Say("phone.no-machine"), http.StatusNotFound)
		return
	}
	view := b.formView(s, m, report, shop, v)
	view.Notes, view.Found = notes, found
	b.page(w, status, "form", view)
}

// filled takes a form in: saves it, or shows it again with what was asked for.
func (b *Bench) filled(w http.ResponseWriter, r *http.Request, s *session) {
	key := r.PathValue("key")
	if m, _, _ := b.machine(key); m == nil {
		w.Header().Set("Connection", "close")
		http.Error(w, b.words.Say("phone.no-machine"), http.StatusNotFound)
		return
	}
	var notes []string
	var came []*held
	v, err := b.form(w, r, s, func(h *held, wrong error) {
		if wrong == nil {
			came = append(came, h)
			return
		}
		notes = append(notes, b.photoWrong(wrong))
	})
	if err != nil {
		w.Header().Set("Connection", "close")
		http.Error(w, b.words.Say("phone.not-read"), statusOf(err))
		return
	}
	for _, h := range came {
		v.Add("photo-id", h.id)
		v.Add("photo-alt", "")
	}
	s.keep(key, v)
	do := v.Get("do")
	if do != "save" && do != "save-anyway" || len(notes) > 0 {
		_, _, shop := b.machine(key)
		v = again(v, do, b.clock(shop))
		s.keep(key, v)
		b.show(w, http.StatusOK, s, key, v, notes, nil)
		return
	}
	b.save(w, r, s, key, v, do == "save-anyway")
}

// save writes the entry of a form, or shows the form again with what is wrong.
func (b *Bench) save(w http.ResponseWriter, r *http.Request, s *session, key string, v url.Values, anyway bool) {
	b.saving.Lock()
	defer b.saving.Unlock()
	j, lost, err := b.job(s, key, v)
	switch {
	case err != nil:
		b.show(w, http.StatusUnprocessableEntity, s, key, v, []string{err.Error()}, nil)
		return
	case lost > 0 && !anyway:
		b.show(w, http.StatusConflict, s, key, v, []string{b.words.Count("phone.photos-lost", lost)}, nil)
		return
	case nothing(j.entry, len(j.photos)):
		b.show(w, http.StatusUnprocessableEntity, s, key, v, []string{b.words.Say("phone.nothing")}, nil)
		return
	}
	if asked := unsaid(j.entry); len(asked) > 0 { // nobody's silence is a no, even where all else is saved as it is
		b.show(w, http.StatusUnprocessableEntity, s, key, v, []string{b.words.Say("phone.safety-needed", "what", b.words.Each(asked))}, nil)
		return
	}
	found, err := b.try(j)
	if err != nil {
		b.show(w, http.StatusInternalServerError, s, key, v, []string{b.words.Say("phone.not-written", "why", err)}, nil)
		return
	}
	if len(found) > 0 && !anyway {
		b.show(w, http.StatusUnprocessableEntity, s, key, v, nil, found)
		return
	}
	name, err := b.write(j)
	if err != nil {
		b.show(w, http.StatusInternalServerError, s, key, v, []string{b.words.Say("phone.not-written", "why", err)}, nil)
		return
	}
	s.keep(key, nil)
	s.tell(note{Text: b.words.Say("phone.written", "file", name), To: "/machines/" + key + "/", Link: b.words.Say("phone.see-page", "machine", j.machine.Name)})
	if len(found) > 0 {
		s.tell(note{Text: b.words.Count("phone.to-mend", len(found))})
	}
	http.Redirect(w, r, "/bench/", http.StatusSeeOther)
}

// photoWrong tells what is wrong with a photo.
func (b *Bench) photoWrong(err error) string {
	switch {
	case errors.Is(err, errPhotoSize):
		return b.words.Say("phone.photo-size")
	case errors.Is(err, errShelfFull):
		return b.words.Say("phone.shelf-full")
	}
	return b.words.Say("phone.photo-refused", "why", err)
}
