package handover

import (
	"fmt"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/photo"
)

// widest is how wide a photo in a report is at most, in pixels.
const widest = 800

// photographed adds the photos of what is open or wrong to the facts. The
// pictures are JPEGs by their digest.
func (f *Facts) photographed(folder afero.Fs, m *logbook.Machine, r *condition.Report, words *catalog.Catalog) (map[string][]byte, error) {
	pictures := map[string][]byte{}
	seen := map[string]bool{}
	for _, s := range r.Subjects {
		if !s.Open && !condition.Bad(s.Standing) {
			continue
		}
		for _, ev := range s.History {
			if ev.Photo == "" || seen[ev.Photo] {
				continue
			}
			seen[ev.Photo] = true
			p, err := pictured(folder, ev.Photo)
			if err != nil {
				return nil, err
			}
			alt, caption := described(m, ev, words)
			digest := digestOf(p.JPEG)
			pictures[digest] = p.JPEG
			f.Photos = append(f.Photos, Photo{Subject: s.Name, Date: string(ev.Entry.Date), Alt: alt, Caption: caption, Width: p.Width, Height: p.Height, SHA256: digest})
		}
	}
	return pictures, nil
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

// described is what the log says that a photo shows.
func described(m *logbook.Machine, ev condition.Event, words *catalog.Catalog) (alt, caption string) {
	for _, e := range m.Entries {
		for _, p := range e.Photos {
			if e.File == ev.Entry.File && p.Path == ev.Photo {
				alt, caption = p.Alt, p.Caption
			}
		}
	}
	if alt == "" {
		alt = words.Say("page.no-alt")
	}
	return alt, caption
}
