package page

import (
	"strconv"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// condition makes the page of the condition report.
func (s *Site) condition(n int, put Put) error {
	m, r := s.Shop.Machines[n], s.Report(n)
	sh := s.sheet(conditionPath(m.Key))
	v := Condition{
		Page: sh.page("condition", s.say("page.condition-title", "name", m.Name), describe(r)),
		Head: sh.head(m, r),
		AsOf: s.say("page.as-of", "date", s.date(r.AsOf)),
		Sign: []string{s.say("page.sign-buyer"), s.say("page.sign-shop"), s.say("page.sign-date")},
	}
	v.Sealed = s.sealedSays(m.Key)
	v.Trail = sh.way(m, s.say("page.condition"))
	v.Preview = sh.preview(v.Head.Cover)
	for _, sec := range r.Sections {
		v.Sections = append(v.Sections, sh.section(m, sec))
	}
	for k, reading := range r.Readings {
		row := s.row(reading)
		row.Chart = s.readingChart(drawingID("reading", k), reading)
		v.Readings = append(v.Readings, row)
	}
	for k, t := range r.Tests {
		v.Tests = append(v.Tests, s.test(drawingID("test", k), t))
	}
	return s.Theme.fill(put, sh.path, "condition.html", v)
}

func (s *sheet) section(m *logbook.Machine, sec condition.Section) Section {
	v := Section{ID: "section-" + strconv.Itoa(sec.Number), Number: sec.Number, Title: sec.Title, Notes: sec.Notes}
	for _, st := range sec.Statements {
		v.Statements = append(v.Statements, s.statement(m, st, sec.Number == condition.ReadFirst || sec.Number == condition.WhatRepaired))
	}
	return v
}

// shortEvidence is how many entries a statement names; where more agree, the
// first and the last are named.
const shortEvidence = 4

func (s *sheet) statement(m *logbook.Machine, st condition.Statement, photos bool) Statement {
	v := Statement{Text: s.text(st.Text), Safety: st.Safety}
	for _, ev := range shortened(st.Evidence) {
		v.Evidence = append(v.Evidence, s.evidence(m, ev))
	}
	if photos {
		v.Photos = s.evidencePictures(m, st.Evidence)
	}
	return v
}

func shortened(all []condition.Evidence) []condition.Evidence {
	if len(all) <= shortEvidence {
		return all
	}
	return []condition.Evidence{all[0], all[len(all)-1]}
}
