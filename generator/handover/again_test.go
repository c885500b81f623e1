package handover

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
)

// plainJPEG is a photo in one color.
func plainJPEG(t testing.TB, c color.Color, width int) []byte {
	t.Helper()
	pic := image.NewRGBA(image.Rect(0, 0, width, width/2))
	for x := range width {
		for y := range width / 2 {
			pic.Set(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, pic, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const coverFile = "machines/pump/photos/cover.jpg"

// coveredShop is the shop whose machine has a cover besides the photo of its leak.
func coveredShop(t testing.TB) afero.Fs {
	t.Helper()
	return shopWith(t, map[string]string{
		firstFile: strings.Replace(firstEntry, "photos:\n", "photos:\n  - {file: cover.jpg, alt: the pump, cover: yes}\n", 1),
		coverFile: string(plainJPEG(t, color.Gray{Y: 99}, 40)),
	})
}

// The buyer's files are made again at any later day to the byte, on each paper, as long
// as the log has the photos; and not at all where they would be others.
func TestAgain(t *testing.T) {
	start, buyer := coveredShop(t), afero.NewMemMapFs()
	made := sealed(t, start, buyer, nil, "2026-03-03")
	const leak = "machines/pump/photos/leak.jpg"
	remove := func(name string) func(*testing.T, afero.Fs) {
		return func(t *testing.T, fs afero.Fs) {
			if err := fs.Remove(name); err != nil {
				t.Fatal(err)
			}
		}
	}
	with := func(name string, data []byte) func(*testing.T, afero.Fs) {
		return func(t *testing.T, fs afero.Fs) { write(t, fs, name, data) }
	}
	for name, tc := range map[string]struct {
		change func(t *testing.T, fs afero.Fs)
		other  bool
	}{
		"as it was":              {func(*testing.T, afero.Fs) {}, false},
		"with more entries":      {with("machines/pump/2026-03-09-second.md", []byte(secondEntry)), false},
		"with more photos":       {with("machines/pump/2026-03-01-zero.md", []byte("---\ndate: 2026-03-01\ntitle: Zero\nphotos:\n  - {file: more.jpg, alt: more}\n---\n")), false},
		"without its cover":      {remove(coverFile), true},
		"without its photo":      {remove(leak), true},
		"with another cover":     {with(coverFile, plainJPEG(t, color.Gray{Y: 9}, 40)), true},
		"with another photo":     {with(leak, plainJPEG(t, color.Gray{Y: 9}, 40)), true},
		"with a damaged photo":   {with(leak, []byte("no photo")), true},
		"with a photo no longer": {with(firstFile, []byte("---\ndate: 2026-03-02\ntitle: First look\n---\n")), true},
	} {
		t.Run(name, func(t *testing.T) {
			fs := copied(t, start)
			write(t, fs, "machines/pump/photos/more.jpg", plainJPEG(t, color.White, 24))
			c := chainOf(t, fs)
			tc.change(t, fs)
			for _, paper := range papers {
				html, pdf, err := c.Again(fs, c.Links[0], machineOf(t, fs), "", paper)
				if tc.other {
					if !errors.Is(err, ErrOtherCopies) || !strings.Contains(err.Error(), made.File) || html != nil || pdf != nil {
						t.Errorf("%s: it was made: %v", paper.Name, err)
					}
					continue
				}
				if err != nil || digestOf(html) != made.Seal.Copies.HTML {
					t.Fatalf("%s: %v", paper.Name, err)
				}
				if want := map[string]string{sheet.Letter.Name: made.Seal.Copies.Letter, sheet.A4.Name: made.Seal.Copies.A4}[paper.Name]; digestOf(pdf) != want {
					t.Errorf("%s: the PDF is another", paper.Name)
				}
			}
		})
	}
	// Another program prints it otherwise.
	c := chainOf(t, start)
	if _, _, err := c.Again(start, c.Links[0], machineOf(t, start), "v9", sheet.A4); !errors.Is(err, ErrOtherCopies) || !strings.Contains(err.Error(), made.File) {
		t.Errorf("by another program: %v", err)
	}
	// And who prints another report is told so where the same is sealed again, too.
	r := prepared(t, start, "2026-03-03")
	r.Program = "v9"
	if _, err := r.Seal(buyer, nil, sheet.A4); !errors.Is(err, ErrOtherCopies) || !strings.Contains(err.Error(), made.File) {
		t.Errorf("sealed again by another program: %v", err)
	}
}

// machineOf is the pump as the log has it, a photo that is gone being no matter.
func machineOf(t *testing.T, fs afero.Fs) *logbook.Machine {
	t.Helper()
	shop, _, err := logbook.Read(fs, logbook.Options{Words: catalog.English})
	if err != nil || len(shop.Machines) != 1 {
		t.Fatalf("the test's shop: %v", err)
	}
	return shop.Machines[0]
}

// A link knows the files that were made for the buyer, by their names and their bytes.
func TestFilesOfALink(t *testing.T) {
	fs := shopWith(t, nil)
	r := prepared(t, fs, "2026-03-03")
	buyer := afero.NewMemMapFs()
	made, err := r.Seal(buyer, nil, sheet.A4)
	if err != nil {
		t.Fatal(err)
	}
	l := chainOf(t, fs).Links[0]
	if html, pdf := l.Files(); html != made.HTML || pdf != made.PDF {
		t.Errorf("the files are %s and %s, want %s and %s", html, pdf, made.HTML, made.PDF)
	}
	_, letter, err := r.print(sheet.Letter)
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"HTML": read(t, buyer, made.HTML), "A4": read(t, buyer, made.PDF), "letter": letter.pdf} {
		if !l.Made(data) || l.Made(append(data, ' ')) {
			t.Errorf("%s: its own is not known from another", name)
		}
	}
	if l.Made(read(t, fs, made.File)) {
		t.Error("the sealed file is taken for one that was made for the buyer")
	}
}
