package phone

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"asleft/generator/testenv"
)

// The list of an attacker, a test each. What is slow, too big or from the wrong
// place at the level of the connection is tested in package access too.

func saving(body string) url.Values {
	return url.Values{"do": {"save"}, "f.date": {"2026-05-04"}, "f.by": {"RT"}, "story": {body}}
}

func TestAttackAStrangerOnTheNetwork(t *testing.T) {
	s := newStand(t)
	before := s.files()
	for _, path := range []string{"/phone/", "/desk/", "/desk/m/harrow", "/desk/m/harrow/new", "/desk/desk.css", "/", "/index.html", "/machines/harrow/record.json", "/.preview/news", "/photos/x.jpg"} {
		if got := s.get(path); got.at != "/phone/pair" || strings.Contains(got.body, "Tern Yard") || strings.Contains(got.body, "harrow") {
			t.Errorf("%s shows a stranger %s", path, got.at)
		}
	}
	for _, path := range []string{"/phone/m/harrow", "/desk/m/harrow", "/desk/m/harrow/new/" + anID, "/desk/undo", "/phone/photo", "/phone/photo/0123456789abcdef0123456789abcdef?at=0"} {
		if got := s.post(path, saving("in")); got.status != http.StatusUnauthorized {
			t.Errorf("%s lets a stranger post: %d", path, got.status)
		}
	}
	for _, forged := range []string{"", "x", strings.Repeat("A", 43), strings.Repeat("A", 8000)} {
		got := s.post("/phone/m/harrow", saving("in"), func(r *http.Request) { r.Header.Set("Cookie", cookie+"="+forged) })
		if got.status != http.StatusUnauthorized {
			t.Errorf("a made-up cookie: %d", got.status)
		}
	}
	if fresh := s.fresh(before); len(fresh) != 0 {
		t.Errorf("a stranger wrote %v", keys(fresh))
	}
}

func TestAttackAPostFromAnotherSite(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	for name, change := range map[string]func(*http.Request){
		"another origin":     func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") },
		"no origin":          func(r *http.Request) { r.Header.Del("Origin") },
		"a hidden origin":    func(r *http.Request) { r.Header.Set("Origin", "null") },
		"said to be foreign": func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") },
	} {
		if got := s.post("/phone/m/harrow", saving("in"), change); got.status != http.StatusForbidden {
			t.Errorf("%s: %d", name, got.status)
		}
	}
	if fresh := s.fresh(before); len(fresh) != 0 {
		t.Errorf("another site wrote %v", keys(fresh))
	}
	// The cookie is not one that another site's page could have sent, or read.
	s.phone = s.newPhone()
	s.phone.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	s.get("/phone/pair")
	code, _ := s.code()
	set := s.post("/phone/pair", url.Values{"code": {code}}).header.Get("Set-Cookie")
	if !strings.Contains(set, "HttpOnly") || !strings.Contains(set, "SameSite=Strict") || len(set) < 43 {
		t.Errorf("the cookie is %q", set)
	}
}

// A name of the attacker's is made to point at this computer, so that his page
// counts as of the same origin. The Host gives it away.
func TestAttackDNSRebinding(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	rebound := func(r *http.Request) {
		r.Host = "evil.example:" + r.URL.Port()
		r.Header.Set("Origin", "http://"+r.Host)
	}
	if got := s.post("/phone/m/harrow", saving("in"), rebound); got.status != http.StatusMisdirectedRequest {
		t.Errorf("a post: %d", got.status)
	}
	if got := s.ask("GET", "/desk/m/harrow", "", nil, rebound); got.status != http.StatusMisdirectedRequest || strings.Contains(got.body, "Harrow") {
		t.Errorf("a page: %d", got.status)
	}
	if fresh := s.fresh(before); len(fresh) != 0 {
		t.Errorf("it wrote %v", keys(fresh))
	}
}

