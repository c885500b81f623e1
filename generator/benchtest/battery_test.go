package benchtest

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// The published points are those of U.S. Army TM 5-3805-262-20, p. 5-142:
// 11.7 V or less is 0 %, 12.0 25 %, 12.2 50 %, 12.4 75 %, 12.6 or more 100 %;
// below 12.4 V a load test is due. Between the points: a straight line.
func TestChargeByVoltage(t *testing.T) {
	for _, tc := range []struct {
		volts   string
		charge  float64
		verdict quantity.Verdict
	}{
		{"11.5 V", 0, quantity.Outside}, {"11.7 V", 0, quantity.Outside}, {"12.0 V", 25, quantity.Outside},
		{"12.2 V", 50, quantity.Outside}, {"12.4 V", 75, quantity.Inside}, {"12.6 V", 100, quantity.Inside},
		{"12.9 V", 100, quantity.Inside}, {"11.85 V", 12.5, quantity.Outside}, {"12.3 V", 62.5, quantity.Outside},
		{"12399 mV", 74.875, quantity.Outside}, {"6.2 V, nominal: 6 V", 75, quantity.Inside},
		{"6.19 V, nominal: 6 V", 72.5, quantity.Outside}, {"5.85 V, nominal: 6 V", 0, quantity.Outside},
	} {
		o := sound(t, plainMachine, "{test: battery at rest, volts: "+tc.volts+"}")
		if got := o.result(t, "state of charge").number(); math.Abs(got-tc.charge) > 1e-9 {
			t.Errorf("%s: got %v %%, want %v", tc.volts, got, tc.charge)
		}
		if got := o.result(t, "battery at rest").Verdict; got != tc.verdict {
			t.Errorf("%s: got %s, want %s", tc.volts, got, tc.verdict)
		}
	}
}

// The trade rule, from memory, is 0.024 V for each 10 degF on a 12 V battery,
// taken off below 80 degF: 12.45 V at 30 degF counts as 12.45 - 0.12 = 12.33 V,
// which is 66.25 % (12.2 V 50 %, 12.4 V 75 %). The voltage as read passes, the
// corrected one does not, and the sentence goes by the worse.
func TestBatteryIsCorrectedForTemperature(t *testing.T) {
	for _, at := range []string{"30 degF", "-1.1111111111111 degC", "272.0388888888889 K"} {
		o := sound(t, plainMachine, "{test: battery at rest, volts: 12.45 V, temperature: "+at+"}")
		corrected := o.result(t, "battery at rest, at 80 degF")
		if corrected.Value != "12.33 V" || corrected.Verdict != quantity.Outside {
			t.Errorf("%s: got %s, %s", at, corrected.Value, corrected.Verdict)
		}
		if got := o.result(t, "battery at rest").Verdict; got != quantity.Inside {
			t.Errorf("%s: as read: %s", at, got)
		}
		if got := o.result(t, "state of charge").number(); math.Abs(got-66.25) > 1e-6 || !o.says("Charge it and load test it") {
			t.Errorf("%s: %v %%, %q", at, got, o.Says)
		}
	}
	o := sound(t, plainMachine, "{test: battery at rest, volts: 6.20 V, nominal: 6 V, temperature: 130 degF}")
	if got := o.result(t, "battery at rest, at 80 degF").Value; got != "6.26 V" {
		t.Errorf("6 V at 130 degF: got %s, want 6.26 V (0.012 V for each 10 degF)", got)
	}
}

func TestBatterySays(t *testing.T) {
	low := sound(t, plainMachine, "{test: battery at rest, volts: 10.5 V, surface_charge_off: yes}")
	if !low.says("points to a dead cell") || low.says("surface charge") {
		t.Errorf("10.5 V: %q", low.Says)
	}
	full := sound(t, plainMachine, "{test: battery at rest, volts: 12.7 V}")
	if full.says("dead cell") || !full.says("surface charge") {
		t.Errorf("12.7 V: %q", full.Says)
	}
	if near := sound(t, plainMachine, "{test: battery at rest, volts: 12.41 V, gauge: 0.05 V}"); !near.says("too close to the limit") {
		t.Errorf("12.41 V ± 0.05 V: %q", near.Says)
	}
}

func TestBatteryLimitOfTheMachineComesFirst(t *testing.T) {
	limit := "limits: [{what: battery at rest, limit: \">= 12200 mV\", source: maker's book}]\n"
	r := sound(t, limit, "{test: battery at rest, volts: 12.3 V}").result(t, "battery at rest")
	if r.Verdict != quantity.Inside || r.Source != "maker's book" || r.Limit != ">= 12200 mV" {
		t.Errorf("got %+v", r)
	}
}

// More volts never mean less charge, a colder battery never more, and the unit
// of the reading changes neither value nor verdict.
func TestBatteryProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mv := rapid.Int64Range(9000, 14000).Draw(t, "mV")
		up := rapid.Int64Range(0, 900).Draw(t, "more")
		f := rapid.Int64Range(-20, 110).Draw(t, "degF")
		one := big.NewRat(1, 1)
		charge := func(mv, f int64) *big.Rat {
			kelvin := new(big.Rat).Quo(new(big.Rat).Add(big.NewRat(f, 1), big.NewRat(45967, 100)), big.NewRat(9, 5))
			return between(chargeByVolts, atReference(big.NewRat(mv, 1000), kelvin, one))
		}
		if charge(mv, f).Cmp(charge(mv+up, f)) > 0 || charge(mv, f-1).Cmp(charge(mv, f)) > 0 {
			t.Fatalf("the charge does not rise with volts and warmth at %d mV, %d degF", mv, f)
		}
	})
	for _, mv := range []int{11200, 11999, 12399, 12400, 12401, 13000} {
		a := sound(t, plainMachine, fmt.Sprintf("{test: battery at rest, volts: %d mV, temperature: 59 degF}", mv))
		b := sound(t, plainMachine, fmt.Sprintf("{test: battery at rest, volts: %d.%03d V, temperature: 15 degC}", mv/1000, mv%1000))
		same(t, a, b)
	}
}

// same fails unless two outcomes have the same values and verdicts.
func same(t testing.TB, a, b *Outcome) {
	t.Helper()
	if len(a.Results) == 0 || len(a.Results) != len(b.Results) {
		t.Fatalf("%s: %d and %d results", a.Test, len(a.Results), len(b.Results))
	}
	for i, r := range a.Results {
		x, _ := r.Quantity.Base().Float64()
		y, _ := b.Results[i].Quantity.Base().Float64()
		if math.Abs(x-y) > 1e-9*math.Max(math.Abs(x), math.Abs(y)) || r.Verdict != b.Results[i].Verdict || r.Name != b.Results[i].Name {
			t.Errorf("%s: %s %s (%s), but %s %s (%s)", a.Test, r.Name, r.Value, r.Verdict, b.Results[i].Name, b.Results[i].Value, b.Results[i].Verdict)
		}
	}
}
