package generator_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
)

// TestPhotosOfAnEveningOfWork: a photo of the entry that tells of the work may show the
// worn part that came out, so it is told as of that time, and not as what came after.
func TestPhotosOfAnEveningOfWork(t *testing.T) {
	fs := afero.NewMemMapFs()
	write := func(name, text string) {
		if err := afero.WriteFile(fs, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("shop.md", "---\nshop: A shop\ncurrency: USD\n---\n")
	write("machines/rig/machine.md", "---\nname: The rig\nkind: generator\narrived: 2026-03-01\n---\n")
	write("machines/rig/e1.md", "---\ndate: 2026-03-02\ntitle: Found\ndefects: [{key: brush, defect: a brush is worn short, system: electrical, safety: no}]\nphotos: [{file: a.jpg, alt: brush, shows: brush}]\n---\n")
	write("machines/rig/e2.md", "---\ndate: 2026-03-03\ntitle: Mended\nrepaired: [{key: brush, how: a new brush}]\nphotos: [{file: b.jpg, alt: brush, shows: brush}, {file: c.jpg, alt: brush, shows: brush}]\n---\n")
	write("machines/rig/e3.md", "---\ndate: 2026-03-04\ntitle: Looked at\nphotos: [{file: d.jpg, alt: brush, shows: brush}]\n---\n")
	for n, name := range []string{"a", "b", "c", "d"} {
		var b bytes.Buffer
		pic := image.NewGray(image.Rect(0, 0, 400, 300))
		pic.Pix[0] = uint8(40 * n) // each another picture
		if err := jpeg.Encode(&b, pic, nil); err != nil {
			t.Fatal(err)
		}
		write("machines/rig/photos/"+name+".jpg", b.String())
	}
	page := madeFrom(t, fs, afero.NewMemMapFs(), generator.Options{})["machines/rig/condition/index.html"]
	var got []string
	for _, part := range strings.Split(page, "<figcaption>")[1:] {
		if says, _, _ := strings.Cut(part, "</figcaption>"); says != "" {
			got = append(got, says)
		}
	}
	if want := []string{"Before", "Time of the work", "Time of the work", "After"}; !slices.Equal(got, want) {
		t.Errorf("the photos are told as %q, want %q", got, want)
	}
}
