package benchtest

import (
	"math/big"
	"slices"

	"asleft/generator/quantity"
)

// A row is one point of a published table.
type row struct{ at, is *big.Rat }

// rowOf is a row from hundredths: 1265 is 12.65.
func rowOf(at, is int64) row { return row{big.NewRat(at, 100), big.NewRat(is, 100)} }

// between reads a table that rises in at, on a straight line from point to
// point; beyond its ends it stays at the last value.
func between(table []row, x *big.Rat) *big.Rat {
	switch i, _ := slices.BinarySearchFunc(table, x, func(r row, x *big.Rat) int { return r.at.Cmp(x) }); i {
	case 0:
		return table[0].is
	case len(table):
		return table[i-1].is
	default:
		low, high := table[i-1], table[i]
		part := quotient(minus(x, low.at), minus(high.at, low.at))
		return new(big.Rat).Add(low.is, times(part, minus(high.is, low.is)))
	}
}

// fahrenheit is a temperature in kelvins as degrees Fahrenheit: K 9/5 - 459.67.
func fahrenheit(kelvin *big.Rat) *big.Rat {
	f := new(big.Rat).Mul(kelvin, big.NewRat(9, 5))
	return f.Sub(f, big.NewRat(45967, 100))
}

// volts is that many volts, shown to the hundredth.
func volts(n *big.Rat) quantity.Quantity { return quantity.New(n, 2, quantity.Volt) }

// times is the product of some numbers.
func times(x ...*big.Rat) *big.Rat {
	if slices.Contains(x, nil) {
		return nil
	}
	all := big.NewRat(1, 1)
	for _, n := range x {
		all.Mul(all, n)
	}
	return all
}
