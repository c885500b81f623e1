package logbook

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// day is an entry of machine m on that day of February, its fields from line 4.
func dayFile(d int, fields string) string {
	return fmt.Sprintf("-- machines/m/%02d.md --\n---\ndate: 2026-02-%02d\ntitle: T\n%s\n---\n", d, d, fields)
}

const (
	findsA   = "defects: [{key: a, defect: d, system: drive}]"
	mendsA   = "repaired: [{key: a, how: h}]"
	provesA  = "repaired: [{key: a, proof: ran an hour dry}]"
	emptyA   = "repaired: [{key: a}]"
	aroundA  = "worked_around: [{key: a, how: h}]"
	brokenIn = "by: \"A"
)

func TestLifeOfADefect(t *testing.T) {
	for _, c := range []struct {
		name string
		days []string
		says string
	}{
		{"found and repaired", []string{findsA, mendsA}, ""},
		{"found and repaired in one evening", []string{findsA + "\n" + mendsA}, ""},
		{"found, repaired, back, repaired", []string{findsA, mendsA, findsA, mendsA}, ""},
		{"found, worked around, found again", []string{findsA, aroundA, findsA}, ""},
		{"worked around, then repaired", []string{findsA, aroundA, mendsA}, ""},
		{"found twice", []string{findsA, findsA}, "02.md:4:defects[0].key=defect-twice"},
		{"found three times", []string{findsA, findsA, findsA}, "02.md:4:defects[0].key=defect-twice 03.md:4:defects[0].key=defect-twice"},
		{"found twice in one evening", []string{"defects:\n  - {key: a, defect: d, system: drive}\n  - defect: d\n    system: drive\n    key: a"}, "01.md:8:defects[1].key=defect-twice"},
		{"repaired before it was found", []string{mendsA, findsA}, "01.md:4:repaired[0].key=defect-unknown"},
		{"never found", []string{mendsA, aroundA}, "01.md:4:repaired[0].key=defect-unknown 02.md:4:worked_around[0].key=defect-unknown"},
		{"mistyped", []string{"defects: [{key: tine-seal, defect: d, system: drive}]", "repaired: [{key: tine-seel, how: h}]"}, "02.md:4:repaired[0].key=defect-unknown-near"},
		{"proven later", []string{findsA, mendsA, provesA}, ""},
		{"proven later twice", []string{findsA, mendsA, provesA, provesA}, ""},
		{"proven but never repaired", []string{findsA, provesA}, "02.md:4:repaired[0].how=repair-without-how"},
		{"said once", []string{findsA, provesA, provesA}, "02.md:4:repaired[0].how=repair-without-how"},
		{"neither how nor proof", []string{findsA, emptyA}, "02.md:4:repaired[0].how=repair-without-how"},
		{"nothing new", []string{findsA, mendsA, emptyA}, "03.md:4:repaired[0].proof=proof-without-proof"},
		{"proven after it was back", []string{findsA, mendsA, findsA, provesA}, "04.md:4:repaired[0].how=repair-without-how"},
		{"proven after a work-around", []string{findsA, aroundA, provesA}, "03.md:4:repaired[0].how=repair-without-how"},
		{"no key", []string{"defects: [{defect: d, system: drive}]", "repaired: [{how: h}]"}, "01.md:4:defects[0].key=required 02.md:4:repaired[0].key=required"},
		{"a key that is none", []string{"defects: [{key: Tine Seal, defect: d, system: drive}]", "repaired: [{key: Tine Seal, how: h}]"}, "01.md:4:defects[0].key=defect-key"},
		// What an entry that cannot be read may have said is not held against the others.
		{"an unread entry", []string{brokenIn, mendsA, provesA}, "01.md:4:=yaml-quote"},
		{"an entry without a day", []string{"defects: [{key: b, defect: d, system: drive}]", findsA, mendsA}, ""},
	} {
		archive := shopFile + machineFile
		for i, d := range c.days {
			archive += dayFile(i+1, d)
		}
		_, problems := readAll(t, folder(t, archive), keysOnly)
		if got := strings.ReplaceAll(strings.Join(said(problems, ""), " "), "machines/m/", ""); got != c.says {
			t.Errorf("%s: got %s, want %s", c.name, got, c.says)
		}
	}
}

