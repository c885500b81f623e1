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

// below is how far the other way from wear a size may be, as the size when new is often
// a round figure: 0.1 % of it. Common practice, no source.
func below(standard reading) *big.Rat { return times(standard.Base(), big.NewRat(-1, 1000)) }

// nearStandard refuses readings more than a tenth away from the standard size,
// which are slips of the pen, not wear.
func (b *bench) nearStandard(standard reading, names ...string) {
	for _, name := range names {
		for _, q := range b.list(name) {
			off := quotient(minus(q.Base(), standard.Base()), standard.Base())
			if off.Abs(off).Cmp(big.NewRat(1, 10)) > 0 {
				b.report(name, "problem.bench-far-off", "read", q, "standard", standard)
			}
		}
	}
	b.proceed()
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

// difference is a - b in a's unit, with as many decimals as the finer of both. To one of
// temperatures the zero of their scale does not apply.
func (b *bench) difference(a, o reading) reading {
	r := b.derive(a.Unit(), 1, func(x []*big.Rat) *big.Rat { return minus(x[0], x[1]) }, a, o)
	r.Quantity = sure(a.Sub(o.Quantity)).WithPlaces(max(a.Places(), sure(o.In(a.Unit())).Places()))
	r.mark()
	return r
}

// outermost is the least of some readings, below, or the greatest, above: the one that is
// it for certain, else all that it may be by what their forms and their tools leave open.
func outermost(all []reading, side openness) reading {
	ends := func(r reading) (out, in quantity.Quantity) {
		if side == openBelow {
			return r.least(), r.most()
		}
		return r.most(), r.least()
	}
	var one, out, in quantity.Quantity // out and in are the ends of what it may be
	open, vague := -side, false
	outer := func(was *quantity.Quantity, q quantity.Quantity) {
		if was.IsZero() || q.Base().Cmp(was.Base()) == int(side) {
			*was = q
		}
	}
	for _, r := range all {
		o, i := ends(r)
		outer(&one, r.Quantity)
		outer(&out, o)
		if r.open != -side {
			outer(&in, i)
			open = max(open*side, r.open*side) * side
		}
		vague = vague || r.unbounded()
	}
	if vague {
		return reading{Quantity: one, about: true, vague: true}
	}
	for _, r := range all {
		o, i := ends(r)
		if r.open == open && (open == side || o.Base().Cmp(out.Base()) == 0) && (open == -side || i.Base().Cmp(in.Base()) == 0) {
			return r
		}
	}
	if open != closed {
		return reading{Quantity: in, open: open, ended: true}
	}
	low, high := out, in
	if side == openAbove {
		low, high = in, out
	}
	mid, half := middle(low, high)
	r := reading{Quantity: mid}
	if !half.IsZero() {
		r.gauge, r.between = sure(quantity.NewGauge(half)), true
	}
	return r
}

// outOfRound are the differences of the two readings on each level.
func (b *bench) outOfRound(names ...string) []reading {
	var all []reading
	for _, name := range names {
		if r := b.readings(name); len(r) == 2 {
			all = append(all, b.apart(r[0], r[1]))
		}
	}
	return all
}

// taper are the differences of the readings on two levels, each way.
func (b *bench) taper(one, other string) []reading {
	from, to := b.readings(one), b.readings(other)
	return []reading{b.apart(from[0], to[0]), b.apart(from[1], to[1])}
}

// apart is a difference taken without its sign. Where the lesser reading may be more than
// the other, and nobody knows by how much, it is only about right.
func (b *bench) apart(one, other reading) reading {
	if one.Base().Cmp(other.Base()) < 0 {
		one, other = other, one
	}
	r := b.difference(one, other)
	if r.open == openBelow {
		r.open, r.ended, r.about, r.vague = closed, false, true, true
		r.mark()
	}
	return r
}

// farthest are the differences between readings of which one is the largest, each with
// the places of the reading below and of that above: by what they read, and by what
// their forms and their tools leave open of any of them.
func (b *bench) farthest(all []reading) (apart []reading, low, high []int) {
	var least, most []quantity.Quantity
	for _, r := range all {
		least, most = append(least, r.least()), append(most, r.most())
	}
	add := func(i, o int) {
		if all[i].Base().Cmp(all[o].Base()) > 0 {
			i, o = o, i
		}
		apart, low, high = append(apart, b.apart(all[o], all[i])), append(low, i), append(high, o)
	}
	add(extremes(quantities(all)))
	lowest, _ := extremes(least)
	_, highest := extremes(most)
	for i := range all {
		for _, end := range []int{lowest, highest} {
			if i != end {
				add(i, end)
			}
		}
	}
	return apart, low, high
}
