package generator_test

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"crypto/x509"
	"encoding/hex"
	"encoding/json"
	"encoding/pem"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/handover"
	"asleft/generator/handover/jcs"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/rooted"
	"asleft/themes"
)

// inMemory is a shop folder of the disk in memory, where a test may write.
func inMemory(t *testing.T, dir string) afero.Fs {
	t.Helper()
	to, files := afero.NewMemMapFs(), 0
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		files++
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		return afero.WriteFile(to, filepath.ToSlash(rel), data, 0o644)
	})
	if err != nil || files < 4 {
		t.Fatalf("%d files of %s, %v", files, dir, err)
	}
	return to
}

// sealReport seals a machine's report in a shop folder and returns the buyer's
// files.
func sealReport(t *testing.T, folder, settings afero.Fs, key string, day logbook.Date) (html, pdf []byte, made *handover.Made) {
	t.Helper()
	r, err := generator.Read(folder, generator.Options{})
	if err != nil || len(r.Problems) > 0 {
		t.Fatal(err, r.Problems)
	}
	site := &page.Site{Shop: r.Shop, Count: r.Count, Reports: r.Reports, Words: catalog.English}
	for n, m := range r.Shop.Machines {
		if m.Key != key {
			continue
		}
		report, err := handover.Prepare(folder, site, n, day)
		if err != nil {
			t.Fatal(err)
		}
		buyer := afero.NewMemMapFs()
		if made, err = report.Seal(buyer, settings, sheet.Letter); err != nil {
			t.Fatal(err)
		}
		if html, err = afero.ReadFile(buyer, made.HTML); err != nil {
			t.Fatal(err)
		}
		if pdf, err = afero.ReadFile(buyer, made.PDF); err != nil {
			t.Fatal(err)
		}
		return html, pdf, made
	}
	t.Fatalf("no machine %s", key)
	return nil, nil, nil
}

// The example's own sealed report is as it was sealed, and its machine's page
// tells of it without telling who bought the machine.
func TestExampleHasASealedReport(t *testing.T) {
	folder, err := rooted.Open(example)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	chain, err := handover.ReadChain(folder, catalog.English, "")
	if err != nil || len(chain.Links) == 0 || len(chain.Breaks) > 0 { // who tries the program out may have sealed more
		t.Fatalf("%v, %+v", err, chain)
	}
	l := chain.Links[0]
	data, err := afero.ReadFile(folder, l.File)
	if err != nil {
		t.Fatal(err)
	}
	if v := chain.VouchFile(filepath.Base(l.File), data); v.Answer != handover.Unaltered || l.Machine() != "wick" {
		t.Errorf("the sealed file: %s", v.Answer)
	}
	data[len(data)/2] ^= 1
	if v := chain.VouchFile(filepath.Base(l.File), data); v.Answer == handover.Unaltered {
		t.Error("one bit of it makes no difference")
	}
	site := exampleSite(t)
	sold, list := site["machines/wick/condition/index.html"], site["verify/index.html"]
	if !strings.Contains(sold, "A report of this machine was sealed on November 8, 2025, with the code "+l.Seal.Code) {
		t.Error("the condition page does not tell of the sealed report")
	}
	for _, want := range []string{l.Seal.Code, l.Seal.Copies.HTML, l.Seal.Copies.Letter, l.Seal.Copies.A4, "sha256sum", "certutil", "shasum", `id="verify-form" hidden`} {
		if !strings.Contains(list, want) {
			t.Errorf("the page to check a report does not hold %q", want)
		}
	}
	for name, text := range site {
		if strings.Contains(text, "Gaspard Whinfell") {
			t.Errorf("%s tells who bought the machine", name)
		}
	}
}

