package generator_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/testenv"
	"asleft/themes"
)

// phone is the screen that a report is read on in a yard, in px.
const phoneWide, phoneHigh = 390, 844

// screens are heights on a phone, counted in its screens: of the whole page, of the
// front sheet, and of what stands down to its end.
type screens struct{ Page, Front, End float64 }

// The measures of a report that is read in a minute, on a phone: nine screens and
// two for the front sheet on the example's tiller, twenty for its story; two and a
// half for the front sheet of a machine of which nobody checked a safety point, and
// of one with fourteen defects.
func TestScreensOfAPhone(t *testing.T) {
	ctx := testenv.Browser(t)
	testenv.Do(t, ctx, chromedp.EmulateViewport(phoneWide, phoneHigh, chromedp.EmulateMobile))
	measure := func(address string) screens {
		testenv.Do(t, ctx, chromedp.Navigate(address))
		return screens{
			Page:  testenv.Ask[float64](t, ctx, `document.scrollingElement.scrollHeight / 844`),
			Front: testenv.Ask[float64](t, ctx, `(document.getElementById("front")?.getBoundingClientRect().height ?? 0) / 844`),
			End:   testenv.Ask[float64](t, ctx, `((document.getElementById("front")?.getBoundingClientRect().bottom ?? 0) + scrollY) / 844`),
		}
	}
	for _, theme := range builtIn(t) {
		root, _ := served(t, theme)
		for _, c := range []struct {
			path string
			most screens
		}{
			{"/machines/harrow/condition/", screens{9, 2, 2.4}},
			{"/machines/harrow/", screens{20, 0, 0}},
			{"/machines/gannet/condition/", screens{9, 2.2, 2.6}},
		} {
			got := measure(root + c.path)
			t.Logf("%s, %s: %.2f", theme, c.path, got)
			if got.Page > c.most.Page || got.Front > c.most.Front || got.End > c.most.End || got.Page < 2 {
				t.Errorf("%s, %s: %.2f screens, the front sheet %.2f and down to %.2f; want %v", theme, c.path, got.Page, got.Front, got.End, c.most)
			}
		}
		twelve, _ := serve(t, madeFrom(t, twelveEvenings(t), afero.NewMemMapFs(), generator.Options{Theme: themes.Named(theme)}))
		if got := measure(twelve + "/machines/mower/condition/"); got.Page > 9 || got.Front > 2 || got.Front < 0.5 {
			t.Errorf("%s, twelve evenings: %.2f", theme, got)
		} else {
			t.Logf("%s, twelve evenings: %.2f", theme, got)
		}
		hard, _ := serve(t, madeFrom(t, hardShop(t), afero.NewMemMapFs(), generator.Options{Theme: themes.Named(theme)}))
		for _, key := range []string{"unchecked", "defects"} {
			got := measure(hard + "/machines/" + key + "/condition/")
			t.Logf("%s, %s: %.2f", theme, key, got)
			if got.Front > 2.5 || got.Front < 0.5 {
				t.Errorf("%s, %s: the front sheet takes %.2f screens", theme, key, got.Front)
			}
		}
	}
}

// hardShop has a machine of which nobody checked any of some 25 safety points, and
// one with fourteen defects.
func hardShop(t *testing.T) afero.Fs {
	t.Helper()
	var defects strings.Builder
	for i, part := range []string{"seat", "hood", "choke cable", "left lamp", "drive belt", "deck belt", "idler", "muffler", "fuel cap", "tank strap", "brake rod", "tie rod", "left tire", "battery post"} {
		fmt.Fprintf(&defects, "  - {key: d%d, defect: %s is cracked and loose, effect: it shakes and may come off, system: %s, safety: %s}\n",
			i, part, []string{"frame", "controls", "electrical", "drive"}[i%4], []string{"no", "yes"}[i%2])
	}
	return memoryShop(t, map[string]string{
		"shop.md":                       "---\nshop: Hard shop\ncurrency: USD\n---\n",
		"machines/unchecked/machine.md": "---\nname: Unchecked rider\nkind: ride-on mower\narrived: 2026-03-01\nstage: for sale\nasking: 100.00\n---\n",
		"machines/unchecked/a.md":       "---\ndate: 2026-03-02\ntitle: It came\n---\nNobody looked.\n",
		"machines/defects/machine.md":   "---\nname: Loose rider\nkind: leaf blower\narrived: 2026-03-01\nstage: for sale\nasking: 100.00\n---\n",
		"machines/defects/a.md":         "---\ndate: 2026-03-02\ntitle: It came\ndefects:\n" + defects.String() + "---\nAll of it is loose.\n",
	})
}
