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
	Lang, Title, Shop, Name, Code, Date, AsOf, Sealed, Check, Page string

	Digest   string
	Labels   []label
	Sections []htmlSection
	Sign     []string
	Entries  []string
	Data     template.HTML
}

type label struct{ Label, Value string }

type htmlSection struct {
	Number     int
	Title      string
	Notes      []string
	Statements []htmlStatement
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
		Page: f.Shop.Page, Digest: r.digest, Labels: r.labels(), Sign: r.signLines(),
		Data: template.HTML(openElement + strings.ReplaceAll(string(facts), "<", `\u003c`) + closeElement), //nolint:gosec // no "<" inside
	}
	rests, shown := f.entries(), map[string]bool{}
	for _, e := range rests {
		v.Entries = append(v.Entries, r.words.Say("page.evidence", "date", date(r.words, e.Date), "title", e.Title))
	}
	for _, sec := range f.Sections {
		v.Sections = append(v.Sections, r.htmlSection(sec, rests, shown))
	}
	var b bytes.Buffer
	if err := t.Execute(&b, v); err != nil {
		return nil, fmt.Errorf("the report's template: %w", err)
	}
	return b.Bytes(), nil
}

// htmlSection shows each defect's photos where the defect is told of first.
func (r *Report) htmlSection(sec Section, rests entries, shown map[string]bool) htmlSection {
	first := sec.Number == condition.ReadFirst && len(r.Open) > 0
	s := htmlSection{Number: sec.Number, Title: sec.Title, Notes: sec.Notes, First: first, Last: sec.Number == condition.Terms}
	for _, st := range sec.Statements {
		h := htmlStatement{Text: st.Text, Safety: st.Safety, Initials: first && st.Safety}
		h.Rests = rests.numbers(st.Evidence)
		for _, p := range r.photosOf(st, shown) {
			src := "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(r.pictures[p.SHA256])
			h.Photos = append(h.Photos, htmlPhoto{template.URL(src), p.Width, p.Height, p.Alt, p.Caption}) //nolint:gosec // made here
		}
		s.Statements = append(s.Statements, h)
	}
	return s
}

// photosOf are the photos to show with a statement.
func (r *Report) photosOf(st Statement, shown map[string]bool) []Photo {
	if st.Defect == "" || shown[st.Defect] {
		return nil
	}
	shown[st.Defect] = true
	var all []Photo
	for _, p := range r.Facts.Photos {
		if p.Defect == st.Defect {
			all = append(all, p)
		}
	}
	return all
}
