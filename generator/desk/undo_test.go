package desk_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/afero"
)

// undone presses Undo on a page, and returns what the page had offered.
func (b *table) undone(at string) string {
	b.t.Helper()
	page := b.get(at)
	offer := regexp.MustCompile(`<form class="undo".*name="name" value="([^"]*)"><span>([^<]*)</span>`).FindStringSubmatch(page)
	if offer == nil {
		b.t.Fatalf("nothing can be undone:\n%s", page)
	}
	if w := b.post("/desk/undo", url.Values{"name": {offer[1]}}); w.Code != http.StatusSeeOther {
		b.t.Fatalf("undo: %d %s", w.Code, w.Body)
	}
	return offer[2]
}

// TestUndoOfARename: one click gives the folder its name back, and each file that named it
// the text that it had, byte for byte; what was changed since is left alone.
func TestUndoOfARename(t *testing.T) {
	b := newTable(t)
	before := map[string]string{}
	for _, name := range b.files() {
		before[name] = b.file(name)
	}
	b.post("/desk/m/heron/rename", url.Values{"key": {"old-heron"}})
	if says := b.undone("/desk/m/old-heron"); !strings.Contains(says, "heron is called old-heron") {
		t.Errorf("it offers %q", says)
	}
	for name, text := range before {
		if b.file(name) != text {
			t.Errorf("%s is another", name)
		}
	}
	if there, _ := afero.DirExists(b.folder, "machines/old-heron"); there {
		t.Error("the folder is there under both names")
	}
	b.get("/desk/m/heron")

	b.post("/desk/m/heron/rename", url.Values{"key": {"old-heron"}})
	changed := b.file("machines/old-heron/machine.md") + "More.\n"
	if err := afero.WriteFile(b.folder, "machines/old-heron/machine.md", []byte(changed), 0o644); err != nil {
		t.Fatal(err)
	}
	b.undone("/desk/m/old-heron")
	if b.file("machines/old-heron/machine.md") != changed {
		t.Error("what somebody wrote since is gone")
	}
}

// TestUndoOfAStage: a machine that was sold by mistake stands where it stood again.
func TestUndoOfAStage(t *testing.T) {
	b := newTable(t)
	before := b.file("machines/harrow/machine.md")
	v := formOf(t, b.get("/desk/m/harrow"))
	v.Set("f.stage", "sold")
	v.Set("f.sold.date", "2026-11-28")
	v.Set("do", "keep")
	w := b.post("/desk/m/harrow", v)
	if w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if b.file("machines/harrow/machine.md") == before {
		t.Fatal("it was not sold")
	}
	if says := b.undone(w.Header().Get("Location")); says != "Harrow tiller was kept. Undo puts back what was there before." {
		t.Errorf("it offers %q", says)
	}
	if b.file("machines/harrow/machine.md") != before {
		t.Error("it is not as it was")
	}
}

// TestWhatComesLate: what was typed before an evening was kept, or before photos were put
// in, and comes after that, makes no draft and takes nothing out.
func TestWhatComesLate(t *testing.T) {
	b := newTable(t)
	at := "/desk/m/gannet/new/20261128T193000-abcdef"
	v := formOf(t, b.get(at))
	v.Set("f.title", "Late")
	v.Set("do", "try")
	v.Set("turn", "10")
	b.post(at, v)
	v.Set("story", "All of it.")
	v.Set("do", "keep")
	v.Set("turn", "12")
	if w := b.post(at, v); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	v.Set("story", "Half")
	v.Set("do", "try")
	v.Set("turn", "11")
	b.post(at, v)
	if drafts, _ := afero.Glob(b.folder, ".asleft/desk/*.json"); len(drafts) > 0 {
		t.Errorf("there are drafts: %v", drafts)
	}
}

