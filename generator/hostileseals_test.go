package generator_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/handover"
	"asleft/generator/handover/sheet"
)

// sealedOnce is a shop with two sealed reports, all its files, and the buyer's.
var sealedOnce = sync.OnceValues(func() (shop, buyer map[string]string) {
	shop, buyer = map[string]string{
		"shop.md":               "---\nshop: Plain\ncurrency: USD\n---\n",
		"machines/m/machine.md": "---\nname: M\narrived: 2026-03-01\n---\n",
	}, map[string]string{}
	folder, copies := afero.NewMemMapFs(), afero.NewMemMapFs()
	write := func(name, text string) {
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			panic(err)
		}
	}
	for name, text := range shop {
		write(name, text)
	}
	for _, day := range []string{"02", "03"} {
		write("machines/m/2026-03-"+day+"-a.md", "---\ndate: 2026-03-"+day+"\ntitle: T"+day+"\ndefects: [{key: leak"+day+", defect: it leaks "+day+", system: drive}]\n---\n")
		r, err := generator.Read(folder, generator.Options{Today: "2026-11-25"})
		if err != nil || len(r.Problems) > 0 {
			panic(saidOf(r, err))
		}
		report, err := handover.Prepare(folder, handedOver(r), 0, "2026-11-25")
		if err != nil {
			panic(err)
		}
		if _, err := report.Seal(copies, afero.NewMemMapFs(), sheet.A4); err != nil {
			panic(err)
		}
	}
	for of, all := range map[afero.Fs]map[string]string{folder: shop, copies: buyer} {
		for _, dir := range []string{".", "handovers", "machines/m"} {
			infos, _ := afero.ReadDir(of, dir) // the buyer has none of the two
			for _, i := range infos {
				if data, err := afero.ReadFile(of, path.Join(dir, i.Name())); err == nil && !i.IsDir() {
					all[path.Join(dir, i.Name())] = string(data)
				}
			}
		}
	}
	return shop, buyer
})

// sealedFiles are the sealed files of that shop, in the order of their numbers.
func sealedFiles(t *testing.T) (first, last string) {
	t.Helper()
	shop, _ := sealedOnce()
	for name, text := range shop {
		var seal struct{ Number int }
		if strings.HasPrefix(name, "handovers/m-") {
			if err := json.Unmarshal([]byte(text), &seal); err != nil {
				t.Fatal(err)
			}
			if seal.Number == 1 {
				first = name
			} else {
				last = name
			}
		}
	}
	return first, last
}

// noSeals are what no sealed file is, and no note of the last one.
var noSeals = map[string]string{
	"nothing": "", "a space": " ", "null": "null", "a list": "[]", "an empty object": "{}", "a number": "7", "a text": `"x"`, "true": "true", "a comment": "// x\n{}", "half an object": `{"facts":`,
	"an object twice": "{}{}", "a BOM": "\ufeff{}", "UTF-16": "{\x00}\x00", "no UTF-8": "{\"a\":\"\xff\"}", "a lone surrogate": `{"a":"\ud800"}`, "NUL": "{\"a\":\"\x00\"}", "deep lists": strings.Repeat("[", 100000), "deep objects": strings.Repeat(`{"a":`, 50000), "deep and closed": strings.Repeat("[", 5000) + strings.Repeat("]", 5000),
	"a huge number": `{"number":1e999999}`, "no number": `{"number":NaN}`, "the prototype": `{"__proto__":{"number":1}}`, "YAML": "---\nnumber: 1\n---\n", "HTML": "<!DOCTYPE html><script>alert(1)</script>", "a shell": "#!/bin/sh\nrm -rf /\n", "escapes": "\x1b[2J\x1b[31m{}", "zeros": strings.Repeat("\x00", 4096), "a long text": `{"a":"` + strings.Repeat("x", 1<<20) + `"}`, "many fields": "{" + strings.TrimSuffix(strings.Repeat(`"a":1,`, 20000), ",") + "}", "a newline more": "\n",
}

