package page

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// condition makes the page of the condition report. All that it says is filled
// in by the program's own templates; the theme gives the frame around it.
func (s *Site) condition(n int, put Put) error {
	m, r := s.Shop.Machines[n], s.Report(n)
	sh := s.sheet(conditionPath(m.Key))
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

// report is what the program's own templates are handed of a machine.
func (s *sheet) report(m *logbook.Machine, r *condition.Report) Report {
	v := Report{Front: s.frontSheet(m, r), Record: s.to(recordPath(m.Key))}
	v.Sealed, v.Lost = s.sealedSays(m)
	if s.verifies() {
		v.Verify = s.to(verifyPath)
	}
	if offered(m) {
		v.Sign = []string{s.say("page.sign-buyer"), s.say("page.sign-shop"), s.say("page.sign-date")}
	}
	for _, sec := range r.Sections {
		if !offered(m) && sec.ID == condition.SectionTerms {
			continue
		}
		v.Sections = append(v.Sections, s.section(m, r, sec))
		v.Contents = append(v.Contents, Link{To: "#" + sec.ID, Text: sec.Title})
	}
	return v
}

func (s *sheet) section(m *logbook.Machine, r *condition.Report, sec condition.Section) Section {
	v := Section{ID: sec.ID, Title: sec.Title, Notes: sec.Notes}
	for _, st := range sec.Statements {
		if sec.ID == condition.SectionLog && len(st.Evidence) > 0 {
			v.Log = append(v.Log, LogRow{ID: entryNote(len(v.Log) + 1), To: s.entryAt(m, st.Evidence[0]), Text: st.Text})
			continue
		}
		v.Statements = append(v.Statements, s.statement(m, st))
	}
	if sec.ID == condition.SectionMeasured {
		if v.Rows, v.Tests = s.measured(r), s.pointers(r); len(v.Rows) > 0 {
			v.Statements = nil // each has its row
		}
	}
	return v
}

// entryNote is the id of the n-th entry in the list at the end.
func entryNote(n int) string { return "entry-" + strconv.Itoa(n) }

// entryAt is where an entry stands on the machine's page.
func (s *sheet) entryAt(m *logbook.Machine, e condition.Evidence) string {
	if e.File == m.File {
		return s.to(storyPath(m.Key))
	}
	return s.to(storyPath(m.Key)) + "#" + entryID(e.File)
}

func (s *sheet) statement(m *logbook.Machine, st condition.Statement) Statement {
	v := Statement{Text: s.text(st.Text), Notes: notes(m, st.Evidence)}
	if len(st.Subjects) == 1 && st.Items == nil {
		v.ID = st.Subjects[0].ID
	}
	if len(st.Items) > 0 {
		v.Text, v.Notes = s.text(st.Lead), nil
	}
	for _, it := range st.Items {
		v.Items = append(v.Items, Item{ID: it.Subject.ID, Text: it.Text, Notes: notes(m, it.Evidence)})
	}
	for _, of := range st.Subjects {
		v.Safety = v.Safety || of.Open
		for _, pic := range s.subjectPictures(m, of) {
			v.Photos = append(v.Photos, pic)
		}
	}
	return v
}

// notes are the numbers of the entries that something rests on, each once. What
// rests on the machine's own file has none.
func notes(m *logbook.Machine, evidence []condition.Evidence) []Link {
	var all []Link
	for i, e := range m.Entries {
		if slices.ContainsFunc(evidence, func(ev condition.Evidence) bool { return ev.File == e.File }) {
			all = append(all, Link{To: "#" + entryNote(i+1), Text: strconv.Itoa(i + 1)})
		}
	}
	return all
}

// measured are the things measured, each in one row.
func (s *sheet) measured(r *condition.Report) []MeasuredRow {
	var rows []MeasuredRow
	for _, subject := range r.Ordered() {
		if subject.Kind == condition.KindMeasurement {
			rows = append(rows, s.measuredRow(r, subject, len(rows)))
		}
	}
	return rows
}

func (s *sheet) measuredRow(r *condition.Report, subject *condition.Subject, n int) MeasuredRow {
	m := subject.Measured
	last := m.Last()
	row := MeasuredRow{
		ID: subject.ID, Name: subject.Name, Last: Dated{last.Shown, s.date(last.Date)},
		Gauge: s.gauge(last.Gauge, last.HasGauge), Limits: s.limits(m.Limits),
		Standing: s.say("verdict." + strings.TrimPrefix(standingKeys[subject.Standing], "standing.")), Mark: standingMarks[subject.Standing],
		Notes: notes(r.Machine, subject.Evidence), Chart: s.readingChart(drawingID("reading", n), m),
	}
	if first := m.First(); len(m.Values) > 1 {
		row.First = Dated{first.Shown, s.date(first.Date)}
	}
	if worst := m.Worst(); worst != nil {
		row.Worst = Dated{worst.Shown, s.date(worst.Date)}
	}
	if t := subject.Touched; t != nil {
		row.After = s.say("page.after-work", "work", t.By, "date", s.date(t.Entry.Date))
	}
	return row
}

// standingMarks are the patterns of the standings of what is measured.
var standingMarks = map[condition.Standing]string{
	condition.Wrong: "outside", condition.TooClose: "close", condition.OutOfDate: "stale", condition.NoLimit: "none", condition.InOrder: "inside",
}

// pointers are what each bench test points to. Its numbers stand in the table.
func (s *sheet) pointers(r *condition.Report) []TestSays {
	var all []TestSays
	for i, t := range r.Tests {
		name := s.say("ui.test", "test", t.Test)
		if t.Where != "" {
			name = s.say("ui.test-where", "test", t.Test, "where", t.Where)
		}
		if len(t.Says) > 0 {
			all = append(all, TestSays{Name: name, Says: t.Says, Drawing: template.HTML(drawing(drawingID("test", i), t.Drawing))}) //nolint:gosec // the program's own
		}
	}
	return all
}
