package generator

import (
	"encoding/json"
	"fmt"
	"hash/fnv"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/logbook"
	"asleft/generator/output"
	"asleft/generator/page"
	"asleft/generator/tally"
)

// A machineNote is what is known of a machine while its folder stays as it is.
// It goes into the build cache as JSON.
type machineNote struct {
	Outline page.Outline
	Outside string // page.Site.Outside: what its pages say of others
	// Days are who worked on it on which days, and Sessions each of those
	// sessions, both as hashes: to find who may have been on two machines at once.
	// A hash can be guessed. Where the shop does not show its hours, Days are only
	// the days of the entries, which the site shows, and there are no Sessions.
	Days, Sessions []uint64
}

// A partialRun is which machines a run has to read: those that have changed, and
// those whose pages or hours hang on them. Of the others the outlines are known.
type partialRun struct {
	there         []string               // the keys of all machines, sorted
	changed, read map[string]bool        // by key; what has changed is read too
	notes         map[string]machineNote // by key; of what has changed, as it was
}

// partial is where to begin; false where there is no telling, and all has to be
// read: the shop itself has changed, or most of it.
func (c *previous) partial() (*partialRun, bool) {
	f := c.cache.Facts
	if !c.seen || c.run == "" || f[factRun] != c.run || !c.dayHolds() || f[factRest] == "" || f[factRest] != c.rest.Digest() || f[factSite] == "" {
		return nil, false
	}
	p := &partialRun{there: slices.Sorted(maps.Keys(c.machines)), changed: map[string]bool{}, notes: map[string]machineNote{}}
	digests := map[string]string{}
	for digest, text := range c.cache.Notes {
		var note machineNote
		if strings.HasPrefix(text, "{") && json.Unmarshal([]byte(text), &note) == nil {
			p.notes[note.Outline.Key], digests[note.Outline.Key] = note, digest
		}
	}
	for key := range c.machines {
		if digest := c.machines[key].Digest(); digest == "" || digest != digests[key] {
			p.changed[key] = true
		}
	}
	p.read = maps.Clone(p.changed)
	return p, 2*len(p.changed) <= len(p.there)
}

// others are the outlines of the machines that are not read, by key.
func (p *partialRun) others() []page.Outline {
	var all []page.Outline
	for _, key := range p.there {
		if !p.read[key] {
			all = append(all, p.notes[key].Outline)
		}
	}
	return all
}

// otherNames are those of the machines that are not read, by key.
func (p *partialRun) otherNames() map[string]string {
	names := map[string]string{}
	for _, o := range p.others() {
		names[o.Key] = o.Name
	}
	return names
}

// readPart reads what has changed and what hangs on it; false where all has to
// be read. That is so too where there are problems: they are told all at once,
// as they stand in the whole shop.
func (c *previous) readPart(folder afero.Fs, o Options) (*Reading, bool) {
	p, ok := c.partial()
	if !ok {
		return nil, false
	}
	for 2*len(p.read) <= len(p.there) {
		o.partial = p
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
func (p *partialRun) touched(r *Reading) ([]string, error) {
	site := r.Site()
	site.Outline()
	busy := map[uint64]bool{}
	for _, m := range r.Shop.Machines {
		if p.changed[m.Key] && r.Shop.Show.Hours {
			p.newDays(m, busy)
		} else if p.changed[m.Key] {
			p.allDays(m, busy)
		}
	}
	var more []string
	for _, o := range r.others {
		outside, err := site.Outside(o.Key)
		if err != nil {
			return nil, err
		}
		note := p.notes[o.Key]
		if outside != note.Outside || slices.ContainsFunc(note.Days, func(day uint64) bool { return busy[day] }) {
			more = append(more, o.Key)
		}
	}
	return more, nil
}

// newDays adds the days, and those beside them, of the sessions that were not
// there before: whoever worked then may have worked elsewhere too.
func (p *partialRun) newDays(m *logbook.Machine, busy map[uint64]bool) {
	known := map[uint64]bool{}
	for _, session := range p.notes[m.Key].Sessions {
		known[session] = true
	}
	eachSession(m, func(day logbook.Date, s logbook.Session) {
		if known[sessionHash(day, s)] {
			return
		}
		for _, off := range []int{-1, 0, 1} {
			busy[dayHash(day, off, s)] = true
		}
	})
}

// allDays is newDays where nothing is known of the sessions that were there before.
func (p *partialRun) allDays(m *logbook.Machine, busy map[uint64]bool) {
	for _, e := range m.Entries {
		for _, off := range []int{-1, 0, 1} {
			if e.Date != "" {
				busy[dayHash(e.Date, off, logbook.Session{})] = true
			}
		}
	}
}

func eachSession(m *logbook.Machine, do func(day logbook.Date, s logbook.Session)) {
	for _, e := range m.Entries {
		for _, s := range e.Sessions {
			if s.By != tally.TheShop && e.Date != "" {
				do(e.Date, s)
			}
		}
	}
}

func dayHash(day logbook.Date, off int, s logbook.Session) uint64 {
	return hashOf(s.By, day.Time().AddDate(0, 0, off).Format(time.DateOnly))
}

func sessionHash(day logbook.Date, s logbook.Session) uint64 {
	return hashOf(s.By, day, s.Timed, s.From, s.Work, s.Less)
}

func hashOf(parts ...any) uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%q", parts)
	return h.Sum64()
}

// hours fills in who worked on a machine when.
func (n *machineNote) hours(m *logbook.Machine, shown bool) {
	days, sessions := map[uint64]bool{}, map[uint64]bool{}
	if !shown {
		for _, e := range m.Entries {
			if e.Date != "" {
				days[dayHash(e.Date, 0, logbook.Session{})] = true
			}
		}
		n.Days = slices.Sorted(maps.Keys(days))
		return
	}
	eachSession(m, func(day logbook.Date, s logbook.Session) {
		days[dayHash(day, 0, s)], sessions[sessionHash(day, s)] = true, true
	})
	n.Days, n.Sessions = slices.Sorted(maps.Keys(days)), slices.Sorted(maps.Keys(sessions))
}

// keep keeps the pages and photos of the machines that were not read; false
// where the site has not got them as they were left.
func (r *Reading) keep(w *output.Writer) bool {
	unread := map[string]bool{}
	for _, o := range r.others {
		unread[o.Key] = true
	}
	if !w.KeepAll(func(path string) bool { return unread[page.MachineOf(path)] }) {
		return false
	}
	for _, o := range r.others {
		for _, ph := range o.Photos {
			for _, size := range ph.Sizes {
				if !w.Keep(page.PhotoPath(ph.Key, size.Width)) {
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
func (c *previous) noteMachines(notes map[string]string, r *Reading) {
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
		case c.cache.Notes[digest] != "":
			notes[digest] = c.cache.Notes[digest]
		}
	}
}

func (r *Reading) machineNote(o page.Outline, m *logbook.Machine) (string, error) {
	outside, err := r.site.Outside(o.Key)
	if err != nil {
		return "", err
	}
	note := machineNote{Outline: o, Outside: outside}
	note.hours(m, r.Shop.Show.Hours)
	text, err := json.Marshal(note)
	return string(text), err
}
