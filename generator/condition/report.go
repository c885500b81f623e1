package condition

import (
	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// The sections of a condition report, in its order.
const (
	ReadFirst = iota + 1
	InShort
	WhatWorks
	WhatFails
	WhatRepaired
	NotAsBuilt
	Measured
	NobodyChecked
	Hours
	PartsPutIn
	Terms
)

// Sections is how many there are.
const Sections = Terms

// A Statement is one thing that the report says, in whole sentences, with the
// entries that it rests on (never none).
type Statement struct {
	Section  int
	Text     string
	Safety   bool
	Evidence []Evidence
	// Defect is the key of the defect that the statement is about, if any.
	Defect string
}

// A Section is one of the report's eleven parts.
type Section struct {
	Number int
	Title  string
	// Notes are what stands there for every machine of the kind: cautions and
	// terms. They rest on no entry.
	Notes      []string
	Statements []Statement
}

// A Report is what the log says of a machine's condition.
type Report struct {
	Machine  *logbook.Machine
	AsOf     logbook.Date // the last entry's date, or the arrival
	Sections []Section
	Defects  []*Defect
	Checks   []*Check
	Readings []*Reading
	Tests    []*benchtest.Outcome
	Changes  []*Change
	Missing  []*Missing
	Parts    []*Part
	// RunSinceWork is how long the engine ran in entries after the last one
	// that worked on it. What it ran in that entry itself is not counted: the
	// log does not say whether it ran before the work or after.
	RunSinceWork logbook.Minutes
	// EngineWork is the date of that last work, empty when there was none.
	EngineWork logbook.Date
	// Ran is how long the engine ran in the shop in all.
	Ran   logbook.Minutes
	Count tally.Machine
}

type judge struct {
	shop    *logbook.Shop
	machine *logbook.Machine
	words   *catalog.Catalog
	history history
	itself  Evidence // the machine's own file
	report  *Report
}

// Judge composes the report of one machine from its log, its hours and money,
// and the outcomes of its bench tests.
func Judge(shop *logbook.Shop, m *logbook.Machine, count tally.Machine, tests []*benchtest.Outcome, words *catalog.Catalog) *Report {
	j := &judge{shop: shop, machine: m, words: words, history: worked(m)}
	j.itself = Evidence{File: m.File, Date: m.Arrived, Title: m.Name}
	j.report = &Report{Machine: m, AsOf: m.Arrived, Tests: tests, Count: count}
	if n := len(m.Entries); n > 0 {
		j.report.AsOf = max(m.Arrived, m.Entries[n-1].Date)
	}
	r := j.report
	r.Defects, r.Checks, r.Readings = j.defects(), j.checks(), j.readings()
	r.Changes, r.Missing, r.Parts = j.changes(), j.missing(), j.parts()
	j.run()
	for n := ReadFirst; n <= Terms; n++ {
		r.Sections = append(r.Sections, Section{Number: n, Title: words.Say(sectionTitles[n])})
	}
	j.readFirst()
	j.inShort()
	j.whatWorks()
	j.whatFails()
	j.whatRepaired()
	j.notAsBuilt()
	j.measured()
	j.nobodyChecked()
	j.hours()
	j.partsPutIn()
	j.terms()
	return r
}

var sectionTitles = [...]string{
	ReadFirst: "section.read-first", InShort: "section.in-short", WhatWorks: "section.works",
	WhatFails: "section.fails", WhatRepaired: "section.repaired", NotAsBuilt: "section.not-as-built",
	Measured: "section.measured", NobodyChecked: "section.nobody-checked", Hours: "section.hours",
	PartsPutIn: "section.parts", Terms: "section.terms",
}

// run adds up the engine's running.
func (j *judge) run() {
	last, worked := j.history.last("engine")
	for i, e := range j.machine.Entries {
		j.report.Ran += e.Ran
		if worked && i > last {
			j.report.RunSinceWork += e.Ran
		}
	}
	if worked {
		j.report.EngineWork = j.machine.Entries[last].Date
	}
}

// section gives a section of the report to write in.
func (j *judge) section(n int) *Section { return &j.report.Sections[n-1] }

// state adds a statement; its evidence falls back on the machine's own file.
func (j *judge) state(n int, s Statement) {
	s.Section = n
	if len(s.Evidence) == 0 {
		s.Evidence = []Evidence{j.itself}
	}
	sec := j.section(n)
	sec.Statements = append(sec.Statements, s)
}

func (j *judge) note(n int, key string, pairs ...any) {
	sec := j.section(n)
	sec.Notes = append(sec.Notes, j.words.Say(key, pairs...))
}

// Statements are all the report's statements, in its order.
func (r *Report) Statements() []Statement {
	var all []Statement
	for _, s := range r.Sections {
		all = append(all, s.Statements...)
	}
	return all
}

// OpenSafety are the statements of the first section that a buyer has to be
// told of: open safety defects, and guards that are missing, bypassed, failing
// or unchecked.
func (r *Report) OpenSafety() []Statement {
	var all []Statement
	for _, s := range r.Sections[ReadFirst-1].Statements {
		if s.Safety {
			all = append(all, s)
		}
	}
	return all
}

// Unanswered counts the points that nobody checked since the last work on
// them, and how many of those are matters of safety.
func (r *Report) Unanswered() (points, safety int) {
	for _, c := range r.Checks {
		if c.Result == NotChecked || c.Result == Stale {
			points++
			if c.Safety {
				safety++
			}
		}
	}
	return points, safety
}
