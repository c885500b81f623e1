package desk

import (
	"encoding/json"
	"errors"
	"io/fs"
	"net/http"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// Why something is not undone, or not all of it is as usual.
var (
	// errNewer says that it was undone, and that a newer draft of it was there: that one stays,
	// and what was taken back is among the kept files.
	errNewer = errors.New("a newer draft of it is there")
	// errInUse says that a new machine has more than itself by now.
	errInUse = errors.New("the machine has evenings, drafts or photos")
)

type undoView struct{ Name, Says string }

// undoFor is what can be taken back: offered on the page that follows the save, on the page
// of the machine that it was of, and on that of the file itself. Elsewhere nobody knows what
// it is about.
func (d *Desk) undoFor(said string, t target) *undoView {
	name, k := d.lastKept()
	if k == nil || d.clock().Sub(k.At) >= undoTime {
		return nil
	}
	follows := said == "kept" || said == "renamed"
	own := t.file != "" && k.File == t.file
	machine := t.kind == logbook.FileMachine && t.machine != "" && (k.To == t.machine || strings.HasPrefix(k.File, "machines/"+t.machine+"/"))
	if !follows && !own && !machine {
		return nil
	}
	return &undoView{name, d.undoSays(k)}
}

// undoSays tells what can be undone, by the names that people know.
func (d *Desk) undoSays(k *kept) string {
	if k.From != "" {
		return d.words.Say("desk.undo-renamed", "from", k.From, "to", k.To)
	}
	there, err := d.now(k.File)
	if err != nil || there == nil { // what is gone is called as it was
		there = k.Before
	}
	what := d.nameOf(idOfFile(k.File), there)
	if k.Before == nil {
		return d.words.Say("desk.undo-new", "what", what)
	}
	return d.words.Say("desk.undo-what", "what", what)
}

// undoTime is how long the last save is offered to be undone.
const undoTime = 12 * time.Hour

// takeBack undoes the last save.
func (d *Desk) takeBack(w http.ResponseWriter, r *http.Request) {
	err := d.undo(r.PostForm.Get("name"))
	switch {
	case errors.Is(err, errOther):
		http.Redirect(w, r, "/desk/?said=not-undone", http.StatusSeeOther)
	case errors.Is(err, errInUse):
		http.Redirect(w, r, "/desk/?said=in-use", http.StatusSeeOther)
	case errors.Is(err, errNewer):
		d.refresh()
		http.Redirect(w, r, "/desk/?said=undone-newer", http.StatusSeeOther)
	case err != nil:
		d.fail(w, err)
	default:
		d.refresh()
		http.Redirect(w, r, "/desk/?said=undone", http.StatusSeeOther)
	}
}

// lastKept is the last thing that can be undone; nil for nothing.
func (d *Desk) lastKept() (name string, k *kept) {
	all := d.keptNames(".json")
	for _, name := range slices.Backward(all) {
		data, err := d.now(path.Join(keptDir, name))
		if err != nil {
			return "", nil
		}
		var k kept
		if json.Unmarshal(data, &k) == nil && !k.Undone {
			return name, &k
		}
	}
	return "", nil
}

// undo has the last file back that the desk replaced. What it takes back becomes a
// draft, so that it is not lost either. errOther where somebody changed the file since.
func (d *Desk) undo(name string) error {
	d.saving.Lock()
	defer d.saving.Unlock()
	last, k := d.lastKept()
	if k == nil || name != last {
		return errOther
	}
	if k.From != "" {
		err := d.moveBack(k)
		if err != nil {
			return err
		}
		return d.markUndone(last, k)
	}
	there, err := d.now(k.File)
	if err != nil {
		return err
	}
	if Digest(there) != k.After {
		return errOther
	}
	if k.Before == nil {
		switch used, err := d.inUse(k.File); {
		case err != nil:
			return err
		case used:
			return errInUse
		}
	}
	newer := false
	if there != nil {
		if newer, err = d.drawBack(k, there); err != nil {
			return err
		}
	}
	if k.Before == nil {
		err = d.folder.Remove(k.File)
		if dir := path.Dir(k.File); err == nil && k.File == dir+"/machine.md" {
			_ = d.folder.Remove(dir) // its folder is empty by now; one that is not stays
		}
	} else {
		err = entry.Replace(d.folder, k.File, k.Before, nil)
	}
	if err == nil {
		err = d.markUndone(last, k)
	}
	if err == nil && newer {
		err = errNewer
	}
	return err
}

// drawBack makes a draft of what is taken back. Newer is whether somebody wrote on since: that
// draft stays, and is of the file as it will be, as the other would have been.
func (d *Desk) drawBack(k *kept, there []byte) (newer bool, err error) {
	id := idOfFile(k.File)
	dr, err := d.draftOf(id)
	if err != nil {
		return false, err
	}
	if dr == nil || string(dr.Text) == string(there) {
		return false, d.writeDraft(id, draft{File: k.File, Base: Digest(k.Before), Text: there})
	}
	if err := d.keepText(id, there); err != nil {
		return true, err
	}
	if dr.Base == k.After {
		dr.Base = Digest(k.Before)
	}
	return true, d.writeDraft(id, *dr)
}

// inUse tells whether a file is that of a machine whose folder has more in it, or drafts of
// its evenings: taken back, they would be of no machine.
func (d *Desk) inUse(file string) (bool, error) {
	dir := path.Dir(file)
	if file != dir+"/machine.md" {
		return false, nil
	}
	for _, dr := range d.drafts() {
		if path.Dir(dr.ID) == dir && dr.ID != idOfFile(file) {
			return true, nil
		}
	}
	used := false
	err := afero.Walk(d.folder, dir, func(name string, info fs.FileInfo, err error) error {
		if err == nil && !info.IsDir() && !strings.HasPrefix(path.Base(filepath.ToSlash(name)), ".") && filepath.ToSlash(name) != file {
			used = true
		}
		return err
	})
	return used, err
}

func (d *Desk) markUndone(name string, k *kept) error {
	k.Undone = true
	data, err := json.Marshal(k)
	if err != nil {
		return err
	}
	return entry.Replace(d.folder, path.Join(keptDir, name), data, nil)
}
