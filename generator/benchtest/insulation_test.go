package benchtest

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

const motor = "winding: random-wound, rated_volts: 240 V"

// Ten degrees halve or double it, it rises with the reading, and the gauge keeps
// its share.
func TestInsulationProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m, c := rapid.IntRange(1, 4000).Draw(r, "Mohm"), rapid.IntRange(-20, 100).Draw(r, "degC")
		at := func(m, c int) Result {
			return direct(t, fmt.Sprintf("{test: insulation resistance, resistance: %d Mohm, temperature: %d degC, %s, gauge: 5 %%}", m, c, motor)).Results[0]
		}
		got := at(m, c)
		if warm := at(m, c+10); math.Abs(warm.number()/got.number()-2) > 1e-9 {
			r.Fatalf("10 degC more: %v times", warm.number()/got.number())
		}
		if at(m+1, c).number() <= got.number() {
			r.Fatal("it does not rise with the reading")
		}
		if share := got.Gauge.Size().Float() / got.number(); math.Abs(share-0.05) > 1e-9 {
			r.Fatalf("± %v of it", share)
		}
	})
}
