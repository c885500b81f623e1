package generator_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/spf13/afero"
	"golang.org/x/net/html"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/handover"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/tally"
)

// patience is how long one hostile shop may take; it needs milliseconds.
const patience = 2 * time.Minute

// TestHostile reads every case of testdata/hostile: each ends in the clear
// problem that it names, or in a site in which it can do nothing.
func TestHostile(t *testing.T) {
	cases := hostileCases(t)
	held, mu := hostileCount{}, sync.Mutex{}
	t.Cleanup(func() { held.want(t, 730) })
	for _, c := range cases {
		t.Run(c.context+"/"+c.name, func(t *testing.T) {
			t.Parallel()
			within(t, patience, func() { c.judge(t) })
			mu.Lock()
			defer mu.Unlock()
			wrong := ""
			if t.Failed() {
				wrong = "see above"
			}
			held.add(t, c.context, c.name, wrong)
		})
	}
}

// within fails the test where something takes longer than the patience.
func within(t *testing.T, patience time.Duration, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() {
		defer close(done)
		do()
	}()
	select {
	case <-done:
	case <-time.After(patience):
		t.Errorf("not done after %s", patience)
	}
}

// judge makes the case's shop and holds what comes of it against what should.
func (c hostileCase) judge(t *testing.T) {
	folder, parent := c.shop(t), afero.NewMemMapFs()
	_, r, err := generator.Writeup(folder, parent, "site", generator.Options{Today: "2026-11-25"})
	says := saidOf(r, err)
	if c.problem != "" {
		if !strings.Contains(says, c.problem) {
			t.Errorf("want the problem %q, got:\n%s", c.problem, says)
		}
		if ok, _ := afero.Exists(parent, "site"); ok {
			t.Error("a site was made all the same")
		}
		return
	}
	if says != "" {
		t.Errorf("want a safe page, got:\n%s", says)
		return
	}
	site := siteFiles(t, parent)
	checkSafe(t, site)
	if c.context == "fields" {
		sameSkeleton(t, site, plainSite(t))
	}
	checkCSV(t, r)
}

// saidOf is all that a run has to complain of.
func saidOf(r *generator.Reading, err error) string {
	var b strings.Builder
	if err != nil {
		b.WriteString(err.Error() + "\n")
	}
	if r != nil {
		for _, p := range r.Problems {
			b.WriteString(p.String() + " (" + p.Mend + ")\n")
		}
	}
	return b.String()
}

func siteFiles(t *testing.T, parent afero.Fs) map[string]string {
	t.Helper()
	files, err := filesIn(parent)
	if err != nil || len(files) < 10 {
		t.Errorf("%d files, %v", len(files), err)
	}
	return files
}

func filesIn(parent afero.Fs) (map[string]string, error) {
	files := map[string]string{}
	err := afero.Walk(parent, "site", func(p string, info fs.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		data, err := afero.ReadFile(parent, p)
		files[strings.TrimPrefix(filepath.ToSlash(p), "site/")] = string(data)
		return err
	})
	return files, err
}

// benignSite is the site of a shop with every field and every mark of Markdown
// in use, with a report sealed, and nothing hostile in it: what its pages
// consist of is what a page may consist of.
var benignSite = sync.OnceValues(func() (map[string]string, error) {
	folder := afero.NewMemMapFs()
	for name, text := range baseShop() {
		text = strings.NewReplacer("@@", "three plain words", "@q", `"three plain words"`, "@p", reasonOf("three plain words"), "@n", "0").Replace(text)
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			return nil, err
		}
	}
	site, _, err := sealedSite(folder)
	return site, err
})

// sealedSite is the site of a shop whose first machine has a sealed report, and
// the buyer's files of it by their endings.
func sealedSite(folder afero.Fs) (site, buyer map[string]string, err error) {
	parent, copies := afero.NewMemMapFs(), afero.NewMemMapFs()
	r, err := generator.Read(folder, generator.Options{Today: "2026-11-25"})
	if says := saidOf(r, err); says != "" {
		return nil, nil, errors.New(says)
	}
	report, err := handover.Prepare(folder, handedOver(r), 0, "2026-11-25")
	if err != nil {
		return nil, nil, err
	}
	made, err := report.Seal(copies, afero.NewMemMapFs(), sheet.A4)
	if err != nil {
		return nil, nil, err
	}
	buyer = map[string]string{}
	for _, name := range []string{made.HTML, made.PDF} {
		data, err := afero.ReadFile(copies, name)
		if err != nil {
			return nil, nil, err
		}
		buyer[path.Ext(name)] = string(data)
	}
	_, r, err = generator.Writeup(folder, parent, "site", generator.Options{Today: "2026-11-25"})
	if says := saidOf(r, err); says != "" {
		return nil, nil, errors.New(says)
	}
	site, err = filesIn(parent)
	return site, buyer, err
}

