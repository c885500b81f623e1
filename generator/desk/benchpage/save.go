package benchpage

import (
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/condition"
	"asleft/generator/entry"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// A finding is a problem of an entry that is not written yet, with the field of the
// form that it is of, and in which row of its list.
type finding struct {
	Says  string `json:"says"`
	Mend  string `json:"mend"`
	Line  string `json:"line,omitempty"`
	Field string `json:"field,omitempty"`
	Row   int    `json:"row"`
}

// A job is an entry being made of a form.
type job struct {
	machine *logbook.Machine
	report  *condition.Report
	shop    *logbook.Shop
	values  url.Values
	photos  []*upload
	entry   entry.Entry
	shots   []entry.Shot
}

// job makes an entry of a form, with its photos under the names that they would
// have. Lost are the photos of the form that are not here any more.
func (b *Bench) job(s *session, key string, v url.Values) (j *job, lost int, err error) {
	j = &job{values: v}
	if j.machine, j.report, j.shop = b.machine(key); j.machine == nil {
		return nil, 0, errNoMachine
	}
	j.entry = entryOf(v, j.report, j.shop)
	b.stamp(j)
	private := v["photo-private"]
	for _, r := range rows(v, photoFields...) {
		h := b.uploads.of(s, r["photo-id"])
		if h == nil || h.whole() == nil {
			lost++
			continue
		}
		shot, err := entry.Look(h.name, h.whole(), h.written, j.shop.Zone)
		if err != nil {
			return nil, 0, err
		}
		j.photos, j.shots = append(j.photos, h), append(j.shots, shot)
		j.entry.Photos = append(j.entry.Photos, entry.Photo{File: shot.Stem() + shot.Ending, Alt: r["photo-alt"], Private: slices.Contains(private, h.id)})
	}
	if j.entry.Title == "" {
		j.entry.Title = titleOf(j.entry.Body)
	}
	if j.entry.Title == "" && !nothing(j.entry, len(j.photos)) {
		j.entry.Title = b.words.Say("phone.untitled")
	}
	return j, lost, nil
}

// stamp writes the time of an entry of today that has none: which of two entries
// of a day came first decides what a check still says. A stretch of work that
// says when it began says as much.
func (b *Bench) stamp(j *job) {
	begun := len(j.entry.Sessions) > 0 && j.entry.Sessions[0].From != ""
	if j.entry.Time == "" && !begun && j.entry.Date == string(b.today(j.shop)) {
		j.entry.Time = b.clock(j.shop).Format("15:04")
	}
}

func (j *job) dir() string { return path.Join("machines", j.machine.Key) }

// try tells what the reader of the folder would say of the entry, and the count
// of hours.
func (b *Bench) try(j *job) ([]finding, error) {
	name := path.Join(j.dir(), j.entry.Stem()+"-not-written-yet.md")
	data := j.entry.Markdown()
	files := map[string][]byte{name: data}
	for i, shot := range j.shots {
		files[path.Join(j.dir(), "photos", j.entry.Photos[i].File)] = shot.Data
	}
	shop, found, err := entry.Try(b.folder, files, b.today(j.shop), b.words)
	if err != nil {
		return nil, err
	}
	_, counted := tally.Count(shop, b.words)
	for _, p := range counted {
		if p.File == name {
			found = append(found, p)
		}
	}
	lines := strings.Split(string(data), "\n")
	var all []finding
	for _, p := range logbook.Sort(found) {
		f := finding{Says: p.Says, Mend: p.Mend}
		f.Field, f.Row = fieldOf(j.values, p.Field)
		if p.Line > 0 && p.Line <= len(lines) {
			f.Line = strings.TrimSpace(lines[p.Line-1])
		}
		all = append(all, f)
	}
	return all, nil
}

// timeLine is the time of day that an entry has by itself.
var timeLine = regexp.MustCompile(`(?m)^time: "\d\d:\d\d"\n`)

// write puts the photos and then the entry into the shop folder, once for each id. It
// returns the entry's name in the folder.
func (b *Bench) write(j *job, id string, s sending) (string, error) {
	if there, err := afero.DirExists(b.folder, j.dir()); err != nil || !there {
		return "", fmt.Errorf("cannot write into the folder %s: %w", j.dir(), errors.Join(err, fs.ErrNotExist))
	}
	for i, shot := range j.shots {
		name, _, err := entry.KeepPhoto(b.folder, j.machine.Key, shot)
		if err != nil {
			return "", err
		}
		j.entry.Photos[i].File = name
	}
	data := j.entry.Markdown()
	alike, err := b.alike(j, data)
	if err != nil {
		return "", err
	}
	name := ""
	if s.Sum != "" { // the program ended before it knew whether this was written
		for _, n := range alike {
			if !slices.Contains(s.Before, n) {
				name = n
			}
		}
	}
	if name == "" {
		s.Sum, s.Before = sum(j.values), alike
		if err := b.remember(id, s); err != nil {
			return "", err
		}
		if name, err = entry.NewEntry(b.folder, j.machine.Key, j.entry.Stem(), data); err != nil {
			return "", err
		}
	}
	b.uploads.done(j.photos)
	if s.Draft != "" {
		_ = b.folder.Remove(s.Draft) // it is in the log now; a draft too many can be dropped
	}
	// The entry is in the log, whatever becomes of this: it would be found again.
	_ = b.remember(id, sending{Sum: sum(j.values), File: name})
	return name, nil
}
