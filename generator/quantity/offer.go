package quantity

// Offered are the symbols of the units that measure the same as one, that one first and
// then the most usual, for somebody to pick from.
func Offered(u Unit) []string {
	all := []string{u.Symbol()}
	for _, other := range unitsOf(u.Dimension()) {
		if other.Symbol() != u.Symbol() {
			all = append(all, other.Symbol())
		}
	}
	return all
}
