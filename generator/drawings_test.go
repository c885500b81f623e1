package generator_test

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/testenv"
	"asleft/themes"
)

// drawingFaults is a script that says what is wrong with the drawings of a page as
// they are shown there, and how many there are. LEAST is the least size of a letter,
// in px. It also tells the numbers that they write.
const drawingFaults = `(() => {
	for (const d of document.querySelectorAll("details")) d.open = true;
	const faults = [], numbers = [], drawings = [...document.querySelectorAll("svg.drawing")];
	const whole = e => [...e.querySelectorAll("tspan")].map(t => t.textContent).join(" ");
	const inside = (a, b) => a.left >= b.left - .5 && a.right <= b.right + .5 && a.top >= b.top - .5 && a.bottom <= b.bottom + .5;
	for (const svg of drawings) {
		const say = text => faults.push(svg.querySelector("title").id + ": " + text);
		const box = svg.getBoundingClientRect(), texts = [...svg.querySelectorAll("text")];
		for (let e = svg.parentElement; e !== document.body; e = e.parentElement) {
			if (!inside(box, e.getBoundingClientRect())) say("is outside of " + e.tagName + " " + e.className);
		}
		if (matchMedia("print").matches && getComputedStyle(svg.closest(".plot")).breakInside !== "avoid") say("may be torn between two sheets");
		if (!texts.length) say("has no words");
		for (const t of texts) {
			const size = parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a;
			if (!(size >= LEAST)) say(size + " px: " + t.textContent);
		}
		for (const e of svg.querySelectorAll("text, line, rect, circle")) {
			if (!e.closest("defs") && !inside(e.getBoundingClientRect(), box)) { const a = e.getBoundingClientRect(); say("outside the drawing by " + [box.left - a.left, box.top - a.top, a.right - box.right, a.bottom - box.bottom].map(n => n.toFixed(1)).join() + ": " + e.outerHTML); }
		}
		const lines = [...svg.querySelectorAll("tspan")].map(t => [t.textContent, t.getBoundingClientRect()]);
		lines.forEach(([text, a], i) => {
			for (const [other, b] of lines.slice(i + 1)) {
				if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1) say(text + " lies over " + other);
			}
		});
		const ends = [...svg.querySelectorAll(".drawn-end")].map(whole), names = [...svg.querySelectorAll(".drawn-name")].map(whole);
		if (new Set(ends).size !== ends.length) say("both ends of the axis are " + ends[0]);
		if (new Set(names).size !== names.length) say("names stand twice: " + names.join("; "));
		for (const v of svg.querySelectorAll(".drawn-value")) numbers.push(whole(v));
		for (const w of [...svg.querySelectorAll(".drawn-words")].map(whole)) {
			const limit = w.match(/\((.*)\)$/);
			if (limit) numbers.push(limit[1]);
		}
		if (svg.textContent.includes("…")) say("a word is cut");
	}
	return {faults, numbers, drawings: drawings.length, ends: document.querySelectorAll(".drawn-end").length};
})()`

// What drawingFaults finds.
type drawn struct {
	Faults, Numbers []string
	Drawings, Ends  int
}

// vagueShop has a machine of which the log knows no more than years, with a name
// that no line has room for.
func vagueShop(t *testing.T) afero.Fs {
	t.Helper()
	return memoryShop(t, map[string]string{
		"shop.md":                   "---\nshop: Vague shop\ncurrency: USD\n---\n",
		"machines/mist/machine.md":  "---\nname: Vague rider\nkind: ride-on mower\narrived: 2026\nstage: keeping\nlimits:\n  - {what: blade bolt length, limit: 2.500 in to 2.600 in, source: maker's sheet}\n---\n",
		"machines/mist/2026-one.md": "---\ndate: 2026\ntitle: First\ndefects:\n  - {key: long, defect: " + strings.Repeat("counterclockwise", 5) + " nut " + strings.Repeat("is worn and ", 9) + "loose, effect: it rattles, system: frame, safety: no}\n  - {key: other, defect: seat is torn, effect: it looks bad, system: frame, safety: no}\nmeasured:\n  - {what: blade bolt length, value: 2.475 in, gauge: 0.001 in}\n  - {what: blade bolt length, value: 2.510 in, gauge: 0.001 in}\n---\nIt rattles.\n",
		"machines/mist/2026-two.md": "---\ndate: 2026\ntitle: Second\nrepaired:\n  - {key: long, how: new nut}\nmeasured:\n  - {what: blade bolt length, value: 2.520 in, gauge: 0.001 in}\n---\nA nut.\n",
	})
}

