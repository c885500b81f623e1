package phone

import (
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"asleft/generator/desk"
)

// send sends an entry as the script does.
func (s *stand) send(key, id string, v url.Values, more ...string) (int, entryNews) {
	s.t.Helper()
	all := url.Values{"do": {"save"}, "id": {id}, "f.date": {"2026-05-04"}, "f.time": {"18:00"}, "f.by": {"RT"}}
	for name, values := range v {
		all[name] = values
	}
	for _, name := range more {
		all.Set(name, "yes")
	}
	return s.save(key, all)
}

func ids(n string) string { return strings.Repeat(n, 32) }

// TestTheSameMeantTwice: two entries that say the same are two; one that is sent again
// is one, from a program that was started anew too, and after a kill between the note
// of it and the entry itself.
func TestTheSameMeantTwice(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	ran := url.Values{"f.ran": {"0:20"}}
	for _, id := range []string{ids("a"), ids("b"), ids("a"), ids("b")} {
		if status, news := s.send("harrow", id, ran); status != 200 || news.Saved == "" {
			t.Fatalf("%d %+v", status, news)
		}
	}
	if fresh := s.fresh(before); len(fresh) != 2 {
		t.Fatalf("meant twice it is %v", keys(fresh))
	}
	known, err := s.base.sending(ids("b"))
	if err != nil || known.File == "" {
		t.Fatal(known, err)
	}
	for name, killed := range map[string]sending{
		"before the entry was written": {Sum: known.Sum, Before: []string{"machines/harrow/2026-05-04-at-the-bench.md", "machines/harrow/2026-05-04-at-the-bench-2.md"}},
		"before that was noted":        {Sum: known.Sum, Before: []string{"machines/harrow/2026-05-04-at-the-bench.md"}},
	} {
		count := len(s.fresh(before))
		if err := s.base.remember(ids("b"), killed); err != nil {
			t.Fatal(err)
		}
		if _, news := s.send("harrow", ids("b"), ran); news.Saved == "" {
			t.Errorf("killed %s: %+v", name, news)
		}
		want := count
		if len(killed.Before) == 2 {
			want++
		}
		if fresh := s.fresh(before); len(fresh) != want {
			t.Errorf("killed %s: it is %v", name, keys(fresh))
		}
	}
}

// TestChangedAfterItWasSaved: the answer was lost, and what was thought to be unsaved
// was changed: that is told, and nothing is dropped or written over.
func TestChangedAfterItWasSaved(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	s.send("saw", ids("a"), url.Values{"story": {"Ground the blade."}})
	status, news := s.send("saw", ids("a"), url.Values{"story": {"Ground the blade. Set it too."}})
	if status != http.StatusConflict || !news.Anew || !strings.Contains(news.Says[0], "2026-05-04-ground-the-blade.md") {
		t.Errorf("%d %+v", status, news)
	}
	if fresh := s.fresh(before); len(fresh) != 1 {
		t.Errorf("there are %v", keys(fresh))
	}
}

// TestLateAndWrong: what a phone had kept goes through the checks; what does not pass
// is in no log, is a draft on this computer, with its problem at its field, and once it
// is corrected it is one entry and no draft.
func TestLateAndWrong(t *testing.T) {
	s := newStand(t)
	var told []string
	s.base.o.Tell = func(text string) { told = append(told, text) }
	s.pair()
	before := s.files()
	v := url.Values{"story": {"Odd."}, "f.measured.0.what": {""}, "f.measured.1.what": {"compression"}, "f.measured.1.value": {"62 pounds"}}
	for range 2 { // sent again, it is one draft
		status, news := s.send("harrow", ids("a"), v, "late")
		if status != http.StatusUnprocessableEntity || len(news.Found) != 1 || news.Found[0].Field != "f.measured.1.value" {
			t.Fatalf("%d %+v", status, news)
		}
	}
	if draft, err := s.base.o.Desk.Draft("harrow", ids("a")); len(s.fresh(before)) != 1 || err != nil || !strings.Contains(string(draft), "62 pounds") {
		t.Fatalf("there are %v; the draft is %q (%v)", s.fresh(before), draft, err)
	}
	if board := s.get("/desk/"); !strings.Contains(board.body, "/desk/m/harrow/new/"+ids("a")) {
		t.Error("the desk does not list the draft")
	}
	if all := strings.Join(told, "\n"); !strings.Contains(all, "at the desk as a draft") || !strings.Contains(all, "62 pounds") {
		t.Errorf("told:\n%s", all)
	}
	s.view.Build()
	if problems := s.view.Reading().Problems; len(problems) > 0 {
		t.Errorf("the site is held up by %v", problems)
	}
	v.Set("f.measured.1.value", "62 psi")
	if _, news := s.send("harrow", ids("a"), v); news.Saved == "" {
		t.Fatalf("%+v", news)
	}
	if fresh := s.fresh(before); len(fresh) != 1 || !strings.Contains(fresh["machines/harrow/2026-05-04-odd.md"], "62 psi") {
		t.Errorf("corrected, there are %v", fresh)
	}
}

