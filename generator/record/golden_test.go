package record

import (
	"bytes"
	"path/filepath"
	"slices"
	"testing"

	"asleft/generator/testenv"
)

// rare is a machine with what the example's have not: facts of which each changes a line of
// the record.
func rare(t *testing.T) Record {
	t.Helper()
	all, _ := records(t, written(t, `kind: ride-on mower
maker: Pellworth
stage: for sale
asking: 120.00
meter_true: not known
engines: [{name: front, strokes: 4, cylinders: 1, bore: 2.700 in, stroke: 2.150 in, fuel: gasoline}, {name: rear, strokes: 2}]
battery: {name: starting, kind: lead-acid, volts: 12 V}
attachments: [{name: snow blade, maker: Pellworth, model: SB 42, note: its angle pin is bent}]
missing: [{part: grass bag, system: implement, safety: no}]
limits: [{what: blade tip clearance, limit: ">= 3 mm", source: maker's sheet, system: implement, safety: yes}]
`,
		"meter: 100 h\nodometer: 4200 mi\nran: \"0:20\"\nhours: 1.5\nby: JM\nmeasured: [{what: blade tip clearance, value: 2 mm, gauge: 0.1 mm, as_found: yes}]\nchecks: [{item: parking brake holds on a slope, result: works, note: held a minute}, {item: the bell rings, result: does not apply, note: it has none, system: controls, safety: no}]\n",
		"meter_replaced: {old: 100.5 h, new: 0 h}\nmeter: 0 h\nparts: [{part: belt, qty: 1, each: 14.25, source: new, system: drive}, {part: idler, qty: 1, price_unknown: yes, source: salvaged, system: drive}]\nchanged: [{key: jet, what: bigger jet, why: for the hills, system: fuel, safety: no, caution: it runs hot low down}]\ndefects: [{key: grip, defect: grip torn, system: controls, safety: no}]\nservice: [{what: engine oil, amount: 20 fl oz, grade: SAE 30, system: engine, every: 25 h}]\n",
		"ran: \"1:00\"\nworked_around: [{key: grip, how: tape, left: it is still torn}]\nmeasured: [{what: blade tip clearance, value: 4 mm}]\n"))
	return all[0]
}

// TestGolden holds records line by line: of machines of the example, and of one with what
// theirs have not. Look at the difference before it is taken over.
func TestGolden(t *testing.T) {
	all, _ := example(t)
	all = slices.DeleteFunc(all, func(r Record) bool { return !slices.Contains([]string{"wick", "heron", "tern"}, r.Machine.Key) })
	if len(all) != 3 {
		t.Fatalf("%d machines of the example", len(all))
	}
	for _, r := range append(all, rare(t)) {
		var b bytes.Buffer
		if err := r.Write(&b); err != nil {
			t.Fatal(err)
		}
		testenv.Golden(t, filepath.Join("testdata", r.Machine.Key+".json"), b.String())
	}
}
