package handover

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
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
	Lang, Title, Shop, Name, Code, AsOf, Contact, Sealed, Check, Page string
	PutInitials, Initials                                             string

	Digest    string
	Program   string
	Labels    []label
	Cover     *htmlPhoto
	Front     []FrontPart
	GoneFront string
	Gone      []string
	Sections  []htmlSection
	Sign      []string
	Data      template.HTML
}

type label struct{ Label, Value string }

type htmlSection struct {
	ID, Title  string
	Notes      []string
	Statements []htmlStatement
	Rows       []htmlRow
	Entries    []string // of the list of entries
	First      bool     // holds what a buyer has to be told of first
	Sign       bool
}

type htmlStatement struct {
	ID, Text string
	Open     bool
	Items    []htmlItem
	Notes    []note
	Photos   []htmlPhoto
}

type htmlItem struct {
	ID, Text string
	Notes    []note
}

type htmlRow struct {
	ID, Name, Gauge, Verdict, After string
	First, Worst, Last              *Reading
	Limits                          []string
	Notes                           []note
}

type htmlPhoto struct {
	Src           template.URL
	Width, Height int
	Alt, Says     string
}

func (r *Report) html(facts []byte) ([]byte, error) {
	t, err := template.New("report").Funcs(template.FuncMap{"say": r.words.Say, "inc": func(i int) int { return i + 1 }}).Parse(reportTemplate)
	if err != nil {
		return nil, fmt.Errorf("the report's template: %w", err)
	}
	f := &r.Facts
	v := htmlView{
		Lang: f.Language, Title: r.words.Say("page.condition-title", "name", f.Record.Machine.Name), Shop: r.shopLine(), Name: f.Record.Machine.Name,
		Code: GroupedCode(codeOf(sealFormat, r.digest)), AsOf: r.asOf(), Contact: f.Shop.Contact, Sealed: r.sealedLine(), Check: r.words.Say("handover.check"),
		Page: f.Shop.Page, Digest: r.digest, Program: r.Program, Labels: r.labels(), Front: f.Front, GoneFront: r.goneSays(), Sign: r.signLines(),
		Data: template.HTML(openElement + strings.ReplaceAll(string(facts), "<", `\u003c`) + closeElement), //nolint:gosec // no "<" inside
	}
	v.PutInitials, v.Initials = r.initials()
	if f.Cover != nil {
		cover := r.htmlPhoto(*f.Cover)
		v.Cover = &cover
	}
	for _, g := range f.Gone {
		v.Gone = append(v.Gone, r.goneLine(g))
	}
	p := &placing{shown: map[string]bool{}, named: map[string]bool{}}
	for _, sec := range f.Sections {
		v.Sections = append(v.Sections, r.htmlSection(sec, p))
	}
	var b bytes.Buffer
	if err := t.Execute(&b, v); err != nil {
		return nil, fmt.Errorf("the report's template: %w", err)
	}
	return b.Bytes(), nil
}

// A placing knows which subjects have their photos and their anchor already: both
// stand where a subject is told first, which is in full.
type placing struct{ shown, named map[string]bool }

// anchor is a subject's id the first time that it is asked for.
func (p *placing) anchor(id string) string {
	if p.named[id] {
		return ""
	}
	p.named[id] = true
	return id
}

func (r *Report) htmlSection(sec Section, place *placing) htmlSection {
	s := htmlSection{ID: sec.ID, Title: sec.Title, Notes: sec.Notes, First: r.first(sec), Sign: r.signed(sec)}
	for _, st := range sec.Statements {
		if sec.ID == condition.SectionLog && len(r.Facts.Entries) > 0 {
			s.Entries = append(s.Entries, st.Text)
			continue
		}
		h := htmlStatement{Text: st.Text, Open: s.First && st.Open, Notes: r.Facts.notes(st.Evidence)}
		if len(st.Subjects) == 1 && len(st.Items) == 0 {
			h.ID = place.anchor(st.Subjects[0])
		}
		for _, it := range st.Items {
			h.Items = append(h.Items, htmlItem{place.anchor(it.Subject), it.Text, r.Facts.notes(it.Evidence)})
		}
		for _, p := range r.photosOf(st.Subjects, place.shown) {
			h.Photos = append(h.Photos, r.htmlPhoto(p))
		}
		s.Statements = append(s.Statements, h)
	}
	for _, row := range sec.Rows {
		h := r.htmlRow(row)
		h.ID = place.anchor(h.ID)
		s.Rows = append(s.Rows, h)
	}
	return s
}

// first tells whether a part holds what a buyer has to be told of before all else.
func (r *Report) first(sec Section) bool {
	return sec.ID == condition.SectionSafety && len(r.Facts.Open()) > 0
}

// signed tells whether a part ends with the lines to sign on.
func (r *Report) signed(sec Section) bool {
	return sec.ID == condition.SectionTerms && r.Facts.Signed
}

func (r *Report) htmlRow(row Row) htmlRow {
	said := func(v *Reading) *Reading {
		if v == nil {
			return nil
		}
		return &Reading{v.Value, date(r.words, v.Date)}
	}
	h := htmlRow{
		ID: row.Subject, Name: row.Name, Gauge: row.Gauge, Verdict: row.Verdict,
		First: said(row.First), Worst: said(row.Worst), Last: said(&row.Last), Notes: r.Facts.notes(row.Evidence),
	}
	if row.After != "" {
		h.After = r.words.Say("handover.row-after", "work", row.After)
	}
	for _, l := range row.Limits {
		if l.Source != "" {
			l.Limit = r.words.Say("handover.limit-source", "limit", l.Limit, "source", l.Source)
		}
		h.Limits = append(h.Limits, l.Limit)
	}
	return h
}

func (r *Report) htmlPhoto(p Photo) htmlPhoto {
	src := "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(r.pictures[p.SHA256])
	says := p.Side
	if p.Caption != "" {
		says = r.words.Say("handover.photo", "side", p.Side, "caption", p.Caption)
	}
	return htmlPhoto{template.URL(src), p.Width, p.Height, p.Alt, says} //nolint:gosec // made here
}
