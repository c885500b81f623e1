package generator_test

import (
	"compress/gzip"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/chromedp/chromedp"

	"asleft/generator/testenv"
)

// served is the example's site on a server of this machine, with a report as a
// buyer gets it, and the addresses of its pages.
func served(t *testing.T, theme string) (string, []string) {
	t.Helper()
	files := maps.Clone(exampleIn(t, theme))
	files["handed-over.html"] = string(buyersReport(t))
	return serve(t, files)
}

// serve puts a site on a server of this machine, and returns its address and
// those of its pages.
func serve(t *testing.T, files map[string]string) (string, []string) {
	t.Helper()
	site := fstest.MapFS{}
	var pages []string
	for name, data := range files {
		site[name] = &fstest.MapFile{Data: []byte(data)}
		if strings.HasSuffix(name, ".html") {
			pages = append(pages, name)
		}
	}
	sort.Strings(pages)
	server := httptest.NewServer(packed(http.FileServerFS(site)))
	t.Cleanup(server.Close)
	for i, p := range pages {
		pages[i] = server.URL + "/" + strings.TrimSuffix(p, "index.html")
	}
	return server.URL, pages
}

// inEachTheme are the addresses of the example's pages in every built-in theme.
func inEachTheme(t *testing.T) []string {
	t.Helper()
	var all []string
	for _, theme := range builtIn(t) {
		_, pages := served(t, theme)
		all = append(all, pages...)
	}
	return all
}

// packed sends text compressed, as any host does.
func packed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, ".jpg") || !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
			next.ServeHTTP(w, r)
			return
		}
		r.Header.Del("Range")
		w.Header().Set("Content-Encoding", "gzip")
		z := gzip.NewWriter(w)
		defer z.Close()
		next.ServeHTTP(packedWriter{w, z}, r)
	})
}

type packedWriter struct {
	http.ResponseWriter
	z *gzip.Writer
}

func (p packedWriter) WriteHeader(code int) {
	p.Header().Del("Content-Length")
	p.ResponseWriter.WriteHeader(code)
}

func (p packedWriter) Write(b []byte) (int, error) { return p.z.Write(b) }

// Lighthouse's mobile profile: all that does not hang on this machine's speed is at 100.
// Speed, which it works out from a trace of this machine, is held against the same words
// without their look, pictures and scripts: at least nine tenths of what those come to.
// Whatever else runs here meanwhile can only make a page slower, so the best of a few
// traces counts for each, taken in turn.
func TestLighthouse(t *testing.T) {
	const page, bare = "machines/harrow/index.html", "bare.html"
	files := maps.Clone(exampleIn(t, "jobcard"))
	files[bare] = looks.ReplaceAllString(files[page], "")
	if !looks.MatchString(files[page]) || looks.MatchString(files[bare]) {
		t.Fatal("nothing was left out of the page")
	}
	root, _ := serve(t, files)
	const traces, wanted = 6, 0.9
	var best, plain float64
	for i := range traces {
		result := audited(t, root+"/"+strings.TrimSuffix(page, "index.html"))
		for _, name := range []string{"accessibility", "best-practices", "seo"} {
			if score := result.Categories[name].Score; score < 1 {
				t.Errorf("%s is at %v, want 1", name, score)
			}
		}
		best = max(best, result.Categories["performance"].Score)
		if best >= wanted { // of the most that there can be
			return
		}
		plain = max(plain, audited(t, root+"/"+bare).Categories["performance"].Score)
		if i > 0 && best >= wanted*plain {
			return
		}
	}
	t.Errorf("performance is at %v at best, the bare words at %v", best, plain)
}

// looks is all of a page that is not its words.
var looks = regexp.MustCompile(`(?s)<style.*?</style>|<script.*?</script>|<link [^>]*>|<(img|source) [^>]*>`)

// An audit is what Lighthouse says of a page.
type audit struct {
	Categories map[string]struct{ Score float64 }
	Audits     map[string]struct {
		Score *float64
		Title string
	}
}

// audited runs Lighthouse on a page, and tells what is less than all that it could be.
func audited(t *testing.T, address string) audit {
	t.Helper()
	node, chromium, lighthouse := testenv.Program(t, "node"), testenv.Program(t, "chromium"), testenv.Module(t, "lighthouse/cli/index.js")
	report := filepath.Join(t.TempDir(), "report.json")
	cmd := exec.Command(node, lighthouse, address, "--quiet", "--output=json", "--output-path="+report,
		"--chrome-flags=--headless --no-sandbox --disable-gpu --disable-quic --disable-background-networking --disable-component-update")
	cmd.Env = append(os.Environ(), "CHROME_PATH="+chromium)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("lighthouse: %v\n%s", err, out)
	}
	data, err := os.ReadFile(report)
	if err != nil {
		t.Fatal(err)
	}
	var result audit
	if err := json.Unmarshal(data, &result); err != nil {
		t.Fatal(err)
	}
	t.Logf("%s: performance %v", address, result.Categories["performance"].Score)
	for id, a := range result.Audits {
		if a.Score != nil && *a.Score < 1 {
			t.Logf("%s: %v (%s)", id, *a.Score, a.Title)
		}
	}
	return result
}

// Pages hold together from 320 to 1920 px: nothing sticks out sideways.
func TestNoSidewaysScroll(t *testing.T) {
	ctx := testenv.Browser(t)
	for _, page := range inEachTheme(t) {
		testenv.Do(t, ctx, chromedp.Navigate(page))
		for _, width := range []int64{320, 390, 768, 1280, 1920} {
			testenv.Do(t, ctx, chromedp.EmulateViewport(width, 900))
			if wide := testenv.Ask[int64](t, ctx, `document.scrollingElement.scrollWidth`); wide > width {
				t.Errorf("%s is %d px wide in a window of %d", page, wide, width)
			}
		}
	}
}

