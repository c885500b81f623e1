package handover

import (
	"encoding/json"
	"fmt"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/handover/jcs"
	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/record"
)

// factsFormat names the form of Facts, for whoever reads them in ten years.
// Facts of the first form are read as well: see firstFacts.
const (
	factsFormat      = "asleft condition report 2"
	firstFactsFormat = "asleft condition report 1"
)

// Facts are what a report says, all of it, and nothing that the public site
// would not show. The field names are those of the sealed file. Dates are as
// exact as the log has them, the day of sealing is YYYY-MM-DD.
type Facts struct {
	Format   string        `json:"format"`
	Language string        `json:"language"` // BCP 47
	Sealed   string        `json:"sealed"`   // the day of sealing
	AsOf     string        `json:"as_of"`    // the last day of the log
	Shop     ShopFacts     `json:"shop"`
	Price    string        `json:"price"` // as it is printed; empty for none
	Record   record.Record `json:"record"`
	Front    []FrontPart   `json:"front"`
	Sections []Section     `json:"sections"`
	Photos   []Photo       `json:"photos"`  // of what is open or wrong
	Entries  []Evidence    `json:"entries"` // of the log, in its order
	// Log is the digest of every byte of the shop's folder that the report draws on.
	Log string `json:"log"`
	// Lost is what earlier sealed reports of the machine said and the log no longer
	// says, in whole sentences.
	Lost []string `json:"lost"`

	first *firstRecord // of facts of the first form
}

// ShopFacts say whose report it is. Page is the public address of the condition
// report, empty where the shop has no web address.
type ShopFacts struct {
	Name    string `json:"name"`
	Place   string `json:"place"`
	Contact string `json:"contact"`
	Page    string `json:"page"`
}

// FrontPart is one question of the front sheet with its answers.
type FrontPart struct {
	ID    string   `json:"id"`
	Title string   `json:"title"`
	Lines []string `json:"lines"`
}

// Section is one part of the report.
type Section struct {
	ID         string      `json:"id"`
	Title      string      `json:"title"`
	Notes      []string    `json:"notes"`
	Statements []Statement `json:"statements"`
	// Table is what was measured, a row for each thing.
	Table []Row `json:"table"`
}

// Statement is a statement with what it rests on: numbers of entries, from 1,
// and 0 for the machine's own file. Subjects are the names that it is about.
type Statement struct {
	Text     string   `json:"text"`
	Safety   bool     `json:"safety"`
	Subjects []string `json:"subjects"`
	Evidence []int    `json:"evidence"`
}

// A Row is one measured thing.
type Row struct {
	Name    string `json:"name"`
	First   string `json:"first"`
	Worst   string `json:"worst"`
	Last    string `json:"last"`
	Limit   string `json:"limit"`
	Gauge   string `json:"gauge"`
	Verdict string `json:"verdict"`
}

// Evidence is an entry of the log.
type Evidence struct {
	File  string `json:"file"`
	Date  string `json:"date"`
	Title string `json:"title"`
	By    string `json:"by"`
}

// Photo shows a subject. SHA256 is of the JPEG in the HTML report.
type Photo struct {
	Subject string `json:"subject"`
	Date    string `json:"date"`
	Alt     string `json:"alt"`
	Caption string `json:"caption"`
	Width   int    `json:"width"`
	Height  int    `json:"height"`
	SHA256  string `json:"sha256"`
}

// gathered are the facts of the n-th machine of a site, without photos and
// without what was lost.
func gathered(site *page.Site, n int, today logbook.Date) Facts {
	m, r, words := site.Shop.Machines[n], site.Report(n), site.Words
	f := Facts{
		Format: factsFormat, Language: words.Lang, Sealed: string(today), AsOf: string(r.AsOf),
		Shop:   ShopFacts{Name: site.Shop.Name, Place: site.Shop.Town, Contact: site.Shop.Contact},
		Price:  site.Price(m),
		Record: site.Record(n), Photos: []Photo{}, Entries: []Evidence{}, Lost: []string{}, Log: site.Shop.DigestOf(m),
	}
	if site.Shop.Web != "" {
		f.Shop.Page = site.Shop.Web + "machines/" + m.Key + "/condition/"
	}
	for _, e := range m.Entries {
		f.Entries = append(f.Entries, Evidence{e.File, string(e.Date), e.Title, e.By})
	}
	f.Front = fronted(r, words)
	for _, sec := range r.Sections {
		if sec.ID == condition.SectionLog || sec.ID == condition.SectionTerms && !offered(m) {
			continue // the entries stand at the end by themselves
		}
		f.Sections = append(f.Sections, f.section(r, sec, words))
	}
	return f
}

// offered tells whether a machine is spoken of to a buyer.
func offered(m *logbook.Machine) bool { return m.Stage == logbook.ForSale || m.Stage == logbook.Sold }