// Names that climb, of a machine, of a photo, in a title: none is a path.
func TestAttackNamesThatClimb(t *testing.T) {
	s := newStand(t)
	s.pair()
	outside := filepath.Dir(s.dir)
	count := func() int {
		all, err := os.ReadDir(outside)
		if err != nil {
			t.Fatal(err)
		}
		return len(all)
	}
	before, there := s.files(), count()
	for _, key := range []string{"..%2f..%2fetc", "..", "%2e%2e", "harrow%2f..%2fsaw", "harrow%00", "HARROW", "nothing", "..%5charrow", "harrow%2fphotos"} {
		got := s.ask("POST", "/phone/m/"+key, "application/x-www-form-urlencoded", strings.NewReader(saving("x").Encode()))
		if got.status < 400 {
			t.Errorf("the machine %s: %d", key, got.status)
		}
		if got := s.get("/desk/m/" + key + "/new/" + anID); got.status < 400 && strings.HasPrefix(got.at, "/desk/m/") {
			t.Errorf("the form of %s: %d at %s", key, got.status, got.at)
		}
	}
	if fresh := s.fresh(before); len(fresh) != 0 || count() != there {
		t.Errorf("machines that climb wrote %v", keys(fresh))
	}
	got := s.post("/phone/photo", url.Values{"name": {"../../../../evil.jpg"}, "size": {"9"}})
	s.news(got, http.StatusCreated)
	data := picture(t, 500, 1)
	got = s.post("/phone/photo", url.Values{"name": {"../../evil\x00.jpg"}, "size": {fmt.Sprint(len(data))}})
	id := s.news(got, http.StatusCreated).ID
	s.news(s.ask("POST", "/phone/photo/"+id+"?at=0", "", bytes.NewReader(data)), http.StatusOK)
	v := saving("in")
	v.Set("f.title", "../../../evil\x00/../C:\\con")
	v.Set("f.date", "../../../2026-05-04")
	v["photo-id"], v["photo-alt"] = []string{id}, []string{"../x"}
	v.Set("do", "save-anyway")
	if status, news := s.save("harrow", v); news.Saved == "" {
		t.Fatalf("%d %+v", status, news)
	}
	fresh := s.fresh(before)
	for name := range fresh {
		if !strings.HasPrefix(name, "machines/harrow/") || strings.Contains(name, "..") || strings.ContainsAny(name, "\\:\x00") {
			t.Errorf("a file is named %q", name)
		}
	}
	if len(fresh) != 2 || count() != there {
		t.Errorf("there are new files %v, and %d things outside, before %d", keys(fresh), count(), there)
	}
	// Ids of photos are looked up, and are no paths either.
	for _, id := range []string{"..%2f..%2fshop.md", "x", ""} {
		if got := s.get("/phone/photo/" + id); got.status != http.StatusNotFound && got.status != http.StatusMethodNotAllowed {
			t.Errorf("the photo %q: %d", id, got.status)
		}
	}
}

