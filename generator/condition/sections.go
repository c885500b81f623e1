package condition

import (
	"slices"
	"strings"

	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// The parts of a condition report, by their ids, in its order.
const (
	SectionSafety     = "safety"
	SectionWrong      = "wrong"
	SectionRepaired   = "repaired"
	SectionChanged    = "changed"
	SectionMeasured   = "measured"
	SectionInOrder    = "in-order"
	SectionNotChecked = "not-checked"
	SectionHours      = "hours"
	SectionTerms      = "terms"
	SectionLog        = "log"
)

// Sections are the ids of all parts of a report, in its order.
var Sections = []string{
	SectionSafety, SectionWrong, SectionRepaired, SectionChanged, SectionMeasured,
	SectionInOrder, SectionNotChecked, SectionHours, SectionTerms, SectionLog,
}

// A Statement is one thing that a part of the report says, in whole sentences,
// with the entries that it rests on and the subjects that it is about.
//
// Where several subjects are told together, Lead is what is said of all of them
// and Items what is said of each; Text holds the same as one text.
type Statement struct {
	Text     string
	Subjects []*Subject
	Evidence []Evidence
	Lead     string
	Items    []Item
	// Brief names them all in one sentence, where what is said of each may be folded
	// away on a page; empty where it may not.
	Brief string
	// Parts tells that these are the parts of an evening.
	Parts bool
	// LeadEvidence is the entry that all of the items share, zero for none.
	LeadEvidence Evidence
}

// An Item is one of several subjects that are told together.
type Item struct {
	Subject  *Subject
	Text     string
	Evidence []Evidence
}

// A Section is one part of the report.
type Section struct {
	ID    string
	Title string
	// Notes are what stands there for every machine of the kind: cautions and
	// terms. They rest on no entry.
	Notes      []string
	Statements []Statement
}

// sectionOfStanding is where a subject that is not open is told in full.
var sectionOfStanding = map[Standing]string{
	Wrong: SectionWrong, Missing: SectionWrong, WorkedAround: SectionWrong, NotProven: SectionWrong, TooClose: SectionWrong,
	Changed:   SectionChanged,
	OutOfDate: SectionNotChecked, NotChecked: SectionNotChecked, DoesNotApply: SectionNotChecked,
	NoLimit: SectionMeasured,
}

// sectionOfKind is where a subject that is in order is told.
var sectionOfKind = map[Kind]string{
	KindDefect: SectionRepaired, KindChange: SectionChanged, KindMissing: SectionChanged, KindMeasurement: SectionMeasured,
	KindPoint: SectionInOrder, KindList: SectionNotChecked, KindMeter: SectionHours,
}

// Section is where a subject is told in full.
func (s *Subject) Section() string {
	switch {
	case s.Open:
		return SectionSafety
	case s.Kind == KindMeter && s.Standing != Wrong:
		return SectionHours
	case s.Standing == InOrder:
		return sectionOfKind[s.Kind]
	case s.Kind == KindMeasurement && s.Standing == OutOfDate:
		return SectionMeasured
	case s.Kind == KindPoint && s.Standing == NoLimit:
		return SectionNotChecked
	}
	return sectionOfStanding[s.Standing]
}

// sections writes the report, from the table of standings and kinds above.
func (j *judge) sections() {
	for _, id := range Sections {
		j.report.Sections = append(j.report.Sections, Section{ID: id, Title: j.words.Say("section." + id)})
	}
	for _, s := range j.report.Ordered() {
		sec := j.section(s.Section())
		if !j.grouped(sec, s) {
			sec.Statements = append(sec.Statements, Statement{Text: s.Told, Subjects: []*Subject{s}, Evidence: s.Evidence})
		}
	}
	j.uncheckedBySystem()
	j.notSaid()
	j.leftOut()
	j.conclusions()
	j.hours()
	j.terms()
	j.log()
	j.cautions()
	j.byDay()
	for i := range j.report.Sections {
		if sec := &j.report.Sections[i]; len(sec.Statements) == 0 {
			sec.Statements = []Statement{{Text: j.words.Say(j.noneKey(sec.ID)), Evidence: []Evidence{j.itself}}}
		}
	}
}

// noneKey is what a part of the report says that has nothing in it. Changes that are
// open and repairs that are not proven are told elsewhere.
func (j *judge) noneKey(id string) string {
	switch {
	case id == SectionChanged && len(j.report.where(func(s *Subject) bool { return s.Kind == KindChange })) > 0:
		return "none.changed-more"
	case id == SectionRepaired && len(j.report.where((*Subject).workedOn)) > 0:
		return "none.repaired-more"
	}
	return "none." + id
}

// Ordered are the subjects from the gravest standing, what may hurt someone
// first.
func (r *Report) Ordered() []*Subject {
	all := slices.Clone(r.Subjects)
	slices.SortStableFunc(all, func(a, b *Subject) int { return a.rank() - b.rank() })
	return all
}

// rank is how soon a subject is told: by its standing, what may hurt someone first.
func (s *Subject) rank() int {
	n := slices.Index(worst, s.Standing)
	switch s.Safety {
	case logbook.SafetyYes:
		return n
	case logbook.NotSaid:
		return n + len(worst)
	}
	return n + 2*len(worst)
}

// section gives a part of the report to write in.
func (j *judge) section(id string) *Section {
	return &j.report.Sections[slices.Index(Sections, id)]
}

// grouped tells a point that nobody answered, or that is in order, together with
// others like it; false where it is told by itself.
func (j *judge) grouped(sec *Section, s *Subject) bool {
	switch {
	case s.Kind == KindDefect && s.Standing == Wrong && len(s.History) == 1 && s.Again == nil:
		j.stillThere(sec, s)
	case s.Kind != KindPoint:
		return false
	case s.Standing == NotChecked:
		j.unchecked(sec, s)
	case s.Standing == Wrong && len(s.AnsweredBy) == 0 && s.Touched == nil && s.SameEvening == "" && s.lastAnswer().What == Fails:
		j.failing(sec, s)
	case s.Standing == DoesNotApply && s.lastAnswer() == nil && len(s.History) == 0:
		j.lacking(sec, s)
	case s.overtaken() && s.Touched.plain():
		j.overtaken(sec, s)
	case s.Standing == InOrder && s.lastlyWorked():
		j.seen(sec, s)
	default:
		return false
	}
	return true
}

// byDay puts what is as it should be in the order of the days on which that was seen,
// what is told without one last.
func (j *judge) byDay() {
	slices.SortStableFunc(j.section(SectionInOrder).Statements, func(a, b Statement) int {
		one, other := a.LeadEvidence.Date, b.LeadEvidence.Date
		switch {
		case one == "" && other == "":
			return 0
		case one == "":
			return 1
		case other == "":
			return -1
		}
		return one.Compare(other)
	})
}

// lacking puts a point that does not apply beside the others of what the machine does
// not have.
func (j *judge) lacking(sec *Section, s *Subject) {
	st := sec.join(j.words.Say("points.lacking", "what", clause(s.Item.OnlyIf)), Evidence{}, Item{Subject: s, Text: clause(s.Name), Evidence: s.Evidence})
	if st.Text = s.Told; len(st.Items) > 1 {
		st.Text = j.words.Say("points.lacking-these", "what", clause(s.Item.OnlyIf), "items", j.words.Each(names(st.Subjects)))
	}
}

// lastlyWorked tells whether the last check that the log lists of a point found it
// as it should be. Where a reading says so instead, the point is told by itself.
func (s *Subject) lastlyWorked() bool {
	last := s.lastAnswer()
	return last != nil && last.What == Works
}

// join puts a subject into the statement that begins with the same words, or a
// new one.
func (sec *Section) join(lead string, at Evidence, it Item) *Statement {
	for i := range sec.Statements {
		if st := &sec.Statements[i]; st.Lead == lead && st.LeadEvidence == at {
			st.Subjects, st.Items = append(st.Subjects, it.Subject), append(st.Items, it)
			for _, e := range it.Evidence {
				if !slices.Contains(st.Evidence, e) {
					st.Evidence = append(st.Evidence, e)
				}
			}
			return st
		}
	}
	st := Statement{Lead: lead, LeadEvidence: at, Subjects: []*Subject{it.Subject}, Items: []Item{it}, Evidence: slices.Clone(it.Evidence)}
	if at != (Evidence{}) && !slices.Contains(st.Evidence, at) {
		st.Evidence = append([]Evidence{at}, st.Evidence...)
	}
	sec.Statements = append(sec.Statements, st)
	return &sec.Statements[len(sec.Statements)-1]
}

// stillThere puts a defect that was found once, and of which the log says no more,
// beside the others like it.
func (j *judge) stillThere(sec *Section, s *Subject) {
	t := j.saying()
	for _, d := range j.allDefects {
		if d.Subject == s {
			j.tellWhat(t, d)
		}
	}
	st := sec.join(j.words.Say("defects.still-so"), Evidence{}, Item{Subject: s, Text: t.text(), Evidence: s.Evidence})
	st.wholeOr(s.Told)
}

// unchecked puts a point that nobody answered beside the others.
func (j *judge) unchecked(sec *Section, s *Subject) {
	key := "points.not-checked"
	if s.Open {
		key = "points.not-checked-safety"
	}
	sec.join(j.words.Say(key), Evidence{}, Item{Subject: s, Evidence: s.Evidence})
}

// uncheckedBySystem tells the points that nobody answered, when all of them are
// together.
func (j *judge) uncheckedBySystem() {
	for i := range j.report.Sections {
		for k := range j.report.Sections[i].Statements {
			if st := &j.report.Sections[i].Statements[k]; len(st.Items) > 0 && st.Subjects[0].Standing == NotChecked {
				j.bySystems(st)
			}
		}
	}
}

// bySystems tells points that nobody answered, those of a system one after another,
// which is named once.
func (j *judge) bySystems(st *Statement) {
	system := func(it Item) int {
		return slices.IndexFunc(st.Subjects, func(o *Subject) bool { return slices.Equal(o.Systems, it.Subject.Systems) })
	}
	slices.SortStableFunc(st.Items, func(a, b Item) int { return system(a) - system(b) })
	for i := range st.Items {
		it := &st.Items[i]
		key := "point.of-system"
		if i > 0 && system(st.Items[i-1]) == system(*it) {
			key = "point.item"
		}
		t := j.saying()
		t.say(key, "systems", j.words.List(it.Subject.Systems), "item", it.Subject.quoted(j.words, it.Subject.Name))
		j.tellAnswers(t, it.Subject, it.Subject.History)
		it.Text = t.text()
	}
	st.wholeOr(st.Subjects[0].Told)
}

// failing puts a point that failed, and of which the log says no more than its
// answers, beside the others like it.
func (j *judge) failing(sec *Section, s *Subject) {
	last := s.lastAnswer()
	key := "point.item-on"
	if last.Said != "" {
		key = "point.item-on-note"
	}
	t := j.saying()
	t.say(key, "item", clause(s.Name), "when", j.when(last.Entry.Date), "note", clause(last.Said))
	j.tellAnswers(t, s, s.besides(last))
	st := sec.join(j.words.Say("points.wrong"), Evidence{}, Item{Subject: s, Text: t.text(), Evidence: s.Evidence})
	st.wholeOr(s.Told)
}

// seen puts a point that is in order beside the others that were looked at on the
// same day by the same person, and with work there in the same entry or without.
// Of its history the last answer is told, and all that was not good before it.
func (j *judge) seen(sec *Section, s *Subject) {
	last := s.lastAnswer()
	lead := "points.in-order"
	if last.By != "" {
		lead = "points.in-order-by"
	}
	if s.SameEvening != "" {
		lead += "-same"
	}
	t := j.saying()
	told := j.itemOf(t, s, last, false)
	if slices.ContainsFunc(s.AnsweredBy, func(m *Subject) bool { return m.Standing != InOrder }) {
		j.tellMeasured(t, s)
	}
	j.tellBetween(t, s)
	st := sec.join(j.words.Say(lead, "when", j.when(last.Entry.Date), "by", clause(last.By)), last.Entry, Item{Subject: s, Text: t.text(), Evidence: told})
	st.whole()
}

// whole makes the text of what is told together.
func (st *Statement) whole() {
	all := []string{st.Lead}
	for _, it := range st.Items {
		all = append(all, it.Text)
	}
	st.Text = strings.Join(all, " ")
}

// wholeOr is whole where there are several; one alone keeps the words that it has.
func (st *Statement) wholeOr(alone string) (several bool) {
	if len(st.Items) > 1 {
		st.whole()
		return true
	}
	st.Text = alone
	return false
}

// itemOf tells a point by its last answer, and by what was not good besides; it
// gives back what that rests on besides the last answer, whose day it tells where
// no lead does.
func (j *judge) itemOf(t *saying, s *Subject, last *Event, dated bool) []Evidence {
	noted := last.Said != ""
	key := "point.item"
	switch {
	case last.What != Works:
	case dated && noted:
		key = "point.item-when-note"
	case dated:
		key = "point.item-when"
	case noted:
		key = "point.item-note"
	}
	t.say(key, "item", clause(s.Name), "note", clause(last.Said), "when", j.when(last.Entry.Date))
	var before []Event
	var rests []Evidence
	for _, e := range s.History {
		if s.toldBeside(e, last) {
			before = append(before, e)
			rests = append(rests, e.Entry)
		}
	}
	j.tellAnswers(t, s, before)
	return rests
}

// overtaken puts a point beside the others that the same work made out of date.
func (j *judge) overtaken(sec *Section, s *Subject) {
	w := s.Touched
	key := "points." + s.standingKey()
	lead := j.words.Say(key, "work", Opening(w.By), "when", j.when(w.Entry.Date))
	last := s.lastPassed()
	t := j.saying()
	told := append(j.itemOf(t, s, last, true), last.Entry)
	j.tellMeasured(t, s)
	j.tellBetween(t, s)
	st := sec.join(lead, w.Entry, Item{Subject: s, Text: t.text(), Evidence: told})
	if st.wholeOr(s.Told) {
		st.Brief = j.words.Say(key+"-brief", "work", Opening(w.By), "when", j.when(w.Entry.Date), "names", j.words.Each(j.shorts(st.Subjects)))
	}
}

// plain tells of a work of which there is no more to say.
func (w *Touch) plain() bool { return !w.Nowhere && !w.Unplaced }

// lastPassed is the last answer that was good, else the last one.
func (s *Subject) lastPassed() *Event {
	for i := len(s.History) - 1; i >= 0; i-- {
		if s.History[i].What == Works {
			return &s.History[i]
		}
	}
	return s.lastAnswer()
}

func (j *judge) shorts(subjects []*Subject) []string {
	var all []string
	for _, s := range subjects {
		all = append(all, s.listed(j.words))
	}
	return all
}

func names(subjects []*Subject) []string {
	var all []string
	for _, s := range subjects {
		all = append(all, clause(s.Name))
	}
	return all
}

// notSaid names the open subjects of which the shop did not say if they can hurt
// someone.
func (j *judge) notSaid() {
	unsaid := j.report.where(func(s *Subject) bool { return s.Open && s.Safety == logbook.NotSaid })
	if len(unsaid) == 0 {
		return
	}
	sec := j.section(SectionSafety)
	sec.Statements = append(sec.Statements, Statement{
		Text: j.words.Say("safety.not-said", "names", j.words.Each(names(unsaid))), Subjects: unsaid, Evidence: evidenceOf(unsaid),
	})
}

func evidenceOf(subjects []*Subject) []Evidence {
	var all []Evidence
	for _, s := range subjects {
		for _, e := range s.Evidence {
			if !slices.Contains(all, e) {
				all = append(all, e)
			}
		}
	}
	return all
}

// leftOut names the points that the shop took out of the list, which no subject
// tells where the list itself is open.
func (j *judge) leftOut() {
	list := j.report.where(func(s *Subject) bool { return s.Kind == KindList })[0]
	if list.Open {
		sec := j.section(SectionNotChecked)
		for _, l := range j.machine.LeaveOut {
			sec.Statements = append(sec.Statements, Statement{Text: j.words.Say("list.left-out", "item", clause(l.Item), "why", clause(l.Why)), Evidence: list.Evidence})
		}
	}
}

func (j *judge) hours() {
	sec := j.section(SectionHours)
	add := func(evidence []Evidence, key string, pairs ...any) {
		if len(evidence) == 0 {
			evidence = []Evidence{j.itself}
		}
		sec.Statements = append(sec.Statements, Statement{Text: j.words.Say(key, pairs...), Evidence: evidence})
	}
	worked := j.entries(func(e *logbook.Entry) bool { return len(e.Sessions) > 0 })
	switch work := j.report.Count.Work.Total; {
	case !j.shop.Show.Hours:
		add(nil, "hours.not-shown")
	case len(worked) == 0:
		add(nil, "hours.work-unsaid")
	default:
		add(worked, "hours.work", "work", j.words.Length(int(work)))
	}
	ran := j.entries(func(e *logbook.Entry) bool { return e.HasRan })
	add(ran, j.runKey(), j.runPairs()...)
	if o := j.report.Count.Odometer; o.Said {
		text := j.words.Say(j.odometerKey(), "reading", o.Reading, "when", j.when(o.Entry.Date)) + j.odometerBefore()
		sec.Statements = append(sec.Statements, Statement{Text: text, Evidence: []Evidence{evidenceFor(o.Entry)}})
	}
	j.madeOf(sec)
	j.upkeep(sec)
	j.priced(sec)
	for _, e := range j.machine.Entries {
		for _, p := range e.Parts {
			j.part(sec, e, p)
		}
	}
}

// odometerKey is what can be said of the odometer: what it read last, or why it has no
// reading by now.
func (j *judge) odometerKey() string {
	o := j.report.Count.Odometer
	switch {
	case !o.Reading.IsZero():
		return "hours.odometer"
	case o.Entry.Odometer.State == logbook.MeterBroken:
		return "hours.odometer-broken"
	case o.Entry.Odometer.State == logbook.MeterNone:
		return "hours.odometer-none"
	}
	return "hours.odometer-unknown"
}

// odometerBefore is what it read before that; nothing where it has a reading, or never had.
func (j *judge) odometerBefore() string {
	o := j.report.Count.Odometer
	if !o.Reading.IsZero() || o.Before.IsZero() {
		return ""
	}
	return " " + j.words.Say("hours.odometer-before", "before", o.Before, "when", j.when(o.Day))
}

// priced tells what the parts come to that are in the machine, and how many of them
// that is for.
func (j *judge) priced(sec *Section) {
	in := j.report.Count.Fitted
	if !j.shop.Show.PartsCost || in.All == 0 {
		return
	}
	key := "hours.parts"
	switch {
	case in.Priced == 0:
		key = "hours.parts-unpriced"
	case in.Priced < in.All:
		key = "hours.parts-some"
	}
	text := j.words.Say(key, "sum", tally.Said(j.shop, in.Amount), "priced", in.Priced, "all", in.All)
	evidence := j.entries(func(e *logbook.Entry) bool { return len(e.Parts) > 0 })
	sec.Statements = append(sec.Statements, Statement{Text: text, Evidence: evidence})
}

// runKey is what can be said of its running: since the last work on the engine, where
// it has one.
func (j *judge) runKey() string {
	switch r := j.report.Run; {
	case !j.hasEngine() && r.Said:
		return "hours.ran"
	case !j.hasEngine():
		return "hours.ran-unsaid"
	case r.Work != "" && r.SaidSince:
		return "hours.run"
	case r.Work != "" && r.Said:
		return "hours.run-before"
	case r.Work != "":
		return "hours.run-unsaid"
	case r.Said:
		return "hours.ran"
	}
	return "hours.ran-unsaid"
}

// runPairs is what the sentences of its running hold.
func (j *judge) runPairs() []any {
	r, work := j.report.Run, "run.work"
	if r.Maybe {
		work = "run.work-maybe"
	}
	return []any{"run", j.words.Length(int(r.Since)), "all", j.words.Length(int(r.All)), "work", j.words.Say(work), "when", j.when(r.Work)}
}

// hasEngine tells whether the machine has an engine, as far as the log shows: the shop
// does not deny it, and the list (but for points of what it may not have), the shop or the
// entries speak of one.
func (j *judge) hasEngine() bool {
	return !j.machine.Lacks("engine") && (len(j.machine.Engines) > 0 || !j.machine.Listed ||
		slices.ContainsFunc(j.report.Subjects, func(s *Subject) bool {
			mayLack := s.Item != nil && s.Item.OnlyIf != "" && len(s.History) == 0
			return slices.Contains(s.Systems, running[0]) && !mayLack
		}) ||
		slices.ContainsFunc(j.done, func(w work) bool { return slices.Contains(w.reach, running[0]) }))
}

// entries are those that are so, as evidence.
func (j *judge) entries(so func(*logbook.Entry) bool) []Evidence {
	var all []Evidence
	for i, e := range j.machine.Entries {
		if so(e) {
			all = append(all, j.evidence(i))
		}
	}
	return all
}

// terms are printed for a machine that is for sale or sold alone.
func (j *judge) terms() {
	if !j.machine.Offered() {
		return
	}
	sec := j.section(SectionTerms)
	add := func(key string, pairs ...any) {
		sec.Statements = append(sec.Statements, Statement{Text: j.words.Say(key, pairs...), Evidence: []Evidence{j.itself}})
	}
	switch {
	case j.shop.Terms == logbook.AsIs:
		add("terms.as-is")
	case j.shop.Terms != "":
		add("terms.own", "terms", clause(j.shop.Terms))
	default:
		add("terms.none")
	}
	sec.Notes = append(sec.Notes, j.words.Say("terms.law"))
}

// log is the list of entries.
func (j *judge) log() {
	sec := j.section(SectionLog)
	for i, e := range j.machine.Entries {
		key := "log.entry"
		if e.By != "" {
			key = "log.entry-by"
		}
		sec.Statements = append(sec.Statements, Statement{Text: j.words.Say(key, "date", Opening(j.words.Day(e.Date.Day())), "title", clause(e.Title), "by", clause(e.By)), Evidence: []Evidence{j.evidence(i)}})
	}
}

// cautions are the usual ones: each list that the machine has may have one for
// its kind. Common practice, no source; each defers to the maker's manual.
func (j *judge) cautions() {
	sec := j.section(SectionSafety)
	if len(j.report.Open()) > 0 {
		sec.Notes = append(sec.Notes, j.words.Say("caution.open"))
	}
	for _, s := range j.machine.Sheets {
		if key := "caution." + keyOf(s.Name); s.BuiltIn && j.words.Has(key) {
			sec.Notes = append(sec.Notes, j.words.Say(key))
		}
	}
	for _, w := range j.done {
		unknown := slices.DeleteFunc(slices.Clone(w.affects), func(name string) bool { return logbook.Known(name, j.report.affectable) })
		if len(unknown) > 0 {
			sec.Notes = append(sec.Notes, j.words.Say("caution.affects", "work", Opening(w.by), "names", j.words.Each(unknown)))
		}
	}
	sec.Notes = append(sec.Notes, j.words.Say("caution.manual"), j.words.Say("caution.no-certificate"))
}

// Section is a part of the report by its id.
func (r *Report) Section(id string) Section {
	return r.Sections[slices.Index(Sections, id)]
}

// Bad tells whether a standing belongs among what is wrong.
func Bad(s Standing) bool { return sectionOfStanding[s] == SectionWrong }
