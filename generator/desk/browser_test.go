package desk_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/desk/access"
	"asleft/generator/publish/farend"
	"asleft/generator/testenv"
)

// served is a desk over a copy of the example, at an address of this computer.
func served(t *testing.T) (b *table, address string) {
	t.Helper()
	b = newTable(t)
	return b, listening(t, b.desk)
}

// listening serves a desk at an address of this computer.
func listening(t *testing.T, d *desk.Desk) (address string) {
	t.Helper()
	return serving(t, d.Handler)
}

// serving serves what is made for an address of this computer.
func serving(t *testing.T, handler func(hosts ...string) http.Handler) (address string) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- access.Serve(ctx, handler(l.Addr().String()), l) }()
	t.Cleanup(func() {
		stop()
		<-ended
	})
	return "http://" + l.Addr().String()
}

// TestAPressIsNotLost presses a button on its lower edge while the help of a field above it
// shows, which goes with the focus: the button must not move away under the mouse.
func TestAPressIsNotLost(t *testing.T) {
	ctx := testenv.Browser(t)
	_, at := served(t)
	testenv.Do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+"/desk/m/gannet/new"))
	testenv.Comes(t, ctx, "the form", `!!document.getElementById('f-title')`)
	testenv.Do(t, ctx, testenv.Press(`#defects > summary`), testenv.Press(`[data-list="f.defects"] > .more`), testenv.Type(`#f-defects-1-defect`, "worn"))
	rows := func() int {
		return testenv.Ask[int](t, ctx, `document.querySelectorAll('[data-list="f.defects"] .row').length`)
	}
	before := rows()
	testenv.Comes(t, ctx, "the help", `document.querySelector('#f-defects-1-defect').closest('.box').querySelector('.help').checkVisibility()`)
	edge := testenv.Ask[[2]float64](t, ctx, `(() => {
		const e = document.querySelector('[data-list="f.defects"] > .more');
		e.scrollIntoView({block: 'center', behavior: 'instant'});
		const r = e.getBoundingClientRect();
		return [r.left + 20, r.bottom - 3] })()`)
	testenv.Do(t, ctx, chromedp.MouseClickXY(edge[0], edge[1]))
	if got := rows(); got != before+1 {
		t.Errorf("%d rows after the press, %d before", got, before)
	}
	testenv.Comes(t, ctx, "no help without the focus", `!document.querySelector('#f-defects-1-defect').closest('.box').querySelector('.help').checkVisibility()`)
}

// TestWhatIsUnfoldedStaysSo asks for the page of an evening anew, with a part unfolded.
func TestWhatIsUnfoldedStaysSo(t *testing.T) {
	ctx := testenv.Browser(t)
	_, at := served(t)
	testenv.Do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+"/desk/m/gannet/new"))
	testenv.Comes(t, ctx, "the form", `!!document.getElementById('f-title')`)
	testenv.Do(t, ctx, testenv.Type(`#f-title`, "New belt"), testenv.Press(`#parts > summary`))
	testenv.Comes(t, ctx, "the parts", `document.getElementById('parts').open && !document.getElementById('service').open`)
	testenv.Ask[bool](t, ctx, `document.querySelector('button[value="look"]').click(), true`)
	testenv.Comes(t, ctx, "the page anew", `location.search.includes('look=1')`)
	testenv.Comes(t, ctx, "the parts as before", `document.getElementById('parts').open && !document.getElementById('service').open`)
	testenv.Ask[bool](t, ctx, `document.body.dataset.before = 'yes', true`)
	testenv.Do(t, ctx, testenv.Type(`#f-title`, ", ran it\r"))
	testenv.Comes(t, ctx, "the page anew, with the keyboard where it was", `!document.body.dataset.before && document.activeElement?.id === 'f-title'`)
}

// TestAnEveningInABrowser writes an evening by clicks and keys: the draft is on the disk
// soon after the keys, the report beside follows, and what is kept is in the log.
// Who types before the script of a new page has come is not taken to another field.
func TestWhoTypesAlreadyStays(t *testing.T) {
	ctx := testenv.Browser(t)
	b := newTable(t)
	var slow atomic.Bool
	come := make(chan struct{})
	at := serving(t, func(hosts ...string) http.Handler {
		desk := b.desk.Handler(hosts...)
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if slow.Load() && strings.HasSuffix(r.URL.Path, ".js") {
				<-come
			}
			desk.ServeHTTP(w, r)
		})
	})
	testenv.Do(t, ctx, chromedp.Navigate(at+"/desk/m/gannet/new"))
	testenv.Comes(t, ctx, "the form", `!!document.getElementById('f-title')`)
	testenv.Do(t, ctx, testenv.Press(`#measured > summary`), testenv.Type("#find", "leak-down"), testenv.Press(`button[value="find"]`))
	testenv.Comes(t, ctx, "the tests", `!!document.querySelector('button[value="add-test leak-down"]')`)
	slow.Store(true)
	testenv.Do(t, ctx, testenv.Press(`button[value="add-test leak-down"]`), testenv.Type(`[name="f.tests.0.cylinder"]`, "81"))
	close(come)
	testenv.Comes(t, ctx, "the script", `[...document.querySelectorAll('.remove')].some((e) => !e.hidden)`)
	testenv.Do(t, ctx, chromedp.KeyEvent(" psi"))
	if got := testenv.Ask[string](t, ctx, `document.querySelector('[name="f.tests.0.cylinder"]').value`); got != "81 psi" {
		t.Errorf("%q came where it was typed", got)
	}
}