// Ten gigabytes, announced or not: refused, and not taken into memory.
func TestAttackTenGigabytes(t *testing.T) {
	s := newStand(t)
	s.pair()
	var used runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&used)
	before := used.TotalAlloc
	at := strings.TrimPrefix(s.root, "http://")
	u, _ := url.Parse(s.root)
	token := s.phone.Jar.Cookies(u)[0].String()
	head := func(path, kind, length string) string {
		return fmt.Sprintf("POST %s HTTP/1.1\r\nHost: %s\r\nOrigin: %s\r\nCookie: %s\r\nContent-Type: %s\r\n%s\r\n\r\n", path, at, s.root, token, kind, length)
	}
	got := s.post("/phone/photo", url.Values{"name": {"x"}, "size": {"10737418240"}})
	if got.status != http.StatusRequestEntityTooLarge {
		t.Errorf("a photo of ten gigabytes is announced: %d", got.status)
	}
	id := s.news(s.post("/phone/photo", url.Values{"name": {"x"}, "size": {"41943040"}}), http.StatusCreated).ID
	form := "multipart/form-data; boundary=b"
	for name, tc := range map[string]struct{ head, piece string }{
		"announced, a form":    {head("/desk/m/saw/new/"+anID, form, "Content-Length: 10737418240"), "x"},
		"announced, texts":     {head("/phone/m/saw", "application/x-www-form-urlencoded", "Content-Length: 10737418240"), "x"},
		"announced, a code":    {head("/phone/pair", "application/x-www-form-urlencoded", "Content-Length: 10737418240"), "x"},
		"announced, a piece":   {head("/phone/photo/"+id+"?at=0", "application/octet-stream", "Content-Length: 10737418240"), "x"},
		"in pieces, a form":    {head("/desk/m/saw/new/"+anID, form, "Transfer-Encoding: chunked"), "--b\r\nContent-Disposition: form-data; name=\"body\"\r\n\r\n"},
		"in pieces, a photo":   {head("/desk/m/saw/new/"+anID, form, "Transfer-Encoding: chunked"), "--b\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"x.jpg\"\r\n\r\n"},
		"in pieces, texts":     {head("/phone/m/saw", "application/x-www-form-urlencoded", "Transfer-Encoding: chunked"), "body="},
		"in pieces, a code":    {head("/phone/pair", "application/x-www-form-urlencoded", "Transfer-Encoding: chunked"), "code="},
		"in pieces, one piece": {head("/phone/photo/"+id+"?at=0", "application/octet-stream", "Transfer-Encoding: chunked"), "x"},
	} {
		c, err := net.Dial("tcp", at)
		if err != nil {
			t.Fatal(err)
		}
		_ = c.SetDeadline(time.Now().Add(10 * time.Second))
		if _, err = io.WriteString(c, tc.head); err != nil {
			t.Fatal(err)
		}
		sent := 0
		if strings.HasPrefix(name, "in pieces") {
			_, err = fmt.Fprintf(c, "%x\r\n%s\r\n", len(tc.piece), tc.piece)
			for ; err == nil && sent < 200<<20; sent += 1 << 16 {
				_, err = fmt.Fprintf(c, "10000\r\n%s\r\n", strings.Repeat("x", 1<<16))
			}
			if err == nil {
				t.Errorf("%s: 200 MB were taken in", name)
			}
		} else {
			answer := make([]byte, 12)
			if _, err := io.ReadFull(c, answer); err != nil || string(answer[9:]) != "413" {
				t.Errorf("%s: %q, %v", name, answer, err)
			}
		}
		_ = c.Close()
	}
	runtime.ReadMemStats(&used)
	// A photo of 40 MB is read before it is refused, in a slice that doubles.
	if grown := used.TotalAlloc - before; grown > 600<<20 {
		t.Errorf("%d bytes were taken", grown)
	}
}

// A few hundred bytes that claim to be a picture of 400 megapixels.
func TestAttackImageBomb(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	bomb := []byte("\x89PNG\r\n\x1a\n")
	chunk := func(kind string, data []byte) {
		bomb = binary.BigEndian.AppendUint32(bomb, uint32(len(data))) //nolint:gosec // it is short
		at := len(bomb)
		bomb = append(append(bomb, kind...), data...)
		bomb = binary.BigEndian.AppendUint32(bomb, crc32.ChecksumIEEE(bomb[at:]))
	}
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, 20_000), 20_000)
	chunk("IHDR", append(size, 8, 6, 0, 0, 0))
	chunk("IDAT", []byte{0x78, 0x9c, 1, 0, 0, 0xff, 0xff})
	chunk("IEND", nil)
	broken := picture(t, 900, 4)
	for name, data := range map[string][]byte{
		"a bomb": bomb, "a web page": []byte("<html><script>alert(1)</script>"), "half a photo": broken[:len(broken)/2],
		"a program": append([]byte("MZ"), make([]byte, 500)...), "a drawing": []byte("<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"),
	} {
		id := s.news(s.post("/phone/photo", url.Values{"name": {"x.jpg"}, "size": {fmt.Sprint(len(data))}}), http.StatusCreated).ID
		got := s.ask("POST", "/phone/photo/"+id+"?at=0", "application/octet-stream", bytes.NewReader(data))
		if news := s.news(got, http.StatusUnprocessableEntity); news.Says == "" {
			t.Errorf("%s: nothing is said", name)
		}
		if got := s.get("/phone/photo/" + id); got.status != http.StatusNotFound {
			t.Errorf("%s is still held", name)
		}
	}
	if fresh := s.fresh(before); len(fresh) != 0 {
		t.Errorf("it was kept: %v", keys(fresh))
	}
}

