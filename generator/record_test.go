package generator_test

import (
	"encoding/json"
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"asleft/generator/testenv"
)

// Every record follows the JSON Schema that the site publishes (JSON Schema
// draft 2020-12, as ajv checks it).
func TestRecordsFollowTheirSchema(t *testing.T) {
	node, ajv := testenv.Program(t, "node"), testenv.Module(t, "ajv/dist/2020.js")
	dir := t.TempDir()
	args := []string{"-e", `const Ajv = require(process.argv[1]).default, fs = require('fs');
const check = new Ajv({allErrors: true, strict: true, allowUnionTypes: true}).compile(JSON.parse(fs.readFileSync(process.argv[2])));
for (const f of process.argv.slice(3)) if (!check(JSON.parse(fs.readFileSync(f)))) console.log(f, JSON.stringify(check.errors));`, ajv}
	records := 0
	for name, data := range exampleSite(t) {
		if filepath.Base(name) != "record.json" && name != "record.schema.json" {
			continue
		}
		path := filepath.Join(dir, strings.ReplaceAll(name, "/", "-"))
		if err := os.WriteFile(path, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
		if name == "record.schema.json" {
			args = append(args[:3:3], append([]string{path}, args[3:]...)...)
			continue
		}
		records++
		args = append(args, path)
	}
	if records < 4 {
		t.Fatalf("only %d records", records)
	}
	if out := toolOutput(t, node, args...); out != "" {
		t.Errorf("records that do not follow the schema:\n%s", out)
	}
}

// What a record says of the example's tiller, read as a stranger would.
func TestRecordSaysWhatTheReportSays(t *testing.T) {
	var rec struct {
		Schema int
		Hours  struct {
			WorkMinutes int `json:"work_minutes"`
		}
		Subjects []struct {
			Kind, Name, Told string
			History          []struct{ Date, Entry, Said string }
			Evidence         []string
		}
	}
	site := exampleSite(t)
	if err := json.Unmarshal([]byte(site["machines/harrow/record.json"]), &rec); err != nil {
		t.Fatal(err)
	}
	if rec.Schema != 2 || rec.Hours.WorkMinutes != 1790 { // added up by hand from the seven entries
		t.Errorf("schema %d, %d minutes", rec.Schema, rec.Hours.WorkMinutes)
	}
	kinds := map[string]int{}
	for _, s := range rec.Subjects {
		kinds[s.Kind]++
		if len(s.Evidence) == 0 || s.Told == "" && s.Kind != "measurement" {
			t.Errorf("%s %q rests on %d files, and is told as %q", s.Kind, s.Name, len(s.Evidence), s.Told)
		}
		for _, h := range s.History {
			if h.Said == "" || site["machines/harrow/index.html"] == "" || !strings.HasPrefix(h.Entry, "machines/harrow/") && s.Kind != "list" {
				t.Errorf("the history of %q: %+v", s.Name, h)
			}
		}
	}
	for _, kind := range []string{"defect", "point", "measurement", "change", "list", "meter"} {
		if kinds[kind] == 0 {
			t.Errorf("no %s in the record: %v", kind, kinds)
		}
	}
}

// A feed as RFC 4287 wants it (The Atom Syndication Format, sections 4.1.1 and
// 4.1.2): exactly one id, title and updated in the feed and in each entry; an
// author, or one in every entry; a link to the words, or content; dates of
// RFC 3339; no id twice.
func TestFeedIsAtom(t *testing.T) {
	type entry struct {
		IDs     []string `xml:"http://www.w3.org/2005/Atom id"`
		Titles  []string `xml:"http://www.w3.org/2005/Atom title"`
		Updated []string `xml:"http://www.w3.org/2005/Atom updated"`
		Links   []struct {
			Rel  string `xml:"rel,attr"`
			Href string `xml:"href,attr"`
		} `xml:"http://www.w3.org/2005/Atom link"`
	}
	var feed struct {
		XMLName xml.Name `xml:"http://www.w3.org/2005/Atom feed"`
		entry
		Authors []struct {
			Names []string `xml:"http://www.w3.org/2005/Atom name"`
		} `xml:"http://www.w3.org/2005/Atom author"`
		Entries []entry `xml:"http://www.w3.org/2005/Atom entry"`
	}
	if err := xml.Unmarshal([]byte(exampleSite(t)["feed.xml"]), &feed); err != nil {
		t.Fatal(err)
	}
	if len(feed.Authors) == 0 || len(feed.Authors[0].Names) != 1 || len(feed.Entries) < 14 {
		t.Errorf("%d authors, %d entries", len(feed.Authors), len(feed.Entries))
	}
	ids, last := map[string]bool{}, time.Time{}
	for i, e := range append([]entry{feed.entry}, feed.Entries...) {
		if len(e.IDs) != 1 || len(e.Titles) != 1 || len(e.Updated) != 1 || e.Titles[0] == "" {
			t.Fatalf("element %d: %d ids, %d titles, %d dates", i, len(e.IDs), len(e.Titles), len(e.Updated))
		}
		if ids[e.IDs[0]] {
			t.Errorf("the id %s stands twice", e.IDs[0])
		}
		ids[e.IDs[0]] = true
		when, err := time.Parse(time.RFC3339, e.Updated[0])
		if err != nil || i > 1 && when.After(last) {
			t.Errorf("element %d is of %s, after %s (%v)", i, e.Updated[0], last, err)
		}
		last = when
		alternate := 0
		for _, l := range e.Links {
			if l.Rel == "alternate" && strings.HasPrefix(l.Href, "https://") {
				alternate++
			}
		}
		if alternate != 1 {
			t.Errorf("element %d has %d links to its words", i, alternate)
		}
	}
}

// A sitemap as the sitemap protocol 0.9 wants it: whole addresses, each page
// once, dates of W3C form, at most 50,000 addresses.
func TestSitemap(t *testing.T) {
	var set struct {
		XMLName xml.Name `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
		URLs    []struct {
			Loc     string `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 loc"`
			Lastmod string `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 lastmod"`
		} `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 url"`
	}
	site := exampleSite(t)
	if err := xml.Unmarshal([]byte(site["sitemap.xml"]), &set); err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, u := range set.URLs {
		page := strings.TrimPrefix(u.Loc, "https://fernhollow.example/")
		if page == u.Loc || listed[page] {
			t.Errorf("%s is listed twice or is no address of the shop", u.Loc)
		}
		listed[page] = true
		if _, ok := site[page+"index.html"]; !ok {
			t.Errorf("%s leads to no page", u.Loc)
		}
		if _, err := time.Parse(time.DateOnly, u.Lastmod); u.Lastmod != "" && err != nil {
			t.Errorf("%s: %v", u.Loc, err)
		}
	}
	for name, text := range site {
		if strings.Contains(text, `class="of-gone"`) {
			if listed[strings.TrimSuffix(name, "index.html")] {
				t.Errorf("%s is of a machine that is gone, and in the sitemap", name)
			}
			continue
		}
		if strings.HasSuffix(name, "index.html") && !listed[strings.TrimSuffix(name, "index.html")] {
			t.Errorf("%s is not in the sitemap", name)
		}
	}
	if !strings.Contains(site["robots.txt"], "Sitemap: https://fernhollow.example/sitemap.xml") {
		t.Error("robots.txt does not name the sitemap")
	}
}