// Opening any page asks for nothing but the site's own files, and the browser
// has nothing to complain of.
func TestPagesAskNobodyElse(t *testing.T) {
	ctx := testenv.Browser(t)
	root, pages := served(t, "jobcard")
	seen := listen(t, ctx)
	for _, page := range pages {
		testenv.Do(t, ctx, chromedp.Navigate(page))
		testenv.Ask[bool](t, ctx, `new Promise(done => { scrollTo(0, document.body.scrollHeight); setTimeout(() => done(true), 50) })`)
	}
	seen.mu.Lock()
	defer seen.mu.Unlock()
	if len(seen.asked) < 2*len(pages) {
		t.Fatalf("only %d requests were seen", len(seen.asked))
	}
	for _, a := range seen.asked {
		if !strings.HasPrefix(a, root+"/") && !strings.HasPrefix(a, "data:") {
			t.Errorf("a page asked for %s", a)
		}
	}
	for _, m := range seen.said {
		t.Errorf("the browser says: %s", m)
	}
}

// A site works from a folder opened as a file: style and photos load there too,
// and a link leads to the next page.
func TestWorksFromAFolder(t *testing.T) {
	ctx := testenv.Browser(t)
	dir := t.TempDir()
	for name, data := range exampleSite(t) {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	testenv.Do(t, ctx, chromedp.Navigate("file://"+dir+"/machines/harrow/index.html"))
	if rules := testenv.Ask[int](t, ctx, `document.styleSheets.length && document.styleSheets[0].href ? 1 : 0`); rules == 0 {
		t.Error("the style sheet did not load from a folder")
	}
	if wide := testenv.Ask[int](t, ctx, `document.querySelector('img').naturalWidth`); wide == 0 {
		t.Error("the first photo did not load from a folder")
	}
	if font := testenv.Ask[float64](t, ctx, `parseFloat(getComputedStyle(document.querySelector('h1')).fontSize)`); font < 24 {
		t.Errorf("the heading is %v px: the style was not applied", font)
	}
	testenv.Ask[bool](t, ctx, `(() => { Array.from(document.links).find(a => a.href.endsWith('/condition/index.html')).click(); return true })()`)
	testenv.Comes(t, ctx, "the report behind the link", `location.pathname.endsWith('/condition/index.html') && !!document.getElementById('safety')`)
}

// WCAG 2.2 A and AA as axe-core checks them, at phone and desk width; in dark what is
// about colors.
func TestAccessible(t *testing.T) {
	axe, err := os.ReadFile(testenv.Module(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	ctx := testenv.Browser(t)
	const check = `axe.run(document, {runOnly: %s}).then(
		r => r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.target.join(' ')).slice(0, 3).join(', ')))`
	looks := []struct{ prefers, check string }{
		{"light", fmt.Sprintf(check, `['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']`)},
		{"dark", fmt.Sprintf(check, `['cat.color']`)}, // all else is the same page
	}
	for _, page := range inEachTheme(t) {
		testenv.Do(t, ctx, chromedp.Navigate(page))
		testenv.Ask[bool](t, ctx, string(axe)+"; true")
		for _, look := range looks {
			for _, width := range []int64{390, 1280} {
				testenv.Do(t, ctx, chromedp.EmulateViewport(width, 900), testenv.Prefers(look.prefers))
				for _, found := range testenv.Ask[[]string](t, ctx, look.check) {
					t.Errorf("%s (%s, %d px): %s", page, look.prefers, width, found)
				}
			}
		}
	}
}

// The Nu HTML checker has nothing to say of any page.
func TestValidHTML(t *testing.T) {
	java, jar := testenv.Program(t, "java"), testenv.Module(t, "vnu-jar/build/dist/vnu.jar")
	pages := inEachTheme(t)
	// The checker refuses addresses of this very machine unless it is told otherwise.
	args := append([]string{"-Dnu.validator.servlet.allow-forbidden-hosts=true", "-jar", jar}, pages...)
	for line := range strings.Lines(toolOutput(t, java, args...)) {
		// On the buyer's report the checker takes a block of data for a script
		// (HTML Standard, 4.12.1: it is a data block), and does not match data:
		// images with the source data: (Content Security Policy Level 3, 6.7.2.8).
		// The browser has no complaint, see TestPagesAskNobodyElse.
		if strings.Contains(line, "/handed-over.html") && strings.Contains(line, "violates Content Security Policy") {
			continue
		}
		t.Errorf("the HTML checker says: %s", line)
	}
}

// The report prints on Letter and on A4.
func TestReportPrints(t *testing.T) {
	ctx := testenv.Browser(t)
	pdftotext := testenv.Program(t, "pdftotext")
	root, _ := served(t, "jobcard")
	testenv.Do(t, ctx, chromedp.Navigate(root+"/machines/gannet/condition/"))
	for name, paper := range map[string]chromedp.PaperSize{"letter": chromedp.PaperLetter, "a4": chromedp.PaperA4} {
		pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), name+".pdf")
		if err := os.WriteFile(path, pdf, 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(pdftotext, "-layout", path, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(string(out)), " ")
		for _, want := range []string{"In short", "What can hurt, in full", "Not checked", "no proof of safety"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the printed report does not say %q", name, want)
			}
		}
		if pages := strings.Count(string(out), "\f"); pages < 2 || pages > 12 {
			t.Errorf("%s: the printed report has %d pages", name, pages)
		}
	}
}
