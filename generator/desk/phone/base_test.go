package phone

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"io/fs"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/desk/preview"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

var shopFiles = map[string]string{
	"shop.md": "---\nshop: Tern Yard\ncurrency: USD\n---\nOpen words.\n",
	"machines/harrow/machine.md": "---\nname: Harrow\nkind: walk-behind tiller\narrived: 2026-03-01\n" +
		"limits:\n  - {what: compression, limit: '>= 60 psi', source: a guess}\n---\nOpening.\n",
	"machines/harrow/2026-03-02-a.md": "---\ndate: 2026-03-02\ntitle: First look\nby: JM\nhours: 1\ndefects:\n" +
		"  - {key: seal, defect: tine shaft seal leaks, effect: it runs low, system: drive, safety: no}\n---\nSaid.\n",
	"machines/saw/machine.md": "---\nname: Chop saw\nkind: bench saw\narrived: 2026-03-01\n---\nOpening.\n",
}

// A stand is a shop with its phones' base on a server, and one phone.
type stand struct {
	t     *testing.T
	dir   string
	view  *preview.Preview
	base  *Base
	root  string // of the server
	phone *http.Client

	mu    sync.Mutex
	codes []string
	ahead time.Duration // of the clock
}

func newStand(t *testing.T) *stand {
	t.Helper()
	s := &stand{t: t, dir: t.TempDir()}
	for name, text := range shopFiles {
		s.put(name, []byte(text))
	}
	folder, err := rooted.Open(s.dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = folder.Close() })
	s.view = preview.New(folder, preview.Options{Today: func() logbook.Date { return "2026-12-31" }})
	s.view.Build()
	d := desk.New(folder, desk.Options{Reading: s.view.Reading, Site: s.view.Pages(), Refresh: s.view.Build, Now: s.now})
	s.base = New(folder, Options{Reading: s.view.Reading, Desk: d, Now: s.now, Key: ourKey, ShowCode: func(code string) {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.codes = append(s.codes, code)
	}})
	server := httptest.NewUnstartedServer(nil)
	server.Config.Handler = s.base.Handler(server.Listener.Addr().String())
	server.Start()
	t.Cleanup(server.Close)
	s.root = server.URL
	s.phone = s.newPhone()
	return s
}

// now is noon in May of 2026 and as much later as the test wants.
func (s *stand) now() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return time.Date(2026, 5, 4, 18, 30, 0, 0, time.UTC).Add(s.ahead)
}

func (s *stand) later(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.ahead += d
}

// code is the last one that was shown; and how many were.
func (s *stand) code() (string, int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.codes) == 0 {
		return "", 0
	}
	return s.codes[len(s.codes)-1], len(s.codes)
}

func (s *stand) newPhone() *http.Client {
	jar, err := cookiejar.New(nil)
	if err != nil {
		s.t.Fatal(err)
	}
	return &http.Client{Jar: jar, Timeout: 20 * time.Second}
}

func (s *stand) put(name string, data []byte) {
	s.t.Helper()
	at := filepath.Join(s.dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		s.t.Fatal(err)
	}
	if err := os.WriteFile(at, data, 0o600); err != nil {
		s.t.Fatal(err)
	}
}

// anID is one that a form could have been given.
const anID = "00112233445566778899aabbccddeeff"

type reply struct {
	status int
	body   string
	at     string
	header http.Header
}

