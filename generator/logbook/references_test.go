package logbook

import (
	"fmt"
	"strings"
	"testing"

	"asleft/generator/quantity"
)

// spaced is what is given, with one space between.
func spaced(all ...any) string { return strings.Join(strings.Fields(fmt.Sprintln(all...)), " ") }

// Each field that an entry can have beside the oldest ones is read as it was
// written, and says nothing where it was left out.
func TestNewFieldsOfAnEntry(t *testing.T) {
	const finds = "defects: [{key: seal, defect: it leaks, system: drive}]\n"
	for _, c := range []struct {
		fields string
		got    func(e *Entry) any
		want   any
	}{
		{"checks: [{item: a, result: works, system: drive, as_found: yes}]", func(e *Entry) any { return e.Checks[0].AsFound }, true},
		{"checks: [{item: a, result: works, system: drive}]", func(e *Entry) any { return spaced(e.Checks[0].AsFound, e.Checks[0].Safety) }, "false "},
		{"checks: [{item: a, result: does not apply, note: it has no belt, system: drive, safety: no, by: k}]\nchanged: [{key: k, what: w, why: it broke off twice}]", func(e *Entry) any {
			return fmt.Sprintf("%s|%s|%s|%s", e.Checks[0].Result, e.Checks[0].Note, e.Checks[0].By, e.Checks[0].Safety)
		}, "does not apply|it has no belt|k|no"},
		{"measured: [{what: w, value: about 31 psi, as_found: yes, system: engine}]", func(e *Entry) any { return spaced(e.Measured[0].AsFound, e.Measured[0].Value) }, "true about 31 psi"},
		{"measured: [{what: w, value: 30 to 34 psi}]", func(e *Entry) any {
			low, high, _, _ := e.Measured[0].Value.Bounds()
			return spaced(e.Measured[0].AsFound, low, high)
		}, "false 30 psi 34 psi"},
		{"tests: [{test: t, as_found: yes, a: 1 V}]", func(e *Entry) any { return spaced(e.Tests[0].AsFound, len(e.Tests[0].Inputs)) }, "true 1"},
		{"tests: [{test: t, as_found: no, a: 1 V}]", func(e *Entry) any { return spaced(e.Tests[0].AsFound, len(e.Tests[0].Inputs)) }, "false 1"},
		{"tests: [{test: t, as_found: 1 V}]", func(e *Entry) any { return spaced(e.Tests[0].AsFound, e.Tests[0].Inputs[0].Name) }, "false as_found"},
		{"by: A\nchecks: [{item: a, result: fails, system: drive}]\ndefects: [{key: seal, defect: it leaks, system: drive, safety: no, point: a}]", func(e *Entry) any { return spaced(e.Defects[0].Point, e.Defects[0].Safety) }, "a no"},
		{finds, func(e *Entry) any { return e.Defects[0].Safety }, NotSaid},
		{finds + "repaired: [{key: seal, how: h, of: it leaks, affects: [a, b]}]", func(e *Entry) any { return spaced(e.Repaired[0].Of, e.Repaired[0].Affects) }, "it leaks [a b]"},
		{finds + "worked_around: [{key: seal, how: h, affects: [a]}]", func(e *Entry) any { return spaced(e.WorkedAround[0].Affects) }, "[a]"},
		{finds + "parts: [{part: drive, source: used, system: drive}]\ngone: [{key: seal, with: drive}]", func(e *Entry) any { return e.Gone[0].Key + " " + e.Gone[0].With }, "seal drive"},
		{"changed: [{key: k, what: w, why: it broke off twice, safety: yes, adds: yes, affects: [a]}]", func(e *Entry) any {
			return spaced(e.Changed[0].Key, e.Changed[0].Safety, e.Changed[0].Adds, e.Changed[0].Affects)
		}, "k yes true [a]"},
		{"changed: [{what: w}]", func(e *Entry) any { return spaced(e.Changed[0].Key, e.Changed[0].Safety, e.Changed[0].Adds) }, "false"},
		{"changed: [{key: k, what: w}]\nput_back: [{key: k, how: as it was, affects: [a]}]", func(e *Entry) any { return spaced(e.PutBack[0].Key, e.PutBack[0].How, e.PutBack[0].Affects) }, "k as it was [a]"},
		{"parts: [{part: p, source: new, consumable: yes, replaces: q, affects: [a], answers: [b], fate: returned}]", func(e *Entry) any {
			p := e.Parts[0]
			return spaced(p.Consumable, p.Replaces, p.Affects, p.Answers, p.Fate)
		}, "true q [a] [b] returned"},
		{"parts: [{part: p, source: new}]", func(e *Entry) any { return spaced(e.Parts[0].Consumable, e.Parts[0].Replaces, e.Parts[0].Fate) }, "false  fitted"},
		{"worked_on: [engine, drive]", func(e *Entry) any { return spaced(e.WorkedOn[0].System, e.WorkedOn[1].System, e.WorkedOn[1].Field) }, "engine drive worked_on[1]"},
		{"service: [{what: oil, amount: 0.7 qt, grade: SAE 30, system: engine, every: 50 h, answers: [a]}]", func(e *Entry) any {
			s := e.Service[0]
			return strings.Join([]string{s.What, s.Amount, s.Grade, s.System, s.Every.Text, s.Answers[0]}, "|")
		}, "oil|0.7 qt|SAE 30|engine|50 h|a"},
	} {
		e, says := entry(t, c.fields, "")
		if len(says) > 0 {
			t.Errorf("%s: %v", c.fields, says)
			continue
		}
		if got, want := spaced(c.got(e)), spaced(c.want); got != want {
			t.Errorf("%s: got %s, want %s", c.fields, got, want)
		}
	}
}

