package benchtest

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// Printed psia of the U.S. Standard Atmosphere, 1976, by altitude in ft. The
// table's cells are rounded to 0.001 and agree with its formula to 0.003; the
// cell at 4000 ft is left out as a likely misprint.
func TestAirPressureAgainstTheStandardAtmosphere(t *testing.T) {
	const psi = 6894.757293168361
	for feet, psia := range map[float64]float64{
		0: 14.696, 1000: 14.175, 2000: 13.664, 3000: 13.173, 5000: 12.230, 6000: 11.778,
		7000: 11.341, 8000: 10.914, 9000: 10.506, 10000: 10.108,
	} {
		if got := airPressure(feet*0.3048) / psi; math.Abs(got-psia) > 0.003 {
			t.Errorf("%v ft: got %.4f psia, want %.3f", feet, got, psia)
		}
	}
}

// The same from the barometric formula's own constants: P0 exp(n ln(T/T0)) with
// n = g M/(R L), g 9.80665, M 0.0289644, R 8.31432, L 0.0065 (U.S. Standard
// Atmosphere, 1976).
func TestAirPressureAgainstTheBarometricFormula(t *testing.T) {
	n := 9.80665 * 0.0289644 / (8.31432 * 0.0065)
	for h := lowestM; h <= troposphereM; h += 250 {
		want := 101325 * math.Exp(n*math.Log((288.15-0.0065*h)/288.15))
		if got := airPressure(h); math.Abs(got-want)/want > 1e-6 {
			t.Errorf("%v m: got %v Pa, want %v", h, got, want)
		}
	}
}

func TestSeaLevelFactorFallsNowhereWithAltitude(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.IntRange(-500, 10_999).Draw(t, "low")
		high := rapid.IntRange(low+1, 11_000).Draw(t, "high")
		a, ok1 := seaLevelFactor(whole(low, quantity.Meter))
		b, ok2 := seaLevelFactor(whole(high, quantity.Meter))
		if !ok1 || !ok2 || a.Cmp(b) >= 0 {
			t.Fatalf("%d m: %v, %d m: %v", low, a, high, b)
		}
	})
	for _, far := range []int{-501, 11_001} {
		if _, ok := seaLevelFactor(whole(far, quantity.Meter)); ok {
			t.Errorf("%d m is out of the formula's range", far)
		}
	}
}
