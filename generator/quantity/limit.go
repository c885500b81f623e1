package quantity

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
)

// LimitKind is the form in which a limit was written.
type LimitKind uint8

// The forms of a limit.
const (
	NoLimit  LimitKind = iota
	AtLeast            // >= 60 psi
	MoreThan           // > 60 psi
	AtMost             // <= 0.2 V
	LessThan           // < 0.2 V
	Between            // 0.004 in to 0.006 in, both ends allowed
	Around             // 3600 rpm +- 50 rpm, both ends allowed
)

var limitSigns = [...]string{AtLeast: ">= ", MoreThan: "> ", AtMost: "<= ", LessThan: "< ", Around: ""}

// Limit is what a value has to meet. The zero Limit stands for "no limit given".
type Limit struct {
	kind      LimitKind
	low, high Quantity // the ends; zero where open
	nominal   Quantity // of Around
	tolerance Quantity // of Around, as written; a percentage is of the nominal
}

// NewLimit returns a limit with one end. The kind is AtLeast, MoreThan, AtMost
// or LessThan. The error is [ErrNothing] without an end, or says that the kind
// has not just one end.
func NewLimit(kind LimitKind, end Quantity) (Limit, error) {
	if end.IsZero() {
		return Limit{}, ErrNothing
	}
	switch kind {
	case AtLeast, MoreThan:
		return Limit{kind: kind, low: end}, nil
	case AtMost, LessThan:
		return Limit{kind: kind, high: end}, nil
	}
	return Limit{}, fmt.Errorf("limit at %s: %w", end, errOneEnd)
}

var errOneEnd = errors.New("this kind of limit does not have just one end")

// NewRange returns the limit "low to high", ends included. The error is
// [ErrNothing], a *[MismatchError], or a *[ParseError] when low is above high.
func NewRange(low, high Quantity) (Limit, error) {
	order, err := low.Cmp(high)
	if err != nil {
		return Limit{}, err
	}
	l := Limit{kind: Between, low: low, high: high}
	if order > 0 {
		return Limit{}, malformed(l.String(), "the lower end first", "swap the two ends")
	}
	return l, nil
}

// NewTolerance returns the limit "nominal +- tolerance", ends included. A
// tolerance in % is of the nominal, unless the nominal itself is in %: then
// 10 % +- 2 % is 8 % to 12 %. A percentage of a temperature is refused, since it
// would depend on the scale. The error is [ErrNothing], a *[MismatchError] or a
// *[ParseError].
func NewTolerance(nominal, tolerance Quantity) (Limit, error) {
	l := Limit{kind: Around, nominal: nominal, tolerance: tolerance}
	if nominal.IsZero() || tolerance.IsZero() {
		return Limit{}, ErrNothing
	}
	if tolerance.Sign() < 0 {
		return Limit{}, malformed(l.String(), "a tolerance above zero", "leave out its minus sign")
	}
	width := tolerance
	if tolerance.unit == Percent && nominal.unit != Percent {
		if nominal.Dimension() == Temperature {
			return Limit{}, malformed(l.String(), "a tolerance in degrees", "write it like 80 degC +- 5 degC")
		}
		width = percentOf(nominal, tolerance)
	}
	var err error
	if l.high, err = nominal.Add(width); err != nil {
		return Limit{}, err
	}
	l.low, err = nominal.Sub(width.AsDifference())
	return l, err
}

// percentOf returns part % of the size of whole.
func percentOf(whole, part Quantity) Quantity {
	ratio := new(big.Rat).Mul(part.number, Percent.def.factor)
	return whole.times(ratio, whole.places+part.places+2)
}

// IsZero reports whether no limit was given.
func (l Limit) IsZero() bool { return l.kind == NoLimit }

// Kind returns the form in which the limit was written.
func (l Limit) Kind() LimitKind { return l.kind }

// Low returns the lower end; false when the limit has none.
func (l Limit) Low() (Quantity, bool) { return l.low, !l.low.IsZero() }

// High returns the upper end; false when the limit has none.
func (l Limit) High() (Quantity, bool) { return l.high, !l.high.IsZero() }

// Around returns the middle of a limit that was written as a value and how far
// from it is allowed; nothing for another.
func (l Limit) Around() (nominal, tolerance Quantity) { return l.nominal, l.tolerance }

// Dimension returns what the limit measures; None for no limit.
func (l Limit) Dimension() Dimension {
	if l.low.IsZero() {
		return l.high.Dimension()
	}
	return l.low.Dimension()
}

// OtherCurrent reports whether one of the two is a voltage that alternates and the other
// one that does not. Each is a voltage, and neither says anything of the other.
func (l Limit) OtherCurrent(r Reading) bool {
	written := func(u Unit, all ...Quantity) bool {
		return slices.ContainsFunc(all, func(q Quantity) bool { return q.unit == u })
	}
	of := func(one, other Unit) bool { return written(one, l.low, l.high) && written(other, r.low, r.high) }
	return of(VoltDC, VoltAC) || of(VoltAC, VoltDC)
}

// Equal reports whether both limits would be written alike.
func (l Limit) Equal(o Limit) bool {
	return l.kind == o.kind && l.low.Equal(o.low) && l.high.Equal(o.high) &&
		l.nominal.Equal(o.nominal) && l.tolerance.Equal(o.tolerance)
}

// String prints the limit as it was written, such as ">= 60 psi",
// "0.004 in to 0.006 in" or "3600 rpm +- 50 rpm"; "" for no limit.
func (l Limit) String() string {
	switch l.kind {
	case AtLeast, MoreThan:
		return limitSigns[l.kind] + l.low.String()
	case AtMost, LessThan:
		return limitSigns[l.kind] + l.high.String()
	case Between:
		return l.low.String() + " to " + l.high.String()
	case Around:
		return l.nominal.String() + " +- " + l.tolerance.String()
	}
	return ""
}

// Contains reports whether the value itself meets the limit, gauge left aside.
// Every value meets no limit. The error is [ErrNothing] or a *[MismatchError].
func (l Limit) Contains(q Quantity) (bool, error) {
	v, err := Judge(q, Gauge{}, l)
	return v == Inside || v == NotLimited, err
}