// fronted is the front sheet.
func fronted(r *condition.Report, words *catalog.Catalog) []FrontPart {
	all := []FrontPart{}
	for _, p := range []struct {
		id    string
		lines []condition.Line
	}{
		{"hurt", r.Front.Hurt}, {"wrong", r.Front.Wrong}, {"look", r.Front.Look}, {"repaired", r.Front.Repaired}, {"changed", r.Front.Changed},
		{"unwritten", r.Front.Unwritten}, {"hours", r.Front.Hours},
	} {
		part := FrontPart{ID: p.id, Title: words.Say("front.part." + p.id), Lines: []string{}}
		for _, l := range p.lines {
			part.Lines = append(part.Lines, l.Text)
		}
		if len(part.Lines) == 0 {
			part.Lines = append(part.Lines, words.Say("front.none."+p.id))
		}
		all = append(all, part)
	}
	return all
}

func (f *Facts) section(r *condition.Report, sec condition.Section, words *catalog.Catalog) Section {
	s := Section{ID: sec.ID, Title: sec.Title, Notes: append([]string{}, sec.Notes...), Statements: []Statement{}, Table: []Row{}}
	for _, st := range sec.Statements {
		s.Statements = append(s.Statements, f.stated(st))
	}
	if sec.ID == condition.SectionMeasured {
		for _, x := range r.Subjects {
			if x.Measured != nil {
				s.Table = append(s.Table, rowOf(x, words))
			}
		}
		for _, t := range r.Tests {
			for _, says := range t.Says {
				s.Statements = append(s.Statements, Statement{Text: says, Subjects: []string{}, Evidence: f.numbers([]condition.Evidence{{File: t.Entry.File}})})
			}
		}
	}
	return s
}

func (f *Facts) stated(st condition.Statement) Statement {
	s := Statement{Text: st.Text, Subjects: []string{}, Evidence: f.numbers(st.Evidence)}
	for _, x := range st.Subjects {
		s.Safety = s.Safety || x.Open
		s.Subjects = append(s.Subjects, x.Name)
	}
	return s
}

// numbers are those of the entries that a statement rests on.
func (f *Facts) numbers(evidence []condition.Evidence) []int {
	all := []int{}
	for i, e := range f.Entries {
		for _, ev := range evidence {
			if ev.File == e.File {
				all = append(all, i+1)
				break
			}
		}
	}
	return all
}

func rowOf(s *condition.Subject, words *catalog.Catalog) Row {
	m := s.Measured
	first, last := m.First(), m.Last()
	row := Row{Name: s.Name, First: valued(first, words), Verdict: words.Say("standing." + condition.Word(s.Standing))}
	if len(m.Values) > 1 {
		row.Last = valued(last, words)
	}
	if w := m.Worst(); w != nil {
		row.Worst = valued(*w, words)
	}
	if last.HasGauge {
		row.Gauge = last.Gauge.String()
	}
	var limits []string
	for _, l := range m.Limits {
		if l.Source == "" {
			limits = append(limits, l.Limit)
			continue
		}
		limits = append(limits, words.Say("handover.limit", "limit", l.Limit, "source", l.Source))
	}
	row.Limit = words.Each(limits)
	return row
}

func valued(v condition.Value, words *catalog.Catalog) string {
	return words.Say("handover.value", "value", v.Shown, "date", words.Day(v.Date.Day()))
}

// UnmarshalJSON reads facts of either form.
func (f *Facts) UnmarshalJSON(data []byte) error {
	var form struct {
		Format string `json:"format"`
	}
	if err := json.Unmarshal(data, &form); err != nil {
		return err
	}
	if form.Format == firstFactsFormat {
		return f.readFirst(data)
	}
	type plain Facts
	return json.Unmarshal(data, (*plain)(f))
}

// Open are the subjects that a buyer has to be told of before all others, and
// Wrong all that is wrong with the machine and not among them, by their names.
func (f *Facts) Open() []record.Subject {
	return f.where(func(s record.Subject) bool { return s.Open })
}

// Wrong are the subjects that are wrong, missing, worked around, not proven or
// too close to call, and not open.
func (f *Facts) Wrong() []record.Subject {
	return f.where(func(s record.Subject) bool { return !s.Open && condition.Bad(condition.Standing(s.Standing)) })
}

func (f *Facts) where(is func(record.Subject) bool) []record.Subject {
	var all []record.Subject
	for _, s := range f.Record.Subjects {
		if is(s) {
			all = append(all, s)
		}
	}
	return all
}

// canonical are the facts in the form that their digest is taken of.
func (f *Facts) canonical() ([]byte, error) {
	data, err := jcs.Marshal(f)
	if err != nil {
		return nil, fmt.Errorf("the facts of %s: %w", f.Record.Machine.Key, err)
	}
	return data, nil
}

// date is a date as the report says it.
func date(words *catalog.Catalog, d string) string {
	if d == "" {
		return ""
	}
	return words.Day(logbook.Date(d).Day())
}
