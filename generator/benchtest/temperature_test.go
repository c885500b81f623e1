package benchtest

import (
	"math"
	"math/big"
	"testing"
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