func TestAnEveningInABrowser(t *testing.T) {
	ctx := testenv.Browser(t)
	b, at := served(t)
	testenv.Do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+"/desk/"))
	testenv.Ask[bool](t, ctx, `document.querySelector('a[href="/desk/m/gannet/new"]').click(), true`)
	testenv.Comes(t, ctx, "the form", `!!document.getElementById('f-title')`)
	testenv.Do(t, ctx,
		testenv.Type(`#f-title`, "New plug"),
		testenv.Type(`#story`, "The old one was fouled."),
		testenv.Press(`#defects > summary`),
		testenv.Press(`[data-list="f.defects"] > .more`),
		testenv.Type(`#f-defects-1-defect`, "fuel cap does not vent"),
	)
	testenv.Comes(t, ctx, "the draft", `document.getElementById('line').textContent.startsWith('Draft kept')`)
	testenv.Do(t, ctx, testenv.Press(`button[value="keep"]`))
	testenv.Comes(t, ctx, "what is missing of the defect, at its field", `[...document.querySelectorAll('[data-wrong^="f.defects.0"]')].some((e) => !e.hidden && e.textContent.length > 10)`)
	drafts, _ := afero.Glob(b.folder, ".asleft/desk/*.json")
	if len(drafts) != 1 {
		t.Fatalf("drafts: %v", drafts)
	}
	testenv.Ask[bool](t, ctx, `(() => {
		for (const [id, value] of [['system', 'fuel'], ['safety', 'yes']]) {
			const e = document.getElementById('f-defects-0-' + id);
			e.value = value;
			e.dispatchEvent(new Event('input', {bubbles: true}));
		}
		return true })()`)
	testenv.Comes(t, ctx, "the defect in the report beside", `document.getElementById('report').contentDocument.body.textContent.toLowerCase().includes('fuel cap does not vent')`)
	testenv.Do(t, ctx, testenv.Press(`button[value="keep"]`))
	testenv.Comes(t, ctx, "that it was kept", `document.querySelector('.said')?.textContent === 'Kept.'`)
	text := b.file("machines/gannet/2026-11-28-new-plug.md")
	for _, want := range []string{"title: New plug", "key: fuel-cap-does-not", "fuel cap does not vent", "safety: yes", "The old one was fouled."} {
		if !strings.Contains(text, want) {
			t.Errorf("the file does not say %q:\n%s", want, text)
		}
	}
	if drafts, _ = afero.Glob(b.folder, ".asleft/desk/*.json"); len(drafts) != 0 {
		t.Errorf("drafts are left: %v", drafts)
	}
}

// TestUnitsAreOffered: a reading and a limit are offered the units in which such a thing was
// measured, on this machine or on another of the shop, with the number that was typed.
func TestUnitsAreOffered(t *testing.T) {
	ctx := testenv.Browser(t)
	_, at := served(t)
	const offered = `[...document.getElementById('units')?.options ?? []].map((o) => o.value).join()`
	for _, c := range []struct{ page, row, field string }{
		{"/desk/m/gannet", "f.limits", "limit"},
		{"/desk/m/gannet/new/20261128T193000-abcdef", "f.measured", "value"},
	} {
		testenv.Do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+c.page))
		testenv.Ask[bool](t, ctx, `document.querySelectorAll("details").forEach((d) => d.open = true), [...document.querySelectorAll("body *")].filter((e) => getComputedStyle(e).position === "sticky").forEach((e) => e.style.position = "static"), true`) // what lies half below a bar that stays is not small: it scrolls
		testenv.Do(t, ctx, testenv.Press(`[data-list="`+c.row+`"] > .more`))
		last := `[data-list="` + c.row + `"] .row:last-child `
		testenv.Do(t, ctx, testenv.Fill(last+`[name$=".what"]`, "Compression"), testenv.Type(last+`[name$=".`+c.field+`"]`, "60"))
		testenv.Comes(t, ctx, "the units of "+c.row, offered+`.includes('60 psi') && `+offered+`.includes('60 kPa')`)
	}
}

