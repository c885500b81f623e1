package phone

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"net"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"asleft/generator/testenv"
)

// browser starts a real browser of a phone's width.
func browser(t *testing.T) context.Context {
	t.Helper()
	ctx := testenv.Browser(t)
	testenv.Do(t, ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile))
	return ctx
}

// form opens the form of a machine and waits for the script.
func form(t *testing.T, ctx context.Context, root, key string) {
	t.Helper()
	testenv.Do(t, ctx, chromedp.Navigate(root+"/desk/m/"+key+"/new"), testenv.Shown("#story"))
	testenv.Comes(t, ctx, "the script", `document.querySelector('form[data-ready]') !== null`)
}

// shot keeps a picture of the page where ASLEFT_SHOTS names a folder.
func shot(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("ASLEFT_SHOTS")
	if dir == "" {
		return
	}
	pic, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), pic, 0o600); err != nil {
		t.Fatal(err)
	}
}

// slowly makes the browser's line as slow as an old phone's in a shed: 400 ms
// there and back, 100 kB a second.
func slowly(on bool) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		if _, err := cdp.Call(ctx, target, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		c := &network.Conditions{Latency: 0, DownloadThroughput: -1, UploadThroughput: -1}
		if on {
			c = &network.Conditions{Latency: 400, DownloadThroughput: 100_000, UploadThroughput: 100_000}
		}
		_, err := cdp.Call(ctx, target, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{c}})
		return err
	})
}

// A wire is a line between phone and server that can be cut.
type wire struct {
	net.Listener
	mu    sync.Mutex
	dead  bool
	lines []net.Conn
}

// newWire leads to a server that counts the bytes that came through.
func newWire(t *testing.T, to string) *wire {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	w := &wire{Listener: l}
	t.Cleanup(func() { w.cut(true); _ = l.Close() })
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			far, err := net.Dial("tcp", to)
			if err != nil || !w.keep(c, far) {
				_ = c.Close()
				continue
			}
			go func() { _, _ = io.Copy(far, c); _ = far.Close() }()
			go func() { _, _ = io.Copy(c, far); _ = c.Close() }()
		}
	}()
	return w
}

func (w *wire) keep(c, far net.Conn) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.dead {
		_ = far.Close()
		return false
	}
	w.lines = append(w.lines, c, far)
	return true
}

func (w *wire) cut(dead bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.dead = dead
	if dead {
		for _, c := range w.lines {
			_ = c.Close()
		}
		w.lines = nil
	}
}

// wired puts a wire in front of the stand, and has it answer at the wire's
// address only.
func wired(t *testing.T, s *stand) (*wire, string) {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	w := newWire(t, server.Listener.Addr().String())
	server.Config.Handler = s.base.Handler(w.Addr().String())
	server.Start()
	t.Cleanup(server.Close)
	return w, "http://" + w.Addr().String()
}