// An entry whose date cannot be read comes first in the order, but nobody
// knows where it belongs.
func TestAWrongDateIsOneProblem(t *testing.T) {
	archive := shopFile + machineFile + dayFile(1, findsA) + "-- machines/m/x.md --\n---\ndate: 2026-02-31\ntitle: T\n" + mendsA + "\n---\n" + dayFile(3, provesA)
	_, problems := readAll(t, folder(t, archive), keysOnly)
	same(t, said(problems, "machines/m/x.md"), "2:date=date")
}

const ownSheet = "-- sheets/sled.md --\n---\nsheet: gravity sled\nalso: [hill sled, Snow sled]\nitems:\n  - {item: the rope holds, system: frame, safety: yes, how: pull it}\n  - {item: runners are tight, system: frame}\n---\n"

func machineOf(fields string) string {
	return "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\n" + fields + "\n---\n"
}

func TestSheetOfAMachine(t *testing.T) {
	tiller := "-- sheets/walk-behind-tiller.md --\n---\nsheet: walk-behind tiller\nitems:\n  - {item: our own point, system: frame}\n---\n"
	for _, c := range []struct {
		fields, sheets, want string
		listed               bool
		near, says           string
	}{
		{"kind: walk-behind tiller", "", "walk-behind-tiller built in", true, "", ""},
		{"kind: Walk-Behind Tiller", "", "walk-behind-tiller built in", true, "", ""},
		{"kind: tillers", "", "walk-behind-tiller built in", true, "", ""},
		{"kind: walk-behind tiller", tiller, "walk-behind-tiller built in, walk-behind-tiller", true, "", ""},
		{"kind: gravity sled", ownSheet, "general built in, sled", true, "", ""},
		{"kind: HILL SLED", ownSheet, "general built in, sled", true, "", ""},
		{"kind: snow sleds", ownSheet, "general built in, sled", true, "", ""},
		{"kind: gravity sled", "", "general built in", false, "", ""},
		{"kind: something else", ownSheet, "general built in", false, "", ""},
		{"", ownSheet, "general built in", false, "", ""},
		{"kind: walk-behind tiller\nsheet: sled", ownSheet, "walk-behind-tiller built in, sled", true, "", ""},
		{"kind: walk-behind tiller\nsheet: [sled, chainsaw, sled]", ownSheet, "walk-behind-tiller built in, sled, chainsaw built in", true, "", ""},
		{"sheet: gravity sled", ownSheet, "general built in, sled", false, "", ""},
		{"sheet: chainsaw", "", "general built in, chainsaw built in", false, "", ""},
		{"sheet: sledge", ownSheet, "general built in", false, "", "4:sheet=no-such-sheet"},
		{"sheet: [sledge, sled]", ownSheet, "general built in, sled", false, "", "4:sheet[0]=no-such-sheet"},
		{"kind: gravity sledd", ownSheet, "general built in", false, "gravity sled", ""},
		{"kind: saw", "", "general built in", false, "band saw, chainsaw, electric chainsaw, string trimmer and brush cutter, table saw", ""},
	} {
		archive := shopFile + machineOf(c.fields) + c.sheets
		shop, problems := readAll(t, folder(t, archive), keysOnly)
		m := shop.Machines[0]
		var got []string
		for _, s := range m.Sheets {
			name := s.Name
			if s.BuiltIn {
				name += " built in"
			}
			got = append(got, name)
		}
		says := strings.Join(said(problems, "machines/m/machine.md"), " ")
		if list, near := strings.Join(got, ", "), strings.Join(m.KindNear, ", "); list != c.want || m.Listed != c.listed || near != c.near || says != c.says {
			t.Errorf("%s: got %q, listed %v, near %q, %s; want %q, %v, %q, %s", c.fields, list, m.Listed, near, says, c.want, c.listed, c.near, c.says)
		}
	}
}

