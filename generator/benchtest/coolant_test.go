package benchtest

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// ASHRAE Handbook, Fundamentals, freezing points of ethylene and propylene
// glycol in water by volume, read at second hand; between two points on the straight
// line, worked out by hand.
func TestFreezePoint(t *testing.T) {
	for _, tc := range []struct {
		kind, glycol string
		want         float64 // degC
	}{
		{"ethylene", "0 %", 0},
		{"ethylene", "8.9 %", -3.2},
		{"ethylene", "47.6 %", -33.8},
		{"ethylene", "57.8 %", -48.3},
		{"ethylene", "40 %", -22.3 + (40-37.5)/(42.5-37.5)*(-27.5+22.3)},
		{"propylene", "19.4 %", -7.1},
		{"propylene", "49.9 %", -33.5},
		{"propylene", "50.9 %", -35.0},
		{"propylene", "55 %", -41.6},
		{"propylene", "60 %", -51.1},
		{"propylene", "30 %", -12.7 + (30-29.4)/(34.4-29.4)*(-16.4+12.7)},
	} {
		r := sound(t, plainMachine, "{test: coolant, glycol: "+tc.glycol+", kind: "+tc.kind+", coldest: -10 degC}").result(t, "freeze point")
		if math.Abs(r.number()-tc.want) > 1e-9 {
			t.Errorf("%s %s: got %v degC, want %v", tc.glycol, tc.kind, r.number(), tc.want)
		}
	}
}

func TestCoolantAgainstTheColdest(t *testing.T) {
	for _, tc := range []struct {
		test    string
		verdict quantity.Verdict
		says    string
	}{
		{"glycol: 50 %, kind: ethylene, coldest: -20 degF", quantity.Inside, "pure glycol"},
		{"glycol: 30 %, kind: ethylene, coldest: -20 degF", quantity.Outside, "Ice can crack"},
		{"glycol: 50 %, kind: ethylene, coldest: -37 degC, gauge: 2 %", quantity.TooClose, "Too close"},
		{"freeze_point: -34 degF, coldest: -30 degC", quantity.Inside, "Inside the limit"},
		{"freeze_point: -22 degF, coldest: -30 degC, freeze_point_gauge: 2 degF", quantity.TooClose, "Too close"},
		{"freeze_point: -5 degC", quantity.NotLimited, "No limit was given"},
	} {
		o := sound(t, plainMachine, "{test: coolant, "+tc.test+"}")
		if r := o.result(t, "freeze point"); r.Verdict != tc.verdict || !o.says(tc.says) {
			t.Errorf("%s: got %s (%s), says %q", tc.test, r.Verdict, r.Value, o.Says)
		}
	}
}

func TestMoreGlycolFreezesLater(t *testing.T) {
	for _, table := range [][]row{ethyleneFreezes, propyleneFreezes} {
		rapid.Check(t, func(t *rapid.T) {
			low := rapid.Int64Range(0, 4988).Draw(t, "low")
			high := rapid.Int64Range(low+1, 4989).Draw(t, "high")
			if between(table, big.NewRat(low, 100)).Cmp(between(table, big.NewRat(high, 100))) <= 0 {
				t.Fatalf("%d and %d", low, high)
			}
		})
	}
}
