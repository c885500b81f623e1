package handover

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/jcs"
	"asleft/generator/record"
)

const (
	machineFile = "machines/pump/machine.md"
	secondFile  = "machines/pump/2026-03-09-second.md"
)

// A mended file is one of the shop's with something else in place of a text, which
// has to be in it.
func mended(t *testing.T, text, was, now string) string {
	t.Helper()
	if strings.Count(text, was) != 1 {
		t.Fatalf("%q stands %d times in %s", was, strings.Count(text, was), text)
	}
	return strings.Replace(text, was, now, 1)
}

// What no subject of the report holds vanishes as little as what one does: each row
// edits one place of the log after the seal, and is told that and nothing else.
func TestNothingVanishesBesideTheSubjects(t *testing.T) {
	shop := strings.Replace(shopFile, "web:", "terms: Thirty days to bring it back\nweb:", 1)
	machine := strings.Replace(machineText, "arrived:", `stage: for sale
asking: 90.00
engine: {strokes: 4, bore: 62 mm}
motor: {power: 3 kW, volts: 115 V}
attachments: [{name: side stand, note: its weld is cracked}, {name: basket}]
limits:
  - {what: pad thickness, limit: '>= 1 mm', source: maker's sheet, system: brakes}
arrived:`, 1)
	first := `---
date: 2026-03-02
title: First look
by: our boy
odometer: 42000 mi
meter: 412.6 h
diagnosis:
  - {tried: pulled the plug, saw: it is wet, so: too much fuel, system: fuel}
  - {tried: looked at the float, saw: it sticks, system: fuel}
measured:
  - {what: pad thickness, value: 3 mm, gauge: 2 mm, system: brakes}
  - {what: charge current, value: "-5 A", system: electrical}
defects:
  - {key: drag, defect: brake drags, system: brakes, safety: yes}
---
`
	second := `---
date: 2026-03-09
title: Pads
by: our boy
odometer: 42010 mi
parts:
  - {part: brake pads, number: BP-12, each: 4.00, source: new, vendor: a shop in town, warranty: 90 days, system: frame}
service:
  - {what: engine oil, amount: 20 fl oz, grade: SAE 30, system: engine, every: 25 h}
---
`
	files := map[string]string{"shop.md": shop, machineFile: machine, firstFile: first, secondFile: second}
	for rule, tc := range map[string]struct {
		file, was, now string
		want           []string
	}{
		"nothing": {firstFile, "by: our boy", "by: our boy", nil},
		"an odometer rewritten": {firstFile, "42000 mi", "4200 mi", []string{
			"-The odometer on March 2, 2026: it reads otherwise now. It was: 42000 mi. It is: 4200 mi.",
		}},
		"an odometer that cannot be read any more": {secondFile, "42010 mi", "unknown", []string{
			"-The odometer on March 9, 2026: it reads otherwise now. It was: 42010 mi. It is: unknown.",
		}},
		"an odometer taken out": {firstFile, "odometer: 42000 mi\n", "", []string{
			"-The odometer on March 2, 2026: the log does not say it any more. It was: 42000 mi.",
		}},
		"a step of a diagnosis taken out": {firstFile, "  - {tried: pulled the plug, saw: it is wet, so: too much fuel, system: fuel}\n", "", []string{
			"-The search for a fault on March 2, 2026: the log does not say it any more. It was: pulled the plug; it is wet; too much fuel; fuel.",
		}},
		"a diagnosis reworded": {firstFile, "so: too much fuel", "so: nothing", []string{
			"-The search for a fault on March 2, 2026: it reads otherwise now. It was: pulled the plug; it is wet; too much fuel; fuel. It is: pulled the plug; it is wet; nothing; fuel.",
		}},
		"a diagnosis written into an old entry": {firstFile, "diagnosis:\n", "diagnosis:\n  - {tried: new plug, so: all is well}\n", []string{
			"The log says now what it did not. The search for a fault on March 2, 2026: new plug; all is well.",
		}},
		"an attachment taken out": {machineFile, "[{name: side stand, note: its weld is cracked}, {name: basket}]", "[{name: basket}]", []string{
			"-What comes with it, “side stand”: the log does not say it any more. It was: side stand (its weld is cracked).",
		}},
		"all attachments taken out": {machineFile, "attachments: [{name: side stand, note: its weld is cracked}, {name: basket}]\n", "", []string{
			"-What comes with it, “side stand”: the log does not say it any more. It was: side stand (its weld is cracked).",
			"-What comes with it, “basket”: the log does not say it any more. It was: basket.",
		}},
		"the note of an attachment taken out": {machineFile, ", note: its weld is cracked", "", []string{
			"-What comes with it, “side stand”: it reads otherwise now. It was: side stand (its weld is cracked). It is: side stand.",
		}},
		"a figure of a plate rewritten": {machineFile, "power: 3 kW", "power: 8 kW", []string{
			"-Motor, power: it reads otherwise now. It was: 3 kW. It is: 8 kW.",
		}},
		"a figure of a plate taken out": {machineFile, ", volts: 115 V", "", []string{
			"-Motor, volts: the log does not say it any more. It was: 115 V.",
		}},
		"a figure of an engine rewritten": {machineFile, "bore: 62 mm", "bore: 72 mm", []string{
			"-Engine, bore: it reads otherwise now. It was: 62 mm. It is: 72 mm.",
		}},
		"a figure of an engine written in": {machineFile, "strokes: 4", "strokes: 4, fuel: gasoline", []string{
			"The log says now what it did not. Engine, fuel: gasoline.",
		}},
		"terms rewritten": {"shop.md", "terms: Thirty days to bring it back", "terms: as is", []string{
			"-The terms of the shop: it reads otherwise now. It was: Thirty days to bring it back. It is: as is.",
		}},
		"terms taken out": {"shop.md", "terms: Thirty days to bring it back\n", "", []string{
			"-The terms of the shop: the log does not say it any more. It was: Thirty days to bring it back.",
		}},
		"who wrote it rewritten": {firstFile, "by: our boy", "by: a state inspector", []string{
			"-Who wrote the entry of March 2, 2026: it reads otherwise now. It was: our boy. It is: a state inspector.",
		}},
		"who wrote it taken out": {firstFile, "by: our boy\n", "", []string{
			"-Who wrote the entry of March 2, 2026: the log does not say it any more. It was: our boy.",
		}},
		"the system of a defect rewritten": {firstFile, "defect: brake drags, system: brakes", "defect: brake drags, system: frame", []string{
			"-The system of “brake drags”: it reads otherwise now. It was: brakes. It is: frame.",
		}},
		"the system of a reading taken out": {firstFile, `value: "-5 A", system: electrical`, `value: "-5 A"`, []string{
			"-The system of “charge current”: the log does not say it any more. It was: electrical.",
		}},
		"a gauge rewritten": {firstFile, "gauge: 2 mm", "gauge: 1.9 mm", []string{
			"-The gauge of “pad thickness” on March 2, 2026: it reads otherwise now. It was: 2 mm. It is: 1.9 mm.",
		}},
		"a gauge taken out": {firstFile, ", gauge: 2 mm", "", []string{
			"-The gauge of “pad thickness” on March 2, 2026: the log does not say it any more. It was: 2 mm.",
		}},
		"a warranty taken out": {secondFile, ", warranty: 90 days", "", []string{
			"-The warranty of “brake pads” on March 9, 2026: the log does not say it any more. It was: 90 days.",
		}},
		"a part in another system": {secondFile, "warranty: 90 days, system: frame", "warranty: 90 days, system: fuel", []string{
			"-The system of “brake pads” on March 9, 2026: it reads otherwise now. It was: frame. It is: fuel.",
		}},
		"a part that was not fitted": {secondFile, "warranty: 90 days, system: frame", "warranty: 90 days, system: frame, fate: returned", []string{
			"-The fate of “brake pads” on March 9, 2026: it reads otherwise now. It was: fitted. It is: returned.",
		}},
		"a part's number, spacing and hyphens aside": {secondFile, "number: BP-12", "number: BP- 12", nil},
		"an interval made longer": {secondFile, "every: 25 h", "every: 100 h", []string{
			"-The interval of “engine oil” on March 9, 2026: it reads otherwise now. It was: 25 h. It is: 100 h.",
		}},
		"the sign of a reading turned round": {firstFile, `"-5 A"`, `"5 A"`, []string{
			"-What the log said on March 2, 2026 of “charge current” reads otherwise now. It was: -5 A. It is: 5 A.",
		}},
		"the point of a reading moved": {firstFile, "412.6 h", "41.26 h", []string{
			"-What the log said on March 2, 2026 of “hour meter” reads otherwise now. It was: 412.6 h. It is: 41.26 h.",
		}},
		"a limit turned round": {machineFile, ">= 1 mm", "<= 1 mm", []string{
			"-It is not held against this limit any more: pad thickness, 1 mm or more.",
			"It is held against another limit now: pad thickness, 1 mm or less.",
			"Then in order; now too close to call: pad thickness.",
		}},
		"the source of a limit rewritten": {machineFile, "maker's sheet", "our own", []string{
			"-The source of the limit 1 mm or more of “pad thickness”: it reads otherwise now. It was: maker's sheet. It is: our own.",
		}},
	} {
		t.Run(rule, func(t *testing.T) {
			got := sinceOf(t, files, map[string]string{tc.file: mended(t, files[tc.file], tc.was, tc.now)})
			if diff := cmp.Diff(tc.want, got); diff != "" {
				t.Errorf("(-want, +got):\n%s", diff)
			}
		})
	}
	t.Run("who wrote two entries of a day, exchanged", func(t *testing.T) {
		other := "machines/pump/2026-03-02-second.md"
		more := map[string]string{"shop.md": shop, machineFile: machine, firstFile: first, other: "---\ndate: 2026-03-02\ntitle: Later\nby: a state inspector\n---\n"}
		got := sinceOf(t, more, map[string]string{
			firstFile: mended(t, first, "by: our boy", "by: a state inspector"), other: mended(t, more[other], "by: a state inspector", "by: our boy"),
		})
		if len(got) != 2 || !strings.HasPrefix(got[0], "-Who wrote the entry of March 2, 2026") || !strings.HasPrefix(got[1], "-Who wrote the entry of March 2, 2026") {
			t.Errorf("it says %q", got)
		}
	})
	t.Run("an entry that is gone takes its author and its gauge with it", func(t *testing.T) {
		got := strings.Join(sinceOf(t, files, map[string]string{firstFile: ""}), "\n")
		for _, want := range []string{"-An entry is gone.", "-The odometer on March 2, 2026:", "-The search for a fault on March 2, 2026:"} {
			if !strings.Contains(got, want) {
				t.Errorf("it does not say %q:\n%s", want, got)
			}
		}
		if strings.Contains(got, "Who wrote") || strings.Contains(got, "The gauge") {
			t.Errorf("it says twice what is gone:\n%s", got)
		}
	})
	t.Run("an entry renamed and redated keeps what it says", func(t *testing.T) {
		got := sinceOf(t, files, map[string]string{firstFile: "", "machines/pump/2026-03-03-first.md": mended(t, first, "date: 2026-03-02", "date: 2026-03-03")})
		if diff := cmp.Diff([]string{"-An entry has another date: First look. It was March 2, 2026. It is March 3, 2026."}, got); diff != "" {
			t.Errorf("(-want, +got):\n%s", diff)
		}
	})
	t.Run("terms of a machine that is not for sale any more", func(t *testing.T) {
		got := sinceOf(t, files, map[string]string{machineFile: mended(t, machine, "stage: for sale\nasking: 90.00\n", "")})
		if strings.Contains(strings.Join(got, "\n"), "terms") {
			t.Errorf("it says %q", got)
		}
	})
	t.Run("a new entry", func(t *testing.T) {
		got := sinceOf(t, files, map[string]string{"machines/pump/2026-04-01-third.md": "---\ndate: 2026-04-01\ntitle: Third\nby: AB\nodometer: 42020 mi\ndiagnosis:\n  - {tried: new plug, so: all is well}\n---\n"})
		if diff := cmp.Diff([]string{
			"A new entry of April 1, 2026: Third.",
			"The log says now what it did not. The odometer on April 1, 2026: 42020 mi.",
			"The log says now what it did not. The search for a fault on April 1, 2026: new plug; all is well.",
		}, got); diff != "" {
			t.Errorf("(-want, +got):\n%s", diff)
		}
	})
}

