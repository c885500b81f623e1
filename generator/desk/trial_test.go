package desk_test

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"asleft/generator"
	"asleft/generator/desk"
	"asleft/generator/desk/access"
	"asleft/generator/desk/preview"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// A trial is a person at a desk over a folder of a disk, with a browser.
type trial struct {
	t    *testing.T
	ctx  context.Context
	dir  string
	home string
	view *preview.Preview
}

// newTrial opens a desk as the program does, in an empty folder.
func newTrial(t *testing.T) *trial {
	t.Helper()
	tr := &trial{t: t, ctx: testenv.Browser(t), dir: t.TempDir()}
	folder, err := rooted.Open(tr.dir)
	if err != nil {
		t.Fatal(err)
	}
	settings, err := rooted.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	tr.view = preview.New(folder, preview.Options{Today: func() logbook.Date { return logbook.Date(time.Now().Format(time.DateOnly)) }})
	tr.view.Build()
	d := desk.New(folder, desk.Options{Reading: tr.view.Reading, Site: tr.view.Pages(), Refresh: tr.view.Build, Settings: settings, Program: "asleft trial"})
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	tr.home = "http://" + l.Addr().String()
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- access.Serve(ctx, d.Handler(l.Addr().String()), l) }()
	t.Cleanup(func() {
		stop()
		<-ended
		_, _ = folder.Close(), settings.Close()
	})
	testenv.Do(t, tr.ctx, chromedp.EmulateViewport(1280, 900))
	return tr
}

func (tr *trial) do(steps ...chromedp.Action[chromedp.Void]) {
	tr.t.Helper()
	testenv.Do(tr.t, tr.ctx, steps...)
}

func (tr *trial) comes(what, script string) {
	tr.t.Helper()
	testenv.Comes(tr.t, tr.ctx, what, script)
}

// press follows a link or presses a button of these words, as a person finds it.
func (tr *trial) press(words string) {
	tr.t.Helper()
	find := fmt.Sprintf(`[...document.querySelectorAll('a, button, summary')].find((e) => e.textContent.trim() === %q && e.checkVisibility())`, words)
	tr.comes(words, "!!"+find)
	testenv.Ask[bool](tr.t, tr.ctx, `document.querySelectorAll('[data-pressed]').forEach((e) => e.removeAttribute('data-pressed')), `+find+`.setAttribute('data-pressed', ''), true`)
	tr.do(testenv.Press("[data-pressed]"))
}

// open unfolds a part of the form.
func (tr *trial) open(part string) {
	tr.t.Helper()
	// A page that still comes in may not have it yet.
	is := fmt.Sprintf(`!!document.querySelector('#%s')?.open`, part)
	for range 3 { // a person who misses it for a page that moved presses again
		if testenv.Ask[bool](tr.t, tr.ctx, is) {
			return
		}
		tr.do(testenv.Press("#" + part + " > summary"))
	}
	tr.comes(part, is)
}

// keep keeps the form, and waits until that is said.
func (tr *trial) keep() {
	tr.t.Helper()
	testenv.Ask[bool](tr.t, tr.ctx, `document.body.dataset.before = 'yes', true`) // it may say so of the last time
	tr.press("Keep it")
	tr.comes("an answer", `!document.body.dataset.before && !!document.querySelector('.said, .sheet > .wrong[role=alert]')`)
	if wrong := testenv.Ask[string](tr.t, tr.ctx, `[...document.querySelectorAll('.wrong')].filter((e) => !e.hidden && e.id !== 'no-contact').map((e) => (e.dataset.wrong || '') + ' ' + e.textContent).join('\n')`); wrong != "" {
		tr.t.Fatalf("it was not kept:\n%s", wrong)
	}
	tr.comes("that it was kept", `document.querySelector('.said')?.textContent === 'Kept.'`)
}

// evening begins one for the machine.
func (tr *trial) evening() {
	tr.t.Helper()
	tr.press("Write an evening")
	tr.comes("the form", `!!document.getElementById('f-title')`)
}

// photo is one of this shade, in a file as a camera names it.
func (tr *trial) photo(name string, shade uint8) string {
	tr.t.Helper()
	pic := image.NewRGBA(image.Rect(0, 0, 640, 480))
	for i := range pic.Pix {
		pic.Pix[i] = shade + uint8(i*7%90)
	}
	pic.Set(1, 1, color.White)
	file := filepath.Join(tr.t.TempDir(), name)
	out, err := os.Create(file)
	if err == nil {
		err = jpeg.Encode(out, pic, nil)
	}
	if err != nil || out.Close() != nil {
		tr.t.Fatal(err)
	}
	return file
}

