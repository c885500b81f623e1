package generator_test

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"image"
	"image/color"
	"image/jpeg"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/spf13/afero"
	"golang.org/x/net/html"

	"asleft/generator"
	"asleft/generator/condition"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
	"asleft/themes"
)

// example is the shop that comes with the program.
const example = "../content-example"

// made is the site of a shop folder on disk, made in memory.
func made(t *testing.T, dir string, o generator.Options) map[string]string {
	t.Helper()
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	return madeFrom(t, folder, afero.NewMemMapFs(), o)
}

// madeFrom makes the site of a shop folder in a folder that may hold one from
// before.
func madeFrom(t *testing.T, folder, parent afero.Fs, o generator.Options) map[string]string {
	t.Helper()
	_, r, err := generator.Writeup(folder, parent, "site", o)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range r.Problems {
		t.Errorf("%s (%s)", p, p.Mend)
	}
	if len(r.Problems) > 0 {
		t.FailNow()
	}
	files, err := filesIn(parent)
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// builtIn are the themes that come with the program.
func builtIn(t *testing.T) []string {
	t.Helper()
	names := themes.Names()
	if len(names) < 2 {
		t.Fatalf("the themes are %q", names)
	}
	return names
}

// exampleSite is the example's site as a shop gets it that names no theme.
func exampleSite(t *testing.T) map[string]string {
	t.Helper()
	return exampleIn(t, "jobcard")
}

// exampleIn is the example's site in a built-in theme, made once for all tests
// that look at it. The photos are made once for all the themes.
func exampleIn(t *testing.T, theme string) map[string]string {
	t.Helper()
	exampleMu.Lock()
	defer exampleMu.Unlock()
	if exampleSites[theme] == nil {
		folder, err := rooted.Open(example)
		if err != nil {
			t.Fatal(err)
		}
		defer folder.Close()
		exampleSites[theme] = madeFrom(t, folder, exampleParent, generator.Options{Theme: themes.Named(theme)})
	}
	if len(exampleSites[theme]) < 30 {
		t.Fatalf("the example's site has %d files", len(exampleSites[theme]))
	}
	return exampleSites[theme]
}

var (
	exampleMu     sync.Mutex
	exampleParent = afero.NewMemMapFs()
	exampleSites  = map[string]map[string]string{}
)

func TestSameLogsSameBytes(t *testing.T) {
	a := exampleSite(t)
	b := made(t, example, generator.Options{})
	if len(a) < 30 || len(a) != len(b) {
		t.Fatalf("%d and %d files", len(a), len(b))
	}
	for name := range a {
		if a[name] != b[name] {
			t.Errorf("%s differs between two runs", name)
		}
	}
}

// exampleHas is what the example has to hold so that a newcomer sees all of
// the program at work.
func TestExampleHoldsAllThatItShould(t *testing.T) {
	folder, err := rooted.Open(example)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	r, err := generator.Read(folder, generator.Options{})
	if err != nil {
		t.Fatal(err)
	}
	has := map[string]bool{}
	entries, photos := 0, 0
	for n, m := range r.Shop.Machines {
		has["stage "+m.Stage] = true
		for _, e := range m.Entries {
			entries++
			photos += len(e.Photos)
			has["meter replaced"] = has["meter replaced"] || e.MeterReplaced != nil
			has["trail"] = has["trail"] || len(e.Diagnosis) > 2
			for _, p := range e.Parts {
				has["part "+p.Source] = true
			}
		}
		for _, x := range r.Reports[n].Subjects {
			has[string(x.Kind)+" "+string(x.Standing)] = true
			has["guard bypassed"] = has["guard bypassed"] || x.Kind == condition.KindDefect && slices.Contains(x.Systems, "guards")
		}
	}
	for _, want := range []string{
		"stage in the shop", "stage for sale", "stage sold", "stage parted out", "meter replaced", "trail", "guard bypassed", "change changed",
		"part used", "part salvaged", "defect wrong", "defect worked around", "defect not proven", "defect in order",
		"point in order", "point wrong", "point not checked", "point out of date", "measurement in order",
	} {
		if !has[want] {
			t.Errorf("the example has no %s", want)
		}
	}
	if len(r.Shop.Machines) < 4 || entries < 14 || photos < 12 {
		t.Errorf("the example has %d machines, %d entries and %d photos", len(r.Shop.Machines), entries, photos)
	}
}

// page is one page of the site, parsed.
type parsed struct {
	name  string
	ids   map[string]bool
	links []string // href, src and each address of a srcset
	h1    int
}

func parse(t *testing.T, name, text string) parsed {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	p := parsed{name: name, ids: map[string]bool{}}
	level := 0
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if len(n.Data) == 2 && n.Data[0] == 'h' && n.Data[1] >= '1' && n.Data[1] <= '6' {
			now := int(n.Data[1] - '0')
			if now > level+1 {
				t.Errorf("%s: h%d follows h%d", name, now, level)
			}
			level = now
			if now == 1 {
				p.h1++
			}
		}
		for _, a := range n.Attr {
			switch a.Key {
			case "id":
				if p.ids[a.Val] {
					t.Errorf("%s: the id %q stands twice", name, a.Val)
				}
				p.ids[a.Val] = true
			case "href", "src":
				p.links = append(p.links, a.Val)
			case "srcset":
				for _, part := range strings.Split(a.Val, ",") {
					p.links = append(p.links, strings.Fields(part)[0])
				}
			case "style", "onclick", "onerror", "onload":
				t.Errorf("%s: an element has the attribute %s", name, a.Key)
			}
		}
		if n.Data == "img" && (attr(n, "alt") == "" || attr(n, "width") == "" || attr(n, "height") == "") {
			t.Errorf("%s: an image without alt text or size: %v", name, n.Attr)
		}
	}
	return p
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func TestEveryLinkLeadsSomewhere(t *testing.T) {
	for _, theme := range builtIn(t) {
		t.Run(theme, func(t *testing.T) { everyLink(t, exampleIn(t, theme)) })
	}
}

func everyLink(t *testing.T, files map[string]string) {
	t.Helper()
	pages := map[string]parsed{}
	for name, text := range files {
		if strings.HasSuffix(name, ".html") {
			pages[name] = parse(t, name, text)
		}
	}
	links := 0
	for name, p := range pages {
		if p.h1 != 1 {
			t.Errorf("%s has %d h1", name, p.h1)
		}
		for _, link := range p.links {
			u, err := url.Parse(link)
			if err != nil {
				t.Errorf("%s: %q: %v", name, link, err)
				continue
			}
			if u.Scheme != "" || name == "404.html" {
				continue
			}
			links++
			to := name
			if u.Path != "" {
				to = path.Join(path.Dir(name), u.Path)
			}
			if _, ok := files[to]; !ok {
				t.Errorf("%s links to %s, which is not there", name, to)
			} else if u.Fragment != "" && !pages[to].ids[u.Fragment] {
				t.Errorf("%s links to %s#%s, which is not there", name, to, u.Fragment)
			}
		}
	}
	if links < 200 {
		t.Fatalf("only %d links were followed", links)
	}
}

// mark stands in everything that is private. None of it may be in the site.
const mark = "ZQXPRIVATE"

// markedPhoto is a JPEG that carries the mark wherever a phone or an editor
// puts things that are not pixels.
func markedPhoto(t *testing.T) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 640, 480))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	img.Set(1, 1, color.White)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	segment := func(marker byte, data string) []byte {
		head := []byte{0xff, marker, 0, 0}
		binary.BigEndian.PutUint16(head[2:], uint16(len(data)+2))
		return append(head, data...)
	}
	// A little-endian TIFF with one entry: ImageDescription, the mark.
	exif := "Exif\x00\x00II*\x00\x08\x00\x00\x00\x01\x00\x0e\x01\x02\x00" + string([]byte{byte(len(mark) + 1), 0, 0, 0}) + "\x1a\x00\x00\x00\x00\x00\x00\x00" + mark + "\x00"
	data := append([]byte{}, b.Bytes()[:2]...)
	data = append(data, segment(0xe1, exif)...)
	data = append(data, segment(0xe1, "http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta>"+mark+"</x:xmpmeta>")...)
	data = append(data, segment(0xed, "Photoshop 3.0\x008BIM\x04\x04"+mark)...)
	data = append(data, segment(0xfe, mark)...)
	data = append(data, b.Bytes()[2:]...)
	return append(data, mark...)
}