func TestAttackGuessingTheCode(t *testing.T) {
	s := newStand(t)
	try := func(code string) int { return s.post("/phone/pair", url.Values{"code": {code}}).status }
	s.get("/phone/pair")
	first, shown := s.code()
	if shown != 1 || len(first) != 6 {
		t.Fatalf("the codes %v", s.codes)
	}
	wrong := "000000"
	if wrong == first {
		wrong = "111111"
	}
	for n := range 4 {
		if got := try(wrong); got != http.StatusForbidden {
			t.Errorf("wrong try %d: %d", n+1, got)
		}
	}
	if got := try(wrong); got != http.StatusTooManyRequests {
		t.Errorf("the fifth: %d", got)
	}
	if got := try(first); got != http.StatusTooManyRequests {
		t.Errorf("the right code after five wrong ones: %d", got)
	}
	s.get("/phone/pair")
	if _, shown := s.code(); shown != 1 {
		t.Error("a new code is shown at once")
	}
	// Whoever is at another address, as the mechanic is, is not locked out.
	mechanic := netip.MustParseAddr("192.168.1.9")
	if got, err := s.base.pairing.try(mechanic, first); got != paired || err != nil {
		t.Fatalf("the right code from another address: %v, %v", got, err)
	}
	s.later(29 * time.Second)
	if got := try(first); got != http.StatusTooManyRequests {
		t.Errorf("before the wait is over: %d", got)
	}
	s.later(2 * time.Second)
	if got := try(first); got == 200 {
		t.Error("the old code holds after it let a phone in")
	}
	second, shown := s.code()
	if shown != 2 || second == first {
		t.Fatalf("no new code after the wait: %v", s.codes)
	}
	// One address alone, all day long: the code stays for others, and it waits for
	// longer each time.
	waits := 0
	for range 3 {
		for n := range mostWrong {
			got, err := s.base.pairing.try(netip.MustParseAddr("10.0.0.9"), "no-code")
			if err != nil || (got == lockedOut) != (n == mostWrong-1) {
				t.Errorf("try %d: %v, %v", n+1, got, err)
			}
		}
		wait, err := s.base.pairing.offer(netip.MustParseAddr("10.0.0.9"))
		if err != nil || wait != firstLock<<waits {
			t.Errorf("the wait is %v, %v", wait, err)
		}
		if wait, err := s.base.pairing.offer(mechanic); wait != 0 || err != nil {
			t.Errorf("the mechanic waits %v, %v", wait, err)
		}
		waits++
		s.later(wait)
	}
	// All day long: how many tries does a guesser have?
	tries, from := 0, netip.MustParseAddr("fd12::1")
	for until := s.now().Add(24 * time.Hour); s.now().Before(until); s.later(time.Second) {
		// A guesser who has as many addresses as he likes.
		from = from.Next()
		got, err := s.base.pairing.try(from, "no-code")
		if err != nil || got == paired {
			t.Fatal(got, err)
		}
		if got == wrongCode {
			tries++
		}
	}
	if tries < 500 || tries > 2100 {
		t.Errorf("%d tries a day", tries)
	}
	// A code runs out, and lets one phone in only.
	s.later(time.Hour)
	s.get("/phone/pair")
	code, _ := s.code()
	s.later(10*time.Minute + time.Second)
	if got := try(code); got == 200 {
		t.Error("the code holds after ten minutes")
	}
	code, _ = s.code()
	if got := try(" " + code[:3] + " " + code[3:]); got != 200 {
		t.Errorf("the right code: %d", got)
	}
	s.phone = s.newPhone()
	if got := try(code); got == 200 {
		t.Error("one code let two phones in")
	}
	seen := map[string]bool{}
	for _, c := range s.codes {
		seen[c] = true
	}
	if len(s.base.pairing.by) > 3000 {
		t.Errorf("%d addresses are remembered", len(s.base.pairing.by))
	}
	if len(seen) < len(s.codes)-2 {
		t.Errorf("codes come again: %d of %d", len(seen), len(s.codes))
	}
}

