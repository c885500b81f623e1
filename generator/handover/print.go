package handover

import (
	"fmt"
	"strings"

	"asleft/generator/condition"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
)

// factsFile is the name of the facts inside the PDF.
const factsFile = "facts.json"

// pdf prints the report.
func (r *Report) pdf(paper sheet.Paper, facts []byte) ([]byte, error) {
	f, code := &r.Facts, codeOf(sealFormat, r.digest)
	s, err := sheet.New(paper, sheet.About{
		Title: r.words.Say("page.condition-title", "name", f.Record.Machine.Name), Author: f.Shop.Name, Lang: f.Language,
		Subject: r.sealedLine(), Keywords: code + " " + r.digest, Created: logbook.Date(f.Sealed).Time(),
		AttachedName: factsFile, AttachedType: "application/json", Attached: facts,
	})
	if err != nil {
		return nil, err
	}
	r.top(s)
	r.front(s)
	s.Turn()
	r.gone(s)
	shown := map[string]bool{}
	for _, sec := range f.Sections {
		r.section(s, sec, shown)
	}
	r.end(s)
	data, err := s.PDF(func(page, of int) (string, string) {
		left := r.words.Say("handover.foot", "name", f.Record.Machine.Name, "date", date(r.words, f.Sealed), "page", page, "of", of)
		return left, r.words.Say("handover.foot-code", "code", GroupedCode(code))
	})
	if err != nil {
		return nil, fmt.Errorf("printing the report of %s: %w", f.Record.Machine.Key, err)
	}
	return data, nil
}

// top is what it is: the first part of the front sheet, with the seal.
func (r *Report) top(s *sheet.Sheet) {
	var code *sheet.Code
	if to := r.Facts.Shop.Page; to != "" {
		code = &sheet.Code{Text: to, Under: r.words.Say("handover.qr")}
	}
	var facts []sheet.Fact
	for _, l := range r.labels() {
		facts = append(facts, sheet.Fact(l))
	}
	var cover []byte
	if c := r.Facts.Cover; c != nil {
		cover = r.pictures[c.SHA256]
	}
	s.Head(r.shopLine(), r.words.Say("page.condition"), r.Facts.Record.Machine.Name, facts, code, cover)
	s.Boxed(r.sealedLine(), r.words.Say("handover.check"))
	s.Small(r.words.Say("handover.original", "file", r.name()+".html"))
}

// front is the front sheet: page one of the report.
func (r *Report) front(s *sheet.Sheet) {
	parts := []sheet.Part{{Title: r.asOf()}}
	if says := r.goneSays(); says != "" {
		parts[0].Lines = []string{says}
	}
	for _, p := range r.Facts.Front {
		part := sheet.Part{Title: p.Title}
		for _, l := range p.Lines {
			part.Lines = append(part.Lines, l.Text)
		}
		if len(p.Lines) == 0 {
			part.Lines = []string{p.Empty}
		}
		parts = append(parts, part)
	}
	s.Page(parts)
}

// gone is what earlier sealed reports said and the log no longer says.
func (r *Report) gone(s *sheet.Sheet) {
	if len(r.Facts.Gone) == 0 {
		return
	}
	s.Heading(r.words.Say("handover.gone"))
	for _, g := range r.Facts.Gone {
		s.Statement(sheet.Statement{Text: r.goneLine(g)})
	}
}

// name is the name of the report's files, without the ending.
func (r *Report) name() string {
	return (&Seal{Format: sealFormat, Facts: r.Facts, FactsDigest: r.digest}).name()
}

func (r *Report) section(s *sheet.Sheet, sec Section, shown map[string]bool) {
	first, signed := r.first(sec), r.signed(sec)
	s.Bar(first)
	s.Keep(signed) // the lines to sign on never stand alone on a page
	s.Heading(sec.Title)
	if first {
		put, _ := r.initials()
		s.Note(put)
	}
	for _, row := range sec.Rows {
		s.Statement(sheet.Statement{Lead: row.Name, Text: r.numbered(strings.Join(r.rowLines(row), " "), row.Evidence)})
	}
	if sec.ID == condition.SectionLog && len(r.Facts.Entries) > 0 {
		r.entries(s, sec)
	} else {
		for _, st := range sec.Statements {
			r.statement(s, st, first && st.Open, shown)
		}
	}
	for _, note := range sec.Notes {
		s.Note(note)
	}
	s.Bar(false)
	s.Keep(false)
	if signed {
		s.Lines(r.signLines()...)
	}
}

// initials are what is asked of who takes the machine, and what stands on each line:
// a buyer, or of a machine that nobody is offered whoever takes it.
func (r *Report) initials() (put, line string) {
	if !r.Facts.Signed {
		return r.words.Say("handover.initial-each-kept"), r.words.Say("handover.initials-kept")
	}
	return r.words.Say("handover.initial-each"), r.words.Say("handover.initials")
}

// statement prints a statement with the numbers of its entries, and its photos.
func (r *Report) statement(s *sheet.Sheet, st Statement, open bool, shown map[string]bool) {
	p := sheet.Statement{Text: r.numbered(st.Text, st.Evidence), Heavy: open}
	for _, it := range st.Items {
		p.Items = append(p.Items, r.numbered(it.Text, it.Evidence))
	}
	if open {
		_, p.Initials = r.initials()
	}
	for _, ph := range r.photosOf(st.Subjects, shown) {
		p.Photos = append(p.Photos, sheet.Photo{JPEG: r.pictures[ph.SHA256], Lines: r.under(ph)})
	}
	s.Statement(p)
}

// numbered is a text with the numbers of the entries that it rests on.
func (r *Report) numbered(text string, evidence []Evidence) string {
	if list := r.Facts.list(evidence); list != "" {
		return r.words.Say("handover.statement", "text", text, "entries", list)
	}
	return text
}

// under is what stands beside a photo.
func (r *Report) under(p Photo) []string {
	lines := []string{p.Side, p.Alt}
	if p.Caption != "" {
		lines = append(lines, p.Caption)
	}
	return append(lines, date(r.words, p.Date))
}

// entries is the list of entries, by their numbers.
func (r *Report) entries(s *sheet.Sheet, sec Section) {
	var lines []string
	for i, st := range sec.Statements {
		lines = append(lines, r.words.Say("handover.entry", "number", i+1, "text", st.Text))
	}
	s.Columns(lines)
}

// end is the digest in full, and what the print cannot show.
func (r *Report) end(s *sheet.Sheet) {
	s.Small(r.words.Say("handover.digest") + " " + r.digest)
	if r.Program != "" {
		s.Small(r.words.Say("handover.program", "program", r.Program))
	}
	if s.Missing() {
		s.Small(r.words.Say("handover.missing-signs", "sign", "\ufffd"))
	}
}