// attach gives photos, says what each shows, and waits until they are there.
func (tr *trial) attach(shows ...string) {
	tr.t.Helper()
	var files []string
	for n := range shows {
		files = append(files, tr.photo(fmt.Sprintf("IMG_%04d.JPG", n+time.Now().Nanosecond()%5000), uint8(20+40*n+time.Now().Nanosecond()%30)))
	}
	had := testenv.Ask[int](tr.t, tr.ctx, `document.querySelectorAll('[name^="f.photos."][name$=".alt"]').length`)
	tr.do(testenv.Attach("#photo", files...))
	tr.comes("the photos", fmt.Sprintf(`document.querySelectorAll('[name^="f.photos."][name$=".alt"]').length === %d && document.querySelectorAll('#photos img').length === %d`, had+len(files), had+len(files)))
	for n, text := range shows {
		tr.do(testenv.Type(fmt.Sprintf(`[name="f.photos.%d.alt"]`, had+n), text))
	}
}

// picks picks what a choice offers by its words.
func (tr *trial) picks(selector, words string) chromedp.Action[chromedp.Void] {
	tr.t.Helper()
	value := testenv.Ask[string](tr.t, tr.ctx, fmt.Sprintf(`[...document.querySelector(%q).options].find((o) => o.textContent === %q)?.value || ''`, selector, words))
	if value == "" {
		tr.t.Fatalf("%s does not offer %q", selector, words)
	}
	return testenv.Fill(selector, value)
}

// counting has the page count what is touched and typed, across pages.
const counting = `(() => {
	const at = JSON.parse(sessionStorage.counted || '{"fields": [], "keys": 0}');
	const put = () => { sessionStorage.counted = JSON.stringify(at); };
	addEventListener('input', (e) => { if (e.target.name && !at.fields.includes(e.target.name)) { at.fields.push(e.target.name); put(); } }, true);
	addEventListener('keydown', (e) => { if (e.target.id !== 'story') { at.keys++; put(); } }, true);
	put();
	return true })()`