// noise is a photo of some hundred kilobytes.
func noise(t *testing.T, seed uint64) []byte {
	t.Helper()
	random := rand.New(rand.NewPCG(seed, 1)) //nolint:gosec // a picture
	pic := image.NewRGBA(image.Rect(0, 0, 900, 600))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(random.IntN(256)) //nolint:gosec // below 256
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, pic, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func photoFile(t *testing.T, data []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "IMG_0042.jpg")
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// letIn types the code as a person would.
func letIn(t *testing.T, ctx context.Context, s *stand, root string) {
	t.Helper()
	testenv.Do(t, ctx, chromedp.Navigate(root+"/phone/"), testenv.Shown("#code"))
	shot(t, ctx, "pair")
	code, _ := s.code()
	testenv.Do(t, ctx, testenv.Type("#code", code), testenv.Press("button.main"), testenv.Shown(".cards"))
}

const aLine = `document.getElementById('news').innerText`

// unfold opens all parts of the page.
func unfold(t *testing.T, ctx context.Context) {
	t.Helper()
	testenv.Ask[bool](t, ctx, `document.querySelectorAll('details').forEach((d) => d.open = true), true`)
}

func TestAnEveningOnAPhone(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	_, root := wired(t, s)
	letIn(t, ctx, s, root)
	shot(t, ctx, "machines")
	before := s.files()
	testenv.Do(t, ctx, testenv.Press(`a[href="/desk/m/harrow/new"]`), testenv.Shown("#story"))
	testenv.Comes(t, ctx, "the script", `document.querySelector('form[data-ready]') !== null`)
	unfold(t, ctx)
	shot(t, ctx, "form")
	testenv.Do(t, ctx, testenv.Press("button.start"))
	testenv.Comes(t, ctx, "the clock", `document.querySelector('[name="f.hours.0.from"]').value !== '' && document.getElementById('clock').classList.contains('running')`)
	testenv.Do(t, ctx,
		testenv.Type("#story", "Seal in, an hour of tilling."), testenv.Type("#f-by", "RT"),
		testenv.Attach("#photo", photoFile(t, picture(t, 700, 40))))
	testenv.Comes(t, ctx, "the photo", `document.querySelector('#held .photo span').innerText === 'here'`)
	testenv.Do(t, ctx, testenv.Type("#held .photo input", "the seal"))

	// The page is loaded anew: nothing typed is lost, the clock runs, the photo is there.
	form(t, ctx, root, "harrow")
	testenv.Comes(t, ctx, "what was typed", `document.getElementById('story').value === 'Seal in, an hour of tilling.' && document.getElementById('f-by').value === 'RT' && document.querySelector('#held .photo input').value === 'the seal' && document.getElementById('clock').classList.contains('running')`)

	testenv.Ask[bool](t, ctx, `(() => { document.querySelector('[name="f.hours.0.from"]').value = new Date(Date.now() - 3600e3).toTimeString().slice(0, 5); return true })()`)
	testenv.Do(t, ctx, testenv.Press("button.stop"))
	testenv.Comes(t, ctx, "the end of the work", `document.querySelector('[name="f.hours.0.to"]').value !== ''`)
	testenv.Ask[bool](t, ctx, `(() => { for (const d of document.querySelectorAll('details')) d.open = true; return true })()`)
	testenv.Ask[bool](t, ctx, `(() => { [...document.querySelectorAll('fieldset.point')].find(f => f.innerText.includes('let go')).querySelector('.choices label').click(); return true })()`)
	// Tapped twice is not answered.
	const second = `[...document.querySelectorAll('fieldset.point')][3]`
	testenv.Ask[bool](t, ctx, `(() => { const l = `+second+`.querySelectorAll('.choices label')[1]; l.click(); l.click(); return true })()`)
	if testenv.Ask[bool](t, ctx, second+`.querySelector(':checked') !== null`) {
		t.Error("an answer cannot be taken back")
	}
	testenv.Do(t, ctx, testenv.Type(`[name="f.measured.0.what"]`, "compression"), testenv.Type(`[name="f.measured.0.value"]`, "62 psi"), testenv.Press(`[data-list="f.measured"] > .more`))
	testenv.Comes(t, ctx, "a second row", `document.querySelectorAll('[name^="f.measured."][name$=".gauge"]').length === 2`)
	shot(t, ctx, "filled")
	if wide := testenv.Ask[int](t, ctx, `document.scrollingElement.scrollWidth`); wide > 390 {
		t.Errorf("the form is %d px wide", wide)
	}
	small := testenv.Ask[[]string](t, ctx, `[...document.querySelectorAll('button, select, textarea, summary, input:not([type=hidden]), .choices label, .pick, .tick')].filter(e => !e.closest('.unseen, .choices') || e.localName === 'label').filter(e => e.checkVisibility() && !['file','radio','checkbox'].includes(e.type) && !e.classList.contains('unseen') && e.getBoundingClientRect().height < 44).map(e => e.outerHTML.slice(0, 60))`)
	if len(small) > 0 {
		t.Errorf("targets below 44 px: %v", small)
	}
	// A reading that cannot be read: told, and nothing lost.
	testenv.Do(t, ctx, testenv.Fill(`[name="f.measured.0.value"]`, "62 pounds"), testenv.Press("button[value=keep]"), testenv.Shown(`[name="f.measured.0.value"][aria-invalid=true]`))
	shot(t, ctx, "found")
	testenv.Comes(t, ctx, "the way to it, where the page is", `document.activeElement.name === 'f.measured.0.value'`)
	if ways := testenv.Ask[[]string](t, ctx, `[...document.querySelectorAll('#faults li')].map(li => li.querySelector('a').innerText + ' ' + li.querySelector('a').hash)`); !slices.Equal(ways, []string{"Reading (Readings) #f-measured-0-value"}) {
		t.Errorf("the ways to what is wrong are %q", ways)
	}
	testenv.Ask[bool](t, ctx, `(() => { document.activeElement.blur(); document.getElementById('measured').open = false; document.querySelector('#faults a').click(); return true })()`)
	testenv.Comes(t, ctx, "the field that the way leads to", `document.activeElement.name === 'f.measured.0.value' && document.getElementById('measured').open`)
	testenv.Comes(t, ctx, "the photo again", `document.querySelectorAll('#held .photo').length === 1 && document.getElementById('story').value === 'Seal in, an hour of tilling.'`)
	testenv.Ask[bool](t, ctx, `(() => { for (const d of document.querySelectorAll('details')) d.open = true; return true })()`)
	testenv.Do(t, ctx, testenv.Fill(`[name="f.measured.0.value"]`, "62 psi"), testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the end", `document.querySelector('.said') && document.querySelector('.said').innerText === 'Kept.'`)
	shot(t, ctx, "saved")
	fresh := s.fresh(before)
	var text string
	for name, data := range fresh {
		if strings.HasSuffix(name, ".md") {
			text = data
		}
	}
	if len(fresh) != 2 {
		t.Errorf("there are new files %v", keys(fresh))
	}
	for _, want := range []string{"by: RT", "62 psi", "the seal", "result: works", "title: Seal in, an hour of tilling"} {
		if !strings.Contains(strings.ReplaceAll(text, `"`, ""), want) {
			t.Errorf("the entry lacks %q:\n%s", want, text)
		}
	}
	form(t, ctx, root, "harrow")
	if left := testenv.Ask[string](t, ctx, `document.getElementById('story').value + document.getElementById('held').innerText`); strings.TrimSpace(left) != "" {
		t.Errorf("the next form holds %q", left)
	}
}

// The line is slow, and then cut in the middle of a photo: the entry waits on
// the phone, and goes out from where it was once the line is back.
func TestTheLineIsCutMidPhoto(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	w, root := wired(t, s)
	letIn(t, ctx, s, root)
	before := s.files()
	data := noise(t, 1)
	if len(data) < 400_000 {
		t.Fatalf("the photo has %d bytes only", len(data))
	}
	form(t, ctx, root, "saw")
	testenv.Do(t, ctx, slowly(true))
	testenv.Do(t, ctx, testenv.Type("#story", "Ground the blade."), testenv.Attach("#photo", photoFile(t, data)))
	var id string
	have := func() int64 {
		s.base.uploads.mu.Lock()
		defer s.base.uploads.mu.Unlock()
		for _, h := range s.base.uploads.all {
			id = h.id
			return h.have()
		}
		return 0
	}
	for until := time.Now().Add(20 * time.Second); have() < 60_000; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(until) {
			t.Fatalf("no part of the photo came; the page says %s", testenv.Ask[string](t, ctx, `document.body.innerText + ' ' + document.getElementById('news').innerText`))
		}
	}
	w.cut(true)
	there := have()
	if there == int64(len(data)) {
		t.Fatal("the photo was whole before the line was cut")
	}
	testenv.Do(t, ctx, testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the notice", aLine+`.includes('No connection')`)
	shot(t, ctx, "cut")
	if fresh := s.fresh(before); len(fresh) != 0 {
		t.Fatalf("there is something already: %v", keys(fresh))
	}
	first := id
	w.cut(false)
	testenv.Do(t, ctx, slowly(false))
	testenv.Comes(t, ctx, "the rest", aLine+`.includes('has been sent')`)
	fresh := s.fresh(before)
	whole := false
	for name, got := range fresh {
		if strings.HasSuffix(name, ".jpg") {
			whole = got == string(data)
		}
	}
	if len(fresh) != 2 || !whole {
		t.Errorf("what came is %v, the photo whole: %v", keys(fresh), whole)
	}
	if have(); id != first {
		t.Error("the photo began anew instead of going on")
	}
	form(t, ctx, root, "saw")
	if left := testenv.Ask[string](t, ctx, `document.getElementById('story').value + document.getElementById('held').innerText`); strings.TrimSpace(left) != "" {
		t.Errorf("the next form holds %q", left)
	}
}

// The phone was let out meanwhile (the program was started anew): what was
// written waits, and goes out once the phone is let in again.
func TestThePhoneHasToBeLetInAgain(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	_, root := wired(t, s)
	letIn(t, ctx, s, root)
	before := s.files()
	form(t, ctx, root, "saw")
	testenv.Do(t, ctx, testenv.Type("#story", "Before the restart."))
	s.base.sessions.mu.Lock()
	clear(s.base.sessions.by)
	s.base.sessions.mu.Unlock()
	testenv.Do(t, ctx, testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the notice", aLine+`.includes('let in again')`)
	letIn(t, ctx, s, root)
	testenv.Comes(t, ctx, "the end", aLine+`.includes('has been sent')`)
	if fresh := s.fresh(before); len(fresh) != 1 {
		t.Errorf("there are new files %v; the page says %s", keys(fresh), testenv.Ask[string](t, ctx, `document.body.innerText`))
	}
}

// A tap beside all buttons does nothing, and nothing goes wrong by it.
func TestATapBesideTheButtons(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	_, root := wired(t, s)
	letIn(t, ctx, s, root)
	testenv.Ask[bool](t, ctx, `(window.faults = [], addEventListener('unhandledrejection', (e) => faults.push(String(e.reason))), addEventListener('error', (e) => faults.push(e.message)), window.taps = 0, addEventListener('click', () => taps++), true)`)
	testenv.Do(t, ctx, testenv.Press("h1"))
	testenv.Comes(t, ctx, "the tap", `taps === 1`)
	if faults := testenv.Ask[string](t, ctx, `new Promise((r) => setTimeout(() => r(faults.join('; ')), 200))`); faults != "" {
		t.Errorf("a tap throws %s", faults)
	}
}

// Base tests come from the shop's computer: found and filled in on the phone, kept
// when the page is loaded anew or the shop's computer has forgotten them, and not
// lost with the line.
func TestABenchTestOnAPhone(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	w, root := wired(t, s)
	letIn(t, ctx, s, root)
	before := s.files()
	form(t, ctx, root, "saw")
	testenv.Do(t, ctx, testenv.Type("#story", "It hums."), testenv.Press("#measured > summary"),
		testenv.Type("[name=find]", "motor hums"), testenv.Press("button[value=find]"),
		testenv.Shown(`button[value="add-test capacitor"]`))
	shot(t, ctx, "tests-found")
	testenv.Do(t, ctx, testenv.Press(`button[value="add-test capacitor"]`), testenv.Shown(`[name="f.tests.0.capacitance"]`),
		testenv.Type(`[name="f.tests.0.capacitance"]`, "18 uF"))
	shot(t, ctx, "test")
	form(t, ctx, root, "saw")
	testenv.Comes(t, ctx, "what was typed", `document.getElementById('story').value === 'It hums.' && document.querySelector('[name="f.tests.0.capacitance"]').value === '18 uF'`)
	// The shop's computer was started anew.
	s.base.sessions.mu.Lock()
	clear(s.base.sessions.by)
	s.base.sessions.mu.Unlock()
	letIn(t, ctx, s, root)
	form(t, ctx, root, "saw")
	testenv.Comes(t, ctx, "the test of before", `document.querySelector('[name="f.tests.0.capacitance"]') && document.querySelector('[name="f.tests.0.capacitance"]').value === '18 uF' && document.getElementById('story').value === 'It hums.'`)
	testenv.Comes(t, ctx, "the script", `document.querySelector('form[data-ready]') !== null`)
	testenv.Ask[bool](t, ctx, `(() => { for (const d of document.querySelectorAll('details')) d.open = true; return true })()`)
	testenv.Do(t, ctx, testenv.Type(`[name="f.tests.0.rated"]`, "25 uF"), testenv.Fill("[name=find]", "smokes"))
	w.cut(true)
	testenv.Do(t, ctx, testenv.Press("button[value=find]"))
	testenv.Comes(t, ctx, "the notice", aLine+`.includes('no line')`)
	w.cut(false)
	testenv.Do(t, ctx, testenv.Press("button[value=find]"), testenv.Shown(`button[value="add-test leak-down"]`),
		testenv.Press(`button[value="add-test leak-down"]`), testenv.Shown(`[name="f.tests.1.test"]`),
		testenv.Press(`button[value="drop-test f.tests.1"]`))
	testenv.Comes(t, ctx, "the second test taken out", `!document.querySelector('[name="f.tests.1.test"]') && document.querySelector('[name="f.tests.0.rated"]').value === '25 uF'`)
	testenv.Do(t, ctx, testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the end", `document.querySelector('.said') !== null`)
	fresh := s.fresh(before)
	for name, text := range fresh {
		if len(fresh) != 1 || !strings.Contains(text, "{test: capacitor, capacitance: 18 uF, rated: 25 uF}\n") {
			t.Errorf("%s:\n%s", name, text)
		}
	}
}

// WCAG 2.2 A and AA as axe-core checks them, in light and in dark.
func TestTheBenchPageIsAccessible(t *testing.T) {
	axe, err := os.ReadFile(testenv.Module(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	ctx := browser(t)
	s := newStand(t)
	_, root := wired(t, s)
	const check = `axe.run(document, {runOnly: ['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']}).then(
		r => r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.target.join(' ')).slice(0, 3).join(', ')))`
	look := func(page string) {
		t.Helper()
		for _, scheme := range []string{"light", "dark"} {
			prefers(t, ctx, scheme)
			testenv.Ask[bool](t, ctx, `(() => { for (const d of document.querySelectorAll('details')) d.open = true;
				// What lies half below a bar that stays is not small: it scrolls.
				for (const e of document.querySelectorAll('body *')) if (getComputedStyle(e).position === 'sticky') e.style.position = 'static';
				return true })()`)
			shot(t, ctx, "axe-"+strings.ReplaceAll(page, " ", "-")+"-"+scheme)
			// The checker is handed in past the page's own policy.
			testenv.Ask[bool](t, ctx, string(axe)+"; true")
			for _, found := range testenv.Ask[[]string](t, ctx, check) {
				t.Errorf("%s (%s): %s", page, scheme, found)
			}
		}
	}
	testenv.Do(t, ctx, chromedp.Navigate(root+"/phone/pair"))
	look("the code")
	letIn(t, ctx, s, root)
	look("the machines")
	form(t, ctx, root, "harrow")
	unfold(t, ctx)
	testenv.Do(t, ctx, testenv.Attach("#photo", photoFile(t, picture(t, 500, 1))))
	testenv.Comes(t, ctx, "the photo", `document.querySelector('#held .photo span') !== null`)
	look("the form")
	testenv.Do(t, ctx, testenv.Fill("[name=find]", "leak-down"), testenv.Press("button[value=find]"),
		testenv.Shown(`button[value="add-test leak-down"]`), testenv.Press(`button[value="add-test leak-down"]`),
		testenv.Shown(`button[value="drop-test f.tests.0"]`))
	look("a bench test")
	testenv.Ask[bool](t, ctx, queued(`[
		{machine: 'old', name: 'A tractor with a long name that nobody shortens', state: 'refused', says: ['No machine of the shop has the name that this entry is for. Say which machine it is for.'], machines: [{key: 'saw', name: 'Chop saw'}], fields: [['story', 'x']], text: 'Who: RT\nWhat you did and what you saw: Took the deck off and cleaned the spindles. One is loose, the bearing is next.'},
		{machine: 'harrow', name: 'Harrow', fields: [['story', 'Odd.'], ['f.measured.0.what', 'compression'], ['f.measured.0.value', '62 pounds']], text: 'What you did and what you saw: Odd.\nReading with its unit: 62 pounds'},
		{machine: 'saw', name: 'Chop saw', state: 'draft', fields: [['story', 'Half a story']], text: 'What you did and what you saw: Half a story'},
	]`))
	testenv.Do(t, ctx, chromedp.Navigate(root+"/phone/"))
	testenv.Comes(t, ctx, "what is left", `document.querySelectorAll('#waiting article.refused').length === 2`)
	look("what waits")
	testenv.Do(t, ctx, chromedp.Navigate(root+"/phone/kept"), testenv.Shown("#move"))
	testenv.Comes(t, ctx, "what is left", `document.querySelectorAll('#waiting article.refused').length === 2`)
	look("what is kept")
	testenv.Ask[bool](t, ctx, `(() => { [...document.querySelectorAll('#waiting article')].find(a => a.querySelector('h3').innerText === 'Harrow').querySelector('a.button').click(); return true })()`)
	testenv.Comes(t, ctx, "the problem at its field", `document.querySelector('[name="f.measured.0.value"][aria-invalid=true]') !== null`)
	look("a correction")
}
