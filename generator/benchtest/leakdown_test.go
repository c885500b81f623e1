package benchtest

import (
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

func TestLossFallsAsTheCylinderHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.IntRange(10, 150).Draw(t, "in")
		low := rapid.IntRange(0, in-1).Draw(t, "low")
		high := rapid.IntRange(low+1, in).Draw(t, "high")
		a, b := fallBelow(whole(low, quantity.Psi).Base(), whole(in, quantity.Psi).Base()), fallBelow(whole(high, quantity.Psi).Base(), whole(in, quantity.Psi).Base())
		if a.Cmp(b) <= 0 || b.Sign() < 0 {
			t.Fatalf("in %d, cylinder %d: %v, %d: %v", in, low, a, high, b)
		}
	})
}
