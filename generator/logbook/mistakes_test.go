package logbook

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/testenv"
)

const mistakes = "../../testdata/mistakes"

// The shop in testdata/mistakes has a mistake of nearly every kind. Every line
// number in the golden file was compared with the file by eye.
func TestMistakes(t *testing.T) {
	_, problems := readAll(t, afero.NewBasePathFs(afero.NewOsFs(), filepath.Join(mistakes, "shop")), nil)
	if len(problems) < 30 {
		t.Fatalf("only %d problems", len(problems))
	}
	var b strings.Builder
	for _, p := range problems {
		fmt.Fprintf(&b, "%s\n    %s\n", p, p.Mend)
	}
	testenv.Golden(t, filepath.Join(mistakes, "problems.golden"), b.String())
}

// rest are the mistakes that cannot stand in that shop: those that would hide
// others, those too big to keep, and those that no file system carries around.
var rest = map[string]string{
	"problem.currency":                 "-- shop.md --\n---\nshop: S\ncurrency: usd\n---\n",
	"problem.money-no-decimals":        "-- shop.md --\n---\nshop: S\ncurrency: JPY\nlabor_rate: 4800.50\n---\n",
	"problem.file-too-big":             shopFile + machineFile + "-- machines/m/e.md --\n---\n" + strings.Repeat("word ", maxFile/5) + "\n",
	"problem.front-matter-too-big":     shopFile + machineFile + "-- machines/m/e.md --\n---\n" + strings.Repeat("# word\n", maxFront/5) + "---\n",
	"problem.body-too-big":             shopFile + machineFile + entryFile("e", "by: A", strings.Repeat("word\n", maxBody/5+1)),
	"problem.sale-without-sold":        shopFile + "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nsold: {date: 2026-02-01}\n---\n",
	"problem.photo-missing":            shopFile + machineFile + entryFile("e", "photos: [{file: a.jpg}]", ""),
	"problem.defect-unknown-near":      shopFile + machineFile + entryFile("e", "defects: [{key: clutch, defect: d, system: drive}]\nrepaired: [{key: cluthc, how: h}]", ""),
	"problem.item-near":                shopFile + machineFile + entryFile("e", "checks: [{item: left lamp, result: works, system: electrical}, {item: left lmap, result: works}]", ""),
	"problem.not-one-of":               shopFile + machineFile + entryFile("e", "parts: [{part: p, source: stolen}]", ""),
	"problem.unclosed-front-matter":    "-- shop.md --\n---\nshop: S\n",
	"problem.too-deep":                 shopFile + machineFile + entryFile("e", "checks: "+strings.Repeat("[", 2000)+strings.Repeat("]", 2000), ""),
	"problem.defect-twice":             shopFile + machineFile + entryFile("e", "defects: [{key: a, defect: d, system: drive}, {key: a, defect: d, system: drive}]", ""),
	"problem.number":                   shopFile + machineFile + entryFile("e", "parts: [{part: p, source: new, tax: six %}]", ""),
	"problem.price-known":              shopFile + machineFile + entryFile("e", "parts: [{part: p, source: new, price unknown: yes, each: 3.00}]", ""),
	"problem.tax-bare":                 shopFile + machineFile + entryFile("e", "parts: [{part: p, source: new, tax: 3.19}]", ""),
	"problem.plate-nothing":            shopFile + machineOf("motor: {volts: 0}"),
	"problem.several-no-name":          shopFile + machineOf("engines: [{name: port, strokes: 2}, {strokes: 2}]"),
	"problem.several-same-name":        shopFile + machineOf("engines: [{name: port, strokes: 2}, {name: Port, strokes: 2}]"),
	"problem.customers-price":          shopFile + machineOf("stage: customer's\nasking: 40"),
	"problem.repair-without-how":       shopFile + machineFile + entryFile("e", "defects: [{key: a, defect: d, system: drive}]\nrepaired: [{key: a, proof: ran an hour dry}]", ""),
	"problem.no-such-donor":            shopFile + machineFile + entryFile("e", "parts: [{part: p, source: salvaged, from: elsewhere}]", ""),
	"problem.photo-not-listed":         shopFile + machineFile + entryFile("e", "defects: [{key: a, defect: d, system: drive, photo: a.jpg}]", ""),
	"problem.date-near":                shopFile + machineFile + "-- machines/m/e.md --\n---\ndate: March 2, 2026\ntitle: T\n---\n",
	"problem.date-season":              shopFile + machineFile + "-- machines/m/e.md --\n---\ndate: spring 2026\ntitle: T\n---\n",
	"problem.before-arrival":           shopFile + machineFile + "-- machines/m/e.md --\n---\ndate: 2025-12-31\ntitle: T\n---\n",
	"problem.hidden-character":         strings.Replace(shopFile, "currency:", "place: Fern\u200bhollow\ncurrency:", 1) + machineFile,
	"problem.control-character":        shopFile + machineFile + entryFile("e", "by: \"A\\0\"", ""),
	"problem.unknown-field":            strings.Replace(shopFile, "currency:", "weather: fair\ncurrency:", 1) + machineFile,
	"problem.unknown-field-or-private": shopFile + machineFile + entryFile("e", "weather: fair", ""),
	"problem.belongs-sold":             shopFile + machineFile + entryFile("e", "buyer: Bob 555-1234", ""),
	"problem.belongs-bought":           shopFile + machineFile + entryFile("e", "paid: 40", ""),
	"problem.belongs-asking":           shopFile + "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nprice: 40\n---\n",
	"problem.belongs-stage":            shopFile + "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nStatus: sold\n---\n",
	"problem.belongs-serial":           shopFile + "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nserial number: 12\n---\n",
	"problem.belongs-shop":             shopFile + machineOf("terms: as is"),
	"problem.belongs-private":          shopFile + machineFile + entryFile("e", "phone: 555-1234", ""),
	"problem.belongs-contact":          strings.Replace(shopFile, "currency:", "phone: 555-1234\ncurrency:", 1) + machineFile,
	"problem.belongs-text":             shopFile + machineFile + entryFile("e", "notes: it ran", ""),
	"problem.body-tangled":             shopFile + machineFile + entryFile("e", "by: A", strings.Repeat("[a](", maxBrackets+1)),
	"problem.sold-without-sale":        shopFile + "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nstage: sold\n---\n",
	"problem.no-machine-md":            shopFile + "-- machines/m/e.md --\n---\ndate: 2026-02-01\ntitle: T\n---\n",
	"problem.not-a-folder":             shopFile + "-- sheets --\nx\n",
	"problem.machine-key":              shopFile + "-- machines/con/machine.md --\n---\nname: M\narrived: 2026-01-01\n---\n",
	"problem.yaml-end":                 shopFile + machineFile + entryFile("e", "--- by: A", ""),
	"problem.number-size":              shopFile + machineFile + entryFile("e", "parts: [{part: p, source: new, qty: 1000001}]", ""),
	"problem.name-unseen":              shopFile + machineFile + entryFile("e", "defects: [{key: k, defect: ..., system: engine}]", ""),
	"problem.limits-apart":             shopFile + "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nlimits: [{what: a, limit: 1 V to 2 V}, {what: A, where: left, limit: 3 V to 4 V}]\n---\n",
	"problem.limit-twice":              shopFile + "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nlimits: [{what: a, limit: 1 V to 2 V}, {what: A, limit: 1 V to 2 V}]\n---\n",
	"problem.no-such-sheet":            shopFile + "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nsheet: sled\n---\n",
	"problem.photo-missing-near":       shopFile + machineFile + entryFile("e", "photos: [{file: belt.jgp}]", "") + "-- machines/m/belt.jpg --\nx\n",
	"problem.unknown-field-near":       shopFile + machineFile + entryFile("e", "tilte: U", ""),
	"problem.not-one-of-near":          shopFile + machineFile + entryFile("e", "parts: [{part: p, source: newe}]", ""),
	"problem.no-such-donor-near":       shopFile + machineFile + entryFile("e", "parts: [{part: p, source: salvaged, from: hern}]", "") + strings.ReplaceAll(machineFile, "/m/", "/heron/"),
	"problem.dimension":                strings.Replace(shopFile, "currency:", "altitude: 12 psi\ncurrency:", 1) + machineFile,
	"problem.proof-without-proof":      shopFile + machineFile + entryFile("e", "defects: [{key: a, defect: d, system: drive}]\nrepaired: [{key: a, how: h}, {key: a}]", ""),
	"problem.yaml":                     shopFile + machineFile + entryFile("e", "by: [a, , b]", ""),
	"problem.comma":                    shopFile + machineFile + entryFile("e", "costs: [{for: fuel, and oil, amount: 4.00}]", ""),
	"problem.file-name":                shopFile + machineFile + entryFile("aux.first", "", ""),
	"problem.names-alike":              shopFile + machineFile + entryFile("First", "", "") + entryFile("first", "", ""),
	"problem.file-ending":              shopFile + machineFile + "-- machines/m/e.md.txt --\nx\n",
	"problem.photo-outside":            shopFile + machineFile + entryFile("e", "by: A", "![a](../b.jpg)\n"),
	"problem.photo-case":               shopFile + machineFile + entryFile("e", "photos: [{file: BELT.JPG}]", "") + "-- machines/m/photos/belt.jpg --\nx\n",
	"problem.too-many-systems":         strings.Replace(shopFile, "shop:", "systems: ["+strings.Repeat("pond, ", 101)+"]\nshop:", 1),
	"problem.says-nothing":             shopFile + machineFile + entryFile("e", findsSeal+"repaired: [{key: seal, how: h, proof: ok}]", ""),
	"problem.no-reason":                shopFile + machineFile + entryFile("e", "changed: [{what: w, why: ok}]", ""),
	"problem.system-twice":             strings.Replace(shopFile, "shop:", "systems: [Guard]\nshop:", 1),
	"problem.leave-out-none":           shopFile + machineOf("leave_out: [{item: the bell rings, why: it has no bell}]"),
	"problem.leave-out-none-near":      shopFile + machineOf("kind: chainsaw\nleave_out: [{item: rear hand guard is hole, why: it has no guard}]"),
	"problem.leave-out-safety":         shopFile + ownSheet + machineOf("sheet: sled\nleave_out: [{item: the rope holds, why: it has no rope}]"),
	"problem.leave-out-answered":       shopFile + "-- sheets/sled.md --\n---\nsheet: sled\nitems: [{item: i, system: frame, safety: no}]\n---\n" + machineOf("sheet: sled\nleave_out: [{item: i, why: it has no i}]") + entryFile("e", "checks: [{item: i, result: works}]", ""),
	"problem.applied-before":           shopFile + machineFile + entryFile("e", "checks: [{item: a, result: fails, system: drive}, {item: a, result: does not apply, note: it has no belt}]", ""),
	"problem.change-unknown":           shopFile + machineFile + entryFile("e", "put_back: [{key: jet, how: h}]", ""),
	"problem.change-unknown-near":      shopFile + machineFile + entryFile("e", "changed: [{key: jets, what: w}]\nput_back: [{key: jet, how: h}]", ""),
	"problem.point-unknown":            shopFile + machineFile + entryFile("e", "defects: [{key: a, defect: d, system: drive, point: zyx}]", ""),
	"problem.point-unknown-near":       shopFile + ownSheet + machineOf("sheet: sled") + entryFile("e", "defects: [{key: a, defect: d, system: drive, point: the rope hold}]", ""),
	"problem.wording-unknown":          shopFile + machineFile + entryFile("e", findsSeal+"repaired: [{key: seal, how: h, of: it slips}]", ""),
	"problem.wording-unknown-near":     shopFile + machineFile + entryFile("e", findsSeal+"repaired: [{key: seal, how: h, of: it leakt}]", ""),
	"problem.gone-unknown":             shopFile + machineFile + entryFile("e", findsSeal+"gone: [{key: seal, with: the gearbox}]", ""),
	"problem.gone-unknown-near":        shopFile + machineFile + entryFile("e", findsSeal+"parts: [{part: gearbox, source: used, system: drive}]\ngone: [{key: seal, with: gearbx}]", ""),
	"problem.limit-scale":              shopFile + "-- machines/m/machine.md --\n---\nname: M\nkind: k\narrived: 2026-01-01\nlimits: [{what: head temperature rise, limit: \"<= 40 degC\"}]\n---\n" + entryFile("e", "measured: [{what: head temperature rise, value: 100 degF}]", ""),
	"problem.gone-before":              shopFile + machineFile + dayFile(1, "parts: [{part: gearbox, source: used, system: drive}]") + dayFile(2, findsSeal+"gone: [{key: seal, with: gearbox}]"),
	"problem.defect-gone":              shopFile + machineFile + dayFile(1, findsSeal+"parts: [{part: gearbox, source: used, system: drive}]\ngone: [{key: seal, with: gearbox}]") + dayFile(2, "repaired: [{key: seal, how: packed with grease}]"),
	"problem.gone-elsewhere":           shopFile + machineFile + entryFile("e", findsSeal+"parts: [{part: gearbox, source: used, system: frame}]\ngone: [{key: seal, with: gearbox}]", ""),
	"problem.body-table":               shopFile + machineFile + entryFile("e", "", strings.Repeat("|a", 200)+"\n"+strings.Repeat("|-", 200)+"\n"+strings.Repeat("a\n", 200)),
	"problem.comment-open":             shopFile + machineFile + entryFile("e", "", "a <!-- b\n"),
	"problem.draft":                    shopFile + machineFile + entryFile("e", "draft: true", ""),
	"problem.toml":                     shopFile + machineFile + "-- machines/m/e.md --\n+++\ntitle = \"T\"\n+++\n",
	"problem.yaml-hash":                shopFile + machineFile + entryFile("e", "by: A # B", ""),
	"problem.long-night":               shopFile + machineFile + entryFile("e", `hours: [{from: "9:00", to: "8:00"}]`, ""),
	"problem.lasted-too":               shopFile + machineFile + entryFile("e", `hours: [{from: "9:00", lasted: 2}]`, ""),
	"problem.publish-to":               publishingTo("https://host.example/www"),
	"problem.publish-ftp":              publishingTo("ftp://host.example/www"),
	"problem.publish-s3":               publishingTo("s3://store.example/bucket"),
	"problem.publish-folder":           publishingTo("sftp://host.example"),
	"problem.publish-tls":              publishingTo("sftp://host.example/www\n  tls: no"),
	"problem.publish-fingerprint":      publishingTo("sftp://host.example/www\n  fingerprint: SHA256:abc"),
	"problem.publish-region":           publishingTo("s3://KEY@store.example/bucket\n  region: over there"),
	"problem.item-alike":               shopFile + machineOf("kind: lawn mower") + entryFile("e", "checks: [{item: blade stops when the handle is let go, result: works}]", ""),
	"problem.item-unknown":             shopFile + machineFile + entryFile("e", "checks: [{item: left lamp, result: works}]", ""),
}

