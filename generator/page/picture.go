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
func (s *composer) picture(p logbook.Photo) (Picture, bool) {
	ph, ok := s.public(p)
	if !ok {
		return Picture{}, false
	}
	return s.pictureOf(ph, p.Alt, p.Caption), true
}

// public is a photo that the site carries.
func (s *Site) public(p logbook.Photo) (Photo, bool) {
	ph, ok := s.Photos[p.Path]
	return ph, ok && !p.Private && p.Path != "" && len(ph.Sizes) > 0
}

func (s *composer) pictureOf(ph Photo, alt, caption string) Picture {
	middle := ph.Sizes[0]
	var set []string
	for _, size := range ph.Sizes {
		if size.Width <= 800 {
			middle = size
		}
		set = append(set, fmt.Sprintf("%s %dw", s.to(PhotoPath(ph.Key, size.Width)), size.Width))
	}
	widest := ph.Sizes[len(ph.Sizes)-1]
	if alt == "" {
		alt = s.say("page.no-alt")
	}
	return Picture{
		Src: s.to(PhotoPath(ph.Key, middle.Width)), SrcSet: strings.Join(set, ", "),
		Large: s.to(PhotoPath(ph.Key, widest.Width)), Width: middle.Width, Height: middle.Height,
		Alt: alt, Caption: caption, Portrait: middle.Height > middle.Width,
	}
}

// cover is the photo that stands for a machine: the one marked so, else the
// first that is public.
func (s *Site) cover(m *logbook.Machine) *Cover {
	var first *Cover
	for _, e := range m.Entries {
		for _, p := range e.Photos {
			if !p.Cover && first != nil {
				continue
			}
			ph, ok := s.public(p)
			if !ok {
				continue
			}
			first = &Cover{ph, p.Alt}
			if p.Cover {
				return first
			}
		}
	}
	return first
}

// coverOf is a cover as a page shows it.
func (s *composer) coverOf(c *Cover) *Picture {
	if c == nil {
		return nil
	}
	pic := s.pictureOf(c.Photo, c.Alt, "")
	return &pic
}

// preview is the absolute address of a machine's cover, for link previews.
func (s *composer) preview(cover *Picture) string {
	if cover == nil {
		return ""
	}
	return s.absolute(strings.TrimPrefix(cover.Src, s.root))
}

// pairs are the defects with a photo of each side: one of what was found, and
// one of what was done about it.
func (s *composer) pairs(m *logbook.Machine, r *condition.Report) []Pair {
	var all []Pair
	for _, d := range r.Subjects {
		if d.Kind != condition.KindDefect {
			continue
		}
		pictures := s.subjectPictures(m, d)
		broken := slices.IndexFunc(pictures, func(p Picture) bool { return p.Side == "before" })
		mended := slices.IndexFunc(pictures, func(p Picture) bool { return p.Side == "after" })
		if broken >= 0 && mended >= 0 {
			all = append(all, Pair{What: d.Name, Broken: pictures[broken], Mended: pictures[mended]})
		}
	}
	return all
}

// subjectPictures are the photos that show a subject, each once, with the side
// of the work that it is from.
func (s *composer) subjectPictures(m *logbook.Machine, subject *condition.Subject) []Picture {
	var all []Picture
	for _, ev := range subject.History {
		pic, ok := s.eventPicture(m, ev)
		if !ok || slices.ContainsFunc(all, func(other Picture) bool { return other.Src == pic.Src }) {
			continue
		}
		pic.Side, pic.SideSays = "after", s.say(subject.PhotoAfterKey(ev.Entry.File))
		if ev.What == condition.Found || ev.What == condition.FoundAgain {
			pic.Side, pic.SideSays = "before", s.say("page.photo-before")
		}
		all = append(all, pic)
	}
	return s.shown(m, subject, all)
}

// shown adds the photos that are marked as showing a defect in entries that say no
// more of it: before the first work on it, or after.
func (s *composer) shown(m *logbook.Machine, subject *condition.Subject, all []Picture) []Picture {
	if subject.Kind != condition.KindDefect {
		return all
	}
	worked := false
	for _, e := range m.Entries {
		worked = worked || subject.WorkedOnIn(e.File)
		for _, p := range e.Photos {
			pic, ok := s.picture(p)
			if !ok || p.Shows != subject.Key || slices.ContainsFunc(all, func(other Picture) bool { return other.Src == pic.Src }) {
				continue
			}
			link := s.evidence(m, condition.Evidence{File: e.File, Date: e.Date, Title: e.Title})
			pic.Credit, pic.Side, pic.SideSays = &link, "before", s.say("page.photo-before")
			if worked {
				pic.Side, pic.SideSays = "after", s.say(subject.PhotoAfterKey(e.File))
			}
			all = append(all, pic)
		}
	}
	slices.SortStableFunc(all, func(a, b Picture) int { return strings.Compare(b.Side, a.Side) })
	return all
}

// eventPicture is the photo that an event names, with its entry as the credit.
func (s *composer) eventPicture(m *logbook.Machine, ev condition.Event) (Picture, bool) {
	for _, e := range m.Entries {
		if ev.Photo == "" || e.File != ev.Entry.File {
			continue
		}
		for _, p := range e.Photos {
			if p.Path != ev.Photo {
				continue
			}
			pic, ok := s.picture(p)
			link := s.evidence(m, ev.Entry)
			pic.Credit = &link
			return pic, ok
		}
	}
	return Picture{}, false
}