// TestTakenUpAtTheComputer: a draft that somebody went on with, or dropped, is not
// written over or written twice by its correction on the phone.
func TestTakenUpAtTheComputer(t *testing.T) {
	for name, does := range map[string]func(d *desk.Desk) error{
		"dropped": func(d *desk.Desk) error { return d.DropDraft("saw", ids("a")) },
		"changed": func(d *desk.Desk) error { return d.KeepDraft("saw", ids("a"), []byte("---\ntitle: mine\n---\n")) },
	} {
		s := newStand(t)
		s.pair()
		s.send("saw", ids("a"), url.Values{"story": {"Odd."}, "f.meter": {"a lot"}}, "late")
		if err := does(s.base.o.Desk); err != nil {
			t.Fatal(err)
		}
		before := s.files()
		if status, news := s.send("saw", ids("a"), url.Values{"story": {"Odd."}, "f.meter": {"3 h"}}); status != http.StatusConflict || !news.Anew {
			t.Errorf("%s: %d %+v", name, status, news)
		}
		if fresh := s.fresh(before); len(fresh) != 0 {
			t.Errorf("%s: %v", name, keys(fresh))
		}
	}
}

// TestRenamedMachine: an entry for a machine's earlier key goes to it; for a key that
// is of none, or of two, it is asked which.
func TestRenamedMachine(t *testing.T) {
	s := newStand(t)
	s.pair()
	if err := os.Rename(filepath.Join(s.dir, "machines", "saw"), filepath.Join(s.dir, "machines", "mitre")); err != nil {
		t.Fatal(err)
	}
	s.view.Build()
	status, news := s.send("saw", ids("a"), url.Values{"story": {"Sharp."}}, "late")
	if status != http.StatusNotFound || len(news.Machines) != 2 || news.Machines[1].Key != "mitre" || len(news.Says) != 1 {
		t.Errorf("%d %+v", status, news)
	}
	s.put("machines/mitre/machine.md", []byte("---\nname: Mitre saw\nkind: bench saw\narrived: 2026-03-01\nwas: [saw]\n---\nOpening.\n"))
	s.view.Build()
	if got := s.get("/desk/m/saw/new/" + ids("a")); got.at != "/desk/m/mitre/new/"+ids("a") || !strings.Contains(got.body, `data-was="saw"`) {
		t.Errorf("its form is at %s", got.at)
	}
	if _, news := s.send("saw", ids("a"), url.Values{"story": {"Sharp."}}, "late"); news.Saved != "machines/mitre/2026-05-04-sharp.md" {
		t.Errorf("%+v", news)
	}
	s.put("machines/harrow/machine.md", append([]byte("---\nwas: [saw]\n"), []byte(strings.TrimPrefix(shopFiles["machines/harrow/machine.md"], "---\n"))...))
	s.view.Build()
	if status, _ := s.send("saw", ids("b"), url.Values{"story": {"Blunt."}}, "late"); status != http.StatusNotFound {
		t.Errorf("a key of two machines: %d", status)
	}
}

// TestADraftThatSaysMore: the draft at the desk goes with the evening that was made of it,
// and stays where it says more than that.
func TestADraftThatSaysMore(t *testing.T) {
	s := newStand(t)
	s.pair()
	d := s.base.o.Desk
	for _, more := range []string{"", "More."} {
		id := ids("a")
		if more != "" {
			id = ids("b")
		}
		text := []byte("---\ndate: 2026-05-04\ntitle: Round\n---\n")
		if err := d.KeepDraft("saw", id, text); err != nil {
			t.Fatal(err)
		}
		v := url.Values{"draft": {desk.Digest(text)}, "f.title": {"Round " + id[:1]}}
		if err := d.KeepDraft("saw", id, append(text, more...)); err != nil {
			t.Fatal(err)
		}
		if _, news := s.send("saw", id, v); news.Saved == "" {
			t.Fatalf("%+v", news)
		}
		if left, err := d.Draft("saw", id); err != nil || (left != nil) != (more != "") {
			t.Errorf("with %q more the draft is %q (%v)", more, left, err)
		}
	}
}

