package generator_test

import (
	"bytes"
	"html"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/tally"
	"asleft/generator/testenv"
)

// rightToLeft are words that run from right to left, one of each script, and
// one with the invisible mark behind it that draws numbers to the other side
// (Unicode Standard Annex 9, classes R and AL).
var rightToLeft = map[string]string{"Hebrew": "\u05d0\u05d1\u05d2\u05d3", "Arabic": "\u0627\u0628\u062c\u062f", "with a mark": "\u05d0\u05d1\u05d2\u05d3\u200f"}

// turnedShop is the shop around every hostile case with that word in every
// text field.
func turnedShop(t *testing.T, word, theme string) afero.Fs {
	t.Helper()
	folder := filled(t, hostileCase{}, word, false)
	shop, err := afero.ReadFile(folder, "shop.md")
	if err == nil {
		err = afero.WriteFile(folder, "shop.md", bytes.Replace(shop, []byte("\ncurrency:"), []byte("\ntheme: "+theme+"\ncurrency:"), 1), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	// A name may hold no mark that nobody sees; every other text may.
	name := regexp.MustCompile(`(?m)^(shop|place|contact|name|maker|model|serial|year):.*$`)
	err = afero.Walk(folder, ".", func(file string, info fs.FileInfo, err error) error {
		if err != nil || info.IsDir() || path.Base(file) != "machine.md" && file != "shop.md" {
			return err
		}
		text, err := afero.ReadFile(folder, file)
		if err != nil {
			return err
		}
		text = name.ReplaceAllFunc(text, func(line []byte) []byte { return bytes.ReplaceAll(line, []byte("\u200f"), nil) })
		return afero.WriteFile(folder, file, text, 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
	return folder
}

// Words that run from right to left, in every text field there is, turn nothing
// around that stands beside them: in a real browser each word and figure of a
// line stands to the right of the one before it in the text. The page of a
// terminal's lines is what asleft prints, laid out by the browser's own reading
// of Annex 9, as a terminal that knows right-to-left text lays it out.
func TestRightToLeftTurnsNothingAround(t *testing.T) {
	ctx := testenv.Browser(t)
	for name, word := range rightToLeft {
		for _, theme := range []string{"jobcard", "drawing-office"} {
			folder := turnedShop(t, word, theme)
			site, buyer, err := sealedSite(folder)
			if err != nil {
				t.Fatal(err)
			}
			site["report.html"], site["terminal.html"] = buyer[".html"], terminalPage(t, folder)
			files := fstest.MapFS{}
			for name, data := range site {
				files[name] = &fstest.MapFile{Data: []byte(data)}
			}
			server := httptest.NewServer(http.FileServerFS(files))
			t.Cleanup(server.Close)
			units := 0.0
			for p := range site {
				if path.Ext(p) != ".html" || p == "report.html" && name == "with a mark" {
					continue // a sealed report writes the mark out, in letters of the other way
				}
				testenv.Do(t, ctx, chromedp.Navigate(server.URL+"/"+strings.TrimSuffix(p, "index.html")))
				got := testenv.Ask[struct {
					Units  float64
					Turned []string
				}](t, ctx, turnedAround)
				units += got.Units
				for _, s := range got.Turned {
					t.Errorf("%s, %s, %s: %s", name, theme, p, s)
				}
			}
			if units < 1000 {
				t.Errorf("%s, %s: only %v words were looked at", name, theme, units)
			}
		}
	}
}

// turnedAround goes through the words and figures of a page in the order of the
// text and tells which stands to the left of the one before it, in one line. Two
// right-to-left words with nothing but a space between them, as a maker and a
// model, are one unit: that is how they are read.
const turnedAround = `(() => {
	const unit = /[A-Za-z0-9]+|[\u0590-\u06ff\u200f]+(?: [\u0590-\u06ff\u200f]+)*/g, turned = [];
	const inline = new Set(['inline', 'contents', 'inline-block']);
	const blockOf = n => { for (n = n.parentElement; n.localName !== 'text' && inline.has(getComputedStyle(n).display); n = n.parentElement); return n; };
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	let units = 0, before = null;
	for (let n; n = walk.nextNode();) {
		if (n.parentElement.closest('script, style, textarea')) continue;
		const block = blockOf(n);
		for (const m of n.data.matchAll(unit)) {
			const range = document.createRange();
			range.setStart(n, m.index);
			range.setEnd(n, m.index + m[0].length);
			const r = range.getClientRects()[0];
			if (!r || !r.width) continue;
			units++;
			if (before && before.block === block && Math.abs(r.bottom - before.r.bottom) < r.height / 2 && r.left < before.r.left)
				turned.push(before.text + ' | ' + m[0] + ' in "' + block.textContent.trim().replace(/\s+/g, ' ').slice(0, 120) + '"');
			before = {block, r, text: m[0]};
		}
	}
	return {Units: units, Turned: turned};
})()`

// terminalPage is what a terminal is given of a shop, each line a block.
func terminalPage(t *testing.T, folder afero.Fs) string {
	t.Helper()
	r, err := generator.Read(folder, generator.Options{Today: "2026-11-25"})
	if err != nil || len(r.Problems) > 0 || len(r.Gaps) == 0 {
		t.Fatal(err, r.Problems, r.Gaps)
	}
	var b bytes.Buffer
	if err := r.Count.WriteText(&b, catalog.English); err != nil {
		t.Fatal(err)
	}
	for _, g := range r.Gaps {
		b.WriteString(g.String() + "\n    " + g.Mend + "\n")
	}
	var page strings.Builder
	page.WriteString("<!DOCTYPE html><meta charset=utf-8><style>div { white-space: pre; width: max-content }</style><body>")
	for line := range strings.Lines(b.String()) {
		page.WriteString("<div>" + html.EscapeString(strings.TrimSuffix(line, "\n")) + "</div>\n")
	}
	return page.String()
}

// The count as CSV is data: each cell is the words as they were written, and the
// cells stand in their order.
func TestRightToLeftInCSV(t *testing.T) {
	for _, word := range rightToLeft {
		r, err := generator.Read(turnedShop(t, word, "jobcard"), generator.Options{Today: "2026-11-25"})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := r.Count.WriteCSV(&b, tally.ByMachine); err != nil {
			t.Fatal(err)
		}
		if s := b.String(); !strings.Contains(s, strings.TrimSuffix(word, "\u200f")) || strings.ContainsAny(s, "\u2068\u2069") {
			t.Errorf("%s", s)
		}
	}
}

// The PDF is set sign by sign, from left to right: its fonts have no letters
// that run the other way, a sign stands for each. What a program that reads the
// PDF finds behind them stands behind them.
func TestRightToLeftInThePDF(t *testing.T) {
	pdftotext := testenv.Program(t, "pdftotext")
	for name, word := range rightToLeft {
		_, buyer, err := sealedSite(turnedShop(t, word, "jobcard"))
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "report.pdf")
		if err := os.WriteFile(file, []byte(buyer[".pdf"]), 0o600); err != nil {
			t.Fatal(err)
		}
		text := toolOutput(t, pdftotext, "-layout", file, "-")
		sign := strings.Repeat("\ufffd", 4)
		if strings.HasSuffix(word, "\u200f") {
			sign += "[U+200F]" // what nobody sees is written out
		}
		for _, want := range []string{sign + " (" + sign + ") First: 70 psi (March 2, 2026). Last: 75 psi", "Parts on March 2: " + sign + " (" + sign + "), 2 of them: from Donor. " + sign + " (" + sign + "): new."} {
			if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
				t.Errorf("%s: the PDF does not say %q:\n%s", name, want, text)
			}
		}
		checkSeen(t, "the PDF", strings.ReplaceAll(text, "\f", "\n"))
	}
}
