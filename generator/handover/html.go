package handover

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"asleft/generator/condition"
)

// reportTemplate is the report as a file to open. Its style is inside, it asks
// nothing of any network, and it holds no program.
//
//go:embed report.html
var reportTemplate string

// dataID names the element that holds the facts as JSON.
const dataID = "asleft-facts"

// openElement and closeElement are what stands around the facts. In the JSON
// every "<" is written as an escape, so nothing inside can end the element.
const (
	openElement  = `<script type="application/json" id="` + dataID + `">`
	closeElement = `</script>`
)

// htmlView is what the template is filled with.
type htmlView struct {
	Lang, Title, Shop, Name, Code, Date, AsOf, Sealed, Check, Page, Price string

	Digest   string
	Labels   []label
	Front    []FrontPart
	Sections []htmlSection
	Sign     []string // empty where there is nothing to sign
	Lost     []string
	Entries  []string
	Data     template.HTML
}

type label struct{ Label, Value string }

type htmlSection struct {
	ID, Title  string
	Notes      []string
	Statements []htmlStatement
	Table      []Row
	First      bool // holds open safety matters
	Last       bool
}

type htmlStatement struct {
	Text     string
	Safety   bool
	Initials bool
	Rests    []int
	Photos   []htmlPhoto
}

type htmlPhoto struct {
	Src           template.URL
	Width, Height int
	Alt, Caption  string
}

func (r *Report) html() ([]byte, error) {
	t, err := template.New("report").Funcs(template.FuncMap{"say": r.words.Say, "inc": func(i int) int { return i + 1 }}).Parse(reportTemplate)
	if err != nil {
		return nil, fmt.Errorf("the report's template: %w", err)
	}
	facts, err := r.Facts.canonical()
	if err != nil {
		return nil, err
	}
	f := &r.Facts
	v := htmlView{
		Lang: f.Language, Title: r.words.Say("page.condition-title", "name", f.Record.Machine.Name), Shop: r.shopLine(), Name: f.Record.Machine.Name,
		Code: r.digest[:codeLength], Date: date(r.words, f.Sealed), AsOf: r.asOf(), Sealed: r.sealedLine(), Check: r.words.Say("handover.check"),
		Page: f.Shop.Page, Price: f.Price, Digest: r.digest, Labels: r.labels(), Front: f.Front, Lost: f.Lost, Entries: r.entryLines(),
		Data: template.HTML(openElement + strings.ReplaceAll(string(facts), "<", `\u003c`) + closeElement), //nolint:gosec // no "<" inside
	}
	shown := map[string]bool{}
	for _, sec := range f.Sections {
		v.Sections = append(v.Sections, r.htmlSection(sec, shown))
		if sec.ID == condition.SectionTerms {
			v.Sign = r.signLines()
		}
	}
	var b bytes.Buffer
	if err := t.Execute(&b, v); err != nil {
		return nil, fmt.Errorf("the report's template: %w", err)
	}
	return b.Bytes(), nil
}

// htmlSection shows each subject's photos where it is told of first.
func (r *Report) htmlSection(sec Section, shown map[string]bool) htmlSection {
	first := r.first(sec)
	s := htmlSection{ID: sec.ID, Title: sec.Title, Notes: sec.Notes, Table: sec.Table, First: first, Last: sec.ID == condition.SectionTerms}
	for _, st := range r.statements(sec) {
		h := htmlStatement{Text: st.Text, Safety: st.Safety, Initials: first && st.Safety, Rests: st.Evidence}
		for _, p := range r.photosOf(st, shown) {
			src := "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(r.pictures[p.SHA256])
			h.Photos = append(h.Photos, htmlPhoto{template.URL(src), p.Width, p.Height, p.Alt, p.Caption}) //nolint:gosec // made here
		}
		s.Statements = append(s.Statements, h)
	}
	return s
}

// first tells whether a part holds what a buyer has to be told of first.
func (r *Report) first(sec Section) bool {
	return sec.ID == condition.SectionSafety && len(r.Facts.Open()) > 0
}

// statements are those of a part as they are printed: each number stands in the
// table of what was measured and nowhere else.
func (r *Report) statements(sec Section) []Statement {
	if sec.ID != condition.SectionMeasured || len(sec.Table) == 0 {
		return sec.Statements
	}
	var all []Statement
	for _, st := range sec.Statements {
		if len(st.Subjects) == 0 {
			all = append(all, st)
		}
	}
	return all
}

// photosOf are the photos to show with a statement.
func (r *Report) photosOf(st Statement, shown map[string]bool) []Photo {
	var all []Photo
	for _, p := range r.Facts.Photos {
		if slices.Contains(st.Subjects, p.Subject) && !shown[p.SHA256] {
			shown[p.SHA256] = true
			all = append(all, p)
		}
	}
	return all
}
