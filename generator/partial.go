package generator

import (
	"encoding/json"
	"hash/fnv"
	"maps"
	"slices"

	"github.com/spf13/afero"

	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/press"
	"asleft/generator/tally"
)

// A machineNote is what is known of a machine while its folder stays as it is.
// It goes into the memory as JSON.
type machineNote struct {
	Outline page.Outline
	Outside string   // page.Site.Outside: what its pages say of others
	Days    []uint32 // who worked on it on which days, as hashes, to find who was on two at once
}

// A part is which machines a run has to read: those that have changed, and
// those whose pages or hours hang on them. Of the others the outlines are known.
type part struct {
	changed, read map[string]bool // by key; what has changed is read too
	notes         map[string]machineNote
}

// part is where to begin; false where there is no telling, and all has to be
// read: the shop itself has changed, or most of it.
func (c *recall) part() (*part, bool) {
	f := c.past.Facts
	if !c.seen || c.run == "" || f[factRun] != c.run || f[factRest] == "" || f[factRest] != c.rest.Digest() || f[factSite] == "" {
		return nil, false
	}
	p := &part{changed: map[string]bool{}, notes: map[string]machineNote{}}
	for key, folder := range c.machines {
		if note, ok := c.machineNote(folder.Digest()); ok && note.Outline.Key == key {
			p.notes[key] = note
		} else {
			p.changed[key] = true
		}
	}
	p.read = maps.Clone(p.changed)
	return p, len(p.changed) <= len(p.notes)
}

func (c *recall) machineNote(digest string) (note machineNote, ok bool) {
	text := c.past.Notes[digest]
	return note, digest != "" && text != "" && json.Unmarshal([]byte(text), &note) == nil
}

// others are the outlines of the machines that are not read, by key.
func (p *part) others() []page.Outline {
	var all []page.Outline
	for _, key := range slices.Sorted(maps.Keys(p.notes)) {
		if !p.read[key] {
			all = append(all, p.notes[key].Outline)
		}
	}
	return all
}

// names are those of the machines that are not read, by key.
func (p *part) names() map[string]string {
	names := map[string]string{}
	for _, o := range p.others() {
		names[o.Key] = o.Name
	}
	return names
}

// readPart reads what has changed and what hangs on it; false where all has to
// be read. That is so too where there are problems: they are told all at once,
// as they stand in the whole shop.
func (c *recall) readPart(folder afero.Fs, o Options) (*Reading, bool) {
	p, ok := c.part()
	if !ok {
		return nil, false
	}
	for len(p.read) <= len(p.notes) {
		o.part = p
		r, err := Read(folder, o)
		if err != nil || len(r.Problems) > 0 {
			return nil, false
		}
		more, err := p.touched(r)
		if err != nil {
			return nil, false
		}
		if len(more) == 0 {
			return r, true
		}
		for _, key := range more {
			p.read[key] = true
		}
	}
	return nil, false
}

// touched are the machines that have to be read too: their pages say something
// of those that have changed that is not so any more, or somebody worked on both
// on the same day or the next.
func (p *part) touched(r *Reading) ([]string, error) {
	site := r.newSite()
	site.Outline()
	busy := map[uint32]bool{}
	for _, m := range r.Shop.Machines {
		if !p.changed[m.Key] {
			continue
		}
		for _, day := range daysOf(m, -1, 0, 1) {
			busy[day] = true
		}
	}
	var more []string
	for _, o := range r.others {
		outside, err := site.Outside(o.Key)
		if err != nil {
			return nil, err
		}
		note := p.notes[o.Key]
		if outside != note.Outside || slices.ContainsFunc(note.Days, func(day uint32) bool { return busy[day] }) {
			more = append(more, o.Key)
		}
	}
	return more, nil
}

// daysOf are the days on which each person worked on a machine, and those that
// lie so many days off, as hashes.
func daysOf(m *logbook.Machine, off ...int) []uint32 {
	days := map[uint32]bool{}
	for _, e := range m.Entries {
		for _, s := range e.Sessions {
			if s.By == tally.TheShop || e.Date == "" {
				continue
			}
			for _, n := range off {
				h := fnv.New32a()
				_, _ = h.Write([]byte(s.By + "\x00" + e.Date.Time().AddDate(0, 0, n).Format("2006-01-02"))) // it cannot fail
				days[h.Sum32()] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(days))
}

// carry keeps the pages and photos of the machines that were not read; false
// where the site has not got them as they were left.
func (r *Reading) carry(run *press.Run) bool {
	unread := map[string]bool{}
	for _, o := range r.others {
		unread[o.Key] = true
	}
	if !run.CarryAll(func(path string) bool { return unread[page.MachineOf(path)] }) {
		return false
	}
	for _, o := range r.others {
		for _, ph := range o.Photos {
			for _, size := range ph.Sizes {
				if !run.Carry(page.PhotoPath(ph.Key, size.Width)) {
					return false
				}
			}
		}
	}
	return true
}

// noteMachines adds what the next run may know of the machines. Where amounts
// are so large that a total of many could be too large to count, it may know
// nothing: only a reading of the whole shop finds that.
func (c *recall) noteMachines(notes map[string]string, r *Reading) {
	for _, m := range r.Count.Machines {
		if m.Money.Large() {
			return
		}
	}
	read := map[string]*logbook.Machine{}
	for _, m := range r.Shop.Machines {
		read[m.Key] = m
	}
	for _, o := range r.site.Outlines() {
		digest := c.machines[o.Key].Digest()
		m, is := read[o.Key]
		switch {
		case digest == "":
		case is:
			if text, err := r.machineNote(o, m); err == nil {
				notes[digest] = text
			}
		case c.past.Notes[digest] != "":
			notes[digest] = c.past.Notes[digest]
		}
	}
}

func (r *Reading) machineNote(o page.Outline, m *logbook.Machine) (string, error) {
	outside, err := r.site.Outside(o.Key)
	if err != nil {
		return "", err
	}
	text, err := json.Marshal(machineNote{o, outside, daysOf(m, 0)})
	return string(text), err
}
