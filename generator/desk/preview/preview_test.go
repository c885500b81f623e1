package preview

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/logbook"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// A bench is a shop folder on disk with a preview that follows it.
type bench struct {
	*Preview
	t   *testing.T
	dir string
}

// small is a shop of one machine, one entry and one photo.
var small = map[string]string{
	"shop.md":                        "---\nshop: Tern Yard\ncurrency: USD\n---\nOpen words.\n",
	"machines/saw/machine.md":        "---\nname: Chop saw\nkind: bench saw\narrived: 2026-03-01\n---\nOpening.\n",
	"machines/saw/2026-03-02-a.md":   "---\ndate: 2026-03-02\ntitle: First look\nhours: 1\nphotos:\n  - {file: blade.jpg, alt: the blade}\n---\nSaid 0.\n",
	"machines/saw/photos/blade.jpg":  "",
	"machines/lamp/machine.md":       "---\nname: Work lamp\nkind: lamp\narrived: 2026-03-01\n---\nOpening.\n",
	"machines/lamp/2026-03-02-it.md": "---\ndate: 2026-03-02\ntitle: Lit\n---\nIt lights.\n",
}

// picture is a JPEG of that width, another one for each shade.
func picJPEG(t testing.TB, width int, shade uint8) []byte {
	t.Helper()
	pic := image.NewGray(image.Rect(0, 0, width, width*3/4))
	for i := range pic.Pix {
		pic.Pix[i] = shade + uint8(i%width/8) //nolint:gosec // any shade will do
	}
	pic.Set(0, 0, color.White)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, pic, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func newShop(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range small {
		data := []byte(text)
		if text == "" {
			data = picJPEG(t, 500, 10)
		}
		write(t, filepath.Join(dir, filepath.FromSlash(name)), data)
	}
	return dir
}

func write(t testing.TB, name string, data []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// following starts a preview of a folder and waits for its first state.
func following(t *testing.T, dir string) *bench {
	t.Helper()
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	b := &bench{New(folder, Options{Today: func() logbook.Date { return "2027-01-01" }}), t, dir}
	b.idle = 10 * time.Millisecond
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { defer close(done); b.Follow(ctx, []string{dir}, "site") }()
	t.Cleanup(func() {
		stop()
		<-done
		if err := folder.Close(); err != nil {
			t.Error(err)
		}
	})
	b.until("a first state", func(s *state) bool { return s.version > 0 })
	return b
}

// until waits for a state of that kind and returns it.
func (b *bench) until(what string, is func(*state) bool) *state {
	b.t.Helper()
	late := time.After(time.Minute)
	for {
		s, changed := b.state()
		if is(s) {
			return s
		}
		select {
		case <-changed:
		case <-late:
			b.t.Fatalf("%s never came; the problems are %v", what, s.problems)
		}
	}
}

func (b *bench) save(name, text string) {
	b.t.Helper()
	write(b.t, filepath.Join(b.dir, filepath.FromSlash(name)), []byte(text))
}

func (s *state) has(page, text string) bool {
	return s.site != nil && strings.Contains(string(s.site.files[page]), text)
}

const (
	story = "machines/saw/index.html"
	entry = "machines/saw/2026-03-02-a.md"
)

func said(n int) string {
	return strings.Replace(small[entry], "Said 0.", fmt.Sprintf("Said %d.", n), 1)
}

func TestFollowsEverySaveOfAText(t *testing.T) {
	b := following(t, newShop(t))
	b.until("the first site", func(s *state) bool { return s.has(story, "Said 0.") })
	b.save(entry, said(1))
	b.until("the edit", func(s *state) bool { return s.has(story, "Said 1.") })

	// As an editor saves: a new file takes the old one's place.
	aside := filepath.Join(b.dir, filepath.FromSlash(entry)+".tmp")
	write(t, aside, []byte(said(2)))
	if err := os.Rename(aside, filepath.Join(b.dir, filepath.FromSlash(entry))); err != nil {
		t.Fatal(err)
	}
	b.until("the edit by renaming", func(s *state) bool { return s.has(story, "Said 2.") && len(s.problems) == 0 })

	// A machine that comes in a folder of its own, all at once.
	b.save("machines/drill/machine.md", "---\nname: Pillar drill\nkind: drill\narrived: 2026-03-01\n---\nOpening.\n")
	b.save("machines/drill/photos/p.jpg", string(picJPEG(t, 450, 90)))
	b.save("machines/drill/2026-03-03-x.md", "---\ndate: 2026-03-03\ntitle: In\nphotos:\n  - {file: p.jpg, alt: drill}\n---\nIn.\n")
	b.until("the new machine", func(s *state) bool {
		return s.has("machines/drill/index.html", "Pillar drill") && s.has("machines/drill/index.html", `alt="drill"`)
	})
	b.save("machines/drill/2026-03-04-y.md", "---\ndate: 2026-03-04\ntitle: Second evening\n---\nMore.\n")
	b.until("an entry in the new folder", func(s *state) bool { return s.has("machines/drill/index.html", "Second evening") })
	if err := os.RemoveAll(filepath.Join(b.dir, "machines", "drill")); err != nil {
		t.Fatal(err)
	}
	b.until("the machine's end", func(s *state) bool { return s.site.files["machines/drill/index.html"] == nil })
}

func TestFollowsAThemeOfTheShop(t *testing.T) {
	dir := newShop(t)
	if err := os.CopyFS(filepath.Join(dir, "themes", "mine"), os.DirFS("../../../themes/jobcard")); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "shop.md"), []byte("---\nshop: Tern Yard\ncurrency: USD\ntheme: mine\n---\nOpen.\n"))
	b := following(t, dir)
	before := b.until("the site", func(s *state) bool { return s.site != nil })
	b.save("themes/mine/style.css", "body { color: maroon }")
	after := b.until("the style", func(s *state) bool { return s.site != before.site })
	if string(after.site.files[styleOf(after.site)]) != "body { color: maroon }" {
		t.Error("the style is not the theme's new one")
	}
	b.save("themes/mine/front.html", "{{.Nothing")
	broken := b.until("the theme's mistake", func(s *state) bool { return len(s.problems) == 1 })
	if !strings.Contains(broken.problems[0].Says, "front.html") || broken.site != after.site {
		t.Errorf("the mistake of a template reads %q", broken.problems[0].Says)
	}
}

