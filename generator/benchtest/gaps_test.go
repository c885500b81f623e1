package benchtest

import (
	"testing"

	"asleft/generator/quantity"
)

// The limits of an upper and another ring are those printed in U.S. Army
// TM 5-1940-277-34, p. 3-25: 0.016 to 0.031 in and 0.012 to 0.029 in.
func TestRingEndGap(t *testing.T) {
	machine := "limits:\n" +
		"  - {what: ring end gap, where: ring 1, limit: \"0.016 in to 0.031 in\", source: TM 5-1940-277-34}\n" +
		"  - {what: ring end gap, limit: \"0.012 in to 0.029 in\", source: TM 5-1940-277-34}\n"
	for _, tc := range []struct {
		gap           string
		first, second quantity.Verdict
		says          string
	}{
		{"[0.016 in, 0.016 in]", quantity.Inside, quantity.Inside, "Inside the limit: ring end gap, ring 1; ring end gap, ring 2."},
		{"[0.015 in, 0.012 in]", quantity.Outside, quantity.Inside, "Narrower than the limit: ring end gap, ring 1."},
		{"[0.031 in, 0.030 in]", quantity.Inside, quantity.Outside, "Wider than the limit: ring end gap, ring 2."},
		{"[0.8 mm, 0.7 mm]", quantity.Outside, quantity.Inside, "Wider than the limit: ring end gap, ring 1."},
	} {
		o := sound(t, machine, "{test: ring end gap, gap: "+tc.gap+", bore: 4.000 in}")
		a, b := o.result(t, "ring end gap, ring 1"), o.result(t, "ring end gap, ring 2")
		if a.Verdict != tc.first || b.Verdict != tc.second || !o.says(tc.says) {
			t.Errorf("%s: got %s, %s, says %q", tc.gap, a.Verdict, b.Verdict, o.Says)
		}
	}
}

// 0.016 in over a bore of 4.000 in is 0.004 in for each inch (arithmetic). No
// rule of thumb is held against it.
func TestRingGapForEachInchOfBoreHasNoLimit(t *testing.T) {
	r := sound(t, plainMachine, "{test: ring end gap, where: top ring, gap: 0.016 in, bore: 101.6 mm}").result(t, "gap for each inch of bore, top ring")
	if r.Value != "0.0040 in" || r.Verdict != quantity.NotLimited || r.Limit != "" {
		t.Errorf("got %s, %s, %q", r.Value, r.Verdict, r.Limit)
	}
}

func TestEndPlayAndRunout(t *testing.T) {
	machine := "limits:\n" +
		"  - {what: crankshaft end play, limit: \"0.004 in to 0.012 in\", source: maker's sheet}\n" +
		"  - {what: runout, where: blade end, limit: \"<= 0.004 in\", source: maker's sheet}\n"
	for _, tc := range []struct {
		test, result string
		verdict      quantity.Verdict
		says         string
	}{
		{"{test: crankshaft end play, play: 0.011 in}", "crankshaft end play", quantity.Inside, "Inside the limit"},
		{"{test: crankshaft end play, play: 0.011 in, gauge: 0.001 in}", "crankshaft end play", quantity.Inside, "Inside the limit"},
		{"{test: crankshaft end play, play: 0.0115 in, gauge: 0.001 in}", "crankshaft end play", quantity.TooClose, "Too close"},
		{"{test: end play, play: 0.35 mm}", "crankshaft end play", quantity.Outside, "worn thrust face"},
		{"{test: crankshaft end play, play: 0 in}", "crankshaft end play", quantity.Outside, "may bind"},
		{"{test: runout, where: blade end, tir: 0.004 in}", "runout", quantity.Inside, "Inside the limit"},
		{"{test: TIR, where: blade end, high: 0.003 in, low: -0.002 in}", "runout", quantity.Outside, "bent shaft"},
		{"{test: runout, where: other end, tir: 0.009 in}", "runout", quantity.NotLimited, "No limit was given"},
	} {
		o := sound(t, machine, tc.test)
		if r := o.result(t, tc.result); r.Verdict != tc.verdict || !o.says(tc.says) {
			t.Errorf("%s: got %s, says %q", tc.test, r.Verdict, o.Says)
		}
	}
	// Geometry: the center is off by half of what the dial shows.
	if r := sound(t, plainMachine, "{test: runout, high: 0.003 in, low: -0.002 in}").result(t, "center off by"); r.Value != "0.0025 in" {
		t.Errorf("center off by %s", r.Value)
	}
}

func TestValveClearance(t *testing.T) {
	machine := single + "limits:\n" +
		"  - {what: intake valve clearance, limit: \"0.003 in to 0.005 in\", source: maker's sheet}\n" +
		"  - {what: exhaust valve clearance, limit: \"0.005 in to 0.007 in\", source: maker's sheet}\n"
	o := sound(t, machine, "{test: valve lash, intake: 0.10 mm, exhaust: 0 in, state: hot}")
	in, out := o.result(t, "intake valve clearance, cylinder 1"), o.result(t, "exhaust valve clearance, cylinder 1")
	if in.Verdict != quantity.Inside || out.Verdict != quantity.Outside {
		t.Errorf("%s, %s", in.Verdict, out.Verdict)
	}
	for _, words := range []string{"Less than the limit: exhaust", "no play at all", "The engine was hot"} {
		if !o.says(words) {
			t.Errorf("says %q, not %q", o.Says, words)
		}
	}
}