// A change that the shop says makes the machine safer is not open once a safety point
// passes after it. Written in after the seal, it turns round what was said; said at the
// seal, the pass alone is news.
func TestWhatIsOpenIsNotClosedByAWord(t *testing.T) {
	const (
		plainly = "changed:\n  - {key: seat, what: seat switch wired around, system: guards, safety: yes}\n"
		safer   = "changed:\n  - {key: seat, what: seat switch wired around, system: guards, safety: yes, adds: yes}\n"
		fails   = "checks:\n  - {item: parking brake holds on a slope, result: fails}\n"
		passes  = "checks:\n  - {item: belt and pulley covers are in place, result: works}\n  - {item: parking brake holds on a slope, result: works}\n"
	)
	entry := func(day, fields string) string {
		return "---\ndate: 2026-03-" + day + "\ntitle: Evening\n" + fields + "---\n"
	}
	mower := func(changed string) map[string]string {
		return map[string]string{machineFile: strings.Replace(machineText, "arrived:", "kind: ride-on mower\narrived:", 1), firstFile: entry("02", fails+changed)}
	}
	pass := map[string]string{"machines/pump/2026-03-25-fifth.md": entry("25", passes)}
	both := func(one, other map[string]string) map[string]string {
		all := map[string]string{}
		for _, files := range []map[string]string{one, other} {
			for name, text := range files {
				all[name] = text
			}
		}
		return all
	}
	const (
		turned  = "-The shop says now that this change makes the machine safer, and did not say so then: seat switch wired around."
		unsaid  = "-The shop said that this change makes the machine safer, and does not say so now: seat switch wired around."
		notOpen = "Then it was told first, as a matter of safety, and it is not now: seat switch wired around."
	)
	for rule, tc := range map[string]struct {
		before, files map[string]string
		want          string
	}{
		"written in with the pass":            {mower(plainly), both(mower(safer), pass), turned},
		"written in after the pass":           {both(mower(plainly), pass), mower(safer), turned},
		"written in and still open":           {mower(plainly), mower(safer), turned},
		"said at the seal, and the pass":      {mower(safer), pass, notOpen},
		"taken out":                           {both(mower(safer), pass), mower(plainly), unsaid},
		"the pass alone, and never said":      {mower(plainly), pass, ""},
		"written in, and the change reworded": {mower(plainly), mower(strings.Replace(safer, "wired around", "made better", 1)), turned},
	} {
		t.Run(rule, func(t *testing.T) {
			var told []string
			for _, line := range sinceOf(t, tc.before, tc.files) {
				if line == turned || line == unsaid || line == notOpen {
					told = append(told, line)
				}
			}
			if got := strings.Join(told, "\n"); got != tc.want {
				t.Errorf("it says %q, want %q", got, tc.want)
			}
		})
	}
}