func styleOf(s *site) string {
	for name := range s.files {
		if strings.HasSuffix(name, ".css") {
			return name
		}
	}
	return ""
}

func TestProblemsAreShownOverTheLastGoodSite(t *testing.T) {
	b := following(t, newShop(t))
	good := b.until("the site", func(s *state) bool { return s.site != nil })
	b.save(entry, strings.Replace(said(5), "hours: 1", "hours: sixish", 1))
	bad := b.until("the problem", func(s *state) bool { return len(s.problems) > 0 })
	p := bad.problems[0]
	if p.Place != entry+":4: hours" || p.Line != "hours: sixish" || p.Says == "" || p.Mend == "" {
		t.Errorf("the problem is shown as %+v", p)
	}
	if bad.site != good.site {
		t.Error("the last good site is gone")
	}
	b.save(entry, said(6))
	b.until("the mended site", func(s *state) bool { return len(s.problems) == 0 && s.has(story, "Said 6.") })

	// A shop.md that is away, as some drives do while they sync.
	at := filepath.Join(b.dir, "shop.md")
	if err := os.Rename(at, at+".away"); err != nil {
		t.Fatal(err)
	}
	b.until("the missing shop.md", func(s *state) bool { return len(s.problems) == 1 && s.site != nil })
	if err := os.Rename(at+".away", at); err != nil {
		t.Fatal(err)
	}
	b.until("the shop again", func(s *state) bool { return len(s.problems) == 0 })
}

