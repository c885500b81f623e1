package generator_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"asleft/generator/testenv"
)

// A walk through the pages by keyboard alone: the first stop is the way past
// the header, every link and field is reached once and in the page's order, and
// at each stop the eye can see where it is.
func TestKeyboardWalk(t *testing.T) {
	ctx := testenv.Browser(t)
	for _, theme := range builtIn(t) {
		root, _ := served(t, theme)
		for _, page := range []string{"/", "/machines/wick/", "/machines/wick/condition/", "/machines/harrow/listing/", "/verify/"} {
			testenv.Do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(root+page))
			walk(t, theme+page, func(script string) string {
				return testenv.Ask[string](t, ctx, script)
			}, func() { testenv.Do(t, ctx, chromedp.KeyEvent("\t")) })
		}
	}
}

// stops numbers what a keyboard can stop at, in the page's order.
const stops = `(() => {
	const all = Array.from(document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex="0"]'))
		.filter(e => !e.disabled && e.checkVisibility({visibilityProperty: true}) && (!e.closest('details:not([open])') || e.tagName === 'SUMMARY'))
	all.forEach((e, i) => e.dataset.stop = i)
	return String(all.length)
})()`

// here is the stop that has the focus, and whether one can see that it has.
const here = `(() => {
	const e = document.activeElement
	if (!e || e === document.body) return 'nowhere'
	const s = getComputedStyle(e), seen = s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2 || s.boxShadow !== 'none'
	return e.dataset.stop + (seen ? '' : ' unseen ') + (e.dataset.stop === '0' ? e.getAttribute('href') : seen ? '' : e.outerHTML.slice(0, 120))
})()`

func walk(t *testing.T, page string, ask func(string) string, tab func()) {
	t.Helper()
	want := ask(stops)
	last := ""
	for n := range 400 {
		tab()
		at := ask(here)
		switch {
		case at == "nowhere":
			if strconv.Itoa(n) != want {
				t.Errorf("%s: the walk ended after %d of %s stops", page, n, want)
			}
			return
		case strings.Contains(at, "unseen"):
			t.Errorf("%s: nobody can see the focus at stop %s", page, at)
		case n == 0 && at != "0#main":
			t.Errorf("%s: the first stop is %s, not the way past the header", page, at)
		case n > 0 && at != strconv.Itoa(n):
			t.Errorf("%s: after %s came %s, want %d", page, last, at, n)
			return
		}
		last = at
	}
	t.Errorf("%s: the walk does not end", page)
}