// A report that was sealed before there was a list of what stands beside the subjects is
// held against what it has, and nothing else is told of it; its bytes stay as they are.
func TestAnOlderReportIsHeldAgainstWhatItHolds(t *testing.T) {
	first := strings.Replace(firstEntry, "ran:", "by: our boy\nodometer: 42000 mi\ndiagnosis:\n  - {tried: new plug, so: no better, system: fuel}\nran:", 1)
	first = strings.Replace(first, "defects:", "changed:\n  - {what: switch moved, why: out of reach before, system: guards}\ndefects:", 1)
	fs := shopWith(t, map[string]string{firstFile: first})
	older := func() *Facts {
		facts := prepared(t, fs, "2026-03-20").Facts
		facts.Beside = nil
		text, err := facts.canonical()
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), `"beside"`) {
			t.Error("what a report does not hold changes its bytes")
		}
		var read Facts
		if err := json.Unmarshal(text, &read); err != nil {
			t.Fatal(err)
		}
		if again, err := jcs.Marshal(&read); err != nil || string(again) != string(text) {
			t.Errorf("read and written again its bytes are others: %v", err)
		}
		return &read
	}()
	for rule, tc := range map[string]struct {
		was, now string
		want     []string
	}{
		"the same":                {"by: our boy", "by: our boy", nil},
		"an odometer rewritten":   {"42000 mi", "4200 mi", []string{"-The odometer on March 2, 2026: it reads otherwise now. It was: 42000 mi. It is: 4200 mi."}},
		"a gauge rewritten":       {"gauge: 1 psi", "gauge: 0.1 psi", []string{"-The gauge of “compression (cold)” on March 2, 2026: it reads otherwise now. It was: ± 1 psi. It is: ± 0.1 psi."}},
		"who wrote it":            {"by: our boy", "by: a state inspector", nil},
		"a diagnosis":             {"so: no better", "so: much better", nil},
		"that a change adds":      {"why: out of reach before", "why: out of reach before, adds: yes", []string{"Then it was told first, as a matter of safety, and it is not now: switch moved."}},
		"the system of a defect":  {"floor, system: engine", "floor, system: fuel", []string{"-The system of “seal leaks”: it reads otherwise now. It was: engine. It is: fuel."}},
		"an odometer redated too": {"date: 2026-03-02", "date: 2026-03-05", []string{"-An entry has another date: First look. It was March 2, 2026. It is March 5, 2026."}},
	} {
		t.Run(rule, func(t *testing.T) {
			write(t, fs, firstFile, []byte(mended(t, first, tc.was, tc.now)))
			if diff := cmp.Diff(tc.want, toldOf(Since(older, todayOf(t, fs, "2026-06-01"), catalog.English))); diff != "" {
				t.Errorf("(-want, +got):\n%s", diff)
			}
		})
	}
	t.Run("a new report always has the list", func(t *testing.T) {
		if made := sealed(t, shopWith(t, nil), afero.NewMemMapFs(), nil, "2026-03-03"); made.Seal.Facts.Beside == nil {
			t.Error("it has none")
		}
	})
}

