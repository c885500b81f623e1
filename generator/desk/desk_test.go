package desk_test

import (
	"bytes"
	"errors"
	"fmt"
	escaped "html"
	"image"
	"image/jpeg"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/spf13/afero"
	"golang.org/x/net/html"

	"asleft/generator"
	"asleft/generator/desk"
	"asleft/generator/logbook"
)

const host = "127.0.0.1:7340"

// now is the clock of the tests: after all that the example tells.
var now = time.Date(2026, 11, 28, 19, 30, 0, 0, time.UTC)

// A table is a desk over a copy of the example in memory.
type table struct {
	t      *testing.T
	folder afero.Fs
	desk   *desk.Desk
	handle http.Handler
	still  bool       // what is kept is not read anew
	clock  time.Time  // none: now
	mu     sync.Mutex // of read: a run that publishes reads anew, too
	read   *generator.Reading
}

func (b *table) reading() *generator.Reading {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.read
}

func (b *table) isRead(r *generator.Reading) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.read = r
}

func (b *table) now() time.Time {
	if b.clock.IsZero() {
		return now
	}
	return b.clock
}

func newTable(t *testing.T) *table {
	t.Helper()
	folder := afero.NewMemMapFs()
	example := os.DirFS("../../content-example")
	err := fs.WalkDir(example, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(name, ".md") && !strings.HasSuffix(name, ".jpg") {
			return err
		}
		data, err := fs.ReadFile(example, name)
		if err != nil {
			return err
		}
		return afero.WriteFile(folder, name, data, 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
	return tableOf(t, folder)
}

func tableOf(t *testing.T, folder afero.Fs) *table {
	t.Helper()
	b := &table{t: t, folder: folder}
	refresh := func() {
		if b.still {
			return
		}
		r, err := generator.Read(folder, generator.Options{Today: logbook.Date(now.Format(time.DateOnly))})
		if errors.Is(err, logbook.ErrNoShop) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		b.isRead(r)
	}
	refresh()
	d := desk.New(folder, desk.Options{Reading: b.reading, Refresh: refresh, Now: b.now})
	b.desk, b.handle = d, d.Handler(host)
	return b
}

func (b *table) ask(r *http.Request) *httptest.ResponseRecorder {
	b.t.Helper()
	r.Host, r.RemoteAddr = host, "127.0.0.1:50000"
	w := httptest.NewRecorder()
	b.handle.ServeHTTP(w, r)
	return w
}

func (b *table) get(at string) string {
	b.t.Helper()
	w := b.ask(httptest.NewRequest(http.MethodGet, at, nil))
	if w.Code != http.StatusOK {
		b.t.Fatalf("%s: %d %s", at, w.Code, w.Body)
	}
	return w.Body.String()
}

func (b *table) post(at string, v url.Values) *httptest.ResponseRecorder {
	b.t.Helper()
	r := httptest.NewRequest(http.MethodPost, at, strings.NewReader(v.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://"+host)
	return b.ask(r)
}

// sent is the page that a browser shows after a form was sent: a redirect is followed.
func (b *table) sent(at string, v url.Values) string {
	b.t.Helper()
	w := b.post(at, v)
	if w.Code != http.StatusSeeOther {
		b.t.Fatalf("%s: %d %s", at, w.Code, w.Body)
	}
	to, _, _ := strings.Cut(w.Header().Get("Location"), "#")
	return b.get(to)
}

func (b *table) file(name string) string {
	b.t.Helper()
	data, err := afero.ReadFile(b.folder, name)
	if err != nil {
		b.t.Fatal(err)
	}
	return string(data)
}

// formOf is what a browser would send of a page's form, untouched.
func formOf(t *testing.T, page string) url.Values {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	v := url.Values{}
	var see func(n *html.Node, in bool)
	see = func(n *html.Node, in bool) {
		attr := func(name string) (string, bool) {
			for _, a := range n.Attr {
				if a.Key == name {
					return a.Val, true
				}
			}
			return "", false
		}
		if n.Type == html.ElementNode {
			id, _ := attr("id")
			in = in || id == "form"
			name, named := attr("name")
			value, _ := attr("value")
			kind, _ := attr("type")
			_, checked := attr("checked")
			switch {
			case n.Data == "template":
				return
			case !in || !named:
			case n.Data == "input" && kind == "checkbox":
				if checked {
					v.Add(name, value)
				}
			case n.Data == "input" && kind != "file":
				v.Add(name, value)
			case n.Data == "textarea":
				text := ""
				if n.FirstChild != nil {
					text = n.FirstChild.Data
				}
				v.Add(name, strings.ReplaceAll(text, "\n", "\r\n"))
			case n.Data == "select":
				chosen := ""
				for o := n.FirstChild; o != nil; o = o.NextSibling {
					for _, a := range o.Attr {
						if a.Key == "selected" {
							for _, val := range o.Attr {
								if val.Key == "value" {
									chosen = val.Val
								}
							}
						}
					}
				}
				v.Add(name, chosen)
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			see(c, in)
		}
	}
	see(doc, false)
	if len(v) < 3 {
		t.Fatalf("a form of %d fields:\n%s", len(v), page)
	}
	return v
}

// addressOf is where the form of a file of the example is.
func addressOf(name string) string {
	parts := strings.Split(name, "/")
	switch {
	case name == "shop.md":
		return "/desk/shop"
	case parts[0] == "sheets":
		return "/desk/s/" + parts[1]
	case parts[len(parts)-1] == "machine.md":
		return "/desk/m/" + parts[1]
	}
	return "/desk/m/" + parts[1] + "/e/" + parts[2]
}

// files are the files of the shop that have forms.
func (b *table) files() []string {
	b.t.Helper()
	var all []string
	err := afero.Walk(b.folder, ".", func(name string, info os.FileInfo, err error) error {
		if err == nil && strings.HasSuffix(name, ".md") && !strings.HasPrefix(path.Base(name), ".") && name != "README.md" {
			all = append(all, name)
		}
		return err
	})
	if err != nil || len(all) < 20 {
		b.t.Fatalf("%d files, %v", len(all), err)
	}
	return all
}

// TestKeepingChangesNothing: a form that is sent as it came leaves the file as it is.
func TestKeepingChangesNothing(t *testing.T) {
	b := newTable(t)
	b.still = true
	for _, name := range b.files() {
		before := b.file(name)
		v := formOf(t, b.get(addressOf(name)))
		v.Set("do", "keep")
		if w := b.post(addressOf(name), v); w.Code != http.StatusSeeOther {
			_, body, _ := strings.Cut(w.Body.String(), "<main")
			t.Errorf("%s: %d %s", name, w.Code, body)
		}
		if after := b.file(name); after != before {
			t.Errorf("%s: changed by nothing\n%s", name, difference(before, after))
		}
	}
}

// TestEachFieldAlone: of each file each field is written over by itself; the file then
// says so, and no other line of it is another.
func TestEachFieldAlone(t *testing.T) {
	b := newTable(t)
	b.still = true
	tried, seen := 0, 0
	for _, name := range b.files() {
		before := b.file(name)
		at := addressOf(name)
		for field, values := range formOf(t, b.get(at)) {
			if !strings.HasPrefix(field, "f.") || strings.Contains(field, "*") || len(values) != 1 || values[0] == "" || strings.Contains(values[0], "\n") {
				continue
			}
			if seen++; seen%17 != 0 && field != "f.sheet" {
				continue // package frontmatter tries every one
			}
			tried++
			v := formOf(t, b.get(at))
			v.Set(field, "changed 12")
			v.Set("do", "keep-so")
			if w := b.post(at, v); w.Code != http.StatusSeeOther {
				t.Errorf("%s: %s: %d %s", name, field, w.Code, w.Body)
				continue
			}
			after := b.file(name)
			if n := differing(before, after); n != 1 || !strings.Contains(after, "changed 12") {
				t.Errorf("%s: %s: %d lines differ\n%s", name, field, n, difference(before, after))
			}
			if err := afero.WriteFile(b.folder, name, []byte(before), 0o644); err != nil {
				t.Fatal(err)
			}
			if tried%40 == 0 {
				b.clear()
			}
		}
	}
	if tried < 80 {
		t.Errorf("only %d fields were tried", tried)
	}
}

func (b *table) clear() { _ = b.folder.RemoveAll(".asleft") }

// differing is how many lines of one are not those of the other.
func differing(before, after string) int {
	a, c := strings.Split(before, "\n"), strings.Split(after, "\n")
	if len(a) != len(c) {
		return max(len(a), len(c))
	}
	n := 0
	for i := range a {
		if a[i] != c[i] {
			n++
		}
	}
	return n
}

func difference(before, after string) string {
	var b bytes.Buffer
	a, c := strings.Split(before, "\n"), strings.Split(after, "\n")
	for i := range max(len(a), len(c)) {
		was, is := "", ""
		if i < len(a) {
			was = a[i]
		}
		if i < len(c) {
			is = c[i]
		}
		if was != is {
			fmt.Fprintf(&b, "%d: %q\n   %q\n", i+1, was, is)
		}
		if b.Len() > 2000 {
			break
		}
	}
	return b.String()
}

// TestEveryFieldHasItsPlace walks the list of all fields of all files and looks for each in
// a form: in its group, with a label, under its own name.
func TestEveryFieldHasItsPlace(t *testing.T) {
	b := newTable(t)
	if err := afero.WriteFile(b.folder, "sheets/press.md", []byte("---\nsheet: cider press\nitems:\n  - {item: screw turns freely, system: drive, safety: no}\n---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	b = tableOf(t, b.folder)
	pages := map[string]string{
		logbook.FileShop: b.get("/desk/shop") + b.get("/desk/publish/place"), logbook.FileMachine: b.get("/desk/m/gannet"),
		logbook.FileEntry: b.get("/desk/m/gannet/new/20261128T193000-abcdef"), logbook.FileSheet: b.get("/desk/s/press.md"),
	}
	for _, f := range logbook.Fields {
		page := pages[f.File]
		// A field of a row stands in the row that can be added.
		name := "f." + strings.ReplaceAll(f.Path, "/", ".")
		row := "f." + strings.Replace(strings.ReplaceAll(f.Path, "/", "."), ".", ".NUMBER.", 1)
		found := false
		for _, n := range []string{name, row} {
			found = found || strings.Contains(page, `name="`+n+`"`) || strings.Contains(page, `data-list="`+n+`"`) || strings.Contains(page, `id="`+strings.ReplaceAll(n, ".", "-")+`"`)
		}
		if f.Path == "publish" || f.Path == "publish/to" { // an address is asked for in its parts
			found = strings.Contains(page, `action="/desk/publish/place"`) && strings.Contains(page, `name="host"`)
		}
		if !found && f.Path != "has" { // its fields are what the machine's list asks about
			t.Errorf("%s: %s has no place in the form", f.File, f.Path)
		}
	}
	if !strings.Contains(b.get("/desk/m/lathe"), `name="f.has.guard switches"`) {
		t.Error("the lathe's guard switches have no place in its form")
	}
}

const evening = "/desk/m/gannet/new/20261128T193000-abcdef"

// TestAnEvening writes an evening as a browser does: a draft while it is typed, then kept;
// undone, and its draft there again.
func TestAnEvening(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get(evening))
	v.Set("f.title", "New plug")
	v.Set("story", "The old one was fouled.\r\n\r\nIt starts now.")
	v.Set("f.hours.0.from", "18:30")
	v.Set("f.hours.0.to", "19:15")
	v.Set("f.parts.0.part", "spark plug")
	v.Set("f.parts.0.qty", "1")
	v.Set("f.parts.0.each", "4.50")
	v.Set("f.parts.0.source", "new")
	v.Set("f.parts.0.system", "ignition")
	v.Set("do", "try")
	said := b.post(evening, v).Body.String()
	for _, want := range []string{"Draft kept", "0:45", "spark plug: 4.50 USD"} {
		if !strings.Contains(said, want) {
			t.Errorf("while typing it does not say %q:\n%s", want, said)
		}
	}
	again := formOf(t, b.get(evening))
	if again.Get("f.title") != "New plug" || again.Get("f.parts.0.part") != "spark plug" || !strings.Contains(again.Get("story"), "fouled") {
		t.Errorf("the draft is not there again: %v", again)
	}
	if !strings.Contains(b.get("/desk/"), evening) {
		t.Error("the board does not show the draft")
	}
	again.Set("do", "keep")
	if w := b.post(evening, again); w.Code != http.StatusSeeOther {
		t.Fatalf("not kept: %d %s", w.Code, w.Body)
	}
	name := "machines/gannet/2026-11-28-new-plug.md"
	text := b.file(name)
	for _, want := range []string{"title: New plug", "4.50", "It starts now."} {
		if !strings.Contains(text, want) {
			t.Errorf("the file does not say %q:\n%s", want, text)
		}
	}
	if strings.Contains(b.get("/desk/"), evening) {
		t.Error("the board still shows the draft")
	}
	undo := value(b.get("/desk/m/gannet"), `name="name" value="`)
	b.post("/desk/undo", url.Values{"name": {undo}})
	if there, _ := afero.Exists(b.folder, name); there {
		t.Error("it was not undone")
	}
	if !strings.Contains(b.get("/desk/"), "2026-11-28-new-plug") {
		t.Error("what was undone is nowhere")
	}
}

func value(page, before string) string {
	_, rest, _ := strings.Cut(page, before)
	v, _, _ := strings.Cut(rest, `"`)
	return v
}

// TestWhatIsWrongStandsAtItsField: problems are told at the field of the row that they
// are about, in words; what is wrong is kept in no file unless the person wants it.
func TestWhatIsWrongStandsAtItsField(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get(evening))
	v.Set("f.title", "Reading")
	v.Set("f.measured.3.what", "compression")
	v.Set("f.measured.3.value", "many psi")
	v.Set("do", "try")
	said := b.post(evening, v).Body.String()
	if !strings.Contains(said, `"f.measured.3.value":[`) {
		t.Errorf("not told at its field:\n%s", said)
	}
	v.Set("do", "keep")
	if page := b.sent(evening, v); !strings.Contains(page, "One thing to mend") || !regexp.MustCompile(`data-wrong="f.measured.0.value"><li>`).MatchString(page) {
		t.Errorf("kept all the same, or what is wrong is not told:\n%s", page)
	}
	if infos, _ := afero.Glob(b.folder, "machines/gannet/2026-11-28*"); infos != nil {
		t.Errorf("there are %v", infos)
	}
}

// TestAnEditorOnTheSameFile: what somebody else wrote meanwhile is not written over; both
// are shown, and neither is lost whichever is picked.
func TestAnEditorOnTheSameFile(t *testing.T) {
	for _, pick := range []string{"over", "theirs"} {
		b := newTable(t)
		name := "machines/gannet/machine.md"
		v := formOf(t, b.get("/desk/m/gannet"))
		theirs := strings.Replace(b.file(name), "Pellworth", "Pellworth and Sons", 1)
		if err := afero.WriteFile(b.folder, name, []byte(theirs), 0o644); err != nil {
			t.Fatal(err)
		}
		v.Set("f.model", "Rider 38 B")
		v.Set("do", "try")
		if said := b.post("/desk/m/gannet", v).Body.String(); !strings.Contains(said, "in another window or program") {
			t.Errorf("while typing it does not say so: %s", said)
		}
		v.Set("do", "keep")
		w := b.post("/desk/m/gannet", v)
		if w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "Pellworth and Sons") || !strings.Contains(w.Body.String(), "Rider 38 B") {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		if b.file(name) != theirs {
			t.Fatal("theirs was written over")
		}
		b.post("/desk/m/gannet", url.Values{"base": {value(w.Body.String(), `name="base" value="`)}, "do": {pick}})
		switch mine := strings.Contains(b.file(name), "Rider 38 B"); {
		case pick == "theirs" && b.file(name) != theirs:
			t.Error("theirs did not stay")
		case pick == "theirs":
			if all := b.keptTexts(); len(all) != 1 || !strings.Contains(all[0], "Rider 38 B") {
				t.Errorf("of mine there is %q", all)
			}
		case pick == "over" && !mine:
			t.Error("mine did not come")
		case pick == "over":
			undo := value(b.get("/desk/m/gannet"), `name="name" value="`)
			if b.post("/desk/undo", url.Values{"name": {undo}}); b.file(name) != theirs {
				t.Error("theirs is not to be had back")
			}
		}
	}
}

// TestWalkingTheList answers points one by one; the answers are in one evening.
func TestWalkingTheList(t *testing.T) {
	b := newTable(t)
	at := b.ask(httptest.NewRequest(http.MethodGet, "/desk/m/gannet/list", nil)).Header().Get("Location")
	_, first, _ := strings.Cut(b.get(at), "<h1>")
	first, _, _ = strings.Cut(first, "<")
	if !strings.Contains(b.get(at), "Can hurt someone") {
		t.Error("the first point is not one that can hurt someone")
	}
	b.post(at+"?n=0", url.Values{"result": {"works"}, "note": {"tried twice"}})
	b.post(at+"?n=1", url.Values{"result": {"fails"}})
	b.post(at+"?n=2", url.Values{"result": {"not checked"}})
	b.post(at+"?n=0", url.Values{"result": {"fails"}, "note": {"tried thrice"}})
	v := formOf(t, b.get(strings.Replace(at, "/list/", "/new/", 1)))
	var items []string
	for n := range 3 {
		items = append(items, v.Get(fmt.Sprintf("f.checks.%d.item", n))+"="+v.Get(fmt.Sprintf("f.checks.%d.result", n)))
	}
	if items[0] != first+"=fails" || !strings.HasSuffix(items[1], "=fails") || items[2] != "=" {
		t.Errorf("the answers are %v, the first point %q", items, first)
	}
}

// walkOf begins the walk of a machine's list, and returns its address.
func (b *table) walkOf(key string) string {
	b.t.Helper()
	return b.ask(httptest.NewRequest(http.MethodGet, "/desk/m/"+key+"/list", nil)).Header().Get("Location")
}

// point is the point that a screen of the walk shows.
func point(page string) string { return escaped.UnescapeString(value(page, `name="item" value="`)) }

// answered are the points that a form of an evening answers, and how.
func answered(v url.Values) map[string]string {
	all := map[string]string{}
	for n := range 20 {
		at := fmt.Sprintf("f.checks.%d.", n)
		if v.Get(at+"result") != "" {
			all[v.Get(at+"item")] = strings.TrimSpace(v.Get(at+"result") + " " + v.Get(at+"note"))
		}
	}
	return all
}

// TestTheWalkGoesOn: once its evening was kept, and the machine's folder got another name,
// the walk goes on in that evening, and each answer is of the point that the page showed.
func TestTheWalkGoesOn(t *testing.T) {
	b := newTable(t)
	at := b.walkOf("gannet")
	evening := strings.Replace(at, "/list/", "/new/", 1)
	want := map[string]string{}
	b.post(at+"?n=0", url.Values{"item": {point(b.get(at + "?n=0"))}, "result": {"works"}})
	want[point(b.get(at+"?n=0"))] = "works"
	second := point(b.get(at + "?n=1"))
	v := formOf(t, b.get(evening))
	v.Set("do", "keep")
	if w := b.post(evening, v); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	w := b.post(at+"?n=1", url.Values{"item": {second}, "result": {"fails"}}) // a page of before
	want[second] = "fails"
	to := w.Header().Get("Location")
	if third := point(b.get(to)); want[third] != "" {
		t.Errorf("it goes on to %q, which is answered", third)
	} else {
		want[third] = "works"
		b.post("/desk/m/gannet/rename", url.Values{"key": {"old-gannet"}})
		b.post(to, url.Values{"item": {third}, "result": {"works"}})
	}
	const kept = "/desk/m/old-gannet/e/2026-11-28-going-round.md"
	if w := b.ask(httptest.NewRequest(http.MethodGet, evening, nil)); w.Header().Get("Location") != kept {
		t.Fatalf("the evening leads to %q", w.Header().Get("Location"))
	}
	v = formOf(t, b.get(kept))
	if got := answered(v); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the answers are %v, want %v", got, want)
	}
	v.Set("do", "keep-so")
	if w := b.post(kept, v); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if there, _ := afero.Exists(b.folder, "machines/gannet"); there {
		t.Error("there is a folder of the old name")
	}
	if drafts, _ := afero.Glob(b.folder, ".asleft/desk/*.json"); len(drafts) > 0 {
		t.Errorf("there are drafts still: %v", drafts)
	}
}

// TestANoteOfTheWalk: a note that was typed is kept with its point whichever button is
// pressed, and while it is typed; the answer that the point has, and all else, stays.
func TestANoteOfTheWalk(t *testing.T) {
	b := newTable(t)
	at := b.walkOf("gannet")
	evening := strings.Replace(at, "/list/", "/new/", 1)
	for n, do := range []string{"next", "evening", "before", "stay"} {
		screen := fmt.Sprintf("%s?n=%d", at, n)
		page := b.get(screen)
		if !strings.Contains(page, `name="go"`) || strings.Contains(page, `<a class="do"`) {
			t.Fatalf("a link leads away from what is typed:\n%s", page)
		}
		w := b.post(screen, url.Values{"item": {point(page)}, "note": {"seen by " + do}, "go": {do}})
		want := map[string]string{"next": at + "?n=1", "evening": evening, "before": at + "?n=1", "stay": ""}[do]
		if to := w.Header().Get("Location"); to != want {
			t.Errorf("%s leads to %q, want %q", do, to, want)
		}
		if got := answered(formOf(t, b.get(evening)))[point(page)]; got != "not checked seen by "+do {
			t.Errorf("%s: the point says %q", do, got)
		}
	}
	v := formOf(t, b.get(evening))
	first := v.Get("f.checks.0.item")
	v.Set("f.checks.0.as_found", "yes")
	v.Set("do", "look")
	b.post(evening, v)
	b.post(at+"?n=0", url.Values{"item": {first}, "result": {"works"}, "note": {"seen by next"}})
	b.post(at+"?n=0", url.Values{"item": {first}, "note": {""}, "go": {"next"}})
	v = formOf(t, b.get(evening))
	if v.Get("f.checks.0.item") != first || v.Get("f.checks.0.result") != "works" || v.Get("f.checks.0.note") != "" || v.Get("f.checks.0.as_found") != "yes" {
		t.Errorf("answered, it says %q %q %q %q", v.Get("f.checks.0.item"), v.Get("f.checks.0.result"), v.Get("f.checks.0.note"), v.Get("f.checks.0.as_found"))
	}
}

// TestRenamedInAnotherTab: what a page that was opened before its machine was renamed keeps
// goes into the folder as it is called now.
func TestRenamedInAnotherTab(t *testing.T) {
	b := newTable(t)
	is := b.read.Shop.Machines[slices.IndexFunc(b.read.Shop.Machines, func(m *logbook.Machine) bool { return m.Key == "heron" })].Entries[0].File
	there := addressOf(is)
	const begun = "/desk/m/heron/new/20261128T193000-abcdef"
	before, fresh := formOf(t, b.get(there)), formOf(t, b.get(begun))
	b.post("/desk/m/heron/rename", url.Values{"key": {"old-heron"}})
	if beside := b.get("/desk/m/heron/report?draft=machines/heron/new-20261128T193000-abcdef"); beside != b.get("/desk/m/old-heron/report") {
		t.Error("the report beside it is another, or none")
	}
	before.Set("f.by", "QQ")
	fresh.Set("f.title", "After")
	fresh.Set("story", "Done.")
	for at, v := range map[string]url.Values{there: before, begun: fresh} {
		for _, do := range []string{"try", "keep"} {
			v.Set("do", do)
			if w := b.post(at, v); w.Code != http.StatusSeeOther && do == "keep" || w.Code != http.StatusOK && do == "try" {
				t.Fatalf("%s %s: %d %s", at, do, w.Code, w.Body)
			}
		}
	}
	if text := b.file(strings.Replace(is, "heron", "old-heron", 1)); !strings.Contains(text, "by: QQ") {
		t.Errorf("the evening says\n%s", text)
	}
	b.file("machines/old-heron/2026-11-28-after.md")
	if there, _ := afero.Exists(b.folder, "machines/heron"); there {
		t.Error("there is a folder of the old name")
	}
	if drafts, _ := afero.Glob(b.folder, ".asleft/desk/*.json"); len(drafts) > 0 {
		t.Errorf("there are drafts still: %v", drafts)
	}

	// Its own page shows both versions; whichever is kept, the earlier name is not lost.
	mine := formOf(t, b.get("/desk/m/old-heron"))
	b.post("/desk/m/old-heron/rename", url.Values{"key": {"older-heron"}})
	mine.Set("f.model", "Rider 38 B")
	mine.Set("do", "keep")
	w := b.post("/desk/m/old-heron", mine)
	if w.Code != http.StatusConflict {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	w = b.post("/desk/m/old-heron", url.Values{"base": {value(w.Body.String(), `name="base" value="`)}, "do": {"over"}})
	if to := w.Header().Get("Location"); w.Code != http.StatusSeeOther || to != "/desk/m/older-heron?said=kept" {
		t.Errorf("%d, it leads to %q", w.Code, to)
	}
	if text := b.file("machines/older-heron/machine.md"); !strings.Contains(text, "Rider 38 B") || !regexp.MustCompile(`(?s)was:\s+- heron\s+- old-heron`).MatchString(text) {
		t.Errorf("the machine says\n%s", text)
	}

	// One whose folder is gone gets none: what was typed is a draft.
	gone := formOf(t, b.get("/desk/m/gannet/new/20261128T193000-abcdef"))
	if err := b.folder.RemoveAll("machines/gannet"); err != nil {
		t.Fatal(err)
	}
	gone.Set("story", "Too late.")
	gone.Set("do", "keep-so")
	if w := b.post("/desk/m/gannet/new/20261128T193000-abcdef", gone); w.Code != http.StatusNotFound || !strings.Contains(w.Body.String(), "no machine gannet") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if there, _ := afero.Exists(b.folder, "machines/gannet"); there {
		t.Error("the folder is there again")
	}
	if text := b.file(".asleft/desk/machines~gannet~new-20261128T193000-abcdef.json"); text == "" {
		t.Error("what was typed is lost")
	}
}

// TestStrangers: without the secret nothing is shown or taken, and a look ahead at the
// address uses nothing up.
func TestStrangers(t *testing.T) {
	b := newTable(t)
	d := desk.New(b.folder, desk.Options{Reading: func() *generator.Reading { return nil }, Secret: "s3cret", Now: func() time.Time { return now }})
	b.handle = d.Handler(host)
	for _, at := range []string{"/desk/", "/desk/shop", "/", "/desk/m/gannet/report"} {
		if w := b.ask(httptest.NewRequest(http.MethodGet, at, nil)); w.Code != http.StatusForbidden || strings.Contains(w.Body.String(), "Gannet") {
			t.Errorf("%s: %d", at, w.Code)
		}
	}
	ticket := desk.Ticket("s3cret", now)
	for what, wrong := range map[string]string{
		"another secret's": desk.Ticket("other", now), "the secret itself": "s3cret", "an old one": desk.Ticket("s3cret", now.Add(-11*time.Minute)),
		"a later time": strings.Replace(ticket, ticket[:4], "ffff", 1), "nothing": "", "half": ticket[:20],
	} {
		if w := b.post("/desk/in", url.Values{"ticket": {wrong}}); w.Code != http.StatusForbidden || w.Header().Get("Set-Cookie") != "" {
			t.Errorf("%s lets in: %d", what, w.Code)
		}
	}
	if w := b.ask(httptest.NewRequest(http.MethodGet, "/desk/in?ticket="+ticket, nil)); w.Code != http.StatusOK || w.Header().Get("Set-Cookie") != "" {
		t.Errorf("to look at the way in let somebody in: %d", w.Code)
	}
	w := b.post("/desk/in", url.Values{"ticket": {ticket}})
	cookie := w.Header().Get("Set-Cookie")
	if w.Code != http.StatusSeeOther || !strings.Contains(cookie, "HttpOnly") || strings.Contains(cookie, "s3cret") {
		t.Fatalf("%d %s", w.Code, cookie)
	}
	r := httptest.NewRequest(http.MethodGet, "/desk/", nil)
	r.Header.Set("Cookie", strings.Split(cookie, ";")[0])
	if w := b.ask(r); w.Code != http.StatusOK {
		t.Errorf("known, and not let in: %d", w.Code)
	}
	if w := b.post("/desk/in", url.Values{"ticket": {ticket}}); w.Code != http.StatusForbidden {
		t.Errorf("a ticket lets in twice: %d", w.Code)
	}
}

// TestAFileThatIsNoForm: a file that cannot be taken apart is shown as it stands, and what
// is typed into it is a draft and kept like any other.
func TestAFileThatIsNoForm(t *testing.T) {
	b := newTable(t)
	name := "machines/gannet/2026-05-16-torn.md"
	if err := afero.WriteFile(b.folder, name, []byte("---\r\ndate: 2026-05-16\r\ntitle: [torn\r\n---\r\nText.\r\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	at := "/desk/m/gannet/e/2026-05-16-torn.md"
	page := b.get(at)
	if !strings.Contains(page, "<h1>The evening</h1>") {
		t.Errorf("an evening that is there is told as a new one:\n%s", page)
	}
	v := formOf(t, page)
	if !strings.Contains(v.Get("raw"), "[torn") {
		t.Fatalf("it is not shown: %v", v)
	}
	v.Set("raw", strings.Replace(v.Get("raw"), "[torn", "Torn", 1))
	v.Set("do", "keep")
	if w := b.post(at, v); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if got, want := b.file(name), "---\r\ndate: 2026-05-16\r\ntitle: Torn\r\n---\r\nText.\r\n"; got != want {
		t.Errorf("it says %q", got)
	}
}

// TestSealing: what the buyer is told stands there first, and has to be agreed to; then
// there is a sealed file, and the buyer's two files are given out.
func TestSealing(t *testing.T) {
	b := newTable(t)
	at := "/desk/m/harrow/seal"
	if page := b.get(at); !strings.Contains(page, "not so · muffler is tight and its guard fitted") || !strings.Contains(page, `name="tell"`) {
		t.Errorf("it does not say what is open:\n%s", page)
	}
	before, _ := afero.Glob(b.folder, "handovers/harrow-*")
	if w := b.post(at, url.Values{"paper": {"a4"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("sealed without a word to the buyer: %d", w.Code)
	}
	w := b.post(at, url.Values{"paper": {"a4"}, "tell": {"yes"}})
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	after, _ := afero.Glob(b.folder, "handovers/harrow-*")
	if len(after) != len(before)+1 {
		t.Errorf("%v, then %v", before, after)
	}
	given := 0
	for rest := w.Body.String(); ; given++ {
		_, next, found := strings.Cut(rest, `href="/desk/m/harrow/sealed/`)
		if !found {
			break
		}
		name, _, _ := strings.Cut(next, `"`)
		rest = next
		file := b.ask(httptest.NewRequest(http.MethodGet, "/desk/m/harrow/sealed/"+name, nil))
		if file.Code != http.StatusOK || file.Body.Len() < 10_000 || !strings.Contains(file.Header().Get("Content-Disposition"), name) {
			t.Errorf("%s: %d, %d bytes", name, file.Code, file.Body.Len())
		}
	}
	if given != 2 {
		t.Errorf("%d files for the buyer", given)
	}
}

// TestTag: the tag of a machine is a PDF to print, on the paper that is asked for; logs
// with problems have none.
func TestTag(t *testing.T) {
	b := newTable(t)
	if page := b.get("/desk/m/harrow"); !strings.Contains(page, `href="/desk/m/harrow/tag"`) {
		t.Error("the machine's page has no button for it")
	}
	for at, size := range map[string]string{"/desk/m/harrow/tag": "360.00 216.00", "/desk/m/harrow/tag?paper=letter": "792.00 612.00"} {
		w := b.ask(httptest.NewRequest(http.MethodGet, at, nil))
		if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "application/pdf" || !strings.Contains(w.Body.String(), size) {
			t.Errorf("%s: %d, %s", at, w.Code, w.Header())
		}
	}
	if w := b.ask(httptest.NewRequest(http.MethodGet, "/desk/m/nobody/tag", nil)); w.Code != http.StatusNotFound {
		t.Errorf("of a machine that is not there: %d", w.Code)
	}
	file := "machines/harrow/machine.md"
	if err := afero.WriteFile(b.folder, file, []byte(strings.Replace(b.file(file), "arrived: ", "arrived: soon ", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if w := b.ask(httptest.NewRequest(http.MethodGet, "/desk/m/harrow/tag", nil)); w.Code != http.StatusUnprocessableEntity || strings.HasPrefix(w.Body.String(), "%PDF") {
		t.Errorf("with a problem: %d", w.Code)
	}
}

// TestKeptOnce: what a page sends after its evening was kept (a second press, an answer
// that was under way, the page gone back to) makes no second evening and no draft.
func TestKeptOnce(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get(evening))
	v.Set("f.title", "Ran it")
	v.Set("f.ran", "0:20")
	for _, do := range []string{"try", "keep", "try", "keep"} {
		v.Set("do", do)
		b.post(evening, v)
	}
	if all, _ := afero.Glob(b.folder, "machines/gannet/2026-11-28*"); len(all) != 1 {
		t.Errorf("there are %v", all)
	}
	if drafts, _ := afero.Glob(b.folder, ".asleft/desk/*.json"); len(drafts) != 0 {
		t.Errorf("drafts are left: %v", drafts)
	}
	v.Set("f.title", "Ran it again")
	v.Set("do", "keep")
	b.post(evening, v)
	if text := b.file("machines/gannet/2026-11-28-ran-it.md"); !strings.Contains(text, "Ran it again") {
		t.Errorf("the page gone back to did not change its own evening:\n%s", text)
	}
	// The same on purpose, begun anew, is a second one.
	other := strings.Replace(evening, "abcdef", "abcdee", 1)
	v = formOf(t, b.get(other))
	v.Set("f.title", "Ran it")
	v.Set("f.ran", "0:20")
	v.Set("do", "keep")
	b.post(other, v)
	if all, _ := afero.Glob(b.folder, "machines/gannet/2026-11-28*"); len(all) != 2 {
		t.Errorf("there are %v", all)
	}
}

// TestFromAnEmptyFolder: a shop, a machine and an evening out of nothing, all of it by forms.
func TestFromAnEmptyFolder(t *testing.T) {
	b := tableOf(t, afero.NewMemMapFs())
	if !strings.Contains(b.get("/desk/"), `action="/desk/start"`) {
		t.Fatal("an empty folder is not asked about")
	}
	if w := b.post("/desk/start", url.Values{"name": {"Back Lane Repairs"}, "currency": {"dollars"}}); w.Code != http.StatusUnprocessableEntity || !regexp.MustCompile(`name="currency"[^>]* autofocus`).MatchString(w.Body.String()) {
		t.Errorf("dollars is a currency, or nobody is led to it: %d %s", w.Code, w.Body)
	}
	if w := b.post("/desk/start", url.Values{"name": {"Back Lane Repairs"}, "currency": {"usd"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	at := "/desk/new/20261128T193000-abcdef"
	v := formOf(t, b.get(at))
	v.Set("f.name", "Little saw")
	v.Set("f.kind", "chainsaw")
	v.Set("do", "keep")
	if w := b.post(at, v); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/desk/m/little-saw?said=kept" {
		t.Fatalf("%d %s %s", w.Code, w.Header(), w.Body)
	}
	at = "/desk/m/little-saw/new/20261128T193000-abcdef"
	v = formOf(t, b.get(at))
	v.Set("f.title", "It came in a box")
	v.Set("do", "keep")
	if w := b.post(at, v); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if page := b.get("/desk/m/little-saw"); !strings.Contains(page, "It came in a box") {
		t.Errorf("its page does not show its evening:\n%s", page)
	}
	t.Log(b.file("shop.md"), b.file("machines/little-saw/machine.md"), b.file("machines/little-saw/2026-11-28-it-came-in-a-box.md"))
}

// TestRenaming: what names a machine follows it, the rest of those files stays, its drafts
// come along, and a name that is taken changes nothing.
func TestRenaming(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get("/desk/m/heron/new/20261128T193000-abcdef"))
	v.Set("f.title", "Half written")
	v.Set("do", "try")
	b.post("/desk/m/heron/new/20261128T193000-abcdef", v)
	var naming []string
	before := map[string]string{}
	for _, name := range b.files() {
		before[name] = b.file(name)
		if strings.Contains(before[name], "from: heron") {
			naming = append(naming, name)
		}
	}
	if len(naming) == 0 {
		t.Fatal("nothing in the example came from the heron")
	}
	if w := b.post("/desk/m/heron/rename", url.Values{"key": {"harrow"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a name that is taken: %d", w.Code)
	}
	if w := b.post("/desk/m/heron/rename", url.Values{"key": {"Old Heron"}}); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/desk/m/old-heron?said=renamed" {
		t.Fatalf("%d %s %s", w.Code, w.Header(), w.Body)
	}
	for _, name := range naming {
		if got, want := b.file(name), strings.ReplaceAll(before[name], "from: heron", "from: old-heron"); got != want {
			t.Errorf("%s:\n%s", name, difference(want, got))
		}
	}
	for name, text := range before {
		if rest, its := strings.CutPrefix(name, "machines/heron/"); its && rest != "machine.md" && b.file("machines/old-heron/"+rest) != text {
			t.Errorf("%s is another", name)
		}
	}
	if text := b.file("machines/old-heron/machine.md"); !strings.Contains(text, "was: [heron]") && !strings.Contains(text, "was:\n  - heron") {
		t.Errorf("its old name is nowhere:\n%s", text)
	}
	if page := b.get("/desk/m/old-heron/new/20261128T193000-abcdef"); !strings.Contains(page, "Half written") {
		t.Error("its draft did not come along")
	}
	if there, _ := afero.DirExists(b.folder, "machines/heron"); there {
		t.Error("the old folder is still there")
	}
	b.post("/desk/m/old-heron/rename", url.Values{"key": {"heron"}})
	if text := b.file("machines/heron/machine.md"); strings.Contains(text, "was: [heron") || !strings.Contains(text, "old-heron") {
		t.Errorf("named back, it says:\n%s", text)
	}
}

// TestATestIsChosen: a bench test that is chosen has its own inputs in the form, and what
// it comes to is told while it is typed.
func TestATestIsChosen(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get(evening))
	v.Set("f.title", "Compression again")
	v.Set("f.tests.0.test", "compression")
	v.Set("do", "test f.tests.0")
	page := b.sent(evening, v)
	if strings.Contains(page, "to mend") || strings.Contains(page, "<li>This has to be said") {
		t.Error("what nobody has touched yet is called wrong")
	}
	if !regexp.MustCompile(`name="f\.tests\.0\.[a-z]+" value="" autofocus`).MatchString(page) {
		t.Error("the page does not begin at the fields of the test")
	}
	v = formOf(t, page)
	if _, asked := v["f.tests.0.dry"]; !asked {
		t.Fatalf("it does not ask for the dry reading: %v", v)
	}
	v.Set("f.tests.0.dry", "40 psi")
	v.Set("f.tests.0.wet", "80 psi")
	v.Set("do", "try")
	if said := b.post(evening, v).Body.String(); !strings.Contains(said, "rings") {
		t.Errorf("what the test points to is not told: %s", said)
	}
}

// FuzzSent sends forms with any of the fields in any row, any value and any button: the
// desk answers, and no file of the shop is another unless it was kept.
func FuzzSent(f *testing.F) {
	var names []string
	for _, of := range logbook.Fields {
		if of.File == logbook.FileEntry {
			names = append(names, strings.ReplaceAll(of.Path, "/", "."))
		}
	}
	f.Add([]byte("\x00\x01\x02"), "62 psi", "try")
	f.Add([]byte("\x40\x41\x81\x10"), "yes", "look")
	f.Add([]byte("\x07\x77\x77"), "a: b # c\n- d", "more f.parts")
	f.Fuzz(func(t *testing.T, picks []byte, value, do string) {
		if strings.HasPrefix(do, "keep") || do == "over" || len(picks) > 60 {
			return
		}
		b := newTable(t)
		b.still = true
		before := b.file("machines/gannet/2026-05-16-brakes.md")
		at := "/desk/m/gannet/e/2026-05-16-brakes.md"
		v := formOf(t, b.get(at))
		for i := 0; i+1 < len(picks); i += 2 {
			name := names[int(picks[i])%len(names)]
			first, rest, inside := strings.Cut(name, ".")
			switch row := int(picks[i+1]); {
			case row < 8:
				v.Set("f."+name, value)
			case inside:
				v.Set(fmt.Sprintf("f.%s.%d.%s", first, row%9, rest), value)
			default:
				v.Set(fmt.Sprintf("f.%s.%d", first, row%9), value)
			}
		}
		v.Set("do", do)
		if w := b.post(at, v); w.Code == 0 || w.Code == http.StatusNotFound {
			t.Errorf("%d %s", w.Code, w.Body)
		}
		if b.file("machines/gannet/2026-05-16-brakes.md") != before {
			t.Error("the file is another, and nobody kept it")
		}
	})
}

// TestTheWayToAFault: below how many things are to be mended stands a way to each, with the
// field's label and what is wrong; the part that holds it is open, and the page begins at
// the first. All of it needs no script.
func TestTheWayToAFault(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get(evening))
	v.Set("f.title", "Two faults")
	v.Set("f.defects.0.defect", "seat torn")
	v.Set("f.parts.0.part", "pulley")
	v.Set("f.parts.0.each", "4.50")
	v.Set("f.parts.0.source", "new")
	v.Set("f.parts.0.system", "drive")
	v.Set("f.parts.0.core.deposit", "much")
	v.Set("do", "keep")
	page := b.sent(evening, v)
	ways := regexp.MustCompile(`<li data-fault="[^"]*"><a class="lone" href="#([^"]*)">([^<]*)</a> <span>([^<]+)</span>`).FindAllStringSubmatch(page, -1)
	if len(ways) < 3 {
		t.Fatalf("the ways are %q in\n%s", ways, page)
	}
	labels := map[string]string{}
	for n, way := range ways {
		labels[way[1]] = way[2]
		at := strings.Index(page, ` id="`+way[1]+`"`)
		if at < 0 {
			t.Errorf("%s leads nowhere", way[1])
			continue
		}
		tag, _, _ := strings.Cut(page[at:], ">")
		if focus := strings.Contains(tag, "autofocus"); focus != (n == 0) {
			t.Errorf("%s: the page begins at it: %v", way[1], focus)
		}
		opened := strings.Count(page[:at], "<details") - strings.Count(page[:at], "</details>")
		if opened < 1 || !strings.Contains(page[strings.LastIndex(page[:at], "<details"):at], "open><summary>") {
			t.Errorf("%s stands in a folded part", way[1])
		}
	}
	if labels["f-defects-0-safety"] != "Can it hurt someone? (seat torn)" {
		t.Errorf("the labels are %q", labels)
	}
	if _, deep := labels["f-parts-0-core-deposit"]; !deep {
		t.Errorf("nothing leads to the deposit: %q", labels)
	}
}

// TestARawFileTwice: a file that is no form is looked over twice without a script.
func TestARawFileTwice(t *testing.T) {
	b := newTable(t)
	name, at := "machines/gannet/2026-05-16-torn.md", "/desk/m/gannet/e/2026-05-16-torn.md"
	if err := afero.WriteFile(b.folder, name, []byte("---\ndate: 2026-05-16\ntitle: [torn\n---\nText.\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	page := b.get(at)
	for _, more := range []string{"Once.", "Twice."} {
		v := formOf(t, page)
		v.Set("raw", v.Get("raw")+more)
		v.Set("do", "look")
		page = b.sent(at, v)
	}
	if raw := formOf(t, b.get(at)).Get("raw"); !strings.Contains(raw, "Once.") || !strings.Contains(raw, "Twice.") {
		t.Errorf("the draft says %q", raw)
	}
}

// TestAPhotoOfADraft: the report beside shows a photo that nothing but the draft names, and
// once that is kept, the site's own.
func TestAPhotoOfADraft(t *testing.T) {
	b := newTable(t)
	var pic bytes.Buffer
	if err := jpeg.Encode(&pic, image.NewGray(image.Rect(0, 0, 900, 600)), nil); err != nil {
		t.Fatal(err)
	}
	if err := afero.WriteFile(b.folder, "machines/gannet/photos/seat new.jpg", pic.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	v := formOf(t, b.get(evening))
	for name, value := range map[string]string{"f.title": "Seat", "f.defects.0.defect": "seat torn", "f.defects.0.system": "frame", "f.defects.0.safety": "no", "f.defects.0.photo": "seat new.jpg", "f.photos.0.file": "seat new.jpg", "f.photos.0.alt": "the torn seat", "do": "try"} {
		v.Set(name, value)
	}
	b.post(evening, v)
	pictures := func(at string) []string {
		var all []string
		for _, m := range regexp.MustCompile(`<img src="([^"]*)"[^>]*alt="the torn seat"`).FindAllStringSubmatch(b.get(at), -1) {
			all = append(all, m[1])
		}
		return all
	}
	shown := pictures("/desk/m/gannet/report?draft=machines/gannet/new-20261128T193000-abcdef")
	if len(shown) == 0 || shown[0] != "/desk/m/gannet/photo/seat%20new.jpg" || b.get(shown[0]) != pic.String() {
		t.Errorf("the draft's photo is %q", shown)
	}
	v.Set("do", "keep")
	b.sent(evening, v)
	if shown = pictures("/desk/m/gannet/report"); len(shown) == 0 || !strings.HasPrefix(shown[0], "../../../photos/") {
		t.Errorf("kept, it is %q", shown)
	}
}

// TestSealedReportsStayToBeHad: the machine's page leads to the buyer's files of each
// sealed report, also those that nobody kept: they are made again to the byte. It says what
// has changed in the log since, and a file that would be another is not given.
func TestSealedReportsStayToBeHad(t *testing.T) {
	b := newTable(t)
	if w := b.post("/desk/m/harrow/seal", url.Values{"paper": {"letter"}, "tell": {"yes"}}); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	page := func() string {
		_, part, found := strings.Cut(b.get("/desk/m/harrow"), `<section id="sealed">`)
		if !found {
			t.Fatal("the machine's page has no part for its sealed reports")
		}
		return part
	}
	first := page()
	if !strings.Contains(first, "The log has not changed since.") || !strings.Contains(first, "November 28, 2026") {
		t.Errorf("it does not say when, and that nothing has changed:\n%s", first)
	}
	files := func() (all []string) {
		for rest := first; ; {
			_, next, found := strings.Cut(rest, `href="/desk/m/harrow/sealed/harrow-2026-11-28`)
			if !found {
				return all
			}
			rest = next
			name, _, _ := strings.Cut(next, `"`)
			all = append(all, b.get("/desk/m/harrow/sealed/harrow-2026-11-28"+name))
		}
	}
	kept := files()
	if err := b.folder.RemoveAll(".asleft/sealed"); err != nil {
		t.Fatal(err)
	}
	if again := files(); len(kept) != 2 || len(again) != 2 || again[0] != kept[0] || again[1] != kept[1] || !strings.HasPrefix(kept[0], "%PDF") {
		t.Errorf("made again they are others: %d and %d files", len(kept), len(again))
	}
	later := "---\ndate: 2026-11-28\ntitle: Heard it\ndefects:\n  - {key: rattle, defect: something rattles, system: engine, safety: no}\n---\n"
	if err := afero.WriteFile(b.folder, "machines/harrow/2026-11-28-heard-it.md", []byte(later), 0o644); err != nil {
		t.Fatal(err)
	}
	b = tableOf(t, b.folder)
	if second := page(); strings.Contains(second, "has not changed") || !strings.Contains(second, "something rattles") {
		t.Errorf("it does not say what has changed:\n%s", second)
	}
	photos, err := afero.Glob(b.folder, "machines/harrow/*/*.jpg")
	more, _ := afero.Glob(b.folder, "machines/harrow/*.jpg")
	if photos = append(photos, more...); err != nil || len(photos) == 0 {
		t.Fatal("the harrow has no photos")
	}
	for _, name := range photos {
		if err := b.folder.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
	name := value(first, `href="/desk/m/harrow/sealed/`)
	if w := b.ask(httptest.NewRequest(http.MethodGet, "/desk/m/harrow/sealed/"+name, nil)); w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "cannot be made again as it was") {
		t.Errorf("a file without its photos: %d", w.Code)
	}
	if w := b.ask(httptest.NewRequest(http.MethodGet, "/desk/m/harrow/sealed/machine.md", nil)); w.Code != http.StatusNotFound {
		t.Errorf("what is no sealed report: %d", w.Code)
	}
}

// TestAdvertisement: the machine's page has the texts that listing gives, whole; none of
// logs with problems, and none of a machine that is gone. Who sells and cannot be reached is told so.
func TestAdvertisement(t *testing.T) {
	b := newTable(t)
	page := b.get("/desk/m/harrow")
	n := slices.IndexFunc(b.read.Shop.Machines, func(m *logbook.Machine) bool { return m.Key == "harrow" })
	for _, short := range []bool{true, false} {
		if text := b.read.Site().OfferText(n, short); !strings.Contains(page, escaped.EscapeString(text)+"</textarea>") {
			t.Errorf("it has not the text\n%s", text)
		}
	}
	if strings.Contains(page, `id="no-contact"`) {
		t.Error("a shop that can be reached is told that it cannot")
	}
	shop := b.file("shop.md")
	_, rest, _ := strings.Cut(shop, "contact:")
	line, _, _ := strings.Cut(rest, "\n")
	if err := afero.WriteFile(b.folder, "shop.md", []byte(strings.Replace(shop, "contact:"+line+"\n", "", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	b = tableOf(t, b.folder)
	if page := b.get("/desk/m/harrow"); !strings.Contains(page, `href="/desk/shop#f-contact"`) {
		t.Error("nobody is told that a buyer cannot reach the shop")
	}
	if !strings.Contains(b.get("/desk/shop"), `id="f-contact"`) {
		t.Error("the link leads to no field")
	}
	for _, m := range b.read.Shop.Machines {
		page := b.get("/desk/m/" + m.Key)
		if gone := m.Stage == logbook.Sold || m.Stage == logbook.PartedOut; strings.Contains(page, `id="advert"`) == gone {
			t.Errorf("%s, %s: text %v", m.Key, m.Stage, !gone)
		}
		if m.Stage != logbook.ForSale && strings.Contains(page, `id="no-contact"`) {
			t.Errorf("%s, %s: nobody needs to be reached", m.Key, m.Stage)
		}
	}
	file := "machines/harrow/machine.md"
	if err := afero.WriteFile(b.folder, file, []byte(strings.Replace(b.file(file), "arrived: ", "arrived: soon ", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	b = tableOf(t, b.folder)
	if page := b.get("/desk/m/harrow"); strings.Contains(page, "advert-long") {
		t.Error("logs with a problem have a text")
	}
}

// TestTwoEveningsOfADay: a new evening of today has the time when it was begun, but where
// its hours tell it or it is of another day, which is told. Where one of two of a day has none, the form
// says why it is asked for, also while the date is typed, and the page for sealing leads there.
func TestTwoEveningsOfADay(t *testing.T) {
	b := newTable(t)
	const why = "Another evening is of this day."
	v := formOf(t, b.get(evening))
	if v.Get("f.time") != "19:30" {
		t.Errorf("the time is %q", v.Get("f.time"))
	}
	if page := b.get(evening); strings.Index(page, `name="f.time"`) > strings.Index(page, `id="photos"`) || strings.Contains(page, why) {
		t.Error("the time is not in sight, or asked for with no other evening of that day")
	}
	said := func(changes ...string) string {
		v := formOf(t, b.get(evening))
		v.Set("f.title", "Second look")
		for n := 0; n < len(changes); n += 2 {
			v.Set(changes[n], changes[n+1])
		}
		v.Set("do", "try")
		return b.post(evening, v).Body.String()
	}
	said("f.hours.0.from", "18:00", "f.hours.0.to", "18:30")
	if v := formOf(t, b.get(evening)); v.Get("f.time") != "" {
		t.Errorf("beside hours from 18:00 the time is %q", v.Get("f.time"))
	}
	b.clear()
	if told := said("f.date", "2026-05-16"); !strings.Contains(told, why) {
		t.Errorf("a date of another evening is typed, and it is not told: %s", told)
	}
	b.clear()
	if told := said("f.date", "2026-05-15"); strings.Contains(told, why) || !strings.Contains(told, "so that time is left out") {
		t.Errorf("no other evening is of that day, and the time went: %s", told)
	}
	if told := said("f.date", "2026-05-15", "f.time", "18:00"); strings.Contains(told, "so that time is left out") {
		t.Errorf("a time of that day: %s", told)
	}
	b.clear()
	said("f.date", "2026-05-15")
	if v := formOf(t, b.get(evening)); v.Get("f.time") != "" {
		t.Errorf("an evening of another day has today's time %q", v.Get("f.time"))
	}
	b.clear()
	walk := strings.Replace(evening, "/new/", "/list/", 1)
	b.post(walk+"?n=0", url.Values{"result": {"works"}})
	if v := formOf(t, b.get(evening)); v.Get("f.time") != "19:30" || v.Get("f.checks.0.result") != "works" {
		t.Errorf("the time of a walk is %q", v.Get("f.time"))
	}
	b.clear()
	untimed := "---\ndate: 2026-11-28\ntitle: In the morning\n---\n"
	if err := afero.WriteFile(b.folder, "machines/gannet/2026-11-28-in-the-morning.md", []byte(untimed), 0o644); err != nil {
		t.Fatal(err)
	}
	b = tableOf(t, b.folder)
	if page := b.get(evening); !strings.Contains(page, "Another evening of this day has no time: In the morning.") {
		t.Error("that the other one has no time is not told")
	}
	v = formOf(t, b.get(evening))
	v.Set("f.title", "In the evening")
	v.Set("do", "keep")
	if w := b.post(evening, v); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if page := b.get("/desk/m/gannet/e/2026-11-28-in-the-morning.md"); !strings.Contains(page, why) {
		t.Error("the one without a time does not ask for it")
	}
	if page := b.get("/desk/m/gannet/seal"); !strings.Contains(page, `href="/desk/m/gannet/e/2026-11-28-in-the-morning.md#f-time"`) {
		t.Error("the page for sealing does not lead to the time")
	}
}

// TestALimitOfNoReading: a limit that no reading goes by is told so beside it, with the
// readings that there are; one that is of a reading is not.
func TestALimitOfNoReading(t *testing.T) {
	b := newTable(t)
	const none = "This limit fits no reading yet"
	at := "/desk/m/harrow"
	v := formOf(t, b.get(at))
	if strings.Contains(b.get(at), none) {
		t.Error("a limit of a reading is told to be of none")
	}
	for what, want := range map[string][2]string{
		"valve lash":          {"", none + ". Readings of this machine: "},
		"compresion":          {"", none + "; compression may be meant."},
		"crankshaft end play": {"timing side", "crankshaft end play (drive side)"},
	} {
		v.Set("f.limits.0.what", what)
		v.Set("f.limits.0.where", want[0])
		v.Set("do", "look")
		if page := b.sent(at, v); !strings.Contains(page, want[1]) || strings.Count(page, none) != 1 {
			t.Errorf("%s at %q: it does not say %q", what, want[0], want[1])
		}
	}
	for key, want := range map[string]string{"new-thing": "the log of this machine has none"} {
		text := "---\nname: New thing\nkind: chainsaw\narrived: 2026-11-01\nstage: in the shop\nlimits:\n  - {what: compression, limit: \">= 60 psi\", source: maker's sheet}\n---\n"
		if err := afero.WriteFile(b.folder, "machines/"+key+"/machine.md", []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		b = tableOf(t, b.folder)
		if page := b.get("/desk/m/" + key); !strings.Contains(page, want) {
			t.Errorf("a machine without readings: it does not say %q", want)
		}
	}
}

// TestFoldsWhatWasKept: of many rows of a list that were kept, each shows what is in it and
// no more; one in which something is wrong, or with a caution, stands open, as do few.
func TestFoldsWhatWasKept(t *testing.T) {
	b := newTable(t)
	const at = "/desk/m/harrow/e/2026-03-02-first-look.md"
	const folded = `<details class="rest item"><summary>`
	page := b.get(at)
	for _, title := range []string{"tines stop when the lever is let go · Not so", "tine shaft seal leaks"} {
		if !strings.Contains(page, folded+title+"</summary>") {
			t.Errorf("%q is not folded", title)
		}
	}
	if strings.Contains(page, folded+"compression</summary>") || strings.Contains(page, folded+"looking over</summary>") {
		t.Error("few rows are folded")
	}
	v := formOf(t, page)
	v.Set("f.defects.2.system", "")
	v.Set("f.defects.2.defect", "")
	v.Set("do", "look")
	page = b.sent(at, v)
	if strings.Contains(page, folded+"tine shaft seal leaks</summary>") || !strings.Contains(page, folded+"two teeth broken from the reverse pinion</summary>") {
		t.Error("a row with a fault is folded, or the others are not")
	}
}
