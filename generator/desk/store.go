package desk

import (
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/entry"
	"asleft/generator/rooted"
)

// Where the desk keeps what is in no file of the shop yet, or not any more. The names
// begin with a dot, so no reader of the shop's folder looks there.
const (
	draftsDir = ".asleft/desk"
	keptDir   = ".asleft/kept"
)

// mostKept is how many files that were replaced are kept; the oldest go first. So many texts
// that were dropped are kept beside them.
const mostKept = 300

// keptStamp begins the name of a kept file: by it they are in order.
const keptStamp = "20060102T150405.000000000"

// A draft is a file as somebody is writing it.
type draft struct {
	File string // in the shop's folder; empty for one that has no name yet
	Base string // the digest of the file that it was made from; empty where there was none
	// Began is the text that the form was filled in from which Text was sent: the rows of
	// a form that is still open are numbered by it.
	Began []byte
	Text  []byte
	At    time.Time
	// Window is the form that it was typed in; empty for none. Another form that was filled
	// in before that knows nothing of it.
	Window string `json:",omitempty"`
}

// A kept file is one as it was before the desk replaced or made it.
type kept struct {
	File   string
	Before []byte // nil where there was no file
	After  string // the digest of what the desk wrote
	At     time.Time
	Undone bool
	// Of a renamed folder: its key before and after, and the files that were changed with it,
	// by the names that they have after.
	From, To string `json:",omitempty"`
	Also     []kept `json:",omitempty"`
}

// Digest is that of a text, as a form carries it; empty where there is no file.
func Digest(text []byte) string {
	if text == nil {
		return ""
	}
	return fmt.Sprintf("%x", sha256.Sum256(text))
}

// now is a file as it is; nil where there is none.
func (d *Desk) now(file string) ([]byte, error) {
	data, err := rooted.ReadFile(d.folder, file, rooted.MostText)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err == nil && data == nil {
		data = []byte{}
	}
	return data, err
}

func draftName(id string) string {
	return path.Join(draftsDir, strings.ReplaceAll(id, "/", "~")+".json")
}

// draftOf is the draft of that name; nil for none.
func (d *Desk) draftOf(id string) (*draft, error) {
	data, err := d.now(draftName(id))
	if data == nil || err != nil {
		return nil, err
	}
	var dr draft
	if err := json.Unmarshal(data, &dr); err != nil {
		return nil, fmt.Errorf("the draft %s cannot be read: %w", draftName(id), err)
	}
	return &dr, nil
}

func (d *Desk) writeDraft(id string, dr draft) error {
	dr.At = d.clock()
	data, err := json.Marshal(dr)
	if err != nil {
		return err
	}
	return entry.Replace(d.folder, draftName(id), data, nil)
}

// putAside drops a draft that somebody does not want; what it says is kept.
func (d *Desk) putAside(id string) error {
	dr, err := d.draftOf(id)
	if err == nil && dr != nil {
		err = d.keepText(id, dr.Text)
	}
	if err != nil {
		return err
	}
	return d.dropDraft(id)
}

