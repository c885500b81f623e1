package handover

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"html"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/sheet"
	"asleft/generator/record"
	"asleft/generator/testenv"
)

// readPDF is what stands on each page of a print of ours, in the order in which it was
// printed: texts, those in heavy type between stars, and what is drawn: a bar beside the
// text, a line to write on, a photo.
func readPDF(t *testing.T, pdf []byte) (pages [][]string) {
	t.Helper()
	signs := map[string]string{}
	var contents []string
	for rest := pdf; ; {
		_, begun, ok := bytes.Cut(rest, []byte("stream\n"))
		if !ok {
			break
		}
		var body []byte
		body, rest, _ = bytes.Cut(begun, []byte("endstream"))
		for _, m := range regexp.MustCompile(`<(\w{4})><\w{4}><(\w{4})>`).FindAllSubmatch(body, -1) {
			n, err := strconv.ParseUint(string(m[2]), 16, 32)
			if err != nil {
				t.Fatal(err)
			}
			signs[string(m[1])] = string(rune(n))
		}
		z, err := zlib.NewReader(bytes.NewReader(body))
		if err != nil {
			continue
		}
		if text, err := io.ReadAll(z); err == nil && bytes.Contains(text, []byte(" Tf ")) {
			contents = append(contents, string(text))
		}
	}
	drawn := regexp.MustCompile(`/F(\d) \S+ Tf|<([0-9A-F]+)>\] TJ|(\S+) (\S+) (\S+) (\S+) re f|(\S+) (\S+) m\s+(\S+) (\S+) l|/I\d+ Do`)
	for _, text := range contents {
		var page []string
		font := ""
		for _, m := range drawn.FindAllStringSubmatch(text, -1) {
			switch {
			case m[1] != "":
				font = m[1]
			case m[2] != "":
				said := ""
				for g := range slices.Chunk([]byte(m[2]), 4) {
					said += signs[string(g)]
				}
				if font == "2" {
					said = "*" + said + "*"
				}
				page = append(page, said)
			case m[3] != "":
				if m[3] == "50.00" && m[5] == "4.00" && (len(page) == 0 || page[len(page)-1] != "bar") {
					page = append(page, "bar")
				}
			case m[7] != "":
				page = append(page, "line")
			default:
				page = append(page, "photo")
			}
		}
		pages = append(pages, page)
	}
	return pages
}

// readHTML is the text of a report's HTML, without its style and its facts: what has an
// id or a class begins with it, what leads somewhere with where it leads.
func readHTML(page []byte) (lines []string) {
	_, body, _ := strings.Cut(string(page), "<body>")
	body, _, _ = strings.Cut(body, openElement)
	attribute := regexp.MustCompile(` (id|class|href|alt)="([^"]*)"`)
	body = regexp.MustCompile(`<[^>]*>`).ReplaceAllStringFunc(body, func(tag string) string {
		said := ""
		for _, m := range attribute.FindAllStringSubmatch(tag, -1) {
			said += map[string]string{"id": "#", "class": ".", "href": "to ", "alt": "photo: "}[m[1]] + m[2] + " "
		}
		switch word, _, _ := strings.Cut(strings.Trim(tag, "</>"), " "); word {
		case "strong":
			return "*"
		case "a", "span", "code":
			return said
		}
		return "\n" + said
	})
	for line := range strings.Lines(body) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, html.UnescapeString(line))
		}
	}
	return lines
}

// fullReport is a report that has one of everything, in few words.
func fullReport(t *testing.T) *Report {
	t.Helper()
	r := smallReport(t, afero.NewMemMapFs(), "2026-03-03", "2026-03-02")
	f := &r.Facts
	picture := f.Photos[0].SHA256
	from := func(n ...int) (all []Evidence) {
		for _, i := range n {
			all = append(all, f.Entries[i-1])
		}
		return all
	}
	f.Entries = nil
	for _, n := range []string{"1", "2", "3", "4", "5"} {
		f.Entries = append(f.Entries, Evidence{"machines/pump/" + n + ".md", "2026-03-0" + n, "Entry " + n})
	}
	f.Shop = ShopFacts{Name: "Shop", Place: "Town", Contact: "555", Page: "https://shop.example/p/"}
	f.Price = "$5.00"
	m := &f.Record.Machine
	m.Kind, m.Maker, m.Model, m.Serial, m.Year, m.Arrived = "water pump", "Maker", "M1", "S1", "1950", "2026-03-01"
	f.Cover = &Photo{Date: "2026-03-02", Alt: "the pump", Width: 24, Height: 16, SHA256: picture}
	f.Photos = []Photo{
		{Subject: "leak", Side: "Before", Date: "2026-03-02", Alt: "oil", Caption: "a drop", Width: 24, Height: 16, SHA256: picture},
		{Subject: "leak", Side: "After", Date: "2026-03-03", Alt: "dry", Width: 24, Height: 16, SHA256: picture},
		{Subject: "knock", Side: "Before", Date: "2026-03-02", Alt: "hose", Caption: "c", Width: 24, Height: 16, SHA256: picture},
	}
	f.Front = []FrontPart{
		{ID: "hurt", Title: "What can hurt", Lines: []FrontLine{{"The seal.", "leak"}, {"The hose.", ""}}, Empty: "not said"},
		{ID: "look", Title: "What to look for", Empty: "Nothing."},
	}
	f.Gone = []Gone{{"It said more.", "2026-03-01", "0123456789ab"}}
	f.Signed = true
	f.Sections = []Section{
		{ID: "safety", Title: "Safety", Notes: []string{"A note."}, Statements: []Statement{
			{Text: "It leaks.", Open: true, Subjects: []string{"leak"}, Evidence: from(1, 2, 3, 5)},
			{Text: "It is dry.", Subjects: []string{"dry"}},
			{Text: "Of both:", Subjects: []string{"leak", "knock"}, Items: []Item{{"leak", "leaks", from(1)}, {"knock", "knocks", from(4)}}},
		}},
		{ID: "wrong", Title: "Wrong", Statements: []Statement{{Text: "It leaks, as said.", Open: true, Subjects: []string{"leak"}, Evidence: from(1, 2)}}},
		{ID: "measured", Title: "Measured", Rows: []Row{
			{Subject: "bore", Name: "bore", First: &Reading{"1 in", "2026-03-01"}, Worst: &Reading{"3 in", "2026-03-02"}, Last: Reading{"2 in", "2026-03-03"}, Gauge: "within 1",
				Limits: []record.Limit{{Limit: "2 in or less", Source: "a book"}, {Limit: "1 in or more"}}, Verdict: "in order", After: "new rings", Evidence: from(5)},
			{Subject: "knock", Name: "play", Last: Reading{"4 in", "2026-03-03"}, Verdict: "no limit"},
		}},
		{ID: "terms", Title: "Terms", Statements: []Statement{{Text: "As is."}}},
		{ID: "log", Title: "The log", Statements: []Statement{{Text: "Entry one."}, {Text: "Entry two."}}},
	}
	r.Program = "v1"
	facts, err := f.canonical()
	if err != nil {
		t.Fatal(err)
	}
	r.digest = digestOf(facts)
	return r
}

