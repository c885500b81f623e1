package handover

import (
	"fmt"
	"slices"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/handover/jcs"
	"asleft/generator/logbook"
	"asleft/generator/record"
	"asleft/generator/tally"
)

// factsFormat names the form of Facts, for whoever reads them in ten years. Those
// of reports sealed under schema 1 say 1; see firstFacts.
const factsFormat = "asleft condition report 2"

// Facts are what a report says, all of it, and nothing that the public site
// would not show. The field names are those of the sealed file. Dates are as
// exact as the log has them, YYYY-MM-DD at most; Sealed is a day.
type Facts struct {
	Format   string    `json:"format"`
	Language string    `json:"language"` // BCP 47
	Sealed   string    `json:"sealed"`   // the day of sealing
	AsOf     string    `json:"as_of"`    // the last day of the log
	Shop     ShopFacts `json:"shop"`
	// Log is one digest of all files of the log that the report draws on, see
	// logbook.Shop.DigestOf; empty under schema 1.
	Log      string        `json:"log"`
	Record   record.Record `json:"record"` // as record.json has it
	Price    string        `json:"price"`  // as the report prints it, empty for none
	Cover    *Photo        `json:"cover"`
	Front    []FrontPart   `json:"front"` // the front sheet, in its order
	Sections []Section     `json:"sections"`
	Entries  []Evidence    `json:"entries"` // of the log, as they are numbered
	// Beside is what the log says beside the histories of the subjects. Reports that
	// were sealed before there was such a list do not have it, so that null is none.
	Beside []Beside `json:"beside,omitzero"`
	// Gone is what earlier sealed reports of the machine said and the log no longer
	// says.
	Gone   []Gone  `json:"gone"`
	Photos []Photo `json:"photos"` // of the subjects
	// Signed tells whether the report has lines to sign on: only where the machine
	// is for sale or sold.
	Signed bool `json:"signed"`

	first *firstFacts // of a report sealed under schema 1
}

// ShopFacts say whose report it is. Page is the public address of the condition
// report, empty where the shop has no web address.
type ShopFacts struct {
	Name    string `json:"name"`
	Place   string `json:"place"`
	Contact string `json:"contact"`
	Page    string `json:"page"`
}

// FrontPart is one part of the front sheet. Empty is what it says where it has no
// line.
type FrontPart struct {
	ID    string      `json:"id"`
	Title string      `json:"title"`
	Lines []FrontLine `json:"lines"`
	Empty string      `json:"empty"`
}

// FrontLine is one line of it. To is the id of the subject or the section that it
// leads to, empty for none.
type FrontLine struct {
	Text string `json:"text"`
	To   string `json:"to"`
}

// Section is one part of the report, by the id that every report has it under.
type Section struct {
	ID         string      `json:"id"`
	Title      string      `json:"title"`
	Notes      []string    `json:"notes"`
	Statements []Statement `json:"statements"`
	Rows       []Row       `json:"rows"` // of what was measured
}

// Statement is a statement with what it rests on. Subjects are the ids of what it
// is about. Where several are told together, Items says what is said of each after
// Text. Open tells that a buyer has to be told of it before all else.
type Statement struct {
	Text     string     `json:"text"`
	Open     bool       `json:"open"`
	Subjects []string   `json:"subjects"`
	Items    []Item     `json:"items"`
	Evidence []Evidence `json:"evidence"`
}

// Item is one of several subjects that are told together.
type Item struct {
	Subject  string     `json:"subject"`
	Text     string     `json:"text"`
	Evidence []Evidence `json:"evidence"`
}

// Row is one measured thing: its first reading where there are several, the worst
// that was outside between, and the last. After is the later work, in words.
type Row struct {
	Subject  string         `json:"subject"`
	Name     string         `json:"name"`
	First    *Reading       `json:"first"`
	Worst    *Reading       `json:"worst"`
	Last     Reading        `json:"last"`
	Gauge    string         `json:"gauge"`
	Limits   []record.Limit `json:"limits"` // as people say them
	Verdict  string         `json:"verdict"`
	After    string         `json:"after"`
	Evidence []Evidence     `json:"evidence"`
}

