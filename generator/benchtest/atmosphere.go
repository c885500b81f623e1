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

// seaLevelFactor is what a gauge pressure made from the air at that altitude
// is multiplied by to give what it would be at sea level. The engine takes in
// air at the pressure around it and brings it to a multiple of that, whatever
// it is; so the absolute pressure goes with the air's, and the gauge pressure,
// which is less by one air pressure, too. It is 1 at no altitude; false out of
// the range for which the formula is made (-500 m to 11,000 m).
func seaLevelFactor(altitude quantity.Quantity) (*big.Rat, bool) {
	h := float(altitude.Base())
	if h < lowestM || h > troposphereM {
		return nil, false
	}
	if h == 0 {
		return big.NewRat(1, 1), true
	}
	return exact(seaLevelPa / airPressure(h)), true
}

// altitudeInput is where a test was made, if not at the shop.
var altitudeInput = measure("altitude", quantity.Length, "bench.in.altitude").signed()

// altitude is that of the test, else of the shop; zero when neither is known.
func (b *bench) altitude() quantity.Quantity {
	if b.has(altitudeInput.name) {
		return b.one(altitudeInput.name)
	}
	return b.shop.Altitude
}
