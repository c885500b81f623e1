package heic

// LieOf and SetUpright are what a fuzz target looks at.
func LieOf(data []byte) (width, height int, turns bool, err error) {
	l, err := lieOf(data)
	w, h := l.size()
	return w, h, l.turns, err
}

func SetUpright(jpeg []byte) { setUpright(jpeg) }