func (d *Desk) dropDraft(id string) error {
	err := d.folder.Remove(draftName(id))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// A waiting draft is one in the list of them.
type waiting struct {
	ID string
	draft
}

// drafts are all of them, the newest first.
func (d *Desk) drafts() []waiting {
	infos, _ := afero.ReadDir(d.folder, draftsDir) // it need not be there
	var all []waiting
	for _, i := range infos {
		id, ok := strings.CutSuffix(i.Name(), ".json")
		if !ok {
			continue
		}
		id = strings.ReplaceAll(id, "~", "/")
		if dr, err := d.draftOf(id); err == nil && dr != nil {
			all = append(all, waiting{id, *dr})
		}
	}
	slices.SortFunc(all, func(a, b waiting) int { return cmp.Or(b.At.Compare(a.At), cmp.Compare(a.ID, b.ID)) })
	return all
}

// errOther says that a file is not the one any more that a form was made from.
var errOther = errors.New("the file was changed in the meantime")

// save replaces a file by what somebody keeps, if it still is the one that they began
// with; what was there can be had back.
func (d *Desk) save(file, base string, data []byte) error {
	d.saving.Lock()
	defer d.saving.Unlock()
	before, err := d.now(file)
	if err != nil {
		return err
	}
	if Digest(before) != base {
		return errOther
	}
	if err := d.keep(kept{File: file, Before: before, After: Digest(data), At: d.clock()}); err != nil {
		return err
	}
	return entry.Replace(d.folder, file, data, func(there []byte) error {
		if Digest(there) != base {
			return errOther
		}
		return nil
	})
}

// keep keeps a file as it was.
func (d *Desk) keep(k kept) error {
	data, err := json.Marshal(k)
	if err != nil {
		return err
	}
	name := path.Join(keptDir, k.At.UTC().Format(keptStamp)+".json")
	if err := entry.Replace(d.folder, name, data, nil); err != nil {
		return err
	}
	d.fewKept(".json")
	return nil
}

// keepText keeps a text that somebody wrote and that is in no file and in no draft any more:
// as it is, for a person to read and to copy from.
func (d *Desk) keepText(id string, text []byte) error {
	name := d.clock().UTC().Format(keptStamp) + "-" + strings.ReplaceAll(id, "/", "-") + ".md"
	if err := entry.Replace(d.folder, path.Join(keptDir, name), text, nil); err != nil {
		return err
	}
	d.fewKept(".md")
	return nil
}

// fewKept bounds the kept files of a kind.
func (d *Desk) fewKept(ending string) {
	all := d.keptNames(ending)
	for len(all) > mostKept {
		_ = d.folder.Remove(path.Join(keptDir, all[0])) // the next save tries again
		all = all[1:]
	}
}

// keptNames are the names of the kept files of a kind, the oldest first.
func (d *Desk) keptNames(ending string) []string {
	infos, _ := afero.ReadDir(d.folder, keptDir) // it need not be there
	var all []string
	for _, i := range infos {
		if strings.HasSuffix(i.Name(), ending) && !strings.HasPrefix(i.Name(), ".") {
			all = append(all, i.Name())
		}
	}
	slices.Sort(all)
	return all
}

// A recent remembers the last things that were put in, each by its key; the oldest go
// first.
type recent[T any] struct {
	mu    sync.Mutex
	by    map[string]T
	order []string
}

func (r *recent[T]) put(key string, value T, most int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.by == nil {
		r.by = map[string]T{}
	}
	if _, had := r.by[key]; !had {
		r.order = append(r.order, key)
	}
	r.by[key] = value
	for len(r.order) > most {
		delete(r.by, r.order[0])
		r.order = r.order[1:]
	}
}

func (r *recent[T]) get(key string) T {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.by[key]
}

// mostShown bounds the texts that forms were filled in from, of some kilobytes each.
const mostShown = 200

// A named remembers under which name a file was kept that was begun without one: what its
// page sends after that is about this file, and makes no second one.
type named struct {
	mu    sync.Mutex
	files map[string]keptAs
}

// A turns remembers the number of the last thing that each form sent: what a page sent
// before it, and comes late, is not to stand in its place.
type turns struct {
	mu   sync.Mutex
	last map[string]int64
}

// mostTurns bounds the forms that are remembered; then all are forgotten, which matters to
// none that nobody sends from in this moment.
const mostTurns = 2000

// late tells whether something newer came of that form.
func (t *turns) late(at, turn string) bool {
	n, err := strconv.ParseInt(turn, 10, 64)
	if err != nil {
		return false // without the script nothing is sent twice at a time
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if n < t.last[at] {
		return true
	}
	if t.last == nil || len(t.last) > mostTurns {
		t.last = map[string]int64{}
	}
	t.last[at] = n
	return false
}

// A keptAs is a file and its digest as it was kept, and the window that it was kept from.
type keptAs struct{ file, base, window string }

func (n *named) put(id string, as keptAs) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.files == nil {
		n.files = map[string]keptAs{}
	}
	n.files[id] = as
}

// moved has what was kept in a machine's folder follow it to its new name.
func (n *named) moved(from, to string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	from, to = "machines/"+from+"/", "machines/"+to+"/"
	for id, k := range n.files {
		if rest, its := strings.CutPrefix(k.file, from); its {
			k.file = to + rest
			n.files[id] = k
		}
		if rest, its := strings.CutPrefix(id, from); its {
			delete(n.files, id)
			n.files[to+rest] = k
		}
	}
}

func (n *named) of(id string) (keptAs, bool) {
	n.mu.Lock()
	defer n.mu.Unlock()
	k, ok := n.files[id]
	return k, ok
}