// plainSite is the site of the same shop with plain words and nothing sealed.
func plainSite(t *testing.T) map[string]string {
	t.Helper()
	plainOnce.Do(func() {
		parent := afero.NewMemMapFs()
		_, r, err := generator.Writeup(filled(t, hostileCase{}, "three plain words", false), parent, "site", generator.Options{Today: "2026-11-25"})
		if says := saidOf(r, err); says != "" {
			t.Error(says)
		}
		plain = siteFiles(t, parent)
	})
	return plain
}

var (
	plainOnce sync.Once
	plain     map[string]string
)

// vocabulary is what pages consist of.
type vocabulary struct {
	elements map[string]bool // name, and name.attribute
	scripts  map[string]bool // the texts of scripts and styles
}

var allowed = sync.OnceValue(func() vocabulary {
	v := vocabulary{map[string]bool{}, map[string]bool{}}
	site, err := benignSite()
	if err != nil {
		panic(err) // the shop that has to be sound is not
	}
	for name, text := range site {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		doc, err := html.Parse(strings.NewReader(text))
		if err != nil {
			panic(err)
		}
		for n := range doc.Descendants() {
			v.take(n)
		}
	}
	// Attributes that only some numbers, photos, tables or links bring up.
	for _, more := range []string{"ol.start", "a.title", "code.class", "figure", "figure.class", "figcaption", "a.class", "a.rel", "small", "details", "summary", "div.role", "div.tabindex", "div.aria-label", "th.class", "td.class"} {
		v.elements[more] = true
	}
	return v
})

func (v vocabulary) take(n *html.Node) {
	if n.Type != html.ElementNode {
		return
	}
	v.elements[n.Data] = true
	for _, a := range n.Attr {
		v.elements[n.Data+"."+a.Key] = true
	}
	if n.Data == "script" || n.Data == "style" {
		v.scripts[textOf(n)] = true
	}
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(c.Data)
		}
	}
	return b.String()
}

// checkSafe goes through every file of a site.
func checkSafe(t testing.TB, site map[string]string) {
	t.Helper()
	pages := 0
	for name, text := range site {
		switch path.Ext(name) {
		case ".html":
			pages++
			checkPage(t, name, text)
			checkSeen(t, name, text)
		case ".xml":
			checkXML(t, name, text)
			checkSeen(t, name, text)
		case ".json":
			if !json.Valid([]byte(text)) {
				t.Errorf("%s is no JSON", name)
			}
			checkSeen(t, name, text)
		case ".jpg":
			for _, mark := range []string{"<script", "__hit", "javascript:", "<?php"} {
				if strings.Contains(text, mark) {
					t.Errorf("%s holds %s", name, mark)
				}
			}
		}
	}
	if pages < 5 {
		t.Errorf("only %d pages", pages)
	}
}

// checkSeen wants no character that nobody sees, nor one that has others shown
// in another order, but for the isolates that the catalog puts around a value.
func checkSeen(t testing.TB, name, text string) {
	t.Helper()
	if !catalog.Balanced(text) {
		t.Errorf("%s holds an isolate without its end, or an end too many", name)
	}
	for i, r := range text {
		if r < ' ' && !strings.ContainsRune("\n\t\r", r) || r >= 0x7f && r < 0xa0 || r >= 0x202a && r <= 0x202e || r == 0x2066 || r == 0x2067 {
			t.Errorf("%s holds %U at byte %d", name, r, i)
			return
		}
	}
}

func checkXML(t testing.TB, name, text string) {
	t.Helper()
	known := " feed id title updated author name link entry summary urlset url loc lastmod sitemapindex sitemap "
	dec := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		switch token := token.(type) {
		case xml.StartElement:
			if !strings.Contains(known, " "+token.Name.Local+" ") {
				t.Errorf("%s has an element %s", name, token.Name.Local)
			}
			for _, a := range token.Attr {
				if a.Name.Local == "href" {
					checkAddress(t, name, "href", a.Value)
				}
			}
		case xml.ProcInst:
			if token.Target != "xml" {
				t.Errorf("%s has the instruction %s", name, token.Target)
			}
		case xml.Directive:
			t.Errorf("%s has the directive %s", name, token)
		}
	}
}

