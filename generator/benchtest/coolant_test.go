package benchtest

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

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
