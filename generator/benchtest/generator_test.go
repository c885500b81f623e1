package benchtest

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// The lower the loaded frequency, the more droop; both readings' errors add.
func TestDroopProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		none := rapid.Int64Range(600, 640).Draw(r, "no load")
		loaded := rapid.Int64Range(500, none).Draw(r, "loaded")
		droop := func(loaded int64) Result {
			return direct(t, fmt.Sprintf(
				"{test: generator output, volts: 240 V, hertz: %d.%d Hz, rated_hertz: 60 Hz, rated_load: 2 kW, load: 2 kW, loaded_hertz: %d.%d Hz, hertz_gauge: 0.1 Hz}",
				none/10, none%10, loaded/10, loaded%10)).result(t, "frequency droop")
		}
		got := droop(loaded)
		if got.Quantity.Base().Cmp(big.NewRat(none-loaded, 600)) != 0 || got.Quantity.Base().Cmp(droop(loaded-1).Quantity.Base()) >= 0 {
			r.Fatalf("%d to %d tenths: got %s", none, loaded, got.Value)
		}
		if got.Gauge.Size().Base().Cmp(big.NewRat(2, 600)) != 0 {
			r.Fatalf("got ± %s, want 0.2 Hz of 60", got.Gauge)
		}
	})
}
