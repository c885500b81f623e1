package output_test

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/testenv"
)

// linked is a site as the program makes them, in one of two versions: machines come
// and go, two of four pages change, and each page refers to others and to photos and
// a style that the other version has not.
func linked(version string, machines int) site {
	s := site{
		"robots.txt":                       "Sitemap: https://shop.example/sitemap.xml\n",
		"404.html":                         "<a href=/>back</a>",
		"assets/style-" + version + ".css": `body { background: url("paper-` + version + `.png") }`,
		"assets/paper-" + version + ".png": "paper " + version,
		"assets/both.css":                  "p {}",
	}
	front, feed, sitemap := page(version, ""), "", ""
	for n := range machines {
		key := fmt.Sprint("m", n)
		told := version // whether the page of this machine changes
		switch {
		case n%4 == 1:
			key += version // it comes, and another goes
		case n%4 == 2:
			told = "both"
		}
		photo := "photos/" + key + told
		s[photo+"-400.jpg"], s[photo+"-800.jpg"] = "keep:small "+told, "keep:large "+told
		at := "machines/" + key + "/"
		s[at+"index.html"] = page(told, "../../") + fmt.Sprintf(`<img src="../../%s-400.jpg" srcset="../../%s-400.jpg 400w, ../../%s-800.jpg 800w"><a href=condition/>report</a>`, photo, photo, photo)
		s[at+"condition/index.html"] = page(told, "../../../") + `<a href="../#top">story</a>`
		front += fmt.Sprintf(`<a href="%s">%s</a>`, at, key)
		feed += fmt.Sprintf(`<entry><link href="https://shop.example/%s"/></entry>`, at)
		sitemap += fmt.Sprintf("<url><loc>https://shop.example/%scondition/</loc></url>", at)
	}
	s["index.html"] = front + `<a href="https://elsewhere.example/">elsewhere</a>`
	s["feed.xml"], s["sitemap.xml"] = "<feed>"+feed+"</feed>", "<urlset>"+sitemap+"</urlset>"
	return s
}

func page(version, up string) string {
	style := "style-" + version
	if version == "both" {
		style = "both"
	}
	return fmt.Sprintf(`<link rel=stylesheet href="%sassets/%s.css"><link rel=alternate href="%sfeed.xml"><a href="%sindex.html">front</a> %s`, up, style, up, up, version)
}

// Both versions as they are on the disk when a run has finished.
type versions struct{ old, new map[string]string }

func versionsOf(t *testing.T, machines int) versions {
	t.Helper()
	written := func(version string) map[string]string {
		fsys := afero.NewMemMapFs()
		mustSet(t, fsys, linked(version, machines))
		return contents(t, fsys, "site")
	}
	return versions{written("old"), written("new")}
}

// check is the promise: whoever begins at the front page finds each page whole, old
// or new, and everything that it refers to. It returns how many were new.
func (v versions) check(t *testing.T, fsys afero.Fs) (fresh int) {
	t.Helper()
	found, broken := testenv.Crawl(func(name string) ([]byte, error) { return afero.ReadFile(fsys, "site/"+name) }, "https://shop.example/")
	if len(broken) > 0 {
		t.Fatalf("a visitor does not find: %q", broken)
	}
	if len(found) < 20 {
		t.Fatalf("the crawler found only %d files", len(found))
	}
	for name, data := range found {
		if data != v.old[name] && data != v.new[name] {
			t.Fatalf("%s is neither the old nor the new one: %q", name, data)
		}
		if data == v.new[name] && data != v.old[name] {
			fresh++
		}
	}
	for p, c := range foreign {
		if strings.HasSuffix(p, "/") {
			continue
		}
		if got, err := afero.ReadFile(fsys, "site/"+p); string(got) != c || err != nil {
			t.Fatalf("the user's %s holds %q (%v)", p, got, err)
		}
	}
	return fresh
}

// finish wants the next run to make all of the new version, whatever was before.
func (v versions) finish(t *testing.T, fsys afero.Fs, machines int) {
	t.Helper()
	mustSet(t, fsys, linked("new", machines))
	checkSite(t, fsys, v.new, foreign)
}

// begun makes the old version with foreign files in it.
func begun(t *testing.T, d disk, machines int) (afero.Fs, func(*testenv.Plan) afero.Fs) {
	t.Helper()
	fsys, wrap := d.make(t)
	mustSet(t, fsys, linked("old", machines))
	addForeign(t, fsys)
	return fsys, wrap
}

// kills is how many runs a test ends: few, a third of them with -short (a process takes
// seconds to start under Wine), or as many as ASLEFT_KILLS says.
func kills(few int) int {
	if n, err := strconv.Atoi(os.Getenv("ASLEFT_KILLS")); err == nil {
		return n
	}
	if testing.Short() {
		return few / 3
	}
	return few
}

// TestTheCrawlerSeesWhatIsMissing takes away and breaks each file in turn, so that
// the other tests prove something.
func TestTheCrawlerSeesWhatIsMissing(t *testing.T) {
	files := linked("old", 4)
	all, broken := testenv.Crawl(func(name string) ([]byte, error) { return []byte(files[name]), nil }, "https://shop.example/")
	delete(all, "404.html")
	want := map[string]string(files)
	if len(broken) > 0 || len(all) != len(want)-1 {
		t.Fatalf("found %d of %d files; broken %q: %s", len(all), len(want), broken, cmp.Diff(want, all))
	}
	for gone := range all {
		_, broken := testenv.Crawl(func(name string) ([]byte, error) {
			if name == gone {
				return nil, os.ErrNotExist
			}
			return []byte(files[name]), nil
		}, "https://shop.example/")
		if len(broken) == 0 && gone != "robots.txt" {
			t.Errorf("nobody missed %s", gone)
		}
	}
}