// TestDropWhatWasUndone: an evening that was kept with something to mend, taken back and
// dropped leads to its machine's page, which says so. Waiting, it is called by its title
// and its day.
func TestDropWhatWasUndone(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get(evening))
	v.Set("f.title", "Half typed")
	v.Set("f.date", "Feb 31")
	v.Set("do", "keep-so")
	if page := b.sent(evening, v); !strings.Contains(page, "Kept.") {
		t.Fatalf("not kept:\n%s", page)
	}
	listed := regexp.MustCompile(`<ul class="entries">.*</ul>`).FindString(b.get("/desk/m/gannet"))
	if strings.Count(listed, "has something to mend") != 1 || !strings.Contains(listed, "Half typed <strong>has something to mend</strong>") {
		t.Errorf("the evenings of the machine do not mark it: %s", listed)
	}
	b.undone("/desk/m/gannet?said=kept")
	waits := regexp.MustCompile(`<li><a href="(/desk/m/gannet/e/[^"]*)">([^<]*)</a>`).FindStringSubmatch(b.get("/desk/"))
	if waits == nil || !strings.HasPrefix(waits[2], "Half typed, Feb 31 (Gannet") {
		t.Fatalf("it waits as %q", waits)
	}
	v = formOf(t, b.get(waits[1]))
	v.Set("do", "drop")
	w := b.post(waits[1], v)
	if to := w.Header().Get("Location"); to != "/desk/m/gannet?said=dropped" || !strings.Contains(b.get(to), "The draft was dropped.") {
		t.Errorf("it leads to %q", to)
	}
	// The page gone back to, and every other that is not there, leads on.
	for _, at := range []string{waits[1], "/desk/m/nobody", "/desk/m/gannet/e/none.md", "/desk/nothing", "/desk/m/gannet/nothing", "/desk/m/nobody/seal", "/desk/m/gannet/sealed/none.pdf", "/desk/m/nobody/list/20261128T193000-abcdef", "/desk/m/nobody/report", "/desk/undo", "/desk/s/none.md", "/desk/m/nobody/new/20261128T193000-abcdef"} {
		w := b.ask(request(at))
		if page := w.Body.String(); w.Code != http.StatusNotFound || !strings.Contains(page, `<link rel="stylesheet" href="/desk/desk.css">`) || !regexp.MustCompile(`<main.*\n(.*\n)*?.*<a [^>]*href="/desk/`).MatchString(page) {
			t.Errorf("%s: %d %s", at, w.Code, page)
		}
	}
	for _, at := range []string{"/desk/m/nobody/rename", "/desk/m/nobody/list/20261128T193000-abcdef?n=0", "/desk/nothing"} {
		if w := b.post(at, url.Values{"key": {"x"}}); w.Code != http.StatusNotFound || !strings.Contains(w.Body.String(), `class="do" href="/desk/"`) {
			t.Errorf("%s: %d %s", at, w.Code, w.Body)
		}
	}
}

// TestUndoStandsWhereItBelongs: what can be taken back is offered on the page that follows
// the save and on the machine's own, by the names that people know, and nowhere else.
func TestUndoStandsWhereItBelongs(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get(evening))
	v.Set("f.title", "New plug")
	v.Set("do", "keep")
	offers := func(page string) string {
		offer := regexp.MustCompile(`<form class="undo".*<span>([^<]*)</span>`).FindStringSubmatch(page)
		if offer == nil {
			return ""
		}
		return offer[1]
	}
	want := regexp.MustCompile(`^New plug, .*28.*2026.* \(Gannet .*\) was kept\. Undo takes it out again and leaves it as a draft\.$`)
	if says := offers(b.sent(evening, v)); !want.MatchString(says) {
		t.Errorf("after the save it offers %q", says)
	}
	if says := offers(b.get("/desk/m/gannet")); !want.MatchString(says) {
		t.Errorf("the machine's page offers %q", says)
	}
	w := b.post("/desk/m/harrow/seal", url.Values{"paper": {"a4"}, "tell": {"yes"}})
	if says := offers(w.Body.String()); w.Code != http.StatusOK || says != "" {
		t.Errorf("on what was sealed it offers %q", says)
	}
	for _, at := range []string{"/desk/", "/desk/shop", "/desk/m/harrow", "/desk/m/harrow/seal", "/desk/m/gannet/new/20261128T193000-abcdee", "/desk/m/gannet/list/20261128T193000-abcdee"} {
		if says := offers(b.get(at)); says != "" {
			t.Errorf("%s offers %q", at, says)
		}
	}
	v = formOf(t, b.get("/desk/shop"))
	v.Set("f.place", "Back Lane")
	v.Set("do", "keep")
	if says := offers(b.sent("/desk/shop", v)); says != "The shop was kept. Undo puts back what was there before." {
		t.Errorf("of the shop it offers %q", says)
	}
}