// checkPage parses a page as a browser does.
func checkPage(t testing.TB, name, text string) {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	may, policy := allowed(), false
	for n := range doc.Descendants() {
		if n.Type == html.CommentNode {
			t.Errorf("%s has the comment %q", name, n.Data)
		}
		if n.Type != html.ElementNode {
			continue
		}
		if !may.elements[n.Data] {
			t.Errorf("%s has an element %s", name, n.Data)
		}
		checkScript(t, name, n)
		for _, a := range n.Attr {
			if !may.elements[n.Data+"."+a.Key] || a.Key == "style" || strings.HasPrefix(a.Key, "on") {
				t.Errorf("%s has an attribute %s.%s=%q", name, n.Data, a.Key, a.Val)
			}
			if addressed[a.Key] {
				checkAddress(t, name, a.Key, a.Val)
			}
		}
		if n.Data == "meta" && strings.EqualFold(attr(n, "http-equiv"), "Content-Security-Policy") {
			policy = true
			checkPolicy(t, name, attr(n, "content"))
		} else if n.Data == "meta" && attr(n, "http-equiv") != "" {
			t.Errorf("%s has a meta %s", name, attr(n, "http-equiv"))
		}
	}
	if !policy {
		t.Errorf("%s has no content policy", name)
	}
}

func checkPolicy(t testing.TB, name, policy string) {
	t.Helper()
	if !strings.HasPrefix(policy, "default-src 'none'; ") || strings.Contains(policy, "http") || strings.Contains(policy, "*") || strings.Contains(policy, "unsafe-eval") || strings.Contains(policy, "script-src 'unsafe") {
		t.Errorf("%s has the policy %s", name, policy)
	}
}

// checkScript lets through data, and what the benign site has to the byte.
func checkScript(t testing.TB, name string, n *html.Node) {
	t.Helper()
	switch {
	case n.Data == "script" && attr(n, "type") == "application/ld+json":
		if !json.Valid([]byte(textOf(n))) {
			t.Errorf("%s has data that is no JSON: %.200s", name, textOf(n))
		}
	case n.Data == "script" && attr(n, "type") == "application/json":
		if !json.Valid([]byte(textOf(n))) {
			t.Errorf("%s has data that is no JSON: %.200s", name, textOf(n))
		}
	case n.Data == "script" && attr(n, "src") != "" || (n.Data == "script" || n.Data == "style") && !allowed().scripts[textOf(n)]:
		t.Errorf("%s has a %s: %.200q", name, n.Data, textOf(n))
	}
}

// addressed are the attributes that hold addresses.
var addressed = map[string]bool{"href": true, "src": true, "srcset": true, "action": true, "formaction": true, "poster": true, "data": true, "cite": true, "xlink:href": true, "background": true, "ping": true, "manifest": true}

