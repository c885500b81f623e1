package generator_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"
	"go.yaml.in/yaml/v4"

	"asleft/generator"
	"asleft/generator/logbook"
)

// A spoiled is one way to write a field wrong.
type spoiled struct {
	name  string
	value string // in place of the field's own, as YAML
	key   string // comes behind the field's name
	twice bool
	line  bool // it is the line that is wrong, whatever field is on it
}

// Whatever a field is for, none of these is it.
var spoiledAlways = []spoiled{
	{name: "a mapping", value: "{zz: 1}"},
	{name: "a list of lists", value: "[[zz]]"},
	{name: "written twice", twice: true},
	{name: "a name that is none", key: "zq"},
	{name: "a text that turns around", value: `"a\u202eb"`, line: true},
	{name: "a text for the terminal", value: `"\e[31m"`, line: true},
}

// Nor is any of these where a field holds no free text.
var spoiledUnlessText = []spoiled{
	{name: "words", value: "zz zz"},
	{name: "a number without end", value: "99999999999999999999999999"},
	{name: "less than nothing", value: "-7"},
	{name: "no number", value: ".nan"},
	{name: "a day that never was", value: "2026-02-30"},
}

// freeTexts are the fields that may hold any words, by the name of their file and
// their path. It stands here and is not asked of the reader, so that one that begins
// to take what it is given fails.
var freeTexts = strings.Fields(`
	shop/contact shop/place shop/publish/key shop/publish/to shop/shop shop/systems/name shop/terms
	machine/alternator/name machine/attachments/maker machine/attachments/model machine/attachments/name machine/attachments/note machine/battery/kind machine/battery/name
	machine/bought/from machine/engine/fuel machine/engine/name machine/engines/fuel machine/engines/name machine/kind machine/leave_out/why
	machine/limits/source machine/limits/what machine/limits/where machine/maker machine/missing/part machine/model machine/motor/name
	machine/name machine/owner machine/private machine/serial machine/sold/buyer machine/story machine/year
	entry/by entry/changed/caution entry/changed/key entry/changed/what entry/changed/why entry/checks/item entry/checks/note
	entry/costs/for entry/defects/defect entry/defects/effect entry/diagnosis/saw entry/diagnosis/so entry/diagnosis/tried entry/gone/with
	entry/hours/by entry/hours/task entry/measured/state entry/measured/what entry/measured/where entry/parts/number entry/parts/part
	entry/parts/replaces entry/parts/supersedes entry/parts/vendor entry/parts/warranty entry/photos/alt entry/photos/caption entry/private
	entry/put_back/how entry/repaired/how entry/repaired/proof entry/service/amount entry/service/every entry/service/grade entry/service/what
	entry/title entry/worked_around/how entry/worked_around/left
	sheet/items/how sheet/items/item sheet/items/look sheet/items/only_if sheet/items/short sheet/leave_out/item sheet/leave_out/why
	sheet/sheet
`)

// spoiledFront is a file with that field spoiled, all in one line, and that line's
// number. What stands in the field's example beside it stands there too.
func spoiledFront(t testing.TB, base []string, f logbook.Field, s spoiled) (front string, line int) {
	t.Helper()
	steps := strings.Split(f.Path, "/")
	example := ""
	for _, top := range logbook.Fields {
		if top.File == f.File && top.Path == steps[0] {
			example = top.Example
		}
	}
	lines := []string{"---"}
	for _, b := range base {
		if !strings.HasPrefix(b, steps[0]+":") {
			lines = append(lines, b)
		}
	}
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(steps[0]+": "+example), &doc); err != nil {
		t.Fatal(err)
	}
	if s.twice && len(steps) == 1 {
		lines = append(lines, steps[0]+": "+example)
	}
	var b strings.Builder
	writeSpoiled(&b, doc.Content[0], steps, s)
	text := strings.TrimSuffix(strings.TrimPrefix(b.String(), "{"), "}")
	if s.twice && len(steps) == 1 {
		text = steps[0] + ": " + example
	}
	lines = append(lines, text, "---", "Words.", "")
	return strings.Join(lines, "\n"), len(lines) - 3
}

// writeSpoiled writes YAML on one line, with what the steps lead to spoiled.
func writeSpoiled(b *strings.Builder, n *yaml.Node, steps []string, s spoiled) {
	switch n.Kind {
	case yaml.MappingNode:
		b.WriteString("{")
		for i := 0; i < len(n.Content); i += 2 {
			if i > 0 {
				b.WriteString(", ")
			}
			key := n.Content[i].Value
			switch {
			case len(steps) == 0 || key != steps[0]:
				b.WriteString(key + ": ")
				writeSpoiled(b, n.Content[i+1], nil, s)
			case len(steps) > 1:
				b.WriteString(key + ": ")
				writeSpoiled(b, n.Content[i+1], steps[1:], s)
			default:
				b.WriteString(key + s.key + ": ")
				if s.value != "" {
					b.WriteString(s.value)
				} else {
					writeSpoiled(b, n.Content[i+1], nil, s)
				}
				if s.twice {
					b.WriteString(", " + key + ": ")
					writeSpoiled(b, n.Content[i+1], nil, s)
				}
			}
		}
		b.WriteString("}")
	case yaml.SequenceNode:
		b.WriteString("[")
		for i, item := range n.Content {
			if i > 0 {
				b.WriteString(", ")
			}
			writeSpoiled(b, item, steps, s)
		}
		b.WriteString("]")
	default:
		if n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 {
			b.WriteString(quotedYAML(n.Value))
		} else {
			b.WriteString(n.Value)
		}
	}
}