// TestAnEveningCalledNew: an evening whose title begins with “New” is kept twice, and opens
// as any other.
func TestAnEveningCalledNew(t *testing.T) {
	b := newTable(t)
	if err := afero.WriteFile(b.folder, "machines/gannet/2026-05-16-new-drive-belt.md", []byte("---\ndate: 2026-05-16\ntitle: New drive belt\n---\nText.\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.clear()
	at := "/desk/m/gannet/e/2026-05-16-new-drive-belt.md"
	for _, by := range []string{"RT", "JM"} {
		v := formOf(t, b.get(at))
		v.Set("f.by", by)
		v.Set("do", "keep")
		if w := b.post(at, v); w.Code != http.StatusSeeOther {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		if got := formOf(t, b.get(at)).Get("f.by"); got != by {
			t.Errorf("opened again it is by %q, want %q", got, by)
		}
	}
}

// TestUndoBesideANewerDraft: who wrote on after an evening was kept and then takes it back
// loses neither: the newer draft stays, and can be kept; what was taken back is kept as text.
func TestUndoBesideANewerDraft(t *testing.T) {
	b := newTable(t)
	v := formOf(t, b.get(evening))
	v.Set("f.title", "New plug")
	v.Set("story", "As it was kept.")
	v.Set("do", "keep")
	b.sent(evening, v)
	const at = "/desk/m/gannet/e/2026-11-28-new-plug.md"
	v = formOf(t, b.get(at))
	v.Set("story", "As it was kept. And what came to mind since.")
	v.Set("do", "try")
	b.post(at, v)
	offer := regexp.MustCompile(`<form class="undo".*name="name" value="([^"]*)">`).FindStringSubmatch(b.get("/desk/m/gannet"))
	if offer == nil {
		t.Fatal("nothing can be undone")
	}
	page := b.sent("/desk/undo", url.Values{"name": {offer[1]}})
	if !strings.Contains(page, "You had written on since") || !strings.Contains(page, `<a href="`+at+`">New plug`) {
		t.Errorf("the page says nothing of the newer draft:\n%s", page)
	}
	if all := b.keptTexts(); len(all) != 1 || !strings.Contains(all[0], "As it was kept.\n") {
		t.Errorf("of what was taken back there is %q", all)
	}
	v = formOf(t, b.get(at))
	if story := v.Get("story"); !strings.Contains(story, "came to mind since") {
		t.Fatalf("the draft says %q", story)
	}
	v.Set("do", "keep")
	if w := b.post(at, v); w.Code != http.StatusSeeOther || !strings.Contains(b.file("machines/gannet/2026-11-28-new-plug.md"), "came to mind since") {
		t.Errorf("it cannot be kept: %d %s", w.Code, w.Body)
	}
}

// TestUndoOfAMachineInUse: a new machine that has an evening's draft, an evening or a photo by
// now is not taken back from under them; without them it is.
func TestUndoOfAMachineInUse(t *testing.T) {
	for _, use := range []string{"draft", "photo", "evening", ""} {
		b := newTable(t)
		const at = "/desk/new/20261128T193000-abcdef"
		v := formOf(t, b.get(at))
		v.Set("f.name", "Old pump")
		v.Set("f.kind", "walk-behind tiller")
		v.Set("do", "keep")
		if w := b.post(at, v); w.Header().Get("Location") != "/desk/m/old-pump?said=kept" {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		switch use {
		case "draft":
			at := "/desk/m/old-pump/new/20261128T193000-abcdef"
			v := formOf(t, b.get(at))
			v.Set("story", "Looked at it.")
			v.Set("do", "try")
			b.post(at, v)
		case "photo", "evening":
			name := map[string]string{"photo": "photos/a.jpg", "evening": "2026-11-28-looked.md"}[use]
			if err := afero.WriteFile(b.folder, "machines/old-pump/"+name, []byte("---\ndate: 2026-11-28\ntitle: Looked\n---\n"), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		offer := regexp.MustCompile(`<form class="undo".*name="name" value="([^"]*)">`).FindStringSubmatch(b.get("/desk/m/old-pump"))
		if offer == nil {
			t.Fatal("nothing can be undone")
		}
		page := b.sent("/desk/undo", url.Values{"name": {offer[1]}})
		there, _ := afero.Exists(b.folder, "machines/old-pump/machine.md")
		if said := strings.Contains(page, "That was not undone: the machine has"); said != (use != "") || there != said {
			t.Errorf("%q: it is there: %v, and the page says why: %v", use, there, said)
		}
	}
}
