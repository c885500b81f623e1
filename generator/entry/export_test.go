package entry

import "time"

// SetPatience sets how long a writer waits for another, and returns the way
// back.
func SetPatience(d time.Duration) (restore func()) {
	was := patience
	patience = d
	return func() { patience = was }
}

// LieOf and SetUpright are what a fuzz target looks at.
func LieOf(data []byte) (width, height int, turns bool, err error) {
	l, err := lieOf(data)
	w, h := l.size()
	return w, h, l.turns, err
}

func SetUpright(jpeg []byte) { setUpright(jpeg) }
