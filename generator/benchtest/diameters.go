package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// partOf is the published limit of so much for each unit of length of r.
func partOf(r reading, n, d int64, source string) published {
	base := new(big.Rat).Mul(r.Base(), big.NewRat(n, d))
	return atMost(short(significant(base, 3, r.Unit())), source)
}

// nearStandard reports readings more than a tenth away from the standard size,
// which are slips of the pen, not wear.
func (b *bench) nearStandard(standard reading, names ...string) bool {
	sound := true
	for _, name := range names {
		read := b.list(name)
		if len(read) == 0 && b.has(name) {
			read = []quantity.Quantity{b.one(name)}
		}
		for _, q := range read {
			off := quotient(new(big.Rat).Sub(q.Base(), standard.Base()), standard.Base())
			if off.Abs(off).Cmp(big.NewRat(1, 10)) > 0 {
				b.report(name, "problem.bench-far-off", "read", q, "standard", standard)
				sound = false
			}
		}
	}
	return sound
}

// readingsOf are the readings of several inputs, in their order.
func (b *bench) readingsOf(names ...string) []reading {
	var all []reading
	for _, name := range names {
		all = append(all, b.readings(name)...)
	}
	return all
}

func quantities(all []reading) []quantity.Quantity {
	var qs []quantity.Quantity
	for _, r := range all {
		qs = append(qs, r.Quantity)
	}
	return qs
}

// difference is a - b in a's unit, with as many decimals as the finer of both.
func (b *bench) difference(a, o reading) (reading, bool) {
	r, ok := b.derive(a.Unit(), 1, func(x []*big.Rat) *big.Rat { return new(big.Rat).Sub(x[0], x[1]) }, a, o)
	if other, err := o.In(a.Unit()); ok && err == nil {
		r.Quantity = r.WithPlaces(max(a.Places(), other.Places()))
	}
	return r, ok
}

// outOfRound is the greatest difference of the two readings on a level.
func (b *bench) outOfRound(names ...string) (reading, bool) {
	return b.greatest(func(try func(a, o reading)) {
		for _, name := range names {
			if r := b.readings(name); len(r) == 2 {
				try(r[0], r[1])
			}
		}
	})
}

// taper is the greater difference of the readings on two levels, each way.
func (b *bench) taper(one, other string) (reading, bool) {
	return b.greatest(func(try func(a, o reading)) {
		from, to := b.readings(one), b.readings(other)
		for i := range from {
			if i < len(to) {
				try(from[i], to[i])
			}
		}
	})
}

// greatest is the greatest difference of the pairs that it is shown, taken
// without its sign.
func (b *bench) greatest(pairs func(try func(a, o reading))) (reading, bool) {
	var best reading
	sound := true
	pairs(func(a, o reading) {
		if a.Base().Cmp(o.Base()) < 0 {
			a, o = o, a
		}
		r, ok := b.difference(a, o)
		sound = sound && ok
		if ok && (best.IsZero() || r.Base().Cmp(best.Base()) > 0) {
			best = r
		}
	})
	return best, sound && !best.IsZero()
}
