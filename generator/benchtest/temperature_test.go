package benchtest

import (
	"math"
	"math/big"
	"testing"

	"asleft/generator/quantity"
)

// OpenStax College Physics, example 13.6, from memory: a bicycle tire of
// 7.00 x 10^5 Pa absolute at 18.0 degC reads 7.41 x 10^5 Pa at 35.0 degC.
func TestPressureAtAgainstATextbook(t *testing.T) {
	got := float(pressureAt(big.NewRat(700_000, 1), new(big.Rat), big.NewRat(29115, 100), big.NewRat(30815, 100)))
	if math.Abs(got-7.41e5) > 500 {
		t.Errorf("got %v Pa", got)
	}
	// The same tire as a gauge reads it, at sea level.
	r := sound(t, plainMachine, "{test: tire pressure, pressure: 598.675 kPa, temperature: 18 degC, to: 95 degF}").result(t, "pressure at temperature")
	if want := 741 - 101.325; math.Abs(r.number()-want) > 0.5 {
		t.Errorf("got %v kPa, want %v", r.number(), want)
	}
}

func TestPressureAtTheSameTemperatureIsAsRead(t *testing.T) {
	r := sound(t, plainMachine, "{test: pressure at temperature, pressure: 12 psi, temperature: 20 degC, to: 68 degF, altitude: 5000 ft}").result(t, "pressure at temperature")
	if c, err := r.Quantity.Cmp(whole(12, quantity.Psi)); err != nil || c != 0 {
		t.Errorf("got %v", r.Quantity.Rat())
	}
}

func TestHeadTemperature(t *testing.T) {
	machine := "limits:\n  - {what: head temperature, limit: \"<= 340 degF\", source: maker's sheet}\n" +
		"  - {what: head temperature spread, limit: \"<= 15 degC\", source: maker's sheet}\n"
	o := sound(t, machine, "{test: head temperature, temperature: [342 degF, 159 degC], gauge: 1 degF}")
	for name, want := range map[string]quantity.Verdict{
		"head temperature, cylinder 1": quantity.Outside, // 341 at the least
		"head temperature, cylinder 2": quantity.Inside,  // 318.2
		"head temperature spread":      quantity.Inside,  // 23.8 degF of difference, 13.2 degC, give or take 1.1
	} {
		if r := o.result(t, name); r.Verdict != want {
			t.Errorf("%s: got %s, %s", name, r.Value, r.Verdict)
		}
	}
	if !o.says("The head of cylinder 1 is hotter than that of cylinder 2") || !o.says("Hotter than the limit: head temperature, cylinder 1") {
		t.Errorf("says %q", o.Says)
	}
}