// Of an item that two sheets of the shop's own have the graver counts, in whatever order;
// one that a built-in sheet has too is the built-in's.
func TestOneItemOfTwoSheets(t *testing.T) {
	sheet := func(name, item string) string {
		return "-- sheets/" + name + ".md --\n---\nsheet: " + name + "\nitems:\n  - " + item + "\n---\n"
	}
	builtIn, _ := readAll(t, folder(t, shopFile+machineOf("kind: chainsaw")), nil)
	chain := builtIn.Machines[0].Sheet.Items[0]
	ofBrakes := "{item: Rope end is sewn, system: levers, safety: no, only_if: rope}"
	mild, grave := "{item: rope end is sewn, system: frame, safety: no, only_if: rope}", "{item: Rope end is sewn, system: brakes, safety: yes}"
	for _, c := range []struct {
		ask, sheets, item string
		want              Item
	}{
		{"sheet: [a, b]", sheet("a", mild) + sheet("b", grave), "rope end is sewn", Item{System: "brakes", Safety: SafetyYes}},
		{"sheet: [a, b]", sheet("a", grave) + sheet("b", mild), "rope end is sewn", Item{System: "brakes", Safety: SafetyYes}},
		{"sheet: [a, b]", sheet("a", mild) + sheet("b", ofBrakes), "rope end is sewn", Item{System: "levers", Safety: SafetyNo, OnlyIf: "rope"}}, // part of the brakes
		{"sheet: [a, b]", sheet("a", ofBrakes) + sheet("b", mild), "rope end is sewn", Item{System: "levers", Safety: SafetyNo, OnlyIf: "rope"}},
		{"sheet: [a, chainsaw]", sheet("a", `{item: "`+chain.Item+`", system: frame, safety: no}`), chain.Item, chain},
	} {
		withLevers := strings.Replace(shopFile, "currency", "systems: [{name: levers, part_of: [brakes]}]\ncurrency", 1)
		shop, _ := readAll(t, folder(t, withLevers+machineOf(c.ask)+c.sheets), nil)
		got := shop.Machines[0].Sheet.ItemNamed(c.item)
		if got == nil || got.System != c.want.System || got.Safety != c.want.Safety || got.OnlyIf != c.want.OnlyIf || !slices.Equal(got.AnsweredBy, c.want.AnsweredBy) {
			t.Errorf("%s: %+v, want %+v", c.ask, got, c.want)
		}
	}
}

// A sheet of the shop's own only adds: whatever its name or its kind, each point
// of the built-in one stays as it is there.
func TestOwnSheetOnlyAdds(t *testing.T) {
	own := func(name, rest string) string {
		return "-- sheets/" + name + ".md --\n---\nsheet: chainsaw\n" + rest + "---\n"
	}
	bare, _ := readAll(t, folder(t, shopFile+machineOf("kind: chainsaw")), nil)
	whole := bare.Machines[0].Sheet
	first := whole.Items[0]
	for name, sheet := range map[string]string{
		"empty":               own("chainsaw", ""),
		"milder":              own("Chainsaw", "items: [{item: \""+first.Item+"\", system: frame, safety: no}]\n"),
		"another":             own("ours", "items: [{item: the bell rings, system: frame}]\n"),
		"general in the shop": own("ours", "general: yes\n"),
	} {
		shop, problems := readAll(t, folder(t, shopFile+machineOf("kind: chainsaw")+sheet), nil)
		got := shop.Machines[0].Sheet
		for _, i := range whole.Items {
			if there := got.ItemNamed(i.Item); len(problems) > 0 || there == nil || there.Safety != i.Safety || there.System != i.System || there.Place != i.Place {
				t.Errorf("%s: %q became %+v, %v", name, i.Item, there, problems)
			}
		}
		if added := len(got.Items) - len(whole.Items); added != strings.Count(sheet, "bell") {
			t.Errorf("%s: %d points more", name, added)
		}
	}
	shop, _ := readAll(t, folder(t, shopFile+machineOf("kind: chainsaw\nhas: {reverse: no, electric start: yes}")), nil)
	if m := shop.Machines[0]; !m.Lacks("Reverse") || m.Lacks("electric start") || m.Lacks("a bell") {
		t.Errorf("it has %v", m.Has)
	}
}

// What only an engine has falls with it, unless the machine is said to have it.
func TestNoEngineLacksItsParts(t *testing.T) {
	for _, c := range []struct{ has, what, want string }{
		{"{engine: no}", "pull start", "engine"}, {"{Engine: no}", "engine oil", "engine"}, {"{engine: no}", "engine", "engine"}, {"{engine: no}", "electric start", "engine"},
		{"{engine: no}", "low-oil stop", "engine"}, {"{engine: no}", "fuel valve", "engine"}, {"{engine: no}", "charging system", "engine"},
		{"{engine: no}", "battery", ""}, {"{engine: no}", "cord", ""}, {"{engine: no}", "throttle", ""},
		{"{engine: yes}", "pull start", ""}, {"{engine: no, pull start: yes}", "pull start", ""}, {"{pull start: no}", "pull start", "pull start"}, {"{pull start: no}", "engine oil", ""}, {"{pull start: no, engine: yes}", "pull start", "pull start"},
	} {
		shop, _ := readAll(t, folder(t, shopFile+machineOf("kind: hedge trimmer\nhas: "+c.has)), nil)
		if m := shop.Machines[0]; m.LackFor(c.what) != c.want || m.Lacks(c.what) != (c.want != "") {
			t.Errorf("has: %s: %s is lacking for %q, want %q", c.has, c.what, m.LackFor(c.what), c.want)
		}
	}
}

