package handover

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"net/url"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/condition"
	"asleft/generator/handover/jcs"
	"asleft/generator/handover/sheet"
)

// unsafePump is the shop with an open safety matter, in words that try the
// print: signs of several scripts, one that no font here has, a word that is
// longer than a line, and text that looks like a file's own.
var unsafePump = map[string]string{
	"machines/pump/2026-03-02-first.md": strings.NewReplacer(
		"seal leaks", `"seal leaks at ½ Ω ± 5 µm, Žižka's pump, 水, `+strings.Repeat("verylongword", 20)+`"`,
		"system: engine, safety: no, photo", "system: guards, photo",
		"drips on the floor", "drips <b>on</b> the floor </script><!-- & stream endstream",
	).Replace(firstEntry),
}

func printed(t *testing.T, paper sheet.Paper) (*Report, *Made, afero.Fs) {
	t.Helper()
	fs, buyer := shopWith(t, unsafePump), afero.NewMemMapFs()
	r := prepared(t, fs, "2026-03-03")
	made, err := r.Seal(buyer, nil, paper)
	if err != nil {
		t.Fatal(err)
	}
	return r, made, buyer
}

func TestPDFForOtherPrograms(t *testing.T) {
	for _, paper := range papers {
		t.Run(paper.Name, func(t *testing.T) {
			_, made, buyer := printed(t, paper)
			file := onDisk(t, made.PDF, read(t, buyer, made.PDF))
			if out := tool(t, "qpdf", "--check", file); !strings.Contains(out, "No syntax or stream encoding errors") || strings.Contains(out, "WARNING") {
				t.Errorf("qpdf says %s", out)
			}
			info := tool(t, "pdfinfo", file)
			size := map[string]string{"letter": "612 x 792", "a4": "595.28 x 841.89"}[paper.Name]
			for _, want := range []string{`Title: +Small pump: condition report`, `Author: +Test shop`, `Keywords: +` + made.Seal.Code + " " + made.Seal.FactsDigest, `CreationDate: .*Mar +3 .*2026`, `Page size: +` + size} {
				if !regexp.MustCompile(want).MatchString(info) {
					t.Errorf("pdfinfo lacks %s:\n%s", want, info)
				}
			}
			if out := tool(t, "qpdf", "--list-attachments", file); !strings.Contains(out, factsFile) {
				t.Errorf("the attachments: %s", out)
			}
			if out := tool(t, "qpdf", "--show-attachment="+factsFile, file); digestOf([]byte(out)) != made.Seal.FactsDigest {
				t.Error("the attached facts are not those that were sealed")
			}
			catalog := tool(t, "qpdf", "--show-object=1", file)
			if !strings.Contains(catalog, "/DisplayDocTitle true") || !strings.Contains(catalog, "/Lang") || !strings.Contains(catalog, "/Outlines") {
				t.Errorf("the catalog: %s", catalog)
			}
		})
	}
}

// TestPDFSaysAll reads the text back: every statement, on one page each, the
// code and the page on every page.
func TestPDFSaysAll(t *testing.T) {
	r, made, buyer := printed(t, sheet.Letter)
	file := onDisk(t, made.PDF, read(t, buyer, made.PDF))
	pages := strings.Split(strings.TrimSuffix(tool(t, "pdftotext", file, "-"), "\f"), "\f")
	if len(pages) < 2 || len(pages) > 5 {
		t.Errorf("%d pages", len(pages))
	}
	for n, page := range pages {
		if !strings.Contains(page, "code "+GroupedCode(made.Seal.Code)) || !strings.Contains(page, fmt.Sprintf("page %d of %d", n+1, len(pages))) {
			t.Errorf("page %d has no code or no number:\n%s", n+1, page)
		}
		pages[n] = joined(page)
	}
	checked := 0
	for _, sec := range r.Facts.Sections {
		for _, st := range sec.Statements {
			if sec.ID == condition.SectionLog {
				continue // two columns, which are not read back in one order
			}
			text := joined(strings.ReplaceAll(st.Text, "水", "\ufffd"))
			on := 0
			for _, page := range pages {
				on += strings.Count(page, text)
			}
			if on == 0 {
				t.Errorf("no page says whole: %s", st.Text)
			}
			checked++
		}
	}
	for _, part := range r.Facts.Front {
		if !strings.Contains(pages[0], joined(part.Title)) {
			t.Errorf("the first page does not ask: %s", part.Title)
		}
		for _, line := range part.Lines {
			if !strings.Contains(pages[0], joined(strings.ReplaceAll(line.Text, "水", "\ufffd"))) {
				t.Errorf("the first page does not say: %s", line.Text)
			}
		}
	}
	all, initials := strings.Join(pages, ""), "Initials"
	if r.Facts.Signed {
		initials = "Buyer'sinitials"
	}
	for _, want := range []string{made.HTML, initials, "Wherey", made.Seal.FactsDigest} {
		if !strings.Contains(all, want) {
			t.Errorf("the print lacks %s", want)
		}
	}
	if checked < 10 {
		t.Errorf("only %d statements", checked)
	}
}