// The feed under a grammar written from RFC 4287's rules, as Debian's RELAX NG
// validator reads it; a feed with a rule broken does not pass.
func TestFeedFollowsItsGrammar(t *testing.T) {
	jing := testenv.Program(t, "jing")
	feed := exampleSite(t)["feed.xml"]
	check := func(text string) string {
		path := filepath.Join(t.TempDir(), "feed.xml")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		// Debian's wrapper grumbles about what it has not; only errors count.
		var wrong []string
		for line := range strings.Lines(toolOutput(t, jing, "-c", "../testdata/grammar/atom.rnc", path)) {
			if !strings.HasPrefix(line, "[warning]") {
				wrong = append(wrong, line)
			}
		}
		return strings.Join(wrong, "")
	}
	if out := check(feed); out != "" {
		t.Errorf("the feed does not follow its grammar:\n%s", out)
	}
	for rule, broken := range map[string]string{
		"one id":       strings.Replace(feed, "<id>", "<id>urn:x</id><id>", 1),
		"an author":    strings.Replace(strings.Replace(feed, "<author>", "<!--", 1), "</author>", "-->", 1),
		"a whole time": strings.Replace(feed, "<updated>2", "<updated>on 2", 1),
		"an address":   strings.Replace(feed, ` href="`, ` url="`, 1),
	} {
		if check(broken) == "" {
			t.Errorf("a feed passes without %s", rule)
		}
	}
}
