package desk

import (
	"errors"
	"fmt"
	"maps"
	"net/http"
	"path"
	"slices"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/entry"
	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// errTaken says that a machine's folder cannot have a name.
var errTaken = errors.New("a folder of that name is there already, or the name is none")

// rename gives a machine's folder another name. All that names it follows: parts that came
// from it, drafts of its evenings, and links to its old pages by the old name, which
// machine.md keeps.
func (d *Desk) rename(w http.ResponseWriter, r *http.Request) {
	from, to := r.PathValue("key"), entry.Slug(lined(r.PostForm.Get("key")))
	reading := d.o.Reading()
	if m, _ := machineOf(reading, from); m == nil {
		d.notFound(w, r)
		return
	}
	if to == from {
		http.Redirect(w, r, machineAt(from), http.StatusSeeOther)
		return
	}
	d.saving.Lock()
	err := d.move(reading.Shop, from, to)
	d.saving.Unlock()
	switch {
	case errors.Is(err, errTaken):
		d.page(w, http.StatusUnprocessableEntity, "failed", failedView{d.frame(""), d.words.Say("desk.rename-taken", "key", to)})
	case err != nil:
		d.fail(w, err)
	default:
		d.refresh()
		http.Redirect(w, r, machineAt(to)+"?said=renamed", http.StatusSeeOther)
	}
}

// move renames the folder. What is to change in files is worked out before anything is
// touched, so what cannot be changed stops it while all is as it was.
func (d *Desk) move(shop *logbook.Shop, from, to string) error {
	there, err := afero.Exists(d.folder, "machines/"+to)
	if err != nil {
		return err
	}
	if there || !entry.GoodKey(to) {
		return errTaken
	}
	changed := map[string][]byte{}
	for _, m := range shop.Machines {
		for _, e := range m.Entries {
			if slices.ContainsFunc(e.Parts, func(p logbook.Part) bool { return p.From == from }) {
				if changed[e.File], err = d.mended(e.File, func(want frontmatter.Node) frontmatter.Node { return donorRenamed(want, from, to) }); err != nil {
					return err
				}
			}
		}
	}
	own := entry.MachineFile(from)
	if changed[own], err = d.mended(own, func(want frontmatter.Node) frontmatter.Node { return formerly(want, from, to) }); err != nil {
		return err
	}
	record := kept{File: "machines/" + to, From: from, To: to, At: d.clock()}
	texts := map[string][]byte{}
	for _, file := range slices.Sorted(maps.Keys(changed)) {
		before, err := d.now(file)
		if err != nil {
			return err
		}
		text := changed[file]
		if rest, inside := strings.CutPrefix(file, "machines/"+from+"/"); inside {
			file = "machines/" + to + "/" + rest
		}
		texts[file] = text
		record.Also = append(record.Also, kept{File: file, Before: before, After: Digest(text)})
	}
	if err := d.keep(record); err != nil { // what is needed to undo it is there before it begins
		return err
	}
	if err := d.folder.Rename("machines/"+from, "machines/"+to); err != nil {
		return fmt.Errorf("cannot rename machines/%s: %w", from, err)
	}
	for _, k := range record.Also {
		if err := entry.Replace(d.folder, k.File, texts[k.File], nil); err != nil {
			return err
		}
	}
	return d.moveDrafts(from, to)
}

// moveBack gives a folder the name back that it had, and the files that were changed with
// it their texts; errOther where any of it was changed since.
func (d *Desk) moveBack(k *kept) error {
	if there, err := afero.Exists(d.folder, "machines/"+k.From); err != nil || there {
		return errors.Join(errOther, err)
	}
	for _, one := range k.Also {
		if there, err := d.now(one.File); err != nil || Digest(there) != one.After {
			return errors.Join(errOther, err)
		}
	}
	for _, one := range k.Also {
		if err := entry.Replace(d.folder, one.File, one.Before, nil); err != nil {
			return err
		}
	}
	if err := d.folder.Rename("machines/"+k.To, "machines/"+k.From); err != nil {
		return fmt.Errorf("cannot rename machines/%s: %w", k.To, err)
	}
	return d.moveDrafts(k.To, k.From)
}

// mended is a file with other fields.
func (d *Desk) mended(file string, change func(frontmatter.Node) frontmatter.Node) ([]byte, error) {
	text, err := d.now(file)
	if err != nil {
		return nil, err
	}
	f, err := frontmatter.Read(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	out, err := f.With(change(f.Fields()), f.Story())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return out, nil
}

// Package entry writes new files alone, and frontmatter knows no field: what a new name
// changes in files that are there is the desk's.

// donorRenamed are the fields of an entry whose parts came from that machine.
func donorRenamed(want frontmatter.Node, from, to string) frontmatter.Node {
	for _, f := range want.Fields {
		if f.Name != "parts" {
			continue
		}
		for _, part := range f.Node.Items {
			for n := range part.Fields {
				if of := &part.Fields[n]; of.Name == "from" && strings.TrimSpace(of.Node.Text) == from {
					of.Node.Text = to
				}
			}
		}
	}
	return want
}

// formerly are the fields of a machine whose folder gets another name: the old one is
// among its earlier names, and one that it gets back is none any more.
func formerly(want frontmatter.Node, from, to string) frontmatter.Node {
	var kept []frontmatter.Node
	was, _ := want.Find("was")
	if was.Kind == frontmatter.Text && was.Text != "" {
		was = frontmatter.Node{Kind: frontmatter.List, Items: []frontmatter.Node{was}}
	}
	for _, name := range was.Items {
		if strings.TrimSpace(name.Text) != to {
			kept = append(kept, name)
		}
	}
	kept = append(kept, frontmatter.Node{Kind: frontmatter.Text, Text: from})
	return withField(want, frontmatter.Field{Name: "was", Node: frontmatter.Node{Kind: frontmatter.List, Items: kept}})
}

// withEarlierNames is a machine's file with the earlier names of its folder that another text
// of it has: who began before it was renamed does not know of the last one, and all links to
// the old pages go by it.
func withEarlierNames(mine, there []byte) ([]byte, error) {
	f, err := frontmatter.Read(mine)
	if err != nil {
		return mine, nil // it is to be kept as it stands
	}
	other, err := frontmatter.Read(there)
	if err != nil {
		return mine, nil
	}
	want := f.Fields()
	has, _ := want.Find("was")
	had, _ := other.Fields().Find("was")
	for _, name := range textsOf(had) {
		if name = strings.TrimSpace(name); !slices.Contains(textsOf(has), name) {
			want = formerly(want, name, "")
		}
	}
	return f.With(want, f.Story())
}

// moveDrafts has the drafts of a machine's files follow it, and what is remembered of them.
func (d *Desk) moveDrafts(from, to string) error {
	d.named.moved(from, to)
	old := "machines/" + from + "/"
	for _, dr := range d.drafts() {
		rest, its := strings.CutPrefix(dr.ID, old)
		if !its {
			continue
		}
		moved := dr.draft
		if moved.File != "" {
			moved.File = "machines/" + to + "/" + path.Base(moved.File)
		}
		if err := d.writeDraft("machines/"+to+"/"+rest, moved); err != nil {
			return err
		}
		if err := d.dropDraft(dr.ID); err != nil {
			return err
		}
	}
	return nil
}
