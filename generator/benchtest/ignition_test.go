package benchtest

import (
	"math"
	"math/big"
	"testing"

	"asleft/generator/quantity"
)

// National Bureau of Standards Handbook 100, Copper Wire Tables, from memory:
// 1000 ft of AWG 10 have 0.9989 ohm at 20 degC, 1.018 at 25 and 1.215 at 75.
func TestCopperAgainstTheWireTables(t *testing.T) {
	for celsius, ohms := range map[int64]float64{20: 0.9989, 25: 1.018, 75: 1.215} {
		kelvin := new(big.Rat).Add(big.NewRat(celsius, 1), big.NewRat(27315, 100))
		r, _ := new(big.Rat).SetString(big.NewFloat(ohms).Text('f', 4))
		if got := float(copperAt20(r, kelvin)); math.Abs(got-0.9989) > 0.0006 {
			t.Errorf("%v ohm at %d degC: got %v at 20 degC, want 0.9989", ohms, celsius, got)
		}
	}
}

func TestCoilResistance(t *testing.T) {
	machine := "limits:\n  - {what: coil secondary resistance, limit: \"4 kohm to 6 kohm\", source: maker's sheet}\n"
	for _, tc := range []struct {
		test    string
		verdict quantity.Verdict
		says    string
	}{
		{"secondary: 4100 ohm, temperature: 20 degC", quantity.Inside, "Inside the limit"},
		{"secondary: 4100 ohm, temperature: 104 degF", quantity.Outside, "turns that touch"}, // 3801 at 20 degC
		{"secondary: 4100 ohm, temperature: 68 degF, gauge: 5 %", quantity.TooClose, "Too close"},
		{"secondary: 6100 ohm", quantity.Outside, "not written down"},
	} {
		o := sound(t, machine, "{test: coil resistance, "+tc.test+"}")
		if r := o.result(t, "coil secondary resistance"); r.Verdict != tc.verdict || !o.says(tc.says) {
			t.Errorf("%s: got %s, %s, says %q", tc.test, r.Value, r.Verdict, o.Says)
		}
	}
	if o := sound(t, machine, "{test: coil resistance, open: secondary}"); !o.says("points to a broken wire") {
		t.Errorf("says %q", o.Says)
	}
}

func TestSparkGaps(t *testing.T) {
	machine := single + "limits:\n  - {what: plug gap, limit: \"0.028 in to 0.032 in\", source: maker's sheet}\n" +
		"  - {what: armature air gap, limit: \"0.25 mm to 0.35 mm\", source: maker's sheet}\n"
	for test, want := range map[string]string{
		"{test: plug gap, gap: 0.030 in, gauge: 0.001 in}":    "Inside the limit: plug gap, cylinder 1.",
		"{test: plug gap, gap: 1.0 mm}":                       "worn plug",
		"{test: spark plug gap, gap: 0.5 mm}":                 "too small to light",
		"{test: armature air gap, gap: 0.012 in}":             "Inside the limit: armature air gap.",
		"{test: armature air gap, gap: [0.012 in, 0.006 in]}": "The magnet may strike the coil",
		"{test: coil air gap, gap: 0.020 in}":                 "weak spark at cranking speed",
	} {
		if o := sound(t, machine, test); !o.says(want) {
			t.Errorf("%s: says %q, want %q", test, o.Says, want)
		}
	}
}

// A winding without a path is above every limit of its resistance, and never passes.
func TestAnOpenCoilIsOutsideItsLimit(t *testing.T) {
	limits := "limits:\n  - {what: coil primary resistance, limit: <= 2 ohm, source: maker's sheet}\n  - {what: coil secondary resistance, limit: 3 kohm to 6 kohm, source: maker's sheet}\n"
	for _, test := range []string{"primary: OL, secondary: OL", "open: both", "open: secondary, primary: open circuit", "open: both, primary: OL"} {
		o := sound(t, limits, "{test: coil resistance, "+test+"}")
		for _, name := range []string{"coil primary resistance", "coil secondary resistance"} {
			if r := o.result(t, name); r.Verdict != quantity.Outside || r.Value != "OL" || !r.Main {
				t.Errorf("%s: %+v", test, r)
			}
		}
		if !o.says("no path here: primary and secondary") {
			t.Errorf("%s: %q", test, o.Says)
		}
	}
	if r := sound(t, "", "{test: coil resistance, primary: OL}").result(t, "coil primary resistance"); r.Verdict != quantity.NotLimited {
		t.Errorf("without limit: %s", r.Verdict)
	}
	least := "limits: [{what: coil primary resistance, limit: \">= 1 ohm\", source: maker's sheet}]\n"
	if o := sound(t, least, "{test: coil resistance, primary: OL}"); !o.says("points to a broken wire") || o.Results[0].Verdict != quantity.Outside {
		t.Errorf("%+v, %q", o.Results[0], o.Says)
	}
}
