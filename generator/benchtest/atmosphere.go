package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/quantity"
)

// The constants of the U.S. Standard Atmosphere, 1976, up to 11 km.
const (
	seaLevelPa   = 101325.0
	seaLevelK    = 288.15
	lapseKPerM   = 0.0065
	airExponent  = 5.255876
	troposphereM = 11000.0
	lowestM      = -500.0
)

// airPressure is the standard pressure in Pa at h meters above the sea:
// P = P0 (1 - 0.0065 h/288.15)^5.255876 (U.S. Standard Atmosphere, 1976).
func airPressure(h float64) float64 {
	return seaLevelPa * math.Pow(1-lapseKPerM*h/seaLevelK, airExponent)
}

// seaLevelFactors are what a pressure made from the air at that altitude is
// multiplied by to give what it would be at sea level: by the density of the air,
// and by its pressure, which is more. Which of the two holds for an engine, sources
// do not agree on.
func seaLevelFactors(altitude quantity.Quantity) []*big.Rat {
	warmth := 1 - lapseKPerM*float(altitude.Base())/seaLevelK
	return []*big.Rat{exact(math.Pow(warmth, 1-airExponent)), exact(math.Pow(warmth, -airExponent))}
}

// altitudeInput is where a test was made, if not at the shop.
var altitudeInput = measure("altitude", quantity.Length, "bench.in.altitude").signed().such("900 ft")

// altitude is that of the test, else of the shop; zero when neither is known. One
// that the standard atmosphere does not reach is refused.
func (b *bench) altitude() quantity.Quantity {
	altitude := b.shop.Altitude
	if b.has(altitudeInput.name) {
		altitude = b.one(altitudeInput.name)
	}
	if h := float(altitude.Base()); h < lowestM || h > troposphereM {
		b.refuse(altitudeInput.name, "problem.bench-altitude", "read", altitude)
	}
	return altitude
}
