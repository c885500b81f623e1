package benchtest

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// More current for the same drop is never a worse cable, and the gauge takes
// volts up with amperes down: (v + a)/(i - b).
func TestVoltageDropProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		mv, amps := rapid.Int64Range(1, 900).Draw(r, "mV"), rapid.Int64Range(20, 300).Draw(r, "A")
		test := "{test: voltage drop, volts: %d mV, side: positive, load: cranking, current: %d A, gauge: 1 mV, current_gauge: 2 A}"
		got := direct(t, fmt.Sprintf(test, mv, amps)).result(t, "voltage drop per 100 A")
		more := direct(t, fmt.Sprintf(test, mv, amps+10)).result(t, "voltage drop per 100 A")
		if got.Quantity.Base().Cmp(big.NewRat(mv, 10*amps)) != 0 || more.Quantity.Base().Cmp(got.Quantity.Base()) >= 0 {
			r.Fatalf("%d mV, %d A: got %s, at 10 A more %s", mv, amps, got.Value, more.Value)
		}
		off := new(big.Rat).Sub(big.NewRat(mv+1, 10*(amps-2)), big.NewRat(mv, 10*amps))
		if got.Gauge.Size().Base().Cmp(off) != 0 {
			r.Fatalf("%d mV, %d A: gauge %s, want %s", mv, amps, got.Gauge, off.FloatString(4))
		}
	})
}