// deskPages are one of each kind.
var deskPages = []string{"/desk/", "/desk/shop", "/desk/m/gannet", "/desk/m/harrow/e/2026-03-23-carburetor.md", "/desk/m/gannet/new/20261128T193000-abcdef", "/desk/m/gannet/list/20261128T193000-abcdef", "/desk/m/harrow/seal", "/desk/new/20261128T193000-abcdef", "/desk/new/20261128T193000-abcdef?look=1"}

// TestANoteInABrowser types a note at a point of the list: it is in the draft before any
// button is pressed, and Skip and Back keep it too.
func TestANoteInABrowser(t *testing.T) {
	ctx := testenv.Browser(t)
	b, at := served(t)
	walk := b.walkOf("gannet")
	note := func() string {
		data, err := afero.ReadFile(b.folder, ".asleft/desk/machines~gannet~new-"+walk[strings.LastIndex(walk, "/")+1:]+".json")
		var dr struct{ Text []byte }
		if err != nil || json.Unmarshal(data, &dr) != nil {
			return ""
		}
		return string(dr.Text)
	}
	testenv.Do(t, ctx, chromedp.EmulateViewport(390, 844), chromedp.Navigate(at+walk), testenv.Shown("#note"), testenv.Type("#note", "Rust at the pin."))
	for until := time.Now().Add(20 * time.Second); !strings.Contains(note(), "note: Rust at the pin"); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(until) {
			t.Fatalf("the draft says %q", note())
		}
	}
	testenv.Do(t, ctx, testenv.Type("#note", " Cleaned."), testenv.Press(`button[value="next"]`))
	testenv.Comes(t, ctx, "the next point", `location.search === '?n=1' && document.getElementById('note').value === ''`)
	testenv.Do(t, ctx, testenv.Press(`button[value="before"]`))
	testenv.Comes(t, ctx, "the note", `location.search === '?n=0' && document.getElementById('note').value === 'Rust at the pin. Cleaned.'`)
	testenv.Do(t, ctx, testenv.Press(`button[value="works"]`))
	testenv.Comes(t, ctx, "the next point again", `location.search === '?n=1'`)
	testenv.Do(t, ctx, testenv.Press(`button[value="evening"]`))
	testenv.Comes(t, ctx, "the evening", `document.querySelector('[name="f.checks.0.note"]')?.value === 'Rust at the pin. Cleaned.' && document.querySelector('[name="f.checks.0.result"]').value === 'works'`)
}

