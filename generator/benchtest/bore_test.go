package benchtest

import (
	"strings"
	"testing"

	"asleft/generator/quantity"
)

const boreReadings = "{test: bore, top: [2.7560 in, 2.7540 in], bottom: [2.7530 in, 2.7530 in], standard: 2.7520 in, stroke: 2.500 in"

// The readings are invented; out-of-round and taper are as freely defined as
// in any engine handbook (difference at right angles on one level; difference
// of top and bottom). The limits are those of U.S. Army TM 10-3930-647-14&P:
// 0.001 in of wear for each inch of diameter, 0.0005 in of taper for each inch
// of travel.
func TestBore(t *testing.T) {
	o := sound(t, plainMachine, boreReadings+", piston: 2.7500 in}")
	for name, want := range map[string]struct {
		value, limit string
		verdict      quantity.Verdict
	}{
		"bore wear":                  {"0.0040 in", "<= 0.00275 in", quantity.Outside},
		"bore out-of-round":          {"0.0020 in", "", quantity.NotLimited},
		"bore taper":                 {"0.0030 in", "<= 0.00125 in", quantity.Outside},
		"next oversize":              {"0.010 in over, a bore of 2.7620 in", "", quantity.NotLimited},
		"piston clearance, least":    {"0.0030 in", "", quantity.NotLimited},
		"piston clearance, greatest": {"0.0060 in", "", quantity.NotLimited},
	} {
		r := o.result(t, name)
		if r.Value != want.value || r.Limit != want.limit || r.Verdict != want.verdict {
			t.Errorf("%s: got %s, %q, %s; want %+v", name, r.Value, r.Limit, r.Verdict, want)
		}
	}
	if !o.says("Past the limit: bore wear; bore taper.") {
		t.Errorf("says %q", o.Says)
	}
}

// Makers leave 0.02 mm of stock or less to hone: common practice. The widest reading
// of 2.7616 in leaves 0.0004 in under the first oversize, which is less.
func TestAnOversizeLeavesStock(t *testing.T) {
	for top, want := range map[string]string{
		"69.98 mm": "0.25 mm", "69.981 mm": "0.50 mm", "69.98 mm], gauge: 0.001 mm, middle: [69.8 mm, 69.8 mm": "0.50 mm",
	} {
		o := sound(t, plainMachine, "{test: bore, standard: 69.75 mm, stroke: 54 mm, bottom: [69.8 mm, 69.8 mm], top: [69.8 mm, "+top+"]}")
		if r := o.result(t, "next oversize"); !strings.HasPrefix(r.Value, want) || !o.says("to clean up") {
			t.Errorf("%s: got %s, %q", top, r.Value, o.Says)
		}
	}
}

func TestBoreByNameAndFromTheMachine(t *testing.T) {
	machine := "engine: {strokes: 4, cylinders: 1, bore: 2.752 in, stroke: 63.5 mm}\n"
	o := sound(t, machine, "{test: bore, top: {across: 2.7540 in, along: 2.7560 in}, bottom: [2.7530 in, 2.7530 in]}")
	if o.Given[0] != (Given{"top, along", "2.7560 in"}) || o.Given[1] != (Given{"top, across", "2.7540 in"}) {
		t.Errorf("given %v", o.Given)
	}
	if r := o.result(t, "bore taper"); r.Value != "0.0030 in" || r.Limit != "<= 0.0318 mm" {
		t.Errorf("taper %s, limit %s", r.Value, r.Limit)
	}
}
