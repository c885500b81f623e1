package handover

import (
	"bytes"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/disintegration/imaging"
	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/sheet"
	"asleft/generator/page"
	"asleft/generator/record"
)

// tagged is the text on the tag of the pump, and the tag.
func tagged(t *testing.T, paper sheet.Paper, files map[string]string) (*Tag, string) {
	t.Helper()
	fs := shopWith(t, files)
	tag, err := Tags(fs, siteOf(t, fs), []int{0}, "2026-03-10", paper)
	if err != nil {
		t.Fatal(err)
	}
	text := tool(t, "pdftotext", "-layout", onDisk(t, "tag.pdf", tag.PDF), "-")
	return tag, strings.Join(strings.Fields(text), " ")
}

// A tag says how many safety matters are open. The pump's general list has 24 points of
// which the log says nothing, there is no list for its kind, and nobody said of the oil
// if it can hurt someone.
func TestTagSaysWhatIsOpen(t *testing.T) {
	unsafe := strings.Replace(firstEntry, "result: works, system: guards", "result: fails, note: runs on, system: guards", 1)
	unsaid := strings.Replace(firstEntry, "system: engine, safety: no, photo", "system: engine, photo", 1)
	for name, c := range map[string]struct {
		files map[string]string
		says  string
	}{
		"as it is":       {nil, "26 safety matters are open. For 1 of them, nobody said if that can hurt someone. The report names each."},
		"a fault":        {map[string]string{"machines/pump/2026-03-02-first.md": unsafe}, "27 safety matters are open. For 1 of them, nobody said"},
		"another unsaid": {map[string]string{"machines/pump/2026-03-02-first.md": unsaid}, "27 safety matters are open. For 2 of them, nobody said"},
	} {
		if _, text := tagged(t, sheet.CardPaper, c.files); !strings.Contains(text, c.says) || !strings.Contains(text, "Small pump") || !strings.Contains(text, "Test shop") || strings.Contains(text, "$") {
			t.Errorf("%s: the tag lacks %q: %s", name, c.says, text)
		}
	}
	offered := map[string]string{"machines/pump/machine.md": strings.Replace(machineText, "arrived:", "stage: for sale\nasking: 120.00\narrived:", 1)}
	if _, text := tagged(t, sheet.CardPaper, offered); !strings.Contains(text, "$120.00") {
		t.Errorf("the tag lacks the price: %s", text)
	}
}

// TestOpenInWords: none, one and several, with and without those of which nobody said.
func TestOpenInWords(t *testing.T) {
	open := record.Subject{Open: true, Safety: "yes"}
	unsaid := record.Subject{Open: true, Safety: record.NotSaid}
	for want, subjects := range map[string][]record.Subject{
		"The log shows no open safety matter. That does not prove that it is safe.":                              {{Safety: "yes"}},
		"1 safety matter is open. The report names it.":                                                          {open, {Safety: "yes"}},
		"2 safety matters are open. The report names each.":                                                      {open, open},
		"1 safety matter is open: nobody said if it can hurt someone. The report names it.":                      {unsaid},
		"2 safety matters are open. For 1 of them, nobody said if that can hurt someone. The report names each.": {open, unsaid},
	} {
		facts := &Facts{Record: record.Record{Subjects: subjects}}
		if got := openSays(&page.Site{Words: catalog.English}, facts); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// TestTagTellsOfTheSeal: the code of the last sealed report, and whether the log went
// on since.
func TestTagTellsOfTheSeal(t *testing.T) {
	fs := shopWith(t, nil)
	made, err := prepared(t, fs, "2026-03-03").Seal(afero.NewMemMapFs(), nil, sheet.Letter)
	if err != nil {
		t.Fatal(err)
	}
	says := func() string {
		tag, err := Tags(fs, siteOf(t, fs), []int{0}, "2026-03-10", sheet.CardPaper)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(strings.Fields(tool(t, "pdftotext", "-layout", onDisk(t, "tag.pdf", tag.PDF), "-")), " ")
	}
	sealed := "A report was sealed on March 3, 2026, code " + GroupedCode(made.Seal.Code) + ". "
	if text := says(); !strings.Contains(text, sealed+"The log has not changed since.") {
		t.Errorf("right after: %s", text)
	}
	write(t, fs, "machines/pump/2026-03-09-second.md", []byte(secondEntry))
	if text := says(); !strings.Contains(text, sealed+"The log has changed since.") {
		t.Errorf("after another entry: %s", text)
	}
}

// TestTagWithoutAnAddress has no QR code, and says so to the shop.
func TestTagWithoutAnAddress(t *testing.T) {
	tag, text := tagged(t, sheet.CardPaper, map[string]string{"shop.md": strings.Replace(shopFile, "web: https://shop.example/\n", "", 1)})
	if tag.Web || strings.Contains(text, "Scan") || bytes.Contains(tag.PDF, []byte("/URI")) {
		t.Errorf("a QR code of nothing: %s", text)
	}
}

// The QR code is read from a print of 300 dpi, and from a photo of 90 dpi, taken askew
// and out of focus, on each paper.
func TestTagIsReadByPhones(t *testing.T) {
	const want = "https://shop.example/machines/pump/condition/"
	for _, paper := range []sheet.Paper{sheet.CardPaper, sheet.Letter, sheet.A4} {
		tag, _ := tagged(t, paper, nil)
		file := onDisk(t, "tag.pdf", tag.PDF)
		if out := tool(t, "qpdf", "--check", file); !strings.Contains(out, "No syntax or stream encoding errors") || strings.Contains(out, "WARNING") {
			t.Errorf("%s: qpdf says %s", paper.Name, out)
		}
		codes := map[bool]int{true: 1, false: 4}[paper == sheet.CardPaper]
		printed := filepath.Join(t.TempDir(), "print")
		tool(t, "pdftoppm", "-r", "300", "-singlefile", "-gray", "-png", file, printed)
		if out := tool(t, "zbarimg", "-q", "--raw", printed+".png"); strings.Count(out, want+"\n") != codes {
			t.Errorf("%s: the print says %q", paper.Name, out)
		}
		if out := tool(t, "zbarimg", "-q", "--raw", photographed(t, printed+".png")); !strings.Contains(out, want+"\n") {
			t.Errorf("%s: the photo says %q", paper.Name, out)
		}
	}
}

// photographed is a print of 300 dpi as a photo of 90.
func photographed(t *testing.T, file string) string {
	t.Helper()
	img, err := imaging.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	img = imaging.Rotate(img, 4, color.Gray{Y: 200})
	img = imaging.Resize(img, img.Bounds().Dx()*90/300, 0, imaging.Box)
	img = imaging.AdjustContrast(imaging.Blur(img, 0.5), -30)
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	photo := filepath.Join(t.TempDir(), "photo.png")
	if err := os.WriteFile(photo, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return photo
}