// TestFromAnEmptyFolderToASoldMachine goes the whole way by clicks and keys: a shop, a
// machine, three evenings with photos, the list walked, a test, a repair and its proof, a
// price, a sealed report, the listing and the sale. The folder passes inspect, and one of
// the evenings is measured: few fields, little typing.
func TestFromAnEmptyFolderToASoldMachine(t *testing.T) {
	tr := newTrial(t)
	began := time.Now()
	tr.do(chromedp.Navigate(tr.home+"/desk/"), testenv.Type("#name", "Back Lane Repair"))
	tr.press("Begin")
	tr.press("A new machine")
	tr.do(testenv.Type("#f-name", "Plover tiller"), testenv.Type("#f-kind", "walk-behind tiller"), testenv.Type("#f-maker", "Pellworth"))
	tr.keep()

	// The first evening: what was found.
	tr.evening()
	tr.do(testenv.Type("#f-title", "First look"), testenv.Type("#story", "It came on a trailer. It does not start, and the seal drips."))
	tr.attach("the tiller on its trailer")
	tr.open("defects")
	tr.do(testenv.Type("#f-defects-0-defect", "tine shaft seal leaks"), testenv.Fill("#f-defects-0-system", "drive"), testenv.Fill("#f-defects-0-safety", "no"))
	tr.keep()

	// The second: the evening that is measured.
	tr.evening()
	testenv.Ask[bool](t, tr.ctx, `sessionStorage.removeItem('counted'), `+counting)
	tr.do(testenv.Type("#story", "The old seal came out in crumbs. I polished the shaft with crocus cloth and pressed the new one in. Then I checked the compression, since the head was bare."))
	tr.attachCounted("the old seal", "the polished shaft")
	tr.open("measured")
	tr.do(testenv.Type("#f-measured-0-what", "compression"), testenv.Type("#f-measured-0-value", "62 psi"), testenv.Type("#f-measured-0-gauge", "2 psi"))
	tr.open("parts")
	tr.do(testenv.Type("#f-parts-0-part", "shaft seal"), testenv.Type("#f-parts-0-each", "12.40"), testenv.Fill("#f-parts-0-source", "new"), testenv.Fill("#f-parts-0-system", "drive"), testenv.Type("#f-parts-0-tax", "6 %"))
	tr.open("repairs")
	tr.do(tr.picks("#f-repaired-0-key", "tine shaft seal leaks"), testenv.Type("#f-repaired-0-how", "new seal, shaft polished"))
	tr.do(testenv.Press(`#hours .start`))
	counted := testenv.Ask[struct {
		Fields []string
		Keys   int
	}](t, tr.ctx, `JSON.parse(sessionStorage.counted)`)
	t.Logf("the evening took %d fields (%v) and %d keys beyond the story", len(counted.Fields), counted.Fields, counted.Keys)
	if len(counted.Fields) > 25 || counted.Keys > 200 || counted.Keys < 60 {
		t.Errorf("an evening takes %d fields and %d keys beyond its story, 25 and 200 are the most", len(counted.Fields), counted.Keys)
	}
	tr.comes("the figures", `document.getElementById('figures').textContent.includes('13.14')`) // 12.40 and 6 percent of it
	tr.keep()

	// The third: a bench test that was found by what is wrong, and the proof.
	tr.evening()
	tr.do(testenv.Type("#f-title", "Proof"), testenv.Type("#story", "An hour in the garden."))
	tr.attach("the dry seal")
	tr.open("measured")
	tr.do(testenv.Type("#find", "leak-down"))
	tr.press("Find tests")
	tr.press("leak-down")
	tr.do(testenv.Type(`[name="f.tests.0.regulated"]`, "90 psi"), testenv.Type(`[name="f.tests.0.cylinder"]`, "81 psi"))
	tr.open("repairs")
	tr.do(tr.picks("#f-repaired-0-key", "tine shaft seal leaks"), testenv.Type("#f-repaired-0-how", "looked at it after work"), testenv.Type("#f-repaired-0-proof", "tilled an hour and the level had not moved"))
	tr.keep()

	// The list, a point a screen.
	tr.press("Walk the list")
	for n := 1; ; n++ {
		tr.comes("a point or the evening", fmt.Sprintf(`document.querySelector('.walk .way')?.textContent.includes('point %d of') || !!document.getElementById('f-title')`, n))
		if testenv.Ask[bool](t, tr.ctx, `!!document.getElementById('f-title')`) {
			break
		}
		tr.press("As it should be")
	}
	tr.keep()

	// A price.
	tr.do(testenv.Fill("#f-stage", "for sale"), testenv.Type("#f-asking", "390"))
	tr.keep()
	tr.do(chromedp.Navigate(tr.home + "/desk/"))
	tr.comes("the machine among those for sale", `[...document.querySelectorAll('section')].some((s) => s.querySelector('h2')?.textContent === 'For sale' && s.textContent.includes('Plover tiller'))`)
	testenv.Ask[bool](t, tr.ctx, `(() => { document.querySelector('a[target][href="/index.html"]').target = ''; return true })()`) // it opens beside the desk, where this test does not look
	tr.press("The site")
	tr.comes("the site", `document.body.textContent.includes('Plover tiller') && document.body.textContent.includes('390')`)

	// Sealed.
	tr.do(chromedp.Navigate(tr.home + "/desk/m/plover-tiller"))
	tr.press("Seal a report")
	tr.comes("the page for sealing", `!!document.querySelector('#paper')`)
	if testenv.Ask[bool](t, tr.ctx, `!!document.querySelector('[name=tell]')`) {
		tr.do(testenv.Press("[name=tell]"))
	}
	tr.press("Seal it")
	tr.comes("the code", `document.querySelector('.code')?.textContent.length > 10`)
	sealed, err := filepath.Glob(filepath.Join(tr.dir, "handovers", "plover-tiller-*.json"))
	if err != nil || len(sealed) != 1 {
		t.Errorf("sealed: %v (%v)", sealed, err)
	}

	// Sold.
	tr.do(chromedp.Navigate(tr.home+"/desk/m/plover-tiller"), testenv.Fill("#f-stage", "sold"), testenv.Shown("#f-sold-date"), testenv.Type("#f-sold-price", "380"))
	tr.keep()
	t.Logf("all of it took %v", time.Since(began).Round(time.Second))

	folder, err := rooted.Open(tr.dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	r, err := generator.Read(folder, generator.Options{Today: logbook.Date(time.Now().Format(time.DateOnly))})
	if err != nil || len(r.Problems) > 0 {
		t.Fatalf("inspect finds %v (%v)", r.Problems, err)
	}
	m := r.Shop.Machines[0]
	photos := 0
	for _, e := range m.Entries {
		photos += len(e.Photos)
	}
	if len(m.Entries) != 4 || photos != 4 || m.Stage != logbook.Sold || r.Reports[0] == nil {
		t.Errorf("the folder has %d evenings, %d photos, and the machine is %s", len(m.Entries), photos, m.Stage)
	}
	for _, e := range m.Entries {
		if strings.Contains(e.File, "walk") && len(e.Checks) < 10 {
			t.Errorf("the walk answered %d points", len(e.Checks))
		}
	}
}

// attachCounted is attach, and goes on counting on the page that comes of it.
func (tr *trial) attachCounted(shows ...string) {
	tr.t.Helper()
	var files []string
	for n := range shows {
		files = append(files, tr.photo(fmt.Sprintf("IMG_%04d.JPG", n+7000), uint8(40*n+70)))
	}
	tr.do(testenv.Attach("#photo", files...))
	tr.comes("the photos", fmt.Sprintf(`document.querySelectorAll('#photos img').length === %d`, len(files)))
	testenv.Ask[bool](tr.t, tr.ctx, counting)
	for n, text := range shows {
		tr.do(testenv.Type(fmt.Sprintf(`[name="f.photos.%d.alt"]`, n), text))
	}
}