func TestAShopThatBeginsWithProblems(t *testing.T) {
	dir := newShop(t)
	write(t, filepath.Join(dir, "shop.md"), []byte("---\nshop: Tern Yard\n---\n"))
	b := following(t, dir)
	b.until("the problem", func(s *state) bool { return len(s.problems) > 0 && s.site == nil })
	got := b.get("/")
	if got.code != http.StatusServiceUnavailable || !strings.Contains(got.body, "live.js") {
		t.Errorf("without a site: %d, %s", got.code, got.body)
	}
	b.save("shop.md", small["shop.md"])
	b.until("the site", func(s *state) bool { return s.site != nil && len(s.problems) == 0 })
}

// A picture cut short has a sound head, so only making it shows that it is
// broken.
func TestABrokenPhotoIsFoundInTheBackground(t *testing.T) {
	b := following(t, newShop(t))
	b.until("the site", func(s *state) bool { return s.site != nil })
	whole := picJPEG(t, 500, 60)
	b.save("machines/saw/photos/blade.jpg", string(whole[:len(whole)*2/3]))
	bad := b.until("the problem", func(s *state) bool { return len(s.problems) > 0 })
	if p := bad.problems[0]; !strings.HasPrefix(p.Place, entry+":6") || !strings.Contains(p.Line, "blade.jpg") {
		t.Errorf("the broken photo is shown as %+v", p)
	}
	b.save("machines/saw/photos/blade.jpg", string(whole))
	b.until("the mended site", func(s *state) bool { return len(s.problems) == 0 })
}

func TestAPhotoIsMadeOnce(t *testing.T) {
	b := following(t, newShop(t))
	s := b.until("the site", func(s *state) bool { return s.site != nil })
	for path, from := range s.site.photos {
		if got := b.get("/" + path); got.code != http.StatusOK || got.kind != "image/jpeg" {
			t.Errorf("%s: %d %s", path, got.code, got.kind)
		}
		one := b.photos.picture(from.key)
		first := &one.clean.Renditions[0].JPEG[0]
		b.save(entry, said(7))
		b.until("the edit", func(s *state) bool { return s.has(story, "Said 7.") })
		b.get("/" + path)
		if b.photos.picture(from.key) != one || &one.clean.Renditions[0].JPEG[0] != first {
			t.Error("a text edit had the photo made again")
		}
	}
	if len(s.site.photos) != 2 {
		t.Fatalf("%d photo files, want 2 (400 and 500 wide)", len(s.site.photos))
	}
}

// What the photos weigh in memory stays below a mark, and one that was let go of
// is made again.
func TestPhotosInMemoryAreBounded(t *testing.T) {
	dir := newShop(t)
	var list strings.Builder
	for i := range 6 {
		write(t, filepath.Join(dir, "machines/lamp/photos", fmt.Sprintf("%d.jpg", i)), picJPEG(t, 400, uint8(i*30)))
		fmt.Fprintf(&list, "  - {file: %d.jpg, alt: lamp}\n", i)
	}
	write(t, filepath.Join(dir, "machines/lamp/2026-03-02-it.md"), []byte("---\ndate: 2026-03-02\ntitle: Lit\nphotos:\n"+list.String()+"---\nIt lights.\n"))
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close() //nolint:errcheck // read only
	b := &bench{New(folder, Options{}), t, dir}
	b.photos.most = 20_000
	b.Build()
	s, _ := b.state()
	for range 2 {
		for path := range s.site.photos {
			if got := b.get("/" + path); got.code != http.StatusOK || len(got.body) == 0 {
				t.Fatalf("%s: %d", path, got.code)
			}
		}
	}
	total, all := 0, 0
	for _, p := range b.photos.made {
		total += p.weight
		all++
	}
	if total > 20_000 || total == 0 || all != 7 {
		t.Errorf("%d photos weigh %d bytes, and 20000 are allowed", all, total)
	}
}

type answer struct {
	code       int
	body, kind string
	header     http.Header
}

func (b *bench) get(path string) answer { return b.ask(http.MethodGet, "127.0.0.1:7340", path) }

func (b *bench) ask(method, host, path string) answer {
	b.t.Helper()
	r := httptest.NewRequest(method, path, nil)
	r.Host, r.RemoteAddr = host, "127.0.0.1:50000"
	w := httptest.NewRecorder()
	b.Handler("127.0.0.1:7340", "localhost:7340").ServeHTTP(w, r)
	return answer{w.Code, w.Body.String(), w.Header().Get("Content-Type"), w.Header()}
}

