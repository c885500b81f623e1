package quantity

import (
	"math/big"
	"strconv"
	"strings"
)

// Quantity is a number and a unit. The zero Quantity stands for "not given";
// it is not the same as 0 psi.
type Quantity struct {
	number     *big.Rat // never changed after it is set; nil when not given
	places     int      // decimals to print
	unit       Unit
	difference bool  // a difference of temperatures: scale zeros do not apply
	over       int64 // what stands below the stroke of a fraction as written; 0 for a decimal
	upper      Unit  // the larger of two units in which it was written, as feet before inches
}

// New returns number in unit u, printed with the given decimals (0 to 18). The
// number is copied and not rounded. Without number or unit it returns the zero
// Quantity.
func New(number *big.Rat, places int, u Unit) Quantity {
	if number == nil || u.def == nil {
		return Quantity{}
	}
	return Quantity{number: new(big.Rat).Set(number), places: clampPlaces(places), unit: u}
}

// FromBase returns a number of the base unit of u's dimension (see
// [Quantity.Base]) as a quantity in u, printed with the given decimals.
func FromBase(base *big.Rat, places int, u Unit) Quantity {
	if base == nil || u.def == nil {
		return Quantity{}
	}
	return Quantity{number: u.fromBase(base, false), places: clampPlaces(places), unit: u}
}

func clampPlaces(n int) int { return max(0, min(n, maxPlaces)) }

// IsZero reports whether no quantity was given. It is false for 0 psi.
func (q Quantity) IsZero() bool { return q.number == nil }

// Unit returns the unit in which q is given.
func (q Quantity) Unit() Unit { return q.unit }

// Dimension returns what q measures; None when not given.
func (q Quantity) Dimension() Dimension { return q.unit.Dimension() }

// Places returns the decimals with which q is printed; for a fraction, those
// with which it should be printed as a decimal.
func (q Quantity) Places() int { return q.places }

// WithPlaces returns the same exact value, printed with n decimals (0 to 18).
func (q Quantity) WithPlaces(n int) Quantity {
	q.places, q.over, q.upper = clampPlaces(n), 0, Unit{}
	return q
}

// Rat returns a copy of the exact number in q's own unit; 0 when not given.
func (q Quantity) Rat() *big.Rat {
	if q.IsZero() {
		return new(big.Rat)
	}
	return new(big.Rat).Set(q.number)
}

// Base returns the exact number in the base unit of q's dimension: Pa, m, V, A,
// ohm, W, rpm, Hz, s, N·m, K, m3, kg, m/s, or 1 for a percentage; 0 when not
// given. A difference of temperatures comes in kelvins of difference.
func (q Quantity) Base() *big.Rat {
	if q.IsZero() {
		return new(big.Rat)
	}
	return q.unit.toBase(q.number, q.difference)
}

// Float returns the number in q's own unit, for drawings only: no value or
// verdict may depend on it.
func (q Quantity) Float() float64 {
	if q.IsZero() {
		return 0
	}
	f, _ := q.number.Float64()
	return f
}

// Sign returns -1, 0 or 1 as the number in q's own unit is below, at or above 0.
func (q Quantity) Sign() int {
	if q.IsZero() {
		return 0
	}
	return q.number.Sign()
}

// IsDifference reports whether q is a difference of two temperatures.
func (q Quantity) IsDifference() bool { return q.difference }

// AsDifference returns q taken as a difference: 9 degF then converts to 5 degC.
// It changes nothing in dimensions other than temperature.
func (q Quantity) AsDifference() Quantity {
	q.difference = q.Dimension() == Temperature
	return q
}

// Equal reports whether q and o would be written alike: the same number, the
// same decimals, the same unit. Use [Quantity.Cmp] to compare values.
func (q Quantity) Equal(o Quantity) bool {
	if q.IsZero() || o.IsZero() {
		return q.IsZero() && o.IsZero()
	}
	return q.unit == o.unit && q.places == o.places && q.over == o.over && q.upper == o.upper && q.difference == o.difference && q.number.Cmp(o.number) == 0
}

// String prints q as it was written, with the unit's symbol, such as "0.011 in",
// "1-3/8 in", "5 ft 3 in" or "50:1"; "" when not given. A number with more
// decimals than are printed is rounded, a final 5 to the even digit (NIST SP 811,
// 2008, B.7.1).
func (q Quantity) String() string {
	switch {
	case q.IsZero():
		return ""
	case q.upper.def != nil:
		return q.twoUnits()
	}
	return q.numeral() + q.unit.gap() + q.unit.symbolFor(q.number)
}

// twoUnits prints whole units of the larger kind and the rest in the smaller.
func (q Quantity) twoUnits() string {
	size := new(big.Rat).Abs(q.number)
	ratio := q.upper.in(q.unit)
	parts := new(big.Rat).Quo(size, ratio)
	whole := new(big.Int).Quo(parts.Num(), parts.Denom())
	rest := q
	rest.number = size.Sub(size, ratio.Mul(ratio, new(big.Rat).SetInt(whole)))
	rest.upper = Unit{}
	sign := ""
	if q.number.Sign() < 0 {
		sign = "-"
	}
	return sign + whole.String() + " " + q.upper.Symbol() + " " + rest.String()
}

// numeral prints the number of q without its unit.
func (q Quantity) numeral() string {
	switch {
	case q.over != 0:
		return q.fraction()
	case q.unit == WireGauge && q.places == 0 && q.number.Sign() <= 0 && q.number.IsInt():
		return new(big.Int).Sub(big.NewInt(1), q.number.Num()).String() + "/0"
	}
	return format(q.number, q.places)
}

// fraction prints a number that was written as one, such as "3/64" or "1-3/8".
func (q Quantity) fraction() string {
	size := new(big.Rat).Abs(q.number)
	size.Mul(size, big.NewRat(q.over, 1))
	whole, top := new(big.Int).QuoRem(size.Num(), big.NewInt(q.over), new(big.Int))
	text := top.String() + "/" + strconv.FormatInt(q.over, 10)
	if whole.Sign() != 0 {
		text = whole.String() + "-" + text
	}
	if q.number.Sign() < 0 {
		return "-" + text
	}
	return text
}

// format prints r with the given decimals.
func format(r *big.Rat, places int) string {
	digits := rounded(r, places)
	negative := digits.Sign() < 0
	text := digits.Abs(digits).String()
	if len(text) <= places {
		text = strings.Repeat("0", places+1-len(text)) + text
	}
	if places > 0 {
		text = text[:len(text)-places] + "." + text[len(text)-places:]
	}
	if negative {
		text = "-" + text
	}
	return text
}

// rounded returns r x 10^places as a whole number, halves to the even digit.
func rounded(r *big.Rat, places int) *big.Int {
	scaled := new(big.Int).Mul(r.Num(), big.NewInt(pow10[places]))
	whole, rest := new(big.Int).QuoRem(scaled, r.Denom(), new(big.Int))
	away := int64(rest.Sign())
	switch half := rest.Abs(rest).Lsh(rest, 1).Cmp(r.Denom()); {
	case half > 0, half == 0 && whole.Bit(0) == 1:
		whole.Add(whole, big.NewInt(away))
	}
	return whole
}
