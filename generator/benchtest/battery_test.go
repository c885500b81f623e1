package benchtest

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

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