var inkOf = regexp.MustCompile(`(?s)<svg.*?</svg>`)

// drawnPages are the addresses of the pages with a drawing in that theme: of the
// example, of ten machines as people write them, of every bench test, and of a shop
// that knows only years. With each are the words of its machine's story and report
// that stand outside of drawings.
func drawnPages(t *testing.T, theme string) map[string]string {
	t.Helper()
	look := generator.Options{Theme: themes.Named(theme)}
	all := map[string]string{}
	for _, site := range []struct {
		name  string
		files map[string]string
	}{
		{"example", exampleIn(t, theme)}, {"ten", made(t, tenMachines, look)},
		{"tests", made(t, "../testdata/benchtests/shop", look)}, {"vague", madeFrom(t, vagueShop(t), afero.NewMemMapFs(), look)},
	} {
		for name, data := range site.files {
			all[site.name+"/"+name] = data
		}
	}
	root, _ := serve(t, all)
	pages := map[string]string{}
	for name, data := range all {
		if !strings.HasSuffix(name, ".html") || !strings.Contains(data, `class="drawing"`) {
			continue
		}
		machine := strings.TrimSuffix(strings.TrimSuffix(name, "index.html"), "condition/")
		pages[root+"/"+name] = plainWords(visible(t, inkOf.ReplaceAllString(all[machine+"index.html"]+all[machine+"condition/index.html"], "")))
	}
	return pages
}

// media makes the browser believe in that medium and those preferences.
func media(medium string, features ...*emulation.MediaFeature) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: medium, Features: features})
		return err
	})
}

// Drawings can be read on a phone, on a desk and on paper: large enough, nothing cut
// or over another, the ends of an axis told apart, and no number that is not the log's.
func TestDrawingsCanBeRead(t *testing.T) {
	ctx := testenv.Browser(t)
	for _, theme := range builtIn(t) {
		pages := drawnPages(t, theme)
		if len(pages) < 25 {
			t.Errorf("%s: only %d pages have a drawing", theme, len(pages))
		}
		ends := 0
		for page, words := range pages {
			testenv.Do(t, ctx, chromedp.Navigate(page))
			for _, shown := range []struct {
				medium string
				width  int64
				least  int
			}{
				// What is left of Letter and A4 between their margins, in CSS px.
				{"screen", 390, 11}, {"screen", 1280, 12}, {"print", 702, 11}, {"print", 680, 11},
			} {
				testenv.Do(t, ctx, media(shown.medium), chromedp.EmulateViewport(shown.width, 900))
				found := testenv.Ask[drawn](t, ctx, strings.ReplaceAll(drawingFaults, "LEAST", fmt.Sprint(shown.least)))
				for _, fault := range found.Faults {
					t.Errorf("%s, %s, %s %d: %s", theme, page, shown.medium, shown.width, fault)
				}
				if found.Drawings == 0 {
					t.Errorf("%s, %s, %s %d: shows no drawing", theme, page, shown.medium, shown.width)
				}
				ends += found.Ends
				for _, number := range found.Numbers {
					if !strings.Contains(words, plainWords(number)) {
						t.Errorf("%s, %s: the words of the machine's pages have no %s", theme, page, number)
					}
				}
			}
		}
		if ends == 0 {
			t.Errorf("%s: no axis has ends", theme)
		}
	}
}

