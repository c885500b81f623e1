package benchpage

import (
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/entry"
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
	Draft  string   `json:"draft,omitempty"`  // a draft of it on this computer, and its sum
	Drawn  string   `json:"drawn,omitempty"`
}

// idForm is an id as forms have it: 128 random bits.
var idForm = regexp.MustCompile(`^[0-9a-f]{32}$`)

func newID() string {
	var id [16]byte
	_, _ = rand.Read(id[:]) // it never fails (package crypto/rand)
	return hex.EncodeToString(id[:])
}

// sum is of what a form says. A photo that was sent anew has another id and is the
// same photo.
func sum(v url.Values) string {
	said := url.Values{}
	for name, all := range v {
		if !slices.Contains([]string{"do", "id", "late", "photo-id", "photo-private"}, name) {
			said[name] = all
		}
	}
	return sumOf([]byte(said.Encode()))
}

func sumOf(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// sending is what is remembered of an id; nothing where it is new.
func (b *Bench) sending(id string) (s sending, err error) {
	if !idForm.MatchString(id) {
		return s, nil
	}
	data, err := afero.ReadFile(b.folder, path.Join(sentDir, id))
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
func (b *Bench) remember(id string, s sending) error {
	if !idForm.MatchString(id) {
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
func (b *Bench) forgetOld() {
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
func (b *Bench) alike(j *job, data []byte) (names []string, err error) {
	infos, err := afero.ReadDir(b.folder, j.dir())
	if err != nil {
		return nil, fmt.Errorf("cannot read the folder %s: %w", j.dir(), err)
	}
	bare := timeLine.ReplaceAllString(string(data), "")
	for _, i := range infos {
		if !i.Mode().IsRegular() || i.Size() != int64(len(data)) || !strings.HasPrefix(i.Name(), j.entry.Stem()) {
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

// draw keeps an entry that did not pass as a draft on this computer too, in the place
// of an earlier one of the same id. Without room for it, it is on the phone alone.
func (b *Bench) draw(id string, s sending, j *job) string {
	drawn := j.entry
	drawn.Photos = nil // they are still with the phone
	data := drawn.Markdown()
	if s.Draft != "" {
		if entry.KeepDraft(b.folder, s.Draft, data) != nil {
			return s.Draft
		}
	} else {
		name, err := entry.NewDraft(b.folder, entry.Drafts, j.machine.Key, data)
		if err != nil {
			return ""
		}
		s.Draft = name
	}
	s.Drawn = sumOf(data)
	if b.remember(id, s) != nil {
		_ = b.folder.Remove(s.Draft) // nobody would know that it is of this id
		return ""
	}
	return s.Draft
}

// takenUp tells whether somebody went on with the draft of an entry on this computer,
// or dropped it there.
func (b *Bench) takenUp(s sending) bool {
	if s.Draft == "" {
		return false
	}
	data, err := afero.ReadFile(b.folder, s.Draft)
	return err != nil || sumOf(data) != s.Drawn
}
