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

// 2.752 in x 0.001 is 0.002752 in, which the table shows rounded; the verdict
// is by the whole figure.
func TestBoreWearAtTheVeryLimit(t *testing.T) {
	for reading, want := range map[string]quantity.Verdict{"2.754752 in": quantity.Inside, "2.754753 in": quantity.Outside} {
		test := "{test: bore, top: [" + reading + ", 2.7530 in], bottom: [2.7530 in, 2.7530 in], standard: 2.752 in, stroke: 2.5 in}"
		if r := sound(t, plainMachine, test).result(t, "bore wear"); r.Verdict != want {
			t.Errorf("%s: got %s, want %s", reading, r.Verdict, want)
		} else if want == quantity.Inside && r.Limit != "<= 0.002752 in" {
			t.Errorf("the digit that decides does not show: %s, %s", r.Value, r.Limit)
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

func TestBoreOversizes(t *testing.T) {
	for oversizes, want := range map[string]string{
		"[0.020 in, 0.010 in]": "0.010 in over, a bore of 2.7620 in",
		"0.25 mm":              "0.25 mm over, a bore of",
		"0.003 in":             "",
	} {
		o := sound(t, plainMachine, boreReadings+", oversizes: "+oversizes+"}")
		if want == "" {
			if !o.says("No oversize on the list leaves metal") {
				t.Errorf("%s: says %q", oversizes, o.Says)
			}
			continue
		}
		if r := o.result(t, "next oversize"); !strings.HasPrefix(r.Value, want) {
			t.Errorf("%s: got %s", oversizes, r.Value)
		}
	}
}

func TestBoreSection(t *testing.T) {
	d := sound(t, plainMachine, kindNamed(t, "bore").example).Drawing
	if d == nil || d.Shape != Section || len(d.Points) != 6 || d.Points[0].Label != "top, along" || d.Points[5].Label != "bottom, across" {
		t.Fatalf("%+v", d)
	}
	for _, p := range d.Points {
		if !strings.Contains(d.Alt, p.Label) || p.Low >= p.Value || p.High <= p.Value || !p.Band.HasHigh {
			t.Errorf("%+v, text %q", p, d.Alt)
		}
	}
}

// U.S. Army TM 10-3930-647-14&P: out-of-round of a journal up to 0.0004 in for
// each inch of diameter.
func TestJournal(t *testing.T) {
	for _, tc := range []struct {
		test, limit string
		verdict     quantity.Verdict
	}{
		{"front: [0.9990 in, 0.9986 in], rear: [0.9989 in, 0.9987 in], standard: 1.0000 in", "<= 0.0004 in", quantity.Inside},
		{"front: [0.9990 in, 0.9985 in], rear: [0.9989 in, 0.9987 in], standard: 1.0000 in", "<= 0.0004 in", quantity.Outside},
		{"front: [0.9990 in, 0.9985 in], rear: [0.9989 in, 0.9987 in], standard: 1.0000 in, gauge: 0.0001 in", "<= 0.0004 in", quantity.TooClose},
		{"front: [50.00 mm, 49.99 mm], rear: [50.00 mm, 49.99 mm]", "<= 0.02 mm", quantity.Inside},
	} {
		r := sound(t, plainMachine, "{test: journal, "+tc.test+"}").result(t, "journal out-of-round")
		if r.Limit != tc.limit || r.Verdict != tc.verdict {
			t.Errorf("%s: got %s by %s, want %s by %s", tc.test, r.Verdict, r.Limit, tc.verdict, tc.limit)
		}
	}
	o := sound(t, plainMachine, kindNamed(t, "journal").example)
	for name, want := range map[string]string{
		"journal taper": "0.0001 in", "journal wear": "0.0014 in", "oil clearance, least": "0.0020 in", "oil clearance, greatest": "0.0024 in",
	} {
		if r := o.result(t, name); r.Value != want {
			t.Errorf("%s: got %s, want %s", name, r.Value, want)
		}
	}
}

func TestLimitForPistonClearanceHoldsForBothEnds(t *testing.T) {
	limit := "limits:\n  - {what: piston clearance, limit: \"<= 0.004 in\", source: maker's sheet}\n"
	o := sound(t, limit, boreReadings+", piston: 2.7500 in}")
	if a, b := o.result(t, "piston clearance, least"), o.result(t, "piston clearance, greatest"); a.Verdict != quantity.Inside || b.Verdict != quantity.Outside {
		t.Errorf("%s, %s", a.Verdict, b.Verdict)
	}
}