// joined is a text without spaces and hyphens: line breaks are not the text's.
func joined(text string) string { return strings.Join(strings.Fields(text), "") }

func TestQRCodeReadsBack(t *testing.T) {
	r, made, buyer := printed(t, sheet.A4)
	file := onDisk(t, made.PDF, read(t, buyer, made.PDF))
	pic := filepath.Join(t.TempDir(), "page")
	tool(t, "pdftoppm", "-r", "150", "-f", "1", "-l", "1", "-singlefile", "-gray", "-png", file, pic)
	if out := tool(t, "zbarimg", "-q", "--raw", pic+".png"); strings.TrimSpace(out) != r.Facts.Shop.Page || r.Facts.Shop.Page != "https://shop.example/machines/pump/condition/" {
		t.Errorf("the QR code says %q", out)
	}
}

func TestPhotosAreInThePrint(t *testing.T) {
	_, made, buyer := printed(t, sheet.A4)
	file := onDisk(t, made.PDF, read(t, buyer, made.PDF))
	if out := tool(t, "pdfimages", "-list", file); !strings.Contains(out, "jpeg") {
		t.Errorf("no photo in the PDF: %s", out)
	}
}

func TestSameBytes(t *testing.T) {
	a, b := prepared(t, shopWith(t, unsafePump), "2026-03-03"), prepared(t, shopWith(t, unsafePump), "2026-03-03")
	for _, paper := range papers {
		one, _, err := a.print(paper)
		if err != nil {
			t.Fatal(err)
		}
		two, _, err := b.print(paper)
		if err != nil || one != two {
			t.Errorf("%s: %+v and %+v, %v", paper.Name, one, two, err)
		}
	}
}

func TestHTML(t *testing.T) {
	r, made, buyer := printed(t, sheet.Letter)
	html := read(t, buyer, made.HTML)
	text := string(html)
	for _, want := range []string{`<html lang="en">`, `<h1>Small pump: condition report</h1>`, "code>" + made.Seal.FactsDigest, `src="data:image/jpeg;base64,`, `alt="oil under the seal"`, ">Initials<"} {
		if !strings.Contains(text, want) && !strings.Contains(text, strings.ReplaceAll(want, "&#39;", "'")) {
			t.Errorf("the HTML lacks %s", want)
		}
	}
	if n := strings.Count(text, "<h1"); n != 1 {
		t.Errorf("%d main headings", n)
	}
	if n := strings.Count(text, "<h2"); n != len(r.Facts.Sections)+1 {
		t.Errorf("%d headings for %d sections", n, len(r.Facts.Sections))
	}
	if n := strings.Count(text, "<script"); n != 1 {
		t.Errorf("%d script elements; the one that holds the facts was wanted", n)
	}
	for _, never := range []string{"<link", "@import", "url(", " src=\"http", "[handover.", "[page."} {
		if strings.Contains(text, never) {
			t.Errorf("the HTML holds %s", never)
		}
	}
	held, sealed := inside(html)
	facts, err := jcs.Encode(held)
	if err != nil || sealed || digestOf(facts) != made.Seal.FactsDigest {
		t.Errorf("the facts inside are not those that were sealed: %v", err)
	}
}