func markedShop(t *testing.T) afero.Fs {
	t.Helper()
	folder := memoryShop(t, map[string]string{
		"shop.md": "---\nshop: Marked shop\ncurrency: USD\nlabor_rate: 71.37\n---\nOpen words. ![seen](photos/seen.jpg)\n",
		"machines/m/machine.md": "---\nname: Marked machine\nkind: generator\narrived: 2026-03-01\nstage: sold\nserial: " + mark + "4711\nasking: 9182.73\nowner: Old " + mark + "\n" +
			"bought: {from: Old " + mark + ", paid: 8273.64}\nsold: {date: 2026-04-01, price: 7364.55, buyer: New " + mark + "}\nprivate: |\n  " + mark + "\n---\nOpening.\n",
		"machines/m/2026-03-02-a.md": "---\ndate: 2026-03-02\ntitle: An evening\nhours: 1\nprivate: " + mark + "\nphotos:\n  - {file: seen.jpg, alt: seen}\n" +
			"  - {file: hidden.jpg, alt: " + mark + ", caption: " + mark + ", private: yes}\ncosts:\n  - {for: " + mark + " fetching, amount: 6455.46}\n" +
			"defects:\n  - {key: d, defect: a defect, system: guards, photo: hidden.jpg}\n---\nBody ![x](hidden.jpg) and ![y](seen.jpg).\n",
	})
	for _, name := range []string{"photos/seen.jpg", "machines/m/photos/seen.jpg"} {
		if err := afero.WriteFile(folder, name, markedPhoto(t), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	hidden := append(markedPhoto(t), "another picture"...)
	if err := afero.WriteFile(folder, "machines/m/photos/hidden.jpg", hidden, 0o644); err != nil {
		t.Fatal(err)
	}
	return folder
}

func TestNothingPrivateIsInTheSite(t *testing.T) {
	files := madeFrom(t, markedShop(t), afero.NewMemMapFs(), generator.Options{})
	private := []string{mark, "8273.64", "8,273.64", "7364.55", "7,364.55", "6455.46", "6,455.46", "9182.73", "9,182.73", "71.37"}
	for _, p := range private[:1] {
		private = append(private, hex.EncodeToString([]byte(p)), base64.StdEncoding.EncodeToString([]byte(p))[:8], url.QueryEscape(p))
	}
	photos := 0
	for name, text := range files {
		if strings.HasPrefix(name, "photos/") {
			photos++
		}
		for _, p := range private {
			if strings.Contains(strings.ToLower(text), strings.ToLower(p)) || strings.Contains(strings.ToLower(name), strings.ToLower(p)) {
				t.Errorf("%s holds the private %q", name, p)
			}
		}
	}
	if photos != 2 { // one photo, 400 and 640 wide; the private one has none
		t.Errorf("%d photo files, want 2", photos)
	}
	if !strings.Contains(files["machines/m/index.html"], "Body") {
		t.Error("the story lost its body")
	}
}

// Photos of the example carry what phones write; exiftool is the judge that
// nothing of it is left.
func TestPhotosCarryNoMetadata(t *testing.T) {
	exiftool := testenv.Program(t, "exiftool")
	files := exampleSite(t)
	dir := t.TempDir()
	for name, data := range files {
		if strings.HasPrefix(name, "photos/") {
			if err := os.WriteFile(filepath.Join(dir, path.Base(name)), []byte(data), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	out := toolOutput(t, exiftool, "-a", "-u", "-G1", "-EXIF:all", "-XMP:all", "-IPTC:all", "-GPS:all", "-ICC_Profile:all", "-Comment", "-MakerNotes:all", "-Photoshop:all", dir)
	for line := range strings.Lines(out) {
		if strings.HasPrefix(line, "[") {
			t.Errorf("metadata is left: %s", line)
		}
	}
	if !strings.Contains(out, "image files read") {
		t.Fatalf("exiftool read nothing:\n%s", out)
	}
}
