package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator/testenv"
)

// TestTwoWindowsOnANewEvening: what a second window keeps does not stand in the place of
// what the first one kept: both are shown, one is picked, and neither is lost. The first one
// goes on with its own as often as it likes.
func TestTwoWindowsOnANewEvening(t *testing.T) {
	for _, pick := range []string{"over", "drop"} {
		b := newTable(t)
		first, second := formOf(t, b.get(evening)), formOf(t, b.get(evening))
		first.Set("f.title", "Ran it")
		first.Set("story", "Told in the first.")
		second.Set("f.title", "Ran it")
		second.Set("story", "Told in the second.")
		for n, more := range []string{"", " More.", " Still more."} {
			first.Set("story", "Told in the first."+more)
			first.Set("do", "keep")
			if w := b.post(evening, first); w.Code != http.StatusSeeOther {
				t.Fatalf("the first, %d: %d %s", n, w.Code, w.Body)
			}
		}
		const file = "machines/gannet/2026-11-28-ran-it.md"
		theirs := b.file(file)
		second.Set("do", "try")
		second.Set("turn", "5") // numbers of one window say nothing of another's
		if said := b.post(evening, second).Body.String(); !strings.Contains(said, "in another window") {
			t.Errorf("while typing it does not say so: %s", said)
		}
		second.Set("do", "keep")
		w := b.post(evening, second)
		if w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "Told in the first. Still more.") || !strings.Contains(w.Body.String(), "Told in the second.") {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		if b.file(file) != theirs {
			t.Fatal("the first was written over")
		}
		w = b.post(evening, url.Values{"base": {value(w.Body.String(), `name="base" value="`)}, "do": {pick}})
		if w.Code != http.StatusSeeOther {
			t.Fatalf("%s: %d %s", pick, w.Code, w.Body)
		}
		if pick == "drop" {
			if b.file(file) != theirs || w.Header().Get("Location") != "/desk/m/gannet/e/2026-11-28-ran-it.md" {
				t.Errorf("the other is not kept, or not shown: %s", w.Header().Get("Location"))
			}
		} else {
			if !strings.Contains(b.file(file), "Told in the second.") {
				t.Error("mine did not come")
			}
			b.undone("/desk/")
			if b.file(file) != theirs {
				t.Error("the first is not to be had back")
			}
		}
		if all, _ := afero.Glob(b.folder, "machines/gannet/2026-11-28*"); len(all) != 1 {
			t.Errorf("there are %v", all)
		}
		if w := b.ask(request(evening)); w.Header().Get("Location") != "/desk/m/gannet/e/2026-11-28-ran-it.md" {
			t.Errorf("the page gone back to is an empty one: %d", w.Code)
		}
	}
}

// TestTwoTabsInABrowser does the same by keys and clicks.
func TestTwoTabsInABrowser(t *testing.T) {
	ctx := testenv.Browser(t)
	b, at := served(t)
	other, stop := chromedp.NewContext(ctx)
	defer stop()
	tabs := []struct {
		story string
		do    func(steps ...chromedp.Action[chromedp.Void])
	}{
		{"Told in the first.", func(steps ...chromedp.Action[chromedp.Void]) { testenv.Do(t, ctx, steps...) }},
		{"Told in the second.", func(steps ...chromedp.Action[chromedp.Void]) { testenv.Do(t, other, steps...) }},
	}
	for n := len(tabs) - 1; n >= 0; n-- { // the second is opened before the first, and kept after it
		tabs[n].do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+evening), testenv.Shown("#story"))
	}
	for _, tab := range tabs {
		tab.do(testenv.Fill("#f-title", "Ran it"), testenv.Type("#story", tab.story))
	}
	tabs[0].do(testenv.Press(`button[value="keep"]`))
	comes(t, ctx, "that the first was kept", `document.querySelector('.said')?.textContent === 'Kept.'`)
	testenv.Do(t, other, testenv.Type("#story", " More."))
	comes(t, other, "that it was changed elsewhere", `document.getElementById('line').textContent.includes('in another window')`)
	tabs[1].do(testenv.Press(`button[value="keep"]`))
	comes(t, other, "both", `[...document.querySelectorAll('pre')].map((e) => e.textContent.includes('Told in the')).join() === 'true,true'`)
	tabs[1].do(testenv.Press(`button[value="over"]`))
	comes(t, other, "that mine was kept", `document.querySelector('.said')?.textContent === 'Kept.'`)
	const file = "machines/gannet/2026-11-28-ran-it.md"
	if text := b.file(file); !strings.Contains(text, "Told in the second. More.") {
		t.Errorf("the file says\n%s", text)
	}
	tabs[1].do(testenv.Press(`.undo button`))
	comes(t, other, "that it was undone", `document.querySelector('.said')?.textContent.startsWith('Undone')`)
	if text := b.file(file); !strings.Contains(text, "Told in the first.") {
		t.Errorf("the file says\n%s", text)
	}
}

func request(at string) *http.Request {
	r, err := http.NewRequest(http.MethodGet, at, nil)
	if err != nil {
		panic(err) // it is written above
	}
	return r
}