// What the log knows only as a year is drawn as that year, at both ends of the axis.
func TestDrawingsAreNoMoreExactThanTheLog(t *testing.T) {
	page := madeFrom(t, vagueShop(t), afero.NewMemMapFs(), generator.Options{})["machines/mist/index.html"]
	_, chart, ok := strings.Cut(page, `<svg class="drawing" role="img" aria-labelledby="chart-defects-t"`)
	chart, _, _ = strings.Cut(chart, "</svg>")
	for _, end := range []string{"arrived</tspan>", "last entry</tspan>", ">2026</tspan>"} {
		if !ok || !strings.Contains(chart, end) {
			t.Errorf("the axis does not say %s", end)
		}
	}
	if strings.Contains(chart, "January") || strings.Contains(chart, "December") {
		t.Errorf("a month that nobody wrote:\n%s", chart)
	}
}

// A repair that is proven does not look like one that is not, without any color: the
// one is a high bar, the other a low one, and the legend has words for both.
func TestProvenIsDrawnUnlikeNotProven(t *testing.T) {
	ctx := testenv.Browser(t)
	for _, theme := range builtIn(t) {
		root, _ := served(t, theme)
		testenv.Do(t, ctx, chromedp.Navigate(root+"/machines/harrow/"))
		got := testenv.Ask[string](t, ctx, `(() => {
			const chart = document.getElementById("chart-defects-t").parentElement;
			const heights = c => [...new Set([...chart.querySelectorAll("rect." + c)].map(r => Math.round(r.getBBox().height)))].join();
			return heights("crossed") + " " + heights("solid") + " " + [...chart.querySelectorAll(".drawn-words")].map(e => e.textContent).join("; ");
		})()`)
		if want := "6 12 found, not yet mended; worked around; repaired, not proven; repaired and proven"; got != want {
			t.Errorf("%s: %s, want %s", theme, got, want)
		}
	}
}

// Where the reader's own colors replace a theme's, the page that one is on still
// stands out in the navigation by its lines, and drawings keep ink on paper.
func TestForcedColors(t *testing.T) {
	ctx := testenv.Browser(t)
	forced := &emulation.MediaFeature{Name: "forced-colors", Value: "active"}
	for _, theme := range builtIn(t) {
		_, pages := served(t, theme)
		current := 0
		for _, page := range pages {
			testenv.Do(t, ctx, media("screen", forced), chromedp.Navigate(page))
			// What a current link looks like against the same link where it is not; what
			// forced colors take away (backgrounds, shadows, colors) does not count.
			for _, same := range testenv.Ask[[]string](t, ctx, `(() => {
				const look = e => { const s = getComputedStyle(e); return [s.borderTopWidth, s.borderBottomWidth, s.borderBottomStyle, s.textDecorationLine, s.textDecorationThickness].join() };
				return [...document.querySelectorAll("a[aria-current], .links [aria-current]")].map(e => {
					const now = look(e);
					e.removeAttribute("aria-current");
					return (now === look(e) ? "same " : "") + e.textContent;
				});
			})()`) {
				current++
				if strings.HasPrefix(same, "same ") {
					t.Errorf("%s, %s: nothing shows that this is the page: %s", theme, page, same)
				}
			}
			for _, faint := range testenv.Ask[[]string](t, ctx, `(() => {
				const paper = e => { for (; e; e = e.parentElement) { const b = getComputedStyle(e).backgroundColor; if (!/, 0\)$/.test(b)) return b } return "rgb(0, 0, 0)" };
				return [...document.querySelectorAll("svg.drawing :is(text, rect, line, circle)")].filter(e => !e.closest("defs")).filter(e => {
					const s = getComputedStyle(e), ink = e.tagName === "text" ? s.fill : s.stroke;
					return ink === paper(e.closest("svg")) || ink !== getComputedStyle(document.body).color;
				}).map(e => e.outerHTML);
			})()`) {
				t.Errorf("%s, %s: not in the ink of the page: %s", theme, page, faint)
			}
		}
		if current < 10 {
			t.Errorf("%s: only %d links are current", theme, current)
		}
	}
}
