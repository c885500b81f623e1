package quantity

// Apart reports whether two limits allow no value in common. It is false for
// limits of different dimensions, and where one of them is not given: nothing
// can be said of those.
func Apart(a, b Limit) bool {
	return above(a, b) || above(b, a)
}

// above reports whether all that a allows lies above all that b allows.
func above(a, b Limit) bool {
	low, hasLow := a.Low()
	high, hasHigh := b.High()
	if !hasLow || !hasHigh {
		return false
	}
	order, err := low.Cmp(high)
	strict := a.Kind() == MoreThan || b.Kind() == LessThan
	return err == nil && (order > 0 || order == 0 && strict)
}
