package page

import (
	"bytes"
	"fmt"
	"html"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// condition makes the page of the condition report. All that it says is filled
// in by the program's own templates; the theme gives the frame around it.
func (s *Site) condition(n int, put Put) error {
	m, r := s.Shop.Machines[n], s.Report(n)
	sh := s.composer(conditionPath(m.Key))
	v := Condition{
		Page: sh.page("condition", s.say("page.condition-title", "name", m.Name), s.describe(r)),
		Head: sh.head(m, r),
	}
	v.Trail = sh.way(m, s.say("page.condition"))
	v.Preview = sh.preview(v.Head.Cover)
	var err error
	if v.Body, err = s.Theme.own("condition-body", sh.report(m, r)); err != nil {
		return err
	}
	return s.Theme.frame(put, sh.path, "condition.html", v, v.Body)
}

// Condition is the page of the n-th machine's condition report. It comes after
// Outline, and needs no Compose. Sites that share a theme make it one after the other.
func (s *Site) Condition(n int) (made []byte, err error) {
	s.prepare()
	err = s.judging(n).condition(n, func(_ string, data []byte) error {
		made = bytes.Clone(data)
		return nil
	})
	return made, err
}

// report is what the program's own templates are handed of a machine.
func (s *composer) report(m *logbook.Machine, r *condition.Report) Report {
	asOf := s.asOf(r)
	sealed, gone := s.sealedSays(m.Key) // with their years
	s = s.inYear(r.Year)
	v := Report{Front: s.frontSheet(m, r), Record: s.to(recordPath(m.Key)), Sealed: sealed, Gone: gone}
	v.Front.AsOf = asOf // with its year, which the days below it go without
	if s.verifies() {
		v.Verify = s.to(verifyPath)
	}
	if m.Offered() {
		v.Sign = []string{s.say("page.sign-buyer"), s.say("page.sign-shop"), s.say("page.sign-date")}
	}
	for _, sec := range r.Sections {
		if !m.Offered() && sec.ID == condition.SectionTerms {
			continue
		}
		v.Sections = append(v.Sections, s.section(m, r, sec))
	}
	v.anchor()
	return v
}

// anchor takes a subject's id off all places but the first that has it: it is told
// in full once, and where it is named again it has no anchor.
func (v *Report) anchor() {
	had := map[string]bool{}
	once := func(id *string) {
		if had[*id] {
			*id = ""
		}
		had[*id] = true
	}
	for i := range v.Sections {
		sec := &v.Sections[i]
		for k := range sec.Statements {
			once(&sec.Statements[k].ID)
			for n := range sec.Statements[k].Items {
				once(&sec.Statements[k].Items[n].ID)
			}
		}
		for k := range sec.Rows {
			once(&sec.Rows[k].ID)
		}
		for k := range sec.Unlimited {
			once(&sec.Unlimited[k].ID)
		}
	}
}

func (s *composer) section(m *logbook.Machine, r *condition.Report, sec condition.Section) Section {
	v := Section{ID: sec.ID, Title: sec.Title, Notes: sec.Notes}
	for _, st := range sec.Statements {
		if sec.ID == condition.SectionLog && len(st.Evidence) > 0 {
			v.Log = append(v.Log, LogRow{ID: entryNote(len(v.Log) + 1), To: s.entryAt(m, st.Evidence[0]), Text: st.Text})
			continue
		}
		if st.Parts {
			v.Parts = append(v.Parts, s.statement(m, st))
			continue
		}
		told := s.statement(m, st)
		told.Fold = sec.ID == condition.SectionInOrder && len(told.Items) > 0
		if st.Brief != "" {
			told.Fold, told.Text = true, s.text(st.Brief)
		}
		if len(st.Subjects) == 1 {
			s.foldRepair(&told, st)
		}
		v.Statements = append(v.Statements, told)
	}
	if sec.ID == condition.SectionMeasured {
		v.Rows = s.measured(r)
		v.Tests, v.TestsApart = s.pointers(r)
		if len(v.Rows) > 0 {
			v.Statements = nil // all of them stand in the rows
			v.Source = oneSource(v.Rows)
		}
		limited := slices.DeleteFunc(slices.Clone(v.Rows), func(row MeasuredRow) bool { return row.loose })
		if len(limited) > 0 { // a table of readings without a limit alone is not folded
			v.Unlimited = slices.DeleteFunc(v.Rows, func(row MeasuredRow) bool { return !row.loose })
			v.Rows = limited
		}
	}
	return v
}

// inYear is the sheet with the days of a year told without it, as the report does.
func (s *composer) inYear(year int) *composer {
	site, own := *s.Site, *s
	site.Words = s.Words.InYear(year)
	own.Site = &site
	return &own
}

// oneSource is the source of all limits, where there is one for all of them; it is
// taken out of the rows.
func oneSource(rows []MeasuredRow) string {
	source, n := "", 0
	for _, row := range rows {
		for _, l := range row.Limits {
			if l.Value == "" || source != "" && l.Value != source {
				return ""
			}
			source, n = l.Value, n+1
		}
	}
	if n < 2 {
		return ""
	}
	for _, row := range rows {
		for i := range row.Limits {
			row.Limits[i].Value = ""
		}
	}
	return source
}

// entryNote is the id of the n-th entry in the list at the end.
func entryNote(n int) string { return "entry-" + strconv.Itoa(n) }

// entryAt is where an entry stands on the machine's page.
func (s *composer) entryAt(m *logbook.Machine, e condition.Evidence) string {
	if e.File == m.File {
		return s.to(storyPath(m.Key))
	}
	return s.to(storyPath(m.Key)) + "#" + entryID(e.File)
}

func (s *composer) statement(m *logbook.Machine, st condition.Statement) Statement {
	v := Statement{Text: s.text(st.Text), Notes: s.notes(m, st.Evidence)}
	if len(st.Subjects) == 1 {
		v.ID, st.Items = st.Subjects[0].ID, nil // one alone is told in a sentence
	}
	if len(st.Items) > 0 {
		v.Text, v.Notes = s.text(st.Lead), s.notes(m, []condition.Evidence{st.LeadEvidence})
	}
	for _, it := range st.Items {
		v.Items = append(v.Items, Item{ID: it.Subject.ID, Text: it.Text, Notes: s.notes(m, slices.DeleteFunc(slices.Clone(it.Evidence), func(e condition.Evidence) bool { return e == st.LeadEvidence }))})
	}
	for _, of := range st.Subjects {
		v.Safety = v.Safety || of.Open
		v.Photos = append(v.Photos, s.subjectPictures(m, of)...)
	}
	return v
}

// foldRepair tells a repair that was proven in one line, with its whole story folded
// below it. What may hurt someone is never folded.
func (s *composer) foldRepair(told *Statement, st condition.Statement) {
	subject := st.Subjects[0]
	var repaired []condition.Event
	for _, e := range subject.History {
		switch e.What {
		case condition.Repaired:
			repaired = append(repaired, e)
		case condition.Left:
			return // what its part took along needed no proof
		}
	}
	if len(repaired) != 1 || subject.Open {
		return
	}
	pairs := []any{"name", condition.Opening(subject.Wordings()), "when", s.when(repaired[0].Entry.Date)}
	var line string
	switch w := subject.Touched; {
	case subject.Standing == condition.InOrder:
		line = s.say("page.repaired", pairs...)
	case subject.Standing == condition.OutOfDate && w != nil && !w.SameDay:
		line = s.say("page.repaired-before", append(pairs, "work", condition.Opening(w.By), "after", s.when(w.Entry.Date))...)
	default:
		return
	}
	told.Fold, told.Items, told.Text, told.Notes = true, []Item{{Text: st.Text, Notes: told.Notes}}, s.text(line), ""
}

// notes are the numbers of the entries that something rests on, each once, three
// or more in a row as one. What rests on the machine's own file has none. A report has
// a hundred such, so no template makes them.
func (s *composer) notes(m *logbook.Machine, evidence []condition.Evidence) template.HTML {
	var b strings.Builder
	before := ` <span class="numbers">[`
	for i := 0; i < len(m.Entries); i++ {
		rests := func(n int) bool {
			return n < len(m.Entries) && slices.ContainsFunc(evidence, func(ev condition.Evidence) bool { return ev.File == m.Entries[n].File })
		}
		if !rests(i) {
			continue
		}
		last := i
		for rests(last + 1) {
			last++
		}
		at, number := entryNote(i+1), strconv.Itoa(i+1)
		if last >= i+2 {
			number += "\u2013" + strconv.Itoa(last+1)
			i = last
		}
		fmt.Fprintf(&b, `%s<a href="#%s" aria-label="%s">%s</a>`, before, at, html.EscapeString(s.say("ui.entry-number", "n", number)), number)
		before = ", "
	}
	if b.Len() > 0 {
		b.WriteString("]</span>")
	}
	return template.HTML(b.String()) //nolint:gosec // numbers, and a sentence that is escaped
}

// measured are the things measured, each in one row.
func (s *composer) measured(r *condition.Report) []MeasuredRow {
	var rows []MeasuredRow
	for _, subject := range r.Ordered() {
		if subject.Kind == condition.KindMeasurement {
			rows = append(rows, s.measuredRow(r, subject, len(rows)))
		}
	}
	return rows
}

func (s *composer) measuredRow(r *condition.Report, subject *condition.Subject, n int) MeasuredRow {
	m := subject.Measured
	last := m.Last()
	row := MeasuredRow{
		Name: subject.Name, Last: s.dated(r, subject, last),
		Gauge: s.gauge(last.Accuracy), Limits: s.limits(m.Limits, last.Value),
		Standing: s.say(subject.VerdictKey()), Mark: standingMarks[subject.Standing],
		Chart: s.readingChart(drawingID("reading", n), m), loose: subject.Standing == condition.NoLimit && !subject.Open,
	}
	if subject.Section() == condition.SectionMeasured {
		row.ID = subject.ID // else it stands where it is told
	}
	if t := subject.Touched; t != nil && subject.Standing == condition.OutOfDate {
		row.After, row.AfterNotes = t.By, s.notes(r.Machine, []condition.Evidence{t.Entry})
	}
	if first := m.First(); len(m.Values) > 1 {
		row.First = s.dated(r, subject, first)
	}
	if worst := m.Worst(); worst != nil {
		row.Worst = s.dated(r, subject, *worst)
	}
	return row
}

// dated is a value with its day and the number of its entry.
func (s *composer) dated(r *condition.Report, subject *condition.Subject, v condition.Value) Dated {
	d := Dated{Value: v.Shown, Date: s.date(v.Date)}
	for _, ev := range subject.History {
		if ev.Value != nil && ev.Value.Date == v.Date && ev.Value.Shown == v.Shown && ev.Value.Test == v.Test {
			d.Notes = s.notes(r.Machine, []condition.Evidence{ev.Entry})
		}
	}
	return d
}

// standingMarks are the patterns of the standings of what is measured.
var standingMarks = map[condition.Standing]string{
	condition.Wrong: "outside", condition.TooClose: "close", condition.OutOfDate: "stale", condition.NoLimit: "none", condition.InOrder: "inside",
}

// pointers are what each bench test points to, each sentence once. Its numbers
// stand in the table. One that was done again says when. Apart are those that were
// done again since, and those that found all inside its limit.
func (s *composer) pointers(r *condition.Report) (now, apart []TestSays) {
	name := func(t *benchtest.Outcome) string {
		if t.Where != "" {
			return s.say("ui.test-where", "test", t.Test, "where", t.Where)
		}
		return s.say("ui.test", "test", t.Test)
	}
	type kind struct{ name, what string } // a pressure and a vacuum test are not the same test done twice
	of := func(t *benchtest.Outcome) kind {
		if len(t.Results) == 0 {
			return kind{name: name(t)}
		}
		return kind{name(t), t.Results[0].What}
	}
	// What every judged result of a test says already, that it is inside, is folded.
	inside := func(t *benchtest.Outcome) bool {
		judged := 0
		for _, r := range t.Results {
			switch {
			case r.Verdict == quantity.Inside:
				judged++
			case r.Main || r.Limit != "":
				return false
			}
		}
		return judged > 0
	}
	times, done, said := map[kind]int{}, map[kind]int{}, map[string]bool{}
	named := map[string]int{}
	for _, t := range r.Tests {
		times[of(t)]++
		named[name(t)]++
	}
	for _, t := range r.Tests {
		says := TestSays{Name: name(t)}
		done[of(t)]++
		last := done[of(t)] == times[of(t)]
		if named[says.Name] > 1 {
			says.Name = s.say("ui.test-when", "test", says.Name, "when", s.Words.When(t.Entry.Date.Day()))
		}
		for _, one := range t.Says {
			if !said[one] && one != s.say("bench.other.no-limit") { // which the table says
				says.Says = append(says.Says, one)
			}
			said[one] = true
		}
		switch {
		case len(says.Says) == 0:
		case last && !inside(t):
			now = append(now, says)
		default:
			apart = append(apart, says)
		}
	}
	return now, apart
}