func TestServesTheSiteAndNothingElse(t *testing.T) {
	b := following(t, newShop(t))
	s := b.until("the site", func(s *state) bool { return s.site != nil })
	for path, want := range map[string]answer{
		"/":                         {code: 200, kind: "text/html; charset=utf-8"},
		"/machines/saw/":            {code: 200, kind: "text/html; charset=utf-8"},
		"/machines/saw/index.html":  {code: 200, kind: "text/html; charset=utf-8"},
		"/machines/saw":             {code: 302},
		"/machines/saw/record.json": {code: 200, kind: "application/json; charset=utf-8"},
		"/" + styleOf(s.site):       {code: 200, kind: "text/css; charset=utf-8"},
		"/robots.txt":               {code: 200, kind: "text/plain; charset=utf-8"},
		"/.preview/live.js":         {code: 200, kind: "text/javascript; charset=utf-8"},
		"/.preview/live.css":        {code: 200, kind: "text/css; charset=utf-8"},
		"/shop.md":                  {code: 404, kind: "text/html; charset=utf-8"},
		"/machines/saw/machine.md":  {code: 404},
		"/machines/saw/..%2f..%2f..%2fetc/passwd":               {code: 404},
		"/photos/..%2f..%2fmachines%2fsaw%2fphotos%2fblade.jpg": {code: 404},
		"/machines/saw/photos/blade.jpg":                        {code: 404},
		"/photos/0000000000000000-400.jpg":                      {code: 404},
		"/.preview/nothing":                                     {code: 404},
		"/%00":                                                  {code: 404},
	} {
		got := b.get(path)
		if got.code != want.code || want.kind != "" && got.kind != want.kind {
			t.Errorf("%s: %d %s, want %d %s", path, got.code, got.kind, want.code, want.kind)
		}
		if got.header.Get("Cache-Control") != "no-store" || got.header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s may be kept or guessed at: %v", path, got.header)
		}
	}
	for _, method := range []string{"POST", "PUT", "DELETE", "PATCH", "OPTIONS", "CONNECT", "TRACE", "PROPFIND"} {
		if got := b.ask(method, "127.0.0.1:7340", "/"); got.code != http.StatusMethodNotAllowed {
			t.Errorf("%s: %d", method, got.code)
		}
	}
	for _, host := range []string{"", "evil.example", "evil.example:7340", "127.0.0.1", "127.0.0.1:80", "127.0.0.1.evil.example:7340", "LOCALHOST.:7340", "[::1]:7340"} {
		if got := b.ask("GET", host, "/"); got.code != http.StatusMisdirectedRequest || strings.Contains(got.body, "Tern") {
			t.Errorf("the host %q: %d", host, got.code)
		}
	}
}

// The page that is served is the one that writeup would write, but for the
// script and for where its policy stands.
func TestPagesAreTheOnesOfWriteup(t *testing.T) {
	b := following(t, newShop(t))
	s := b.until("the site", func(s *state) bool { return s.site != nil })
	pages := 0
	for name, data := range s.site.files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		pages++
		got, policy := inject(data, 7)
		const script = `<script src="/.preview/live.js" data-build="7" defer></script>`
		if strings.Count(string(got), script) != 1 {
			t.Errorf("%s: the script is not in it once", name)
		}
		at := bytes.Index(data, []byte(`<meta http-equiv="Content-Security-Policy"`))
		end := at + bytes.IndexByte(data[at:], '>') + 1
		want := string(data[:at]) + string(data[end:])
		if undressed := strings.Replace(string(got), script, "", 1); undressed != want {
			t.Errorf("%s differs in more than script and policy", name)
		}
		if !strings.Contains(policy, "default-src 'none'") || !strings.Contains(policy, "'self'") || strings.Contains(policy, "script-src 'none'") {
			t.Errorf("%s: the policy is %q", name, policy)
		}
	}
	if pages < 5 {
		t.Fatalf("%d pages", pages)
	}
}