// Folders and files of the shop that are links to elsewhere: nothing is written
// or read through them.
func TestAttackLinksInTheShopFolder(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("making links needs a right there that tests do not have")
	}
	testenv.NeedsLinks(t)
	s := newStand(t)
	outside := t.TempDir()
	if err := os.WriteFile(filepath.Join(outside, "secret.jpg"), picture(t, 500, 200), 0o600); err != nil {
		t.Fatal(err)
	}
	link := func(to, name string) {
		t.Helper()
		if err := os.Symlink(to, filepath.Join(s.dir, filepath.FromSlash(name))); err != nil {
			t.Fatal(err)
		}
	}
	link(outside, "machines/saw/photos")
	link(outside, "machines/away")
	s.put("machines/harrow/2026-03-09-b.md", []byte("---\ndate: 2026-03-09\ntitle: B\nphotos:\n  - {file: seen.jpg, alt: x}\n---\nB.\n"))
	link(filepath.Join(outside, "secret.jpg"), "machines/harrow/seen.jpg")
	s.view.Build()
	s.pair()
	id := s.upload(picture(t, 500, 3), 1<<20)
	v := saving("in")
	v["photo-id"], v["photo-alt"] = []string{id}, []string{"x"}
	if got := s.post("/phone/m/saw", v); got.status < 400 || !strings.Contains(got.body, "in") {
		t.Errorf("photos of a linked folder: %d", got.status)
	}
	if got := s.post("/phone/m/away", saving("in")); got.status < 400 {
		t.Errorf("a linked machine: %d", got.status)
	}
	all, err := os.ReadDir(outside)
	if err != nil || len(all) != 1 {
		t.Errorf("outside there are %v (%v)", all, err)
	}
	secret, err := os.ReadFile(filepath.Join(outside, "secret.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/machines/harrow/seen.jpg", "/machines/away/machine.md", "/machines/harrow/"} {
		if got := s.get(path); strings.Contains(got.body, string(secret)) {
			t.Errorf("%s shows what lies outside", path)
		}
	}
}

// A phone that sends a byte now and then holds a line, not the base: see
// package access for the end of it.
func TestAttackSlowRequest(t *testing.T) {
	s := newStand(t)
	s.pair()
	at := strings.TrimPrefix(s.root, "http://")
	u, _ := url.Parse(s.root)
	token := s.phone.Jar.Cookies(u)[0].String()
	for range 12 {
		c, err := net.Dial("tcp", at)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close() //nolint:errcheck // nothing is left to lose
		if _, err := fmt.Fprintf(c, "POST /phone/m/saw HTTP/1.1\r\nHost: %s\r\nOrigin: %s\r\nCookie: %s\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 100\r\n\r\nb", at, s.root, token); err != nil {
			t.Fatal(err)
		}
	}
	if status, news := s.save("saw", saving("Meanwhile.")); news.Saved == "" {
		t.Errorf("meanwhile: %d %+v", status, news)
	}
}

