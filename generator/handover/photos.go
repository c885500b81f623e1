package handover

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/photo"
)

// widest is how wide a photo in a report is at most, in pixels.
const widest = 800

// album gathers the photos of a report, JPEGs by their digest.
type album struct {
	folder   afero.Fs
	words    *catalog.Catalog
	pictures map[string][]byte
	made     map[string]Photo // by path in the shop folder
}

// photographed adds to the facts the photo that stands for the machine and those
// that show a subject, before and after.
func (f *Facts) photographed(folder afero.Fs, r *condition.Report, words *catalog.Catalog) (map[string][]byte, error) {
	a := &album{folder, words, map[string][]byte{}, map[string]Photo{}}
	if e, p := coverOf(r.Machine); e != nil {
		cover, err := a.photo(e, p)
		if err != nil {
			return nil, err
		}
		f.Cover = &cover
	}
	for _, s := range r.Ordered() {
		for _, d := range showing(r.Machine, s) {
			p, err := a.photo(d.entry, d.photo)
			if err != nil {
				return nil, err
			}
			p.Subject, p.Side = s.ID, words.Say(d.side)
			f.Photos = append(f.Photos, p)
		}
	}
	return a.pictures, nil
}

// coverOf is the public photo that is marked as the cover, else the first one.
func coverOf(m *logbook.Machine) (entry *logbook.Entry, cover logbook.Photo) {
	for _, e := range m.Entries {
		for _, p := range e.Photos {
			if public(p) && (entry == nil || p.Cover && !cover.Cover) {
				entry, cover = e, p
			}
		}
	}
	return entry, cover
}

func public(p logbook.Photo) bool { return !p.Private && p.Path != "" }

// A display is a photo that shows a subject, from before or after the work on it.
type display struct {
	entry *logbook.Entry
	photo logbook.Photo
	side  string // a key of the catalog
}

// showing are the photos that the log names for a subject, each once: those from
// before the work on it first.
func showing(m *logbook.Machine, s *condition.Subject) []display {
	var all []display
	worked := false
	for _, e := range m.Entries {
		named := map[string]string{}
		worked = worked || s.WorkedOnIn(e.File)
		after := s.PhotoAfterKey(e.File)
		for _, ev := range s.History {
			if ev.Entry.File != e.File {
				continue
			}
			found := ev.What == condition.Found || ev.What == condition.FoundAgain
			if ev.Photo != "" && named[ev.Photo] == "" {
				named[ev.Photo] = after
				if found {
					named[ev.Photo] = "page.photo-before"
				}
			}
		}
		for _, p := range e.Photos {
			side := named[p.Path]
			if side == "" && s.Kind == condition.KindDefect && p.Shows != "" && p.Shows == s.Key {
				side = "page.photo-before"
				if worked {
					side = after
				}
			}
			if side != "" && public(p) && !slices.ContainsFunc(all, func(o display) bool { return o.photo.Path == p.Path }) {
				all = append(all, display{e, p, side})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b display) int { return strings.Compare(b.side, a.side) })
	return all
}

// photo makes a photo of the report, once for each file.
func (a *album) photo(e *logbook.Entry, p logbook.Photo) (Photo, error) {
	if made, done := a.made[p.Path]; done {
		return made, nil
	}
	picture, err := pictured(a.folder, p.Path)
	if err != nil {
		return Photo{}, err
	}
	made := Photo{Date: string(e.Date), Alt: p.Alt, Caption: p.Caption, Width: picture.Width, Height: picture.Height, SHA256: digestOf(picture.JPEG)}
	if made.Alt == "" {
		made.Alt = a.words.Say("page.no-alt")
	}
	a.pictures[made.SHA256] = picture.JPEG
	a.made[p.Path] = made
	return made, nil
}

// pictured is a photo of the shop folder in the width of a report.
func pictured(folder afero.Fs, path string) (photo.Rendition, error) {
	data, err := afero.ReadFile(folder, path)
	if err != nil {
		return photo.Rendition{}, fmt.Errorf("cannot read the photo %s: %w", path, err)
	}
	clean, err := photo.Make(data)
	if err != nil {
		return photo.Rendition{}, &BadPhoto{path, err}
	}
	made := clean.Renditions[0]
	for _, r := range clean.Renditions {
		if r.Width <= widest {
			made = r
		}
	}
	return made, nil
}

// A BadPhoto is a photo of the logs that cannot be used.
type BadPhoto struct {
	File  string // in the shop folder
	Cause error
}

func (b *BadPhoto) Error() string { return b.File + ": " + b.Cause.Error() }

func (b *BadPhoto) Unwrap() error { return b.Cause }
