package handover

import (
	"fmt"

	"asleft/generator/condition"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
)

// factsFile is the name of the facts inside the PDF.
const factsFile = "facts.json"

// pdf prints the report.
func (r *Report) pdf(paper sheet.Paper) ([]byte, error) {
	facts, err := r.Facts.canonical()
	if err != nil {
		return nil, err
	}
	f, code := &r.Facts, r.digest[:codeLength]
	s, err := sheet.New(paper, sheet.About{
		Title: r.words.Say("page.condition-title", "name", f.Record.Machine.Name), Author: f.Shop.Name, Lang: f.Language,
		Subject: r.sealedLine(), Keywords: code + " " + r.digest, Created: logbook.Date(f.Sealed).Time(),
		AttachedName: factsFile, AttachedType: "application/json", Attached: facts,
	})
	if err != nil {
		return nil, err
	}
	r.top(s)
	rests := f.entries()
	shown := map[string]bool{}
	for _, sec := range f.Sections {
		r.section(s, sec, rests, shown)
	}
	r.end(s, rests)
	data, err := s.PDF(func(page, of int) (string, string) {
		left := r.words.Say("handover.foot", "name", f.Record.Machine.Name, "date", date(r.words, f.Sealed), "page", page, "of", of)
		return left, r.words.Say("handover.foot-code", "code", code)
	})
	if err != nil {
		return nil, fmt.Errorf("printing the report of %s: %w", f.Record.Machine.Key, err)
	}
	return data, nil
}

func (r *Report) top(s *sheet.Sheet) {
	var code *sheet.Code
	if to := r.Facts.Shop.Page; to != "" {
		code = &sheet.Code{Text: to, Under: r.words.Say("handover.qr")}
	}
	var facts []sheet.Fact
	for _, l := range r.labels() {
		facts = append(facts, sheet.Fact(l))
	}
	s.Head(r.shopLine(), r.words.Say("page.condition"), r.Facts.Record.Machine.Name, facts, code)
	s.Boxed(r.sealedLine(), r.asOf()+" "+r.words.Say("handover.check"))
	s.Small(r.words.Say("handover.original", "file", r.name()+".html"))
}

// name is the name of the report's files, without the ending.
func (r *Report) name() string {
	return (&Seal{Facts: r.Facts, Code: r.digest[:codeLength]}).name()
}

func (r *Report) section(s *sheet.Sheet, sec Section, rests entries, shown map[string]bool) {
	first := sec.Number == condition.ReadFirst && len(r.Open) > 0
	s.Bar(first)
	s.Heading(r.words.Say("handover.heading", "number", sec.Number, "title", sec.Title))
	if first {
		s.Note(r.words.Say("handover.initial-each"))
	}
	for _, st := range sec.Statements {
		p := sheet.Statement{Text: st.Text, Heavy: first && st.Safety}
		if st.Safety && !first {
			p.Lead = r.words.Say("handover.safety")
		}
		if list := rests.list(st.Evidence); list != "" {
			p.Text = r.words.Say("handover.statement", "text", st.Text, "entries", list)
		}
		if first && st.Safety {
			p.Initials = r.words.Say("handover.initials")
		}
		for _, ph := range r.photosOf(st, shown) {
			p.Photos = append(p.Photos, sheet.Photo{JPEG: r.pictures[ph.SHA256], Lines: r.under(ph)})
		}
		s.Statement(p)
	}
	for _, note := range sec.Notes {
		s.Note(note)
	}
	s.Bar(false)
	if sec.Number == condition.Terms {
		s.Lines(r.signLines()...)
	}
}

// under is what stands beside a photo.
func (r *Report) under(p Photo) []string {
	lines := []string{p.Alt}
	if p.Caption != "" {
		lines = append(lines, p.Caption)
	}
	return append(lines, date(r.words, p.Date))
}

// end is the list of entries, and what the print cannot show.
func (r *Report) end(s *sheet.Sheet, rests entries) {
	s.Heading(r.words.Say("handover.entries"))
	var lines []string
	for i, e := range rests {
		lines = append(lines, r.words.Say("handover.entry", "number", i+1, "date", date(r.words, e.Date), "title", e.Title))
	}
	s.Columns(lines)
	s.Small(r.words.Say("handover.digest") + " " + r.digest)
	if s.Missing() {
		s.Small(r.words.Say("handover.missing-signs", "sign", "\ufffd"))
	}
}