// ask sends a request of our own page.
func (s *stand) ask(method, path, kind string, body io.Reader, change ...func(*http.Request)) reply {
	s.t.Helper()
	r, err := http.NewRequest(method, s.root+path, body)
	if err != nil {
		s.t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Origin", s.root)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	for _, c := range change {
		c(r)
	}
	got, err := s.phone.Do(r)
	if err != nil {
		s.t.Fatalf("%s %s: %v", method, path, err)
	}
	defer got.Body.Close() //nolint:errcheck // it was read
	text, err := io.ReadAll(got.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return reply{got.StatusCode, string(text), got.Request.URL.Path, got.Header}
}

// script marks a request as the page's script does.
func script(r *http.Request) { r.Header.Set(desk.ByScript, "yes") }

// save sends an evening as the script does.
func (s *stand) save(key string, v url.Values) (int, entryNews) {
	s.t.Helper()
	got := s.post("/phone/m/"+key, v, script)
	var news entryNews
	if err := json.Unmarshal([]byte(got.body), &news); err != nil {
		s.t.Fatalf("%d %s: %v", got.status, got.body, err)
	}
	return got.status, news
}

func (s *stand) get(path string) reply { s.t.Helper(); return s.ask("GET", path, "", nil) }

func (s *stand) post(path string, v url.Values, change ...func(*http.Request)) reply {
	s.t.Helper()
	return s.ask("POST", path, "application/x-www-form-urlencoded", strings.NewReader(v.Encode()), change...)
}

// pair lets the phone in.
func (s *stand) pair() {
	s.t.Helper()
	s.get("/phone/pair")
	code, _ := s.code()
	if got := s.post("/phone/pair", url.Values{"code": {code}}); got.status != 200 || got.at != "/desk/" {
		s.t.Fatalf("the phone was not let in: %d at %s", got.status, got.at)
	}
}

// files are the names in the shop folder, and what is in them.
func (s *stand) files() map[string]string {
	s.t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(s.dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(s.dir, path)
		all[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil || len(all) < len(shopFiles) {
		s.t.Fatalf("%d files, %v", len(all), err)
	}
	return all
}

// fresh are the files that came since.
func (s *stand) fresh(before map[string]string) map[string]string {
	s.t.Helper()
	all := s.files()
	for name, data := range before {
		if all[name] != data && name != sessionsFile {
			s.t.Errorf("%s was changed", name)
		}
		delete(all, name)
	}
	delete(all, ".asleft-writing") // the lock
	for name := range all {
		if strings.HasPrefix(name, sentDir+"/") || name == sessionsFile || strings.HasPrefix(name, ".asleft/kept/") { // what is remembered of entries that came
			delete(all, name)
		}
	}
	return all
}

func picture(t testing.TB, width int, shade uint8) []byte {
	t.Helper()
	pic := image.NewGray(image.Rect(0, 0, width, width*3/4))
	for i := range pic.Pix {
		pic.Pix[i] = shade + uint8(i*7%251) //nolint:gosec // any shade will do
	}
	pic.Set(0, 0, color.White)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, pic, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// upload sends a photo in pieces of that size and returns its id.
func (s *stand) upload(data []byte, piece int) string {
	s.t.Helper()
	got := s.post("/phone/photo", url.Values{"name": {"IMG_1.jpg"}, "size": {fmt.Sprint(len(data))}, "written": {"1777900000000"}})
	news := s.news(got, http.StatusCreated)
	for have := 0; have < len(data); {
		end := min(have+piece, len(data))
		got := s.ask("POST", fmt.Sprintf("/phone/photo/%s?at=%d", news.ID, have), "application/octet-stream", bytes.NewReader(data[have:end]))
		have = int(s.news(got, http.StatusOK).Have)
	}
	return news.ID
}

func (s *stand) news(got reply, status int) photoNews {
	s.t.Helper()
	var news photoNews
	if err := json.Unmarshal([]byte(got.body), &news); err != nil || got.status != status {
		s.t.Fatalf("%d %s, want %d (%v)", got.status, got.body, status, err)
	}
	return news
}

func TestAnEntryFromTheBench(t *testing.T) {
	s := newStand(t)
	s.pair()
	if got := s.get("/phone/"); got.at != "/desk/" || !strings.Contains(got.body, "Harrow") || !strings.Contains(got.body, "Chop saw") {
		t.Error("the machines are not listed")
	}
	form := s.get("/desk/m/harrow/new")
	for _, want := range []string{"tine shaft seal leaks", "tines stop when the lever is let go", `value="2026-05-04"`, `<option value="compression">`, "JM", `data-machine="harrow"`, "/phone/as/" + version() + "/phone.js"} {
		if !strings.Contains(form.body, want) {
			t.Errorf("the form lacks %q", want)
		}
	}
	item := regexp.MustCompile(`name="(f\.checks\.1\d\d)\.item" value="tines stop when the lever is let go"`).FindStringSubmatch(form.body)
	if item == nil {
		t.Fatal("the list is not in the form")
	}
	before := s.files()
	id := s.upload(picture(t, 600, 10), 5_000)
	status, news := s.save("harrow", url.Values{
		"id": {anID}, "f.date": {"2026-05-04"}, "f.by": {"RT"}, "f.title": {""}, "story": {"New seal in. Then:\r\n\r\n--- it held.\r\n"},
		"f.hours.*list": {"1"}, "f.hours.0.from": {"18:10"}, "f.hours.0.to": {"19:50"}, "f.hours.0.task": {"teardown"},
		"f.hours.1.from": {"20:05"}, "f.hours.1.to": {"22:00"}, "f.hours.1.less": {"0:10"}, "f.hours.1.task": {"fitting"}, "f.hours.2.from": {""},
		item[1] + ".item": {"tines stop when the lever is let go"}, item[1] + ".result": {"works"}, item[1] + ".note": {`"now" it does: #1`}, item[1] + ".as_found": {"yes"},
		"f.checks.140.item": {"engine runs"}, "f.checks.141.item": {"engine starts"}, "f.checks.141.result": {"not checked"},
		"f.measured.0.what": {"compression"}, "f.measured.0.where": {"cylinder 1"}, "f.measured.0.value": {"62 psi"}, "f.measured.0.gauge": {"2 psi"}, "f.measured.0.state": {"cold"}, "f.measured.1.what": {""},
		"f.parts.0.part": {"tine seal"}, "f.parts.0.qty": {"1"}, "f.parts.0.each": {"14.25"}, "f.parts.0.source": {"new"}, "f.parts.0.system": {"drive"}, "f.parts.0.consumable": {"yes"},
		"f.defects.0.defect": {"belt cover cracked"}, "f.defects.0.effect": {"it rattles"}, "f.defects.0.system": {"controls"}, "f.defects.0.safety": {"yes"},
		"f.service.0.what": {"gear oil"}, "f.service.0.amount": {"0.7 qt"}, "f.service.0.system": {"drive"},
		"f.repaired.0.key": {"seal"}, "f.repaired.0.how": {"new seal"}, "f.repaired.0.proof": {"an hour, dry"},
		"photo-id": {id}, "photo-alt": {"the new seal"},
	})
	if status != 200 || news.Saved != "machines/harrow/2026-05-04-new-seal-in.md" {
		t.Fatalf("%d %+v", status, news)
	}
	fresh := s.fresh(before)
	if len(fresh) != 2 {
		t.Fatalf("there are new files %v", keys(fresh))
	}
	s.view.Build()
	r := s.view.Reading()
	if len(r.Problems) > 0 {
		t.Fatalf("what was written has problems: %v\n%s", r.Problems, fresh["machines/harrow/2026-05-04-new-seal-in.md"])
	}
	e := r.Shop.Machines[0].Entries[1]
	if e.Title != "New seal in" || e.By != "RT" || len(e.Sessions) != 2 || e.Sessions[0].Work+e.Sessions[1].Work != 100+105 || e.Sessions[1].By != "RT" {
		t.Errorf("hours and title: %+v", e.Sessions)
	}
	if len(e.Checks) != 1 || e.Checks[0].Result != logbook.Works || e.Checks[0].Note != `"now" it does: #1` || !e.Checks[0].AsFound {
		t.Errorf("checks: %+v", e.Checks)
	}
	if len(e.Measured) != 1 || e.Measured[0].Value.String() != "62 psi" || len(e.Parts) != 1 || e.Parts[0].Each.String() != "14.25" {
		t.Errorf("reading and part: %+v %+v", e.Measured, e.Parts)
	}
	if len(e.Defects) != 1 || e.Defects[0].Key != "belt-cover-cracked" || e.Defects[0].Safety != logbook.SafetyYes || len(e.Repaired) != 1 || e.Repaired[0].Key != "seal" {
		t.Errorf("defects: %+v %+v", e.Defects, e.Repaired)
	}
	if len(e.Service) != 1 || e.Service[0].Amount != "0.7 qt" || e.Service[0].System != "drive" || !e.Parts[0].Consumable || e.Measured[0].System != "engine" {
		t.Errorf("service, part and reading: %+v %+v %+v", e.Service, e.Parts, e.Measured)
	}
	if e.Clock.String() != "18:10" || e.Sessions[0].From.String() != "18:10" {
		t.Errorf("its time is %s", e.Clock)
	}
	if len(e.Photos) != 1 || e.Photos[0].Path == "" || e.Photos[0].Alt != "the new seal" || !strings.HasPrefix(e.Photos[0].File, "2026-05-04-") {
		t.Errorf("photos: %+v", e.Photos)
	}
	if body := string(e.Body.Text); !strings.Contains(body, "--- it held.") {
		t.Errorf("the body is %q", body)
	}
}

func keys(m map[string]string) []string {
	var all []string
	for k := range m {
		all = append(all, k)
	}
	return all
}

// The answer to a save is lost, and the phone sends it again: one entry.
func TestSentTwiceIsSavedOnce(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	data := picture(t, 500, 3)
	v := url.Values{"id": {anID}, "f.date": {"2026-05-04"}, "f.by": {"RT"}, "story": {"Ground the blade."}}
	for range 3 {
		v["photo-id"], v["photo-alt"] = []string{s.upload(data, 1<<20)}, []string{"blade"}
		if status, news := s.save("saw", v); news.Saved == "" {
			t.Fatalf("%d %+v", status, news)
		}
	}
	if fresh := s.fresh(before); len(fresh) != 2 {
		t.Errorf("sent three times it is %v", keys(fresh))
	}
	// Another entry of the same person and evening is a file of its own.
	s.save("saw", url.Values{"f.date": {"2026-05-04"}, "f.by": {"RT"}, "f.title": {"Ground the blade"}, "story": {"And again."}})
	if fresh := s.fresh(before); len(fresh) != 3 || fresh["machines/saw/2026-05-04-ground-the-blade-2.md"] == "" {
		t.Errorf("the second entry: %v", keys(fresh))
	}
}

// newEvening is the address of one that is begun, as a phone is led to it.
func (s *stand) newEvening(key string) string {
	s.t.Helper()
	got := s.get("/desk/m/" + key + "/new")
	if !strings.HasPrefix(got.at, "/desk/m/"+key+"/new/") {
		s.t.Fatalf("begun at %s: %d", got.at, got.status)
	}
	return got.at
}

// Without the script the forms are those of the desk: nothing typed is lost, the clock
// runs, and a photo is taken.
func TestPlainForms(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	at := s.newEvening("saw")
	v := url.Values{"f.date": {"2026-05-04"}, "f.by": {"RT"}, "f.title": {"Half"}, "story": {"Half a story"}, "f.hours.*list": {"1"}, "f.hours.0.from": {""}, "f.hours.0.to": {""}, "f.hours.0.task": {"wiring"}, "f.measured.*list": {"1"}, "f.measured.0.what": {"compression"}, "f.measured.0.value": {"60 psi"}}
	send := func(do string, photo []byte) reply {
		t.Helper()
		var b bytes.Buffer
		m := multipart.NewWriter(&b)
		v.Set("do", do)
		for name, all := range v {
			for _, value := range all {
				if err := m.WriteField(name, value); err != nil {
					t.Fatal(err)
				}
			}
		}
		if photo != nil {
			part, err := m.CreateFormFile("photo", "IMG_0001.JPG")
			if err == nil {
				_, err = part.Write(photo)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if err := m.Close(); err != nil {
			t.Fatal(err)
		}
		return s.ask("POST", at, m.FormDataContentType(), &b)
	}
	got := send("start", nil)
	if got.status != 200 || !strings.Contains(got.body, `name="f.hours.0.from" value="18:30"`) || !strings.Contains(got.body, "Half a story") || !strings.Contains(got.body, `class="stopwatch running"`) {
		t.Fatalf("the clock did not start: %d\n%s", got.status, got.body)
	}
	s.later(90 * time.Minute)
	if back := s.get(at); !strings.Contains(back.body, "Half a story") || !strings.Contains(back.body, `value="18:30"`) {
		t.Error("the form was lost when the page was loaded anew")
	}
	v.Set("f.hours.0.from", "18:30")
	got = send("stop", nil)
	if !strings.Contains(got.body, `name="f.hours.0.to" value="20:00"`) {
		t.Error("the clock did not stop")
	}
	v.Set("f.hours.0.to", "20:00")
	if got = send("more f.measured", nil); strings.Count(got.body, `.gauge" value`) != 3 { // one of them is the pattern of a row
		t.Errorf("there is no second row for a reading: %d", strings.Count(got.body, `.gauge" value`))
	}
	if got = send("photos", []byte("not a photo")); !strings.Contains(got.body, "<li>IMG_0001.JPG was not put in: this is a text file, not a photo") || !strings.Contains(got.body, "Half a story") {
		t.Errorf("nothing was said of what is no photo: %d\n%s", got.status, got.body)
	}
	got = send("photos", picture(t, 500, 77))
	row := regexp.MustCompile(`name="f\.photos\.0\.file" value="([^"]+\.jpg)"`).FindStringSubmatch(got.body)
	if row == nil {
		t.Fatalf("the photo is not in the form:\n%s", got.body)
	}
	v.Set("f.photos.0.file", row[1])
	v.Set("f.photos.0.alt", "a blade")
	if got = send("keep", nil); got.at != "/desk/m/saw" {
		t.Fatalf("not saved: %d\n%s", got.status, got.body)
	}
	fresh := s.fresh(before)
	if len(fresh) != 2 || !strings.Contains(fresh["machines/saw/2026-05-04-half.md"], `from: "18:30"`) || !strings.Contains(fresh["machines/saw/2026-05-04-half.md"], "a blade") {
		t.Errorf("saved as %v", fresh)
	}
}

// A bench test is found by what is wrong, put into the form with its inputs and its
// caution, and written as a person would have.
func TestABenchTestFromTheBench(t *testing.T) {
	s := newStand(t)
	s.put("machines/saw/2026-03-02-a.md", []byte("---\ndate: 2026-03-02\ntitle: First look\nby: JM\ndefects:\n  - {key: motor, defect: motor hums and stays where it is, system: electrical, safety: no}\n---\nSaid.\n"))
	s.view.Build()
	s.pair()
	before := s.files()
	at := s.newEvening("saw")
	got := s.get(at)
	if first, next := strings.Index(got.body, "add-test capacitor"), strings.Index(got.body, "add-test insulation resistance"); first < 0 || next < first {
		t.Errorf("an open defect leads to no tests, or not to the easiest first:\n%s", got.body)
	}
	v := url.Values{"f.date": {"2026-05-04"}, "f.by": {"RT"}, "f.title": {"Hum"}, "f.diagnosis.*list": {"1"}, "f.diagnosis.0.tried": {"spun it by hand"}, "f.diagnosis.0.saw": {"it ran on"}, "f.diagnosis.0.so": {"the start side"}, "f.diagnosis.0.system": {"electrical"}, "find": {"it smokes a lot"}, "do": {"find"}}
	if got = s.post(at, v, script); !strings.Contains(got.body, "add-test leak-down") || !strings.Contains(got.body, "spun it by hand") || strings.Contains(got.body, "add-test capacitor") {
		t.Errorf("found for smoke:\n%s", got.body)
	}
	v.Set("find", "wings")
	if got = s.post(at, v, script); !strings.Contains(got.body, "No bench test goes by wings") {
		t.Errorf("found for wings:\n%s", got.body)
	}
	v.Set("do", "add-test capacitor")
	got = s.post(at, v, script)
	if !strings.Contains(got.body, `<option value="capacitor" selected>`) || !strings.Contains(got.body, "f.tests.0.capacitance") || !strings.Contains(got.body, "Unplug") {
		t.Fatalf("the capacitor is not in the form:\n%s", got.body)
	}
	for name, value := range map[string]string{"test": "capacitor", "capacitance": "18 uF", "rated": "25 uF", "as_found": "yes", "where": "start side"} {
		v.Set("f.tests.0."+name, value)
	}
	v.Set("do", "add-test runout")
	if got = s.post(at, v, script); !strings.Contains(got.body, `<option value="runout" selected>`) || !strings.Contains(got.body, `value="18 uF"`) {
		t.Errorf("a second test:\n%s", got.body)
	}
	v.Set("f.tests.1.test", "runout")
	v.Set("do", "drop-test f.tests.1")
	if got = s.post(at, v, script); strings.Contains(got.body, `<option value="runout" selected>`) || !strings.Contains(got.body, `value="18 uF"`) {
		t.Errorf("the second test is not taken out:\n%s", got.body)
	}
	v.Del("f.tests.1.test")
	v.Set("f.tests.0.rated", "25 furlongs")
	if status, news := s.save("saw", v); status != http.StatusUnprocessableEntity || len(news.Found) != 1 || news.Found[0].Field != "f.tests.0.rated" {
		t.Errorf("a wrong input: %d %+v", status, news)
	}
	v.Set("f.tests.0.rated", "25 uF")
	if status, news := s.save("saw", v); news.Saved == "" {
		t.Fatalf("not saved: %d %+v", status, news)
	}
	fresh := s.fresh(before)
	text := fresh["machines/saw/2026-05-04-hum.md"]
	for _, want := range []string{"{tried: spun it by hand, saw: it ran on, so: the start side, system: electrical}", "test: capacitor", "where: start side", "as_found: yes", "capacitance: 18 uF", "rated: 25 uF"} {
		if len(fresh) != 1 || !strings.Contains(text, want) {
			t.Errorf("it lacks %q: %v", want, fresh)
		}
	}
}

func TestProblemsAreToldBeforeSaving(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	v := url.Values{"f.date": {"2026-05-04"}, "story": {"Odd."}, "f.measured.0.what": {"runout"}, "f.measured.0.value": {"eleven thou"}, "f.defects.0.defect": {"a crack"}, "f.defects.0.system": {"wings"}, "f.defects.0.safety": {"yes"}}
	status, news := s.save("saw", v)
	if all := fmt.Sprint(news.Found); status != http.StatusUnprocessableEntity || !strings.Contains(all, "eleven thou") || !strings.Contains(all, "wings") {
		t.Errorf("%d %+v", status, news)
	}
	if fresh := s.fresh(before); len(fresh) != 0 {
		t.Errorf("it was written all the same: %v", keys(fresh))
	}
	// What is wrong is told in a form's words.
	status, news = s.save("harrow", url.Values{"f.date": {"2026-05-04"}, "f.ran": {"45"}, "f.checks.0.item": {"tines stop when the lever is let go"}, "f.checks.0.result": {"does not apply"}})
	if all := fmt.Sprint(news.Found); status != http.StatusUnprocessableEntity || len(news.Found) != 2 || !strings.Contains(all, "{This has to be said. Say why it does not apply, in three words or more, as in: this one never had a belt. Note f.checks.0.note") || !strings.Contains(all, "and 45:00 for hours. Ran for f.ran") {
		t.Errorf("%d %+v", status, news)
	}
	// Hours that overlap show only when all entries are counted.
	s.save("harrow", url.Values{"f.date": {"2026-05-04"}, "f.by": {"RT"}, "f.title": {"One"}, "f.hours.0.from": {"10:00"}, "f.hours.0.to": {"12:00"}})
	status, news = s.save("saw", url.Values{"f.date": {"2026-05-04"}, "f.by": {"RT"}, "f.title": {"Two"}, "f.hours.0.from": {"11:00"}, "f.hours.0.to": {"13:00"}})
	if status != http.StatusUnprocessableEntity || !strings.Contains(fmt.Sprint(news.Found), "11:00") {
		t.Errorf("hours of one person in two places: %d %+v", status, news)
	}
	v.Set("do", "save-anyway")
	if status, news := s.save("saw", v); news.Saved == "" || !strings.Contains(strings.Join(news.Says, " "), "left to mend") {
		t.Errorf("as it is: %d %+v", status, news)
	}
	// A browser sends the empty row of each list.
	if status, news := s.save("saw", url.Values{
		"f.date": {"2026-05-04"}, "f.by": {"RT"}, "f.hours.*list": {"1"}, "f.hours.0.from": {""}, "f.measured.0.what": {""}, "f.parts.0.part": {""},
		"f.defects.0.defect": {""}, "f.defects.0.safety": {""}, "f.checks.103.item": {"tines stop"}, "f.worked_on": {""},
	}); status != http.StatusUnprocessableEntity || !strings.Contains(strings.Join(news.Says, " "), "nothing to save") {
		t.Errorf("an empty form: %d %+v", status, news)
	}
}

// Whether a defect can hurt someone is asked until it is answered, and never
// taken for no. Of guards, brakes and steering it need not be.
func TestSafetyIsAsked(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	v := url.Values{"f.date": {"2026-05-04"}, "f.title": {"Looked"}, "f.defects.0.defect": {"cable frays"}, "f.defects.0.system": {"controls"}, "f.defects.1.defect": {"cover cracked"}, "f.defects.1.system": {"guards"}}
	status, news := s.save("saw", v)
	if status != http.StatusUnprocessableEntity || len(news.Found) != 1 || news.Found[0].Field != "f.defects.0.safety" {
		t.Fatalf("%d %+v", status, news)
	}
	v.Set("f.defects.0.safety", "no")
	if status, news := s.save("saw", v); news.Saved == "" {
		t.Fatalf("%d %+v", status, news)
	}
	text := s.fresh(before)["machines/saw/2026-05-04-looked.md"]
	for _, want := range []string{"{key: cable-frays, defect: cable frays, system: controls, safety: no}", "{key: cover-cracked, defect: cover cracked, system: guards", "time: \"18:30\"\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("it lacks %s:\n%s", want, text)
		}
	}
	v.Del("f.defects.0.safety")
	v.Set("f.title", "Looked again")
	v.Set("do", "save-anyway")
	if status, _ := s.save("saw", v); status != http.StatusUnprocessableEntity || len(s.fresh(before)) != 1 {
		t.Errorf("it was saved unsaid: %d", status)
	}
}

// TestMinutesOrHours: 45 alone is asked about, also where it was to be saved all the same; on
// a phone that may say nothing it would be told to a buyer as 45 hours.
func TestMinutesOrHours(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	v := url.Values{"f.date": {"2026-05-04"}, "f.title": {"Ran it"}, "f.ran": {"45"}}
	for _, do := range []string{"save", "save-anyway"} {
		v.Set("do", do)
		if status, news := s.save("harrow", v); status != http.StatusUnprocessableEntity || len(news.Found) != 1 || news.Found[0].Field != "f.ran" || !strings.Contains(news.Found[0].Says, "Does 45 mean minutes or hours?") {
			t.Errorf("%s: %d %+v", do, status, news)
		}
	}
	v.Set("f.ran", "45 min")
	if status, news := s.save("harrow", v); news.Saved == "" {
		t.Fatalf("%d %+v", status, news)
	}
	if text := s.fresh(before)["machines/harrow/2026-05-04-ran-it.md"]; !strings.Contains(text, `ran: "0:45"`) {
		t.Errorf("it is\n%s", text)
	}
}

// An entry of another day gets no time that nobody knows; one that says does
// not apply says why.
func TestTimeAndReasons(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	v := url.Values{"f.date": {"2026-05-03"}, "f.title": {"Yesterday"}, "f.checks.100.item": {"tines stop when the lever is let go"}, "f.checks.100.result": {"does not apply"}, "f.checks.100.note": {"n/a"}}
	if status, news := s.save("harrow", v); status != http.StatusUnprocessableEntity || !strings.Contains(fmt.Sprint(news.Found), "this one never had a belt") {
		t.Errorf("no reason: %d %+v", status, news)
	}
	v.Set("f.checks.100.note", "the tines are off for good")
	s.save("harrow", v)
	if text := s.fresh(before)["machines/harrow/2026-05-03-yesterday.md"]; strings.Contains(text, "time:") || !strings.Contains(text, "result: does not apply, note: the tines are off for good") {
		t.Errorf("it is\n%s", text)
	}
}

// Sent again an hour later it is still one entry.
func TestSentLaterIsSavedOnce(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	v := url.Values{"id": {anID}, "f.date": {"2026-05-04"}, "f.by": {"RT"}, "story": {"Ground the blade."}}
	s.save("saw", v)
	s.later(time.Hour)
	s.save("saw", v)
	if fresh := s.fresh(before); len(fresh) != 1 {
		t.Errorf("sent twice it is %v", keys(fresh))
	}
}

// The line is cut in the middle of a piece: what came of it stays, and the rest
// follows from there.
func TestAPhotoGoesOnWhereItWasCut(t *testing.T) {
	s := newStand(t)
	s.pair()
	data := picture(t, 900, 5)
	got := s.post("/phone/photo", url.Values{"name": {"x"}, "size": {fmt.Sprint(len(data))}})
	id := s.news(got, http.StatusCreated).ID
	path := "/phone/photo/" + id

	r, w := io.Pipe()
	sent := make(chan error, 1)
	go func() {
		request, err := http.NewRequest("POST", s.root+path+"?at=0", r)
		if err == nil {
			request.ContentLength = 10_000
			request.Header.Set("Origin", s.root)
			_, err = s.phone.Do(request) //nolint:bodyclose // it has none
		}
		sent <- err
	}()
	if _, err := w.Write(data[:6_000]); err != nil {
		t.Fatal(err)
	}
	_ = w.CloseWithError(io.ErrUnexpectedEOF) // out of reach
	if err := <-sent; err == nil {
		t.Fatal("the request was not cut")
	}
	var have int64
	for until := time.Now().Add(5 * time.Second); have != 6_000; time.Sleep(5 * time.Millisecond) {
		have = s.news(s.get(path), http.StatusOK).Have
		if time.Now().After(until) {
			t.Fatalf("%d bytes are there, 6000 were sent", have)
		}
	}
	again := s.ask("POST", path+"?at=0", "application/octet-stream", bytes.NewReader(data[:100]))
	if news := s.news(again, http.StatusConflict); news.Have != 6_000 {
		t.Errorf("a piece from the wrong place is answered %+v", news)
	}
	rest := s.ask("POST", path+"?at=6000", "application/octet-stream", bytes.NewReader(data[6_000:]))
	if news := s.news(rest, http.StatusOK); !news.Whole || news.Have != int64(len(data)) {
		t.Errorf("the rest is answered %+v", news)
	}
	s.base.uploads.mu.Lock()
	defer s.base.uploads.mu.Unlock()
	if !bytes.Equal(s.base.uploads.all[id].data, data) {
		t.Error("the photo is not what was sent")
	}
}

func TestAPhotoOfASessionIsNobodyElses(t *testing.T) {
	s := newStand(t)
	s.pair()
	id := s.upload(picture(t, 500, 3), 1<<20)
	s.phone = s.newPhone()
	s.pair()
	if got := s.get("/phone/photo/" + id); got.status != http.StatusNotFound {
		t.Errorf("another phone asks: %d", got.status)
	}
	if status, news := s.save("saw", url.Values{"f.date": {"2026-05-04"}, "story": {"x"}, "photo-id": {id}, "photo-alt": {""}}); status != http.StatusConflict || !news.Photos {
		t.Errorf("another phone uses it: %d %+v", status, news)
	}
}

func TestThePreviewIsBesideIt(t *testing.T) {
	s := newStand(t)
	if got := s.get("/machines/harrow/"); got.at != "/phone/pair" || strings.Contains(got.body, "Harrow") || strings.Contains(got.body, "Tern Yard") {
		t.Errorf("a stranger sees %s", got.at)
	}
	s.pair()
	if got := s.get("/machines/harrow/"); got.status != 200 || !strings.Contains(got.body, "First look") {
		t.Errorf("a paired phone sees %d", got.status)
	}
}

// What is sealed is decided at the shop's own computer.
func TestAPhoneSealsNothing(t *testing.T) {
	s := newStand(t)
	s.pair()
	before := s.files()
	if got := s.get("/desk/m/harrow/seal"); got.status != http.StatusForbidden || !strings.Contains(got.body, "own computer") {
		t.Errorf("the page for sealing: %d", got.status)
	}
	if got := s.post("/desk/m/harrow/seal", url.Values{"tell": {"yes"}}); got.status != http.StatusForbidden {
		t.Errorf("sealing: %d", got.status)
	}
	if page := s.get("/desk/m/harrow"); strings.Contains(page.body, "/seal\"") {
		t.Error("a phone is led to sealing")
	}
	if fresh := s.fresh(before); len(fresh) != 0 {
		t.Errorf("there are %v", keys(fresh))
	}
}

// ourKey is that of the computer of these tests.
var ourKey = []byte("a key of this computer")

// A shop's folder that comes from elsewhere lets nobody in, whatever it says of phones:
// not those that were let in there, and none of which somebody wrote down a secret that he
// knows.
func TestAFolderFromElsewhereLetsNoPhoneIn(t *testing.T) {
	s := newStand(t)
	s.pair()
	for name, key := range map[string][]byte{"another computer": []byte("another key"), "one that lost its key": []byte("a new key")} {
		s.base.sessions = newSessions(s.base.folder, key, s.now)
		if got := s.get("/desk/"); got.at != "/phone/pair" {
			t.Errorf("%s lets it in: %d at %s", name, got.status, got.at)
		}
	}
	known := "what the one who made the folder knows"
	sum := sha256.Sum256([]byte(known))
	none := newSessions(afero.NewMemMapFs(), nil, s.now).digest(known)
	text := fmt.Sprintf(`{"%x": "9999-01-01T00:00:00Z", "%x": "9999-01-01T00:00:00Z"}`, sum, none)
	if err := afero.WriteFile(s.base.folder, sessionsFile, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	s.base.sessions = newSessions(s.base.folder, ourKey, s.now)
	r := httptest.NewRequest(http.MethodGet, "/desk/", nil)
	r.AddCookie(&http.Cookie{Name: cookie, Value: known})
	if s.base.sessions.of(r) != nil {
		t.Error("a secret that came with the folder lets in")
	}
}

// A phone that was let in stays in when the program is started anew, for a month.
func TestAPhoneIsKnownTheNextDay(t *testing.T) {
	s := newStand(t)
	s.pair()
	s.base.sessions = newSessions(s.base.folder, ourKey, s.now)
	if got := s.get("/desk/"); got.status != 200 || got.at != "/desk/" {
		t.Errorf("the next day: %d at %s", got.status, got.at)
	}
	if data := s.files()[sessionsFile]; !strings.Contains(data, "2026-05-04") {
		t.Errorf("%s is %q", sessionsFile, data)
	}
	s.later(sessionTime + time.Hour)
	if got := s.get("/desk/"); got.at != "/phone/pair" {
		t.Errorf("after a month it is at %s", got.at)
	}
}

// TestPipesAmongWhatPhonesSent: where a folder of somebody else's has a pipe for what is
// known of phones, no phone is known, and none waits.
func TestPipesAmongWhatPhonesSent(t *testing.T) {
	id := strings.Repeat("a", 32)
	for name, read := range map[string]func(afero.Fs){
		sessionsFile:       func(folder afero.Fs) { newSessions(folder, nil, time.Now) },
		sentDir + "/" + id: func(folder afero.Fs) { _, _ = (&Base{folder: folder}).sending(id) },
	} {
		pipe := &testenv.Piped{Fs: afero.NewMemMapFs(), Pipe: name}
		if err := afero.WriteFile(pipe.Fs, name, []byte("{}"), 0o600); err != nil {
			t.Fatal(err)
		}
		if read(pipe); pipe.Opened {
			t.Errorf("%s was opened", name)
		}
	}
}