func TestBuiltInSheets(t *testing.T) {
	shop, problems := readAll(t, folder(t, shopFile), nil)
	if len(problems) > 0 || len(shop.Sheets) < 32 {
		t.Fatalf("%d sheets, %v", len(shop.Sheets), problems)
	}
	kinds := map[string]string{}
	for _, s := range shop.Sheets {
		safety := 0
		for _, i := range s.Items {
			if i.Safety == SafetyYes {
				safety++
			}
			if i.How == "" || i.System == "" || i.Safety == NotSaid {
				t.Errorf("%s: %q does not say how, where, or if it can hurt someone", s.Name, i.Item)
			}
		}
		if n := len(s.Items); n < 15 || n > 30 || safety < 3 {
			t.Errorf("%s has %d items, %d of them of safety", s.Name, n, safety)
		}
		for _, k := range append([]string{s.Kind}, s.Also...) {
			if other := kinds[Folded(k)]; other != "" {
				t.Errorf("%s is for %s, and so is %s", s.Name, k, other)
			}
			kinds[Folded(k)] = s.Name
		}
	}
}

func TestChecksAgainstTheSheet(t *testing.T) {
	for _, c := range []struct{ name, machine, checks, says string }{
		{"on the sheet", "sheet: sled", "{item: The rope holds, result: works}", ""},
		{"mistyped", "sheet: sled", "{item: the rope hold, result: works}", "4:checks[0].item=item-near"},
		{"not on it", "sheet: sled", "{item: the bell rings, result: works}", "4:checks[0].item=item-unknown"},
		{"not on it, with a system", "sheet: sled", "{item: the bell rings, result: works, system: frame}, {item: The Bell Rings, result: fails}", ""},
		{"the system comes later", "sheet: sled", "{item: the bell rings, result: works}, {item: the bell rings, result: works, system: frame}", ""},
		{"a system that is none", "sheet: sled", "{item: the bell rings, result: works, system: bell}", "4:checks[0].system=not-one-of"},
		{"near one of the machine's own", "sheet: sled", "{item: the bell rings, result: works, system: frame}, {item: the bell ring, result: works}", "4:checks[1].item=item-near"},
		{"no sheet", "", "{item: the bell rings, result: works}", "4:checks[0].item=item-unknown"},
		{"no item", "sheet: sled", "{result: works}", "4:checks[0].item=required"},
		{"a sheet that is not there", "sheet: sledge", "{item: the rope holds, result: works}", "machines/m/machine.md:4:sheet=no-such-sheet"},
		{"result mistyped", "sheet: sled", "{item: the rope holds, result: work}", "4:checks[0].result=not-one-of-near"},
	} {
		archive := shopFile + ownSheet + machineOf(c.machine) + entryFile("e", "checks: ["+c.checks+"]", "")
		_, problems := readAll(t, folder(t, archive), keysOnly)
		if got := strings.Join(said(problems, "machines/m/e.md"), " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.name, got, c.says)
		}
	}
	shop, _ := readAll(t, folder(t, shopFile+ownSheet+machineOf("sheet: sled")), nil)
	if i := shop.Machines[0].Sheet.ItemNamed("THE ROPE HOLDS"); i == nil || i.System != "frame" || i.Safety != SafetyYes || i.How != "pull it" || i.Line != 5 {
		t.Errorf("got %+v", i)
	}
	if (*Sheet)(nil).ItemNamed("x") != nil {
		t.Error("no sheet has an item")
	}
}