// What the site publishes is enough to prove a buyer's HTML with nothing of the
// shop's folder: its facts and the entry of sealed.json make the bytes that are
// signed (Ed25519, RFC 8032, in canonical JSON, RFC 8785), and shop-key.pub
// checks the signature.
func TestSiteProvesABuyersReport(t *testing.T) {
	folder, settings := inMemory(t, "../testdata/golden/shop"), afero.NewMemMapFs()
	if err := folder.RemoveAll("handovers"); err != nil {
		t.Fatal(err)
	}
	private, err := handover.MakeKey(folder, settings)
	if err != nil {
		t.Fatal(err)
	}
	// A slip that must not reach the site: the private part in the public file.
	secret, err := afero.ReadFile(settings, private)
	if err != nil {
		t.Fatal(err)
	}
	public, err := afero.ReadFile(folder, handover.KeyFile)
	if err != nil {
		t.Fatal(err)
	}
	if err := afero.WriteFile(folder, handover.KeyFile, append(public, secret...), 0o644); err != nil {
		t.Fatal(err)
	}
	sealReport(t, folder, settings, "plover", "2026-03-21")
	html, _, _ := sealReport(t, folder, settings, "wren", "2026-03-22")
	site := madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})

	var list struct{ Reports []map[string]any }
	if err := json.Unmarshal([]byte(site["sealed.json"]), &list); err != nil || len(list.Reports) != 2 {
		t.Fatalf("%d reports in the list, %v", len(list.Reports), err)
	}
	entry := list.Reports[1]
	_, rest, ok := bytes.Cut(html, []byte(`id="asleft-facts">`))
	text, _, ok2 := bytes.Cut(rest, []byte("</script>"))
	if !ok || !ok2 {
		t.Fatal("the report holds no facts")
	}
	facts, err := jcs.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	signed := map[string]any{"facts": facts}
	for _, name := range []string{"format", "number", "previous", "key", "code", "facts_digest", "copies"} {
		signed[name] = entry[name]
	}
	message, err := jcs.Encode(signed)
	if err != nil {
		t.Fatal(err)
	}
	if sum := sha256.Sum256(message); hex.EncodeToString(sum[:]) != entry["digest"] {
		t.Errorf("the digest is %x, the list says %v", sum, entry["digest"])
	}
	if sum := sha256.Sum256(html); hex.EncodeToString(sum[:]) != entry["copies"].(map[string]any)["html"] {
		t.Error("the list has another digest of the HTML")
	}
	key := site["shop-key.pub"]
	block, more := pem.Decode([]byte(key))
	if block == nil || len(bytes.TrimSpace(more)) > 0 || strings.Contains(key, "PRIVATE") {
		t.Fatalf("the site's key is %q", key)
	}
	parsed, err := x509.ParsePKIXPublicKey(block.Bytes)
	if err != nil {
		t.Fatal(err)
	}
	signature, err := hex.DecodeString(entry["signature"].(string))
	if err != nil {
		t.Fatal(err)
	}
	if !ed25519.Verify(parsed.(ed25519.PublicKey), message, signature) {
		t.Error("the signature does not hold")
	}
	message[len(message)/2] ^= 1
	if ed25519.Verify(parsed.(ed25519.PublicKey), message, signature) {
		t.Error("the signature holds for an altered report")
	}
}

