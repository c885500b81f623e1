package press

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// parallel does n things on all cores and returns the first error; things not
// yet begun are then left.
func parallel(n int, do func(i int) error) error {
	var (
		next   atomic.Int64
		once   sync.Once
		failed error
		wait   sync.WaitGroup
	)
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
				if err := do(int(i)); err != nil {
					once.Do(func() { failed = err })
					next.Store(int64(n))
				}
			}
		})
	}
	wait.Wait()
	return failed
}