// One file that cannot be read must not be told as twenty problems.
func TestOneMistakeIsOneProblem(t *testing.T) {
	checks := entryFile("e", "checks: [{item: the rope holds, result: works}, {item: runners are tight, result: works}]", "")
	for _, c := range []struct{ name, archive, says string }{
		{"sheet", shopFile + strings.Replace(ownSheet, "gravity", "\"gravity", 1) + machineOf("kind: gravity sled") + checks, "sheets/sled.md:2:=yaml-quote"},
		{"sheet by name", shopFile + strings.Replace(ownSheet, "---\nsheet", "sheet", 1) + machineOf("sheet: sled") + checks, "sheets/sled.md:1:=no-front-matter"},
		{"machine", shopFile + ownSheet + machineOf("kind: \"gravity sled") + checks, "machines/m/machine.md:4:=yaml-quote"},
		{"shop", "-- shop.md --\n---\nshop: \"S\nsystems: [winch]\n---\n" + machineFile + entryFile("e", "defects: [{key: a, defect: d, system: winch}]\ncosts: [{for: x, amount: 14.255}]", ""), "shop.md:2:=yaml-quote"},
		{"stage", shopFile + machineOf("stage: solt\nsold: {date: 2026-02-01}"), "machines/m/machine.md:4:stage=not-one-of-near"},
		{"step", shopFile + machineFile + entryFile("e", "diagnosis: [x]", ""), "machines/m/e.md:4:diagnosis[0]=not-fields"},
		{"limits without a name", shopFile + machineOf("limits: [{limit: 1 V to 2 V}, {limit: 1 V to 2 V}]"), "machines/m/machine.md:4:limits[0].what=required machines/m/machine.md:4:limits[1].what=required"},
	} {
		_, problems := readAll(t, folder(t, c.archive), keysOnly)
		got := strings.Join(said(problems, ""), " ")
		if got != c.says {
			t.Errorf("%s: got %s, want %s", c.name, got, c.says)
		}
	}
}

func TestPinpoint(t *testing.T) {
	fs := folder(t, shopFile+machineFile+entryFile("e", "parts:\n  - part: p\n    source: new\n    each: 3.00", ""))
	shop, problems := readAll(t, fs, nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	p := machine(t, shop, "m").Entries[0].Parts[0]
	found := []Problem{{Place: p.In("each"), Says: "a"}, {Place: p.In("number"), Says: "b"}, {Place: Place{File: "elsewhere.md", Line: 3, Field: "x"}, Says: "c"}, {Place: Place{File: "machines/m", Line: 0}, Says: "d"}}
	shop.Pinpoint(found)
	var got []string
	for _, f := range found {
		got = append(got, f.String())
	}
	same(t, got, "machines/m/e.md:7: parts[0].each: a", "machines/m/e.md:5: parts[0].number: b", "elsewhere.md:3: x: c", "machines/m: d")
}

func TestSort(t *testing.T) {
	at := func(file string, line int, field string) Place { return Place{file, line, field} }
	ps := []Problem{{at("b", 1, ""), "x", ""}, {at("a", 10, ""), "x", ""}, {at("a", 9, "z"), "x", ""}, {at("a", 9, "b"), "y", ""}, {at("a", 9, "b"), "x", "2"}, {at("a", 9, "b"), "x", "1"}, {at("b", 1, ""), "x", ""}}
	var got []string
	for _, p := range Sort(ps) {
		got = append(got, p.String()+p.Mend)
	}
	same(t, got, "a:9: b: x1", "a:9: b: x2", "a:9: b: y", "a:9: z: x", "a:10: x", "b:1: x")
}

// An item that no sheet has comes with the points of the machine's own list that share
// words with it, the most alike first.
func TestItemsAlike(t *testing.T) {
	for _, c := range []struct{ kind, item, want string }{
		{"lawn mower", "blade stops when the handle is let go", `this list has "blade stops within three seconds of release"; write`},
		{"bench grinder", "wheel guards are whole and bolted", `this list has "wheel guards cover all but the front"; write`},
		{"bench grinder", "the paint is nice", "check the wording"},
		{"bench grinder", "the wheel", "check the wording"}, // one word alone says too little
		{"bench grinder", "wheel guard cover all but the front", `write "wheel guards cover all but the front", or give`},
	} {
		_, problems := readAll(t, folder(t, shopFile+machineOf("kind: "+c.kind)+entryFile("e", "checks: [{item: "+c.item+", result: works}]", "")), catalog.English)
		if len(problems) != 1 || !strings.HasPrefix(problems[0].Mend, c.want) {
			t.Errorf("%s on a %s: %+v, want %s", c.item, c.kind, problems, c.want)
		}
	}
}
