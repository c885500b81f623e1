package benchtest

import (
	"math"
	"math/big"
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

func TestSeaLevelFactorsRiseWithAltitude(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.IntRange(0, 10_999).Draw(t, "low")
		high := rapid.IntRange(low+1, 11_000).Draw(t, "high")
		a, b := seaLevelFactors(whole(low, quantity.Meter)), seaLevelFactors(whole(high, quantity.Meter))
		if a[0].Cmp(b[0]) >= 0 || a[1].Cmp(b[1]) >= 0 || b[0].Cmp(b[1]) >= 0 {
			t.Fatalf("%d m: %v, %d m: %v", low, a, high, b)
		}
	})
}

// U.S. Army TM 5-3895-359-14&P, Table 1, prints the least compression of one diesel
// engine by altitude: 515 psi at 500 ft down to 380 at 10,000. How it falls lies
// between the two ways to work it out.
func TestPrintedLimitsByAltitudeLieBetweenTheFactors(t *testing.T) {
	at := func(feet int) []*big.Rat { return seaLevelFactors(whole(feet, quantity.Foot)) }
	for feet, psi := range map[int]int64{2500: 480, 5000: 440, 7500: 410, 10000: 380} {
		printed := big.NewRat(515, psi)
		byDensity, byPressure := new(big.Rat).Quo(at(feet)[0], at(500)[0]), new(big.Rat).Quo(at(feet)[1], at(500)[1])
		if printed.Cmp(byDensity) < 0 || printed.Cmp(byPressure) > 0 {
			t.Errorf("%d ft: %s, between %s and %s expected", feet, printed.FloatString(4), byDensity.FloatString(4), byPressure.FloatString(4))
		}
	}
}
