package benchpage

import (
	"errors"
	"net/http"
	"net/url"
)

func (b *Bench) front(w http.ResponseWriter, _ *http.Request, s *session) {
	b.page(w, http.StatusOK, "front", b.frontView(s))
}

// blank is the form of a machine, with what was not saved yet. One that was renamed
// is found under its earlier name too.
func (b *Bench) blank(w http.ResponseWriter, r *http.Request, s *session) {
	m, _, _ := b.machine(r.PathValue("key"))
	if m != nil && m.Key != r.PathValue("key") {
		http.Redirect(w, r, "/bench/m/"+url.PathEscape(m.Key), http.StatusSeeOther)
		return
	}
	draft, _ := s.draft(r.PathValue("key"))
	b.show(w, http.StatusOK, s, r.PathValue("key"), draft, nil, nil)
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

// byScript tells whether the page's script sent this: it wants news, not a page, and
// keeps drafts itself.
func byScript(r *http.Request) bool { return r.Header.Get("Bench-Script") != "" }

// filled takes a form in: saves it, or shows it again with what was asked for.
func (b *Bench) filled(w http.ResponseWriter, r *http.Request, s *session) {
	m, _, shop := b.machine(r.PathValue("key"))
	if m == nil {
		w.Header().Set("Connection", "close")
		if byScript(r) {
			sendJSON(w, http.StatusNotFound, b.whichMachine())
			return
		}
		http.Error(w, b.words.Say("phone.no-machine"), http.StatusNotFound)
		return
	}
	var notes []string
	var came []*upload
	v, err := b.form(w, r, s, func(h *upload, wrong error) {
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
	do := v.Get("do")
	saves := (do == "save" || do == "save-anyway") && len(notes) == 0
	switch {
	case saves && byScript(r):
		news := b.keepEntry(s, m.Key, v, do == "save-anyway", v.Get("late") != "")
		if news.Saved != "" && v.Get("late") == "" {
			b.tellSaved(s, m.Key, news)
		}
		sendJSON(w, news.status, news)
	case saves:
		s.keep(m.Key, v)
		b.save(w, r, s, m.Key, v, do == "save-anyway")
	default:
		if !byScript(r) {
			s.keep(m.Key, v)
		}
		v = again(v, do, b.clock(shop))
		b.show(w, http.StatusOK, s, m.Key, v, notes, nil)
	}
}

// save writes the entry of a form, or shows the form again with what is wrong.
func (b *Bench) save(w http.ResponseWriter, r *http.Request, s *session, key string, v url.Values, anyway bool) {
	news := b.keepEntry(s, key, v, anyway, false)
	if news.Saved == "" {
		if news.Anew {
			v.Set("id", newID())
			s.keep(key, v)
		}
		b.show(w, news.status, s, key, v, news.Says, news.Found)
		return
	}
	s.keep(key, nil)
	b.tellSaved(s, key, news)
	http.Redirect(w, r, "/bench/", http.StatusSeeOther)
}

func (b *Bench) tellSaved(s *session, key string, news entryNews) {
	says := note{Text: news.Says[0]}
	if m, _, _ := b.machine(key); m != nil {
		says.To, says.Link = "/machines/"+key+"/", b.words.Say("phone.see-page", "machine", m.Name)
	}
	s.tell(says)
	for _, text := range news.Says[1:] {
		s.tell(note{Text: text})
	}
}

// entryNews is what became of an entry that was to be saved.
type entryNews struct {
	status int
	Saved  string    `json:"saved,omitempty"` // the entry's file
	Says   []string  `json:"says,omitempty"`
	Found  []finding `json:"found,omitempty"`  // what is to be mended in it
	Photos bool      `json:"photos,omitempty"` // some of them are not here any more
	Anew   bool      `json:"anew,omitempty"`   // under this id nothing more can be saved
	// Machines are those of the shop, where the one of the entry is none of them.
	Machines []machineName `json:"machines,omitempty"`
}

type machineName struct {
	Key  string `json:"key"`
	Name string `json:"name"`
}

// whichMachine asks which machine an entry is of.
func (b *Bench) whichMachine() entryNews {
	news := entryNews{Says: []string{b.words.Say("phone.which-machine")}}
	if r := b.o.Reading(); r != nil {
		for _, m := range r.Shop.Machines {
			news.Machines = append(news.Machines, machineName{m.Key, m.Name})
		}
	}
	return news
}

// keepEntry writes the entry of a form, once for each id, or tells what is wrong with
// it. One that comes late, from what a phone has kept, has nobody there to mend it: it
// stays with the phone, and is a draft on this computer.
func (b *Bench) keepEntry(s *session, key string, v url.Values, anyway, late bool) entryNews {
	b.saving.Lock()
	defer b.saving.Unlock()
	id := v.Get("id")
	fails := func(err error) entryNews {
		return entryNews{status: http.StatusInternalServerError, Says: []string{b.words.Say("phone.not-written", "why", err)}}
	}
	known, err := b.sending(id)
	switch {
	case err != nil:
		return fails(err)
	case known.File != "" && known.Sum == sum(v):
		return entryNews{status: http.StatusOK, Saved: known.File, Says: []string{b.words.Say("phone.written", "file", known.File)}}
	case known.File != "":
		return entryNews{status: http.StatusConflict, Anew: true, Says: []string{b.words.Say("phone.saved-before", "file", known.File)}}
	case b.takenUp(known):
		return entryNews{status: http.StatusConflict, Anew: true, Says: []string{b.words.Say("phone.taken-up")}}
	}
	j, lost, err := b.job(s, key, v)
	refused := func(status int, found []finding, says ...string) entryNews {
		if late {
			b.tellLate(j, b.draw(id, known, j), found, says)
		}
		return entryNews{status: status, Says: says, Found: found}
	}
	switch {
	case err != nil:
		return entryNews{status: http.StatusUnprocessableEntity, Says: []string{err.Error()}}
	case lost > 0 && !anyway:
		return entryNews{status: http.StatusConflict, Photos: true, Says: []string{b.words.Count("phone.photos-lost", lost)}}
	case nothing(j.entry, len(j.photos)):
		return entryNews{status: http.StatusUnprocessableEntity, Says: []string{b.words.Say("phone.nothing")}}
	}
	if asked := unsaid(j.entry); len(asked) > 0 { // nobody's silence is a no, even where all else is saved as it is
		return refused(http.StatusUnprocessableEntity, nil, b.words.Say("phone.safety-needed", "what", b.words.Each(asked)))
	}
	found, err := b.try(j)
	if err != nil {
		return fails(err)
	}
	if len(found) > 0 && !anyway {
		return refused(http.StatusUnprocessableEntity, found)
	}
	name, err := b.write(j, id, known)
	if err != nil {
		return fails(err)
	}
	news := entryNews{status: http.StatusOK, Saved: name, Says: []string{b.words.Say("phone.written", "file", name)}}
	if len(found) > 0 {
		news.Says = append(news.Says, b.words.Count("phone.to-mend", len(found)))
	}
	return news
}

// tellLate tells on this computer of an entry that came late and did not pass.
func (b *Bench) tellLate(j *job, draft string, found []finding, says []string) {
	if b.o.Tell == nil {
		return
	}
	if draft == "" {
		b.o.Tell(b.words.Say("phone.late-refused", "machine", j.machine.Name))
	} else {
		b.o.Tell(b.words.Say("phone.late-drawn", "machine", j.machine.Name, "file", draft, "key", j.machine.Key))
	}
	for _, text := range says {
		b.o.Tell(text)
	}
	for _, f := range found {
		b.o.Tell(f.Says)
		if f.Line != "" {
			b.o.Tell("  | " + f.Line)
		}
		b.o.Tell("    " + f.Mend)
	}
}

// photoWrong tells what is wrong with a photo.
func (b *Bench) photoWrong(err error) string {
	switch {
	case errors.Is(err, errPhotoSize):
		return b.words.Say("phone.photo-size")
	case errors.Is(err, errUploadsFull):
		return b.words.Say("phone.uploads-full")
	}
	return b.words.Say("phone.photo-refused", "why", err)
}