// A theme's own policy is not taken for the program's, which stands before it.
func TestPolicyIsTheFirst(t *testing.T) {
	meta := func(content string) string {
		return `<meta http-equiv="Content-Security-Policy" content="` + content + `">`
	}
	page, policy := inject([]byte("<head>"+meta("default-src 'none'")+meta("default-src *; script-src 'unsafe-inline'")+"</head>"), 7)
	if strings.Contains(policy, "unsafe-inline") || strings.Contains(policy, "*") || !strings.Contains(string(page), "unsafe-inline") {
		t.Errorf("the policy %q goes with %s", policy, page)
	}
}

// A theme's drawing that is opened by itself runs nothing.
func TestDrawingsRunNothing(t *testing.T) {
	b := following(t, newShop(t))
	s := b.until("the site", func(s *state) bool { return s.site != nil })
	drawings := 0
	for name := range s.site.files {
		if !strings.HasSuffix(name, ".svg") {
			continue
		}
		drawings++
		w := httptest.NewRecorder()
		b.Pages().ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/"+name, nil))
		if policy := w.Header().Get("Content-Security-Policy"); !strings.Contains(policy, "default-src 'none'") || !strings.Contains(policy, "sandbox") {
			t.Errorf("%s comes with %q", name, policy)
		}
	}
	if drawings == 0 {
		t.Error("there is no drawing")
	}
}

func TestWiden(t *testing.T) {
	for policy, want := range map[string]string{
		"default-src 'none'":                         "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; frame-ancestors 'none'",
		"script-src 'none'; style-src 'self' file:;": "script-src 'self'; style-src file: 'self'; connect-src 'self'; frame-ancestors 'none'",
		"script-src 'sha256-AA='; connect-src x":     "script-src 'sha256-AA=' 'self'; connect-src x 'self'; style-src 'self'; frame-ancestors 'none'",
	} {
		if got := widen(policy); got != want {
			t.Errorf("%q: got %q, want %q", policy, got, want)
		}
	}
}

func FuzzInject(f *testing.F) {
	for _, page := range []string{"", "<p>x", "<head></head>", `<meta http-equiv=Content-Security-Policy content="default-src 'none'">`, "<title></head>", "<!--", "<script></head></script></head>"} {
		f.Add([]byte(page))
	}
	f.Fuzz(func(t *testing.T, page []byte) {
		got, policy := inject(page, 1)
		if !bytes.Contains(got, []byte("/.preview/live.js")) {
			t.Errorf("no script in %q", got)
		}
		if policy != "" && !strings.Contains(policy, "script-src") {
			t.Errorf("the script may not load: %q", policy)
		}
	})
}

// news reads one event of the stream.
func readNews(t *testing.T, body io.Reader) string {
	t.Helper()
	var got strings.Builder
	b := make([]byte, 1)
	for !strings.HasSuffix(got.String(), "\n\n") {
		if _, err := body.Read(b); err != nil {
			t.Fatalf("the stream ended after %q: %v", got.String(), err)
		}
		got.Write(b)
	}
	return got.String()
}

func TestNewsComeAsAStream(t *testing.T) {
	b := following(t, newShop(t))
	b.until("the site", func(s *state) bool { return s.site != nil })
	server := httptest.NewServer(b.Pages())
	t.Cleanup(server.Close)
	answer, err := http.Get(server.URL + "/.preview/news")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close() //nolint:errcheck // it is a stream
	if kind := answer.Header.Get("Content-Type"); kind != "text/event-stream" {
		t.Errorf("the stream is %s", kind)
	}
	if first := readNews(t, answer.Body); !strings.Contains(first, `"build":`) || !strings.HasPrefix(first, "retry:") {
		t.Errorf("the first event is %q", first)
	}
	b.save(entry, strings.Replace(said(1), "hours: 1", "hours: one <b>", 1))
	if second := readNews(t, answer.Body); !strings.Contains(second, "1 problem to mend") || strings.Contains(second, "<b>") {
		t.Errorf("the second event is %q", second)
	}
}

