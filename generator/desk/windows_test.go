package desk_test

import (
	"fmt"
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator/testenv"
)

// TestTwoWindowsOnANewEvening: what a second window keeps does not stand in the place of
// what the first one kept: both are shown, one is picked, and neither is lost. The first one
// goes on with its own as often as it likes.
func TestTwoWindowsOnANewEvening(t *testing.T) {
	for _, pick := range []string{"over", "theirs"} {
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
		if pick == "theirs" {
			if b.file(file) != theirs || w.Header().Get("Location") != "/desk/m/gannet/e/2026-11-28-ran-it.md?said=theirs" {
				t.Errorf("the other is not kept, or not shown: %s", w.Header().Get("Location"))
			}
			if page := b.get(w.Header().Get("Location")); !strings.Contains(page, "What you wrote stays in the folder .asleft/kept") {
				t.Error("it does not say where mine is")
			}
			if all := b.keptTexts(); len(all) != 1 || !strings.Contains(all[0], "Told in the second.") {
				t.Errorf("of what was not kept there is %q", all)
			}
		} else {
			if !strings.Contains(b.file(file), "Told in the second.") {
				t.Error("mine did not come")
			}
			b.undone("/desk/m/gannet")
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

// keptTexts are the texts that were put aside, the oldest first.
func (b *table) keptTexts() []string {
	b.t.Helper()
	names, err := afero.Glob(b.folder, ".asleft/kept/*.md")
	if err != nil {
		b.t.Fatal(err)
	}
	var all []string
	for _, name := range names {
		all = append(all, b.file(name))
	}
	return all
}

// TestADropIsNoLoss: what a dropped draft says stays among the kept files, of which there are
// not more and more.
func TestADropIsNoLoss(t *testing.T) {
	b := newTable(t)
	for n := range 310 {
		b.clock = now.Add(time.Duration(n) * time.Second)
		v := formOf(t, b.get(evening))
		v.Set("story", fmt.Sprintf("Told %d times.", n))
		v.Set("do", "try")
		b.post(evening, v)
		b.post(evening, url.Values{"do": {"drop"}})
	}
	all := b.keptTexts()
	if len(all) != 300 || !strings.Contains(all[len(all)-1], "Told 309 times.") {
		t.Errorf("there are %d, the last %q", len(all), all[max(0, len(all)-1):])
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
	testenv.Comes(t, ctx, "that the first was kept", `document.querySelector('.said')?.textContent === 'Kept.'`)
	testenv.Do(t, other, testenv.Type("#story", " More."))
	testenv.Comes(t, other, "that it was changed elsewhere", `document.getElementById('line').textContent.includes('in another window')`)
	tabs[1].do(testenv.Press(`button[value="keep"]`))
	testenv.Comes(t, other, "both", `[...document.querySelectorAll('pre')].map((e) => e.textContent.includes('Told in the')).join() === 'true,true'`)
	if got := testenv.Ask[string](t, other, `[...document.querySelectorAll('pre mark')].map((e) => e.textContent).join('|')`); got != "Told in the first.|Told in the second. More." {
		t.Errorf("it marks %q", got)
	}
	tabs[1].do(testenv.Press(`button[value="over"]`))
	testenv.Comes(t, other, "that mine was kept", `document.querySelector('.said')?.textContent === 'Kept.'`)
	const file = "machines/gannet/2026-11-28-ran-it.md"
	if text := b.file(file); !strings.Contains(text, "Told in the second. More.") {
		t.Errorf("the file says\n%s", text)
	}
	tabs[1].do(testenv.Press(`.undo button`))
	testenv.Comes(t, other, "that it was undone", `document.querySelector('.said')?.textContent.startsWith('Undone')`)
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

// TestAReloadSendsNothing: what every button of a form answers is the draft's own address,
// so that to load the page anew cannot send the form a second time.
func TestAReloadSendsNothing(t *testing.T) {
	b := newTable(t)
	for _, do := range []string{"look", "keep", "more f.parts", "start", "stop", "find", "test f.tests.0", "add-test compression", "drop-test f.tests.0"} {
		v := formOf(t, b.get(evening))
		v.Set("f.date", "Feb 31")
		v.Set("f.title", "After "+do)
		v.Set("do", do)
		w := b.post(evening, v)
		if to := w.Header().Get("Location"); w.Code != http.StatusSeeOther || !strings.HasPrefix(to, evening) {
			t.Errorf("%s: %d %q", do, w.Code, to)
		}
		if title := formOf(t, b.get(evening)).Get("f.title"); title != "After "+do {
			t.Errorf("%s: the draft is %q", do, title)
		}
	}
}

// TestAnOlderForm: a form that was filled in before the draft was written in another window
// does not write over it; both are shown, and either can be gone on with.
func TestAnOlderForm(t *testing.T) {
	for _, pick := range []string{"mine", "newer"} {
		b := newTable(t)
		old, next := formOf(t, b.get(evening)), formOf(t, b.get(evening))
		next.Set("story", "The newer one.")
		next.Set("do", "try")
		b.post(evening, next)
		old.Set("story", "The older one.")
		old.Set("do", "try")
		if said := b.post(evening, old).Body.String(); !strings.Contains(said, "in another window") {
			t.Errorf("while typing it does not say so: %s", said)
		}
		for _, do := range []string{"look", "keep", "more f.parts", "test f.tests.0", "photos", "drop"} {
			old.Set("do", do)
			w := b.post(evening, old)
			if told := w.Body.String(); do != "drop" && (w.Code != http.StatusConflict || !strings.Contains(told, "The newer one.") || !strings.Contains(told, "The older one.")) {
				t.Errorf("%s: %d %s", do, w.Code, told)
			}
			if story := formOf(t, b.get(evening)).Get("story"); !strings.Contains(story, "The newer one.") {
				t.Fatalf("%s: the draft says %q", do, story)
			}
		}
		next.Set("story", "The newer one, and more.") // its own page goes on
		next.Set("do", "try")
		b.post(evening, next)
		old.Set("do", "look")
		page := b.post(evening, old).Body.String()
		_, raw, _ := strings.Cut(page, `<textarea name="raw" hidden>`)
		raw, _, _ = strings.Cut(raw, "</textarea>")
		do := map[string]string{"mine": "go-on", "newer": "newer"}[pick]
		b.sent(evening, url.Values{"base": {""}, "from": {value(page, `name="from" value="`)}, "window": {""}, "raw": {html.UnescapeString(raw)}, "do": {do}})
		lost := map[string]string{"mine": "The newer one, and more.", "newer": "The older one."}[pick]
		if all := b.keptTexts(); len(all) != 1 || !strings.Contains(all[0], lost) {
			t.Errorf("%s: of what was not picked there is %q", pick, all)
		}
		want := map[string]string{"mine": "The older one.", "newer": "The newer one, and more."}[pick]
		if story := formOf(t, b.get(evening)).Get("story"); !strings.Contains(story, want) {
			t.Errorf("%s: the draft says %q", pick, story)
		}
	}
}

// TestReloadInABrowser chooses a bench test, goes on writing, and loads the page anew: all of
// it is there, and the page begins at the fields of the test.
func TestReloadInABrowser(t *testing.T) {
	ctx := testenv.Browser(t)
	_, at := served(t)
	testenv.Do(t, ctx, chromedp.EmulateViewport(390, 844), chromedp.Navigate(at+evening), testenv.Fill("#f-date", ""))
	testenv.Ask[bool](t, ctx, `document.querySelectorAll('details').forEach((d) => d.open = true), true`)
	testenv.Do(t, ctx, testenv.Fill("#f-tests-0-test", "compression"))
	testenv.Comes(t, ctx, "the fields of the test", `document.activeElement?.name === 'f.tests.0.dry' && document.activeElement.getBoundingClientRect().top > 0 && document.activeElement.getBoundingClientRect().bottom < innerHeight`)
	if wrong := testenv.Ask[string](t, ctx, `[...document.querySelectorAll('.wrong')].filter((e) => !e.hidden).map((e) => e.textContent).join()`); wrong != "" {
		t.Errorf("what nobody has touched is called wrong: %s", wrong)
	}
	testenv.Do(t, ctx, testenv.Type("#f-tests-0-dry", "41 psi"), testenv.Type("#f-title", "Dry and wet"))
	testenv.Comes(t, ctx, "the draft", `document.getElementById('line').textContent.startsWith('Draft kept')`)
	testenv.Do(t, ctx, chromedp.Reload())
	testenv.Comes(t, ctx, "all of it", `document.getElementById('f-tests-0-dry')?.value === '41 psi' && document.getElementById('f-title').value === 'Dry and wet'`)
}