// Values are the same to the sign, and in nothing but their spacing may they differ.
func TestSameValue(t *testing.T) {
	for _, tc := range []struct {
		one, other string
		same       bool
	}{
		{"5 A", "5A", true}, {"-5 A", "−5 A", true}, {">= 60 s", "≥60 s", true}, {"<= 60 s", "≤ 60 s", true},
		{"-5 A", "5 A", false}, {"> 1 mm", "< 1 mm", false}, {"412.6 h", "4126 h", false}, {"5 mW", "5 MW", false}, {"", "0", false},
	} {
		if got := sameValue(tc.one, tc.other); got != tc.same {
			t.Errorf("%q and %q: %v", tc.one, tc.other, got)
		}
	}
}

// Of two things with one name each is held against the one that says the same.
func TestTwoAttachmentsOfOneName(t *testing.T) {
	baskets := func(notes ...string) func(*Facts) {
		return func(f *Facts) {
			f.Record.Machine.Attachments = []record.Attachment{}
			for _, note := range notes {
				f.Record.Machine.Attachments = append(f.Record.Machine.Attachments, record.Attachment{Name: "basket", Note: note})
			}
		}
	}
	none := func(f *Facts) { f.Record.Machine.Attachments = nil }
	const new = "The log says now what it did not. What comes with it, “basket”: basket (is torn)."
	checkTales(t, map[string]tale{
		"the same":           {baskets("is torn", "is whole"), baskets("is whole", "is torn"), nil},
		"one changed":        {baskets("is torn", "is whole"), baskets("is whole", "is bent"), []string{"-What comes with it, “basket”: it reads otherwise now. It was: basket (is torn). It is: basket (is bent)."}},
		"one less":           {baskets("is torn", "is whole"), baskets("is whole"), []string{"-What comes with it, “basket”: the log does not say it any more. It was: basket (is torn)."}},
		"one more":           {baskets("is whole"), baskets("is whole", "is torn"), []string{new}},
		"the first":          {baskets(), baskets("is torn"), []string{new}},
		"none could be told": {none, baskets("is torn"), nil},
	})
}