// TestAPageOfAnEarlierAddress: it may ask for a code and send with what the code gave
// it; it may not use the cookie of a phone, and a page of a site may do neither.
func TestAPageOfAnEarlierAddress(t *testing.T) {
	s := newStand(t)
	s.pair() // this browser has a cookie too
	from := func(origin, token string) func(*http.Request) {
		return func(r *http.Request) {
			script(r)
			r.Header.Set("Origin", origin)
			if token != "" {
				r.Header.Set("Authorization", "Bearer "+token)
			}
		}
	}
	const earlier = "http://192.168.1.20:7341"
	v := url.Values{"do": {"save"}, "id": {ids("a")}, "f.date": {"2026-05-04"}, "story": {"Kept."}, "late": {"yes"}}
	before := s.files()
	if got := s.post("/phone/m/saw", v, from(earlier, "")); got.status != http.StatusUnauthorized {
		t.Errorf("by the cookie: %d", got.status)
	}
	for _, site := range []string{"http://evil.example", "https://192.168.1.20:7341", "http://8.8.8.8", "null", "http://192.168.1.20.evil.example"} {
		if got := s.post("/phone/pair", url.Values{"code": {"1"}}, from(site, "")); got.status != http.StatusForbidden {
			t.Errorf("a page of %s: %d", site, got.status)
		}
		if got := s.ask("OPTIONS", "/phone/m/saw", "", nil, from(site, "")); got.status != http.StatusMethodNotAllowed || got.header.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s asks: %d", site, got.status)
		}
	}
	got := s.ask("OPTIONS", "/phone/m/saw", "", nil, from(earlier, ""))
	if got.status != http.StatusNoContent || got.header.Get("Access-Control-Allow-Origin") != earlier || !strings.Contains(got.header.Get("Access-Control-Allow-Headers"), "Authorization") || got.header.Get("Access-Control-Allow-Credentials") != "" {
		t.Errorf("asked for leave: %d %v", got.status, got.header)
	}
	s.ask("GET", "/phone/pair", "", nil, from(earlier, ""))
	code, _ := s.code()
	if got := s.post("/phone/pair", url.Values{"code": {"x"}}, from(earlier, "")); got.status != http.StatusForbidden || strings.Contains(got.body, "token") {
		t.Errorf("a wrong code: %d %s", got.status, got.body)
	}
	got = s.post("/phone/pair", url.Values{"code": {code}}, from(earlier, ""))
	var news pairNews
	if err := json.Unmarshal([]byte(got.body), &news); err != nil || news.Token == "" || got.header.Get("Set-Cookie") != "" {
		t.Fatalf("%d %s", got.status, got.body)
	}
	if got := s.post("/phone/m/saw", v, from(earlier, news.Token)); got.status != 200 {
		t.Errorf("%d %s", got.status, got.body)
	}
	if fresh := s.fresh(before); len(fresh) != 1 {
		t.Errorf("there are %v", keys(fresh))
	}
}

// TestWhatABrowserMayKeep: the page of what a phone keeps, its script and style, and
// nothing that says a word of the shop.
func TestWhatABrowserMayKeep(t *testing.T) {
	s := newStand(t)
	got := s.get("/phone/kept")
	if got.status != 200 || !strings.Contains(got.header.Get("Cache-Control"), "max-age=31536000") || strings.Contains(got.body, "Tern Yard") {
		t.Errorf("%d %v", got.status, got.header)
	}
	s.pair()
	for path, want := range map[string]string{
		"/desk/": "no-store", "/desk/m/saw": "no-store", "/phone/as/" + version() + "/form.js": longest, "/phone/as/" + version() + "/phone.css": longest, "/phone/as/0/form.js": "no-store",
	} {
		if got := s.get(path); got.status != 200 || got.header.Get("Cache-Control") != want {
			t.Errorf("%s: %d, %s", path, got.status, got.header.Get("Cache-Control"))
		}
	}
	if got := s.get("/phone/as/0/page.go"); got.status != 404 {
		t.Errorf("page.go: %d", got.status)
	}
}

// TestOldSendingsMakeRoom: what is remembered of entries that came is bounded.
func TestOldSendingsMakeRoom(t *testing.T) {
	s := newStand(t)
	for n := range mostSent + 5 {
		name := filepath.Join(s.dir, ".asleft", "phone", ids("0")[:28]+string(rune('a'+n%6))+hex3(n))
		if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte("{}"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(name, time.Unix(int64(n), 0), time.Unix(int64(n), 0)); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.base.remember(ids("f"), sending{File: "x"}); err != nil {
		t.Fatal(err)
	}
	all, err := os.ReadDir(filepath.Join(s.dir, ".asleft", "phone"))
	if err != nil || len(all) != mostSent {
		t.Errorf("%d are remembered (%v)", len(all), err)
	}
	if known, err := s.base.sending(ids("f")); err != nil || known.File != "x" {
		t.Errorf("the last one is %+v (%v)", known, err)
	}
}

func hex3(n int) string {
	const digits = "0123456789abcdef"
	return string([]byte{digits[n>>8&15], digits[n>>4&15], digits[n&15]})
}
