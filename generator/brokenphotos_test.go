package generator_test

import (
	"fmt"
	"os"
	"path"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator"
)

// brokenShop has one photo that is whole and several that are not, and other things
// to mend.
func brokenShop(t *testing.T) afero.Fs {
	t.Helper()
	folder := afero.NewMemMapFs()
	whole := pictureOf(t, "jpeg", 640, 480)
	for name, data := range map[string]string{
		"shop.md":               "---\nshop: S\ncurrency: USD\n---\n![front](front.jpg)\n",
		"front.jpg":             string(whole[:len(whole)/2]),
		"machines/m/machine.md": "---\nname: M\nkind: generator\narrived: 2026-03-01\n---\n",
		"machines/m/2026-03-02.md": "---\ndate: 2026-03-02\ntitle: T\nqyt: 1\nphotos:\n  - alt: cut\n    file: cut.jpg\n  - {file: whole.jpg, alt: w}\n  - {file: text.png, alt: t}\n  - {file: cut2.png, alt: t}\n" +
			"  - {file: private.jpg, alt: p, private: yes}\n---\n\n![e](empty one.jpg)\n![n](nowhere.jpg)\n",
		"machines/m/photos/whole.jpg":     string(whole),
		"machines/m/photos/cut.jpg":       string(whole[:len(whole)/3]),
		"machines/m/photos/cut2.png":      string(pictureOf(t, "png", 64, 48)[:150]),
		"machines/m/photos/text.png":      "just words\n",
		"machines/m/photos/private.jpg":   "private",
		"machines/m/photos/empty one.jpg": "",
	} {
		if err := afero.WriteFile(folder, name, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
		old := time.Now().Add(-time.Hour)
		if err := folder.Chtimes(name, old, old); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

func placesOf(r *generator.Reading) []string {
	var all []string
	for _, p := range r.Problems {
		all = append(all, fmt.Sprintf("%s:%d:%s", path.Base(p.File), p.Line, p.Field))
	}
	return all
}

// Broken photos are told in one run with everything else, each where it is named.
func TestBrokenPhotosAreToldWithTheRest(t *testing.T) {
	want := []string{
		"2026-03-02.md:4:qyt", "2026-03-02.md:7:photos[0].file", "2026-03-02.md:9:photos[2].file", "2026-03-02.md:10:photos[3].file", "2026-03-02.md:14:", "2026-03-02.md:15:", "shop.md:5:",
	}
	folder := brokenShop(t)
	r, err := generator.Inspect(folder, generator.Options{Site: "site"})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, placesOf(r)); diff != "" {
		t.Errorf("inspect (-want, +got):\n%s", diff)
	}
	if len(r.Gaps) == 0 {
		t.Error("inspect tells no gaps")
	}
	parent := afero.NewMemMapFs()
	_, r, err = generator.Writeup(folder, parent, "site", generator.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, placesOf(r)); diff != "" {
		t.Errorf("writeup (-want, +got):\n%s", diff)
	}
	left, err := afero.ReadDir(parent, ".")
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// photoCounter counts how often photos are opened.
type photoCounter struct {
	afero.Fs
	photos *atomic.Int64
}

func (o photoCounter) Open(name string) (afero.File, error) {
	if strings.HasSuffix(name, ".jpg") || strings.HasSuffix(name, ".png") {
		o.photos.Add(1)
	}
	return o.Fs.Open(name)
}

// A photo that was decoded by a run that made no site is not read again by the next
// one; where nothing is remembered, it is.
func TestPhotosAreDecodedOnce(t *testing.T) {
	var photos atomic.Int64 // several are looked at at a time
	folder := photoCounter{brokenShop(t), &photos}
	for _, name := range []string{"front.jpg", "machines/m/photos/cut.jpg", "machines/m/photos/cut2.png", "machines/m/photos/text.png", "machines/m/photos/empty one.jpg", "machines/m/photos/nowhere.jpg"} {
		if err := afero.WriteFile(folder, name, append(pictureOf(t, "jpeg", 64, 48), name...), 0o644); err != nil {
			t.Fatal(err)
		}
		old := time.Now().Add(-time.Hour)
		if err := folder.Chtimes(name, old, old); err != nil {
			t.Fatal(err)
		}
	}
	run := func(program string, site afero.Fs) int {
		photos.Store(0)
		_, r, err := generator.Writeup(folder, site, "site", generator.Options{Program: program, Site: "site"})
		if err != nil || len(r.Problems) != 1 {
			t.Fatal(err, r.Problems)
		}
		return int(photos.Load())
	}
	site := afero.NewMemMapFs()
	if n := run("", site); n < 14 || run("", site) != n {
		t.Errorf("%d photos were opened", n) // seven, to look at their heads and to decode them
	}
	first := run("this", site)
	if again := run("this", site); first < 14 || again != 0 {
		t.Errorf("%d photos were opened, then %d", first, again)
	}
	later := append(pictureOf(t, "jpeg", 64, 48), "later"...)
	if err := afero.WriteFile(folder, "machines/m/photos/whole.jpg", later, os.ModePerm); err != nil {
		t.Fatal(err)
	}
	if n := run("this", site); n != 2 {
		t.Errorf("one photo is new, %d were opened", n)
	}
	// Inspect goes by what stands in the shop's folder, and leaves nothing there.
	photos.Store(0)
	if _, err := generator.Inspect(folder, generator.Options{Program: "this", Site: "site"}); err != nil || photos.Load() < 14 {
		t.Errorf("%d photos were opened, %v", photos.Load(), err)
	}
	if n := run("this", folder); n < 14 {
		t.Errorf("%d photos were opened: inspect left something behind", n)
	}
	photos.Store(0)
	if _, err := generator.Inspect(folder, generator.Options{Program: "this", Site: "site"}); err != nil || photos.Load() > 2 { // the new one is too new to be sure of
		t.Errorf("%d photos were opened, %v", photos.Load(), err)
	}
}