// Two lines of one part are each held against the one that says the same.
func TestLinesAreHeldAgainstTheirOwn(t *testing.T) {
	parts := func(all ...record.Part) func(*Facts) {
		return func(f *Facts) {
			for i := range all {
				all[i].Part, all[i].Date = "pad", "2026-03-02"
			}
			f.Record.Parts = all
		}
	}
	held := func(of func(*Facts)) func(*Facts) {
		return func(f *Facts) {
			of(f)
			f.Beside = []Beside{}
		}
	}
	checkTales(t, map[string]tale{
		"in another order": {parts(record.Part{Warranty: "90 days"}, record.Part{Warranty: "1 year"}), parts(record.Part{Warranty: "1 year"}, record.Part{Warranty: "90 days"}), nil},
		"one of two changed": {parts(record.Part{Warranty: "90 days"}, record.Part{Warranty: "1 year"}), parts(record.Part{Warranty: "1 year"}, record.Part{Warranty: "9 days"}), []string{
			"-The warranty of “pad” on March 2, 2026: it reads otherwise now. It was: 90 days. It is: 9 days.",
		}},
		"written in": {held(parts(record.Part{})), parts(record.Part{Vendor: "Somebody"}), []string{"The log says now what it did not. The vendor of “pad” on March 2, 2026: Somebody."}},
		"not held":   {parts(record.Part{}), parts(record.Part{Vendor: "Somebody"}), nil},
		"in words":   {parts(record.Part{Vendor: "A shop, in town"}), parts(record.Part{Vendor: "a shop in town."}), nil},
	})
}

