package quantity

import "math/big"

// In returns q in unit u, exactly. Its decimals are chosen so that the last
// written digit of q still shows and at most one digit more: 60 psi is 414 kPa.
// The error is [ErrNothing] or a *[MismatchError].
func (q Quantity) In(u Unit) (Quantity, error) {
	switch {
	case q.IsZero():
		return Quantity{}, ErrNothing
	case u == q.unit:
		return q, nil
	case !Convertible(q.unit, u):
		return Quantity{}, &MismatchError{Read: q.String(), Have: q.Dimension(), With: "the unit " + u.Symbol(), Want: u.Dimension()}
	}
	return Quantity{
		number:     u.fromBase(q.Base(), q.difference),
		places:     placesIn(q.unit, u, q.places),
		unit:       u,
		difference: q.difference,
	}, nil
}

// placesIn returns how many decimals of unit u are needed to show a step of the
// last of the given decimals of unit from.
func placesIn(from, u Unit, places int) int {
	step := new(big.Rat).Quo(from.def.factor, u.def.factor)
	step.Mul(step, big.NewRat(1, pow10[places]))
	for n := 0; n < maxPlaces; n++ {
		if step.Cmp(big.NewRat(1, pow10[n])) >= 0 {
			return n
		}
	}
	return maxPlaces
}

// Cmp returns -1, 0 or 1 as q is less than, equal to or greater than o, exactly
// and whatever their units. When one of two temperatures is a difference, both
// count as differences. The error is [ErrNothing] or a *[MismatchError].
func (q Quantity) Cmp(o Quantity) (int, error) {
	if err := q.alike(o); err != nil {
		return 0, err
	}
	return q.order(o), nil
}

// order is Cmp for two values that are known to be alike.
func (q Quantity) order(o Quantity) int {
	if q.unit == o.unit {
		return q.number.Cmp(o.number)
	}
	difference := q.difference || o.difference
	return q.unit.toBase(q.number, difference).Cmp(o.unit.toBase(o.number, difference))
}

// Add returns q + o in q's unit. Of two temperatures, o counts as a difference.
// The error is [ErrNothing] or a *[MismatchError].
func (q Quantity) Add(o Quantity) (Quantity, error) {
	step, err := q.step(o.AsDifference())
	if err != nil {
		return Quantity{}, err
	}
	sum := new(big.Rat).Add(q.number, step.number)
	return q.with(sum, placesOf(sum, q, step)), nil
}

// Sub returns q - o in q's unit. The difference of two temperatures is a
// difference; a temperature less a difference is a temperature. The error is
// [ErrNothing] or a *[MismatchError].
func (q Quantity) Sub(o Quantity) (Quantity, error) {
	if q.difference {
		o = o.AsDifference()
	}
	step, err := q.step(o)
	if err != nil {
		return Quantity{}, err
	}
	rest := new(big.Rat).Sub(q.number, step.number)
	left := q.with(rest, placesOf(rest, q, step))
	if !o.difference {
		left = left.AsDifference()
	}
	return left, nil
}

// step gives o in q's unit, with up to two decimals more than In where they are
// needed: a sum that serves as the end of an interval should not look rounded.
func (q Quantity) step(o Quantity) (Quantity, error) {
	if err := q.alike(o); err != nil {
		return Quantity{}, err
	}
	step, err := o.In(q.unit)
	if err != nil || o.unit == q.unit {
		return step, err
	}
	return step.WithPlaces(exactPlaces(step.number, step.places, step.places+2)), nil
}

// placesOf returns the decimals of a sum: as many as were written, and up to
// three more to show the sum of a fraction in full.
func placesOf(sum *big.Rat, q, step Quantity) int {
	places := max(q.places, step.places)
	if q.over != 0 || step.over != 0 {
		return exactPlaces(sum, places, places+3)
	}
	return places
}

// with returns q with another number, as a decimal in one unit.
func (q Quantity) with(number *big.Rat, places int) Quantity {
	q.number, q.places, q.over, q.upper = number, places, 0, Unit{}
	return q
}

// scaled returns q x factor in q's unit, printed with the given decimals.
func (q Quantity) scaled(factor *big.Rat, places int) Quantity {
	if q.IsZero() {
		return q
	}
	return q.with(new(big.Rat).Mul(q.number, factor), clampPlaces(places))
}

// times returns |q| x ratio in q's unit, printed with all its decimals, for a
// percentage of q.
func (q Quantity) times(ratio *big.Rat, places int) Quantity {
	part := new(big.Rat).Abs(q.number)
	part.Mul(part, ratio)
	return q.with(part, exactPlaces(part, q.places, places)).AsDifference()
}

// exactPlaces returns the fewest decimals from least to most that show r in
// full; most when none does.
func exactPlaces(r *big.Rat, least, most int) int {
	least, most = clampPlaces(least), clampPlaces(most)
	for n := least; n < most; n++ {
		if new(big.Int).Rem(big.NewInt(pow10[n]), r.Denom()).Sign() == 0 {
			return n
		}
	}
	return max(least, most)
}

// alike reports why q and o cannot be compared or added; nil when they can.
func (q Quantity) alike(o Quantity) error {
	if q.IsZero() || o.IsZero() {
		return ErrNothing
	}
	if q.Dimension() != o.Dimension() {
		return &MismatchError{Read: q.String(), Have: q.Dimension(), With: o.String(), Want: o.Dimension()}
	}
	return nil
}
