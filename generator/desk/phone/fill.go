package phone

import (
	"errors"
	"net/http"
	"net/url"

	"asleft/generator/desk"
)

// byScript tells whether the page's script sent this: it wants news, not a page.
func byScript(r *http.Request) bool { return r.Header.Get(desk.ByScript) != "" }

// sent takes in an evening that a phone kept, and tells what became of it.
func (b *Base) sent(w http.ResponseWriter, r *http.Request, s *session) {
	m, _ := b.machine(r.PathValue("key"))
	if m == nil {
		w.Header().Set("Connection", "close")
		sendJSON(w, http.StatusNotFound, b.whichMachine())
		return
	}
	v, err := smallForm(w, r, mostForm)
	if err != nil {
		w.Header().Set("Connection", "close")
		http.Error(w, b.words.Say("phone.not-read"), statusOf(err))
		return
	}
	news := b.keepEntry(s, m.Key, v, v.Get("do") == "save-anyway", v.Get("late") != "")
	sendJSON(w, news.status, news)
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
func (b *Base) whichMachine() entryNews {
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
func (b *Base) keepEntry(s *session, key string, v url.Values, anyway, late bool) entryNews {
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
	case b.takenUp(key, id, known):
		return entryNews{status: http.StatusConflict, Anew: true, Says: []string{b.words.Say("phone.taken-up")}}
	}
	known.said = sum(v)
	j, lost, err := b.job(s, key, v)
	switch {
	case err != nil:
		return entryNews{status: http.StatusUnprocessableEntity, Says: []string{err.Error()}}
	case lost > 0 && !anyway:
		return entryNews{status: http.StatusConflict, Photos: true, Says: []string{b.words.Count("phone.photos-lost", lost)}}
	case j.nothing:
		return entryNews{status: http.StatusUnprocessableEntity, Says: []string{b.words.Say("phone.nothing")}}
	}
	found, err := b.try(j)
	if err != nil {
		return fails(err)
	}
	if len(found) > 0 && (!anyway || len(j.file.Silent) > 0) { // nobody's silence is a no
		if late {
			b.tellLate(j, b.draw(id, known, j), found)
		}
		return entryNews{status: http.StatusUnprocessableEntity, Found: found}
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
func (b *Base) tellLate(j *job, drawn bool, found []finding) {
	if b.o.Tell == nil {
		return
	}
	says := "phone.late-refused"
	if drawn {
		says = "phone.late-drawn"
	}
	b.o.Tell(b.words.Say(says, "machine", j.machine.Name))
	for _, f := range found {
		b.o.Tell(f.inFile.Says)
		if f.line != "" {
			b.o.Tell("  | " + f.line)
		}
		b.o.Tell("    " + f.inFile.Mend)
	}
}

// photoWrong tells what is wrong with a photo.
func (b *Base) photoWrong(err error) string {
	switch {
	case errors.Is(err, errPhotoSize):
		return b.words.Say("phone.photo-size")
	case errors.Is(err, errUploadsFull):
		return b.words.Say("phone.uploads-full")
	}
	return b.words.Say("phone.photo-refused", "why", err)
}