// 500 saves in a row: each one shows, and neither goroutines, file handles nor
// memory grow.
func TestFiveHundredSaves(t *testing.T) {
	dir := newShop(t)
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close() //nolint:errcheck // read only
	b := &bench{New(folder, Options{}), t, dir}
	b.quiet = time.Millisecond
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { defer close(done); b.Follow(ctx, []string{dir}, "site") }()
	defer func() { stop(); <-done }()

	var before, after level
	for n := 1; n <= 500; n++ {
		b.save(entry, said(n))
		if n%50 == 0 { // and now and then a mistake, a photo, a machine
			b.save(entry, strings.Replace(said(n), "hours: 1", "hours: x", 1))
			b.until("a problem", func(s *state) bool { return len(s.problems) > 0 })
			b.save("machines/saw/photos/blade.jpg", string(picJPEG(t, 500, uint8(n/2)))) //nolint:gosec // any shade will do
			b.save(entry, said(n))
		}
		want := fmt.Sprintf("Said %d.", n)
		b.until(want, func(s *state) bool { return s.has(story, want) && len(s.problems) == 0 })
		switch n {
		case 100:
			before = levels(t)
		case 500:
			after = levels(t)
		}
	}
	// One more site may be on its way, for the last file that was saved: that is no growth.
	for until := time.Now().Add(time.Minute); after.heap > before.heap+2<<20 && time.Now().Before(until); {
		time.Sleep(100 * time.Millisecond)
		after = levels(t)
	}
	t.Logf("after 100 saves %+v, after 500 %+v", before, after)
	if after.goroutines > before.goroutines+2 || after.handles > before.handles+2 {
		t.Errorf("after 100 saves %+v, after 500 %+v", before, after)
	}
	if after.heap > before.heap+2<<20 {
		t.Errorf("the heap grew from %d to %d bytes", before.heap, after.heap)
	}
}

type level struct {
	goroutines, handles int
	heap                uint64
}

func levels(t *testing.T) level {
	t.Helper()
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	l := level{goroutines: runtime.NumGoroutine(), heap: m.HeapAlloc}
	if runtime.GOOS == "linux" {
		handles, err := os.ReadDir("/proc/self/fd")
		if err != nil {
			t.Fatal(err)
		}
		l.handles = len(handles)
	}
	return l
}

// The published folder stays as it is, and so does everything else.
func TestNothingIsWritten(t *testing.T) {
	dir := newShop(t)
	write(t, filepath.Join(dir, "site", "index.html"), []byte("published"))
	before := tree(t, dir)
	b := following(t, dir)
	s := b.until("the site", func(s *state) bool { return s.site != nil })
	for path := range s.site.photos {
		b.get("/" + path)
	}
	after := tree(t, dir)
	if len(before) < 6 || strings.Join(before, "\n") != strings.Join(after, "\n") {
		t.Errorf("the folder held\n%v\nand now\n%v", before, after)
	}
	seen := b.now.version
	write(t, filepath.Join(dir, "site", "index.html"), []byte("published anew"))
	b.save(entry, said(9))
	b.until("the edit", func(s *state) bool { return s.has(story, "Said 9.") })
	if now := b.now.version; now != seen+1 {
		t.Errorf("%d new states for one edit: the published folder is watched", now-seen)
	}
}

func tree(t *testing.T, dir string) []string {
	t.Helper()
	var all []string
	err := filepath.Walk(dir, func(path string, info os.FileInfo, err error) error {
		if err != nil {
			return err
		}
		all = append(all, fmt.Sprintf("%s %d %v %v", path, info.Size(), info.Mode(), info.ModTime().Format(time.RFC3339Nano)))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestPipesAmongTheProblems: the line of a problem is not looked for in a pipe.
func TestPipesAmongTheProblems(t *testing.T) {
	pipe := &testenv.Piped{Fs: afero.NewMemMapFs(), Pipe: "machines/m/a.md"}
	if err := afero.WriteFile(pipe.Fs, pipe.Pipe, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if found := lines(pipe, pipe.Pipe); pipe.Opened || found != nil {
		t.Errorf("opened %v, with %q", pipe.Opened, found)
	}
}