// WCAG 2.2 A and AA as axe-core checks them, at phone and desk width, in light and in
// dark; nothing runs out of the page, and what a finger is to hit is large enough.
func TestDeskPagesAreAccessible(t *testing.T) {
	axe, err := os.ReadFile(testenv.Module(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	ctx := testenv.Browser(t)
	_, at := served(t)
	type shown struct{ at, page string }
	var all []shown
	for _, page := range deskPages {
		all = append(all, shown{at, page})
	}
	for _, do := range []string{"look", "bring"} { // what is new, and a question
		b, far := onADisk(t, farend.Options{}), t.TempDir()
		if err := os.WriteFile(filepath.Join(far, "index.html"), []byte("Hers."), 0o644); err != nil {
			t.Fatal(err)
		}
		b.goesTo(map[string]string{"way": "folder", "folder": far})
		b.do(do)
		at := listening(t, b.desk)
		all = append(all, shown{at, publishAt}, shown{at, placeAt}, shown{at, "/desk/shop"})
	}
	const check = `axe.run(document, {runOnly: ['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']}).then(
		(r) => r.violations.map((v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(' | ')))`
	for _, one := range all {
		at, page := one.at, one.page
		for _, width := range []int64{390, 1280} {
			for _, scheme := range []string{"light", "dark"} {
				testenv.Do(t, ctx, chromedp.EmulateViewport(width, 900), testenv.Prefers(scheme), chromedp.Navigate(at+page))
				testenv.Ask[bool](t, ctx, `document.querySelectorAll("details").forEach((d) => d.open = true), [...document.querySelectorAll("body *")].filter((e) => getComputedStyle(e).position === "sticky").forEach((e) => e.style.position = "static"), true`) // what lies half below a bar that stays is not small: it scrolls
				testenv.Ask[bool](t, ctx, string(axe)+"; true")
				for _, v := range testenv.Ask[[]string](t, ctx, check) {
					t.Errorf("%s at %d, %s: %s", page, width, scheme, v)
				}
				if out := testenv.Ask[float64](t, ctx, `document.documentElement.scrollWidth - innerWidth`); out > 0 {
					t.Errorf("%s at %d: %v px beyond the page", page, width, out)
				}
			}
		}
	}
}

// TestTheWayToAFaultOnAPhone: after “Keep it” the first fault is in sight and has the focus,
// and one press leads to the next, also where its part was folded meanwhile. What is mended
// leaves the list.
func TestTheWayToAFaultOnAPhone(t *testing.T) {
	ctx := testenv.Browser(t)
	_, at := served(t)
	const insight = `(() => { const e = document.activeElement, r = e.getBoundingClientRect(); return r.top >= 30 && r.bottom <= document.querySelector('.foot').getBoundingClientRect().top ? e.id : '' })()`
	testenv.Do(t, ctx, chromedp.EmulateViewport(390, 844), chromedp.Navigate(at+evening), testenv.Shown("#story"))
	testenv.Ask[bool](t, ctx, `document.querySelectorAll("details").forEach((d) => d.open = true), [...document.querySelectorAll("body *")].filter((e) => getComputedStyle(e).position === "sticky").forEach((e) => e.style.position = "static"), true`) // what lies half below a bar that stays is not small: it scrolls
	testenv.Do(t, ctx, testenv.Type("#f-title", "Bad"), testenv.Type("#f-measured-0-what", "compression"), testenv.Type("#f-measured-0-value", "many"),
		testenv.Type("#f-defects-0-defect", "seat torn"), testenv.Press(`button[value="keep"]`))
	testenv.Comes(t, ctx, "the first fault in sight", insight+` === 'f-measured-0-value'`)
	testenv.Ask[bool](t, ctx, `document.querySelector('#defects').open = false, true`)
	testenv.Do(t, ctx, testenv.Press(`#faults a[href="#f-defects-0-safety"]`))
	testenv.Comes(t, ctx, "the second", insight+` === 'f-defects-0-safety'`)
	had := testenv.Ask[int](t, ctx, `document.querySelectorAll('#faults li').length`)
	testenv.Do(t, ctx, testenv.Fill("#f-defects-0-safety", "no"))
	testenv.Comes(t, ctx, "one less", fmt.Sprintf(`document.querySelectorAll('#faults li').length === %d && !document.querySelector('[data-fault="f.defects.0.safety"]')`, had-1))
}

// TestTheDeskIsGoneForAWhile stops the desk in the middle of a form: a press puts no page of
// the browser's in its place, and what was typed comes to the disk when the desk is back,
// though nobody types again.
func TestTheDeskIsGoneForAWhile(t *testing.T) {
	ctx := testenv.Browser(t)
	b := newTable(t)
	var gone atomic.Bool
	at := serving(t, func(hosts ...string) http.Handler {
		desk := b.desk.Handler(hosts...)
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if gone.Load() {
				panic(http.ErrAbortHandler) // it hangs up
			}
			desk.ServeHTTP(w, r)
		})
	})
	testenv.Do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+evening), testenv.Shown("#story"))
	testenv.Do(t, ctx, testenv.Type("#story", "Before."))
	testenv.Comes(t, ctx, "the draft", `document.getElementById('line').textContent.startsWith('Draft kept')`)
	gone.Store(true)
	testenv.Do(t, ctx, testenv.Type("#story", " While it was gone."))
	testenv.Ask[bool](t, ctx, `document.getElementById('line').textContent = '', true`)
	testenv.Do(t, ctx, testenv.Press(`button[value="keep"]`))
	testenv.Comes(t, ctx, "that it does not answer", `document.getElementById('line').textContent.includes('does not answer') && document.getElementById('story').value === 'Before. While it was gone.'`)
	gone.Store(false)
	testenv.Comes(t, ctx, "the draft, by itself", `document.getElementById('line').textContent.startsWith('Draft kept')`)
	testenv.Do(t, ctx, chromedp.Navigate(at+evening), testenv.Shown("#story"))
	if got := testenv.Ask[string](t, ctx, `document.getElementById('story').value`); got != "Before. While it was gone." {
		t.Errorf("the draft says %q", got)
	}
	testenv.Do(t, ctx, testenv.Press(`button[value="keep"]`))
	testenv.Comes(t, ctx, "that it was kept", `document.querySelector('.said')?.textContent === 'Kept.'`)

	// A form without a draft stays too.
	testenv.Do(t, ctx, chromedp.Navigate(at+"/desk/m/gannet/list"), testenv.Shown("#note"), testenv.Type("#note", "Cracked."))
	gone.Store(true)
	testenv.Do(t, ctx, testenv.Press(".thumbs button"))
	testenv.Comes(t, ctx, "why it stays", `document.querySelector('#walk .lost')?.textContent.includes('does not answer') && document.getElementById('note').value === 'Cracked.'`)
	gone.Store(false)
	was := testenv.Ask[string](t, ctx, `document.querySelector('h1').textContent`)
	testenv.Do(t, ctx, testenv.Press(".thumbs button"))
	testenv.Comes(t, ctx, "the next point", fmt.Sprintf(`!!document.querySelector('h1') && document.querySelector('h1').textContent !== %q`, was))
}