// Where a machine is not for sale, its report has no terms, and no list of them either.
func TestTermsAreOfAMachineForSale(t *testing.T) {
	terms := func(machine string) (n int) {
		shop := map[string]string{"shop.md": strings.Replace(shopFile, "web:", "terms: as is\nweb:", 1), machineFile: machine}
		for _, b := range prepared(t, shopWith(t, shop), "2026-03-20").Facts.Beside {
			if b.Of == besideTerms {
				n++
			}
		}
		return n
	}
	if n := terms(machineText); n != 0 {
		t.Errorf("in the shop: %d terms", n)
	}
	if n := terms(strings.Replace(machineText, "arrived:", "stage: for sale\nasking: 9.00\narrived:", 1)); n != 1 {
		t.Errorf("for sale: %d terms", n)
	}
}

// The system of a thing that had none is news, and one more takes nothing back.
func TestSystemsWrittenIn(t *testing.T) {
	in := func(systems ...string) func(*Facts) {
		return subjects(record.Subject{Kind: "change", Name: "a new seat", Systems: systems})
	}
	checkTales(t, map[string]tale{
		"none then":    {in(), in("frame"), []string{"The log says now what it did not. The system of “a new seat”: frame."}},
		"one more":     {in("frame"), in("frame", "drive"), nil},
		"one of two":   {in("frame", "drive"), in("frame"), []string{"-The system of “a new seat”: it reads otherwise now. It was: frame; drive. It is: frame."}},
		"another case": {in("frame"), in("Frame"), nil},
	})
}