// A break in the chain is told on the site and where the gaps are told, and
// stops nothing. A shop that sealed nothing hears nothing of it.
func TestBrokenChainStopsNothing(t *testing.T) {
	folder := inMemory(t, "../testdata/golden/shop")
	sealed, err := afero.Glob(folder, "handovers/plover-*.json")
	if err != nil || len(sealed) != 1 {
		t.Fatal(sealed, err)
	}
	data, err := afero.ReadFile(folder, sealed[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := afero.WriteFile(folder, sealed[0], bytes.Replace(data, []byte("tine shaft seal leaks"), []byte("tine shaft seal holds"), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	r, err := generator.Read(folder, generator.Options{})
	if err != nil || len(r.Problems) > 0 {
		t.Fatal(err, r.Problems)
	}
	told := false
	for _, g := range r.Gaps {
		told = told || g.File == sealed[0] && strings.Contains(g.Says, "was changed after it was sealed") && g.Mend != ""
	}
	if !told {
		t.Errorf("the gaps do not tell of it: %v", r.Gaps)
	}
	site := madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})
	if !strings.Contains(site["verify/index.html"], "was changed after it was sealed") {
		t.Error("the page does not tell of it")
	}
	if strings.Contains(site["machines/plover/condition/index.html"], "was sealed on") {
		t.Error("a report that was changed is told of as sealed")
	}
	if err := folder.RemoveAll("handovers"); err != nil {
		t.Fatal(err)
	}
	for name, text := range madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{}) {
		if strings.HasPrefix(name, "verify/") || name == "sealed.json" || name == "shop-key.pub" || strings.Contains(text, "Check a sealed report") {
			t.Errorf("%s is about sealed reports, and there is none", name)
		}
	}
}

// only is a folder without some of its files.
type only struct {
	fs.FS
	without map[string]bool
}

func (o only) Open(name string) (fs.File, error) {
	if o.without[name] {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return o.FS.Open(name)
}

func (o only) ReadDir(name string) ([]fs.DirEntry, error) {
	all, err := fs.ReadDir(o.FS, name)
	var left []fs.DirEntry
	for _, e := range all {
		if !o.without[e.Name()] {
			left = append(left, e)
		}
	}
	return left, err
}

// A shop's own theme from before there were these pages still works.
func TestThemeWithoutTheNewPages(t *testing.T) {
	old := only{themes.Named("jobcard"), map[string]bool{"verify.html": true, "gone.html": true}}
	site := made(t, "../testdata/golden/shop", generator.Options{Theme: old})
	if site["verify/index.html"] != "" || site["machines/wren/listing/index.html"] != "" {
		t.Error("there are pages that the theme has no template for")
	}
	if site["sealed.json"] == "" || !strings.Contains(site["machines/plover/condition/index.html"], "was sealed on") {
		t.Error("the list or the sentence is gone too")
	}
	for name, text := range site {
		if strings.HasSuffix(name, ".html") && strings.Contains(text, "verify/") || name == "sitemap.xml" && strings.Contains(text, "verify/") {
			t.Errorf("%s leads to a page that is not there", name)
		}
	}
}

// When a machine is gone, its story and report stay; its price, its offer and
// its place in the sitemap do not, and its old listing says so.
func TestSoldMachineIsGone(t *testing.T) {
	folder := inMemory(t, "../testdata/golden/shop")
	before := madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})
	const file, listing = "machines/plover/machine.md", "machines/plover/listing/index.html"
	text, err := afero.ReadFile(folder, file)
	if err != nil {
		t.Fatal(err)
	}
	sold := bytes.Replace(text, []byte("stage: for sale"), []byte("stage: sold\nsold: {date: 2026-04-01, price: 417.00, buyer: Somebody Else}"), 1)
	if err := afero.WriteFile(folder, file, sold, 0o644); err != nil {
		t.Fatal(err)
	}
	after := madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})
	if !strings.Contains(before[listing], "425.00") || !strings.Contains(before["sitemap.xml"], "plover/listing/") || !strings.Contains(before["machines/plover/index.html"], "425.00") {
		t.Fatal("the machine was not for sale before")
	}
	for name, text := range after {
		for _, not := range []string{"425.00", "417.00", "Somebody Else"} {
			if strings.Contains(text, not) {
				t.Errorf("%s still says %q", name, not)
			}
		}
	}
	for _, name := range []string{"machines/plover/index.html", "machines/plover/condition/index.html", "machines/plover/record.json"} {
		if after[name] == "" {
			t.Errorf("%s is gone", name)
		}
		if strings.Contains(after[name], "/listing/") {
			t.Errorf("%s still leads to the listing", name)
		}
	}
	left := after[listing]
	for _, want := range []string{"Plover tiller is gone. It is not for sale.", "../../../machines/plover/index.html", `<link rel="canonical" href="https://golden.example/shop/machines/plover/">`} {
		if !strings.Contains(left, want) {
			t.Errorf("the old listing does not hold %q", want)
		}
	}
	for _, not := range []string{"<img", "ld+json", "InStock", "Asking"} {
		if strings.Contains(left, not) {
			t.Errorf("the old listing still holds %q", not)
		}
	}
	if strings.Contains(after["sitemap.xml"], "plover/listing/") || !strings.Contains(after["sitemap.xml"], "machines/plover/</loc>") {
		t.Error("the sitemap is not right")
	}
	if !strings.Contains(after["feed.xml"], "Plover tiller is gone.") {
		t.Error("the feed does not say that it is gone")
	}
}

var (
	reportMu   sync.Mutex
	reportHTML []byte
)

// buyersReport is the HTML report of the example's mower, with all that the
// buyer has to be told of; it is sealed once for all tests that look at it.
func buyersReport(t *testing.T) []byte {
	t.Helper()
	reportMu.Lock()
	defer reportMu.Unlock()
	if reportHTML == nil {
		reportHTML, _, _ = sealReport(t, inMemory(t, example), afero.NewMemMapFs(), "gannet", "2026-07-12")
	}
	return reportHTML
}
