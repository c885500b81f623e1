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
	r.front(s)
	shown := map[string]bool{}
	for _, sec := range f.Sections {
		r.section(s, sec, shown)
	}
	r.end(s)
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

// front is the front sheet, on a page of its own.
func (r *Report) front(s *sheet.Sheet) {
	for _, p := range r.Facts.Front {
		s.Heading(p.Title)
		for _, line := range p.Lines {
			s.Small(line)
		}
	}
}

func (r *Report) section(s *sheet.Sheet, sec Section, shown map[string]bool) {
	first := r.first(sec)
	s.Bar(first)
	s.Heading(sec.Title)
	if first {
		s.Note(r.words.Say("handover.initial-each"))
	}
	for _, row := range sec.Table {
		s.Statement(sheet.Statement{Text: r.rowText(row)})
	}
	for _, st := range r.statements(sec) {
		p := sheet.Statement{Text: r.numbered(st), Heavy: first && st.Safety}
		if st.Safety && !first {
			p.Lead = r.words.Say("handover.safety")
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
	if sec.ID == condition.SectionTerms {
		s.Lines(r.signLines()...)
	}
}

// rowText is a row of the table of what was measured, as paper has it.
func (r *Report) rowText(row Row) string {
	parts := []string{r.words.Say("handover.row", "name", row.Name, "first", row.First, "verdict", row.Verdict)}
	for _, more := range []struct{ key, value string }{
		{"handover.row-worst", row.Worst}, {"handover.row-last", row.Last}, {"handover.row-limit", row.Limit}, {"handover.row-gauge", row.Gauge},
	} {
		if more.value != "" {
			parts = append(parts, r.words.Say(more.key, "value", more.value))
		}
	}
	return strings.Join(parts, " ")
}

// under is what stands beside a photo.
func (r *Report) under(p Photo) []string {
	lines := []string{p.Alt}
	if p.Caption != "" {
		lines = append(lines, p.Caption)
	}
	return append(lines, date(r.words, p.Date))
}

// end is what earlier reports said and the log no longer says, the list of
// entries, and what the print cannot show.
func (r *Report) end(s *sheet.Sheet) {
	if len(r.Facts.Lost) > 0 {
		s.Heading(r.words.Say("handover.lost-title"))
		for _, text := range r.Facts.Lost {
			s.Statement(sheet.Statement{Text: text})
		}
	}
	s.Heading(r.words.Say("handover.entries"))
	var lines []string
	for i, e := range r.entryLines() {
		lines = append(lines, r.words.Say("handover.entry", "number", i+1, "entry", e))
	}
	s.Columns(lines)
	s.Small(r.words.Say("handover.digest") + " " + r.digest)
	if s.Missing() {
		s.Small(r.words.Say("handover.missing-signs", "sign", "\ufffd"))
	}
}
