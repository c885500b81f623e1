package press

// SpareFrom has sites of n files and more get a spare, until back is called.
func SpareFrom(n int) (back func()) {
	was := spareFrom
	spareFrom = n
	return func() { spareFrom = was }
}
