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

// findRatio is find for a plain ratio: its value is shown as a number in the
// label of that key ({n} the number, {percent} the same in per cent), and so is
// its limit if it has one end.
func (b *bench) findRatio(f finding, key string) quantity.Verdict {
	f.show = func(q quantity.Quantity) string { return b.words.Say(key, "n", bare(q), "percent", q) }
	verdict := b.find(f)
	limit := b.last().limit
	signs := map[quantity.LimitKind]string{
		quantity.AtLeast: ">= ", quantity.MoreThan: "> ", quantity.AtMost: "<= ", quantity.LessThan: "< ",
	}
	end, ok := limit.Low()
	if !ok {
		end, _ = limit.High()
	}
	if sign := signs[limit.Kind()]; sign != "" {
		b.last().Limit = sign + b.words.Say(key, "n", bare(end), "percent", end)
	}
	return verdict
}

// bare is a percentage as a plain number without zeros at its end, with the
// digits of the percentage.
func bare(q quantity.Quantity) string {
	s := q.Base().FloatString(q.Places() + 2)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
