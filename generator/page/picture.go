package page

import (
	"fmt"
	"slices"
	"strings"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// picture is a photo as a page shows it; false for a private one and for one
// that has no file.
func (s *sheet) picture(p logbook.Photo) (Picture, bool) {
	ph, ok := s.Photos[p.Path]
	if p.Private || p.Path == "" || !ok || len(ph.Sizes) == 0 {
		return Picture{}, false
	}
	middle := ph.Sizes[0]
	var set []string
	for _, size := range ph.Sizes {
		if size.Width <= 800 {
			middle = size
		}
		set = append(set, fmt.Sprintf("%s %dw", s.to(PhotoPath(ph.Key, size.Width)), size.Width))
	}
	widest := ph.Sizes[len(ph.Sizes)-1]
	alt := p.Alt
	if alt == "" {
		alt = s.say("page.no-alt")
	}
	return Picture{
		Src: s.to(PhotoPath(ph.Key, middle.Width)), SrcSet: strings.Join(set, ", "),
		Large: s.to(PhotoPath(ph.Key, widest.Width)), Width: middle.Width, Height: middle.Height,
		Alt: alt, Caption: p.Caption, Portrait: middle.Height > middle.Width,
	}, true
}

// cover is the photo that stands for a machine: the one marked so, else the
// first that is public.
func (s *sheet) cover(m *logbook.Machine) *Picture {
	var first *Picture
	for _, e := range m.Entries {
		for _, p := range e.Photos {
			if !p.Cover && first != nil {
				continue
			}
			pic, ok := s.picture(p)
			if !ok {
				continue
			}
			pic.Caption = ""
			if p.Cover {
				return &pic
			}
			first = &pic
		}
	}
	return first
}

// preview is the absolute address of a machine's cover, for link previews.
func (s *sheet) preview(cover *Picture) string {
	if cover == nil {
		return ""
	}
	return s.absolute(strings.TrimPrefix(cover.Src, s.root))
}

// pairs are the defects with a photo of each side.
func (s *sheet) pairs(m *logbook.Machine, r *condition.Report) []Pair {
	var all []Pair
	for _, d := range r.Defects {
		broken := s.evidencePictures(m, []condition.Evidence{d.Broken})
		mended := s.evidencePictures(m, []condition.Evidence{d.Mended})
		if len(broken) > 0 && len(mended) > 0 && broken[0].Src != mended[0].Src {
			all = append(all, Pair{What: d.Defect, Broken: broken[0], Mended: mended[0]})
		}
	}
	return all
}

// evidencePictures are the photos that a statement rests on, each once.
func (s *sheet) evidencePictures(m *logbook.Machine, evidence []condition.Evidence) []Picture {
	var all []Picture
	for _, ev := range evidence {
		if ev.Photo == "" {
			continue
		}
		for _, e := range m.Entries {
			if e.File != ev.File {
				continue
			}
			for _, p := range e.Photos {
				if p.Path != ev.Photo {
					continue
				}
				pic, ok := s.picture(p)
				if ok && !slices.ContainsFunc(all, func(other Picture) bool { return other.Src == pic.Src }) {
					link := s.evidence(m, ev)
					pic.Credit = &link
					all = append(all, pic)
				}
			}
		}
	}
	return all
}
