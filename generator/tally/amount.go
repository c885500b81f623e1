package tally

import (
	"errors"
	"math/big"

	"github.com/govalues/decimal"

	"asleft/generator/logbook"
)

// errTooLarge reports an amount that has more digits than an exact decimal
// holds here (18, and a few of 19).
var errTooLarge = errors.New("the amount is too large to be counted")

// rounded is a x b / by, rounded once to the given decimals, the half away from
// zero. The product is formed whole: the decimals' own would be rounded first
// where it has more than 19 digits, and a half rounded twice can come out wrong.
// by is above zero.
func rounded(a, b decimal.Decimal, by int64, digits int) (decimal.Decimal, error) {
	top := new(big.Int).Mul(coefficient(a), coefficient(b))
	top.Mul(top, tenTo(digits))
	bottom := new(big.Int).Mul(tenTo(a.Scale()+b.Scale()), big.NewInt(by))
	q, rest := top.QuoRem(top, bottom, new(big.Int))
	away := int64(rest.Sign())
	if rest.Abs(rest).Lsh(rest, 1).Cmp(bottom) >= 0 {
		q.Add(q, big.NewInt(away))
	}
	if !q.IsInt64() {
		return decimal.Decimal{}, errTooLarge
	}
	return decimal.New(q.Int64(), digits)
}

// coefficient is a decimal without its point: d x 10^scale, an integer.
func coefficient(d decimal.Decimal) *big.Int {
	n := new(big.Int).SetUint64(d.Coef())
	if d.IsNeg() {
		n.Neg(n)
	}
	return n
}

func tenTo(n int) *big.Int {
	return new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
}

// nothing is a sum of 0.
var nothing = sum{Amount: logbook.Amount{Decimal: decimal.Zero, Set: true}}

// A sum is an amount while it is added up. It does not exist before something
// is added to it, and no more once it has become too large.
type sum struct {
	logbook.Amount
	over bool
}

// spoil makes the sum one that is too large.
func (s *sum) spoil() { *s = sum{over: true} }

// add adds o; adding what does not exist changes nothing. It tells whether the
// sum became too large just now, and not already in one of its parts.
func (s *sum) add(o sum, digits int) (overflowed bool) {
	switch {
	case s.over || !o.Set && !o.over:
		return false
	case o.over:
		s.spoil()
		return false
	case !s.Set:
		s.Decimal = decimal.Zero
	}
	total, err := s.Decimal.AddExact(o.Decimal, digits)
	if err != nil {
		s.spoil()
		return true
	}
	s.Decimal, s.Set = total.Rescale(digits), true
	return false
}

// negative is the sum below nothing.
func (s sum) negative() sum {
	s.Decimal = s.Neg()
	return s
}