// wrongValues take the place of each field of a sealed file.
var wrongValues = map[string]string{"null": "null", "a number": "-1", "a huge number": "1e400", "a text": `"\u001b[31m\u202e"`, "a list": "[[]]", "an object": `{"x":{}}`, "true": "true", "a path": `"../../../etc/passwd"`}

// TestHostileSeals puts into a shop what is no sealed file, and sealed files with a
// field that is wrong, gone or there twice: each is a break that names the file, no
// report that leads to it is vouched for, the other one is, and the site is made.
func TestHostileSeals(t *testing.T) {
	t.Parallel()
	shop, buyer := sealedOnce()
	first, last := sealedFiles(t)
	const note = "handovers/last-sealed.json"
	held := hostileCount{}
	spoil := func(area, name, file, text string) {
		with := maps.Clone(shop)
		with[file] = text
		held.add(t, area, fmt.Sprintf("%s: %s", path.Base(file), name), sealFlaw(t, with, buyer, file))
	}
	for _, name := range slices.Sorted(maps.Keys(noSeals)) {
		for _, file := range []string{first, last, note, "handovers/m-2026-03-04-0123456789abcdef.json"} {
			spoil("what is no sealed file", name, file, noSeals[name])
		}
	}
	for _, file := range []string{first, last, note} {
		var fields map[string]json.RawMessage
		if err := json.Unmarshal([]byte(shop[file]), &fields); err != nil || len(fields) < 3 {
			t.Fatal(err)
		}
		for _, field := range slices.Sorted(maps.Keys(fields)) {
			own := fields[field]
			fields[field] = nil
			for _, name := range slices.Sorted(maps.Keys(wrongValues)) {
				if wrongValues[name] != string(own) {
					spoil("fields of sealed files", field+" is "+name, file, objectOf(fields, field, wrongValues[name]))
				}
			}
			spoil("fields of sealed files", field+" is gone", file, objectOf(fields, field, ""))
			spoil("fields of sealed files", field+" is there twice", file, strings.Replace(shop[file], `"`+field+`":`, `"`+field+`":null,"`+field+`":`, 1))
			spoil("fields of sealed files", field+" is in capitals", file, strings.Replace(shop[file], `"`+field+`":`, `"`+strings.ToUpper(field)+`":`, 1))
			fields[field] = own
		}
	}
	held.want(t, 300)
}

// objectOf is the JSON of fields, with that text for one of them, or without it.
func objectOf(fields map[string]json.RawMessage, field, text string) string {
	var parts []string
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		value := string(fields[name])
		if name == field {
			value = text
		}
		if value != "" {
			parts = append(parts, `"`+name+`":`+value)
		}
	}
	return "{" + strings.Join(parts, ",") + "}"
}

// sealFlaw is what is wrong with how a shop takes a spoiled file; empty if nothing is.
func sealFlaw(t *testing.T, files, buyer map[string]string, spoiled string) string {
	t.Helper()
	folder := afero.NewMemMapFs()
	for name, text := range files {
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c, err := handover.ReadChain(folder, catalog.English, "2026-11-25")
	if err != nil {
		return "an error: " + err.Error()
	}
	named := false
	for _, b := range c.Breaks {
		named = named || b.File == spoiled || strings.Contains(b.Says, spoiled)
		if bad := unprintable(b.Says); bad != "" {
			return bad
		}
	}
	if !named {
		return fmt.Sprintf("it is not named: %v", c.Breaks)
	}
	if v := c.VouchFile("x", []byte(files[spoiled])); v.Answer == handover.Unaltered {
		return "it is vouched for"
	}
	for name, text := range buyer {
		v := c.VouchFile(name, []byte(text))
		own := strings.HasPrefix(name, strings.TrimSuffix(path.Base(spoiled), ".json"))
		if own == (v.Answer == handover.Unaltered) {
			return fmt.Sprintf("of the buyer's %s it says %s", name, v.Answer)
		}
	}
	r, err := generator.Read(folder, generator.Options{Today: "2026-11-25"})
	if err != nil || len(r.Problems) > 0 {
		return "the logs are blamed: " + saidOf(r, err)
	}
	for _, g := range r.Gaps {
		if strings.Contains(g.String(), spoiled) {
			return ""
		}
	}
	return "inspect does not name it"
}
