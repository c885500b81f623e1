package page

import (
	"strings"

	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/record"
)

func (s *composer) head(m *logbook.Machine, r *condition.Report) Head {
	h := Head{
		Key: m.Key, Name: m.Name, Kind: m.Kind, Stage: s.say(stageKeys[m.Stage]), Price: s.Price(m),
		Cover: s.coverOf(s.cover(m)), Story: s.to(storyPath(m.Key)), Condition: s.to(conditionPath(m.Key)),
		Record: s.to(recordPath(m.Key)),
	}
	if m.Stage == logbook.ForSale {
		h.Listing = s.to(listingPath(m.Key))
	}
	if m.Offered() {
		h.Warning, h.WarningTo = s.warning(r), s.to(conditionPath(m.Key))+"#"+condition.SectionSafety
	}
	fact := func(key, value string) {
		if value != "" {
			h.Facts = append(h.Facts, Fact{Label: s.say(key), Value: value})
		}
	}
	var what []string
	for _, text := range []string{m.Kind, joined(m.Maker, m.Model), m.Year, s.serialWords(m.Serial)} {
		if text != "" {
			what = append(what, text)
		}
	}
	h.What = s.Words.Row(what)
	fact("page.fact-kind", m.Kind)
	fact("page.fact-maker", m.Maker)
	fact("page.fact-model", m.Model)
	fact("page.fact-serial", record.Serial(s.Shop, m.Serial, s.Words))
	fact("page.fact-year", m.Year)
	for _, e := range m.Engines {
		fact("page.fact-engine", s.named(e.Name, s.engine(e)))
	}
	for _, p := range m.Plates {
		fact("page.fact-"+p.Of, condition.PlateSaid(s.Words, p))
	}
	fact("page.fact-attachments", condition.AttachmentsSaid(s.Words, m))
	fact("page.fact-arrived", s.date(m.Arrived))
	if m.Sold != nil {
		fact("page.fact-sold", s.date(m.Sold.Date))
	}
	return h
}

// serialWords is the serial number, as far as it is shown, as part of a row.
func (s *Site) serialWords(serial string) string {
	if shown := record.Serial(s.Shop, serial, s.Words); shown != "" {
		return s.say("page.serial-row", "serial", shown)
	}
	return ""
}

// named is one of several under its own name.
func (s *Site) named(name, text string) string {
	if name == "" || text == "" {
		return joined(name, text)
	}
	return s.say("plate.named", "name", name, "said", text)
}

func (s *Site) engine(e logbook.Engine) string {
	var parts []string
	if e.Strokes > 0 {
		parts = append(parts, s.say("page.engine-strokes", "n", e.Strokes))
	}
	if e.Cylinders > 0 {
		parts = append(parts, s.Words.Count("page.engine-cylinders", e.Cylinders))
	}
	if !e.Bore.IsZero() && !e.Stroke.IsZero() {
		parts = append(parts, s.say("page.engine-bore", "bore", e.Bore, "stroke", e.Stroke))
	}
	if e.Fuel != "" {
		parts = append(parts, e.Fuel)
	}
	return strings.Join(parts, s.say("list.comma"))
}

// way is the path from the front page down to a page of a machine.
func (s *composer) way(m *logbook.Machine, here string) []Link {
	way := []Link{{To: s.to("index.html"), Text: s.Shop.Name}}
	if here == "" {
		return append(way, Link{Text: m.Name})
	}
	return append(way, Link{To: s.to(storyPath(m.Key)), Text: m.Name}, Link{Text: here})
}

// describe is a page's description for search engines and link previews: what is
// open and what is wrong, by name.
func (s *Site) describe(r *condition.Report) string {
	var all []string
	if w := s.warning(r); w != "" {
		all = append(all, w)
	}
	if wrong := s.wrongNames(r); len(wrong) > 0 {
		all = append(all, s.say("page.wrong", "names", s.Words.Each(wrong)))
	}
	if len(all) == 0 {
		all = append(all, s.say("page.nothing-bad"))
	}
	return strings.Join(all, " ")
}

// wrongNames are the names of what is wrong and cannot hurt anyone.
func (s *Site) wrongNames(r *condition.Report) []string {
	var all []string
	for _, x := range r.Ordered() {
		if !x.Open && x.Section() == condition.SectionWrong {
			all = append(all, x.Named(s.Words))
		}
	}
	return once(all)
}
