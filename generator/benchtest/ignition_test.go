package benchtest

import (
	"math"
	"math/big"
	"testing"
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
