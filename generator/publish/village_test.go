package publish_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/testenv"
)

// village is a site as the program makes them, in one of two versions: machines come
// and go, pages change, and each page refers to others and to photos and a style that
// the other version has not.
func village(version string, machines int) map[string]string {
	site := map[string]string{
		"robots.txt":                       "Sitemap: https://shop.example/sitemap.xml\n",
		"assets/style-" + version + ".css": `body { background: url("paper-` + version + `.png") }`,
		"assets/paper-" + version + ".png": "paper " + version,
		"assets/both.css":                  "p {}",
	}
	front, sitemap := villagePage(version, ""), ""
	for n := range machines {
		key, told := fmt.Sprint("m", n), version
		switch n % 4 {
		case 1:
			key += version // it comes, and another goes
		case 2:
			told = "both" // it does not change
		}
		photo := "photos/" + key + told + "-400.jpg"
		site[photo] = "a photo " + told + strings.Repeat(".", 100*n)
		at := "machines/" + key + "/"
		site[at+"index.html"] = villagePage(told, "../../") + fmt.Sprintf(`<img src="../../%s"><a href=condition/>report</a>`, photo)
		site[at+"condition/index.html"] = villagePage(told, "../../../") + `<a href="../#top">story</a>`
		front += fmt.Sprintf(`<a href="%s">%s</a>`, at, key)
		sitemap += fmt.Sprintf("<url><loc>https://shop.example/%scondition/</loc></url>", at)
	}
	site["index.html"], site["sitemap.xml"] = front, "<urlset>"+sitemap+"</urlset>"
	return site
}

func villagePage(version, up string) string {
	style := "style-" + version
	if version == "both" {
		style = "both"
	}
	return fmt.Sprintf(`<link rel=stylesheet href="%sassets/%s.css"><a href="%sindex.html">front</a> %s`, up, style, up, version)
}

var ourShop = publish.Owner{Shop: "Fernhollow Power Equipment", Web: "https://shop.example/"}

// siteOf is what Bring takes, of files in memory.
func siteOf(files map[string]string) publish.Site {
	s := publish.Site{Owner: ourShop, Read: func(p string) ([]byte, error) { return []byte(files[p]), nil }}
	for _, p := range slices.Sorted(maps.Keys(files)) {
		print := publish.PrintOf([]byte(files[p]))
		s.Files = append(s.Files, output.File{Path: p, Size: print.Size, Sum: print.Sum})
	}
	return s
}

// quick are options for tests: what takes seconds in life takes milliseconds.
func quick() publish.Options {
	return publish.Options{Who: "tester", Pace: publish.Pace{Beat: 2 * time.Millisecond, Stale: 30 * time.Millisecond, Look: time.Millisecond, Flush: time.Millisecond}, Wait: 5 * time.Second}
}

func bring(t *testing.T, far publish.FarEnd, files map[string]string, o publish.Options) publish.Result {
	t.Helper()
	result, err := publish.Bring(context.Background(), far, siteOf(files), o)
	if err != nil {
		t.Fatalf("%v; below that: %s", err, errorsBelow(err))
	}
	return result
}

// contents are the files of a file system, without those in publish.Folder.
func contents(t *testing.T, fsys afero.Fs) map[string]string {
	t.Helper()
	far := farend.Folder(fsys, nil)
	all, err := far.List(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for p := range all {
		data, err := afero.ReadFile(fsys, p)
		if err != nil {
			t.Fatal(err)
		}
		files[p] = string(data)
	}
	return files
}

// whole is the promise: whoever begins at the front page finds each page whole, old or
// new, and everything that it refers to.
func whole(t *testing.T, fsys afero.Fs, versions ...map[string]string) {
	t.Helper()
	if there, _ := afero.Exists(fsys, "index.html"); !there {
		return // nobody can come in yet
	}
	found, broken := testenv.Crawl(func(name string) ([]byte, error) { return afero.ReadFile(fsys, name) }, "https://shop.example/")
	if len(broken) > 0 {
		t.Fatalf("a visitor does not find: %q", broken)
	}
	for name, text := range found {
		if !slices.ContainsFunc(versions, func(v map[string]string) bool { return v[name] == text }) {
			t.Fatalf("%s is neither old nor new: %q", name, text)
		}
	}
}

// sameAs compares what stands there with a site, and with what was there before.
func sameAs(t *testing.T, fsys afero.Fs, want ...map[string]string) {
	t.Helper()
	all := map[string]string{}
	for _, files := range want {
		maps.Copy(all, files)
	}
	if diff := cmp.Diff(all, contents(t, fsys)); diff != "" {
		t.Fatalf("the far end (-want, +got):\n%s", diff)
	}
}
