package generator_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
)

// A linkCase is files of a shop that lead from one to another, or to nowhere.
type linkCase struct {
	name    string
	files   map[string]string
	problem string // part of what is said of it; empty for a safe site
}

func machineFile(more string) string {
	return "---\nname: N\narrived: 2026-03-01\n" + more + "---\n"
}

func entryFile(day, more string) string {
	return "---\ndate: 2026-03-" + day + "\ntitle: T\n" + more + "---\n"
}

func salvaged(from string) string {
	return "parts: [{part: p, source: salvaged, system: drive, from: " + from + "}]\n"
}

// ring is a number of machines that each have a part from the next, round in a circle.
func ring(n int) map[string]string {
	files := map[string]string{}
	for i := range n {
		files[fmt.Sprintf("machines/r%d/machine.md", i)] = machineFile("stage: parted out\n")
		files[fmt.Sprintf("machines/r%d/2026-03-02-a.md", i)] = entryFile("02", salvaged(fmt.Sprintf("r%d", (i+1)%n)))
	}
	return files
}

// linkCases are what leads from one machine, entry, defect, sheet or sealed report to
// another: to itself, in circles, to what is not there or is another's.
var linkCases = []linkCase{
	{"donors in a circle of two", ring(2), ""},
	{"donors in a circle of sixty", ring(60), ""},
	{"a donor that is the machine itself", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", salvaged("m"))}, "machines/m/2026-03-02-a.md:4"},
	{"a donor by its old name", map[string]string{"machines/o/machine.md": machineFile("was: [old]\n"), "machines/m/2026-03-02-a.md": entryFile("02", salvaged("old"))}, "there is no machine old"},
	{"a donor that is nowhere", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", salvaged("nowhere"))}, "machines/m/2026-03-02-a.md:4"},
	{"an old name that is the machine's own", map[string]string{"machines/m/machine.md": machineFile("was: [m]\n")}, "machines/m/machine.md:4: was[0]: m is what the folder of a machine of this shop is called now"},
	{"an old name that is another machine's", map[string]string{"machines/m/machine.md": machineFile("was: [o]\n")}, "machines/m/machine.md:4: was[0]: o is what the folder of a machine of this shop is called now"},
	{"old names in a circle", map[string]string{"machines/m/machine.md": machineFile("was: [o]\n"), "machines/o/machine.md": machineFile("was: [m]\n")}, "machines/o/machine.md:4: was[0]: m is"},
	{"two machines with one old name", map[string]string{"machines/m/machine.md": machineFile("was: [x]\n"), "machines/o/machine.md": machineFile("was: [y, x]\n")}, "machines/o/machine.md:4: was[1]: x is what the folder of m was called"},
	{"one old name twice", map[string]string{"machines/m/machine.md": machineFile("was: [x, x]\n")}, "machines/m/machine.md:4: was[1]: x is what the folder of m was called"},
	{"a sheet that is also itself", map[string]string{"sheets/own.md": "---\nsheet: own sort\nalso: [own sort]\nitems: [{item: a, system: drive}]\n---\n"}, ""},
	{"two sheets of one name", map[string]string{"sheets/b.md": "---\nsheet: own sort\nitems: [{item: b, system: drive}]\n---\n"}, ""},
	{"two sheets that are also each other", map[string]string{"sheets/own.md": "---\nsheet: own sort\nalso: [b sort]\nitems: [{item: a, system: drive}]\n---\n", "sheets/b.md": "---\nsheet: b sort\nalso: [own sort]\nitems: [{item: b, system: drive}]\n---\n"}, ""},
	{"a sheet asked for twice", map[string]string{"machines/m/machine.md": machineFile("sheet: [own sort, own sort]\n")}, ""},
	{"a sheet that is not there", map[string]string{"machines/m/machine.md": machineFile("sheet: [no sort]\n")}, "machines/m/machine.md:4"},
	{"a safety point that its sheet leaves out", map[string]string{"machines/m/machine.md": machineFile("kind: own sort\n"), "sheets/own.md": "---\nsheet: own sort\nitems: [{item: the belt holds, system: drive, safety: yes}]\nleave_out: [{item: the belt holds, why: we never look at it here}]\n---\n"}, "sheets/own.md:4"},
	{"a repair of what was never found", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "repaired: [{key: leak, how: new seal}]\n")}, "machines/m/2026-03-02-a.md:4"},
	{"a repair of what another machine has", map[string]string{"machines/o/2026-03-02-a.md": entryFile("02", "defects: [{key: leak, defect: it leaks, system: drive}]\n"), "machines/m/2026-03-03-a.md": entryFile("03", "repaired: [{key: leak, how: new seal}]\n")}, "machines/m/2026-03-03-a.md:4"},
	{"a repair before it was found", map[string]string{"machines/m/2026-03-05-a.md": entryFile("05", "defects: [{key: leak, defect: it leaks, system: drive}]\n"), "machines/m/2026-03-03-a.md": entryFile("03", "repaired: [{key: leak, how: new seal}]\n")}, "machines/m/2026-03-03-a.md:4"},
	{"a check that a change answers which is none", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "checks: [{item: the belt holds, result: does not apply, note: it has none, by: nothing}]\n")}, "machines/m/2026-03-02-a.md:4"},
	{"a change that is put back twice", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "changed: [{key: jet, what: bigger jet, why: for the hills up here, system: fuel}]\n"), "machines/m/2026-03-03-a.md": entryFile("03", "put_back: [{key: jet, how: old jet}]\n"), "machines/m/2026-03-04-a.md": entryFile("04", "put_back: [{key: jet, how: old jet}]\n")}, ""},
	{"a photo of another machine", map[string]string{"machines/o/photos/a.jpg": "x", "machines/m/2026-03-02-a.md": entryFile("02", "photos: [{file: ../../o/photos/a.jpg, alt: x}]\n")}, "machines/m/2026-03-02-a.md:4"},
	{"a photo by an absolute path", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "photos: [{file: /etc/passwd, alt: x}]\n")}, "machines/m/2026-03-02-a.md:4"},
	{"a photo on a share", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", `photos: [{file: '\\server\x\a.jpg', alt: x}]`+"\n")}, "machines/m/2026-03-02-a.md:4"},
	{"a photo on a drive", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", `photos: [{file: 'C:a.jpg', alt: x}]`+"\n")}, "machines/m/2026-03-02-a.md:4"},
	{"a photo that shows what is not there", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "photos: [{file: a.jpg, alt: x, shows: leak}]\n")}, "machines/m/2026-03-02-a.md:4"},
	{"a part that replaces what was not missing", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "parts: [{part: p, source: new, each: 1.00, system: drive, replaces: skid}]\n")}, ""},
	{"a core returned before it was bought", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "parts: [{part: p, source: new, each: 1.00, system: drive, core: {deposit: 1.00, returned: 2020-01-01}}]\n")}, "machines/m/2026-03-02-a.md:4"},
	{"a body that links to a machine that is not there", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "") + "[x](../nowhere/machine.md)\n"}, ""},
	{"a body that links out of the shop", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "") + "[x](../../../outside.md)\n"}, ""},
	{"a body that links to a private file", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "") + "[x](../../handovers/last-sealed.json)\n"}, ""},
	{"a body that links to itself", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "") + "[x](2026-03-02-a.md)\n"}, ""},
	{"entries that link to each other", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "") + "[x](2026-03-03-b.md)\n", "machines/m/2026-03-03-b.md": entryFile("03", "") + "[x](2026-03-02-a.md)\n"}, ""},
	{"machines that link to each other", map[string]string{"machines/m/machine.md": machineFile("") + "[x](../o/machine.md)\n", "machines/o/machine.md": machineFile("") + "[x](../m/machine.md)\n"}, ""},
	{"two folders that differ in case", map[string]string{"machines/M/machine.md": machineFile("")}, "machines/M: M is not a name"},
	{"a machine within a machine", map[string]string{"machines/m/n/machine.md": machineFile("")}, "machines/m/n"},
	{"a shop within a shop", map[string]string{"machines/m/shop.md": "---\nshop: Other\ncurrency: USD\n---\n"}, "machines/m/shop.md"},
	{"a meter that runs back and is not replaced", map[string]string{"machines/m/2026-03-02-a.md": entryFile("02", "meter: 100 h\n"), "machines/m/2026-03-03-a.md": entryFile("03", "meter: 10 h\n")}, "machines/m/2026-03-03-a.md:4"},
	{"a sale before it came", map[string]string{"machines/m/machine.md": machineFile("stage: sold\nsold: {date: 2020-01-01, price: 1.00}\n")}, "machines/m/machine.md:5"},
	{"systems that are part of each other", map[string]string{"shop.md": "---\nshop: S\ncurrency: USD\nsystems: [{name: a, part_of: [b]}, {name: b, part_of: [a]}]\n---\n"}, "shop.md:4"},
	{"a system that is part of itself", map[string]string{"shop.md": "---\nshop: S\ncurrency: USD\nsystems: [{name: a, part_of: [a]}]\n---\n"}, "shop.md:4"},
	{"a system twice", map[string]string{"shop.md": "---\nshop: S\ncurrency: USD\nsystems: [a, a]\n---\n"}, "shop.md:4"},
	{"an engine twice", map[string]string{"machines/m/machine.md": machineFile("engine: {name: a, strokes: 4, cylinders: 1}\nengines: [{name: a, strokes: 4, cylinders: 1}]\n")}, "there is another engine of the name a"},
	{"a limit twice", map[string]string{"machines/m/machine.md": machineFile("limits: [{what: gap, limit: \">= 1 in\", source: book}, {what: gap, limit: \"<= 0.5 in\", source: book}]\n")}, "machines/m/machine.md:4"},
}

// TestHostileLinks reads them all: each ends in its problem, or in a site that is safe.
func TestHostileLinks(t *testing.T) {
	t.Parallel()
	held := hostileCount{}
	for _, c := range linkCases {
		parent := afero.NewMemMapFs()
		_, r, err := generator.Writeup(spoiledShop(t, c.files), parent, "site", generator.Options{Today: "2026-11-25"})
		says, wrong := saidOf(r, err), ""
		made, _ := afero.Exists(parent, "site")
		switch {
		case c.problem == "" && says != "":
			wrong = "it should do no harm: " + says
		case c.problem == "":
			checkSafe(t, siteFiles(t, parent))
		case !strings.Contains(says, c.problem):
			wrong = fmt.Sprintf("want %q, got:\n%s", c.problem, says)
		case made:
			wrong = "a site was made all the same"
		}
		held.add(t, "links between machines", c.name, wrong)
	}
	held.want(t, 40)
}
