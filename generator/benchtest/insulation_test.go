package benchtest

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

const motor = "winding: random-wound, rated_volts: 240 V"

// R40 = R 0.5^((40-T)/10), IEEE Std 43 as read at second hand: 500 Mohm at 25
// degC is 177 Mohm (176.777 without rounding), 100 Mohm at 20 degC is 25 Mohm.
// The second form is repeated halving by whole tens of degrees.
func TestInsulationAt40(t *testing.T) {
	for _, tc := range []struct {
		reading, at string
		want        float64
	}{
		{"500 Mohm", "25 degC", 176.777}, {"100 Mohm", "20 degC", 25}, {"100 Mohm", "68 degF", 25}, {"0.1 kohm", "50 degC", 2e-4},
		{"8 Mohm", "40 degC", 8}, {"8 Mohm", "104 degF", 8}, {"8 Mohm", "70 degC", 64}, {"8 Mohm", "313.15 K", 8},
	} {
		o := sound(t, plainMachine, "{test: insulation resistance, resistance: "+tc.reading+", temperature: "+tc.at+", "+motor+"}")
		if got := o.result(t, "insulation resistance at 40 degC").number(); math.Abs(got/tc.want-1) > 3e-6 {
			t.Errorf("%s at %s: got %v Mohm, want %v", tc.reading, tc.at, got, tc.want)
		}
		if !o.says("halving it for each 10 degC") {
			t.Errorf("the method is not stated: %q", o.Says)
		}
	}
}

// The least values of IEEE Std 43, as read at second hand: kV + 1 megohm (4160 V:
// 5.16, 460 V: 1.46) for old and field windings, 100 for form-wound, 5 for
// random-wound and for form-wound below 1 kV. Its scope is 1 hp, 750 W and more, by which 1 hp is not too small.
func TestLeastInsulation(t *testing.T) {
	for test, want := range map[string]string{
		"winding: old or field, rated_volts: 4160 V":                 ">= 5.16 Mohm",
		"winding: old or field, rated_volts: 460 V":                  ">= 1.46 Mohm",
		"winding: form-wound, rated_volts: 4160 V":                   ">= 100 Mohm",
		"winding: form-wound, rated_volts: 1000 V":                   ">= 100 Mohm",
		"winding: form-wound, rated_volts: 480 V":                    ">= 5 Mohm",
		"winding: random-wound, rated_volts: 240 V":                  ">= 5 Mohm",
		"winding: random-wound, rated_volts: 240 V, power: 750 W":    ">= 5 Mohm",
		"winding: random-wound, rated_volts: 240 V, power: 1 hp":     ">= 5 Mohm",
		"winding: random-wound, rated_volts: 240 V, power: 0.749 kW": ">= 5 Mohm",
		"winding: random-wound, rated_volts: 240 V, power: 745 W":    "",
	} {
		o := sound(t, plainMachine, "{test: insulation resistance, resistance: 4 Mohm, temperature: 40 degC, "+test+"}")
		if got := o.result(t, "insulation resistance at 40 degC").Limit; got != want {
			t.Errorf("%s: got %q, want %q", test, got, want)
		}
		if o.says("this one is too small for it") != (want == "") {
			t.Errorf("%s: %q", test, o.Says)
		}
	}
}

// PI of 1.5 for class A, 2.0 for B, F and H; not above 5000 Mohm: IEEE Std 43
// as read at second hand.
func TestPolarizationIndex(t *testing.T) {
	for _, tc := range []struct {
		class, ten, value, limit string
		verdict                  quantity.Verdict
	}{
		{"A", "15 Mohm", "1.5", ">= 1.5", quantity.Inside}, {"A", "14.9 Mohm", "1.49", ">= 1.5", quantity.Outside},
		{"B", "20000 kohm", "2", ">= 2", quantity.Inside}, {"F", "19.9 Mohm", "1.99", ">= 2", quantity.Outside},
		{"H", "20 Mohm, gauge: 3 %", "2", ">= 2", quantity.TooClose}, {"", "9 Mohm", "0.9", "", quantity.NotLimited},
	} {
		class := ""
		if tc.class != "" {
			class = ", class: " + tc.class
		}
		o := sound(t, plainMachine, "{test: insulation resistance, resistance: 10 Mohm, temperature: 40 degC, "+motor+", ten_minutes: "+tc.ten+class+"}")
		if r := o.result(t, "polarization index"); r.Value != tc.value || r.Limit != tc.limit || r.Verdict != tc.verdict {
			t.Errorf("class %q, %s: got %s, %s, %s", tc.class, tc.ten, r.Value, r.Limit, r.Verdict)
		}
	}
	last := sound(t, plainMachine, "{test: insulation resistance, resistance: 5000 Mohm, temperature: 40 degC, "+motor+", ten_minutes: 12500 Mohm, class: B}")
	if r := last.result(t, "polarization index"); r.Value != "2.5" {
		t.Errorf("5000 Mohm: got %s", r.Value)
	}
	o := sound(t, plainMachine, "{test: insulation resistance, resistance: 5001 Mohm, temperature: 40 degC, "+motor+", ten_minutes: 6000 Mohm, class: B}")
	if len(o.Results) != 1 || !o.says("tells nothing more") {
		t.Errorf("5001 Mohm: %d results, %q", len(o.Results), o.Says)
	}
}

// Test voltages by rated voltage: IEEE 43-2000, as printed by EASA.
func TestInsulationTestVoltage(t *testing.T) {
	for _, tc := range []struct {
		rated, used string
		high        bool
	}{
		{"240 V", "500 V", false}, {"240 V", "501 V", true}, {"999 V", "1000 V", true}, {"1000 V", "1000 V", false}, {"2500 V", "1000 V", false},
		{"2501 V", "2500 V", false}, {"5001 V", "5000 V", false}, {"12000 V", "5001 V", true}, {"12001 V", "10000 V", false},
	} {
		o := sound(t, plainMachine, "{test: insulation resistance, resistance: 10 Mohm, temperature: 40 degC, winding: random-wound, rated_volts: "+tc.rated+", test_volts: "+tc.used+"}")
		if o.says("more than the") != tc.high {
			t.Errorf("%s on %s: %q", tc.used, tc.rated, o.Says)
		}
	}
}

// Ten degrees halve or double it, it rises with the reading, and the gauge keeps
// its share.
func TestInsulationProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m, c := rapid.IntRange(1, 4000).Draw(r, "Mohm"), rapid.IntRange(-20, 100).Draw(r, "degC")
		at := func(m, c int) Result {
			return direct(t, fmt.Sprintf("{test: insulation resistance, resistance: %d Mohm, temperature: %d degC, %s, gauge: 5 %%}", m, c, motor)).Results[0]
		}
		got := at(m, c)
		if warm := at(m, c+10); math.Abs(warm.number()/got.number()-2) > 1e-9 {
			r.Fatalf("10 degC more: %v times", warm.number()/got.number())
		}
		if at(m+1, c).number() <= got.number() {
			r.Fatal("it does not rise with the reading")
		}
		if share := got.Gauge.Size().Float() / got.number(); math.Abs(share-0.05) > 1e-9 {
			r.Fatalf("± %v of it", share)
		}
	})
}
