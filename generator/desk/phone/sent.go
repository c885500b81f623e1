package phone

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/entry"
	"asleft/generator/rooted"
)

// sentDir holds what is remembered of the entries that came from phones, a file for
// each. Its name begins with a dot, so no reader of the shop folder looks into it.
const sentDir = ".asleft/phone"

// mostSent is how many of them are remembered, the last ones: more than a phone keeps.
const mostSent = 2000

// A sending is what is remembered of an entry by the id that its form was given: two
// entries that say the same are two, and one that is sent twice, for the answer was
// lost on the way, is one. It is on the disk before the entry is, so that a program
// that is killed between the two knows of it too.
type sending struct {
	Sum    string   `json:"sum,omitempty"`    // of the form, as it was saved
	Before []string `json:"before,omitempty"` // entries that said the same before
	File   string   `json:"file,omitempty"`   // the entry, once it is written
	Drawn  string   `json:"drawn,omitempty"`  // the sum of a draft of it on this computer

	said string // the sum of what is sent now
}

// sum is of what a form says. A photo that was sent anew has another id and is the
// same photo.
func sum(v url.Values) string {
	said := url.Values{}
	for name, all := range v {
		if !slices.Contains([]string{"do", "id", "late", "draft", "photo-id", "photo-private"}, name) {
			said[name] = all
		}
	}
	return desk.Digest([]byte(said.Encode()))
}

// sending is what is remembered of an id; nothing where it is new.
func (b *Base) sending(id string) (s sending, err error) {
	if !desk.GoodID(id) {
		return s, nil
	}
	data, err := rooted.ReadFile(b.folder, path.Join(sentDir, id), rooted.MostText)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err != nil {
		return s, err
	}
	if err := json.Unmarshal(data, &s); err != nil {
		return sending{}, nil // damaged by somebody else: it may be sent twice, and is not lost
	}
	return s, nil
}

// remember keeps what is known of an id, on the disk.
func (b *Base) remember(id string, s sending) error {
	if !desk.GoodID(id) {
		return nil
	}
	data, err := json.Marshal(s)
	if err != nil {
		return err
	}
	if err := b.folder.MkdirAll(sentDir, 0o700); err != nil {
		return err
	}
	b.forgetOld()
	return entry.KeepDraft(b.folder, path.Join(sentDir, id), data)
}

// forgetOld makes room where too many are remembered. That it fails changes nothing.
func (b *Base) forgetOld() {
	infos, _ := afero.ReadDir(b.folder, sentDir)
	if len(infos) < mostSent {
		return
	}
	slices.SortFunc(infos, func(x, y fs.FileInfo) int {
		return cmp.Or(x.ModTime().Compare(y.ModTime()), strings.Compare(x.Name(), y.Name()))
	})
	for _, i := range infos[:len(infos)-mostSent+1] {
		_ = b.folder.Remove(path.Join(sentDir, i.Name()))
	}
}

// alike are the entries of the machine that hold exactly these bytes, but for the time
// at which they came.
func (b *Base) alike(j *job) (names []string, err error) {
	data := j.file.Text
	infos, err := afero.ReadDir(b.folder, j.dir())
	if err != nil {
		return nil, fmt.Errorf("cannot read the folder %s: %w", j.dir(), err)
	}
	bare := timeLine.ReplaceAllString(string(data), "")
	for _, i := range infos {
		if !i.Mode().IsRegular() || i.Size() != int64(len(data)) || !strings.HasPrefix(i.Name(), j.file.Stem) {
			continue
		}
		name := path.Join(j.dir(), i.Name())
		there, err := afero.ReadFile(b.folder, name)
		if err != nil {
			return nil, fmt.Errorf("cannot read %s: %w", name, err)
		}
		if timeLine.ReplaceAllString(string(there), "") == bare {
			names = append(names, name)
		}
	}
	return names, nil
}

// draw keeps an entry that did not pass as a draft of the desk too, in the place of an
// earlier one of the same id. Without room for it, it is on the phone alone.
func (b *Base) draw(id string, s sending, j *job) bool {
	if !desk.GoodID(id) {
		return false
	}
	bare := url.Values{}
	for name, all := range j.values {
		if !strings.HasPrefix(name, "f.photos.") { // they are still with the phone
			bare[name] = all
		}
	}
	drawn, err := b.o.Desk.Evening(j.machine.Key, bare)
	if err != nil || b.o.Desk.KeepDraft(j.machine.Key, id, drawn.Text) != nil {
		return false
	}
	s.Drawn = desk.Digest(drawn.Text)
	if b.remember(id, s) != nil {
		_ = b.o.Desk.DropDraft(j.machine.Key, id) // nobody would know that it is of this id
		return false
	}
	return true
}

// takenUp tells whether somebody went on with the draft of an entry on this computer,
// or dropped it there.
func (b *Base) takenUp(key, id string, s sending) bool {
	if s.Drawn == "" {
		return false
	}
	text, err := b.o.Desk.Draft(key, id)
	return err != nil || desk.Digest(text) != s.Drawn
}
