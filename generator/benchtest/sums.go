package benchtest

import (
	"math"
	"math/big"
	"strconv"

	"asleft/generator/quantity"
)

// significant is a number of base units in unit u, exact, shown with so many
// significant digits.
func significant(base *big.Rat, digits int, u quantity.Unit) quantity.Quantity {
	q := quantity.FromBase(base, 0, u)
	return q.WithPlaces(placesFor(q, digits))
}

// rounded is a difference of base units in unit u, shown with so many
// significant digits.
func rounded(base *big.Rat, digits int, u quantity.Unit) quantity.Quantity {
	one := quantity.New(big.NewRat(1, 1), 0, u).AsDifference().Base()
	q := quantity.New(new(big.Rat).Quo(base, one), 0, u).AsDifference()
	return short(q.WithPlaces(placesFor(q, digits)))
}

// short is a quantity without the zeros at the end of its decimals.
func short(q quantity.Quantity) quantity.Quantity {
	for n := range q.Places() {
		if times(q.Rat(), tenTo(n)).IsInt() {
			return q.WithPlaces(n)
		}
	}
	return q
}

// tenTo is 10 to the power of n.
func tenTo(n int) *big.Rat {
	return new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil))
}

// placesFor is the decimals that leave so many significant digits.
func placesFor(q quantity.Quantity, digits int) int {
	f := math.Abs(q.Float())
	if f == 0 {
		return 0
	}
	return max(0, digits-1-int(math.Floor(math.Log10(f))))
}

// float is a number for a formula that has a power or pi in it.
func float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// exact is what a floating-point formula came to, in the digits that it is good for: the
// cosine of 60 degrees is a half. It is nil, which is no answer, where that is not
// finite. No answer stays none through the sums below.
func exact(f float64) *big.Rat {
	if math.IsInf(f, 0) || math.IsNaN(f) {
		return nil
	}
	r, _ := new(big.Rat).SetString(strconv.FormatFloat(f, 'g', 14, 64))
	return r
}

// quotient is a/b. What is divided by is a size, and above zero: within a tool's
// accuracy of nothing there is no answer.
func quotient(a, b *big.Rat) *big.Rat {
	if a == nil || b == nil || b.Sign() <= 0 {
		return nil
	}
	return new(big.Rat).Quo(a, b)
}

// minus is a - b.
func minus(a, b *big.Rat) *big.Rat {
	if a == nil || b == nil {
		return nil
	}
	return new(big.Rat).Sub(a, b)
}

// percent is so many per cent.
func percent(n int64) quantity.Quantity {
	return quantity.New(big.NewRat(n, 1), 0, quantity.Percent)
}

// extremes are the places of the least and the greatest of some quantities of
// one dimension; the first of equals.
func extremes(qs []quantity.Quantity) (least, most int) {
	for i, q := range qs {
		if q.Base().Cmp(qs[least].Base()) < 0 {
			least = i
		}
		if q.Base().Cmp(qs[most].Base()) > 0 {
			most = i
		}
	}
	return least, most
}
