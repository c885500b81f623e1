package condition

import (
	"fmt"
	"slices"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// A Report is what the log says of a machine's condition.
type Report struct {
	Machine  *logbook.Machine
	AsOf     logbook.Date // see asOf
	Subjects []*Subject
	Sections []Section
	Front    Front
	Tests    []*benchtest.Outcome
	Run      Run
	Count    tally.Machine

	// Year is the one that all entries are of, and that the machine left in; 0 where
	// they are of several. The report tells their days without it.
	Year int

	affectable []string // the names that affects: can use
}

// A Run is how long the engine ran, as far as the log says.
type Run struct {
	// In all, and in entries after the last one that worked on the engine, its fuel,
	// ignition, cooling or exhaust. What it ran in that entry itself is not
	// counted: the log does not say whether it ran before the work or after.
	All, Since logbook.Minutes
	// Work is the date of that last work, empty where there was none. Maybe tells that
	// the log does not say if it was there.
	Work  logbook.Date
	Maybe bool
	// Said and SaidSince tell whether any entry says how long it ran.
	Said, SaidSince bool
}

type judge struct {
	shop    *logbook.Shop
	machine *logbook.Machine
	words   *catalog.Catalog
	itself  Evidence // the machine's own file
	report  *Report

	spans       []span // of the entries
	done        []work
	swapped     []work // parts put in, and out again, that are no work
	faultsFound []work

	defect          map[string]*defect // by key, while it is in the machine
	left            map[string]*Subject
	change          map[string]*change
	point           map[string]*point
	measured        map[thing]*measurement
	allDefects      []*defect
	allChanges      []*change
	allPoints       []*point
	allMeasurements []*measurement
	ids             map[string]bool
}

// Judge composes the report of one machine from its log, its hours and money,
// and the outcomes of its bench tests.
func Judge(shop *logbook.Shop, m *logbook.Machine, count tally.Machine, tests []*benchtest.Outcome, words *catalog.Catalog) *Report {
	j := &judge{
		shop: shop, machine: m, words: words,
		itself: Evidence{File: m.File, Date: m.Arrived, Title: m.Name},
		report: &Report{Machine: m, Tests: tests, Count: count},
		defect: map[string]*defect{}, left: map[string]*Subject{}, change: map[string]*change{},
		point: map[string]*point{}, measured: map[thing]*measurement{}, ids: map[string]bool{},
	}
	for _, e := range m.Entries {
		j.spans = append(j.spans, spanOf(e))
	}
	j.report.AsOf = asOf(m)
	j.report.Year = yearOf(m)
	j.words = words.InYear(j.report.Year)
	j.gather(tests)
	j.stand()
	j.report.affectable = j.affectable()
	j.run()
	for _, s := range j.report.Subjects {
		j.tell(s)
	}
	j.sections()
	j.front()
	return j.report
}

// gather goes through the log once and gives each thing that it speaks of its
// subject and its history.
func (j *judge) gather(tests []*benchtest.Outcome) {
	j.works()
	j.defects()
	j.points()
	j.measurements(tests)
	j.measuredAnswers()
	j.faults()
	j.changes()
	j.missing()
	j.list()
	j.meter()
}

// stand works out where each subject stands, those that others lean on first.
func (j *judge) stand() {
	j.standMeasurements()
	j.standPoints()
	j.standDefects()
	j.settleChanges()
}

// subject adds one to the report.
func (j *judge) subject(kind Kind, name string) *Subject {
	s := &Subject{Kind: kind, Name: name}
	s.ID = j.id(kind, name)
	j.report.Subjects = append(j.report.Subjects, s)
	return s
}

// id is one of its own for each subject, fit for an anchor: its words with a hyphen
// between.
func (j *judge) id(kind Kind, name string) string {
	words := strings.FieldsFunc(string(kind)+" "+logbook.Folded(name), func(r rune) bool { return strings.ContainsRune(" +-<>", r) })
	base := strings.Join(words, "-")
	id := base
	for n := 2; j.ids[id]; n++ {
		id = fmt.Sprintf("%s-%d", base, n)
	}
	j.ids[id] = true
	return id
}

// tell adds to a subject's history; nothing is ever taken out of it.
func (s *Subject) tell(e Event) {
	s.History = append(s.History, e)
	for _, had := range s.Evidence {
		if had == e.Entry {
			return
		}
	}
	s.Evidence = append(s.Evidence, e.Entry)
}

func (j *judge) evidence(entry int) Evidence { return evidenceFor(j.machine.Entries[entry]) }

func evidenceFor(e *logbook.Entry) Evidence {
	return Evidence{File: e.File, Date: e.Date, Title: e.Title}
}

// photoOf is the path of a photo of an entry by its name; empty for a private
// one and for none.
func photoOf(e *logbook.Entry, name string) string {
	for _, p := range e.Photos {
		if name != "" && strings.TrimPrefix(p.File, "photos/") == strings.TrimPrefix(name, "photos/") && !p.Private {
			return p.Path
		}
	}
	return ""
}

// running are the systems whose work says how long the engine ran since.
var running = []string{"engine", "fuel", "ignition", "cooling", "exhaust"}

// run adds up the engine's running. Since the last work is what was for certain after each;
// the last is the one that may be the latest.
func (j *judge) run() {
	r, last := &j.report.Run, -1
	for _, w := range j.done {
		if !w.touches(running) {
			continue
		}
		if at := w.at.entry; at == last {
			r.Maybe = r.Maybe && w.nowhere
		} else if last < 0 || j.spans[at].to >= j.spans[last].to {
			last, r.Work, r.Maybe = at, j.machine.Entries[at].Date, w.nowhere
		}
	}
	for i, e := range j.machine.Entries {
		r.All += e.Ran
		r.Said = r.Said || e.HasRan
		beside := func(w work) bool {
			return w.touches(running) && (w.at.entry == i || j.order(moment{i, seen}, w.at) != after)
		}
		if last >= 0 && !slices.ContainsFunc(j.done, beside) {
			r.Since += e.Ran
			r.SaidSince = r.SaidSince || e.HasRan
		}
	}
}

// Subject is the one of that ID, nil where there is none.
func (r *Report) Subject(id string) *Subject {
	for _, s := range r.Subjects {
		if s.ID == id {
			return s
		}
	}
	return nil
}

// Open are the subjects that a buyer has to be told of before all others.
func (r *Report) Open() []*Subject {
	return r.where(func(s *Subject) bool { return s.Open })
}

// Wrong are those that are wrong, missing, worked around, not proven or too close
// to call, open or not.
func (r *Report) Wrong() []*Subject {
	return r.where(func(s *Subject) bool { return Bad(s.Standing) })
}

func (r *Report) where(is func(*Subject) bool) []*Subject {
	var all []*Subject
	for _, s := range r.Subjects {
		if is(s) {
			all = append(all, s)
		}
	}
	return all
}

// Named is the subject of a kind by its name, nil where there is none.
func (r *Report) Named(kind Kind, name string) *Subject {
	for _, s := range r.Subjects {
		if s.Kind == kind && logbook.Same(s.Name, name) {
			return s
		}
	}
	return nil
}

// Keyed is the subject that a key stands for in an entry; nil where there is
// none. A key can stand for one defect after the other.
func (r *Report) Keyed(kind Kind, key, file string) *Subject {
	for _, s := range r.Subjects {
		if s.Kind != kind || s.Key != key || key == "" {
			continue
		}
		for _, e := range s.History {
			if e.Entry.File == file {
				return s
			}
		}
	}
	return nil
}

// asOf is the day up to which the log goes: that of the last entry, or of the arrival
// where it is for certain later or there is no entry.
func asOf(m *logbook.Machine) logbook.Date {
	var last logbook.Date
	for _, e := range m.Entries {
		last = logbook.Later(last, e.Date)
	}
	if len(m.Entries) == 0 || last.Before(m.Arrived) {
		return m.Arrived
	}
	return last
}

// yearOf is the year that all entries are of, 0 where they are of several. That of a
// machine that left in another year is told: its log is read by that day.
func yearOf(m *logbook.Machine) int {
	year := 0
	if m.Sold != nil && len(m.Entries) > 0 {
		year = m.Sold.Date.Time().Year()
	}
	for _, e := range m.Entries {
		y := e.Date.Time().Year()
		if year != 0 && y != year {
			return 0
		}
		year = y
	}
	return year
}
