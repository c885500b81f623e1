package handover

import (
	"fmt"
	"slices"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/handover/jcs"
	"asleft/generator/logbook"
	"asleft/generator/page"
)

// factsFormat names the form of Facts, for whoever reads them in ten years.
const factsFormat = "asleft condition report 1"

// Facts are what a report says, all of it, and nothing that the public site
// would not show. The field names are those of the sealed file. Dates are
// YYYY-MM-DD.
type Facts struct {
	Format   string      `json:"format"`
	Language string      `json:"language"` // BCP 47
	Sealed   string      `json:"sealed"`   // the day of sealing
	AsOf     string      `json:"as_of"`    // the last day of the log
	Shop     ShopFacts   `json:"shop"`
	Gaps     GapFacts    `json:"gaps"`
	Record   page.Record `json:"record"` // as record.json has it
	Sections []Section   `json:"sections"`
	Photos   []Photo     `json:"photos"` // of the open defects
}

// ShopFacts say whose report it is. Page is the public address of the condition
// report, empty where the shop has no web address.
type ShopFacts struct {
	Name    string `json:"name"`
	Place   string `json:"place"`
	Contact string `json:"contact"`
	Page    string `json:"page"`
}

// GapFacts count the points that nobody checked since the last work on them.
type GapFacts struct {
	Points int `json:"points"`
	Of     int `json:"of"`
	Safety int `json:"safety"`
}

// Section is one of the eleven.
type Section struct {
	Number     int         `json:"number"`
	Title      string      `json:"title"`
	Notes      []string    `json:"notes"`
	Statements []Statement `json:"statements"`
}

// Statement is a statement with what it rests on. Defect is the key of the
// defect that it is about, or empty.
type Statement struct {
	Text     string     `json:"text"`
	Safety   bool       `json:"safety"`
	Defect   string     `json:"defect"`
	Evidence []Evidence `json:"evidence"`
}

// Evidence is an entry of the log.
type Evidence struct {
	File  string `json:"file"`
	Date  string `json:"date"`
	Title string `json:"title"`
}

// Photo shows an open defect. SHA256 is of the JPEG in the HTML report.
type Photo struct {
	Defect  string `json:"defect"`
	Date    string `json:"date"`
	Alt     string `json:"alt"`
	Caption string `json:"caption"`
	Width   int    `json:"width"`
	Height  int    `json:"height"`
	SHA256  string `json:"sha256"`
}

// gathered are the facts of the n-th machine of a site, without photos.
func gathered(site *page.Site, n int, today logbook.Date) Facts {
	m, r, words := site.Shop.Machines[n], site.Report(n), site.Words
	f := Facts{
		Format: factsFormat, Language: words.Lang, Sealed: string(today), AsOf: string(r.AsOf),
		Shop:   ShopFacts{Name: site.Shop.Name, Place: site.Shop.Town, Contact: site.Shop.Contact},
		Record: site.Record(n), Photos: []Photo{},
	}
	if site.Shop.Web != "" {
		f.Shop.Page = site.Shop.Web + "machines/" + m.Key + "/condition/"
	}
	f.Gaps.Points, f.Gaps.Safety = r.Unanswered()
	f.Gaps.Of = len(r.Checks)
	for _, sec := range r.Sections {
		s := Section{Number: sec.Number, Title: sec.Title, Notes: append([]string{}, sec.Notes...), Statements: []Statement{}}
		for _, st := range sec.Statements {
			s.Statements = append(s.Statements, stated(st))
		}
		f.Sections = append(f.Sections, s)
	}
	return f
}

func stated(st condition.Statement) Statement {
	s := Statement{Text: st.Text, Safety: st.Safety, Defect: st.Defect, Evidence: []Evidence{}}
	for _, e := range st.Evidence {
		// The same entry may be there twice, with and without a photo.
		if ev := (Evidence{e.File, string(e.Date), e.Title}); !slices.Contains(s.Evidence, ev) {
			s.Evidence = append(s.Evidence, ev)
		}
	}
	return s
}

// open are the statements that a buyer has to be told of first.
func (f *Facts) open() []Statement {
	var all []Statement
	for _, sec := range f.Sections {
		for _, st := range sec.Statements {
			if sec.Number == condition.ReadFirst && st.Safety {
				all = append(all, st)
			}
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
	return words.Date(logbook.Date(d).Time())
}