// TestHTMLIsWellFormed reads the HTML as XML, once the elements that HTML
// leaves open are closed: every other one has to be closed by itself.
func TestHTMLIsWellFormed(t *testing.T) {
	_, made, buyer := printed(t, sheet.Letter)
	text := regexp.MustCompile(`<(meta|img|br)([^>]*)>`).ReplaceAllString(string(read(t, buyer, made.HTML)), "<$1$2/>")
	text = regexp.MustCompile(`(?s)<script.*</script>|<style>.*</style>|<!DOCTYPE html>`).ReplaceAllString(text, "")
	d := xml.NewDecoder(strings.NewReader(text))
	d.Entity = xml.HTMLEntity
	ids := map[string]bool{}
	var wanted []string
	for {
		token, err := d.Token()
		if token == nil {
			if err.Error() != "EOF" {
				t.Fatal(err)
			}
			break
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range start.Attr {
			switch {
			case a.Name.Local == "id" && ids[a.Value]:
				t.Errorf("two elements have the id %s", a.Value)
			case a.Name.Local == "id":
				ids[a.Value] = true
			case a.Name.Local == "href" && strings.HasPrefix(a.Value, "#"):
				id, err := url.PathUnescape(a.Value[1:])
				if err != nil {
					t.Fatal(err)
				}
				wanted = append(wanted, id)
			case a.Name.Local == "aria-labelledby":
				wanted = append(wanted, a.Value)
			}
		}
	}
	for _, id := range wanted {
		if !ids[id] {
			t.Errorf("nothing has the id %s", id)
		}
	}
	if len(wanted) < 10 {
		t.Errorf("only %d links inside", len(wanted))
	}
}

func TestNoInitialsWithoutOpenSafety(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	r := prepared(t, fs, "2026-03-03")
	for i := range r.Facts.Record.Subjects { // as it is where all that may hurt someone is answered
		r.Facts.Record.Subjects[i].Open = false
	}
	made, err := r.Seal(buyer, nil, sheet.Letter)
	if err != nil {
		t.Fatal(err)
	}
	if html := read(t, buyer, made.HTML); bytes.Contains(html, []byte("initials\"")) || bytes.Contains(html, []byte("Buyer: put")) {
		t.Error("a report with nothing open asks for initials")
	}
}

// The parts of the sealed report, by their ids, the front sheet first; terms and
// signatures only where the machine is for sale or sold, and "as is" only where the
// terms say so.
func TestPartsOfTheSealedReport(t *testing.T) {
	for name, tc := range map[string]struct {
		stage, terms string
		signed, asIs bool
	}{
		"for sale as is":     {"stage: for sale\nasking: 40.00\n", "terms: as is\n", true, true},
		"for sale, no terms": {"stage: for sale\nasking: 40.00\n", "", true, false},
		"in the shop":        {"stage: in the shop\n", "terms: as is\n", false, false},
		"kept":               {"stage: keeping\n", "terms: as is\n", false, false},
	} {
		t.Run(name, func(t *testing.T) {
			fs, buyer := shopWith(t, map[string]string{
				"shop.md":                  strings.Replace(shopFile, "currency:", tc.terms+"currency:", 1),
				"machines/pump/machine.md": strings.Replace(machineText, "arrived:", tc.stage+"arrived:", 1),
			}), afero.NewMemMapFs()
			made := sealed(t, fs, buyer, nil, "2026-03-03")
			html, _, _ := strings.Cut(string(read(t, buyer, made.HTML)), openElement)
			var ids []string
			for _, m := range regexp.MustCompile(`<section[^>]* id="([a-z-]+)"`).FindAllStringSubmatch(html, -1) {
				ids = append(ids, m[1])
			}
			want := []string{"front", "safety", "wrong", "repaired", "changed", "measured", "in-order", "not-checked", "hours", "terms", "log"}
			if !tc.signed {
				want = slices.DeleteFunc(want, func(id string) bool { return id == "terms" })
			}
			if !slices.Equal(ids, want) {
				t.Errorf("the parts are %q", ids)
			}
			if got := strings.Contains(html, `class="sign"`); got != tc.signed {
				t.Errorf("lines to sign on: %v", got)
			}
			if got := strings.Contains(html, "Buyer&#39;s initials"); got != tc.signed {
				t.Errorf("a buyer's initials: %v", got)
			}
			if got := strings.Contains(strings.ToLower(html), "as is"); got != tc.asIs {
				t.Errorf("sold as is: %v", got)
			}
			if got := strings.Contains(html, "$40.00"); got != strings.Contains(tc.stage, "asking") {
				t.Errorf("the price: %v", got)
			}
		})
	}
}

// Every number of what was measured stands in its part and on no other.
func TestReadingsStandOnce(t *testing.T) {
	fs, buyer := shopWith(t, map[string]string{"machines/pump/2026-03-09-second.md": secondEntry}), afero.NewMemMapFs()
	made := sealed(t, fs, buyer, nil, "2026-03-10")
	html, _, _ := strings.Cut(string(read(t, buyer, made.HTML)), openElement)
	for _, value := range []string{"60 psi", "75 psi"} {
		if n := strings.Count(html, value); n != 1 {
			t.Errorf("%s stands %d times", value, n)
		}
	}
}
