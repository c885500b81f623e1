package benchtest

import (
	"math/big"
	"testing"

	"asleft/generator/quantity"
)

// No published figure exists for these; the cases are plain comparisons.
func TestGeometryAsFoundAndAsLeft(t *testing.T) {
	for _, tc := range []struct {
		test, what, where, fields string
		found, left               quantity.Verdict
		source, says              string
	}{
		{"as_found: 0.012 in, as_left: 0.002 in, limit: <= 0.003 in, source: sheet 4", "squareness", "", plainMachine,
			quantity.Outside, quantity.Inside, "sheet 4", "left at 0.002 in, within"},
		{"as_found: 0.012 in, as_left: 2 thou, limit: <= 0.08 mm", "squareness", "", plainMachine,
			quantity.Outside, quantity.Inside, "the entry of the log, which names no source", "left at 2 thou"},
		{"as_found: 0.012 in, as_left: 0.0028 in, limit: <= 0.003 in, gauge: 0.0005 in", "parallelism", "", plainMachine,
			quantity.Outside, quantity.TooClose, "the entry of the log, which names no source", "too close"},
		{"as_found: 0.2 mm, as_left: 0.1 mm, limit: <= 0.05 mm, source: sheet 4", "backlash", "", plainMachine,
			quantity.Outside, quantity.Outside, "sheet 4", "left at 0.1 mm, outside"},
		{"as_found: 0.2 mm, as_left: 0.1 mm, limit: <= 0.05 mm, source: sheet 4", "spindle runout", "",
			"limits: [{what: spindle runout, limit: <= 0.15 mm, source: maker's book}]\n",
			quantity.Outside, quantity.Inside, "maker's book", "left at 0.1 mm, within"},
		{"as_found: 0.02 in, as_left: 0 in", "spindle runout", "", plainMachine,
			quantity.NotLimited, quantity.NotLimited, "", "No limit was given"},
		{"as_found: 0.2 mm, as_left: 0.1 mm", "backlash", "where: cross slide, ",
			"limits: [{what: backlash, where: top slide, limit: <= 0.01 mm, source: a}, {what: backlash, where: cross slide, limit: <= 0.1 mm, source: b}]\n",
			quantity.Outside, quantity.Inside, "b", "within its limit"},
	} {
		o := sound(t, tc.fields, "{test: "+tc.what+", "+tc.where+tc.test+"}")
		found, left := o.result(t, tc.what+", as found"), o.result(t, tc.what+", as left")
		if found.Verdict != tc.found || left.Verdict != tc.left || left.Source != tc.source || !o.says(tc.says) {
			t.Errorf("%s %s: got %s, %s, %q, %q", tc.what, tc.test, found.Verdict, left.Verdict, left.Source, o.Says)
		}
		if o.Drawing == nil || o.Drawing.Shape != Whisker || len(o.Drawing.Points) != 2 {
			t.Errorf("%s %s: drawing %+v", tc.what, tc.test, o.Drawing)
		}
	}
}

func TestGeometryFoundOnly(t *testing.T) {
	o := sound(t, plainMachine, "{test: spindle runout, as_found: 0.08 mm, limit: <= 0.05 mm, source: sheet}")
	if len(o.Results) != 1 || !o.says("points to wear, a burr") || o.Drawing.Shape != Whisker {
		t.Errorf("%+v, %q", o.Results, o.Says)
	}
}

// A change within what the tool can tell is no change, and one for the worse is
// said.
func TestGeometryChange(t *testing.T) {
	for test, says := range map[string]string{
		"as_found: 0.012 in, as_left: 0.011 in, gauge: 0.001 in":  "less than this tool can tell apart",
		"as_found: 0.012 in, as_left: 0.012 in":                   "less than this tool can tell apart",
		"as_found: 0.005 in, as_left: 0.009 in, gauge: 0.0005 in": "it got worse",
	} {
		if o := sound(t, plainMachine, "{test: squareness, "+test+"}"); !o.says(says) {
			t.Errorf("%s: %q", test, o.Says)
		}
	}
	if o := sound(t, plainMachine, "{test: squareness, as_found: 0.012 in, as_left: 0.002 in, gauge: 0.001 in}"); o.says("worse") || o.says("tell apart") {
		t.Errorf("%q", o.Says)
	}
}

// 0.006 in over 12 in is 0.003 in over 6 in.
func TestGeometryIsBroughtToTheLengthOfItsLimit(t *testing.T) {
	for _, over := range []string{"12 in", "304.8 mm", "1 ft"} {
		o := sound(t, "limits: [{what: squareness, limit: <= 0.001 in, source: for another length}]\n",
			"{test: squareness, as_left: 0.006 in, over: "+over+", limit: <= 0.003 in, limit_over: 6 in, source: sheet, gauge: 0.0002 in}")
		r := o.result(t, "squareness over 6 in, as left")
		if r.Value != "0.00300 in" || r.Source != "sheet" || r.Verdict != quantity.TooClose || r.Gauge.Size().Base().Cmp(big.NewRat(254, 100_000_000)) != 0 {
			t.Errorf("%s: got %s ± %s, %s, %s", over, r.Value, r.Gauge, r.Source, r.Verdict)
		}
	}
}
