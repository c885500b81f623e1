package generator_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/testenv"
)

// longStory is a shop with one machine of ten evenings and forty photos: those
// of the example, each made another file by a few bytes behind the picture.
func longStory(t *testing.T) afero.Fs {
	t.Helper()
	photos, err := filepath.Glob(example + "/machines/*/photos/*.jpg")
	if err != nil || len(photos) < 12 {
		t.Fatalf("%d photos, %v", len(photos), err)
	}
	disk, shop := afero.NewOsFs(), afero.NewMemMapFs()
	write := func(name, text string) {
		if err := afero.WriteFile(shop, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("shop.md", "---\nshop: Long stories\ncurrency: USD\n---\n")
	write("machines/m/machine.md", "---\nname: A long story\nkind: generator\narrived: 2026-03-01\n---\nIt took a while.\n")
	for evening := range 10 {
		var listed strings.Builder
		for n := range 4 {
			name := fmt.Sprintf("p%d-%d.jpg", evening, n)
			data, err := afero.ReadFile(disk, photos[(4*evening+n)%len(photos)])
			if err != nil {
				t.Fatal(err)
			}
			write("machines/m/photos/"+name, string(data)+name)
			fmt.Fprintf(&listed, "  - {file: %s, alt: What there was to see that evening, caption: As it was}\n", name)
		}
		write(fmt.Sprintf("machines/m/2026-03-%02d.md", evening+2), fmt.Sprintf("---\ndate: 2026-03-%02d\ntitle: An evening\nhours: 2\nphotos:\n%s---\n%s\n",
			evening+2, listed.String(), strings.Repeat("Pulled the cover, cleaned it, measured it and put it back. ", 40)))
	}
	return shop
}

// A story with forty photos on a phone: HTML and style stay under 120 KB, the
// first view under 200 KB with the photos that were really fetched, and nothing
// moves while the page loads and is read to its end.
func TestFortyPhotosOnAPhone(t *testing.T) {
	ctx := testenv.Browser(t)
	files := madeFrom(t, longStory(t), afero.NewMemMapFs(), generator.Options{})
	var style string
	for name, data := range files {
		if strings.HasSuffix(name, ".css") {
			style = data
		}
	}
	if text := len(files["machines/m/index.html"]) + len(style); text > 120_000 {
		t.Errorf("HTML and style are %d bytes", text)
	}
	root, _ := serve(t, files)
	testenv.Do(t, ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile), chromedp.Navigate(root+"/machines/m/"))
	const weigh = `new Promise(done => setTimeout(() => done(
		performance.getEntriesByType('navigation').concat(performance.getEntriesByType('resource')).reduce((n, e) => n + e.encodedBodySize, 0)), 500))`
	if first := testenv.Ask[int](t, ctx, weigh); first > 200_000 || first < 20_000 {
		t.Errorf("the first view is %d bytes", first)
	}
	const read = `new Promise(done => {
		let moved = 0
		new PerformanceObserver(list => list.getEntries().forEach(e => moved += e.hadRecentInput ? 0 : e.value)).observe({type: 'layout-shift', buffered: true})
		const step = () => {
			scrollBy(0, 600)
			if (scrollY + innerHeight < document.body.scrollHeight - 5) return setTimeout(step, 30)
			setTimeout(() => done(moved), 300)
		}
		step()
	})`
	if moved := testenv.Ask[float64](t, ctx, read); moved > 0 {
		t.Errorf("the page moved by %v while it was read", moved)
	}
	if n := testenv.Ask[int](t, ctx, `document.images.length`); n < 41 {
		t.Errorf("the page shows %d photos", n)
	}
}