// publishingTo is a shop whose site goes there.
func publishingTo(to string) string {
	return "-- shop.md --\n---\nshop: S\ncurrency: USD\npublish:\n  to: " + to + "\n---\n"
}

func TestEachProblemCanBeHad(t *testing.T) {
	source, err := os.ReadFile("../catalog/en_logbook.go")
	if err != nil {
		t.Fatal(err)
	}
	var keys []string
	for _, m := range regexp.MustCompile(`"(problem\.[a-z0-9-]+)":`).FindAllStringSubmatch(string(source), -1) {
		keys = append(keys, m[1])
	}
	if len(keys) < 60 {
		t.Fatalf("found only %d keys of problems", len(keys))
	}
	seen := map[string]bool{}
	_, problems := readAll(t, afero.NewBasePathFs(afero.NewOsFs(), filepath.Join(mistakes, "shop")), keysOnly)
	for _, p := range problems {
		seen[p.Says] = true
		if p.Mend != p.Says+".mend" {
			t.Errorf("%s is to be mended by %s", p.Says, p.Mend)
		}
	}
	for key, archive := range rest {
		_, problems := readAll(t, folder(t, archive), keysOnly)
		if !slices.ContainsFunc(problems, func(p Problem) bool { return p.Says == key }) {
			t.Errorf("%s: got %v", key, problems)
		}
		seen[key] = true
	}
	_, problems = readAll(t, pipes{folder(t, shopFile+machineFile+entryFile("e", "by: A", ""))}, keysOnly)
	for _, p := range problems {
		seen[p.Says] = true
	}
	_, problems = readAll(t, endless{folder(t, shopFile+machineFile), "machines"}, keysOnly)
	for _, p := range problems {
		seen[p.Says] = true
	}
	for _, key := range keys {
		if !seen[key] {
			t.Errorf("nothing brings up %s", key)
		}
	}
	for key := range seen {
		if !slices.Contains(keys, key) {
			t.Errorf("%s stands in no catalog", key)
		}
	}
}
