package benchtest

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// With less than the load that a limit is for, a good reading proves nothing, by the
// maker's limit as little as by the published one; a bad one is bad already.
func TestLessThanItsLoadProvesNothingGood(t *testing.T) {
	const own = "limits: [{what: frequency droop, limit: <= 5 %, source: book}, {what: battery voltage under load, limit: \">= 10 V\", source: book}]\n"
	const set = "generator output, volts: 240 V, rated_hertz: 60 Hz, rated_load: 2 kW, load: 500 W, loaded_hertz: 60 Hz, hertz: "
	const battery = "battery load test, rated: 300 CCA, load: 10 A, held: 1 s, volts: "
	for _, tc := range []struct {
		machine, test, result string
		verdict               quantity.Verdict
	}{
		{own, set + "63.6 Hz", "frequency droop", quantity.Outside}, // 6 %
		{own, set + "62.4 Hz", "frequency droop at part load", quantity.NotLimited},
		{"", set + "63.6 Hz", "frequency droop at part load", quantity.NotLimited},
		{"", set + "64.9 Hz", "frequency droop", quantity.Outside}, // 8.17 %
		{own, battery + "12.2 V", "battery voltage under part load", quantity.NotLimited},
		{own, battery + "9.9 V", "battery voltage under load", quantity.Outside},
		{"", battery + "12.2 V", "battery voltage under part load", quantity.NotLimited},
	} {
		if r := sound(t, tc.machine, "{test: "+tc.test+"}").result(t, tc.result); r.Verdict != tc.verdict {
			t.Errorf("%s: %+v, want %s", tc.test, r, tc.verdict)
		}
	}
}

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
