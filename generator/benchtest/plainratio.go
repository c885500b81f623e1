package benchtest

import (
	"math/big"
	"strings"

	"asleft/generator/quantity"
)

// plainRatio is a ratio as a quantity. There is no unit of 1, so it is kept in
// %, and shown as a plain number by findRatio.
func plainRatio(n *big.Rat, digits int) quantity.Quantity {
	return significant(n, digits, quantity.Percent)
}

// findToOne is find for a proportion, such as 7.63:1, which is shown in words.
func (b *bench) findToOne(f finding) {
	bare := func(text string) string { return strings.TrimSuffix(text, quantity.ToOne.Symbol()) }
	f.show = func(q quantity.Quantity) string { return b.words.Say("bench.value.to-one", "n", bare(q.String())) }
	b.find(f)
	b.last().Accuracy = bare(b.last().Accuracy)
}

// findRatio is find for a plain ratio: its value is shown as a number, and so are
// its limit, if it has one end, and how far off it may be.
func (b *bench) findRatio(f finding) quantity.Verdict {
	f.show = bare
	verdict := b.find(f)
	limit := b.last().limit
	signs := map[quantity.LimitKind]string{
		quantity.AtLeast: ">= ", quantity.MoreThan: "> ", quantity.AtMost: "<= ", quantity.LessThan: "< ",
	}
	end, ok := limit.Low()
	if !ok {
		end, _ = limit.High()
	}
	r := b.last()
	if sign := signs[limit.Kind()]; sign != "" {
		r.Limit = sign + bare(end)
		r.Limits = []Sourced{{r.Limit, r.Source}}
	}
	if low, high, err := r.Gauge.Interval(r.Quantity); err == nil && r.Accuracy != "" {
		half := new(big.Rat).Sub(high.Base(), low.Base())
		r.Accuracy = bare(significant(half.Quo(half, big.NewRat(2, 1)), 2, quantity.Percent))
	}
	return verdict
}

// bare is a percentage as a plain number without zeros at its end, with the
// digits of the percentage.
func bare(q quantity.Quantity) string {
	s := q.Base().FloatString(q.Places() + 2)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