// Reading is a value of one day.
type Reading struct {
	Value string `json:"value"`
	Date  string `json:"date"`
}

// Evidence is an entry of the log.
type Evidence struct {
	File  string `json:"file"`
	Date  string `json:"date"`
	Title string `json:"title"`
}

// Gone is one thing that a sealed report said and the log no longer says. Sealed
// and Code are of the last report that said it.
type Gone struct {
	Text   string `json:"text"`
	Sealed string `json:"sealed"`
	Code   string `json:"code"`
}

// Photo shows a subject, or stands for the machine. Side tells whether it is from
// before or after the work, in words. SHA256 is of the JPEG in the HTML report.
type Photo struct {
	Subject string `json:"subject"`
	Side    string `json:"side"`
	Date    string `json:"date"`
	Alt     string `json:"alt"`
	Caption string `json:"caption"`
	Width   int    `json:"width"`
	Height  int    `json:"height"`
	SHA256  string `json:"sha256"`
}

// gathered are the facts of a judged machine, without photos and without what is
// gone.
func gathered(shop *logbook.Shop, r *condition.Report, words *catalog.Catalog, today logbook.Date) Facts {
	m := r.Machine
	f := Facts{
		Format: factsFormat, Language: words.Lang, Sealed: string(today), AsOf: string(r.AsOf),
		Shop:   ShopFacts{Name: shop.Name, Place: shop.Town, Contact: shop.Contact},
		Record: record.Of(shop, r, words), Front: []FrontPart{}, Sections: []Section{}, Entries: []Evidence{}, Gone: []Gone{}, Photos: []Photo{},
		Log: shop.DigestOf(m), Signed: m.Offered(), Beside: besides(shop, r),
	}
	if m.Stage == logbook.ForSale {
		f.Price = tally.Said(shop, m.Asking)
	}
	if shop.Web != "" {
		f.Shop.Page = shop.Web + "machines/" + m.Key + "/condition/"
	}
	for _, e := range m.Entries {
		f.Entries = append(f.Entries, Evidence{e.File, string(e.Date), e.Title})
	}
	f.frontSheet(r, words)
	for _, sec := range r.Sections {
		if sec.ID != condition.SectionTerms || f.Signed {
			f.Sections = append(f.Sections, sectionOf(r, sec, words))
		}
	}
	return f
}

// frontSheet takes over the front sheet, in the order of a report.
func (f *Facts) frontSheet(r *condition.Report, words *catalog.Catalog) {
	for _, p := range r.FrontParts(words) {
		part := FrontPart{ID: p.ID, Title: p.Title, Lines: []FrontLine{}}
		for _, l := range p.Lines {
			line := FrontLine{Text: l.Text, To: l.Part}
			if l.Subject != nil {
				line.To = l.Subject.ID
			}
			part.Lines = append(part.Lines, line)
		}
		if len(part.Lines) == 0 {
			part.Empty = p.Empty
		}
		f.Front = append(f.Front, part)
	}
}

func sectionOf(r *condition.Report, sec condition.Section, words *catalog.Catalog) Section {
	s := Section{ID: sec.ID, Title: sec.Title, Notes: append([]string{}, sec.Notes...), Statements: []Statement{}, Rows: []Row{}}
	if sec.ID == condition.SectionMeasured {
		s.Rows = rows(r, words)
	}
	if len(s.Rows) > 0 { // each measured thing has its row, and the tests say what they point to
		s.Statements = pointers(r, words)
		return s
	}
	for _, st := range sec.Statements {
		s.Statements = append(s.Statements, stated(st))
	}
	return s
}