// The same of a machine.
func TestNewFieldsOfAMachine(t *testing.T) {
	for _, c := range []struct {
		fields string
		got    func(m *Machine) string
		want   string
	}{
		{"meter_true: not known", func(m *Machine) string { return m.MeterTrue }, MeterNotKnown},
		{"meter_true: no", func(m *Machine) string { return m.MeterTrue }, MeterIsWrong},
		{"", func(m *Machine) string { return m.MeterTrue + spaced(len(m.Was), len(m.Has), len(m.Missing)) }, "0 0 0"},
		{"was: [old, older]", func(m *Machine) string { return strings.Join(m.Was, " ") }, "old older"},
		{"has: {reverse: no, electric start: yes}", func(m *Machine) string { return spaced(m.Has[0].What, m.Has[0].Has, m.Has[1].Has) }, "reverse false true"},
		{"missing: [crank, {part: guard, system: guards, safety: yes}]", func(m *Machine) string {
			return fmt.Sprintf("%s|%s|%s|%s|%s|%s", m.Missing[0].Part, m.Missing[0].System, m.Missing[0].Safety, m.Missing[1].Part, m.Missing[1].System, m.Missing[1].Safety)
		}, "crank|||guard|guards|yes"},
		{"limits: [{what: a, limit: 1 V to 2 V, system: electrical, safety: yes}]", func(m *Machine) string { return m.Limits[0].System + " " + string(m.Limits[0].Safety) }, "electrical yes"},
		{"limits: [{what: a, limit: 1 V to 2 V}]", func(m *Machine) string { return m.Limits[0].System + " " + string(m.Limits[0].Safety) }, " "},
		{"sheet: sled\nleave_out: [{item: runners are tight, why: it has no runners}]", func(m *Machine) string {
			return spaced(m.LeaveOut[0].Item, "|", m.LeaveOut[0].Why, "|", m.Sheet.ItemNamed("runners are tight") == nil, m.Sheet.ItemNamed("the rope holds") == nil)
		}, "runners are tight | it has no runners | true false"},
	} {
		sled := strings.Replace(ownSheet, "runners are tight, system: frame", "runners are tight, system: frame, safety: no", 1)
		shop, problems := readAll(t, folder(t, shopFile+machineOf(c.fields)+sled), keysOnly)
		if got := c.got(shop.Machines[0]); got != c.want || len(problems) > 0 {
			t.Errorf("%s: got %q, want %q, %v", c.fields, got, c.want, problems)
		}
	}
}

