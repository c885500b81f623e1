package phone

import (
	"context"
	"math/rand/v2"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"asleft/generator/testenv"
)

// saveOffline fills in the form of a machine and saves it while there is no line.
func saveOffline(t *testing.T, ctx context.Context, w *wire, root, key string, fill map[string]string) {
	t.Helper()
	w.cut(false)
	form(t, ctx, root, key)
	testenv.Comes(t, ctx, "the list", `document.getElementById('waiting').dataset.ready === 'yes'`)
	w.cut(true)
	testenv.Ask[bool](t, ctx, `(() => { for (const d of document.querySelectorAll('#form details')) d.open = true; return true })()`)
	for field, text := range fill {
		testenv.Do(t, ctx, testenv.Type(`#form [name="`+field+`"]`, text))
	}
	testenv.Ask[bool](t, ctx, `(scrollTo({top: document.body.scrollHeight, behavior: 'instant'}), true)`)
	testenv.Do(t, ctx, testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the notice", aLine+`.includes('No connection') && !document.querySelector('form[data-evening]')`)
	testenv.Comes(t, ctx, "the list, in sight", `(at => at.top >= 0 && at.top < innerHeight)(document.getElementById('waiting').getBoundingClientRect())`)
	for _, text := range fill {
		testenv.Comes(t, ctx, text+" in the list", `(`+keptTexts+`).includes(`+strconv.Quote(text)+`)`)
	}
}

// keptTexts is what the list says.
const keptTexts = `[...document.querySelectorAll('#waiting article')].map(a => a.querySelector('h3').innerText + '|' + a.querySelector('textarea').value + '|' + a.querySelector('.fine').innerText).join('\n')`

// What waits goes out in order and once; what cannot go out blocks nothing, is listed
// with its text, and can be copied, corrected, given to a machine or dropped.
func TestWhatWaitsOnAPhone(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	w, root := wired(t, s)
	letIn(t, ctx, s, root)
	before := s.files()
	// All are written on pages that were open when the line went.
	form(t, ctx, root, "saw")
	testenv.Comes(t, ctx, "the list", `document.getElementById('waiting').dataset.ready === 'yes'`)
	testenv.Ask[bool](t, ctx, queued(`[
		{machine: 'old', name: 'Old name', fields: [['story', 'For a machine of another name.']], text: 'For a machine of another name.'},
		{machine: 'harrow', name: 'Harrow', fields: [['story', 'Odd.'], ['f.measured.0.what', 'compression'], ['f.measured.0.value', '62 pounds']], text: 'Odd. 62 pounds'},
		{machine: 'saw', name: 'Chop saw', fields: [['story', 'Sharp.']], text: 'Sharp.'},
		{machine: 'harrow', name: 'Harrow', fields: [['f.ran', '0:20']], text: 'Engine ran: 0:20'},
		{machine: 'harrow', name: 'Harrow', fields: [['f.ran', '0:20']], text: 'Engine ran: 0:20'},
		{machine: 'saw', name: 'Chop saw', fields: [['f.meter', 'x']], text: 'to be dropped'},
	]`))
	testenv.Do(t, ctx, chromedp.Navigate(root+"/phone/"))
	testenv.Comes(t, ctx, "what is left", `document.querySelectorAll('#waiting article.refused').length === 3 && document.querySelectorAll('#waiting article').length === 3`)
	shot(t, ctx, "waiting")
	var stories []string
	for name := range s.fresh(before) {
		if strings.HasSuffix(name, ".md") {
			stories = append(stories, filepath.Base(name))
		}
	}
	slices.Sort(stories)
	want := []string{"2026-05-04-at-the-bench-2.md", "2026-05-04-at-the-bench.md", "2026-05-04-sharp.md"}
	if !slices.Equal(stories, want) {
		t.Errorf("what went out is %v, want %v", stories, want)
	}
	if all := testenv.Ask[string](t, ctx, keptTexts); !strings.Contains(all, "Old name|For a machine of another name.|") || !strings.Contains(all, "62 pounds") {
		t.Errorf("the list says\n%s", all)
	}
	if all := testenv.Ask[string](t, ctx, `document.getElementById('waiting').innerText`); !strings.Contains(all, "Reading: 62 lb cannot be held") || !strings.Contains(all, "Say which machine it is for") {
		t.Errorf("the list does not say what is wrong:\n%s", all)
	}
	// Copied, in the order of the list: the first is of no machine.
	testenv.Do(t, ctx, testenv.Press("#waiting article:nth-of-type(1) button:nth-of-type(1)"))
	testenv.Comes(t, ctx, "the copy", `document.querySelector('#waiting article button').innerText === 'Copied'`)
	// Dropped, with a second tap.
	drop := `[...document.querySelectorAll('#waiting article')].find(a => a.querySelector('textarea').value === 'to be dropped').querySelectorAll('button')[1]`
	testenv.Ask[bool](t, ctx, `(() => { `+drop+`.click(); return true })()`)
	if n := testenv.Ask[int](t, ctx, `document.querySelectorAll('#waiting article').length`); n != 3 {
		t.Errorf("one tap dropped it: %d are left", n)
	}
	testenv.Ask[bool](t, ctx, `(() => { `+drop+`.click(); return true })()`)
	testenv.Comes(t, ctx, "the drop", `document.querySelectorAll('#waiting article').length === 2`)
	// Given to a machine.
	testenv.Ask[bool](t, ctx, `(() => { const s = document.querySelector('#waiting select'); s.value = 'saw'; s.dispatchEvent(new Event('change')); return true })()`)
	testenv.Comes(t, ctx, "the end of it", `document.querySelectorAll('#waiting article').length === 1`)
	// Corrected: the problem stands at its field, and the entry is sent once.
	testenv.Do(t, ctx, testenv.Press("#waiting article a.button"), testenv.Shown(`[name="f.measured.0.value"][aria-invalid=true]`))
	shot(t, ctx, "corrected")
	if says := testenv.Ask[string](t, ctx, `document.querySelector('[data-wrong="f.measured.0.value"]').innerText`); !strings.Contains(says, "62 lb cannot be held") {
		t.Errorf("at the field stands %q", says)
	}
	testenv.Do(t, ctx, testenv.Fill(`[name="f.measured.0.value"]`, "62 psi"), testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the end", `document.querySelector('.said') && document.querySelector('.said').innerText === 'Kept.'`)
	form(t, ctx, root, "harrow")
	if left := testenv.Ask[string](t, ctx, `document.getElementById('story').value`); left != "" {
		t.Errorf("the next form holds %q", left)
	}
	count := map[string]int{}
	for name, text := range s.fresh(before) {
		for _, mark := range []string{"62 psi", "another name", "Sharp", "0:20", "62 pounds"} {
			if strings.Contains(text, mark) {
				count[mark]++
			}
		}
		if strings.Contains(name, ".asleft/desk/machines~harrow") {
			t.Errorf("its draft is still there")
		}
	}
	if count["62 psi"] != 1 || count["another name"] != 1 || count["Sharp"] != 1 || count["0:20"] != 2 || count["62 pounds"] != 0 {
		t.Errorf("in the shop there are %v", count)
	}
	w.cut(true)
}

// queued puts entries into what the phone keeps, as the form does.
func queued(list string) string {
	return `import('/phone/as/` + version() + `/store.js').then(async store => {
		let at = Date.now() - 100000;
		for (const e of ` + list + `) await store.keepEntry({id: store.newID(), state: 'waiting', photos: [], begun: at, saved: at++, ...e, fields: [['f.date', '2026-05-04'], ['f.time', '18:00'], ['f.by', 'RT'], ...e.fields]});
		return true;
	})`
}

// The line goes while entries are written: each waits, and all go out once it is back.
func TestSeveralWaitForALine(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	w, root := wired(t, s)
	letIn(t, ctx, s, root)
	before := s.files()
	saveOffline(t, ctx, w, root, "saw", map[string]string{"story": "First."})
	if all := testenv.Ask[string](t, ctx, keptTexts); !strings.Contains(all, "Chop saw|") || !strings.Contains(all, "First.") || !strings.Contains(all, "waits for a connection") {
		t.Errorf("the list says\n%s", all)
	}
	w.cut(false)
	testenv.Comes(t, ctx, "the end", aLine+`.includes('has been sent')`)
	if fresh := s.fresh(before); len(fresh) != 1 {
		t.Errorf("there are %v", keys(fresh))
	}
}

// The shop's computer got another address: the page of what the phone keeps opens from
// the phone itself, and sends to the new address.
func TestAnotherAddress(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	server := httptest.NewUnstartedServer(nil)
	first, second := newWire(t, server.Listener.Addr().String()), newWire(t, server.Listener.Addr().String())
	server.Config.Handler = s.base.Handler(first.Addr().String(), second.Addr().String())
	server.Start()
	t.Cleanup(server.Close)
	root, next := "http://"+first.Addr().String(), "http://"+second.Addr().String()
	letIn(t, ctx, s, root)
	before := s.files()
	form(t, ctx, root, "saw")
	testenv.Comes(t, ctx, "the list", `document.getElementById('waiting').dataset.ready === 'yes'`)
	testenv.Do(t, ctx, testenv.Attach("#photo", photoFile(t, picture(t, 700, 40))))
	testenv.Comes(t, ctx, "the photo", `document.querySelector('#held .photo span').innerText === 'here'`)
	first.cut(true)
	_ = first.Close()
	testenv.Do(t, ctx, testenv.Type("#story", "Before the move."), testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the notice", aLine+`.includes('No connection')`)
	testenv.Do(t, ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(root+"/phone/kept"), testenv.Shown("#move"))
	testenv.Comes(t, ctx, "what waits", `document.querySelectorAll('#waiting article').length === 1 && `+aLine+`.includes('not at this address')`)
	shot(t, ctx, "moved")
	testenv.Do(t, ctx, testenv.Type("#at", second.Addr().String()), testenv.Press("#move button.plain"), testenv.Shown("#new-code"))
	code, _ := s.code()
	testenv.Do(t, ctx, testenv.Type("#new-code", code), testenv.Press("#move button.main"))
	testenv.Comes(t, ctx, "the end", aLine+`.includes('has been sent') && document.querySelector('a[href="`+next+`/phone/"]') !== null`)
	if fresh := s.fresh(before); len(fresh) != 2 {
		t.Errorf("there are %v", keys(fresh))
	}
}

// The browser is killed while somebody types: what was typed until shortly before is
// there when it is opened again. ASLEFT_KILLS says how often.
func TestBrowserKilledWhileTyping(t *testing.T) {
	kills := 3
	if n, err := strconv.Atoi(os.Getenv("ASLEFT_KILLS")); err == nil {
		kills = n
	}
	s := newStand(t)
	_, root := wired(t, s)
	profile := t.TempDir()
	random := rand.New(rand.NewPCG(7, 7)) //nolint:gosec // moments
	for n := range kills {
		typed := killedWhileTyping(t, s, root, profile, n, random)
		ctx := browserIn(t, profile)
		letInAgain(t, ctx, s, root)
		form(t, ctx, root, "saw")
		testenv.Comes(t, ctx, "the list", `document.getElementById('waiting').dataset.ready === 'yes'`)
		body := testenv.Ask[string](t, ctx, `document.getElementById('story').value`)
		if !strings.HasPrefix(body, typed) || typed == "" {
			t.Errorf("kill %d: typed was at least %q, there is %q", n, typed, body)
		}
		t.Logf("kill %d: %d characters typed a second before, %d there", n, len(typed), len(body))
		testenv.Ask[bool](t, ctx, `import('/phone/as/`+version()+`/store.js').then(async s => { for (const e of await s.entries()) await s.change(e, null); return true })`)
		if err := chromedp.Cancel(ctx); err != nil {
			t.Fatal(err)
		}
	}
}

// letInAgain lets the phone in where its cookie was not on the disk yet.
func letInAgain(t *testing.T, ctx context.Context, s *stand, root string) {
	t.Helper()
	testenv.Do(t, ctx, chromedp.Navigate(root+"/phone/"))
	if testenv.Ask[bool](t, ctx, `document.getElementById('code') !== null`) {
		letIn(t, ctx, s, root)
	}
}

// killedWhileTyping types until the browser is killed, at some moment, and returns what
// was typed a second before that.
func killedWhileTyping(t *testing.T, s *stand, root, profile string, n int, random *rand.Rand) string {
	t.Helper()
	ctx := browserIn(t, profile)
	letInAgain(t, ctx, s, root)
	form(t, ctx, root, "saw")
	testenv.Comes(t, ctx, "the list", `document.getElementById('waiting').dataset.ready === 'yes'`)
	type state struct {
		at   time.Time
		text string
	}
	var states []state
	process := chromedp.FromContext(ctx).Browser.Process()
	killed := make(chan time.Time)
	for text := ""; ; {
		word := string(rune('a'+random.IntN(26))) + " "
		if err := chromedp.Do(ctx, testenv.Type("#story", word)); err != nil {
			break
		}
		text += word
		states = append(states, state{time.Now(), text})
		if len(states) == 1 {
			wait := 1100*time.Millisecond + time.Duration(random.IntN(1500))*time.Millisecond
			go func() {
				time.Sleep(wait)
				_ = process.Kill()
				killed <- time.Now()
			}()
		}
	}
	at := <-killed
	last := ""
	for _, s := range states {
		if s.at.Before(at.Add(-time.Second)) {
			last = s.text
		}
	}
	return last
}

// browserIn starts a real browser with a profile that outlives it.
func browserIn(t *testing.T, profile string) context.Context {
	t.Helper()
	for _, lock := range []string{"SingletonLock", "SingletonCookie", "SingletonSocket"} {
		_ = os.Remove(filepath.Join(profile, lock)) // a browser that was killed leaves them
	}
	ctx := testenv.BrowserIn(t, profile)
	testenv.Do(t, ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile))
	return ctx
}

// prefers has the browser ask for light or dark pages.
func prefers(t *testing.T, ctx context.Context, scheme string) {
	t.Helper()
	testenv.Do(t, ctx, testenv.Prefers(scheme))
}

// Two pages with the same draft: what is typed in one is not written over by the other.
// An entry that waits can be taken back and changed, and is sent once.
func TestTwoPagesOfOneMachine(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	_, root := wired(t, s)
	letIn(t, ctx, s, root)
	before := s.files()
	opened := func(ctx context.Context) {
		form(t, ctx, root, "saw")
		testenv.Comes(t, ctx, "the list", `document.getElementById('waiting').dataset.ready === 'yes'`)
	}
	opened(ctx)
	testenv.Do(t, ctx, testenv.Type("#story", "Begun."))
	other, stop := chromedp.NewContext(ctx)
	defer stop()
	opened(other)
	testenv.Comes(t, other, "the draft", `document.getElementById('story').value === 'Begun.'`)
	testenv.Do(t, other, testenv.Type("#story", " There."))
	testenv.Do(t, ctx, testenv.Type("#story", " Here."))
	const texts = `import('/phone/as/VERSION/store.js').then(async s => (await s.entries()).map(e => new Map(e.fields).get('story')).sort().join('|'))`
	testenv.Comes(t, ctx, "both", strings.Replace(texts, "VERSION", version(), 1)+`.then(all => all === 'Begun. Here.|Begun. There.')`)
	testenv.Do(t, other, testenv.Press("button[value=keep]"))
	testenv.Comes(t, other, "the end", `document.querySelector('.said') !== null`)
	testenv.Do(t, ctx, testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the end", `document.querySelector('.said') !== null`)
	if fresh := s.fresh(before); len(fresh) != 2 {
		t.Errorf("there are %v", keys(fresh))
	}
	// Taken back while it waits.
	testenv.Comes(t, ctx, "the end of the sending", `document.getElementById('waiting')?.dataset.tried === 'yes'`)
	testenv.Ask[bool](t, ctx, queued(`[{machine: 'saw', name: 'Chop saw', fields: [['story', 'Waits.']], text: 'Waits.'}]`))
	testenv.Ask[bool](t, ctx, strings.Replace(`import('/phone/as/VERSION/store.js').then(async s => { location.href = '/desk/m/saw/new/' + (await s.entries())[0].id; return true })`, "VERSION", version(), 1))
	testenv.Comes(t, ctx, "the entry", `document.getElementById('story') && document.getElementById('story').value === 'Waits.'`)
	testenv.Comes(t, ctx, "the list", `document.getElementById('waiting').dataset.ready === 'yes'`)
	testenv.Do(t, ctx, testenv.Type("#story", " No more."), testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the end", `document.querySelector('.said') !== null`)
	fresh := s.fresh(before)
	if text := fresh["machines/saw/2026-05-04-waits.md"]; len(fresh) != 3 || !strings.Contains(text, "Waits. No more.") {
		t.Errorf("there are %v\n%s", keys(fresh), text)
	}
}

// Where the line is gone, no page of the phone is lost to an empty one of the browser: it
// stays, and says what can be done. A form that is open goes on, and says so.
func TestThePhoneSaysThatTheLineIsGone(t *testing.T) {
	ctx := browser(t)
	s := newStand(t)
	w, root := wired(t, s)
	letIn(t, ctx, s, root)
	testenv.Do(t, ctx, chromedp.Navigate(root+"/desk/"))
	testenv.Comes(t, ctx, "the script", `document.getElementById('waiting').dataset.tried === 'yes'`)
	w.cut(true)
	testenv.Do(t, ctx, testenv.Press(`a.do[href="/desk/m/saw/new"]`))
	testenv.Comes(t, ctx, "why it stays", `location.pathname === '/desk/' && `+aLine+`.includes('no other page opens') && !!document.querySelector('#news a[href="/phone/kept"]')`)
	shot(t, ctx, "stays")
	w.cut(false)
	testenv.Do(t, ctx, testenv.Press(`a.do[href="/desk/m/saw/new"]`))
	testenv.Comes(t, ctx, "the form", `document.querySelector('form[data-ready]') !== null`)
	testenv.Do(t, ctx, testenv.Type("#story", "Before."))
	testenv.Comes(t, ctx, "that the phone keeps it", `document.getElementById('line').textContent.includes('Kept on this phone')`)
	w.cut(true)
	testenv.Do(t, ctx, testenv.Type("#story", " While it was gone."))
	testenv.Comes(t, ctx, "that the line is gone", `document.getElementById('line').textContent.includes('no line to the shop')`)
	testenv.Do(t, ctx, testenv.Press(`.way a`))
	testenv.Comes(t, ctx, "why it stays", aLine+`.includes('A form that is open goes on') && document.getElementById('story').value === 'Before. While it was gone.'`)
	w.cut(false)
	testenv.Do(t, ctx, testenv.Type("#story", " And back."))
	testenv.Comes(t, ctx, "that it goes on", `document.getElementById('line').textContent.includes('Kept on this phone') && `+aLine+` === ''`)
	testenv.Do(t, ctx, testenv.Press("button[value=keep]"))
	testenv.Comes(t, ctx, "the end", `document.querySelector('.said')?.innerText === 'Kept.'`)

	// A form that the phone does not keep by itself stays with what was typed into it.
	testenv.Do(t, ctx, chromedp.Navigate(root+"/desk/m/saw/list"), testenv.Shown("#note"))
	testenv.Comes(t, ctx, "the script", `document.getElementById('waiting').dataset.tried === 'yes'`)
	testenv.Do(t, ctx, testenv.Type("#note", "Cracked."))
	w.cut(true)
	at := testenv.Ask[string](t, ctx, `location.pathname`)
	testenv.Do(t, ctx, testenv.Press(".thumbs button"))
	testenv.Comes(t, ctx, "why it stays", aLine+`.includes('no other page opens') && document.getElementById('note').value === 'Cracked.'`)
	w.cut(false)
	testenv.Do(t, ctx, testenv.Press(".thumbs button"))
	testenv.Comes(t, ctx, "the next point", `location.pathname + location.search !== '`+at+`'`)
}
