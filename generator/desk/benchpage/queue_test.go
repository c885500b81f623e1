package benchpage

import (
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"asleft/generator/entry"
)

// script marks a request as the page's script does.
func script(r *http.Request) { r.Header.Set("Bench-Script", "yes") }

// send sends an entry as the script does.
func (s *stand) send(key, id string, v url.Values, more ...string) (int, entryNews) {
	s.t.Helper()
	all := url.Values{"do": {"save"}, "id": {id}, "date": {"2026-05-04"}, "time": {"18:00"}, "by": {"RT"}}
	for name, values := range v {
		all[name] = values
	}
	for _, name := range more {
		all.Set(name, "yes")
	}
	got := s.post("/bench/m/"+key, all, script)
	var news entryNews
	if err := json.Unmarshal([]byte(got.body), &news); err != nil {
		s.t.Fatalf("%d %s: %v", got.status, got.body, err)
	}
	return got.status, news
}

func ids(n string) string { return strings.Repeat(n, 32) }

// TestTheSameMeantTwice: two entries that say the same are two; one that is sent again
// is one, from a program that was started anew too, and after a kill between the note
// of it and the entry itself.
func TestTheSameMeantTwice(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	ran := url.Values{"ran": {"0:20"}}
	for _, id := range []string{ids("a"), ids("b"), ids("a"), ids("b")} {
		if status, news := s.send("harrow", id, ran); status != 200 || news.Saved == "" {
			t.Fatalf("%d %+v", status, news)
		}
	}
	if fresh := s.fresh(before); len(fresh) != 2 {
		t.Fatalf("meant twice it is %v", keys(fresh))
	}
	known, err := s.bench.sending(ids("b"))
	if err != nil || known.File == "" {
		t.Fatal(known, err)
	}
	for name, killed := range map[string]sending{
		"before the entry was written": {Sum: known.Sum, Before: []string{"machines/harrow/2026-05-04-at-the-bench.md", "machines/harrow/2026-05-04-at-the-bench-2.md"}},
		"before that was noted":        {Sum: known.Sum, Before: []string{"machines/harrow/2026-05-04-at-the-bench.md"}},
	} {
		count := len(s.fresh(before))
		if err := s.bench.remember(ids("b"), killed); err != nil {
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
	s.send("saw", ids("a"), url.Values{"body": {"Ground the blade."}})
	status, news := s.send("saw", ids("a"), url.Values{"body": {"Ground the blade. Set it too."}})
	if status != http.StatusConflict || !news.Anew || !strings.Contains(news.Says[0], "2026-05-04-ground-the-blade.md") {
		t.Errorf("%d %+v", status, news)
	}
	// Without the script the form comes again, with an id that can be saved.
	got := s.post("/bench/m/saw", url.Values{"do": {"save"}, "id": {ids("a")}, "date": {"2026-05-04"}, "body": {"Ground it. Set it."}})
	if got.status != http.StatusConflict || !strings.Contains(got.body, "Set it.") || strings.Contains(got.body, ids("a")) {
		t.Errorf("%d\n%s", got.status, got.body)
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
	s.bench.o.Tell = func(text string) { told = append(told, text) }
	s.pair()
	before := s.files()
	v := url.Values{"body": {"Odd."}, "what": {"", "compression"}, "where": {"", ""}, "value": {"", "62 pounds"}, "gauge": {"", ""}, "state": {"", ""}}
	for range 2 { // sent again, it is one draft
		status, news := s.send("harrow", ids("a"), v, "late")
		if status != http.StatusUnprocessableEntity || len(news.Found) != 1 || news.Found[0].Field != "value" || news.Found[0].Row != 1 || news.Found[0].Line == "" {
			t.Fatalf("%d %+v", status, news)
		}
	}
	draft := entry.Drafts + "/harrow.md"
	if fresh := s.fresh(before); len(fresh) != 1 || !strings.Contains(fresh[draft], "62 pounds") {
		t.Fatalf("there are %v", fresh)
	}
	if all := strings.Join(told, "\n"); !strings.Contains(all, "asleft log harrow") || !strings.Contains(all, "62 pounds") {
		t.Errorf("told:\n%s", all)
	}
	s.view.Build()
	if problems := s.view.Reading().Problems; len(problems) > 0 {
		t.Errorf("the site is held up by %v", problems)
	}
	v["value"][1] = "62 psi"
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
	for name, does := range map[string]func(file string) error{
		"dropped": os.Remove,
		"changed": func(file string) error { return os.WriteFile(file, []byte("---\ntitle: mine\n---\n"), 0o600) },
	} {
		s := newStand(t)
		s.pair()
		s.send("saw", ids("a"), url.Values{"body": {"Odd."}, "meter": {"a lot"}}, "late")
		if err := does(filepath.Join(s.dir, ".asleft", "drafts", "saw.md")); err != nil {
			t.Fatal(err)
		}
		before := s.files()
		if status, news := s.send("saw", ids("a"), url.Values{"body": {"Odd."}, "meter": {"3 h"}}); status != http.StatusConflict || !news.Anew {
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
	status, news := s.send("saw", ids("a"), url.Values{"body": {"Sharp."}}, "late")
	if status != http.StatusNotFound || len(news.Machines) != 2 || news.Machines[1].Key != "mitre" || len(news.Says) != 1 {
		t.Errorf("%d %+v", status, news)
	}
	s.put("machines/mitre/machine.md", []byte("---\nname: Mitre saw\nkind: bench saw\narrived: 2026-03-01\nwas: [saw]\n---\nOpening.\n"))
	s.view.Build()
	if got := s.get("/bench/m/saw"); got.at != "/bench/m/mitre" || !strings.Contains(got.body, `data-was="saw"`) {
		t.Errorf("its form is at %s", got.at)
	}
	if _, news := s.send("saw", ids("a"), url.Values{"body": {"Sharp."}}, "late"); news.Saved != "machines/mitre/2026-05-04-sharp.md" {
		t.Errorf("%+v", news)
	}
	s.put("machines/harrow/machine.md", append([]byte("---\nwas: [saw]\n"), []byte(strings.TrimPrefix(shopFiles["machines/harrow/machine.md"], "---\n"))...))
	s.view.Build()
	if status, _ := s.send("saw", ids("b"), url.Values{"body": {"Blunt."}}, "late"); status != http.StatusNotFound {
		t.Errorf("a key of two machines: %d", status)
	}
}

// TestWhereAProblemStands: each field of an entry is found in the form that it came of.
func TestWhereAProblemStands(t *testing.T) {
	v := url.Values{
		"from": {"", "9:00"}, "to": {"", "x"}, "part": {"", "", "belt"}, "each": {"", "", "a lot"}, "defect": {"", "crack"}, "service": {"oil"}, "every": {"often"},
		"mend": {"a", "b"}, "how": {"", "new"}, "proof": {"", ""}, "tried": {"x"}, "saw": {""}, "result-4": {"works"}, "test-2": {"capacitor"}, "test-2-in-rated": {"25 furlongs"}, "value": {"", "62"},
	}
	for path, want := range map[string]struct {
		name string
		at   int
	}{
		"date": {"date", 0}, "ran": {"ran", 0}, "hours": {"from", 1}, "hours[0].to": {"to", 1}, "hours[0]": {"from", 1}, "parts[0].each": {"each", 2}, "parts[0].system": {"part-system", 2},
		"defects[0].key": {"defect", 1}, "defects[0].safety": {"safety-1", 0}, "service[0].every": {"every", 0}, "service[0].what": {"service", 0},
		"repaired[0].proof": {"proof", 1}, "diagnosis[0].saw": {"saw", 0}, "checks[0].result": {"result-4", 0}, "checks[0].note": {"note-4", 0},
		"tests[0].rated": {"test-2-in-rated", 0}, "tests[0].volts": {"test-2-in-volts", 0}, "tests[0]": {"test-2-where", 0}, "measured[0].as_found": {"reading-found", 1},
		"photos[1].alt": {"photo-alt", 1}, "measured[9].value": {"", 0}, "": {"", 0}, "nothing": {"", 0},
	} {
		if name, at := fieldOf(v, path); name != want.name || at != want.at {
			t.Errorf("%s stands at %s %d, want %s %d", path, name, at, want.name, want.at)
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
	v := url.Values{"do": {"save"}, "id": {ids("a")}, "date": {"2026-05-04"}, "body": {"Kept."}, "late": {"yes"}}
	before := s.files()
	if got := s.post("/bench/m/saw", v, from(earlier, "")); got.status != http.StatusUnauthorized {
		t.Errorf("by the cookie: %d", got.status)
	}
	for _, site := range []string{"http://evil.example", "https://192.168.1.20:7341", "http://8.8.8.8", "null", "http://192.168.1.20.evil.example"} {
		if got := s.post("/bench/pair", url.Values{"code": {"1"}}, from(site, "")); got.status != http.StatusForbidden {
			t.Errorf("a page of %s: %d", site, got.status)
		}
		if got := s.ask("OPTIONS", "/bench/m/saw", "", nil, from(site, "")); got.status != http.StatusMethodNotAllowed || got.header.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s asks: %d", site, got.status)
		}
	}
	got := s.ask("OPTIONS", "/bench/m/saw", "", nil, from(earlier, ""))
	if got.status != http.StatusNoContent || got.header.Get("Access-Control-Allow-Origin") != earlier || !strings.Contains(got.header.Get("Access-Control-Allow-Headers"), "Authorization") || got.header.Get("Access-Control-Allow-Credentials") != "" {
		t.Errorf("asked for leave: %d %v", got.status, got.header)
	}
	s.ask("GET", "/bench/pair", "", nil, from(earlier, ""))
	code, _ := s.code()
	if got := s.post("/bench/pair", url.Values{"code": {"x"}}, from(earlier, "")); got.status != http.StatusForbidden || strings.Contains(got.body, "token") {
		t.Errorf("a wrong code: %d %s", got.status, got.body)
	}
	got = s.post("/bench/pair", url.Values{"code": {code}}, from(earlier, ""))
	var news pairNews
	if err := json.Unmarshal([]byte(got.body), &news); err != nil || news.Token == "" || got.header.Get("Set-Cookie") != "" {
		t.Fatalf("%d %s", got.status, got.body)
	}
	if got := s.post("/bench/m/saw", v, from(earlier, news.Token)); got.status != 200 {
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
	got := s.get("/bench/kept")
	if got.status != 200 || !strings.Contains(got.header.Get("Cache-Control"), "max-age=31536000") || strings.Contains(got.body, "Tern Yard") {
		t.Errorf("%d %v", got.status, got.header)
	}
	s.pair()
	for path, want := range map[string]string{
		"/bench/": "no-store", "/bench/m/saw": "no-store", "/bench/as/" + version() + "/form.js": longest, "/bench/as/" + version() + "/style.css": longest, "/bench/as/0/form.js": "no-store",
	} {
		if got := s.get(path); got.status != 200 || got.header.Get("Cache-Control") != want {
			t.Errorf("%s: %d, %s", path, got.status, got.header.Get("Cache-Control"))
		}
	}
	if got := s.get("/bench/as/0/page.go"); got.status != 404 {
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
	if err := s.bench.remember(ids("f"), sending{File: "x"}); err != nil {
		t.Fatal(err)
	}
	all, err := os.ReadDir(filepath.Join(s.dir, ".asleft", "phone"))
	if err != nil || len(all) != mostSent {
		t.Errorf("%d are remembered (%v)", len(all), err)
	}
	if known, err := s.bench.sending(ids("f")); err != nil || known.File != "x" {
		t.Errorf("the last one is %+v (%v)", known, err)
	}
}

func hex3(n int) string {
	const digits = "0123456789abcdef"
	return string([]byte{digits[n>>8&15], digits[n>>4&15], digits[n&15]})
}