// Markup that was typed is text on every page.
func TestAttackMarkup(t *testing.T) {
	s := newStand(t)
	s.pair()
	evil := `"><script>alert(1)</script>`
	v := url.Values{"do": {"more f.parts"}, "find": {evil}, "f.date": {evil}, "f.by": {evil}, "f.title": {evil}, "story": {"</textarea>" + evil}, "f.measured.0.what": {evil}, "f.parts.0.part": {evil}, "f.defects.0.defect": {evil}, "f.hours.0.from": {evil}, "f.tests.0.test": {evil}}
	at := s.newEvening("harrow")
	for _, do := range []string{"more f.parts", "find", "look", "keep", "add-test " + evil, evil} {
		v.Set("do", do)
		got := s.post(at, v)
		if got.status >= 500 || strings.Contains(got.body, "<script>alert") || strings.Contains(got.body, "</textarea>\"") {
			t.Errorf("%s: %d\n%s", do, got.status, got.body)
		}
		if policy := got.header.Get("Content-Security-Policy"); !strings.Contains(policy, "script-src 'self'") || strings.Contains(policy, "unsafe") {
			t.Errorf("the policy is %q", policy)
		}
	}
	v.Set("do", "save")
	if got := s.post("/phone/m/harrow", v, script); strings.Contains(got.body, "<script>alert") {
		t.Error("the findings hold markup")
	}
}

// One phone cannot fill the memory with photos that it never sends on.
func TestAttackFillingTheShelf(t *testing.T) {
	s := newStand(t)
	s.pair()
	taken := 0
	for ; taken < 100; taken++ {
		got := s.post("/phone/photo", url.Values{"name": {"x"}, "size": {fmt.Sprint(mostPhoto)}})
		if got.status == http.StatusInsufficientStorage {
			break
		}
	}
	if taken != mostShelf/mostPhoto {
		t.Errorf("%d photos of 40 MB were announced", taken)
	}
	s.later(shelfTime + time.Minute)
	if got := s.post("/phone/photo", url.Values{"name": {"x"}, "size": {"1000"}}); got.status != http.StatusCreated {
		t.Errorf("after three hours: %d", got.status)
	}
}

// Lists of unequal length, numbers that are none, buttons that do not exist.
func TestAttackCrookedForms(t *testing.T) {
	s := newStand(t)
	s.pair()
	many := url.Values{"do": {"start"}}
	for n := range 2000 {
		many.Set(fmt.Sprintf("f.hours.%d.from", n), "10:00")
	}
	at := s.newEvening("harrow")
	for _, v := range []url.Values{
		{"do": {"stop"}, "f.hours.0.from": {"10:00"}},
		{"do": {"stop"}, "f.hours.499.from": {"10:00"}, "f.hours.500.from": {"10:00"}, "f.hours.-1.from": {"1"}},
		{"do": {"start"}, "f.hours.x.from": {"a", "b", "c"}},
		{"do": {"start"}},
		{"do": {"stop"}},
		{"do": {"more"}}, {"do": {"more f.hours"}}, {"do": {"more f.nothing"}}, {"do": {"drop-test"}}, {"do": {"drop-test f"}}, {"do": {"drop-test f.title"}, "f.title": {"x"}}, {"do": {"add-test"}}, {"do": {"x"}}, {},
		many,
		{"do": {"keep"}, "f.checks.100.result": {"works"}, "f.checks.499.result": {"x"}, "f.checks.500.result": {"x"}, "f.a.b.c.d.e.f.g.h.i.j": {"x"}, "f.": {"x"}, "f..": {"x"}, "f.hours.0.*was": {"99"}},
	} {
		if got := s.post(at, v); got.status != 200 && got.status != http.StatusUnprocessableEntity && got.status != http.StatusConflict {
			t.Errorf("%v: %d %s", v["do"], got.status, got.body)
		}
		if got := s.post("/phone/m/harrow", v, script); got.status != 200 && got.status != http.StatusUnprocessableEntity && got.status != http.StatusConflict {
			t.Errorf("kept, %v: %d %s", v["do"], got.status, got.body)
		}
	}
	for _, at := range []string{"", "x", "-1", "99999999999999999999", "1"} {
		id := s.news(s.post("/phone/photo", url.Values{"size": {"10"}, "written": {"-5"}}), http.StatusCreated).ID
		if got := s.ask("POST", "/phone/photo/"+id+"?at="+at, "", strings.NewReader("x")); got.status != http.StatusBadRequest && got.status != http.StatusConflict {
			t.Errorf("a piece at %q: %d", at, got.status)
		}
	}
}
