package entry

import "time"

// SetPatience sets how long a writer waits for another, and returns the way
// back.
func SetPatience(d time.Duration) (restore func()) {
	was := patience
	patience = d
	return func() { patience = was }
}