// checkAddress reads an address as a browser does: spaces and control
// characters before the scheme do not count.
func checkAddress(t testing.TB, name, key, value string) {
	t.Helper()
	bare := strings.ToLower(strings.Map(func(r rune) rune {
		if r <= ' ' {
			return -1
		}
		return r
	}, value))
	scheme, _, has := strings.Cut(bare, ":")
	if !has || strings.ContainsAny(scheme, "/?#") {
		if strings.HasPrefix(bare, "//") || strings.HasPrefix(bare, `\`) || strings.HasPrefix(bare, `/\`) {
			t.Errorf("%s: %s leads elsewhere without saying so: %s", name, key, value)
		}
		return
	}
	if key == "href" && (scheme == "http" || scheme == "https" || scheme == "mailto" || scheme == "tel") {
		return
	}
	t.Errorf("%s: %s=%q", name, key, value)
}

// skeleton is the elements and attributes of a page in their order, without the
// links to words of the trade, which hang on the text.
func skeleton(text string) []string {
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		return []string{err.Error()}
	}
	var all []string
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode || n.Data == "a" && attr(n, "class") == "word" || n.Data == "tspan" {
			continue // as many as a text has words of the trade, or a label lines
		}
		s := n.Data
		for _, a := range n.Attr {
			s += "." + a.Key
		}
		all = append(all, s)
	}
	return all
}

// reasonOf is a text as a reason or a proof, which have to say something: a word
// as itself three times over, and anything else with plain words after it.
func reasonOf(text string) string {
	if three := text + " " + text + " " + text; !strings.Contains(text, " ") && logbook.Telling(three) {
		return quotedYAML(three)
	}
	return quotedYAML(text + " and three plain words")
}

// sameSkeleton wants pages that differ from those of plain words in nothing
// but words.
func sameSkeleton(t *testing.T, site, benign map[string]string) {
	t.Helper()
	for name, text := range site {
		if path.Ext(name) != ".html" || strings.HasPrefix(name, "kinds/") {
			continue // a kind's page is named by the payload
		}
		got, want := skeleton(text), skeleton(benign[name])
		for i := range max(len(got), len(want)) {
			if i >= len(got) || i >= len(want) || got[i] != want[i] {
				t.Errorf("%s: element %d is %q, with plain words it is %q", name, i, at(got, i), at(want, i))
				break
			}
		}
	}
}

func at(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return "nothing"
}

// checkCSV wants no cell that a spreadsheet takes for a formula (OWASP, CSV
// Injection).
func checkCSV(t *testing.T, r *generator.Reading) {
	t.Helper()
	for _, by := range tally.Rows {
		checkRows(t, r, by)
	}
}

func checkRows(t *testing.T, r *generator.Reading, by string) {
	t.Helper()
	var b bytes.Buffer
	if err := r.Count.WriteCSV(&b, by); err != nil {
		t.Error(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if strings.HasPrefix(cell, "-") && strings.Trim(cell, "-0123456789.") == "" {
				continue // a loss
			}
			if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
				t.Errorf("a cell starts a formula: %q", cell)
			}
		}
	}
	var text bytes.Buffer
	if err := r.Count.WriteText(&text, catalog.English); err != nil {
		t.Error(err)
	}
	checkSeen(t, "the tally", text.String())
}

// checkPDF wants no action in a PDF.
func checkPDF(t *testing.T, pdf []byte) {
	t.Helper()
	bare := withoutStreams(t, pdf)
	for _, action := range []string{"/JavaScript", "/JS", "/Launch", "/OpenAction", "/AA", "/GoToR", "/SubmitForm", "/RichMedia", "/XFA", "evil.example"} {
		if strings.Contains(bare, action) {
			t.Errorf("the PDF has %s", action)
		}
	}
}

// streamHead is the head of a stream of a PDF (ISO 32000-1, 7.3.8).
var streamHead = regexp.MustCompile(`/Length (\d+)(?s:[^>]*|[^\n]*)>>\s*stream\r?\n`)

// withoutStreams is a PDF without what its streams hold, which is words and
// pictures and, in one, the facts: what is left is what a reader acts upon.
func withoutStreams(t *testing.T, pdf []byte) string {
	t.Helper()
	var b strings.Builder
	streams := 0
	for {
		at := streamHead.FindSubmatchIndex(pdf)
		if at == nil {
			break
		}
		streams++
		length := whole(t, string(pdf[at[2]:at[3]]))
		b.Write(pdf[:at[1]])
		pdf = pdf[at[1]+length:]
		if !bytes.HasPrefix(bytes.TrimLeft(pdf, "\r\n"), []byte("endstream")) {
			t.Errorf("a stream of the PDF does not end where it says: %.40q", pdf)
			break
		}
	}
	b.Write(pdf)
	if streams < 3 {
		t.Errorf("%d streams", streams)
	}
	return b.String()
}

func handedOver(r *generator.Reading) *page.Site {
	return &page.Site{Shop: r.Shop, Count: r.Count, Reports: r.Reports, Words: catalog.English}
}

// checkReportPage is checkPage for the buyer's report, which has its style and
// its photos inside and its facts as data.
func checkReportPage(t *testing.T, text string) {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Error(err)
		return
	}
	const elements = " html head body meta title style header p h1 dl dt dd strong br a main section h2 h3 ul ol li div table caption thead tbody tr th td figure img figcaption span footer code script "
	const attributes = " lang charset name content http-equiv href id class aria-label aria-labelledby scope data-label src width height alt type "
	styles := 0
	for n := range doc.Descendants() {
		if n.Type == html.CommentNode {
			t.Errorf("the report has the comment %q", n.Data)
		}
		if n.Type != html.ElementNode {
			continue
		}
		if !strings.Contains(elements, " "+n.Data+" ") {
			t.Errorf("the report has an element %s", n.Data)
		}
		for _, a := range n.Attr {
			if !strings.Contains(attributes, " "+a.Key+" ") {
				t.Errorf("the report has an attribute %s.%s", n.Data, a.Key)
			}
			if a.Key == "src" && !strings.HasPrefix(a.Val, "data:image/jpeg;base64,") {
				t.Errorf("the report has src=%q", a.Val)
			}
			if a.Key == "href" {
				checkAddress(t, "the report", a.Key, a.Val)
			}
		}
		switch n.Data {
		case "style":
			styles++
		case "script":
			if attr(n, "type") != "application/json" || !json.Valid([]byte(textOf(n))) {
				t.Errorf("the report has a script: %.200s", textOf(n))
			}
		}
	}
	if styles != 1 {
		t.Errorf("the report has %d styles", styles)
	}
	checkSeen(t, "the report", text)
}
