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

// Crompton, Battery Reference Book, Table 1.7: a cell of 28.16 % acid has 2.0254 V
// at 15 degC and 2.0250 V at 40 degC, 2.4 mV in all for six. A voltage of 12.50 V
// stays 12.50 V at 14 degF, which is 87.5 % by the table of the TM.
func TestBatteryIsNotCorrectedForTemperature(t *testing.T) {
	for _, at := range []string{"14 degF", "-10 degC", "40 degC"} {
		o := sound(t, plainMachine, "{test: battery at rest, volts: 12.50 V, temperature: "+at+"}")
		if r := o.result(t, "battery at rest"); r.Verdict != quantity.Inside || r.Value != "12.50 V" || !o.says("not corrected") {
			t.Errorf("%s: got %s, %s, %q", at, r.Value, r.Verdict, o.Says)
		}
		if got := o.result(t, "state of charge").number(); math.Abs(got-87.5) > 1e-9 {
			t.Errorf("%s: %v %%", at, got)
		}
	}
	if o := sound(t, plainMachine, "{test: battery at rest, volts: 12.50 V}"); o.says("not corrected") {
		t.Errorf("%q", o.Says)
	}
}

func TestBatterySays(t *testing.T) {
	low := sound(t, plainMachine, "{test: battery at rest, volts: 10.5 V, surface_charge_off: yes}")
	if !low.says("points to a dead cell") || low.says("surface charge") {
		t.Errorf("10.5 V: %q", low.Says)
	}
	for volts, dead := range map[string]bool{"10.6 V": true, "10.61 V": false, "5.3 V, nominal: 6 V": true, "5.31 V, nominal: 6 V": false} {
		if o := sound(t, plainMachine, "{test: battery at rest, volts: "+volts+"}"); o.says("dead cell") != dead {
			t.Errorf("%s: %q", volts, o.Says)
		}
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

// More volts never mean less charge, and the unit of the reading changes neither
// value nor verdict.
func TestBatteryProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mv := rapid.Int64Range(9000, 14000).Draw(t, "mV")
		up := rapid.Int64Range(0, 900).Draw(t, "more")
		charge := func(mv int64) *big.Rat { return between(chargeByVolts, big.NewRat(mv, 1000)) }
		if charge(mv).Cmp(charge(mv+up)) > 0 {
			t.Fatalf("the charge does not rise with volts at %d mV", mv)
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