// pointers are what each bench test points to. Its numbers stand in the rows.
func pointers(r *condition.Report, words *catalog.Catalog) []Statement {
	all := []Statement{}
	for _, t := range r.Tests {
		if len(t.Says) == 0 {
			continue
		}
		name := words.Say("ui.test", "test", t.Test)
		if t.Where != "" {
			name = words.Say("ui.test-where", "test", t.Test, "where", t.Where)
		}
		all = append(all, Statement{
			Text: words.Say("handover.pointer", "name", name, "says", strings.Join(t.Says, " ")), Subjects: []string{}, Items: []Item{},
			Evidence: []Evidence{{t.Entry.File, string(t.Entry.Date), t.Entry.Title}},
		})
	}
	return all
}

func stated(st condition.Statement) Statement {
	s := Statement{Text: st.Text, Subjects: []string{}, Items: []Item{}, Evidence: rests(st.Evidence)}
	for _, of := range st.Subjects {
		s.Subjects = append(s.Subjects, of.ID)
		s.Open = s.Open || of.Open
	}
	if len(st.Items) > 0 {
		s.Text, s.Evidence = st.Lead, []Evidence{}
		if st.LeadEvidence.File != "" {
			s.Evidence = rests([]condition.Evidence{st.LeadEvidence})
		}
		for _, it := range st.Items {
			own := slices.DeleteFunc(slices.Clone(it.Evidence), func(e condition.Evidence) bool { return e == st.LeadEvidence })
			s.Items = append(s.Items, Item{it.Subject.ID, it.Text, rests(own)})
		}
	}
	return s
}

func rests(evidence []condition.Evidence) []Evidence {
	all := []Evidence{}
	for _, e := range evidence {
		if ev := (Evidence{e.File, string(e.Date), e.Title}); !slices.Contains(all, ev) {
			all = append(all, ev)
		}
	}
	return all
}

// rows are the things measured, from the gravest on.
func rows(r *condition.Report, words *catalog.Catalog) []Row {
	all := []Row{}
	for _, s := range r.Ordered() {
		if s.Kind == condition.KindMeasurement {
			all = append(all, rowOf(s, words))
		}
	}
	return all
}

func rowOf(s *condition.Subject, words *catalog.Catalog) Row {
	m := s.Measured
	row := Row{
		Subject: s.ID, Name: s.Name, Last: reading(m.Last()), Limits: []record.Limit{},
		Verdict: words.Say(s.VerdictKey()), Evidence: rests(s.Evidence),
	}
	if len(m.Values) > 1 {
		first := reading(m.First())
		row.First = &first
	}
	if w := m.Worst(); w != nil {
		worst := reading(*w)
		row.Worst = &worst
	}
	if last := m.Last(); last.Accuracy != "" {
		row.Gauge = words.Say("page.gauge", "gauge", last.Accuracy)
	}
	for _, l := range m.Limits {
		row.Limits = append(row.Limits, record.Limit{Limit: benchtest.LimitBeside(words, l.Limit, m.Last().Value), Source: l.Source})
	}
	if t := s.Touched; t != nil {
		row.After = t.By
	}
	return row
}

func reading(v condition.Value) Reading { return Reading{v.Shown, string(v.Date)} }

// Open are the subjects that a buyer has to be told of before all others.
func (f *Facts) Open() []record.Subject {
	return f.where(func(s record.Subject) bool { return s.Open })
}

// Wrong are those that are wrong, missing, worked around, not proven or too close
// to call, and not open.
func (f *Facts) Wrong() []record.Subject {
	return f.where(func(s record.Subject) bool { return !s.Open && condition.Bad(condition.Standing(s.Standing)) })
}

// NotSaid are the open ones of which the shop did not say if they can hurt someone.
func (f *Facts) NotSaid() []record.Subject {
	return f.where(func(s record.Subject) bool { return s.Open && s.Safety == record.NotSaid })
}

// TellBuyer tells whether a report with these facts is sealed only if the buyer is
// told: anything is open or wrong.
func (f *Facts) TellBuyer() bool { return len(f.Open())+len(f.Wrong()) > 0 }

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
func date(words *catalog.Catalog, d string) string { return words.Day(logbook.Date(d).Day()) }
