package phone

import (
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/entry"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// A finding is a problem of an entry that is not written yet, in a form's words and with
// the field of the form that it is of; beside it, as it would be told of a file.
type finding struct {
	Says   string `json:"says"`
	Label  string `json:"label,omitempty"` // of the field
	Field  string `json:"field,omitempty"`
	line   string
	inFile logbook.Problem
}

// A job is an entry being made of a form.
type job struct {
	machine *logbook.Machine
	shop    *logbook.Shop
	values  url.Values
	photos  []*upload
	shots   []entry.Shot
	rows    []string // the rows of the photos in the form: f.photos.3
	file    desk.Evening
	nothing bool // in it that is to be kept
}

// job makes an entry of a form, with its photos under the names that they would
// have. Lost are the photos of the form that are not here any more.
func (b *Base) job(s *session, key string, sent url.Values) (j *job, lost int, err error) {
	j = &job{values: url.Values{}}
	for name, all := range sent {
		j.values[name] = slices.Clone(all)
	}
	if j.machine, j.shop = b.machine(key); j.machine == nil {
		return nil, 0, errNoMachine
	}
	private, alts, free := sent["photo-private"], sent["photo-alt"], freePhoto(sent)
	for n, id := range sent["photo-id"] {
		if id == "" {
			continue
		}
		h := b.uploads.of(s, id)
		if h == nil || h.whole() == nil {
			lost++
			continue
		}
		shot, err := entry.Look(h.name, h.whole(), h.written, j.shop.Zone)
		if err != nil {
			return nil, 0, err
		}
		row := "f.photos." + strconv.Itoa(free+len(j.rows))
		j.photos, j.shots, j.rows = append(j.photos, h), append(j.shots, shot), append(j.rows, row)
		j.values.Set(row+".file", shot.Stem()+shot.Ending)
		if n < len(alts) {
			j.values.Set(row+".alt", alts[n])
		}
		if slices.Contains(private, id) {
			j.values.Set(row+".private", "yes")
		}
	}
	j.nothing = !desk.Typed(j.values)
	if strings.TrimSpace(j.values.Get("f.title")) == "" {
		title := desk.TitleOf(j.values.Get("story"))
		if title == "" && !j.nothing {
			title = b.words.Say("phone.untitled")
		}
		j.values.Set("f.title", title)
	}
	b.stamp(j)
	j.file, err = b.o.Desk.Evening(j.machine.Key, j.values)
	return j, lost, err
}

// freePhoto is the number of the first row for photos behind those of a form.
func freePhoto(v url.Values) int {
	free := 0
	for name := range v {
		if rest, ok := strings.CutPrefix(name, "f.photos."); ok {
			number, _, _ := strings.Cut(rest, ".")
			if n, err := strconv.Atoi(number); err == nil {
				free = max(free, n+1)
			}
		}
	}
	return free
}

// begunAt is the name of a field that says when a stretch of work began.
var begunAt = regexp.MustCompile(`^f\.hours\.\d+\.from$`)

// stamp writes the time of an entry of today that has none: which of two entries
// of a day came first decides what a check still says. A stretch of work that
// says when it began says as much.
func (b *Base) stamp(j *job) {
	for name := range j.values {
		if begunAt.MatchString(name) && strings.TrimSpace(j.values.Get(name)) != "" {
			return
		}
	}
	if j.values.Get("f.time") == "" && j.values.Get("f.date") == string(b.today(j.shop)) {
		j.values.Set("f.time", b.clock(j.shop).Format("15:04"))
	}
}

func (j *job) dir() string { return path.Join("machines", j.machine.Key) }

// try tells what the reader of the folder would say of the entry, and the count
// of hours.
func (b *Base) try(j *job) ([]finding, error) {
	name := path.Join(j.dir(), j.file.Stem+"-not-written-yet.md")
	data := j.file.Text
	files := map[string][]byte{name: data}
	for i, shot := range j.shots {
		files[path.Join(j.dir(), "photos", j.values.Get(j.rows[i]+".file"))] = shot.Data
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
	found = append(found, j.file.Silent...)
	lines := strings.Split(string(data), "\n")
	var all []finding
	for _, p := range logbook.Sort(found) {
		f := finding{Field: j.file.Field(p.Field), inFile: p}
		f.Label, f.Says = b.o.Desk.Says(j.file, p)
		if p.Line > 0 && p.Line <= len(lines) {
			f.line = strings.TrimSpace(lines[p.Line-1])
		}
		all = append(all, f)
	}
	return all, nil
}

// timeLine is the time of day that an entry has by itself.
var timeLine = regexp.MustCompile(`(?m)^time: "\d\d:\d\d"\n`)

// write puts the photos and then the entry into the shop folder, once for each id. It
// returns the entry's name in the folder.
func (b *Base) write(j *job, id string, s sending) (string, error) {
	if there, err := afero.DirExists(b.folder, j.dir()); err != nil || !there {
		return "", fmt.Errorf("cannot write into the folder %s: %w", j.dir(), errors.Join(err, fs.ErrNotExist))
	}
	for i, shot := range j.shots {
		name, _, err := entry.KeepPhoto(b.folder, j.machine.Key, shot)
		if err != nil {
			return "", err
		}
		j.values.Set(j.rows[i]+".file", name)
	}
	var err error
	if j.file, err = b.o.Desk.Evening(j.machine.Key, j.values); err != nil {
		return "", err
	}
	alike, err := b.alike(j)
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
	said := s.said
	if name == "" {
		s.Sum, s.Before = said, alike
		if err := b.remember(id, s); err != nil {
			return "", err
		}
		if name, err = entry.NewEntry(b.folder, j.machine.Key, j.file.Stem, j.file.Text); err != nil {
			return "", err
		}
	}
	b.uploads.done(j.photos)
	b.undraw(j, id, s)
	// The entry is in the log, whatever becomes of this: it would be found again.
	_ = b.remember(id, sending{Sum: said, File: name})
	return name, nil
}

// undraw drops the draft on this computer: it is in the log now. A draft that says more
// than the form was filled in from stays; one too many can be dropped.
func (b *Base) undraw(j *job, id string, s sending) {
	text, err := b.o.Desk.Draft(j.machine.Key, id)
	if err != nil || text == nil {
		return
	}
	if sum := desk.Digest(text); sum == s.Drawn || sum == j.values.Get("draft") {
		_ = b.o.Desk.DropDraft(j.machine.Key, id)
	}
}