// The same of a sheet and of the systems of a shop.
func TestNewFieldsOfASheetAndAShop(t *testing.T) {
	shop, problems := readAll(t, folder(t, `-- shop.md --
---
shop: S
currency: USD
systems: [winch, {name: hydrostatic, part_of: [drive, hydraulics]}]
---
-- sheets/sled.md --
---
sheet: sled
blade: yes
generator: yes
leave_out: [{item: bell rings, why: sleds of this kind have none}]
items:
  - {item: rope holds, short: rope, look: Pull the rope., system: hydrostatic, answered_by: [rope pull], only_if: a rope}
---
`), keysOnly)
	same(t, said(problems, ""))
	if of, there := shop.PartOf["winch"]; !there || len(of) > 0 || spaced(shop.PartOf["hydrostatic"]) != "[drive hydraulics]" {
		t.Errorf("parts of %v", shop.PartOf)
	}
	s := shop.Sheets[0]
	i := s.Items[0]
	got := spaced(s.Blade, s.Generator, s.LeaveOut[0].Item, "|", s.LeaveOut[0].Why, "|", i.Short, "|", i.Look, "|", i.System, "|", i.Safety, "|", i.AnsweredBy, "|", i.OnlyIf)
	if want := "true true bell rings | sleds of this kind have none | rope | Pull the rope. | hydrostatic | | [rope pull] | a rope"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// What a built-in sheet says of its machines holds for their lists.
func TestBladesAndGenerators(t *testing.T) {
	for kind, want := range map[string]string{"lawn mower": "true false", "genset": "false true", "bicycle": "false false"} {
		shop, _ := readAll(t, folder(t, shopFile+machineOf("kind: "+kind)), keysOnly)
		s := shop.Machines[0].Sheet
		if got := spaced(s.Blade, s.Generator); got != want {
			t.Errorf("%s: blade and generator are %s", kind, got)
		}
	}
}

const findsSeal = "defects: [{key: seal, defect: it leaks, system: drive}, {key: belt, defect: it slips, system: implement}]\n"

// Each reference by name that leads nowhere is one problem, with the nearest
// name where there is one.
func TestReferences(t *testing.T) {
	const check = "checks: [{item: the bell rings, result: works, system: frame}]\n"
	for _, c := range []struct{ fields, says string }{
		{"changed: [{key: jet, what: w}]\nput_back: [{key: jet, how: as it was}]", ""},
		{"put_back: [{key: jet, how: as it was}]", "4:put_back[0].key=change-unknown"},
		{"changed: [{key: jets, what: w}]\nput_back: [{key: jet, how: as it was}]", "5:put_back[0].key=change-unknown-near"},
		{"changed: [{what: jet}]\nput_back: [{key: jet, how: as it was}]", "5:put_back[0].key=change-unknown"},
		{"checks: [{item: a, result: does not apply, note: it has no belt, system: drive, by: jet}]", "4:checks[0].by=change-unknown"},
		{"checks: [{item: a, result: does not apply, system: drive}]", "4:checks[0].note=required"},
		{"checks: [{item: a, result: does not apply, system: drive, note: n/a}]", "4:checks[0].note=no-reason"},
		{"put_back: [{key: jet}]", "4:put_back[0].how=required 4:put_back[0].key=change-unknown"},
		{check + "defects: [{key: a, defect: d, system: frame, point: The bell rings.}]", ""},
		{check + "defects: [{key: a, defect: d, system: frame, point: the bell ring}]", "5:defects[0].point=point-unknown-near"},
		{check + "defects: [{key: a, defect: d, system: frame, point: another thing altogether}]", "5:defects[0].point=point-unknown"},
		{findsSeal + "repaired: [{key: seal, how: h, of: It leaks.}]", ""},
		{findsSeal + "repaired: [{key: seal, how: h, of: it leakt}]", "6:repaired[0].of=wording-unknown-near"},
		{findsSeal + "repaired: [{key: seal, how: h, of: it slips}]", "6:repaired[0].of=wording-unknown"},
		{findsSeal + "gone: [{key: seal, with: the gearbox}]\nparts: [{part: the gearbox, source: used, system: drive}]", ""},
		{findsSeal + "gone: [{key: seal, with: box}]\nchanged: [{key: box, what: another gearbox, system: drive}]", ""},
		{findsSeal + "gone: [{key: seal, with: another gearbox}]\nchanged: [{key: box, what: another gearbox, system: drive}]", ""},
		{findsSeal + "gone: [{key: seal, with: the gearbox}]", "6:gone[0].with=gone-unknown"},
		{findsSeal + "gone: [{key: seal, with: the gearbx}]\nparts: [{part: the gearbox, source: used, system: drive}]", "6:gone[0].with=gone-unknown-near"},
		{findsSeal + "gone: [{key: seal, with: the gearbox}]\nparts: [{part: the gearbox, source: used, system: drive, fate: returned}]", "6:gone[0].with=gone-unknown"},
		{findsSeal + "gone: [{key: belt, with: the gearbox}]\nparts: [{part: the gearbox, source: used, system: drive}]", "6:gone[0].with=gone-elsewhere"},
		{findsSeal + "gone: [{key: seal, with: the gearbox}]\nparts: [{part: the gearbox, source: used}]", "6:gone[0].with=gone-elsewhere"},
		{findsSeal + "gone: [{key: sael, with: the gearbox}]", "6:gone[0].key=defect-unknown-near"},
		{findsSeal + "gone: [{key: belt, with: the gearbox}]\nparts: [{part: the gearbox, source: used, system: drive}, {part: the gearbox, source: used, system: implement}]", ""},
		{findsSeal + "gone: [{key: seal}]", "6:gone[0].with=required"},
	} {
		_, says := entry(t, strings.Replace(c.fields, findsSeal, findsSeal+"by: A\n", 1), "")
		if got := strings.Join(says, " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.fields, got, c.says)
		}
	}
}

// A part that was fitted after the defect is said to have gone with it is no
// answer, and neither is a change that comes later to a thing put back.
func TestGoneWithWhatCameBefore(t *testing.T) {
	part := "parts: [{part: the gearbox, source: used, system: drive}]"
	for says, days := range map[string][]string{
		"":                                  {findsSeal + part, "gone: [{key: seal, with: the gearbox}]"},
		"02.md:5:gone[0].with=gone-before":  {part, findsSeal + "gone: [{key: seal, with: the gearbox}]"},
		"03.md:4:gone[0].with=gone-before":  {findsSeal + part + "\nworked_around: [{key: seal, how: more oil}]", "defects: [{key: seal, defect: it leaks again, system: drive}]", "gone: [{key: seal, with: the gearbox}]"},
		"02.md:4:gone[0].with=gone-unknown": {findsSeal, "gone: [{key: seal, with: the gearbox}]", part},
		// A key that is used again is of another defect: where the first was, and where a
		// third will be, says nothing of it.
		"02.md:6:gone[0].with=gone-elsewhere": {findsSeal + part + "\ngone: [{key: seal, with: the gearbox}]", "defects: [{key: seal, defect: the tank leaks, system: fuel}]\n" + part + "\ngone: [{key: seal, with: the gearbox}]"},
		"01.md:6:gone[0].with=gone-elsewhere": {"defects: [{key: seal, defect: the tank leaks, system: fuel}]\n" + part + "\ngone: [{key: seal, with: the gearbox}]", findsSeal},
	} {
		archive := shopFile + machineFile
		for i, d := range days {
			archive += dayFile(i+1, d)
		}
		_, problems := readAll(t, folder(t, archive), keysOnly)
		if got := strings.ReplaceAll(strings.Join(said(problems, ""), " "), "machines/m/", ""); got != says {
			t.Errorf("got %s, want %s", got, says)
		}
	}
	_, problems := readAll(t, folder(t, shopFile+machineFile+dayFile(1, findsSeal+part+"\ngone: [{key: seal, with: the gearbox}]")+dayFile(2, "defects: [{key: seal, defect: it leaks, system: drive}]")+dayFile(3, brokenIn)), keysOnly)
	same(t, said(problems, "machines/m/03.md"), "4:=yaml-quote")
}

// A text that has to say something does so in three words, with a number or
// with a photo.
func TestWhatSaysNothing(t *testing.T) {
	const seal = "defects: [{key: a, defect: d, system: drive}]\n"
	for _, text := range []string{"'no'", "none", "n/a", "ok", "'-'", "TODO", "dry", "works fine", "'\u200b'", "'. . . .'", "\u200b\u200b \u200b"} {
		for _, c := range []struct{ field, fields string }{
			{"repaired[0].proof=says-nothing", seal + "repaired: [{key: a, how: h, proof: %s}]"},
			{"changed[0].why=no-reason", "by: A\nchanged: [{what: w, why: %s}]"},
			{"checks[0].note=no-reason", "by: A\nchecks: [{item: a, system: drive, result: does not apply, note: %s}]"},
		} {
			_, says := entry(t, fmt.Sprintf(c.fields, text), "")
			if got := strings.Join(says, " "); !strings.Contains(got, "5:"+c.field) && !strings.Contains(got, "control-character") {
				t.Errorf("%s of %q: %s", c.field, text, got)
			}
		}
	}
	for _, text := range []string{"ran an hour", "61 psi", "10", "no drip overnight", "trocken nach zwei Stunden"} {
		_, says := entry(t, seal+"repaired: [{key: a, how: h, proof: "+text+"}]\nchanged: [{what: w, why: "+text+"}]", "")
		same(t, says)
	}
	_, says := entry(t, seal+"repaired: [{key: a, how: h, proof: dry, photo: p.jpg}]\nphotos: [{file: p.jpg}]", "", "-- machines/m/photos/p.jpg --\nx\n")
	same(t, says)
}

// Safety is yes or no, or it was not said. Anything else is a problem and not a
// no.
func TestSafetyHasThreeValues(t *testing.T) {
	for text, want := range map[string]Safety{"yes": SafetyYes, "no": SafetyNo, "true": SafetyYes, "False": SafetyNo, "''": NotSaid, "": NotSaid} {
		e, says := entry(t, "defects: [{key: a, defect: d, system: drive, safety: "+text+"}]", "")
		if same(t, says); e.Defects[0].Safety != want {
			t.Errorf("%q is read as %q", text, e.Defects[0].Safety)
		}
	}
	for _, text := range []string{"y", "maybe", "0", "n", "sometimes"} {
		e, says := entry(t, "defects: [{key: a, defect: d, system: drive, safety: "+text+"}]", "")
		if same(t, says, "4:defects[0].safety=safety"); e.Defects[0].Safety != NotSaid {
			t.Errorf("%q is read as %q", text, e.Defects[0].Safety)
		}
	}
	for _, c := range [][3]Safety{{SafetyYes, SafetyNo, SafetyYes}, {SafetyNo, NotSaid, NotSaid}, {NotSaid, SafetyYes, SafetyYes}, {SafetyNo, SafetyNo, SafetyNo}, {NotSaid, NotSaid, NotSaid}} {
		if c[0].Graver(c[1]) != c[2] || c[1].Graver(c[0]) != c[2] {
			t.Errorf("the graver of %q and %q is %q", c[0], c[1], c[0].Graver(c[1]))
		}
	}
}

// A system is one name in one spelling: no other case, spacing or number makes
// it another.
func TestSystemsWrittenInAnotherWay(t *testing.T) {
	shop := strings.Replace(shopFile, "currency", "systems: [main winch]\ncurrency", 1)
	for _, c := range []struct{ system, want, says string }{
		{"guards", "guards", ""},
		{"Guards", "guards", "4:defects[0].system=system-written"},
		{"guard", "guards", "4:defects[0].system=system-written"},
		{"GUARD S", "guards", "4:defects[0].system=system-written"},
		{"brake", "brakes", "4:defects[0].system=system-written"},
		{"main-winch", "main winch", "4:defects[0].system=system-written"},
		{"main winches", "", "4:defects[0].system=not-one-of-near"},
		{"spring", "", "4:defects[0].system=not-one-of"},
	} {
		read, problems := readAll(t, folder(t, shop+machineFile+entryFile("e", "defects: [{key: a, defect: d, system: "+c.system+"}]", "")), keysOnly)
		got, says := read.Machines[0].Entries[0].Defects[0].System, strings.Join(said(problems, "machines/m/e.md"), " ")
		if got != c.want || says != c.says {
			t.Errorf("%s: read as %q, %s; want %q, %s", c.system, got, says, c.want, c.says)
		}
	}
	for _, c := range []struct{ systems, says string }{
		{"[winch]", ""},
		{"[Guards]", "4:systems[0]=system-twice"},
		{"[winch, Winches, winch s]", "4:systems[2]=system-twice"},
		{"[{name: gu\u0430rds, part_of: [frame]}]", "4:systems[0]=system-twice"},                 // with a Cyrillic letter
		{"[{name: \u0261u\u0251rd, part_of: [frame]}]", "4:systems[0]=system-twice"},             // with two rare Latin ones
		{"[{name: \uff22\uff32akes, part_of: [frame]}]", "4:systems[0]=system-twice"},            // with wide ones
		{"[{name: br\u0430k\u034f\u0435\u0455, part_of: [frame]}]", "4:systems[0]=system-twice"}, // with one that nobody sees
		{"[\u0442\u043e\u0440\u043c\u043e\u0437\u0430]", ""},                                     // a word of its own
		{"[{name: winch, part_of: [drive]}]", ""},
		{"[{name: Brake, part_of: [drive]}]", "4:systems[0]=system-twice"},
		{"[{name: winch}]", "4:systems[0].part_of=required"},
		{"[{name: winch, part_of: [pond]}]", "4:systems[0].part_of[0]=not-one-of"},
		{"[{part_of: [drive]}]", "4:systems[0].name=required"},
	} {
		_, problems := readAll(t, folder(t, "-- shop.md --\n---\nshop: S\ncurrency: USD\nsystems: "+c.systems+"\n---\n"), keysOnly)
		if got := strings.Join(said(problems, "shop.md"), " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.systems, got, c.says)
		}
	}
}

// Points leave the list only where they are no matter of safety and were never
// answered; in a sheet as in machine.md.
func TestLeaveOut(t *testing.T) {
	sled := "-- sheets/sled.md --\n---\nsheet: gravity sled\nleave_out: [{item: the bell rings, why: sleds of 1950 have no bell}]\nitems:\n" +
		"  - {item: the rope holds, system: frame, safety: yes}\n  - {item: runners are tight, system: frame, safety: no}\n  - {item: the bell rings, system: frame, safety: no}\n  - {item: the flag is on, system: frame}\n  - {item: rail is on, system: guards, safety: no}\n---\n"
	for _, c := range []struct{ out, checks, says string }{
		{"{item: Runners are tight, why: it has no runners}", "", ""},
		{"{item: runners are tigt, why: it has no runners}", "", "5:leave_out[0].item=leave-out-none-near"},
		{"{item: the bell is loud, why: it has no bell}", "", "5:leave_out[0].item=leave-out-none"},
		{"{item: the rope holds, why: it has no rope}", "", "5:leave_out[0].item=leave-out-safety"},
		{"{item: the flag is on, why: it has no flag}", "", "5:leave_out[0].item=leave-out-safety"}, // nobody said that it is none
		{"{item: rail is on, why: it has no rail}", "", "5:leave_out[0].item=leave-out-safety"},
		{"{item: runners are tight, why: it has no runners}", "checks: [{item: runners are tight, result: works}]", "5:leave_out[0].item=leave-out-answered"},
		{"{item: runners are tight}", "", "5:leave_out[0].why=required"},
		{"{item: runners are tight, why: none}", "", "5:leave_out[0].why=no-reason"},
		{"{why: it has no runners}", "", "5:leave_out[0].item=required"},
	} {
		archive := shopFile + sled + machineOf("kind: gravity sled\nleave_out: ["+c.out+"]") + entryFile("e", c.checks, "")
		shop, problems := readAll(t, folder(t, archive), keysOnly)
		if got := strings.Join(said(problems, "machines/m/machine.md"), " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.out, got, c.says)
		}
		if m := shop.Machines[0]; m.Sheet.ItemNamed("the bell rings") != nil || m.LeaveOut[0].Item != "the bell rings" {
			t.Errorf("%s: the sheet's own was not left out: %v", c.out, m.LeaveOut)
		}
	}
	// A system of the shop's own that is part of the brakes is one of them.
	for of, want := range map[string]string{"brakes": "5:leave_out[0].item=leave-out-safety", "drive": ""} {
		archive := "-- shop.md --\n---\nshop: S\ncurrency: USD\nsystems: [{name: retarder, part_of: [" + of + "]}]\n---\n-- sheets/sled.md --\n---\nsheet: gravity sled\nitems: [{item: it slows down, system: retarder, safety: no}]\n---\n" +
			machineOf("kind: gravity sled\nleave_out: [{item: it slows down, why: it has none of that}]")
		_, problems := readAll(t, folder(t, archive), keysOnly)
		if got := strings.Join(said(problems, "machines/m/machine.md"), " "); got != want {
			t.Errorf("part of the %s: got %s, want %s", of, got, want)
		}
	}
}

func TestMoreThanAGaugeShows(t *testing.T) {
	for _, c := range []struct{ value, says string }{
		{"about 31 psi", ""},
		{"30 to 34 psi", ""},
		{"over 160 psi", ""},
		{"roughly", "4:measured[0].value=quantity"},
		{"31", "4:measured[0].value=quantity"},
	} {
		e, says := entry(t, "measured: [{what: w, value: "+c.value+"}]", "")
		if got := strings.Join(says, " "); got != c.says || c.says == "" && e.Measured[0].Value.Dimension() != quantity.Pressure {
			t.Errorf("%s: %s", c.value, got)
		}
	}
}

// A difference of temperatures converts by 5/9 alone: a rise of 100 degF is one of 55.6
// degC, and outside 40 degC, which 100 degF (37.8 degC) is not. Nor is anything held
// against a limit of another kind, or a voltage that alternates against one that does not.
func TestReadingsThatFitNoLimit(t *testing.T) {
	for _, tc := range []struct{ value, limit, says string }{
		{"100 degF", "<= 40 degC", "limit-scale"},
		{"50 degC", "<= 100 degF", "limit-scale"},
		{"300 degF", "<= 40 degC", ""},       // outside, whichever it is
		{"60 degF", "<= 40 degC", ""},        // inside, whichever it is
		{"about 100 degF", "<= 40 degC", ""}, // too close, whichever it is
		{"98 to 100 degF", "<= 40 degC", "limit-scale"},
		{"< 100 degF", "<= 40 degC", "limit-scale"},
		{"about 100 degF, gauge: 2 degF", "<= 40 degC", "limit-scale"},
		{"300 to 310 degF", "<= 40 degC", ""},
		{"100 degF", "<= 104 degF", ""},
		{"100 psi", "<= 40 degC", "limit-dimension"},
		{"13 VAC", ">= 12 VDC", "limit-dimension"},
		{"13 VDC", "12 to 14 VAC", "limit-dimension"},
		{"13 V", ">= 12 VDC", ""},
		{"13 VDC", ">= 12 VDC", ""},
		{"13 VAC", ">= 12 V", ""},
		{"20 psi", "<= 1 bar", ""},
	} {
		machine := "-- machines/m/machine.md --\n---\nname: M\nkind: k\narrived: 2026-01-01\nlimits: [{what: head, limit: \"" + tc.limit + "\"}]\n---\n"
		_, problems := readAll(t, folder(t, shopFile+machine+dayFile(1, "measured: [{what: head, value: "+tc.value+"}]")), keysOnly)
		want := ""
		if tc.says != "" {
			want = "machines/m/01.md:4:measured[0].value=" + tc.says
		}
		if got := strings.Join(said(problems, ""), " "); got != want {
			t.Errorf("%s against %s: got %s, want %s", tc.value, tc.limit, got, want)
		}
	}
}