// A spoiledFile is where a field of a kind of file stands, and what else that file holds.
type spoiledFile struct {
	short, name string
	base        []string
}

var spoiledFiles = map[string]spoiledFile{
	logbook.FileShop:    {"shop", "shop.md", []string{"shop: Plain", "currency: USD"}},
	logbook.FileMachine: {"machine", "machines/m/machine.md", []string{"name: M", "arrived: 2026-03-01"}},
	logbook.FileEntry:   {"entry", "machines/m/2026-03-02-a.md", []string{"date: 2026-03-02", "title: T"}},
	logbook.FileSheet:   {"sheet", "sheets/own.md", []string{"sheet: own sort", "items: [{item: the belt holds, system: drive}]"}},
}

// spoiledShop is a small shop with those front matters in place of its own.
func spoiledShop(t testing.TB, with map[string]string) afero.Fs {
	t.Helper()
	folder := afero.NewMemMapFs()
	files := map[string]string{"machines/o/machine.md": "---\nname: Other\narrived: 2026-03-01\n---\n"}
	for _, f := range spoiledFiles {
		files[f.name] = "---\n" + strings.Join(f.base, "\n") + "\n---\nWords.\n"
	}
	for name, text := range with {
		files[name] = text
	}
	for name, text := range files {
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

var index = regexp.MustCompile(`\[\d+\]`)

// TestHostileFields writes every field of every file in every way that it cannot be
// written: each is a problem at that field of that line of that file, in words that a
// terminal can be given, and no site is made.
func TestHostileFields(t *testing.T) {
	t.Parallel()
	held := hostileCount{}
	used := map[string]bool{}
	for _, f := range logbook.Fields {
		at := spoiledFiles[f.File]
		ways := spoiledAlways
		if name := at.short + "/" + f.Path; slices.Contains(freeTexts, name) {
			used[name] = true
		} else {
			ways = slices.Concat(ways, spoiledUnlessText)
		}
		for _, s := range ways {
			if f.Path == "defects/key" && (s.name == "a number without end" || s.name == "a day that never was") {
				continue // a key is letters, digits and hyphens
			}
			front, line := spoiledFront(t, at.base, f, s)
			held.add(t, "fields, "+s.name, f.File+": "+f.Path, namedAt(t, spoiledShop(t, map[string]string{at.name: front}), at.name, line, f.Path, s))
		}
	}
	for _, name := range freeTexts {
		if !used[name] {
			t.Errorf("there is no field %s", name)
		}
	}
	held.want(t, 1500)
}

// namedAt is what is wrong with what is said of a spoiled field; empty if nothing is.
func namedAt(t *testing.T, folder afero.Fs, file string, line int, field string, s spoiled) string {
	t.Helper()
	parent := afero.NewMemMapFs()
	_, r, err := generator.Writeup(folder, parent, "site", generator.Options{Today: "2026-11-25"})
	if err == nil && len(r.Problems) == 0 {
		return "it was taken as it is"
	}
	if made, _ := afero.Exists(parent, "site"); made {
		return "a site was made all the same"
	}
	says := saidOf(r, err)
	if bad := unprintable(says); bad != "" {
		return bad
	}
	if r == nil {
		return "nothing was read: " + says
	}
	for _, p := range r.Problems {
		path := index.ReplaceAllString(strings.ReplaceAll(p.Field, ".", "/"), "")
		if p.File == file && p.Line == line && p.Mend != "" && (s.line || path == field+s.key || strings.HasPrefix(path, field+"/")) {
			return ""
		}
	}
	return "it is not named: " + says
}

// unprintable tells of what a terminal would act upon, in what is to be printed.
func unprintable(says string) string {
	for _, r := range says {
		if r < ' ' && r != '\n' || r >= 0x7f && r < 0xa0 || r >= 0x2028 && r <= 0x202e || r == 0x2066 || r == 0x2067 {
			return fmt.Sprintf("%U is in what is said: %q", r, says)
		}
	}
	return ""
}

// A hostileCount is what was tried and what of it held, by area.
type hostileCount map[string]*struct{ tried, held int }

// add counts a case; what is wrong with it fails the test.
func (c hostileCount) add(t testing.TB, area, name, wrong string) {
	t.Helper()
	if c[area] == nil {
		c[area] = &struct{ tried, held int }{}
	}
	c[area].tried++
	if wrong != "" {
		t.Errorf("%s: %s: %s", area, name, wrong)
		return
	}
	c[area].held++
}

// want prints the tally, and wants so many to have been tried.
func (c hostileCount) want(t testing.TB, least int) {
	t.Helper()
	all := 0
	for _, area := range slices.Sorted(maps.Keys(c)) {
		all += c[area].tried
		t.Logf("%s: %d tried, %d held", area, c[area].tried, c[area].held)
	}
	if all < least {
		t.Errorf("only %d were tried, and not %d", all, least)
	}
}