// Everything that a report holds stands in its print and in its HTML, in its order: held
// against a text that was read by a person. Run with -update to write that anew.
func TestWhatIsPrinted(t *testing.T) {
	var all strings.Builder
	for _, tc := range []struct {
		name   string
		change func(f *Facts)
	}{
		{"for sale", func(*Facts) {}},
		{"kept, no cover, no page on the web, nothing gone", func(f *Facts) { f.Signed, f.Gone, f.Cover, f.Shop.Page = false, nil, nil, "" }},
		{"nothing is open, no list of entries", func(f *Facts) { f.Record.Subjects, f.Entries = nil, nil }},
		{"a sign that the print has not got, and no program", func(f *Facts) { f.Front, f.Sections = nil, []Section{{ID: "wrong", Title: "\u6c34"}} }},
	} {
		r := fullReport(t)
		tc.change(&r.Facts)
		if tc.name[0] == 'a' {
			r.Program = ""
		}
		_, f, err := r.print(sheet.Letter)
		if err != nil {
			t.Fatal(err)
		}
		for n, lines := range readPDF(t, f.pdf) {
			fmt.Fprintf(&all, "== %s: page %d\n%s\n", tc.name, n+1, strings.Join(lines, "\n"))
		}
		fmt.Fprintf(&all, "== %s: HTML\n%s\n", tc.name, strings.Join(readHTML(f.html), "\n"))
	}
	testenv.Golden(t, "testdata/printed.golden", all.String())
}

// What the shop is called, by what is known of it.
func TestShopLine(t *testing.T) {
	for want, shop := range map[string]ShopFacts{
		"Shop": {Name: "Shop"}, "Shop, Town": {Name: "Shop", Place: "Town"}, "Shop: 555": {Name: "Shop", Contact: "555"},
		"Shop, Town: 555": {Name: "Shop", Place: "Town", Contact: "555"},
	} {
		r := &Report{words: catalog.English, Facts: Facts{Shop: shop}}
		if got := r.shopLine(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// The numbers of entries: three or more in a row are told as one; what no entry holds has
// none.
func TestNumbersOfEntries(t *testing.T) {
	f := &Facts{}
	for n := range 6 {
		f.Entries = append(f.Entries, Evidence{File: strconv.Itoa(n + 1)})
	}
	for want, files := range map[string]string{
		"": "", "1": "1", "6": "6", "1, 2": "12", "1\u20133": "123", "4\u20136": "456", "1\u20136": "123456", "1, 3": "13", "1, 2, 4\u20136": "64512", "5, 6": "65m",
	} {
		var evidence []Evidence
		for _, file := range files {
			evidence = append(evidence, Evidence{File: string(file)})
		}
		if got := f.list(evidence); got != want {
			t.Errorf("%s: got %q, want %q", files, got, want)
		}
	}
	notes := f.notes([]Evidence{{File: "2"}, {File: "3"}, {File: "4"}, {File: "6"}})
	if want := []note{{2, "2\u20134"}, {6, "6"}}; !slices.Equal(notes, want) {
		t.Errorf("got %v, want %v", notes, want)
	}
}

// What cannot be printed is told with its machine, and nothing of it is sealed.
func TestWhatCannotBePrintedIsNotSealed(t *testing.T) {
	fs, buyer := afero.NewMemMapFs(), afero.NewMemMapFs()
	r := smallReport(t, fs, "2026-03-03", "2026-03-02")
	r.pictures = map[string][]byte{r.Facts.Photos[0].SHA256: []byte("no photo")}
	made, err := r.Seal(buyer, nil, sheet.A4)
	if err == nil || made != nil || !strings.Contains(err.Error(), "the report of pump: ") {
		t.Errorf("%+v, %v", made, err)
	}
	if c := chainOf(t, fs); len(c.Links)+len(c.Breaks) > 0 || len(snapshot(t, buyer, ".")) > 0 {
		t.Errorf("%d sealed, %v", len(c.Links), c.Breaks)
	}
}
